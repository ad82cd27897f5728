//! `slabwalk days`: the plan by days, to standard output.

use super::{Exit, load, terminal};
use crate::cli::{DaysArgs, DaysFormat};
use crate::diagnostic::{Diagnostic, Severity};
use crate::schedule::{self, report};

pub(super) fn days(args: &DaysArgs) -> Exit {
    let mut loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let unplanned = unplanned(&loaded.survey);
    if !unplanned.is_empty() {
        loaded.survey.takeoff.findings = unplanned;
        terminal::rendered(&loaded.rendered());
        return Exit::Sketch;
    }
    let floor = &loaded.survey;
    for stop in floor.takeoff.findings.iter().filter(|f| f.severity == Severity::Stop) {
        terminal::message(&format!("stop[{}]: {}\n", stop.code, stop.message));
    }
    let plan = schedule::plan(floor);
    match args.format {
        DaysFormat::Text => terminal::data(&report::text(floor, &plan)),
        DaysFormat::Json => terminal::data(&report::json(floor, &plan)),
        DaysFormat::Ics => match schedule::calendar(floor, &plan) {
            Some(text) => terminal::data(&text),
            None => {
                terminal::message(
                    "error: a calendar needs the first day of the work\nhint: add start: 2026-09-21 to the coating\n",
                );
                Exit::Sketch
            }
        },
    }
}

/// What keeps the floor from being planned.
fn unplanned(floor: &crate::floor::Survey) -> Vec<Diagnostic> {
    let facts = floor.facts();
    schedule::faults(&floor.sketch, &facts)
}
