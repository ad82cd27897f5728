//! Smallest rectangles around points.

use kurbo::{Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Areas that differ by less than this part count as equal, so that rounding doesn't choose the direction.
const SAME_AREA: f64 = 1e-9;
/// Directions closer than this to an axis are that axis, radians.
const SAME_ANGLE: f64 = 1e-9;

/// A rectangle of any direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrientedRect {
    /// Centre.
    pub center: Point,
    /// Half the longer side, m.
    pub half_length: f64,
    /// Half the shorter side, m.
    pub half_width: f64,
    /// Direction of the longer side, radians, from 0 up to but not including π.
    pub angle: f64,
}

impl OrientedRect {
    /// The rectangle of smallest area that holds all points, `None` when there is no point or one is not finite.
    ///
    /// Among rectangles of equal area one with sides along the axes is taken, or else the one turned least from them
    /// counter-clockwise. Points on one line give a rectangle without width, a single point one without size.
    #[must_use]
    pub fn around(points: &[Point]) -> Option<OrientedRect> {
        let hull = convex_hull(points)?;
        let mut directions: Vec<f64> = edges(&hull).map(|(a, b)| quarter((b - a).atan2())).collect();
        directions.push(0.0);
        directions.sort_by(f64::total_cmp);
        directions.dedup();
        let boxes = Calipers::new(&hull).boxes(&directions);
        let least = boxes.iter().map(Extent::area).min_by(f64::total_cmp)?;
        // Areas near zero can't be compared by their ratio; 1e-18 m² is far below anything that can be seen.
        let limit = least * (1.0 + SAME_AREA) + 1e-18;
        boxes.iter().find(|b| b.area() <= limit).map(Extent::to_rect)
    }

    /// Unit vectors along the length and along the width.
    #[must_use]
    pub fn axes(&self) -> (Vec2, Vec2) {
        let along = Vec2::from_angle(self.angle);
        (along, Vec2::new(-along.y, along.x))
    }

    /// The corners, counter-clockwise.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        let (along, across) = self.axes();
        let (l, w) = (along * self.half_length, across * self.half_width);
        [self.center - l - w, self.center + l - w, self.center + l + w, self.center - l + w]
    }

    /// Longer side, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        2.0 * self.half_length
    }

    /// Shorter side, m.
    #[must_use]
    pub fn width(&self) -> f64 {
        2.0 * self.half_width
    }

    /// Area, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.length() * self.width()
    }

    /// The rectangle with every side moved out by `by` (in, when negative, but not past the centre).
    #[must_use]
    pub fn grown(&self, by: f64) -> OrientedRect {
        let half = |h: f64| (h + by).max(0.0);
        OrientedRect { half_length: half(self.half_length), half_width: half(self.half_width), ..*self }
    }

    /// The rectangle made at least so long and so wide about its centre.
    #[must_use]
    pub fn at_least(&self, length: f64, width: f64) -> OrientedRect {
        let (l, w) = (self.half_length.max(length / 2.0), self.half_width.max(width / 2.0));
        if l >= w {
            OrientedRect { half_length: l, half_width: w, ..*self }
        } else {
            let angle = (self.angle + FRAC_PI_2) % std::f64::consts::PI;
            OrientedRect { half_length: w, half_width: l, angle, ..*self }
        }
    }

    /// Whether `p` lies in it, edges included.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        let (along, across) = self.axes();
        let from = p - self.center;
        from.dot(along).abs() <= self.half_length && from.dot(across).abs() <= self.half_width
    }

    /// Shortest distance between the two, m; 0 when they touch or overlap.
    #[must_use]
    pub fn distance_to(&self, other: &OrientedRect) -> f64 {
        if self.overlaps(other) {
            return 0.0;
        }
        // Of two convex figures that don't overlap, the nearest points include a corner of one of them.
        let one_way = |from: &OrientedRect, to: &OrientedRect| {
            let corners = to.corners();
            let nearest = |p: &Point| edges(&corners).map(|(a, b)| distance_to_segment(*p, a, b)).fold(f64::MAX, f64::min);
            from.corners().iter().map(nearest).fold(f64::MAX, f64::min)
        };
        one_way(self, other).min(one_way(other, self))
    }

    /// Whether no line along a side of either separates them.
    fn overlaps(&self, other: &OrientedRect) -> bool {
        let (own, others) = (self.axes(), other.axes());
        let reach = |rect: &OrientedRect, (along, across): (Vec2, Vec2), n: Vec2| {
            rect.half_length * along.dot(n).abs() + rect.half_width * across.dot(n).abs()
        };
        let apart = other.center - self.center;
        [own.0, own.1, others.0, others.1]
            .into_iter()
            .all(|n| apart.dot(n).abs() <= reach(self, own, n) + reach(other, others, n))
    }
}

/// The same direction for a rectangle, from 0 up to but not including π/2.
fn quarter(angle: f64) -> f64 {
    let reduced = angle.rem_euclid(FRAC_PI_2);
    if reduced < SAME_ANGLE || reduced > FRAC_PI_2 - SAME_ANGLE { 0.0 } else { reduced }
}

fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    let (along, from) = (b - a, p - a);
    let squared = along.hypot2();
    let t = if squared > 0.0 { (from.dot(along) / squared).clamp(0.0, 1.0) } else { 0.0 };
    (from - along * t).hypot()
}

/// Convex hull, counter-clockwise, by Andrew's monotone chain. `None` without points or with one that is not finite.
fn convex_hull(points: &[Point]) -> Option<Vec<Point>> {
    if points.is_empty() || points.iter().any(|p| !p.is_finite()) {
        return None;
    }
    let mut sorted = points.to_vec();
    sorted.sort_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return Some(sorted);
    }
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b - a).cross(p - a) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut hull = half(&mut sorted.iter().copied());
    hull.extend(half(&mut sorted.iter().rev().copied()));
    Some(hull)
}

/// Extent of the points along a direction and across it.
struct Extent {
    angle: f64,
    along: (f64, f64),
    across: (f64, f64),
}

impl Extent {
    fn area(&self) -> f64 {
        (self.along.1 - self.along.0) * (self.across.1 - self.across.0)
    }

    fn to_rect(&self) -> OrientedRect {
        let along = Vec2::from_angle(self.angle);
        let across = Vec2::new(-along.y, along.x);
        let middle = |(low, high): (f64, f64)| (low + high) / 2.0;
        let half = |(low, high): (f64, f64)| (high - low) / 2.0;
        let center = (along * middle(self.along) + across * middle(self.across)).to_point();
        let (l, w) = (half(self.along), half(self.across));
        if l >= w {
            OrientedRect { center, half_length: l, half_width: w, angle: self.angle }
        } else {
            OrientedRect { center, half_length: w, half_width: l, angle: self.angle + FRAC_PI_2 }
        }
    }
}

/// Rotating calipers: as the direction turns, the outermost point on each side only moves on around the hull
/// (Toussaint, "Solving geometric problems with the rotating calipers", 1983).
struct Calipers<'a> {
    hull: &'a [Point],
    at: [usize; 4],
}

impl<'a> Calipers<'a> {
    fn new(hull: &'a [Point]) -> Self {
        let farthest = |n: Vec2| {
            let place = |i: &usize| hull[*i].to_vec2().dot(n);
            (0..hull.len()).max_by(|i, j| place(i).total_cmp(&place(j))).unwrap_or(0)
        };
        let (x, y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
        Self { hull, at: [farthest(x), farthest(y), farthest(-x), farthest(-y)] }
    }

    /// Extents for directions in ascending order within a quarter turn.
    fn boxes(mut self, directions: &[f64]) -> Vec<Extent> {
        let mut found = Vec::with_capacity(directions.len());
        for angle in directions {
            let along = Vec2::from_angle(*angle);
            let across = Vec2::new(-along.y, along.x);
            let [right, top, left, bottom] = [(0, along), (1, across), (2, -along), (3, -across)].map(|(i, n)| self.turn(i, n));
            found.push(Extent { angle: *angle, along: (-left, right), across: (-bottom, top) });
        }
        found
    }

    fn turn(&mut self, side: usize, n: Vec2) -> f64 {
        let place = |i: usize| self.hull[i].to_vec2().dot(n);
        let mut at = self.at[side];
        for _ in 0..self.hull.len() {
            let next = (at + 1) % self.hull.len();
            if place(next) < place(at) {
                break;
            }
            at = next;
        }
        self.at[side] = at;
        place(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    fn points(pairs: &[(f64, f64)]) -> Vec<Point> {
        pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    fn turned(rect: &[(f64, f64)], angle: f64) -> Vec<Point> {
        let turn = kurbo::Affine::rotate(angle);
        points(rect).into_iter().map(|p| turn * p).collect()
    }

    #[test]
    fn known_figures() {
        let box_ = [(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0)];
        let rows: [(&str, Vec<Point>, (f64, f64, f64)); 8] = [
            ("upright", points(&box_), (4.0, 1.0, 0.0)),
            ("lying on its side", turned(&box_, FRAC_PI_2), (4.0, 1.0, FRAC_PI_2)),
            ("turned by 0.3", turned(&box_, 0.3), (4.0, 1.0, 0.3)),
            ("turned by -0.3", turned(&box_, -0.3), (4.0, 1.0, PI - 0.3)),
            ("a diamond", points(&[(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)]), (2f64.sqrt(), 2f64.sqrt(), PI / 4.0)),
            ("a slanted line", points(&[(0.0, 0.0), (3.0, 4.0), (1.5, 2.0)]), (5.0, 0.0, (4.0f64).atan2(3.0))),
            ("one point", points(&[(2.0, 3.0), (2.0, 3.0)]), (0.0, 0.0, 0.0)),
            // Of the boxes around this triangle two have area 2; the one along the axes is taken.
            ("a right triangle", points(&[(0.0, 0.0), (2.0, 0.0), (0.0, 1.0)]), (2.0, 1.0, 0.0)),
        ];
        for (name, points, (length, width, angle)) in rows {
            let r = OrientedRect::around(&points).expect(name);
            assert!((r.length() - length).abs() < 1e-9, "{name}: length {}", r.length());
            assert!((r.width() - width).abs() < 1e-9, "{name}: width {}", r.width());
            assert!((r.angle - angle).abs() < 1e-9, "{name}: angle {}", r.angle);
        }
        assert_eq!(OrientedRect::around(&[]), None);
        assert_eq!(OrientedRect::around(&[Point::new(f64::NAN, 0.0)]), None);
    }

    #[test]
    fn distances() {
        let unit = OrientedRect::around(&points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])).expect("square");
        let moved = |x: f64, y: f64, angle: f64| OrientedRect { center: Point::new(x, y), angle, ..unit };
        let rows = [
            ("side by side", moved(3.5, 0.5, 0.0), 2.0),
            ("corner to corner", moved(4.5, 4.5, 0.0), 18f64.sqrt()),
            ("touching", moved(1.5, 0.5, 0.0), 0.0),
            ("inside one another", moved(0.5, 0.5, 0.7), 0.0),
            ("a corner pointing at a side", moved(3.5, 0.5, PI / 4.0), 2.5 - 0.5f64.sqrt()),
        ];
        for (name, other, expected) in rows {
            assert!((unit.distance_to(&other) - expected).abs() < 1e-12, "{name}: {}", unit.distance_to(&other));
            assert!((other.distance_to(&unit) - expected).abs() < 1e-12, "{name}, the other way");
        }
    }

    #[test]
    fn growing_and_least_sizes() {
        let r = OrientedRect { center: Point::ORIGIN, half_length: 0.5, half_width: 0.25, angle: 0.2 };
        assert!((r.grown(0.5).area() - 2.0 * 1.5).abs() < 1e-12);
        assert_eq!(r.grown(-1.0).area(), 0.0);
        let wide = r.at_least(1.0, 3.0);
        assert_eq!((wide.length(), wide.width()), (3.0, 1.0));
        assert!((wide.angle - 0.2 - FRAC_PI_2).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn no_direction_gives_a_smaller_box(
            pairs in prop::collection::vec((-50.0..50.0f64, -50.0..50.0f64), 1..40),
            tries in prop::collection::vec(0.0..PI, 20),
        ) {
            let points = points(&pairs);
            let r = OrientedRect::around(&points).expect("points");
            prop_assert!(r.half_length >= r.half_width && (0.0..PI).contains(&r.angle));
            for p in &points {
                prop_assert!(r.grown(1e-9).contains(*p));
            }
            for angle in tries {
                let extent = Calipers::new(&convex_hull(&points).expect("points")).boxes(&[angle % FRAC_PI_2]);
                prop_assert!(r.area() <= extent[0].area() * (1.0 + 1e-8) + 1e-9);
            }
        }

        #[test]
        fn turning_the_points_turns_the_box(pairs in prop::collection::vec((-5.0..5.0f64, -5.0..5.0f64), 3..20), angle in 0.0..6.0f64) {
            let (a, b) = (OrientedRect::around(&points(&pairs)), OrientedRect::around(&turned(&pairs, angle)));
            // The axes themselves are a candidate in both, so the turned box may be smaller but for rounding only.
            let (a, b) = (a.expect("points").area(), b.expect("points").area());
            prop_assert!((a - b).abs() <= 1e-7 * a.max(1e-3));
        }
    }
}
