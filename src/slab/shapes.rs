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

/// A bend of a band is mitred up to this many half widths from the bend, then cut off.
const MITRE_LIMIT: f64 = 4.0;

/// Smallest area of a shape, m²; less is a slip of the pencil.
const LEAST_AREA: f64 = 1e-8;

impl<'a> Locator<'a> {
    /// A shape, or `None` with the reason noted. `id` names it in messages.
    pub(super) fn shape(&mut self, id: &str, form: &'a At<ShapeForm>) -> Option<Shape> {
        let shape = match &form.value {
            ShapeForm::Box {
                corner,
                width,
                height,
            } => {
                let at = self.point(corner)?;
                let (w, h) = (width.value.m(), height.value.m());
                let corners = [
                    at,
                    at + Vec2::new(w, 0.0),
                    at + Vec2::new(w, h),
                    at + Vec2::new(0.0, h),
                ];
                simple(
                    Form::Box {
                        width: w,
                        height: h,
                    },
                    Path::polygon(&corners),
                )
            }
            ShapeForm::Circle { center, diameter } => {
                let (center, diameter) = (self.point(center)?, diameter.value.m());
                simple(
                    Form::Circle { center, diameter },
                    Path::circle(center, diameter),
                )
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
    Shape {
        form,
        region: Region::from_rings(&[points]),
        rings: vec![ring],
        area_m2,
    }
}

/// A strip centred on a path, square at its ends, mitred at its bends.
fn band(path: &Path, width: f64) -> Shape {
    let points = path.points();
    let half = width / 2.0;
    let mut pieces = Vec::new();
    for pair in points.windows(2) {
        let side = half * turned(pair[1] - pair[0]);
        pieces.push(vec![
            pair[0] - side,
            pair[1] - side,
            pair[1] + side,
            pair[0] + side,
        ]);
    }
    for corner in points.windows(3) {
        pieces.extend(mitre(corner, half));
    }
    if (path.end() - path.start()).hypot() < 1e-9 && points.len() > 3 {
        let last = points.len() - 1;
        pieces.extend(mitre(&[points[last - 1], points[0], points[1]], half));
    }
    let regions = pieces
        .into_iter()
        .map(|p| Region::from_rings(&[counter_clockwise(p)]));
    let region = Region::union_all(regions.collect());
    let mut rings = Vec::new();
    for (outer, holes) in region.polygons() {
        rings.push(Path::polygon(&outer));
        rings.extend(holes.iter().map(|h| Path::polygon(h)));
    }
    Shape {
        form: Form::Band { width },
        area_m2: region.area(),
        rings,
        region,
    }
}

/// Unit vector a quarter turn to the left.
fn turned(v: Vec2) -> Vec2 {
    let unit = if v.hypot() > 0.0 {
        v.normalize()
    } else {
        Vec2::new(1.0, 0.0)
    };
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
