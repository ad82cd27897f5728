//! Where something is, in words that a tape can follow: along a wall from one of its corners and square out into the floor, or along a
//! joint where that is nearer. Never a pair of coordinates.

use kurbo::{Point, Rect};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

use crate::geometry::path::Path;
use crate::quantity::tape::tape;
use crate::slab::{Joint, Slab};

/// Something this close to a wall or joint is on it, m: half an inch.
pub const ON_IT_M: f64 = 0.0127;
/// A joint is taken instead of a wall if it is nearer than this share of the distance to the wall.
const JOINT_SHARE: f64 = 0.6;
/// Sine of the angle from which on two joints cross: about 30°.
const CROSSING: f64 = 0.5;
/// A straight reference has at most this much bow, m: an eighth of an inch.
const STRAIGHT_M: f64 = 0.0032;

/// Finds tape directions for points of a slab.
#[derive(Clone, Debug)]
pub struct Locator<'a> {
    slab: &'a Slab,
    /// Points of each wall, arcs flattened.
    walls: Vec<Vec<Point>>,
    /// Rings of what stands on the slab, closed.
    standing: Vec<Vec<Point>>,
    /// Their boxes, and those of the joints, by index.
    standing_at: Boxes,
    joints_at: Boxes,
}

/// Boxes by the index of what lies in them.
type Boxes = RTree<GeomWithData<Rectangle<[f64; 2]>, usize>>;

/// Air around a box, m: what is measured on a true curve lies no farther outside its chords.
const AIR_M: f64 = 1e-3;

fn boxes(around: impl Iterator<Item = Rect>) -> Boxes {
    let own = |r: Rect| {
        let r = r.inflate(AIR_M, AIR_M);
        Rectangle::from_corners([r.x0, r.y0], [r.x1, r.y1])
    };
    let all = around.enumerate();
    RTree::bulk_load(all.map(|(i, r)| GeomWithData::new(own(r), i)).collect())
}

fn around(points: &[Point]) -> Rect {
    let first = points.first().copied().unwrap_or_default();
    let start = Rect::from_points(first, first);
    points.iter().fold(start, |r, p| r.union_pt(*p))
}

/// The foot of a point on the wall or joint from which it is taped.
#[derive(Clone, Debug, PartialEq)]
pub struct Foot {
    name: String,
    /// Distance along the wall from the corner at which a tape is hooked, or along the joint from its start on the slab, m.
    pub station: f64,
    /// Distance square off it, m.
    pub off: f64,
    /// Which side of a joint; empty for a wall.
    side: &'static str,
    /// The foot itself.
    pub at: Point,
    /// Index of the joint; `None` for a wall.
    pub joint: Option<usize>,
}

impl<'a> Locator<'a> {
    /// Says where things lie on this slab.
    #[must_use]
    pub fn new(slab: &'a Slab) -> Self {
        let standing = slab.keep_outs.iter().filter(|k| !k.flush);
        let standing: Vec<Vec<Point>> =
            standing.flat_map(|k| k.shape.rings.iter().map(Path::points)).collect();
        Self {
            slab,
            walls: slab.outline.walls.iter().map(Path::points).collect(),
            standing_at: boxes(standing.iter().map(|r| around(r))),
            standing,
            joints_at: boxes(slab.joints.iter().map(|j| j.path.bounds())),
        }
    }

    /// Directions to a point; `but` is the id of an item that must not be its own reference.
    #[must_use]
    pub fn point(&self, p: Point, but: &str) -> String {
        if let Some(corner) = self.corner(p) {
            return format!("corner {corner}");
        }
        if let Some((a, b)) = self.crossing(p, but) {
            return format!("at {a} × {b}");
        }
        let Some(foot) = self.foot(p, but) else {
            return self.by_ties(p);
        };
        let units = self.slab.units;
        let along = tape(foot.station, units);
        let on = if foot.side.is_empty() {
            format!("{} {along}", foot.name)
        } else {
            format!("{along} along {}", foot.name)
        };
        if foot.off <= ON_IT_M {
            return on;
        }
        let off = tape(foot.off, units);
        if foot.side.is_empty() {
            format!("{on}, out {off}")
        } else {
            format!("{on}, {off} {} of it", foot.side)
        }
    }

    /// Where a point is taped from: the nearest wall it lies square to, or a joint where that is clearly nearer. `but` is
    /// the id of an item that must not be its own reference.
    #[must_use]
    pub fn foot(&self, p: Point, but: &str) -> Option<Foot> {
        match (self.wall(p), self.joint(p, but)) {
            (Some(w), Some(j)) if j.off < JOINT_SHARE * w.off => Some(j),
            (Some(w), _) => Some(w),
            (None, joint) => joint,
        }
    }

    /// The number of the corner that a point lies in.
    fn corner(&self, p: Point) -> Option<usize> {
        let mut corners = self.slab.outline.corners.iter();
        corners.position(|c| (*c - p).hypot() <= ON_IT_M).map(|i| i + 1)
    }

    /// Two joints that cross at a point, in the order of the floor; `but` is none of them.
    #[must_use]
    pub fn crossing(&self, p: Point, but: &str) -> Option<(&'a str, &'a str)> {
        let reach =
            AABB::from_corners([p.x - ON_IT_M, p.y - ON_IT_M], [p.x + ON_IT_M, p.y + ON_IT_M]);
        let near = self.joints_at.locate_in_envelope_intersecting(&reach);
        let mut near: Vec<usize> = near.map(|b| b.data).collect();
        near.sort_unstable();
        let joints = near.into_iter().map(|i| &self.slab.joints[i]);
        let joints = joints.filter(|j| j.id != but);
        let mut through: Vec<(&'a str, kurbo::Vec2)> = Vec::new();
        for joint in joints {
            let (station, off) = joint.path.nearest(p);
            if off > ON_IT_M {
                continue;
            }
            let along = joint.path.direction_at(station);
            let crossed = through.iter().find(|(_, d)| d.cross(along).abs() > CROSSING);
            if let Some((first, _)) = crossed {
                return Some((*first, &joint.id));
            }
            through.push((&joint.id, along));
        }
        None
    }

    /// Directions to stretches of a line that may be a joint or crack of the slab, given by its id.
    #[must_use]
    pub fn along(&self, path: &Path, id: Option<&str>, stretches: &[(f64, f64)]) -> String {
        let joint = id.and_then(|id| self.slab.joints.iter().find(|j| j.id == id));
        let straight = joint
            .filter(|j| j.path.bow() <= STRAIGHT_M)
            .and_then(|j| j.on_slab.first().map(|s| (j, s.from_m)));
        if let Some((joint, start)) = straight {
            let read = |s: f64| tape((s - start).max(0.0), self.slab.units);
            let pieces: Vec<String> =
                stretches.iter().map(|(a, b)| format!("{} to {}", read(*a), read(*b))).collect();
            let where_ = format!("along {} from its {} end", joint.id, start_side(joint));
            return if pieces.is_empty() {
                format!("along {}", joint.id)
            } else {
                format!("{where_}: {}", pieces.join(", "))
            };
        }
        let pieces: Vec<String> = stretches
            .iter()
            .map(|(a, b)| self.line(path.point_at(*a), path.point_at(*b), id.unwrap_or("")))
            .collect();
        let on = id.map_or(String::new(), |id| format!("along {id}"));
        [on, pieces.join("; ")].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(": ")
    }

    /// Directions to both ends of a line.
    #[must_use]
    pub fn line(&self, a: Point, b: Point, but: &str) -> String {
        format!("{} to {}", self.point(a, but), self.point(b, but))
    }

    fn wall(&self, p: Point) -> Option<Foot> {
        let walls = self.slab.outline.walls.iter().enumerate();
        let mut feet: Vec<(usize, f64, f64)> = walls
            .filter_map(|(i, w)| {
                let (station, off) = w.nearest(p);
                // Nobody can tape square off a curved wall, but what lies on it is found along it.
                let square = off <= ON_IT_M || (!w.is_curved() && is_square(w, station, p));
                square.then_some((i, station, off))
            })
            .collect();
        feet.sort_by(|a, b| a.2.total_cmp(&b.2).then(a.0.cmp(&b.0)));
        feet.into_iter().find_map(|(i, station, off)| {
            let at = self.slab.outline.walls[i].point_at(station);
            self.sees(p, at, i).then(|| Foot {
                name: self.taped_name(i),
                station: self.taped(i, station),
                off,
                side: "",
                at,
                joint: None,
            })
        })
    }

    /// A wall by its two corners; the first is the one at which the tape is hooked.
    #[must_use]
    pub fn taped_name(&self, wall: usize) -> String {
        self.name_from(wall, self.slab.outline.walls.get(wall).is_some_and(is_taped_back))
    }

    /// A station of a wall as it is taped, m.
    #[must_use]
    pub fn taped(&self, wall: usize, station: f64) -> f64 {
        match self.slab.outline.walls.get(wall) {
            Some(path) if is_taped_back(path) => path.length() - station,
            _ => station,
        }
    }

    /// A wall by the corners it runs between.
    #[must_use]
    pub fn wall_name(&self, wall: usize) -> String {
        self.name_from(wall, false)
    }

    /// The same from its first corner or, `backward`, from its second.
    #[must_use]
    pub fn name_from(&self, wall: usize, backward: bool) -> String {
        let n = self.slab.outline.walls.len().max(1);
        let (start, end) = (wall + 1, (wall + 1) % n + 1);
        if backward { format!("{end}→{start}") } else { format!("{start}→{end}") }
    }

    /// Whether no other wall, and nothing that stands on the slab, is between a point and its foot on a wall.
    fn sees(&self, p: Point, foot: Point, wall: usize) -> bool {
        if p.distance(foot) < 1e-9 {
            return true;
        }
        let mut others = self.walls.iter().enumerate().filter(|(i, _)| *i != wall);
        self.is_open(p, foot)
            && others.all(|(_, w)| w.windows(2).all(|s| !cross(p, foot, s[0], s[1])))
    }

    /// Whether a tape can lie between two points: it runs through nothing that stands on the slab.
    fn is_open(&self, p: Point, foot: Point) -> bool {
        let middle = p.midpoint(foot);
        let between = AABB::from_corners([p.x, p.y], [foot.x, foot.y]);
        let mut near = self.standing_at.locate_in_envelope_intersecting(&between);
        near.all(|b| {
            let ring = &self.standing[b.data];
            // What stands on the point itself is in nobody's way: it is what is looked for. A tape along a side is open; one
            // that goes in at a corner is not.
            surrounds(ring, p)
                || (ring.windows(2).all(|s| !cross(p, foot, s[0], s[1]))
                    && !surrounds(ring, middle))
        })
    }

    /// The nearest joint that a point is taped from; of equals the first of the floor.
    fn joint(&self, p: Point, but: &str) -> Option<Foot> {
        let mut best: Option<Foot> = None;
        for (at, apart2) in self.joints_at.nearest_neighbor_iter_with_distance_2(&[p.x, p.y]) {
            if best.as_ref().is_some_and(|b| apart2 > b.off * b.off) {
                break;
            }
            let joint = &self.slab.joints[at.data];
            let nearer = |foot: &Foot| {
                best.as_ref().is_none_or(|b| (foot.off, foot.joint) < (b.off, b.joint))
            };
            let foot = (joint.id != but).then(|| joint_foot(at.data, joint, p));
            let foot = foot.flatten().filter(nearer);
            if let Some(foot) = foot.filter(|f| f.off <= ON_IT_M || self.is_open(p, f.at)) {
                best = Some(foot);
            }
        }
        best
    }

    /// Taped from two corners, for a point that no wall lies square to.
    fn by_ties(&self, p: Point) -> String {
        let mut near: Vec<(usize, f64)> = self
            .slab
            .outline
            .corners
            .iter()
            .enumerate()
            .map(|(i, c)| (i + 1, (*c - p).hypot()))
            .collect();
        near.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        let parts: Vec<_> = near
            .iter()
            .take(2)
            .map(|(i, d)| format!("{} from corner {i}", tape(*d, self.slab.units)))
            .collect();
        parts.join(", ")
    }
}

/// Whether a tape is hooked on a wall's second corner: both walls of a pair are taped from the same end, the west or the south one.
#[must_use]
pub fn is_taped_back(wall: &Path) -> bool {
    let along = wall.end() - wall.start();
    let main = if along.x.abs() >= along.y.abs() { along.x } else { along.y };
    !wall.is_curved() && main < 0.0
}

/// Whether the line from a point to its nearest station stands square to the path there.
fn is_square(path: &Path, station: f64, p: Point) -> bool {
    let d = p - path.point_at(station);
    path.direction_at(station).dot(d).abs() < 1e-6 * d.hypot().max(1.0)
}

fn joint_foot(index: usize, joint: &Joint, p: Point) -> Option<Foot> {
    if joint.path.bow() > STRAIGHT_M {
        return None;
    }
    let (station, off) = joint.path.nearest(p);
    let start = joint.on_slab.first()?.from_m;
    joint.on_slab.iter().find(|s| station >= s.from_m - ON_IT_M && station <= s.to_m + ON_IT_M)?;
    if off > ON_IT_M && !is_square(&joint.path, station, p) {
        return None;
    }
    let away = p - joint.path.point_at(station);
    let side = if away.x.abs() > away.y.abs() {
        if away.x > 0.0 { "E" } else { "W" }
    } else if away.y > 0.0 {
        "N"
    } else {
        "S"
    };
    Some(Foot {
        name: format!("{} from its {} end", joint.id, start_side(joint)),
        station: (station - start).max(0.0),
        off,
        side,
        at: joint.path.point_at(station),
        joint: Some(index),
    })
}

/// The side of the sheet on which a straight joint starts.
fn start_side(joint: &Joint) -> &'static str {
    let along = joint.path.end() - joint.path.start();
    if along.x.abs() > along.y.abs() {
        if along.x > 0.0 { "W" } else { "E" }
    } else if along.y > 0.0 {
        "S"
    } else {
        "N"
    }
}

/// Whether a point lies well inside a closed ring, not on it.
fn surrounds(ring: &[Point], p: Point) -> bool {
    let on = |s: &[Point]| {
        let d = s[1] - s[0];
        let n = d.hypot2();
        let share = if n > 0.0 { ((p - s[0]).dot(d) / n).clamp(0.0, 1.0) } else { 0.0 };
        (p - (s[0] + d * share)).hypot() < 1e-6
    };
    if ring.windows(2).any(on) {
        return false;
    }
    ring.windows(2).fold(false, |inside, s| {
        let (a, b) = (s[0], s[1]);
        let crosses =
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
        inside != crosses
    })
}

/// Whether two segments cross inside both.
fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    let (s, t) = (side(a, b, c), side(a, b, d));
    let (u, v) = (side(c, d, a), side(c, d, b));
    let apart = |m: f64, n: f64| (m > 1e-9 && n < -1e-9) || (m < -1e-9 && n > 1e-9);
    apart(s, t) && apart(u, v)
}
