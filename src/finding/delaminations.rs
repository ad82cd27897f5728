//! Delaminations: left under a coating, of a thickness that nobody knows, at a joint or an edge, over a spall.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::geometry::path::Path;
use crate::geometry::segments::{Owned, Segments};
use crate::sketch::LooseTreatment;
use crate::slab::Delamination;
use crate::takeoff::{DelaminationWork, touching};

/// Less of two areas in common is rounding, m²: 1 mm².
const OVER: f64 = 1e-6;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let slab = facts.slab;
    if slab.delaminations.is_empty() {
        return;
    }
    let joints = slab.joints.iter().enumerate().flat_map(|(owner, joint)| {
        let pieces = joint.in_scope.iter().map(|piece| joint.path.part(piece.from_m, piece.to_m));
        pieces.flat_map(move |piece| segments(&piece, owner)).collect::<Vec<_>>()
    });
    let joints = Segments::new(joints.collect());
    let edge = Segments::new(segments(&slab.outline.path, 0));
    for (loose, work) in facts.takeoff.delaminations_of(slab) {
        if loose.area_m2 <= 0.0 {
            continue;
        }
        assumed(facts, loose, work, out);
        left(facts, loose, work, out);
        if let Some(at) = touching(&loose.part, &joints) {
            reaches(loose, work, Some(&slab.joints[at].id), out);
        }
        if touching(&loose.part, &edge).is_some() {
            reaches(loose, work, None, out);
        }
        over_spalls(facts, loose, work, out);
    }
}

fn segments(path: &Path, owner: usize) -> Vec<Owned> {
    path.points().windows(2).map(|p| Owned { a: p[0], b: p[1], owner }).collect()
}

fn assumed(
    facts: &Facts<'_>,
    loose: &Delamination,
    work: &DelaminationWork,
    out: &mut Vec<Diagnostic>,
) {
    if !work.assumed || work.repair.treatment() == LooseTreatment::Leave {
        return;
    }
    let depth = facts.small(work.depth_m);
    let finding = Diagnostic::warning(
        "delamination-depth-assumed",
        format!("nobody has measured how thick the loose layer of {} is: {depth} is assumed", loose.id),
    )
    .item(&loose.id)
    .many("delaminations have a loose layer that nobody has measured: a thickness is assumed", &loose.id)
    .at(loose.span)
    .hint("break the layer out at one spot with a chisel and note its `depth`: mortar, ports and time hang on it")
    .source("common practice");
    out.push(finding);
}

fn left(
    facts: &Facts<'_>,
    loose: &Delamination,
    work: &DelaminationWork,
    out: &mut Vec<Diagnostic>,
) {
    let coated = facts.sketch.coating.system.is_some();
    if !coated || work.repair.treatment() != LooseTreatment::Leave {
        return;
    }
    let finding = Diagnostic::warning(
        "delamination-left",
        format!(
            "{} is left hollow under the coating, which comes off with the loose layer",
            loose.id
        ),
    )
    .item(&loose.id)
    .many(
        "delaminations are left hollow under the coating, which comes off with the loose layer",
        &loose.id,
    )
    .at(loose.span)
    .hint("write `treatment: cut-out` or `inject`, or have the owner agree to it in writing")
    .source("common practice");
    out.push(finding);
}

/// At a joint, or at the edge of the slab where none is given.
fn reaches(
    loose: &Delamination,
    work: &DelaminationWork,
    joint: Option<&str>,
    out: &mut Vec<Diagnostic>,
) {
    let (code, what) = match joint {
        Some(joint) => ("delamination-at-joint", format!("joint {joint}")),
        None => ("delamination-at-edge", "the edge of the slab".to_owned()),
    };
    let (hint, source) = match (work.repair.treatment(), joint) {
        (LooseTreatment::Leave, _) => return,
        (LooseTreatment::CutOut, Some(_)) => (
            "form the joint again through the patch with an insert that gives; mortar must not lock it",
            "FHWA Partial-Depth Repairs: the joint is formed again, never filled with patch material",
        ),
        (LooseTreatment::CutOut, None) => (
            "keep the mortar off wall or column with a strip, as an isolation joint has it",
            "common practice",
        ),
        (LooseTreatment::Inject, Some(_)) => (
            "seal the joint along it before the resin goes in: what runs into the joint locks it",
            "common practice",
        ),
        (LooseTreatment::Inject, None) => (
            "seal the edge along it before the resin goes in: it runs out there",
            "common practice",
        ),
    };
    let finding = Diagnostic::note(code, format!("{} reaches {what}", loose.id))
        .item(&loose.id)
        .at(loose.span)
        .hint(hint)
        .source(source);
    out.push(finding);
}

fn over_spalls(
    facts: &Facts<'_>,
    loose: &Delamination,
    work: &DelaminationWork,
    out: &mut Vec<Diagnostic>,
) {
    for (spall, mended) in facts.takeoff.spalls_of(facts.slab) {
        let apart = match (loose.part.bounds(), spall.part.bounds()) {
            (Some(a), Some(b)) => a.intersect(b).is_zero_area(),
            _ => true,
        };
        if apart || loose.part.intersection(&spall.part).area() <= OVER {
            continue;
        }
        let finding = match (work.repair.patch(), mended.repair.patch()) {
            (Some(patch), Some(same)) if patch == same => Diagnostic::note(
                "delamination-with-spall",
                format!("{} lies over {}: {patch} mends both, and its mortar counts once", loose.id, spall.id),
            )
            .source("common practice"),
            (Some(_), _) => continue,
            (None, _) => Diagnostic::warning(
                "delamination-under-spall",
                format!("{} lies over {}, which is mended on concrete that stays loose or is only glued down", loose.id, spall.id),
            )
            .hint("write `treatment: cut-out`, so that one patch mends both")
            .source("common practice"),
        };
        out.push(finding.item(&loose.id).at(loose.span));
    }
}
