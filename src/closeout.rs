//! Close-out: what a job really took, against the estimate.
//!
//! One job says by how much each product and task differed and which yield or rate that comes to.
//! Three or more that agree suggest a change of the shop book: the median of a value that goods hang on,
//! and for works the set-up and rates that fit their hours. Rules and formulas stand in
//! `docs/price.md`.

mod compare;
mod fit;
pub mod key;
mod learn;
mod model;
pub mod plot;
mod point;
pub mod report;
mod suggest;
#[cfg(test)]
mod tests;

pub use compare::close_out;
pub use model::*;
pub use point::Point;
pub use suggest::{AGREE, CLOSE, LEAST_JOBS, median, suggest};
