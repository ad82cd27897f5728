//! The shop book: standing data of one shop, the built-in book overridden key by key.

mod amount;
pub(crate) mod keys;
mod merge;
mod model;
pub(crate) mod parse;
mod prices;
mod print;
mod proposal;
mod works;

pub use model::*;
pub use parse::{built_in, parse};
pub use prices::*;
pub use print::print;
pub use proposal::*;
pub use works::*;
