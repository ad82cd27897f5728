//! Arithmetic on paper: displacements and upright rectangles in millimeters, x to the right, y down.

use std::ops::{Add, Mul, Neg, Sub};

use crate::ink::PaperPoint;

/// A displacement on paper, mm, y down.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shift {
    /// To the right, mm.
    pub x: f64,
    /// Down, mm.
    pub y: f64,
}

/// A point from its coordinates, mm.
#[must_use]
pub const fn at(x: f64, y: f64) -> PaperPoint {
    PaperPoint { x, y }
}

/// A displacement from its parts, mm.
#[must_use]
pub const fn by(x: f64, y: f64) -> Shift {
    Shift { x, y }
}

impl Shift {
    /// Length, mm.
    #[must_use]
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// The same direction with length one; to the right for a displacement without length.
    #[must_use]
    pub fn unit(self) -> Self {
        let length = self.length();
        if length > 0.0 { by(self.x / length, self.y / length) } else { by(1.0, 0.0) }
    }

    /// Turned a quarter so that a reader who looks along it has the result on the left hand.
    #[must_use]
    pub const fn left(self) -> Self {
        by(self.y, -self.x)
    }

    /// Scalar product.
    #[must_use]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Cross product; positive where `other` lies to the right hand on paper.
    #[must_use]
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }
}

impl Add<Shift> for PaperPoint {
    type Output = Self;
    fn add(self, by: Shift) -> Self {
        at(self.x + by.x, self.y + by.y)
    }
}

impl Sub<Shift> for PaperPoint {
    type Output = Self;
    fn sub(self, by: Shift) -> Self {
        at(self.x - by.x, self.y - by.y)
    }
}

impl Sub for PaperPoint {
    type Output = Shift;
    fn sub(self, other: Self) -> Shift {
        by(self.x - other.x, self.y - other.y)
    }
}

impl Add for Shift {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        by(self.x + other.x, self.y + other.y)
    }
}

impl Mul<f64> for Shift {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        by(self.x * factor, self.y * factor)
    }
}

impl Neg for Shift {
    type Output = Self;
    fn neg(self) -> Self {
        by(-self.x, -self.y)
    }
}

/// The point a share of the way from `a` to `b`.
#[must_use]
pub fn lerp(a: PaperPoint, b: PaperPoint, share: f64) -> PaperPoint {
    a + (b - a) * share
}

/// Length of a polyline, mm.
#[must_use]
pub fn length(points: &[PaperPoint]) -> f64 {
    points.windows(2).map(|p| (p[1] - p[0]).length()).sum()
}

/// An upright rectangle on paper, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Box2 {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Box2 {
    /// From its edges.
    #[must_use]
    pub const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self { left, top, right, bottom }
    }

    /// From its center and size.
    #[must_use]
    pub fn around(center: PaperPoint, width: f64, height: f64) -> Self {
        Self::new(
            center.x - width / 2.0,
            center.y - height / 2.0,
            center.x + width / 2.0,
            center.y + height / 2.0,
        )
    }

    /// Smallest rectangle around points; empty at the origin for none.
    #[must_use]
    pub fn of(points: &[PaperPoint]) -> Self {
        let Some(first) = points.first() else {
            return Self::default();
        };
        points.iter().fold(Self::new(first.x, first.y, first.x, first.y), |b, p| {
            Self::new(b.left.min(p.x), b.top.min(p.y), b.right.max(p.x), b.bottom.max(p.y))
        })
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

    /// Middle.
    #[must_use]
    pub fn center(&self) -> PaperPoint {
        at((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    /// Grown by so much on every side; shrunk by a negative amount.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self::new(self.left - by, self.top - by, self.right + by, self.bottom + by)
    }

    /// Corners, clockwise on paper from the upper left.
    #[must_use]
    pub fn corners(&self) -> [PaperPoint; 4] {
        [
            at(self.left, self.top),
            at(self.right, self.top),
            at(self.right, self.bottom),
            at(self.left, self.bottom),
        ]
    }

    /// Whether a point lies in it or on its edge.
    #[must_use]
    pub fn contains(&self, p: PaperPoint) -> bool {
        p.x >= self.left && p.x <= self.right && p.y >= self.top && p.y <= self.bottom
    }

    /// The point in it that is nearest to another.
    #[must_use]
    pub const fn nearest(&self, p: PaperPoint) -> PaperPoint {
        at(p.x.max(self.left).min(self.right), p.y.max(self.top).min(self.bottom))
    }

    /// Whether another rectangle lies wholly in it.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        other.left >= self.left
            && other.right <= self.right
            && other.top >= self.top
            && other.bottom <= self.bottom
    }

    /// Whether the insides of two rectangles meet.
    #[must_use]
    pub fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn left_is_up_for_a_reader_who_looks_to_the_right() {
        assert_eq!(by(1.0, 0.0).left(), by(0.0, -1.0));
        assert!(by(1.0, 0.0).cross(by(0.0, 1.0)) > 0.0);
    }

    #[test]
    fn boxes_that_touch_do_not_meet() {
        let a = Box2::new(0.0, 0.0, 2.0, 2.0);
        assert!(!a.meets(&Box2::new(2.0, 0.0, 3.0, 1.0)));
        assert!(a.meets(&Box2::new(1.9, 0.0, 3.0, 1.0)));
        assert!(a.holds(&Box2::around(at(1.0, 1.0), 2.0, 1.0)));
    }
}
