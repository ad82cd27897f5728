//! `slabwalk edit`: one change of a sketch, everything else in it byte for byte as it was.

use std::path::Path;

use super::{Exit, format, load, terminal};
use crate::cli::EditArgs;
use crate::diagnostic::Severity;
use crate::{edit, render, sketch};

pub(super) fn edit(args: &EditArgs) -> Exit {
    changed(args).unwrap_or_else(|exit| exit)
}

fn changed(args: &EditArgs) -> Result<Exit, Exit> {
    let source = load::read(&args.sketch, "sketch")?;
    let new = new_text(&source.text, args).map_err(|error| {
        terminal::message(&format!("error: {} was left as it is: {error}\n", source.name));
        Exit::Sketch
    })?;
    let errors = |text: &str| {
        let (_, found) = sketch::parse(text);
        found.into_iter().filter(|d| d.severity == Severity::Error).collect::<Vec<_>>()
    };
    let found = errors(&new);
    // A sketch that has errors already may be mended in steps.
    if !found.is_empty() && errors(&source.text).is_empty() {
        let name = format!("{} (not written)", source.name);
        terminal::rendered(&render::render(&found, (&name, &new), None, terminal::color()));
        return Err(Exit::Sketch);
    }
    if args.stdout {
        return Ok(terminal::data(&new));
    }
    write(&args.sketch, &source.text, &new)
}

fn new_text(text: &str, args: &EditArgs) -> Result<String, edit::EditError> {
    if let Some(path) = &args.remove {
        return edit::remove(text, path);
    }
    match (args.set.as_slice(), args.add.as_slice()) {
        ([path, value], _) => edit::set_value(text, path, value),
        (_, [list, record]) => edit::insert_record(text, list, record),
        _ => Ok(text.to_owned()),
    }
}

fn write(path: &Path, old: &str, new: &str) -> Result<Exit, Exit> {
    if old == new {
        return Ok(Exit::Done);
    }
    let name = path.display();
    format::replace(path, old.as_bytes(), new.as_bytes()).map_err(|error| {
        terminal::message(&format!("error: {name} was left as it is: {error}\n"));
        Exit::File
    })?;
    terminal::message(&format!("{name}: changed\n"));
    Ok(Exit::Done)
}
