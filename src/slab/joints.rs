//! Joints: where they run, what of them lies in the job, each foot counted once.

use super::floor::ON_TOP;
use super::locate::Locator;
use super::{Joint, Stretch};
use crate::geometry::clip::{Clipper, OnTop, on_top};
use crate::geometry::path::{Path, Vertex};
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::parallel;
use crate::quantity::M_PER_IN;
use crate::sketch;

/// Where two joints run on top of each other and only the later one lies on the floor, shorter stretches are no joint, m:
/// 1 in. Nobody saws or fills an inch by itself (common practice).
const REMNANT: f64 = M_PER_IN;

/// Joints without their scope; the places of those that can't be resolved are noted.
pub(super) fn placed<'a>(sketch: &'a [sketch::Joint], locator: &mut Locator<'a>) -> Vec<Joint> {
    sketch
        .iter()
        .enumerate()
        .filter_map(|(i, joint)| one(i, joint, locator))
        .collect()
}

fn one<'a>(i: usize, joint: &'a sketch::Joint, locator: &mut Locator<'a>) -> Option<Joint> {
    let path = locator.joint(i, joint)?;
    let m =
        |length: &Option<sketch::At<crate::quantity::Length>>| length.as_ref().map(|l| l.value.m());
    Some(Joint {
        id: joint.id.value.clone(),
        kind: joint.kind.value,
        formed: joint.formed,
        path,
        width: m(&joint.width),
        depth: m(&joint.depth),
        strip_depth: m(&joint.strip_depth),
        wander: m(&joint.wander),
        buried: joint.buried,
        treatment: joint.treatment.as_ref().map(|t| t.value),
        chase_width: m(&joint.chase.width),
        chase_depth: m(&joint.chase.depth),
        note: joint.note.clone(),
        in_scope: Vec::new(),
        on_slab: Vec::new(),
        on_top: Vec::new(),
        span: joint.id.span,
    })
}

/// Intervals as stretches.
#[must_use]
pub fn stretches(intervals: &Intervals) -> Vec<Stretch> {
    intervals
        .as_slice()
        .iter()
        .map(|&(from_m, to_m)| Stretch { from_m, to_m })
        .collect()
}

/// Finds out what of each joint lies in K and in R, and counts what runs on an earlier joint once.
pub(super) fn scope(joints: &mut [Joint], net: &Clipper, reached: &Clipper) {
    let flat: Vec<Vec<Vertex>> = joints.iter().map(|j| j.path.flatten()).collect();
    let inside = parallel::many(flat.len(), |i| net.inside(&flat[i]));
    let (segments, joint_of) = all_segments(&flat);
    let sides = flat.iter().map(|path| path.len().saturating_sub(1));
    let first: Vec<usize> = sides
        .scan(0, |sum, n| Some(std::mem::replace(sum, *sum + n)))
        .collect();
    let found = parallel::many(flat.len(), |i| {
        let mut doubled = Vec::new();
        for (k, pair) in flat[i].windows(2).enumerate() {
            let before = first[i] + k;
            doubled.extend(on_top(pair, &segments, ON_TOP, |owner| owner < before));
        }
        let (mut counted, mut others) = (Vec::new(), Vec::new());
        for found in &doubled {
            let other = joint_of[found.owner];
            for piece in counted_there(found, &joints[i].path, &joints[other].path, &inside[other])
            {
                counted.push(piece);
                if other != i {
                    let both = inside[i].intersection(&Intervals::new(vec![piece]));
                    others.extend(stretches(&both).into_iter().map(|s| (s, other)));
                }
            }
        }
        let on_slab = stretches(&reached.inside(&flat[i]));
        let beside = Intervals::new(doubled.iter().map(|d| (d.from, d.to)).collect());
        (once(&inside[i], counted, &beside), others, on_slab)
    });
    for (joint, (in_scope, others, on_slab)) in joints.iter_mut().zip(found) {
        joint.on_top.extend(others);
        (joint.in_scope, joint.on_slab) = (in_scope, on_slab);
    }
}

/// What is left of a joint when what earlier joints count is taken off, less remnants that are no joint of their own: one
/// shorter than the tolerance still lies within it of the earlier joint's end, and one where both run beside each other is
/// what a slanted edge of the floor leaves of the line that lies a little farther in.
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

fn all_segments(flat: &[Vec<Vertex>]) -> (Segments, Vec<usize>) {
    let (mut segments, mut joint_of) = (Vec::new(), Vec::new());
    for (i, path) in flat.iter().enumerate() {
        for pair in path.windows(2) {
            segments.push(Owned {
                a: pair[0].point,
                b: pair[1].point,
                owner: joint_of.len(),
            });
            joint_of.push(i);
        }
    }
    (Segments::new(segments), joint_of)
}

/// The part of a doubled stretch that the earlier joint really counts: an earlier joint on a
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
