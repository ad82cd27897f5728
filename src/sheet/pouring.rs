//! Pour lines on sheets of their own: one plan for every layer that takes more than one batch.

mod plans;

use std::collections::BTreeSet;

use crate::hold::say::capital;
use crate::order::PourLine;
use crate::order::taped::{Batches, Tape, batches};
use crate::quantity::tape::tape;
use crate::quantity::write;
use crate::slab::directions::Locator;
use crate::slab::{PourSide, Slab};

use super::Inputs;
use super::cautions;
use super::flow::{self, Content, Cursor, Notes};
use super::legend::{Legend, Symbol};
use super::page::{Ground, Section, TEXT};
use super::schedule::{Column, Row, Table};
use crate::paper::scale::Scale;
use crate::paper::words;

/// Pour lines, and what is mixed for them; nothing where no layer takes more than one batch. `known` are the symbols that the legend of
/// the map explains.
#[must_use]
pub fn sections(
    inputs: &Inputs,
    ground: &Ground,
    known: &BTreeSet<Symbol>,
) -> Vec<Section<'static>> {
    let slab = inputs.slab;
    let (Some(order), Some(side)) = (inputs.order, slab.pour_from.as_ref()) else {
        return Vec::new();
    };
    let mut all = batches(slab, &order.pour_lines);
    let names = all.iter_mut().flat_map(|one| &mut one.layers);
    names.for_each(|name| *name = words::clean(name));
    let several: Vec<&Batches> = all.iter().filter(|b| !b.lines.is_empty()).collect();
    if several.is_empty() {
        return Vec::new();
    }
    let plans = plans::plans(inputs, ground, &several);
    let used: BTreeSet<Symbol> = plans.all.iter().flat_map(|p| p.used.iter().copied()).collect();
    let tables = plans.all.len() < several.len() || plans.all.iter().any(|plan| !plan.told);
    let mut contents: Vec<Box<dyn Content>> = Vec::new();
    contents.push(Box::new(notes(inputs, side, &all, (plans.scale, tables))));
    contents.push(Box::new(Legend {
        used: used.difference(known).copied().collect(),
        units: slab.units,
    }));
    let none = BTreeSet::new();
    let tables = several.iter().enumerate().map(|(i, one)| {
        let plan = plans.all.get(i);
        let taped = plan.map_or(&none, |plan| &plan.taped);
        let table = || -> Box<dyn Content> { Box::new(table(inputs, one, taped)) };
        plan.is_none_or(|plan| !plan.told).then(table)
    });
    let mut tables = tables.collect::<Vec<_>>().into_iter();
    // In columns of text tables stand before the plans: they go on where a plan would leave a gap. In wider ones each stands below its
    // plan, where its rows are short.
    if plans.least <= TEXT {
        contents.extend(tables.by_ref().flatten());
    }
    let mut wide: Vec<Box<dyn Content>> = Vec::new();
    for plan in plans.all {
        wide.push(Box::new(plan.figure));
        wide.extend(tables.next().flatten());
    }
    wide.extend(tables.flatten());
    let section = |least, contents| Section {
        name: "crew-pouring",
        title: "POURING".into(),
        about: about(&several),
        least,
        reminder: None,
        contents: flow::once(contents),
        cursor: Cursor::default(),
    };
    vec![
        Section { reminder: cautions::reminder(inputs.holds), ..section(TEXT, contents) },
        section(plans.least, wide),
    ]
}

/// The symbols that no other sheet has: none where no layer takes more than one batch.
#[must_use]
pub fn symbols(inputs: &Inputs) -> BTreeSet<Symbol> {
    let lines = inputs.order.map_or(&[][..], |order| &order.pour_lines);
    let several = inputs.slab.pour_from.is_some() && lines.iter().any(|of| of.lines.len() > 1);
    several.then_some(Symbol::Pour).into_iter().collect()
}

/// What is shown, in a sentence.
fn about(all: &[&Batches]) -> String {
    let count: usize = all.iter().map(|b| b.lines.len()).sum();
    let layers: Vec<String> = all.iter().map(|b| b.layers.join(" and ")).collect();
    format!(
        "{} for {}. The tables carry the same data as text.",
        words::counted(count, "pour line", "pour lines"),
        layers.join(", ")
    )
}

/// The pouring side as it is said.
pub(super) fn side_words(side: &PourSide, slab: &Slab) -> String {
    side.wall.map_or_else(
        || format!("the {} side", side.name),
        |wall| format!("wall {}", Locator::new(slab).wall_name(wall.saturating_sub(1))),
    )
}

/// How the lines are used, with the scale of their plans; whether tables say how far they are off the side.
fn notes(
    inputs: &Inputs,
    side: &PourSide,
    all: &[Batches],
    (scale, tables): (Option<Scale>, bool),
) -> Notes {
    let units = inputs.slab.units;
    let from = side_words(side, inputs.slab);
    let scale = scale.map_or(String::new(), |scale| format!(", the scale {}", scale.text(units)));
    let mut paragraphs = vec![(
        String::new(),
        format!(
            "Pour along {from} and pull away from it. At a line its batch is used up. \
             Used up before, it is laid too thick or the floor drinks more than planned; beyond, too thin. \
             Tapes along a wall start at the ring; north is up{scale}."
        ),
    )];
    if tables {
        let off = "Distances of the tables are square off that side.";
        paragraphs.push((String::new(), off.into()));
    }
    for one in all.iter().filter(|b| b.lines.is_empty()) {
        let Some(only) = one.all.first() else {
            continue;
        };
        paragraphs.push((
            capital(&one.layers.join(" and ")),
            format!(
                "One batch does the whole floor, {}: {}.",
                write::area(only.area_behind_m2, units),
                crate::order::words::mix(&only.mixed, units)
            ),
        ));
    }
    Notes { title: "HOW TO POUR".into(), paragraphs, framed: false }
}

/// Batches of a layer: what is mixed, how far it goes and how long it may take. Where a line meets the walls is said of those that are
/// not `taped` on its plan.
fn table(inputs: &Inputs, batches: &Batches, taped: &BTreeSet<usize>) -> Table {
    let units = inputs.slab.units;
    let row = |line: &PourLine| {
        let words = format!(
            "{}; {}{}",
            crate::order::words::mix(&line.mixed, units),
            write::span(line.mixed.lay_s),
            untaped(inputs.slab, batches, line, taped),
        );
        Row {
            cells: vec![
                line.batch.to_string(),
                tape(line.distance_m, units),
                write::area(line.area_behind_m2, units),
            ],
            words,
            ..Row::default()
        }
    };
    let head = |head, right| Column { head, right };
    let life = batches
        .pot_life_s
        .map_or(String::new(), |life| format!(", POT LIFE {}", write::span(life).to_uppercase()));
    Table {
        title: format!("{}{life}", batches.layers.join(", ").to_uppercase()),
        columns: vec![head("BATCH", false), head("OFF SIDE", true), head("AREA DONE", true)],
        rows: batches.all.iter().map(row).collect(),
        total: Vec::new(),
        words_head: "MIX, AND TIME TO LAY IT",
    }
}

/// The same in few words, to stand with the plan.
fn mixes(inputs: &Inputs, batches: &Batches, taped: &BTreeSet<usize>) -> Notes {
    let units = inputs.slab.units;
    let said = batches.all.iter().map(|line| {
        let words = format!(
            "{}, in {}; {} done{}.",
            crate::order::words::mix(&line.mixed, units),
            write::span(line.mixed.lay_s),
            write::area(line.area_behind_m2, units),
            untaped(inputs.slab, batches, line, taped),
        );
        (format!("Batch {}", line.batch), words)
    });
    Notes { title: String::new(), paragraphs: said.collect(), framed: false }
}

/// Where a line is found that no tape on the plan shows.
fn untaped(slab: &Slab, batches: &Batches, line: &PourLine, taped: &BTreeSet<usize>) -> String {
    let on_plan = |t: &Tape| taped.contains(&t.wall) && t.marks.iter().any(|m| m.0 == line.batch);
    if line.batch == batches.all.len() || batches.tapes.iter().any(on_plan) {
        return String::new();
    }
    format!("; line {}", meeting(slab, &batches.tapes, line))
}

/// Where a line meets the walls; where it meets none, how its ends are found.
fn meeting(slab: &Slab, tapes: &[Tape], line: &PourLine) -> String {
    let locator = Locator::new(slab);
    let marks = tapes.iter().flat_map(|t| t.marks.iter().map(move |m| (t, m)));
    let walls: Vec<String> = marks
        .filter(|(_, m)| m.0 == line.batch)
        .map(|(t, m)| {
            let wall = locator.name_from(t.wall, t.backward);
            format!("{wall} {}", tape(m.1, slab.units))
        })
        .collect();
    let ends = line.chords.first().zip(line.chords.last());
    match ends {
        Some((a, b)) if walls.is_empty() => locator.line(a.0, b.1, ""),
        // A line wants two points to be snapped.
        _ if walls.len() == 1 => format!("{}, elsewhere as far off the side", walls[0]),
        _ => walls.join("; "),
    }
}

#[cfg(test)]
mod tests;
