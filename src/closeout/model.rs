//! What a close-out says.

use super::key::Key;
use crate::quantity::Units;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowKind {
    /// A product, in packages.
    Product,
    /// A task, in worker hours.
    Task,
}

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
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Product or task.
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
}

impl Row {
    /// Used over estimated; `None` where nothing was estimated or nothing used.
    #[must_use]
    pub fn ratio(&self) -> Option<f64> {
        (self.estimated > 0.0 && self.used > 0.0).then(|| self.used / self.estimated)
    }
}

/// A value of the shop book that would have estimated what was used.
#[derive(Clone, Debug, PartialEq)]
pub struct Implied {
    /// Which value.
    pub key: Key,
    /// In the book, in the key's SI unit.
    pub book: f64,
    /// As it turned out.
    pub value: f64,
}

/// The close-out of one job.
#[derive(Clone, Debug, PartialEq)]
pub struct CloseOut {
    /// Name of the job.
    pub job: String,
    /// The shop's job number.
    pub number: Option<String>,
    /// Units of the sketch.
    pub units: Units,
    /// Products in the order of the order, then tasks in the order of the plan.
    pub rows: Vec<Row>,
    /// Products and tasks of the estimate that the record says nothing of.
    pub unrecorded: Vec<String>,
    /// Moisture: on the day, and the highest one tested before; shares of one.
    pub moisture: Option<(f64, Option<f64>)>,
    /// Photographs, paths relative to the sketch.
    pub photos: Vec<String>,
    /// Free note.
    pub note: Option<String>,
}

/// What several jobs say about one value of the shop book.
#[derive(Clone, Debug, PartialEq)]
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

/// What follows from several jobs for one value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The jobs agree, and not with the book: change it to the median.
    Change,
    /// The jobs agree with the book.
    AsItIs,
    /// Fewer than three jobs have a record of it.
    TooFew,
    /// The jobs differ too much among themselves.
    Disagree,
}
