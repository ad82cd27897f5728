//! How deep the cuts go. What is in their way is a hold.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::hold::{Cut, cuts};
use crate::work::Kind;

/// Share of the thickness above which a chase is worth a warning: a third (FHWA, Partial-Depth
/// Repairs: deeper than the top third is a full-depth matter).
const SHARE_OF_THICKNESS: f64 = 1.0 / 3.0;
/// Rounding, m.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    for cut in &cuts(facts.slab, facts.takeoff) {
        thickness(facts, cut, out);
    }
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
                "{} is {} {} deep, more than a third of the {} slab",
                cut.id,
                cut.word(),
                facts.small(cut.depth),
                facts.small(thickness)
            ),
        )
        .item(cut.id)
        .at(cut.span)
        .hint(match cut.works.as_slice() {
            [Kind::Inject] => "ask a licensed engineer before drilling that deep: a layer loose down there is more than the surface",
            _ => "ask a licensed engineer before cutting that deep, or set a shallower chase",
        })
        .source("FHWA Partial-Depth Repairs: below the top third a repair is full-depth"),
    );
}
