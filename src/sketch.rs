//! Stage 1: the text of a sketch becomes a [`Sketch`], every value with its place in the file.
//!
//! Knows the file format and no geometry.

pub(crate) mod keys;
mod model;
pub(crate) mod parse;
mod price;

pub use model::*;
pub use parse::{VERSION, parse};
pub use price::*;
