//! From what was tapped and typed to one record of the sketch, as text.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::alike;
use super::kinds::{self, Field, Kind, Takes, Way};
use super::place::{self, Form, Place};
use super::placing;
use crate::quantity::Units;
use crate::quantity::read::{self, Bare};
use crate::slab::{Item, Slab};

/// Most points of one record.
pub(super) const MOST_POINTS: usize = 200;
/// Longest note, characters.
const LONGEST_TEXT: usize = 300;

/// What the page sends.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Version of the sketch that the page showed.
    pub version: String,
    /// The outline that the places were taken from.
    pub ground: String,
    /// Name of the kind.
    pub kind: String,
    /// How it is placed; the kind's usual way where nothing is said.
    #[serde(default)]
    pub way: Option<String>,
    /// Its places.
    #[serde(default)]
    pub points: Vec<Form>,
    /// What was typed and chosen, by key. Steps are `step-1`, `step-2`, …; sizes of shapes `diameter`, `width`.
    #[serde(default)]
    pub values: BTreeMap<String, String>,
}

/// A record ready to go into the sketch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// The list it goes to.
    pub section: &'static str,
    /// Its id; empty where records have none.
    pub id: String,
    /// What the page calls it: `Crack C3`.
    pub label: String,
    /// The record, one line.
    pub text: String,
}

/// Why there is no record, and at which field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Key of the field; empty for the record as a whole.
    pub field: String,
    /// In words.
    pub message: String,
}

pub(super) fn fault(field: &str, message: impl Into<String>) -> Fault {
    Fault { field: field.into(), message: message.into() }
}

/// Makes the record of an entry.
///
/// # Errors
///
/// The first thing that is missing or can't be read.
pub fn record(slab: &Slab, entry: &Entry) -> Result<Record, Fault> {
    let kind = kinds::kind(&entry.kind)
        .ok_or_else(|| fault("", "nothing of that kind can be recorded"))?;
    let way = way(kind, entry.way.as_deref())?;
    let points = places(slab, entry)?;
    let id = if kind.letter.is_empty() { String::new() } else { next_id(slab, kind.letter) };
    let mut parts: Vec<String> = Vec::new();
    if !id.is_empty() {
        parts.push(format!("id: {id}"));
    }
    let front = kind.fields.iter().filter(|f| is_front(f));
    for field in front {
        parts.extend(value(field, &entry.values, slab.units)?);
    }
    let alike = kind.alike(&entry.values, slab.units)?;
    let points = match &alike {
        Some(alike) => alike.placed(points, slab.units),
        None => points,
    };
    let placed = placing::placed(slab, way, &points, &entry.values)?;
    let own = alike::own_of(&placed);
    parts.extend(placed);
    if let Some(alike) = alike {
        parts.push(format!("repeat: {}", alike.repeat(own, slab.units)?));
    }
    let others = |f: &&Field| !is_front(f) && !kinds::COPIES.contains(f);
    for field in kind.fields.iter().filter(others) {
        if field.takes == Takes::Steps {
            parts.push(placing::readings(&points, &entry.values, slab.units)?);
        } else {
            parts.extend(value(field, &entry.values, slab.units)?);
        }
    }
    let read = |part: &String| part.starts_with("rh:") || part.starts_with("mver:");
    if kind.name == "moisture" && !parts.iter().any(read) {
        return Err(fault("rh", "give the humidity in the slab or the emission"));
    }
    Ok(Record {
        section: kind.section,
        label: format!("{} {id}", kind.label).trim().to_owned(),
        text: format!("{{{}}}", parts.join(", ")),
        id,
    })
}

/// Fields that a sketch names before the place by habit.
fn is_front(field: &Field) -> bool {
    matches!(field.key, "what" | "kind" | "formed" | "name" | "item" | "file")
}

pub(super) fn way(kind: &Kind, asked: Option<&str>) -> Result<Way, Fault> {
    let Some(asked) = asked else {
        return Ok(kind.ways[0]);
    };
    let named = |way: &&Way| serde_json::to_value(way).is_ok_and(|name| name == asked);
    let found = kind.ways.iter().find(named);
    found
        .copied()
        .ok_or_else(|| fault("", format!("a {} is not placed that way", kind.label.to_lowercase())))
}

fn places(slab: &Slab, entry: &Entry) -> Result<Vec<Place>, Fault> {
    if entry.points.len() > MOST_POINTS {
        return Err(fault("", format!("one record has at most {MOST_POINTS} points")));
    }
    let resolve = |(i, form): (usize, &Form)| {
        place::resolve(slab, form.clone()).map_err(|m| fault(&format!("point-{}", i + 1), m))
    };
    entry.points.iter().enumerate().map(resolve).collect()
}

/// The next free id of a letter: one past the highest on the floor, so that no id given by the
/// program changes.
fn next_id(slab: &Slab, letter: &str) -> String {
    let ids = ids(slab);
    let numbers =
        ids.iter().filter_map(|id| record_of(id).strip_prefix(letter)?.parse::<u64>().ok());
    let next = numbers.max().map_or(1, |n| n.saturating_add(1));
    format!("{letter}{next}")
}

/// The id of the record that an item is one of: J3 for J3.2.
pub(super) fn record_of(id: &str) -> &str {
    id.split_once('.').map_or(id, |(record, _)| record)
}

/// Ids of all records that have a place on the floor.
pub(super) fn ids(slab: &Slab) -> Vec<&str> {
    slab.items().map(Item::id).collect()
}

/// `key: value` of a field, or nothing where it was left empty.
pub(super) fn value(
    field: &Field,
    values: &BTreeMap<String, String>,
    units: Units,
) -> Result<Option<String>, Fault> {
    let typed = values.get(field.key).map_or("", |v| v.trim());
    if typed.is_empty() {
        let missing =
            || fault(field.key, format!("{} is missing", field.label.trim_end_matches('?')));
        return if field.needed { Err(missing()) } else { Ok(None) };
    }
    let written = checked(field, typed, units)?;
    Ok(Some(format!("{}: {written}", field.key)))
}

/// What was typed in a field, once it can stand in the sketch.
pub(super) fn checked(field: &Field, typed: &str, units: Units) -> Result<String, Fault> {
    let wrong = |e: read::ReadError| {
        fault(field.key, format!("{} `{typed}`: {}; {}", field.label, e.problem, e.hint))
    };
    Ok(match field.takes {
        Takes::Long => length(typed, Bare::Plan(units)).map_err(wrong)?,
        Takes::Small | Takes::Height | Takes::Steps => {
            length(typed, Bare::Small(units)).map_err(wrong)?
        }
        Takes::Percent => {
            let with_sign = format!("{}%", typed.trim_end_matches('%').trim_end());
            read::percent(&with_sign).map_err(wrong)?;
            with_sign
        }
        Takes::Number => {
            read::number(typed).map_err(wrong)?;
            typed.to_owned()
        }
        Takes::Temperature => {
            let degrees = typed.trim_end_matches(['F', 'C', 'f', 'c', '°']).trim_end();
            read::number(degrees).map_err(wrong)?;
            let unit =
                if typed.ends_with(['C', 'c']) || (units == Units::Metric && degrees == typed) {
                    "C"
                } else {
                    "F"
                };
            format!("{degrees} {unit}")
        }
        Takes::Day => {
            let parts: Vec<&str> = typed.split('-').collect();
            let digits = |part: &&str| part.bytes().all(|b| b.is_ascii_digit());
            if parts.len() != 3 || !parts.iter().all(digits) {
                let words = format!("{} `{typed}`: write the day as 2026-09-14", field.label);
                return Err(fault(field.key, words));
            }
            typed.to_owned()
        }
        // The systems are those of the shop book.
        Takes::Choice if field.choices.is_empty() => quoted(field, typed)?,
        Takes::Choice => {
            let known = field.choices.iter().any(|(word, _)| *word == typed);
            if !known {
                return Err(fault(field.key, format!("{}: choose one", field.label)));
            }
            typed.to_owned()
        }
        Takes::Text => quoted(field, typed)?,
    })
}

/// A length as typed, once it has been read.
pub(super) fn length(typed: &str, bare: Bare) -> Result<String, read::ReadError> {
    read::length(typed, bare)?;
    // A dash and a blank would begin a list.
    let below = typed.strip_prefix('-').map(str::trim_start);
    Ok(below.map_or_else(|| typed.to_owned(), |rest| format!("-{rest}")))
}

/// Words, in quotes unless they are plain.
fn quoted(field: &Field, typed: &str) -> Result<String, Fault> {
    if typed.chars().count() > LONGEST_TEXT {
        return Err(fault(
            field.key,
            format!("{}: at most {LONGEST_TEXT} characters", field.label),
        ));
    }
    let plain = typed.starts_with(|c: char| c.is_ascii_alphabetic())
        && typed.chars().all(|c| c.is_alphanumeric() || " ./_-".contains(c))
        && !["true", "false", "null", "yes", "no", "on", "off"]
            .contains(&typed.to_ascii_lowercase().as_str());
    if plain {
        return Ok(typed.to_owned());
    }
    let mut out = String::from("\"");
    for c in typed.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{FEFF}') => {
                out.push(' ')
            }
            c => out.push(c),
        }
    }
    out.push('"');
    Ok(out)
}

#[cfg(test)]
mod tests;
