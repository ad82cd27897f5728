//! The schedule of a list of activities with workers, machines and waits, on working days.
//!
//! Resource-constrained project scheduling by serial schedule generation (published: Kolisch and
//! Hartmann 1999, from memory): [`solve`] makes a family of schedules, in which no activity
//! overtakes another, and takes the best. It knows nothing of floors and shops: integer seconds,
//! counted workers and machines, and days.
//!
//! What it keeps to, by its construction: no worker and no machine twice at once, no wait broken,
//! nothing over a night that can't be broken off; more material never ends earlier and another
//! worker never later, to the quarter of an hour ([`GRAIN_S`]), as long as no window closes.

mod activity;
mod calendar;
mod choose;
mod family;
mod holidays;
mod orders;
mod placement;
mod refine;
mod serial;
mod shift;
#[cfg(test)]
mod tests;

pub use activity::{Activity, Effort, Late, Link, MachineIndex};
pub use calendar::{Calendar, DAY_S, Days, MOST_DAYS};
pub use choose::{GRAIN_S, SHORT_DAY_S};
pub use holidays::Holidays;
pub use placement::{Held, Part, Placement, Schedule};
pub use shift::Piece;

/// Workers and machines of a kind beyond which more would change nothing on any floor.
const MOST_HANDS: usize = 1000;

/// What is to be scheduled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Network {
    /// In the order of the trade: each after what it waits for.
    pub activities: Vec<Activity>,
    /// Workers, all alike.
    pub crew: usize,
    /// How many there are of each machine.
    pub machines: Vec<usize>,
    /// The working days.
    pub calendar: Calendar,
}

impl Network {
    /// Whether a wait has an end.
    fn has_closing(&self) -> bool {
        let mut links = self.activities.iter().flat_map(|activity| &activity.links);
        links.any(|link| link.closes_s.is_some())
    }

    /// The activities that have to start within some time of the end of one: which, by which wait,
    /// and its most.
    fn closing(&self, before: usize) -> impl Iterator<Item = (usize, &Link, i64)> {
        let after = self.activities.iter().enumerate().skip(before + 1);
        let links =
            after.flat_map(|(index, next)| next.links.iter().map(move |link| (index, link)));
        links.filter_map(move |(index, link)| {
            (link.before == before).then_some((index, link, link.closes_s?))
        })
    }
}

/// Why there is no schedule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unplannable {
    /// Nobody to do it.
    NoCrew,
    /// An activity wants a machine of which there is none.
    NoMachine {
        /// Its place in the list of activities.
        activity: usize,
        /// Which machine it wants.
        machine: MachineIndex,
    },
    /// An activity waits for one that doesn't stand before it.
    Disordered {
        /// Its place in the list of activities.
        activity: usize,
    },
    /// It takes more than [`MOST_DAYS`] working days, or there are none.
    TooLong,
}

/// Schedules a list of activities.
///
/// # Errors
///
/// Where the list can't be done with these hands, machines and days.
pub fn solve(network: &Network) -> Result<Schedule, Unplannable> {
    let network = sound(network)?;
    let choice = choose::choose(&network).ok_or(Unplannable::TooLong)?;
    let trade_order = choice.order.iter().is_sorted();
    let choice = refine::refine(&network, choice);
    Ok(Schedule {
        placements: placement::placements(&network, &choice),
        finish_s: choice.finish,
        trade_order,
    })
}

/// The network without what has no meaning: machines named twice, crews without number.
fn sound(network: &Network) -> Result<Network, Unplannable> {
    if network.crew == 0 {
        return Err(Unplannable::NoCrew);
    }
    let mut network = network.clone();
    network.crew = network.crew.min(MOST_HANDS);
    for count in &mut network.machines {
        *count = (*count).min(MOST_HANDS);
    }
    for (activity, wanted) in network.activities.iter_mut().enumerate() {
        if wanted.links.iter().any(|link| link.before >= activity) {
            return Err(Unplannable::Disordered { activity });
        }
        let late = wanted.late.iter_mut().map(|late| &mut late.effort);
        for effort in late.chain([&mut wanted.effort]) {
            effort.machines.sort_unstable();
            effort.machines.dedup();
            let owned = |machine: usize| network.machines.get(machine).is_some_and(|&n| n > 0);
            if let Some(&machine) = effort.machines.iter().find(|&&machine| !owned(machine)) {
                return Err(Unplannable::NoMachine { activity, machine });
            }
        }
    }
    Ok(network)
}
