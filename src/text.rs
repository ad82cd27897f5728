//! Text as such: broken into lines of a terminal, made safe, shortened for a message; the order of ids. Knows nothing of floors.

mod fold;
mod ids;
mod plain;

pub(crate) use fold::{COLUMNS, folded, set_in, wrapped};
pub use ids::{follows, id_key, ranges};
pub use plain::{cell, clean, excerpt, moves};
