//! Rectangles turned any way, for text along walls and leaders: the upright box around such text holds corners without ink.

use super::read::Piece;
use crate::ink::PaperPoint;
use crate::tags::place::PaperBox;

/// Corners in order, mm.
pub(super) type Turned = [PaperPoint; 4];

fn dot(p: PaperPoint, (x, y): (f64, f64)) -> f64 {
    p.x * x + p.y * y
}

/// Least and greatest of some points along an axis.
fn span(points: &[PaperPoint], axis: (f64, f64)) -> (f64, f64) {
    let values = points.iter().map(|p| dot(*p, axis));
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
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
    let corner = |u: f64, v: f64| PaperPoint { x: u * x.0 + v * y.0, y: u * x.1 + v * y.1 };
    Some([corner(left, top), corner(right, top), corner(right, bottom), corner(left, bottom)])
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

/// A turned rectangle as its own sheet: from its first corner, along its first side and across.
pub(super) struct Own {
    corner: PaperPoint,
    along: (f64, f64),
    pub length: f64,
    pub height: f64,
}

impl Own {
    pub fn of(frame: &Turned) -> Self {
        let side = |p: PaperPoint| (p.x - frame[0].x, p.y - frame[0].y);
        let (u, v) = (side(frame[1]), side(frame[3]));
        let length = u.0.hypot(u.1);
        let along = if length > 0.0 { (u.0 / length, u.1 / length) } else { (1.0, 0.0) };
        Self { corner: frame[0], along, length, height: v.0.hypot(v.1) }
    }

    fn local(&self, p: PaperPoint) -> (f64, f64) {
        let (dx, dy) = (p.x - self.corner.x, p.y - self.corner.y);
        let (ux, uy) = self.along;
        (ux * dx + uy * dy, ux * dy - uy * dx)
    }

    /// How far a piece runs along and across.
    pub fn direction(&self, piece: Piece) -> (f64, f64) {
        let (a, b) = (self.local(piece.0), self.local(piece.1));
        (b.0 - a.0, b.1 - a.1)
    }

    /// Length of a piece, mm.
    pub fn run(&self, piece: Piece) -> f64 {
        let (dx, dy) = self.direction(piece);
        dx.hypot(dy)
    }

    /// The point of a piece at a share of its length.
    pub fn on((a, b): Piece, share: f64) -> PaperPoint {
        PaperPoint { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }
    }

    /// The shares of a piece between which it lies within ranges along and across; `None` if it doesn't.
    pub fn clipped(
        &self,
        piece: Piece,
        (along, across): ((f64, f64), (f64, f64)),
    ) -> Option<(f64, f64)> {
        let (a, b) = (self.local(piece.0), self.local(piece.1));
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (start, end, (low, high)) in [(a.0, b.0, along), (a.1, b.1, across)] {
            let d = end - start;
            if d.abs() < 1e-9 {
                if start <= low || start >= high {
                    return None;
                }
                continue;
            }
            let (s, e) = ((low - start) / d, (high - start) / d);
            from = from.max(s.min(e));
            to = to.min(s.max(e));
        }
        (from < to).then_some((from, to))
    }
}

/// From a point to a straight piece, mm.
pub(super) fn from_piece(p: PaperPoint, (a, b): Piece) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let n = dx * dx + dy * dy;
    let share =
        if n > 0.0 { (((p.x - a.x) * dx + (p.y - a.y) * dy) / n).clamp(0.0, 1.0) } else { 0.0 };
    (p.x - a.x - share * dx).hypot(p.y - a.y - share * dy)
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
            let at = |u: f64, v: f64| PaperPoint { x: x + (u - v) * half, y: (u + v) * half };
            around(&[at(-10.0, -1.0), at(10.0, -1.0), at(10.0, 1.0), at(-10.0, 1.0)], (1.0, 1.0))
                .expect("points and a direction")
        };
        let beside = corners(&PaperBox::new(7.0, 2.0, 12.0, 4.0));
        for (name, a, b, wanted) in [
            ("on one another", square, beside, 2.0),
            ("apart", square, corners(&PaperBox::new(11.0, 0.0, 12.0, 9.0)), -1.0),
            ("touching", square, corners(&PaperBox::new(10.0, 0.0, 12.0, 9.0)), 0.0),
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
