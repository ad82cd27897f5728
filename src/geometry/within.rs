//! How much of each of many small regions lies in one large region.

use std::borrow::Cow;

use kurbo::{Point, Rect};

use super::region::{Region, corners, twice_area};
use super::segments::{Owned, Segments};
use super::stripes::Stripes;

/// The window around a small region is wider than it by this much, m, so that no border of the window touches it.
const ROOM: f64 = 0.01;

/// A share of an area that set operations may lose or gain.
const ROUNDING: f64 = 1e-7;

/// A large region prepared for that question. The work goes by what is near the small region, not by the size of the large one.
#[derive(Debug)]
pub struct Within {
    rings: Vec<Vec<Point>>,
    /// Owned by their ring.
    edges: Segments,
    stripes: Stripes,
}

impl Within {
    /// Prepares the large region.
    #[must_use]
    pub fn new(region: &Region) -> Self {
        let rings = region.rings();
        let mut edges = Vec::new();
        for (owner, ring) in rings.iter().enumerate() {
            edges.extend(sides(ring).map(|(a, b)| Owned { a, b, owner }));
        }
        let pairs: Vec<_> = edges.iter().map(|e| (e.a, e.b)).collect();
        Self { rings, edges: Segments::new(edges), stripes: Stripes::new(&pairs) }
    }

    /// The area of `small` in the large region, m²; to the last bit its own area where all of it lies inside.
    #[must_use]
    pub fn area(&self, small: &Region) -> f64 {
        self.common(small).area()
    }

    /// What of `small` lies in the large region: `small` itself where all of it does.
    #[must_use]
    pub fn common<'a>(&self, small: &'a Region) -> Cow<'a, Region> {
        let Some(bounds) = small.bounds() else {
            return Cow::Borrowed(small);
        };
        let window = bounds.inflate(ROOM, ROOM);
        let corners = [window.origin(), Point::new(window.x1, window.y1)];
        let near = self.edges.near(corners[0], corners[1], 0.0);
        if near.is_empty() {
            return if self.stripes.contains(window.center()) {
                Cow::Borrowed(small)
            } else {
                Cow::Owned(Region::empty())
            };
        }
        let mut touched: Vec<usize> = near.iter().map(|edge| edge.owner).collect();
        touched.dedup();
        let inside = small.intersection(&self.part(window, &touched));
        if inside.area() > small.area() * (1.0 - ROUNDING) {
            Cow::Borrowed(small)
        } else {
            Cow::Owned(inside)
        }
    }

    /// The large region in a window that only these rings touch.
    fn part(&self, window: Rect, touched: &[usize]) -> Region {
        let corner = window.origin();
        let mut rings = Vec::with_capacity(touched.len() + 1);
        // How often the rings that don't touch the window run round it: as often as all of them round a corner, less these.
        let mut round = i32::from(self.stripes.contains(corner));
        for &ring in touched {
            let ring = &self.rings[ring];
            let turned = sides(ring).filter(|&side| self.stripes.counts(side, corner));
            if turned.count() % 2 == 1 {
                round -= if twice_area(ring) > 0.0 { 1 } else { -1 };
            }
            rings.push(cut(ring, window));
        }
        let mut whole = corners(window).to_vec();
        if round < 0 {
            whole.reverse();
        }
        rings.extend(std::iter::repeat_n(whole, round.unsigned_abs() as usize));
        Region::from_rings(&rings)
    }
}

fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// A ring cut to a window, one border after the other (Sutherland and Hodgman, 1974). Parts of a ring that fall apart stay
/// joined along the border, where they enclose nothing.
fn cut(ring: &[Point], window: Rect) -> Vec<Point> {
    type Border = (fn(Point) -> f64, f64, f64);
    let borders: [Border; 4] = [
        (|p| p.x, window.x0, 1.0),
        (|p| p.x, window.x1, -1.0),
        (|p| p.y, window.y0, 1.0),
        (|p| p.y, window.y1, -1.0),
    ];
    let mut points = ring.to_vec();
    for (place, border, sign) in borders {
        let depth = |p: Point| (place(p) - border) * sign;
        let mut kept = Vec::with_capacity(points.len());
        for (a, b) in sides(&points) {
            let (d, e) = (depth(a), depth(b));
            if d >= 0.0 {
                kept.push(a);
            }
            if (d >= 0.0) != (e >= 0.0) {
                kept.push(a.lerp(b, d / (d - e)));
            }
        }
        points = kept;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::shapes::{hole, rect};

    #[test]
    fn a_hole_in_a_slanted_floor_is_no_floor() {
        // Slanted edges lie across the windows of everything in them, and touch none of them.
        let diamond = |r: f64| {
            let corners = [(0.0, -r), (r, 0.0), (0.0, r), (-r, 0.0)];
            corners.map(|(x, y)| Point::new(x, y)).to_vec()
        };
        let slanted = Region::from_rings(&[
            diamond(10.0),
            hole(2.0, 2.0, 5.0, 4.0),
            rect(3.0, 2.5, 4.0, 3.5),
        ]);
        let turned = diamond(10.0).into_iter().rev().collect();
        let ringed = Region::from_rings(&[
            rect(-40.0, -40.0, 40.0, 40.0),
            turned,
            rect(-2.0, -2.0, 2.0, 2.0),
        ]);
        let rows = [
            ("in a hole", &slanted, rect(2.2, 2.2, 2.8, 3.8), 0.0),
            ("on the floor", &slanted, rect(-3.0, -3.0, -2.5, -2.0), 0.5),
            ("in an island", &slanted, rect(3.2, 2.7, 3.7, 3.2), 0.25),
            ("over an edge", &slanted, rect(1.0, 2.5, 2.5, 3.5), 1.0),
            ("beside the floor", &slanted, rect(7.0, 7.0, 8.0, 8.0), 0.0),
            ("in a slanted hole", &ringed, rect(3.0, 1.0, 4.0, 2.0), 0.0),
            ("in its island", &ringed, rect(0.5, 0.5, 1.5, 1.0), 0.5),
            ("beside it", &ringed, rect(8.0, 8.0, 9.0, 9.0), 1.0),
        ];
        for (name, floor, ring, wanted) in rows {
            let got = Within::new(floor).area(&Region::from_rings(&[ring]));
            assert!((got - wanted).abs() < 1e-7, "{name}: {got}");
        }
    }

    #[test]
    fn it_is_the_area_of_the_intersection() {
        // A floor with two holes, an island in one of them, a notch, and a floor of its own beside it.
        let large = Region::from_rings(&[
            vec![
                Point::new(0.0, 0.0),
                Point::new(30.0, 0.0),
                Point::new(30.0, 20.0),
                Point::new(16.0, 20.0),
                Point::new(15.0, 14.0),
                Point::new(14.0, 20.0),
                Point::new(0.0, 20.0),
            ],
            hole(2.0, 2.0, 8.0, 8.0),
            rect(4.0, 4.0, 6.0, 6.0),
            hole(20.0, 4.0, 21.0, 5.0),
            rect(40.0, 0.0, 50.0, 10.0),
        ]);
        let within = Within::new(&large);
        let mut compared = 0;
        for i in 0..60 {
            for k in 0..30 {
                let (x, y) = (f64::from(i) * 0.9 - 1.0, f64::from(k) * 0.8 - 1.0);
                let small = Region::from_rings(&[vec![
                    Point::new(x, y),
                    Point::new(x + 1.5, y + 0.3),
                    Point::new(x + 0.9, y + 1.4),
                ]]);
                let (got, want) = (within.area(&small), small.intersection(&large).area());
                assert!((got - want).abs() < 1e-7, "at {x}, {y}: {got} for {want}");
                compared += usize::from(want > 0.0 && want < small.area() - 1e-6);
            }
        }
        assert!(compared > 200, "only {compared} lay on a border");
    }

    #[test]
    fn what_lies_away_from_borders_keeps_its_last_bit() {
        let within = Within::new(&Region::from_rings(&[rect(0.0, 0.0, 10.0, 10.0)]));
        let small = Region::from_rings(&[rect(1.1, 1.1, 1.7, 1.3)]);
        assert_eq!(within.area(&small), small.area());
        let beside = Region::from_rings(&[rect(0.0, 1.1, 0.7, 1.3)]);
        assert_eq!(within.area(&beside), beside.area());
        let outside = Region::from_rings(&[rect(11.1, 1.1, 11.7, 1.3)]);
        assert_eq!(within.area(&outside), 0.0);
        assert_eq!(within.area(&Region::empty()), 0.0);
        assert_eq!(Within::new(&Region::empty()).area(&small), 0.0);
    }
}
