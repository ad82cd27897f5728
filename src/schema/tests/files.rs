//! The schemas against files: the demonstration floors, the wrong sketches of the messages, and the copies
//! for editors.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::{shop_schema, sketch_schema, validator};
use crate::diagnostic::FileId;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The sketches or books of a folder, with their names.
fn texts(folder: &str) -> Vec<(String, String)> {
    let entries = std::fs::read_dir(root().join(folder)).expect("a folder");
    let mut out: Vec<(String, String)> = entries
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "yaml"))
        .map(|path| {
            let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).expect("a text"))
        })
        .collect();
    out.sort();
    out
}

/// The values of a text; nothing if it is not YAML.
fn values(text: &str) -> Option<Value> {
    let (root, faults) = crate::yaml::parse(text, FileId::Sketch);
    faults.is_empty().then_some(crate::yaml::value(&root?))
}

#[test]
fn the_demonstration_floors_and_books_are_valid() {
    let rows = [
        ("sketches", sketch_schema()),
        ("tests/reading", sketch_schema()),
        ("sketches/shop", shop_schema()),
        ("src/shop", shop_schema()),
    ];
    for (folder, schema) in rows {
        let validator = validator(&schema);
        let texts = texts(folder);
        assert!(!texts.is_empty(), "{folder}");
        for (name, text) in texts {
            // The built-in words of a proposal are a part of the built-in book.
            let part = name == "built_in_proposal";
            let text = if part { format!("slabwalk_shop: 1\n{text}") } else { text };
            let value = values(&text).expect("a demonstration is YAML");
            let errors: Vec<String> = validator
                .iter_errors(&value)
                .map(|error| format!("{}: {error}", error.instance_path()))
                .collect();
            assert_eq!(errors, [""; 0], "{name}");
        }
    }
}

/// Wrong sketches that a schema can refuse. The others are wrong in what only the reader knows: other
/// items, other values, geometry, the trade.
const REFUSED: &[&str] = &[
    "arc_without_a_hand",
    "cove_that_is_none",
    "delamination_treatment",
    "fewer_than_three_corners",
    "fewer_than_three_runs",
    "hardness_beyond_belief",
    "humidity_as_a_share",
    "inch_mark_left_out",
    "keys_in_the_wrong_place",
    "line_twice_in_a_list",
    "minified",
    "missing_key",
    "mitigation_without_a_system",
    "negative_depth",
    "negative_width",
    "no_name",
    "no_outline",
    "no_shape",
    "no_such_day",
    "not_a_number",
    "not_placed",
    "path_of_one_point",
    "percent_without_sign",
    "placed_twice",
    "repeat_in_both_forms",
    "repeat_of_none",
    "repeat_without_a_distance",
    "riser_of_a_word_unknown",
    "several_at_once",
    "sheen_is_no_word",
    "space_left_out",
    "tested_as_something_else",
    "tested_on_without_a_result",
    "three_coordinates",
    "tier_without_a_height",
    "two_readings_of_a_length",
    "two_shapes",
    "unknown_key",
    "unknown_value",
    "unreadable_length",
    "version_missing",
    "version_of_tomorrow",
    "walk_without_direction",
    "wrong_type",
    "yes_for_true",
];

#[test]
fn wrong_sketches_are_refused_as_far_as_a_schema_can() {
    let validator = validator(&sketch_schema());
    let mut refused = Vec::new();
    for (name, text) in texts("tests/messages") {
        // What is not YAML never gets to a schema.
        if values(&text).is_some_and(|value| !validator.is_valid(&value)) {
            refused.push(name);
        }
    }
    assert_eq!(refused, REFUSED);
}

/// Every form that the format's description lists, and some that no one should write.
#[test]
fn patterns_of_lengths() {
    let read = |text: &str| {
        crate::quantity::read::length(
            text,
            crate::quantity::read::Bare::Plan(crate::quantity::Units::Us),
        )
    };
    let rule = crate::record::limits::COORDINATE;
    let schema = serde_json::json!({"pattern": crate::keys::pattern::length(&rule)}).to_string();
    let validator = validator(&schema);
    let good = "24'|24 ft|24ft|24' 6\"|24'6\"|24'-6\"|24 ft 6 in|24 FT. 6 IN.|24' 6 1/2\"|24' 6-1/2\"|24'-6½\"|24′ 6½″|24’6”|24' 6''|6\"|6 in|1/4\"|3 1/2\"|3-1/2\"|¼\"|3¾\"|.25 in|7.3 m|730 cm|45 mm|24|24.5|3 1/2|3-1/2|1/4|0.25|⅛|-2' 6\"|- 2'|−1/2\"|7 meters|7 METRES|2 feet|3 inches|1 1⁄2\"";
    for text in good.split('|') {
        assert!(read(text).is_ok(), "{text}");
        assert!(validator.is_valid(&text.into()), "{text}");
    }
    let bad = "12-6|24' 6|7,3 m|24 yd|24' 6x\"|nan|inf|1/2 m|24' 6\" 2\"|1_000|12'-|'|\"|--2|1//2|..5||twelve|0x10|24.5' 6\"";
    for text in bad.split('|') {
        assert!(read(text).is_err(), "{text}");
        assert!(!validator.is_valid(&text.into()), "{text}");
    }
}

/// The copies that the demonstration floors are tied to. With `UPDATE_SCHEMA=1` they are written anew; the
/// test still fails where one changed.
#[test]
fn the_copies_for_editors_are_what_the_program_prints() {
    for (name, schema) in [("sketch", sketch_schema()), ("shop", shop_schema())] {
        let path = root().join(format!("docs/schema/{name}.json"));
        let found = std::fs::read_to_string(&path).unwrap_or_default();
        if found != schema && std::env::var_os("UPDATE_SCHEMA").is_some() {
            std::fs::write(&path, &schema).expect("the copy is written");
        }
        assert!(
            found == schema,
            "run `UPDATE_SCHEMA=1 cargo test --lib schema` and look at docs/schema/{name}.json"
        );
    }
}

#[test]
fn every_demonstration_names_its_schema_to_an_editor() {
    for (folder, schema) in [("sketches", "sketch"), ("sketches/shop", "shop")] {
        for (name, text) in texts(folder) {
            let line = text.lines().next().unwrap_or_default();
            let target = line.strip_prefix("# yaml-language-server: $schema=");
            let target =
                target.unwrap_or_else(|| panic!("{name} does not name its schema: {line}"));
            let path = root().join(folder).join(target);
            let wanted = Path::new("docs/schema").join(format!("{schema}.json"));
            let wanted = root().join(wanted).canonicalize().expect("the copy is there");
            assert_eq!(path.canonicalize().expect(target), wanted, "{name}");
        }
    }
}
