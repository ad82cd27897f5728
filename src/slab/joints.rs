//! Joints: where they run.

use super::Joint;
use super::locate::Locator;
use crate::sketch;

/// Joints without their scope; the places of those that can't be resolved are noted.
pub(super) fn placed<'a>(sketch: &'a [sketch::Joint], locator: &mut Locator<'a>) -> Vec<Joint> {
    sketch
        .iter()
        .enumerate()
        .filter_map(|(i, joint)| locator.about(&joint.id.value, |locator| one(i, joint, locator)))
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
