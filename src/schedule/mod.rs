//! Hours, days, recoat windows and respirators.
//!
//! All defaults of rates and windows are the shop book's; nothing here is a safety opinion beyond
//! what the published table says, and the data sheet of each product goes first.

mod calendar;
mod conditions;
mod plan;
mod promise;
pub mod report;
pub mod silica;
mod task;
mod window;

pub use calendar::calendar;
pub use conditions::{Weather, weather};
pub use plan::{Day, Moment, Piece, Plan, Wait, plan};
pub use promise::{GivenBack, ON_WEATHER, ONCE_CLEARED};
pub use report::pieces;
pub use task::{Task, tasks};
pub use window::{between, outside};
