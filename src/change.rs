//! The change order: what is different between two sketches of one job, and what that costs by the
//! unit prices that were agreed.
//!
//! Items are matched by kind and id. Both sketches are measured by the shop book of the first, which
//! is the one the price was agreed by. Rules and formulas stand in `docs/price.md`.

mod compare;
mod model;
#[cfg(test)]
mod named;
mod quantity;
pub mod report;
mod same;
#[cfg(test)]
mod tests;
mod variation;
mod words;

pub use compare::change;
pub use model::*;
pub use same::different_jobs;
pub use variation::repricing;
