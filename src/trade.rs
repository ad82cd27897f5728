//! The words of the trade: kinds of work, machines, and which numbers of the shop book a kind of
//! work has.
//!
//! Identities only. What a kind needs, and how fast it goes, stands in `table` and in the shop
//! book; adding a kind of work is one entry in `kind` and one in `table`, and its numbers in
//! the built-in book. A good that wears is one entry in `good` and one in the built-in book.

mod good;
mod kind;
mod machine;
mod product;
mod table;
mod wait;
pub mod words;

pub use good::{By, Good, Measure, Wears};
pub use kind::Kind;
pub use machine::Machine;
pub use product::{Layers, Product, Ware};
pub use table::{Key, Row, Unit, row};
pub use wait::Wait;
