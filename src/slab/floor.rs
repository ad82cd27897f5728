//! The floor as one planar arrangement: outline, keep-outs, uncoated parts and joints together,
//! so that areas, edges and panels come from the same exact subdivision and add up.

use kurbo::Point;

use super::joints::kept;
use super::walls::wall_pieces;
use super::{Areas, Edge, EdgeKind, Joint, Opening, Outline, Tier, Zone};
use crate::geometry::arrangement::{
    Arrangement, ArrangementError, Between, Beyond, BoundaryEdge, Class, InputEdge, Line, Options,
    Role,
};
use crate::geometry::contact::cut_where_touching;
use crate::geometry::path::{Path, Segment};
use crate::geometry::region::Region;
use crate::quantity::M_PER_IN;

/// Joints closer than this run on top of each other, m: 1/8 in.
pub const ON_TOP: f64 = M_PER_IN / 8.0;

/// Panels thinner than this (twice the area over the perimeter) are slivers between joints that
/// nearly coincide, m: 1/2 in, less than any strip of concrete that somebody would coat apart.
const SLIVER: f64 = M_PER_IN / 2.0;

/// The subdivision of one floor and what each of its input lines stands for.
pub(super) struct Floor {
    arrangement: Arrangement,
    /// Kind of every edge of the outline's line.
    outline: Vec<EdgeKind>,
    /// What each line stands for.
    owners: Vec<Owner>,
}

#[derive(Clone, Copy)]
enum Owner {
    Outline,
    KeepOut(usize),
    Uncoated(usize),
    Tier,
    Joint(usize),
}

/// What a floor is made of.
pub(super) struct Parts<'a> {
    pub outline: &'a Outline,
    pub openings: &'a [Opening],
    pub keep_outs: &'a [Zone],
    pub uncoated: &'a [Zone],
    pub tiers: &'a [Tier],
    pub joints: &'a [Joint],
    pub snap: f64,
}

impl Floor {
    pub(super) fn new(parts: &Parts<'_>) -> Result<Self, ArrangementError> {
        let (walls, kinds) = outline_segments(parts.outline, parts.openings);
        let (mut owners, mut roles) = (vec![Owner::Outline], vec![Role::Outline]);
        let mut segments = vec![walls];
        let keep_outs = parts.keep_outs.iter().enumerate();
        let uncoated = parts.uncoated.iter().enumerate();
        let zones = keep_outs
            .map(|(i, zone)| (Owner::KeepOut(i), Role::Hole, zone))
            .chain(uncoated.map(|(i, zone)| (Owner::Uncoated(i), Role::Zone, zone)));
        let rings = zones.flat_map(|(owner, role, zone)| {
            let rings = zone.shape.rings.iter();
            rings.map(move |ring| (owner, role, ring))
        });
        let joints = parts.joints.iter().enumerate();
        for (owner, role, ring) in rings {
            segments.push(ring.segments().to_vec());
            owners.push(owner);
            roles.push(role);
        }
        let others = segments.len();
        for ring in parts.tiers.iter().flat_map(|tier| &tier.shape.rings) {
            segments.push(ring.segments().to_vec());
            owners.push(Owner::Tier);
            roles.push(Role::Divider);
        }
        for (i, joint) in joints {
            let pieces = match kept(joint) {
                None => vec![joint.path.segments().to_vec()],
                Some(kept) => {
                    let piece =
                        |&(from, to): &(f64, f64)| joint.path.part(from, to).segments().to_vec();
                    kept.as_slice().iter().map(piece).collect()
                }
            };
            owners.resize(owners.len() + pieces.len(), Owner::Joint(i));
            roles.resize(roles.len() + pieces.len(), Role::Divider);
            segments.extend(pieces);
        }
        let (mut lines, mut outline) = (Vec::new(), Vec::new());
        let dividers = segments.len() - others;
        let cut = cut_where_touching(&segments, dividers);
        for (role, line) in roles.into_iter().zip(cut) {
            let mut edges = Vec::new();
            for (i, pieces) in line.into_iter().enumerate() {
                edges.extend(edges_of(&Path::new(pieces)));
                if role == Role::Outline {
                    outline.resize(edges.len(), kinds[i]);
                }
            }
            lines.push(Line { role, edges });
        }
        let options = Options { weld: ON_TOP, snap: parts.snap, sliver: SLIVER };
        let arrangement = Arrangement::build(&lines, &options)?;
        Ok(Self { arrangement, outline, owners })
    }

    /// Areas, faces left out.
    pub(super) fn areas(&self) -> Areas {
        let gross = self.arrangement.area(Class::Enclosed);
        let reached = self.arrangement.area(Class::Reached);
        let net = self.arrangement.area(Class::Net);
        Areas { gross, keep_out: gross - reached, uncoated: reached - net, net, faces: 0.0 }
    }

    pub(super) fn region(&self, class: Class) -> Region {
        Region::from_rings(&self.arrangement.rings(class))
    }

    /// Boundary of K and what each piece lies on.
    pub(super) fn edges(&self) -> Vec<Edge> {
        let pieces = self.arrangement.boundary(Class::Net);
        pieces.iter().map(|piece| self.edge(piece)).collect()
    }

    fn edge(&self, piece: &BoundaryEdge) -> Edge {
        let mut kind = EdgeKind::Wall;
        for source in &piece.sources {
            let this = match self.owners[source.line] {
                Owner::Outline => self.outline.get(source.edge).copied().unwrap_or(EdgeKind::Wall),
                Owner::KeepOut(i) => EdgeKind::KeepOut(i),
                Owner::Uncoated(i) => EdgeKind::Uncoated(i),
                Owner::Tier | Owner::Joint(_) => continue,
            };
            // Several lines may run along one edge; what lies beyond it decides between them.
            let fits = match piece.beyond {
                Beyond::Outside => matches!(this, EdgeKind::Wall | EdgeKind::Opening(_)),
                Beyond::Hole => matches!(this, EdgeKind::KeepOut(_)),
                Beyond::Zone => matches!(this, EdgeKind::Uncoated(_)),
            };
            if fits {
                kind = this;
                break;
            }
        }
        Edge { ends: [piece.a, piece.b], length_m: piece.length, kind }
    }

    /// What of K lies in some of the panels, m².
    pub(super) fn net_in(&self, chosen: impl Fn(usize) -> bool) -> f64 {
        self.arrangement.area_in(Class::Net, chosen)
    }

    /// Edges between panels.
    pub(super) fn between_panels(&self) -> Vec<Between> {
        self.arrangement.between_panels()
    }

    /// How many panels there are.
    pub(super) fn panel_count(&self) -> usize {
        self.arrangement.panels().len()
    }

    /// A panel: area, rings and the joints that bound it.
    pub(super) fn panel(&self, index: usize) -> (f64, Vec<Vec<Point>>, Vec<usize>) {
        let panel = &self.arrangement.panels()[index];
        let mut joints: Vec<usize> = panel
            .dividers
            .iter()
            .filter_map(|&line| match self.owners[line] {
                Owner::Joint(i) => Some(i),
                _ => None,
            })
            .collect();
        joints.sort_unstable();
        joints.dedup();
        (panel.area, panel.rings.clone(), joints)
    }

    pub(super) fn panel_at(&self, p: Point) -> Option<usize> {
        self.arrangement.panel_at(p)
    }
}

fn edges_of(path: &Path) -> Vec<InputEdge> {
    path.chords()
        .iter()
        .map(|c| InputEdge { a: c.a, b: c.b, length: c.length, bow: c.bow })
        .collect()
}

/// The outline's segments, cut where an opening starts and ends, and the kind of each.
fn outline_segments(outline: &Outline, openings: &[Opening]) -> (Vec<Segment>, Vec<EdgeKind>) {
    let (mut out, mut kinds) = (Vec::new(), Vec::new());
    for (wall, pieces) in wall_pieces(outline, openings) {
        for piece in pieces {
            let part = wall.part(piece.on.from_m, piece.on.to_m);
            out.extend_from_slice(part.segments());
            kinds.resize(out.len(), piece.opening.map_or(EdgeKind::Wall, EdgeKind::Opening));
        }
    }
    (out, kinds)
}
