//! `slabwalk order`.

use std::fs;

use assert_cmd::Command;

use super::floor::text;

fn run(sketch: &str, format: &str) -> (bool, String, String) {
    run_as("order", sketch, format)
}

/// What a command prints as JSON.
pub fn json(sketch: &str, command: &str) -> serde_json::Value {
    let (_, out, messages) = run_as(command, sketch, "json");
    serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {messages}"))
}

fn run_as(command: &str, sketch: &str, format: &str) -> (bool, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("floor.yaml");
    fs::write(&path, sketch).expect("the sketch is written");
    let mut binary = Command::cargo_bin("slabwalk").expect("the binary is built with the tests");
    let run = binary
        .env("NO_COLOR", "1")
        .args([command, "--format", format])
        .arg(&path)
        .output()
        .expect("the program runs");
    let said = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (run.status.success(), said(&run.stdout), said(&run.stderr))
}

const MORE: &str = "joints:\n  - {kind: control, x: 12', width: 1/4\"}\ncoating: {system: flake}\n";

#[test]
fn three_forms() {
    let (good, json, _) = run(&text(MORE), "json");
    assert!(good);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["order"][0]["item"], "joint filler");
    // 24 ft × 12 × 1/4 × 3/4 × 1.1 = 59.4 in³ of 36.614 in³ a cartridge: two.
    assert_eq!(json["order"][0]["packages"], 2);
    assert_eq!(json["order"][0]["charged"], "whole");
    assert_eq!(json["order"][0]["reserve"], 0.0);
    assert_eq!(json["sundries"][0]["item"], "static mixer");
    // 24 ft less 3 in at each wall, 23.5 ft of 600.
    let sundries = json["sundries"].as_array().expect("goods that wear");
    let blade = sundries.iter().find(|good| good["item"] == "joint saw blade");
    let blade = blade.expect("a blade");
    assert_eq!((&blade["count"], &blade["charged"]), (&1.into(), &"used".into()));
    assert_eq!(blade["used"], 0.039_166_667);
    let (good, csv, _) = run(&text(MORE), "csv");
    assert!(good && csv.starts_with("item,packages,"), "{csv}");
    assert!(csv.contains("\njoint filler,2,2,"), "{csv}");
    let (good, words, _) = run(&text(MORE), "text");
    assert!(good && words.contains("   2  joint filler, 600 mL\n"), "{words}");
    assert!(words.contains("DUST AND DISPOSAL"), "{words}");
}

#[test]
fn an_unknown_system_is_an_error_at_its_line() {
    let (good, out, messages) = run(&text("coating: {system: terrazo}\n"), "text");
    assert!(!good && out.is_empty());
    assert!(messages.contains("no coating system named terrazo"), "{messages}");
    assert!(messages.contains("floor.yaml:7"), "{messages}");
}

/// What was chosen stands beside the product in every form, and a line where nothing was.
#[test]
fn what_was_chosen_stands_beside_the_product() {
    let sketch = text("coating: {system: flake, color: slate, flake_size: 1/4 in}\n");
    let (good, words, _) = run(&sketch, "text");
    assert!(good, "{words}");
    for said in [
        "flake: base coat, 3 gal\n      chosen: slate\n      all from one lot; write the lot no. ________\n",
        "flake: flake, 25 lb\n      chosen: blend ________\n      all from one lot; write the lot no. ________\n",
        "flake: top coat, 3 gal\n      chosen: sheen ________\n",
    ] {
        assert!(words.contains(said), "{said}\n{words}");
    }
    let (_, json, _) = run(&sketch, "json");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let rows = json["order"].as_array().expect("products");
    let of = |item: &str| rows.iter().find(|row| row["item"] == item).expect("a product");
    assert_eq!(of("flake: base coat")["color"], "slate");
    assert_eq!(of("flake: flake")["color"], serde_json::Value::Null);
    assert_eq!(of("flake: flake")["to_choose"][0], "blend");
    let (_, csv, _) = run(&sketch, "csv");
    let base = csv.lines().find(|line| line.starts_with("flake: base coat,"));
    assert!(base.is_some_and(|line| line.ends_with(",slate")), "{csv}");
}
