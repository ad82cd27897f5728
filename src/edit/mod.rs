//! Changing the text of a sketch without touching what stands in it already.

mod insert;

pub use insert::insert_record;
