//! The plans of several layers side by side, at the largest standard scale at which they fit.

use std::collections::BTreeSet;

use crate::ink::{Align, Group, Mark, PaperPoint};

use super::super::Inputs;
use super::super::draw;
use super::super::legend::Symbol;
use super::super::mm::{Box2, Shift, at, by};
use super::super::page::Ground;
use super::super::plan;
use super::super::scale::Scale;
use super::super::style;
use super::super::view::View;
use super::super::words;
use super::Batches;

/// Room around a floor for dimensions and corner numbers, mm.
const AROUND: f64 = 24.0;
/// Room before and behind a floor that is poured along the sheet, where tapes lie beside it alone, mm.
const AROUND_ENDS: f64 = 16.0;
/// A pull that leans less than this from the sheet's edge (sine of about 1°) is along it.
const LEAST_LEAN: f64 = 0.02;
/// Room over a plan for its title, mm.
const HEAD: f64 = 9.0;

/// The plans of one sheet.
pub(super) struct Cells {
    pub(super) groups: Vec<Group>,
    pub(super) used: BTreeSet<Symbol>,
    pub(super) scale: Option<Scale>,
}

/// Most plans on one sheet.
const MOST_PLANS: usize = 6;

/// How plans stand on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Grid {
    columns: usize,
    rows: usize,
    scale: Scale,
}

impl Grid {
    fn each(self) -> usize {
        (self.columns * self.rows).max(1)
    }

    /// Sheets that so many plans take.
    pub(super) fn sheets(self, plans: usize) -> usize {
        plans.div_ceil(self.each())
    }
}

/// The sheets that hold all plans.
pub(super) fn draw(inputs: &Inputs, ground: &Ground, grid: Grid, all: &[Batches]) -> Vec<Cells> {
    all.chunks(grid.each())
        .map(|some| sheet(inputs, ground, grid, some))
        .collect()
}

/// The grids worth looking at: the fewest sheets first, each after that at a larger scale. Where nothing fits readably, the one
/// that is closest to it; empty if no standard scale is small enough for one plan.
pub(super) fn grids(inputs: &Inputs, ground: &Ground, plans: usize) -> Vec<Grid> {
    let units = inputs.slab.units;
    let floor = inputs.slab.outline.path.bounds();
    let (beside, above) = around(inputs);
    let best = |n: usize| {
        let fits = |columns: usize, scale: Scale| {
            let rows = n.div_ceil(columns);
            let (w, h) = cell(ground, columns, rows);
            let k = scale.mm_per_m();
            floor.width() * k + 2.0 * beside <= w && floor.height() * k + 2.0 * above + HEAD <= h
        };
        Scale::standard(units).into_iter().find_map(|scale| {
            let columns = (1..=n).find(|c| fits(*c, scale))?;
            Some(Grid {
                columns,
                rows: n.div_ceil(columns),
                scale,
            })
        })
    };
    let by_sheets = (1..=plans.clamp(1, MOST_PLANS)).rev().filter_map(best);
    let mut out: Vec<Grid> = by_sheets.filter(|g| g.scale.is_readable(units)).collect();
    out.dedup_by_key(|g| g.scale);
    if out.is_empty() {
        out.extend(best(1));
    }
    out
}

/// Room beside a floor and above and below it, mm.
fn around(inputs: &Inputs) -> (f64, f64) {
    let Some(side) = &inputs.slab.pour_from else {
        return (AROUND, AROUND);
    };
    let along = |leaning: f64| {
        if leaning.abs() < LEAST_LEAN {
            AROUND_ENDS
        } else {
            AROUND
        }
    };
    (along(side.away.y), along(side.away.x))
}

#[expect(clippy::cast_precision_loss, reason = "a handful of plans")]
fn cell(ground: &Ground, columns: usize, rows: usize) -> (f64, f64) {
    let zone = ground.drawing();
    (
        zone.width() / columns.max(1) as f64,
        (zone.height() - ground.foot()) / rows.max(1) as f64,
    )
}

#[expect(clippy::cast_precision_loss, reason = "a handful of plans")]
fn sheet(inputs: &Inputs, ground: &Ground, grid: Grid, some: &[Batches]) -> Cells {
    let zone = ground.drawing();
    let (w, h) = cell(ground, grid.columns, grid.rows);
    let mut out = Cells {
        groups: Vec::new(),
        used: BTreeSet::new(),
        scale: Some(grid.scale),
    };
    for (i, batches) in some.iter().enumerate() {
        let (column, row) = (i % grid.columns, i / grid.columns);
        let (left, top) = (zone.left + column as f64 * w, zone.top + row as f64 * h);
        let window = Box2::new(left + 1.0, top + HEAD, left + w - 1.0, top + h);
        let floor = inputs.slab.outline.path.bounds();
        let view = View::centered(grid.scale, floor, window.center());
        let (groups, used) = plan::pour(inputs, &view, &window, batches);
        out.used.extend(used);
        let drawn = view.rectangle(floor);
        // Over everything that is written above the floor; nothing reaches over the window.
        let base = top_of(&groups).min(drawn.top - 8.0).max(window.top) - 3.0;
        // Ids name an item once in a file; the plans after the first carry none.
        out.groups.extend(groups.into_iter().map(nameless));
        out.groups
            .push(title(inputs, batches, at(drawn.left, base), window.right));
    }
    out.groups
        .extend(ground.foot_marks(grid.scale, inputs.slab.units));
    out
}

/// What a plan shows, with an arrow the way the material is pulled.
fn title(inputs: &Inputs, batches: &Batches, from: PaperPoint, right: f64) -> Group {
    let head = style::head();
    let mut marks = Vec::new();
    let mut x = from.x;
    if let Some(side) = &inputs.slab.pour_from {
        let along = by(side.away.x, -side.away.y).unit();
        let middle = at(x + 4.0, from.y - head.cap() / 2.0);
        marks.extend(arrow(middle, along));
        x += 10.5;
    }
    let name = words::upper(&batches.layers.join(" and "));
    let text = format!("{name}: {} batches", batches.all.len());
    let text = words::fit(&text, head, right - x - 2.0);
    marks.push(Mark::Text(draw::text(
        at(x, from.y),
        text,
        head,
        Align::Start,
    )));
    draw::group("", "view-title", marks)
}

/// An arrow about a point.
fn arrow(middle: PaperPoint, along: Shift) -> Vec<Mark> {
    let (foot, tip) = (middle + along * -4.0, middle + along * 4.0);
    let back = tip + along * -3.0;
    let side = along.left() * 1.3;
    vec![
        draw::line(foot, back, style::REMOVAL),
        draw::polygon(
            &[tip, back + side, back + (-side)],
            None,
            Some(crate::ink::BLACK),
        ),
    ]
}

/// Upper edge of the highest text in some groups, mm.
fn top_of(groups: &[Group]) -> f64 {
    let mark = |m: &Mark| match m {
        Mark::Text(t) => {
            let style = style::Type {
                size: t.size,
                weight: t.weight,
            };
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
