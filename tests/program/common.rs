//! What the tests from outside share: a sketch in, the program's answer out.

use assert_cmd::Command;
use serde_json::Value;

/// Feet to metres, exact.
pub const FT: f64 = 0.3048;
/// Inches to millimetres, exact.
pub const MM_PER_IN: f64 = 25.4;
/// Square feet to square metres, exact.
pub const FT2: f64 = FT * FT;

/// The program.
pub fn slabwalk() -> Command {
    let mut command = Command::cargo_bin("slabwalk").expect("the binary is built with the tests");
    command.env("NO_COLOR", "1");
    command
}

/// A folder with one sketch in it.
pub fn folder(sketch: &str) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("floor.yaml");
    std::fs::write(&path, sketch).expect("the sketch is written");
    (folder, path)
}

/// The takeoff of a sketch, as JSON.
#[allow(dead_code, reason = "every test file is a crate of its own and uses what it needs")]
pub fn takeoff(sketch: &str) -> Value {
    takeoff_by("slabwalk_shop: 1\n", sketch)
}

/// The takeoff of a sketch by a shop book, as JSON.
#[allow(dead_code, reason = "every test file is a crate of its own and uses what it needs")]
pub fn takeoff_by(book: &str, sketch: &str) -> Value {
    let (folder, path) = folder(sketch);
    let shop = folder.path().join("shop.yaml");
    std::fs::write(&shop, book).expect("the shop book is written");
    let run = slabwalk()
        .args(["takeoff", "--format", "json"])
        .arg(&path)
        .arg("--shop")
        .arg(&shop)
        .output();
    let run = run.expect("the program runs");
    let messages = String::from_utf8_lossy(&run.stderr);
    assert!(run.status.success(), "{sketch}\n{messages}");
    serde_json::from_slice(&run.stdout).expect("the takeoff is JSON")
}

/// A number of a JSON document, by pointer.
#[allow(dead_code, reason = "every test file is a crate of its own and uses what it needs")]
pub fn number(value: &Value, pointer: &str) -> f64 {
    let found = value.pointer(pointer).unwrap_or_else(|| panic!("{pointer} is missing"));
    found.as_f64().unwrap_or_else(|| panic!("{pointer} is {found}, not a number"))
}

/// Fails unless the number at `pointer` is `expected` within `tolerance`.
#[allow(dead_code, reason = "every test file is a crate of its own and uses what it needs")]
#[track_caller]
pub fn near(name: &str, value: &Value, pointer: &str, expected: f64, tolerance: f64) {
    let found = number(value, pointer);
    assert!((found - expected).abs() <= tolerance, "{name}: {pointer} is {found}, not {expected}");
}

/// Codes of the findings about an item (`""` for those about none).
#[allow(dead_code, reason = "every test file is a crate of its own and uses what it needs")]
pub fn codes(value: &Value, item: &str) -> Vec<String> {
    let findings = value["findings"].as_array().expect("findings");
    let about = findings.iter().filter(|f| f["item"].as_str().unwrap_or("") == item);
    about.map(|f| f["code"].as_str().expect("a code").to_owned()).collect()
}
