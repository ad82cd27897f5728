//! Boxes and straight lines on paper.

use crate::ink::PaperPoint;

/// Steps in a millimeter of the fine grid on which the placement works. A power of two, so that sums and differences of coordinates
/// are exact and a plan that is moved by whole millimeters is labeled the same.
const STEPS: f64 = 1024.0;

/// The nearest value on the fine grid.
pub(super) fn snap(value: f64) -> f64 {
    (value * STEPS).round() / STEPS
}

/// The nearest point on the fine grid.
pub(super) fn snap_point(p: PaperPoint) -> PaperPoint {
    PaperPoint { x: snap(p.x), y: snap(p.y) }
}

/// Half of a length, on the fine grid and not less.
pub(super) fn half_up(length: f64) -> f64 {
    (length * STEPS / 2.0).ceil() / STEPS
}

/// An upright rectangle on paper, mm, y down.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PaperBox {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl PaperBox {
    /// A box from its edges.
    #[must_use]
    pub const fn new(left: f64, top: f64, right: f64, bottom: f64) -> PaperBox {
        PaperBox { left, top, right, bottom }
    }

    /// A box of a size about a center.
    #[must_use]
    pub fn around(centre: PaperPoint, width: f64, height: f64) -> PaperBox {
        let (w, h) = (width / 2.0, height / 2.0);
        PaperBox::new(centre.x - w, centre.y - h, centre.x + w, centre.y + h)
    }

    /// Width, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    #[must_use]
    pub fn centre(&self) -> PaperPoint {
        PaperPoint { x: (self.left + self.right) / 2.0, y: (self.top + self.bottom) / 2.0 }
    }

    /// The box with `by` mm added on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> PaperBox {
        PaperBox::new(self.left - by, self.top - by, self.right + by, self.bottom + by)
    }

    /// Whether the point is inside or on the edge.
    #[must_use]
    pub fn contains(&self, p: PaperPoint) -> bool {
        (self.left..=self.right).contains(&p.x) && (self.top..=self.bottom).contains(&p.y)
    }

    /// Whether the other box is wholly inside; touching from inside counts.
    #[must_use]
    pub fn contains_box(&self, other: &PaperBox) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && other.right <= self.right
            && other.bottom <= self.bottom
    }

    /// Whether the insides have a point in common; touching edges do not count.
    #[must_use]
    pub fn overlaps(&self, other: &PaperBox) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether the straight line enters the inside of the box.
    #[must_use]
    pub fn is_crossed_by(&self, from: PaperPoint, to: PaperPoint) -> bool {
        let x = inside(from.x, to.x, self.left, self.right);
        let y = inside(from.y, to.y, self.top, self.bottom);
        x.0.max(y.0).max(0.0) < x.1.min(y.1).min(1.0)
    }

    /// The smallest box that holds both.
    #[must_use]
    pub fn joined(&self, other: &PaperBox) -> PaperBox {
        PaperBox::new(
            self.left.min(other.left),
            self.top.min(other.top),
            self.right.max(other.right),
            self.bottom.max(other.bottom),
        )
    }

    /// The box on the fine grid.
    pub(super) fn snapped(&self) -> PaperBox {
        PaperBox::new(snap(self.left), snap(self.top), snap(self.right), snap(self.bottom))
    }

    /// The box grown as little as needed to hold a point.
    pub(super) fn with(&self, p: PaperPoint) -> PaperBox {
        PaperBox::new(
            self.left.min(p.x),
            self.top.min(p.y),
            self.right.max(p.x),
            self.bottom.max(p.y),
        )
    }
}

/// Between which shares of the way from `from` to `to` the value lies strictly between two bounds; an empty range if never.
fn inside(from: f64, to: f64, low: f64, high: f64) -> (f64, f64) {
    let step = to - from;
    if step == 0.0 {
        return if low < from && from < high {
            (f64::NEG_INFINITY, f64::INFINITY)
        } else {
            (1.0, 0.0)
        };
    }
    let (a, b) = ((low - from) / step, (high - from) / step);
    (a.min(b), a.max(b))
}

/// Twice the signed area of the triangle a, b, c.
pub(super) fn turn(a: PaperPoint, b: PaperPoint, c: PaperPoint) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// Whether two straight lines, each from end to end, have a point in common.
#[must_use]
pub fn lines_meet(a: (PaperPoint, PaperPoint), b: (PaperPoint, PaperPoint)) -> bool {
    let sides = |(p, q): (PaperPoint, PaperPoint), (r, s)| (turn(p, q, r), turn(p, q, s));
    let (a1, a2) = sides(a, b);
    let (b1, b2) = sides(b, a);
    if a1 == 0.0 && a2 == 0.0 {
        let apart = |p: f64, q: f64, r: f64, s: f64| p.max(q) < r.min(s) || r.max(s) < p.min(q);
        return !apart(a.0.x, a.1.x, b.0.x, b.1.x) && !apart(a.0.y, a.1.y, b.0.y, b.1.y);
    }
    a1 * a2 <= 0.0 && b1 * b2 <= 0.0
}

/// Distance of two points.
pub(super) fn distance(a: PaperPoint, b: PaperPoint) -> f64 {
    (a.x - b.x).hypot(a.y - b.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PaperPoint {
        PaperPoint { x, y }
    }

    #[test]
    fn lines_through_a_box() {
        let area = PaperBox::new(0.0, 0.0, 10.0, 4.0);
        let rows = [
            ("through", at(-5.0, 2.0), at(15.0, 2.0), true),
            ("ends inside", at(5.0, 2.0), at(15.0, 9.0), true),
            ("wholly inside", at(1.0, 1.0), at(2.0, 2.0), true),
            ("along the edge", at(-5.0, 4.0), at(15.0, 4.0), false),
            ("touches a corner", at(-1.0, 5.0), at(1.0, 3.0), true),
            ("grazes a corner", at(-2.0, 2.0), at(2.0, -2.0), false),
            ("beside", at(-5.0, 5.0), at(15.0, 5.0), false),
            ("stops short", at(-5.0, 2.0), at(-1.0, 2.0), false),
            ("a point inside", at(3.0, 3.0), at(3.0, 3.0), true),
        ];
        for (name, from, to, want) in rows {
            assert_eq!(area.is_crossed_by(from, to), want, "{name}");
            assert_eq!(area.is_crossed_by(to, from), want, "{name}, backwards");
        }
    }

    #[test]
    fn lines_that_meet() {
        let cross = (at(0.0, 0.0), at(4.0, 4.0));
        let rows = [
            ("crossing", (at(0.0, 4.0), at(4.0, 0.0)), true),
            ("end on line", (at(2.0, 2.0), at(9.0, 2.0)), true),
            ("parallel", (at(0.0, 1.0), at(4.0, 5.0)), false),
            ("in line, apart", (at(5.0, 5.0), at(9.0, 9.0)), false),
            ("in line, over", (at(3.0, 3.0), at(9.0, 9.0)), true),
            ("short of it", (at(0.0, 4.0), at(1.0, 3.0)), false),
        ];
        for (name, other, want) in rows {
            assert_eq!(lines_meet(cross, other), want, "{name}");
            assert_eq!(lines_meet(other, cross), want, "{name}, exchanged");
        }
    }

    #[test]
    fn boxes_that_touch_do_not_overlap() {
        let area = PaperBox::new(0.0, 0.0, 10.0, 4.0);
        assert!(!area.overlaps(&PaperBox::new(10.0, 0.0, 20.0, 4.0)));
        assert!(area.overlaps(&PaperBox::new(9.99, 3.99, 20.0, 8.0)));
        assert!(area.contains_box(&area) && !area.contains_box(&area.grown(0.1)));
    }
}
