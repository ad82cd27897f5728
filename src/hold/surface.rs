//! Old coatings and adhesives that can hold lead or asbestos.

use super::{Case, Code, Facts, Hold, ids};
use crate::quantity::write;
use crate::sketch::{BlemishKind, TestResult};
use crate::slab::Blemish;
use crate::work::Kind;

/// What grinds or scrapes an old coating.
const GRINDING: [Kind; 4] =
    [Kind::RemoveCoating, Kind::GrindEdges, Kind::GrindFloor, Kind::GrindOver];
const LEAD: &str = "29 CFR 1926.62";
const ASBESTOS: &str = "29 CFR 1926.1101, which counts grinding as aggressive removal";

pub(super) fn holds(facts: &Facts<'_>, out: &mut Vec<Hold>) {
    let untested = |kind: BlemishKind| move |b: &Blemish| b.what == kind && b.tested.is_none();
    let found = |result: TestResult| move |b: &Blemish| b.tested == Some(result);
    let test = "note `tested: clear`, `lead` or `asbestos`, and `tested_on:`";
    let gone = "a licensed abatement firm has removed it under its own contract; its removal is no part of this job or of its price";
    out.extend(hold(
        facts,
        Code::TestBeforeGrinding,
        &untested(BlemishKind::Paint),
        ("paint or an old coating", "not tested for lead"),
        ("a laboratory has tested it and found no lead", test, LEAD),
    ));
    out.extend(hold(
        facts,
        Code::TestBeforeGrinding,
        &untested(BlemishKind::Adhesive),
        ("adhesive", "not tested for asbestos"),
        ("a laboratory has tested it and found no asbestos", test, ASBESTOS),
    ));
    out.extend(hold(
        facts,
        Code::Abatement,
        &found(TestResult::Lead),
        ("an old coating", "tested, and lead was found"),
        (gone, "take the record out", LEAD),
    ));
    out.extend(hold(
        facts,
        Code::Abatement,
        &found(TestResult::Asbestos),
        ("an old coating", "tested, and asbestos was found"),
        (gone, "take the record out", ASBESTOS),
    ));
}

fn hold(
    facts: &Facts<'_>,
    code: Code,
    meant: &dyn Fn(&Blemish) -> bool,
    (what, found): (&str, &str),
    (clears, note, source): (&str, &'static str, &'static str),
) -> Option<Hold> {
    let here: Vec<&Blemish> =
        facts.slab.blemishes.iter().filter(|b| b.area_m2 > 0.0 && meant(b)).collect();
    let case = |b: &&Blemish| {
        let area = write::area(b.area_m2, facts.units());
        let day = b.tested_on.as_ref().map_or(String::new(), |day| format!(" on {day}"));
        Case {
            item: Some(b.id.clone()),
            message: format!(
                "{}: {} on {area}, {}",
                b.id,
                called(b, what),
                found.replacen("tested", &format!("tested{day}"), 1)
            ),
            span: b.span,
        }
    };
    let cases: Vec<Case> = here.iter().map(case).collect();
    let mut kinds: Vec<&str> = here.iter().map(|b| called(b, what)).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let all: f64 = here.iter().map(|b| b.area_m2).sum();
    (!cases.is_empty()).then(|| Hold {
        code,
        items: ids(&cases),
        works: GRINDING.to_vec(),
        message: format!("{} on {}, {found}", kinds.join(" and "), write::area(all, facts.units())),
        clears: clears.into(),
        note,
        source,
        cases,
    })
}

/// What lies there, in words.
const fn called<'w>(blemish: &Blemish, other: &'w str) -> &'w str {
    match blemish.what {
        BlemishKind::Paint => "paint or an old coating",
        BlemishKind::Adhesive => "adhesive",
        _ => other,
    }
}
