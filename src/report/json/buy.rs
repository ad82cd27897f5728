//! The records of the order and the pour lines.

use serde::Serialize;

use super::Number;

const S_PER_MIN: f64 = 60.0;

#[derive(Serialize)]
pub struct OrderJson {
    item: String,
    need: Number,
    unit: &'static str,
    package: Number,
    packages: u64,
    packages_p90: u64,
    packages_p50: u64,
    left_over: Number,
    charged: &'static str,
    used: Number,
    reserve: Number,
    color: Option<String>,
}

impl OrderJson {
    pub fn new(row: &crate::order::OrderRow) -> Self {
        Self {
            item: row.item.to_string(),
            need: Number(row.need),
            unit: row.unit,
            package: Number(row.package),
            packages: row.packages,
            packages_p90: row.packages_p90,
            packages_p50: row.packages_p50,
            left_over: Number(row.left_over),
            charged: row.charged.word(),
            used: Number(row.need / row.package),
            reserve: Number(row.reserve),
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
    distance_m: Number,
    area_behind_m2: Number,
    #[serde(flatten)]
    mixed: MixedJson,
}

/// What is mixed for a batch.
#[derive(Serialize)]
pub struct MixedJson {
    volume_l: Number,
    part_a_l: Option<Number>,
    part_b_l: Option<Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    part_c_l: Option<Number>,
    lay_min: Number,
    pot_life_min: Option<Number>,
}

impl MixedJson {
    fn new(batch: &crate::work::Batch, pot_life_s: Option<f64>) -> Self {
        let part = |place: usize| batch.parts_l.get(place).copied().map(Number);
        Self {
            volume_l: Number(batch.volume_l),
            part_a_l: part(0),
            part_b_l: part(1),
            part_c_l: part(2),
            lay_min: Number(batch.lay_s / S_PER_MIN),
            pot_life_min: pot_life_s.map(|s| Number(s / S_PER_MIN)),
        }
    }
}

impl<'a> PourJson<'a> {
    pub fn new(layer: &'a crate::order::PourLines) -> Self {
        let line = |line: &crate::order::PourLine| PourLineJson {
            batch: line.batch,
            distance_m: Number(line.distance_m),
            area_behind_m2: Number(line.area_behind_m2),
            mixed: MixedJson::new(&line.mixed, layer.pot_life_s),
        };
        Self { layer: &layer.layer, lines: layer.lines.iter().map(line).collect() }
    }
}
