//! The sketch and the shop book as JSON Schema, draft 2020-12, for editors and validators.
//!
//! Keys, words and limits are described once, in `sketch` and `shop`: words come from the readers' own
//! tables, limits of lengths from the readers' own rules. The same description gives the canonical order of
//! keys. Tests hold every key list of the readers against it.

mod json;
#[cfg(test)]
mod tests;

use crate::{shop, sketch};

/// The schema of a sketch, as JSON text.
///
/// ```
/// assert!(slabwalk::schema::sketch_schema().contains("https://json-schema.org/draft/2020-12/schema"));
/// ```
#[must_use]
pub fn sketch_schema() -> String {
    let about = "One concrete floor as an estimator wrote it down.";
    json::document("Sketch of a floor", about, sketch::keys::root())
}

/// The schema of a shop book, as JSON text.
#[must_use]
pub fn shop_schema() -> String {
    let about = "What differs in this shop from the built-in shop book. Every key may be left out.";
    json::document("Shop book", about, shop::keys::root())
}
