//! Changes to the text of a sketch that leave everything else in it byte for byte: a record put into
//! its section, and the canonical form.

mod change;
mod format;
mod insert;
mod walk;

pub use change::{Reading, remove, set_value};
pub use format::format;
pub use insert::{EditError, insert_record};
pub use walk::{Leg, set_outline};
