//! What of each joint and crack lies in the job, each foot counted once: joints before cracks, and of two alike the one listed first.

use kurbo::Point;

use super::floor::ON_TOP;
use super::joints::kept;
use super::walls::wall_pieces;
use super::{Crack, Joint, Slab, Stretch};
use crate::geometry::clip::{Clipper, OnTop, on_top};
use crate::geometry::path::{Path, Vertex};
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::parallel;
use crate::quantity::M_PER_IN;

/// Two lines run on top of each other and only the later one lies on the floor: stretches of it shorter than this are no line of their own,
/// m. 1 in: nobody saws or fills an inch by itself (common practice).
const REMNANT: f64 = M_PER_IN;

/// Lines that come nearer to each other, or go apart, by more than this share of their length cross; they don't run on each other:
/// 1/4 in in a foot. At that slope a crossing stays within 1/8 in of the other line for 12 in, which two cuts never do (common practice).
const CROSSING: f64 = 1.0 / 48.0;

/// What of one line lies in the job.
#[derive(Default)]
struct Counted {
    in_scope: Vec<Stretch>,
    on_slab: Vec<Stretch>,
    /// Stretches in K that lie on an earlier line, with its index.
    on_top: Vec<(Stretch, usize)>,
    crowded: bool,
}

/// Intervals as stretches.
#[must_use]
pub fn stretches(intervals: &Intervals) -> Vec<Stretch> {
    intervals.as_slice().iter().map(|&(from_m, to_m)| Stretch { from_m, to_m }).collect()
}

/// Sides of other lines near one side of a crack beyond which nobody could tell them apart on a floor: such a crack is not held
/// against the others, and a finding says so. A joint runs right across and may pass many.
const CROWD: usize = 256;

/// Finds out what of each joint and crack lies in K and in R; a stretch that runs on an earlier line counts once.
pub(super) fn scope(joints: &mut [Joint], cracks: &mut [Crack], net: &Clipper, reached: &Clipper) {
    let paths: Vec<&Path> =
        joints.iter().map(|j| &j.path).chain(cracks.iter().map(|c| &c.path)).collect();
    let there: Vec<Option<Intervals>> = joints.iter().map(kept).collect();
    let mut found = counted(&paths, &there, net, reached);
    let mut found = found.drain(..);
    let ids: Vec<String> =
        joints.iter().map(|j| &j.id).chain(cracks.iter().map(|c| &c.id)).cloned().collect();
    let named = |on_top: Vec<(Stretch, usize)>| {
        on_top.into_iter().map(|(stretch, line)| (stretch, ids[line].clone())).collect()
    };
    for (joint, found) in joints.iter_mut().zip(&mut found) {
        (joint.in_scope, joint.on_slab) = (found.in_scope, found.on_slab);
        joint.on_top = named(found.on_top);
    }
    for (crack, found) in cracks.iter_mut().zip(found) {
        (crack.in_scope, crack.on_slab) = (found.in_scope, found.on_slab);
        (crack.on_top, crack.crowded) = (named(found.on_top), found.crowded);
    }
}

/// What counts of joints and cracks, joints first; `there` says where a joint is on its path, if not all along.
fn counted(
    paths: &[&Path],
    there: &[Option<Intervals>],
    net: &Clipper,
    reached: &Clipper,
) -> Vec<Counted> {
    let joints = there.len();
    let flat: Vec<Vec<Vertex>> = paths.iter().map(|path| path.flatten()).collect();
    let within = |region: &Clipper, i: usize| {
        let inside = region.inside(&flat[i]);
        match there.get(i) {
            Some(Some(there)) => inside.intersection(there),
            _ => inside,
        }
    };
    let inside = parallel::many(flat.len(), |i| within(net, i));
    let lines = Lines::new(&flat);
    let sides = flat.iter().map(|path| path.len().saturating_sub(1));
    let first: Vec<usize> =
        sides.scan(0, |sum, n| Some(std::mem::replace(sum, *sum + n))).collect();
    parallel::many(flat.len(), |i| {
        let crowded = i >= joints && lines.crowd(&flat[i]);
        let doubled = if crowded {
            Vec::new()
        } else {
            lines.along(paths[i], &flat[i], |k, other| other < first[i] + k)
        };
        let (mut counted, mut others) = (Vec::new(), Vec::new());
        for found in &doubled {
            let other = lines.of[found.owner];
            for piece in counted_there(found, paths[i], paths[other], &inside[other]) {
                counted.push(piece);
                if other != i {
                    let both = inside[i].intersection(&Intervals::new(vec![piece]));
                    others.extend(stretches(&both).into_iter().map(|s| (s, other)));
                }
            }
        }
        let beside = Intervals::new(doubled.iter().map(|d| (d.from, d.to)).collect());
        Counted {
            in_scope: once(&inside[i], counted, &beside),
            on_slab: stretches(&within(reached, i)),
            on_top: others,
            crowded,
        }
    })
}

/// Each joint with what of it counts and runs along a wall, within 1/8 in of it.
#[must_use]
pub fn along_walls(slab: &Slab) -> Vec<(&Joint, Vec<Stretch>)> {
    let solid: Vec<Vec<Vertex>> = wall_pieces(&slab.outline, &slab.openings)
        .flat_map(|(wall, pieces)| {
            let solid = pieces.into_iter().filter(|piece| piece.opening.is_none());
            solid.map(|piece| wall.part(piece.on.from_m, piece.on.to_m).flatten())
        })
        .collect();
    let lines = Lines::new(&solid);
    let along = |joint: &Joint| {
        let beside = lines.along(&joint.path, &joint.path.flatten(), |_, _| true);
        let beside = Intervals::new(beside.iter().map(|b| (b.from, b.to)).collect());
        let counted = joint.in_scope.iter().map(|s| (s.from_m, s.to_m));
        stretches(&beside.intersection(&Intervals::new(counted.collect())))
    };
    slab.joints.iter().map(|joint| (joint, along(joint))).collect()
}

/// The sides of lines, found by place.
struct Lines {
    index: Segments,
    sides: Vec<(Point, Point)>,
    /// The line that each side is of.
    of: Vec<usize>,
}

impl Lines {
    fn new(flat: &[Vec<Vertex>]) -> Self {
        let (mut sides, mut of) = (Vec::new(), Vec::new());
        for (line, path) in flat.iter().enumerate() {
            for pair in path.windows(2) {
                sides.push((pair[0].point, pair[1].point));
                of.push(line);
            }
        }
        let owned = sides.iter().enumerate();
        let index = owned.map(|(owner, &(a, b))| Owned { a, b, owner }).collect();
        Self { index: Segments::new(index), sides, of }
    }

    /// Whether a side of a path has more lines near it than are told apart.
    fn crowd(&self, flat: &[Vertex]) -> bool {
        let mut sides = flat.windows(2);
        sides.any(|s| self.index.more_near(s[0].point, s[1].point, ON_TOP, CROWD))
    }

    /// Stretches of a path that run along a line. Which of its sides are looked at, `looked_at` says for each side of the path.
    ///
    /// Stretches that follow each other beside the same line are looked at as one: a bend must not hide that a path runs along a line, nor
    /// a short chord that it only crosses.
    fn along(
        &self,
        path: &Path,
        flat: &[Vertex],
        looked_at: impl Fn(usize, usize) -> bool,
    ) -> Vec<OnTop> {
        let mut beside = Vec::new();
        for (k, pair) in flat.windows(2).enumerate() {
            beside.extend(on_top(pair, &self.index, ON_TOP, |side| looked_at(k, side)));
        }
        let line = |piece: &OnTop| self.of[piece.owner];
        beside.sort_by(|p, q| line(p).cmp(&line(q)).then(p.from.total_cmp(&q.from)));
        let mut kept = Vec::with_capacity(beside.len());
        for one_line in beside.chunk_by(|p, q| line(p) == line(q)) {
            let mut end = f64::NEG_INFINITY;
            let runs = one_line.chunk_by(|p, q| {
                end = end.max(p.to);
                q.from <= end + ON_TOP
            });
            for run in runs {
                kept.extend(self.part_along(run, path).into_iter().flatten());
            }
        }
        kept
    }

    /// What of a run of pieces beside a line runs along it: from the first piece that keeps its distance to the last one, if all of that
    /// together does. So a bend away from the line, and whatever crosses it there, is no part.
    fn part_along(&self, run: &[OnTop], path: &Path) -> Option<impl Iterator<Item = OnTop>> {
        let aside = |piece: &OnTop, station: f64| {
            let (a, b) = self.sides[piece.owner];
            (b - a).normalize().cross(path.point_at(station) - a)
        };
        let keeps = |first: &OnTop, last: &OnTop| {
            let drift = aside(last, last.to) - aside(first, first.from);
            drift.abs() <= CROSSING * (last.to - first.from)
        };
        let steady = || run.iter().filter(|piece| keeps(piece, piece));
        let first = steady().min_by(|p, q| p.from.total_cmp(&q.from))?;
        let last = steady().max_by(|p, q| p.to.total_cmp(&q.to))?;
        let (start, end) = (first.from, last.to);
        let part = run.iter().map(move |piece| OnTop {
            from: piece.from.max(start),
            to: piece.to.min(end),
            ..*piece
        });
        keeps(first, last).then(|| part.filter(|piece| piece.to > piece.from))
    }
}

/// What is left of a line without what earlier lines count. Two kinds of remnant are dropped: one shorter than the
/// tolerance still lies within it of the earlier line's end; one where both lines run beside each other is what a
/// slanted edge of the floor leaves of the line a little farther in.
fn once(inside: &Intervals, counted: Vec<(f64, f64)>, beside: &Intervals) -> Vec<Stretch> {
    if counted.is_empty() {
        return stretches(inside);
    }
    let mut left = stretches(&inside.difference(&Intervals::new(counted)));
    let covered = |s: &Stretch| {
        let all = Intervals::new(vec![(s.from_m, s.to_m)]);
        all.difference(beside).length() < 1e-9
    };
    left.retain(|s| s.length() > ON_TOP && (s.length() > REMNANT || !covered(s)));
    left
}

/// The part of a doubled stretch that the earlier line really counts: an earlier one on a
/// keep-out's far side must not take the later one's feet.
fn counted_there(found: &OnTop, path: &Path, other: &Path, scope: &Intervals) -> Vec<(f64, f64)> {
    let (p, _) = other.nearest(path.point_at(found.from));
    let (q, _) = other.nearest(path.point_at(found.to));
    if (q - p).abs() < 1e-12 {
        return Vec::new();
    }
    let there = Intervals::new(vec![(p.min(q), p.max(q))]).intersection(scope);
    let back = |station: f64| found.from + (station - p) / (q - p) * (found.to - found.from);
    there
        .as_slice()
        .iter()
        .map(|&(lo, hi)| (back(lo).min(back(hi)), back(lo).max(back(hi))))
        .collect()
}

#[cfg(test)]
mod tests {
    /// The lengths of two joints a millimeter apart, with a part left bare whose edge runs from (4.9, 4) to there.
    fn lengths(edge: &str) -> Vec<f64> {
        let text = format!(
            "slabwalk: 1\nunits: metric\njob: {{name: Shed}}\nslab: {{outline: [[0, 0], [10, 0], [10, 10], [0, 10]]}}\n\
             joints:\n  - {{id: J1, kind: control, x: 5}}\n  - {{id: J2, kind: control, x: 4.999}}\n\
             coating: {{uncoated: [{{what: mat, polygon: [[4.9, 4], [5.5, 4], {edge}]}}]}}\n"
        );
        let (sketch, found) = crate::sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{found:?}"));
        let (slab, found) = crate::slab::resolve(&sketch, &crate::shop::built_in());
        let slab = slab.unwrap_or_else(|| panic!("{found:?}"));
        let length = |j: &super::Joint| j.in_scope.iter().map(super::Stretch::length).sum();
        slab.joints.iter().map(length).collect()
    }

    /// Lengths of joints and cracks on a floor of 10 m by 10 m.
    fn counted(joints: &[&str], cracks: &[&str]) -> Vec<f64> {
        let mut text = "slabwalk: 1\nunits: metric\njob: {name: Shed}\nslab: {outline: [[0, 0], [10, 0], [10, 10], [0, 10]]}\n".to_owned();
        for (key, kind, paths) in
            [("joints", "kind: control, ", joints), ("cracks", "width: 2, ", cracks)]
        {
            text += if paths.is_empty() { "" } else { key };
            text += if paths.is_empty() { "" } else { ":\n" };
            text.extend(paths.iter().map(|path| format!("  - {{{kind}path: {path}}}\n")));
        }
        let (sketch, found) = crate::sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{found:?}"));
        let (slab, found) = crate::slab::resolve(&sketch, &crate::shop::built_in());
        let slab = slab.unwrap_or_else(|| panic!("{found:?}"));
        let joints = slab.joints.iter().map(|j| &j.in_scope);
        let cracks = slab.cracks.iter().map(|c| &c.in_scope);
        let sum = |s: &Vec<super::Stretch>| s.iter().map(super::Stretch::length).sum();
        joints.chain(cracks).map(sum).collect()
    }

    #[test]
    fn every_foot_counts_once_and_a_crossing_takes_none() {
        // Lines through (5, 5) that cross y = 5 at so many degrees.
        let at = |degrees: f64| {
            let rise = 4.0 * degrees.to_radians().tan();
            format!("[[1, {:.6}], [9, {:.6}]]", 5.0 - rise, 5.0 + rise)
        };
        let across = "[[0, 5], [10, 5]]";
        type Row<'a> = (&'a str, Vec<&'a str>, Vec<&'a str>, Vec<f64>);
        let slant = |degrees: f64| 8.0 / degrees.to_radians().cos();
        let (two, four, six) = (at(2.0), at(4.0), at(6.0));
        let rows: Vec<Row<'_>> = vec![
            ("crossing at 2 degrees", vec![across, &two], vec![], vec![10.0, slant(2.0)]),
            ("crossing at 4 degrees", vec![across, &four], vec![], vec![10.0, slant(4.0)]),
            ("crossing at 6 degrees", vec![across, &six], vec![], vec![10.0, slant(6.0)]),
            (
                "the same cut taped twice, 5 mm off in all",
                vec![across, "[[9, 5.0025], [1, 4.9975]]"],
                vec![],
                vec![10.0, 0.0],
            ),
            (
                "a short overlap in line",
                vec!["[[0, 5], [4, 5]]", "[[3.9, 5], [9, 5]]"],
                vec![],
                vec![4.0, 5.0],
            ),
            (
                "one that turns off square",
                vec![across, "[[2, 2], [2, 5], [6, 5], [6, 8]]"],
                vec![],
                vec![10.0, 6.0],
            ),
            (
                "a crack on a joint, and off it",
                vec![across],
                vec!["[[2, 5], [6, 5], [6, 8]]"],
                vec![10.0, 3.0],
            ),
            (
                "a crack on a crack",
                vec![],
                vec![across, "[[4, 5.001], [1, 5.001]]"],
                vec![10.0, 0.0],
            ),
            (
                "a crack along a wavy one",
                vec![],
                vec![
                    "[[1, 5], [2, 5.2], [3, 5], [4, 5.2]]",
                    "[[1, 5.001], [2, 5.201], [3, 5.001]]",
                ],
                vec![3.059412, 0.0],
            ),
        ];
        for (name, joints, cracks, wanted) in rows {
            let found = counted(&joints, &cracks);
            for (f, w) in found.iter().zip(&wanted) {
                assert!((f - w).abs() < 1e-3, "{name}: {found:?} for {wanted:?}");
            }
        }
    }

    #[test]
    fn what_a_slanted_edge_leaves_of_a_joint_drawn_twice_is_no_joint() {
        // By hand: the edge rises 3.75 to 1 and meets x = 5 at y = 4.375, x = 4.999 at 4.37125: 3.75 mm are left.
        let found = lengths("[5.3, 5.5]");
        assert!((found[0] - 9.625).abs() < 1e-5, "{found:?}");
        assert_eq!(found[1], 0.0);
        // 40 to 1 from (4.9, 4): 40 mm are left, and more than an inch is a joint.
        let found = lengths("[5.5, 28]");
        assert!((found[1] - 0.04).abs() < 1e-4, "{found:?}");
    }
}
