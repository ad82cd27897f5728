//! The works: everything that a record, a test or the coating system calls for.
//!
//! Order, plan, silica, price, unit prices, change order, proposal and close-out read one list of
//! works; none of them decides again what has to be done.

mod batch;
mod coat;
mod list;
mod model;
mod order;
#[cfg(test)]
mod tests;
mod time;

pub use crate::trade::Kind;
pub use batch::{Batch, Batches, LAID_WITHIN, Unlayable, batches};
pub use coat::{scraped, throwing_key};
pub use list::{ASSUMED_SLAB_C, Facts, works};
pub use model::{Part, Work};
pub use order::{BEFORE, Before};
