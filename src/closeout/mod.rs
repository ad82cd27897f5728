//! Close-out: what a job really took, against the estimate.
//!
//! One job says by how much each product and task differed and which yield or rate that comes to.
//! Three or more that agree suggest a change of the shop book. Rules and formulas stand in
//! `docs/price.md`.

mod compare;
pub mod key;
mod model;
pub mod plot;
pub mod report;
mod suggest;
#[cfg(test)]
mod tests;

pub use compare::close_out;
pub use model::*;
pub use suggest::{AGREE, CLOSE, LEAST_JOBS, median, suggest};
