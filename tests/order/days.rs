//! `slabwalk days`: hand-worked plans.
//!
//! The floor is 24 by 24 ft, 576 ft². The shop of these tests grinds 288 ft²/h by hand and by
//! machine, so preparation is 2 worker hours, 1 h for two workers; a coat at 288 ft²/h takes two
//! workers 2 h. The first coat of the built-in two-coat system may be coated from 8 to 24 h later
//! at 70 °F, and from 14 to 48 h at 50 °F.

use std::fs;

use assert_cmd::Command;
use serde_json::Value;

use super::floor::text;

const SHOP: &str = "slabwalk_shop: 1\ndays: {rates: {floor_grind: 288 ft2/h, hand_edge: 288 ft2/h, coat: 288 ft2/h}}\n";

fn run(shop: &str, more: &str, format: &str) -> (Option<i32>, String, String) {
    run_floor(shop, &text(more), format)
}

fn run_floor(shop: &str, floor: &str, format: &str) -> (Option<i32>, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    fs::write(at("floor.yaml"), floor).expect("the sketch is written");
    fs::write(at("shop.yaml"), shop).expect("the shop book is written");
    let mut command = Command::cargo_bin("slabwalk").expect("the binary is built with the tests");
    command
        .env("NO_COLOR", "1")
        .args(["days", "--format", format, "--shop"]);
    let run = command
        .arg(at("shop.yaml"))
        .arg(at("floor.yaml"))
        .output()
        .expect("the program runs");
    let said = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (run.status.code(), said(&run.stdout), said(&run.stderr))
}

fn plan(shop: &str, more: &str) -> Value {
    plan_of(shop, &text(more))
}

fn plan_of(shop: &str, floor: &str) -> Value {
    let (code, out, messages) = run_floor(shop, floor, "json");
    assert_eq!(code, Some(0), "{messages}");
    serde_json::from_str(&out).expect("JSON")
}

/// Start of the last piece of a day, end of it, and its date.
fn last(plan: &Value, day: usize) -> (f64, f64, String) {
    let day = &plan["days"][day];
    let piece = day["pieces"]
        .as_array()
        .and_then(|p| p.last())
        .expect("a piece");
    let hour = |key: &str| {
        piece[key]
            .as_f64()
            .map_or(f64::NAN, |h| (h * 1e6).round() / 1e6)
    };
    (
        hour("from_h"),
        hour("to_h"),
        day["date"].as_str().unwrap_or("").into(),
    )
}

/// V-M4 (a construction estimating manual): 0.007 man-hours a square foot. 1000 ft² are 7.0 man-hours, 0.875 of an
/// eight-hour day.
#[test]
fn man_hours_a_square_foot_become_hours_and_days() {
    let rate = 1.0 / 0.007;
    let shop = format!(
        "slabwalk_shop: 1\ndays: {{crew: 1, hours: 8 h, rates: {{floor_grind: {rate:.12} ft2/h, hand_edge: {rate:.12} ft2/h}}}}\n"
    );
    let floor = text("").replace(
        "[24', 0], [24', 24'], [0, 24']",
        "[40', 0], [40', 25'], [0, 25']",
    );
    let plan = plan_of(&shop, &floor);
    let near = |key: &str, want: f64| {
        let got = plan[key].as_f64().unwrap_or(f64::NAN);
        assert!((got - want).abs() < 1e-6, "{key}: {got}");
    };
    near("worker_h", 7.0);
    near("crew_h", 7.0);
    // From 8 o'clock: 0.875 of the eight hours to 16.
    let (_, to, _) = last(&plan, 0);
    assert_eq!((to - 8.0) / 8.0, 0.875);
    assert_eq!(plan["days"].as_array().map(Vec::len), Some(1));
}

const FRIDAY: &str =
    "tests: {slab_temperature: 70 F}\ncoating: {system: two-coat, start: 2026-09-25}\n";

/// Friday 8 to 9 grinding, 9 to 11 first coat. Its window closes Saturday at 11; Monday at 8 is
/// 45 h late. Abrading 576 ft² at 288 is 2 worker hours, 8 to 9; second coat 9 to 11. On foot a
/// day later, Tuesday at 11; vehicles three days later, Thursday the first of October.
#[test]
fn a_weekend_closes_the_window() {
    let plan = plan(SHOP, FRIDAY);
    assert_eq!(last(&plan, 0), (9.0, 11.0, "2026-09-25".into()));
    assert_eq!(last(&plan, 1), (9.0, 11.0, "2026-09-28".into()));
    assert_eq!(plan["days"][1]["pieces"][0]["task"], "abrade first coat");
    let note = plan["notes"][0].as_str().unwrap_or("");
    assert!(
        note.contains("closes 45.0 h before second coat can start: abrade"),
        "{note}"
    );
    assert_eq!(plan["foot"]["date"], "2026-09-29");
    assert_eq!(plan["foot"]["hour"], 11.0);
    assert_eq!(plan["vehicles"]["date"], "2026-10-01");
    // 2 h grinding, 4 and 4 h coats, 2 h abrading.
    assert!((plan["worker_h"].as_f64().unwrap_or(0.0) - 12.0).abs() < 1e-6);
    assert!((plan["crew_h"].as_f64().unwrap_or(0.0) - 6.0).abs() < 1e-6);
}

/// With weekends worked the second coat goes on on Saturday, 21 h after the first.
#[test]
fn a_shop_that_works_weekends_meets_it() {
    let shop = SHOP.replace("days: {", "days: {weekends: true, ");
    let plan = plan(&shop, FRIDAY);
    assert_eq!(last(&plan, 1), (8.0, 10.0, "2026-09-26".into()));
    assert_eq!(plan["notes"], serde_json::json!([]));
    assert_eq!(plan["foot"]["date"], "2026-09-27");
}

/// At 60 °F, half way between 50 and 70, the window runs from 11 to 36 h. A day of 24 h from
/// midnight: first coat 1 to 3, second coat at 14.
#[test]
fn windows_are_read_between_rows() {
    let shop = SHOP.replace("days: {", "days: {starts: 0 h, hours: 24 h, ");
    let plan = plan(
        &shop,
        "tests: {slab_temperature: 60 F}\ncoating: {system: two-coat}\n",
    );
    assert_eq!(last(&plan, 0), (14.0, 16.0, String::new()));
}

/// Without a window the next coat waits for the next day: one coat a day is common practice.
#[test]
fn without_a_window_it_is_one_coat_a_day() {
    let shop = format!(
        "{SHOP}systems:\n  plain:\n    layers:\n      - {{name: a, coverage: 4 m2/L, loss: 1%, kit: 9 L}}\n      \
         - {{name: b, coverage: 4 m2/L, loss: 1%, kit: 9 L}}\n"
    );
    let plan = plan(&shop, "coating: {system: plain}\n");
    assert_eq!(last(&plan, 0), (9.0, 11.0, String::new()));
    assert_eq!(last(&plan, 1), (8.0, 10.0, String::new()));
    let notes = plan["notes"].to_string();
    assert!(
        notes.contains("no recoat window for a at 70 °F: the data sheet decides"),
        "{notes}"
    );
    assert_eq!(plan["foot"], Value::Null);
}

/// One worker takes twice as long as two.
#[test]
fn a_crew_of_one_takes_twice_as_long() {
    let shop = SHOP.replace("days: {", "days: {crew: 1, ");
    let plan = plan(&shop, FRIDAY);
    // 2 h of grinding, then a coat of 4 h.
    assert_eq!(last(&plan, 0), (10.0, 14.0, "2026-09-25".into()));
}

/// 70 °F and 65 % are a dew point of 57.7 °F: a slab at 62 is 4.3 °F above it, one at 64 is 6.3
/// (UFC 3-190-06 asks for 5).
#[test]
fn every_coat_day_says_go_or_wait() {
    for (slab, word, spread) in [("62 F", "WAIT", "4.3 °F"), ("64 F", "GO", "6.3 °F")] {
        let more = format!(
            "tests:\n  slab_temperature: 70 F\n  forecast: [{{day: 2026-09-25, air: 70 F, humidity: 65%, slab: {slab}}}]\n\
             coating: {{system: two-coat, start: 2026-09-25}}\n"
        );
        let (code, out, messages) = run(SHOP, &more, "text");
        assert_eq!(code, Some(0), "{messages}");
        assert!(
            out.contains(&format!("  {word}: slab {slab}").replace(" F", " °F")),
            "{out}"
        );
        assert!(out.contains(spread), "{out}");
    }
}

/// 29 CFR 1926.1153 Table 1: 5.8 worker hours of grinding indoors are over four.
#[test]
fn a_long_shift_of_grinding_asks_for_a_respirator() {
    let shop = SHOP
        .replace("hand_edge: 288", "hand_edge: 5")
        .replace("floor_grind: 288", "floor_grind: 100");
    let (_, inside, _) = run(&shop, "", "text");
    assert!(inside.contains("at least 175 cfm"), "{inside}");
    assert!(inside.contains("respirator, APF 10"), "{inside}");
    let (_, outside, _) = run(&shop, "coating: {site: outdoors}\n", "text");
    assert!(!outside.contains("APF 10"), "{outside}");
}

#[test]
fn the_calendar_is_the_same_every_time() {
    let (code, first, messages) = run(SHOP, FRIDAY, "ics");
    assert_eq!(code, Some(0), "{messages}");
    assert!(first.contains("DTSTART:20260925T080000\r\n"), "{first}");
    assert!(first.contains("DTEND:20260928T110000\r\n"), "{first}");
    // What is on hold (no moisture test was taken), two days, feet, vehicles.
    assert_eq!(first.matches("BEGIN:VEVENT").count(), 5);
    assert_eq!(first, run(SHOP, FRIDAY, "ics").1);
    let (code, out, messages) = run(SHOP, "", "ics");
    assert_eq!((code, out.as_str()), (Some(1), ""));
    assert!(messages.contains("needs the first day"), "{messages}");
}

#[test]
fn a_temperature_outside_the_table_is_an_error_at_its_line() {
    let (code, out, messages) = run(SHOP, &FRIDAY.replace("70 F", "40 F"), "text");
    assert_eq!((code, out.as_str()), (Some(1), ""));
    assert!(
        messages.contains("a slab at 40 °F lies outside the table of first coat"),
        "{messages}"
    );
    assert!(messages.contains("floor.yaml:7"), "{messages}");
}

#[test]
fn a_window_that_closes_before_it_opens_is_an_error_of_the_shop_book() {
    let shop = "slabwalk_shop: 1\nsystems:\n  x:\n    layers:\n      - {name: a, coverage: 1 m2/L, loss: 1%, kit: 1 gal, recoat: [[70 F, 9 h, 8 h]]}\n";
    let (code, _, messages) = run(shop, "", "text");
    assert_eq!(code, Some(1));
    assert!(
        messages.contains("the window closes before it opens"),
        "{messages}"
    );
    assert!(messages.contains("shop.yaml:5"), "{messages}");
}

#[test]
fn wrong_keys_of_the_sketch_are_errors_at_their_line() {
    for (more, want) in [
        ("coating: {start: 2026-02-30}\n", "`2026-02-30` is no day"),
        (
            "coating: {site: inside}\n",
            "the site `inside` is not known",
        ),
        (
            "tests: {forecast: [{air: 70 F, humidity: 50%, slab: 66 F}]}\n",
            "needs the key `day`",
        ),
        (
            "tests: {forecast: [{day: 2026-09-25, air: 70 F, humidity: 500%, slab: 66 F}]}\n",
            "the humidity `500%` is beyond belief",
        ),
    ] {
        let (code, out, messages) = run(SHOP, more, "text");
        assert_eq!((code, out.as_str()), (Some(1), ""), "{more}");
        assert!(
            messages.contains(want) && messages.contains("floor.yaml:7"),
            "{more}{messages}"
        );
    }
}
