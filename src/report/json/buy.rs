//! The records of the order and the pour lines.

use serde::Serialize;

use super::Number;

#[derive(Serialize)]
pub struct OrderJson<'a> {
    item: &'a str,
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

impl<'a> OrderJson<'a> {
    pub fn new(row: &'a crate::order::OrderRow) -> Self {
        Self {
            item: &row.item,
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
}

impl<'a> PourJson<'a> {
    pub fn new(layer: &'a crate::order::PourLines) -> Self {
        let line = |line: &crate::order::PourLine| PourLineJson {
            batch: line.batch,
            distance_m: Number(line.distance_m),
            area_behind_m2: Number(line.area_behind_m2),
        };
        Self {
            layer: &layer.layer,
            lines: layer.lines.iter().map(line).collect(),
        }
    }
}
