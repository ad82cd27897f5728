//! The schedule as it is handed out: when, by whom, with what, and what held it up.

use super::Network;
use super::activity::MachineIndex;
use super::choose::Choice;
use super::refine::Use;
use super::shift::Piece;

/// What a placement is of its activity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The activity itself.
    Work,
    /// What is done before it, because it comes too late.
    First,
    /// What is done in its place, because it comes too late.
    Instead,
}

/// What an activity waited for before it started.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Nothing: it is the first of the day's work that it could be.
    Nothing,
    /// One of its waits, by its place in the list of them, which is over at that moment. An activity
    /// that starts later than this waits for the next working day on which it has room.
    Wait {
        /// Which of its waits.
        link: usize,
        /// When it is over, s after midnight of the first day.
        until_s: i64,
    },
    /// Hands, until enough of them were free.
    Hands,
    /// A machine of this kind, until one was free.
    Machine(MachineIndex),
    /// The morning: what follows it would miss its window overnight.
    Morning,
}

/// An activity in the schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Its place in the list of activities.
    pub activity: usize,
    /// What it is of the activity.
    pub part: Part,
    /// The stretches in which it is worked, in order; none where it takes no time.
    pub pieces: Vec<Piece>,
    /// When it starts, s after midnight of the first day.
    pub start_s: i64,
    /// When it ends, s after midnight of the first day.
    pub end_s: i64,
    /// When its workers are free: after lunch, where they worked through it.
    pub free_s: i64,
    /// Units at work.
    pub units: usize,
    /// Who works, counted from 0.
    pub workers: Vec<usize>,
    /// Which machines: the kind, and which of that kind, counted from 0.
    pub machines: Vec<(MachineIndex, usize)>,
    /// What it waited for.
    pub held: Held,
    /// By how much its window had closed when it could start, s; 0 where none had.
    pub late_s: i64,
    /// Whether it is to be done in one piece and is longer than a day: it is broken off overnight,
    /// and somebody has to say where.
    pub divided: bool,
}

/// When each activity runs, by whom and with what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// By start, then in the order of the activities.
    pub placements: Vec<Placement>,
    /// When the last one ends, s after midnight of the first day.
    pub finish_s: i64,
    /// Whether it is that of the order of the trade.
    pub trade_order: bool,
}

/// A worker or a machine, while lanes are handed out.
#[derive(Clone, Copy, Default)]
struct Lane {
    free: i64,
    /// What the lane did last. An activity that follows on from it prefers this lane.
    last: Option<usize>,
}

/// Hands out the lanes: by start, to those who did what comes before, then to the first that are
/// free. Those who work at a moment are never more than there are, so there is always one.
pub(super) fn placements(network: &Network, choice: &Choice) -> Vec<Placement> {
    let mut uses: Vec<Use> = choice.uses(network).collect();
    uses.sort_by_key(|used| (used.fit.start, used.index, !used.first));
    let mut workers = vec![Lane::default(); network.crew];
    let mut machines: Vec<Vec<Lane>> =
        network.machines.iter().map(|&n| vec![Lane::default(); n]).collect();
    let lanes = uses.iter().map(|used| {
        let befores = &network.activities[used.index].links;
        let knows = |lane: &Lane| {
            let last = lane.last;
            last.is_some_and(|last| last == used.index || befores.iter().any(|l| l.before == last))
        };
        let take = |lanes: &mut Vec<Lane>, count: usize, free: i64| {
            let idle = lanes.iter().enumerate().filter(|(_, lane)| lane.free <= used.fit.start);
            let mut idle: Vec<usize> = idle.map(|(which, _)| which).collect();
            idle.sort_by_key(|&which| !knows(&lanes[which]));
            idle.truncate(count);
            for &which in &idle {
                lanes[which] = Lane { free, last: Some(used.index) };
            }
            idle.sort_unstable();
            idle
        };
        let hands = take(&mut workers, used.mode.hands, used.fit.free);
        let kinds = used.effort.machines.iter();
        let taken = kinds.flat_map(|&kind| {
            let which = take(&mut machines[kind], used.mode.units, used.fit.end);
            which.into_iter().map(move |which| (kind, which)).collect::<Vec<_>>()
        });
        (hands, taken.collect::<Vec<_>>())
    });
    let lanes: Vec<_> = lanes.collect();
    let calendar = choice.calendar(network);
    let placed = uses.iter().zip(lanes).map(|(used, (workers, machines))| {
        let slot = &choice.slots[used.index];
        Placement {
            activity: used.index,
            part: match (used.first, slot.instead) {
                (true, _) => Part::First,
                (false, true) => Part::Instead,
                (false, false) => Part::Work,
            },
            pieces: calendar.pieces(&used.fit, used.effort.length(used.mode)),
            start_s: used.fit.start,
            end_s: used.fit.end,
            free_s: used.fit.free,
            units: used.mode.units,
            workers,
            machines,
            held: held(network, choice, &uses, used),
            late_s: slot.late_s,
            divided: used.fit.divided,
        }
    });
    placed.collect()
}

/// What an activity waited for: its last wait, if it starts as soon after that as the days allow,
/// otherwise what was given back last before it started.
fn held(network: &Network, choice: &Choice, uses: &[Use], used: &Use) -> Held {
    if choice.slots[used.index].held {
        return Held::Morning;
    }
    let links = network.activities[used.index].links.iter().enumerate();
    let over = links.map(|(link, wait)| {
        let end = choice.slots[wait.before].fit.end;
        (end.saturating_add(wait.opens_s), link)
    });
    let last = over.max_by_key(|&(until_s, link)| (until_s, std::cmp::Reverse(link)));
    let ready = last.map_or(0, |(until_s, _)| until_s.max(0));
    let first = choice.slots[used.index].first.filter(|_| !used.first);
    let length = used.effort.length(used.mode);
    let fit = choice.calendar(network).fit(first.map_or(ready, |first| first.end), length);
    if fit.is_none_or(|fit| fit.start >= used.fit.start) {
        return last.map_or(Held::Nothing, |(until_s, link)| Held::Wait { link, until_s });
    }
    let others = uses.iter().filter(|other| other.index != used.index);
    let given_back = others.flat_map(|other| {
        let shared = used.effort.machines.iter().filter(|&&machine| other.uses(machine));
        let machines = shared.map(|&machine| (other.fit.end, 1, Held::Machine(machine)));
        let hands = other.mode.hands > 0 && used.mode.hands > 0;
        machines.chain(hands.then_some((other.fit.free, 0, Held::Hands)))
    });
    let before = given_back.filter(|&(at, _, _)| at <= used.fit.start);
    before.max_by_key(|&(at, rank, _)| (at, rank)).map_or(Held::Nothing, |(_, _, held)| held)
}
