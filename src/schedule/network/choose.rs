//! The choice among the schedules of the family.

use std::ops::ControlFlow;

use super::Network;
use super::calendar::Calendar;
use super::family::{self, manners};
use super::serial::{Manner, Serial, Slot, Variant};
use super::shift::Length;

/// Finishes within the same quarter of an hour are the same to a crew: the order of the trade goes
/// before another that gains less, s.
pub const GRAIN_S: i64 = 15 * 60;
/// A last day that would hold less work than this is done on the evening before, s.
pub const SHORT_DAY_S: i64 = 3600;

/// The schedule that was chosen.
#[derive(Debug)]
pub(super) struct Choice {
    pub order: Vec<usize>,
    pub manners: Vec<Manner>,
    pub slots: Vec<Slot>,
    /// When the last activity ends.
    pub finish: i64,
    /// Windows that were missed.
    pub late: usize,
    /// What makes it better than another: the finish to the grain, then missed windows, then how
    /// long the crew is there, to the grain.
    pub rank: (i64, usize, i64),
    pub hold: bool,
    /// The days as they are worked, where they aren't those of the network.
    pub days: Option<Calendar>,
}

/// The best schedule of the family, the first of several that are as good; `None` where all go
/// beyond the days that are planned.
pub(super) fn choose(network: &Network) -> Option<Choice> {
    let bound = Bound::new(network);
    bound.least(network)?;
    let mut serial = Serial::new(network);
    let mut best: Option<Choice> = None;
    let mut latest = Vec::new();
    let _ = family::each(network, |variant| {
        let Some(days) = generate(network, &mut serial, variant, &latest) else {
            return ControlFlow::Continue(());
        };
        let calendar = days.as_ref().unwrap_or(&network.calendar);
        let there = there(calendar, &serial.slots);
        let rank = (grain(serial.finish), serial.late, grain(there));
        if best.as_ref().is_some_and(|best| best.rank <= rank) {
            return ControlFlow::Continue(());
        }
        best = Some(Choice {
            order: variant.order.to_vec(),
            manners: variant.manners.to_vec(),
            slots: serial.slots.clone(),
            finish: serial.finish,
            late: serial.late,
            rank,
            hold: variant.hold,
            days,
        });
        latest =
            best.as_ref().map_or_else(Vec::new, |best| bound.latest(network, limit(network, best)));
        ControlFlow::Continue(())
    });
    best
}

/// How long the crew is there, s: on each day on which something ends or goes on, from the morning
/// until the last of it.
fn there(calendar: &Calendar, slots: &[Slot]) -> i64 {
    let mut days: Vec<(usize, i64)> = Vec::new();
    let mut until = |day: usize, end: i64| match days.iter_mut().find(|(d, _)| *d == day) {
        Some(known) => known.1 = known.1.max(end),
        None => days.push((day, end)),
    };
    let shifts = calendar.shifts(false);
    let fits = slots.iter().flat_map(|slot| slot.first.into_iter().chain([slot.fit]));
    for fit in fits.filter(|fit| fit.end > fit.start) {
        let (Some(from), Some(to)) =
            (calendar.working_day(fit.start), calendar.working_day(fit.end - 1))
        else {
            continue;
        };
        for (day, shift) in shifts.iter().enumerate().take(to).skip(from) {
            until(day, shift.hours.close);
        }
        until(to, fit.end);
    }
    days.iter().map(|&(day, end)| shifts[day].hours.worked(end)).sum()
}

/// The finish as schedules are compared by it.
fn grain(finish: i64) -> i64 {
    finish.saturating_add(GRAIN_S - 1).div_euclid(GRAIN_S) * GRAIN_S
}

/// How late a schedule may end and still be better than the best so far. What ends in the first
/// hour of a day may yet end on the evening before, after the hours of that day.
fn limit(network: &Network, best: &Choice) -> i64 {
    let same = grain(best.finish);
    let shifts = network.calendar.shifts(false);
    let over = shifts.partition_point(|shift| shift.hours.close < best.finish);
    let morning = shifts.get(over).map_or(0, |shift| shift.hours.open);
    same.max(morning.saturating_add(SHORT_DAY_S))
}

/// Makes one schedule of the family, with the days that it changed; `None` where it can't be better
/// than the best so far.
fn generate(
    network: &Network,
    serial: &mut Serial,
    variant: Variant,
    latest: &[i64],
) -> Option<Option<Calendar>> {
    let days = &network.calendar;
    if !serial.generate(days, variant, latest) {
        return None;
    }
    let Some(evening) = evening_before(days, serial.finish) else {
        return Some(None);
    };
    if serial.generate(&evening, variant, &[]) {
        return Some(Some(evening));
    }
    serial.generate(days, variant, &[]).then_some(None)
}

/// The days without a last one that is hardly worth coming for, the day before it longer instead.
///
/// Where everything ends by that evening, the finish stays monotone: if less material ended on that
/// day or before anyhow, it ends no later than more material does on the longer day; and if it also
/// needs the short day, that is as short for it, and the same longer day is tried.
fn evening_before(calendar: &Calendar, finish: i64) -> Option<Calendar> {
    let last = calendar.working_day(finish)?;
    let before = last.checked_sub(1)?;
    let short = finish - calendar.shifts(false)[last].hours.open <= SHORT_DAY_S;
    short.then(|| calendar.ending_late(before, SHORT_DAY_S))
}

/// What no schedule can beat: hands and machines without number.
struct Bound(Vec<Length>);

impl Bound {
    fn new(network: &Network) -> Self {
        let manners = manners(network, network.crew, false, |_| usize::MAX);
        let lengths = network.activities.iter().zip(&manners);
        let least = lengths.map(|(activity, manner)| {
            let mut length = activity.effort.length(manner.mode);
            if activity.late.as_ref().is_some_and(|late| late.instead) {
                length.clock_s = length.clock_s.min(manner.late.clock_s);
            }
            length
        });
        Self(least.collect())
    }

    /// When each activity has to end for the last one to end by a limit.
    fn latest(&self, network: &Network, limit: i64) -> Vec<i64> {
        let mut latest = vec![limit; self.0.len()];
        for (index, activity) in network.activities.iter().enumerate().rev() {
            let (mut in_time, mut too_late) = (-1, limit + 1);
            while !activity.links.is_empty() && too_late - in_time > 1 {
                let middle = in_time.midpoint(too_late);
                match network.calendar.fit(middle, self.0[index]) {
                    Some(fit) if fit.end <= latest[index] => in_time = middle,
                    _ => too_late = middle,
                }
            }
            for link in &activity.links {
                latest[link.before] = latest[link.before].min(in_time.saturating_sub(link.opens_s));
            }
        }
        latest
    }

    fn least(&self, network: &Network) -> Option<i64> {
        let finish = self.least_on(network, &network.calendar)?;
        let evening = evening_before(&network.calendar, finish);
        let earlier = evening.and_then(|days| self.least_on(network, &days));
        Some(earlier.unwrap_or(finish))
    }

    fn least_on(&self, network: &Network, calendar: &Calendar) -> Option<i64> {
        let mut ends: Vec<i64> = Vec::with_capacity(self.0.len());
        for (activity, &length) in network.activities.iter().zip(&self.0) {
            let links = activity.links.iter();
            let ready = links.map(|link| ends[link.before].saturating_add(link.opens_s));
            ends.push(calendar.fit(ready.max().unwrap_or(0), length)?.end);
        }
        Some(ends.into_iter().max().unwrap_or(0))
    }
}
