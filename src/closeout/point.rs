//! What the hours of one work say about the numbers of its kind in the shop book.

use super::key::{Form, Key};
use super::model::Implied;
use crate::shop::Shop;
use crate::trade::{self, Kind, row};
use crate::work::Work;

/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

/// Worker time of one work, divided as the shop book reckons it. Points add up, so that several
/// works of one kind in one job are one point.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Kind whose numbers it hangs on.
    pub kind: Kind,
    /// Worker time used, s.
    pub used_s: f64,
    /// Worker time that is not learned: dwell, clean-up, change of tooling, s.
    pub other_s: f64,
    /// Workers for whom the set-up counts: hands × units side by side.
    pub set_ups: f64,
    /// Worker time of the quantity at the rates of the book, s.
    pub book_s: f64,
    /// Workers at it: hands × units side by side.
    pub workers: f64,
    /// The rates that had a part in it.
    pub rates: Vec<trade::Key>,
    /// The numbers of the kind in the book: s; m, m² or L an hour; shares; counts.
    pub numbers: Vec<(trade::Key, f64)>,
}

impl Point {
    /// A work that so many are at, nothing used yet. A work that takes its least time, whatever the
    /// quantity, says nothing; nor does one without a rate.
    pub(super) fn planned(work: &Work, workers: usize, shop: &Shop) -> Option<Self> {
        // The last of the grinding goes at the rate of the rest.
        let kind = match work.kind {
            Kind::GrindOver => Kind::GrindFloor,
            other => other,
        };
        let units = workers.checked_div(work.hands)?;
        if units == 0 || work.fixed_s + work.unit_s / units as f64 <= work.least_s {
            return None;
        }
        let numbers: Vec<(trade::Key, f64)> =
            row(kind).keys.iter().map(|(key, _)| (*key, shop.days.works.get(kind, *key))).collect();
        let set_up = shop.days.works.get(kind, trade::Key::SetUp);
        let has_one = numbers.iter().any(|(key, _)| *key == trade::Key::SetUp);
        // The grinder that stands there already is not set up again.
        let again = work.kind == kind || work.fixed_s > 0.0;
        let set_ups = if has_one && again { 1.0 } else { 0.0 };
        let workers = (work.hands * units) as f64;
        Some(Self {
            kind,
            used_s: 0.0,
            other_s: (work.fixed_s - set_ups * set_up) * workers,
            set_ups: set_ups * workers,
            book_s: work.unit_s * work.hands as f64,
            workers,
            rates: work.parts.iter().map(|part| part.key).collect(),
            numbers,
        })
    }

    /// The same with the worker hours of the record.
    pub(super) fn used(mut self, worker_h: f64) -> Self {
        self.used_s = worker_h * S_PER_H;
        self
    }

    /// Both together.
    pub(super) fn and(mut self, other: Self) -> Self {
        self.used_s += other.used_s;
        self.other_s += other.other_s;
        self.set_ups += other.set_ups;
        self.book_s += other.book_s;
        self.workers += other.workers;
        self.rates.extend(other.rates);
        self
    }

    /// A number of the kind in the book; nought where it has none.
    pub(super) fn number(&self, key: trade::Key) -> f64 {
        let found = self.numbers.iter().find(|(known, _)| *known == key);
        found.map_or(0.0, |(_, value)| *value)
    }

    /// The rates that had a part in it, in the order of the book, each once, with their forms.
    pub(super) fn forms(&self) -> Vec<(trade::Key, Form)> {
        let keys = row(self.kind).keys.iter();
        keys.filter(|(key, _)| self.rates.contains(key))
            .filter_map(|(key, unit)| Some((*key, Form::of_rate(*unit)?)))
            .collect()
    }

    /// What this one job comes to with the set-up of the book: its rate, or all its rates together.
    pub(super) fn implied(&self) -> Option<Implied> {
        let set_up_s = self.set_ups * self.number(trade::Key::SetUp);
        let left_s = self.used_s - self.other_s - set_up_s;
        let ratio = left_s / self.book_s;
        if !(left_s > 0.0 && ratio.is_finite()) {
            return None;
        }
        let path = ["days", "works", self.kind.name()];
        let (key, book) = match self.forms()[..] {
            [(key, form)] => {
                let path = [&path[..], &[key.word()]].concat();
                (Key::new(&path, form), self.number(key))
            }
            _ => (Key::new(&path, Form::Rates), 1.0),
        };
        let value = key.implied(book, ratio);
        Some(Implied { key, book, value })
    }
}
