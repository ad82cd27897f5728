//! What the page has to know, as JSON.

use serde::Serialize;

use super::amend;
use super::floor::{self, Floor};
use super::http::Response;
use super::views::{self, VIEWS};
use crate::diagnostic::{Diagnostic, FileId};
use crate::edit::Reading;
use crate::hold::Hold;
use crate::quantity::Units;
use crate::render::Lines;
use crate::sketch::Span;
use crate::slab::{self, Slab};
use crate::survey::{Resolved, Survey};

/// Most findings that are sent; errors come first.
const MOST_FOUND: usize = 200;
/// Longest part of a line that is sent, characters.
const LONGEST_LINE: usize = 400;

/// A line of the sketch.
#[derive(Debug, Default, Serialize)]
pub struct SourceLine {
    /// Its number, from 1.
    pub line: usize,
    /// Column of the mark, from 1.
    pub column: usize,
    /// Before the marked text.
    pub before: String,
    /// The marked text.
    pub marked: String,
    /// After it.
    pub after: String,
}

/// An error or a finding.
#[derive(Debug, Serialize)]
pub struct Found {
    severity: &'static str,
    code: &'static str,
    item: Option<String>,
    message: String,
    hint: Option<String>,
    source: Option<&'static str>,
    at: Option<SourceLine>,
}

/// What must be cleared before work starts.
#[derive(Debug, Serialize)]
pub struct Held {
    code: &'static str,
    lead: String,
    message: String,
}

/// A record on the floor.
#[derive(Debug, Serialize)]
pub struct Item {
    id: String,
    what: &'static str,
    at: SourceLine,
}

/// What stands in the sketch and can be changed.
#[derive(Debug, Serialize)]
struct Standing {
    records: Vec<amend::Listed>,
    parts: Vec<amend::Part>,
    /// The runs of the outline, where it is a walk.
    runs: Option<Vec<String>>,
    /// Its corners, where it is a list of them.
    corners: Option<Vec<String>>,
}

/// What a page shows while it records: everything that is known without measuring the floor.
#[derive(Debug, Serialize)]
pub struct Glance<'a> {
    name: &'a str,
    job: &'a str,
    version: &'a str,
    /// Version of the floor that is drawn; another one while the sketch is broken.
    drawn: Option<&'a str>,
    ground: Option<String>,
    metric: bool,
    broken: bool,
    trouble: Option<&'a str>,
    items: Vec<Item>,
    /// None while the sketch has errors: what stands in it is not known then.
    listed: Option<Standing>,
    views: Vec<(&'static str, &'static str)>,
    /// Whether the page for a phone can be taken from here.
    phone: bool,
    undo: Option<(u64, &'a str)>,
    redo: Option<(u64, &'a str)>,
}

/// Everything at once.
#[derive(Debug, Serialize)]
pub struct State<'a> {
    #[serde(flatten)]
    glance: Glance<'a>,
    quantities: Vec<(String, String, String)>,
    holds: Vec<Held>,
    found: Vec<Found>,
}

/// The parts a state is made from.
#[derive(Debug)]
pub struct Parts<'a> {
    /// File name of the sketch.
    pub name: &'a str,
    /// The sketch as it is.
    pub now: &'a Floor,
    /// The last one without errors.
    pub good: Option<&'a Floor>,
    /// Why the file can't be read, if it can't.
    pub trouble: Option<&'a str>,
    /// The change that can be taken back.
    pub undo: Option<(u64, &'a str)>,
    /// The change that can be made again.
    pub redo: Option<(u64, &'a str)>,
}

/// What is known without measuring the floor.
#[must_use]
pub fn glance<'a>(parts: &Parts<'a>) -> Glance<'a> {
    let good = parts.good.and_then(|f| Some((f, f.resolved()?)));
    let placed = good.map(|(_, placed)| placed);
    Glance {
        name: parts.name,
        job: placed.map_or("", |p| p.sketch.job.name.as_str()),
        version: &parts.now.version,
        drawn: good.map(|(f, _)| f.version.as_str()),
        ground: placed.map(|p| floor::ground(&p.slab)),
        metric: placed.is_some_and(|p| p.slab.units == Units::Metric),
        broken: parts.now.resolved().is_none() || parts.trouble.is_some(),
        trouble: parts.trouble,
        items: good.map(|(f, p)| items(&p.slab, &f.text)).unwrap_or_default(),
        listed: parts.now.resolved().map(|p| standing(&parts.now.text, p)),
        views: VIEWS.iter().map(|(name, label, _)| (*name, *label)).collect(),
        phone: phone(),
        undo: parts.undo,
        redo: parts.redo,
    }
}

fn standing(text: &str, placed: &Resolved) -> Standing {
    let reading = Reading::of(text);
    Standing {
        records: amend::records(text, &reading, &placed.slab),
        parts: amend::parts(&reading, &placed.shop),
        runs: reading.runs(),
        corners: reading.corners(),
    }
}

/// The state as JSON.
#[must_use]
pub fn state(parts: &Parts) -> String {
    let survey = parts.good.and_then(Floor::survey);
    let state = State {
        glance: glance(parts),
        quantities: survey.map(views::quantities).unwrap_or_default(),
        holds: survey.map(held).unwrap_or_default(),
        found: found(parts.now),
    };
    serde_json::to_string(&state).unwrap_or_else(|_| "{}".into())
}

#[cfg(not(target_family = "wasm"))]
const fn phone() -> bool {
    super::bundle::ready()
}

/// A phone has it already.
#[cfg(target_family = "wasm")]
const fn phone() -> bool {
    false
}

fn held(survey: &Survey) -> Vec<Held> {
    let one =
        |hold: &Hold| Held { code: hold.code.word(), lead: hold.lead(), message: hold.sentence() };
    survey.holds.iter().map(one).collect()
}

fn found(floor: &Floor) -> Vec<Found> {
    told(&floor.text, floor.found().into_iter().take(MOST_FOUND))
}

fn told<'d>(text: &str, found: impl IntoIterator<Item = &'d Diagnostic>) -> Vec<Found> {
    let lines = Lines::new(text);
    let one = |d: &Diagnostic| Found {
        severity: d.severity.word(),
        code: d.code,
        item: d.item.clone(),
        message: d.message.clone(),
        hint: d.hint.clone(),
        source: d.source,
        // Only the sketch itself is ever shown; a shop book may lie elsewhere.
        at: d.place.filter(|p| p.file == FileId::Sketch).map(|p| source_line(text, &lines, p.span)),
    };
    found.into_iter().map(one).collect()
}

/// What the papers can't show, as JSON.
#[must_use]
pub fn unshown(text: &str, found: impl IntoIterator<Item = Diagnostic>) -> Response {
    let found: Vec<Diagnostic> = found.into_iter().collect();
    Response::json(200, serde_json::json!({ "found": told(text, &found) }).to_string())
}

/// The line of a span, cut where the span begins and ends on it.
fn source_line(text: &str, lines: &Lines, span: Span) -> SourceLine {
    let start = text.floor_char_boundary(span.start.min(text.len()));
    let (line, column) = lines.line_column(start);
    let from = text[..start].rfind('\n').map_or(0, |n| n + 1);
    let to = text[start..].find('\n').map_or(text.len(), |n| start + n);
    let end = text.floor_char_boundary(span.end.clamp(start, to));
    let cut =
        |part: &str| -> String { part.trim_end_matches('\r').chars().take(LONGEST_LINE).collect() };
    SourceLine {
        line,
        column,
        before: cut(&text[from..start]),
        marked: cut(&text[start..end]),
        after: cut(&text[end..to]),
    }
}

/// Ids of all items with the byte of the sketch where each stands.
pub(super) fn places(slab: &Slab) -> Vec<(String, usize)> {
    slab.items().map(|item| (item.id().to_owned(), item.span().start)).collect()
}

fn items(slab: &Slab, text: &str) -> Vec<Item> {
    let lines = Lines::new(text);
    let item = |item: slab::Item| Item {
        id: item.id().to_owned(),
        what: item.kind().described().seen,
        at: source_line(text, &lines, item.span()),
    };
    slab.items().map(item).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "slabwalk: 1\njob: {name: Shed}\nslab: {outline: [[0, 0], [12', 0], [12', 10'], [0, 10']]}\ncracks:\n  - {id: C1, path: [[1', 1'], [4', 5']], width: 1/16}\n";

    fn json(now: &str, good: Option<&str>) -> serde_json::Value {
        let now = Floor::read(now.into(), None);
        let good = good.map(|text| Floor::read(text.into(), None));
        let parts = Parts {
            name: "shed.yaml",
            now: &now,
            good: good.as_ref(),
            trouble: None,
            undo: None,
            redo: None,
        };
        serde_json::from_str(&state(&parts)).expect("JSON")
    }

    #[test]
    fn quantities_items_and_lines() {
        let s = json(GOOD, Some(GOOD));
        assert_eq!(s["quantities"][0][1], "120.0 ft²");
        assert_eq!(s["items"][0]["id"], "C1");
        assert_eq!(s["items"][0]["at"]["line"], 5);
        assert_eq!(s["items"][0]["at"]["marked"], "C1");
        assert_eq!(s["broken"], false);
        assert_eq!(s["holds"][0]["code"], "moisture-tests-wanted");
        let message = s["holds"][0]["message"].as_str().unwrap_or_default();
        assert!(message.contains("Do not coat until"), "{message}");
    }

    #[test]
    fn a_broken_sketch_keeps_the_last_good_floor_and_names_the_line() {
        let broken = GOOD.replace("width: 1/16", "width: thin");
        let s = json(&broken, Some(GOOD));
        assert_eq!(s["broken"], true);
        assert_ne!(s["version"], s["drawn"]);
        assert_eq!(s["found"][0]["severity"], "error");
        assert_eq!(s["found"][0]["at"]["marked"], "thin");
        assert_eq!(s["found"][0]["at"]["line"], 5);
        assert_eq!(s["quantities"][0][1], "120.0 ft²");
        let nothing = json("slabwalk: 1\n", None);
        assert_eq!(nothing["drawn"], serde_json::Value::Null);
    }
}
