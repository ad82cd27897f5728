//! Risers: what runs across them, and a rise on an accessible route.

use super::Facts;
use super::steps::BEVELLED;
use crate::diagnostic::Diagnostic;
use crate::geometry::clip::near;
use crate::geometry::path::Path;
use crate::geometry::segments::{Owned, Segments};
use crate::slab::{ON_TOP, Slab, Stretch};

/// How far before and behind a riser the height of the floor is looked at, m.
const BESIDE: f64 = 0.02;
/// Rounding of heights, m.
const GUARD: f64 = 1e-9;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let slab = facts.slab;
    if slab.risers.is_empty() {
        return;
    }
    let joints = slab.joints.iter().map(|j| (&j.id, &j.path, &j.on_slab, j.span, true));
    let cracks = slab.cracks.iter().map(|c| (&c.id, &c.path, &c.on_slab, c.span, false));
    let index = index(slab);
    for (id, path, on, span, is_joint) in joints.chain(cracks) {
        let found = crossings(slab, &index, path, on);
        let at = |(tier, station): &(&str, f64)| format!("{tier} at {}", facts.length(*station));
        let at: Vec<String> = found.iter().map(at).collect();
        if !at.is_empty() {
            let (why, hint) = if is_joint {
                (
                    "a joint ends at a riser",
                    format!(
                        "where only the main floor has it, write ends_at: {}; where both heights have one, write two, each up to the riser",
                        found[0].0
                    ),
                )
            } else {
                (
                    "it may go on in the riser, of which nothing is counted",
                    "look at the riser; where the two sides are cracks of their own, write two"
                        .to_owned(),
                )
            };
            out.push(
                Diagnostic::warning(
                    "crosses-riser",
                    format!(
                        "{id} runs across the riser of {}: {why}; on both heights it counts as written",
                        at.join(", of ")
                    ),
                )
                .item(id)
                .many("lines run across a riser; on both heights they count as written", id)
                .at(span)
                .hint(hint)
                .source("common practice"),
            );
        }
    }
    if !facts.sketch.job.accessible_route {
        return;
    }
    for tier in &slab.tiers {
        let high = slab.risers.iter().filter(|r| r.tier == tier.id && r.step_m > BEVELLED + GUARD);
        let Some(step_m) = high.map(|r| r.step_m).max_by(f64::total_cmp) else {
            continue;
        };
        out.push(
            Diagnostic::warning(
                "accessible-route",
                format!(
                    "the riser of {} is {} high, over {} on an accessible route: above 1/2 in it is a ramp",
                    tier.id,
                    facts.small(step_m),
                    facts.small(BEVELLED)
                ),
            )
            .item(&tier.id)
            .at(tier.span)
            .hint("ask whether the route leads around it or over a ramp")
            .source("ADA/ABA Standards section 303"),
        );
    }
}

/// The pieces of all risers, each owned by its riser.
fn index(slab: &Slab) -> Segments {
    let mut pieces = Vec::new();
    for (owner, riser) in slab.risers.iter().enumerate() {
        let points = riser.path.points();
        pieces.extend(points.windows(2).map(|p| Owned { a: p[0], b: p[1], owner }));
    }
    Segments::new(pieces)
}

/// Where a path has another height of the floor before a riser than behind it: the riser's tier, and the station.
fn crossings<'a>(
    slab: &'a Slab,
    index: &Segments,
    path: &Path,
    on: &[Stretch],
) -> Vec<(&'a str, f64)> {
    let mut out = Vec::new();
    for &(from, to) in near(&path.flatten(), index, ON_TOP).as_slice() {
        let (before, behind) = (from - BESIDE, to + BESIDE);
        let on_slab = on.iter().any(|s| s.from_m <= before && behind <= s.to_m);
        let height = |station: f64| slab.height_at(path.point_at(station));
        if !on_slab || (height(before) - height(behind)).abs() < GUARD {
            continue;
        }
        let middle = (from + to) / 2.0;
        let at = path.point_at(middle);
        let distance = |i: &usize| slab.risers[*i].path.nearest(at).1;
        let nearest = (0..slab.risers.len()).min_by(|p, q| distance(p).total_cmp(&distance(q)));
        out.extend(nearest.map(|i| (slab.risers[i].tier.as_str(), middle)));
    }
    out
}
