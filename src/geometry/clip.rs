//! Which stations of a path lie inside a region, near obstacles, or on top of another path.

use kurbo::Point;

use super::contact::TOUCHING;
use super::lattice::UNITS_PER_METRE;
use super::path::{FLATTEN_TOLERANCE, Vertex};
use super::region::Region;
use super::segments::{Owned, Segments, within_stadium, within_strip};
use super::stretch::Intervals;
use super::stripes::Stripes;

/// A point this close to a region's boundary lies on it, m: as far as the boundary may lie beside the lines as written. Those were led
/// through each other's corners, flattened, and rounded to the grid at both ends; and the path may be flattened too.
const ON_BOUNDARY: f64 = TOUCHING + 2.0 * FLATTEN_TOLERANCE + 1.5 / UNITS_PER_METRE;

/// A region prepared for clipping many paths.
#[derive(Debug)]
pub struct Clipper {
    edges: Segments,
    stripes: Stripes,
}

impl Clipper {
    /// Prepares a region.
    #[must_use]
    pub fn new(region: &Region) -> Self {
        let mut edges = Vec::new();
        for (outer, holes) in region.polygons() {
            for ring in std::iter::once(&outer).chain(&holes) {
                for i in 0..ring.len() {
                    let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
                    edges.push(Owned { a, b, owner: edges.len() });
                }
            }
        }
        let pairs: Vec<_> = edges.iter().map(|e| (e.a, e.b)).collect();
        Self { edges: Segments::new(edges), stripes: Stripes::new(&pairs) }
    }

    /// Whether a point lies in the region or on its boundary.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.edges.distance(p, ON_BOUNDARY).is_some() || self.stripes.contains(p)
    }

    /// Stations of the path in the region, its boundary included.
    ///
    /// First come the stretches within `ON_BOUNDARY` of an edge, however many edges they pass: they lie on the boundary. Whatever is
    /// between two of them meets no edge, so one point says whether it is inside. Where a stretch on the boundary leads to the outside, it
    /// ends at the last place there where something meets: a path across an edge ends on the edge, a path along a wall ends with the wall.
    #[must_use]
    pub fn inside(&self, path: &[Vertex]) -> Intervals {
        let (Some(first), Some(last)) = (path.first(), path.last()) else {
            return Intervals::default();
        };
        let (on, meets) = self.boundary(path);
        let mut from = first.station;
        let mut gaps = Vec::with_capacity(on.len() + 1);
        for &(lo, hi) in on.iter().chain([&(last.station, last.station)]) {
            gaps.push(lo > from && self.stripes.contains(point(path, (from + lo) / 2.0)));
            from = hi;
        }
        let mut pieces = Vec::new();
        let mut from = first.station;
        for (k, &(lo, hi)) in on.iter().enumerate() {
            if gaps[k] {
                pieces.push((from, lo));
            }
            let here = &meets[meets.partition_point(|m| *m < lo)..];
            let here = &here[..here.partition_point(|m| *m <= hi)];
            let middle = (lo + hi) / 2.0;
            let start = if gaps[k] { lo } else { here.first().copied().unwrap_or(middle) };
            let end = if gaps[k + 1] { hi } else { here.last().copied().unwrap_or(middle) };
            pieces.push((start, end));
            from = hi;
        }
        if gaps.last() == Some(&true) {
            pieces.push((from, last.station));
        }
        Intervals::new(pieces)
    }

    /// Stretches of the path on the boundary, ascending and apart, and the stations at which the path bends, meets a corner or crosses.
    fn boundary(&self, path: &[Vertex]) -> (Vec<(f64, f64)>, Vec<f64>) {
        let (mut on, mut meets) = (Vec::new(), path.iter().map(|v| v.station).collect());
        for pair in path.windows(2) {
            let (a, b) = (pair[0].point, pair[1].point);
            for edge in self.edges.near(a, b, ON_BOUNDARY) {
                if let Some((lo, hi)) = within_stadium(a, b, edge.a, edge.b, ON_BOUNDARY) {
                    on.push((station(pair, lo), station(pair, hi)));
                    meetings(pair, edge.a, edge.b, &mut meets);
                }
            }
        }
        on.sort_by(|p, q| p.0.total_cmp(&q.0));
        on.dedup_by(|next, kept| {
            let one = next.0 <= kept.1 + ROUNDING;
            if one {
                kept.1 = kept.1.max(next.1);
            }
            one
        });
        meets.sort_by(f64::total_cmp);
        (on, meets)
    }
}

/// Stretches this close are one, m: no gap is wide enough to lie clear of two edges.
const ROUNDING: f64 = 1e-9;

fn station(pair: &[Vertex], share: f64) -> f64 {
    pair[0].station + share * (pair[1].station - pair[0].station)
}

/// The point at a station of a flattened path.
fn point(path: &[Vertex], station: f64) -> Point {
    let next = path.partition_point(|v| v.station <= station).clamp(1, path.len() - 1);
    let (a, b) = (path[next - 1], path[next]);
    let run = b.station - a.station;
    let share = if run > 0.0 { (station - a.station) / run } else { 0.0 };
    a.point.lerp(b.point, share)
}

/// Stations of a straight piece of a path at which it crosses the edge `c`–`d` or passes one of its ends.
fn meetings(pair: &[Vertex], c: Point, d: Point, out: &mut Vec<f64>) {
    let a = pair[0].point;
    let (u, v) = (pair[1].point - a, d - c);
    let length2 = u.hypot2();
    if length2 == 0.0 {
        return;
    }
    let mut add = |share: f64| {
        if (0.0..=1.0).contains(&share) {
            out.push(station(pair, share));
        }
    };
    let cross = u.cross(v);
    if cross.abs() > 1e-12 * u.hypot() * v.hypot()
        && (0.0..=1.0).contains(&((c - a).cross(u) / cross))
    {
        add((c - a).cross(v) / cross);
    }
    for end in [c, d] {
        let share = (end - a).dot(u) / length2;
        if (a + share * u - end).hypot() <= ON_BOUNDARY {
            add(share);
        }
    }
}

/// Stations of the path nearer than `reach` to any of the obstacles.
#[must_use]
pub fn near(path: &[Vertex], obstacles: &Segments, reach: f64) -> Intervals {
    let mut pieces = Vec::new();
    for pair in path.windows(2) {
        let (a, b) = (pair[0].point, pair[1].point);
        for edge in obstacles.near(a, b, reach) {
            if let Some((lo, hi)) = within_stadium(a, b, edge.a, edge.b, reach) {
                pieces.push((station(pair, lo), station(pair, hi)));
            }
        }
    }
    Intervals::new(pieces)
}

/// A stretch of a path beside a segment of an earlier one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnTop {
    /// From this station, m.
    pub from: f64,
    /// To this station, m.
    pub to: f64,
    /// Owner of the earlier path.
    pub owner: usize,
}

/// Stretches of the path within `reach` of segments of the index for which `earlier` holds, and beside them, not past their ends.
/// Those that run across a segment are among them.
#[must_use]
pub fn on_top(
    path: &[Vertex],
    index: &Segments,
    reach: f64,
    earlier: impl Fn(usize) -> bool,
) -> Vec<OnTop> {
    let mut out = Vec::new();
    for pair in path.windows(2) {
        let (a, b) = (pair[0].point, pair[1].point);
        let u = b - a;
        if u.hypot() == 0.0 {
            continue;
        }
        for edge in index.near(a, b, reach) {
            let v = edge.b - edge.a;
            let length = v.hypot();
            if !earlier(edge.owner) || length == 0.0 {
                continue;
            }
            if let Some((lo, hi)) = within_strip(a, b, edge.a, v / length, length, reach) {
                let (from, to) = (station(pair, lo), station(pair, hi));
                if to > from {
                    out.push(OnTop { from, to, owner: edge.owner });
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::path::Path;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    /// The L of the vectors V-G1 and V-G2, feet taken as meters.
    fn l_shape() -> Region {
        Region::from_rings(&[vec![
            p(0.0, 0.0),
            p(24.0, 0.0),
            p(24.0, 16.0),
            p(14.0, 16.0),
            p(14.0, 24.0),
            p(0.0, 24.0),
        ]])
    }

    fn inside(region: &Region, points: &[Point]) -> f64 {
        Clipper::new(region).inside(&Path::polyline(points).flatten()).length()
    }

    #[test]
    fn lines_are_clipped_to_the_l() {
        let rows = [
            ("V-G2 x = 18", p(18.0, -5.0), p(18.0, 50.0), 16.0),
            ("V-G2 y = 12", p(-1.0, 12.0), p(25.0, 12.0), 24.0),
            ("V-G2 x = 12", p(12.0, 0.0), p(12.0, 24.0), 24.0),
            ("on a wall", p(0.0, -1.0), p(0.0, 30.0), 24.0),
            ("on the inner wall and across", p(14.0, 0.0), p(14.0, 30.0), 24.0),
            ("outside", p(20.0, 17.0), p(20.0, 23.0), 0.0),
            ("touching a corner", p(10.0, 20.0), p(18.0, 12.0), 8.0 * 2f64.sqrt()),
            ("oblique", p(0.0, 0.0), p(24.0, 24.0), 16.0 * 2f64.sqrt()),
        ];
        for (name, a, b, expected) in rows {
            let length = inside(&l_shape(), &[a, b]);
            assert!((length - expected).abs() < 1e-6, "{name}: {length} for {expected}");
        }
    }

    #[test]
    fn a_line_on_the_boundary_is_inside_however_the_boundary_bends_beside_it() {
        // A wall that is led through a point 8 µm beside it, and one that touches itself where a column stands.
        let bent = Region::from_rings(&[vec![
            p(0.0, 0.0),
            p(9.0, 8e-6),
            p(24.0, 0.0),
            p(24.0, 16.0),
            p(0.0, 16.0),
        ]]);
        let touched = Region::from_rings(&[
            vec![p(0.0, 0.0), p(24.0, 0.0), p(24.0, 16.0), p(0.0, 16.0)],
            vec![p(12.0, 0.0), p(11.8, 0.2), p(12.0, 0.4), p(12.2, 0.2)],
        ]);
        let rows = [
            ("along the wall", &bent, p(0.0, 0.0), p(24.0, 0.0), 24.0),
            ("past both its ends", &bent, p(-1.0, 0.0), p(25.0, 0.0), 24.0),
            ("part of it", &bent, p(20.0, 0.0), p(3.0, 0.0), 17.0),
            ("clear of it", &bent, p(-1.0, -1e-4), p(25.0, -1e-4), 0.0),
            ("past a column", &touched, p(0.0, 0.0), p(24.0, 0.0), 24.0),
            ("through a column", &touched, p(12.0, -1.0), p(12.0, 17.0), 15.6),
        ];
        for (name, region, a, b, expected) in rows {
            let length = inside(region, &[a, b]);
            assert!((length - expected).abs() < 1e-6, "{name}: {length} for {expected}");
        }
    }

    #[test]
    fn saw_stops_short_of_both_walls() {
        let wall = |x: f64| Owned { a: p(x, -9.0), b: p(x, 9.0), owner: 0 };
        let index = Segments::new(vec![wall(0.0), wall(24.0)]);
        let path = Path::polyline(&[p(0.0, 0.0), p(24.0, 0.0)]).flatten();
        let hand = near(&path, &index, 0.25);
        assert_eq!(hand.as_slice().len(), 2);
        assert!((hand.length() - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_line_is_found_beside_another_and_not_past_its_ends() {
        let index = Segments::new(vec![Owned { a: p(0.0, 0.0), b: p(10.0, 0.0), owner: 7 }]);
        let rows = [
            ("beside, the other way", p(8.0, 0.002), p(4.0, 0.001), 4.0),
            ("past the end", p(9.0, 0.0), p(12.0, 0.0), 1.0),
            ("too far off", p(0.0, 0.004), p(9.0, 0.004), 0.0),
            ("crossing", p(5.0, -1.0), p(5.0, 1.0), 0.00635),
        ];
        for (name, a, b, expected) in rows {
            let found = on_top(&Path::polyline(&[a, b]).flatten(), &index, 0.003175, |_| true);
            let length: f64 = found.iter().map(|o| o.to - o.from).sum();
            assert!((length - expected).abs() < 1e-4, "{name}: {length}");
        }
    }
}
