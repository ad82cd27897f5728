//! What the coating waits for: moisture, age, an engineer.

use crate::trade::words::OFFSET;
use jiff::civil::Date;

use super::{Case, Code, Facts, Hold, ids};
use crate::quantity::write;
use crate::shop::{MoistureLimits, Shop};
use crate::sketch::{Coating, Span};
use crate::slab::{MoistureTest, Slab};
use crate::takeoff::CrackRepair;
use crate::work::Kind;

/// Rounding.
const GUARD: f64 = 1e-9;
const S_PER_DAY: f64 = 86_400.0;

pub(super) fn holds(facts: &Facts<'_>, out: &mut Vec<Hold>) {
    out.extend(engineer(facts));
    out.extend(over_limit(facts));
    out.extend(tests_wanted(facts));
    out.extend(ages(facts));
}

fn engineer(facts: &Facts<'_>) -> Option<Hold> {
    let rules = &facts.shop.cracks;
    let mut works = vec![Kind::Coat];
    let mut cases = Vec::new();
    for (crack, work) in facts.takeoff.cracks_of(facts.slab) {
        let widest = crack.widths.iter().map(|w| w.1).fold(0.0, f64::max);
        let step = crack.step.unwrap_or(0.0);
        let mut why = Vec::new();
        if widest > rules.engineer_from.m() + GUARD {
            why.push(format!("is {} wide", facts.small(widest)));
        }
        if step > rules.engineer_step.m() + GUARD {
            why.push(format!("has an {OFFSET} of {}", facts.small(step)));
        }
        // A crack outside the job is nobody's to mend here.
        if why.is_empty() || work.length_m <= 0.0 {
            continue;
        }
        let portions = work.portions.iter().filter(|p| p.length_m > 0.0);
        works.extend(portions.flat_map(|p| mended(&p.repair)));
        cases.push(Case {
            item: Some(crack.id.clone()),
            message: format!(
                "{} {}: a licensed engineer's opinion is wanted before it is coated",
                crack.id,
                why.join(" and ")
            ),
            span: crack.span,
        });
    }
    let message = match cases.as_slice() {
        [] => return None,
        [one] => one.message.clone(),
        many => format!(
            "{} cracks are so wide or so uneven that a licensed engineer's opinion is wanted before they are coated",
            many.len()
        ),
    };
    Some(Hold {
        code: Code::EngineerWanted,
        items: ids(&cases),
        works,
        message,
        clears: "a licensed engineer has given an opinion; the limits are the shop's, for asking, and no judgment of the slab".into(),
        note: "",
        source: "common practice; ACI 224R table 4.1 is a design guide, not a limit",
        cases,
    })
}

/// Works that mend a portion of a crack.
fn mended(repair: &CrackRepair) -> Vec<Kind> {
    match repair {
        CrackRepair::Fill(_) => vec![Kind::FillCracks],
        CrackRepair::Chase(_) => vec![Kind::ChaseCracks, Kind::FillCracks],
        CrackRepair::Honor(_) => vec![Kind::RodAndSealant],
        CrackRepair::Prime | CrackRepair::Leave => Vec::new(),
    }
}

/// What a test reads over the limit, and the limit.
fn over(limits: &MoistureLimits, test: &MoistureTest) -> Vec<(String, String)> {
    let rh_limit = limits.rh.one();
    let rh = test.rh.filter(|rh| *rh > rh_limit + GUARD).map(|rh| {
        (format!("{} RH", write::percent(rh)), format!("{} RH", write::percent(rh_limit)))
    });
    let mver = test.mver.filter(|m| *m > limits.mver + GUARD);
    let mver = mver.map(|m| {
        (
            format!("{} lb per 1000 ft² in 24 h", write::trimmed(m, 2)),
            format!("{} lb", write::trimmed(limits.mver, 2)),
        )
    });
    rh.into_iter().chain(mver).collect()
}

/// Whether the price has moisture mitigation as an alternate, asked for or not: tests read over what
/// the coating takes, none over what mitigation takes, and the job has a system but no mitigation yet.
#[must_use]
pub fn mitigation_offered(coating: &Coating, slab: &Slab, shop: &Shop) -> bool {
    let rules = &shop.moisture;
    let any = |limits| slab.moisture.iter().any(|test| !over(limits, test).is_empty());
    let bare = coating.system.is_some() && !shop.is_mitigated();
    bare && any(&rules.limits) && !any(&rules.mitigation.limits)
}

fn over_limit(facts: &Facts<'_>) -> Option<Hold> {
    let rules = &facts.shop.moisture;
    let with = if facts.shop.is_mitigated() { " with moisture mitigation" } else { "" };
    let mut cases = Vec::new();
    for test in &facts.slab.moisture {
        for (reads, limit) in over(&rules.limits, test) {
            cases.push(Case {
                item: Some(test.id.clone()),
                message: format!(
                    "moisture test {} reads {reads}, over the limit of {limit}{with}",
                    test.id
                ),
                span: test.span,
            });
        }
    }
    let items = ids(&cases);
    let message = match cases.as_slice() {
        [] => return None,
        [one] => one.message.clone(),
        _ => format!(
            "{} of {} moisture tests read over the limit of {}{with}",
            items.len(),
            facts.slab.moisture.len(),
            limits_in_words(&rules.limits)
        ),
    };
    let (clears, note) = mitigated(facts);
    Some(Hold {
        code: Code::MoistureOverLimit,
        items,
        works: vec![Kind::Coat],
        message,
        clears,
        note,
        source: "ASTM F2170 and ASTM F1869; limits of the shop book",
        cases,
    })
}

fn limits_in_words(limits: &MoistureLimits) -> String {
    format!(
        "{} RH or {} lb per 1000 ft² in 24 h",
        write::percent(limits.rh.one()),
        write::trimmed(limits.mver, 2)
    )
}

/// What clears moisture over the limit, and what to write into the sketch where mitigation does.
fn mitigated(facts: &Facts<'_>) -> (String, &'static str) {
    let (coating, rules) = (&facts.sketch.coating, &facts.shop.moisture);
    if facts.shop.is_mitigated() {
        let clears = "the data sheet of the moisture mitigation allows the reading, or the slab has dried and is tested again";
        return (clears.into(), "");
    }
    if mitigation_offered(coating, facts.slab, facts.shop) {
        let clears = format!(
            "the coating's data sheet allows the reading, moisture mitigation is agreed (the price has the alternate with {}), or the slab has dried and is tested again",
            rules.mitigation.in_words()
        );
        return (clears, "where mitigation is agreed, write `mitigation: true` under `coating:`");
    }
    let clears = match coating.system {
        None => "the coating's data sheet allows the reading, moisture mitigation is agreed, or the slab has dried and is tested again".to_owned(),
        Some(_) => format!(
            "the coating's data sheet allows the reading, or the slab has dried and is tested again; moisture mitigation takes no more than {}, so the price has no alternate with it",
            limits_in_words(&rules.mitigation.limits)
        ),
    };
    (clears, "")
}

fn tests_wanted(facts: &Facts<'_>) -> Option<Hold> {
    let conditions = &facts.takeoff.conditions;
    let wanted = conditions.moisture_tests_wanted;
    if conditions.moisture_tests_missing() == 0 {
        return None;
    }
    let area = write::area(facts.slab.areas.net, facts.units());
    let taken = match (conditions.rh_tests, conditions.mver_tests) {
        (0, 0) => "none taken".to_owned(),
        (rh, 0) => format!("{rh} taken (ASTM F2170)"),
        (0, mver) => format!("{mver} taken (ASTM F1869)"),
        (rh, mver) => {
            format!("{rh} of ASTM F2170 and {mver} of ASTM F1869 taken, which don't add up")
        }
    };
    let message = format!("{wanted} moisture tests of one kind are wanted on {area}; {taken}");
    let first = facts.slab.moisture.first();
    let case = Case {
        item: None,
        message: message.clone(),
        span: first.map_or(facts.slab.outline.span, |test| test.span),
    };
    Some(Hold {
        code: Code::MoistureTestsWanted,
        items: Vec::new(),
        works: vec![Kind::Coat],
        message,
        clears: format!(
            "{wanted} tests of one kind are read: 3 for the first 1000 ft² and one for each further 1000 ft² or part"
        ),
        note: "",
        source: "ASTM F2170, ASTM F1869",
        cases: vec![case],
    })
}

/// The slab is younger than the filler or the coating allows.
fn ages(facts: &Facts<'_>) -> Vec<Hold> {
    let Some(placed) = &facts.sketch.slab.placed else {
        return Vec::new();
    };
    let rules = &facts.shop.age;
    let filled = facts.takeoff.totals.chase_m > 0.0;
    let coated = facts.takeoff.area.coated_m2 > 0.0;
    let filler = filled.then(|| {
        age(
            facts,
            &placed.value,
            placed.span,
            (Kind::FillJoints, "joint filler", rules.filler.s()),
            "ACI 302.1R: as long as possible, at least 90 days; age.filler of the shop book",
        )
    });
    let coating = coated.then(|| {
        age(
            facts,
            &placed.value,
            placed.span,
            (Kind::Coat, "the coating", rules.coating.s()),
            "common practice; age.coating of the shop book",
        )
    });
    [filler, coating].into_iter().flatten().flatten().collect()
}

fn age(
    facts: &Facts<'_>,
    placed: &str,
    span: Span,
    (work, what, least_s): (Kind, &str, f64),
    source: &'static str,
) -> Option<Hold> {
    let sketch = facts.sketch;
    let placed: Date = placed.parse().ok()?;
    // Parts of a day are waited out.
    let least = (least_s / S_PER_DAY).ceil() as i64;
    let from = placed.checked_add(jiff::Span::new().try_days(least).ok()?).ok()?;
    let start = sketch.coating.start.as_ref();
    let day: Option<Date> =
        start.or(sketch.job.surveyed.as_ref()).and_then(|day| day.value.parse().ok());
    if day.is_some_and(|day| day >= from) {
        return None;
    }
    let old = match day {
        Some(day) => {
            let old = day.since(placed).ok()?.get_days();
            let when = if start.is_some() { "when the work starts" } else { "at the survey" };
            format!("the slab, placed {placed}, is {} days old {when}", old.max(0))
        }
        None => format!("the slab was placed {placed}"),
    };
    let message = format!("{old}; {what} wants {least} days");
    Some(Hold {
        code: Code::SlabAge,
        items: Vec::new(),
        works: vec![work],
        message: message.clone(),
        clears: format!("{from}"),
        note: "",
        source,
        cases: vec![Case { item: None, message, span }],
    })
}
