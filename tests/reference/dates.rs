//! Days of a plan against NumPy's business days and Python's datetime: `dates.py` made `dates.csv`.

use slabwalk::survey::Survey;

/// A hall that is ground for weeks, without a coat that would have to wait.
fn hall(first: &str, weekends: bool) -> Survey {
    let text = format!(
        "slabwalk: 1\njob: {{name: hall}}\nslab:\n  post_tension: none\n  \
         outline: [[0, 0], [400', 0], [400', 300'], [0, 300']]\ncoating: {{start: {first}}}\n"
    );
    let (sketch, faults) = slabwalk::sketch::parse(&text);
    let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
    let mut shop = slabwalk::shop::built_in();
    shop.days.weekends = weekends;
    shop.days.holidays = slabwalk::shop::Holidays::Listed(Vec::new());
    slabwalk::survey::survey(sketch, shop, faults).unwrap_or_else(|faults| panic!("{faults:?}"))
}

#[test]
fn working_days_agree_with_another_calendar() {
    let table = include_str!("dates.csv");
    let mut rows = 0;
    for line in table.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [first, weekends, days] = cells[..] else {
            panic!("{line}");
        };
        let plan = slabwalk::schedule::plan(&hall(first, weekends == "yes"));
        let want: Vec<&str> = days.split(' ').collect();
        assert!(plan.days.len() >= want.len(), "{line}: {} days", plan.days.len());
        let found: Vec<String> = plan.days[..want.len()]
            .iter()
            .map(|day| day.start.date.map_or_else(String::new, |d| d.to_string()))
            .collect();
        assert_eq!(found, want, "{line}");
        rows += 1;
    }
    assert_eq!(rows, 48, "the whole table");
}
