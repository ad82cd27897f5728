//! `slabwalk change`: what is different between two sketches of one job, and what that costs.

use super::load::Loaded;
use super::{Exit, load, place, terminal};
use crate::change::{self, report};
use crate::cli::{ChangeArgs, Format};
use crate::diagnostic::Severity;
use crate::survey::survey;

pub(super) fn change(args: &ChangeArgs) -> Exit {
    let (old, new) = match (
        load::load(&args.old, &args.reading),
        load::load(&args.new, &args.reading),
    ) {
        (Ok(old), Ok(new)) => (old, new),
        (Err(one), Err(other)) => return one.max(other),
        (Err(exit), _) | (_, Err(exit)) => return exit,
    };
    let new = match by_the_first_book(&old, new) {
        Ok(new) => new,
        Err(exit) => return exit,
    };
    let found = match change::change(&old.survey, &new.survey) {
        Ok(found) => found,
        Err(faults) => {
            terminal::message(&old.render(&faults));
            return Exit::Sketch;
        }
    };
    say_stops(&new);
    if let Some(folder) = &args.out {
        let pieces: Vec<super::packet::Piece> = report::pieces(&found)
            .into_iter()
            .map(|(name, text)| (name, text.into_bytes()))
            .collect();
        return match place::place(folder, &pieces) {
            Ok(()) => {
                let names: Vec<&str> = pieces.iter().map(|piece| piece.0.as_str()).collect();
                terminal::data(&format!("{}: {}\n", folder.display(), names.join(", ")))
            }
            Err(error) => {
                terminal::message(&format!(
                    "error: the change order {} can't be written: {error}\n",
                    folder.display()
                ));
                Exit::File
            }
        };
    }
    terminal::data(&match args.format {
        Format::Text => report::text(&found),
        Format::Csv => report::csv(&found),
        Format::Json => report::json(&found),
    })
}

/// The second sketch measured by the first one's shop book: rules and prices are those that were
/// agreed, and a book changed since makes no change order.
fn by_the_first_book(old: &Loaded, new: Loaded) -> Result<Loaded, Exit> {
    if old.survey.shop == new.survey.shop {
        return Ok(new);
    }
    match survey(
        new.survey.sketch.clone(),
        old.survey.shop.clone(),
        Vec::new(),
    ) {
        Ok(survey) => Ok(Loaded {
            sketch: new.sketch,
            shop: old.shop.clone(),
            survey,
        }),
        Err(found) => {
            terminal::message(&new.render(&found));
            Err(Exit::Sketch)
        }
    }
}

/// A stop of the second sketch must be seen before anyone signs.
fn say_stops(new: &Loaded) {
    let findings = new.survey.takeoff.findings.iter();
    for stop in findings.filter(|f| f.severity == Severity::Stop) {
        terminal::message(&format!("stop[{}]: {}\n", stop.code, stop.message));
    }
}
