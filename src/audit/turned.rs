//! Rectangles turned any way, for text along walls and leaders: the upright box around such text holds corners without ink.

use crate::ink::PaperPoint;
use crate::sheet::place::PaperBox;

/// Corners in order, mm.
pub(super) type Turned = [PaperPoint; 4];

fn dot(p: PaperPoint, (x, y): (f64, f64)) -> f64 {
    p.x * x + p.y * y
}

/// Least and greatest of some points along an axis.
fn span(points: &[PaperPoint], axis: (f64, f64)) -> (f64, f64) {
    let values = points.iter().map(|p| dot(*p, axis));
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
        (low.min(v), high.max(v))
    })
}

/// An upright box as corners.
pub(super) fn corners(area: &PaperBox) -> Turned {
    [
        (area.left, area.top),
        (area.right, area.top),
        (area.right, area.bottom),
        (area.left, area.bottom),
    ]
    .map(|(x, y)| PaperPoint { x, y })
}

/// The rectangle around points with a side along a direction; `None` for no points or no direction.
pub(super) fn around(points: &[PaperPoint], along: (f64, f64)) -> Option<Turned> {
    let length = along.0.hypot(along.1);
    if points.is_empty() || !(length.is_finite() && length > 0.0) {
        return None;
    }
    let x = (along.0 / length, along.1 / length);
    let y = (-x.1, x.0);
    let ((left, right), (top, bottom)) = (span(points, x), span(points, y));
    let corner = |u: f64, v: f64| PaperPoint {
        x: u * x.0 + v * y.0,
        y: u * x.1 + v * y.1,
    };
    Some([
        corner(left, top),
        corner(right, top),
        corner(right, bottom),
        corner(left, bottom),
    ])
}

/// The least shift that parts two rectangles, mm; 0 or less where they don't overlap. Two convex shapes are apart if and only if
/// they are apart along a normal of one of their sides (separating axis theorem).
pub(super) fn depth(a: &Turned, b: &Turned) -> f64 {
    let normals = [a, b].into_iter().flat_map(|r| {
        [(r[0], r[1]), (r[1], r[2])].map(|(p, q)| {
            let length = (q.x - p.x).hypot(q.y - p.y);
            ((p.y - q.y) / length, (q.x - p.x) / length)
        })
    });
    let shared = |axis: (f64, f64)| {
        let ((low, high), (from, to)) = (span(a, axis), span(b, axis));
        high.min(to) - low.max(from)
    };
    // A side without length has no normal.
    let sound = normals.filter(|n| n.0.is_finite() && n.1.is_finite());
    sound.map(shared).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depth_is_the_least_shift_that_parts_them() {
        let square = corners(&PaperBox::new(0.0, 0.0, 10.0, 10.0));
        let half = f64::sqrt(0.5);
        // A strip of 20 by 2 along the diagonal of slope one, its middle at (x, 0).
        let strip = |x: f64| {
            let at = |u: f64, v: f64| PaperPoint {
                x: x + (u - v) * half,
                y: (u + v) * half,
            };
            around(
                &[
                    at(-10.0, -1.0),
                    at(10.0, -1.0),
                    at(10.0, 1.0),
                    at(-10.0, 1.0),
                ],
                (1.0, 1.0),
            )
            .expect("points and a direction")
        };
        let beside = corners(&PaperBox::new(7.0, 2.0, 12.0, 4.0));
        for (name, a, b, wanted) in [
            ("on one another", square, beside, 2.0),
            (
                "apart",
                square,
                corners(&PaperBox::new(11.0, 0.0, 12.0, 9.0)),
                -1.0,
            ),
            (
                "touching",
                square,
                corners(&PaperBox::new(10.0, 0.0, 12.0, 9.0)),
                0.0,
            ),
            // The corner (10, 0) lies 10 · √½ from the diagonal through (0, 0); the strip's side is 1 nearer.
            ("turned, over a corner", square, strip(9.0), half + 1.0),
            ("turned, beside it", square, strip(12.0), 1.0 - 2.0 * half),
        ] {
            let found = depth(&a, &b);
            assert!((found - wanted).abs() < 1e-9, "{name}: {found}");
            assert!((depth(&b, &a) - found).abs() < 1e-9, "{name}");
        }
        assert_eq!(around(&[], (1.0, 0.0)), None);
    }
}
