//! What is put right in the schedule that was chosen, without touching its finish.

use std::collections::BTreeSet;

use super::Network;
use super::activity::{Effort, Mode};
use super::calendar::Calendar;
use super::choose::{Choice, SHORT_DAY_S};
use super::serial::{Serial, Variant};
use super::shift::Fit;

/// Activities beyond which a schedule stays as it was chosen: the time for it grows with their cube.
const MOST_REFINED: usize = 100;

/// Lets activities start earlier where hands and machines stand idle, and takes out days between
/// that would hold hardly any work.
pub(super) fn refine(network: &Network, mut choice: Choice) -> Choice {
    if network.activities.len() > MOST_REFINED {
        return choice;
    }
    pull_forward(network, &mut choice);
    while let Some(fewer) = without_short_day(network, &choice) {
        choice = fewer;
    }
    choice
}

impl Choice {
    /// The days as they are worked.
    pub fn calendar<'a>(&'a self, network: &'a Network) -> &'a Calendar {
        self.days.as_ref().unwrap_or(&network.calendar)
    }

    /// Every stretch in which hands and machines are held, by an activity or by what is done because
    /// it comes too late.
    pub fn uses<'a>(&'a self, network: &'a Network) -> impl Iterator<Item = Use<'a>> {
        (0..self.slots.len()).flat_map(|index| self.uses_of(network, index))
    }

    fn uses_of<'a>(
        &self,
        network: &'a Network,
        index: usize,
    ) -> impl Iterator<Item = Use<'a>> + use<'a> {
        let (slot, manner) = (self.slots[index], self.manners[index]);
        let activity = &network.activities[index];
        let late = activity.late.as_ref().map(|late| &late.effort);
        let own = Use {
            index,
            effort: late.filter(|_| slot.instead).unwrap_or(&activity.effort),
            mode: if slot.instead { manner.late } else { manner.mode },
            fit: slot.fit,
            first: false,
        };
        let first = slot.first.zip(late).map(|(fit, effort)| Use {
            index,
            effort,
            mode: manner.late,
            fit,
            first: true,
        });
        first.into_iter().chain([own])
    }

    /// The calendar days that hold work, with how much of it, s.
    fn worked_days(&self, network: &Network) -> Vec<(i64, i64)> {
        let calendar = self.calendar(network);
        let mut pieces: Vec<(i64, i64)> = self
            .uses(network)
            .flat_map(|used| calendar.pieces(&used.fit, used.effort.length(used.mode)))
            .map(|piece| (piece.start_s, piece.end_s))
            .collect();
        pieces.sort_unstable();
        let mut days: Vec<(i64, i64)> = Vec::new();
        let mut until = i64::MIN;
        for (start, end) in pieces {
            let (day, _) = calendar.day(start);
            let more = (end - start.max(until)).max(0);
            match days.last_mut() {
                Some((last, worked)) if *last == day => *worked += more,
                _ => days.push((day, more)),
            }
            until = until.max(end);
        }
        days
    }
}

/// An activity, or what is done because it comes too late, while it holds hands and machines.
#[derive(Clone, Copy)]
pub(super) struct Use<'a> {
    /// The activity.
    pub index: usize,
    pub effort: &'a Effort,
    pub mode: Mode,
    pub fit: Fit,
    /// Whether it is what goes before an activity that comes too late.
    pub first: bool,
}

impl Use<'_> {
    /// Whether it holds machines of a kind.
    pub fn uses(&self, machine: usize) -> bool {
        self.effort.machines.contains(&machine)
    }
}

/// Lets each activity start at the first moment at which nothing else is in its way. One that alone
/// ends last stays: the finish is the one that was chosen among monotone ones. None goes to a day
/// for which nobody came.
fn pull_forward(network: &Network, choice: &mut Choice) {
    let days: BTreeSet<i64> = choice.worked_days(network).iter().map(|day| day.0).collect();
    let mut by_start: Vec<usize> = (0..choice.slots.len()).collect();
    by_start.sort_by_key(|&index| (choice.slots[index].fit.start, index));
    for index in by_start {
        let last = |other: usize| choice.slots[other].fit.end == choice.finish;
        let alone =
            last(index) && (0..choice.slots.len()).filter(|&other| last(other)).count() == 1;
        if choice.slots[index].late_s == 0
            && !alone
            && let Some(fit) = earlier(network, choice, index, &days)
        {
            choice.slots[index].fit = fit;
            choice.slots[index].held = false;
        }
    }
}

fn earlier(network: &Network, choice: &Choice, index: usize, days: &BTreeSet<i64>) -> Option<Fit> {
    let calendar = choice.calendar(network);
    let activity = &network.activities[index];
    let own = choice.uses_of(network, index).last()?;
    let links = activity.links.iter();
    let ready = links.map(|link| choice.slots[link.before].fit.end.saturating_add(link.opens_s));
    let ready = ready.max().unwrap_or(0).max(0);
    let others: Vec<Use> = choice.uses(network).filter(|used| used.index != index).collect();
    let releases = others.iter().flat_map(|used| [used.fit.end, used.fit.free]);
    let mut moments: Vec<i64> = releases.filter(|&at| ready < at && at < own.fit.start).collect();
    moments.push(ready);
    moments.sort_unstable();
    moments.dedup();
    let in_time = |fit: &Fit| {
        network.closing(index).all(|(next, _, closes_s)| {
            let next = &choice.slots[next];
            next.late_s > 0 || next.fit.start <= fit.end.saturating_add(closes_s)
        })
    };
    moments.into_iter().find_map(|at| {
        let fit = calendar.fit(at, activity.effort.length(own.mode))?;
        let moved = Use { fit, ..own };
        (fit.start < own.fit.start
            && days.contains(&calendar.day(fit.start).0)
            && in_time(&fit)
            && has_room(network, &others, &moved))
        .then_some(fit)
    })
}

/// Whether hands and machines suffice for one more.
fn has_room(network: &Network, others: &[Use], more: &Use) -> bool {
    let (from, to) = (more.fit.start, more.fit.free);
    let begun = others.iter().map(|used| used.fit.start);
    let moments = begun.filter(|&at| from < at && at < to).chain([from]);
    let mut moments = moments.filter(|_| from < to);
    moments.all(|at| {
        let busy = |used: &&Use| used.fit.start <= at && at < used.fit.free;
        let hands: usize = others.iter().filter(busy).map(|used| used.mode.hands).sum();
        let machines = more.effort.machines.iter().all(|&machine| {
            let runs =
                |used: &&Use| used.uses(machine) && used.fit.start <= at && at < used.fit.end;
            let units: usize = others.iter().filter(runs).map(|used| used.mode.units).sum();
            at >= more.fit.end || units + more.mode.units <= network.machines[machine]
        });
        machines && hands + more.mode.hands <= network.crew
    })
}

/// The schedule without a day between that holds less than an hour of work, where its finish stays.
fn without_short_day(network: &Network, choice: &Choice) -> Option<Choice> {
    let days = choice.worked_days(network);
    let between = days.get(1..days.len().saturating_sub(1))?;
    let short = between.iter().filter(|day| day.1 < SHORT_DAY_S);
    short.into_iter().find_map(|&(day, _)| {
        let calendar = choice.calendar(network).without(day);
        let variant = Variant { order: &choice.order, manners: &choice.manners, hold: choice.hold };
        let mut serial = Serial::new(network);
        if !serial.generate(&calendar, variant, &[]) || serial.late > choice.late {
            return None;
        }
        let mut fewer = Choice {
            order: choice.order.clone(),
            manners: choice.manners.clone(),
            slots: serial.slots,
            days: Some(calendar),
            ..*choice
        };
        pull_forward(network, &mut fewer);
        let ends = fewer.slots.iter().map(|slot| slot.fit.end).max();
        (ends == Some(choice.finish) && fewer.worked_days(network).len() < days.len())
            .then_some(fewer)
    })
}
