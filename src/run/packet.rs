//! `slabwalk packet`: everything for the job, one folder per sketch.

mod last;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::drawings::{self, Wish};
use super::load::Loaded;
use super::{Exit, load, many, photos, place, proposal, terminal};
use crate::cli::PacketArgs;
use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::hold::say;
use crate::ink::Sheet;
use crate::paper::size::Size;
use crate::parallel;
use crate::photo::Photograph;
use crate::price::{self, Price};
use crate::sheet::{Audience, Paper};
use crate::text;
use crate::text::folded;
use crate::{report, schedule, svg};

/// A file of a packet: its name and its bytes.
pub(super) type Piece = (String, Vec<u8>);

pub(super) fn packet(args: &PacketArgs) -> Exit {
    let folders = match folders(args) {
        Ok(folders) => folders,
        Err(exit) => return exit,
    };
    let names: Vec<String> = args.sketches.iter().map(|p| p.display().to_string()).collect();
    let several = args.sketches.len() > 1;
    let work = |i: usize| match (args.sketches.get(i), folders.get(i)) {
        (Some(path), Some(folder)) => one(path, folder, args, several),
        _ => Err(Exit::Usage),
    };
    let (made, said) = many::each(&names, jobs(args), work);
    let failed = made.iter().filter_map(|m| m.as_ref().err());
    let worst = failed.copied().fold(said, Exit::max);
    if several {
        let done = terminal::data(&places(&folders, &made));
        terminal::message(&summary(&names, &made));
        return worst.max(done);
    }
    worst
}

/// How many sketches are worked on at a time.
fn jobs(args: &PacketArgs) -> usize {
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    args.jobs.map_or_else(cores, usize::from)
}

/// How bad the findings of a packet that was made are.
type Made = Option<Severity>;

/// Where the packets are that were made.
fn places(folders: &[PathBuf], made: &[Result<Made, Exit>]) -> String {
    let done = folders.iter().zip(made).filter(|(_, made)| made.is_ok());
    let names: Vec<String> = done.map(|(folder, _)| folder.display().to_string()).collect();
    if names.is_empty() {
        return String::new();
    }
    folded(&format!("The packets are in {}\n", names.join(", ")))
}

/// The last lines of a run over several sketches: how many packets were made, and which were not.
fn summary(names: &[String], made: &[Result<Made, Exit>]) -> String {
    let count =
        |wanted: &dyn Fn(&Made) -> bool| made.iter().flatten().filter(|m| wanted(m)).count();
    let mut out = format!("{} of {} packets made", made.iter().flatten().count(), names.len());
    let (found, stops) = (count(&|m| m.is_some()), count(&|m| *m == Some(Severity::Stop)));
    if found > 0 {
        out.push_str(&format!("; {found} with findings"));
    }
    if stops > 0 {
        out.push_str(&format!(", {stops} with a stop"));
    }
    out.push('\n');
    for (name, made) in names.iter().zip(made) {
        if let Err(exit) = made {
            let why = match exit {
                Exit::File => "a file can't be read or written",
                _ => "errors in the sketch",
            };
            out.push_str(&format!("not made: {name}: {why}\n"));
        }
    }
    out
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

fn one(path: &Path, folder: &Path, args: &PacketArgs, several: bool) -> Result<Made, Exit> {
    let loaded = load::load(path, &args.reading)?;
    let (pictures, lost) = photos::photos(&loaded);
    let priced = price::price(&loaded.survey);
    let (pieces, unsigned) = pieces(&loaded, &pictures, &priced, args.paper)?;
    let costs = last::costs(&loaded.survey, priced.as_ref().ok());
    let unpriced = priced.err().unwrap_or_default();
    let lacking = lacking(&unpriced);
    let unpriced: Vec<_> = unpriced.into_iter().map(Diagnostic::softened).collect();
    let known = &loaded.survey.takeoff.findings[..];
    let findings = [known, &lost, &unsigned, &unpriced].concat();
    // Of several sketches nobody reads all findings: a line says how many, and the files have them.
    if !findings.is_empty() && !several {
        terminal::rendered(&loaded.render(&findings));
    }
    for line in &lacking {
        terminal::message(&format!("{}: {line}\n", loaded.sketch.name));
    }
    let remarks = [say::remarks(&loaded.survey.holds), lacking].concat();
    if let Err(error) = place::place(folder, &pieces, &remarks) {
        terminal::message(&format!(
            "error: the packet {} can't be written: {error}\n",
            folder.display()
        ));
        return Err(Exit::File);
    }
    let packet = last::Packet {
        floor: &loaded.survey,
        findings: &findings,
        costs,
        folder,
        files: pieces.len() + 1,
    };
    let lines = if several { packet.line(&loaded.sketch.name) } else { packet.lines() };
    match terminal::data(&lines) {
        Exit::Done => Ok(findings.iter().map(|f| f.severity).max()),
        exit => Err(exit),
    }
}

/// What a packet without a price lacks, and why: a line for each paper.
fn lacking(unpriced: &[Diagnostic]) -> Vec<String> {
    if unpriced.is_empty() {
        return Vec::new();
    }
    let why: Vec<&str> = unpriced.iter().map(|d| d.message.as_str()).collect();
    let line = |files: &str| format!("not made: {files}: {}", why.join("; "));
    ["price.csv, price.json, price.txt", "proposal.html, proposal.pdf"].map(line).to_vec()
}

/// Makes a part of a packet: its files, and what somebody has to look at.
type Part<'a> = &'a (dyn Fn() -> Result<(Vec<Piece>, Vec<Diagnostic>), Exit> + Sync);

/// All files of a packet, made before the first is written, and what somebody has to look at before the proposal is signed. The parts
/// are made at the same time; what they say comes in their order.
fn pieces(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
    priced: &Result<Price, Diagnostics>,
    paper: Option<Paper>,
) -> Result<(Vec<Piece>, Vec<Diagnostic>), Exit> {
    let alone = |pieces| Ok((pieces, Vec::new()));
    let draw = |audience| drawing(loaded, drawn(loaded, audience, paper)?, audience);
    let parts: [Part; 5] = [
        &|| alone(tables(loaded, priced)),
        &|| crew(loaded, pictures, paper),
        &|| draw(Audience::Customer),
        &|| draw(Audience::Field),
        &|| proposal::pieces(loaded, pictures),
    ];
    let made = parallel::each(parts.len(), |i| terminal::kept(parts[i]));
    let mut out = (Vec::new(), Vec::new());
    for (made, said) in made {
        // What is written later says how that went.
        let _ = terminal::say(said);
        let (pieces, found) = made?;
        out.0.extend(pieces);
        // What is true of one drawing is mostly true of the others.
        let new = |d: &Diagnostic| !out.1.iter().any(|o: &Diagnostic| o.code == d.code);
        let found: Vec<Diagnostic> = found.into_iter().filter(new).collect();
        out.1.extend(found);
    }
    Ok(out)
}

/// The tables: takeoff, order, days and price.
fn tables(loaded: &Loaded, priced: &Result<Price, Diagnostics>) -> Vec<Piece> {
    let report = loaded.papers().report();
    let text = |(name, text): (String, String)| (name, text.into_bytes());
    let takeoff = [
        ("takeoff.csv", report::csv::takeoff(&report)),
        ("takeoff.txt", report::text::takeoff(&report, text::COLUMNS.into())),
    ];
    let floor = &loaded.survey;
    let mut out = vec![("takeoff.json".to_owned(), report::json::takeoff(&report))];
    out.extend(takeoff.map(|(name, of)| text((name.to_owned(), of))));
    out.extend(report::order::pieces(floor).into_iter().map(text));
    out.extend(schedule::pieces(floor).into_iter().map(text));
    out.extend(super::price::pieces(loaded, priced));
    out
}

/// The crew's map and its photographs, on one paper.
fn crew(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
    paper: Option<Paper>,
) -> Result<(Vec<Piece>, Vec<Diagnostic>), Exit> {
    let sheets = drawn(loaded, Audience::Crew, paper)?;
    let of_map = sheets.first().and_then(|s| Paper::of(s.width, s.height));
    let (mut out, found) = drawing(loaded, sheets, Audience::Crew)?;
    let paper = of_map.or(paper).unwrap_or(Paper::landscape(Size::Letter));
    out.extend(photo_sheets(loaded, pictures, paper)?);
    Ok((out, found))
}

/// The crew's sheets of photographs on a paper, one SVG each, and all in one PDF; nothing where the sketch names none.
fn photo_sheets(
    loaded: &Loaded,
    pictures: &[Option<Photograph>],
    paper: Paper,
) -> Result<Vec<Piece>, Exit> {
    let papers = loaded.papers();
    let sheets = papers.photo_sheets(pictures, paper);
    if sheets.is_empty() {
        return Ok(Vec::new());
    }
    let pdf = papers.pdf(&sheets).map_err(|error| {
        terminal::message(&format!("error: photos.pdf: {error}\n"));
        Exit::File
    })?;
    let mut out = vec![("photos.pdf".to_owned(), pdf)];
    let files = sheets.iter().map(|s| (format!("{}.svg", s.name), svg::write(s)));
    out.extend(files.map(|(name, text)| (name, text.into_bytes())));
    Ok(out)
}

/// The sheets of one drawing; a drawing that is left out, with a warning, gives none.
fn drawn(loaded: &Loaded, audience: Audience, paper: Option<Paper>) -> Result<Vec<Sheet>, Exit> {
    let wish = Wish { paper, scale: None };
    drawings::sheets(loaded, audience, wish).or_else(|mut found| {
        // The form for another visit is the only drawing that a job can do without.
        if audience == Audience::Field {
            found.0.iter_mut().for_each(|d| d.severity = Severity::Warning);
        }
        terminal::rendered(&loaded.render(&found));
        let bad = found.iter().any(|d| d.severity == Severity::Error);
        if bad { Err(Exit::Sketch) } else { Ok(Vec::new()) }
    })
}

/// A drawing as files: one SVG a sheet, and all sheets in one PDF. The form for another visit is for paper alone.
///
/// What is written is read back first.
fn drawing(
    loaded: &Loaded,
    sheets: Vec<Sheet>,
    audience: Audience,
) -> Result<(Vec<Piece>, Vec<Diagnostic>), Exit> {
    let Some(first) = sheets.first() else {
        return Ok((Vec::new(), Vec::new()));
    };
    let files = drawings::files(&sheets, true);
    let cut = drawings::looked_over(loaded, &sheets, &files);
    let pdf = loaded.papers().pdf(&sheets).map_err(|error| {
        terminal::message(&format!("error: {}.pdf: {error}\n", first.name));
        Exit::File
    })?;
    let mut out = vec![(format!("{}.pdf", first.name), pdf)];
    if audience != Audience::Field {
        let bytes = files.into_iter().map(|(name, text)| (name, text.into_bytes()));
        out.extend(bytes);
    }
    Ok((out, cut.into_iter().collect()))
}
