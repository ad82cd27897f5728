//! The filling of joints: the order, and where each cartridge should run out.

mod maps;

use std::collections::BTreeSet;

use crate::order::{Leg, Marks, filler_marks};
use crate::quantity::tape::tape;
use crate::quantity::{L_PER_FL_OZ, Units, write};
use crate::slab::Joint;

use super::Inputs;
use super::cautions;
use super::flow::{self, Content, Cursor, Notes};
use super::legend::{Legend, Symbol};
use super::page::{self, Ground, Names, Page, Section};
use super::schedule::{Column, Row, Table};
use crate::paper::words;
use maps::Map;

/// Station of a joint from which its cartridges are taped: where it starts on the slab, m.
#[must_use]
pub fn zero(joint: &Joint) -> f64 {
    joint.on_slab.first().map_or(0.0, |s| s.from_m)
}

/// Filling of joints.
pub struct Filling {
    /// Where the plan finds no room in a column: plans with a title block each, and what stands beside them.
    pub sheets: Vec<Page>,
    /// What flows.
    pub section: Section<'static>,
    /// Whether its legend explains the symbols of what follows too.
    pub explains_behind: bool,
}

/// The filling of a floor; nothing where no joint is filled. `first` is the place in the set, from 0, of the first of its own sheets. The
/// legend of the map explains the symbols `known`; `behind` are those of what follows in the same columns, and one legend explains both.
#[must_use]
pub fn filling(
    inputs: &Inputs,
    ground: &Ground,
    first: usize,
    (known, behind): (&BTreeSet<Symbol>, &BTreeSet<Symbol>),
    named: &mut Names,
) -> Option<Filling> {
    let marks = filler_marks(inputs.slab, inputs.takeoff, inputs.shop);
    if marks.legs.is_empty() {
        return None;
    }
    let (n, m) = (marks.legs.len(), marks.marks.len());
    let about = format!(
        "{} of joint to fill, {}. The table carries the same data as text.",
        words::counted(n, "stretch", "stretches"),
        words::counted(m, "filler mark", "filler marks")
    );
    let mut contents: Vec<Box<dyn Content>> = Vec::new();
    let legend = |used: BTreeSet<Symbol>| -> Box<dyn Content> {
        Box::new(Legend { used, units: inputs.slab.units })
    };
    let order = order(inputs, &marks);
    let figure = maps::figure(inputs, ground, &marks, &order);
    let explains_behind = figure.is_some();
    let maps = match &figure {
        Some(_) => Vec::new(),
        None => maps::maps(inputs, ground, &marks, first),
    };
    let used = maps.iter().flat_map(|m| m.filled.used.clone());
    let used: BTreeSet<Symbol> = used.collect();
    contents.push(Box::new(notes(inputs, &marks, &maps)));
    if let Some((figure, used)) = figure {
        let used = used.union(behind).copied().collect::<BTreeSet<_>>();
        contents.push(legend(used.difference(known).copied().collect()));
        contents.push(Box::new(figure));
    } else {
        if !maps.is_empty() {
            contents.push(legend(used));
        }
        contents.push(Box::new(table(inputs, &marks)));
    }
    let mut section = Section {
        name: "crew-filling",
        title: "FILLING".into(),
        about: about.clone(),
        least: page::TEXT,
        reminder: cautions::reminder(inputs.holds),
        contents: flow::once(contents),
        cursor: Cursor::default(),
    };
    let mut sheets: Vec<Page> = Vec::new();
    if !maps.is_empty() {
        section.remind();
    }
    for map in maps {
        let mut columns: Vec<_> = ground.strip().into_iter().collect();
        let mut groups = map.filled.groups;
        if let Some(key) = map.key {
            groups.extend(flow::fill(&[Box::new(key)], &mut Cursor::default(), &mut columns));
        }
        groups.extend(flow::fill(&section.contents, &mut section.cursor, &mut columns));
        sheets.push(Page {
            name: named.next("crew-filling"),
            title: "FILLING".into(),
            scale: Some(map.scale),
            about: about.clone(),
            groups,
        });
    }
    Some(Filling { sheets, section, explains_behind })
}

fn notes(inputs: &Inputs, marks: &Marks, maps: &[Map]) -> Notes {
    let (units, filler) = (inputs.slab.units, &inputs.shop.filler);
    let cartridge = format!(
        "A mark shows where a cartridge of {}, less {} waste, should run out. Two cartridges past it, the cut is deeper or wider than was \
         sold: stop and say so. Marks are taped along the joint from its ring.",
        package(filler.package.l(), units),
        write::percent(filler.waste.one())
    );
    let mut paragraphs = vec![cartridge];
    let left = maps::left_off(maps, marks);
    if !maps.is_empty() && !left.is_empty() {
        let left = left.join(", ");
        paragraphs.push(format!(
            "No room on the plan for {left}: see the table for the joints and their order."
        ));
    }
    Notes {
        title: "HOW TO FILL".into(),
        paragraphs: paragraphs.into_iter().map(|p| (String::new(), p)).collect(),
        framed: false,
    }
}

/// The order in few words, to stand beside the plan or below it.
fn order(inputs: &Inputs, marks: &Marks) -> Notes {
    let rows = marks.legs.iter().enumerate();
    let rows = rows.filter_map(|(i, leg)| row(inputs, marks, i, leg));
    let said = rows.map(|row| {
        let [number, joint, length, way] = <[String; 4]>::try_from(row.cells).unwrap_or_default();
        let unit = match inputs.slab.units {
            Units::Us => "ft",
            Units::Metric => "m",
        };
        let runs_out = match row.words.as_str() {
            "" => String::new(),
            words => format!(" Runs out: {words}."),
        };
        let words = format!("{length} {unit} {way}.{runs_out}");
        (format!("{number}. {joint}"), words)
    });
    Notes { title: String::new(), paragraphs: said.collect(), framed: false }
}

/// A cartridge as it is sold.
fn package(l: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} fl oz", write::trimmed(l / L_PER_FL_OZ, 1)),
        Units::Metric => format!("{} mL", write::trimmed(l * 1000.0, 0)),
    }
}

/// Stretches in the order of filling, each with the stations at which cartridges run out.
fn table(inputs: &Inputs, marks: &Marks) -> Table {
    let head = |head, right| Column { head, right };
    let feet = match inputs.slab.units {
        Units::Us => "FEET",
        Units::Metric => "M",
    };
    let rows = marks.legs.iter().enumerate();
    Table {
        title: "FILLING ORDER".into(),
        columns: vec![
            head("NO.", false),
            head("JOINT", false),
            head(feet, true),
            head("WAY", false),
        ],
        rows: rows.filter_map(|(i, leg)| row(inputs, marks, i, leg)).collect(),
        total: Vec::new(),
        words_head: "RUNS OUT AT",
    }
}

fn row(inputs: &Inputs, marks: &Marks, i: usize, leg: &Leg) -> Option<Row> {
    let units = inputs.slab.units;
    let joint = leg.joint;
    let within = |s: f64| s >= leg.stretch.from_m - 1e-6 && s <= leg.stretch.to_m + 1e-6;
    let stations: Vec<String> = marks
        .marks
        .iter()
        .filter(|m| m.joint.id == joint.id && within(m.station_m))
        .map(|m| {
            let station = (m.station_m - zero(joint)).max(0.0);
            format!("{} at {}", m.cartridge, tape(station, units))
        })
        .collect();
    let length = match units {
        Units::Us => write::decimal_feet(leg.stretch.length(), 1),
        Units::Metric => write::fixed(leg.stretch.length(), 2),
    };
    Some(Row {
        cells: vec![
            (i + 1).to_string(),
            joint.id.clone(),
            length,
            if leg.backward { "to ring" } else { "from ring" }.into(),
        ],
        words: stations.join("; "),
        ..Row::default()
    })
}

#[cfg(test)]
mod tests;
