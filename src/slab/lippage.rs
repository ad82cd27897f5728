//! Steps between panels: the line, the high side, the readings.

use kurbo::Vec2;

use super::Lippage;
use super::locate::Locator;
use super::records::outward;
use crate::diagnostic::Diagnostic;
use crate::geometry::path::Path;
use crate::sketch::{self, AlongForm, Compass, Hand, HighSide};

/// A side of the sheet must lean this much to one side of the line to name it: the sine of 10°.
const CLEAR_SIDE: f64 = 0.174;

pub(super) fn placed<'a>(
    records: &'a [sketch::Lippage],
    locator: &mut Locator<'a>,
) -> Vec<Lippage> {
    records
        .iter()
        .filter_map(|record| one(record, locator))
        .collect()
}

fn one<'a>(record: &'a sketch::Lippage, locator: &mut Locator<'a>) -> Option<Lippage> {
    let (along, path) = match &record.along.value {
        AlongForm::Item(id) => (Some(id.value.clone()), locator.line(&id.value, id.span)?),
        AlongForm::Path(path) => (None, locator.path(path)?),
    };
    let high = match record.high.value {
        HighSide::Hand(hand) => hand,
        HighSide::Compass(side) => hand_of(side, &path).or_else(|| {
            locator.found.push(no_side(record, side, &path));
            None
        })?,
    };
    let on = along.clone().unwrap_or_else(|| record.id.value.clone());
    let mut readings = Vec::new();
    for reading in &record.readings {
        let station = locator.station(&reading.station, path.length(), &on);
        readings.push((station, reading.step.as_ref().map(|s| s.value.m())));
    }
    if let Some(step) = &record.everywhere {
        let step = Some(step.value.m());
        readings.extend([(Some(0.0), step), (Some(path.length()), step)]);
    }
    let readings: Option<Vec<_>> = readings
        .into_iter()
        .map(|(s, step)| Some((s?, step)))
        .collect();
    Some(Lippage {
        id: record.id.value.clone(),
        along,
        path,
        high,
        readings: readings?,
        note: record.note.clone(),
        span: record.id.span,
    })
}

/// The hand of a side of the sheet, seen along the path from end to end.
fn hand_of(side: Compass, path: &Path) -> Option<Hand> {
    let mut chord = path.end() - path.start();
    if chord.hypot() < 1e-9 {
        chord = path.direction_at(0.0);
    }
    let unit = chord.normalize();
    let left = Vec2::new(-unit.y, unit.x).dot(outward(side));
    if left.abs() < CLEAR_SIDE {
        return None;
    }
    Some(if left > 0.0 { Hand::Left } else { Hand::Right })
}

fn no_side(record: &sketch::Lippage, side: Compass, path: &Path) -> Diagnostic {
    let chord = path.end() - path.start();
    let upright = chord.y.abs() > chord.x.abs();
    let (runs, right) = if upright {
        ("up and down", "E or W")
    } else {
        ("across", "N or S")
    };
    Diagnostic::error(
        "high-side",
        format!(
            "{}: the line runs {runs} the sheet, so {side:?} is neither side of it",
            record.id.value
        ),
    )
    .item(&record.id.value)
    .at(record.high.span)
    .hint(format!(
        "say {right}, or left or right as seen along the line"
    ))
}
