//! Paths and letters as straight pieces in millimetres.

use super::read::MM;
use crate::ink::PaperPoint;
use usvg::tiny_skia_path::{PathSegment, Point, Transform};

/// Straight pieces that a curve is cut into.
const PIECES: u32 = 8;

/// A path as polylines in mm, and whether it has no curves.
pub(super) fn runs(
    path: &usvg::tiny_skia_path::Path,
    transform: Transform,
) -> (Vec<Vec<PaperPoint>>, bool) {
    let mut runs: Vec<Vec<PaperPoint>> = Vec::new();
    let mut straight = true;
    let mut last = Point::zero();
    let mut start = Point::zero();
    let to_paper = |mut p: Point| {
        transform.map_point(&mut p);
        PaperPoint {
            x: f64::from(p.x) * MM,
            y: f64::from(p.y) * MM,
        }
    };
    for segment in path.segments() {
        let mut push = |p: Point| {
            if let Some(run) = runs.last_mut() {
                run.push(to_paper(p));
            }
        };
        let end = match segment {
            PathSegment::MoveTo(p) => {
                runs.push(vec![to_paper(p)]);
                start = p;
                p
            }
            PathSegment::LineTo(p) => {
                push(p);
                p
            }
            PathSegment::QuadTo(a, p) => {
                straight = false;
                (1..=PIECES).for_each(|n| push(quadratic(last, a, p, n as f32 / PIECES as f32)));
                p
            }
            PathSegment::CubicTo(a, b, p) => {
                straight = false;
                (1..=PIECES).for_each(|n| push(cubic(last, a, b, p, n as f32 / PIECES as f32)));
                p
            }
            PathSegment::Close => {
                push(start);
                start
            }
        };
        last = end;
    }
    (runs, straight)
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
