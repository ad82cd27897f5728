//! The page served: one thread that watches the file, one for every connection.

use std::collections::VecDeque;
use std::io::{ErrorKind, Result};
use std::net::TcpListener;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use super::connection;
use super::file::{self, Contents};
use crate::live::desk::{self, Desk, Propose, Told, Way};
use crate::live::guard::Guard;
use crate::live::http::{Head, Response};
use crate::live::paper::Paper;
use crate::live::route::{Route, route};
use crate::live::{corners, state, walk};
use crate::papers::Papers;
use crate::photo::develop;
use crate::run::photos;

/// How often the file is looked at. Reading it whole and comparing it sees every way in which an editor may
/// save: in place, or by another file that takes its name.
const LOOK: Duration = Duration::from_millis(200);
/// How often somebody new is let in, and the end of the program noticed.
const TICK: Duration = Duration::from_millis(25);
/// Most connections at a time; a page holds one, and two more while it loads.
const MOST_CONNECTIONS: usize = 64;
/// Most changes that are remembered in case a page asks for them again.
const MOST_REMEMBERED: usize = 64;
/// Longest file name of a photo, bytes.
const LONGEST_NAME: usize = 80;
/// How often a record is tried again when the file changes under it.
const TRIES: usize = 5;

/// Everything the threads share.
pub(super) struct Server {
    paper: file::Paper,
    guard: Guard,
    desk: Mutex<Desk>,
    /// Told of every change of the desk.
    changed: Condvar,
    /// Held while the file is written, so that records go in one after another.
    writing: Mutex<()>,
    /// Held while a drawing is made, so that two pages don't have it made twice at once.
    drawing: Mutex<()>,
    /// Changes that were made, by the name that the page gave them.
    done: Mutex<VecDeque<(String, Told)>>,
    stop: Arc<AtomicBool>,
    connections: AtomicUsize,
}

/// A thread that failed leaves the desk as it was before; it is used on.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Server {
    pub(super) fn new(paper: file::Paper, guard: Guard, stop: Arc<AtomicBool>) -> Self {
        let desk = Desk::new(&paper.name());
        Self {
            paper,
            guard,
            desk: Mutex::new(desk),
            changed: Condvar::new(),
            writing: Mutex::new(()),
            drawing: Mutex::new(()),
            done: Mutex::default(),
            stop,
            connections: AtomicUsize::new(0),
        }
    }

    /// Whether the program is to end.
    pub(super) fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Serves until told to end.
    pub(super) fn run(self: Arc<Self>, listener: &TcpListener) -> Result<()> {
        listener.set_nonblocking(true)?;
        let mut seen = None;
        self.look(&mut seen);
        let watcher = Arc::clone(&self);
        let watching = thread::Builder::new().spawn(move || watcher.watch(seen))?;
        while !self.stopped() {
            match listener.accept() {
                Ok((stream, _)) => connection::start(&self, stream),
                Err(error) if error.kind() == ErrorKind::WouldBlock => thread::sleep(TICK),
                // Somebody who went away while coming in is no reason to end.
                Err(_) => thread::sleep(TICK),
            }
        }
        self.changed.notify_all();
        let _ = watching.join();
        // A record that is being written is written whole.
        drop(lock(&self.writing));
        Ok(())
    }

    fn watch(&self, mut seen: Option<Contents>) {
        while !self.stopped() {
            thread::sleep(LOOK);
            self.look(&mut seen);
        }
    }

    /// Looks at the file, and takes it in where it changed.
    fn look(&self, seen: &mut Option<Contents>) {
        match self.paper.contents() {
            Ok(contents) if seen.as_ref() == Some(&contents) && !lock(&self.desk).has_trouble() => {
            }
            Ok(contents) => {
                let floor = Arc::new(contents.floor());
                // A record written meanwhile is newer than what was read before it.
                if self.paper.contents().is_ok_and(|now| now == contents) {
                    lock(&self.desk).take(floor);
                    *seen = Some(contents);
                    self.changed.notify_all();
                }
            }
            Err(error) => {
                *seen = None;
                lock(&self.desk).note_trouble(error.to_string());
                self.changed.notify_all();
            }
        }
    }

    /// Takes one of the places for connections, or says that there is none.
    pub(super) fn enter(&self) -> bool {
        let before = self.connections.fetch_add(1, Ordering::Relaxed);
        if before >= MOST_CONNECTIONS {
            self.leave();
            return false;
        }
        true
    }

    /// Gives the place back.
    pub(super) fn leave(&self) {
        self.connections.fetch_sub(1, Ordering::Relaxed);
    }

    /// What a request asks for, once it may.
    pub(super) fn admit(&self, head: &Head) -> std::result::Result<Route, Response> {
        let path = self.guard.admit(head)?;
        route(head, path)
    }

    /// Answers everything but events.
    pub(super) fn answer(&self, route: Route, head: &Head, body: &[u8]) -> Response {
        match route {
            Route::View => self.view(head),
            Route::Walk => walk::trace(body),
            Route::Corners => corners::trace(body),
            Route::Record => self.once(head, Desk::propose, body),
            Route::Amend => self.once(head, Desk::propose_amendment, body),
            Route::Undo => self.step(body, Way::Back),
            Route::Redo => self.step(body, Way::Again),
            Route::Paper => self.paper(head),
            Route::Pictures => self.pictures(),
            Route::Photo => self.photo(head, body),
            Route::State | Route::Explain => {
                self.measure();
                lock(&self.desk).answer(route, head)
            }
            other => lock(&self.desk).answer(other, head),
        }
    }

    /// The number of changes so far and the version on the desk, once there were more than `known`; after
    /// a while in any case.
    pub(super) fn next_change(&self, known: Option<u64>, wait: Duration) -> (u64, String) {
        let desk = lock(&self.desk);
        let same = |desk: &mut Desk| known == Some(desk.changes) && !self.stopped();
        let (desk, _) = self
            .changed
            .wait_timeout_while(desk, wait, same)
            .unwrap_or_else(PoisonError::into_inner);
        (desk.changes, desk.version().to_owned())
    }

    /// Measures what is on the desk while others may use it.
    fn measure(&self) {
        let (now, good) = lock(&self.desk).floors();
        let _ = (now.survey(), good.as_ref().and_then(|floor| floor.survey()));
    }

    fn view(&self, head: &Head) -> Response {
        let name = head.value("name");
        let Some(floor) = lock(&self.desk).good() else {
            return Response::refused(409, "there is no floor to draw yet", "");
        };
        let _one = lock(&self.drawing);
        let ready = lock(&self.desk).drawn(&floor.version, name);
        let sheets = match ready {
            Some(sheets) => Ok(sheets),
            None => desk::draw(&floor, &self.paper.name(), name).map(Arc::new),
        };
        if let Ok(sheets) = &sheets {
            lock(&self.desk).keep(&floor.version, name, Arc::clone(sheets));
        }
        desk::view_answer(&floor.version, &sheets, head.value("sheet"))
    }

    /// Makes a change once, however often a page that lost its connection asks for it.
    fn once(&self, head: &Head, propose: Propose, body: &[u8]) -> Response {
        let once = head.value("once");
        let mut done = lock(&self.done);
        let before = done.iter().find(|(name, _)| name == once && !once.is_empty());
        let told = match before {
            Some((_, told)) => told.clone(),
            None => match self.record(propose, body) {
                Ok(told) => {
                    if !once.is_empty() {
                        done.push_back((once.to_owned(), told.clone()));
                    }
                    told
                }
                Err(refused) => return refused,
            },
        };
        if done.len() > MOST_REMEMBERED {
            done.pop_front();
        }
        lock(&self.desk).made(&told, false)
    }

    /// Changes the file as it stands at that moment.
    fn record(&self, propose: Propose, body: &[u8]) -> std::result::Result<Told, Response> {
        let _one = lock(&self.writing);
        for _ in 0..TRIES {
            let contents = self.paper.contents().map_err(|error| unwritten(&error))?;
            let change = propose(&contents.floor(), contents.book.as_deref(), body)?;
            let put = self.paper.replace(&change.before, &change.after.text);
            if put.map_err(|error| unwritten(&error))? {
                lock(&self.desk).wrote(&change);
                self.changed.notify_all();
                return Ok(change.told);
            }
        }
        Err(busy())
    }

    /// A paper of the file as it stands at that moment.
    fn paper(&self, head: &Head) -> Response {
        let Some(paper) = Paper::named(head.value("name")) else {
            return Response::refused(404, "there is no such paper", "");
        };
        let contents = match self.paper.contents() {
            Ok(contents) => contents,
            Err(error) => return Response::refused(409, &error.to_string(), ""),
        };
        let floor = contents.floor();
        let Some(survey) = floor.survey() else {
            return Response::refused(409, desk::BROKEN, "");
        };
        let pictures = if paper.shows_photos() {
            photos::beside(&self.paper.path().to_string_lossy(), &survey.sketch.photos).0
        } else {
            Vec::new()
        };
        let book = self.paper.book(&contents.sketch);
        let (logo, _) = photos::logo_beside(&survey.shop, book.as_deref());
        let papers = Papers {
            floor: survey,
            name: &self.paper.name(),
            text: &contents.sketch,
            book: contents.book.as_deref(),
            logo: logo.as_ref(),
        };
        paper.answer(&papers, &pictures)
    }

    /// What is wrong with the logo and the photos beside the file as it stands at that moment.
    fn pictures(&self) -> Response {
        let contents = match self.paper.contents() {
            Ok(contents) => contents,
            Err(error) => return Response::refused(409, &error.to_string(), ""),
        };
        let floor = contents.floor();
        let Some(placed) = floor.resolved() else {
            return Response::refused(409, desk::BROKEN, "");
        };
        let (_, of_logo) =
            photos::logo_beside(&placed.shop, self.paper.book(&contents.sketch).as_deref());
        let sketch = self.paper.path().to_string_lossy();
        let of_photos = photos::unshown(&sketch, &placed.sketch.photos);
        state::unshown(&contents.sketch, of_logo.into_iter().chain(of_photos))
    }

    /// Keeps a photo beside the sketch; the record that names it comes behind it.
    fn photo(&self, head: &Head, body: &[u8]) -> Response {
        let refused = |words: &str| Response::refused(422, words, "file");
        let plain = |c: char| c.is_ascii_alphanumeric() || "-_.".contains(c);
        let name = head.value("file").strip_prefix("photos/").unwrap_or_default();
        let sound = name.len() <= LONGEST_NAME && !name.starts_with('.') && name.chars().all(plain);
        if !sound || !name.ends_with(".jpg") {
            return refused("a photo is named as photos/C1-door.jpg");
        }
        if let Err(fault) = develop(body) {
            return refused(&format!("this photo {fault}"));
        }
        let _one = lock(&self.writing);
        match self.paper.keep_photo(name, body) {
            Ok(()) => Response::json(200, "{}"),
            Err(error) => {
                Response::refused(409, &format!("the photo can't be kept: {error}"), "file")
            }
        }
    }

    fn step(&self, body: &[u8], way: Way) -> Response {
        let _one = lock(&self.writing);
        let contents = match self.paper.contents() {
            Ok(contents) => contents,
            Err(error) => return unwritten(&error),
        };
        let book = contents.book.as_deref();
        let proposed = lock(&self.desk).propose_step(&contents.sketch, book, body, way);
        let change = match proposed {
            Ok(change) => change,
            Err(refused) => return refused,
        };
        match self.paper.replace(&change.before, &change.after.text) {
            Ok(true) => {
                let mut desk = lock(&self.desk);
                desk.stepped(&change, way);
                self.changed.notify_all();
                desk.made(&change.told, false)
            }
            Ok(false) => busy(),
            Err(error) => unwritten(&error),
        }
    }
}

fn unwritten(error: &std::io::Error) -> Response {
    Response::refused(409, &format!("the sketch can't be written: {error}"), "")
}

fn busy() -> Response {
    Response::refused(
        409,
        "the file keeps changing at the moment; nothing was written. Try again",
        "",
    )
}
