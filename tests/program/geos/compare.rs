//! The comparison of one floor: every quantity with what it may be off by, and why.

use std::collections::BTreeMap;

use serde_json::Value;

/// What is promised of areas and lengths: one part in 100,000.
const RELATIVE: f64 = 1e-5;

/// Points lie on a lattice of 1/320 mm, so each may be off by half a step each way. An area may be off by that much
/// along its edge: a whole step times the perimeter leaves room for both coordinates.
const STEP_M: f64 = 1.0 / 320_000.0;

/// A joint or crack cut off at an edge it meets at 12 degrees (no floor here has less) moves its end by half a step's
/// diagonal over the sine, 11 micrometres; six such ends are the most that a path here has.
const LENGTH_M: f64 = 6.0 * 11e-6;

/// Arcs are chords at most this far off on the program's side; the reference's are finer. The side of a rectangle about
/// an arc may be off by it, m.
const CHORD_M: f64 = 5e-6;

/// How far a saw stops from an obstacle is cut out by round ends of 128 chords a quarter on the reference's side, and
/// round obstacles by chords at most a micrometre off: 2.5 µm in all, over the sine of the 12 degrees as above, m for an end.
const SAW_END_M: f64 = 12e-6;

/// Paths that run side by side within an eighth of an inch are led through each other's ends: the box of a panel may be
/// off by that, m.
const BESIDE_M: f64 = 0.0254 / 8.0;

/// Two panels of one floor whose areas are further apart than this are told apart by them, m².
const APART_M2: f64 = 0.01;

/// Volumes and areas by formula come from the same readings on both sides; the reference is rounded to seven decimals.
const ROUNDING: f64 = 1e-7;

/// One quantity of one floor that is not what the reference says.
pub struct Difference {
    pub floor: String,
    pub quantity: String,
    pub ours: String,
    pub reference: String,
    pub off: f64,
    pub allowed: f64,
}

/// The comparison of one floor under way.
pub struct Floor<'a> {
    pub name: &'a str,
    pub ours: &'a Value,
    pub reference: &'a Value,
    pub found: Vec<Difference>,
    pub compared: usize,
    pub greatest: Greatest,
}

/// For each kind of quantity how many were compared, the greatest difference, and the greatest share of what is allowed.
pub type Greatest = BTreeMap<String, (usize, f64, f64)>;

/// The kind of a quantity: its name without ids and numbers.
fn kind(quantity: &str) -> String {
    let plain =
        |word: &&str| !word.starts_with(|c: char| c.is_ascii_digit() || c.is_ascii_uppercase());
    quantity.split(' ').filter(plain).collect::<Vec<_>>().join(" ")
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
            self.differs(quantity, &ours.to_string(), &reference.to_string(), f64::NAN, 0.0);
            return;
        };
        let allowed = RELATIVE * b.abs() + floor + ROUNDING;
        let off = (a - b).abs();
        let most = self.greatest.entry(kind(quantity)).or_default();
        *most = (most.0 + 1, most.1.max(off), most.2.max(off / allowed));
        // A NaN is a difference too.
        if off.is_nan() || off > allowed {
            self.differs(quantity, &format!("{a:.7}"), &format!("{b:.7}"), off, allowed);
        }
    }

    /// As many on either side.
    fn count(&mut self, name: &str, ours: &[Value], wanted: &[Value]) {
        self.exactly(name, &ours.len().into(), &wanted.len().into());
    }

    /// Compares what has no tolerance: counts and names.
    fn exactly(&mut self, quantity: &str, ours: &Value, reference: &Value) {
        self.compared += 1;
        if ours != reference {
            self.differs(quantity, &ours.to_string(), &reference.to_string(), f64::NAN, 0.0);
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
            if self.reference["area"][key].is_null() {
                continue;
            }
            self.number(key, &self.ours["area"][key], &self.reference["area"][key], STEP_M * edge);
        }
        self.number("edge_m", &self.ours["edge_m"], &self.reference["edge_m"], LENGTH_M);
        self.number(
            "termination_m",
            &self.ours["termination_m"],
            &self.reference["termination_m"],
            LENGTH_M,
        );
    }

    fn misclosure(&mut self) {
        let misclosure = &self.ours["closure"]["misclosure_m"];
        self.number("misclosure_m", misclosure, &self.reference["misclosure_m"], 0.0);
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
            self.number(&format!("panel {} by size", i + 1), &Value::from(*a), b, floor);
        }
    }

    /// The smallest rectangles of the panels: their areas by size, and the longer side of those panels that are told
    /// apart by their area and about which no two directions do about as well.
    fn panel_boxes(&mut self) {
        let of = |panel: &Value, key: &str| panel[key].as_f64().unwrap_or(f64::NAN);
        let sizes = |panel: &Value| of(panel, "length_m") * of(panel, "width_m");
        let mut panels: Vec<&Value> = list(&self.ours["panels"]).iter().collect();
        let areas: Vec<f64> =
            list(&self.reference["panels_m2"]).iter().filter_map(Value::as_f64).collect();
        let boxes = list(&self.reference["panel_boxes"]);
        let beside = self.reference["panel_slack_m2"].as_f64() != Some(0.0);
        let off = CHORD_M + if beside { BESIDE_M } else { 0.0 };
        let round = list(&self.reference["panel_edge_m"]).iter();
        let longest = round.filter_map(Value::as_f64).fold(0.0, f64::max);
        let mut wanted: Vec<f64> = boxes.iter().filter_map(|b| b[0].as_f64()).collect();
        wanted.sort_by(f64::total_cmp);
        panels.sort_by(|p, q| sizes(p).total_cmp(&sizes(q)));
        for (i, (a, b)) in panels.iter().zip(&wanted).enumerate() {
            let name = format!("box {} by size", i + 1);
            let (a, b) = (Value::from(sizes(a)), Value::from(*b));
            self.number(&name, &a, &b, off * longest);
        }
        panels.sort_by(|p, q| of(p, "area_m2").total_cmp(&of(q, "area_m2")));
        for (i, (panel, wanted)) in panels.iter().zip(boxes).enumerate() {
            let apart =
                |j: usize| j == i || areas.get(j).is_none_or(|a| (a - areas[i]).abs() > APART_M2);
            if !wanted[1].is_null() && apart(i.wrapping_sub(1)) && apart(i + 1) {
                let name = format!("box {} length", i + 1);
                self.number(&name, &panel["length_m"], &wanted[1], 2.0 * off);
            }
        }
    }

    /// What the saw cuts and what is cut by hand, and how often the saw stops.
    fn sawn(&mut self) {
        let pairs: Vec<_> =
            list(&self.ours["joints"]).iter().zip(list(&self.reference["joints"])).collect();
        for (a, b) in pairs {
            let id = b["id"].as_str().unwrap_or("?");
            let ends = b["hand_ends"].as_f64().unwrap_or(f64::NAN);
            let floor = LENGTH_M + 2.0 * ends * SAW_END_M;
            for key in ["saw_m", "hand_m"] {
                self.number(&format!("{id} {key}"), &a[key], &b[key], floor);
            }
            self.exactly(&format!("{id} hand ends"), &a["hand_ends"], &b["hand_ends"]);
        }
    }

    /// Lengths of cracks by their noted widths.
    fn portions(&mut self) {
        let pairs: Vec<_> =
            list(&self.ours["cracks"]).iter().zip(list(&self.reference["cracks"])).collect();
        for (a, b) in pairs {
            let id = b["id"].as_str().unwrap_or("?");
            let (ours, wanted) = (list(&a["portions"]), list(&b["portions_m"]));
            self.count(&format!("{id} portions"), ours, wanted);
            for (i, (a, b)) in ours.iter().zip(wanted).enumerate() {
                self.number(&format!("{id} portion {}", i + 1), &a["length_m"], b, LENGTH_M);
            }
        }
    }

    /// Which spalls are patched together, and the sides of each patch.
    fn patches(&mut self) {
        let named = |patch: &Value| {
            let mut ids: Vec<&str> =
                list(&patch["spalls"]).iter().filter_map(Value::as_str).collect();
            ids.sort_unstable();
            ids.join(" ")
        };
        let mut ours: Vec<(String, &Value)> =
            list(&self.ours["patches"]).iter().map(|p| (named(p), p)).collect();
        ours.sort_by(|p, q| p.0.cmp(&q.0));
        let wanted = list(&self.reference["patches"]);
        let ids: Vec<&str> = ours.iter().map(|p| p.0.as_str()).collect();
        let names: Vec<&str> = wanted.iter().filter_map(|p| p["spalls"].as_str()).collect();
        self.exactly("patches", &Value::from(ids.join(", ")), &Value::from(names.join(", ")));
        if ids != names {
            return;
        }
        for ((ids, a), b) in ours.into_iter().zip(wanted) {
            // Where the edge of the floor cuts a spall, at a slant, it does so to the step of the grid.
            let cut = CHORD_M + 2.0 * STEP_M;
            for key in ["length_m", "width_m"] {
                self.number(&format!("patch {ids} {key}"), &a[key], &b[key], cut);
            }
        }
    }

    /// Where each batch is used up. An area that is off moves the line by as much as it is long.
    fn pour_lines(&mut self) {
        let edge = self.reference["edge_m"].as_f64().unwrap_or(f64::NAN);
        let (ours, wanted) = (list(&self.ours["pour_lines"]), list(&self.reference["pour_lines"]));
        self.count("pour layers", ours, wanted);
        for (a, b) in ours.iter().zip(wanted) {
            let layer = b["layer"].as_str().unwrap_or("?");
            let (ours, wanted) = (list(&a["lines"]), list(&b["lines"]));
            self.count(&format!("{layer} lines"), ours, wanted);
            for (k, (a, b)) in ours.iter().zip(wanted).enumerate() {
                let name = format!("{layer} {}", k + 1);
                let behind = b[1].as_f64().unwrap_or(f64::NAN);
                let long = b[2].as_f64().unwrap_or(f64::INFINITY);
                let off = (RELATIVE * behind + STEP_M * edge) / long + 2.0 * CHORD_M;
                self.number(&name, &a["distance_m"], &b[0], off);
                self.number(&format!("{name} area"), &a["area_behind_m2"], &b[1], STEP_M * edge);
            }
        }
    }

    /// The plane through the heights, and what lies below its neighbours.
    fn levels(&mut self) {
        let (ours, wanted) = (&self.ours["levels"], &self.reference["levels"]);
        self.number("fall", &ours["slope"], &wanted["slope"], 1e-8);
        self.number("worst height", &ours["worst_m"], &wanted["worst_m"], 1e-8);
        let (ours, wanted) = (list(&ours["ponding"]), list(&wanted["ponding"]));
        let which = |list: &[Value], key: &dyn Fn(&Value) -> Value| {
            Value::from(list.iter().map(key).collect::<Vec<_>>())
        };
        let a = which(ours, &|p| p["level"].clone());
        let b = which(wanted, &|p| p[0].clone());
        self.exactly("low points", &a, &b);
        for (a, b) in ours.iter().zip(wanted) {
            self.number("low point", &a["depth_m"], &b[1], 1e-8);
        }
    }

    /// Records of one kind, in the sketch's order, matched by id.
    fn records(&mut self, key: &str, quantities: &[(&str, &str, f64)]) {
        let (ours, reference) = (list(&self.ours[key]), list(&self.reference[key]));
        let ids = |records: &[Value]| {
            records.iter().map(|r| r["id"].to_string()).collect::<Vec<_>>().join(" ")
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

    /// Compares what the reference of a floor on which things touch has: not everything on each of them. And the net area holds what
    /// the grinder can't reach.
    pub fn touching(&mut self) {
        self.areas();
        self.panels();
        if self.reference["joints"].pointer("/0/saw_m").is_some() {
            self.sawn();
        }
        self.records("joints", &[("/length_m", "length_m", LENGTH_M)]);
        self.records("cracks", &[("/length_m", "length_m", LENGTH_M)]);
        let of = |key: &str| self.ours["area"][key].as_f64().unwrap_or(f64::NAN);
        let held = of("hand_edge_m2") <= of("net_m2");
        self.exactly("hand edge in net", &held.into(), &true.into());
    }

    /// Compares everything.
    pub fn all(&mut self) {
        self.areas();
        self.misclosure();
        self.panels();
        self.panel_boxes();
        self.sawn();
        self.portions();
        self.patches();
        self.pour_lines();
        self.levels();
        let edge = self.reference["edge_m"].as_f64().unwrap_or(f64::NAN);
        self.records("blemishes", &[("/area_m2", "area_m2", STEP_M * edge)]);
        self.records("joints", &[("/length_m", "length_m", LENGTH_M)]);
        self.records("cracks", &[("/length_m", "length_m", LENGTH_M)]);
        self.records(
            "spalls",
            &[
                // The edge of the floor cuts a meter or two of them at most.
                ("/area_m2", "area_m2", STEP_M * 2.0),
                ("/patch/area_m2", "patch_m2", STEP_M * 2.0),
            ],
        );
        let formulas = ["max_step_mm", "hand_length_m", "hand_area_m2", "removed_l"];
        let pointers = formulas.map(|key| (format!("/{key}"), key));
        let quantities: Vec<(&str, &str, f64)> =
            pointers.iter().map(|(p, key)| (p.as_str(), *key, 0.0)).collect();
        self.records("lippage", &quantities);
        let (ours, reference) = (&self.ours["totals"], &self.reference["totals"]);
        let long = reference["hand_grind_m"].as_f64().unwrap_or(f64::NAN);
        self.number("hand_grind_m", &ours["hand_grind_m"], &reference["hand_grind_m"], 0.0);
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
pub fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}
