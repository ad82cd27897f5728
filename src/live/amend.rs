//! What stands in the sketch already: its records with their values, and what changing or removing one does to the text.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::alike::{self, Alike};
use super::floor::{self, Floor};
use super::kinds::{self, Field, Kind, PARTS, Takes};
use super::place::{self, Form, Place};
use super::record::{self, Fault, fault};
use super::{placing, state};
use crate::edit::{self, Leg, Reading};
use crate::quantity::Units;
use crate::quantity::read::{self, Bare};
use crate::render::Lines;
use crate::shop::Shop;
use crate::slab::Slab;

/// Keys that say where a record is.
const PLACES: &[&str] = &[
    "at", "path", "x", "y", "polygon", "circle", "band", "box", "along", "readings", "wall",
    "from", "to",
];

/// A shorter way of the start of a walk changes no coordinate, m.
const STAYS: f64 = 1e-6;

/// A record of the sketch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Listed {
    /// Where it stands: `cracks.3`.
    pub path: String,
    /// Its kind.
    pub kind: &'static str,
    /// What the page calls it: `Crack C3`.
    pub label: String,
    /// Its id; empty where it has none.
    pub id: String,
    /// Its values by key, as they are written; how several alike stand, by the names of `kinds::COPIES`.
    pub values: BTreeMap<String, String>,
    /// Ids of the items that it stands for, where they are several.
    pub items: Vec<String>,
    /// They stand at the places of a list, which only the file can change.
    pub placed: bool,
    /// Its line.
    pub line: usize,
}

/// Every record of a kind that the page knows, in the order of the table of kinds.
#[must_use]
pub fn records(text: &str, reading: &Reading, slab: &Slab) -> Vec<Listed> {
    let lines = Lines::new(text);
    let named = state::places(slab);
    let mut out = Vec::new();
    for kind in kinds::KINDS.iter() {
        for (i, span) in reading.records(kind.section).into_iter().enumerate() {
            let path = format!("{}.{}", kind.section, i + 1);
            let mut values: BTreeMap<String, String> = reading.values(&path).into_iter().collect();
            // The program names a record that has no id; its place is then within the record.
            let inside = |at: &usize| (span.start..span.end.max(span.start + 1)).contains(at);
            let named = named.iter().filter(|(_, at)| inside(at));
            let items: Vec<String> = named.map(|(id, _)| id.clone()).collect();
            let given = items.first().map(|id| record::record_of(id).to_owned());
            let id = values.get("id").cloned().or(given).unwrap_or_default();
            let row = Alike::written(reading, &path, slab.units);
            values.extend(row.clone().unwrap_or_default());
            let placed = items.len() > 1 && row.is_none();
            let number = if kind.letter.is_empty() { (i + 1).to_string() } else { id.clone() };
            out.push(Listed {
                label: format!("{} {number}", kind.label).trim_end().to_owned(),
                kind: kind.name,
                id,
                values,
                placed,
                items: if items.len() > 1 { items } else { Vec::new() },
                line: lines.line_column(span.start).0,
                path,
            });
        }
    }
    out
}

/// A form about the floor as a whole, with what stands in the sketch.
#[derive(Debug, Serialize)]
pub struct Part {
    name: &'static str,
    label: &'static str,
    fields: Vec<Filled>,
}

/// A field and what stands in it.
#[derive(Debug, Serialize)]
struct Filled {
    key: &'static str,
    label: &'static str,
    takes: Takes,
    needed: bool,
    choices: Vec<(String, String)>,
    value: String,
}

/// The forms about the floor as a whole.
#[must_use]
pub fn parts(reading: &Reading, shop: &Shop) -> Vec<Part> {
    let filled = |field: &Field| {
        let (holder, key) = field.key.rsplit_once('.').unwrap_or(("", field.key));
        let named = |(word, label): &(&str, &str)| ((*word).to_owned(), (*label).to_owned());
        let choices = if field.key == "coating.system" {
            let systems = shop.systems.keys();
            systems.map(|name| (name.clone(), name.clone())).collect()
        } else {
            field.choices.iter().map(named).collect()
        };
        Filled {
            key: field.key,
            label: field.label,
            takes: field.takes,
            needed: field.needed,
            choices,
            value: reading.value(holder, key).unwrap_or_default(),
        }
    };
    let part = |part: &kinds::Part| Part {
        name: part.name,
        label: part.label,
        fields: part.fields.iter().map(filled).collect(),
    };
    PARTS.iter().map(part).collect()
}

/// What the page sends to change something that is there.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Amendment {
    /// Version of the sketch that the page showed.
    pub version: String,
    /// The outline that the places were taken from.
    #[serde(default)]
    pub ground: String,
    /// `cracks.3`, the name of a form about the whole floor, or `outline`.
    pub path: String,
    /// It goes.
    #[serde(default)]
    pub remove: bool,
    /// What was changed, by key; an empty value is taken out.
    #[serde(default)]
    pub values: BTreeMap<String, String>,
    /// How it is placed anew.
    #[serde(default)]
    pub way: Option<String>,
    /// Its new places; none where it stays.
    #[serde(default)]
    pub points: Vec<Form>,
    /// The new runs of the outline, or its corners where it is a list of them.
    #[serde(default)]
    pub runs: Vec<String>,
    /// For each of them the wall or corner that it was, from 1; none for a new one.
    #[serde(default)]
    pub was: Vec<Option<usize>>,
    /// How far the start of the walk went to the right and up, m.
    #[serde(default)]
    pub shift: (f64, f64),
}

/// The text with an amendment, and what the page calls it.
///
/// # Errors
///
/// The first thing that can't be read or changed.
pub fn amended(floor: &Floor, slab: &Slab, asked: &Amendment) -> Result<(String, String), Fault> {
    if asked.version != floor.version {
        return Err(fault("", "the sketch was changed meanwhile; look at it once more"));
    }
    let text = floor.text.as_str();
    if asked.path == "outline" {
        if asked.runs.len() != asked.was.len() {
            return Err(fault("", "a run does not say which wall it was"));
        }
        let legs = asked.runs.iter().zip(&asked.was);
        let legs = legs.map(|(run, &was)| Leg { run: run.clone(), was });
        let text = edit::set_outline(text, &legs.collect::<Vec<_>>()).map_err(unchanged)?;
        return Ok((started(text, asked.shift, slab.units)?, "Outline".to_owned()));
    }
    if let Some(part) = PARTS.iter().find(|part| part.name == asked.path) {
        let text = part.fields.iter().try_fold(text.to_owned(), |text, field| {
            set(&text, field.key, field, &asked.values, slab.units)
        })?;
        return Ok((text, part.label.to_owned()));
    }
    let all = records(text, &Reading::of(text), slab);
    let listed = all.iter().find(|listed| listed.path == asked.path);
    let listed = listed.ok_or_else(|| fault("", "there is no such record any more"))?;
    if asked.remove {
        let text = edit::remove(text, &listed.path).map_err(unchanged)?;
        return Ok((text, format!("{} removed", listed.label)));
    }
    let kind =
        kinds::kind(listed.kind).ok_or_else(|| fault("", "nothing of that kind can be changed"))?;
    let mut text = text.to_owned();
    let copies = kinds::COPIES.map(|field| field.key);
    let alone = |f: &&Field| f.takes != Takes::Steps && !copies.contains(&f.key);
    for field in kind.fields.iter().filter(alone) {
        let key = format!("{}.{}", listed.path, field.key);
        text = set(&text, &key, field, &asked.values, slab.units)?;
    }
    let touches_row = copies.iter().any(|key| asked.values.contains_key(*key));
    if listed.placed && (touches_row || !asked.points.is_empty()) {
        let words = "they stand at the places of a list; place them in the file, or remove this record and record them anew";
        return Err(fault(if touches_row { copies[0] } else { "points" }, words));
    }
    let values = listed.values.iter().chain(&asked.values);
    let values = values.map(|(key, value)| (key.clone(), value.clone())).collect();
    let moves = !asked.points.is_empty();
    let alike = if touches_row || moves { kind.alike(&values, slab.units)? } else { None };
    if moves {
        text = placed(&text, slab, kind, listed, asked, alike.as_ref())?;
    }
    // A grid stands from where its record is; a row goes with it.
    if touches_row || (moves && matches!(alike, Some(Alike::Grid(_)))) {
        text = repeated(text, listed, alike.as_ref(), slab)?;
    }
    Ok((text, format!("{} changed", listed.label)))
}

/// The walk with its start elsewhere; a coordinate that stays stays as it is written.
fn started(text: String, shift: (f64, f64), units: Units) -> Result<String, Fault> {
    if shift == (0.0, 0.0) {
        return Ok(text);
    }
    let written = Reading::of(&text).value("slab.outline", "start");
    let (x, y) = written
        .as_deref()
        .and_then(|raw| raw.strip_prefix('[')?.strip_suffix(']')?.split_once(','))
        .unwrap_or(("0", "0"));
    let one = |raw: &str, by: f64| {
        let raw = raw.trim().trim_matches('"');
        let wrong = |e: read::ReadError| fault("", format!("`{raw}`: {}; {}", e.problem, e.hint));
        let m = read::length(raw, Bare::Plan(units)).map_err(wrong)?.m();
        Ok(if by.abs() < STAYS { raw.to_owned() } else { place::text(m + by, units) })
    };
    let start = format!("[{}, {}]", one(x, shift.0)?, one(y, shift.1)?);
    edit::set_value(&text, "slab.outline.start", &start).map_err(unchanged)
}

fn unchanged(error: edit::EditError) -> Fault {
    fault("", error.message)
}

/// A field in the text; untouched where nothing is said about it.
fn set(
    text: &str,
    path: &str,
    field: &Field,
    values: &BTreeMap<String, String>,
    units: Units,
) -> Result<String, Fault> {
    let Some(typed) = values.get(field.key).map(|v| v.trim()) else {
        return Ok(text.to_owned());
    };
    let at_field = |e: edit::EditError| fault(field.key, e.message);
    if typed.is_empty() {
        if field.needed {
            let label = field.label.trim_end_matches('?');
            return Err(fault(field.key, format!("{label} is missing")));
        }
        let (holder, key) = path.rsplit_once('.').unwrap_or(("", path));
        return if Reading::of(text).value(holder, key).is_some() {
            edit::remove(text, path).map_err(at_field)
        } else {
            Ok(text.to_owned())
        };
    }
    let written = record::checked(field, typed, units)?;
    edit::set_value(text, path, &written).map_err(at_field)
}

/// The record with as many alike as are wanted now.
fn repeated(
    text: String,
    listed: &Listed,
    alike: Option<&Alike>,
    slab: &Slab,
) -> Result<String, Fault> {
    let path = format!("{}.repeat", listed.path);
    let at_count = |e: edit::EditError| fault(kinds::COPIES[0].key, e.message);
    match alike {
        Some(alike) => {
            let text = if matches!(alike, Alike::Grid(_)) {
                by_coordinates(text, listed, slab)?
            } else {
                text
            };
            let own = alike::own(&Reading::of(&text), &listed.path);
            edit::set_value(&text, &path, &alike.repeat(own, slab.units)?).map_err(at_count)
        }
        None if listed.items.is_empty() => Ok(text),
        None => edit::remove(&text, &path).map_err(at_count),
    }
}

/// The record with its point by coordinates, where it is taped from a wall or line.
fn by_coordinates(text: String, listed: &Listed, slab: &Slab) -> Result<String, Fault> {
    let reading = Reading::of(&text);
    for (within, key) in placing::OWN_POINTS {
        let path = format!("{}{within}.{key}", listed.path);
        let of = |key: &str| reading.value(&path, key);
        let form = if let (Some(wall), Some(along)) = (of("wall"), of("along")) {
            let wall = wall.parse().unwrap_or_default();
            Form::Wall { wall, along, out: of("out").unwrap_or_else(|| "0".into()) }
        } else if let (Some(line), Some(at)) = (of("line"), of("at")) {
            Form::Line { line, at }
        } else {
            continue;
        };
        let place = place::resolve(slab, form).map_err(|m| fault("points", m))?;
        let point = [place.x, place.y].map(|m| place::text(m, slab.units)).join(", ");
        return edit::set_value(&text, &path, &format!("[{point}]")).map_err(unchanged);
    }
    Ok(text)
}

/// The record at its new place.
fn placed(
    text: &str,
    slab: &Slab,
    kind: &Kind,
    listed: &Listed,
    asked: &Amendment,
    alike: Option<&Alike>,
) -> Result<String, Fault> {
    if asked.ground != floor::ground(slab) {
        return Err(fault("points", "the outline was changed since you tapped; place it again"));
    }
    let way = record::way(kind, asked.way.as_deref())?;
    let resolve = |form: &Form| place::resolve(slab, form.clone()).map_err(|m| fault("points", m));
    let points: Vec<Place> = asked.points.iter().map(resolve).collect::<Result<_, _>>()?;
    let points = match alike {
        Some(alike) => alike.placed(points, slab.units),
        None => points,
    };
    let mut parts = placing::placed(slab, way, &points, &asked.values)?;
    if kind.fields.iter().any(|f| f.takes == Takes::Steps) {
        parts.push(placing::readings(&points, &asked.values, slab.units)?);
    }
    let mut text = text.to_owned();
    let pairs: Vec<(&str, &str)> = parts.iter().filter_map(|part| part.split_once(": ")).collect();
    for (key, value) in &pairs {
        let path = format!("{}.{key}", listed.path);
        text = edit::set_value(&text, &path, value).map_err(unchanged)?;
    }
    let now = Reading::of(&text).values(&listed.path);
    let gone =
        |key: &&str| now.iter().any(|(k, _)| k == key) && !pairs.iter().any(|(k, _)| k == key);
    for key in PLACES.iter().filter(|key| gone(key)) {
        text = edit::remove(&text, &format!("{}.{key}", listed.path)).map_err(unchanged)?;
    }
    Ok(text)
}

#[cfg(test)]
mod tests;
