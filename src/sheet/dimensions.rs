//! Running dimensions along walls: the tape is hooked on one corner, for both walls of a pair at the same end, and every mark is read off it once.

mod running;

pub(super) use running::Running;

use crate::geometry::path::{Path, Segment};
use crate::ink::{Group, Mark};
use crate::quantity::tape::tape;
use crate::slab::directions::is_taped_back;
use crate::slab::{Slab, Stretch};

use super::view::View;
use crate::paper::clear::Clear;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Shift, by};
use crate::paper::style;
use crate::paper::style::Type;

/// Marks closer than this are one, m: half an inch, the step dimensions are rounded to.
const SAME_MARK_M: f64 = 0.0127;
/// Shortest wall on paper that gets a dimension line of its own; a shorter one is known from its neighbors.
const SHORTEST_MM: f64 = 2.0;

/// Outward direction of a straight wall on paper.
fn outward(slab: &Slab, along: Shift) -> Shift {
    if slab.outline.counter_clockwise { -along.left() } else { along.left() }
}

/// Dimensions of walls.
#[derive(Debug, Default)]
pub struct Walls {
    /// The dimensions.
    pub groups: Vec<Group>,
    /// Numbers of the walls that have one.
    pub shown: Vec<usize>,
    /// Numbers of the walls that found no room for theirs.
    pub left_out: Vec<usize>,
}

/// Dimensions of all walls. Walls that a drawing cuts are taped from their corner on the whole floor.
pub fn walls(slab: &Slab, whole: &Slab, view: &View, clear: &mut Clear) -> Walls {
    let mut order: Vec<usize> = (0..slab.outline.walls.len()).collect();
    // Short walls stand nearest to the slab.
    order.sort_by(|&a, &b| {
        let length = |i: usize| slab.outline.walls[i].length();
        length(a).total_cmp(&length(b)).then(a.cmp(&b))
    });
    let mut out = Walls::default();
    for i in order {
        let wall = &slab.outline.walls[i];
        let found = if wall.is_curved() {
            arc(slab, wall, view, clear)
        } else if view.length(wall.length()) < SHORTEST_MM {
            Some(Vec::new())
        } else {
            straight(slab, whole, i, view).map_or(Some(Vec::new()), |r| r.place(clear))
        };
        match found {
            Some(marks) => {
                if !marks.is_empty() {
                    out.shown.push(i + 1);
                }
                let id = format!("dim-wall-{}", i + 1);
                out.groups.push(draw::group(id, "dimension", marks));
            }
            None => out.left_out.push(i + 1),
        }
    }
    let key = |g: &Group| (g.id.len(), g.id.clone());
    out.groups.sort_by_key(key);
    out.left_out.sort_unstable();
    out
}

/// The dimension of a straight wall; `None` where nothing on it is drawn that could be taped.
fn straight<'a>(slab: &Slab, whole: &Slab, wall: usize, view: &'a View) -> Option<Running<'a>> {
    let path = &slab.outline.walls[wall];
    let full = whole.outline.walls.get(wall).unwrap_or(path);
    let out = outward(slab, view.direction(path.end() - path.start()));
    let (mut marks, mut reached) = (marks(slab, wall), reached(slab, wall));
    let (mut path, mut full) = (path.clone(), full.clone());
    let length = path.length();
    if is_taped_back(&full) {
        marks = marks.iter().rev().map(|m| length - m).collect();
        reached.iter_mut().for_each(|m| *m = length - *m);
        (path, full) = (path.reversed(), full.reversed());
    }
    let along = view.direction(path.end() - path.start());
    let (hooked_m, _) = full.nearest(path.start());
    let ends = full.length() - hooked_m - path.length() < SAME_MARK_M;
    // Nothing is found on the floor where a drawing cuts a wall, unless it cuts it at a joint.
    if !ends && !reached.iter().any(|m| length - m < SAME_MARK_M) {
        marks.pop();
    }
    (marks.len() > 1).then(|| Running {
        view,
        units: slab.units,
        start: view.point(path.start()),
        along,
        out,
        marks,
        hooked_m: if hooked_m < SAME_MARK_M { 0.0 } else { hooked_m },
        whole: ends,
        ringed: false,
    })
}

/// A dimension along a wall from either of its ends, to stations measured from that end.
pub(super) fn from_end<'a>(
    slab: &Slab,
    wall: usize,
    backward: bool,
    stations: &[f64],
    view: &'a View,
) -> Running<'a> {
    let path = &slab.outline.walls[wall];
    let along = view.direction(path.end() - path.start());
    let start = if backward { path.end() } else { path.start() };
    let mut marks = vec![0.0];
    marks.extend_from_slice(stations);
    Running {
        view,
        units: slab.units,
        start: view.point(start),
        along: if backward { -along } else { along },
        out: outward(slab, along),
        marks,
        hooked_m: 0.0,
        whole: true,
        ringed: true,
    }
}

/// Stations of a wall at which something starts: its ends, its openings, joints and cracks that reach it.
fn marks(slab: &Slab, wall: usize) -> Vec<f64> {
    let path = &slab.outline.walls[wall];
    let length = path.length();
    let mut marks = vec![0.0, length];
    for opening in slab.openings.iter().filter(|o| o.wall == wall + 1) {
        marks.extend([opening.from_m, opening.to_m]);
    }
    marks.extend(reached(slab, wall));
    marks.sort_by(f64::total_cmp);
    let mut kept: Vec<f64> = Vec::new();
    for mark in marks {
        if kept.last().is_none_or(|last| mark - last > SAME_MARK_M) {
            kept.push(mark);
        }
    }
    if let Some(last) = kept.last_mut().filter(|l| length - **l < SAME_MARK_M) {
        *last = length;
    }
    kept
}

/// Stations of a wall that joints and cracks reach.
fn reached(slab: &Slab, wall: usize) -> Vec<f64> {
    let path = &slab.outline.walls[wall];
    let joints = slab.joints.iter().map(|j| (&j.path, &j.on_slab));
    let cracks = slab.cracks.iter().map(|c| (&c.path, &c.on_slab));
    let of = |(line, stretches): (&Path, &Vec<Stretch>)| -> Vec<f64> {
        let all = stretches.iter();
        all.flat_map(|s| reaches(path, line, s.from_m, s.to_m)).collect()
    };
    joints.chain(cracks).flat_map(of).collect()
}

/// Stations of a wall where the ends of a stretch of a line lie on it; none for a line that runs along the wall.
fn reaches(wall: &Path, line: &Path, from: f64, to: f64) -> Vec<f64> {
    let on_wall = |station: f64| {
        let (at, distance) = wall.nearest(line.point_at(station));
        (distance < SAME_MARK_M).then_some(at)
    };
    if on_wall((from + to) / 2.0).is_some() {
        return Vec::new();
    }
    [from, to].into_iter().filter_map(on_wall).collect()
}

/// The length of a curved wall, written along its middle on the outside.
fn arc(slab: &Slab, wall: &Path, view: &View, clear: &mut Clear) -> Option<Vec<Mark>> {
    let text = format!("ARC {}", tape(wall.length(), slab.units));
    let radius = wall.segments().iter().find_map(|s| match s {
        Segment::Arc(arc) => Some(arc.radius),
        Segment::Line { .. } => None,
    });
    let text = radius.map_or(text.clone(), |r| format!("{text}, R {}", tape(r, slab.units)));
    let half = wall.length() / 2.0;
    let along = view.direction(wall.direction_at(half));
    let middle = view.point(wall.point_at(half));
    let out = outward(slab, along);
    let style: Type = style::strong();
    let places =
        [4.0, 6.0, 9.0, 13.0, 18.0].map(|d| Label::centered(middle + out * d, &text, style, along));
    let level = [6.0, 10.0, 14.0, 20.0]
        .map(|d| Label::outward(middle + out * d, &text, style, by(out.x.signum(), 0.0)));
    let label = Label::first_free(clear, 0.6, places.into_iter().chain(level))?;
    clear.add(label.slip);
    Some(vec![Mark::Text(label.mark)])
}

/// Overall dimensions below and to the left of a slab whose sides are made of several walls.
pub fn overall(slab: &Slab, view: &View, clear: &mut Clear) -> Vec<Group> {
    let b = slab.outline.path.bounds();
    let whole = |along: Shift, length: f64| {
        slab.outline.walls.iter().any(|w| {
            !w.is_curved()
                && (w.length() - length).abs() < SAME_MARK_M
                && view.direction(w.end() - w.start()).cross(along).abs() < 1e-3
        })
    };
    let lower_left = view.point(kurbo::Point::new(b.x0, b.y0));
    let lower_right = view.point(kurbo::Point::new(b.x1, b.y0));
    let upper_left = view.point(kurbo::Point::new(b.x0, b.y1));
    let mut out = Vec::new();
    let sides = [
        ("dim-overall-width", lower_left, lower_right, by(0.0, 1.0), b.width()),
        ("dim-overall-height", lower_left, upper_left, by(-1.0, 0.0), b.height()),
    ];
    for (id, from, to, outward, length) in sides {
        let along = (to - from).unit();
        if whole(along, length) {
            continue;
        }
        let running = Running {
            view,
            units: slab.units,
            start: from,
            along,
            out: outward,
            marks: vec![0.0, length],
            hooked_m: 0.0,
            whole: true,
            ringed: false,
        };
        if let Some(marks) = running.place(clear) {
            out.push(draw::group(id, "dimension overall", marks));
        }
    }
    out
}
