//! Cutting and grinding into the slab: tendons, what lies in it, what is left of it.

use super::{Case, Code, Cut, Facts, Hold, cuts, ids};
use crate::sketch::PostTension;
use crate::slab::Embedded;
use crate::trade::words::{OFFSET, OFFSETS};
use crate::work::Kind;

/// Rounding, m.
const GUARD: f64 = 1e-9;

pub(super) fn holds(facts: &Facts<'_>, out: &mut Vec<Hold>) {
    let cuts = cuts(facts.slab, facts.takeoff);
    out.extend(tendons(facts, &cuts));
    for service in &facts.slab.embedded {
        out.extend(cover(facts, &cuts, service));
    }
    steps(facts, out);
}

fn works(cuts: &[&Cut]) -> Vec<Kind> {
    cuts.iter().flat_map(|cut| cut.works.clone()).collect()
}

/// `is cut 3/4" deep`; of a buried joint that is only opened, `is opened`.
fn deep(facts: &Facts<'_>, cut: &Cut) -> String {
    let word = cut.word();
    if cut.depth > 0.0 {
        format!("is {word} {} deep", facts.small(cut.depth))
    } else {
        format!("is {word}")
    }
}

/// `1 cut goes`, `5 cuts go`, `5 cuts and the kerf where the coating ends go`.
fn go(n: usize, kerf: bool) -> String {
    const KERF: &str = "the kerf where the coating ends";
    match (n, kerf) {
        (0, _) => format!("{KERF} goes"),
        (1, false) => "1 cut goes".into(),
        (1, true) => format!("1 cut and {KERF} go"),
        (n, false) => format!("{n} cuts go"),
        (n, true) => format!("{n} cuts and {KERF} go"),
    }
}

fn tendons(facts: &Facts<'_>, cuts: &[Cut]) -> Option<Hold> {
    let (known, noted) = facts.slab.post_tension;
    let kerf = facts.sketch.coating.system.is_some() && facts.takeoff.termination_m > GUARD;
    if cuts.is_empty() && !(kerf && known == PostTension::Stamped) {
        return None;
    }
    let case = |cut: &Cut, into: &str| Case {
        item: Some(cut.id.to_owned()),
        message: format!("{} {} into {into}", cut.id, deep(facts, cut)),
        span: cut.span,
    };
    let mut works = works(&cuts.iter().collect::<Vec<_>>());
    works.extend(kerf.then_some(Kind::CutTermination));
    let (code, message, clears, note, cases): (_, _, &str, _, Vec<Case>) = match known {
        PostTension::None => return None,
        PostTension::Stamped => (
            Code::PostTension,
            format!(
                "{} into a slab stamped as post-tensioned; a cut tendon can kill",
                go(cuts.len(), kerf)
            ),
            "the tendons are located and a licensed engineer agrees",
            "",
            cuts.iter()
                .map(|cut| case(cut, "a slab stamped as post-tensioned; a cut tendon can kill"))
                .chain(kerf.then(|| Case {
                    item: None,
                    message: format!(
                        "the kerf where the coating ends is cut {} deep into a slab stamped as post-tensioned; a cut tendon can kill",
                        facts.small(facts.shop.termination.depth.m())
                    ),
                    span: noted,
                }))
                .collect(),
        ),
        PostTension::Unknown => {
            let message = format!(
                "nobody noted whether the slab is post-tensioned, and {} into it; a cut tendon can kill",
                go(cuts.len(), kerf)
            );
            let items: Vec<&str> = cuts.iter().map(|cut| cut.id).collect();
            let listed = format!("{message} ({})", listed(&items));
            (
                Code::PostTensionUnknown,
                message,
                "a stamp or pocket plugs were looked for along the edge and the owner was asked",
                "note `post_tension: none` or `stamped`",
                vec![Case { item: None, message: listed, span: noted }],
            )
        }
    };
    Some(Hold {
        code,
        items: cuts.iter().map(|cut| cut.id.to_owned()).collect(),
        works,
        message,
        clears: clears.into(),
        note,
        source: "common practice",
        cases,
    })
}

/// The first few ids, and how many more.
fn listed(ids: &[&str]) -> String {
    const SHOWN: usize = 6;
    let mut text = ids[..ids.len().min(SHOWN)].join(", ");
    if ids.len() > SHOWN {
        text.push_str(&format!(" and {} more", ids.len() - SHOWN));
    }
    text
}

/// Cuts over something in the slab: no nearer than the shop's margin.
fn cover(facts: &Facts<'_>, cuts: &[Cut], service: &Embedded) -> Option<Hold> {
    let margin = facts.shop.chase.cover_margin.m();
    let near: Vec<&Cut> = cuts
        .iter()
        .filter(|cut| service.cover.is_none_or(|cover| cover - cut.depth < margin - GUARD))
        .collect();
    let deepest = near.iter().map(|cut| cut.depth).fold(0.0, f64::max);
    let what = &service.what;
    let case = |cut: &&Cut| {
        let deep = deep(facts, cut);
        let message = match service.cover {
            None => format!("{} {deep} over {what}, whose cover is not noted", cut.id),
            Some(cover) if cut.depth > cover + GUARD => {
                format!("{} {deep}, and the cover over {what} is {}", cut.id, facts.small(cover))
            }
            Some(cover) => format!(
                "{} {deep}, and the cover over {what} is {}: {} stays between them, less than {}",
                cut.id,
                facts.small(cover),
                facts.small((cover - cut.depth).max(0.0)),
                facts.small(margin)
            ),
        };
        Case { item: Some(cut.id.to_owned()), message, span: cut.span }
    };
    let cases: Vec<Case> = near.iter().map(case).collect();
    if cases.is_empty() {
        return None;
    }
    let (code, message, note) = match service.cover {
        None => (
            Code::CoverUnknown,
            format!("{} over {what}, whose cover is not noted", go(near.len(), false)),
            "note it as `cover:`",
        ),
        Some(cover) => (
            Code::ChaseCover,
            format!(
                "the cover over {what} is {}, and cuts go up to {} deep; at least {} has to stay between them",
                facts.small(cover),
                facts.small(deepest),
                facts.small(margin)
            ),
            "",
        ),
    };
    Some(Hold {
        code,
        items: ids(&cases),
        works: works(&near),
        message,
        clears: format!("the place of {what} is known and a licensed engineer agrees to the depth"),
        note,
        source: "common practice; the margin is the shop's, chase.cover_margin",
        cases,
    })
}

/// Steps that grinding does not mend, or that it may not touch yet.
fn steps(facts: &Facts<'_>, out: &mut Vec<Hold>) {
    let rules = &facts.shop.grinding;
    let ground: Vec<(&str, crate::sketch::Span, f64)> = facts
        .takeoff
        .steps_of(facts.slab)
        .filter(|(_, work)| work.by_hand().next().is_some())
        .map(|(step, work)| (step.id.as_str(), step.span, work.max_step_mm / 1000.0))
        .collect();
    let mut hold =
        |code, over: &dyn Fn(f64) -> bool, found: &dyn Fn(f64) -> String, clears: &str, source| {
            let over: Vec<_> = ground.iter().filter(|step| over(step.2)).collect();
            let worst = over.iter().map(|step| step.2).fold(0.0, f64::max);
            let cases: Vec<Case> = over
                .iter()
                .map(|(id, span, step)| Case {
                    item: Some((*id).to_owned()),
                    message: format!("the {OFFSET} {id} {}", found(*step)),
                    span: *span,
                })
                .collect();
            if cases.is_empty() {
                return;
            }
            let message = match cases.as_slice() {
                [one] => one.message.clone(),
                many => format!("{} {OFFSETS}, the highest of which {}", many.len(), found(worst)),
            };
            out.push(Hold {
                code,
                items: ids(&cases),
                works: vec![Kind::GrindSteps],
                message,
                clears: clears.into(),
                note: "",
                source,
                cases,
            });
        };
    if facts.slab.post_tension.0 == PostTension::Stamped {
        hold(
            Code::StepPostTension,
            &|_| true,
            &|step| {
                format!("takes up to {} off a slab stamped as post-tensioned", facts.small(step))
            },
            "the tendons are located and a licensed engineer agrees",
            "common practice",
        );
    }
    if let Some(thickness) = facts.slab.thickness {
        let least = rules.least_slab.m();
        hold(
            Code::StepThin,
            &|step| thickness - step < least - GUARD,
            &|step| {
                format!(
                    "takes up to {} off a slab {} thick, and {} has to be left",
                    facts.small(step),
                    facts.small(thickness),
                    facts.small(least)
                )
            },
            "a licensed engineer agrees",
            "IRC R506.1, least thickness of a slab on the ground; grinding.least_slab of the shop book",
        );
    }
    let most = rules.hand_most.m();
    hold(
        Code::StepHigh,
        &|step| step > most + GUARD,
        &|step| {
            format!(
                "is up to {} high; above {} grinding is not the repair",
                facts.small(step),
                facts.small(most)
            )
        },
        "a ramp or a leveled transition is agreed, or a licensed engineer has answered",
        "from memory; grinding.hand_most of the shop book",
    );
}
