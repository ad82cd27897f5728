//! Dew points, dates and shapes against other people's arithmetic. See docs/references.md.

mod crates;
mod dates;
mod dew_point;
mod holidays;
mod schedules;
