//! A commented sketch to start from: the outline is the floor's own, everything else stands there as an
//! example that is valid as soon as its `# ` is taken away.

use crate::quantity::read::walk_entry;
use crate::quantity::{M_PER_FT, Units};

/// The text that stands between the fixed parts and the floor's own numbers.
const TEMPLATE: &str = include_str!("starter/template.yaml");
const M_PER_IN: f64 = M_PER_FT / 12.0;

/// The walls of a new floor as taped.
#[derive(Clone, Debug, PartialEq)]
pub struct Floor {
    /// What the job is called.
    pub name: String,
    /// What numbers without a unit mean.
    pub units: Units,
    /// The runs of the walk, as they are written: `E 24'`, `close`.
    pub walk: Vec<String>,
    /// The corners the walk leads to, in meters from its start, the start first.
    pub corners: Vec<(f64, f64)>,
}

/// The sketch of a new floor.
///
/// ```
/// use slabwalk::quantity::Units;
/// let floor = slabwalk::starter::Floor {
///     name: "Shed".into(),
///     units: Units::Us,
///     walk: ["E 12'", "N 10'", "close"].map(String::from).to_vec(),
///     corners: vec![(0.0, 0.0), (3.6576, 0.0), (3.6576, 3.048)],
/// };
/// let (sketch, faults) = slabwalk::sketch::parse(&slabwalk::starter::sketch(&floor));
/// assert!(faults.is_empty() && sketch.unwrap().job.name == "Shed");
/// ```
#[must_use]
pub fn sketch(floor: &Floor) -> String {
    let corner = |index: usize| floor.corners.get(index).copied().unwrap_or_default();
    let (first, second, third) = (corner(0), corner(1), corner(2));
    let wall = distance(first, second);
    let xs = || floor.corners.iter().map(|corner| corner.0);
    let (left, right) = (xs().fold(0.0, f64::min), xs().fold(0.0, f64::max));
    let ys = || floor.corners.iter().map(|corner| corner.1);
    let (low, high) = (ys().fold(0.0, f64::min), ys().fold(0.0, f64::max));
    let inward = (right - left).min(high - low) / 10.0;
    let at = |share: f64| plan(wall * share, floor.units);
    let out = |share: f64| plan(inward * share, floor.units);
    let metric = floor.units == Units::Metric;
    let either = |us: &str, other: &str| if metric { other } else { us }.to_owned();
    let rows = [
        ("NAME", quoted(&floor.name)),
        ("UNITS", either("us", "metric")),
        ("WALK", floor.walk.join(", ")),
        ("MIDDLE", plan(f64::midpoint(left, right), floor.units)),
        ("DIAGONAL", exact(distance(first, third), floor.units)),
        ("A1", at(0.2)),
        ("A2", at(0.3)),
        ("A3", at(0.4)),
        ("A4", at(0.6)),
        ("A5", at(0.7)),
        ("A6", at(0.8)),
        ("O1", out(1.0)),
        ("O2", out(2.0)),
        ("O3", out(3.0)),
        ("THICK", either("4\"", "100 mm")),
        ("COVER", either("2\"", "50 mm")),
        ("NARROW", either("1/16", "2")),
        ("WIDE", either("3/16", "5")),
        ("DEEP", either("1", "25")),
        ("SHALLOW", either("3/8", "10")),
        ("SMALL", either("5\"", "120 mm")),
        ("STEP", either("1/8", "3")),
        ("CURB", either("6\"", "150 mm")),
        ("AIR", either("70 F", "21 C")),
        ("SLAB", either("64 F", "18 C")),
    ];
    // Longer names are not parts of others, because each stands between its own marks.
    rows.iter()
        .fold(TEMPLATE.to_owned(), |text, (name, value)| text.replace(&format!("<{name}>"), value))
}

/// Where the runs lead, in meters from the start.
#[must_use]
pub fn corners(walk: &[String], units: Units) -> Vec<(f64, f64)> {
    let mut at = (0.0, 0.0);
    let mut out = vec![at];
    let mut heading = None;
    for run in walk {
        let entry = walk_entry(run, units);
        if let Some((direction_deg, length)) = entry.ok().and_then(|e| e.chord(&mut heading)) {
            let (sin, cos) = direction_deg.to_radians().sin_cos();
            at = (at.0 + length.m() * cos, at.1 + length.m() * sin);
            out.push(at);
        }
    }
    out
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// A length on the plan, to the inch or the centimeter, as people write it.
fn plan(meters: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.2}", meters),
        Units::Us => feet((meters / M_PER_IN).round(), ""),
    }
}

/// A length on the plan, to a quarter of an inch or the millimeter.
fn exact(meters: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.3}", meters),
        Units::Us => {
            let quarters = (meters / M_PER_IN * 4.0).round();
            let part = ["", " 1/4", " 1/2", " 3/4"][(quarters.rem_euclid(4.0)) as usize % 4];
            feet((quarters / 4.0).floor(), part)
        }
    }
}

fn feet(inches: f64, part: &str) -> String {
    let (feet, left) = ((inches / 12.0).floor(), inches.rem_euclid(12.0));
    if left == 0.0 && part.is_empty() {
        return format!("{feet:.0}'");
    }
    format!("{feet:.0}' {left:.0}{part}\"")
}

/// A text as YAML: in quotation marks, if it could be read as something else.
fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || " .-_'&()".contains(c);
    let starts_well = text.starts_with(char::is_alphabetic);
    let word = ["null", "true", "false", "~"].contains(&text.to_lowercase().as_str());
    if starts_well && !word && text.chars().all(plain) && text.trim() == text {
        return text.to_owned();
    }
    // A JSON string is a double-quoted YAML scalar.
    serde_json::Value::from(text).to_string()
}

#[cfg(test)]
mod tests;
