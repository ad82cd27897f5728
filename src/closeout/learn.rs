//! What several jobs say together about the time that a kind of work takes.

use std::collections::BTreeMap;

use super::fit::{Fit, Sample, fit};
use super::model::{CloseOut, Learned, Origin, Outcome, Rate, SetUp};
use super::point::Point;
use super::suggest::{AGREE, CLOSE, LEAST_JOBS};
use crate::trade::{Key, Kind};

/// A job with what all its works of one kind say together.
struct Job<'a> {
    name: &'a CloseOut,
    point: Point,
    sample: Sample,
}

/// What the jobs say about every kind of work that some of them have a record of, in the order of
/// the trade.
pub(super) fn learn(jobs: &[CloseOut]) -> Vec<Learned> {
    let mut by_kind: BTreeMap<Kind, Vec<Job<'_>>> = BTreeMap::new();
    for name in jobs {
        let mut own: BTreeMap<Kind, Point> = BTreeMap::new();
        for point in name.rows.iter().filter_map(|row| row.point.clone()) {
            let known = own.remove(&point.kind);
            let all = match known {
                Some(known) => known.and(point),
                None => point,
            };
            own.insert(all.kind, all);
        }
        for (kind, point) in own {
            let sample = sample(&point);
            if sample.clock_s > 0.0 {
                let job = Job { name, point, sample };
                by_kind.entry(kind).or_default().push(job);
            }
        }
    }
    by_kind.into_iter().filter_map(|(kind, jobs)| of_kind(kind, jobs)).collect()
}

/// A job on the clock of one unit: worker time over the workers of all units.
fn sample(point: &Point) -> Sample {
    Sample {
        set_ups: point.set_ups / point.workers,
        book_s: point.book_s / point.workers,
        clock_s: (point.used_s - point.other_s) / point.workers,
    }
}

fn of_kind(kind: Kind, jobs: Vec<Job<'_>>) -> Option<Learned> {
    // Jobs of another book are no measure of this one.
    let numbers = jobs.first()?.point.numbers.clone();
    let (jobs, others): (Vec<Job<'_>>, Vec<Job<'_>>) =
        jobs.into_iter().partition(|job| job.point.numbers == numbers);
    let all = jobs.iter().map(|job| job.point.clone()).reduce(Point::and)?;
    let book_set_up_s = all.number(Key::SetUp);
    let (fitted, from, off, outcome) = judged(&jobs, book_set_up_s);
    let samples: Vec<Sample> = from.iter().map(|&i| jobs[i].sample).collect();
    let factor = fitted.map_or(1.0, |fit| fit.factor);
    let factor_error = fitted.map_or(0.0, |fit| fit.factor_error);
    let has_set_up = numbers.iter().any(|(key, _)| *key == Key::SetUp);
    let told = |&i: &usize| named(jobs[i].name);
    Some(Learned {
        kind,
        jobs: from.len(),
        set_up: has_set_up.then(|| SetUp {
            book: book_set_up_s,
            value: fitted.map_or(book_set_up_s, |fit| fit.set_up_s),
            origin: fitted.map_or(Origin::Book, |fit| fit.origin),
        }),
        rates: all
            .forms()
            .into_iter()
            .map(|(key, form)| {
                let book = all.number(key);
                let value = book / factor;
                Rate { key, form, book, value, error: value * factor_error / factor }
            })
            .collect(),
        spread: fitted.map_or(0.0, |fit| fit.spread(&samples)),
        off: off.iter().map(told).collect(),
        other_book: others.iter().map(|job| named(job.name)).collect(),
        outcome,
    })
}

fn named(job: &CloseOut) -> String {
    match &job.number {
        Some(number) => format!("{}, job {number}", job.job),
        None => job.job.clone(),
    }
}

/// The fit, the jobs that it is from, those that are off, and what follows. One job that is off the
/// fit of the others is left out where enough others are left.
fn judged(jobs: &[Job<'_>], book_set_up_s: f64) -> (Option<Fit>, Vec<usize>, Vec<usize>, Outcome) {
    let samples: Vec<Sample> = jobs.iter().map(|job| job.sample).collect();
    let all: Vec<usize> = (0..jobs.len()).collect();
    if jobs.len() < LEAST_JOBS {
        return (None, all, Vec::new(), Outcome::TooFew);
    }
    let whole = fit(&samples, book_set_up_s);
    if let Some(whole) = whole.filter(|whole| whole.holds(&samples)) {
        let outcome = against_book(&whole, &samples, book_set_up_s);
        return (Some(whole), all, Vec::new(), outcome);
    }
    let without = |out: usize| {
        let mut rest = samples.clone();
        rest.remove(out);
        let others = fit(&rest, book_set_up_s)?;
        let alone = others.holds(&rest) && others.distance(&samples[out]) > AGREE;
        alone.then(|| (others.spread(&rest), out, others, rest))
    };
    let best = all.iter().filter_map(|&out| without(out));
    match (best.min_by(|a, b| a.0.total_cmp(&b.0)), whole) {
        (Some((_, out, others, rest)), _) if rest.len() >= LEAST_JOBS => {
            let from = all.into_iter().filter(|&i| i != out).collect();
            let outcome = against_book(&others, &rest, book_set_up_s);
            (Some(others), from, vec![out], outcome)
        }
        (Some((_, out, ..)), _) => (None, all, vec![out], Outcome::Disagree),
        (None, Some(whole)) => {
            let is_off = |i: &usize| whole.distance(&samples[*i]) > AGREE;
            let off = all.iter().copied().filter(is_off).collect();
            (None, all, off, Outcome::Disagree)
        }
        (None, None) => (None, all, Vec::new(), Outcome::NoRate),
    }
}

/// The book is left as it is where it foresees every job about as the fit does.
fn against_book(fit: &Fit, samples: &[Sample], book_set_up_s: f64) -> Outcome {
    let close = |job: &Sample| {
        let (book_s, fit_s) = (book_set_up_s * job.set_ups + job.book_s, fit.clock_s(job));
        (book_s - fit_s).abs() <= CLOSE * fit_s
    };
    if samples.iter().all(close) { Outcome::AsItIs } else { Outcome::Change }
}
