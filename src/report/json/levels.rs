//! The records of heights: fall, ponding, flatness.

use serde::Serialize;

use crate::slab::LevelRow;
use crate::takeoff::{Flatness, LevelReport, LowSpot};

#[derive(Serialize)]
pub struct LevelsJson {
    slope: Option<f64>,
    direction: Option<[f64; 2]>,
    worst_m: Option<f64>,
    ponding: Vec<PondingJson>,
    rows: Vec<FlatnessJson>,
}

#[derive(Serialize)]
pub struct PondingJson {
    level: usize,
    depth_m: f64,
}

#[derive(Serialize)]
pub struct FlatnessJson {
    ff: Option<f64>,
    fl: Option<f64>,
}

impl LevelsJson {
    pub fn new(levels: &LevelReport) -> Self {
        let direction = |fall: crate::takeoff::Fall| [fall.direction.x, fall.direction.y];
        let ponding = |low: &LowSpot| PondingJson { level: low.number, depth_m: low.below_m };
        let row = |(_, found): &(LevelRow, Flatness)| FlatnessJson { ff: found.ff, fl: found.fl };
        Self {
            slope: levels.fall.map(|fall| fall.slope),
            direction: levels.fall.map(direction),
            worst_m: levels.fall.map(|fall| fall.worst_m),
            ponding: levels.ponding.iter().map(ponding).collect(),
            rows: levels.rows.iter().map(row).collect(),
        }
    }
}
