//! Paths and letters as straight pieces in millimeters.

use super::read::MM;
use crate::ink::PaperPoint;
use usvg::tiny_skia_path::{Path, PathSegment, Point, Transform};

/// Straight pieces that a curve is cut into.
const PIECES: u32 = 8;

/// A path as polylines in mm, and whether it has no curves.
pub(super) fn runs(path: &Path, transform: Transform) -> (Vec<Vec<PaperPoint>>, bool) {
    let mut pen = Pen { transform, runs: Vec::new(), at: Point::zero(), start: Point::zero() };
    let mut straight = true;
    for segment in path.segments() {
        straight &= !matches!(segment, PathSegment::QuadTo(..) | PathSegment::CubicTo(..));
        match segment {
            PathSegment::MoveTo(p) => pen.lift_to(p),
            PathSegment::LineTo(p) => pen.draw_to(p),
            PathSegment::QuadTo(a, p) => pen.curve(|from, share| quadratic(from, a, p, share)),
            PathSegment::CubicTo(a, b, p) => pen.curve(|from, share| cubic(from, a, b, p, share)),
            PathSegment::Close => pen.draw_to(pen.start),
        }
    }
    (pen.runs, straight)
}

/// Follows a path and notes where it goes on paper.
struct Pen {
    transform: Transform,
    runs: Vec<Vec<PaperPoint>>,
    at: Point,
    start: Point,
}

impl Pen {
    fn on_paper(&self, mut p: Point) -> PaperPoint {
        self.transform.map_point(&mut p);
        PaperPoint { x: f64::from(p.x) * MM, y: f64::from(p.y) * MM }
    }

    fn lift_to(&mut self, p: Point) {
        self.runs.push(vec![self.on_paper(p)]);
        (self.at, self.start) = (p, p);
    }

    fn draw_to(&mut self, p: Point) {
        let on_paper = self.on_paper(p);
        if let Some(run) = self.runs.last_mut() {
            run.push(on_paper);
        }
        self.at = p;
    }

    /// Draws a curve, given as the point at a share of it for a starting point.
    fn curve(&mut self, point: impl Fn(Point, f32) -> Point) {
        let from = self.at;
        (1..=PIECES).for_each(|n| self.draw_to(point(from, n as f32 / PIECES as f32)));
    }
}

fn between(a: Point, b: Point, share: f32) -> Point {
    Point::from_xy(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
}

fn quadratic(a: Point, b: Point, c: Point, share: f32) -> Point {
    between(between(a, b, share), between(b, c, share), share)
}

fn cubic(a: Point, b: Point, c: Point, d: Point, share: f32) -> Point {
    between(quadratic(a, b, c, share), quadratic(b, c, d, share), share)
}

/// Collects the points of the letters' outlines, in mm. The flattened text is in the text's own frame.
pub(super) fn letters(group: &usvg::Group, turn: Transform, points: &mut Vec<PaperPoint>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => letters(inner, turn.pre_concat(inner.transform()), points),
            usvg::Node::Path(path) => {
                points.extend(runs(path.data(), turn).0.into_iter().flatten())
            }
            _ => {}
        }
    }
}
