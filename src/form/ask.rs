//! Numbers without a unit that were probably meant in another one.

use super::value::COMMON_PRACTICE;
use super::{Reader, Rule};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Length, M_PER_IN, Units, write};
use crate::text::excerpt;
use crate::yaml::Node;

/// Whether a length has no unit. Fractions of one character are numbers too.
pub(super) fn is_bare(written: &str) -> bool {
    written.chars().all(|c| c.is_numeric() || " -–‑./⁄".contains(c))
}

impl Reader<'_> {
    /// Asks about a number without a unit that something of its kind seldom has, or that nobody writes in this unit: says how
    /// it was read, and what to write.
    pub(super) fn ask(&mut self, node: &Node, rule: &Rule, length: Length) {
        let written = node.text().unwrap_or_default().trim();
        let (m, units) = (length.m(), self.units);
        if m == 0.0 || !is_bare(written) {
            return;
        }
        let fraction = units == Units::Metric && written.contains(['/', '⁄']);
        let little = rule.usual.is_some_and(|usual| m.abs() < usual.least.m());
        let much = rule.usual.filter(|usual| m.abs() > usual.most.m());
        let why = match rule.usual {
            _ if fraction => "metric lengths are seldom written as a fraction".to_owned(),
            Some(usual) if little => {
                format!("{} is seldom under {}", usual.of, about(usual.least, rule, units))
            }
            Some(usual) if much.is_some() => {
                format!("{} is seldom over {}", usual.of, about(usual.most, rule, units))
            }
            _ => return,
        };
        let as_it_is = match (rule.plan, units) {
            (true, Units::Us) => format!("{written}'"),
            (false, Units::Us) => format!("{written}\""),
            (true, Units::Metric) => format!("{} m", write::trimmed(m, 4)),
            (false, Units::Metric) => format!("{} mm", write::trimmed(m * 1000.0, 4)),
        };
        let other = match (rule.plan, units) {
            (true, Units::Metric) if !fraction => {
                format!("{} mm if millimeters are meant, or ", write::trimmed(m, 4))
            }
            (false, Units::Metric) if !fraction && !little => String::new(),
            (false, Units::Us) if little => format!("{written}' if feet are meant, or "),
            (false, Units::Us) => {
                let number = write::trimmed(m / M_PER_IN, 4);
                format!("{number} mm if millimeters are meant, or ")
            }
            _ => format!("{written}\" if inches are meant, or "),
        };
        let read = match (rule.plan, units) {
            (true, Units::Us) => write::length(m, units),
            (false, Units::Us) => write::small(m, units),
            (_, Units::Metric) => as_it_is.clone(),
        };
        let message = format!("{} `{}` is read as {read}, and {why}", rule.name, excerpt(written));
        let fault = Diagnostic::warning("bare-number", message)
            .place(node.place)
            .hint(format!("write {other}{as_it_is} if it is so"))
            .source(COMMON_PRACTICE);
        self.note(fault);
    }
}

/// A limit in round figures.
fn about(limit: Length, rule: &Rule, units: Units) -> String {
    let m = limit.m();
    match (rule.plan, units) {
        (true, Units::Us) => write::length(m, units),
        (false, Units::Us) => write::small(m, units),
        (true, Units::Metric) => format!("{} m", write::trimmed(m, 1)),
        (false, Units::Metric) if m < 0.001 => format!("{} mm", write::trimmed(m * 1000.0, 2)),
        (false, Units::Metric) => format!("{} mm", write::fixed(m * 1000.0, 0)),
    }
}
