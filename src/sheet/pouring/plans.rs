//! The plan of each layer, at the largest standard scale at which it fits into a column.

use std::collections::BTreeSet;

use crate::ink::{Align, Group, Mark, PaperPoint};

use super::Batches;
use crate::paper::draw;
use crate::paper::mm::{Box2, Shift, at, by};
use crate::paper::scale::Scale;
use crate::paper::style;
use crate::paper::words;
use crate::quantity::write;
use crate::sheet::Inputs;
use crate::sheet::flow;
use crate::sheet::flow::{Figure, Notes};
use crate::sheet::legend::Symbol;
use crate::sheet::page::{Ground, TEXT};
use crate::sheet::plan as draw_plan;
use crate::sheet::view::View;

/// Room around a floor for dimensions and corner numbers, mm.
const AROUND: f64 = 21.0;
/// How far a plan is moved in its room where a tape wants more of it on one side, mm.
const ASIDE: f64 = 4.0;
/// Room before and behind a floor that is poured along the sheet, where tapes lie beside it alone, mm.
const AROUND_ENDS: f64 = 10.0;
/// A pull that leans less than this from the sheet's edge (sine of about 1°) is along it.
const LEAST_LEAN: f64 = 0.02;
/// Smallest scale at which a few lines and their numbers can be read: 1/16" = 1'-0", 1:200.
const COARSEST: f64 = 200.0;
/// Room over a plan for its title, mm.
const HEAD: f64 = 7.0;
/// Room below a plan for its table, where two stand in a column, mm.
const BELOW: f64 = 3.0;

/// The plan of one layer, drawn for a column.
pub(super) struct Plan {
    pub(super) figure: Figure,
    /// Whether what is mixed is said with it.
    pub(super) told: bool,
    pub(super) used: BTreeSet<Symbol>,
    /// Walls along which its lines are taped on it.
    pub(super) taped: BTreeSet<usize>,
}

/// The plans of all layers.
pub(super) struct Plans {
    /// Narrowest column that holds them, mm.
    pub(super) least: f64,
    /// The scale of all of them.
    pub(super) scale: Option<Scale>,
    /// The plans; none where the floor is too large.
    pub(super) all: Vec<Plan>,
}

/// The plans of all layers and the narrowest column that holds them large enough for a crew to read: a column of text, half a sheet or a
/// whole one, in each with two plans if that can be, else one. No plans where the floor is too large for any of these.
pub(super) fn plans(inputs: &Inputs, ground: &Ground, all: &[&Batches]) -> Plans {
    let wide = ground.text.width();
    let half = wide / 2.0;
    let ways = [(TEXT, 0.5), (TEXT, 1.0), (half, 0.5), (half, 1.0), (wide, 1.0)];
    let found = ways.into_iter().find_map(|(least, share)| {
        let column = ground.column(least);
        let scale = scale(inputs, column.0, column.1 * share - BELOW)?;
        Some((least, column, scale))
    });
    let Some((least, column, scale)) = found else {
        return Plans { least: TEXT, scale: None, all: Vec::new() };
    };
    let plan = |batches: &&Batches| plan(inputs, batches, (column, least <= TEXT), scale);
    Plans { least, scale: Some(scale), all: all.iter().map(plan).collect() }
}

/// The largest standard scale at which the floor fits, if its lines can be read at it.
fn scale(inputs: &Inputs, width: f64, height: f64) -> Option<Scale> {
    let floor = inputs.slab.outline.path.bounds();
    let (beside, above) = around(inputs);
    let fits = |scale: &Scale| {
        let k = scale.mm_per_m();
        floor.width() * k + 2.0 * beside <= width
            && floor.height() * k + 2.0 * above + HEAD <= height
    };
    let found = Scale::standard(inputs.slab.units).into_iter().find(fits)?;
    (found.ratio <= COARSEST).then_some(found)
}

/// Room beside a floor and above and below it, mm.
fn around(inputs: &Inputs) -> (f64, f64) {
    let Some(side) = &inputs.slab.pour_from else {
        return (AROUND, AROUND);
    };
    let along = |leaning: f64| {
        if leaning.abs() < LEAST_LEAN { AROUND_ENDS } else { AROUND }
    };
    (along(side.away.y), along(side.away.x))
}

/// The plan of a layer for a column. If `told`, it says what is mixed even where there is no room beside it.
fn plan(
    inputs: &Inputs,
    batches: &Batches,
    (column, told): ((f64, f64), bool),
    scale: Scale,
) -> Plan {
    let width = column.0;
    let floor = inputs.slab.outline.path.bounds();
    let (aside, above) = around(inputs);
    let height = floor.height() * scale.mm_per_m() + 2.0 * above + HEAD;
    let own = floor.width() * scale.mm_per_m() + 2.0 * aside;
    let drawn = |width: f64, shift: f64| {
        let window = Box2::new(0.0, HEAD, width, height);
        let view = View::centered(scale, floor, window.center() + by(shift, 0.0));
        (view, draw_plan::pour(inputs, &view, &window, batches))
    };
    // The text of a tape may want more room on one side.
    let all_taped = |width: f64| {
        let mut tries = [0.0, -ASIDE, ASIDE].into_iter().map(|shift| drawn(width, shift));
        tries.find(|(_, (.., taped))| taped.len() == batches.tapes.len())
    };
    let every: BTreeSet<usize> = batches.tapes.iter().map(|t| t.wall).collect();
    // Beside the plan is no room to say where a line meets walls that have no tape.
    let beside = flow::room_beside(own, width)
        .map(|room| flow::beside(&super::mixes(inputs, batches, &every), room, width))
        .filter(|mixes| mixes.height + HEAD <= height)
        .and_then(|mixes| Some((mixes, all_taped(own)?)));
    let (beside, (view, (groups, used, taped))) = match beside {
        Some((mixes, drawn)) => (Some(mixes), drawn),
        None => (None, all_taped(width).unwrap_or_else(|| drawn(width, 0.0))),
    };
    let told = told || beside.is_some();
    let below = match beside {
        None if told => super::mixes(inputs, batches, &taped),
        _ => Notes::default(),
    };
    // Over everything that is written above the floor; nothing reaches over the window.
    let above = match beside {
        Some(_) => HEAD,
        None => top_of(&groups).min(view.rectangle(floor).top - 8.0).max(HEAD),
    };
    // Ids name an item once in a file; these plans carry none.
    let mut groups: Vec<Group> = groups.into_iter().map(nameless).collect();
    groups.push(title(inputs, batches, (at(0.0, above - 3.0), width)));
    groups.extend(beside.map(|mixes| draw::moved(mixes.group, by(0.0, HEAD))));
    let figure = Figure { height, groups, below, ..Figure::default() }.of_columns(column);
    Plan { told, figure, used, taped }
}

/// What a plan shows, with an arrow the way the material is pulled.
fn title(inputs: &Inputs, batches: &Batches, (from, right): (PaperPoint, f64)) -> Group {
    let head = style::head();
    let mut marks = Vec::new();
    let mut x = from.x + 1.0;
    if let Some(side) = &inputs.slab.pour_from {
        let along = by(side.away.x, -side.away.y).unit();
        let middle = at(x + 4.0, from.y - head.cap() / 2.0);
        marks.extend(arrow(middle, along));
        x += 10.5;
    }
    let name = words::upper(&batches.layers.join(" and "));
    let life =
        batches.pot_life_s.map_or(String::new(), |s| format!(", pot life {}", write::span(s)));
    let rest = format!("{} batches{life}", batches.all.len());
    marks.extend(flow::plan_title(&name, &rest, at(x, from.y), right - x - 1.0));
    draw::group("", "view-title", marks)
}

/// An arrow about a point.
fn arrow(middle: PaperPoint, along: Shift) -> Vec<Mark> {
    let (foot, tip) = (middle + along * -4.0, middle + along * 4.0);
    let back = tip + along * -3.0;
    let side = along.left() * 1.3;
    vec![
        draw::line(foot, back, style::REMOVAL),
        draw::polygon(&[tip, back + side, back + (-side)], None, Some(crate::ink::BLACK)),
    ]
}

/// Upper edge of the highest text in some groups, mm.
fn top_of(groups: &[Group]) -> f64 {
    let mark = |m: &Mark| match m {
        Mark::Text(t) => {
            let style = style::Type { size: t.size, weight: t.weight };
            let share = if t.align == Align::Middle { 0.5 } else { 1.0 };
            let up = t.turn.to_radians().sin().abs() * words::width(&t.text, style) * share;
            t.at.y - up - t.size
        }
        Mark::Group(inner) => top_of(std::slice::from_ref(inner)),
        Mark::Path(_) | Mark::Image(_) => f64::INFINITY,
    };
    let marks = groups.iter().flat_map(|g| &g.marks).map(mark);
    marks.fold(f64::INFINITY, f64::min)
}

/// A group without ids.
fn nameless(mut group: Group) -> Group {
    group.id = String::new();
    for mark in &mut group.marks {
        if let Mark::Group(inner) = mark {
            *inner = nameless(std::mem::take(inner));
        }
    }
    group
}
