//! `slabwalk format`: sketches in canonical form, in their place in one step.

use std::fs::{self, File};
use std::io::{Error, Result, Write};
use std::path::{Path, PathBuf};

use super::{Exit, load, terminal};
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
        terminal::message(&render::render(&found, texts, None, terminal::color()));
        return Err(Exit::Sketch);
    }
    let Ok(new) = edit::format(&source.text) else {
        return Err(Exit::Sketch);
    };
    if args.stdout {
        return Ok(terminal::data(&new));
    }
    if new == source.text {
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
    // Behind a link it is the file that is written, not the link.
    let target = fs::canonicalize(path)?;
    let permissions = fs::metadata(&target)?.permissions();
    if permissions.readonly() {
        return Err(Error::other("it may not be written to"));
    }
    let fresh = Fresh::new(&target)?;
    let mut file = File::create_new(&fresh.0)?;
    file.write_all(new)?;
    file.set_permissions(permissions)?;
    file.sync_all()?;
    if fs::read(&target)? != old {
        return Err(Error::other("it was changed meanwhile"));
    }
    fs::rename(&fresh.0, &target)
}

/// A file under way, removed again unless it took its place.
struct Fresh(PathBuf);

impl Fresh {
    fn new(target: &Path) -> Result<Self> {
        let name = target
            .file_name()
            .ok_or_else(|| Error::other("it has no name"))?;
        let name = format!(".{}.{}.new", name.to_string_lossy(), std::process::id());
        let path = target.with_file_name(name);
        if fs::symlink_metadata(&path).is_ok() {
            // Left by a process of the same number that was ended while writing.
            fs::remove_file(&path)?;
        }
        Ok(Self(path))
    }
}

impl Drop for Fresh {
    fn drop(&mut self) {
        // Gone already if it took its place; nothing can be done about one that won't go.
        let _ = fs::remove_file(&self.0);
    }
}
