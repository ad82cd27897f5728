//! Text as such: broken into lines of a terminal, made safe, shortened for a message; the order of ids. Knows nothing of floors.

mod fold;
mod ids;
pub(crate) mod json;
mod plain;

pub(crate) use fold::{COLUMNS, folded, set_in, wrapped};
pub use ids::{follows, id_key, ranges};
pub(crate) use json::in_json_by;
pub use plain::{cell, clean, excerpt, moves};
