//! The records of heights: fall, ponding, flatness.

use serde::Serialize;

use super::Number;
use crate::takeoff::LevelReport;

#[derive(Serialize)]
pub struct LevelsJson {
    slope: Option<Number>,
    direction: Option<[Number; 2]>,
    worst_m: Option<Number>,
    ponding: Vec<PondingJson>,
    rows: Vec<FlatnessJson>,
}

#[derive(Serialize)]
pub struct PondingJson {
    level: usize,
    depth_m: Number,
}

#[derive(Serialize)]
pub struct FlatnessJson {
    ff: Option<Number>,
    fl: Option<Number>,
}

impl LevelsJson {
    pub fn new(levels: &LevelReport) -> Self {
        let direction =
            |fall: crate::takeoff::Fall| [Number(fall.direction.x), Number(fall.direction.y)];
        let ponding = |&(index, depth): &(usize, f64)| PondingJson {
            level: index + 1,
            depth_m: Number(depth),
        };
        let row = |row: &crate::takeoff::Flatness| FlatnessJson {
            ff: row.ff.map(Number),
            fl: row.fl.map(Number),
        };
        Self {
            slope: levels.fall.map(|fall| Number(fall.slope)),
            direction: levels.fall.map(direction),
            worst_m: levels.fall.map(|fall| Number(fall.worst_m)),
            ponding: levels.ponding.iter().map(ponding).collect(),
            rows: levels.rows.iter().map(row).collect(),
        }
    }
}
