//! Moisture in the slab, and the air over it.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::quantity::{Units, write};
use crate::slab::MoistureTest;

/// The slab must be this much warmer than the dew point, K: 5 °F (UFC 3-190-06).
const SPREAD_US: f64 = 5.0 / 1.8;
/// The slab must be this much warmer than the dew point, K: 3 °C (ISO 8502-4 practice).
const SPREAD_METRIC: f64 = 3.0;
/// Rounding.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    for test in &facts.slab.moisture {
        over_limit(facts, test, out);
    }
    wanted(facts, out);
    dew_point(facts, out);
}

fn over_limit(facts: &Facts<'_>, test: &MoistureTest, out: &mut Vec<Diagnostic>) {
    let limits = &facts.shop.moisture;
    let mut over = |what: String, limit: String, source: &'static str| {
        out.push(
            Diagnostic::warning(
                "moisture-over-limit",
                format!(
                    "moisture test {} reads {what}, over the limit of {limit}",
                    test.id
                ),
            )
            .item(&test.id)
            .at(test.span)
            .hint("the coating's data sheet decides; a vapor barrier primer is an alternate")
            .source(source),
        );
    };
    if let Some(rh) = test.rh.filter(|rh| *rh > limits.rh_limit.one() + GUARD) {
        let (found, limit) = (write::percent(rh), write::percent(limits.rh_limit.one()));
        over(
            format!("{found} RH"),
            format!("{limit} RH"),
            "ASTM F2170; limit of the shop book",
        );
    }
    if let Some(mver) = test.mver.filter(|m| *m > limits.mver_limit + GUARD) {
        let (found, limit) = (
            write::trimmed(mver, 2),
            write::trimmed(limits.mver_limit, 2),
        );
        over(
            format!("{found} lb per 1000 ft² in 24 h"),
            format!("{limit} lb"),
            "ASTM F1869; limit of the shop book",
        );
    }
}

fn wanted(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let wanted = facts.takeoff.conditions.moisture_tests_wanted;
    let taken = facts.slab.moisture.len();
    if taken >= wanted {
        return;
    }
    let area = write::area(facts.slab.areas.net, facts.units());
    let span = facts
        .slab
        .moisture
        .first()
        .map_or(facts.slab.outline.span, |m| m.span);
    out.push(
        Diagnostic::warning(
            "moisture-tests-wanted",
            format!("{wanted} moisture tests are wanted on {area}; {taken} taken"),
        )
        .at(span)
        .hint("3 for the first 1000 ft² and one for each further 1000 ft² or part")
        .source("ASTM F2170"),
    );
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
        Units::Us => (
            SPREAD_US,
            "UFC 3-190-06: at least 5 °F above the dew point, and rising",
        ),
        Units::Metric => (
            SPREAD_METRIC,
            "ISO 8502-4 practice: at least 3 °C above the dew point",
        ),
    };
    let (dew, gap) = (
        write::temperature(dew, units),
        write::temperature_difference(spread.abs(), units),
    );
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
