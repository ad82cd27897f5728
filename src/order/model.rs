//! The order list and the pour lines.

use serde::Serialize;

use super::chosen::Chosen;
use super::confidence::Z_NINE_IN_TEN;
use crate::shop::{Allowance, Charged};
use crate::trade::Product;
use crate::work::{Batch, Batches};

/// Everything to be bought and how it is used up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Order {
    /// Products, in the order of use.
    pub rows: Vec<OrderRow>,
    /// What is mixed at once, by layer.
    pub batches: Vec<Batches>,
    /// Lines by which a mixed batch is used up.
    pub pour_lines: Vec<PourLines>,
}

/// One product.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderRow {
    /// What it is.
    pub item: Product,
    /// Needed, waste included, in `unit`.
    pub need: f64,
    /// `L`, `kg`, `m` or `each`.
    pub unit: &'static str,
    /// Size of one package in `unit`.
    pub package: f64,
    /// Whole packages to buy.
    pub packages: u64,
    /// Standard deviation of the need, in `unit`; 0 where the shop book gives none.
    pub sd: f64,
    /// Packages that are enough in nine of ten such jobs.
    pub packages_p90: u64,
    /// Packages that are enough in half of such jobs.
    pub packages_p50: u64,
    /// Bought less needed, in `unit`.
    pub left_over: f64,
    /// Must come from one lot, so each floor buys whole packages of its own.
    pub one_lot: bool,
    /// Bought on top of the need, share of it.
    pub reserve: f64,
    /// How it is charged.
    pub charged: Charged,
    /// Part of the need that is scraped off clean and can be thrown again, in `unit`. All of it must be
    /// on site first, so that it is in `need` too.
    pub reclaimed: f64,
    /// What the customer chose of it.
    #[serde(skip)]
    pub chosen: Chosen,
    /// How the number was reached, a sentence each, in the sketch's units.
    pub how: Vec<String>,
}

impl OrderRow {
    /// Packages that are charged under an allowance, parts of one where only what is used is charged.
    #[must_use]
    pub fn charged(&self, allowance: Allowance) -> f64 {
        let (bought, need) = match allowance {
            Allowance::Half => (self.packages, self.need),
            Allowance::NineInTen => {
                (self.packages.max(self.packages_p90), self.need + Z_NINE_IN_TEN * self.sd)
            }
        };
        match self.charged {
            Charged::Whole => bought as f64,
            Charged::Used => need / self.package,
        }
    }

    /// Packages that are enough in nine of ten such jobs; `None` where nothing is known of how the need
    /// varies, and the number would say no more than the other.
    #[must_use]
    pub fn nine_in_ten(&self) -> Option<u64> {
        (self.sd > 0.0).then_some(self.packages_p90)
    }
}

/// Pour lines of one layer.
#[derive(Clone, Debug, PartialEq)]
pub struct PourLines {
    /// The layer.
    pub layer: String,
    /// How long a batch can be worked with, s; `None` where the shop book doesn't say.
    pub pot_life_s: Option<f64>,
    /// Its lines, by batch.
    pub lines: Vec<PourLine>,
}

/// Where a batch should be used up.
#[derive(Clone, Debug, PartialEq)]
pub struct PourLine {
    /// Batch number, from 1.
    pub batch: usize,
    /// What is mixed for it.
    pub mixed: Batch,
    /// Distance from the outermost point of the coated area on the pouring side, m.
    pub distance_m: f64,
    /// Net area behind the line, m².
    pub area_behind_m2: f64,
    /// Pieces of the line on the coated floor.
    pub chords: Vec<(kurbo::Point, kurbo::Point)>,
}
