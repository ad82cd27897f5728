//! Stage 3: quantities from the slab and the shop book.

mod model;

pub use model::*;
