//! Tiers: parts of the floor that lie higher or lower than the rest, and the risers where two heights meet.

use std::collections::BTreeMap;

use super::floor::{Floor, ON_TOP};
use super::locate::Locator;
use super::records::cove_m;
use super::zones::{LEAST_NET, on_slab_at_all};
use super::{Face, Riser, Slab, Tier};
use crate::diagnostic::{Diagnostic, Place};
use crate::geometry::path::Path;
use crate::geometry::region::{Region, interior_of};
use crate::geometry::stretch::MERGE;
use crate::geometry::within::Within;
use crate::quantity::{M_PER_IN, write};
use crate::shop::Shop;
use crate::sketch::{self, RiserFinish, Sketch};

/// Least height of a riser, m: 1/2 in. What is lower is a step between panels, ground down and not coated by itself (common practice).
const LEAST_STEP: f64 = 0.5 * M_PER_IN;
/// Rounding of heights, m.
const GUARD: f64 = 1e-9;

pub(super) fn placed<'a>(
    tiers: &'a [sketch::Tier],
    enclosed: &Region,
    shop: &Shop,
    locator: &mut Locator<'a>,
) -> Vec<Tier> {
    if tiers.is_empty() {
        return Vec::new();
    }
    let within = Within::new(enclosed);
    let one = |tier: &'a sketch::Tier, locator: &mut Locator<'a>| {
        let id = &tier.id.value;
        let shape = locator.shape(id, &tier.shape)?;
        on_slab_at_all(id, "tier", &shape, &within, tier.shape.span, locator)?;
        let height_m = tier.height.value.m();
        let placed = Tier {
            id: id.clone(),
            what: tier.what.clone(),
            height_m,
            coat: tier.riser.as_ref().map(|r| r.value).unwrap_or_default() == RiserFinish::Coat,
            cove_m: cove_m(tier.cove, shop),
            region: within.common(&shape.region).into_owned(),
            shape,
            area_m2: 0.0,
            note: tier.note.clone(),
            span: tier.id.span,
        };
        if height_m.abs() < LEAST_STEP - GUARD {
            let message = format!(
                "{id} lies only {} than the floor around it: that is a step between panels, not a riser",
                placed.higher(locator.units())
            );
            let fault = Diagnostic::error("tier-height", message).item(id);
            let hint = "record it under `lippage`, or check the height";
            locator.found.push(fault.at(tier.height.span).hint(hint));
            return None;
        }
        Some(placed)
    };
    let mut out: Vec<Tier> = Vec::with_capacity(tiers.len());
    for tier in tiers {
        let placed = locator.about(&tier.id.value, |locator| one(tier, locator));
        let Some(placed) = placed else { continue };
        for before in &out {
            let common = before.region.intersection(&placed.region).area();
            if common > LEAST_NET {
                let (id, other) = (&placed.id, &before.id);
                let common = write::area(common, locator.units());
                let message = format!(
                    "{id} and {other} overlap by {common}: a floor has one height at a place"
                );
                let fault = Diagnostic::error("tiers-overlap", message)
                    .item(id)
                    .at(placed.span)
                    .related(Place::sketch(before.span), format!("{other} lies here already"))
                    .hint("leave the common part out of one of them; where two adjoin, give both the same points");
                locator.found.push(fault);
            }
        }
        out.push(placed);
    }
    out
}

/// A run of a riser: whose ring it lies on, what is beyond, and what is coated beside it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Run {
    tier: usize,
    ring: usize,
    beyond: Option<usize>,
    low_left: bool,
    foot: bool,
    head: bool,
}

/// The risers, read from the same subdivision as areas and panels; gives the tiers their coated areas.
pub(super) fn risers(floor: &Floor, tiers: &mut [Tier]) -> Vec<Riser> {
    if tiers.is_empty() {
        return Vec::new();
    }
    let level = |panel: usize| {
        let inside = interior_of(&floor.panel(panel).1)?;
        tiers.iter().position(|tier| tier.region.contains(inside))
    };
    let levels: Vec<Option<usize>> = (0..floor.panel_count()).map(level).collect();
    let mut runs: BTreeMap<Run, Vec<(f64, f64)>> = BTreeMap::new();
    for edge in floor.between_panels() {
        let (left, right) = (levels[edge.left.panel], levels[edge.right.panel]);
        let height = |level: Option<usize>| level.map_or(0.0, |i| tiers[i].height_m);
        let rise = height(left) - height(right);
        // Of two tiers that adjoin it is the riser of the higher one.
        let higher = if rise > 0.0 { left.or(right) } else { right.or(left) };
        let Some(tier) = higher.filter(|_| rise.abs() > GUARD) else {
            continue;
        };
        let middle = edge.a.midpoint(edge.b);
        let rings = tiers[tier].shape.rings.iter().enumerate();
        let near = rings.map(|(ring, path)| (ring, path.nearest(middle)));
        let Some((ring, (station, _))) = near.min_by(|p, q| p.1.1.total_cmp(&q.1.1)) else {
            continue;
        };
        let along = tiers[tier].shape.rings[ring].direction_at(station);
        let (low, high) =
            if rise < 0.0 { (edge.left, edge.right) } else { (edge.right, edge.left) };
        let run = Run {
            tier,
            ring,
            beyond: if left == Some(tier) { right } else { left },
            low_left: (rise < 0.0) == (along.dot(edge.b - edge.a) > 0.0),
            foot: low.net,
            head: high.net,
        };
        let half = edge.length / 2.0;
        runs.entry(run).or_default().push((station - half, station + half));
    }
    for (i, tier) in tiers.iter_mut().enumerate() {
        tier.area_m2 = floor.net_in(|panel| levels[panel] == Some(i));
    }
    let mut out = Vec::new();
    for (run, pieces) in runs {
        let tier = &tiers[run.tier];
        let beyond = run.beyond.map_or(0.0, |i| tiers[i].height_m);
        for path in joined(&tier.shape.rings[run.ring], pieces) {
            out.push(Riser {
                tier: tier.id.clone(),
                path: if run.low_left { path } else { path.reversed() },
                step_m: (tier.height_m - beyond).abs(),
                tier_high: tier.height_m > beyond,
                foot: run.foot,
                head: run.head,
                coated: tier.coat && (run.foot || run.head),
            });
        }
    }
    let place = |riser: &Riser| riser.path.point_at(riser.path.length() / 2.0);
    out.sort_by(|p, q| {
        let (p, q) = (place(p), place(q));
        q.y.total_cmp(&p.y).then(p.x.total_cmp(&q.x))
    });
    out
}

/// Stretches of a closed ring as paths; those that follow each other are one, over the ring's first point too.
fn joined(ring: &Path, mut pieces: Vec<(f64, f64)>) -> Vec<Path> {
    pieces.sort_by(|p, q| p.0.total_cmp(&q.0));
    let mut runs: Vec<(f64, f64)> = Vec::new();
    for (from, to) in pieces {
        match runs.last_mut() {
            Some(last) if from <= last.1 + ON_TOP => last.1 = last.1.max(to),
            _ => runs.push((from, to)),
        }
    }
    let around =
        runs.len() > 1 && runs[0].0 <= ON_TOP && runs[runs.len() - 1].1 >= ring.length() - ON_TOP;
    let first = if around { Some(runs.remove(0)) } else { None };
    let mut paths: Vec<Path> = runs.iter().map(|&(from, to)| ring.part(from, to)).collect();
    if let (Some((from, to)), Some(last)) = (first, paths.last_mut()) {
        let mut segments = last.segments().to_vec();
        segments.extend_from_slice(ring.part(from, to).segments());
        *last = Path::new(segments);
    }
    paths.retain(|path| path.length() > MERGE);
    paths
}

/// Coated risers as faces, each with the cove of its tier where the floor at its foot is coated.
pub(super) fn faces(tiers: &[Tier], risers: &[Riser]) -> Vec<Face> {
    let coated = risers.iter().filter(|riser| riser.coated);
    let face = |riser: &Riser| {
        let tier = tiers.iter().find(|tier| tier.id == riser.tier)?;
        // The customer reads it too, so it has no id.
        let name = tier
            .what
            .as_ref()
            .map_or_else(|| "riser".into(), |what| format!("riser of the {what}"));
        Some(Face {
            name: Some(name),
            path: riser.path.clone(),
            height_m: riser.step_m,
            cove_m: tier.cove_m.filter(|_| riser.foot),
        })
    };
    coated.filter_map(face).collect()
}

/// Tiers that change nothing: without a riser, or with a riser to coat where no floor beside it is coated.
pub(super) fn without_use(slab: &Slab, sketch: &Sketch, found: &mut Vec<Diagnostic>) {
    for (tier, written) in slab.tiers.iter().zip(&sketch.slab.tiers) {
        let id = &tier.id;
        // Of two that adjoin it is the riser of the higher one.
        let beside = |riser: &&Riser| {
            riser.tier == *id
                || tier.shape.rings.iter().any(|ring| ring.nearest(riser.path.start()).1 <= ON_TOP)
        };
        let risers: Vec<&Riser> = slab.risers.iter().filter(beside).collect();
        if risers.is_empty() {
            let message = format!(
                "{id} has no riser: none of its edges lies between two heights of the floor"
            );
            found.push(
                Diagnostic::error("no-riser", message)
                    .item(id)
                    .at(written.shape.span)
                    .hint("the outline is the whole floor, the tier a part of it; check its corners, or leave it out"),
            );
        } else if let Some(riser) = written.riser.as_ref()
            && tier.coat
            && !risers.iter().any(|riser| riser.foot || riser.head)
        {
            let message = format!(
                "the riser of {id} is to be coated, and the floor on neither side of it is"
            );
            found.push(
                Diagnostic::error("riser-alone", message)
                    .item(id)
                    .at(riser.span)
                    .hint("write riser: leave, or check what is uncoated"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{M_PER_FT, M2_PER_FT2};
    use kurbo::Point;

    /// A floor of 20 ft by 20 ft.
    fn resolved(tiers: &str, more: &str) -> (Option<Slab>, Vec<Diagnostic>) {
        let text = format!(
            "slabwalk: 1\njob: {{name: Garage}}\nslab:\n  outline: [[0, 0], [20', 0], [20', 20'], [0, 20']]\n  tiers: [{tiers}]\n{more}"
        );
        let (sketch, found) = crate::sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{found:#?}"));
        crate::slab::resolve(&sketch, &crate::shop::built_in())
    }

    fn slab(tiers: &str, more: &str) -> Slab {
        let (slab, found) = resolved(tiers, more);
        slab.unwrap_or_else(|| panic!("{tiers}: {found:#?}"))
    }

    fn near(name: &str, found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-4, "{name}: {found} for {wanted}");
    }

    /// By hand: of 400 ft² a strip of 20 × 6 ft is 120 ft², 280 are left; 20 ft × 7/12 ft are 11.667 ft² of riser.
    #[test]
    fn a_strip_along_the_back_wall() {
        let back =
            "{id: V1, what: back slab, height: 7\", box: {corner: [-1', 14'], size: [22', 9']}}";
        let slab = slab(back, "");
        near("tier", slab.tiers[0].area_m2 / M2_PER_FT2, 120.0);
        near("net", slab.areas.net / M2_PER_FT2, 400.0);
        near("faces", slab.areas.faces / M2_PER_FT2, 20.0 * 7.0 / 12.0);
        let panels: Vec<f64> = slab.panels.iter().map(|p| p.area_m2 / M2_PER_FT2).collect();
        near("upper panel", panels[0], 120.0);
        near("lower panel", panels[1], 280.0);
        assert_eq!(slab.panels[0].items, ["V1"]);
        assert!(slab.panels[1].items.is_empty() && panels.len() == 2);
        let face = &slab.faces[0];
        assert_eq!(face.name.as_deref(), Some("riser of the back slab"));
        // The lower floor lies on the left of the foot: south of it, so it runs west.
        assert!(face.path.direction_at(1.0).x < -0.99);
        near("up there", slab.height_at(Point::new(1.0, 5.0)), 7.0 * M_PER_IN);
        near("down here", slab.height_at(Point::new(1.0, 1.0)), 0.0);
    }

    /// Length in feet and height in inches of each riser, from the top of the sheet down.
    fn risers_of(slab: &Slab) -> Vec<(f64, f64)> {
        let round = |x: f64| (x * 1000.0).round() / 1000.0;
        let one = |r: &Riser| (round(r.path.length() / M_PER_FT), round(r.step_m / M_PER_IN));
        slab.risers.iter().map(one).collect()
    }

    #[test]
    fn risers_by_hand() {
        let stage = "{id: V1, height: 7\", box: {corner: [0, 10'], size: [20', 4']}}, {id: V2, height: 14\", box: {corner: [0, 14'], size: [20', 6']}}";
        let rows = [
            // Two steps of a stage: each riser is 7 in, the upper one that of the upper tier.
            ("two steps up", stage, "", vec![(20.0, 7.0), (20.0, 7.0)]),
            // Both the same height: one riser, and none between them.
            (
                "two of one height",
                "{height: 6\", box: {corner: [0, 14'], size: [8', 6']}}, {height: 6\", box: {corner: [8', 14'], size: [12', 6']}}",
                "",
                vec![(12.0, 6.0), (8.0, 6.0)],
            ),
            // A raised part beside a lower one: 6 and 3 in are 9 in where they meet.
            (
                "up beside down",
                "{height: 6\", box: {corner: [0, 0], size: [10', 20']}}, {height: -3\", box: {corner: [10', 0], size: [10', 20']}}",
                "",
                vec![(20.0, 9.0)],
            ),
            // A corner whose first point lies on the floor: one riser around it, 8 and 6 ft.
            (
                "a corner",
                "{height: 6\", box: {corner: [12', 14'], size: [9', 9']}}",
                "",
                vec![(14.0, 6.0)],
            ),
            // An island, 4 ft across: π × 4 ft.
            (
                "a round base",
                "{height: 4\", circle: {center: [10', 10'], diameter: 4'}}",
                "",
                vec![(12.566, 4.0)],
            ),
            // A post of 1 ft stands in the riser.
            (
                "a post in it",
                "{height: 7\", box: {corner: [0, 14'], size: [20', 6']}}",
                "  keep_outs: [{box: {corner: [4', 13' 6\"], size: [1', 1']}}]\n",
                vec![(4.0, 7.0), (15.0, 7.0)],
            ),
        ];
        for (name, tiers, more, wanted) in rows {
            let mut found = risers_of(&slab(tiers, more));
            let mut wanted = wanted;
            found.sort_by(|p, q| p.partial_cmp(q).unwrap());
            wanted.sort_by(|p, q| p.partial_cmp(q).unwrap());
            assert_eq!(found, wanted, "{name}");
        }
    }

    #[test]
    fn what_is_coated_of_a_riser() {
        let tier = |more: &str| {
            format!("{{height: 6\", {more} box: {{corner: [0, 10'], size: [20', 10']}}}}")
        };
        let upper = "coating: {uncoated: [{box: {corner: [0, 10'], size: [20', 10']}}]}\n";
        let left = "coating: {uncoated: [{box: {corner: [0, 0], size: [5', 20']}}]}\n";
        // Feet of coated riser, of riser with a cove, of its head and foot inside the coated floor.
        let rows = [
            ("all", "", "", 20.0, 0.0, 20.0),
            ("coved", "cove: 1\",", "", 20.0, 20.0, 20.0),
            ("left", "riser: leave,", "", 0.0, 0.0, 20.0),
            ("below alone", "cove: true,", upper, 20.0, 20.0, 0.0),
            ("five feet on neither side", "", left, 15.0, 0.0, 15.0),
        ];
        for (name, says, more, coated, coved, inside) in rows {
            let slab = slab(&tier(says), more);
            let faces = || slab.faces.iter();
            let length = |faces: &mut dyn Iterator<Item = &Face>| -> f64 {
                faces.map(|face| face.path.length()).sum::<f64>() / M_PER_FT
            };
            near(name, length(&mut faces()), coated);
            near(name, length(&mut faces().filter(|f| f.cove_m.is_some())), coved);
            near(name, slab.risers_inside(|_| true) / M_PER_FT, inside);
        }
    }

    #[test]
    fn the_order_of_tiers_changes_no_riser() {
        let (a, b) = (
            "{id: V1, what: one, height: 6\", box: {corner: [0, 0], size: [10', 20']}}",
            "{id: V2, what: two, riser: leave, height: -3\", box: {corner: [10', 0], size: [10', 20']}}",
        );
        for text in [format!("{a}, {b}"), format!("{b}, {a}")] {
            let slab = slab(&text, "");
            assert_eq!(slab.risers[0].tier, "V1");
            assert!(slab.risers[0].coated && slab.risers[0].tier_high);
        }
    }
}
