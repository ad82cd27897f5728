//! Records of every kind, what is refused, and words that look like YAML.

use super::*;
use crate::edit::insert_record;
use crate::live::floor::Floor;

const ROOM: &str = "slabwalk: 1\njob: {name: room}\nslab:\n  outline: [[0, 0], [24', 0], [24', 20'], [0, 20']]\njoints:\n  - {id: J1, kind: control, x: 12'}\ncracks:\n  - {path: [[1', 1'], [2', 3']], width: 1/16}\n";

fn entry(kind: &str, way: Option<&str>, points: &str, values: &[(&str, &str)]) -> Entry {
    let pairs = values.iter().map(|(k, v)| ((*k).into(), (*v).into()));
    Entry {
        version: String::new(),
        ground: String::new(),
        kind: kind.into(),
        way: way.map(Into::into),
        points: serde_json::from_str(points).expect("places"),
        values: pairs.collect(),
    }
}

fn slab() -> Slab {
    crate::live::floor::tests::slab_of(ROOM)
}

const ONE: &str = r#"[{"wall": 1, "along": "5'", "out": "2' 6\""}]"#;
const TWO: &str =
    r#"[{"wall": 1, "along": "5'", "out": "2'"}, {"wall": 1, "along": "8'", "out": "4'"}]"#;
const LINE: &str = r#"[{"line": "J1", "at": "8'"}, {"line": "J1", "at": "4'"}]"#;

#[test]
fn every_kind_becomes_a_record_that_the_sketch_takes() {
    // Kind, way, places, values, record.
    let rows: [(&str, Option<&str>, &str, &[(&str, &str)], &str); 26] = [
        (
            "diagonal",
            None,
            "[]",
            &[("from", "1"), ("to", "3"), ("measured", "31' 3\"")],
            "{from: 1, to: 3, measured: 31' 3\"}",
        ),
        (
            "face",
            None,
            TWO,
            &[("height", "6\""), ("cove", "true")],
            "{path: [{wall: 1, along: 5', out: 2'}, {wall: 1, along: 8', out: 4'}], height: 6\", cove: true}",
        ),
        (
            "embedded",
            None,
            "[]",
            &[("what", "heating tubes"), ("cover", "2\"")],
            "{what: heating tubes, cover: 2\"}",
        ),
        (
            "joint",
            None,
            ONE,
            &[("kind", "control"), ("count", "3"), ("right", "4'")],
            "{id: J2, kind: control, x: 5', repeat: {count: 3, by: [4', 0]}}",
        ),
        (
            "keep-out",
            Some("round"),
            ONE,
            &[
                ("what", "column"),
                ("diameter", "8\""),
                ("count", "2"),
                ("right", "8'"),
                ("up", "6'"),
            ],
            "{id: K1, what: column, circle: {center: {wall: 1, along: 5', out: 2' 6\"}, diameter: 8\"}, repeat: {count: 2, by: [8', 6']}}",
        ),
        (
            "keep-out",
            Some("round"),
            ONE,
            &[
                ("what", "column"),
                ("diameter", "8\""),
                ("count", "3"),
                ("right", "7' 1/16\""),
                ("rows", "2"),
                ("apart", "6' 6\""),
            ],
            "{id: K1, what: column, circle: {center: [5', 2' 6\"], diameter: 8\"}, repeat: {x: [5', 12' 0 1/16\", 19' 0 1/8\"], y: [2' 6\", 9']}}",
        ),
        (
            "spall",
            Some("box"),
            TWO,
            &[("depth", "3/8"), ("count", "2"), ("up", "4'"), ("rows", "3"), ("apart", "5'")],
            "{id: S1, box: {corner: [5', 2'], size: [3', 2']}, repeat: {x: [5', 10', 15'], y: [2', 6']}, depth: 3/8}",
        ),
        (
            "joint",
            Some("run"),
            TWO,
            &[
                ("kind", "isolation"),
                ("count", "2"),
                ("right", "9'"),
                ("rows", "2"),
                ("apart", "8'"),
            ],
            "{id: J2, kind: isolation, path: [[5', 2'], [8', 4']], repeat: {x: [5', 14'], y: [2', 10']}}",
        ),
        (
            "moisture",
            None,
            ONE,
            &[("rh", "75"), ("count", "2"), ("right", "6'"), ("rows", "1"), ("apart", "")],
            "{id: M1, at: {wall: 1, along: 5', out: 2' 6\"}, repeat: {count: 2, by: [6', 0]}, rh: 75%}",
        ),
        (
            "crack",
            None,
            TWO,
            &[("width", "1/16\""), ("movement", "unknown")],
            "{id: C2, path: [{wall: 1, along: 5', out: 2'}, {wall: 1, along: 8', out: 4'}], width: 1/16\", movement: unknown}",
        ),
        (
            "crack",
            None,
            LINE,
            &[
                ("width", "1/8"),
                ("movement", "active"),
                ("step", "1/16"),
                ("note", "wet: \"here\""),
            ],
            "{id: C2, path: [{line: J1, at: 8'}, {line: J1, at: 4'}], width: 1/8, movement: active, step: 1/16, note: \"wet: \\\"here\\\"\"}",
        ),
        (
            "spall",
            None,
            ONE,
            &[("diameter", "5\""), ("depth", "3/8\"")],
            "{id: S1, circle: {center: {wall: 1, along: 5', out: 2' 6\"}, diameter: 5\"}, depth: 3/8\"}",
        ),
        (
            "spall",
            Some("box"),
            TWO,
            &[("depth", "3/8")],
            "{id: S1, box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}, depth: 3/8}",
        ),
        (
            "spall",
            Some("strip"),
            LINE,
            &[("width", "3\""), ("depth", "3/8")],
            "{id: S1, band: {path: [{line: J1, at: 8'}, {line: J1, at: 4'}], width: 3\"}, depth: 3/8}",
        ),
        (
            "joint",
            None,
            ONE,
            &[("kind", "control"), ("formed", "sawn")],
            "{id: J2, kind: control, formed: sawn, x: 5'}",
        ),
        (
            "joint",
            Some("across-level"),
            ONE,
            &[("kind", "isolation"), ("width", "1/2")],
            "{id: J2, kind: isolation, y: 2' 6\", width: 1/2}",
        ),
        (
            "joint",
            Some("run"),
            TWO,
            &[("kind", "construction")],
            "{id: J2, kind: construction, path: [{wall: 1, along: 5', out: 2'}, {wall: 1, along: 8', out: 4'}]}",
        ),
        (
            "lippage",
            None,
            LINE,
            &[("high", "E"), ("step-1", "1/4"), ("step-2", "1/8")],
            "{id: L1, along: J1, high: E, readings: [[4', 1/8], [8', 1/4]]}",
        ),
        (
            "blemish",
            None,
            TWO,
            &[("what", "oil")],
            "{id: B1, what: oil, box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}}",
        ),
        (
            "moisture",
            None,
            ONE,
            &[("rh", "75")],
            "{id: M1, at: {wall: 1, along: 5', out: 2' 6\"}, rh: 75%}",
        ),
        (
            "hardness",
            None,
            ONE,
            &[("mohs", "5")],
            "{at: {wall: 1, along: 5', out: 2' 6\"}, mohs: 5}",
        ),
        (
            "level",
            None,
            ONE,
            &[("height", "- 1/2\"")],
            "{at: {wall: 1, along: 5', out: 2' 6\"}, height: -1/2\"}",
        ),
        (
            "keep-out",
            None,
            TWO,
            &[("what", "pad #2"), ("flush", "true")],
            "{id: K1, what: \"pad #2\", box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}, flush: true}",
        ),
        (
            "tier",
            None,
            TWO,
            &[("what", "back slab"), ("height", "7\""), ("riser", "coat")],
            "{id: V1, what: back slab, box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}, height: 7\", riser: coat}",
        ),
        (
            "uncoated",
            None,
            TWO,
            &[("what", "sill")],
            "{id: U1, what: sill, box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}}",
        ),
        ("opening", None, TWO, &[("name", "door")], "{name: door, wall: 1, from: 5', to: 8'}"),
    ];
    for (kind, way, points, values, wanted) in rows {
        let made = record(&slab(), &entry(kind, way, points, values)).expect(kind);
        assert_eq!(made.text, wanted, "{kind}");
        let new = insert_record(ROOM, made.section, &made.text).expect(kind);
        let floor = Floor::read(new, None);
        assert!(floor.resolved().is_some(), "{kind}: {}", floor.errors());
    }
    let photo = entry("photo", None, "[]", &[("item", "J1"), ("file", "photos/a b.jpg")]);
    let made = record(&slab(), &photo).expect("a photo");
    assert_eq!(made.text, "{item: J1, file: photos/a b.jpg}");
}

/// Two in a row, so far to the right and up, and so many rows so far apart; and one more value.
fn grid<'a>(
    right: &'a str,
    up: &'a str,
    rows: &'a str,
    apart: &'a str,
    key: &'a str,
    value: &'a str,
) -> [(&'a str, &'a str); 6] {
    [("count", "2"), ("right", right), ("up", up), ("rows", rows), ("apart", apart), (key, value)]
}

#[test]
fn what_is_missing_or_wrong_is_named() {
    // Name, entry, field of the fault.
    let rows = [
        ("no such kind", entry("door", None, "[]", &[]), ""),
        ("no width", entry("crack", None, TWO, &[("movement", "active")]), "width"),
        (
            "no points",
            entry("crack", None, ONE, &[("width", "1/8"), ("movement", "active")]),
            "points",
        ),
        (
            "not a length",
            entry("crack", None, TWO, &[("width", "thin"), ("movement", "active")]),
            "width",
        ),
        (
            "not a choice",
            entry("crack", None, TWO, &[("width", "1/8"), ("movement", "x}, {")]),
            "movement",
        ),
        ("not a way", entry("crack", Some("round"), ONE, &[]), ""),
        ("no diameter", entry("spall", None, ONE, &[("depth", "1")]), "diameter"),
        (
            "flat rectangle",
            entry(
                "blemish",
                None,
                r#"[{"wall": 1, "along": "1'", "out": "2'"}, {"wall": 1, "along": "5'", "out": "2'"}]"#,
                &[("what", "oil")],
            ),
            "points",
        ),
        ("steps off a line", entry("lippage", None, TWO, &[("high", "N")]), "points"),
        (
            "a step missing",
            entry("lippage", None, LINE, &[("high", "N"), ("step-1", "1/4")]),
            "step-2",
        ),
        (
            "rows of lines right across",
            entry("joint", None, ONE, &grid("4'", "", "2", "4'", "kind", "control")),
            "rows",
        ),
        (
            "rows without their distance",
            entry("moisture", None, ONE, &grid("4'", "", "2", "", "rh", "75")),
            "apart",
        ),
        (
            "rows on each other",
            entry("moisture", None, ONE, &grid("4'", "", "2", "0", "rh", "75")),
            "apart",
        ),
        (
            "a distance without rows",
            entry("moisture", None, ONE, &grid("4'", "", "", "4'", "rh", "75")),
            "rows",
        ),
        (
            "slanted rows",
            entry("moisture", None, ONE, &grid("4'", "1'", "2", "4'", "rh", "75")),
            "rows",
        ),
        (
            "more than anybody counts",
            entry("moisture", None, ONE, &grid("4'", "", "501", "4'", "rh", "75")),
            "rows",
        ),
        (
            "rows of nothing",
            entry("moisture", None, ONE, &[("rh", "75"), ("rows", "2"), ("apart", "4'")]),
            "count",
        ),
        ("no reading", entry("moisture", None, ONE, &[]), "rh"),
        (
            "two walls",
            entry(
                "opening",
                None,
                r#"[{"wall": 1, "along": "1'", "out": "0"}, {"wall": 2, "along": "5'", "out": "0"}]"#,
                &[],
            ),
            "points",
        ),
        (
            "a wall that isn't there",
            entry("moisture", None, r#"[{"wall": 9, "along": "1'", "out": "0"}]"#, &[("rh", "70")]),
            "point-1",
        ),
    ];
    for (name, entry, field) in rows {
        let fault = record(&slab(), &entry).expect_err(name);
        assert_eq!(fault.field, field, "{name}: {}", fault.message);
    }
}

#[test]
fn words_stay_words_whatever_is_typed() {
    for typed in [
        "a: b",
        "- x",
        "#",
        "true",
        "{x}",
        "a\", b: [\"",
        "back\\slash",
        "line\nbreak",
        "½ \u{1F6A7}",
        "'",
        "&a *b",
    ] {
        let values: &[(&str, &str)] = &[("what", "oil"), ("note", typed)];
        let made = record(&slab(), &entry("blemish", None, TWO, values)).expect(typed);
        let new = insert_record(ROOM, made.section, &made.text).expect(typed);
        let floor = Floor::read(new, None);
        let slab = &floor.resolved().expect(typed).slab;
        assert_eq!(slab.blemishes[0].note.as_deref(), Some(typed.replace('\n', " ").as_str()));
    }
}
