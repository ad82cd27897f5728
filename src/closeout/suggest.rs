//! What several jobs say together about the shop book.

use std::collections::BTreeMap;

use super::key::{Form, Key};
use super::learn::learn;
use super::model::{CloseOut, Outcome, RowKind, Suggestion, Verdict};

/// Jobs that a value must be implied by before a change is suggested: the requirement.
pub const LEAST_JOBS: usize = 3;
/// Jobs agree where each of them lies within this share of their median, or of the fit of their hours (common practice: what a
/// crew and a floor vary by; the rule is ours).
pub const AGREE: f64 = 0.20;
/// The book agrees where it lies within this share of the median, or foresees every job within this
/// share of the fit; it is then left as it is.
pub const CLOSE: f64 = 0.05;

/// What the jobs say about every value and kind of work that some of them have a record of.
#[must_use]
pub fn suggest(jobs: &[CloseOut]) -> Suggestion {
    Suggestion { values: values(jobs), works: learn(jobs) }
}

/// A verdict on every value that goods hang on, in the order of the keys. Several rows of one job
/// about one value (rods of two sizes) count as one job, with their median.
fn values(jobs: &[CloseOut]) -> Vec<Verdict> {
    let mut by_key: BTreeMap<Key, (f64, Vec<f64>)> = BTreeMap::new();
    for job in jobs {
        let mut own: BTreeMap<&Key, (f64, Vec<f64>)> = BTreeMap::new();
        let goods = job.rows.iter().filter(|row| row.kind == RowKind::Product);
        for implied in goods.filter_map(|row| row.implied.as_ref()) {
            let entry = own.entry(&implied.key).or_insert((implied.book, Vec::new()));
            entry.1.push(implied.value);
        }
        for (key, (book, mut values)) in own {
            let known = by_key.entry(key.clone()).or_insert((book, Vec::new()));
            known.1.push(median(&mut values));
        }
    }
    let verdict = |(key, (book, mut values)): (Key, (f64, Vec<f64>))| {
        let median = median(&mut values);
        let outcome = outcome(&key, book, &values, median);
        Verdict { key, book, values, median, outcome }
    };
    by_key.into_iter().map(verdict).collect()
}

/// The middle value, or the mean of the two in the middle; sorts the values. Nothing for none.
pub fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    match (values.get(middle), values.len() % 2) {
        (Some(value), 1) => *value,
        (Some(value), _) => f64::midpoint(values[middle - 1], *value),
        (None, _) => 0.0,
    }
}

fn outcome(key: &Key, book: f64, values: &[f64], median: f64) -> Outcome {
    if values.len() < LEAST_JOBS {
        return Outcome::TooFew;
    }
    let middle = key.compared(median);
    let within = |value: f64, share: f64| (key.compared(value) - middle).abs() <= share * middle;
    if !values.iter().all(|value| within(*value, AGREE)) {
        return Outcome::Disagree;
    }
    // Less than nothing is no waste that a book could hold.
    let unwritable = key.form == Form::Waste && median < 0.0 && book <= 0.0;
    if within(book, CLOSE) || unwritable {
        return Outcome::AsItIs;
    }
    Outcome::Change
}
