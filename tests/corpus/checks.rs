//! What must hold for any bytes: shared by the fuzz targets and the test that replays their corpus.
//!
//! Every function takes bytes, panics if something doesn't hold, and gives whether the bytes got past reading.

use slabwalk::diagnostic::{Diagnostic, Severity};
use slabwalk::edit::{format, insert_record};
use slabwalk::quantity::read::{self, Bare, ReadError};
use slabwalk::quantity::{Length, Units, write};
use slabwalk::render::render;
use slabwalk::{shop, sketch};

use super::{floor, reports};

/// A target by its name, which is also its folder in the corpus.
pub type Check = fn(&[u8]) -> bool;

/// All targets.
pub const TARGETS: [(&str, Check); 6] = [
    ("text", text),
    ("shop", book),
    ("length", length),
    ("walk", walk),
    ("pipeline", pipeline),
    ("sheets", sheets),
];

/// A sketch's text: read, its messages written, its canonical form made, a record put in, and measured.
pub fn text(data: &[u8]) -> bool {
    let Ok(text) = slabwalk::yaml::decode(data) else {
        return false;
    };
    let (sketch, faults) = sketch::parse(text);
    places_lie_in(text, &faults);
    let said = render(&faults, ("sketch.yaml", text), None, false);
    says_no_control_characters(&said);
    let new = format(text);
    if let Ok(new) = &new {
        assert_eq!(format(new).as_ref(), Ok(new), "the form of the form");
    }
    let longer =
        insert_record(text, "spalls", "{box: {corner: [1', 1'], size: [2\", 2\"]}, depth: 1/4}");
    let Some(sketch) = sketch else {
        assert!(faults.iter().any(|f| f.severity == Severity::Error));
        return false;
    };
    let new = new.expect("a good sketch has a canonical form");
    assert_eq!(meaning(&new), Some(without_places(&sketch)), "{new}");
    if let Ok(longer) = longer {
        let spalls = sketch::parse(&longer).0.map(|s| s.spalls.len());
        assert!(spalls.is_none_or(|n| n == sketch.spalls.len() + 1), "{longer}");
    }
    if small(&sketch) {
        reports::measured(text, sketch, faults, shop::built_in(), false);
    }
    true
}

/// Whether a sketch is small enough to be measured many times a second.
fn small(sketch: &sketch::Sketch) -> bool {
    sketch.joints.len() + sketch.cracks.len() + sketch.spalls.len() + sketch.lippage.len() < 40
}

/// A shop book's text: read, its messages written, printed, and a floor priced by it.
pub fn book(data: &[u8]) -> bool {
    let Ok(text) = slabwalk::yaml::decode(data) else {
        return false;
    };
    let (book, faults) = shop::parse(text);
    places_lie_in(text, &faults);
    let said = render(&faults, ("a.yaml", ""), Some(("shop.yaml", text)), false);
    says_no_control_characters(&said);
    let whole = shop::print(Some(text));
    let Some(book) = book else {
        return false;
    };
    let (again, _) = shop::parse(&whole);
    assert_eq!(again.as_ref(), Some(&book), "what is printed reads as the same book\n{whole}");
    let (sketch, faults) = sketch::parse(floor::PLAIN);
    let sketch = sketch.expect("a good sketch");
    reports::measured(floor::PLAIN, sketch, faults, book, false);
    true
}

/// The readers of quantities: finite, and what is written of a length reads as the same length.
pub fn length(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else {
        return false;
    };
    let mut read_any = false;
    for units in [Units::Us, Units::Metric] {
        for bare in [Bare::Plan(units), Bare::Small(units)] {
            let found = read::length(text, bare);
            read_any |= found.is_ok();
            said(&found);
            if let Ok(length) = found {
                reads_back(length, units);
            }
        }
        said(&read::walk_entry(text, units));
        said(&read::temperature(text, units));
        said(&read::area(text, units));
        said(&read::size(text, units));
    }
    others(text);
    read_any
}

fn others(text: &str) {
    said(&read::percent(text));
    said(&read::number(text));
    said(&read::count(text));
    said(&read::volume(text));
    said(&read::mass(text));
    said(&read::span(text));
    said(&read::film(text));
    said(&read::coverage(text));
    said(&read::spread(text));
    said(&read::money(text));
    said(&read::decimal_percent(text));
    said(&read::distance(text));
    said(&read::distance_rate(text));
}

/// A refusal is short, whatever was refused, and every number in what was read is finite.
fn said<T: std::fmt::Debug>(found: &Result<T, ReadError>) {
    match found {
        Err(error) => {
            assert!(error.problem.chars().count() < 300, "{}", error.problem);
            let hint = error.hint.chars().count();
            assert!((1..300).contains(&hint), "{}", error.hint);
        }
        Ok(value) => {
            let value = format!("{value:?}");
            assert!(!value.contains("inf") && !value.contains("NaN"), "{value}");
        }
    }
}

/// Written and read, a length is the same to the step it was written in; written again, the same text.
fn reads_back(length: Length, units: Units) {
    let m = length.m();
    assert!(m.is_finite());
    // Beyond belief, and beyond what a tape's text holds to the last step.
    if m.abs() > 1e6 {
        return;
    }
    let rows = [
        (
            write::length(m, units),
            Bare::Plan(units),
            if units == Units::Us { 0.0254 / 16.0 } else { 0.005 },
        ),
        (
            write::small(m, units),
            Bare::Small(units),
            if units == Units::Us { 0.0254 / 128.0 } else { 0.000_05 },
        ),
    ];
    for (text, bare, step) in rows {
        let back = read::length(&text, bare)
            .unwrap_or_else(|e| panic!("{m} is written {text}: {e:?}"))
            .m();
        assert!(
            (back - m).abs() <= step * 1.000_001 + m.abs() * 1e-12,
            "{m} is written {text}, which is {back}"
        );
    }
    let exact = write::feet_inches(m, 64);
    let back = read::length(&exact, Bare::Plan(Units::Us))
        .unwrap_or_else(|e| panic!("{m} is written {exact}: {e:?}"));
    assert_eq!(write::feet_inches(back.m(), 64), exact);
}

/// A walk: every line of the text is one run.
pub fn walk(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else {
        return false;
    };
    let runs: Vec<String> = text.lines().take(40).map(quoted).collect();
    let units = if data.len().is_multiple_of(2) { "us" } else { "metric" };
    let sketch = format!(
        "slabwalk: 1\njob: {{name: walk}}\nunits: {units}\nslab: {{outline: {{start: [1, 2], walk: [{}]}}}}\n",
        runs.join(", ")
    );
    measured_text(&sketch, false)
}

/// A structured sketch, its choices taken from the bytes, through everything the program makes.
pub fn pipeline(data: &[u8]) -> bool {
    measured_text(&floor::sketch(data), false)
}

/// The same, drawn as well.
pub fn sheets(data: &[u8]) -> bool {
    measured_text(&floor::sketch(data), true)
}

fn measured_text(text: &str, drawn: bool) -> bool {
    let (sketch, faults) = sketch::parse(text);
    places_lie_in(text, &faults);
    says_no_control_characters(&render(&faults, ("sketch.yaml", text), None, false));
    let Some(sketch) = sketch else {
        return false;
    };
    let new = format(text).expect("a good sketch has a canonical form");
    assert_eq!(meaning(&new), Some(without_places(&sketch)), "{new}");
    reports::measured(text, sketch, faults, shop::built_in(), drawn)
}

/// A text in YAML's double quotes.
pub fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => out += &format!("\\u{:04X}", u32::from(c)),
            c => out.push(c),
        }
    }
    out + "\""
}

fn places_lie_in(text: &str, faults: &[Diagnostic]) {
    for fault in faults {
        let places = fault.place.into_iter().chain(fault.related.iter().map(|r| r.0));
        for place in places.filter(|p| p.file != slabwalk::diagnostic::FileId::BuiltIn) {
            assert!(
                place.span.start <= place.span.end && place.span.end <= text.len(),
                "{fault:?}"
            );
        }
    }
}

/// A message goes to a terminal, which would obey them.
fn says_no_control_characters(said: &str) {
    let bad = said.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t'));
    assert_eq!(bad, None, "{said}");
}

fn meaning(text: &str) -> Option<String> {
    sketch::parse(text).0.map(|sketch| without_places(&sketch))
}

fn without_places(sketch: &sketch::Sketch) -> String {
    let text = format!("{sketch:?}");
    let mut parts = text.split("Span { start: ");
    let mut out = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        out += part.split_once('}').map_or("", |(_, rest)| rest);
    }
    out
}
