//! The plans of the filling sheets: the whole floor where its tags have room on one, else windows of it along joints.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Rect, Size};

use crate::order::Marks;
use crate::parallel;
use crate::slab::{Joint, Slab, Stretch};

use super::zero;
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::scale::Scale;
use crate::paper::style;
use crate::sheet::Inputs;
use crate::sheet::flow;
use crate::sheet::flow::{Figure, Notes};
use crate::sheet::key_plan::KeyPlan;
use crate::sheet::legend::Symbol;
use crate::sheet::page;
use crate::sheet::page::Ground;
use crate::sheet::plan;
use crate::sheet::plan::{Beside, Filled, Part, Work};
use crate::sheet::split::grid;
use crate::sheet::split::grid::Grid;
use crate::sheet::split::{match_line, part};
use crate::sheet::view::View;

/// Room around the floor for corner numbers and tags, mm.
const AROUND: f64 = 12.0;
/// Room over a plan in a column for its title, mm.
const HEAD: f64 = 5.0;
/// Room around a window, for the dimensions along its match lines too, mm.
const AROUND_WINDOW: f64 = 24.0;
/// Paper that each stretch wants for its tag, its number and its arrow, mm²; with less, the floor is divided without a try.
const ROOM: f64 = 250.0;
/// Scales that are tried from the first on that gives each stretch its room.
const TRIES: usize = 3;
/// Most windows of one floor; where a scale takes more, a smaller one is drawn.
const MOST_WINDOWS: f64 = 40.0;
/// What lies this close to a window is in it, m.
const ON_EDGE_M: f64 = 1e-3;
/// A shorter part of a joint is tagged on the sheet that shows its middle, mm of paper.
const MEANINGFUL: f64 = 12.0;
/// Shorter pieces of a stretch have no number of their own on a sheet, m.
const LEAST_M: f64 = 0.3;

/// One of the plans.
pub struct Map {
    pub scale: Scale,
    /// What was drawn.
    pub filled: Filled,
    /// Where it lies on the floor, if the floor is divided.
    pub key: Option<KeyPlan>,
}

/// The plan of the whole floor in a column of text with the order beside or below it, and its symbols: if everything on it has room
/// there.
pub fn figure(
    inputs: &Inputs,
    ground: &Ground,
    marks: &Marks,
    order: &Notes,
) -> Option<(Figure, BTreeSet<Symbol>)> {
    let (width, most) = ground.column(page::TEXT);
    let floor = inputs.slab.outline.path.bounds();
    let units = inputs.slab.units;
    let size = |scale: &Scale| {
        let k = scale.mm_per_m();
        let size = floor.size() * k + Size::new(AROUND, AROUND) * 2.0;
        (size.width, size.height + HEAD)
    };
    let beside = |scale: &Scale| {
        let (own, height) = size(scale);
        let room = flow::room_beside(own, width)?;
        let told = flow::beside(order, room, width);
        (told.height <= height).then_some(told)
    };
    let fits = |share: f64| {
        let mut all = Scale::standard(units).into_iter();
        all.find(|scale| {
            let (own, height) = size(scale);
            own <= width && height <= most * share
        })
    };
    let all = Scale::standard(units).into_iter();
    let first = all.filter(|scale| size(scale).1 <= most).find(|s| beside(s).is_some());
    let scales = first.into_iter().chain([0.4, 0.6, 1.0].into_iter().filter_map(fits));
    scales.filter(|scale| scale.is_readable(units)).find_map(|scale| {
        let (own, height) = size(&scale);
        let beside = beside(&scale);
        let own = if beside.is_some() { own } else { width };
        let room = Box2::new(0.0, HEAD, own, height);
        let map = Map { scale, filled: whole(inputs, &room, scale, marks), key: None };
        if faults(std::slice::from_ref(&map), marks) > 0 {
            return None;
        }
        let mut groups = map.filled.groups;
        let below = if beside.is_some() { Notes::default() } else { order.clone() };
        groups.extend(beside.map(|told| draw::moved(told.group, by(0.0, HEAD))));
        let base = at(0.0, style::head().cap() + 0.4);
        let title = flow::plan_title("JOINTS TO FILL", &scale.text(units), base, width);
        groups.push(draw::group("", "view-title", title.into()));
        let figure = Figure { height, groups, below, ..Figure::default() };
        Some((figure.of_columns((width, most)), map.filled.used))
    })
}

/// The plans; none where the floor fits at no scale.
pub fn maps(inputs: &Inputs, ground: &Ground, marks: &Marks, first: usize) -> Vec<Map> {
    let whole = scale(inputs, ground);
    let roomy = |scale: &Scale| {
        let floor = inputs.slab.outline.path.bounds();
        let k = scale.mm_per_m();
        floor.area() * k * k >= ROOM * marks.legs.len() as f64
    };
    let undivided =
        |scale| vec![Map { scale, filled: drawing(inputs, ground, scale, marks), key: None }];
    let mut best: Option<(usize, Vec<Map>)> = None;
    if let Some(scale) = whole.filter(roomy) {
        let map = undivided(scale);
        let found = faults(&map, marks);
        if found == 0 {
            return map;
        }
        best = Some((found, map));
    }
    let mut scales = Scale::detail(inputs.slab.units);
    scales.reverse();
    let grids = scales
        .into_iter()
        .filter(|s| s.is_readable(inputs.slab.units))
        .filter_map(|s| Some((s, grid(inputs, ground, s)?)));
    let (crowded, room): (Vec<_>, Vec<_>) = grids.partition(|(s, _)| !roomy(s));
    // A floor that has room at no scale is drawn at the largest one.
    let tried: Vec<_> = if room.is_empty() {
        crowded.into_iter().next_back().into_iter().collect()
    } else {
        room.into_iter().take(TRIES).collect()
    };
    for (scale, grid) in tried {
        let maps = divided(inputs, ground, (scale, &grid), marks, first);
        let found = faults(&maps, marks);
        if best.as_ref().is_none_or(|(least, _)| found < *least) {
            best = Some((found, maps));
        }
        if found == 0 {
            break;
        }
    }
    let best = best.map(|(_, maps)| maps);
    best.or_else(|| whole.map(undivided)).unwrap_or_default()
}

/// What stands on none of the plans, in words: joints by their tags, numbers of the order, cartridges.
pub fn left_off(maps: &[Map], marks: &Marks) -> Vec<String> {
    let on = |stands: &dyn Fn(&Filled) -> bool| maps.iter().any(|m| stands(&m.filled));
    let ids: BTreeSet<&String> = marks.legs.iter().map(|leg| &leg.joint.id).collect();
    let mut ids: Vec<String> =
        ids.into_iter().filter(|id| !on(&|f| f.tagged.contains(*id))).cloned().collect();
    ids.sort_by_cached_key(|id| crate::text::id_key(id));
    let numbers = (1..=marks.legs.len()).filter(|n| !on(&|f| f.numbers.contains(n)));
    let cartridges = marks.marks.iter().map(|m| m.cartridge);
    let cartridges = cartridges.filter(|n| !on(&|f| f.cartridges.contains(n)));
    let numbers = numbers.map(|n| format!("number {n}"));
    ids.extend(numbers.chain(cartridges.map(|n| format!("cartridge {n}"))));
    ids
}

/// What has no room counts more than leaders that cross, which can still be followed.
fn faults(maps: &[Map], marks: &Marks) -> usize {
    let crossings: usize = maps.iter().map(|m| m.filled.crossings).sum();
    crossings + 100 * left_off(maps, marks).len()
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

/// Where the plan stands on the sheet.
fn room(ground: &Ground) -> Box2 {
    let zone = ground.drawing();
    Box2::new(zone.left + 1.0, zone.top + 1.0, zone.right - 1.0, zone.bottom - ground.foot())
}

/// The whole floor on a sheet of its own.
fn drawing(inputs: &Inputs, ground: &Ground, scale: Scale, marks: &Marks) -> Filled {
    let mut filled = whole(inputs, &room(ground), scale, marks);
    filled.groups.extend(ground.foot_marks(scale, inputs.slab.units));
    filled
}

/// The whole floor in the middle of some room.
fn whole(inputs: &Inputs, room: &Box2, scale: Scale, marks: &Marks) -> Filled {
    let floor = inputs.slab.outline.path.bounds();
    let view = View::centered(scale, floor, room.center());
    let work = Work {
        legs: (1..).zip(marks.legs.iter().cloned()).collect(),
        marks: marks.marks.clone(),
        tagged: marks.legs.iter().map(|leg| &*leg.joint.id).collect(),
        zeros: marks.legs.iter().map(|leg| (&*leg.joint.id, zero(leg.joint))).collect(),
    };
    plan::fill(inputs, None, &view, room, &work)
}

/// The windows of the floor at a scale, if there are several and not too many.
fn grid(inputs: &Inputs, ground: &Ground, scale: Scale) -> Option<Grid> {
    let (room, k) = (room(ground), scale.mm_per_m());
    let most =
        ((room.width() - 2.0 * AROUND_WINDOW) / k, (room.height() - 2.0 * AROUND_WINDOW) / k);
    let floor = inputs.slab.outline.path.bounds();
    if grid::count(floor, most) > MOST_WINDOWS {
        return None;
    }
    let grid = grid::divide(inputs.slab, floor, most);
    (grid.windows.len() > 1).then_some(grid)
}

/// The windows of a divided floor.
fn divided(
    inputs: &Inputs,
    ground: &Ground,
    (scale, grid): (Scale, &Grid),
    marks: &Marks,
    first: usize,
) -> Vec<Map> {
    let numbers: Vec<String> = (0..grid.windows.len()).map(|i| page::number(first + i)).collect();
    let windows: Vec<(Rect, String)> =
        grid.windows.iter().zip(&numbers).map(|(w, number)| (w.rect, number.clone())).collect();
    parallel::each(grid.windows.len(), |i| {
        let window = grid.windows[i].rect;
        let room = room(ground);
        let view = View::centered(scale, window, room.center());
        let seen_m = view.floor_length(plan::LEAST_SEEN);
        let (slab, takeoff) = part::part(inputs.slab, inputs.takeoff, window, seen_m);
        let own = Inputs { slab: &slab, takeoff: &takeoff, ..*inputs };
        let sides = match_line::sides(grid, &grid.windows[i]);
        let beside = Beside {
            part: Part { whole: inputs.slab, window, framed: false, sides: &sides },
            numbers: &numbers,
        };
        let meaningful = view.floor_length(MEANINGFUL);
        let work = within(&slab, (window, meaningful), marks);
        let mut filled = plan::fill(&own, Some(beside), &view, &room, &work);
        filled.groups.extend(ground.foot_marks(scale, slab.units));
        Map { scale, filled, key: Some(KeyPlan::new(inputs.slab, windows.clone(), Some(i))) }
    })
}

/// What is filled in a window.
fn within<'a>(part: &Slab, (window, meaningful): (Rect, f64), marks: &Marks<'a>) -> Work<'a> {
    let wide = window.inflate(ON_EDGE_M, ON_EDGE_M);
    let lies = |joint: &Joint| joint.on_slab.iter().map(Stretch::length).sum();
    let here: BTreeMap<&str, f64> = part.joints.iter().map(|j| (&*j.id, lies(j))).collect();
    let mut work = Work::default();
    for (number, leg) in (1..).zip(&marks.legs) {
        let (id, path) = (&*leg.joint.id, &leg.joint.path);
        let Some(here) = here.get(id) else {
            continue;
        };
        work.zeros.insert(id, zero(leg.joint));
        if *here >= meaningful || wide.contains(path.point_at(path.length() / 2.0)) {
            work.tagged.insert(id);
        }
        let pieces = part::inside(path, wide);
        let pieces = pieces.iter().map(|(from, to)| Stretch {
            from_m: from.max(leg.stretch.from_m),
            to_m: to.min(leg.stretch.to_m),
        });
        let longest = pieces.max_by(|a, b| a.length().total_cmp(&b.length()));
        let least = LEAST_M.min(leg.stretch.length() / 2.0);
        if let Some(stretch) = longest.filter(|s| s.length() >= least) {
            let mut leg = leg.clone();
            leg.stretch = stretch;
            work.legs.push((number, leg));
        }
    }
    let marks = marks.marks.iter().filter(|mark| wide.contains(mark.at));
    work.marks = marks.filter(|mark| here.contains_key(&*mark.joint.id)).cloned().collect();
    work
}
