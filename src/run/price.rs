//! `slabwalk price`: what the job costs and what is asked for it, to standard output.

use super::{Exit, load, terminal};
use crate::cli::{Format, PriceArgs};
use crate::diagnostic::{Diagnostics, Severity};
use crate::price::{self, report};

pub(super) fn price(args: &PriceArgs) -> Exit {
    let loaded = match load::load(&args.sketch, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let priced = match price::price(&loaded.survey) {
        Ok(priced) => priced,
        Err(found) => {
            terminal::rendered(&loaded.render(&found));
            return Exit::Sketch;
        }
    };
    let findings = &loaded.survey.takeoff.findings;
    for stop in findings.iter().filter(|f| f.severity == Severity::Stop) {
        terminal::message(&format!("stop[{}]: {}\n", stop.code, stop.message));
    }
    if priced.example && args.format != Format::Text {
        terminal::message(&format!("warning: {}\n", report::EXAMPLE_PRICES));
    }
    terminal::data(&match args.format {
        Format::Text => report::text(&loaded.survey, &priced),
        Format::Csv => report::csv(&loaded.survey, &priced),
        Format::Json => report::json(&loaded.survey, &priced),
    })
}

/// The files of the price for a packet. A price that can't be computed keeps no crew from its maps: the packet goes without,
/// and says why.
pub(super) fn pieces(
    loaded: &load::Loaded,
    priced: &Result<price::Price, Diagnostics>,
) -> Vec<super::packet::Piece> {
    let Ok(priced) = priced else {
        return Vec::new();
    };
    let files = report::pieces(&loaded.survey, priced);
    let bytes = |(name, text): (String, String)| (name, text.into_bytes());
    files.into_iter().map(bytes).collect()
}
