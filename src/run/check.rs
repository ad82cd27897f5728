//! `slabwalk check`: all errors and findings.

use super::{Exit, load, photos, terminal};
use crate::cli::CheckArgs;
use crate::diagnostic::{Diagnostic, Severity};
use crate::hold::say;
use crate::price;

pub(super) fn check(args: &CheckArgs) -> Exit {
    let mut worst = Exit::Done;
    for path in &args.sketches {
        let exit = match load::load(path, &args.reading) {
            Err(exit) => exit,
            Ok(mut loaded) => {
                let (_, found) = photos::photos(&loaded);
                loaded.survey.takeoff.findings.extend(found);
                let unpriced = price::price(&loaded.survey).err().unwrap_or_default();
                let unpriced = unpriced.into_iter().map(Diagnostic::softened);
                loaded.survey.takeoff.findings.extend(unpriced);
                crate::finding::sort(&mut loaded.survey.takeoff.findings);
                let holds = say::text(&loaded.survey.holds);
                if !holds.is_empty() {
                    terminal::message(&format!("{}\n", holds.trim_start()));
                }
                let findings = &loaded.survey.takeoff.findings;
                if findings.is_empty() {
                    terminal::message(&format!("{}: no findings\n", path.display()));
                } else {
                    terminal::rendered(&loaded.rendered());
                }
                let stopped = findings.iter().any(|f| f.severity == Severity::Stop);
                if stopped { Exit::Sketch } else { Exit::Done }
            }
        };
        worst = worst.max(exit);
    }
    worst
}
