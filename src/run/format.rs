//! `slabwalk format`: sketches in canonical form, in their place in one step.

use std::fs;
use std::io::{Error, Result};
use std::path::Path;

use super::{Exit, hold, load, place, terminal};
use crate::cli::FormatArgs;
use crate::diagnostic::Severity;
use crate::edit;
use crate::{render, sketch};

pub(super) fn format(args: &FormatArgs) -> Exit {
    let mut worst = Exit::Done;
    for path in &args.sketches {
        let exit = one(path, args);
        worst = worst.max(exit.unwrap_or_else(|exit| exit));
    }
    worst
}

fn one(path: &Path, args: &FormatArgs) -> std::result::Result<Exit, Exit> {
    let source = load::read(path, "sketch")?;
    let (_, found) = sketch::parse(&source.text);
    if found.iter().any(|fault| fault.severity == Severity::Error) {
        let texts = (source.name.as_str(), source.text.as_str());
        terminal::rendered(&render::render(&found, texts, None, terminal::color()));
        return Err(Exit::Sketch);
    }
    let Ok(new) = edit::format(&source.text) else {
        return Err(Exit::Sketch);
    };
    if args.stdout {
        return Ok(terminal::data(&new));
    }
    if new == source.text {
        if let (false, Ok(target)) = (args.check, fs::canonicalize(path)) {
            place::clear(&target);
        }
        return Ok(Exit::Done);
    }
    let name = path.display();
    if args.check {
        terminal::message(&format!(
            "error: {name} is not in canonical form\nhint: run `slabwalk format {name}`\n"
        ));
        return Err(Exit::Sketch);
    }
    replace(path, source.text.as_bytes(), new.as_bytes()).map_err(|error| {
        terminal::message(&format!("error: {name} was left as it is: {error}\n"));
        Exit::File
    })?;
    terminal::message(&format!("{name}: put in order\n"));
    Ok(Exit::Done)
}

/// Writes a file anew in one step, with its permissions, if it still holds what was read.
///
/// # Errors
///
/// The file has changed meanwhile, or what the file system says. The old file is then as it was.
pub(super) fn replace(path: &Path, old: &[u8], new: &[u8]) -> Result<()> {
    let _hold = hold::hold();
    // Behind a link it is the file that is written, not the link.
    let target = fs::canonicalize(path)?;
    if place::replace(&target, new, |p| Ok(fs::read(p)? == old))? {
        return Ok(());
    }
    Err(Error::other("it was changed meanwhile"))
}
