//! The shop book: standing data of one shop, the built-in book overridden key by key.

mod model;

pub use model::*;
