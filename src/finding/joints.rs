//! Joints: what will show, what was counted once, what has to be opened.

use std::collections::BTreeMap;

use super::Facts;
use crate::diagnostic::{Diagnostic, Place};
use crate::quantity::M_PER_IN;
use crate::sketch::{JointKind, Span};
use crate::slab::{Joint, Stretch, along_walls};
use crate::takeoff::{JointRepair, JointWork};

/// Less of a joint along a wall is how it was taped, m: 12 in (common practice).
const LEAST_ALONG_WALL: f64 = 12.0 * M_PER_IN;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    for (joint, on_wall) in along_walls(facts.slab) {
        along_a_wall(facts, joint, &on_wall, out);
    }
    let spans = facts.slab.joints.iter().map(|joint| (&*joint.id, joint.span)).collect();
    for (joint, work) in facts.takeoff.joints_of(facts.slab) {
        overlaps(facts, joint, &spans, out);
        moving(joint, work, out);
        widths(facts, joint, work, out);
        if joint.buried && !matches!(work.repair, JointRepair::Leave) {
            out.push(
                Diagnostic::note(
                    "buried-joint",
                    format!(
                        "{} is buried: open {} of it before anything else is decided about it",
                        joint.id,
                        facts.length(work.length_m)
                    ),
                )
                .item(&joint.id)
                .at(joint.span)
                .hint("its width, depth and filler are guesses until then; agree a unit price")
                .source("common practice"),
            );
        }
        if joint.on_slab.is_empty() {
            continue;
        }
        if joint.in_scope.is_empty() && joint.on_top.is_empty() {
            out.push(
                Diagnostic::note(
                    "joint-not-in-job",
                    format!("{} lies outside the coated area: it is drawn, not counted", joint.id),
                )
                .item(&joint.id)
                .many("joints lie outside the coated area: they are drawn, not counted", &joint.id)
                .at(joint.span),
            );
        }
    }
}

/// What of a joint runs on others; `spans`: where each joint is noted.
fn overlaps(
    facts: &Facts<'_>,
    joint: &Joint,
    spans: &BTreeMap<&str, Span>,
    out: &mut Vec<Diagnostic>,
) {
    // What lies on one joint stands together.
    for on in joint.on_top.chunk_by(|a, b| a.1 == b.1) {
        let first = on[0].1.as_str();
        let length = on.iter().map(|(stretch, _)| stretch.length()).sum();
        out.push(counted_once(facts, (&joint.id, joint.span), length, (first, spans[first])));
    }
}

/// A line that runs on an earlier one.
pub(super) fn counted_once(
    facts: &Facts<'_>,
    (id, span): (&str, Span),
    length: f64,
    (first, first_span): (&str, Span),
) -> Diagnostic {
    let length = facts.length(length);
    Diagnostic::warning(
        "counted-once",
        format!("{id} runs on top of {first} for {length}; it is counted once, for {first}"),
    )
    .item(id)
    .at(span)
    .related(Place::sketch(first_span), format!("{first} runs here already"))
    .hint("end one of them where the other starts, or leave one out")
}

/// A joint along a wall may be an isolation joint; it may also be the wall, drawn by mistake.
fn along_a_wall(facts: &Facts<'_>, joint: &Joint, on_wall: &[Stretch], out: &mut Vec<Diagnostic>) {
    let length: f64 = on_wall.iter().map(Stretch::length).sum();
    if length < LEAST_ALONG_WALL {
        return;
    }
    let counted: f64 = joint.in_scope.iter().map(Stretch::length).sum();
    out.push(
        Diagnostic::warning(
            "joint-along-wall",
            format!(
                "{} of the {} counted for {} lie along a wall",
                facts.length(length),
                facts.length(counted),
                joint.id
            ),
        )
        .item(&joint.id)
        .at(joint.span)
        .hint("is there a joint between slab and wall? If not, end it where it meets the wall, or leave it out")
        .source("common practice"),
    );
}

/// What moves and is filled anyway will show.
fn moving(joint: &Joint, work: &JointWork, out: &mut Vec<Diagnostic>) {
    if joint.kind == JointKind::Isolation && work.chase().is_some() {
        out.push(
            Diagnostic::warning(
                "isolation-filled",
                format!("isolation joint {} is to be filled: it moves, and it will show", joint.id),
            )
            .item(&joint.id)
            .many("isolation joints are to be filled: they move, and they will show", &joint.id)
            .at(joint.span)
            .hint("honor it, or have the customer sign that the crack will come back")
            .source("NRMCA CIP 6: isolation joints let slab and wall move apart (from memory)"),
        );
    }
}

fn widths(facts: &Facts<'_>, joint: &Joint, work: &JointWork, out: &mut Vec<Diagnostic>) {
    let Some(seal) = work.seal() else {
        return;
    };
    if joint.width.is_none() {
        out.push(
            Diagnostic::warning(
                "width-missing",
                format!(
                    "{} is honored but has no width: {} is taken",
                    joint.id,
                    facts.small(seal.width_m)
                ),
            )
            .item(&joint.id)
            .at(joint.span)
            .hint("measure it at the top and note it as `width:`"),
        );
    }
    if seal.rod_m.is_none() {
        out.push(
            Diagnostic::warning(
                "no-rod-size",
                format!(
                    "no backer rod of the shop book is thick enough for {}, {} wide",
                    joint.id,
                    facts.small(seal.width_m)
                ),
            )
            .item(&joint.id)
            .at(joint.span)
            .hint("add a size of at least 1.25 times the width to `backer_rod: sizes` of the shop book"),
        );
    }
}
