//! What a job costs and what is asked for it.
//!
//! Cost is materials in whole packages, tax on them, worker hours, machines by the day, driving,
//! disposal and mobilization, with contingency and overhead on top; the price is cost ÷ (1 − margin −
//! warranty − card fee), never below the least charge, rounded to the shop's multiple. Every formula
//! stands in `docs/price.md`. Arithmetic is decimal. A line is the printed quantity times the rate,
//! rounded to cents, half a cent up; sums are sums of rounded lines.
//!
//! [`Price`] is the owner's and shows cost. [`CustomerPrice`] is all that a paper for a customer
//! is made from, and has no room for a cost.

mod alternate;
mod build;
mod goods;
mod model;
pub mod quick;
mod recipe;
pub mod report;
#[cfg(test)]
mod tests;
mod unit;
mod work;

pub use build::{build_up, not_to_exceed, price, with_shares};
pub use model::*;
pub use unit::{name as unit_name, unit as unit_of, unit_prices};

/// Share of the estimated quantity, in percent, by which the real one may differ before the part
/// beyond is priced anew: FAR 52.211-18 (variation in estimated quantity). A private job is not bound
/// by it: holding to it is a choice of the shop. Of what was not estimated at all there is no share;
/// such work goes at its unit price up to [`not_to_exceed`].
pub const UNIT_PRICE_TOLERANCE_PERCENT: i64 = 15;

/// What margin means, in one sentence for the owner.
pub const MARGIN_NOT_MARKUP: &str = "Margin is a share of the price, not of the cost: price = cost ÷ (1 − margin − warranty − card fee). \
The same share added to the cost (a markup) would leave less.";
