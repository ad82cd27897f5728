//! The records of the order and the pour lines.

use serde::Serialize;

const S_PER_MIN: f64 = 60.0;

#[derive(Serialize)]
pub struct OrderJson {
    item: String,
    need: f64,
    unit: &'static str,
    package: f64,
    packages: u64,
    packages_p90: u64,
    packages_p50: u64,
    left_over: f64,
    charged: &'static str,
    used: f64,
    reserve: f64,
    color: Option<String>,
}

impl OrderJson {
    pub fn new(row: &crate::order::OrderRow) -> Self {
        Self {
            item: row.item.to_string(),
            need: row.need,
            unit: row.unit,
            package: row.package,
            packages: row.packages,
            packages_p90: row.packages_p90,
            packages_p50: row.packages_p50,
            left_over: row.left_over,
            charged: row.charged.word(),
            used: row.need / row.package,
            reserve: row.reserve,
            color: row.chosen.named(),
        }
    }
}

#[derive(Serialize)]
pub struct PourJson<'a> {
    layer: &'a str,
    lines: Vec<PourLineJson>,
}

#[derive(Serialize)]
pub struct PourLineJson {
    batch: usize,
    distance_m: f64,
    area_behind_m2: f64,
    #[serde(flatten)]
    mixed: MixedJson,
}

/// What is mixed for a batch.
#[derive(Serialize)]
pub struct MixedJson {
    volume_l: f64,
    part_a_l: Option<f64>,
    part_b_l: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    part_c_l: Option<f64>,
    lay_min: f64,
    pot_life_min: Option<f64>,
}

impl MixedJson {
    fn new(batch: &crate::work::Batch, pot_life_s: Option<f64>) -> Self {
        let part = |place: usize| batch.parts_l.get(place).copied();
        Self {
            volume_l: batch.volume_l,
            part_a_l: part(0),
            part_b_l: part(1),
            part_c_l: part(2),
            lay_min: batch.lay_s / S_PER_MIN,
            pot_life_min: pot_life_s.map(|s| s / S_PER_MIN),
        }
    }
}

impl<'a> PourJson<'a> {
    pub fn new(layer: &'a crate::order::PourLines) -> Self {
        let line = |line: &crate::order::PourLine| PourLineJson {
            batch: line.batch,
            distance_m: line.distance_m,
            area_behind_m2: line.area_behind_m2,
            mixed: MixedJson::new(&line.mixed, layer.pot_life_s),
        };
        Self { layer: &layer.layer, lines: layer.lines.iter().map(line).collect() }
    }
}
