//! A price with everything it is made of, and what of it a customer may see.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::quantity::{Money, Units, exact, normal};
use crate::shop::Profile;
use crate::sketch::UnitKind;

/// Where a line stands in the build-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Products and small goods, in whole packages.
    Materials,
    /// Tax on the materials.
    Tax,
    /// Worker hours.
    Labor,
    /// Machines by the day.
    Equipment,
    /// Driving.
    Travel,
    /// Dust carried off.
    Disposal,
    /// Once a job, whatever its size.
    Mobilization,
    /// Share of the direct cost, for what nobody saw.
    Contingency,
    /// Share of the direct cost.
    Overhead,
}

crate::text::in_json_by!(Section, word);

impl Section {
    /// All sections, in the order of the build-up.
    pub const ALL: [Self; 9] = [
        Self::Materials,
        Self::Tax,
        Self::Labor,
        Self::Equipment,
        Self::Travel,
        Self::Disposal,
        Self::Mobilization,
        Self::Contingency,
        Self::Overhead,
    ];

    /// Its name in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Tax => "tax",
            Self::Labor => "labor",
            Self::Equipment => "equipment",
            Self::Travel => "travel",
            Self::Disposal => "disposal",
            Self::Mobilization => "mobilization",
            Self::Contingency => "contingency",
            Self::Overhead => "overhead",
        }
    }
}

/// One line of cost: quantity times rate, rounded to cents once.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// Where it stands.
    pub section: Section,
    /// What is paid for: a product, a task, a machine.
    pub item: String,
    /// How much of it, as printed. For tax, contingency and overhead the amount that the share is
    /// taken of.
    #[serde(serialize_with = "exact")]
    pub quantity: Decimal,
    /// Unit of the quantity: `package`, `h`, `day`, `mi`, `trip`, `bag`, `job`; empty for money.
    pub unit: &'static str,
    /// Money per unit; for tax, contingency and overhead a share of one.
    #[serde(serialize_with = "normal")]
    pub rate: Decimal,
    /// `quantity` × `rate`, rounded to cents.
    pub amount: Money,
    /// Which quantity of the order, the plan or the sketch it was reached from.
    pub from: String,
    /// The rate is a built-in example.
    pub example: bool,
}

/// Cost and price of one way to do the job. For the owner: it shows cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BuildUp {
    /// Every line of cost.
    pub lines: Vec<Line>,
    /// Sum of all lines but contingency and overhead.
    pub direct: Money,
    /// Sum of all lines.
    pub cost: Money,
    /// Shares of the price, as the shop book has them.
    #[serde(flatten)]
    pub shares: Shares,
    /// `cost` ÷ (1 − all shares), rounded to cents: what would be asked to the cent.
    pub asked: Money,
    /// What is asked beyond that, because no job is done for less than the least charge.
    pub to_minimum: Money,
    /// What is asked beyond both (or, negative, less), because the price is a multiple.
    pub rounding: Money,
    /// `asked` + `to_minimum` + `rounding`: what the customer sees.
    pub price: Money,
    /// Put aside for work done over: its share of `price`, rounded to cents.
    pub warranty: Money,
    /// Lost where the customer pays by card: its share of `price`, rounded to cents.
    pub card_fee: Money,
    /// What is left: `price` − `cost` − `warranty` − `card_fee`.
    pub margin: Money,
    /// Working days of the plan.
    pub days: usize,
    /// Hours that all workers of the plan work together.
    pub worker_h: f64,
}

/// Shares of the price; below one together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Shares {
    /// What the shop keeps.
    #[serde(rename = "margin_share", serialize_with = "normal")]
    pub margin: Decimal,
    /// Put aside for work done over.
    #[serde(rename = "warranty_share", serialize_with = "normal")]
    pub warranty: Decimal,
    /// Lost where the customer pays by card.
    #[serde(rename = "card_fee_share", serialize_with = "normal")]
    pub card_fee: Decimal,
}

impl Shares {
    /// All of them.
    #[must_use]
    pub fn sum(&self) -> Decimal {
        self.margin + self.warranty + self.card_fee
    }
}

impl BuildUp {
    /// Sum of a section's lines.
    #[must_use]
    pub fn section(&self, section: Section) -> Money {
        let lines = self.lines.iter().filter(|line| line.section == section);
        lines.map(|line| line.amount).sum()
    }
}

/// A part of a unit price, not rounded: parts of a cent count in a foot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnitLine {
    /// Where it stands.
    pub section: Section,
    /// What is paid for.
    pub item: String,
    /// Exact to eight decimals.
    #[serde(serialize_with = "normal")]
    pub amount: Decimal,
    /// How it was reached.
    pub from: String,
    /// A rate in it is a built-in example.
    pub example: bool,
}

/// The price of one unit of concealed work, with its cost. For the owner.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnitBuildUp {
    /// What a customer may see of it.
    #[serde(flatten)]
    pub price: UnitPrice,
    /// Every part of its cost; empty for one that was agreed and not computed.
    pub lines: Vec<UnitLine>,
    /// Sum of the lines.
    #[serde(serialize_with = "normal")]
    pub cost: Decimal,
}

/// The price of one unit of concealed work. Holds no cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnitPrice {
    /// Which work it is the price of.
    pub kind: UnitKind,
    /// What it is called: `joint, cut open, filled and shaved`.
    pub name: &'static str,
    /// What one is: `ft`, `ft²`, `m`, `m²`, `bag`, `package`.
    pub unit: &'static str,
    /// What is taken for granted in it, a sentence: width and depth of the cut.
    pub basis: String,
    /// Width that it holds up to, m; `None` where the width plays no part.
    #[serde(skip)]
    pub widest_m: Option<f64>,
    /// Price of one.
    pub amount: Money,
    /// It was agreed in the sketch, not computed.
    pub agreed: bool,
}

/// Another way to do the job, computed anew from the sketch. For the owner: it shows cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AlternateBuildUp {
    /// What it is called in the sketch.
    pub name: String,
    /// What is different, a sentence.
    pub change: String,
    /// The whole job done that way.
    pub whole: BuildUp,
    /// Its price less the price of the job as sketched.
    pub difference: Money,
    /// Profile that its system wants, where the shop book says it.
    pub profile: Option<Profile>,
}

/// The price of one floor. For the owner: it shows cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Price {
    /// Sign before every amount.
    pub currency: String,
    /// Units of the sketch.
    #[serde(skip)]
    pub units: Units,
    /// The job as sketched.
    pub base: BuildUp,
    /// Other ways to do it, in the order of the sketch; then what is priced unasked.
    pub alternates: Vec<AlternateBuildUp>,
    /// Unit prices for concealed work.
    pub unit_prices: Vec<UnitBuildUp>,
    /// The most that concealed work of which nothing was estimated may come to: see [`super::not_to_exceed`].
    pub not_to_exceed: Money,
    /// Built-in examples went into it: nobody's prices.
    #[serde(rename = "example_prices")]
    pub example: bool,
}

/// What a customer sees of a price. It has no room for a cost, a rate, a margin or a line.
#[derive(Clone, Debug, PartialEq)]
pub struct CustomerPrice {
    /// Sign before every amount.
    pub currency: String,
    /// The job as sketched.
    pub total: Money,
    /// Other ways to do it.
    pub alternates: Vec<CustomerAlternate>,
    /// Unit prices for concealed work, valid within [`super::UNIT_PRICE_TOLERANCE_PERCENT`] of what
    /// was estimated.
    pub unit_prices: Vec<UnitPrice>,
    /// The most that concealed work of which nothing was estimated may come to.
    pub not_to_exceed: Money,
    /// Built-in examples went into it: not to be signed.
    pub example: bool,
}

/// Another way to do the job, as a customer sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct CustomerAlternate {
    /// What it is called.
    pub name: String,
    /// What is different, a sentence.
    pub change: String,
    /// The whole job done that way.
    pub total: Money,
    /// More (or, negative, less) than the job as sketched.
    pub difference: Money,
}

impl Price {
    /// What of it a customer may see.
    #[must_use]
    pub fn for_customer(&self) -> CustomerPrice {
        CustomerPrice {
            currency: self.currency.clone(),
            total: self.base.price,
            alternates: self
                .alternates
                .iter()
                .map(|alternate| CustomerAlternate {
                    name: alternate.name.clone(),
                    change: alternate.change.clone(),
                    total: alternate.whole.price,
                    difference: alternate.difference,
                })
                .collect(),
            unit_prices: self.unit_prices.iter().map(|unit| unit.price.clone()).collect(),
            not_to_exceed: self.not_to_exceed,
            example: self.example,
        }
    }
}
