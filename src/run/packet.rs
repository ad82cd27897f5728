//! `slabwalk packet`: everything for the job, one folder per sketch.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::load::Loaded;
use super::takeoff::report_of;
use super::{Exit, load, place, terminal};
use sha2::{Digest, Sha256};

use crate::cli::PacketArgs;
use crate::ink::Sheet;
use crate::sheet::{Audience, Inputs, Options, compose};
use crate::slab::Slab;
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
    let pieces = match pieces(&loaded) {
        Ok(pieces) => pieces,
        Err(exit) => return exit,
    };
    if !loaded.survey.takeoff.findings.is_empty() {
        terminal::message(&loaded.rendered());
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
fn pieces(loaded: &Loaded) -> Result<Vec<Piece>, Exit> {
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
    out.extend(crew_map(loaded)?);
    Ok(out)
}

/// Most items one crew map is drawn with. Tags of more have no room on one sheet, and looking for
/// room takes minutes; dividing a floor over several sheets is not there yet.
const MOST_ITEMS: usize = 600;

/// Everything of a floor that gets a tag.
fn items(slab: &Slab) -> usize {
    slab.joints.len()
        + slab.cracks.len()
        + slab.spalls.len()
        + slab.blemishes.len()
        + slab.lippage.len()
        + slab.keep_outs.len()
        + slab.uncoated.len()
        + slab.moisture.len()
}

/// The sheets of the crew map, one SVG each.
fn crew_map(loaded: &Loaded) -> Result<Vec<Piece>, Exit> {
    let floor = &loaded.survey;
    let count = items(&floor.slab);
    if count > MOST_ITEMS {
        terminal::message(&format!(
            "warning: {}: no crew map is drawn: one sheet holds up to {MOST_ITEMS} items and this floor has {count}\n\
             hint: split the sketch along a joint; the tables of the packet are whole\n",
            loaded.sketch.name
        ));
        return Ok(Vec::new());
    }
    let name = Path::new(&loaded.sketch.name)
        .file_name()
        .and_then(|n| n.to_str());
    let plan = schedule::plan(floor);
    let inputs = Inputs {
        job: &floor.sketch.job,
        slab: &floor.slab,
        takeoff: &floor.takeoff,
        order: Some(&floor.order),
        plan: Some(&plan),
        shop: &floor.shop,
        source_name: name.unwrap_or_default(),
        digest: &digest(&loaded.sketch.text),
    };
    let options = Options {
        audience: Audience::Crew,
        paper: None,
        scale: None,
    };
    match compose(&inputs, &options) {
        Ok(sheets) => {
            let written = |s: &Sheet| (format!("{}.svg", s.name), svg::write(s).into_bytes());
            Ok(sheets.iter().map(written).collect())
        }
        Err(found) => {
            terminal::message(&loaded.render(&found));
            Err(Exit::Sketch)
        }
    }
}

/// SHA-256 of a text in hexadecimal, so that a print can be matched with the sketch it was made from.
fn digest(text: &str) -> String {
    Sha256::digest(text)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
