//! Several sketches at a time: what is said comes in their order, and one line on a terminal shows how far it is.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{self, Receiver, Sender};
use std::thread;

use super::Exit;
use super::terminal::{self, Said};
use crate::parallel;
use crate::text;

/// Longest line of progress, characters: it must not break on any terminal.
const LINE: usize = 72;

/// What a worker tells of the sketch of a number.
enum Event<T> {
    Begun(usize),
    Done(usize, T, Vec<Said>),
}

/// Does something for every name, up to `jobs` at a time, and gives the results in order. What is said comes in that order too, each
/// as soon as everything before it is said. The other part of the result is how saying it went.
///
/// No more than `jobs` are in memory; of those that are done the result and what they said.
pub(super) fn each<T: Send>(
    names: &[String],
    jobs: usize,
    work: impl Fn(usize) -> T + Sync,
) -> (Vec<T>, Exit) {
    let jobs = jobs.clamp(1, names.len().max(1));
    let next = AtomicUsize::new(0);
    let (next, work) = (&next, &work);
    thread::scope(|scope| {
        let (tell, told) = mpsc::channel();
        for _ in 0..jobs {
            let tell = tell.clone();
            scope.spawn(move || {
                // What is drawn at the same time within a sketch shares the cores with the other sketches.
                let _at_work = parallel::at_work();
                serve(names.len(), next, &tell, work);
            });
        }
        drop(tell);
        parallel::waiting(|| collect(names, &told))
    })
}

/// Takes one number after another until none is left.
fn serve<T>(n: usize, next: &AtomicUsize, tell: &Sender<Event<T>>, work: &impl Fn(usize) -> T) {
    loop {
        let i = next.fetch_add(1, Ordering::Relaxed);
        if i >= n || tell.send(Event::Begun(i)).is_err() {
            return;
        }
        let (done, said) = terminal::kept(|| work(i));
        if tell.send(Event::Done(i, done, said)).is_err() {
            return;
        }
    }
}

/// Says everything in order, until the last worker is gone.
fn collect<T>(names: &[String], told: &Receiver<Event<T>>) -> (Vec<T>, Exit) {
    let mut progress = Progress::new(names);
    let mut waiting = BTreeMap::new();
    let (mut results, mut exit) = (Vec::with_capacity(names.len()), Exit::Done);
    for event in told {
        match event {
            Event::Begun(i) => progress.begin(i),
            Event::Done(i, result, said) => {
                progress.end(i);
                waiting.insert(i, (result, said));
                while let Some((result, said)) = waiting.remove(&results.len()) {
                    progress.wipe();
                    exit = exit.max(terminal::say(said));
                    results.push(result);
                }
            }
        }
        progress.draw();
    }
    progress.wipe();
    (results, exit)
}

/// One line on a terminal, written over again and again; nothing where standard error goes elsewhere. It has no color and needs
/// none of a terminal's codes but the return to the start of the line.
struct Progress<'a> {
    names: &'a [String],
    under_way: Vec<usize>,
    done: usize,
    watched: bool,
    /// Characters that stand on the line.
    drawn: usize,
}

impl<'a> Progress<'a> {
    fn new(names: &'a [String]) -> Self {
        Self {
            names,
            under_way: Vec::new(),
            done: 0,
            watched: names.len() > 1 && terminal::is_watched(),
            drawn: 0,
        }
    }

    fn begin(&mut self, i: usize) {
        self.under_way.push(i);
    }

    fn end(&mut self, i: usize) {
        self.under_way.retain(|&u| u != i);
        self.done += 1;
    }

    fn line(&self) -> String {
        let (done, all) = (self.done, self.names.len());
        let under_way: Vec<&str> =
            self.under_way.iter().filter_map(|&i| self.names.get(i).map(String::as_str)).collect();
        let line = format!("{done} of {all} done; under way: {}", under_way.join(", "));
        let plain = line.chars().map(|c| if text::moves(c) { '?' } else { c });
        plain.take(LINE).collect()
    }

    fn draw(&mut self) {
        if self.watched && !self.under_way.is_empty() {
            let line = self.line();
            let now = line.chars().count();
            let rest = " ".repeat(self.drawn.saturating_sub(now));
            terminal::rendered(&format!("\r{line}{rest}\r"));
            self.drawn = now.max(self.drawn);
        }
    }

    fn wipe(&mut self) {
        if self.drawn > 0 {
            terminal::rendered(&format!("\r{}\r", " ".repeat(self.drawn)));
            self.drawn = 0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_and_all_of_them() {
        let names: Vec<String> = (0..20).map(|i| i.to_string()).collect();
        for jobs in [0, 1, 3, 64] {
            let (found, exit) = each(&names, jobs, |i| i * i);
            let wanted: Vec<usize> = (0..20).map(|i| i * i).collect();
            assert_eq!((found, exit), (wanted, Exit::Done), "{jobs}");
        }
        assert_eq!(each(&[], 2, |i| i).0, Vec::<usize>::new());
    }

    #[test]
    fn the_line_is_short_and_holds_no_codes() {
        let names = vec!["kitchen\u{1b}[2J".repeat(30), "garage".to_owned()];
        let mut progress = Progress::new(&names);
        progress.begin(1);
        assert_eq!(progress.line(), "0 of 2 done; under way: garage");
        progress.end(1);
        progress.begin(0);
        let line = progress.line();
        assert!(line.starts_with("1 of 2 done; under way: kitchen?[2J"));
        assert_eq!(line.chars().count(), LINE);
    }
}
