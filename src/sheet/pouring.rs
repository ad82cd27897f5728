//! Pour lines on sheets of their own: one plan for every layer that takes more than one batch.

mod plans;

use std::collections::BTreeSet;

use kurbo::Point;

use crate::geometry::sweep::Sweep;
use crate::hold::say::capital;
use crate::order::{PourLine, PourLines};
use crate::quantity::write;
use crate::slab::{PourSide, Slab};

use super::Inputs;
use super::cautions;
use super::flow::{self, Content, Cursor, Notes};
use super::legend::{Legend, Symbol};
use super::locate::Locator;
use super::page::{Ground, Section, TEXT};
use super::schedule::{Column, Row, Table};
use super::tape::tape;
use super::words;

/// A wall is taken if a line on the floor ends this close to it, m: 2 ft bridge a sill strip that stays uncoated.
const REACH_M: f64 = 0.609_6;
/// A wall that leans less than this from the line (sine of about 12°) is not taped along: a small error would move the line far.
const LEAST_SLOPE: f64 = 0.2;
/// A line this close to the corner it is taped from has nothing to tape, m: half an inch.
const AT_CORNER_M: f64 = 0.012_7;

/// A wall along which lines are taped.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// Index of the wall.
    pub wall: usize,
    /// Whether it is taped from its second corner, which is then the nearer to the pouring side.
    pub backward: bool,
    /// Batch, and the distance along the wall at which its line meets it, m; ascending.
    pub marks: Vec<(usize, f64)>,
}

/// The lines of one layer, or of several layers with the same lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Batches {
    /// Names of the layers.
    pub layers: Vec<String>,
    /// How long each can be worked with, s; `None` where the shop book doesn't say.
    pub pot_life_s: Option<f64>,
    /// All of them; the last ends with the floor.
    pub all: Vec<PourLine>,
    /// Lines at which a batch is used up: of all but the last.
    pub lines: Vec<PourLine>,
    /// Walls that the lines meet.
    pub tapes: Vec<Tape>,
}

/// Lines of all layers, bottom up; layers with the same lines together.
#[must_use]
pub fn batches(slab: &Slab, all: &[PourLines]) -> Vec<Batches> {
    let Some(side) = &slab.pour_from else {
        return Vec::new();
    };
    let start = Sweep::new(&slab.net, side.away).start();
    let mut out: Vec<Batches> = Vec::new();
    for layer in all {
        let same = |b: &&mut Batches| b.all == layer.lines && b.pot_life_s == layer.pot_life_s;
        if let Some(known) = out.iter_mut().find(same) {
            known.layers.push(words::clean(&layer.layer));
            continue;
        }
        let lines: Vec<PourLine> = layer
            .lines
            .iter()
            .filter(|l| !l.chords.is_empty())
            .cloned()
            .collect();
        out.push(Batches {
            layers: vec![words::clean(&layer.layer)],
            pot_life_s: layer.pot_life_s,
            all: layer.lines.clone(),
            tapes: tapes(slab, side, start, &lines),
            lines,
        });
    }
    out
}

/// Where lines meet straight walls.
fn tapes(slab: &Slab, side: &PourSide, start: f64, lines: &[PourLine]) -> Vec<Tape> {
    let mut out = Vec::new();
    for (wall, path) in slab.outline.walls.iter().enumerate() {
        if path.is_curved() {
            continue;
        }
        let behind = |p: Point| p.to_vec2().dot(side.away) - start;
        let (a, b) = (behind(path.start()), behind(path.end()));
        let backward = b < a;
        let (near, far) = if backward { (b, a) } else { (a, b) };
        if far - near < LEAST_SLOPE * path.length() {
            continue;
        }
        let mut marks = Vec::new();
        for line in lines {
            let share = (line.distance_m - near) / (far - near);
            let station = share * path.length();
            if !(0.0..=1.0).contains(&share) || station < AT_CORNER_M {
                continue;
            }
            let at = path.point_at(if backward {
                path.length() - station
            } else {
                station
            });
            let ends = line.chords.iter().flat_map(|(p, q)| [*p, *q]);
            if ends.into_iter().any(|p| p.distance(at) <= REACH_M) {
                marks.push((line.batch, station));
            }
        }
        if !marks.is_empty() {
            marks.sort_by(|a, b| a.1.total_cmp(&b.1));
            out.push(Tape {
                wall,
                backward,
                marks,
            });
        }
    }
    out
}

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
    let all = batches(slab, &order.pour_lines);
    let several: Vec<&Batches> = all.iter().filter(|b| !b.lines.is_empty()).collect();
    if several.is_empty() {
        return Vec::new();
    }
    let plans = plans::plans(inputs, ground, &several);
    let used: BTreeSet<Symbol> = plans
        .all
        .iter()
        .flat_map(|p| p.used.iter().copied())
        .collect();
    let mut contents: Vec<Box<dyn Content>> = Vec::new();
    contents.push(Box::new(notes(inputs, side, &all)));
    contents.push(Box::new(Legend {
        used: used.difference(known).copied().collect(),
        units: slab.units,
    }));
    let none = BTreeSet::new();
    let tables = several.iter().enumerate().map(|(i, one)| {
        let plan = plans.all.get(i);
        let taped = plan.map_or(&none, |plan| &plan.taped);
        let table = |()| -> Box<dyn Content> { Box::new(table(inputs, one, taped)) };
        plan.is_none_or(|plan| !plan.told).then_some(()).map(table)
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
        title: "POURING",
        about: about(&several),
        least,
        reminder: None,
        contents: flow::once(contents),
        cursor: Cursor::default(),
    };
    vec![
        Section {
            reminder: cautions::reminder(inputs.holds),
            ..section(TEXT, contents)
        },
        section(plans.least, wide),
    ]
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
        |wall| {
            format!(
                "wall {}",
                Locator::new(slab).wall_name(wall.saturating_sub(1))
            )
        },
    )
}

fn notes(inputs: &Inputs, side: &PourSide, all: &[Batches]) -> Notes {
    let units = inputs.slab.units;
    let from = side_words(side, inputs.slab);
    let mut paragraphs = vec![(
        String::new(),
        format!(
            "Pour along {from} and pull away from it. A line carries the number of the batch that is used up there. \
             A batch that is used up before its line is laid too thick, or the floor drinks more than was planned; one that reaches beyond it is laid too thin."
        ),
    )];
    paragraphs.push((
        String::new(),
        "Distances along a wall start at the ring, the corner nearer to the pouring side; those of tables are square off that side. North is up on these plans.".into(),
    ));
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
    Notes {
        title: "HOW TO POUR".into(),
        paragraphs,
        framed: false,
    }
}

/// Batches of a layer: what is mixed, how far it goes and how long it may take. Where a line meets the walls is said of those that are
/// not `taped` on its plan.
fn table(inputs: &Inputs, batches: &Batches, taped: &BTreeSet<usize>) -> Table {
    let units = inputs.slab.units;
    let last = batches.all.len();
    let row = |line: &PourLine| {
        let mut words = format!(
            "{}; {}",
            crate::order::words::mix(&line.mixed, units),
            write::span(line.mixed.lay_s)
        );
        let on_plan =
            |t: &&Tape| taped.contains(&t.wall) && t.marks.iter().any(|m| m.0 == line.batch);
        if line.batch < last && !batches.tapes.iter().any(|t| on_plan(&t)) {
            words += &format!("; line {}", meeting(inputs.slab, &batches.tapes, line));
        }
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
    let life = batches.pot_life_s.map_or(String::new(), |life| {
        format!(", POT LIFE {}", write::span(life).to_uppercase())
    });
    Table {
        title: format!("{}{life}", batches.layers.join(", ").to_uppercase()),
        columns: vec![
            head("BATCH", false),
            head("OFF SIDE", true),
            head("AREA DONE", true),
        ],
        rows: batches.all.iter().map(row).collect(),
        total: Vec::new(),
        words_head: "MIX, AND TIME TO LAY IT",
    }
}

/// The same in few words, to stand beside the plan.
fn mixes(inputs: &Inputs, batches: &Batches) -> Notes {
    let units = inputs.slab.units;
    let life = batches
        .pot_life_s
        .map(|life| ("Pot life".to_owned(), format!("{}.", write::span(life))));
    let said = batches.all.iter().map(|line| {
        let until = match line.batch < batches.all.len() {
            true => "to its line",
            false => "at the end",
        };
        let words = format!(
            "{}; {} to lay; {} {until}.",
            crate::order::words::mix(&line.mixed, units),
            write::span(line.mixed.lay_s),
            write::area(line.area_behind_m2, units),
        );
        (format!("Batch {}", line.batch), words)
    });
    Notes {
        title: String::new(),
        paragraphs: life.into_iter().chain(said).collect(),
        framed: false,
    }
}

/// Where a line meets the walls; where it meets none, how its ends are found.
fn meeting(slab: &Slab, tapes: &[Tape], line: &PourLine) -> String {
    let locator = Locator::new(slab);
    let n = slab.outline.walls.len().max(1);
    let marks = tapes
        .iter()
        .flat_map(|t| t.marks.iter().map(move |m| (t, m)));
    let walls: Vec<String> = marks
        .filter(|(_, m)| m.0 == line.batch)
        .map(|(t, m)| {
            let corner = (t.wall + usize::from(t.backward)) % n + 1;
            let wall = locator.wall_name(t.wall);
            format!(
                "{} from corner {corner} along {wall}",
                tape(m.1, slab.units)
            )
        })
        .collect();
    let ends = line.chords.first().zip(line.chords.last());
    match ends {
        Some((a, b)) if walls.is_empty() => locator.line(a.0, b.1, ""),
        _ => walls.join("; "),
    }
}

#[cfg(test)]
mod tests;
