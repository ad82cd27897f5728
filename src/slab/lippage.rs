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
        .filter_map(|record| locator.about(&record.id.value, |locator| one(record, locator)))
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
    let readings: Option<Vec<_>> = readings.into_iter().map(|(s, step)| Some((s?, step))).collect();
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

/// The hand of a side of the sheet, seen along the path from end to end. A line that closes on itself has no such side.
fn hand_of(side: Compass, path: &Path) -> Option<Hand> {
    if closes(path) {
        return None;
    }
    let unit = (path.end() - path.start()).normalize();
    let left = Vec2::new(-unit.y, unit.x).dot(outward(side));
    if left.abs() < CLEAR_SIDE {
        return None;
    }
    Some(if left > 0.0 { Hand::Left } else { Hand::Right })
}

fn closes(path: &Path) -> bool {
    (path.end() - path.start()).hypot() < 1e-9
}

fn no_side(record: &sketch::Lippage, side: Compass, path: &Path) -> Diagnostic {
    let chord = path.end() - path.start();
    let (message, hint) = if closes(path) {
        let inside = if path.signed_area() > 0.0 { "left" } else { "right" };
        (
            format!("the line closes on itself, so {side:?} is no side of it"),
            format!("say left or right as seen along the line; {inside} is the inside here"),
        )
    } else {
        let upright = chord.y.abs() > chord.x.abs();
        let (runs, right) = if upright { ("up and down", "E or W") } else { ("across", "N or S") };
        (
            format!("the line runs {runs} the sheet, so {side:?} is neither side of it"),
            format!("say {right}, or left or right as seen along the line"),
        )
    };
    Diagnostic::error("high-side", format!("{}: {message}", record.id.value))
        .item(&record.id.value)
        .at(record.high.span)
        .hint(hint)
}
