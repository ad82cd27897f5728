//! Hours, days, recoat windows and respirators.
//!
//! All defaults of rates and windows are the shop book's; nothing here is a safety opinion beyond
//! what the published table says, and the data sheet of each product goes first.

mod activities;
// Its crates bring a browser's clock with them, for which the core has no use.
#[cfg(not(target_family = "wasm"))]
mod calendar;
mod conditions;
pub(crate) mod date;
mod faults;
pub mod lanes;
mod model;
pub mod network;
mod plan;
mod promise;
pub mod report;
pub mod silica;
mod window;

#[cfg(not(target_family = "wasm"))]
pub use calendar::calendar;
pub use conditions::{Weather, weather};
pub use faults::faults;
pub use model::{Day, Moment, Piece, Plan, Spent, Wait};
pub use plan::plan;
pub use promise::{GivenBack, ON_WEATHER, ONCE_CLEARED};
pub use report::pieces;
pub use window::between;
