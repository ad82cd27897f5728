//! What a change order says.

use rust_decimal::Decimal;

use crate::hold::Hold;
use crate::quantity::{Money, Units};
use crate::sketch::UnitKind;
use crate::trade::Product;

/// What kind of item changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ItemKind {
    /// A joint.
    Joint,
    /// A crack.
    Crack,
    /// A spall.
    Spall,
    /// A delamination.
    Delamination,
    /// A step.
    Step,
    /// The coated floor.
    Floor,
}

impl ItemKind {
    /// What it is called, with a capital letter.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Step => "Offset",
            other => other.word(),
        }
    }

    /// Its word for scripts, with a capital letter.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Joint => "Joint",
            Self::Crack => "Crack",
            Self::Spall => "Spall",
            Self::Delamination => "Delamination",
            Self::Step => "Step",
            Self::Floor => "Floor",
        }
    }
}

/// How an item changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// Not in the first sketch.
    Added,
    /// Not in the second sketch.
    Removed,
    /// More of the same work.
    Grown,
    /// Less of the same work.
    Shrunk,
    /// Other work.
    Treatment,
    /// The same amounts at the unit prices, and something else that moves the price of the job.
    Otherwise,
}

impl How {
    /// Its word in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Added => "added",
            Self::Removed => "removed",
            Self::Grown => "grown",
            Self::Shrunk => "shrunk",
            Self::Treatment => "changed treatment",
            Self::Otherwise => "found otherwise",
        }
    }
}

/// A part of a change, at its unit price.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Which unit price.
    pub kind: UnitKind,
    /// In the first sketch, in units of the price, as printed.
    pub before: Decimal,
    /// In the second sketch.
    pub after: Decimal,
    /// (after − before) × unit price, rounded to cents; negative for a credit.
    pub amount: Money,
}

/// Why work lies beyond what its agreed unit price takes for granted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// It is wider.
    Wider {
        /// How wide it is, m.
        width_m: f64,
        /// How wide the unit price holds, m.
        up_to_m: f64,
    },
    /// It has to be widened first for rod and sealant.
    Widened,
}

/// A stretch beyond what its agreed unit price takes for granted: it is priced anew.
#[derive(Clone, Debug, PartialEq)]
pub struct Beyond {
    /// Which unit price.
    pub kind: UnitKind,
    /// Why.
    pub limit: Limit,
    /// How much of it in the first sketch, m.
    pub before_m: f64,
    /// How much of it in the second sketch, m.
    pub after_m: f64,
}

/// What changed about one item.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemChange {
    /// Number on the drawing, from 1.
    pub number: usize,
    /// What kind of item.
    pub kind: ItemKind,
    /// Its id; `floor` for the floor.
    pub id: String,
    /// How it changed.
    pub how: How,
    /// What was found, a sentence with the numbers, with the note of the sketch quoted.
    pub words: String,
    /// Its parts, by unit price; empty where nothing of it has a price.
    pub parts: Vec<Part>,
    /// What of it lies beyond the agreed unit.
    pub beyond: Vec<Beyond>,
    /// Sum of the parts.
    pub amount: Money,
}

/// A kind of work over the whole job: the rule of 15 % is held against it.
#[derive(Clone, Debug, PartialEq)]
pub struct KindTotal {
    /// Which unit price.
    pub kind: UnitKind,
    /// What one is: `ft`, `bag`.
    pub unit: &'static str,
    /// The unit price agreed.
    pub price: Money,
    /// In the first sketch: the estimate.
    pub estimated: Decimal,
    /// In the second sketch.
    pub actual: Decimal,
    /// Sum of the parts of all items.
    pub amount: Money,
    /// Beyond 115 % of the estimate: may be priced anew. Nothing where nothing was estimated.
    pub over: Decimal,
    /// Short of 85 % of the estimate: may be priced anew.
    pub under: Decimal,
}

/// A product of which more or fewer whole packages are bought.
#[derive(Clone, Debug, PartialEq)]
pub struct PackageChange {
    /// The product.
    pub item: Product,
    /// Whole packages by the first sketch.
    pub before: u64,
    /// Whole packages by the second sketch.
    pub after: u64,
}

/// Work of kinds of which nothing was estimated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Concealed {
    /// At the agreed unit prices.
    pub amount: Money,
    /// The most that it may come to without a new signature; `None` where the job as sold has no
    /// price.
    pub not_to_exceed: Option<Money>,
}

impl Concealed {
    /// By how much it lies beyond what was signed for.
    #[must_use]
    pub fn over(&self) -> Option<Money> {
        let most = self.not_to_exceed?;
        (self.amount > most).then(|| self.amount - most)
    }
}

/// The change order.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Name of the job.
    pub job: String,
    /// The shop's job number.
    pub number: Option<String>,
    /// Revision of the first sketch.
    pub from: Option<String>,
    /// Revision of the second sketch.
    pub to: Option<String>,
    /// Sign before every amount.
    pub currency: String,
    /// Units of the first sketch, which the unit prices are in.
    pub units: Units,
    /// What must be cleared on the floor of the second sketch before work goes on.
    pub holds: Vec<Hold>,
    /// What changed: joints, cracks, spalls, steps, the floor.
    pub items: Vec<ItemChange>,
    /// Every kind of work that changed.
    pub totals: Vec<KindTotal>,
    /// What of it is of kinds of which nothing was estimated.
    pub concealed: Option<Concealed>,
    /// Products of which the packages changed.
    pub packages: Vec<PackageChange>,
    /// What changed and has no unit price, a sentence each.
    pub unpriced: Vec<String>,
    /// Sum of all items.
    pub amount: Money,
    /// Built-in example prices went into it.
    pub example: bool,
}
