//! What was tested, and what follows from it.

use super::scope::heading;
use super::voice::{Voice, count};
use crate::diagnostic::Severity;
use crate::document::{Block, Column, Row, Table};
use crate::hold::Code;
use crate::quantity::write;
use crate::survey::Survey;
use crate::takeoff::words::clean;

/// Readings as a table, and sentences on moisture, hardness and dew point.
pub(super) fn tests(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let mut out = vec![heading(2, "What the tests say")];
    let rows = rows(floor);
    if !rows.is_empty() {
        out.push(Block::Table(Table {
            caption: "Readings of the survey".into(),
            columns: vec![
                Column::left("Test"),
                Column::left("Place"),
                Column::right("Reading"),
                Column::right("Limit"),
            ],
            rows,
            whole: true,
        }));
    }
    out.extend(moisture(voice));
    if !floor.sketch.tests.hardness.is_empty() {
        out.extend(voice.paragraph("hardness"));
    }
    let dew = floor
        .takeoff
        .findings
        .iter()
        .find(|f| f.code == "dew-point");
    if let Some(dew) = dew {
        let low = dew.severity >= Severity::Warning;
        out.extend(voice.paragraph(if low { "dew_low" } else { "dew_ok" }));
    }
    out
}

fn moisture(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let over = floor
        .holds
        .iter()
        .any(|h| h.code == Code::MoistureOverLimit);
    let conditions = &floor.takeoff.conditions;
    let taken = conditions.moisture_tests_taken();
    if taken == 0 {
        return voice.paragraph("moisture_none").into_iter().collect();
    }
    let mut out: Vec<Block> = Vec::new();
    out.extend(voice.paragraph(if over {
        "moisture_over"
    } else {
        "moisture_within"
    }));
    if conditions.moisture_tests_missing() > 0
        && let Some(said) = voice.say("moisture_few")
    {
        let made = format!(
            "{} of one kind made, {} are usual.",
            count(taken, "moisture test"),
            conditions.moisture_tests_wanted
        );
        out.push(Block::Paragraph(format!("{made} {said}").into()));
    }
    out
}

fn row(cells: [String; 4]) -> Row {
    Row {
        cells: cells.to_vec(),
        total: false,
    }
}

fn rows(floor: &Survey) -> Vec<Row> {
    let units = floor.slab.units;
    let limits = &floor.shop.moisture.limits;
    let mut out = Vec::new();
    for test in &floor.slab.moisture {
        let place = clean(&test.id);
        if let Some(rh) = test.rh {
            out.push(row([
                "Moisture in the slab (ASTM F2170)".into(),
                place.clone(),
                format!("{} RH", write::percent(rh)),
                format!("{} RH", write::percent(limits.rh.one())),
            ]));
        }
        if let Some(mver) = test.mver {
            out.push(row([
                "Moisture leaving the slab, lb per 1000 ft² in 24 h (ASTM F1869)".into(),
                place,
                format!("{} lb", write::trimmed(mver, 2)),
                format!("{} lb", write::trimmed(limits.mver, 2)),
            ]));
        }
    }
    let mohs: Vec<String> = floor
        .sketch
        .tests
        .hardness
        .iter()
        .map(|h| write::trimmed(h.mohs.value, 1))
        .collect();
    if !mohs.is_empty() {
        let places = count(mohs.len(), "place");
        out.push(row([
            "Hardness (Mohs)".into(),
            places,
            mohs.join(", "),
            String::new(),
        ]));
    }
    out.extend(air(floor, units));
    out
}

fn air(floor: &Survey, units: crate::quantity::Units) -> Option<Row> {
    let conditions = &floor.takeoff.conditions;
    let (dew, spread) = (conditions.dew_point_c?, conditions.spread_c?);
    let least = match units {
        crate::quantity::Units::Us => "5 °F",
        crate::quantity::Units::Metric => "3 °C",
    };
    Some(row([
        format!(
            "Slab above the dew point of {}",
            write::temperature(dew, units)
        ),
        "slab".into(),
        write::temperature_difference(spread, units),
        format!("at least {least}"),
    ]))
}
