//! Federal holidays against the Python package holidays: `holidays.py` made `holidays.csv`.

use jiff::civil::{Date, Weekday, date};
use slabwalk::schedule::network::Holidays;

#[test]
fn holidays_agree_with_another_calendar() {
    let mut rows = 0;
    for line in include_str!("holidays.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [year, dates, kept] = cells[..] else {
            panic!("{line}");
        };
        let year: i16 = year.parse().expect("a year");
        let days: Vec<Date> = date(year, 1, 1)
            .series(jiff::Span::new().days(1))
            .take_while(|day| day.year() == year)
            .collect();
        let found = |weekends: bool| {
            let week = |day: &Date| {
                weekends || !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday)
            };
            let held = |day: &&Date| week(day) && Holidays::Federal.hold(**day, weekends);
            let held = days.iter().filter(held).map(Date::to_string);
            held.collect::<Vec<_>>().join(" ")
        };
        assert_eq!((found(true).as_str(), found(false).as_str()), (dates, kept), "{year}");
        rows += 1;
    }
    assert_eq!(rows, 21, "the whole table");
}
