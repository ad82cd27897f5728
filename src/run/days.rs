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
    let outside = outside(&loaded.survey);
    if !outside.is_empty() {
        loaded.survey.takeoff.findings = outside;
        terminal::rendered(&loaded.rendered());
        return Exit::Sketch;
    }
    let floor = &loaded.survey;
    for stop in floor
        .takeoff
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Stop)
    {
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

/// Temperatures at which the system's windows are not known.
fn outside(floor: &crate::survey::Survey) -> Vec<Diagnostic> {
    let named = floor.sketch.coating.system.as_ref();
    let system = named.and_then(|name| floor.shop.systems.get(&name.value));
    system.map_or_else(Vec::new, |system| schedule::outside(&floor.sketch, system))
}
