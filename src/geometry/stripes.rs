//! Whether a point lies inside rings, asked often: the edges sorted into stripes.

use kurbo::Point;

/// At most this many stripes.
const MOST: usize = 1 << 16;
/// The edges may be listed this many times each, on the average. Without a limit a comb of long teeth, its edges
/// across every stripe, would take memory with the square of its teeth.
const LISTED: f64 = 8.0;

/// Edges of closed rings, each listed in every stripe that it crosses. The stripes run across the direction in which
/// the edges are shorter, so that few edges cross many.
#[derive(Clone, Debug)]
pub(super) struct Stripes {
    /// Stripes are ranges of x and are looked along in y; otherwise the other way round.
    upright: bool,
    start: f64,
    pitch: f64,
    stripes: Vec<Vec<(Point, Point)>>,
}

impl Stripes {
    /// Sorts these edges. All coordinates must be finite.
    pub fn new(edges: &[(Point, Point)]) -> Self {
        let (wide, high) = (Extent::of(edges, |p| p.x), Extent::of(edges, |p| p.y));
        let upright = wide.crossed < high.crossed;
        let extent = if upright { wide } else { high };
        let room = LISTED * edges.len() as f64 / extent.crossed.max(1.0);
        let count = edges.len().min(room as usize).clamp(1, MOST);
        let pitch = if extent.length > 0.0 { extent.length / count as f64 } else { 1.0 };
        let mut out =
            Self { upright, start: extent.start, pitch, stripes: vec![Vec::new(); count] };
        for &(a, b) in edges {
            let (s, t) = (out.across(a), out.across(b));
            let (Some(first), Some(last)) = (out.stripe(s.min(t)), out.stripe(s.max(t))) else {
                continue;
            };
            for stripe in &mut out.stripes[first..=last] {
                stripe.push((a, b));
            }
        }
        out
    }

    fn across(&self, p: Point) -> f64 {
        if self.upright { p.x } else { p.y }
    }

    fn along(&self, p: Point) -> f64 {
        if self.upright { p.y } else { p.x }
    }

    fn stripe(&self, s: f64) -> Option<usize> {
        let stripe = ((s - self.start) / self.pitch).floor();
        if !stripe.is_finite() || stripe < 0.0 || stripe > self.stripes.len() as f64 {
            return None;
        }
        Some((stripe as usize).min(self.stripes.len() - 1))
    }

    /// Whether `p` lies inside an odd number of the rings; on an edge either answer may come.
    pub fn contains(&self, p: Point) -> bool {
        let Some(stripe) = self.stripe(self.across(p)) else {
            return false;
        };
        let counted = self.stripes[stripe].iter().filter(|e| self.counts(**e, p));
        counted.count() % 2 == 1
    }

    /// Whether `p` changes its side where this edge is added: it crosses the line that leads away from `p`.
    pub fn counts(&self, (a, b): (Point, Point), p: Point) -> bool {
        let (s, t) = (self.across(p), self.along(p));
        let (u, v) = (self.across(a), self.across(b));
        let (c, d) = (self.along(a), self.along(b));
        (u > s) != (v > s) && c + (s - u) / (v - u) * (d - c) < t
    }
}

/// How far edges reach in one direction.
#[derive(Clone, Copy)]
struct Extent {
    start: f64,
    length: f64,
    /// How many edges a line across this direction meets, on the average.
    crossed: f64,
}

impl Extent {
    fn of(edges: &[(Point, Point)], along: impl Fn(Point) -> f64) -> Self {
        let (mut low, mut high, mut sum) = (f64::INFINITY, f64::NEG_INFINITY, 0.0);
        for &(a, b) in edges {
            let (s, t) = (along(a), along(b));
            low = low.min(s.min(t));
            high = high.max(s.max(t));
            sum += (s - t).abs();
        }
        let length = (high - low).max(0.0);
        Self { start: low, length, crossed: if length > 0.0 { sum / length } else { 0.0 } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A comb: a back along x with teeth a hundred long.
    fn comb(teeth: usize, turned: bool) -> Vec<(Point, Point)> {
        let mut ring = vec![(0.0, 0.0), (2.0 * teeth as f64, 0.0)];
        for k in (0..teeth).rev() {
            let x = 2.0 * k as f64;
            ring.extend([(x + 1.5, 1.0), (x + 1.5, 101.0), (x + 0.5, 101.0), (x + 0.5, 1.0)]);
        }
        let point = |&(x, y): &(f64, f64)| {
            if turned { Point::new(y, x) } else { Point::new(x, y) }
        };
        let points: Vec<Point> = ring.iter().map(point).collect();
        let next = points.iter().cycle().skip(1);
        points.iter().copied().zip(next.copied()).collect()
    }

    #[test]
    fn a_comb_takes_memory_as_it_has_teeth() {
        for turned in [false, true] {
            let edges = comb(5000, turned);
            let stripes = Stripes::new(&edges);
            let listed: usize = stripes.stripes.iter().map(Vec::len).sum();
            assert!(listed < 10 * edges.len(), "{listed}");
            let at = |x, y| {
                if turned { Point::new(y, x) } else { Point::new(x, y) }
            };
            let rows = [
                (at(4.2, 0.5), true),
                (at(4.2, 50.0), false),
                (at(5.0, 50.0), true),
                (at(9999.0, 100.5), true),
                (at(9999.0, 101.5), false),
                (at(-1.0, 0.5), false),
                (at(f64::NAN, 0.5), false),
            ];
            for (p, inside) in rows {
                assert_eq!(stripes.contains(p), inside, "{p}");
            }
        }
    }

    #[test]
    fn teeth_both_ways_are_listed_a_few_times_each() {
        let mut edges = comb(2000, false);
        edges.extend(comb(2000, true).into_iter().map(|(a, b)| {
            let off = kurbo::Vec2::new(5000.0, 5000.0);
            (a + off, b + off)
        }));
        let stripes = Stripes::new(&edges);
        let listed: usize = stripes.stripes.iter().map(Vec::len).sum();
        assert!(listed < 10 * edges.len(), "{listed}");
        assert!(stripes.contains(Point::new(5.0, 50.0)));
        assert!(stripes.contains(Point::new(5050.0, 5005.0)));
        assert!(!Stripes::new(&[]).contains(Point::ORIGIN));
    }
}
