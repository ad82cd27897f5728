//! What things cost in one shop, and how a price is built from them.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::diagnostic::{FileId, Place};
use crate::trade::Kind;

/// Where a value was written. It says where a price comes from and plays no part in comparing two
/// books: the printed book is the same book.
#[derive(Clone, Copy, Debug)]
pub struct Origin(pub Place);

impl PartialEq for Origin {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// A number of the book with its origin: money in whole units of the currency, or a share of one.
#[derive(Clone, Debug, PartialEq)]
pub struct Rate {
    /// The number, exact, not negative.
    pub amount: Decimal,
    /// Where it was written.
    pub origin: Origin,
}

impl Rate {
    /// Whether it is one of the built-in examples, which are nobody's prices.
    #[must_use]
    pub fn is_example(&self) -> bool {
        self.origin.0.file == FileId::BuiltIn
    }
}

/// The `prices:` part of the shop book.
#[derive(Clone, Debug, PartialEq)]
pub struct Prices {
    /// The `prices:` key of the shop's own book, or the book itself if it has none; the built-in
    /// book where the shop has no book of its own.
    pub origin: Origin,
    /// Sign before every amount.
    pub currency: String,
    /// Which number of packages is priced.
    pub allowance: Allowance,
    /// One worker hour.
    pub labor: Rate,
    /// One package, by the name of the order: `joint filler`, `flake: base coat`.
    pub goods: BTreeMap<String, Rate>,
    /// Machines by the day, in the order of the book.
    pub equipment: Vec<Equipment>,
    /// Driving.
    pub travel: Travel,
    /// Carrying one bag of dust off.
    pub disposal: Rate,
    /// Once a job, whatever its size: getting there with everything.
    pub mobilization: Rate,
    /// For what nobody saw, share of the direct cost.
    pub contingency: Rate,
    /// Share of the direct cost.
    pub overhead: Rate,
    /// Share of the price; below one.
    pub margin: Rate,
    /// Margin of unit prices, share of the price; below one.
    pub unit_margin: Rate,
    /// The most that concealed work of which nothing was estimated may come to, share of the price.
    pub not_to_exceed: Rate,
    /// Put aside for work done over, share of the price.
    pub warranty: Rate,
    /// What is lost where the customer pays by card, share of the price.
    pub card_fee: Rate,
    /// Least charge for a job.
    pub minimum: Rate,
    /// What the customer sees is a multiple of this; nothing: to the cent.
    pub round: Rate,
    /// Share of the materials.
    pub tax: Rate,
}

/// Which number of packages is priced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowance {
    /// Enough in half of such jobs.
    Half,
    /// Enough in nine of ten.
    NineInTen,
}

/// A machine or a set of tools.
#[derive(Clone, Debug, PartialEq)]
pub struct Equipment {
    /// What it is called.
    pub name: String,
    /// What it costs for one day.
    pub day: Rate,
    /// Kinds of work that it is there for.
    pub tasks: Vec<Kind>,
}

/// Driving to the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Travel {
    /// Price of one unit of distance.
    pub distance: Rate,
    /// That unit, km: 1, or 1.609344 for a mile.
    pub per_km: Decimal,
    /// Price of one trip, whatever its length.
    pub trip: Rate,
    /// How fast it goes, km/h.
    pub km_h: Decimal,
}
