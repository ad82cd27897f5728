//! Quantities of one floor. Field names carry their unit; those of what is serialized here are the keys of the JSON, and stand in its
//! order.

mod line;
mod mended;

pub use line::{Chase, CrackPortion, CrackRepair, CrackWork, Filling, JointRepair, JointWork};
pub use mended::{DelaminationWork, Injection, LooseRepair, Mended, Patch, SpallRepair, SpallWork};

use kurbo::Point;
use serde::Serialize;

use crate::diagnostic::Diagnostic;
use crate::geometry::region::Region;
use crate::slab::{Closure, Level, LevelRow};
use crate::text::id_key;

/// Quantities of one floor.
#[derive(Clone, Debug)]
pub struct Takeoff {
    /// Areas.
    pub area: AreaTotals,
    /// Whole boundary of K, m.
    pub edge_m: f64,
    /// Its part on openings and uncoated parts, m.
    pub termination_m: f64,
    /// How the walk closed.
    pub closure: Option<Closure>,
    /// Where only a hand grinder reaches: K less what the floor grinder covers.
    pub hand_edge: Region,
    /// Joints, in the sketch's order.
    pub joints: Vec<JointWork>,
    /// Cracks, in the sketch's order.
    pub cracks: Vec<CrackWork>,
    /// Spalls, in the sketch's order.
    pub spalls: Vec<SpallWork>,
    /// Delaminations, in the sketch's order.
    pub delaminations: Vec<DelaminationWork>,
    /// Patches by their numbers, each around spalls and delaminations.
    pub patches: Vec<Patch>,
    /// Steps, in the sketch's order.
    pub lippage: Vec<LippageWork>,
    /// Bands to be feathered by hand as they lie on the floor, merged and clipped to K.
    pub hand_grind: Region,
    /// Totals.
    pub totals: Totals,
    /// Air, slab and moisture.
    pub conditions: Conditions,
    /// Fall, ponding and flatness, where heights were taken.
    pub levels: Option<LevelReport>,
    /// Everything worth saying, sorted by weight, then place.
    pub findings: Vec<Diagnostic>,
}

/// Areas, m².
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct AreaTotals {
    /// The outline.
    pub gross_m2: f64,
    /// Keep-outs.
    pub keep_out_m2: f64,
    /// Uncoated parts.
    pub uncoated_m2: f64,
    /// What is coated of the floor.
    pub net_m2: f64,
    /// Vertical faces.
    pub faces_m2: f64,
    /// Floor and faces.
    pub coated_m2: f64,
    /// Where only a hand grinder reaches.
    pub hand_edge_m2: f64,
}

impl Takeoff {
    /// The patch with this id.
    #[must_use]
    pub fn patch(&self, id: &str) -> Option<&Patch> {
        // They stand by their numbers, and there may be thousands.
        let at = self.patches.partition_point(|patch| id_key(&patch.id) < id_key(id));
        self.patches.get(at).filter(|patch| patch.id == id)
    }
}

/// A step's work.
#[derive(Clone, Debug, Serialize)]
pub struct LippageWork {
    /// Id.
    pub id: String,
    /// Largest step read, mm.
    pub max_step_mm: f64,
    /// Taken down by hand, m.
    pub hand_length_m: f64,
    /// Band by the formula, m².
    pub hand_area_m2: f64,
    /// Concrete removed, L.
    pub removed_l: f64,
    /// Stretches taken down by hand.
    pub stretches: Vec<StepStretch>,
    /// Its band on the floor, one polygon a piece, not clipped.
    #[serde(skip)]
    pub band: Vec<Vec<Point>>,
}

impl LippageWork {
    /// The stretches taken down by hand that have a length.
    pub fn by_hand(&self) -> impl Iterator<Item = &StepStretch> {
        self.stretches.iter().filter(|s| s.to_m - s.from_m > 0.0)
    }
}

/// A stretch of a step taken down by hand; the step runs straight from one end to the other.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StepStretch {
    /// From this station, m.
    pub from_m: f64,
    /// To this station, m.
    pub to_m: f64,
    /// Step at its start, mm.
    pub step_from_mm: f64,
    /// Step at its end, mm.
    pub step_to_mm: f64,
}

/// Totals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Totals {
    /// Joint chased and filled, m.
    pub chase_m: f64,
    /// Joint sawn, m.
    pub saw_m: f64,
    /// Joint cut by hand, m.
    pub hand_cut_m: f64,
    /// Filler in place in joints, L.
    pub fill_l: f64,
    /// Joint and crack honored, m.
    pub honor_m: f64,
    /// Crack treated, m.
    pub crack_m: f64,
    /// Step taken down by hand, m.
    pub hand_grind_m: f64,
    /// Bands on the floor, merged and clipped, m².
    pub hand_grind_m2: f64,
    /// Hand-cut stretches at obstacles.
    pub hand_ends: usize,
    /// Buried joint to be opened, m.
    pub buried_m: f64,
    /// Sealant in place, L.
    pub sealant_l: f64,
    /// Its part that is widened by hand for rod and sealant, m.
    pub widen_m: f64,
    /// Its part that is filled, cut open first or not, m.
    pub crack_fill_m: f64,
    /// Crack cut open, m.
    pub crack_chase_m: f64,
    /// Crack resin in place, L.
    pub crack_fill_l: f64,
    /// Delamination injected, m².
    pub inject_m2: f64,
    /// Ports of injections.
    pub ports: usize,
    /// Injection resin in place, L.
    pub inject_l: f64,
    /// Patch and skim mortar in place, L.
    pub patch_l: f64,
    /// Concrete removed from steps, L.
    pub hand_grind_l: f64,
    /// Blemished area in K, summed over the records, m².
    pub blemish_m2: f64,
    /// Cove at the foot of faces, m.
    pub cove_m: f64,
    /// Mortar in place in coves, L.
    pub cove_l: f64,
    /// Oily floor to be washed, m².
    pub oil_m2: f64,
    /// Old coating and adhesive ground off, kg; what holds lead or asbestos is none of it.
    pub comes_off_kg: f64,
}

/// Air, slab and moisture.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Conditions {
    /// Dew point of the air, °C.
    pub dew_point_c: Option<f64>,
    /// Slab temperature less dew point, K.
    pub spread_c: Option<f64>,
    /// Moisture tests of one kind wanted for the net area.
    pub moisture_tests_wanted: usize,
    /// Tests taken of the relative humidity in the slab (ASTM F2170).
    pub rh_tests: usize,
    /// Tests taken of the vapor emission (ASTM F1869).
    pub mver_tests: usize,
}

impl Conditions {
    /// Tests of the kind of which more were taken: tests of two kinds don't add up.
    #[must_use]
    pub fn moisture_tests_taken(&self) -> usize {
        self.rh_tests.max(self.mver_tests)
    }

    /// Tests of that kind that are still wanted.
    #[must_use]
    pub fn moisture_tests_missing(&self) -> usize {
        self.moisture_tests_wanted.saturating_sub(self.moisture_tests_taken())
    }
}

/// Fall, ponding and flatness.
#[derive(Clone, Debug, Default)]
pub struct LevelReport {
    /// Steepest fall of the best-fit plane, m per m; `None` with fewer than three points.
    pub fall: Option<Fall>,
    /// Where water is likely to stand.
    pub ponding: Vec<LowSpot>,
    /// Rows of readings, each with its numbers.
    pub rows: Vec<(LevelRow, Flatness)>,
}

/// A height that was read below the plane of its neighbours.
#[derive(Clone, Debug)]
pub struct LowSpot {
    /// Which of the sketch's heights, from 1.
    pub number: usize,
    /// The height.
    pub level: Level,
    /// How far below that plane, m.
    pub below_m: f64,
}

/// Fall of a plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Down the fall, unit.
    pub direction: kurbo::Vec2,
    /// Amount, m per m.
    pub slope: f64,
    /// Largest distance of a reading from the plane, m.
    pub worst_m: f64,
}

/// F-numbers of one row (ASTM E1155); `None` where there are too few readings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Flatness {
    /// Flatness.
    pub ff: Option<f64>,
    /// Levelness.
    pub fl: Option<f64>,
}
