//! The surface: what is on it, how hard it is, where water will stand.

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::hold::Code;
use crate::quantity::{M_PER_FT, Units, write};
use crate::sketch::{BlemishKind, TestResult};
use crate::takeoff::{LowSpot, flatness_method};

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    blemishes(facts, out);
    hardness(facts, out);
    levels(facts, out);
}

/// What a kind of blemish calls for, and who says so.
const fn called_for(kind: BlemishKind) -> (&'static str, &'static str, &'static str) {
    match kind {
        BlemishKind::Oil => (
            "oil",
            "degrease until water drops soak in; grinding alone drives oil deeper",
            "common practice",
        ),
        BlemishKind::Sealer => (
            "a sealer",
            "grind it off until water drops soak in",
            "water-drop test, common practice",
        ),
        BlemishKind::CuringCompound => (
            "curing compound",
            "grind it off until water drops soak in",
            "water-drop test, common practice",
        ),
        BlemishKind::Paint => {
            ("paint or an old coating", "untested it is not sanded, sawn or ground", "UFC 3-190-06")
        }
        BlemishKind::Adhesive => {
            ("adhesive", "untested it is not sanded, sawn or ground", "UFC 3-190-06")
        }
        BlemishKind::Scaling => {
            ("scaling", "grind to sound concrete; more may come off than shows", "common practice")
        }
        BlemishKind::Efflorescence => (
            "efflorescence",
            "water comes through here: test for moisture beside it",
            "common practice",
        ),
    }
}

fn blemishes(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    // What has to be tested or taken off by others is a hold, and said there.
    let held = |id: &String| {
        let grinding = [Code::TestBeforeGrinding, Code::Abatement];
        let mut holds = facts.holds.iter();
        holds.any(|hold| grinding.contains(&hold.code) && hold.items.contains(id))
    };
    let free = facts.slab.blemishes.iter().filter(|b| !held(&b.id));
    for blemish in free {
        let (what, hint, source) = called_for(blemish.what);
        let area = write::area(blemish.area_m2, facts.units());
        let mut message = format!("{}: {what} on {area}", blemish.id);
        if blemish.tested == Some(TestResult::Clear) {
            let day = blemish.tested_on.as_ref();
            let day = day.map_or(String::new(), |day| format!(" on {day}"));
            message.push_str(&format!(", tested clear of lead and asbestos{day}"));
        }
        out.push(
            Diagnostic::note("blemish", message)
                .item(&blemish.id)
                .at(blemish.span)
                .hint(hint)
                .source(source),
        );
    }
}

fn hardness(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let readings = &facts.slab.hardness;
    let Some(first) = readings.first() else {
        return;
    };
    let mean = facts.slab.mean_hardness();
    let row = mean.and_then(|mohs| Some((mohs, facts.shop.tooling_at(mohs)?)));
    let Some((mean, row)) = row else {
        return;
    };
    out.push(
        Diagnostic::note(
            "tooling",
            format!("Mohs hardness {}: {}", write::trimmed(mean, 1), row.use_),
        )
        .at(first.2)
        .hint("if the segments glaze or wear fast, go to the next bond")
        .source("hard bond on soft concrete, soft bond on hard; the shop's tooling table"),
    );
}

fn levels(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let Some(report) = &facts.takeoff.levels else {
        return;
    };
    if let (Some(fall), Some(first)) = (report.fall, facts.slab.levels.first()) {
        out.push(
            Diagnostic::note(
                "fall",
                format!(
                    "the floor falls {} toward {}; readings lie up to {} off that plane",
                    slope(fall.slope, facts.units()),
                    heading(fall.direction),
                    facts.small(fall.worst_m)
                ),
            )
            .at(first.span),
        );
    }
    for LowSpot { level, below_m, .. } in &report.ponding {
        out.push(
            Diagnostic::warning(
                "ponding",
                format!(
                    "the reading at [{}, {}] lies {} below its neighbors: water is likely to stand there",
                    facts.length(level.at.x),
                    facts.length(level.at.y),
                    facts.small(*below_m)
                ),
            )
            .at(level.span)
            .hint("a coating follows the floor: correcting falls is extra work, or an exclusion")
            .source("common practice"),
        );
    }
    for (row, flat) in &report.rows {
        let Some(ff) = flat.ff else { continue };
        let fl = flat.fl.map_or(String::new(), |fl| format!(", FL {}", write::fixed(fl, 0)));
        out.push(
            Diagnostic::note("flatness", format!("this row reads FF {}{fl}", write::fixed(ff, 0)))
                .at(row.span)
                .hint("F-numbers say nothing about offsets at joints")
                .source(flatness_method(facts.units())),
        );
    }
}

fn slope(per_one: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} per foot", write::small(per_one * M_PER_FT, units)),
        Units::Metric => format!("{} %", write::fixed(per_one * 100.0, 1)),
    }
}

/// The nearest of eight directions of the sheet.
fn heading(direction: kurbo::Vec2) -> &'static str {
    const NAMES: [&str; 8] = ["E", "NE", "N", "NW", "W", "SW", "S", "SE"];
    let eighth = (direction.atan2() / std::f64::consts::FRAC_PI_4).round() as i64;
    NAMES[eighth.rem_euclid(8) as usize]
}
