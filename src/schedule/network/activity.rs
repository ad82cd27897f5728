//! What a schedule is made of: activities, what one wants while it runs, and the waits between two.

use super::shift::Length;

/// A machine, counted from 0 in the shop's list.
pub type MachineIndex = usize;

/// What an activity wants while it runs. A *unit* is a set of hands and machines that works by
/// itself: a worker with a hand grinder, two workers with a squeegee.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Time that one unit works on the whole quantity, s.
    pub work_s: i64,
    /// Time before the work that more units don't shorten, s.
    pub setup_s: i64,
    /// It never takes less than this, s.
    pub least_s: i64,
    /// Workers of one unit; none for what goes on without anybody.
    pub hands: usize,
    /// Machines of one unit, one of each.
    pub machines: Vec<MachineIndex>,
    /// The most units that have room to work; at least one works.
    pub most_units: usize,
    /// Whether it may be broken off at lunch and overnight.
    pub cut: bool,
    /// Whether it is kept off days that are blocked by the weather.
    pub dry: bool,
}

/// A wait between the end of one activity and the start of another. It runs on the wall clock: what
/// cures does so at night and over a weekend too.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The activity before, by its place in the list; it stands before the one that waits.
    pub before: usize,
    /// Least time from its end, s.
    pub opens_s: i64,
    /// Most time from its end, s, where there is such a limit.
    pub closes_s: Option<i64>,
}

/// What is done where a wait lasted too long: a coat is abraded first, filler that went hard is
/// ground instead of shaved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Late {
    /// What it wants.
    pub effort: Effort,
    /// Whether it takes the place of the activity; otherwise it goes before it.
    pub instead: bool,
}

/// A work with what it takes and what it waits for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Activity {
    /// What the caller knows it by. The same kind of work should have the same key on every floor:
    /// the orders that are tried are drawn by it.
    pub key: usize,
    /// What it wants.
    pub effort: Effort,
    /// What it waits for.
    pub links: Vec<Link>,
    /// Whether it leaves hands for the activity after it in the list: edges beside the floor.
    pub beside: bool,
    /// What is done where one of its waits closed before it could start.
    pub late: Option<Late>,
}

/// How an activity runs: with how many units, and how long.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Mode {
    /// Units at work.
    pub units: usize,
    /// Workers of all of them together.
    pub hands: usize,
    /// Set-up and work on the clock, s.
    pub clock_s: i64,
}

impl Effort {
    /// How it runs in a crew of so many, with as many units as `share` of them make and at most
    /// `cap`. A crew smaller than one unit works as one, slower by as much as hands are missing.
    pub(super) fn mode(&self, crew: usize, share: usize, cap: usize, owned: &[usize]) -> Mode {
        let hands = self.hands.min(crew);
        let machines = self.machines.iter().map(|&m| owned.get(m).copied().unwrap_or(0));
        let units = machines
            .chain(share.checked_div(hands))
            .chain([self.most_units, cap])
            .min()
            .unwrap_or(1)
            .max(1);
        let work_s = if hands < self.hands {
            div_up(self.work_s.saturating_mul(int(self.hands)), int(hands))
        } else {
            self.work_s
        };
        Mode { units, hands: hands * units, clock_s: self.clock_s(work_s, units) }
    }

    /// How long it is and how it may lie in the days.
    pub(super) fn length(&self, mode: Mode) -> Length {
        Length { clock_s: mode.clock_s, setup_s: self.setup_s, cut: self.cut, dry: self.dry }
    }

    fn clock_s(&self, work_s: i64, units: usize) -> i64 {
        let worked = self.setup_s.saturating_add(div_up(work_s, int(units)));
        worked.max(self.least_s).max(0)
    }
}

fn div_up(value: i64, by: i64) -> i64 {
    let by = by.max(1);
    value.div_euclid(by) + i64::from(value.rem_euclid(by) > 0)
}

/// A count as a number to reckon with.
pub(super) fn int(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_what_machines_crew_and_room_allow() {
        let effort = |hands, machines: &[usize], most_units| Effort {
            work_s: 7201,
            setup_s: 600,
            least_s: 1800,
            hands,
            machines: machines.to_vec(),
            most_units,
            ..Effort::default()
        };
        // Machines owned: two of the first kind, one of the second.
        let rows = [
            ("two grinders, two workers", effort(1, &[0], 9), 2, 9, (2, 2, 4201)),
            ("two grinders, one worker", effort(1, &[0], 9), 1, 9, (1, 1, 7801)),
            ("one saw", effort(1, &[1], 9), 4, 9, (1, 1, 7801)),
            ("both machines", effort(1, &[0, 1], 9), 4, 9, (1, 1, 7801)),
            ("room for three", effort(1, &[], 3), 4, 9, (3, 3, 3001)),
            ("held to two", effort(1, &[], 3), 4, 2, (2, 2, 4201)),
            ("pairs of five workers", effort(2, &[], 9), 5, 9, (2, 4, 4201)),
            ("a pair's work by one", effort(2, &[], 9), 1, 9, (1, 1, 15002)),
            ("nobody needed", effort(0, &[], 1), 2, 9, (1, 0, 7801)),
            ("least time", effort(1, &[], 100), 100, 99, (99, 99, 1800)),
        ];
        for (name, effort, crew, cap, (units, hands, clock_s)) in rows {
            let want = Mode { units, hands, clock_s };
            assert_eq!(effort.mode(crew, crew, cap, &[2, 1]), want, "{name}");
        }
    }
}
