//! Fitting a work into the working days.
//!
//! Every rule here is monotone: a work that may start later, or lasts longer, neither starts nor
//! ends earlier. A rule is a set of moments at which a work of some length may start; the work takes
//! the first such moment, and a longer work has fewer of them.

use super::calendar::Calendar;

/// Time after set-up for which it pays to begin a work that is then broken off overnight, s: common
/// practice.
const STINT_S: i64 = 15 * 60;

/// The moments of a working day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Hours {
    /// Calendar days after the first.
    pub day: i64,
    /// Work begins.
    pub open: i64,
    /// Lunch begins.
    pub noon: i64,
    /// And ends.
    pub back: i64,
    /// Work ends.
    pub close: i64,
    /// It ends by then where that finishes it.
    pub over: i64,
}

/// A working day, and the working time of those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shift {
    pub hours: Hours,
    pub before: i64,
}

/// When a work is done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Fit {
    pub start: i64,
    pub end: i64,
    /// When its hands may begin another: those who worked through lunch eat first.
    pub free: i64,
    /// Whether it may not be broken off and had to be, because no day is long enough.
    pub divided: bool,
}

/// A stretch of work without a break.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// s after midnight of the first day.
    pub start_s: i64,
    /// s after midnight of the first day.
    pub end_s: i64,
}

impl Hours {
    /// Working time, s.
    pub fn length(&self) -> i64 {
        self.worked(self.close)
    }

    /// The longest work in one piece, s.
    pub fn longest(&self) -> i64 {
        self.worked(self.over)
    }

    /// Working time until a moment, s.
    pub fn worked(&self, at: i64) -> i64 {
        at.clamp(self.open, self.noon) - self.open + (at - self.back).max(0)
    }

    /// The moment by which so much has been worked.
    fn at(&self, worked: i64) -> i64 {
        let morning = self.noon - self.open;
        if worked <= morning {
            self.open + worked
        } else {
            self.back.saturating_add(worked - morning)
        }
    }

    /// The first moment from `at` on at which somebody works.
    fn clip(&self, at: i64) -> i64 {
        if (self.noon..self.back).contains(&at) { self.back } else { at.max(self.open) }
    }

    /// A work in one piece that starts at a moment of this day: when it ends, and when its hands
    /// have eaten.
    fn in_one(&self, start: i64, clock_s: i64) -> (i64, i64) {
        let end = start.saturating_add(clock_s);
        let through = start < self.noon && end > self.noon;
        let lunch = if through { self.back - self.noon } else { 0 };
        (end, end.saturating_add(lunch))
    }
}

/// How long a work is, and how it may lie in the days.
#[derive(Clone, Copy, Debug)]
pub(super) struct Length {
    pub clock_s: i64,
    pub setup_s: i64,
    pub cut: bool,
    pub dry: bool,
}

impl Calendar {
    /// When a work that can start at a moment is done; `None` beyond the days that are planned.
    pub(super) fn fit(&self, at: i64, length: Length) -> Option<Fit> {
        let shifts = self.shifts(length.dry);
        let first = first_open(shifts, at);
        if length.cut {
            fit_cut(shifts, first, at, length)
        } else {
            self.fit_whole(shifts, first, at, length.clock_s)
        }
    }

    /// A work in one piece. One that is longer than any day starts in the morning and is broken off.
    fn fit_whole(&self, shifts: &[Shift], first: usize, at: i64, clock_s: i64) -> Option<Fit> {
        let divided = clock_s > self.longest_s;
        shifts[first..].iter().find_map(|shift| {
            let h = shift.hours;
            let start = h.clip(at);
            let (end, free) = if divided {
                let end = end_of(shifts, shift.before.saturating_add(clock_s))?;
                (end, end)
            } else {
                h.in_one(start, clock_s)
            };
            let fits = if divided { start == h.open } else { start < h.close && free <= h.over };
            fits.then_some(Fit { start, end, free, divided })
        })
    }

    /// The stretches of a work between two moments.
    pub(super) fn pieces(&self, fit: &Fit, length: Length) -> Vec<Piece> {
        if !length.cut && !fit.divided {
            return vec![Piece { start_s: fit.start, end_s: fit.end }];
        }
        let shifts = self.shifts(length.dry);
        let first = first_open(shifts, fit.start);
        let mut pieces: Vec<Piece> = Vec::new();
        for shift in shifts[first..].iter().take_while(|s| s.hours.open <= fit.end) {
            let h = shift.hours;
            let close = if fit.end <= h.over { fit.end } else { h.close };
            for (from, to) in [(h.open, h.noon), (h.back, close)] {
                let (start_s, end_s) = (from.max(fit.start), to.min(fit.end));
                match pieces.last_mut() {
                    Some(last) if last.end_s == start_s => last.end_s = end_s.max(start_s),
                    _ if start_s < end_s => pieces.push(Piece { start_s, end_s }),
                    _ => {}
                }
            }
        }
        pieces
    }
}

/// The first working day that isn't over by a moment. Most plans are short, and it is near.
fn first_open(shifts: &[Shift], at: i64) -> usize {
    let is_over = |shift: &Shift| shift.hours.close <= at;
    let mut near = 4;
    while shifts.get(near).is_some_and(is_over) {
        near *= 4;
    }
    shifts[..shifts.len().min(near)].partition_point(is_over)
}

/// A work that may be broken off. It is begun where it ends that day, or where enough of the day is
/// left to set up and get something done.
fn fit_cut(shifts: &[Shift], first: usize, at: i64, length: Length) -> Option<Fit> {
    let worth_s = length.clock_s.min(length.setup_s.saturating_add(STINT_S));
    let (shift, start) = shifts[first..].iter().find_map(|shift| {
        let h = shift.hours;
        let start = h.clip(at);
        let left = h.length() - h.worked(start);
        let ends = h.at(h.worked(start).saturating_add(length.clock_s)) <= h.over;
        (start < h.close && (ends || left >= worth_s.min(h.length()))).then_some((shift, start))
    })?;
    let worked = shift.hours.worked(start).saturating_add(length.clock_s);
    let end = if shift.hours.at(worked) <= shift.hours.over {
        shift.hours.at(worked).max(start)
    } else {
        end_of(shifts, shift.before.saturating_add(worked))?
    };
    Some(Fit { start, end, free: end, divided: false })
}

/// The moment by which so much has been worked on all days together, with overtime on the last.
fn end_of(shifts: &[Shift], worked: i64) -> Option<i64> {
    let last = shifts.partition_point(|shift| {
        let overtime = shift.hours.over - shift.hours.close;
        shift.before + shift.hours.length() + overtime < worked
    });
    let shift = shifts.get(last)?;
    Some(shift.hours.at(worked - shift.before))
}
