//! Cutting into the slab: thickness, cover, tendons.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::sketch::{PostTension, Span, Treatment};

/// Share of the thickness above which a chase is worth a warning: a third (FHWA, Partial-Depth
/// Repairs: deeper than the top third is a full-depth matter).
const SHARE_OF_THICKNESS: f64 = 1.0 / 3.0;
/// Rounding, m.
const GUARD: f64 = 1e-9;

/// A cut into the slab: whose, where noted, how deep (m).
struct Cut<'a> {
    id: &'a str,
    span: Span,
    depth: f64,
}

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let cuts = cuts(facts);
    for cut in &cuts {
        thickness(facts, cut, out);
        cover(facts, cut, out);
    }
    tendons(facts, &cuts, out);
}

/// Every cut of the job: joints filled, cracks chased, both opened or widened for rod and sealant,
/// patches cut out.
fn cuts<'a>(facts: &Facts<'a>) -> Vec<Cut<'a>> {
    let mut out = Vec::new();
    for (joint, work) in facts.slab.joints.iter().zip(&facts.takeoff.joints) {
        let depth = work.chase_depth_mm.max(work.groove_mm) / 1000.0;
        if depth > 0.0 && work.length_m > 0.0 {
            out.push(Cut {
                id: &joint.id,
                span: joint.span,
                depth,
            });
        }
    }
    for (crack, work) in facts.slab.cracks.iter().zip(&facts.takeoff.cracks) {
        let portions = work.portions.iter().filter(|p| p.length_m > 0.0);
        let deep = portions.map(|p| match p.treatment {
            Treatment::Chase => p.depth_mm / 1000.0,
            _ => p.groove_mm / 1000.0,
        });
        let depth = deep.fold(0.0, f64::max);
        if depth > 0.0 {
            out.push(Cut {
                id: &crack.id,
                span: crack.span,
                depth,
            });
        }
    }
    for patch in &facts.takeoff.patches {
        if let Some(&first) = patch.spalls.first() {
            let span = facts.slab.spalls[first].span;
            out.push(Cut {
                id: &patch.id,
                span,
                depth: patch.depth_mm / 1000.0,
            });
        }
    }
    out
}

fn thickness(facts: &Facts<'_>, cut: &Cut<'_>, out: &mut Vec<Diagnostic>) {
    let Some(thickness) = facts.slab.thickness else {
        return;
    };
    if cut.depth <= thickness * SHARE_OF_THICKNESS + GUARD {
        return;
    }
    out.push(
        Diagnostic::warning(
            "chase-depth",
            format!(
                "{} is cut {} deep, more than a third of the {} slab",
                cut.id,
                facts.small(cut.depth),
                facts.small(thickness)
            ),
        )
        .item(cut.id)
        .at(cut.span)
        .hint("ask a licensed engineer before cutting that deep, or set a shallower chase")
        .source("FHWA Partial-Depth Repairs: below the top third a repair is full-depth"),
    );
}

fn cover(facts: &Facts<'_>, cut: &Cut<'_>, out: &mut Vec<Diagnostic>) {
    for service in &facts.slab.embedded {
        match service.cover {
            Some(cover) if cut.depth > cover + GUARD => out.push(
                Diagnostic::stop(
                    "chase-cover",
                    format!(
                        "{} is cut {} deep, but {} lies under {} of concrete",
                        cut.id,
                        facts.small(cut.depth),
                        service.what,
                        facts.small(cover)
                    ),
                )
                .item(cut.id)
                .at(cut.span)
                .hint("do not cut before it is located and a licensed engineer agrees")
                .source("common practice"),
            ),
            Some(_) => {}
            None => out.push(
                Diagnostic::warning(
                    "cover-unknown",
                    format!(
                        "{} is cut {} deep over {}, whose cover is not noted",
                        cut.id,
                        facts.small(cut.depth),
                        service.what
                    ),
                )
                .item(cut.id)
                .at(cut.span)
                .hint("locate it before cutting, and note it as `cover:`")
                .source("common practice"),
            ),
        }
    }
}

fn tendons(facts: &Facts<'_>, cuts: &[Cut<'_>], out: &mut Vec<Diagnostic>) {
    let (known, span) = facts.slab.post_tension;
    let ids: Vec<&str> = cuts.iter().map(|c| c.id).collect();
    match known {
        PostTension::Stamped if !cuts.is_empty() => {
            for cut in cuts {
                out.push(
                    Diagnostic::stop(
                        "post-tension",
                        format!(
                            "{} is cut {} deep into a slab stamped as post-tensioned",
                            cut.id,
                            facts.small(cut.depth)
                        ),
                    )
                    .item(cut.id)
                    .at(cut.span)
                    .hint(
                        "a cut tendon can kill: do not cut before the tendons are located and a \
                         licensed engineer agrees",
                    )
                    .source("common practice"),
                );
            }
        }
        PostTension::Unknown if !cuts.is_empty() => out.push(
            Diagnostic::warning(
                "post-tension-unknown",
                format!(
                    "nobody noted whether the slab is post-tensioned, and {} cuts go into it ({})",
                    ids.len(),
                    listed(&ids)
                ),
            )
            .at(span)
            .hint(
                "look for a stamp or pocket plugs along the edge, ask the owner, and note \
                 `post_tension: none` or `stamped`",
            )
            .source("common practice"),
        ),
        _ => {}
    }
}

/// The first few ids, and how many more.
fn listed(ids: &[&str]) -> String {
    const SHOWN: usize = 6;
    let mut text = ids
        .iter()
        .take(SHOWN)
        .copied()
        .collect::<Vec<_>>()
        .join(", ");
    if ids.len() > SHOWN {
        text.push_str(&format!(" and {} more", ids.len() - SHOWN));
    }
    text
}
