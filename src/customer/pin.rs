//! Marks of joints that stand on their own line, and the sheet as the placement sees it around them.

use std::collections::BTreeMap;

use crate::ink::PaperPoint;

use super::cluster::{Cluster, longest, station};
use super::fate::Fate;
use super::floor::{Drawn, Shape};
use super::marks::{ROUND, size};
use crate::paper::clear::{Clear, Slip, Thing};
use crate::paper::hatch;
use crate::paper::mm::{Box2, length, lerp};
use crate::tags;
use crate::tags::place;
use crate::tags::place::{PaperBox, Placement, Problem};

/// Share of a line's length at which its mark may stand, best first.
const STATIONS: [f64; 13] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.45, 0.55, 0.35, 0.65, 0.12, 0.88];

/// Marks of joints and steps that stand on their own line, clear of every other thing.
pub(super) fn pinned(
    drawn: &[Drawn],
    clusters: &[Cluster],
    texts: &[String],
    clear: &Clear,
) -> BTreeMap<usize, Box2> {
    let mut out: BTreeMap<usize, Box2> = BTreeMap::new();
    // Steps lie on the very line of a joint; its mark had better not hide them.
    let steps = drawn.iter().filter(|d| matches!(d.fate, Fate::HighEdge | Fate::SmallStep));
    let steps: Vec<&Vec<PaperPoint>> = steps
        .filter_map(|d| match &d.shape {
            Shape::Line(runs) => Some(runs),
            _ => None,
        })
        .flatten()
        .collect();
    for (i, cluster) in clusters.iter().enumerate() {
        let on_line = matches!(
            cluster.fate,
            Fate::JointFilled
                | Fate::JointFilledMoving
                | Fate::JointSealed
                | Fate::JointHidden
                | Fate::JointLeft
        );
        let Shape::Line(runs) = &drawn[cluster.shown].shape else {
            continue;
        };
        let Some(run) = longest(runs).filter(|r| on_line && length(r) > 3.0 * ROUND) else {
            continue;
        };
        let (w, h) = size(&texts[i]);
        let found = STATIONS.iter().map(|&s| Box2::around(station(run, s), w, h)).find(|area| {
            let wide = Slip::upright(&area.grown(1.7));
            clear.bounds().holds(&area.grown(1.0))
                && out.values().all(|other| !other.grown(1.5).meets(area))
                && clear.touched(&wide).all(|thing| is_own(thing, runs))
                && !steps.iter().any(|run| meets(&wide, run))
        });
        out.extend(found.map(|area| (i, area)));
    }
    out
}

/// Whether a run touches a rectangle.
fn meets(area: &Slip, run: &[PaperPoint]) -> bool {
    run.windows(2).any(|p| area.meets_segment(p[0], p[1]))
}

/// Whether something on the sheet is a piece of a line itself.
fn is_own(thing: &Thing, runs: &[Vec<PaperPoint>]) -> bool {
    let Thing::Line(a, b) = thing else {
        return false;
    };
    let on = |p: PaperPoint| {
        runs.iter().flat_map(|r| r.windows(2)).any(|s| hatch::from_segment(p, s[0], s[1]) < 1e-6)
    };
    on(*a) && on(*b)
}

/// A mark that stands on its own line: what it hides, and the line.
struct Hidden<'a> {
    area: Slip,
    runs: &'a [Vec<PaperPoint>],
}

/// The sheet as the placement sees it: every line is out of bounds, but for the piece of its own line that a mark hides.
pub(super) fn problem(
    drawn: &[Drawn],
    clusters: &[Cluster],
    clear: &Clear,
    pinned: &BTreeMap<usize, Box2>,
) -> Problem {
    let b = clear.bounds();
    let mut problem =
        Problem { zone: PaperBox::new(b.left, b.top, b.right, b.bottom), ..Problem::default() };
    let hidden: Vec<Hidden> = pinned
        .iter()
        .filter_map(|(&i, area)| match &drawn[clusters.get(i)?.shown].shape {
            Shape::Line(runs) => Some(Hidden { area: Slip::upright(&area.grown(2.0)), runs }),
            _ => None,
        })
        .collect();
    for thing in clear.things() {
        match thing {
            Thing::Line(from, to) | Thing::Edge(from, to) => {
                for (from, to) in pieces(thing, (*from, *to), &hidden) {
                    problem.lines.push(place::Line { from, to, width: 0.9 });
                }
            }
            Thing::Soft(from, to) => {
                problem.joints.push(place::Line { from: *from, to: *to, width: 0.3 })
            }
            Thing::Slip(_) | Thing::Symbol(_) => tags::stand(&mut problem, thing),
        }
    }
    problem
}

/// A line without what marks on it hide.
fn pieces(
    thing: &Thing,
    (from, to): (PaperPoint, PaperPoint),
    hidden: &[Hidden],
) -> Vec<(PaperPoint, PaperPoint)> {
    let on_it = |h: &&Hidden| h.area.meets_segment(from, to) && is_own(thing, h.runs);
    let over: Vec<&Slip> = hidden.iter().filter(on_it).map(|h| &h.area).collect();
    if over.is_empty() {
        return vec![(from, to)];
    }
    let n = ((to - from).length() / 0.5).ceil().clamp(1.0, 400.0);
    let mut out = Vec::new();
    let mut k = 0.0;
    while k < n {
        let (p, q) = (lerp(from, to, k / n), lerp(from, to, (k + 1.0) / n));
        if over.iter().all(|s| !s.meets_segment(p, q)) {
            out.push((p, q));
        }
        k += 1.0;
    }
    out
}

/// Marks meant for a place on their line that stand beside it: nothing would say to which line they belong.
pub(super) fn displaced(placement: &Placement, pinned: &BTreeMap<usize, Box2>) -> Vec<usize> {
    let is_off = |placed: &place::Placed| {
        let meant = placed.id.parse().ok().and_then(|i: usize| pinned.get(&i));
        meant.is_some_and(|meant| (placed.area.centre() - meant.center()).length() > 0.5)
    };
    let placed = placement.placed.iter().enumerate();
    placed.filter(|(_, p)| is_off(p)).map(|(i, _)| i).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::mm::at;

    /// Beside the mark of a joint runs a crack: other marks keep off it as before.
    #[test]
    fn a_mark_on_its_line_hides_nothing_of_another() {
        let joint = vec![at(10.0, 50.0), at(90.0, 50.0)];
        let crack = vec![at(10.0, 45.1), at(90.0, 45.1)];
        let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
        clear.add_line(&joint);
        clear.add_line(&crack);
        let item = |fate, run: &Vec<PaperPoint>| Drawn {
            fate,
            ids: Vec::new(),
            shape: Shape::Line(vec![run.clone()]),
            aim: None,
        };
        let drawn = [item(Fate::JointFilled, &joint), item(Fate::CrackRepaired, &crack)];
        let clusters =
            [Cluster { fate: Fate::JointFilled, shown: 0, count: 1, at: at(50.0, 50.0) }];
        let mark = Box2::around(at(50.0, 50.0), ROUND, ROUND);
        let found = problem(&drawn, &clusters, &clear, &BTreeMap::from([(0, mark)]));
        let long = |y: f64| {
            let on = found.lines.iter().filter(|l| l.from.y == y);
            on.map(|l| (l.to - l.from).length()).sum::<f64>()
        };
        assert!(long(50.0) < 75.0, "{}", long(50.0));
        assert!((long(45.1) - 80.0).abs() < 1e-9, "{}", long(45.1));
    }
}
