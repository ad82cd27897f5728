//! Joints: where they run, what of them lies in the job, each foot counted once.

use super::floor::ON_TOP;
use super::locate::Locator;
use super::{Joint, Stretch};
use crate::geometry::clip::{Clipper, OnTop, on_top};
use crate::geometry::path::{Path, Vertex};
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::parallel;
use crate::sketch;

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
        (once(&inside[i], counted), others, on_slab)
    });
    for (joint, (in_scope, others, on_slab)) in joints.iter_mut().zip(found) {
        joint.on_top.extend(others);
        (joint.in_scope, joint.on_slab) = (in_scope, on_slab);
    }
}

/// What is left of a joint when what earlier joints count is taken off. A remnant shorter than the
/// tolerance still lies within it of the earlier joint's end, so it is no joint of its own.
fn once(inside: &Intervals, counted: Vec<(f64, f64)>) -> Vec<Stretch> {
    if counted.is_empty() {
        return stretches(inside);
    }
    let mut left = stretches(&inside.difference(&Intervals::new(counted)));
    left.retain(|stretch| stretch.length() > ON_TOP);
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
