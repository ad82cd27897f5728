//! Rings for the tests of this folder.

use kurbo::Point;

/// An upright rectangle, counter-clockwise.
pub(super) fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    vec![Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)]
}

/// An upright rectangle, clockwise.
pub(super) fn hole(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    let mut ring = rect(x0, y0, x1, y1);
    ring.reverse();
    ring
}
