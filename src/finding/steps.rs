//! Steps between panels, on an accessible route.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::quantity::M_PER_IN;
use crate::trade::words::OFFSET;

/// A change in level up to this may be vertical, m (ADA/ABA Standards, section 303.2).
const VERTICAL: f64 = 0.25 * M_PER_IN;
/// Up to this it is beveled at most 1:2; above it is a ramp, m (ADA/ABA Standards, 303.3–4).
pub(super) const BEVELLED: f64 = 0.5 * M_PER_IN;
/// Rounding, m.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    if !facts.sketch.job.accessible_route {
        return;
    }
    for (record, work) in facts.takeoff.steps_of(facts.slab) {
        let step = work.max_step_mm / 1000.0;
        if step <= VERTICAL + GUARD {
            continue;
        }
        let (limit, rule) = if step <= BEVELLED + GUARD {
            (VERTICAL, "between 1/4 in and 1/2 in it is beveled not steeper than 1:2")
        } else {
            (BEVELLED, "above 1/2 in it is a ramp")
        };
        out.push(
            Diagnostic::warning(
                "accessible-route",
                format!(
                    "the {OFFSET} {} is up to {}, over {} on an accessible route: {rule}",
                    record.id,
                    facts.small(step),
                    facts.small(limit)
                ),
            )
            .item(&record.id)
            .at(record.span)
            .hint("the feather is flatter than that where it is ground; check what is left")
            .source("ADA/ABA Standards section 303"),
        );
    }
}
