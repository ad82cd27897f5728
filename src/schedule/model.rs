//! The plan by days.

use jiff::civil::Date;

use super::conditions::Weather;
use super::silica::{Shift, Tool};
use crate::sketch::Site;
use crate::trade::{Kind, Machine};

/// A day and an hour of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// The calendar day; `None` where the sketch names no start.
    pub date: Option<Date>,
    /// Calendar days after the first.
    pub after: usize,
    /// Hours after midnight.
    pub hour: f64,
}

/// A part of a work on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Kind of the work. With `layer` it is what the work is; `task` is for printing.
    pub kind: Kind,
    /// The layer that is laid, abraded or scraped, by index.
    pub layer: Option<usize>,
    /// What is done.
    pub task: String,
    /// Ids of what it is done on; empty for the whole floor.
    pub items: Vec<String>,
    /// Hours after midnight.
    pub from_h: f64,
    /// Hours after midnight.
    pub to_h: f64,
    /// Hours on it, all its workers together.
    pub worker_h: f64,
    /// Workers on it, counted from 0.
    pub workers: Vec<usize>,
    /// Machines on it: which, and which of them, counted from 0.
    pub machines: Vec<(Machine, usize)>,
}

impl Piece {
    /// Whether it lays a coat, which may have to wait for the weather.
    #[must_use]
    pub fn is_coat(&self) -> bool {
        self.kind == Kind::Coat
    }

    /// Tool that makes silica dust.
    #[must_use]
    pub const fn tool(&self) -> Option<Tool> {
        super::silica::tool(self.kind)
    }
}

/// A working day, with what is done on it and in which weather.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// Counted from 1, working days only.
    pub number: usize,
    /// When it starts.
    pub start: Moment,
    /// What is done, by start.
    pub pieces: Vec<Piece>,
    /// Silica hours of one worker and what they ask for.
    pub shift: Shift,
    /// Forecast, where the sketch has one for this day.
    pub weather: Option<Weather>,
    /// The sketch has a forecast, and it ends before this day.
    pub beyond_forecast: bool,
}

/// A coat that waits for the one below it.
#[derive(Clone, Debug, PartialEq)]
pub struct Wait {
    /// The coat below.
    pub under: String,
    /// The coat that waits.
    pub over: String,
    /// When the coat below was finished.
    pub ended: Moment,
    /// When its window opens.
    pub opens: Moment,
    /// When the window closes.
    pub closes: Moment,
}

/// The work on one floor, day by day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Working days, in order.
    pub days: Vec<Day>,
    /// Where the work is done, which decides the respirators.
    pub site: Site,
    /// Recoat windows, in the order of the coats; none where the shop book has none.
    pub waits: Vec<Wait>,
    /// Hours all workers work together.
    pub worker_h: f64,
    /// Hours all workers are there for together, lunch not counted: what is paid.
    pub present_h: f64,
    /// Hours the crew is there for, lunch not counted.
    pub crew_h: f64,
    /// First foot on the floor.
    pub foot: Option<Moment>,
    /// First vehicle on the floor.
    pub wheels: Option<Moment>,
    /// What somebody has to look at.
    pub notes: Vec<String>,
}

/// What one work of the plan takes in all.
#[derive(Clone, Debug, PartialEq)]
pub struct Spent {
    /// Its kind. With `layer` it is what the work is.
    pub kind: Kind,
    /// Its layer, by index.
    pub layer: Option<usize>,
    /// What it is called.
    pub name: String,
    /// Worker hours over all days.
    pub worker_h: f64,
}

impl Plan {
    /// The hours of every work, in the order in which they begin.
    #[must_use]
    pub fn spent(&self) -> Vec<Spent> {
        let mut all: Vec<Spent> = Vec::new();
        for piece in self.days.iter().flat_map(|day| &day.pieces) {
            let same = |s: &&mut Spent| (s.kind, s.layer) == (piece.kind, piece.layer);
            match all.iter_mut().find(same) {
                Some(known) => known.worker_h += piece.worker_h,
                None => all.push(Spent {
                    kind: piece.kind,
                    layer: piece.layer,
                    name: piece.task.clone(),
                    worker_h: piece.worker_h,
                }),
            }
        }
        all
    }
}
