//! The desk without a program around it: a sketch that lives in the page, and every request answered from it.
//!
//! What [`Desk`] and [`super::route`] mean behind sockets they mean here. The page keeps the texts; what is here can
//! be thrown away and opened again at any time.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;

use super::desk::{self, Desk, Propose, Step, Way};
use super::floor::Floor;
use super::http::{Head, Response};
use super::paper::Paper;
use super::route::{Route, route};
use super::{corners, state, walk};
use crate::diagnostic::Diagnostic;
use crate::ink::Picture;
use crate::papers::Papers;
use crate::photo::{Fault, LARGEST_MIB, check, develop, logo, opened, small_enough, within};
use crate::survey::Resolved;

/// One job on a phone.
#[derive(Debug, Default)]
pub struct Pocket {
    job: Option<Job>,
}

#[derive(Debug)]
struct Job {
    desk: Desk,
    floor: Arc<Floor>,
    book: Option<String>,
    photos: BTreeMap<String, Kept>,
}

/// A photo or logo that is kept with the job.
#[derive(Debug)]
struct Kept {
    bytes: Vec<u8>,
    /// Whether it can be shown as a photo.
    shown: Result<(), Fault>,
}

/// What the page opens a job with.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Opened {
    /// File name of the sketch.
    name: String,
    /// Text of the shop book that the sketch names, where the page has it.
    book: Option<String>,
    /// The sketch as it was opened and after every change, in order.
    steps: Vec<Step>,
    /// Number of the step that is on the desk.
    at: u64,
}

impl Pocket {
    /// Answers a request: the line `METHOD target`, a line feed, and the body. The answer is the line `status
    /// content-type`, a line feed, and the body.
    pub fn answer(&mut self, request: &[u8]) -> Vec<u8> {
        let end = request.iter().position(|b| *b == b'\n');
        let (line, body) = request.split_at(end.unwrap_or(request.len()));
        let line = String::from_utf8_lossy(line);
        let (method, target) = line.split_once(' ').unwrap_or((&line, ""));
        let answer = self.respond(&Head::of(method, target), body.get(1..).unwrap_or_default());
        let mut out = format!("{} {}\n", answer.status, answer.content_type).into_bytes();
        out.extend(answer.body);
        out
    }

    fn respond(&mut self, head: &Head, body: &[u8]) -> Response {
        if head.path == "/api/open" {
            return self.open(body);
        }
        let route = match route(head, &head.path) {
            Ok(Route::Kinds) => return Desk::kinds(),
            Ok(Route::Walk) => return walk::trace(body),
            Ok(Route::Corners) => return corners::trace(body),
            Ok(Route::Begin) => return walk::begin(body),
            Ok(route) => route,
            Err(refused) => return refused,
        };
        match &mut self.job {
            Some(job) => job.respond(route, head, body),
            None => Response::refused(409, "no job is open", ""),
        }
    }

    fn open(&mut self, body: &[u8]) -> Response {
        let opened: Opened = match serde_json::from_slice(body) {
            Ok(opened) => opened,
            Err(e) => return Response::refused(400, &format!("this is no job: {e}"), ""),
        };
        let Some(step) = opened.steps.iter().find(|s| s.number == opened.at) else {
            return Response::refused(400, "the job has no sketch", "");
        };
        let mut desk = Desk::new(&opened.name);
        let floor = Arc::new(Floor::read(step.text.clone(), opened.book.as_deref()));
        desk.take(Arc::clone(&floor));
        desk.remember(&opened.steps, opened.at);
        self.job = Some(Job { desk, floor, book: opened.book, photos: BTreeMap::new() });
        Response::json(200, "{}")
    }
}

impl Job {
    fn respond(&mut self, route: Route, head: &Head, body: &[u8]) -> Response {
        match route {
            Route::Record => self.write(Desk::propose, body),
            Route::Amend => self.write(Desk::propose_amendment, body),
            Route::Undo => self.step(body, Way::Back),
            Route::Redo => self.step(body, Way::Again),
            Route::View => self.view(head),
            Route::Paper => self.paper(head),
            Route::Pictures => self.pictures(),
            Route::Photo => {
                let shown = small_enough(body.len(), LARGEST_MIB).and_then(|()| check(body));
                let kept = Kept { bytes: body.to_vec(), shown };
                self.photos.insert(head.value("file").to_owned(), kept);
                Response::json(200, "{}")
            }
            other => self.desk.answer(other, head),
        }
    }

    fn write(&mut self, propose: Propose, body: &[u8]) -> Response {
        match propose(&self.floor, self.book.as_deref(), body) {
            Ok(change) => {
                self.floor = Arc::clone(&change.after);
                self.desk.wrote(&change);
                self.desk.made(&change.told, true)
            }
            Err(refused) => refused,
        }
    }

    fn step(&mut self, body: &[u8], way: Way) -> Response {
        match self.desk.propose_step(&self.floor.text, self.book.as_deref(), body, way) {
            Ok(change) => {
                self.floor = Arc::clone(&change.after);
                self.desk.stepped(&change, way);
                self.desk.made(&change.told, true)
            }
            Err(refused) => refused,
        }
    }

    fn view(&mut self, head: &Head) -> Response {
        let name = head.value("name");
        let Some(floor) = self.desk.good() else {
            return Response::refused(409, "there is no floor to draw yet", "");
        };
        let sheets = match self.desk.drawn(&floor.version, name) {
            Some(sheets) => Ok(sheets),
            None => desk::draw(&floor, self.desk.name(), name).map(Arc::new),
        };
        if let Ok(sheets) = &sheets {
            self.desk.keep(&floor.version, name, Arc::clone(sheets));
        }
        desk::view_answer(&floor.version, &sheets, head.value("sheet"))
    }

    /// A file that the sketch or the shop book names.
    fn kept(&self, folder: &str, named: &str) -> Result<&Kept, Fault> {
        within(named)?;
        let missing = || Fault::Missing("it is not kept with the job".into());
        self.photos.get(&format!("{folder}{named}")).ok_or_else(missing)
    }

    /// The logo that the shop book names from its own folder.
    fn logo(&self, floor: &Resolved) -> (Option<Picture>, Option<Diagnostic>) {
        let book = floor.sketch.shop.as_ref().map_or("", |book| book.value.as_str());
        let folder = book.rfind('/').map_or("", |at| &book[..=at]);
        logo::opened(&floor.shop, |named| {
            let bytes = &self.kept(folder, named)?.bytes;
            small_enough(bytes.len(), logo::LARGEST_MIB)?;
            Ok(bytes.clone())
        })
    }

    /// What is wrong with the logo and the photos, in the words of the program.
    fn pictures(&self) -> Response {
        let Some(floor) = self.floor.resolved() else {
            return Response::refused(409, desk::BROKEN, "");
        };
        let photos = &floor.sketch.photos;
        let (_, of_photos) = opened(photos, |file| self.kept("", file)?.shown.clone());
        let (_, of_logo) = self.logo(floor);
        state::unshown(&self.floor.text, of_logo.into_iter().chain(of_photos))
    }

    fn paper(&self, head: &Head) -> Response {
        let Some(paper) = Paper::named(head.value("name")) else {
            return Response::refused(404, "there is no such paper", "");
        };
        let (Some(floor), Some(survey)) = (self.floor.resolved(), self.floor.survey()) else {
            return Response::refused(409, desk::BROKEN, "");
        };
        let (pictures, _) = if paper.shows_photos() {
            let develops = |file: &str| {
                let kept = self.kept("", file)?;
                kept.shown.clone().and_then(|()| develop(&kept.bytes))
            };
            opened(&survey.sketch.photos, develops)
        } else {
            Default::default()
        };
        let (logo, _) = self.logo(floor);
        let papers = Papers {
            floor: survey,
            name: self.desk.name(),
            text: &self.floor.text,
            book: self.book.as_deref(),
            logo: logo.as_ref(),
        };
        paper.answer(&papers, &pictures)
    }
}

#[cfg(test)]
mod tests;
