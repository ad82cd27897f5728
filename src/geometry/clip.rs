//! Which stations of a path lie inside a region, near obstacles, or on top of another path.

use kurbo::Point;

use super::path::Vertex;
use super::region::Region;
use super::segments::{Owned, Segments, within_stadium, within_strip};
use super::stretch::Intervals;
use super::stripes::Stripes;

/// A point this close to a region's boundary lies on it, m: three steps of the grid that regions
/// are rounded to.
const ON_BOUNDARY: f64 = 1e-5;

/// Two lines whose directions differ by more than this sine (about 5.7°) cross; they don't run on
/// top of each other.
const ALONG: f64 = 0.1;

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
                    edges.push(Owned {
                        a,
                        b,
                        owner: edges.len(),
                    });
                }
            }
        }
        let pairs: Vec<_> = edges.iter().map(|e| (e.a, e.b)).collect();
        Self {
            edges: Segments::new(edges),
            stripes: Stripes::new(&pairs),
        }
    }

    /// Whether a point lies in the region or on its boundary.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.edges.distance(p, ON_BOUNDARY).is_some() || self.stripes.contains(p)
    }

    /// Stations of the path in the region, its boundary included.
    #[must_use]
    pub fn inside(&self, path: &[Vertex]) -> Intervals {
        let mut pieces = Vec::new();
        for pair in path.windows(2) {
            let (a, b) = (pair[0].point, pair[1].point);
            let mut cuts = vec![0.0, 1.0];
            for edge in self.edges.near(a, b, ON_BOUNDARY) {
                cuts_of(a, b, edge.a, edge.b, &mut cuts);
            }
            cuts.sort_by(f64::total_cmp);
            cuts.dedup();
            for cut in cuts.windows(2) {
                if self.contains(a.lerp(b, (cut[0] + cut[1]) / 2.0)) {
                    pieces.push((station(pair, cut[0]), station(pair, cut[1])));
                }
            }
        }
        Intervals::new(pieces)
    }
}

fn station(pair: &[Vertex], share: f64) -> f64 {
    pair[0].station + share * (pair[1].station - pair[0].station)
}

/// Shares of `a`–`b` at which its place with regard to the edge `c`–`d` may change.
fn cuts_of(a: Point, b: Point, c: Point, d: Point, cuts: &mut Vec<f64>) {
    let (u, v) = (b - a, d - c);
    let length2 = u.hypot2();
    if length2 == 0.0 {
        return;
    }
    let cross = u.cross(v);
    if cross.abs() > 1e-12 * u.hypot() * v.hypot() {
        let share = (c - a).cross(v) / cross;
        let other = (c - a).cross(u) / cross;
        if (0.0..=1.0).contains(&share) && (-1e-9..=1.0 + 1e-9).contains(&other) {
            cuts.push(share);
        }
    }
    for end in [c, d] {
        let share = (end - a).dot(u) / length2;
        if (0.0..=1.0).contains(&share) && (a + share * u - end).hypot() <= ON_BOUNDARY {
            cuts.push(share);
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

/// A stretch of a path that runs on an earlier one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnTop {
    /// From this station, m.
    pub from: f64,
    /// To this station, m.
    pub to: f64,
    /// Owner of the earlier path.
    pub owner: usize,
}

/// Stretches of the path that run beside segments of the index for which `earlier` holds, within
/// `reach` and in nearly the same direction (either way round).
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
            if u.cross(v).abs() > ALONG * u.hypot() * length {
                continue;
            }
            if let Some((lo, hi)) = within_strip(a, b, edge.a, v / length, length, reach) {
                let (from, to) = (station(pair, lo), station(pair, hi));
                if to > from {
                    out.push(OnTop {
                        from,
                        to,
                        owner: edge.owner,
                    });
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

    /// The L of the vectors V-G1 and V-G2, feet taken as metres.
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
        Clipper::new(region)
            .inside(&Path::polyline(points).flatten())
            .length()
    }

    #[test]
    fn lines_are_clipped_to_the_l() {
        let rows = [
            ("V-G2 x = 18", p(18.0, -5.0), p(18.0, 50.0), 16.0),
            ("V-G2 y = 12", p(-1.0, 12.0), p(25.0, 12.0), 24.0),
            ("V-G2 x = 12", p(12.0, 0.0), p(12.0, 24.0), 24.0),
            ("on a wall", p(0.0, -1.0), p(0.0, 30.0), 24.0),
            (
                "on the inner wall and across",
                p(14.0, 0.0),
                p(14.0, 30.0),
                24.0,
            ),
            ("outside", p(20.0, 17.0), p(20.0, 23.0), 0.0),
            (
                "touching a corner",
                p(10.0, 20.0),
                p(18.0, 12.0),
                8.0 * 2f64.sqrt(),
            ),
            ("oblique", p(0.0, 0.0), p(24.0, 24.0), 16.0 * 2f64.sqrt()),
        ];
        for (name, a, b, expected) in rows {
            let length = inside(&l_shape(), &[a, b]);
            assert!(
                (length - expected).abs() < 1e-6,
                "{name}: {length} for {expected}"
            );
        }
    }

    #[test]
    fn saw_stops_short_of_both_walls() {
        let wall = |x: f64| Owned {
            a: p(x, -9.0),
            b: p(x, 9.0),
            owner: 0,
        };
        let index = Segments::new(vec![wall(0.0), wall(24.0)]);
        let path = Path::polyline(&[p(0.0, 0.0), p(24.0, 0.0)]).flatten();
        let hand = near(&path, &index, 0.25);
        assert_eq!(hand.as_slice().len(), 2);
        assert!((hand.length() - 0.5).abs() < 1e-12);
    }

    #[test]
    fn parallel_lines_run_on_top_and_crossing_ones_do_not() {
        let index = Segments::new(vec![Owned {
            a: p(0.0, 0.0),
            b: p(10.0, 0.0),
            owner: 7,
        }]);
        let rows = [
            ("beside, the other way", p(8.0, 0.002), p(4.0, 0.001), 4.0),
            ("past the end", p(9.0, 0.0), p(12.0, 0.0), 1.0),
            ("too far off", p(0.0, 0.004), p(9.0, 0.004), 0.0),
            ("crossing", p(5.0, -1.0), p(5.0, 1.0), 0.0),
        ];
        for (name, a, b, expected) in rows {
            let found = on_top(&Path::polyline(&[a, b]).flatten(), &index, 0.003175, |_| {
                true
            });
            let length: f64 = found.iter().map(|o| o.to - o.from).sum();
            assert!((length - expected).abs() < 1e-4, "{name}: {length}");
        }
    }
}
