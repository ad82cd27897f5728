//! `slabwalk days`: small floors whose schedules are reckoned by hand, every start time.
//!
//! The floor is 24 by 24 ft, 576 ft², its edge 96 ft. The shop of these tests has no set-ups and
//! no lunch, and rates that come out in round hours: the floor grinder takes 288 ft²/h, so 2 h for
//! the floor; a hand grinder 96 ft of edge an hour, so 1 h; a vacuum 576 ft²/h; two workers lay
//! 288 ft² of a coat an hour, so 2 h. The head of its floor grinder is small, so that it reaches
//! the edge. The first coat of the built-in two-coat system may be coated from 8 to 24 h later at
//! 70 °F, and from 14 to 48 h at 50 °F.

use std::fs;

use assert_cmd::Command;
use serde_json::Value;

use super::floor::text;

const SHOP: &str = "slabwalk_shop: 1
grinding: {head: 1\", edge_gap: 0\"}
days:
  lunch: 0 min
  overtime: 0 min
  holidays: []
  works:
    set up: {first: 0 min, later: 0 min}
    pack up: {last: 0 min, other: 0 min}
    saw joints: {set_up: 0 min, rate: 24 ft/h, with_strip: 12 ft/h}
    detail joints by hand: {rate: 24 ft/h, with_strip: 12 ft/h}
    chase cracks: {set_up: 0 min, rate: 10 ft/h}
    cut out and patch: {set_up: 0 min, least: 1 h}
    clean joints, cracks and patches: {rate: 96 ft/h}
    fill joints: {set_up: 0 min, rate: 1000 L/h, top_off: 24 ft/h}
    fill cracks: {least: 30 min, rate: 100 ft/h}
    shave filler: {rate: 24 ft/h}
    grind steps by hand: {set_up: 0 min, rate: 4 ft/h, volume: 1000 in3/h}
    grind edges by hand: {rate: 96 ft/h, area: 1000 ft2/h}
    grind the floor: {set_up: 0 min, rate: 288 ft2/h}
    degrease: {set_up: 0 min, dwell: 0 min, rate: 16 ft2/h}
    vacuum and wipe: {rate: 576 ft2/h}
    coat: {set_up: 0 min, clean_up: 0 min, rate: 288 ft2/h}
    abrade: {set_up: 0 min, rate: 288 ft2/h}
    rod and sealant: {set_up: 0 min, rate: 24 ft/h}
";

fn run(shop: &str, more: &str, format: &str) -> (Option<i32>, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    fs::write(at("floor.yaml"), text(more)).expect("the sketch is written");
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
    let (code, out, messages) = run(shop, more, "json");
    assert_eq!(code, Some(0), "{messages}");
    serde_json::from_str(&out).expect("JSON")
}

/// `2 8:00-9:30 grind the floor, 1`: day, from, to, what, workers; to the minute.
fn told(plan: &Value) -> Vec<String> {
    let clock = |value: &Value| {
        let minutes = (value.as_f64().unwrap_or(f64::NAN) * 60.0).round();
        format!("{}:{:02}", (minutes / 60.0).floor(), minutes % 60.0)
    };
    let days = plan["days"].as_array().expect("days");
    let pieces = days.iter().flat_map(|day| {
        let pieces = day["pieces"].as_array().expect("pieces");
        pieces.iter().map(move |piece| (day, piece))
    });
    pieces
        .map(|(day, piece)| {
            format!(
                "{} {}-{} {}, {}",
                day["day"],
                clock(&piece["from_h"]),
                clock(&piece["to_h"]),
                piece["task"].as_str().unwrap_or(""),
                piece["hands"]
            )
        })
        .collect()
}
