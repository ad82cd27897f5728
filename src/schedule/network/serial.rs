//! Serial schedule generation: one activity after another, in a given order, each with the hands and
//! machines that are free first.
//!
//! An activity starts at the earliest moment at which its waits are over and those are free; they
//! are kept for it until then, so that none that comes later in the order delays it. That is the
//! queue of many servers, first come first served, and of the kind of the job-based policies in the
//! literature on stochastic project scheduling (published: Möhring, Radermacher and Weiss 1984;
//! Stork 2001; serial generation: Kolisch 1996, Kolisch and Hartmann 1999; all from memory). It
//! gives up the gap before an activity that waits, and gains that it knows no anomalies (published:
//! Graham 1969): with the order and the units given, the finish is monotone. In three sentences:
//!
//! 1. Let the free times of a pool of workers or machines be sorted; an activity that needs m of
//!    them takes the first m, can't start before the m-th, and gives them back at its own end, so
//!    that the sorted free times after it are monotone in those before it and in its end (the
//!    recursion of Kiefer and Wolfowitz 1955).
//! 2. Its start is the latest of the ends before it with their waits and of one free time of each
//!    pool, moved by the calendar, whose rules are monotone (`shift.rs`).
//! 3. So by induction along the order every start, end and free time is monotone in every duration
//!    and wait, and falls when a worker is added, whose free time is the earliest of all.
//!
//! Two matters are outside of this. A work that wants more hands than the crew has takes the whole
//! crew, and with another worker is shorter and still takes the whole crew, or leaves some free:
//! everything before it had ended anyhow, so the third sentence holds. A window that closes breaks
//! it: an activity that comes too late is helped by whatever makes the one before it later still.

use super::activity::Mode;
use super::calendar::Calendar;
use super::shift::Fit;
use super::{Activity, Effort, Network};

/// How every activity runs, by its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Manner {
    /// The activity itself.
    pub mode: Mode,
    /// What is done where it comes too late.
    pub late: Mode,
}

/// Where an activity lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Slot {
    /// The activity; with `late`, what is done in its place.
    pub fit: Fit,
    /// What is done first, because it comes too late.
    pub first: Option<Fit>,
    /// Whether what is done instead of it stands in `fit`.
    pub instead: bool,
    /// By how much its window was missed, s.
    pub late_s: i64,
    /// Whether it waits for the morning, for the sake of one after it.
    pub held: bool,
}

/// One schedule of the family.
#[derive(Clone, Copy, Debug)]
pub(super) struct Variant<'a> {
    pub order: &'a [usize],
    pub manners: &'a [Manner],
    /// Whether an activity waits for the morning where its successor would miss a window.
    pub hold: bool,
}

/// A schedule in the making; its memory is used again.
#[derive(Debug)]
pub(super) struct Serial<'a> {
    network: &'a Network,
    /// When the workers are free, sorted; after them those of each machine.
    pools: Vec<Vec<i64>>,
    /// Where the activities lie.
    pub slots: Vec<Slot>,
    /// When the last one ends.
    pub finish: i64,
    /// How many came too late.
    pub late: usize,
}

/// Place of the workers among the pools; the machines follow.
const WORKERS: usize = 0;

impl<'a> Serial<'a> {
    pub fn new(network: &'a Network) -> Self {
        Self {
            network,
            pools: vec![Vec::new(); 1 + network.machines.len()],
            slots: Vec::new(),
            finish: 0,
            late: 0,
        }
    }

    /// Makes a schedule; false where it goes beyond the calendar, or an activity ends after its
    /// latest end, where such are given.
    pub fn generate(&mut self, calendar: &Calendar, variant: Variant, latest: &[i64]) -> bool {
        self.clear();
        for &index in variant.order {
            let Some(slot) = self.place(calendar, variant, index) else {
                return false;
            };
            if latest.get(index).is_some_and(|&latest| slot.fit.end > latest) {
                return false;
            }
            self.finish = self.finish.max(slot.fit.end);
            self.late += usize::from(slot.late_s > 0);
            self.slots[index] = slot;
        }
        true
    }

    fn clear(&mut self) {
        let sizes = std::iter::once(&self.network.crew).chain(&self.network.machines);
        for (pool, &size) in self.pools.iter_mut().zip(sizes) {
            pool.clear();
            pool.resize(size, 0);
        }
        self.slots.clear();
        self.slots.resize(self.network.activities.len(), Slot::default());
        self.finish = 0;
        self.late = 0;
    }

    fn place(&mut self, calendar: &Calendar, variant: Variant, index: usize) -> Option<Slot> {
        let manner = variant.manners[index];
        let activity = &self.network.activities[index];
        let (ready, closes) = self.window(activity);
        let earliest = self.earliest(&activity.effort, manner.mode, ready);
        let length = activity.effort.length(manner.mode);
        let soonest = calendar.fit(earliest, length)?;
        let held = variant.hold.then(|| self.held(calendar, variant, index, &soonest));
        let held = held.flatten();
        let fit = held.unwrap_or(soonest);
        let mut slot = Slot {
            fit,
            late_s: (fit.start - closes).max(0),
            held: held.is_some(),
            ..Slot::default()
        };
        if let (true, Some(late)) = (slot.late_s > 0, &activity.late) {
            // What goes before it goes on the same day: nobody comes a day early for that alone.
            let day = calendar.working_day(fit.start);
            let morning = day.map_or(0, |day| calendar.shifts(false)[day].hours.open);
            let from = if late.instead { ready } else { ready.max(morning) };
            let from = self.earliest(&late.effort, manner.late, from);
            let done = calendar.fit(from, late.effort.length(manner.late))?;
            self.take(&late.effort, manner.late, &done);
            slot.instead = late.instead;
            if late.instead {
                slot.fit = done;
                return Some(slot);
            }
            slot.first = Some(done);
            let from = self.earliest(&activity.effort, manner.mode, done.end);
            slot.fit = calendar.fit(from, length)?;
        }
        self.take(&activity.effort, manner.mode, &slot.fit);
        Some(slot)
    }

    /// The next morning's place for an activity after which another would miss its window.
    fn held(&self, calendar: &Calendar, variant: Variant, index: usize, fit: &Fit) -> Option<Fit> {
        let missed = |fit: &Fit| {
            self.network.closing(index).any(|(next, link, closes_s)| {
                let effort = &self.network.activities[next].effort;
                let opens = fit.end.saturating_add(link.opens_s);
                let next = calendar.fit(opens, effort.length(variant.manners[next].mode));
                next.is_none_or(|next| next.start > fit.end.saturating_add(closes_s))
            })
        };
        if !missed(fit) {
            return None;
        }
        let effort = &self.network.activities[index].effort;
        let shifts = calendar.shifts(effort.dry);
        let tomorrow = shifts.partition_point(|shift| shift.hours.open <= fit.start);
        let morning = shifts.get(tomorrow)?.hours.open;
        let fit = calendar.fit(morning, effort.length(variant.manners[index].mode))?;
        (!missed(&fit)).then_some(fit)
    }

    /// When the waits of an activity are over, and when the first of them closes.
    fn window(&self, activity: &Activity) -> (i64, i64) {
        let links = activity.links.iter();
        links.fold((0, i64::MAX), |(opens, closes), link| {
            let end = self.slots[link.before].fit.end;
            let shut = link.closes_s.map_or(i64::MAX, |s| end.saturating_add(s));
            (opens.max(end.saturating_add(link.opens_s)), closes.min(shut))
        })
    }

    /// The first moment from `ready` on at which hands and machines are free.
    fn earliest(&self, effort: &Effort, mode: Mode, ready: i64) -> i64 {
        demands(effort, mode).fold(ready, |at, (pool, count)| at.max(self.pools[pool][count - 1]))
    }

    fn take(&mut self, effort: &Effort, mode: Mode, fit: &Fit) {
        for (pool, count) in demands(effort, mode) {
            let free = if pool == WORKERS { fit.free } else { fit.end };
            let times = &mut self.pools[pool];
            let place = times.partition_point(|&time| time < free).max(count);
            times.copy_within(count..place, 0);
            times[place - count..place].fill(free);
        }
    }
}

/// The pools that an activity draws on, with how many of each.
fn demands(effort: &Effort, mode: Mode) -> impl Iterator<Item = (usize, usize)> {
    let workers = (mode.hands > 0).then_some((WORKERS, mode.hands));
    let machines = effort.machines.iter().map(move |m| (1 + m, mode.units));
    workers.into_iter().chain(machines)
}
