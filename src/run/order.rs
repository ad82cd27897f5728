//! `slabwalk order`: what is bought, to standard output.

use super::{Exit, load, terminal};
use crate::cli::{Format, OrderArgs};
use crate::diagnostic::Severity;
use crate::report;

pub(super) fn order(args: &OrderArgs) -> Exit {
    let loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let findings = &loaded.survey.takeoff.findings;
    for stop in findings.iter().filter(|f| f.severity == Severity::Stop) {
        terminal::message(&format!("stop[{}]: {}\n", stop.code, stop.message));
    }
    terminal::data(&match args.format {
        Format::Text => report::order::text(&loaded.survey),
        Format::Csv => report::order::csv(&loaded.survey),
        Format::Json => report::order::json(&loaded.survey),
    })
}
