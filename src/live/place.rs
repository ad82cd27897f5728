//! A tapped point as a tape finds it: along a wall and out, or along a joint or crack.

use kurbo::{Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::geometry::path::Path;
use crate::quantity::read::{self, Bare};
use crate::quantity::{M_PER_FT, M_PER_IN, Units, write};
use crate::slab::Slab;

/// Farthest that a tap is drawn to a line, m: two feet, so that a map seen from afar still leaves a choice.
const FARTHEST_SNAP: f64 = 2.0 * M_PER_FT;
/// A tap is rounded to this, m: no finger is better than an inch.
const STEP_US: f64 = M_PER_IN;
/// A tap is rounded to this, m: no finger is better than a centimeter.
const STEP_METRIC: f64 = 0.01;
/// Two ways to the same point agree to this, m.
const SAME: f64 = 1e-6;

/// A place as the sketch writes it. Lengths are texts, read in the units of the sketch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged, deny_unknown_fields)]
pub enum Form {
    /// Along a wall and square into the slab.
    Wall {
        /// Number of the wall, from 1.
        wall: usize,
        /// From the wall's first corner.
        along: String,
        /// Square into the slab.
        out: String,
    },
    /// Along a joint or crack.
    Line {
        /// Its id.
        line: String,
        /// Station from its first point.
        at: String,
    },
    /// Coordinates, where no wall lies square to the point.
    Xy {
        /// To the right.
        x: String,
        /// Up.
        y: String,
    },
}

/// A place: how it is written, how it is said, and where it lies.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Place {
    /// As written.
    pub form: Form,
    /// In words.
    pub words: String,
    /// To the right, m.
    pub x: f64,
    /// Up, m.
    pub y: f64,
}

/// What may draw a tap to itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Onto {
    /// Corners, walls, joints and cracks.
    Anything,
    /// Joints and cracks.
    Lines,
    /// Walls and their ends.
    Walls,
}

/// The place of a tap. With `reach` above zero, m, a corner, joint, crack or wall that near draws it
/// to itself. `None` for what is no number or lies nowhere near the slab.
#[must_use]
pub fn place(slab: &Slab, tap: Point, reach: f64, onto: Onto) -> Option<Place> {
    let bounds = slab.outline.path.bounds().inflate(3.0, 3.0);
    if !tap.is_finite() || !bounds.contains(tap) {
        return None;
    }
    let reach = if reach.is_finite() { reach.clamp(0.0, FARTHEST_SNAP) } else { 0.0 };
    let form =
        snapped(slab, tap, reach, onto).or_else(|| by_wall(slab, tap)).unwrap_or_else(|| {
            Form::Xy {
                x: text(rounded(tap.x, slab.units), slab.units),
                y: text(rounded(tap.y, slab.units), slab.units),
            }
        });
    resolve(slab, form).ok()
}

/// A written place on the floor.
///
/// # Errors
///
/// In words: a length that can't be read, a wall or line that isn't there, a station beyond its end.
pub fn resolve(slab: &Slab, form: Form) -> Result<Place, String> {
    let units = slab.units;
    let (at, words) = match &form {
        Form::Wall { wall, along, out } => {
            let path = wall
                .checked_sub(1)
                .and_then(|i| slab.outline.walls.get(i))
                .ok_or_else(|| format!("there is no wall {wall}"))?;
            let station = station(along, path, &format!("wall {wall}"), units)?;
            let off = metres(out, units)?;
            if off < 0.0 {
                return Err(format!("`{out}` would lie outside the wall"));
            }
            let at = path.point_at(station) + inward(slab, path, station) * off;
            (at, wall_words(slab, *wall, station, off))
        }
        Form::Line { line, at } => {
            let path =
                line_of(slab, line).ok_or_else(|| format!("there is no joint or crack {line}"))?;
            let station = station(at, path, line, units)?;
            let words = format!("on {line}, {} along it", write::length(station, units));
            (path.point_at(station), words)
        }
        Form::Xy { x, y } => {
            let at = Point::new(metres(x, units)?, metres(y, units)?);
            let say = |m| write::length(m, units);
            let words = format!("{} right and {} up from [0, 0]", say(at.x), say(at.y));
            (at, words)
        }
    };
    Ok(Place { form, words, x: at.x, y: at.y })
}

/// The path of a joint or crack.
#[must_use]
pub fn line_of<'a>(slab: &'a Slab, id: &str) -> Option<&'a Path> {
    let joint = slab.joints.iter().find(|j| j.id == id).map(|j| &j.path);
    joint.or_else(|| slab.cracks.iter().find(|c| c.id == id).map(|c| &c.path))
}

/// A length of the floor as a sketch writes it: `12' 6 1/2"`, `3.26 m`.
#[must_use]
pub fn text(m: f64, units: Units) -> String {
    written(m, units, (8, 3))
}

/// As [`text`], as fine as a sum of many lengths wants it.
pub(super) fn fine(m: f64, units: Units) -> String {
    written(m, units, (64, 4))
}

/// To parts of an inch, or to decimals of a meter.
fn written(m: f64, units: Units, (parts, decimals): (u32, u32)) -> String {
    match units {
        Units::Metric => format!("{} m", write::trimmed(m, decimals)),
        Units::Us => {
            let written = write::feet_inches(m, parts).replacen("'-", "' ", 1);
            let feet = written.strip_suffix("' 0\"").map(|feet| format!("{feet}'"));
            let inches = written.strip_prefix("0' ");
            let short = inches.map(|i| i.strip_prefix("0 ").unwrap_or(i).to_owned());
            match (feet.as_deref(), short) {
                (Some("0'"), _) => "0".into(),
                (Some(_), _) => feet.unwrap_or(written),
                (None, Some(inches)) => inches,
                (None, None) => written,
            }
        }
    }
}

fn wall_words(slab: &Slab, wall: usize, along: f64, out: f64) -> String {
    let next = wall % slab.outline.walls.len().max(1) + 1;
    let say = |m| write::length(m, slab.units);
    let out = if out > SAME { format!("{} out", say(out)) } else { "on the wall".into() };
    format!("wall {wall}, {} from corner {wall} toward {next}, {out}", say(along))
}

fn metres(text: &str, units: Units) -> Result<f64, String> {
    let read = read::length(text.trim(), Bare::Plan(units));
    read.map(crate::quantity::Length::m)
        .map_err(|e| format!("`{}` is no length: {}; {}", text.trim(), e.problem, e.hint))
}

fn station(text: &str, path: &Path, name: &str, units: Units) -> Result<f64, String> {
    /// Half an inch beyond the end is the end, as in a sketch.
    const SLACK: f64 = 0.5 * M_PER_IN;
    let at = metres(text, units)?;
    let length = path.length();
    if at < 0.0 || at > length + SLACK {
        let long = write::length(length, units);
        return Err(format!("`{text}` is not on {name}, which is {long} long"));
    }
    Ok(at.min(length))
}

/// Unit direction from a wall into the slab.
fn inward(slab: &Slab, path: &Path, station: f64) -> Vec2 {
    let d = path.direction_at(station);
    let left = Vec2::new(-d.y, d.x);
    if slab.outline.counter_clockwise { left } else { -left }
}

fn rounded(m: f64, units: Units) -> f64 {
    let step = match units {
        Units::Us => STEP_US,
        Units::Metric => STEP_METRIC,
    };
    (m / step).round() * step
}

/// A station rounded, but never past the end of its line.
fn rounded_on(m: f64, length: f64, units: Units) -> String {
    let at = rounded(m, units);
    text(if at > length { length } else { at }, units)
}

/// Places with their distance from a tap, m.
type Near = Vec<(f64, Form)>;

/// Corners and ends of lines, and then the nearest place on every wall and line.
fn candidates(slab: &Slab, tap: Point) -> (Near, Near) {
    let mut points: Near = Vec::new();
    let mut lines: Near = Vec::new();
    for (i, wall) in slab.outline.walls.iter().enumerate() {
        let (at, off) = wall.nearest(tap);
        let form = |along| Form::Wall { wall: i + 1, along, out: "0".into() };
        points.push(((wall.start() - tap).hypot(), form("0".into())));
        // A wall takes a tap from somewhat nearer than a joint does, so that a joint can be hit beside it.
        lines.push((off * 1.5, form(rounded_on(at, wall.length(), slab.units))));
    }
    let joints = slab.joints.iter().map(|j| (&j.id, &j.path, &j.on_slab));
    let cracks = slab.cracks.iter().map(|c| (&c.id, &c.path, &c.on_slab));
    for (id, path, shown) in joints.chain(cracks) {
        let form = |at| Form::Line { line: id.clone(), at };
        for end in shown.iter().flat_map(|s| [s.from_m, s.to_m]) {
            let off = (path.point_at(end) - tap).hypot();
            points.push((off, form(text(end, slab.units))));
        }
        let (at, off) = path.nearest(tap);
        lines.push((off, form(rounded_on(at, path.length(), slab.units))));
    }
    (points, lines)
}

/// Draws a tap to a corner or end of a line first, then to a line, then to a wall.
fn snapped(slab: &Slab, tap: Point, reach: f64, onto: Onto) -> Option<Form> {
    if reach <= 0.0 {
        return None;
    }
    let (points, lines) = candidates(slab, tap);
    let wanted = |form: &Form| match onto {
        Onto::Anything => true,
        Onto::Lines => matches!(form, Form::Line { .. }),
        Onto::Walls => matches!(form, Form::Wall { .. }),
    };
    let nearest = |all: Near, within: f64| {
        all.into_iter()
            .filter(|(off, form)| *off <= within && wanted(form))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, form)| form)
    };
    // An end takes a tap from nearer than a line does: most of a line is not its end.
    nearest(points, reach * 0.6).or_else(|| nearest(lines, reach))
}

/// Along and out from the nearest wall that lies square to the point and is seen from it.
fn by_wall(slab: &Slab, tap: Point) -> Option<Form> {
    let walls = slab.outline.walls.iter().enumerate();
    let mut feet: Vec<(bool, f64, usize, f64)> = walls
        .filter_map(|(i, wall)| {
            let (at, off) = wall.nearest(tap);
            let back = wall.point_at(at) + inward(slab, wall, at) * off;
            let square = (back - tap).hypot() <= SAME.max(off * 1e-9);
            square.then(|| (!sees(slab, tap, wall.point_at(at), i), off, i, at))
        })
        .collect();
    feet.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let (_, off, i, at) = *feet.first()?;
    Some(Form::Wall {
        wall: i + 1,
        along: rounded_on(at, slab.outline.walls[i].length(), slab.units),
        out: text(rounded(off, slab.units), slab.units),
    })
}

/// Whether no other wall stands between a point and its foot on a wall.
fn sees(slab: &Slab, p: Point, foot: Point, wall: usize) -> bool {
    let side = |a: Point, b: Point, c: Point| (b - a).cross(c - a);
    let apart = |m: f64, n: f64| (m > 1e-9 && n < -1e-9) || (m < -1e-9 && n > 1e-9);
    let others = slab.outline.walls.iter().enumerate();
    others.filter(|(i, _)| *i != wall).all(|(_, other)| {
        let points = other.points();
        points.windows(2).all(|s| {
            let across = apart(side(p, foot, s[0]), side(p, foot, s[1]));
            !(across && apart(side(s[0], s[1], p), side(s[0], s[1], foot)))
        })
    })
}

#[cfg(test)]
mod tests;
