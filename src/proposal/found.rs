//! What was tested, and what follows from it.

use super::scope::heading;
use super::voice::{Voice, count};
use crate::diagnostic::Severity;
use crate::document::{Block, Column, Row, Table};
use crate::floor::Survey;
use crate::hold::Code;
use crate::quantity::write;

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
                Column::left("Where"),
                Column::right("Readings"),
                Column::right("Limit"),
            ],
            rows,
            whole: true,
        }));
    }
    let mut said = moisture(voice);
    if !floor.sketch.tests.hardness.is_empty() {
        said.extend(voice.say("hardness"));
    }
    let findings = &floor.takeoff.findings;
    if let Some(dew) = findings.iter().find(|f| f.code == "dew-point") {
        let low = dew.severity >= Severity::Warning;
        said.extend(voice.say(if low { "dew_low" } else { "dew_ok" }));
    }
    if !said.is_empty() {
        out.push(Block::Paragraph(said.join(" ").into()));
    }
    out
}

fn moisture(voice: &mut Voice) -> Vec<String> {
    let floor = voice.inputs.floor;
    let over = floor.holds.iter().any(|h| h.code == Code::MoistureOverLimit);
    let conditions = &floor.takeoff.conditions;
    let taken = conditions.moisture_tests_taken();
    if taken == 0 {
        return voice.say("moisture_none").into_iter().collect();
    }
    let key = if over { "moisture_over" } else { "moisture_within" };
    let mut out: Vec<String> = voice.say(key).into_iter().collect();
    if conditions.moisture_tests_missing() > 0
        && let Some(said) = voice.say("moisture_few")
    {
        let made = format!(
            "{} of one kind made, {} are usual.",
            count(taken, "moisture test"),
            conditions.moisture_tests_wanted
        );
        out.extend([made, said]);
    }
    out
}

fn row(cells: [String; 4]) -> Row {
    Row { cells: cells.to_vec(), total: false }
}

/// A row for each kind of test: its readings side by side.
fn rows(floor: &Survey) -> Vec<Row> {
    let units = floor.slab.units;
    let limits = &floor.shop.moisture.limits;
    let moisture = floor.slab.moisture.iter();
    let rh: Vec<String> = moisture.clone().filter_map(|t| t.rh).map(write::percent).collect();
    let mver: Vec<String> = moisture.filter_map(|t| t.mver).map(|m| write::trimmed(m, 2)).collect();
    let kinds = [
        (
            "Moisture in the slab, relative humidity (ASTM F2170)",
            rh,
            write::percent(limits.rh.one()),
        ),
        (
            "Moisture leaving the slab, lb per 1000 ft² in 24 h (ASTM F1869)",
            mver,
            write::trimmed(limits.mver, 2),
        ),
    ];
    let mut out = Vec::new();
    for (name, readings, limit) in kinds.into_iter().filter(|(_, readings, _)| !readings.is_empty())
    {
        let places = count(readings.len(), "place");
        out.push(row([name.into(), places, readings.join(", "), limit]));
    }
    let mohs: Vec<String> =
        floor.sketch.tests.hardness.iter().map(|h| write::trimmed(h.mohs.value, 1)).collect();
    if !mohs.is_empty() {
        let places = count(mohs.len(), "place");
        out.push(row(["Hardness (Mohs)".into(), places, mohs.join(", "), String::new()]));
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
        format!("Slab above the dew point of {}", write::temperature(dew, units)),
        "slab".into(),
        write::temperature_difference(spread, units),
        format!("at least {least}"),
    ]))
}
