//! How well the tape closed.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::quantity::M_PER_IN;

/// A taped diagonal may be off by this much, m: 1/2 in (common practice) …
const DIAGONAL_LEAST: f64 = 0.5 * M_PER_IN;
/// … or by this share of its length, whichever is more (common practice).
const DIAGONAL_SHARE: f64 = 1.0 / 500.0;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    if let Some(closure) = facts.slab.outline.closure.filter(|c| c.shared_out) {
        let per = (1.0 / closure.ratio()).round();
        out.push(
            Diagnostic::warning(
                "misclosure",
                format!(
                    "the walk came back {} from its start, 1 in {per}; it was shared out along the runs",
                    facts.small(closure.misclosure_m)
                ),
            )
            .at(facts.slab.outline.span)
            .hint("tape a diagonal if the area matters to the inch")
            .source("compass rule of traverse surveying; tolerance: common practice"),
        );
    }
    for check in &facts.slab.checks {
        let off = check.measured_m - check.computed_m;
        if off.abs() <= DIAGONAL_LEAST.max(check.computed_m * DIAGONAL_SHARE) {
            continue;
        }
        let word = if off > 0.0 { "longer" } else { "shorter" };
        out.push(
            Diagnostic::warning(
                "diagonal-off",
                format!(
                    "the diagonal from corner {} to {} was taped {}, {} {word} than the outline says ({})",
                    check.from,
                    check.to,
                    facts.length(check.measured_m),
                    facts.small(off.abs()),
                    facts.length(check.computed_m)
                ),
            )
            .at(check.span)
            .hint("a corner is out of square, or a run was misread: tape both diagonals")
            .source("common practice"),
        );
    }
}
