//! Changes to the text of a sketch that leave everything else in it byte for byte: a record put into
//! its section, and the canonical form.

mod format;
mod insert;

pub use format::format;
pub use insert::{EditError, insert_record};
