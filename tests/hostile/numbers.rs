//! Numbers at the edges, and floors of more than anybody drew.

use super::common::{SLAB, check, run, with};

/// Numbers that a parser of floating point would take, or that it would take for something else.
const NO_NUMBERS: [&str; 22] = [
    "1e308", "1e-320", "1e400", "nan", "NaN", ".nan", "inf", "-inf", ".inf", "Infinity", "0x10",
    "0o17", "0b1", "1_000", "1,000'", "١٢'", "１２'", "1/0\"", "12'13\"", "--1", "1..2", "+-3",
];

#[test]
fn what_is_no_number_is_an_error_at_its_place() {
    for text in NO_NUMBERS {
        let sketch = format!(
            "{SLAB}joints:\n  - {{id: J1, kind: control, x: \"{}\"}}\n",
            text.replace('"', "\\\"")
        );
        check(sketch).is(1, &["J1", "floor.yaml:5", "hint:"]);
        let sketch = format!(
            "{SLAB}cracks:\n  - {{id: C1, path: [[0, 0], [4', 4']], width: \"{}\"}}\n",
            text.replace('"', "\\\"")
        );
        check(sketch).is(1, &["C1", "floor.yaml:5", "hint:"]);
    }
}

#[test]
fn numbers_beyond_belief_say_the_limit() {
    let digits = "9".repeat(400);
    let rows = [
        (format!("joints: [{{id: J1, kind: control, x: {digits}}}]"), "beyond belief"),
        (format!("joints: [{{id: J1, kind: control, x: 0.{digits}}}]"), ""),
        ("joints: [{id: J1, kind: control, x: 5281'}]".into(), "5280'-0\""),
        ("joints: [{id: J1, kind: control, x: 12', width: 12 1/16}]".into(), "12\""),
        ("joints: [{id: J1, kind: control, x: 12', depth: 3'}]".into(), "24\""),
        ("cracks: [{path: [[0, 0], [1', 1']], width: -1/8}]".into(), "negative"),
        ("spalls: [{circle: {center: [4', 4'], diameter: 99999'}, depth: 1}]".into(), "5280'-0\""),
        ("spalls: [{circle: {center: [4', 4'], diameter: 0}, depth: 1}]".into(), "zero"),
        ("tests: {air: {temperature: 9999 F}}".into(), ""),
        ("tests: {moisture: [{at: [1', 1'], rh: 101%}]}".into(), ""),
        ("price: {trips: 1001}".into(), "1000"),
        ("price: {travel: 99999999999999999999999999999999 mi}".into(), ""),
        ("used: {packages: {joint filler: 1e9}}".into(), ""),
    ];
    for (line, limit) in rows {
        let said = check(format!("{SLAB}{line}\n"));
        said.is(1, &["floor.yaml:4", limit]);
        assert!(said.messages.len() < 3000, "{}", said.messages);
    }
}

#[test]
fn zero_with_a_sign_is_zero() {
    let said = check(format!(
        "{SLAB}joints: [{{id: J1, kind: control, path: [[-0, -0'], [24', 22']], width: 0}}]\n"
    ));
    said.is(0, &[]);
    let folder = with(format!("{SLAB}levels: [[-0, -0, -0]]\n"));
    let said = run(folder.path(), &["takeoff", "floor.yaml", "--format", "json"]);
    said.is(0, &[]);
    assert!(!said.text().contains("-0,") && !said.text().contains("-0.0"), "{}", said.text());
}

#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn a_hundred_thousand_cracks_in_one_spot_are_counted() {
    let crack = |i: usize| {
        let (x, y) = (i % 317, i / 317);
        format!("  - {{path: [[11.{x:03}', 11.{y:03}'], [12.{y:03}', 11.{x:03}']], width: 1/8}}\n")
    };
    let cracks: String = (0..100_000).map(crack).collect();
    let folder = with(format!("{SLAB}cracks:\n{cracks}"));
    let said = run(folder.path(), &["takeoff", "floor.yaml", "--format", "csv"]);
    said.is(0, &[]);
    assert!(said.text().contains("C100000"), "the last one is counted");
}

#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn a_map_with_no_room_for_its_tags_is_refused() {
    let crack = "  - {path: [[11', 11'], [12', 12']], width: 1/8}\n";
    let folder = with(format!("{SLAB}cracks:\n{}", crack.repeat(2_000)));
    let said = run(folder.path(), &["map", "floor.yaml", "--out", "map.svg"]);
    said.is(1, &["no-room-for-tags", "and 1976 more", "hint:"]);
    assert_eq!(super::common::names(folder.path()), ["floor.yaml"]);
}

#[test]
fn of_thousands_of_photographs_the_first_are_opened() {
    let photos: String =
        (0..5_000).map(|i| format!("  - {{item: J1, file: p{i}.jpg}}\n")).collect();
    let said =
        check(format!("{SLAB}joints: [{{id: J1, kind: control, x: 12'}}]\nphotos:\n{photos}"));
    said.is(0, &["photo-too-many", "one of 5000; the first 400 are opened"]);
}
