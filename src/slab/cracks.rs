//! Cracks: where they run and what of them lies in the job.

use super::locate::Locator;
use super::{Crack, Slab};
use crate::diagnostic::Diagnostic;
use crate::geometry::clip::Clipper;
use crate::sketch::{self, Sketch};

pub(super) fn placed<'a>(cracks: &'a [sketch::Crack], locator: &mut Locator<'a>) -> Vec<Crack> {
    cracks
        .iter()
        .enumerate()
        .filter_map(|(i, crack)| locator.about(&crack.id.value, |locator| one(i, crack, locator)))
        .collect()
}

fn one<'a>(i: usize, crack: &'a sketch::Crack, locator: &mut Locator<'a>) -> Option<Crack> {
    let path = locator.crack(i, crack)?;
    let mut widths = Vec::new();
    for (station, width) in &crack.widths {
        let at = locator.station(station, path.length(), &crack.id.value)?;
        widths.push((at, width.value.m()));
    }
    let width_known = !widths.is_empty();
    match widths.first_mut() {
        // What lies before the first noted station is as wide as there.
        Some(first) => first.0 = 0.0,
        None => widths.push((0.0, 0.0)),
    }
    Some(Crack {
        id: crack.id.value.clone(),
        path,
        widths,
        width_known,
        step: crack.step.as_ref().map(|s| s.value.m()),
        movement: crack.movement,
        treatment: crack.treatment.as_ref().map(|t| t.value),
        note: crack.note.clone(),
        in_scope: Vec::new(),
        on_slab: Vec::new(),
        on_top: Vec::new(),
        crowded: false,
        span: crack.id.span,
    })
}

/// Cracks wholly off the slab are errors; joints there are drawn and not counted, with a warning.
pub(super) fn outside(slab: &Slab, sketch: &Sketch, found: &mut Vec<Diagnostic>) {
    let enclosed = Clipper::new(&slab.enclosed);
    for (crack, written) in slab.cracks.iter().zip(&sketch.cracks) {
        if crack.on_slab.is_empty() && enclosed.inside(&crack.path.flatten()).is_empty() {
            found.push(
                Diagnostic::error(
                    "outside-slab",
                    format!("crack {} lies wholly outside the slab", crack.id),
                )
                .item(&crack.id)
                .at(written.path.span)
                .hint("check its coordinates: x runs to the right, y up, both from [0, 0]"),
            );
        }
    }
    for (joint, written) in slab.joints.iter().zip(&sketch.joints) {
        if joint.on_slab.is_empty() && enclosed.inside(&joint.path.flatten()).is_empty() {
            found.push(
                Diagnostic::warning(
                    "joint-outside",
                    format!("joint {} lies wholly outside the slab; it is not counted", joint.id),
                )
                .item(&joint.id)
                .at(written.line.span)
                .hint("check its coordinates: x runs to the right, y up, both from [0, 0]"),
            );
        }
    }
}
