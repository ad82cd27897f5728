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
    assert_eq!(json["sundries"][0]["item"], "static mixer");
    let (good, csv, _) = run(&text(MORE), "csv");
    assert!(good && csv.starts_with("item,packages,"), "{csv}");
    assert!(csv.contains("\njoint filler,2,2,"), "{csv}");
    let (good, words, _) = run(&text(MORE), "text");
    assert!(
        good && words.contains("   2  joint filler, 600 mL\n"),
        "{words}"
    );
    assert!(words.contains("DUST AND DISPOSAL"), "{words}");
}

#[test]
fn an_unknown_system_is_an_error_at_its_line() {
    let (good, out, messages) = run(&text("coating: {system: terrazo}\n"), "text");
    assert!(!good && out.is_empty());
    assert!(
        messages.contains("no coating system named terrazo"),
        "{messages}"
    );
    assert!(messages.contains("floor.yaml:7"), "{messages}");
}
