//! How the order adds up.

use super::Floor;

/// The order row of this name.
pub(super) fn ordered(floor: &Floor, item: &str) -> Option<Vec<String>> {
    let row =
        floor.order.rows.iter().find(|row| row.item.to_string().eq_ignore_ascii_case(item))?;
    Some(row.how.clone())
}

/// All order rows, each under its name.
pub(super) fn order(floor: &Floor) -> Vec<String> {
    let rows = floor.order.rows.iter();
    let named = rows.map(|row| format!("{}: {}", row.item, row.how.join(" ")));
    named.collect()
}
