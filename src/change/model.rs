//! What a change order says.

use rust_decimal::Decimal;
use serde::{Serialize, Serializer};

use crate::hold::Hold;
use crate::hold::say::capital;
use crate::quantity::{Money, Units, exact};
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

crate::text::in_json_by!(ItemKind, word);

impl ItemKind {
    /// What it is called, with a capital letter.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Step => "Offset".to_owned(),
            other => capital(other.word()),
        }
    }

    /// Its word for scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Joint => "joint",
            Self::Crack => "crack",
            Self::Spall => "spall",
            Self::Delamination => "delamination",
            Self::Step => "step",
            Self::Floor => "floor",
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

crate::text::in_json_by!(How, word);

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
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Which unit price.
    pub kind: UnitKind,
    /// In the first sketch, in units of the price, as printed.
    #[serde(serialize_with = "exact")]
    pub before: Decimal,
    /// In the second sketch.
    #[serde(serialize_with = "exact")]
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

/// The widths of a limit, for the JSON: none where it has to be widened first.
fn widths<S: Serializer>(limit: &Limit, serializer: S) -> Result<S::Ok, S::Error> {
    #[derive(Serialize)]
    struct Widths {
        width_m: Option<f64>,
        up_to_m: Option<f64>,
    }
    let (width_m, up_to_m) = match *limit {
        Limit::Wider { width_m, up_to_m } => (Some(width_m), Some(up_to_m)),
        Limit::Widened => (None, None),
    };
    Widths { width_m, up_to_m }.serialize(serializer)
}

/// A stretch beyond what its agreed unit price takes for granted: it is priced anew.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beyond {
    /// Which unit price.
    pub kind: UnitKind,
    /// Why.
    #[serde(flatten, serialize_with = "widths")]
    pub limit: Limit,
    /// How much of it in the first sketch, m.
    pub before_m: f64,
    /// How much of it in the second sketch, m.
    pub after_m: f64,
}

/// What changed about one item.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ItemChange {
    /// Number on the drawing, from 1.
    pub number: usize,
    /// What kind of item.
    pub kind: ItemKind,
    /// Its id; `floor` for the floor.
    pub id: String,
    /// How it changed.
    #[serde(rename = "change")]
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
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KindTotal {
    /// Which unit price.
    pub kind: UnitKind,
    /// What one is: `ft`, `bag`.
    pub unit: &'static str,
    /// The unit price agreed.
    #[serde(rename = "unit_price")]
    pub price: Money,
    /// In the first sketch: the estimate.
    #[serde(serialize_with = "exact")]
    pub estimated: Decimal,
    /// In the second sketch.
    #[serde(serialize_with = "exact")]
    pub actual: Decimal,
    /// Sum of the parts of all items.
    pub amount: Money,
    /// Beyond 115 % of the estimate: may be priced anew. Nothing where nothing was estimated.
    #[serde(serialize_with = "exact")]
    pub over: Decimal,
    /// Short of 85 % of the estimate: may be priced anew.
    #[serde(serialize_with = "exact")]
    pub under: Decimal,
}

/// A product of which more or fewer whole packages are bought.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PackageChange {
    /// The product.
    pub item: Product,
    /// Whole packages by the first sketch.
    pub before: u64,
    /// Whole packages by the second sketch.
    pub after: u64,
}

/// Work of kinds of which nothing was estimated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Concealed {
    /// At the agreed unit prices.
    pub amount: Money,
    /// The most that it may come to without a new signature; `None` where the job as sold has no
    /// price.
    pub not_to_exceed: Option<Money>,
    /// By how much it lies beyond that.
    pub over: Option<Money>,
}

impl Concealed {
    /// So much of it, against what was signed for.
    #[must_use]
    pub fn new(amount: Money, not_to_exceed: Option<Money>) -> Self {
        let over = not_to_exceed.filter(|most| amount > *most).map(|most| amount - most);
        Self { amount, not_to_exceed, over }
    }
}

/// The change order.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Change {
    /// Name of the job.
    #[serde(skip)]
    pub job: String,
    /// The shop's job number.
    #[serde(skip)]
    pub number: Option<String>,
    /// Revision of the first sketch.
    pub from: Option<String>,
    /// Revision of the second sketch.
    pub to: Option<String>,
    /// Sign before every amount.
    pub currency: String,
    /// Units of the first sketch, which the unit prices are in.
    #[serde(skip)]
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
    #[serde(rename = "example_prices")]
    pub example: bool,
}
