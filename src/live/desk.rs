//! One sketch on the desk: what it says now, the last floor without errors, and what was recorded.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Point;
use serde::{Deserialize, Serialize};

use super::alike::Alike;
use super::amend::{self, Amendment};
use super::floor::{self, Floor};
use super::http::{Head, Response};
use super::place::{self, Form, Onto};
use super::record::{self, Entry};
use super::route::Route;
use super::state::{self, Glance};
use super::{drawing, kinds, views};
use crate::edit::insert_record;
use crate::explain::Explanations;

/// Said where something is asked for that only a sketch without errors gives.
pub const BROKEN: &str = "the sketch has errors at the moment; mend them first";
/// Most changes that can be taken back, one after another.
const MOST_UNDO: usize = 1000;

/// A change that was written.
#[derive(Clone, Debug)]
struct Written {
    number: u64,
    label: String,
    before: Arc<str>,
    after: Arc<str>,
}

impl Written {
    fn named(&self) -> (u64, &str) {
        (self.number, &self.label)
    }
}

/// Which way a change is gone through again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Taken back.
    Back,
    /// Made again after it was taken back.
    Again,
}

/// What a request would do to a sketch, given its shop book: [`Desk::propose`], [`Desk::propose_amendment`].
pub type Propose = fn(&Floor, Option<&str>, &[u8]) -> Result<Change, Response>;

/// The sketch after a change, as it is kept elsewhere.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Number of the change; later ones have higher numbers.
    pub number: u64,
    /// What the page calls it; empty for a sketch as it was opened.
    pub label: String,
    /// The whole text after it.
    pub text: String,
}

/// A change of the sketch that is worked out and not yet written.
#[derive(Clone, Debug)]
pub struct Change {
    /// The whole text as it is now.
    pub before: String,
    /// The sketch after it.
    pub after: Arc<Floor>,
    /// What the page is told of it.
    pub told: Told,
}

/// What the page is told of a change itself.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Told {
    /// What the page calls it: `Crack C3`.
    pub label: String,
    /// Id of the new record; empty where it has none.
    pub id: String,
    /// The record as written.
    pub text: String,
    /// The sketch had changed since the page last saw it.
    pub merged: bool,
}

impl Change {
    fn of(before: &str, after: Floor, label: String) -> Self {
        let told = Told { label, ..Told::default() };
        Self { before: before.to_owned(), after: Arc::new(after), told }
    }
}

/// What a page shows before anything is measured.
#[derive(Debug, Serialize)]
struct Shown<'a> {
    glance: Glance<'a>,
    /// The bare floor.
    drawing: Option<String>,
}

/// What the page is told of a change that was made: enough to show it and to go on recording.
#[derive(Debug, Serialize)]
struct Made<'a> {
    #[serde(flatten)]
    told: &'a Told,
    #[serde(flatten)]
    shown: Shown<'a>,
    /// The step to be kept, where the page keeps the texts.
    step: Option<Step>,
}

/// The desk.
#[derive(Debug)]
pub struct Desk {
    name: String,
    now: Arc<Floor>,
    good: Option<Arc<Floor>>,
    trouble: Option<String>,
    written: Vec<Written>,
    /// What was taken back, the last one last.
    undone: Vec<Written>,
    numbers: u64,
    /// Number of the oldest text that can be gone back to.
    first: u64,
    /// Counts everything the page has to be told.
    pub changes: u64,
    drawn: BTreeMap<(String, String), Arc<Vec<String>>>,
}

impl Desk {
    /// A desk with nothing read yet. `name` is the file name that the page shows.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            now: Arc::new(Floor::read(String::new(), None)),
            good: None,
            trouble: None,
            written: Vec::new(),
            undone: Vec::new(),
            numbers: 0,
            first: 0,
            changes: 0,
            drawn: BTreeMap::new(),
        }
    }

    /// Puts a sketch on the desk; the one with errors leaves the last good floor where it is.
    pub fn take(&mut self, floor: Arc<Floor>) {
        if self.trouble.take().is_none() && floor.version == self.now.version {
            return;
        }
        if floor.resolved().is_some() {
            self.good = Some(Arc::clone(&floor));
            self.drawn.clear();
        }
        self.now = floor;
        self.changes += 1;
    }

    /// The file can't be read at the moment, and why.
    pub fn note_trouble(&mut self, why: String) {
        if self.trouble.as_deref() != Some(&why) {
            self.trouble = Some(why);
            self.changes += 1;
        }
    }

    /// Whether the file could not be read when it was last looked at.
    #[must_use]
    pub const fn has_trouble(&self) -> bool {
        self.trouble.is_some()
    }

    /// The version on the desk.
    #[must_use]
    pub fn version(&self) -> &str {
        &self.now.version
    }

    fn parts(&self) -> state::Parts<'_> {
        state::Parts {
            name: &self.name,
            now: &self.now,
            good: self.good.as_deref(),
            trouble: self.trouble.as_deref(),
            undo: self.written.last().map(Written::named),
            redo: self.undone.last().map(Written::named),
        }
    }

    /// What the page shows beside the drawing.
    #[must_use]
    pub fn state(&self) -> Response {
        Response::json(200, state::state(&self.parts()))
    }

    /// What can be recorded.
    #[must_use]
    pub fn kinds() -> Response {
        Response::json(200, serde_json::to_string(&*kinds::KINDS).unwrap_or_default())
    }

    /// Answers what needs nothing but the desk.
    #[must_use]
    pub fn answer(&self, route: Route, head: &Head) -> Response {
        match route {
            Route::Asset(file) => file,
            Route::Glance => self.glance(),
            Route::State | Route::Events => self.state(),
            Route::Kinds => Self::kinds(),
            Route::Explain => self.explain(head),
            Route::Place => self.place(head),
            Route::Alike => self.alike(head),
            Route::Text => {
                Response::json(200, serde_json::to_string(&self.step()).unwrap_or_default())
            }
            _ => Response::refused(404, "there is nothing here", ""),
        }
    }

    /// The last floor without errors.
    #[must_use]
    pub fn good(&self) -> Option<Arc<Floor>> {
        self.good.clone()
    }

    /// A drawing that was made before of the floor that is drawn now.
    #[must_use]
    pub fn drawn(&self, version: &str, view: &str) -> Option<Arc<Vec<String>>> {
        self.drawn.get(&(version.into(), view.into())).cloned()
    }

    /// Keeps a drawing until the floor changes.
    pub fn keep(&mut self, version: &str, view: &str, sheets: Arc<Vec<String>>) {
        let current = self.good.as_ref().is_some_and(|f| f.version == version);
        if current {
            self.drawn.insert((version.into(), view.into()), sheets);
        }
    }

    /// The file name that the page shows.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How the numbers of an item were reached.
    #[must_use]
    pub fn explain(&self, head: &Head) -> Response {
        let id = head.value("id");
        let survey = self.good.as_ref().and_then(|f| f.survey());
        match survey.and_then(|floor| Explanations::new(floor).of(id)) {
            Some(lines) => {
                Response::json(200, serde_json::json!({"id": id, "lines": lines}).to_string())
            }
            None => Response::refused(404, "there is nothing to explain about this", ""),
        }
    }

    /// The place of a tap (`x`, `y`, `reach` in meters, `onto` a `line` or `wall`), or of what was typed.
    #[must_use]
    pub fn place(&self, head: &Head) -> Response {
        let Some(placed) = self.good.as_ref().and_then(|f| f.resolved()) else {
            return Response::refused(409, "there is no floor yet", "");
        };
        let number = |key: &str| head.value(key).parse::<f64>().unwrap_or(f64::NAN);
        let onto = match head.value("onto") {
            "line" => Onto::Lines,
            "wall" => Onto::Walls,
            _ => Onto::Anything,
        };
        let found = match typed_form(head) {
            Some(form) => place::resolve(&placed.slab, form),
            None => place::place(
                &placed.slab,
                Point::new(number("x"), number("y")),
                number("reach"),
                onto,
            )
            .ok_or_else(|| "that is not on the floor".into()),
        };
        match found {
            Ok(place) => Response::json(200, serde_json::to_string(&place).unwrap_or_default()),
            Err(why) => Response::refused(422, &why, ""),
        }
    }

    /// How far each of several alike would stand from the first, m, as the form has them now.
    fn alike(&self, head: &Head) -> Response {
        let Some(placed) = self.good.as_ref().and_then(|f| f.resolved()) else {
            return Response::refused(409, "there is no floor yet", "");
        };
        let units = placed.slab.units;
        match Alike::typed(&head.query.iter().cloned().collect(), units) {
            Ok(alike) => {
                let shifts = alike.map(|alike| alike.shifts(units)).unwrap_or_default();
                Response::json(200, serde_json::json!({ "shifts": shifts }).to_string())
            }
            Err(f) => Response::refused(422, &f.message, &f.field),
        }
    }

    /// Works out what an amendment would do to the sketch as it stands in its file.
    ///
    /// # Errors
    ///
    /// The answer to the page; nothing is to be written.
    pub fn propose_amendment(
        file: &Floor,
        book: Option<&str>,
        body: &[u8],
    ) -> Result<Change, Response> {
        let asked: Amendment = serde_json::from_slice(body)
            .map_err(|e| Response::refused(400, &format!("this is no change: {e}"), ""))?;
        let Some(placed) = file.resolved() else {
            return Err(Response::refused(409, BROKEN, ""));
        };
        let (after, label) = amend::amended(file, &placed.slab, &asked)
            .map_err(|f| Response::refused(422, &f.message, &f.field))?;
        sound(file, book, after, label)
    }

    /// Works out what an entry would do to the sketch as it stands in its file.
    ///
    /// # Errors
    ///
    /// The answer to the page; nothing is to be written.
    pub fn propose(file: &Floor, book: Option<&str>, body: &[u8]) -> Result<Change, Response> {
        let entry: Entry = serde_json::from_slice(body)
            .map_err(|e| Response::refused(400, &format!("this is no record: {e}"), ""))?;
        let Some(placed) = file.resolved() else {
            return Err(Response::refused(
                409,
                "the sketch has errors at the moment; mend them first. What you typed stays here",
                "",
            ));
        };
        let merged = entry.version != file.version;
        if entry.ground != floor::ground(&placed.slab) {
            return Err(Response::refused(
                409,
                "the outline was changed since you tapped, so the place may be another; place it again",
                "points",
            ));
        }
        let record = record::record(&placed.slab, &entry)
            .map_err(|f| Response::refused(422, &f.message, &f.field))?;
        let after = insert_record(&file.text, record.section, &record.text)
            .map_err(|why| Response::refused(409, &why.to_string(), ""))?;
        let mut change = sound(file, book, after, record.label)?;
        change.told = Told { id: record.id, text: record.text, merged, ..change.told };
        Ok(change)
    }

    /// Takes up what was kept of changes made before: `steps` in the order of their numbers, the first one the oldest text that
    /// is known, `at` the number of the one that is on the desk.
    pub fn remember(&mut self, steps: &[Step], at: u64) {
        let pairs = steps.windows(2).filter_map(|pair| match pair {
            [before, after] => Some(Written {
                number: after.number,
                label: after.label.clone(),
                before: before.text.as_str().into(),
                after: after.text.as_str().into(),
            }),
            _ => None,
        });
        (self.written, self.undone) = pairs.partition(|w| w.number <= at);
        self.undone.reverse();
        self.first = steps.first().map_or(0, |s| s.number);
        self.numbers = steps.iter().map(|s| s.number).fold(at, u64::max);
    }

    /// The sketch as it is, with the number and the name of the last change that is in it; before the first the oldest known one's.
    #[must_use]
    pub fn step(&self) -> Step {
        let last = self.written.last();
        Step {
            number: last.map_or(self.first, |w| w.number),
            label: last.map(|w| w.label.clone()).unwrap_or_default(),
            text: self.now.text.clone(),
        }
    }

    /// A change was written: it can be taken back.
    pub fn wrote(&mut self, change: &Change) {
        self.numbers += 1;
        self.undone.clear();
        self.written.push(Written {
            number: self.numbers,
            label: change.told.label.clone(),
            before: change.before.as_str().into(),
            after: change.after.text.as_str().into(),
        });
        if self.written.len() > MOST_UNDO {
            self.first = self.written.remove(0).number;
        }
        self.take(Arc::clone(&change.after));
    }

    /// What taking back a change, or making it again, would do: only the last one, and only if the file still is what was
    /// written then.
    ///
    /// # Errors
    ///
    /// The answer to the page; nothing is to be written.
    pub fn propose_step(
        &self,
        file: &str,
        book: Option<&str>,
        body: &[u8],
        way: Way,
    ) -> Result<Change, Response> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Asked {
            number: u64,
        }
        let asked: Asked = serde_json::from_slice(body)
            .map_err(|e| Response::refused(400, &format!("this is no undo: {e}"), ""))?;
        let refused = |message: &str| Response::refused(409, message, "");
        let (list, other, edited) = match way {
            Way::Back => (
                &self.written,
                "something else was recorded since; nothing was taken back",
                "the file was changed since this was recorded; nothing was taken back. Take the line out by hand",
            ),
            Way::Again => (
                &self.undone,
                "something else was recorded since; nothing was made again",
                "the file was changed since this was taken back; nothing was made again. Record it anew",
            ),
        };
        let last = list.last().filter(|w| w.number == asked.number);
        let last = last.ok_or_else(|| refused(other))?;
        let (before, after) = match way {
            Way::Back => (&last.after, &last.before),
            Way::Again => (&last.before, &last.after),
        };
        if **before != *file {
            return Err(refused(edited));
        }
        let after = Floor::read(after.to_string(), book);
        Ok(Change::of(before, after, last.label.clone()))
    }

    /// A change was taken back or made again.
    pub fn stepped(&mut self, change: &Change, way: Way) {
        let (from, to) = match way {
            Way::Back => (&mut self.written, &mut self.undone),
            Way::Again => (&mut self.undone, &mut self.written),
        };
        to.extend(from.pop());
        self.take(Arc::clone(&change.after));
    }

    fn shown(&self) -> Shown<'_> {
        let placed = self.good.as_ref().and_then(|floor| floor.resolved());
        Shown {
            glance: state::glance(&self.parts()),
            drawing: placed.map(|placed| drawing::floor(&placed.slab)),
        }
    }

    /// What the page shows first.
    #[must_use]
    pub fn glance(&self) -> Response {
        Response::json(200, serde_json::to_string(&self.shown()).unwrap_or_default())
    }

    /// What the page is told of a change that was made. `keeps` says that the page keeps the texts, and needs the step.
    #[must_use]
    pub fn made(&self, told: &Told, keeps: bool) -> Response {
        let made = Made { told, shown: self.shown(), step: keeps.then(|| self.step()) };
        Response::json(200, serde_json::to_string(&made).unwrap_or_default())
    }

    /// The floors on the desk: the one as it is, and the last one without errors.
    #[must_use]
    pub fn floors(&self) -> (Arc<Floor>, Option<Arc<Floor>>) {
        (Arc::clone(&self.now), self.good.clone())
    }
}

/// A change of a sketch, if the new text is one without errors.
fn sound(
    file: &Floor,
    book: Option<&str>,
    after: String,
    label: String,
) -> Result<Change, Response> {
    let after = Floor::read(after, book);
    if after.resolved().is_none() {
        return Err(Response::refused(422, &after.errors(), ""));
    }
    Ok(Change::of(&file.text, after, label))
}

/// A place that was typed; `None` for a tap.
fn typed_form(head: &Head) -> Option<Form> {
    let text = |key: &str| head.value(key).to_owned();
    if !head.value("wall").is_empty() {
        head.value("wall").parse().ok().map(|wall| Form::Wall {
            wall,
            along: text("along"),
            out: text("out"),
        })
    } else if !head.value("line").is_empty() {
        Some(Form::Line { line: text("line"), at: text("at") })
    } else {
        None
    }
}

/// Sheets of a drawing and the one asked for, as JSON.
#[must_use]
pub fn view_answer(
    version: &str,
    sheets: &Result<Arc<Vec<String>>, String>,
    asked: &str,
) -> Response {
    match sheets {
        Err(why) => Response::refused(422, why, ""),
        Ok(sheets) => {
            let i = asked.parse::<usize>().unwrap_or(0).min(sheets.len().saturating_sub(1));
            let svg = sheets.get(i).map_or("", String::as_str);
            let answer = serde_json::json!({
                "version": version, "sheet": i, "sheets": sheets.len(), "svg": svg,
            });
            Response::json(200, answer.to_string())
        }
    }
}

/// Makes the sheets of a drawing.
///
/// # Errors
///
/// In words.
pub fn draw(floor: &Floor, source: &str, view: &str) -> Result<Vec<String>, String> {
    views::sheets(floor, source, view)
}
