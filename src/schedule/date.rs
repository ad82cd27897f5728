//! Days and hours in words.

use jiff::civil::Date;

use super::Moment;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// `September 14, 2026`; a text that is no date as it is.
pub(crate) fn words(text: &str) -> String {
    text.parse::<Date>().map_or_else(|_| crate::text::clean(text), in_words)
}

fn in_words(date: Date) -> String {
    let month = usize::try_from(date.month() - 1).ok().and_then(|m| MONTHS.get(m));
    format!("{} {}, {}", month.unwrap_or(&""), date.day(), date.year())
}

/// Year, month and day.
pub(crate) fn numbers(text: Option<&str>) -> Option<(u16, u8, u8)> {
    let date = text?.parse::<Date>().ok()?;
    let part = |n: i8| u8::try_from(n).ok();
    Some((u16::try_from(date.year()).ok()?, part(date.month())?, part(date.day())?))
}

/// A day and an hour: `Friday, September 18, 2026, 4 pm`, or `4 pm on day 5 after the start` counted from the first day.
pub(crate) fn moment(moment: &Moment) -> String {
    let hour = hour(moment.hour);
    match moment.date {
        Some(date) => format!("{}, {}, {hour}", weekday(date), in_words(date)),
        None => format!("{hour} on day {} from the start", moment.after + 1),
    }
}

/// The day alone, without its year.
pub(crate) fn day(moment: &Moment) -> String {
    match moment.date {
        Some(date) => {
            let month = MONTHS.get(usize::from(date.month().unsigned_abs().saturating_sub(1)));
            let (weekday, month) = (weekday(date), month.unwrap_or(&""));
            // Not broken between lines: a column of days stays one line each.
            format!("{weekday},\u{a0}{month}\u{a0}{}", date.day())
        }
        None => format!("Day\u{a0}{}", moment.after + 1),
    }
}

fn weekday(date: Date) -> &'static str {
    use jiff::civil::Weekday;
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

/// `8 am`, `12:30 pm`.
fn hour(hours: f64) -> String {
    let minutes = (hours * 60.0).round().max(0.0) as u64 % (24 * 60);
    let (h, m) = (minutes / 60, minutes % 60);
    let half = if h < 12 { "am" } else { "pm" };
    let h = if h % 12 == 0 { 12 } else { h % 12 };
    if m == 0 { format!("{h} {half}") } else { format!("{h}:{m:02} {half}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_hours() {
        assert_eq!(words("2026-09-14"), "September 14, 2026");
        assert_eq!(words("soon"), "soon");
        assert_eq!(numbers(Some("2026-09-14")), Some((2026, 9, 14)));
        assert_eq!(numbers(None), None);
        for (h, wanted) in
            [(0.0, "12 am"), (8.0, "8 am"), (12.0, "12 pm"), (16.5, "4:30 pm"), (24.0, "12 am")]
        {
            assert_eq!(hour(h), wanted);
        }
        let at = Moment { date: "2026-09-18".parse().ok(), after: 4, hour: 16.0 };
        assert_eq!(moment(&at), "Friday, September 18, 2026, 4 pm");
        assert_eq!(moment(&Moment { date: None, ..at }), "4 pm on day 5 from the start");
    }
}
