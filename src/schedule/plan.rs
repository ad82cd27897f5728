//! The plan by days.
//!
//! Tasks run one after another, the whole crew on each: elapsed hours are worker hours over
//! workers. A coat is not broken off: one that does not fit into the rest of the day starts the
//! next morning. A coat starts no earlier than the window of the one below opens; where it closed
//! before, the coat below is abraded first, and the plan says so.

use jiff::civil::Date;

use super::conditions::{Weather, weather};
use super::silica::{Shift, Tool, shift};
use super::task::{Task, tasks};
use super::window::between;
use crate::quantity::write;
use crate::sketch::Site;
use crate::survey::Survey;

/// Slab temperature that windows are read at where the sketch gives none: 70 °F, °C.
const ASSUMED_SLAB_C: f64 = 38.0 / 1.8;
/// Working days beyond which nothing is planned.
const MOST_DAYS: usize = 400;
/// Hours in a day and seconds in an hour.
const DAY_H: f64 = 24.0;
const S_PER_H: f64 = 3600.0;
/// Shortest piece of work that is planned, h: rounding leaves less.
const LEAST_H: f64 = 1e-6;

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

/// A part of a task on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What is done.
    pub task: String,
    /// Hours after midnight.
    pub from_h: f64,
    /// Hours after midnight.
    pub to_h: f64,
    /// Worker hours.
    pub worker_h: f64,
    /// Tool that makes silica dust.
    pub tool: Option<Tool>,
    /// Whether it is a coat.
    pub coat: bool,
}

/// A working day.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// Counted from 1, working days only.
    pub number: usize,
    /// When it starts.
    pub start: Moment,
    /// What is done, in order.
    pub pieces: Vec<Piece>,
    /// Silica hours of one worker and what they ask for.
    pub shift: Shift,
    /// Forecast, where the sketch has one for this day.
    pub weather: Option<Weather>,
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
    /// When it closes.
    pub closes: Moment,
}

/// The whole plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Working days.
    pub days: Vec<Day>,
    /// Where the work is done, which decides the respirators.
    pub site: Site,
    /// Recoat windows, in the order of the coats; none where the shop book has none.
    pub waits: Vec<Wait>,
    /// Hours all workers spend together.
    pub worker_h: f64,
    /// Hours the crew is there for.
    pub crew_h: f64,
    /// First foot on the floor.
    pub foot: Option<Moment>,
    /// First vehicle on the floor.
    pub wheels: Option<Moment>,
    /// What somebody has to look at.
    pub notes: Vec<String>,
}

/// Plans one floor.
#[must_use]
pub fn plan(floor: &Survey) -> Plan {
    let named = floor.sketch.coating.system.as_ref();
    let system = named.and_then(|name| floor.shop.systems.get(&name.value));
    let tasks = tasks(&floor.takeoff, &floor.shop, system);
    let mut clock = Clock::new(floor);
    let total: f64 = tasks.iter().map(|task| task.worker_h).sum();
    if total / clock.crew / clock.length_h > MOST_DAYS as f64 {
        return Plan {
            worker_h: total,
            notes: vec![format!(
                "More than {MOST_DAYS} working days; plan this floor in parts."
            )],
            ..Plan::default()
        };
    }
    let mut below: Option<(Task, f64)> = None;
    for task in tasks {
        let is_coat = task.coat.is_some();
        if let (true, Some((under, ended))) = (is_coat, &below) {
            clock.wait_for_window(under, *ended, &task, floor);
        }
        clock.work(&task);
        if is_coat {
            below = Some((task, clock.now()));
        }
    }
    let cured = below.zip(system);
    let mut plan = clock.finish();
    if let Some(((_, ended), system)) = cured {
        let (foot, wheels) =
            between(&system.cure, slab_at(floor, plan.moment(ended, floor))).unzip();
        plan.foot = foot.map(|h| plan.moment(whole_hour(ended + h), floor));
        plan.wheels = wheels.map(|h| plan.moment(whole_hour(ended + h), floor));
        if foot.is_none() {
            let note = "The shop book has no cure for this system: the data sheet says when to walk and drive on it.";
            plan.notes.push(note.into());
        }
    }
    plan
}

impl Plan {
    /// The moment so many hours after midnight of the first day.
    fn moment(&self, hours: f64, floor: &Survey) -> Moment {
        moment(first_day(floor), hours)
    }
}

/// The next whole hour: nobody should be on the floor a minute early.
fn whole_hour(hours: f64) -> f64 {
    (hours - LEAST_H).ceil()
}

fn moment(first: Option<Date>, hours: f64) -> Moment {
    let after = (hours / DAY_H).floor().max(0.0) as usize;
    Moment {
        date: first.and_then(|first| later(first, after)),
        after,
        hour: hours - after as f64 * DAY_H,
    }
}

fn later(first: Date, days: usize) -> Option<Date> {
    let days = i64::try_from(days).ok()?;
    first
        .checked_add(jiff::Span::new().try_days(days).ok()?)
        .ok()
}

/// The first day the sketch names.
fn first_day(floor: &Survey) -> Option<Date> {
    let start = floor.sketch.coating.start.as_ref()?;
    start.value.parse().ok()
}

/// Slab temperature of a day: its forecast, the reading of the survey, or what is assumed, °C.
fn slab_at(floor: &Survey, at: Moment) -> f64 {
    let tests = &floor.sketch.tests;
    let forecast = weather_of(floor, at.date).map(|w| w.slab_c);
    let read = tests.slab_temperature.as_ref().map(|t| t.value.c());
    forecast.or(read).unwrap_or(ASSUMED_SLAB_C)
}

fn weather_of(floor: &Survey, date: Option<Date>) -> Option<Weather> {
    let date = date?.to_string();
    let forecast = &floor.sketch.tests.forecast;
    let day = forecast.iter().find(|f| f.day.value == date)?;
    Some(weather(day, floor.sketch.units))
}

/// Where the plan has got to.
struct Clock<'a> {
    floor: &'a Survey,
    first: Option<Date>,
    starts_h: f64,
    length_h: f64,
    crew: f64,
    /// Calendar days after the first.
    day: usize,
    /// Hours worked on that day, waiting included.
    used_h: f64,
    plan: Plan,
}

impl<'a> Clock<'a> {
    fn new(floor: &'a Survey) -> Self {
        let days = &floor.shop.days;
        let mut clock = Self {
            floor,
            first: first_day(floor),
            starts_h: days.starts.s() / S_PER_H,
            length_h: days.hours.s() / S_PER_H,
            crew: days.crew.max(1) as f64,
            day: 0,
            used_h: 0.0,
            plan: Plan::default(),
        };
        clock.plan.site = floor.sketch.coating.site;
        clock.skip_days_off();
        let tests = &floor.sketch.tests;
        if floor.sketch.coating.system.is_some()
            && tests.slab_temperature.is_none()
            && tests.forecast.is_empty()
        {
            let note = "No slab temperature: windows are read at 70 °F (21 °C). Measure the slab.";
            clock.plan.notes.push(note.into());
        }
        clock
    }

    /// Hours after midnight of the first day.
    fn now(&self) -> f64 {
        self.day as f64 * DAY_H + self.starts_h + self.used_h
    }

    fn skip_days_off(&mut self) {
        let off = |date: Date| {
            use jiff::civil::Weekday::{Saturday, Sunday};
            matches!(date.weekday(), Saturday | Sunday)
        };
        while !self.floor.shop.days.weekends
            && self
                .first
                .and_then(|first| later(first, self.day))
                .is_some_and(off)
        {
            self.day += 1;
        }
    }

    fn next_day(&mut self) {
        self.day += 1;
        self.used_h = 0.0;
        self.skip_days_off();
    }

    /// Waits until a coat may go on the one below; abrades where it came too late.
    fn wait_for_window(&mut self, under: &Task, ended: f64, over: &Task, floor: &Survey) {
        let table = under.coat.as_deref().unwrap_or_default();
        let slab_c = slab_at(floor, moment(self.first, ended));
        let Some((opens, closes)) = between(table, slab_c) else {
            let note = format!(
                "The shop book has no recoat window for {} at {}: the data sheet decides.",
                under.name,
                write::temperature(slab_c, floor.slab.units)
            );
            self.plan.notes.push(note);
            // One coat a day (common practice) where no window is known.
            if self.used_h > LEAST_H {
                self.next_day();
            }
            return;
        };
        self.plan.waits.push(Wait {
            under: under.name.clone(),
            over: over.name.clone(),
            ended: moment(self.first, ended),
            opens: moment(self.first, ended + opens),
            closes: moment(self.first, ended + closes),
        });
        while self.now() + LEAST_H < ended + opens || !self.fits(over) {
            let rest = ended + opens - self.now();
            if rest > 0.0
                && self.used_h + rest + over.worker_h / self.crew <= self.length_h + LEAST_H
            {
                self.used_h += rest;
            } else {
                self.next_day();
            }
        }
        let late = self.now() - ended - closes;
        if late > LEAST_H {
            self.abrade(under, over, late);
        }
    }

    /// Takes the gloss off a coat whose window closed so many hours ago.
    fn abrade(&mut self, under: &Task, over: &Task, late_h: f64) {
        self.plan.notes.push(format!(
            "The window on {} closes {late_h:.1} h before {} can start: abrade it first, and plan for that.",
            under.name, over.name
        ));
        let area = self.floor.takeoff.area.coated_m2;
        self.work(&Task {
            name: format!("abrade {}", under.name),
            worker_h: area / self.floor.shop.days.rates.floor_grind,
            tool: None,
            coat: None,
        });
    }

    /// Whether a coat can be finished today, or will never fit into one day.
    fn fits(&self, task: &Task) -> bool {
        let hours = task.worker_h / self.crew;
        self.used_h <= LEAST_H || self.used_h + hours <= self.length_h + LEAST_H
    }

    fn work(&mut self, task: &Task) {
        if task.coat.is_some() {
            if !self.fits(task) {
                self.next_day();
            }
            if task.worker_h / self.crew > self.length_h + LEAST_H {
                let note = format!(
                    "{} takes longer than a day: divide the floor, or bring more workers.",
                    task.name
                );
                self.plan.notes.push(note);
            }
        }
        let mut rest = task.worker_h / self.crew;
        while rest > LEAST_H {
            if self.length_h - self.used_h <= LEAST_H {
                self.next_day();
            }
            let part = rest.min(self.length_h - self.used_h);
            self.add(task, part);
            rest -= part;
        }
    }

    fn add(&mut self, task: &Task, hours: f64) {
        let piece = Piece {
            task: task.name.clone(),
            from_h: self.starts_h + self.used_h,
            to_h: self.starts_h + self.used_h + hours,
            worker_h: hours * self.crew,
            tool: task.tool,
            coat: task.coat.is_some(),
        };
        self.used_h += hours;
        let start = moment(self.first, self.day as f64 * DAY_H + self.starts_h);
        match self.plan.days.last_mut() {
            Some(day) if day.start.after == self.day => day.pieces.push(piece),
            _ => self.plan.days.push(Day {
                number: self.plan.days.len() + 1,
                start,
                pieces: vec![piece],
                shift: Shift {
                    table_h: 0.0,
                    tools: Vec::new(),
                },
                weather: weather_of(self.floor, start.date),
            }),
        }
    }

    /// Adds up the days. A worker may be the one who does all the dusty work of a day, so silica
    /// hours are worker hours, but no more than the day is long.
    fn finish(mut self) -> Plan {
        for day in &mut self.plan.days {
            let dusty: Vec<(Tool, f64)> = day
                .pieces
                .iter()
                .filter_map(|piece| Some((piece.tool?, piece.worker_h)))
                .collect();
            day.shift = shift(&dusty, self.floor.sketch.coating.site);
            day.shift.table_h = day.shift.table_h.min(self.length_h);
            for tool in &mut day.shift.tools {
                tool.1 = tool.1.min(self.length_h);
            }
            let worked: f64 = day.pieces.iter().map(|piece| piece.worker_h).sum();
            self.plan.worker_h += worked;
            self.plan.crew_h += worked / self.crew;
        }
        self.plan
    }
}
