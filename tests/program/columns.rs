//! What a terminal of 80 columns shows whole: every text and every message of every command, on the demonstration floors and on
//! sketches that are wrong.

use std::fs;
use std::path::Path;

use crate::common::slabwalk;

/// Columns of a terminal.
const COLUMNS: usize = 80;

/// Wrong or worrying sketches of `tests/messages`, one for each shape that a message takes.
const MESSAGES: [&str; 14] = [
    "chase_over_a_tube",
    "cut_into_a_post_tensioned_slab",
    "diamonds_round_columns",
    "duplicate_id_far_apart",
    "hold_tendons_unknown",
    "hold_moisture_beyond_mitigation",
    "joints_on_top_of_each_other",
    "letters_that_the_font_lacks",
    "minified",
    "record_over_several_lines",
    "several_at_once",
    "text_lost_to_a_comment",
    "unknown_key",
    "walk_with_a_wrong_direction",
];

fn root(part: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(part);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{part}: {error}"))
}

/// Both outputs of a run.
fn said(arguments: &[&str], at: &Path) -> String {
    let output = slabwalk().current_dir(at).args(arguments).output();
    let output = output.expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    text(output.stdout) + &text(output.stderr)
}

/// Lines that are too long. What is one word is not broken: a path can be copied.
fn too_long(text: &str) -> Vec<&str> {
    let words = |line: &&str| line.split_whitespace().count() > 1;
    let long = text.lines().filter(|line| line.chars().count() > COLUMNS);
    long.filter(words).collect()
}

fn holds(arguments: &[&str], at: &Path) -> String {
    let said = said(arguments, at);
    let long = too_long(&said);
    assert!(long.is_empty(), "{arguments:?}: {long:#?}\nin\n{said}");
    said
}

/// A folder with the demonstration floors under short names.
fn floors() -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder");
    let names = [
        ("sketches/harrow-lane-garage.yaml", "garage.yaml"),
        ("sketches/dock-road-boat-shop.yaml", "boats.yaml"),
        ("sketches/mill-street-kitchen.yaml", "kitchen.yaml"),
    ];
    for (from, to) in names {
        let text = root(from).replace("shop/demo.yaml", "shop.yaml");
        fs::write(dir.path().join(to), text).expect("written");
    }
    fs::write(dir.path().join("shop.yaml"), root("sketches/shop/demo.yaml")).expect("written");
    dir
}

const FLOORS: [&str; 3] = ["garage.yaml", "boats.yaml", "kitchen.yaml"];

#[test]
fn every_text_of_a_demonstration_floor() {
    let dir = floors();
    let at = dir.path();
    for floor in FLOORS {
        for command in ["check", "takeoff", "order", "days", "price"] {
            holds(&[command, floor], at);
        }
        holds(&["takeoff", floor, "--explain", "all"], at);
        // What was found is one finding a kind: 11 long panels are one, and so are two spots of oil.
        let taken = said(&["takeoff", floor], at);
        assert!(taken.matches("panel-aspect").count() <= 1, "{taken}");
        let place = |title: &str| {
            taken.find(&format!("\n{title}")).unwrap_or_else(|| panic!("{floor}: {title}"))
        };
        let titles = ["TOTALS\n", "TO ORDER\n", "FLOOR\n", "PANELS\n", "FINDINGS"];
        assert!(titles.map(place).is_sorted(), "{floor}: {taken}");
    }
}

#[test]
fn a_change_order_and_a_close_out() {
    let dir = floors();
    let at = dir.path();
    let garage = fs::read_to_string(at.join("garage.yaml")).expect("a sketch");
    let found = garage
        .replace("y: 13'\n", "y: 13'\n    buried: true\n")
        .replace("depth: 0.75", "depth: 1.25");
    fs::write(at.join("found.yaml"), found).expect("written");
    holds(&["change", "garage.yaml", "found.yaml"], at);
    holds(&["change", "garage.yaml", "boats.yaml"], at);
    for (name, hours) in [("a", "2.5 h"), ("b", "2.6 h"), ("c", "2.7 h")] {
        let used = format!(
            "{garage}\nused:\n  packages: {{joint filler: 11}}\n  hours: {{grind the floor: {hours}, fill joints: 2 h}}\n"
        );
        fs::write(at.join(format!("{name}.yaml")), used).expect("written");
    }
    let text = holds(&["closeout", "a.yaml", "b.yaml", "c.yaml"], at);
    assert!(text.contains("SHOP BOOK"), "{text}");
}

#[test]
fn a_packet_ends_with_five_lines_and_several_with_a_line_each() {
    let dir = floors();
    let at = dir.path();
    let one = holds(&["packet", "garage.yaml", "--out", "one"], at);
    let lines: Vec<&str> = one.lines().take(5).collect();
    let starts = [
        "Found       ",
        "On hold     Moisture tests",
        "Costs       $",
        "Open first  takeoff.txt",
        "Files       ",
    ];
    for (line, start) in lines.iter().zip(starts) {
        assert!(line.starts_with(start), "{start:?}\n{one}");
    }
    assert!(lines[4].ends_with(" in one/garage"), "{one}");
    let files = fs::read_dir(at.join("one/garage")).expect("a folder").count();
    assert!(lines[4].contains(&format!(" {files} in ")), "{files}: {one}");
    let several = holds(&["packet", "kitchen.yaml", "garage.yaml"], at);
    let lines: Vec<&str> = several.lines().collect();
    assert!(several.starts_with("kitchen.yaml: "), "{several}");
    assert!(lines.len() <= 6, "a line or two a sketch, and the sum: {several}");
    assert!(several.contains("2 of 2 packets made"), "{several}");
    assert!(several.contains("The packets are in out/kitchen, out/garage\n"), "{several}");
}

#[test]
fn every_help() {
    let at = Path::new(".");
    let text = holds(&["--help"], at);
    let commands: Vec<&str> = text
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter_map(|line| line.strip_prefix("  "))
        .filter_map(|line| line.split_whitespace().next().filter(|_| !line.starts_with(' ')))
        .collect();
    assert!(commands.len() > 15, "{commands:?}");
    for command in commands.into_iter().filter(|command| *command != "help") {
        holds(&[command, "--help"], at);
        holds(&[command, "--no-such"], at);
    }
}

#[test]
fn what_is_said_of_wrong_sketches_and_of_files_that_are_none() {
    let dir = tempfile::tempdir().expect("a folder");
    let at = dir.path();
    for name in MESSAGES {
        let text = root(&format!("tests/messages/{name}.yaml"));
        fs::write(at.join("floor.yaml"), text).expect("written");
        holds(&["check", "floor.yaml"], at);
    }
    fs::write(at.join("floor.yaml"), [0xff, 0xfe, 0x41]).expect("written");
    for arguments in [
        &["check", "floor.yaml"][..],
        &["check", "nosuch.yaml"],
        &["packet", "floor.yaml", "nosuch.yaml", "."],
        &["takeoff", "floor.yaml", "--shop", "nosuch.yaml"],
        &["quick", "--system", "flake", "--area", "480 ft2"],
        &["quick", "--system", "flake", "--area", "a lot of it"],
        &["new", "It/never:writes*over", "--size", "1", "2", "--walk", "E 1"],
    ] {
        holds(arguments, at);
    }
}
