//! The federal holidays of the United States, computed.

use jiff::civil::{Date, Weekday};

/// First year of Juneteenth, Public Law 117-17.
const JUNETEENTH_SINCE: i16 = 2021;

/// Days on which nobody works.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Holidays {
    /// Every holiday is worked.
    #[default]
    None,
    /// The federal holidays, 5 U.S.C. 6103.
    Federal,
    /// These days.
    Dates(Vec<Date>),
}

impl Holidays {
    /// Whether nobody works on a day. A crew that has its weekends off rests on the Friday before for a
    /// holiday on a Saturday (5 U.S.C. 6103 (b)), and on the Monday after for one on a Sunday
    /// (Executive Order 11582). One that works on weekends has it on the day.
    #[must_use]
    pub fn hold(&self, date: Date, weekends: bool) -> bool {
        match self {
            Self::None => false,
            Self::Dates(dates) => dates.contains(&date),
            Self::Federal => [Some(date), date.tomorrow().ok(), date.yesterday().ok()]
                .into_iter()
                .flatten()
                .any(|day| is_federal(day) && (if weekends { day } else { observed(day) }) == date),
        }
    }
}

/// Whether a day is a holiday by its own date, 5 U.S.C. 6103 (a).
fn is_federal(date: Date) -> bool {
    let monday = date.weekday() == Weekday::Monday;
    let nth = (date.day() + 6) / 7;
    match date.month() {
        1 => date.day() == 1 || monday && nth == 3,
        2 => monday && nth == 3,
        5 => monday && date.day() + 7 > 31,
        6 => date.day() == 19 && date.year() >= JUNETEENTH_SINCE,
        7 => date.day() == 4,
        9 => monday && nth == 1,
        10 => monday && nth == 2,
        11 => date.day() == 11 || date.weekday() == Weekday::Thursday && nth == 4,
        12 => date.day() == 25,
        _ => false,
    }
}

/// The day on which a holiday is kept by those who work from Monday to Friday.
fn observed(day: Date) -> Date {
    match day.weekday() {
        Weekday::Saturday => day.yesterday().unwrap_or(day),
        Weekday::Sunday => day.tomorrow().unwrap_or(day),
        _ => day,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn holidays_by_the_statute() {
        let rows = [
            ("New Year's Day 2027 is a Friday", date(2027, 1, 1), true, true),
            ("that of 2028 a Saturday, kept on the Friday", date(2027, 12, 31), true, false),
            ("and by a crew that works weekends on the day", date(2028, 1, 1), false, true),
            ("Martin Luther King, third Monday", date(2026, 1, 19), true, true),
            ("Washington's Birthday", date(2026, 2, 16), true, true),
            ("Memorial Day, last Monday", date(2027, 5, 31), true, true),
            ("the Monday before it", date(2027, 5, 24), false, false),
            ("Juneteenth", date(2026, 6, 19), true, true),
            ("not before the law", date(2020, 6, 19), false, false),
            (
                "Independence Day 2027 is a Sunday, kept on the Monday",
                date(2027, 7, 5),
                true,
                false,
            ),
            ("Labor Day", date(2026, 9, 7), true, true),
            ("Columbus Day", date(2026, 10, 12), true, true),
            ("Veterans Day", date(2026, 11, 11), true, true),
            ("Thanksgiving, fourth Thursday", date(2026, 11, 26), true, true),
            ("the day after is none", date(2026, 11, 27), false, false),
            ("Christmas", date(2026, 12, 25), true, true),
        ];
        for (name, day, week, weekends) in rows {
            assert_eq!(Holidays::Federal.hold(day, false), week, "{name}");
            assert_eq!(Holidays::Federal.hold(day, true), weekends, "{name}");
        }
        let list = Holidays::Dates(vec![date(2026, 11, 27)]);
        assert!(list.hold(date(2026, 11, 27), false) && !list.hold(date(2026, 11, 26), false));
    }
}
