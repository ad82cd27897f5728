//! Several things alike that one record stands for: how they stand, from what was typed to `repeat:` and back.

use std::collections::BTreeMap;

use super::kinds::{COPIES, Field};
use super::place::{self, Form, Place};
use super::placing;
use super::record::{Fault, checked, fault};
use crate::edit::Reading;
use crate::quantity::Units;
use crate::quantity::read::{self, Bare};
use crate::sketch::parse::repeat::MOST;

/// Places that differ by less stand at equal distances, m: a sixteenth of an inch, as a tape is read.
const EVEN: f64 = 0.0016;

/// What stands alike.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Alike {
    /// A row: how many, and how far each stands from the one before, to the right and up, as typed.
    Row(usize, [String; 2]),
    /// A grid: how many to the right and how far apart, m, and the same upward.
    Grid([(usize, f64); 2]),
}

impl Alike {
    /// What was typed; nothing where no number of them was.
    ///
    /// # Errors
    ///
    /// What is missing or can't be read.
    pub(super) fn typed(
        values: &BTreeMap<String, String>,
        units: Units,
    ) -> Result<Option<Self>, Fault> {
        let [count, right, up, rows, apart] = &COPIES;
        let text = |field: &Field| values.get(field.key).map_or("", |v| v.trim());
        let number = |field: &Field| {
            let wrong =
                |e: read::ReadError| fault(field.key, format!("{}: {}", field.label, e.hint));
            read::count(text(field)).map_err(wrong)
        };
        let length = |field: &Field| match text(field) {
            "" => Ok("0".to_owned()),
            typed => checked(field, typed, units),
        };
        if text(count).is_empty() {
            return match (text(rows), text(apart)) {
                ("", "") => Ok(None),
                _ => Err(fault(count.key, "say how many of them stand in a row")),
            };
        }
        let many = number(count)?;
        let by = [length(right)?, length(up)?];
        if (text(right), text(up)) == ("", "") {
            return Err(fault(right.key, "say how far each one stands from the one before"));
        }
        let between = length(apart)?;
        match (text(rows), text(apart)) {
            ("", "") => Ok(Some(Self::Row(many, by))),
            ("", _) => Err(fault(rows.key, "say how many such rows there are")),
            (_, gap) => match number(rows)? {
                1 => Ok(Some(Self::Row(many, by))),
                _ if gap.is_empty() => {
                    Err(fault(apart.key, "say how far it is from one row to the next"))
                }
                lines => {
                    let by = by.map(|text| metres(&text, units));
                    Self::grid((many, by), (lines, metres(&between, units))).map(Some)
                }
            },
        }
    }

    /// So many rows of so many; lengths in meters.
    fn grid((many, by): (usize, [f64; 2]), (rows, apart): (usize, f64)) -> Result<Self, Fault> {
        let [.., at_rows, at_apart] = COPIES.map(|field| field.key);
        if many.saturating_mul(rows) > MOST {
            let words = format!(
                "{many} times {rows} items of one record are beyond belief: more than {MOST}"
            );
            return Err(fault(at_rows, words));
        }
        if apart.abs() < EVEN {
            return Err(fault(at_apart, "rows that stand on each other are one row"));
        }
        match by.map(|m| m.abs() >= EVEN) {
            [true, false] => Ok(Self::Grid([(many, by[0]), (rows, apart)])),
            [false, true] => Ok(Self::Grid([(rows, apart), (many, by[1])])),
            _ => {
                let words = "one record takes several rows that run to the right or straight up; a slanted row is a record of its own";
                Err(fault(at_rows, words))
            }
        }
    }

    /// What stands in the sketch, by the names of the form; none where they stand at places that are no row and no even grid.
    pub(super) fn written(
        reading: &Reading,
        path: &str,
        units: Units,
    ) -> Option<BTreeMap<String, String>> {
        let repeat = format!("{path}.repeat");
        let named = |texts: [String; 5]| {
            let pairs = COPIES.iter().map(|field| field.key.to_owned()).zip(texts);
            pairs.filter(|(_, text)| !text.is_empty()).collect()
        };
        if let Some(by) = reading.value(&repeat, "by") {
            let [right, up] = listed(&by)?.try_into().ok()?;
            let count = reading.value(&repeat, "count")?;
            return Some(named([count, right, up, String::new(), String::new()]));
        }
        let [x, y] = own(reading, path)?;
        let even = |key: &str, own: &str| {
            let Some(text) = reading.value(&repeat, key) else {
                return Some((1, 0.0));
            };
            let metres = |text: &String| Some(read::length(text, Bare::Plan(units)).ok()?.m());
            let places: Vec<f64> = listed(&text)?.iter().map(metres).collect::<Option<_>>()?;
            let first = metres(&own.to_owned())?;
            let last = places.last()?;
            let by = (last - first) / (places.len() - 1).max(1) as f64;
            let here = |(i, m): (usize, &f64)| (first + by * i as f64 - m).abs() < EVEN;
            places.iter().enumerate().all(here).then_some((places.len(), by))
        };
        let say = |m: f64| place::fine(m, units);
        Some(named(match (even("x", &x)?, even("y", &y)?) {
            ((1, _), (1, _)) => return None,
            ((many, by), (1, _)) => {
                [many.to_string(), say(by), "0".into(), String::new(), String::new()]
            }
            ((1, _), (many, by)) => {
                [many.to_string(), "0".into(), say(by), String::new(), String::new()]
            }
            ((many, by), (rows, apart)) => {
                [many.to_string(), say(by), "0".into(), rows.to_string(), say(apart)]
            }
        }))
    }

    /// The points of a record: a grid stands at coordinates, whatever it was taped from.
    pub(super) fn placed(&self, points: Vec<Place>, units: Units) -> Vec<Place> {
        if matches!(self, Self::Row(..)) {
            return points;
        }
        let text = |m| place::text(m, units);
        let by_coordinates =
            |p: Place| Place { form: Form::Xy { x: text(p.x), y: text(p.y) }, ..p };
        points.into_iter().map(by_coordinates).collect()
    }

    /// What stands behind `repeat:` of a record with this point of its own, as written.
    ///
    /// # Errors
    ///
    /// A grid has no such point to stand from.
    pub(super) fn repeat(&self, own: Option<[String; 2]>, units: Units) -> Result<String, Fault> {
        let [across, along] = match self {
            Self::Row(count, [x, y]) => return Ok(format!("{{count: {count}, by: [{x}, {y}]}}")),
            Self::Grid(ways) => ways,
        };
        let own = own.ok_or_else(|| {
            let words = "rows are counted from a point by coordinates, and this has none; place it by points or a shape, and not right across";
            fault(COPIES[3].key, words)
        })?;
        let list = |own: &String, (count, by): (usize, f64)| {
            let first = metres(own, units);
            let others = (1..count).map(|i| place::fine(first + by * i as f64, units));
            let all: Vec<String> = std::iter::once(own.clone()).chain(others).collect();
            format!("[{}]", all.join(", "))
        };
        Ok(format!("{{x: {}, y: {}}}", list(&own[0], *across), list(&own[1], *along)))
    }

    /// How far each of them stands from the first, to the right and up, m.
    pub(super) fn shifts(&self, units: Units) -> Vec<[f64; 2]> {
        match self {
            Self::Row(count, by) => {
                let [x, y] = [metres(&by[0], units), metres(&by[1], units)];
                (0..(*count).min(MOST)).map(|i| [x * i as f64, y * i as f64]).collect()
            }
            Self::Grid([(across, x), (along, y)]) => {
                let row = |j: usize| (0..*across).map(move |i| [x * i as f64, y * j as f64]);
                (0..*along).flat_map(row).collect()
            }
        }
    }
}

/// A length that was read before, m.
fn metres(text: &str, units: Units) -> f64 {
    read::length(text, Bare::Plan(units)).map_or(0.0, |length| length.m())
}

/// The point of its own from which a record's copies stand, as `placing` writes it: center, corner, first point.
pub(super) fn own_of(parts: &[String]) -> Option<[String; 2]> {
    let text = format!("{{{}}}", parts.join(", "));
    own(&Reading::of(&text), "")
}

/// The point of its own of a record, where it is written by coordinates.
pub(super) fn own(reading: &Reading, path: &str) -> Option<[String; 2]> {
    let of = |(within, key): (&str, &str)| reading.value(&format!("{path}{within}"), key);
    let point = placing::OWN_POINTS.iter().copied().find_map(of)?;
    // Of a path the first one.
    let first = point.strip_prefix('[').filter(|inner| inner.starts_with('['));
    let point = match first {
        Some(inner) => &inner[..=inner.find(']')?],
        None => &point,
    };
    listed(point)?.try_into().ok()
}

/// The texts of a list that is written on one line, without quotes.
fn listed(text: &str) -> Option<Vec<String>> {
    let plain = |text: &str| {
        let text = text.trim();
        let quoted = text.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
        quoted.map_or_else(|| text.to_owned(), |inner| inner.replace("\\\"", "\""))
    };
    let Some(inner) = text.trim().strip_prefix('[') else {
        return Some(vec![plain(text)]);
    };
    let inner = inner.strip_suffix(']')?;
    (!inner.contains(['[', '{'])).then(|| inner.split(',').map(plain).collect())
}
