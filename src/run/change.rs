//! `slabwalk change`: what is different between two sketches of one job, and what that costs.

use super::load::Loaded;
use super::packet::Piece;
use super::{Exit, drawings, load, place, terminal};
use crate::change::{self, Change, How, ItemChange, ItemKind, report};
use crate::cli::{ChangeArgs, Format};
use crate::diagnostic::Severity;
use crate::hold::say;
use crate::survey::survey;
use crate::text::folded;

pub(super) fn change(args: &ChangeArgs) -> Exit {
    let (old, new) =
        match (load::load(&args.old, &args.reading), load::load(&args.new, &args.reading)) {
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
            terminal::rendered(&old.render(&faults));
            return Exit::Sketch;
        }
    };
    new.say_stops();
    if let Some(folder) = &args.out {
        let mut pieces: Vec<Piece> = report::pieces(&found)
            .into_iter()
            .map(|(name, text)| (name, text.into_bytes()))
            .collect();
        pieces.extend(drawing(&new, &found));
        return match place::place(folder, &pieces, &say::remarks(&found.holds)) {
            Ok(()) => {
                let names: Vec<&str> = pieces.iter().map(|piece| piece.0.as_str()).collect();
                terminal::data(&folded(&format!("{}: {}\n", folder.display(), names.join(", "))))
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

/// The customer's drawing of what was found: one SVG a page, and all pages in one PDF. Every change that can be seen on it has a cloud,
/// with the number of the change order in its triangle. If the drawing can't be made, that is said, and the change order goes without it:
/// its words are whole.
fn drawing(new: &Loaded, found: &Change) -> Vec<Piece> {
    let seen = |item: &&ItemChange| {
        let priced = !item.parts.is_empty() || !item.beyond.is_empty();
        item.how != How::Removed && item.kind != ItemKind::Floor && priced
    };
    let clouds: Vec<(String, u32)> = found
        .items
        .iter()
        .filter(seen)
        .filter_map(|item| Some((item.id.clone(), u32::try_from(item.number).ok()?)))
        .collect();
    if clouds.is_empty() {
        return Vec::new();
    }
    let mut sheets = match drawings::clouded(new, &clouds) {
        Ok(sheets) => sheets,
        Err(mut faults) => {
            faults.0.iter_mut().for_each(|f| f.severity = Severity::Warning);
            terminal::rendered(&new.render(&faults));
            terminal::message("warning: the change order has no drawing; its words are whole\n");
            return Vec::new();
        }
    };
    for (i, sheet) in sheets.iter_mut().enumerate() {
        sheet.name = match i {
            0 => "change-drawing".to_owned(),
            _ => format!("change-drawing-{}", i + 1),
        };
    }
    let texts = drawings::files(&sheets, true);
    terminal::message(&drawings::faults(&new.sketch.name, &texts));
    let mut pieces: Vec<Piece> =
        texts.into_iter().map(|(name, text)| (name, text.into_bytes())).collect();
    match new.papers().pdf(&sheets) {
        Ok(bytes) => pieces.push(("change-drawing.pdf".to_owned(), bytes)),
        Err(error) => terminal::message(&format!("warning: the drawing has no PDF: {error}\n")),
    }
    pieces
}

/// The second sketch measured by the first one's shop book: rules and prices are those that were
/// agreed, and a book changed since makes no change order.
fn by_the_first_book(old: &Loaded, new: Loaded) -> Result<Loaded, Exit> {
    if old.survey.shop == new.survey.shop {
        return Ok(new);
    }
    match survey(new.survey.sketch.clone(), old.survey.shop.clone(), Vec::new()) {
        Ok(survey) => Ok(Loaded { shop: old.shop.clone(), survey, ..new }),
        Err(found) => {
            terminal::rendered(&new.render(&found));
            Err(Exit::Sketch)
        }
    }
}
