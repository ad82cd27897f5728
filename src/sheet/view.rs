//! From the floor to paper: the only place that knows both.

use kurbo::{Point, Rect, Vec2};

use crate::geometry::path::{Path, Segment};
use crate::geometry::region::Region;
use crate::ink::PaperPoint;
use crate::slab::Stretch;

use crate::paper::mm::{Box2, Shift, at, by};
use crate::paper::scale::Scale;

/// Greatest distance between an arc and the chords that draw it, mm of paper: a twentieth of the thinnest line.
const FLAT_MM: f64 = 0.01;
/// Most chords for one arc on paper.
const MOST_CHORDS: f64 = 720.0;

/// A view of the floor at one scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    scale: Scale,
    /// Where the floor's origin lies on paper.
    origin: PaperPoint,
}

impl View {
    /// The view that puts the middle of a floor rectangle at a point of the paper.
    #[must_use]
    pub fn centered(scale: Scale, floor: Rect, on: PaperPoint) -> Self {
        let (k, middle) = (scale.mm_per_m(), floor.center());
        Self { scale, origin: at(on.x - middle.x * k, on.y + middle.y * k) }
    }

    /// The scale at which it draws.
    #[must_use]
    pub const fn scale(&self) -> Scale {
        self.scale
    }

    /// Where a point of the floor lies on paper.
    #[must_use]
    pub fn point(&self, p: Point) -> PaperPoint {
        let k = self.scale.mm_per_m();
        at(self.origin.x + p.x * k, self.origin.y - p.y * k)
    }

    /// A length of the floor on paper, mm.
    #[must_use]
    pub fn length(&self, m: f64) -> f64 {
        m * self.scale.mm_per_m()
    }

    /// The length on the floor, m, of a length on paper, mm.
    #[must_use]
    pub fn floor_length(&self, mm: f64) -> f64 {
        mm / self.scale.mm_per_m()
    }

    /// The point of the floor that lies under a point of the paper.
    #[must_use]
    pub fn floor_point(&self, p: PaperPoint) -> Point {
        let k = self.scale.mm_per_m();
        Point::new((p.x - self.origin.x) / k, (self.origin.y - p.y) / k)
    }

    /// A direction of the floor on paper, unit.
    #[must_use]
    pub fn direction(&self, v: Vec2) -> Shift {
        by(v.x, -v.y).unit()
    }

    /// A rectangle of the floor on paper.
    #[must_use]
    pub fn rectangle(&self, floor: Rect) -> Box2 {
        Box2::of(&[
            self.point(Point::new(floor.x0, floor.y0)),
            self.point(Point::new(floor.x1, floor.y1)),
        ])
    }

    /// A path on paper, its arcs in chords too short to see.
    #[must_use]
    pub fn path(&self, path: &Path) -> Vec<PaperPoint> {
        let mut out: Vec<_> =
            path.segments().first().map(|s| self.point(s.start())).into_iter().collect();
        for segment in path.segments() {
            if let Segment::Arc(arc) = segment {
                let radius = self.length(arc.radius);
                let step = 2.0 * (1.0 - (FLAT_MM / radius).min(1.0)).acos();
                let n = (arc.sweep.abs() / step).ceil().clamp(1.0, MOST_CHORDS);
                let mut i = 1.0;
                while i < n {
                    let angle = arc.start + arc.sweep * i / n;
                    out.push(self.point(arc.center + Vec2::from_angle(angle) * arc.radius));
                    i += 1.0;
                }
            }
            out.push(self.point(segment.end()));
        }
        out
    }

    /// Stretches of a path on paper.
    #[must_use]
    pub fn stretches(&self, path: &Path, stretches: &[Stretch]) -> Vec<Vec<PaperPoint>> {
        let parts = stretches.iter().map(|s| self.path(&path.part(s.from_m, s.to_m)));
        parts.filter(|p| p.len() > 1).collect()
    }

    /// A ring on paper without the points that only a finer drawing would show.
    #[must_use]
    pub fn ring(&self, ring: &[Point]) -> Vec<PaperPoint> {
        let points: Vec<_> = ring.iter().map(|&p| self.point(p)).collect();
        thin(&points)
    }

    /// All rings of a region on paper.
    #[must_use]
    pub fn region(&self, region: &Region) -> Vec<Vec<PaperPoint>> {
        let rings = region.rings();
        rings.iter().map(|r| self.ring(r)).filter(|r| r.len() > 2).collect()
    }
}

/// Drops points that lie within [`FLAT_MM`] of the line through their kept neighbors.
fn thin(points: &[PaperPoint]) -> Vec<PaperPoint> {
    let mut out: Vec<PaperPoint> = Vec::new();
    let mut since = 0;
    for (i, &p) in points.iter().enumerate() {
        let Some(&last) = out.last() else {
            out.push(p);
            since = i + 1;
            continue;
        };
        let Some(&next) = points.get(i + 1) else {
            out.push(p);
            break;
        };
        let along = (next - last).unit();
        let off = |q: &PaperPoint| along.cross(*q - last).abs();
        if points[since..=i].iter().map(off).fold(0.0, f64::max) > FLAT_MM {
            out.push(p);
            since = i + 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view() -> View {
        View::centered(Scale { ratio: 50.0 }, Rect::new(0.0, 0.0, 8.0, 4.0), at(100.0, 80.0))
    }

    #[test]
    fn the_floor_lies_upright_and_to_scale() {
        let view = view();
        assert_eq!(view.point(Point::new(4.0, 2.0)), at(100.0, 80.0));
        assert_eq!(view.point(Point::new(8.0, 4.0)), at(180.0, 40.0));
        assert_eq!(view.direction(Vec2::new(0.0, 2.0)), by(0.0, -1.0));
        assert_eq!(view.floor_point(at(180.0, 40.0)), Point::new(8.0, 4.0));
    }

    #[test]
    fn a_circle_on_paper_stays_on_the_circle() {
        let points = view().path(&Path::circle(Point::new(4.0, 2.0), 2.0));
        assert!(points.len() > 30 && points.len() < 200);
        for pair in points.windows(2) {
            let middle = crate::paper::mm::lerp(pair[0], pair[1], 0.5);
            assert!((middle - at(100.0, 80.0)).length() > 20.0 - FLAT_MM - 1e-9);
        }
    }

    #[test]
    fn thinning_keeps_corners_and_moves_nothing_far() {
        let fine: Vec<_> = Path::circle(Point::new(4.0, 2.0), 2.0).ring();
        let ring = view().ring(&fine);
        assert!(ring.len() < fine.len());
        let square = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)];
        let square: Vec<_> = square.iter().map(|&(x, y)| Point::new(x, y)).collect();
        assert_eq!(view().ring(&square).len(), 4);
    }
}
