//! The part of a floor that lies in a window, as a floor of its own.
//!
//! Walls keep their numbers and are cut at the window, so that running dimensions start at a corner that is on the sheet or at the
//! match line. Quantities are those of the whole items: a joint that goes on says its whole length.

use kurbo::{Point, Rect};

use crate::geometry::path::Path;
use crate::geometry::region::{Region, corners};
use crate::record::Kind;
use crate::slab::{
    Blemish, Delamination, Face, LevelRow, Lippage, Opening, Riser, Shape, Slab, Spall, Stretch,
    Zone,
};
use crate::takeoff::{LippageWork, StepStretch, Takeoff, Worked};

use crate::sheet::select::Selection;

/// What lies this close to a window is in it, m: a millimeter, so that a joint on a match line is on both sheets.
const ON_EDGE_M: f64 = 1e-3;
/// Shorter pieces of a line are not drawn, m.
const LEAST_M: f64 = 0.01;
/// Farther than any floor is long, m.
const FAR_M: f64 = 1e5;
/// A wall outside the window is kept as a point at its first corner, m, so that walls keep their numbers.
const NO_WALL_M: f64 = 1e-6;

/// Stations of a path inside a rectangle, m, ascending.
#[must_use]
pub fn inside(path: &Path, window: Rect) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = Vec::new();
    for pair in path.flatten().windows(2) {
        let Some((a, b)) = clipped(pair[0].point, pair[1].point, window) else {
            continue;
        };
        let span = pair[1].station - pair[0].station;
        let (from, to) = (pair[0].station + a * span, pair[0].station + b * span);
        match out.last_mut() {
            Some(last) if from - last.1 < 1e-9 => last.1 = to,
            _ => out.push((from, to)),
        }
    }
    out
}

/// The shares of a segment between which it lies in a rectangle.
fn clipped(a: Point, b: Point, r: Rect) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (start, end, low, high) in [(a.x, b.x, r.x0, r.x1), (a.y, b.y, r.y0, r.y1)] {
        let d = end - start;
        if d.abs() < 1e-12 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let (s, e) = ((low - start) / d, (high - start) / d);
        from = from.max(s.min(e));
        to = to.min(s.max(e));
    }
    (from < to).then_some((from, to))
}

/// What is left of stretches inside a window.
fn cut(path: &Path, stretches: &[Stretch], window: Rect, least_m: f64) -> Vec<Stretch> {
    let within = inside(path, window);
    let pieces = stretches.iter().flat_map(|s| {
        within.iter().filter_map(move |(a, b)| {
            let piece = Stretch { from_m: s.from_m.max(*a), to_m: s.to_m.min(*b) };
            is_kept(piece.length(), s.length(), least_m).then_some(piece)
        })
    });
    pieces.collect()
}

/// Whether a piece of a line is drawn: not a crumb that a window cut off, but a line that is short by itself.
fn is_kept(piece_m: f64, whole_m: f64, least_m: f64) -> bool {
    piece_m > least_m || (piece_m > 0.0 && 2.0 * piece_m >= whole_m - 1e-9)
}

/// A window with its sides that are sides of the floor moved far out: what lies past the walls belongs to the window beside it.
fn reach(floor: Rect, window: Rect) -> Rect {
    let low = |w: f64, f: f64| if w <= f + ON_EDGE_M { w - FAR_M } else { w };
    let high = |w: f64, f: f64| if w >= f - ON_EDGE_M { w + FAR_M } else { w };
    Rect::new(
        low(window.x0, floor.x0),
        low(window.y0, floor.y0),
        high(window.x1, floor.x1),
        high(window.y1, floor.y1),
    )
}

fn meets(region: &Region, window: Rect) -> bool {
    region.bounds().is_some_and(|b| touches(b, window))
}

/// Whether what a window has of an area is drawn: not a crumb of less than a quarter of it that nobody would see. As an area so small
/// lies in four windows at most, one of them has a quarter.
fn shows(region: &Region, window: Rect, least_m: f64) -> bool {
    let Some(bounds) = region.bounds().filter(|b| touches(*b, window)) else {
        return false;
    };
    if holds(window, bounds) {
        return true;
    }
    let part = region.intersection(&Region::rectangle(bounds.intersect(window)));
    let seen = |b: Rect| b.width().max(b.height()) > least_m;
    part.bounds().is_some_and(seen) || (!part.is_empty() && 4.0 * part.area() >= region.area())
}

fn touches(b: Rect, window: Rect) -> bool {
    b.x0 < window.x1 && b.x1 > window.x0 && b.y0 < window.y1 && b.y1 > window.y0
}

fn holds(window: Rect, b: Rect) -> bool {
    b.x0 >= window.x0 && b.x1 <= window.x1 && b.y0 >= window.y0 && b.y1 <= window.y1
}

/// The part of a floor in a window. Of lines and areas that another window has more of, pieces shorter than `seen_m` are left out.
#[must_use]
pub fn part(slab: &Slab, takeoff: &Takeoff, window: Rect, seen_m: f64) -> (Slab, Takeoff) {
    let least_m = seen_m.max(LEAST_M);
    let wide = window.inflate(ON_EDGE_M, ON_EDGE_M);
    let far = reach(slab.outline.path.bounds(), wide);
    let (mut s, mut t) = selection(slab, takeoff, far, least_m).apply(slab, takeoff);
    let area = Region::rectangle(window);
    for kind in Kind::ALL {
        match kind {
            Kind::Joint => {
                for joint in &mut s.joints {
                    joint.on_slab = cut(&joint.path, &joint.on_slab, wide, least_m);
                }
            }
            Kind::Crack => {
                for crack in &mut s.cracks {
                    crack.on_slab = cut(&crack.path, &crack.on_slab, wide, least_m);
                }
            }
            Kind::Spall => {
                s.spalls.iter_mut().for_each(|s| clip_shape(&mut s.shape, window, &area));
            }
            Kind::Delamination => {
                s.delaminations.iter_mut().for_each(|d| clip_shape(&mut d.shape, window, &area));
            }
            Kind::Blemish => {
                s.blemishes.iter_mut().for_each(|b| clip_shape(&mut b.shape, window, &area));
            }
            Kind::Lippage => {
                let cut = t.steps_of(&s).map(|(lippage, work)| LippageWork {
                    stretches: cut_steps(&work.stretches, &inside(&lippage.path, far)),
                    ..work.clone()
                });
                t.lippage = cut.collect();
            }
            Kind::KeepOut => clip_zones(&mut s.keep_outs, window, &area),
            Kind::Uncoated => clip_zones(&mut s.uncoated, window, &area),
            // A point is in the window or not.
            Kind::Moisture => {}
            Kind::Tier => {
                for tier in &mut s.tiers {
                    tier.region = tier.region.intersection(&area);
                }
                s.tiers.retain(|tier| !tier.region.is_empty());
            }
        }
    }
    s.risers = s.risers.iter().flat_map(|r| riser_parts(r, wide)).collect();
    s.faces = s.faces.iter().flat_map(|f| face_parts(f, wide)).collect();
    let row_lies = |row: &LevelRow| wide.contains(row.from) || wide.contains(row.end());
    s.level_rows.retain(row_lies);
    s.levels.retain(|l| wide.contains(l.at));
    if let Some(levels) = &mut t.levels {
        levels.rows.retain(|(row, _)| row_lies(row));
        levels.ponding.retain(|low| wide.contains(low.level.at));
    }
    s.hardness.retain(|h| wide.contains(h.0));
    s.panels = panels(slab, window, &area);
    t.hand_edge = takeoff.hand_edge.intersection(&area);
    t.hand_grind = takeoff.hand_grind.intersection(&area);
    outline(&mut s, window);
    (s, t)
}

fn selection(slab: &Slab, takeoff: &Takeoff, window: Rect, least_m: f64) -> Selection {
    let mut all = Selection::all(slab, takeoff);
    let line = |path: &Path, on: &[Stretch]| !cut(path, on, window, least_m).is_empty();
    all.retain(slab, takeoff, |worked| match worked {
        Worked::Joint(joint, _) => line(&joint.path, &joint.on_slab),
        Worked::Crack(crack, _) => line(&crack.path, &crack.on_slab),
        Worked::Spall(Spall { shape, .. }, _)
        | Worked::Delamination(Delamination { shape, .. }, _)
        | Worked::Blemish(Blemish { shape, .. }) => shows(&shape.region, window, least_m),
        Worked::Lippage(lippage, work) => step_lies(lippage, work, window),
        Worked::Moisture(test) => window.contains(test.at),
        // Of these only what is left in the window tells.
        Worked::KeepOut(_) | Worked::Uncoated(_) | Worked::Tier(_) => true,
    });
    all.patches.retain(|&i| {
        let corners = takeoff.patches[i].rect.corners().to_vec();
        shows(&Region::from_rings(&[corners]), window, least_m)
    });
    all
}

/// Whether a step has a part in a window. The line that it was read along may be a joint that runs on through other windows.
fn step_lies(lippage: &Lippage, work: &LippageWork, window: Rect) -> bool {
    let within = inside(&lippage.path, window);
    if work.by_hand().next().is_some() {
        return !cut_steps(&work.stretches, &within).is_empty();
    }
    let (from, to) = lippage.read_between();
    within.iter().any(|(a, b)| from.max(*a) <= to.min(*b) + LEAST_M)
}

/// The pieces of a path in a window.
fn parts_of(path: &Path, window: Rect) -> impl Iterator<Item = Path> {
    let pieces = inside(path, window).into_iter();
    let pieces = pieces.filter(|(a, b)| is_kept(b - a, path.length(), LEAST_M));
    pieces.map(|(a, b)| path.part(a, b))
}

/// The pieces of a face in a window, so that its words stand beside what is drawn of it.
fn face_parts(face: &Face, window: Rect) -> Vec<Face> {
    let part = |path| Face { path, ..face.clone() };
    parts_of(&face.path, window).map(part).collect()
}

fn riser_parts(riser: &Riser, window: Rect) -> Vec<Riser> {
    let part = |path| Riser { path, ..riser.clone() };
    parts_of(&riser.path, window).map(part).collect()
}

fn clip_shape(shape: &mut Shape, window: Rect, area: &Region) {
    if shape.region.bounds().is_some_and(|b| holds(window, b)) {
        return;
    }
    shape.region = shape.region.intersection(area);
    shape.rings = shape.region.rings().iter().map(|r| Path::polygon(r)).collect();
}

fn clip_zones(zones: &mut Vec<Zone>, window: Rect, area: &Region) {
    zones.retain(|z| meets(&z.shape.region, window));
    for zone in zones.iter_mut() {
        clip_shape(&mut zone.shape, window, area);
    }
    zones.retain(|z| !z.shape.region.is_empty());
}

fn cut_steps(stretches: &[StepStretch], within: &[(f64, f64)]) -> Vec<StepStretch> {
    let pieces = stretches.iter().flat_map(|s| {
        within.iter().filter_map(move |(a, b)| {
            let (from, to) = (s.from_m.max(*a), s.to_m.min(*b));
            let span = s.to_m - s.from_m;
            let step = |at: f64| {
                let share = if span > 0.0 { (at - s.from_m) / span } else { 0.0 };
                s.step_from_mm + share * (s.step_to_mm - s.step_from_mm)
            };
            is_kept(to - from, span, LEAST_M).then(|| StepStretch {
                from_m: from,
                to_m: to,
                step_from_mm: step(from),
                step_to_mm: step(to),
            })
        })
    });
    pieces.collect()
}

/// Panels with a part in the window that has room for a number.
fn panels(slab: &Slab, window: Rect, area: &Region) -> Vec<crate::slab::Panel> {
    let mut out = Vec::new();
    for panel in &slab.panels {
        let points = panel.rings.iter().flatten();
        let around = points.map(|p| Rect::from_points(*p, *p)).reduce(|a, b| a.union(b));
        let Some(around) = around.filter(|b| touches(*b, window)) else {
            continue;
        };
        let mut panel = panel.clone();
        if !holds(window, around) {
            let left = Region::from_rings(&panel.rings).intersection(area);
            // A sliver beyond a match line belongs to the sheet with the rest.
            let Some(label) = left.interior_point().filter(|_| left.area() > 0.1 * panel.area_m2)
            else {
                continue;
            };
            panel.rings = left.rings();
            panel.label = label;
        }
        out.push(panel);
    }
    out
}

/// Cuts walls and openings at the window.
fn outline(slab: &mut Slab, window: Rect) {
    let wide = window.inflate(ON_EDGE_M, ON_EDGE_M);
    let mut starts = Vec::new();
    for wall in &mut slab.outline.walls {
        let longest =
            inside(wall, wide).into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        let (from, to) = longest.unwrap_or((0.0, NO_WALL_M));
        let whole = from < 1e-9 && to > wall.length() - 1e-9;
        if !whole {
            *wall = wall.part(from, to);
        }
        starts.push(from);
    }
    let kept = slab.openings.drain(..).filter_map(|o| {
        let wall = o.wall.checked_sub(1)?;
        shortened(&o, *starts.get(wall)?, slab.outline.walls.get(wall)?.length())
    });
    slab.openings = kept.collect();
    slab.outline.path = Path::polygon(&corners(window));
}

/// What is left of an opening in its wall's piece.
fn shortened(opening: &Opening, start: f64, length: f64) -> Option<Opening> {
    let from = (opening.from_m - start).max(0.0);
    let to = (opening.to_m - start).min(length);
    if to - from <= LEAST_M {
        return None;
    }
    let first = from + start - opening.from_m;
    Some(Opening {
        from_m: from,
        to_m: to,
        path: opening.path.part(first, first + to - from),
        ..opening.clone()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stations_inside_a_window_are_merged_over_vertices() {
        let p = |x: f64, y: f64| Point::new(x, y);
        let path = Path::polyline(&[p(0.0, 1.0), p(2.0, 1.0), p(5.0, 1.0), p(5.0, 9.0)]);
        let found = inside(&path, Rect::new(1.0, 0.0, 6.0, 3.0));
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].0 - 1.0).abs() < 1e-12 && (found[0].1 - 7.0).abs() < 1e-12);
    }

    /// A joint of a few millimeters, and a step whose ground stretch lies past the wall, each on the sheet that is nearest.
    #[test]
    fn what_is_short_or_past_the_walls_lies_in_a_window() {
        let survey = crate::sheet::fixture::room(
            "joints:\n  - {id: J1, kind: control, path: [[10', 0.01'], [10', -2']]}\n  - {id: J2, kind: control, path: [[4', 15'], [4', 20']]}\nlippage:\n  - {id: L1, along: J2, high: left, step: 3/8, from: 2', to: 4'}\n",
        );
        let bounds = survey.slab.outline.path.bounds();
        let middle = bounds.center().y;
        let windows = [
            Rect::new(bounds.x0, bounds.y0, bounds.x1, middle),
            Rect::new(bounds.x0, middle, bounds.x1, bounds.y1),
        ];
        let found = windows.map(|window| {
            let (slab, takeoff) = part(&survey.slab, &survey.takeoff, window, 0.0);
            let joints: Vec<String> = slab.joints.iter().map(|j| j.id.clone()).collect();
            let steps: Vec<usize> = takeoff.lippage.iter().map(|l| l.stretches.len()).collect();
            (joints.join(" "), steps)
        });
        assert_eq!(found[0], ("J1".to_owned(), vec![]));
        assert_eq!(found[1], ("J2".to_owned(), vec![1]));
    }

    /// A face along two walls, of which a window shows one: its words stand beside that.
    #[test]
    fn of_a_face_a_window_has_its_own_pieces() {
        let survey = crate::sheet::fixture::room(
            "coating:\n  system: flake\n  faces:\n    - {name: cove, path: [[0, 0], [20', 0], [20', 16']], height: 4\"}\n",
        );
        let bounds = survey.slab.outline.path.bounds();
        let window = Rect::new(bounds.x0, bounds.y0, bounds.center().x, bounds.y1);
        let (slab, _) = part(&survey.slab, &survey.takeoff, window, 0.0);
        let lengths: Vec<f64> = slab.faces.iter().map(|f| f.path.length()).collect();
        assert_eq!(lengths.len(), 1);
        assert!((lengths[0] - window.width()).abs() < 2e-3, "{lengths:?}");
    }

    /// Low spots and the numbers of rows stand in the window in which they were read.
    #[test]
    fn heights_are_told_where_they_were_read() {
        let survey = crate::sheet::fixture::room(
            "levels:\n  - [2', 2', 0]\n  - [2', 14', 0]\n  - [10', 2', 0]\n  - [10', 14', 0]\n  - [18', 2', 0]\n  - [18', 14', 0]\n  - [18', 8', 0]\n  - [14', 8', -1\"]\n  - {from: [2', 4'], to: [8', 4'], heights: [0, 0.03\", 0.05\", 0.04\", 0.06\"]}\n  - {from: [12', 4'], to: [18', 4'], heights: [0, 0.3\", 0.1\", 0.4\", 0]}\n",
        );
        let whole = survey.takeoff.levels.as_ref().expect("heights");
        assert!(whole.ponding.iter().any(|low| low.number == 8), "{:?}", whole.ponding);
        let bounds = survey.slab.outline.path.bounds();
        let middle = bounds.center().x;
        let windows = [
            Rect::new(bounds.x0, bounds.y0, middle, bounds.y1),
            Rect::new(middle, bounds.y0, bounds.x1, bounds.y1),
        ];
        for (window, row) in windows.into_iter().zip(&whole.rows) {
            let (slab, takeoff) = part(&survey.slab, &survey.takeoff, window, 0.0);
            let own = crate::sheet::Inputs {
                slab: &slab,
                takeoff: &takeoff,
                ..crate::sheet::fixture::inputs(&survey)
            };
            let tables = crate::sheet::schedule::tables(&own);
            let cells = tables.iter().flat_map(|table| &table.rows).map(|row| row.cells[0].clone());
            let cells: Vec<String> = cells.collect();
            let low = cells.iter().filter(|cell| cell.starts_with("low ")).count();
            let here = whole.ponding.iter().filter(|low| window.contains(low.level.at));
            assert_eq!(low, here.count(), "{cells:?}");
            let words = crate::sheet::plan::flatness_words(&row.1);
            let rows: Vec<_> = cells.iter().filter(|cell| cell.starts_with("FF ")).collect();
            assert_eq!(rows, [&words], "{cells:?}");
        }
    }

    /// Of two windows the one that has a crumb of a crack leaves it out; a crack that is short by itself stays.
    #[test]
    fn crumbs_of_cracks_are_left_to_the_other_window() {
        let survey = crate::sheet::fixture::room(
            "cracks:\n  - {id: C1, path: [[9.88', 4'], [14', 4']], width: 1/16}\n  - {id: C2, path: [[9.9', 6'], [9.95', 6']], width: 1/16}\n",
        );
        let bounds = survey.slab.outline.path.bounds();
        let middle = bounds.x0 + 10.0 * 0.3048;
        let window = Rect::new(bounds.x0, bounds.y0, middle, bounds.y1);
        for (seen_m, wanted) in [(0.0, vec!["C1", "C2"]), (0.05, vec!["C2"])] {
            let (slab, _) = part(&survey.slab, &survey.takeoff, window, seen_m);
            let ids: Vec<&str> = slab.cracks.iter().map(|c| &*c.id).collect();
            assert_eq!(ids, wanted, "{seen_m} m");
        }
    }

    /// The tip of an area is left to the window that has the rest; what is small by itself stays where it lies, also on the line.
    #[test]
    fn crumbs_of_areas_are_left_to_the_other_window() {
        let survey = crate::sheet::fixture::room(
            "blemishes:\n  - {id: B1, what: oil, polygon: [[9.9', 4'], [12', 3'], [12', 5']]}\n  - {id: B2, what: oil, box: {corner: [9.95', 6'], size: [0.1', 0.1']}}\nspalls:\n  - {id: S1, polygon: [[9.92', 10'], [11', 9'], [12.08', 10'], [11', 11']], depth: 1}\n",
        );
        let bounds = survey.slab.outline.path.bounds();
        let middle = bounds.x0 + 10.0 * 0.3048;
        let left = Rect { x1: middle, ..bounds };
        let right = Rect { x0: middle, ..bounds };
        // The patch, four inches larger all around, reaches farther than its spall.
        let rows = [
            ("left, everything", left, 0.0, "S1 B1 B2 R1"),
            ("left, what is seen", left, 0.06, "B2 R1"),
            ("left, without the corner of the patch", left, 0.2, "B2"),
            ("right", right, 0.2, "S1 B1 B2 R1"),
        ];
        for (name, window, seen_m, wanted) in rows {
            let (slab, takeoff) = part(&survey.slab, &survey.takeoff, window, seen_m);
            let patches = takeoff.patches.iter().map(|patch| &*patch.id);
            let ids: Vec<&str> = slab.items().map(|item| item.id()).chain(patches).collect();
            assert_eq!(ids.join(" "), wanted, "{name}");
        }
    }
}
