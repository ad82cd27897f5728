//! Boxes, circles, polygons and bands as regions with exact areas.

use kurbo::{Point, Vec2};

use super::locate::Locator;
use super::outline::thin;
use super::{Form, Shape};
use crate::diagnostic::Diagnostic;
use crate::geometry::crossing::first_self_crossing;
use crate::geometry::path::Path;
use crate::geometry::region::{Region, counter_clockwise};
use crate::quantity::write;
use crate::sketch::{At, ShapeForm};

/// A bend of a band is mitered up to this many half widths from the bend, then cut off.
const MITRE_LIMIT: f64 = 4.0;

/// A bend of a band turning less than this, rad, is one of an arc; about 10°.
const SMOOTH: f64 = 0.18;

/// Most that the bends of one piece of a band turn together, rad: a quarter. Up to there it goes one way and can't meet itself.
const QUARTER: f64 = std::f64::consts::FRAC_PI_2;

/// Smallest area of a shape, m²; less is a slip of the pencil.
const LEAST_AREA: f64 = 1e-8;

impl<'a> Locator<'a> {
    /// A shape, or `None` with the reason noted. `id` names it in messages.
    pub(super) fn shape(&mut self, id: &str, form: &'a At<ShapeForm>) -> Option<Shape> {
        let shape = match &form.value {
            ShapeForm::Box { corner, width, height } => {
                let at = self.point(corner)?;
                let (w, h) = (width.value.m(), height.value.m());
                let corners =
                    [at, at + Vec2::new(w, 0.0), at + Vec2::new(w, h), at + Vec2::new(0.0, h)];
                simple(Form::Box { width: w, height: h }, Path::polygon(&corners))
            }
            ShapeForm::Circle { center, diameter } => {
                let (center, diameter) = (self.point(center)?, diameter.value.m());
                simple(Form::Circle { center, diameter }, Path::circle(center, diameter))
            }
            ShapeForm::Polygon(path) => {
                let open = self.path(path)?;
                let mut segments = open.segments().to_vec();
                if (open.end() - open.start()).hypot() > 1e-9 {
                    segments
                        .extend_from_slice(Path::polyline(&[open.end(), open.start()]).segments());
                }
                let closed = Path::new(segments);
                self.not_crossing(id, &closed, form)?;
                simple(Form::Polygon, closed)
            }
            ShapeForm::Band { path, width } => band(&self.path(path)?, width.value.m()),
        };
        if shape.area_m2 < LEAST_AREA {
            self.found.push(
                Diagnostic::error("zero-area", format!("{id} encloses no area"))
                    .item(id)
                    .at(form.span)
                    .hint("give it a size, or corners that don't lie on one line"),
            );
            return None;
        }
        Some(shape)
    }

    fn not_crossing(&mut self, id: &str, ring: &Path, form: &At<ShapeForm>) -> Option<()> {
        let points = ring.ring();
        if thin(&points) {
            // The area says what is wrong with it.
            return Some(());
        }
        let Some(crossing) = first_self_crossing(&points) else {
            return Some(());
        };
        let units = self.units();
        self.found.push(
            Diagnostic::error(
                "polygon-crosses-itself",
                format!(
                    "the polygon of {id} crosses itself at [{}, {}]",
                    write::length(crossing.at.x, units),
                    write::length(crossing.at.y, units)
                ),
            )
            .item(id)
            .at(form.span)
            .hint("list the corners in order around the area"),
        );
        None
    }
}

fn simple(form: Form, ring: Path) -> Shape {
    let area_m2 = ring.signed_area().abs();
    let mut points = ring.ring();
    if ring.signed_area() < 0.0 {
        points.reverse();
    }
    Shape { form, region: Region::from_rings(&[points]), rings: vec![ring], area_m2 }
}

/// A strip centered on a path, square at its ends, mitered at its bends.
fn band(path: &Path, width: f64) -> Shape {
    let points = path.points();
    let regions = strips(&points, width / 2.0)
        .into_iter()
        .map(|p| Region::from_rings(&[counter_clockwise(p)]));
    let region = Region::union_all(regions.collect());
    let mut rings = Vec::new();
    for (outer, holes) in region.polygons() {
        rings.push(Path::polygon(&outer));
        rings.extend(holes.iter().map(|h| Path::polygon(h)));
    }
    Shape { form: Form::Band { width }, area_m2: region.area(), rings, region }
}

/// Pieces whose union is the band: a strip for each run of the path that bends little, and the mitres between runs. Chords of
/// an arc thus make a few pieces, however many they are.
fn strips(points: &[Point], half: f64) -> Vec<Vec<Point>> {
    let mut pieces = Vec::new();
    let (mut start, mut turning) = (0, 0.0);
    for at in 1..points.len() {
        if let Some(corner) = points.get(at - 1..=at + 1) {
            let bend = bend(corner);
            if is_smooth(corner, bend, half) && turning + bend.abs() <= QUARTER {
                turning += bend.abs();
                continue;
            }
            pieces.extend(mitre(corner, half));
        }
        pieces.push(strip(&points[start..=at], half));
        (start, turning) = (at, 0.0);
    }
    let closed = points.first().zip(points.last());
    if closed.is_some_and(|(a, b)| (*b - *a).hypot() < 1e-9) && points.len() > 3 {
        let last = points.len() - 1;
        pieces.extend(mitre(&[points[last - 1], points[0], points[1]], half));
    }
    pieces
}

/// Angle by which a path turns at a corner, rad, to the left positive; half a turn where a side has no length.
fn bend(corner: &[Point]) -> f64 {
    let (a, b) = (corner[1] - corner[0], corner[2] - corner[1]);
    if a.hypot() > 0.0 && b.hypot() > 0.0 {
        a.cross(b).atan2(a.dot(b))
    } else {
        std::f64::consts::PI
    }
}

/// Whether both sides of a strip can go round a corner in one point each: the inner one is cut back by less than half of
/// either chord.
fn is_smooth(corner: &[Point], bend: f64, half: f64) -> bool {
    let shorter = (corner[1] - corner[0]).hypot().min((corner[2] - corner[1]).hypot());
    bend.abs() < SMOOTH && half * (bend / 2.0).tan().abs() <= shorter / 2.0
}

/// The strip along a run of points, square at its ends, with both sides meeting at its bends.
fn strip(run: &[Point], half: f64) -> Vec<Point> {
    let sides: Vec<Vec2> = run.windows(2).map(|w| turned(w[1] - w[0])).collect();
    let offset = |i: usize| {
        let before = sides[i.saturating_sub(1)];
        let middle = before + sides[i.min(sides.len() - 1)];
        half * 2.0 / middle.hypot2().max(1e-12) * middle
    };
    let left = (0..run.len()).map(|i| run[i] + offset(i));
    let right = (0..run.len()).rev().map(|i| run[i] - offset(i));
    right.chain(left).collect()
}

/// Unit vector a quarter turn to the left.
fn turned(v: Vec2) -> Vec2 {
    let unit = if v.hypot() > 0.0 { v.normalize() } else { Vec2::new(1.0, 0.0) };
    Vec2::new(-unit.y, unit.x)
}

fn mitre(corner: &[Point], half: f64) -> Option<Vec<Point>> {
    let (u, v) = (turned(corner[1] - corner[0]), turned(corner[2] - corner[1]));
    let turn = u.cross(v);
    if turn.abs() < 1e-9 {
        return None;
    }
    let outward = if turn > 0.0 { -half } else { half };
    let (p, q) = (corner[1] + outward * u, corner[1] + outward * v);
    let middle = u + v;
    let reach = 2.0 / middle.hypot2().max(1e-12);
    let tip = corner[1] + outward * reach * middle;
    let points = if reach * middle.hypot() <= MITRE_LIMIT {
        vec![corner[1], p, tip, q]
    } else {
        vec![corner[1], p, q]
    };
    Some(points)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::clip::Clipper;
    use proptest::prelude::*;

    /// The band as one piece for each chord and one for each bend.
    fn by_chords(points: &[Point], half: f64) -> Region {
        let mut pieces: Vec<Vec<Point>> = points.windows(2).map(|pair| strip(pair, half)).collect();
        pieces.extend(points.windows(3).filter_map(|c| mitre(c, half)));
        let regions = pieces.into_iter().map(|p| Region::from_rings(&[counter_clockwise(p)]));
        Region::union_all(regions.collect())
    }

    /// Points along a path, at its bends too, in the band of this half width, close to its sides and past them.
    fn beside(points: &[Point], half: f64) -> Vec<Point> {
        let along = points.windows(2).flat_map(|pair| {
            let (side, chord) = (turned(pair[1] - pair[0]), pair[1] - pair[0]);
            let out = [-1.4, -1.01, -0.99, -0.3, 0.3, 0.99, 1.01, 1.4];
            [-0.02, 0.02, 0.5, 0.98, 1.02]
                .into_iter()
                .flat_map(move |t| out.map(|s| pair[0] + chord * t + side * (half * s)))
        });
        along.collect()
    }

    fn arc(radius: f64, sweep: f64, chords: usize) -> Vec<Point> {
        let at = |i: usize| {
            let angle = sweep * i as f64 / chords as f64;
            Point::new(radius * angle.cos(), radius * angle.sin())
        };
        (0..=chords).map(at).collect()
    }

    #[test]
    fn a_long_arc_is_a_few_strips() {
        let points = arc(5.0, 3.0, 3000);
        assert_eq!(strips(&points, 0.1).len(), 2 + 1);
        let straight = [Point::new(0.0, 0.0), Point::new(3.0, 0.0)];
        assert_eq!(strips(&straight, 0.1).len(), 1);
        let square = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0)].map(|(x, y)| Point::new(x, y));
        assert_eq!(strips(&square, 0.1).len(), 2 + 1);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]
        #[test]
        fn strips_make_the_same_band_as_chords(
            radius in 0.05..6.0_f64,
            sweep in 0.2..6.2_f64,
            chords in 2..60_usize,
            half in 0.01..0.6_f64,
            more in prop::collection::vec((-3.0..3.0_f64, -3.0..3.0_f64), 0..4),
        ) {
            let mut points = arc(radius, sweep, chords);
            points.extend(more.into_iter().map(|(x, y)| Point::new(x, y)));
            let strips = strips(&points, half)
                .into_iter()
                .map(|p| Region::from_rings(&[counter_clockwise(p)]));
            let band = Region::union_all(strips.collect());
            let other = by_chords(&points, half);
            // A union rounds the corners it makes to about a billionth of its extent, and the chords' has many.
            let rounding = 1e-7 * other.area().max(1.0);
            let apart = (band.area() - other.area()).abs();
            prop_assert!(apart < rounding, "{} {}", band.area(), other.area());
            // Borders that lie nanometers apart all along are the hardest there is for a set operation, which then may lose a
            // sliver: equal areas are the same region if they have all in common, or if nothing of either lies outside the other.
            let both = band.intersection(&other).area();
            let outside = || band.difference(&other).area() + other.difference(&band).area();
            prop_assert!(
                (both - other.area()).abs() < rounding || outside() < rounding,
                "{both}"
            );
            let (strips, chords) = (Clipper::new(&band), Clipper::new(&other));
            for p in beside(&points, half) {
                prop_assert_eq!(strips.contains(p), chords.contains(p), "{:?}", p);
            }
        }
    }
}
