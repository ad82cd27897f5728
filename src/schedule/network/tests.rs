//! Schedules by hand, what always holds, and how much is reckoned for it.

mod bounds;
mod hand;
mod properties;

use jiff::civil::{Date, date};

use super::*;

/// Machines of the small floors: one floor grinder, two hand grinders, one filling gun, two vacuums.
const FLOOR_GRINDER: usize = 0;
const HAND_GRINDER: usize = 1;
const GUN: usize = 2;
const VACUUM: usize = 3;
const MACHINES: [usize; 4] = [1, 2, 1, 2];

/// 8:00 to 16:30 with half an hour's lunch at noon, and half an hour of overtime.
fn days() -> Days {
    Days {
        starts_s: 8 * 3600,
        hours_s: 8 * 3600,
        lunch_s: 1800,
        overtime_s: 1800,
        ..Days::default()
    }
}

/// The same from a first day, with the federal holidays.
fn days_from(first: Date) -> Days {
    Days { first: Some(first), holidays: Holidays::Federal, ..days() }
}

fn network(crew: usize, days: &Days, activities: Vec<Activity>) -> Network {
    let mut network =
        Network { activities, crew, machines: MACHINES.to_vec(), calendar: Calendar::new(days) };
    for (key, activity) in network.activities.iter_mut().enumerate() {
        activity.key = key;
    }
    network
}

/// A work of one worker that may be broken off, of so many minutes.
fn work(minutes: i64) -> Activity {
    Activity {
        effort: Effort {
            work_s: 60 * minutes,
            hands: 1,
            most_units: 1,
            cut: true,
            ..Effort::default()
        },
        ..Activity::default()
    }
}

/// A coat: two workers, in one piece, on a dry day.
fn coat(minutes: i64) -> Activity {
    let mut coat = work(minutes).hands(2);
    coat.effort.cut = false;
    coat.effort.dry = true;
    coat
}

impl Activity {
    fn hands(mut self, hands: usize) -> Self {
        self.effort.hands = hands;
        self
    }

    /// A machine, as many at work as there are.
    fn with(mut self, machine: usize) -> Self {
        self.effort.machines = vec![machine];
        self.effort.most_units = MACHINES[machine];
        self
    }

    fn set_up(mut self, minutes: i64) -> Self {
        self.effort.setup_s = 60 * minutes;
        self
    }

    fn after(self, before: usize, minutes: i64) -> Self {
        self.within(before, minutes, None)
    }

    fn within(mut self, before: usize, opens: i64, closes: Option<i64>) -> Self {
        self.links.push(Link {
            before,
            opens_s: 60 * opens,
            closes_s: closes.map(|minutes| 60 * minutes),
        });
        self
    }

    fn or_late(mut self, late: Self, instead: bool) -> Self {
        self.late = Some(Late { effort: late.effort, instead });
        self
    }
}
