//! From what was tapped and typed to one record of the sketch, as text.

use std::collections::BTreeMap;

use kurbo::Point;
use serde::Deserialize;

use super::kinds::{self, Field, Kind, Takes, Way};
use super::place::{self, Form, Place};
use crate::quantity::Units;
use crate::quantity::read::{self, Bare};
use crate::slab::Slab;

/// Most points of one record.
const MOST_POINTS: usize = 200;
/// Longest note, characters.
const LONGEST_TEXT: usize = 300;

/// What the page sends.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Version of the sketch that the page showed.
    pub version: String,
    /// The outline that the places were taken from.
    pub ground: String,
    /// Name of the kind.
    pub kind: String,
    /// How it is placed; the kind's usual way where nothing is said.
    #[serde(default)]
    pub way: Option<String>,
    /// Its places.
    #[serde(default)]
    pub points: Vec<Form>,
    /// What was typed and chosen, by key. Steps are `step-1`, `step-2`, …; sizes of shapes `diameter`, `width`.
    #[serde(default)]
    pub values: BTreeMap<String, String>,
}

/// A record ready to go into the sketch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// The list it goes to.
    pub section: &'static str,
    /// Its id; empty where records have none.
    pub id: String,
    /// What the page calls it: `Crack C3`.
    pub label: String,
    /// The record, one line.
    pub text: String,
}

/// Why there is no record, and at which field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Key of the field; empty for the record as a whole.
    pub field: String,
    /// In words.
    pub message: String,
}

fn fault(field: &str, message: impl Into<String>) -> Fault {
    Fault {
        field: field.into(),
        message: message.into(),
    }
}

/// Makes the record of an entry.
///
/// # Errors
///
/// The first thing that is missing or can't be read.
pub fn record(slab: &Slab, entry: &Entry) -> Result<Record, Fault> {
    let kind = kinds::kind(&entry.kind)
        .ok_or_else(|| fault("", "nothing of that kind can be recorded"))?;
    let way = way(kind, entry.way.as_deref())?;
    let points = places(slab, entry)?;
    let id = if kind.letter.is_empty() {
        String::new()
    } else {
        next_id(slab, kind.letter)
    };
    let mut parts: Vec<String> = Vec::new();
    if !id.is_empty() {
        parts.push(format!("id: {id}"));
    }
    let front = kind.fields.iter().filter(|f| is_front(f));
    for field in front {
        parts.extend(value(field, &entry.values, slab.units)?);
    }
    parts.extend(placed(slab, way, &points, entry)?);
    for field in kind.fields.iter().filter(|f| !is_front(f)) {
        if field.takes == Takes::Steps {
            parts.push(readings(&points, &entry.values, slab.units)?);
        } else {
            parts.extend(value(field, &entry.values, slab.units)?);
        }
    }
    if kind.name == "moisture" && parts.len() < 3 {
        return Err(fault("rh", "give the humidity in the slab or the emission"));
    }
    Ok(Record {
        section: kind.section,
        label: format!("{} {id}", kind.label).trim().to_owned(),
        text: format!("{{{}}}", parts.join(", ")),
        id,
    })
}

/// Fields that a sketch names before the place by habit.
fn is_front(field: &Field) -> bool {
    matches!(
        field.key,
        "what" | "kind" | "formed" | "name" | "item" | "file"
    )
}

fn way(kind: &Kind, asked: Option<&str>) -> Result<Way, Fault> {
    let Some(asked) = asked else {
        return Ok(kind.ways[0]);
    };
    let named = |way: &&Way| serde_json::to_value(way).is_ok_and(|name| name == asked);
    let found = kind.ways.iter().find(named);
    found.copied().ok_or_else(|| {
        fault(
            "",
            format!("a {} is not placed that way", kind.label.to_lowercase()),
        )
    })
}

fn places(slab: &Slab, entry: &Entry) -> Result<Vec<Place>, Fault> {
    if entry.points.len() > MOST_POINTS {
        return Err(fault(
            "",
            format!("one record has at most {MOST_POINTS} points"),
        ));
    }
    let resolve = |(i, form): (usize, &Form)| {
        place::resolve(slab, form.clone()).map_err(|m| fault(&format!("point-{}", i + 1), m))
    };
    entry.points.iter().enumerate().map(resolve).collect()
}

/// The next free id of a letter: one past the highest on the floor, so that no id given by the
/// program changes.
fn next_id(slab: &Slab, letter: &str) -> String {
    let ids = ids(slab);
    let numbers = ids
        .iter()
        .filter_map(|id| id.strip_prefix(letter)?.parse::<u64>().ok());
    let next = numbers.max().map_or(1, |n| n.saturating_add(1));
    format!("{letter}{next}")
}

/// Ids of all records that have a place on the floor.
pub(super) fn ids(slab: &Slab) -> Vec<&str> {
    let mut out: Vec<&str> = Vec::new();
    out.extend(slab.joints.iter().map(|i| i.id.as_str()));
    out.extend(slab.cracks.iter().map(|i| i.id.as_str()));
    out.extend(slab.spalls.iter().map(|i| i.id.as_str()));
    out.extend(slab.blemishes.iter().map(|i| i.id.as_str()));
    out.extend(slab.lippage.iter().map(|i| i.id.as_str()));
    out.extend(slab.keep_outs.iter().map(|i| i.id.as_str()));
    out.extend(slab.uncoated.iter().map(|i| i.id.as_str()));
    out.extend(slab.moisture.iter().map(|i| i.id.as_str()));
    out
}

/// `key: value` of a field, or nothing where it was left empty.
fn value(
    field: &Field,
    values: &BTreeMap<String, String>,
    units: Units,
) -> Result<Option<String>, Fault> {
    let typed = values.get(field.key).map_or("", |v| v.trim());
    if typed.is_empty() {
        let missing = || {
            fault(
                field.key,
                format!("{} is missing", field.label.trim_end_matches('?')),
            )
        };
        return if field.needed {
            Err(missing())
        } else {
            Ok(None)
        };
    }
    let wrong = |e: read::ReadError| {
        fault(
            field.key,
            format!("{} `{typed}`: {}; {}", field.label, e.problem, e.hint),
        )
    };
    let written = match field.takes {
        Takes::Long => length(typed, Bare::Plan(units)).map_err(wrong)?,
        Takes::Small | Takes::Height | Takes::Steps => {
            length(typed, Bare::Small(units)).map_err(wrong)?
        }
        Takes::Percent => {
            let with_sign = format!("{}%", typed.trim_end_matches('%').trim_end());
            read::percent(&with_sign).map_err(wrong)?;
            with_sign
        }
        Takes::Number => {
            read::number(typed).map_err(wrong)?;
            typed.to_owned()
        }
        Takes::Choice => {
            let known = field.choices.iter().any(|(word, _)| *word == typed);
            if !known {
                return Err(fault(field.key, format!("{}: choose one", field.label)));
            }
            typed.to_owned()
        }
        Takes::Text => quoted(field, typed)?,
    };
    Ok(Some(format!("{}: {written}", field.key)))
}

/// A length as typed, once it has been read.
fn length(typed: &str, bare: Bare) -> Result<String, read::ReadError> {
    read::length(typed, bare)?;
    Ok(typed.to_owned())
}

/// Words, in quotes unless they are plain.
fn quoted(field: &Field, typed: &str) -> Result<String, Fault> {
    if typed.chars().count() > LONGEST_TEXT {
        return Err(fault(
            field.key,
            format!("{}: at most {LONGEST_TEXT} characters", field.label),
        ));
    }
    let plain = typed.starts_with(|c: char| c.is_ascii_alphabetic())
        && typed
            .chars()
            .all(|c| c.is_alphanumeric() || " ./_-".contains(c))
        && !["true", "false", "null", "yes", "no", "on", "off"]
            .contains(&typed.to_ascii_lowercase().as_str());
    if plain {
        return Ok(typed.to_owned());
    }
    let mut out = String::from("\"");
    for c in typed.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{FEFF}') => {
                out.push(' ')
            }
            c => out.push(c),
        }
    }
    out.push('"');
    Ok(out)
}

fn form_text(form: &Form) -> String {
    match form {
        Form::Wall { wall, along, out } => {
            let (along, out) = (along.trim(), out.trim());
            if out == "0" {
                format!("{{wall: {wall}, along: {along}}}")
            } else {
                format!("{{wall: {wall}, along: {along}, out: {out}}}")
            }
        }
        Form::Line { line, at } => format!("{{line: {}, at: {}}}", line.trim(), at.trim()),
        Form::Xy { x, y } => format!("[{}, {}]", x.trim(), y.trim()),
    }
}

fn list(points: &[Place]) -> String {
    let texts: Vec<String> = points.iter().map(|p| form_text(&p.form)).collect();
    format!("[{}]", texts.join(", "))
}

/// The keys that place a record.
fn placed(slab: &Slab, way: Way, points: &[Place], entry: &Entry) -> Result<Vec<String>, Fault> {
    let (least, most, say) = match way {
        Way::Nowhere => (0, 0, "this has no place of its own"),
        Way::Point | Way::Round => (1, 1, "tap one point"),
        Way::AcrossUp | Way::AcrossLevel => (1, 1, "tap one point of the line"),
        Way::Box => (2, 2, "tap two opposite corners"),
        Way::OnWall => (2, 2, "tap both ends on the wall"),
        Way::Run | Way::Strip => (2, MOST_POINTS, "tap two points or more"),
        Way::Stations => (
            2,
            MOST_POINTS,
            "tap two places or more on one joint or crack",
        ),
        Way::Corners => (3, MOST_POINTS, "tap three corners or more"),
    };
    if points.len() < least || points.len() > most {
        return Err(fault("points", say));
    }
    let size = |key: &'static str, label: &'static str| {
        let field = Field {
            key,
            label,
            takes: Takes::Long,
            needed: true,
            choices: &[],
        };
        value(&field, &entry.values, slab.units).map(Option::unwrap_or_default)
    };
    let one = |key: &str, text: String| Ok(vec![format!("{key}: {text}")]);
    match way {
        Way::Nowhere => Ok(Vec::new()),
        Way::Point => one("at", form_text(&points[0].form)),
        Way::Run => one("path", list(points)),
        Way::AcrossUp => one("x", place::text(points[0].x, slab.units)),
        Way::AcrossLevel => one("y", place::text(points[0].y, slab.units)),
        Way::Corners => one("polygon", list(points)),
        Way::Round => {
            let center = form_text(&points[0].form);
            let diameter = size("diameter", "Diameter")?;
            one("circle", format!("{{center: {center}, {diameter}}}"))
        }
        Way::Strip => {
            let width = size("width", "Width")?;
            one("band", format!("{{path: {}, {width}}}", list(points)))
        }
        Way::Box => corners(slab, points),
        Way::OnWall => on_wall(points, slab.units),
        Way::Stations => one("along", one_line(points)?),
    }
}

/// A rectangle between two opposite corners.
fn corners(slab: &Slab, points: &[Place]) -> Result<Vec<String>, Fault> {
    let (a, b) = (&points[0], &points[1]);
    let (x, y) = (a.x.min(b.x), a.y.min(b.y));
    let (w, h) = ((a.x - b.x).abs(), (a.y - b.y).abs());
    let size = |m| place::text(m, slab.units);
    if size(w) == size(0.0) || size(h) == size(0.0) {
        return Err(fault(
            "points",
            "the two corners stand on one line; tap opposite corners",
        ));
    }
    let is_lower_left = |p: &&Place| (Point::new(p.x, p.y) - Point::new(x, y)).hypot() < 1e-6;
    let corner = points.iter().find(is_lower_left).map_or_else(
        || format!("[{}, {}]", size(x), size(y)),
        |p| form_text(&p.form),
    );
    Ok(vec![format!(
        "box: {{corner: {corner}, size: [{}, {}]}}",
        size(w),
        size(h)
    )])
}

/// Two stations of one wall.
fn on_wall(points: &[Place], units: Units) -> Result<Vec<String>, Fault> {
    let stations: Vec<(usize, &str)> = points
        .iter()
        .filter_map(|p| match &p.form {
            Form::Wall { wall, along, .. } => Some((*wall, along.trim())),
            _ => None,
        })
        .collect();
    let [(wall, a), (other, b)] = stations[..] else {
        return Err(fault("points", "tap both ends of the doorway on its wall"));
    };
    if wall != other {
        return Err(fault(
            "points",
            format!("the ends lie on walls {wall} and {other}; a doorway lies on one"),
        ));
    }
    let metres = |text: &str| read::length(text, Bare::Plan(units)).map_or(0.0, |l| l.m());
    let (from, to) = if metres(a) <= metres(b) {
        (a, b)
    } else {
        (b, a)
    };
    Ok(vec![
        format!("wall: {wall}"),
        format!("from: {from}"),
        format!("to: {to}"),
    ])
}

/// The joint or crack that all points lie on.
fn one_line(points: &[Place]) -> Result<String, Fault> {
    let say = || fault("points", "tap on one joint or crack, with snapping on");
    let mut ids = points.iter().map(|p| match &p.form {
        Form::Line { line, .. } => Some(line.as_str()),
        _ => None,
    });
    let first = ids.next().flatten().ok_or_else(say)?;
    if ids.all(|id| id == Some(first)) {
        Ok(first.to_owned())
    } else {
        Err(say())
    }
}

/// Stations and steps, in the order of the stations.
fn readings(
    points: &[Place],
    values: &BTreeMap<String, String>,
    units: Units,
) -> Result<String, Fault> {
    let mut read_off: Vec<(f64, String)> = Vec::new();
    for (i, point) in points.iter().enumerate() {
        let Form::Line { at, .. } = &point.form else {
            continue;
        };
        let key = format!("step-{}", i + 1);
        let typed = values.get(&key).map_or("", |v| v.trim());
        let wrong =
            |e: read::ReadError| fault(&key, format!("`{typed}`: {}; {}", e.problem, e.hint));
        if typed.is_empty() {
            return Err(fault(&key, format!("the step at {} is missing", at.trim())));
        }
        let step = length(typed, Bare::Small(units)).map_err(wrong)?;
        let station = read::length(at.trim(), Bare::Plan(units)).map_or(0.0, |l| l.m());
        read_off.push((station, format!("[{}, {step}]", at.trim())));
    }
    read_off.sort_by(|a, b| a.0.total_cmp(&b.0));
    let texts: Vec<String> = read_off.into_iter().map(|(_, text)| text).collect();
    Ok(format!("readings: [{}]", texts.join(", ")))
}

#[cfg(test)]
mod tests {
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
        let rows: [(&str, Option<&str>, &str, &[(&str, &str)], &str); 16] = [
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
                &[("height", "-1/2\"")],
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
                "uncoated",
                None,
                TWO,
                &[("what", "sill")],
                "{id: U1, what: sill, box: {corner: {wall: 1, along: 5', out: 2'}, size: [3', 2']}}",
            ),
            (
                "opening",
                None,
                TWO,
                &[("name", "door")],
                "{name: door, wall: 1, from: 5', to: 8'}",
            ),
        ];
        for (kind, way, points, values, wanted) in rows {
            let made = record(&slab(), &entry(kind, way, points, values)).expect(kind);
            assert_eq!(made.text, wanted, "{kind}");
            let new = insert_record(ROOM, made.section, &made.text).expect(kind);
            let floor = Floor::read(new, None);
            assert!(floor.survey.is_some(), "{kind}: {:?}", floor.found);
        }
        let photo = entry(
            "photo",
            None,
            "[]",
            &[("item", "J1"), ("file", "photos/a b.jpg")],
        );
        let made = record(&slab(), &photo).expect("a photo");
        assert_eq!(made.text, "{item: J1, file: photos/a b.jpg}");
    }

    #[test]
    fn what_is_missing_or_wrong_is_named() {
        // Name, entry, field of the fault.
        let rows = [
            ("no such kind", entry("door", None, "[]", &[]), ""),
            (
                "no width",
                entry("crack", None, TWO, &[("movement", "active")]),
                "width",
            ),
            (
                "no points",
                entry(
                    "crack",
                    None,
                    ONE,
                    &[("width", "1/8"), ("movement", "active")],
                ),
                "points",
            ),
            (
                "not a length",
                entry(
                    "crack",
                    None,
                    TWO,
                    &[("width", "thin"), ("movement", "active")],
                ),
                "width",
            ),
            (
                "not a choice",
                entry(
                    "crack",
                    None,
                    TWO,
                    &[("width", "1/8"), ("movement", "x}, {")],
                ),
                "movement",
            ),
            ("not a way", entry("crack", Some("round"), ONE, &[]), ""),
            (
                "no diameter",
                entry("spall", None, ONE, &[("depth", "1")]),
                "diameter",
            ),
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
            (
                "steps off a line",
                entry("lippage", None, TWO, &[("high", "N")]),
                "points",
            ),
            (
                "a step missing",
                entry("lippage", None, LINE, &[("high", "N"), ("step-1", "1/4")]),
                "step-2",
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
                entry(
                    "moisture",
                    None,
                    r#"[{"wall": 9, "along": "1'", "out": "0"}]"#,
                    &[("rh", "70")],
                ),
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
            let slab = floor.survey.expect(typed).slab;
            assert_eq!(
                slab.blemishes[0].note.as_deref(),
                Some(typed.replace('\n', " ").as_str())
            );
        }
    }
}
