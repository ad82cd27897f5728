//! Stage 2: a sketch becomes a [`Slab`] of geometry. Knows no file format and no paper.

mod model;

pub use model::*;
