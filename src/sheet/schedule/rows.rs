//! The rows of each schedule.

use kurbo::Point;

use crate::hold::say::capital;
use crate::quantity::Units;
use crate::quantity::tape::{self, pair};
use crate::quantity::write;
use crate::record::Kind;
use crate::slab::directions::Locator;
use crate::slab::{Form, Shape, Slab};
use crate::takeoff::kinds_by_work;

use super::{Column, Table};
use crate::paper::words;
use crate::sheet::Inputs;

/// A shape wider than this is found by its nearest corner, a smaller one by its middle, m (2 ft).
const BY_CORNER_M: f64 = 0.61;

pub(super) const fn left(head: &'static str) -> Column {
    Column { head, right: false }
}

pub(super) const fn right(head: &'static str) -> Column {
    Column { head, right: true }
}

/// All schedules that a floor needs.
#[must_use]
pub fn tables(inputs: &Inputs) -> Vec<Table> {
    let rows = Rows { inputs, locator: Locator::new(inputs.slab) };
    let (worked, others) = kinds_by_work();
    let items = worked.into_iter().chain(others).filter_map(|kind| table(&rows, kind));
    items.chain([rows.faces(), rows.levels()]).filter(|t| !t.rows.is_empty()).collect()
}

/// The table of a kind of item.
fn table(rows: &Rows, kind: Kind) -> Option<Table> {
    match kind {
        Kind::Joint => Some(rows.joints()),
        Kind::Crack => Some(rows.cracks()),
        Kind::Spall => Some(rows.patches()),
        Kind::Delamination => Some(rows.delaminations()),
        Kind::Blemish => Some(rows.areas()),
        Kind::Lippage => Some(rows.steps()),
        Kind::Moisture => Some(rows.tests()),
        // Their rows stand among the areas.
        Kind::KeepOut | Kind::Uncoated | Kind::Tier => None,
    }
}

/// What the rows are made from.
pub(super) struct Rows<'a> {
    pub(super) inputs: &'a Inputs<'a>,
    pub(super) locator: Locator<'a>,
}

/// Sentences with full stops between them; empty ones left out.
pub(super) fn sentences(parts: &[&str]) -> String {
    let kept: Vec<String> = parts
        .iter()
        .map(|p| p.trim().trim_end_matches('.'))
        .filter(|p| !p.is_empty())
        .map(capital)
        .collect();
    kept.join(". ")
}

/// A note from the sketch, safe for paper.
pub(super) fn note(text: Option<&str>) -> String {
    text.map_or(String::new(), words::clean)
}

impl Rows<'_> {
    pub(super) const fn units(&self) -> Units {
        self.inputs.slab.units
    }

    pub(super) fn small(&self, m: f64) -> String {
        write::small(m, self.units())
    }

    pub(super) fn pair(&self, a_m: f64, b_m: f64) -> String {
        pair(a_m, b_m, self.units())
    }

    /// Feet or meters without their unit, which stands in the head.
    pub(super) fn run(&self, m: f64) -> String {
        match self.units() {
            Units::Us => write::decimal_feet(m, 1),
            Units::Metric => write::fixed(m, 2),
        }
    }

    pub(super) fn run_or_blank(&self, m: f64) -> String {
        if m > 0.0 { self.run(m) } else { String::new() }
    }

    pub(super) const fn run_unit(&self) -> &'static str {
        match self.units() {
            Units::Us => "FEET",
            Units::Metric => "M",
        }
    }

    pub(super) fn volume(&self, l: f64) -> String {
        if l > 0.0 { write::volume(l, self.units()) } else { String::new() }
    }

    /// A side of a patch.
    pub(super) fn inches(&self, m: f64) -> String {
        tape::side(m, self.units())
    }

    /// Two sides in one unit.
    pub(super) fn sides(&self, a: f64, b: f64) -> String {
        tape::sides(a, b, self.units())
    }

    pub(super) fn size(&self, shape: &Shape) -> String {
        match shape.form {
            Form::Box { width, height } => self.sides(width, height),
            Form::Circle { diameter, .. } => format!("{} dia", self.inches(diameter)),
            Form::Polygon | Form::Band { .. } => write::area(shape.area_m2, self.units()),
        }
    }

    /// Where a shape is: its middle, or for a large one its corner that is nearest to a wall.
    pub(super) fn shape_at(&self, shape: &Shape, id: &str) -> String {
        if let Form::Circle { center, .. } = shape.form {
            return format!("Middle {}", self.locator.point(center, id));
        }
        let Some(p) = found_by(self.inputs.slab, shape) else {
            return String::new();
        };
        let by = if is_large(shape) { "Nearest corner" } else { "Middle" };
        format!("{by} {}", self.locator.point(p, id))
    }

    /// Tape directions to the first and last point that lie on the slab.
    pub(super) fn ends(
        &self,
        path: &crate::geometry::path::Path,
        on_slab: &[crate::slab::Stretch],
        id: &str,
    ) -> String {
        let (Some(first), Some(last)) = (on_slab.first(), on_slab.last()) else {
            return "not on the open slab, not on the map".into();
        };
        let (a, b) = (path.point_at(first.from_m), path.point_at(last.to_m));
        if (a - b).hypot() < 1e-3 {
            return format!("closed, from {}", self.locator.point(a, id));
        }
        self.locator.line(a, b, id)
    }
}

/// Id of a line's row; none where nothing of the line is on the open slab, so that no tag can point at it.
pub(super) fn tagged(id: &str, on_slab: &[crate::slab::Stretch]) -> String {
    if on_slab.is_empty() { String::new() } else { id.to_owned() }
}

fn is_large(shape: &Shape) -> bool {
    let size = shape.region.bounds();
    size.is_some_and(|b| b.width().max(b.height()) >= BY_CORNER_M)
}

/// The point by which a shape is found: its middle, or for a large one its corner that is nearest to a wall.
#[must_use]
pub fn found_by(slab: &Slab, shape: &Shape) -> Option<Point> {
    let bounds = shape.region.bounds()?;
    if !is_large(shape) {
        return Some(bounds.center());
    }
    let corners: Vec<Point> =
        shape.rings.iter().flat_map(crate::geometry::path::Path::ring).collect();
    let off = |p: &Point| slab.outline.path.nearest(*p).1;
    corners.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}
