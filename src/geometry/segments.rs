//! An index of straight segments, each with an owner, for neighborhood questions.

use kurbo::{Point, Vec2};
use rstar::{AABB, RTree, RTreeObject};

/// A straight segment of the index.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Owned {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    /// Whatever the caller wants to know it by.
    pub owner: usize,
}

impl RTreeObject for Owned {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners([self.a.x, self.a.y], [self.b.x, self.b.y])
    }
}

/// Segments, found by place.
#[derive(Debug)]
pub struct Segments(RTree<Owned>);

/// The upright box of `a`–`b`, wider by `reach` on every side.
fn within(a: Point, b: Point, reach: f64) -> AABB<[f64; 2]> {
    let lo = [a.x.min(b.x) - reach, a.y.min(b.y) - reach];
    let hi = [a.x.max(b.x) + reach, a.y.max(b.y) + reach];
    AABB::from_corners(lo, hi)
}

impl Segments {
    /// Index of these segments.
    #[must_use]
    pub fn new(segments: Vec<Owned>) -> Self {
        Self(RTree::bulk_load(segments))
    }

    /// Whether more than so many segments have an upright box within `reach` of that of `a`–`b`.
    #[must_use]
    pub fn more_near(&self, a: Point, b: Point, reach: f64, than: usize) -> bool {
        let within = within(a, b, reach);
        let found = self.0.locate_in_envelope_intersecting(&within);
        found.take(than + 1).count() > than
    }

    /// Segments whose upright box comes within `reach` of that of `a`–`b`, in a fixed order.
    #[must_use]
    pub fn near(&self, a: Point, b: Point, reach: f64) -> Vec<Owned> {
        let within = within(a, b, reach);
        let found = self.0.locate_in_envelope_intersecting(&within);
        let mut found: Vec<_> = found.copied().collect();
        // The tree's own order depends on how it was packed.
        found.sort_by(|p, q| {
            let key = |s: &Owned| [s.a.x, s.a.y, s.b.x, s.b.y];
            p.owner.cmp(&q.owner).then_with(|| {
                key(p)
                    .iter()
                    .zip(key(q))
                    .fold(std::cmp::Ordering::Equal, |o, (x, y)| o.then_with(|| x.total_cmp(&y)))
            })
        });
        found
    }

    /// Distance from `p` to the nearest segment, if one is within `reach`.
    #[must_use]
    pub fn distance(&self, p: Point, reach: f64) -> Option<f64> {
        let lo = [p.x - reach, p.y - reach];
        let hi = [p.x + reach, p.y + reach];
        self.0
            .locate_in_envelope_intersecting(&AABB::from_corners(lo, hi))
            .map(|s| distance(p, s.a, s.b))
            .filter(|d| *d <= reach)
            .min_by(f64::total_cmp)
    }
}

/// Distance from `p` to the segment `a`–`b`.
#[must_use]
pub fn distance(p: Point, a: Point, b: Point) -> f64 {
    let d = b - a;
    let share = if d.hypot2() > 0.0 { ((p - a).dot(d) / d.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
    (p - (a + share * d)).hypot()
}

/// Shares of `a`–`b`, as an interval, within `reach` of the segment `c`–`d` (a stadium, which is
/// convex); `None` where it stays farther off.
#[must_use]
pub fn within_stadium(a: Point, b: Point, c: Point, d: Point, reach: f64) -> Option<(f64, f64)> {
    let mut best: Option<(f64, f64)> = None;
    let mut add = |interval: Option<(f64, f64)>| {
        if let Some((lo, hi)) = interval {
            let (l, h) = best.unwrap_or((lo, hi));
            best = Some((l.min(lo), h.max(hi)));
        }
    };
    add(within_disc(a, b, c, reach));
    add(within_disc(a, b, d, reach));
    let axis = d - c;
    if axis.hypot() > 0.0 {
        let unit = axis.normalize();
        add(within_strip(a, b, c, unit, axis.hypot(), reach));
    }
    best
}

/// Shares of `a`–`b` beside a segment of direction `unit` and this length from `c`, within
/// `reach` to either side and not past its ends.
#[must_use]
pub fn within_strip(
    a: Point,
    b: Point,
    c: Point,
    unit: Vec2,
    length: f64,
    reach: f64,
) -> Option<(f64, f64)> {
    let along = bounded(unit.dot(a - c), unit.dot(b - c), 0.0, length)?;
    let across = bounded(unit.cross(a - c), unit.cross(b - c), -reach, reach)?;
    let (lo, hi) = (along.0.max(across.0), along.1.min(across.1));
    (lo <= hi).then_some((lo, hi))
}

/// Shares between 0 and 1 at which a value running straight from `from` to `to` lies in `lo..=hi`.
fn bounded(from: f64, to: f64, lo: f64, hi: f64) -> Option<(f64, f64)> {
    let d = to - from;
    if d == 0.0 {
        return (lo <= from && from <= hi).then_some((0.0, 1.0));
    }
    let (p, q) = ((lo - from) / d, (hi - from) / d);
    let (s, e) = (p.min(q).max(0.0), p.max(q).min(1.0));
    (s <= e).then_some((s, e))
}

fn within_disc(a: Point, b: Point, c: Point, r: f64) -> Option<(f64, f64)> {
    let (d, f) = (b - a, a - c);
    let (qa, qb, qc) = (d.hypot2(), f.dot(d), f.hypot2() - r * r);
    if qa == 0.0 {
        return (qc <= 0.0).then_some((0.0, 1.0));
    }
    let disc = qb * qb - qa * qc;
    if disc < 0.0 {
        return None;
    }
    let root = disc.sqrt();
    let (s, e) = (((-qb - root) / qa).max(0.0), ((-qb + root) / qa).min(1.0));
    (s <= e).then_some((s, e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stadium_cuts_a_line_running_into_a_wall() {
        // A line square to a wall: the last three units of ten.
        let (a, b) = (Point::new(0.0, 0.0), Point::new(10.0, 0.0));
        let (c, d) = (Point::new(10.0, -5.0), Point::new(10.0, 5.0));
        let (lo, hi) = within_stadium(a, b, c, d, 3.0).expect("it reaches the wall");
        assert!((lo - 0.7).abs() < 1e-12 && (hi - 1.0).abs() < 1e-12);
        // Past the end of the wall only its end counts.
        let (c, d) = (Point::new(5.0, 4.0), Point::new(5.0, 9.0));
        let (lo, hi) = within_stadium(a, b, c, d, 5.0).expect("three-four-five");
        assert!((lo - 0.2).abs() < 1e-12 && (hi - 0.8).abs() < 1e-12);
        assert_eq!(within_stadium(a, b, c, d, 3.9), None);
    }

    #[test]
    fn near_finds_by_place_in_owner_order() {
        let seg = |x: f64, owner| Owned { a: Point::new(x, 0.0), b: Point::new(x, 1.0), owner };
        let index = Segments::new(vec![seg(2.0, 1), seg(1.0, 0), seg(9.0, 2)]);
        let found = index.near(Point::ORIGIN, Point::new(1.5, 0.5), 0.6);
        assert_eq!(found.iter().map(|s| s.owner).collect::<Vec<_>>(), [0, 1]);
        assert_eq!(index.distance(Point::new(4.0, 0.5), 3.0), Some(2.0));
    }
}
