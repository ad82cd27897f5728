//! What a close-out says.

use serde::Serialize;

use super::key::{Form, Key};
use super::point::Point;
use crate::quantity::Units;
use crate::trade::{self, Kind};

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowKind {
    /// A product, in packages.
    Product,
    /// A task, in worker hours.
    Task,
}

crate::text::in_json_by!(RowKind, unit);

impl RowKind {
    /// Its unit.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Product => "packages",
            Self::Task => "h",
        }
    }
}

/// One product or task: estimated and used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Row {
    /// Product or task.
    #[serde(rename = "unit")]
    pub kind: RowKind,
    /// Its name in the order or the plan.
    pub item: String,
    /// Estimated: packages needed, not rounded, waste included; or worker hours.
    pub estimated: f64,
    /// Whole packages on the order; `None` for a task.
    pub ordered: Option<u64>,
    /// Used.
    pub used: f64,
    /// What that comes to in the shop book's terms.
    pub implied: Option<Implied>,
    /// What a task's hours say about set-up and rates of its kind of work.
    #[serde(skip)]
    pub point: Option<Point>,
}

impl Row {
    /// Used over estimated; `None` where nothing was estimated or nothing used.
    #[must_use]
    pub fn ratio(&self) -> Option<f64> {
        (self.estimated > 0.0 && self.used > 0.0).then(|| self.used / self.estimated)
    }
}

/// A value of the shop book that would have estimated what was used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Implied {
    /// Which value.
    pub key: Key,
    /// In the book, in the key's SI unit.
    pub book: f64,
    /// As it turned out.
    pub value: f64,
}

/// The close-out of one job.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CloseOut {
    /// Name of the job.
    #[serde(skip)]
    pub job: String,
    /// The shop's job number.
    #[serde(skip)]
    pub number: Option<String>,
    /// Units of the sketch.
    #[serde(skip)]
    pub units: Units,
    /// Products in the order of the order, then tasks in the order of the plan.
    #[serde(skip)]
    pub rows: Vec<Row>,
    /// Products and tasks of the estimate that the record says nothing of.
    pub unrecorded: Vec<String>,
    /// Moisture.
    pub moisture: Option<Moisture>,
    /// Photographs, paths relative to the sketch.
    pub photos: Vec<String>,
    /// Free note.
    pub note: Option<String>,
}

/// Relative humidity in the slab, shares of one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Moisture {
    /// On the day.
    pub used: f64,
    /// The highest one tested before.
    pub tested: Option<f64>,
}

/// What several jobs say about one value of the shop book.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Verdict {
    /// Which value.
    pub key: Key,
    /// In the book.
    pub book: f64,
    /// Implied by each job that has a record of it, ascending.
    pub values: Vec<f64>,
    /// Median of the values.
    pub median: f64,
    /// What follows.
    pub outcome: Outcome,
}

/// What follows from several jobs for one value or kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The jobs agree, and not with the book: change it.
    Change,
    /// The jobs agree with the book.
    AsItIs,
    /// Fewer than three jobs have a record of it.
    TooFew,
    /// The jobs differ too much among themselves.
    Disagree,
    /// No rate comes out of the hours that a shop book could hold.
    NoRate,
}

crate::text::in_json_by!(Outcome, word);

impl Outcome {
    /// Its word for scripts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Change => "change",
            Self::AsItIs => "as-it-is",
            Self::TooFew => "too-few",
            Self::Disagree => "disagree",
            Self::NoRate => "no-rate",
        }
    }
}

/// What several jobs say about the shop book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Suggestion {
    /// Values that goods hang on, in the order of their keys.
    pub values: Vec<Verdict>,
    /// Kinds of work, in the order of the trade.
    pub works: Vec<Learned>,
}

/// What several jobs say about the time that a kind of work takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned {
    /// Kind of work.
    pub kind: Kind,
    /// Jobs that what is said comes from.
    pub jobs: usize,
    /// Its set-up, where the kind has one.
    pub set_up: Option<SetUp>,
    /// Its rates that the jobs tell of, in the order of the shop book.
    pub rates: Vec<Rate>,
    /// How far the furthest of the jobs lies from the fit, a share of the fit; nought without a fit.
    pub spread: f64,
    /// Jobs further than [`super::AGREE`] from the fit of the others, or of all where several are.
    pub off: Vec<String>,
    /// Jobs that are left out because another shop book planned them.
    pub other_book: Vec<String>,
    /// What follows.
    pub outcome: Outcome,
}

/// The set-up of a kind of work, s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetUp {
    /// In the book.
    pub book: f64,
    /// As the jobs have it.
    pub value: f64,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where a set-up comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Origin {
    /// The jobs, with its standard error, s.
    Jobs(f64),
    /// The book: the jobs are too alike in size to tell set-up from rate.
    Book,
    /// The jobs, which leave less than nothing for it: it counts as none.
    Nothing,
}

/// A rate of a kind of work: m, m² or L an hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Which.
    pub key: trade::Key,
    /// How it is written.
    pub form: Form,
    /// In the book.
    pub book: f64,
    /// As the jobs have it.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
}
