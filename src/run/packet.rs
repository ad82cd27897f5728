//! `slabwalk packet`: everything for the job, one folder per sketch.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::drawings::{self, Wish};
use super::load::Loaded;
use super::takeoff::report_of;
use super::{Exit, load, paper, photos, place, proposal, terminal};
use crate::cli::PacketArgs;
use crate::diagnostic::Severity;
use crate::ink::Sheet;
use crate::photo::Photograph;
use crate::sheet::Audience;
use crate::{order, report, schedule, svg};

/// A file of a packet: its name and its bytes.
pub(super) type Piece = (String, Vec<u8>);

/// Columns of takeoff.txt: what a letter page in a fixed-width face holds.
const WIDTH: usize = 80;

pub(super) fn packet(args: &PacketArgs) -> Exit {
    let folders = match folders(args) {
        Ok(folders) => folders,
        Err(exit) => return exit,
    };
    let mut worst = Exit::Done;
    for (path, folder) in args.sketches.iter().zip(&folders) {
        worst = worst.max(one(path, folder, args));
    }
    worst
}

/// The folder of every sketch; two sketches must not share one.
fn folders(args: &PacketArgs) -> Result<Vec<PathBuf>, Exit> {
    let mut seen: BTreeMap<PathBuf, &Path> = BTreeMap::new();
    let mut out = Vec::new();
    for path in &args.sketches {
        let name = path.file_stem().and_then(|s| s.to_str()).unwrap_or("");
        if name.is_empty() || name.trim_matches('.').is_empty() {
            terminal::message(&format!(
                "error: {} has no name that a packet's folder could take\n",
                path.display()
            ));
            return Err(Exit::Usage);
        }
        let folder = args.out.join(name);
        if let Some(other) = seen.insert(folder.clone(), path) {
            terminal::message(&format!(
                "error: {} and {} would both be written to {}\nhint: give one of them another name, or another --out\n",
                other.display(),
                path.display(),
                folder.display()
            ));
            return Err(Exit::Usage);
        }
        out.push(folder);
    }
    Ok(out)
}

fn one(path: &Path, folder: &Path, args: &PacketArgs) -> Exit {
    let loaded = match load::load(path, &args.reading) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let (pictures, lost) = photos::photos(&loaded);
    let both = pieces(&loaded, &pictures)
        .and_then(|pieces| Ok((pieces, proposal::pieces(&loaded, &pictures)?)));
    let (pieces, unsigned) = match both {
        Ok((pieces, (papers, unsigned))) => ([pieces, papers].concat(), unsigned),
        Err(exit) => return exit,
    };
    let findings = [&loaded.survey.takeoff.findings[..], &lost, &unsigned].concat();
    if !findings.is_empty() {
        terminal::message(&loaded.render(&findings));
    }
    match place::place(folder, &pieces) {
        Ok(()) => {
            let names: Vec<&str> = pieces.iter().map(|p| p.0.as_str()).collect();
            terminal::data(&format!("{}: {}\n", folder.display(), names.join(", ")))
        }
        Err(error) => {
            terminal::message(&format!(
                "error: the packet {} can't be written: {error}\n",
                folder.display()
            ));
            Exit::File
        }
    }
}

/// All files of a packet, made before the first is written.
fn pieces(loaded: &Loaded, pictures: &[Option<Photograph>]) -> Result<Vec<Piece>, Exit> {
    let report = report_of(loaded);
    let mut out = vec![
        (
            "takeoff.json".to_owned(),
            report::json::takeoff(&report).into_bytes(),
        ),
        (
            "takeoff.csv".to_owned(),
            report::csv::takeoff(&report).into_bytes(),
        ),
        (
            "takeoff.txt".to_owned(),
            report::text::takeoff(&report, WIDTH).into_bytes(),
        ),
    ];
    let floor = &loaded.survey;
    let tables = order::pieces(floor)
        .into_iter()
        .chain(schedule::pieces(floor));
    out.extend(tables.map(|(name, text)| (name, text.into_bytes())));
    out.extend(super::price::pieces(loaded));
    for audience in [Audience::Crew, Audience::Customer, Audience::Field] {
        out.extend(drawing(loaded, audience)?);
    }
    let photos = paper::photo_sheets(loaded, pictures).map_err(|error| {
        terminal::message(&format!("error: photos.pdf: {error}\n"));
        Exit::File
    })?;
    out.extend(photos);
    Ok(out)
}

/// The sheets of one drawing; a drawing that is left out, with a warning, gives none.
fn drawn(loaded: &Loaded, audience: Audience) -> Result<Vec<Sheet>, Exit> {
    drawings::sheets(loaded, audience, Wish::default()).or_else(|mut found| {
        // The form for another visit is the only drawing that a job can do without.
        if audience == Audience::Field {
            found
                .iter_mut()
                .for_each(|d| d.severity = Severity::Warning);
        }
        terminal::message(&loaded.render(&found));
        let bad = found.iter().any(|d| d.severity == Severity::Error);
        if bad {
            Err(Exit::Sketch)
        } else {
            Ok(Vec::new())
        }
    })
}

/// A drawing as files: one SVG a sheet, and all sheets in one PDF. The form for another visit is for paper alone.
///
/// What is written is read back first. A fault of the drawing is a fault of this program and not of the sketch, and the numbers
/// are whole, so it is said and the packet is written all the same.
fn drawing(loaded: &Loaded, audience: Audience) -> Result<Vec<Piece>, Exit> {
    let sheets = drawn(loaded, audience)?;
    let Some(first) = sheets.first() else {
        return Ok(Vec::new());
    };
    let written = |s: &Sheet| (format!("{}.svg", s.name), svg::write(s));
    let texts: Vec<(String, String)> = sheets.iter().map(written).collect();
    terminal::message(&drawings::faults(&loaded.sketch.name, &texts));
    let pdf = drawings::pdf(loaded, &sheets).map_err(|error| {
        terminal::message(&format!("error: {}.pdf: {error}\n", first.name));
        Exit::File
    })?;
    let mut out = vec![(format!("{}.pdf", first.name), pdf)];
    if audience != Audience::Field {
        out.extend(
            texts
                .into_iter()
                .map(|(name, text)| (name, text.into_bytes())),
        );
    }
    Ok(out)
}
