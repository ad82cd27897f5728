//! The keys that place a record, from its points.

use std::collections::BTreeMap;

use kurbo::Point;

use super::kinds::{Field, Takes, Way};
use super::place::{self, Form, Place};
use super::record::{Fault, MOST_POINTS, fault, length, value};
use crate::quantity::Units;
use crate::quantity::read::{self, Bare};
use crate::slab::Slab;

/// Where a record has the point of its own: the holder within the record, and the key. Of a path it is the first.
pub(super) const OWN_POINTS: &[(&str, &str)] = &[
    ("", "at"),
    (".circle", "center"),
    (".box", "corner"),
    ("", "path"),
    ("", "polygon"),
    (".band", "path"),
];

fn form_text(form: &Form) -> String {
    match form {
        Form::Wall { wall, along, out } => {
            let (along, out) = (along.trim(), out.trim());
            if out == "0" {
                format!("{{wall: {wall}, along: {along}}}")
            } else {
                format!("{{wall: {wall}, along: {along}, out: {out}}}")
            }
        }
        Form::Line { line, at } => format!("{{line: {}, at: {}}}", line.trim(), at.trim()),
        Form::Xy { x, y } => format!("[{}, {}]", x.trim(), y.trim()),
    }
}

fn list(points: &[Place]) -> String {
    let texts: Vec<String> = points.iter().map(|p| form_text(&p.form)).collect();
    format!("[{}]", texts.join(", "))
}

/// Whether a way has as many points as it needs.
fn enough(way: Way, count: usize) -> Result<(), Fault> {
    let (least, most, say) = match way {
        Way::Nowhere => (0, 0, "this has no place of its own"),
        Way::Point | Way::Round => (1, 1, "tap one point"),
        Way::AcrossUp | Way::AcrossLevel => (1, 1, "tap one point of the line"),
        Way::Box => (2, 2, "tap two opposite corners"),
        Way::OnWall => (2, 2, "tap both ends on the wall"),
        Way::Run | Way::Strip => (2, MOST_POINTS, "tap two points or more"),
        Way::Stations => (2, MOST_POINTS, "tap two places or more on one joint or crack"),
        Way::Corners => (3, MOST_POINTS, "tap three corners or more"),
    };
    if count < least || count > most {
        return Err(fault("points", say));
    }
    Ok(())
}

/// The keys that place a record.
pub(super) fn placed(
    slab: &Slab,
    way: Way,
    points: &[Place],
    values: &BTreeMap<String, String>,
) -> Result<Vec<String>, Fault> {
    enough(way, points.len())?;
    let size = |key: &'static str, label: &'static str| {
        let field = Field { key, label, takes: Takes::Long, needed: true, choices: &[] };
        value(&field, values, slab.units).map(Option::unwrap_or_default)
    };
    let one = |key: &str, text: String| Ok(vec![format!("{key}: {text}")]);
    match way {
        Way::Nowhere => Ok(Vec::new()),
        Way::Point => one("at", form_text(&points[0].form)),
        Way::Run => one("path", list(points)),
        Way::AcrossUp => one("x", place::text(points[0].x, slab.units)),
        Way::AcrossLevel => one("y", place::text(points[0].y, slab.units)),
        Way::Corners => one("polygon", list(points)),
        Way::Round => {
            let center = form_text(&points[0].form);
            let diameter = size("diameter", "Diameter")?;
            one("circle", format!("{{center: {center}, {diameter}}}"))
        }
        Way::Strip => {
            let width = size("width", "Width")?;
            one("band", format!("{{path: {}, {width}}}", list(points)))
        }
        Way::Box => corners(slab, points),
        Way::OnWall => on_wall(points, slab.units),
        Way::Stations => one("along", one_line(points)?),
    }
}

/// A rectangle between two opposite corners.
fn corners(slab: &Slab, points: &[Place]) -> Result<Vec<String>, Fault> {
    let (a, b) = (&points[0], &points[1]);
    let (x, y) = (a.x.min(b.x), a.y.min(b.y));
    let (w, h) = ((a.x - b.x).abs(), (a.y - b.y).abs());
    let size = |m| place::text(m, slab.units);
    if size(w) == size(0.0) || size(h) == size(0.0) {
        return Err(fault("points", "the two corners stand on one line; tap opposite corners"));
    }
    let is_lower_left = |p: &&Place| (Point::new(p.x, p.y) - Point::new(x, y)).hypot() < 1e-6;
    let corner = points
        .iter()
        .find(is_lower_left)
        .map_or_else(|| format!("[{}, {}]", size(x), size(y)), |p| form_text(&p.form));
    Ok(vec![format!("box: {{corner: {corner}, size: [{}, {}]}}", size(w), size(h))])
}

/// Two stations of one wall.
fn on_wall(points: &[Place], units: Units) -> Result<Vec<String>, Fault> {
    let stations: Vec<(usize, &str)> = points
        .iter()
        .filter_map(|p| match &p.form {
            Form::Wall { wall, along, .. } => Some((*wall, along.trim())),
            _ => None,
        })
        .collect();
    let [(wall, a), (other, b)] = stations[..] else {
        return Err(fault("points", "tap both ends of the doorway on its wall"));
    };
    if wall != other {
        return Err(fault(
            "points",
            format!("the ends lie on walls {wall} and {other}; a doorway lies on one"),
        ));
    }
    let metres = |text: &str| read::length(text, Bare::Plan(units)).map_or(0.0, |l| l.m());
    let (from, to) = if metres(a) <= metres(b) { (a, b) } else { (b, a) };
    Ok(vec![format!("wall: {wall}"), format!("from: {from}"), format!("to: {to}")])
}

/// The joint or crack that all points lie on.
fn one_line(points: &[Place]) -> Result<String, Fault> {
    let say = || fault("points", "tap on one joint or crack, with snapping on");
    let mut ids = points.iter().map(|p| match &p.form {
        Form::Line { line, .. } => Some(line.as_str()),
        _ => None,
    });
    let first = ids.next().flatten().ok_or_else(say)?;
    if ids.all(|id| id == Some(first)) { Ok(first.to_owned()) } else { Err(say()) }
}

/// Stations and offsets, in the order of the stations.
pub(super) fn readings(
    points: &[Place],
    values: &BTreeMap<String, String>,
    units: Units,
) -> Result<String, Fault> {
    let mut read_off: Vec<(f64, String)> = Vec::new();
    for (i, point) in points.iter().enumerate() {
        let Form::Line { at, .. } = &point.form else {
            continue;
        };
        let key = format!("step-{}", i + 1);
        let typed = values.get(&key).map_or("", |v| v.trim());
        let wrong =
            |e: read::ReadError| fault(&key, format!("`{typed}`: {}; {}", e.problem, e.hint));
        if typed.is_empty() {
            return Err(fault(&key, format!("the offset at {} is missing", at.trim())));
        }
        let step = length(typed, Bare::Small(units)).map_err(wrong)?;
        let station = read::length(at.trim(), Bare::Plan(units)).map_or(0.0, |l| l.m());
        read_off.push((station, format!("[{}, {step}]", at.trim())));
    }
    read_off.sort_by(|a, b| a.0.total_cmp(&b.0));
    let texts: Vec<String> = read_off.into_iter().map(|(_, text)| text).collect();
    Ok(format!("readings: [{}]", texts.join(", ")))
}
