//! One work.

use crate::trade::{Key, Kind, Machine, Unit};

/// A part of a work that goes at a rate of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What of the work: `sawn`, `with a strip left in`; empty where there is only one.
    pub what: &'static str,
    /// How much: m, m² or L, by `unit`. Passes are counted in it.
    pub quantity: f64,
    /// What the quantity is.
    pub unit: Unit,
    /// The number of the shop book that the rate is.
    pub key: Key,
    /// What one unit gets done in an hour, in m, m² or L.
    pub rate: f64,
}

impl Part {
    /// Time that one unit takes, s.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.quantity / self.rate * 3600.0
    }
}

/// Something to be done on one floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Its kind. With `layer` it is what the work is; the name is for printing.
    pub kind: Kind,
    /// The layer of the coating system that is laid, abraded or scraped, by index.
    pub layer: Option<usize>,
    /// What it is called in every output.
    pub name: String,
    /// Ids of what it is done on; empty for what is done on the whole floor.
    pub items: Vec<String>,
    /// What is done, each part at its rate.
    pub parts: Vec<Part>,
    /// Time for set-up and clean-up, whatever the quantity, s.
    pub fixed_s: f64,
    /// The least time it takes, s.
    pub least_s: f64,
    /// Time that one unit takes for the quantity, s.
    pub unit_s: f64,
    /// Workers of one unit.
    pub hands: usize,
    /// Machine of one unit.
    pub machine: Option<Machine>,
    /// Most units side by side.
    pub most: usize,
    /// May be broken off in the evening and taken up in the morning.
    pub cut: bool,
}

impl Work {
    /// Time on the clock with so many units side by side, s.
    #[must_use]
    pub fn clock_s(&self, units: usize) -> f64 {
        (self.fixed_s + self.unit_s / units.max(1) as f64).max(self.least_s)
    }

    /// Worker time with so many units side by side, s.
    #[must_use]
    pub fn worker_s(&self, units: usize) -> f64 {
        self.clock_s(units) * (self.hands * units.max(1)) as f64
    }
}
