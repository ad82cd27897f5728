//! The floor as one planar arrangement: outline, keep-outs, uncoated parts and joints together,
//! so that areas, edges and panels come from the same exact subdivision and add up.

use std::collections::BTreeMap;

use kurbo::Point;

use super::{Areas, Edge, EdgeKind, Joint, Opening, Outline, Zone};
use crate::geometry::arrangement::{
    Arrangement, ArrangementError, Beyond, BoundaryEdge, Class, InputEdge, Line, Options, Role,
};
use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments, distance};
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
    Joint(usize),
}

/// What a floor is made of.
pub(super) struct Parts<'a> {
    pub outline: &'a Outline,
    pub openings: &'a [Opening],
    pub keep_outs: &'a [Zone],
    pub uncoated: &'a [Zone],
    pub joints: &'a [Joint],
    pub snap: f64,
}

impl Floor {
    pub(super) fn new(parts: &Parts<'_>) -> Result<Self, ArrangementError> {
        let (outline_edges, mut outline) = outline_edges(parts.outline, parts.openings);
        let mut lines = vec![Line {
            role: Role::Outline,
            edges: outline_edges,
        }];
        let mut owners = vec![Owner::Outline];
        for (i, zone) in parts.keep_outs.iter().enumerate() {
            for ring in &zone.shape.rings {
                lines.push(Line {
                    role: Role::Hole,
                    edges: edges(ring),
                });
                owners.push(Owner::KeepOut(i));
            }
        }
        for (i, zone) in parts.uncoated.iter().enumerate() {
            for ring in &zone.shape.rings {
                lines.push(Line {
                    role: Role::Zone,
                    edges: edges(ring),
                });
                owners.push(Owner::Uncoated(i));
            }
        }
        for (i, joint) in parts.joints.iter().enumerate() {
            lines.push(Line {
                role: Role::Divider,
                edges: edges(&joint.path),
            });
            owners.push(Owner::Joint(i));
        }
        share_corners(&mut lines, &mut outline);
        let options = Options {
            weld: ON_TOP,
            snap: parts.snap,
            sliver: SLIVER,
        };
        let arrangement = Arrangement::build(&lines, &options)?;
        Ok(Self {
            arrangement,
            outline,
            owners,
        })
    }

    /// Areas, faces left out.
    pub(super) fn areas(&self) -> Areas {
        let gross = self.arrangement.area(Class::Enclosed);
        let reached = self.arrangement.area(Class::Reached);
        let net = self.arrangement.area(Class::Net);
        Areas {
            gross,
            keep_out: gross - reached,
            uncoated: reached - net,
            net,
            faces: 0.0,
        }
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
                Owner::Outline => self
                    .outline
                    .get(source.edge)
                    .copied()
                    .unwrap_or(EdgeKind::Wall),
                Owner::KeepOut(i) => EdgeKind::KeepOut(i),
                Owner::Uncoated(i) => EdgeKind::Uncoated(i),
                Owner::Joint(_) => continue,
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
        Edge {
            ends: [piece.a, piece.b],
            length_m: piece.length,
            kind,
        }
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

fn edges(path: &Path) -> Vec<InputEdge> {
    path.chords()
        .iter()
        .map(|c| InputEdge {
            a: c.a,
            b: c.b,
            length: c.length,
            bow: c.bow,
        })
        .collect()
}

/// Corners of one ring this close to an edge of another lie on it, m: six steps of the grid. A
/// corner given on a wall is rounded to the grid beside it; without this a sill on an oblique
/// wall would leave a hairline of floor behind it, with two edges of its own.
const SHARED: f64 = 2e-5;

/// Cuts the edges of rings at the corners of other rings that lie on them, so that rings that
/// touch share their edges. The outline's kinds are kept in step.
fn share_corners(lines: &mut [Line], kinds: &mut Vec<EdgeKind>) {
    let mut corners = Vec::new();
    for (owner, line) in lines
        .iter()
        .enumerate()
        .filter(|(_, l)| l.role != Role::Divider)
    {
        corners.extend(line.edges.iter().map(|e| Owned {
            a: e.a,
            b: e.a,
            owner,
        }));
    }
    let corners = Segments::new(corners);
    for (index, line) in lines
        .iter_mut()
        .enumerate()
        .filter(|(_, l)| l.role != Role::Divider)
    {
        let (mut edges, mut kept) = (Vec::with_capacity(line.edges.len()), Vec::new());
        for (k, edge) in line.edges.iter().enumerate() {
            let near = corners.near(edge.a, edge.b, SHARED);
            let on_it = near.iter().filter(|c| c.owner != index).map(|c| c.a);
            let pieces = cut_at(edge, on_it);
            if index == 0 {
                kept.extend(std::iter::repeat_n(kinds[k], pieces.len()));
            }
            edges.extend(pieces);
        }
        line.edges = edges;
        if index == 0 {
            *kinds = kept;
        }
    }
}

/// An edge cut at the corners that lie on it, its length and bow shared out.
fn cut_at(edge: &InputEdge, corners: impl Iterator<Item = Point>) -> Vec<InputEdge> {
    let chord = edge.b - edge.a;
    let chord2 = chord.hypot2();
    let mut on: Vec<(f64, Point)> = corners
        .filter(|c| distance(*c, edge.a, edge.b) <= SHARED)
        .map(|c| ((c - edge.a).dot(chord) / chord2, c))
        .filter(|(share, c)| {
            let ends = (*c - edge.a).hypot().min((*c - edge.b).hypot());
            *share > 0.0 && *share < 1.0 && ends > SHARED
        })
        .collect();
    on.sort_by(|p, q| p.0.total_cmp(&q.0));
    on.dedup_by(|q, p| (q.1 - p.1).hypot() <= SHARED);
    if on.is_empty() {
        return vec![*edge];
    }
    on.push((1.0, edge.b));
    let mut pieces = Vec::with_capacity(on.len());
    let (mut from, mut done, mut twice) = (edge.a, 0.0, 0.0);
    for &(share, to) in &on {
        twice += (from - edge.a).cross(to - edge.a);
        pieces.push((from, to, share - done));
        (from, done) = (to, share);
    }
    // What the cut chords enclose with the old one is no longer between chord and curve.
    let bow = edge.bow - twice / 2.0;
    pieces
        .into_iter()
        .map(|(a, b, part)| InputEdge {
            a,
            b,
            length: edge.length * part,
            bow: bow * part,
        })
        .collect()
}

/// The outline's edges, cut where an opening starts and ends, and the kind of each.
fn outline_edges(outline: &Outline, openings: &[Opening]) -> (Vec<InputEdge>, Vec<EdgeKind>) {
    let mut by_wall: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, opening) in openings.iter().enumerate() {
        by_wall.entry(opening.wall).or_default().push(i);
    }
    let (mut out, mut kinds) = (Vec::new(), Vec::new());
    for (i, wall) in outline.walls.iter().enumerate() {
        let on_wall = by_wall.get(&(i + 1)).map_or(&[][..], Vec::as_slice);
        let mut cuts = vec![0.0, wall.length()];
        for &o in on_wall {
            cuts.extend([openings[o].from_m, openings[o].to_m]);
        }
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2).filter(|pair| pair[1] - pair[0] > 1e-9) {
            let middle = (pair[0] + pair[1]) / 2.0;
            let kind = on_wall
                .iter()
                .find(|&&o| openings[o].from_m < middle && middle < openings[o].to_m)
                .map_or(EdgeKind::Wall, |&o| EdgeKind::Opening(o));
            let pieces = edges(&wall.part(pair[0], pair[1]));
            kinds.extend(std::iter::repeat_n(kind, pieces.len()));
            out.extend(pieces);
        }
    }
    (out, kinds)
}
