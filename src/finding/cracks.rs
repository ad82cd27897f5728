//! Cracks: what moves. A width is never a pass or a fail; where an engineer is asked is a hold.

use super::Facts;
use super::joints::counted_once;
use crate::diagnostic::Diagnostic;
use crate::quantity::M_PER_IN;
use crate::sketch::Movement;
use crate::slab::Crack;
use crate::takeoff::CrackWork;

/// A crack that runs on past the coated floor by no more than this ends at it, m: 1 in (common practice, as a tape is read).
const CUT_OFF: f64 = M_PER_IN;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    crowded(facts, out);
    for (crack, work) in facts.takeoff.cracks_of(facts.slab) {
        overlaps(facts, crack, out);
        movement(crack, work, out);
        if !crack.width_known {
            out.push(
                Diagnostic::warning(
                    "width-missing",
                    format!(
                        "{} has no width: {} is taken",
                        crack.id,
                        facts.small(facts.shop.cracks.prime_below.m())
                    ),
                )
                .item(&crack.id)
                .many("cracks have no width, and the least is taken", &crack.id)
                .at(crack.span)
                .hint("measure it with a crack gauge and note it as `width:` or `widths:`"),
            );
        }
        if work.length_m == 0.0 && crack.on_top.is_empty() {
            out.push(
                Diagnostic::note(
                    "crack-not-in-job",
                    format!("{} lies outside the coated area: it is drawn, not counted", crack.id),
                )
                .item(&crack.id)
                .many("cracks lie outside the coated area: they are drawn, not counted", &crack.id)
                .at(crack.span),
            );
        } else {
            partly(facts, crack, out);
        }
    }
}

/// A crack of which a part is cut off where the coated floor ends.
fn partly(facts: &Facts<'_>, crack: &Crack, out: &mut Vec<Diagnostic>) {
    let whole = crack.path.length();
    let counted: f64 = crack.in_scope.iter().map(|s| s.length()).sum();
    let elsewhere: f64 = crack.on_top.iter().map(|(s, _)| s.length()).sum();
    let inside = counted + elsewhere;
    if whole - inside <= CUT_OFF {
        return;
    }
    out.push(
        Diagnostic::warning(
            "crack-partly-in-job",
            format!(
                "{} of the {} of {} lie outside the coated area: they are not counted",
                facts.length(whole - inside),
                facts.length(whole),
                crack.id
            ),
        )
        .item(&crack.id)
        .at(crack.span)
        .hint("check its points, or leave it if the crack really runs on there"),
    );
}

fn overlaps(facts: &Facts<'_>, crack: &Crack, out: &mut Vec<Diagnostic>) {
    if crack.on_top.is_empty() {
        return;
    }
    let slab = facts.slab;
    let mut others: Vec<(&str, f64)> = Vec::new();
    for (stretch, id) in &crack.on_top {
        match others.iter_mut().find(|(known, _)| known == id) {
            Some((_, length)) => *length += stretch.length(),
            None => others.push((id, stretch.length())),
        }
    }
    for (id, length) in others.into_iter().filter(|(_, length)| *length > 0.0) {
        let joint = slab.joints.iter().find(|j| j.id == id).map(|j| j.span);
        let crack_span = || slab.cracks.iter().find(|c| c.id == id).map(|c| c.span);
        if let Some(span) = joint.or_else(crack_span) {
            out.push(counted_once(facts, (&crack.id, crack.span), length, (id, span)));
        }
    }
}

/// Cracks with so many lines near them that what lies on another isn't found.
fn crowded(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let mut crowded = facts.slab.cracks.iter().filter(|crack| crack.crowded);
    let Some(first) = crowded.next() else {
        return;
    };
    let more = match crowded.count() {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    out.push(
        Diagnostic::warning(
            "cracks-crowded",
            format!(
                "{}{more} have more than 256 other lines within 1/8 in: what of them lies on another counts twice",
                first.id
            ),
        )
        .item(&first.id)
        .at(first.span)
        .hint("record a field of cracks as a few lines, or leave out what was entered twice"),
    );
}

fn movement(crack: &Crack, work: &CrackWork, out: &mut Vec<Diagnostic>) {
    let filled = work.portions.iter().any(|p| p.filling().is_some() && p.length_m > 0.0);
    let (code, message, many, hint) = match crack.movement {
        Movement::Active if filled => (
            "active-crack",
            format!("{} moves and is to be filled: it will show again", crack.id),
            "cracks move and are to be filled: they will show again",
            "honor it, or have the customer sign that it will come back",
        ),
        Movement::Active => (
            "active-crack",
            format!("{} moves: it will show, however it is treated", crack.id),
            "cracks move: they will show, however they are treated",
            "put it among the exclusions; a licensed engineer can say why it moves",
        ),
        Movement::Unknown => (
            "crack-movement-unknown",
            format!("nobody knows whether {} still moves: it may show again", crack.id),
            "cracks may still move, nobody knows: they may show again",
            "mark its ends and look again later, or put it among the exclusions",
        ),
        Movement::Dormant => return,
    };
    out.push(
        Diagnostic::warning(code, message)
            .item(&crack.id)
            .many(many, &crack.id)
            .at(crack.span)
            .hint(hint)
            .source("ACI 224.1R: rigid repair is for dormant cracks"),
    );
}
