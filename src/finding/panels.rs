//! Spacing, shape and corners of panels.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Vec2};

use super::Facts;
use crate::diagnostic::Diagnostic;
use crate::geometry::path::FLATTEN_TOLERANCE;
use crate::geometry::segments::{Owned, Segments};
use crate::quantity::{M_PER_FT, M2_PER_FT2, Units, write};
use crate::sketch::{JointKind, Span};
use crate::slab::{Joint, Panel, Slab};

/// Longest side of a panel over the slab's thickness (ACI 302.1R-96: 24 to 36 thicknesses).
const SPACING_OVER_THICKNESS: f64 = 36.0;
/// Longest side of a panel in any case, m: 18 ft (ACI 302.1R-96).
const LONGEST_SIDE: f64 = 18.0 * M_PER_FT;
/// Longer over shorter side (ACI 302.1R).
const ASPECT: f64 = 1.5;
/// What is cut off round a column or a post by an isolation joint is no panel: it is cast later, in a blockout, and has no joints
/// of its own to space. Up to so much, m²: 16 ft², a blockout of 4 ft by 4 ft (common practice).
const BLOCKOUT: f64 = 16.0 * M2_PER_FT2;
/// Rounding of ratios and lengths: 1.5 is not over 1.5.
const GUARD: f64 = 1e-6;
/// The sine of the least turn that makes a corner re-entrant: 5°, so that the flats of a curved
/// edge are none.
const RE_ENTRANT: f64 = 0.087;

pub(super) fn rules(facts: &Facts<'_>, out: &mut Vec<Diagnostic>) {
    let joints = facts.slab.joints.iter();
    let lines: BTreeMap<&str, Span> = joints.map(|j| (j.id.as_str(), j.span)).collect();
    let beside = beside_blockouts(facts.slab);
    let panels = facts.slab.panels.iter();
    for panel in panels.filter(|panel| !is_blockout(panel, &beside)) {
        let span = place(facts.slab, panel, &lines);
        if let Some(finding) = spacing(facts, panel) {
            out.push(finding.at(span));
        }
        if panel.aspect() > ASPECT + GUARD {
            out.push(
                Diagnostic::warning(
                    "panel-aspect",
                    format!(
                        "panel {} is {} by {}, {} to 1; over 1.5 to 1 panels tend to crack across",
                        panel.id,
                        facts.length(panel.length_m),
                        facts.length(panel.width_m),
                        write::fixed(panel.aspect(), 2)
                    ),
                )
                .item(&panel.id)
                .many("panels are over 1.5 to 1, and such panels tend to crack across", &panel.id)
                .at(span)
                .hint("note cracks in it closely, and leave new ones out of the warranty")
                .source("ACI 302.1R: length to width of panels at most 1.5"),
            );
        }
    }
    for (corner, at) in re_entrant_corners(facts.slab) {
        out.push(
            Diagnostic::warning(
                "re-entrant-corner",
                format!(
                    "no joint starts from the re-entrant corner {corner} at [{}, {}]",
                    facts.length(at.x),
                    facts.length(at.y)
                ),
            )
            .many("re-entrant corners have no joint that starts there", corner.to_string())
            .at(facts.slab.outline.span)
            .hint("look there for a crack; a new one is likely and belongs among the exclusions")
            .source("ACI 302.1R: re-entrant corners crack unless a joint starts there"),
        );
    }
}

/// What bounds the slivers round a column: isolation joints, and what is kept out.
fn beside_blockouts(slab: &Slab) -> BTreeSet<&str> {
    let isolation = |joint: &&Joint| joint.kind == JointKind::Isolation;
    let joints = slab.joints.iter().filter(isolation).map(|joint| joint.id.as_str());
    joints.chain(slab.keep_outs.iter().map(|zone| zone.id.as_str())).collect()
}

/// Whether a panel is a sliver beside a column or a post, such as those in a diamond.
fn is_blockout(panel: &Panel, beside: &BTreeSet<&str>) -> bool {
    let mut around = panel.joints.iter().chain(&panel.items);
    panel.area_m2 <= BLOCKOUT + GUARD && around.any(|id| beside.contains(id.as_str()))
}

/// A panel has no line of its own in a sketch: the first joint that bounds it has.
fn place(slab: &Slab, panel: &Panel, lines: &BTreeMap<&str, Span>) -> Span {
    let first = panel.joints.first();
    let joint = first.and_then(|id| lines.get(id.as_str()));
    joint.copied().unwrap_or(slab.outline.span)
}

fn spacing(facts: &Facts<'_>, panel: &Panel) -> Option<Diagnostic> {
    let by_thickness = facts.slab.thickness.map(|t| SPACING_OVER_THICKNESS * t);
    let limit = by_thickness.map_or(LONGEST_SIDE, |t| t.min(LONGEST_SIDE));
    if panel.length_m <= limit + GUARD {
        return None;
    }
    let (of, long) = match by_thickness.filter(|t| *t < LONGEST_SIDE) {
        Some(_) => (
            format!("over 36 thicknesses ({})", facts.length(limit)),
            "panels are longer than 36 thicknesses of the slab",
        ),
        None => match facts.units() {
            Units::Us => ("over 18 ft".to_owned(), "panels are longer than 18 ft"),
            Units::Metric => {
                (format!("over {}", facts.length(LONGEST_SIDE)), "panels are longer than 5.49 m")
            }
        },
    };
    Some(
        Diagnostic::warning(
            "panel-spacing",
            format!("panel {} is {} long, {of}", panel.id, facts.length(panel.length_m)),
        )
        .item(&panel.id)
        .many(long, &panel.id)
        .hint("expect cracks between the joints; leave new ones out of the warranty")
        .source("ACI 302.1R-96: joint spacing 24 to 36 thicknesses, at most 18 ft"),
    )
}

/// Corners of the outline that point into the slab and from which no joint starts.
fn re_entrant_corners(slab: &Slab) -> Vec<(usize, Point)> {
    let walls = &slab.outline.walls;
    let count = walls.len();
    let mut corners = Vec::new();
    for i in 0..count {
        let before = &walls[(i + count - 1) % count];
        let (u, v): (Vec2, Vec2) =
            (before.direction_at(before.length()), walls[i].direction_at(0.0));
        let turn = if slab.outline.counter_clockwise { u.cross(v) } else { v.cross(u) };
        if turn > -RE_ENTRANT {
            continue;
        }
        corners.push((i + 1, slab.outline.corners[i]));
    }
    if corners.is_empty() {
        return corners;
    }
    let reach = crate::quantity::Length::from_in(2.0).m();
    let joints = joint_segments(slab);
    corners.retain(|&(_, at)| {
        let near = joints.near(at, at, reach + FLATTEN_TOLERANCE);
        let starts_there = |s: &Owned| slab.joints[s.owner].path.nearest(at).1 <= reach;
        !near.iter().any(starts_there)
    });
    corners
}

/// The joints, found by place.
fn joint_segments(slab: &Slab) -> Segments {
    let mut segments = Vec::new();
    for (owner, joint) in slab.joints.iter().enumerate() {
        for pair in joint.path.points().windows(2) {
            let (a, b) = (pair[0], pair[1]);
            segments.push(Owned { a, b, owner });
        }
    }
    Segments::new(segments)
}
