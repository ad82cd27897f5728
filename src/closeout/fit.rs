//! Least squares: clock time of one unit = set-up + factor × time at the rates of the book.

use super::model::Origin;
use super::suggest::{AGREE, LEAST_JOBS};

/// Set-up and rate are told apart where the largest job is at least so many times the smallest: jobs
/// that each vary by a tenth then give the set-up to within about a fifth of a middling job's time
/// (the rule is ours).
pub(super) const SIZES: f64 = 2.0;
/// A rate so many times faster or slower than the book's is no rate (beyond belief).
const MOST_OFF: f64 = 100.0;
/// Longest set-up that a shop book holds, s: a day.
const MOST_SET_UP_S: f64 = 86_400.0;

/// One job.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    /// Set-ups in it, of one unit.
    pub set_ups: f64,
    /// Time of one unit at the rates of the book, s.
    pub book_s: f64,
    /// Time on the clock of one unit, s.
    pub clock_s: f64,
}

/// A line through the jobs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    /// Set-up, s.
    pub set_up_s: f64,
    /// Where it comes from.
    pub origin: Origin,
    /// Time over the time at the rates of the book.
    pub factor: f64,
    /// Its standard error.
    pub factor_error: f64,
}

impl Fit {
    /// Time on the clock that it gives a job, s.
    pub(super) fn clock_s(&self, job: &Sample) -> f64 {
        self.set_up_s * job.set_ups + self.factor * job.book_s
    }

    /// How far a job lies from it, a share of the fit.
    pub(super) fn distance(&self, job: &Sample) -> f64 {
        let fit_s = self.clock_s(job);
        (job.clock_s - fit_s).abs() / fit_s
    }

    /// How far the furthest job lies from it, a share of the fit.
    pub(super) fn spread(&self, jobs: &[Sample]) -> f64 {
        let distances = jobs.iter().map(|job| self.distance(job));
        distances.fold(0.0, f64::max)
    }

    pub(super) fn holds(&self, jobs: &[Sample]) -> bool {
        self.spread(jobs) <= AGREE
    }

    fn scatter(&self, jobs: &[Sample], unknowns: usize) -> f64 {
        let squares = jobs.iter().map(|job| job.clock_s - self.clock_s(job));
        let free = jobs.len().saturating_sub(unknowns).max(1);
        squares.map(|off| off * off).sum::<f64>() / free as f64
    }
}

/// The fit of these jobs; `None` where it gives no rate that a shop book could hold. Fewer than three
/// jobs give a rate alone.
pub(super) fn fit(jobs: &[Sample], book_set_up_s: f64) -> Option<Fit> {
    let found = if jobs.len() >= LEAST_JOBS && differ(jobs) {
        let both = both(jobs)?;
        if both.set_up_s < 0.0 { rate_alone(jobs, 0.0, Origin::Nothing) } else { both }
    } else {
        rate_alone(jobs, book_set_up_s, Origin::Book)
    };
    let believed = (1.0 / MOST_OFF..=MOST_OFF).contains(&found.factor)
        && (0.0..=MOST_SET_UP_S).contains(&found.set_up_s);
    believed.then_some(found)
}

/// Whether the jobs differ enough in size, or in what was set up for them.
fn differ(jobs: &[Sample]) -> bool {
    let sizes = || jobs.iter().map(|job| job.book_s / job.set_ups);
    let least = sizes().fold(f64::INFINITY, f64::min);
    least.is_finite() && sizes().fold(0.0, f64::max) >= SIZES * least
}

fn sum(jobs: &[Sample], of: impl Fn(&Sample) -> f64) -> f64 {
    jobs.iter().map(of).sum()
}

/// Set-up and factor by the normal equations.
fn both(jobs: &[Sample]) -> Option<Fit> {
    let set_up_squares = sum(jobs, |j| j.set_ups * j.set_ups);
    let products = sum(jobs, |j| j.set_ups * j.book_s);
    let book_squares = sum(jobs, |j| j.book_s * j.book_s);
    let set_up_clock = sum(jobs, |j| j.set_ups * j.clock_s);
    let book_clock = sum(jobs, |j| j.book_s * j.clock_s);
    let divisor = set_up_squares * book_squares - products * products;
    let mut fit = Fit {
        set_up_s: (book_squares * set_up_clock - products * book_clock) / divisor,
        origin: Origin::Nothing,
        factor: (set_up_squares * book_clock - products * set_up_clock) / divisor,
        factor_error: 0.0,
    };
    let scatter = fit.scatter(jobs, 2);
    fit.origin = Origin::Jobs((scatter * book_squares / divisor).sqrt());
    fit.factor_error = (scatter * set_up_squares / divisor).sqrt();
    (divisor > 0.0 && fit.set_up_s.is_finite()).then_some(fit)
}

/// The factor beside a given set-up.
fn rate_alone(jobs: &[Sample], set_up_s: f64, origin: Origin) -> Fit {
    let squares = sum(jobs, |j| j.book_s * j.book_s);
    let worked = sum(jobs, |j| j.book_s * (j.clock_s - set_up_s * j.set_ups));
    let mut fit = Fit { set_up_s, origin, factor: worked / squares, factor_error: 0.0 };
    fit.factor_error = (fit.scatter(jobs, 1) / squares).sqrt();
    fit
}
