//! The filling of joints on a sheet of its own: the order, and where each cartridge should run out.

use crate::ink::Group;
use crate::order::{Leg, Marks, filler_marks};
use crate::quantity::{L_PER_FL_OZ, Units, write};
use crate::slab::Joint;

use super::Inputs;
use super::days::numbered;
use super::flow::{self, Content, Cursor, Notes};
use super::legend::Legend;
use super::mm::Box2;
use super::page::{self, Ground, Page};
use super::plan;
use super::scale::Scale;
use super::schedule::{Column, Row, Table};
use super::tape::tape;
use super::view::View;
use super::words;

/// Room around the floor for corner numbers and tags, mm.
const AROUND: f64 = 14.0;

/// Station of a joint from which its cartridges are taped: where it starts on the slab, m.
#[must_use]
pub fn zero(joint: &Joint) -> f64 {
    joint.on_slab.first().map_or(0.0, |s| s.from_m)
}

/// The sheets of filling; none where no joint is filled.
#[must_use]
pub fn pages(inputs: &Inputs, ground: &Ground) -> Vec<Page> {
    let marks = filler_marks(inputs.slab, inputs.takeoff, inputs.shop);
    if marks.legs.is_empty() {
        return Vec::new();
    }
    let (n, m) = (marks.legs.len(), marks.marks.len());
    let about = format!(
        "{} of joint to fill, {}. The table carries the same data as text.",
        words::counted(n, "stretch", "stretches"),
        words::counted(m, "filler mark", "filler marks")
    );
    let mut contents: Vec<Box<dyn Content>> = Vec::new();
    let mut groups = Vec::new();
    let scale = scale(inputs, ground);
    if let Some(scale) = scale {
        let (drawn, used) = drawing(inputs, ground, scale, &marks);
        groups = drawn;
        let units = inputs.slab.units;
        contents.push(Box::new(Legend { used, units }));
    }
    contents.push(Box::new(notes(inputs, &marks)));
    contents.push(Box::new(table(inputs, &marks)));
    let mut cursor = Cursor::default();
    let mut columns = match scale {
        Some(_) => ground.strip().into_iter().collect(),
        None => ground.columns(page::TEXT),
    };
    groups.extend(flow::fill(&contents, &mut cursor, &mut columns));
    let mut pages = vec![sheet(0, &about, scale, groups)];
    while cursor.content < contents.len() && pages.len() < page::MOST_SHEETS {
        let groups = flow::fill(&contents, &mut cursor, &mut ground.columns(page::TEXT));
        pages.push(sheet(pages.len(), &about, None, groups));
    }
    pages
}

fn sheet(i: usize, about: &str, scale: Option<Scale>, groups: Vec<Group>) -> Page {
    Page {
        name: numbered("crew-filling", i),
        title: "FILLING",
        scale,
        about: about.to_owned(),
        groups,
    }
}

/// The largest standard scale at which the floor fits.
fn scale(inputs: &Inputs, ground: &Ground) -> Option<Scale> {
    let zone = ground.drawing();
    let floor = inputs.slab.outline.path.bounds();
    Scale::standard(inputs.slab.units).into_iter().find(|s| {
        let k = s.mm_per_m();
        floor.width() * k + 2.0 * AROUND <= zone.width()
            && floor.height() * k + 2.0 * AROUND + ground.foot() <= zone.height()
    })
}

fn drawing(
    inputs: &Inputs,
    ground: &Ground,
    scale: Scale,
    marks: &Marks,
) -> (
    Vec<Group>,
    std::collections::BTreeSet<super::legend::Symbol>,
) {
    let zone = ground.drawing();
    let window = Box2::new(
        zone.left + 1.0,
        zone.top + 1.0,
        zone.right - 1.0,
        zone.bottom - ground.foot(),
    );
    let floor = inputs.slab.outline.path.bounds();
    let view = View::centered(scale, floor, window.center());
    let (mut groups, used) = plan::fill(inputs, &view, &window, marks);
    groups.extend(ground.foot_marks(scale, inputs.slab.units));
    (groups, used)
}

fn notes(inputs: &Inputs, marks: &Marks) -> Notes {
    let (units, filler) = (inputs.slab.units, &inputs.shop.filler);
    let walk = |m: f64| write::run(m, units);
    let order = format!(
        "Filled in this order the crew walks {} from joint to joint; in the order of the sketch it would walk {}.",
        walk(marks.walk_m),
        walk(marks.naive_m)
    );
    let cartridge = format!(
        "A mark shows where a cartridge of {}, {} waste taken off, should run out; the last one ends with the work. \
         Two cartridges past a mark, and the cut is deeper or wider than was sold: stop and say so.",
        package(filler.package.l(), units),
        write::percent(filler.waste.one())
    );
    Notes {
        title: "HOW TO FILL".into(),
        paragraphs: vec![
            (String::new(), order),
            (String::new(), cartridge),
            (
                String::new(),
                "Marks are taped along the joint from its ring.".into(),
            ),
        ],
        framed: false,
    }
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
        rows: rows
            .filter_map(|(i, leg)| row(inputs, marks, i, leg))
            .collect(),
        total: Vec::new(),
        words_head: "RUNS OUT AT",
    }
}

fn row(inputs: &Inputs, marks: &Marks, i: usize, leg: &Leg) -> Option<Row> {
    let units = inputs.slab.units;
    let joint = inputs.slab.joints.get(leg.joint)?;
    let within = |s: f64| s >= leg.stretch.from_m - 1e-6 && s <= leg.stretch.to_m + 1e-6;
    let stations: Vec<String> = marks
        .marks
        .iter()
        .filter(|m| m.joint == leg.joint && within(m.station_m))
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
