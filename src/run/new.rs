//! `slabwalk new`: a commented sketch to start from.

use std::fs;
use std::io::{BufRead, ErrorKind, IsTerminal, Write};
use std::path::{Path, PathBuf};

use super::{Exit, place, terminal};
use crate::cli::{NewArgs, UnitsWord};
use crate::diagnostic::{Diagnostic, Place, Severity};
use crate::quantity::Units;
use crate::quantity::read::{Bare, length, walk_entry};
use crate::sketch::Span;
use crate::starter::{self, Floor};
use crate::{render, shop, sketch, survey};

pub(super) fn new(args: &NewArgs) -> Exit {
    made(args).unwrap_or_else(|exit| exit)
}

fn made(args: &NewArgs) -> Result<Exit, Exit> {
    let (path, name) = file_and_name(&args.name)?;
    if fs::symlink_metadata(&path).is_ok() {
        return Err(in_the_way(&path));
    }
    let units = match args.units {
        Some(UnitsWord::Metric) => Units::Metric,
        Some(UnitsWord::Us) | None => Units::Us,
    };
    let (units, walk) = match (&args.size, &args.walk) {
        (Some(size), _) => (units, rectangle(size, units)?),
        (None, Some(walk)) => (units, runs(walk, units)?),
        (None, None) => asked(args.units)?,
    };
    let corners = starter::corners(&walk, units);
    let floor = Floor { name, units, walk, corners };
    let text = starter::sketch(&floor);
    sound(&path, &text)?;
    write(&path, &text)?;
    let shown = path.display();
    Ok(terminal::data(&format!(
        "{shown}: a sketch to start from. Fill it in, then: slabwalk check {shown}\n"
    )))
}

/// The file of a name, and what the job is called: the name without its folder and ending.
fn file_and_name(given: &str) -> Result<(PathBuf, String), Exit> {
    let path = Path::new(given);
    let last = path.file_name().and_then(|name| name.to_str()).unwrap_or("");
    let name = last.strip_suffix(".yaml").unwrap_or(last).trim();
    if name.is_empty() || given.ends_with('/') || name.chars().any(char::is_control) {
        terminal::message(&format!(
            "error: `{}` is no name for a sketch\n",
            crate::text::excerpt(given)
        ));
        return Err(Exit::Usage);
    }
    let blank = |c: char| if c.is_whitespace() { '-' } else { c };
    let file: String = name.chars().map(blank).collect();
    Ok((path.with_file_name(format!("{file}.yaml")), name.to_owned()))
}

fn in_the_way(path: &Path) -> Exit {
    terminal::message(&format!(
        "error: {} is there already, and nothing is written over\nhint: take another name\n",
        path.display()
    ));
    Exit::File
}

/// Says what is wrong with an argument, with the place marked.
fn wrong(argument: &str, text: &str, span: Span, problem: &str, hint: &str) -> Exit {
    let fault = Diagnostic::error("unreadable", problem).place(Place::sketch(span)).hint(hint);
    terminal::rendered(&render::render(&[fault], (argument, text), None, terminal::color()));
    Exit::Usage
}

/// The walk around a rectangle.
fn rectangle(size: &[String], units: Units) -> Result<Vec<String>, Exit> {
    let mut sides = Vec::with_capacity(2);
    for (index, text) in size.iter().enumerate() {
        let argument = ["--size WIDTH", "--size DEPTH"][index.min(1)];
        sides.push(side(text, units).map_err(|(problem, hint)| {
            let span = Span { start: 0, end: text.len() };
            wrong(argument, text, span, &problem, &hint)
        })?);
    }
    let [width, depth] = &sides[..] else {
        return Err(Exit::Usage);
    };
    Ok(around(width, depth))
}

fn around(width: &str, depth: &str) -> Vec<String> {
    ["E", "N", "W", "S"]
        .iter()
        .zip([width, depth, width, depth])
        .map(|(direction, length)| format!("{direction} {length}"))
        .collect()
}

/// A side of a rectangle as it was written, or what is wrong with it and what would be right.
fn side(text: &str, units: Units) -> Result<String, (String, String)> {
    let problem = |what: &str| format!("`{}` is not a length: {what}", crate::text::excerpt(text));
    let found =
        length(text, Bare::Plan(units)).map_err(|error| (problem(&error.problem), error.hint))?;
    if found.m() <= 0.0 {
        return Err((problem("a floor has a size"), "write it like 24' or 7.3 m".into()));
    }
    Ok(text.trim().to_owned())
}

/// The runs of a walk as they were written.
fn runs(walk: &str, units: Units) -> Result<Vec<String>, Exit> {
    let mut out = Vec::new();
    let mut start = 0;
    for part in walk.split(',') {
        let entry = part.trim();
        let at = start + (part.len() - part.trim_start().len());
        start += part.len() + 1;
        let span = Span { start: at, end: (at + entry.len()).max(at + 1).min(walk.len().max(1)) };
        match walk_entry(entry, units) {
            Ok(_) => out.push(entry.to_owned()),
            Err(error) => {
                let shown = crate::text::excerpt(entry);
                let problem =
                    format!("the entry `{shown}` is not a run of a walk: {}", error.problem);
                return Err(wrong("--walk", walk, span, &problem, &error.hint));
            }
        }
    }
    Ok(out)
}

/// Units and walk by questions, on a terminal.
fn asked(units: Option<UnitsWord>) -> Result<(Units, Vec<String>), Exit> {
    let input = std::io::stdin();
    if !input.is_terminal() {
        terminal::message(
            "error: nothing says how large the floor is\n\
             hint: give --size WIDTH DEPTH, or --walk RUNS; questions are asked only in a terminal\n",
        );
        return Err(Exit::Usage);
    }
    ask(&mut input.lock(), &mut anstream::stderr().lock(), units).ok_or(Exit::Usage)
}

/// Asks until the answers make a rectangle. Nothing if the answers end.
fn ask(
    input: &mut impl BufRead,
    out: &mut impl Write,
    units: Option<UnitsWord>,
) -> Option<(Units, Vec<String>)> {
    let units = match units {
        Some(UnitsWord::Us) => Units::Us,
        Some(UnitsWord::Metric) => Units::Metric,
        None => answer(input, out, "Feet and inches, or meters? [feet] ", |text| match text {
            "" | "feet" | "ft" | "us" => Ok(Units::Us),
            "meters" | "m" | "metric" => Ok(Units::Metric),
            _ => Err("write feet or meters".to_owned()),
        })?,
    };
    let read =
        |text: &str| side(text, units).map_err(|(problem, hint)| format!("{problem}; {hint}"));
    let width = answer(input, out, "How wide is the floor, left to right? ", read)?;
    let depth = answer(input, out, "How deep is it, bottom to top of your sheet? ", read)?;
    Some((units, around(&width, &depth)))
}

/// One question, asked again until its answer can be read.
fn answer<T>(
    input: &mut impl BufRead,
    out: &mut impl Write,
    question: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    loop {
        write!(out, "{question}").and_then(|()| out.flush()).ok()?;
        let mut line = String::new();
        if input.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match read(line.trim()) {
            Ok(value) => return Some(value),
            Err(problem) => writeln!(out, "{problem}").ok()?,
        }
    }
}

/// Says what is wrong with the floor that the arguments describe, such as a walk that does not close.
fn sound(path: &Path, text: &str) -> Result<(), Exit> {
    let (read, found) = sketch::parse(text);
    let found = match read {
        Some(read) => match survey::survey(read, shop::built_in(), found) {
            Ok(_) => return Ok(()),
            Err(found) => found,
        },
        None => found.into(),
    };
    let errors: Vec<Diagnostic> =
        found.into_iter().filter(|f| f.severity == Severity::Error).collect();
    let name = format!("{} (not written)", path.display());
    terminal::rendered(&render::render(&errors, (&name, text), None, terminal::color()));
    Err(Exit::Usage)
}

/// Writes a file that is not there yet.
fn write(path: &Path, text: &str) -> Result<(), Exit> {
    place::new_file(path, text.as_bytes()).map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => in_the_way(path),
        _ => unwritten(path, &error),
    })
}

fn unwritten(path: &Path, error: &std::io::Error) -> Exit {
    terminal::message(&format!("error: {} can't be written: {error}\n", path.display()));
    Exit::File
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn questions_are_asked_until_they_are_answered() {
        let mut said = Vec::new();
        let mut answers = "yards\nmeters\n7,3\n7.3\n0\n6.7\n".as_bytes();
        let found = ask(&mut answers, &mut said, None);
        let walk = ["E 7.3", "N 6.7", "W 7.3", "S 6.7"].map(String::from).to_vec();
        assert_eq!(found, Some((Units::Metric, walk)));
        let said = String::from_utf8(said).unwrap();
        assert!(said.contains("write feet or meters"), "{said}");
        assert!(said.contains("write 7.3"), "{said}");
        assert_eq!(ask(&mut "feet\n24'\n".as_bytes(), &mut Vec::new(), None), None);
    }
}
