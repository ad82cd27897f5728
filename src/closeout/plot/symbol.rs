//! One symbol a job, told apart by shape, then by fill, so that the plot reads in black and white.

use crate::ink::{BLACK, Mark, PaperPoint, WHITE};
use crate::paper::draw;
use crate::paper::mm::{at, by};
use crate::paper::style;

/// Half the size of a symbol, mm.
pub(super) const HALF: f64 = 1.1;

/// The symbol of a job; after twelve jobs they come again.
pub(super) fn symbol(job: usize, center: PaperPoint) -> Vec<Mark> {
    let fill = if (job / 6).is_multiple_of(2) { WHITE } else { BLACK };
    let (stroke, fill) = (Some(style::OBJECT), Some(fill));
    let polygon = |points: &[(f64, f64)]| {
        let points: Vec<PaperPoint> =
            points.iter().map(|(x, y)| center + by(x * HALF, y * HALF)).collect();
        vec![draw::polygon(&points, stroke, fill)]
    };
    match job % 6 {
        0 => vec![draw::circle(center, HALF, stroke, fill)],
        1 => polygon(&[(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)]),
        2 => polygon(&[(0.0, -1.2), (1.1, 0.8), (-1.1, 0.8)]),
        3 => polygon(&[(0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)]),
        4 => polygon(&[(0.0, 1.2), (1.1, -0.8), (-1.1, -0.8)]),
        _ => cross(center),
    }
}

fn cross(center: PaperPoint) -> Vec<Mark> {
    let arm = |dx: f64, dy: f64| {
        let a = at(center.x - dx, center.y - dy);
        let b = at(center.x + dx, center.y + dy);
        draw::line(a, b, style::REMOVAL)
    };
    vec![arm(HALF, HALF), arm(HALF, -HALF)]
}
