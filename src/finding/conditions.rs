//! The air over the slab. Moisture in it is a hold.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::quantity::{Units, write};

/// The slab must be this much warmer than the dew point, K: 5 °F (UFC 3-190-06).
const SPREAD_US: f64 = 5.0 / 1.8;
/// The slab must be this much warmer than the dew point, K: 3 °C (ISO 8502-4 practice).
const SPREAD_METRIC: f64 = 3.0;
/// Rounding.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    dew_point(facts, out);
}

fn dew_point(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let units = facts.units();
    let conditions = &facts.takeoff.conditions;
    let tests = &facts.sketch.tests;
    let (Some(dew), Some(spread)) = (conditions.dew_point_c, conditions.spread_c) else {
        return;
    };
    let Some(place) = tests.slab_temperature.as_ref().map(|t| t.span) else {
        return;
    };
    let (limit, source) = match units {
        Units::Us => (SPREAD_US, "UFC 3-190-06: at least 5 °F above the dew point, and rising"),
        Units::Metric => (SPREAD_METRIC, "ISO 8502-4 practice: at least 3 °C above the dew point"),
    };
    let (dew, gap) =
        (write::temperature(dew, units), write::temperature_difference(spread.abs(), units));
    let wanted = write::temperature_difference(limit, units);
    let finding = if spread + GUARD >= limit {
        Diagnostic::note(
            "dew-point",
            format!("the slab is {gap} above the dew point of {dew}; {wanted} is wanted"),
        )
        .hint("measure again at the work, and about every four hours")
    } else {
        let side = if spread < 0.0 { "below" } else { "above" };
        Diagnostic::warning(
            "dew-point",
            format!("the slab is {gap} {side} the dew point of {dew}; {wanted} above is wanted"),
        )
        .hint("do not coat: warm the slab or dry the air, and measure again")
    };
    out.push(finding.at(place).source(source));
}
