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
        let mut directions: Vec<f64> =
            edges(&hull).map(|(a, b)| quarter((b - a).atan2())).collect();
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

    /// The rectangle with every side moved out by `by` (in, when negative, but not past the center).
    #[must_use]
    pub fn grown(&self, by: f64) -> OrientedRect {
        let half = |h: f64| (h + by).max(0.0);
        OrientedRect {
            half_length: half(self.half_length),
            half_width: half(self.half_width),
            ..*self
        }
    }

    /// The rectangle made at least so long and so wide about its center.
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
            let nearest = |p: &Point| {
                edges(&corners).map(|(a, b)| distance_to_segment(*p, a, b)).fold(f64::MAX, f64::min)
            };
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
    if (SAME_ANGLE..FRAC_PI_2 - SAME_ANGLE).contains(&reduced) { reduced } else { 0.0 }
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
            let [right, top, left, bottom] =
                [(0, along), (1, across), (2, -along), (3, -across)].map(|(i, n)| self.turn(i, n));
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
mod tests;
