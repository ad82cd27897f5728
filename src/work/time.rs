//! From quantities to the time a work takes.

use super::model::{Part, Work};
use crate::shop::Works;
use crate::trade::{Key, Kind, Unit, row};

/// A work of this kind with its times from the shop book; `None` where there is nothing to do.
pub(super) fn timed(
    kind: Kind,
    name: String,
    items: Vec<String>,
    parts: Vec<Part>,
    book: &Works,
) -> Option<Work> {
    let parts: Vec<Part> =
        parts.into_iter().filter(|part| part.quantity.is_finite() && part.quantity > 0.0).collect();
    if parts.is_empty() {
        return None;
    }
    let takes = row(kind);
    let fixed = [Key::SetUp, Key::Dwell, Key::CleanUp];
    Some(Work {
        kind,
        layer: None,
        name,
        items,
        fixed_s: fixed.iter().map(|key| book.get(kind, *key)).sum(),
        least_s: book.get(kind, Key::Least),
        unit_s: parts.iter().map(Part::seconds).sum(),
        parts,
        hands: takes.hands,
        machine: takes.machine,
        most: takes.most,
        cut: takes.cut,
    })
}

/// A part at the rate that the shop book has under a key.
pub(super) fn part(
    book: &Works,
    (kind, key): (Kind, Key),
    what: &'static str,
    quantity: f64,
    unit: Unit,
) -> Part {
    Part { what, quantity, unit, key, rate: book.get(kind, key) }
}

/// The part that takes longer: where two measures limit a work, the slower counts.
pub(super) fn slower(one: Part, other: Part) -> Part {
    if other.seconds() > one.seconds() { other } else { one }
}
