//! Quantities of a few hundred floors against the same quantities by GEOS.
//!
//! `tests/geos/reference.py` reads the same sketches with its own reader and computes with Shapely; its values are
//! stored beside it. What it leaves out on purpose, and why, stands in `tests/geos/random_floors.py`.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use crate::common::{folder, slabwalk};
use serde_json::Value;

/// What is promised of areas and lengths: one part in 100,000.
const RELATIVE: f64 = 1e-5;

/// Points lie on a lattice of 1/320 mm, so each may be off by half a step each way. An area may be off by that much
/// along its edge: a whole step times the perimeter leaves room for both coordinates.
const STEP_M: f64 = 1.0 / 320_000.0;

/// A joint or crack cut off at an edge it meets at 12 degrees (no floor here has less) moves its end by half a step's
/// diagonal over the sine, 11 micrometres; six such ends are the most that a path here has.
const LENGTH_M: f64 = 6.0 * 11e-6;

/// Volumes and areas by formula come from the same readings on both sides; the reference is rounded to seven decimals.
const ROUNDING: f64 = 1e-7;

/// Disagreements that are understood: (floor, quantity, reason). One that no longer shows must be taken out.
const KNOWN: &[(&str, &str, &str)] = &[];

/// One quantity of one floor that is not what the reference says.
struct Difference {
    floor: String,
    quantity: String,
    ours: String,
    reference: String,
    off: f64,
    allowed: f64,
}

/// The comparison of one floor under way.
struct Floor<'a> {
    name: &'a str,
    ours: &'a Value,
    reference: &'a Value,
    found: Vec<Difference>,
    compared: usize,
}

impl Floor<'_> {
    fn differs(&mut self, quantity: &str, ours: &str, reference: &str, off: f64, allowed: f64) {
        self.found.push(Difference {
            floor: self.name.to_owned(),
            quantity: quantity.to_owned(),
            ours: ours.to_owned(),
            reference: reference.to_owned(),
            off,
            allowed,
        });
    }

    /// Compares two numbers; `floor` is the absolute allowance beside the relative one. Both may be null.
    fn number(&mut self, quantity: &str, ours: &Value, reference: &Value, floor: f64) {
        self.compared += 1;
        if ours.is_null() && reference.is_null() {
            return;
        }
        let (Some(a), Some(b)) = (ours.as_f64(), reference.as_f64()) else {
            self.differs(
                quantity,
                &ours.to_string(),
                &reference.to_string(),
                f64::NAN,
                0.0,
            );
            return;
        };
        let allowed = RELATIVE * b.abs() + floor + ROUNDING;
        let off = (a - b).abs();
        // A NaN is a difference too.
        if off.is_nan() || off > allowed {
            self.differs(
                quantity,
                &format!("{a:.7}"),
                &format!("{b:.7}"),
                off,
                allowed,
            );
        }
    }

    fn areas(&mut self) {
        let edge = self.reference["edge_m"].as_f64().unwrap_or(f64::NAN);
        for key in [
            "gross_m2",
            "keep_out_m2",
            "uncoated_m2",
            "net_m2",
            "faces_m2",
            "coated_m2",
            "hand_edge_m2",
        ] {
            self.number(
                key,
                &self.ours["area"][key],
                &self.reference["area"][key],
                STEP_M * edge,
            );
        }
        self.number(
            "edge_m",
            &self.ours["edge_m"],
            &self.reference["edge_m"],
            LENGTH_M,
        );
        self.number(
            "termination_m",
            &self.ours["termination_m"],
            &self.reference["termination_m"],
            LENGTH_M,
        );
        let misclosure = &self.ours["closure"]["misclosure_m"];
        self.number(
            "misclosure_m",
            misclosure,
            &self.reference["misclosure_m"],
            0.0,
        );
    }

    /// Count and sorted areas. Where two joints run side by side within an eighth of an inch the specification leaves
    /// open which of them the panel ends at: the area between the two is allowed on top, and as much again, because
    /// the program leads the one through the ends of the other, from its own last vertex on.
    fn panels(&mut self) {
        let areas = |panel: &Value| panel["area_m2"].as_f64().unwrap_or(f64::NAN);
        let mut ours: Vec<f64> = list(&self.ours["panels"]).iter().map(areas).collect();
        ours.sort_by(f64::total_cmp);
        let reference = list(&self.reference["panels_m2"]);
        if ours.len() != reference.len() {
            let (a, b) = (ours.len().to_string(), reference.len().to_string());
            self.differs("panels", &a, &b, f64::NAN, 0.0);
            return;
        }
        let slack = self.reference["panel_slack_m2"].as_f64().unwrap_or(0.0);
        let edges = list(&self.reference["panel_edge_m"]);
        for (i, ((a, b), edge)) in ours.iter().zip(reference).zip(edges).enumerate() {
            let floor = STEP_M * edge.as_f64().unwrap_or(f64::NAN) + 2.0 * slack;
            self.number(
                &format!("panel {} by size", i + 1),
                &Value::from(*a),
                b,
                floor,
            );
        }
    }

    /// Records of one kind, in the sketch's order, matched by id.
    fn records(&mut self, key: &str, quantities: &[(&str, &str, f64)]) {
        let (ours, reference) = (list(&self.ours[key]), list(&self.reference[key]));
        let ids = |records: &[Value]| {
            records
                .iter()
                .map(|r| r["id"].to_string())
                .collect::<Vec<_>>()
                .join(" ")
        };
        if ids(ours) != ids(reference) {
            self.differs(key, &ids(ours), &ids(reference), f64::NAN, 0.0);
            return;
        }
        for (a, b) in ours.iter().zip(reference) {
            let id = b["id"].as_str().unwrap_or("?");
            for (pointer, wanted, floor) in quantities {
                let found = a.pointer(pointer).unwrap_or(&Value::Null);
                self.number(&format!("{id} {wanted}"), found, &b[wanted], *floor);
            }
        }
    }

    fn all(&mut self) {
        self.areas();
        self.panels();
        self.records("joints", &[("/length_m", "length_m", LENGTH_M)]);
        self.records("cracks", &[("/length_m", "length_m", LENGTH_M)]);
        self.records(
            "spalls",
            &[
                ("/area_m2", "area_m2", 0.0),
                ("/patch/area_m2", "patch_m2", 0.0),
            ],
        );
        let formulas = ["max_step_mm", "hand_length_m", "hand_area_m2", "removed_l"];
        let pointers = formulas.map(|key| (format!("/{key}"), key));
        let quantities: Vec<(&str, &str, f64)> = pointers
            .iter()
            .map(|(p, key)| (p.as_str(), *key, 0.0))
            .collect();
        self.records("lippage", &quantities);
        let (ours, reference) = (&self.ours["totals"], &self.reference["totals"]);
        let long = reference["hand_grind_m"].as_f64().unwrap_or(f64::NAN);
        self.number(
            "hand_grind_m",
            &ours["hand_grind_m"],
            &reference["hand_grind_m"],
            0.0,
        );
        // The bands' edges are about twice their length.
        self.number(
            "hand_grind_m2",
            &ours["hand_grind_m2"],
            &reference["hand_grind_m2"],
            STEP_M * 2.0 * long,
        );
    }
}

/// The items of a list; none where there is no list.
fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn stored(name: &str) -> Value {
    let path = root().join("tests/geos").join(name);
    let text = std::fs::read_to_string(&path).expect("the reference is there");
    serde_json::from_str(&text).expect("the reference is JSON")
}

/// The program's takeoff, or what it said instead.
fn takeoff(sketch: &Path) -> Result<Value, String> {
    let run = slabwalk()
        .args(["takeoff", "--format", "json"])
        .arg(sketch)
        .output()
        .expect("the program runs");
    if !run.status.success() {
        return Err(String::from_utf8_lossy(&run.stderr).into_owned());
    }
    serde_json::from_slice(&run.stdout).map_err(|e| e.to_string())
}

/// Compares one floor; the differences, and how many values were compared.
fn compare(name: &str, ours: Result<Value, String>, reference: &Value) -> (Vec<Difference>, usize) {
    let ours = match ours {
        Ok(ours) => ours,
        Err(said) => {
            let ours = format!("refused: {said}");
            let (quantity, reference) = ("sketch".to_owned(), "read".to_owned());
            let off = f64::NAN;
            return (
                vec![Difference {
                    floor: name.to_owned(),
                    quantity,
                    ours,
                    reference,
                    off,
                    allowed: 0.0,
                }],
                1,
            );
        }
    };
    let mut floor = Floor {
        name,
        ours: &ours,
        reference,
        found: Vec::new(),
        compared: 0,
    };
    floor.all();
    (floor.found, floor.compared)
}

/// Fails with one table of all that differs and is not known to, and of all that is known to differ and does not.
fn report(group: &str, found: &[Difference], compared: usize) {
    let known = |d: &&Difference| {
        KNOWN
            .iter()
            .any(|(f, q, _)| *f == d.floor && *q == d.quantity)
    };
    let mut table = String::new();
    for d in found.iter().filter(|d| !known(d)) {
        let Difference {
            floor,
            quantity,
            ours,
            reference,
            off,
            allowed,
        } = d;
        let _ = writeln!(
            table,
            "{floor:28} {quantity:20} {ours:>16} {reference:>16} {off:>12.2e} {allowed:>10.1e}"
        );
    }
    let gone = KNOWN.iter().filter(|(f, ..)| f.starts_with(group));
    for (floor, quantity, _) in
        gone.filter(|(f, q, _)| !found.iter().any(|d| d.floor == *f && d.quantity == *q))
    {
        let _ = writeln!(
            table,
            "{floor:28} {quantity:20} agrees now: take it out of the known ones"
        );
    }
    let head = [
        "floor",
        "quantity",
        "ours",
        "reference",
        "difference",
        "allowed",
    ];
    let [a, b, c, d, e, f] = head;
    let head = format!("{a:28} {b:20} {c:>16} {d:>16} {e:>12} {f:>10}");
    assert!(
        table.is_empty(),
        "of {compared} values these differ:\n{head}\n{table}"
    );
}

/// Floors whose sketch stands in the file with the reference; at least `least` of them.
fn compare_file(file: &str, group: &str, least: usize) {
    let stored = stored(file);
    let floors = list(&stored["floors"]);
    assert!(
        floors.len() >= least,
        "{file} holds {} floors",
        floors.len()
    );
    let (mut found, mut compared) = (Vec::new(), 0);
    for floor in floors {
        let (_folder, path) = folder(floor["sketch"].as_str().expect("a sketch"));
        let (differences, count) = compare(
            &format!("{group} {}", floor["seed"]),
            takeoff(&path),
            &floor["reference"],
        );
        found.extend(differences);
        compared += count;
    }
    report(group, &found, compared);
}

#[test]
fn random_floors_agree_with_geos() {
    compare_file("random.json", "random", 200);
}

#[test]
fn real_buildings_agree_with_geos() {
    compare_file("buildings.json", "building", 100);
}

#[test]
fn demonstration_floors_agree_with_geos() {
    let stored = stored("demos.json");
    let floors = list(&stored["floors"]);
    assert!(
        floors.len() >= 3,
        "demos.json holds {} floors",
        floors.len()
    );
    let (mut found, mut compared) = (Vec::new(), 0);
    for floor in floors {
        let file = floor["file"].as_str().expect("a file");
        let (differences, count) = compare(file, takeoff(&root().join(file)), &floor["reference"]);
        found.extend(differences);
        compared += count;
    }
    report("sketches/", &found, compared);
}
