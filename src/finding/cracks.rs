//! Cracks: what moves, what an engineer should see. A width is never a pass or a fail.

use super::Facts;
use super::joints::counted_once;
use crate::diagnostic::Diagnostic;
use crate::sketch::{Movement, Treatment};
use crate::slab::Crack;
use crate::takeoff::CrackWork;

/// Rounding, m.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    for (crack, work) in facts.slab.cracks.iter().zip(&facts.takeoff.cracks) {
        overlaps(facts, crack, out);
        movement(crack, work, out);
        engineer(facts, crack, out);
        if !crack.width_known {
            out.push(
                Diagnostic::warning(
                    "width-missing",
                    format!(
                        "{} has no width: {} is taken",
                        crack.id,
                        facts.small(facts.shop.cracks.prime_below.m())
                    ),
                )
                .item(&crack.id)
                .at(crack.span)
                .hint("measure it with a crack gauge and note it as `width:` or `widths:`"),
            );
        }
        if work.length_m == 0.0 && crack.on_top.is_empty() {
            out.push(
                Diagnostic::note(
                    "crack-not-in-job",
                    format!(
                        "{} lies outside the coated area: it is drawn, not counted",
                        crack.id
                    ),
                )
                .item(&crack.id)
                .at(crack.span),
            );
        }
    }
}

fn overlaps(facts: &Facts<'_>, crack: &Crack, out: &mut Vec<Diagnostic>) {
    let slab = facts.slab;
    let joints = slab.joints.iter().map(|j| (&*j.id, j.span));
    let cracks = slab.cracks.iter().map(|c| (&*c.id, c.span));
    for first in joints.chain(cracks) {
        let on = crack.on_top.iter().filter(|o| o.1 == first.0);
        let length: f64 = on.map(|o| o.0.length()).sum();
        if length > 0.0 {
            out.push(counted_once(facts, (&crack.id, crack.span), length, first));
        }
    }
}

fn movement(crack: &Crack, work: &CrackWork, out: &mut Vec<Diagnostic>) {
    let filled = work
        .portions
        .iter()
        .any(|p| matches!(p.treatment, Treatment::Fill | Treatment::Chase) && p.length_m > 0.0);
    let (code, message, hint) = match crack.movement {
        Movement::Active if filled => (
            "active-crack",
            format!("{} moves and is to be filled: it will show again", crack.id),
            "honor it, or have the customer sign that it will come back",
        ),
        Movement::Active => (
            "active-crack",
            format!("{} moves: it will show, however it is treated", crack.id),
            "put it among the exclusions; a licensed engineer can say why it moves",
        ),
        Movement::Unknown => (
            "crack-movement-unknown",
            format!(
                "nobody knows whether {} still moves: it may show again",
                crack.id
            ),
            "mark its ends and look again later, or put it among the exclusions",
        ),
        Movement::Dormant => return,
    };
    out.push(
        Diagnostic::warning(code, message)
            .item(&crack.id)
            .at(crack.span)
            .hint(hint)
            .source("ACI 224.1R: rigid repair is for dormant cracks"),
    );
}

fn engineer(facts: &Facts<'_>, crack: &Crack, out: &mut Vec<Diagnostic>) {
    let rules = &facts.shop.cracks;
    let widest = crack.widths.iter().map(|w| w.1).fold(0.0, f64::max);
    let step = crack.step.unwrap_or(0.0);
    let mut why = Vec::new();
    if widest > rules.engineer_from.m() + GUARD {
        why.push(format!("is {} wide", facts.small(widest)));
    }
    if step > rules.engineer_step.m() + GUARD {
        why.push(format!("has a step of {}", facts.small(step)));
    }
    if why.is_empty() {
        return;
    }
    out.push(
        Diagnostic::warning(
            "engineer-wanted",
            format!(
                "{} {}: a licensed engineer's opinion is wanted before it is coated",
                crack.id,
                why.join(" and ")
            ),
        )
        .item(&crack.id)
        .at(crack.span)
        .hint("the limits are the shop's, for asking; they are no judgement of the slab")
        .source("common practice; ACI 224R table 4.1 is a design guide, not a limit"),
    );
}
