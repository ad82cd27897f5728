//! How well the tape closed.

use super::Facts;
use crate::diagnostic::Diagnostic;

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
    for check in facts.slab.checks.iter().filter(|c| c.is_flagged()) {
        let off = check.difference_m();
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
