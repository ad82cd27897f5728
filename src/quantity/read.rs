//! Text to quantities: the only place that reads numbers with units.
//!
//! All arithmetic is exact in 128-bit fractions until one last division; no text is handed to a
//! floating-point parser, so nothing here can be infinite or not a number.

mod bearing;
mod extent;
mod length;
mod money;
mod rate;
mod scan;

pub use bearing::{WalkEntry, walk_entry};
pub use extent::{area, size};
pub use length::{Bare, length};
pub use money::{decimal_percent, distance, distance_rate, money, speed};
pub use rate::{count, coverage, film, mass, number, percent, span, spread, temperature, volume};

use scan::Scan;

/// Why a text is not the quantity that should stand there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// What is wrong, a clause that can follow a colon.
    pub problem: String,
    /// A form that would have worked.
    pub hint: String,
}

impl ReadError {
    fn new(problem: String, hint: impl Into<String>) -> Self {
        Self { problem, hint: hint.into() }
    }

    /// Reading began well and stopped at something that has no place there.
    fn stopped(scan: &Scan, hint: &str) -> Self {
        let (done, rest) = (scan.done(), excerpt(scan.rest()));
        let problem = if rest.is_empty() {
            format!("it ends after `{done}`")
        } else if done.is_empty() {
            format!("it starts with `{rest}`, where a number should stand")
        } else {
            format!("after `{done}` comes `{rest}`, which can't be read")
        };
        Self::new(problem, hint)
    }

    /// No number where one should start.
    fn no_number(scan: &Scan, hint: &str) -> Self {
        if scan.at_end() && scan.done().is_empty() {
            return Self::new("there is no number".into(), hint);
        }
        Self::stopped(scan, hint)
    }
}

/// The beginning of a text, short enough for a message.
fn excerpt(text: &str) -> String {
    const LONGEST: usize = 24;
    let text = text.trim();
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    text.chars().take(LONGEST).chain("…".chars()).collect()
}
