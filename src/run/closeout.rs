//! `slabwalk closeout`: used against estimated, over one job or many.

use std::path::{Path, PathBuf};

use super::load::Loaded;
use super::packet::Piece;
use super::{Exit, load, place, terminal};
use crate::cli::{CloseoutArgs, Format};
use crate::closeout::{CloseOut, close_out, plot, report, suggest};
use crate::svg;
use crate::text::folded;

pub(super) fn closeout(args: &CloseoutArgs) -> Exit {
    let jobs = match jobs(args) {
        Ok(jobs) => jobs,
        Err(exit) => return exit,
    };
    let verdicts = suggest(&jobs);
    let Some(folder) = &args.out else {
        return terminal::data(&match args.format {
            Format::Text => report::text(&jobs, &verdicts),
            Format::Csv => report::csv(&jobs),
            Format::Json => report::json(&jobs, &verdicts),
        });
    };
    let mut pieces: Vec<Piece> = report::pieces(&jobs, &verdicts)
        .into_iter()
        .map(|(name, text)| (name, text.into_bytes()))
        .collect();
    match plot::sheet(&jobs) {
        Some(sheet) => pieces.push(("closeout.svg".to_owned(), svg::write(&sheet).into_bytes())),
        None => terminal::message("warning: no plot: no record has both an estimate and a use\n"),
    }
    match place::place(folder, &pieces, &[]) {
        Ok(()) => {
            let names: Vec<&str> = pieces.iter().map(|piece| piece.0.as_str()).collect();
            terminal::data(&folded(&format!("{}: {}\n", folder.display(), names.join(", "))))
        }
        Err(error) => {
            let folder = folder.display();
            terminal::message(&format!(
                "error: the close-out {folder} can't be written: {error}\n"
            ));
            Exit::File
        }
    }
}

/// The close-out of every sketch; all that is wrong with any of them is said before giving up.
fn jobs(args: &CloseoutArgs) -> Result<Vec<CloseOut>, Exit> {
    let (mut jobs, mut worst) = (Vec::new(), Exit::Done);
    for (path, named) in sketches(&args.sketches)? {
        let loaded = match load::load(&path, &args.reading) {
            Ok(loaded) => loaded,
            Err(exit) => {
                worst = worst.max(exit);
                continue;
            }
        };
        if !named && loaded.survey.sketch.used.span.is_none() {
            terminal::message(&format!("note: {}: no record of use, left out\n", path.display()));
            continue;
        }
        match close_out(&loaded.survey) {
            Ok(job) => {
                missing_photos(&path, &loaded, &job);
                jobs.push(job);
            }
            Err(found) => {
                terminal::rendered(&loaded.render(&found));
                worst = worst.max(Exit::Sketch);
            }
        }
    }
    if worst != Exit::Done {
        return Err(worst);
    }
    if jobs.is_empty() {
        terminal::message("error: none of these sketches has a record of what was used\n");
        return Err(Exit::Sketch);
    }
    Ok(jobs)
}

/// Every sketch, and whether it was named; of a folder its YAML files in the order of their names.
fn sketches(paths: &[PathBuf]) -> Result<Vec<(PathBuf, bool)>, Exit> {
    let mut out = Vec::new();
    for path in paths {
        if !path.is_dir() {
            out.push((path.clone(), true));
            continue;
        }
        let entries = std::fs::read_dir(path).map_err(|error| {
            let name = path.display();
            terminal::message(&format!("error: the folder {name} can't be read: {error}\n"));
            Exit::File
        })?;
        let mut found: Vec<PathBuf> = entries
            .flatten()
            .map(|entry| entry.path())
            .filter(|path| path.is_file() && is_sketch(path))
            .collect();
        found.sort();
        out.extend(found.into_iter().map(|path| (path, false)));
    }
    Ok(out)
}

/// Whether it is a YAML file with the first key of a sketch: a shop book in the folder is passed over.
fn is_sketch(path: &Path) -> bool {
    let yaml = path.extension().is_some_and(|end| end == "yaml" || end == "yml");
    // Text that can't be read is passed on, and said to be unreadable where sketches are read.
    yaml && std::fs::read_to_string(path)
        .map_or(true, |text| text.lines().any(|line| line.starts_with("slabwalk:")))
}

/// A photo that isn't there is worth a word and stops nothing.
fn missing_photos(path: &Path, loaded: &Loaded, job: &CloseOut) {
    let beside = path.parent().unwrap_or(Path::new(""));
    for photo in job.photos.iter().filter(|photo| !beside.join(photo).is_file()) {
        terminal::message(&format!(
            "warning: {}: the photo {photo} is not there\n",
            loaded.sketch.name
        ));
    }
}
