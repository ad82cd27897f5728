//! The working days: which they are, and from when to when hands are on the floor.
//!
//! All moments are seconds after midnight of the first calendar day.

use jiff::civil::{Date, Weekday};

use super::activity::int;
use super::holidays::Holidays;
use super::shift::{Hours, Shift};

/// Working days that are planned; what takes longer is planned in parts.
pub const MOST_DAYS: usize = 400;
/// Calendar days that are looked at for them: four of five days may be off.
const MOST_CALENDAR_DAYS: usize = 2000;
/// Seconds in a day.
pub const DAY_S: i64 = 24 * 3600;

/// What the shop says of its days.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Days {
    /// The first day, where it is known. Without one, days are counted and follow each other.
    pub first: Option<Date>,
    /// When the crew arrives, s after midnight.
    pub starts_s: i64,
    /// Hours that are worked, lunch not counted, s.
    pub hours_s: i64,
    /// Lunch, in the middle of those hours, s.
    pub lunch_s: i64,
    /// What is left of a work at the end of the day is finished if it takes no longer, s.
    pub overtime_s: i64,
    /// Arriving and setting up on the first day and on the others, out of those hours, s.
    pub arrive_s: [i64; 2],
    /// Packing up at the end of each day, out of those hours, s.
    pub pack_up_s: i64,
    /// Whether weekends are worked.
    pub weekends: bool,
    /// Holidays on which nobody works.
    pub holidays: Holidays,
    /// Further days off.
    pub off: Vec<Date>,
    /// Days that the weather blocks for what has to stay dry.
    pub blocked: Vec<Date>,
}

/// The working days in order, as many as are planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Calendar {
    first: Option<Date>,
    all: Vec<Shift>,
    dry: Vec<Shift>,
    /// The longest work in one piece that fits into a day, s.
    pub(super) longest_s: i64,
}

impl Calendar {
    /// The days on which the crew works.
    #[must_use]
    pub fn new(days: &Days) -> Self {
        let mut calendar =
            Self { first: days.first, all: Vec::new(), dry: Vec::new(), longest_s: 0 };
        for after in 0..MOST_CALENDAR_DAYS {
            let date = days.first.and_then(|first| later(first, after));
            if days.first.is_some() && date.is_none() || calendar.all.len() >= MOST_DAYS {
                break;
            }
            if date.is_some_and(|date| days.is_off(date)) {
                continue;
            }
            let Some(hours) = days.hours(int(after), calendar.all.is_empty()) else {
                break;
            };
            calendar.longest_s = calendar.longest_s.max(hours.longest());
            push(&mut calendar.all, hours);
            if date.is_none_or(|date| !days.blocked.contains(&date)) {
                push(&mut calendar.dry, hours);
            }
        }
        calendar
    }

    /// One day without an end, for what knows no nights.
    #[must_use]
    pub fn endless() -> Self {
        let hours = Hours {
            day: 0,
            open: 0,
            noon: 0,
            back: 0,
            close: int(MOST_DAYS) * DAY_S,
            over: int(MOST_DAYS) * DAY_S,
        };
        let mut all = Vec::new();
        push(&mut all, hours);
        Self { first: None, dry: all.clone(), all, longest_s: hours.longest() }
    }

    /// The working days as they are kept for an activity.
    pub(super) fn shifts(&self, dry: bool) -> &[Shift] {
        if dry { &self.dry } else { &self.all }
    }

    /// The calendar day of a moment, counted from the first, and its date where that is known.
    #[must_use]
    pub fn day(&self, at: i64) -> (i64, Option<Date>) {
        let after = at.div_euclid(DAY_S);
        let date = self
            .first
            .zip(usize::try_from(after).ok())
            .and_then(|(first, after)| later(first, after));
        (after, date)
    }

    /// The working day of a moment: the last that has begun by then.
    pub(super) fn working_day(&self, at: i64) -> Option<usize> {
        self.all.partition_point(|shift| shift.hours.open <= at).checked_sub(1)
    }

    /// The same days up to this one, which is made longer.
    pub(super) fn ending_late(&self, day: usize, longer_s: i64) -> Self {
        let last = self.all.get(day).map_or(-1, |shift| shift.hours.day);
        let longer = |shift: &Shift| {
            let mut hours = shift.hours;
            if hours.day == last {
                hours.close = (hours.close + longer_s).max(hours.over);
                hours.over = hours.close;
            }
            (hours.day <= last).then_some(hours)
        };
        self.of(|shifts| listed(shifts.iter().map_while(longer)))
    }

    /// The same days without one.
    pub(super) fn without(&self, off: i64) -> Self {
        let hours = |shifts: &[Shift]| {
            let kept = shifts.iter().map(|shift| shift.hours);
            listed(kept.filter(|hours| hours.day != off))
        };
        self.of(hours)
    }

    fn of(&self, list: impl Fn(&[Shift]) -> Vec<Shift>) -> Self {
        Self {
            first: self.first,
            all: list(&self.all),
            dry: list(&self.dry),
            longest_s: self.longest_s,
        }
    }
}

fn listed(days: impl Iterator<Item = Hours>) -> Vec<Shift> {
    let mut shifts = Vec::new();
    days.for_each(|hours| push(&mut shifts, hours));
    shifts
}

impl Days {
    fn is_off(&self, date: Date) -> bool {
        let weekend = matches!(date.weekday(), Weekday::Saturday | Weekday::Sunday);
        weekend && !self.weekends
            || self.off.contains(&date)
            || self.holidays.hold(date, self.weekends)
    }

    /// When hands are on the floor on a day; `None` where arriving and packing up leave no time.
    fn hours(&self, day: i64, is_first: bool) -> Option<Hours> {
        let within_a_day = |s: i64| s.clamp(0, DAY_S);
        let [hours_s, lunch_s] = [self.hours_s, self.lunch_s].map(within_a_day);
        let arrives = day * DAY_S + within_a_day(self.starts_s);
        let open = arrives + within_a_day(self.arrive_s[usize::from(!is_first)]);
        let leaves = (arrives + hours_s + lunch_s).min(arrives + DAY_S);
        let close = leaves - within_a_day(self.pack_up_s);
        // Where setting up or packing up runs into lunch, lunch moves to it.
        let noon = (arrives + hours_s / 2).clamp(open, (close - lunch_s).max(open));
        let overtime_s = within_a_day(self.overtime_s).min(arrives + DAY_S - leaves);
        let hours =
            Hours { day, open, noon, back: noon + lunch_s, close, over: close + overtime_s };
        (hours.back < close).then_some(hours)
    }
}

fn push(shifts: &mut Vec<Shift>, hours: Hours) {
    let before = shifts.last().map_or(0, |last| last.before + last.hours.length());
    shifts.push(Shift { hours, before });
}

fn later(first: Date, days: usize) -> Option<Date> {
    let days = i64::try_from(days).ok()?;
    first.checked_add(jiff::Span::new().try_days(days).ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn days() -> Days {
        Days {
            starts_s: 8 * 3600,
            hours_s: 8 * 3600,
            lunch_s: 1800,
            overtime_s: 1800,
            ..Days::default()
        }
    }

    #[test]
    fn weekends_holidays_and_days_off_are_passed_over() {
        // Thanksgiving 2026 is 26 November, a Thursday; the Friday after it is off.
        let days = Days {
            first: Some(date(2026, 11, 25)),
            holidays: Holidays::Federal,
            off: vec![date(2026, 11, 27)],
            blocked: vec![date(2026, 11, 30)],
            ..days()
        };
        let dates = |calendar: &Calendar, dry| -> Vec<i64> {
            let shifts = calendar.shifts(dry).iter().take(3);
            shifts.map(|shift| shift.hours.day).collect()
        };
        let calendar = Calendar::new(&days);
        assert_eq!(dates(&calendar, false), [0, 5, 6], "Wed, Mon, Tue");
        assert_eq!(dates(&calendar, true), [0, 6, 7], "Monday is wet");
        assert_eq!(calendar.all.len(), MOST_DAYS);
        let counted = Calendar::new(&Days { first: None, ..days });
        assert_eq!(dates(&counted, true), [0, 1, 2], "days without dates follow each other");
    }

    #[test]
    fn set_up_and_packing_up_are_part_of_the_hours() {
        let days = Days { arrive_s: [2700, 1200], pack_up_s: 900, ..days() };
        let calendar = Calendar::new(&days);
        let clock = |s: i64| (s % DAY_S / 3600, s % 3600 / 60);
        let hours = |k: usize| {
            let h = calendar.all[k].hours;
            [h.open, h.noon, h.back, h.close, h.over].map(clock)
        };
        assert_eq!(hours(0), [(8, 45), (12, 0), (12, 30), (16, 15), (16, 45)]);
        assert_eq!(hours(1), [(8, 20), (12, 0), (12, 30), (16, 15), (16, 45)]);
    }

    #[test]
    fn hours_that_leave_nothing_are_no_calendar() {
        for (hours_s, pack_up_s) in [(0, 0), (3600, 3600), (-5, 0)] {
            let days = Days { hours_s, pack_up_s, ..days() };
            assert!(Calendar::new(&days).all.is_empty(), "{hours_s} {pack_up_s}");
        }
        let end_of_time = Days { first: Some(Date::MAX), weekends: true, ..days() };
        assert_eq!(Calendar::new(&end_of_time).all.len(), 1);
    }
}
