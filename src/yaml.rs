//! YAML text to a tree of nodes, every one with its place: the only module that knows the YAML engine.
//!
//! The tree keeps scalars as they were written, so that `24.50`, `1/4` and `12-6` reach the
//! readers of quantities with their spelling. Limits keep a hostile file from costing more than its size.

mod builder;
mod engine;
mod fault;
mod node;
mod parts;
mod text;
mod value;

pub(crate) use engine::parse;
pub(crate) use node::{Key, Kind, Node};
pub use text::{MOST_BYTES, decode};
pub(crate) use value::value;

/// Deepest nesting of lists and mappings. The deepest form of a sketch has seven levels.
const DEEPEST: usize = 64;
