//! Joints: where they run, and what they end at.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Rect;

use super::floor::ON_TOP;
use super::locate::Locator;
use super::once::stretches;
use super::{Joint, Tier, Zone};
use crate::diagnostic::Diagnostic;
use crate::geometry::boxes::Boxes;
use crate::geometry::clip::Clipper;
use crate::geometry::path::Path;
use crate::geometry::region::{Region, counter_clockwise};
use crate::geometry::stretch::Intervals;
use crate::sketch;

/// Joints without their scope; the places of those that can't be resolved are noted.
pub(super) fn placed<'a>(sketch: &'a [sketch::Joint], locator: &mut Locator<'a>) -> Vec<Joint> {
    sketch
        .iter()
        .enumerate()
        .filter_map(|(i, joint)| locator.about(&joint.id.value, |locator| one(i, joint, locator)))
        .collect()
}

fn one<'a>(i: usize, joint: &'a sketch::Joint, locator: &mut Locator<'a>) -> Option<Joint> {
    let path = locator.joint(i, joint)?;
    let m =
        |length: &Option<sketch::At<crate::quantity::Length>>| length.as_ref().map(|l| l.value.m());
    Some(Joint {
        id: joint.id.value.clone(),
        kind: joint.kind.value,
        formed: joint.formed,
        path,
        width: m(&joint.width),
        depth: m(&joint.depth),
        strip_depth: m(&joint.strip_depth),
        wander: m(&joint.wander),
        buried: joint.buried,
        treatment: joint.treatment.as_ref().map(|t| t.value),
        chase_width: m(&joint.chase.width),
        chase_depth: m(&joint.chase.depth),
        note: joint.note.clone(),
        gaps: Vec::new(),
        in_scope: Vec::new(),
        on_slab: Vec::new(),
        on_top: Vec::new(),
        span: joint.id.span,
    })
}

/// A joint that closes on itself.
struct Closed {
    joint: usize,
    inside: Region,
    bounds: Rect,
}

/// What joints can end at.
struct Ends<'a> {
    /// Joints that close on themselves, keep-outs and tiers, by their ids.
    by_id: BTreeMap<&'a str, Target<'a>>,
    closed: Vec<Closed>,
    /// Where the closed joints lie.
    boxes: Boxes,
}

#[derive(Clone, Copy)]
enum Target<'a> {
    /// A closed joint, by its place among them.
    Closed(usize),
    /// A joint with two ends, at which none ends.
    Open,
    KeepOut(&'a Zone),
    /// A part at another height: a joint ends at its riser.
    Tier(&'a Tier),
}

/// Takes out of each joint what lies inside the things it ends at: joints that close on themselves, keep-outs or the closed joints
/// round them, and tiers.
pub(super) fn end(
    sketch: &[sketch::Joint],
    joints: &mut [Joint],
    keep_outs: &[Zone],
    tiers: &[Tier],
    found: &mut Vec<Diagnostic>,
) {
    if sketch.iter().all(|joint| joint.ends_at.is_empty()) {
        return;
    }
    let closed = joints.iter().enumerate();
    let closed = closed.filter_map(|(joint, j)| closed_on_itself(joint, &j.path));
    let ends = Ends::new(sketch, closed.collect(), keep_outs, tiers);
    // Most joints that end at something end at the same things.
    let mut known: BTreeMap<(Vec<&str>, Option<usize>), Clipper> = BTreeMap::new();
    let mut told = BTreeSet::new();
    for (i, (form, joint)) in sketch.iter().zip(joints).enumerate() {
        if form.ends_at.is_empty() {
            continue;
        }
        let patterns: Vec<&str> = form.ends_at.iter().map(|p| p.value.as_str()).collect();
        let own = ends.closed.binary_search_by_key(&i, |c| c.joint);
        let own = own.is_ok().then_some(i);
        let clipper = known.entry((patterns, own)).or_insert_with(|| {
            let mut inside = Vec::new();
            for pattern in &form.ends_at {
                let regions = ends.inside(&pattern.value, own);
                let open = || ends.named(&pattern.value).next().is_some();
                if regions.is_empty() && open() && told.insert(pattern.span) {
                    found.push(no_end(pattern, &joint.id));
                }
                inside.extend(regions);
            }
            Clipper::new(&Region::union_all(inside))
        });
        let gaps = clipper.inside(&joint.path.flatten());
        joint.gaps = stretches(&gaps);
        if kept(joint).is_some_and(|kept| kept.is_empty()) {
            found.push(
                Diagnostic::error(
                    "line-misses-slab",
                    format!(
                        "nothing is left of joint {}: all of it lies inside what it ends at",
                        joint.id
                    ),
                )
                .item(&joint.id)
                .at(form.line.span)
                .hint("check where it runs, or take `ends_at` out"),
            );
        }
    }
}

/// Pieces of a joint's path where the joint is; nothing where that is all of it.
pub(super) fn kept(joint: &Joint) -> Option<Intervals> {
    if joint.gaps.is_empty() {
        return None;
    }
    let gaps = joint.gaps.iter().map(|s| (s.from_m, s.to_m)).collect();
    let whole = Intervals::new(vec![(0.0, joint.path.length())]);
    Some(whole.difference(&Intervals::new(gaps)))
}

fn closed_on_itself(joint: usize, path: &Path) -> Option<Closed> {
    if (path.end() - path.start()).hypot() > ON_TOP {
        return None;
    }
    let inside = Region::from_rings(&[counter_clockwise(path.ring())]);
    let bounds = inside.bounds()?;
    Some(Closed { joint, inside, bounds })
}

impl<'a> Ends<'a> {
    fn new(
        sketch: &'a [sketch::Joint],
        closed: Vec<Closed>,
        keep_outs: &'a [Zone],
        tiers: &'a [Tier],
    ) -> Self {
        let mut by_id: BTreeMap<&str, Target> = BTreeMap::new();
        by_id.extend(sketch.iter().map(|j| (j.id.value.as_str(), Target::Open)));
        let places = closed.iter().enumerate();
        by_id.extend(places.map(|(i, c)| (sketch[c.joint].id.value.as_str(), Target::Closed(i))));
        by_id.extend(keep_outs.iter().map(|z| (z.id.as_str(), Target::KeepOut(z))));
        by_id.extend(tiers.iter().map(|t| (t.id.as_str(), Target::Tier(t))));
        let boxes = Boxes::new(closed.iter().map(|c| c.bounds));
        Self { by_id, closed, boxes }
    }

    /// Everything that a pattern names.
    fn named<'s>(&'s self, pattern: &'s str) -> impl Iterator<Item = Target<'a>> + 's {
        let start = pattern.split('*').next().unwrap_or_default();
        let from = self.by_id.range(start..);
        let like = from.take_while(move |(id, _)| id.starts_with(start));
        like.filter(|(id, _)| sketch::matches(pattern, id)).map(|(_, target)| *target)
    }

    /// The inside of everything that is named, less a joint's own.
    fn inside(&self, pattern: &str, own: Option<usize>) -> Vec<Region> {
        let inside = self.named(pattern).filter_map(|target| match target {
            Target::Open => None,
            Target::Closed(i) => Some(&self.closed[i])
                .filter(|closed| Some(closed.joint) != own)
                .map(|closed| &closed.inside),
            Target::Tier(tier) => Some(&tier.shape.region),
            Target::KeepOut(zone) => {
                let around = self.around(zone, own);
                Some(around.map_or(&zone.shape.region, |closed| &closed.inside))
            }
        });
        inside.cloned().collect()
    }

    /// The smallest closed joint round a keep-out.
    fn around(&self, zone: &Zone, own: Option<usize>) -> Option<&Closed> {
        let middle = zone.shape.region.bounds()?.center();
        let round = self.boxes.at(middle).into_iter().map(|i| &self.closed[i]);
        let round = round.filter(|closed| {
            Some(closed.joint) != own
                && zone.shape.rings.iter().all(|ring| {
                    let mut points = ring.points().into_iter();
                    points.all(|p| closed.inside.contains(p))
                })
        });
        let area = |closed: &&Closed| closed.inside.area();
        round.min_by(|a, b| area(a).total_cmp(&area(b)))
    }
}

fn no_end(pattern: &sketch::At<String>, joint: &str) -> Diagnostic {
    let message = format!("no joint can end at `{}`: it does not close on itself", pattern.value);
    Diagnostic::error("ends-at", message).item(joint).at(pattern.span).hint(
        "name keep-outs, tiers, or closed joints such as the diamonds round columns: ends_at: K*",
    )
}

#[cfg(test)]
mod tests {
    /// Stations between which a joint at y = 10 m counts on a floor of 20 m by 20 m, after what is there beside it.
    fn counted(more: &str) -> Vec<(f64, f64)> {
        let text = format!(
            "slabwalk: 1\nunits: metric\njob: {{name: Shed}}\nslab:\n  outline: [[0, 0], [20, 0], [20, 20], [0, 20]]\n{more}"
        );
        let (sketch, found) = crate::sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{found:?}"));
        let (slab, found) = crate::slab::resolve(&sketch, &crate::shop::built_in());
        let slab = slab.unwrap_or_else(|| panic!("{found:?}"));
        let joint = slab.joints.iter().find(|j| j.id == "J1").expect("J1");
        let round = |m: f64| (m * 1e6).round() / 1e6;
        let stretch = |s: &crate::slab::Stretch| (round(s.from_m), round(s.to_m));
        joint.in_scope.iter().map(stretch).collect()
    }

    #[test]
    fn a_joint_ends_at_what_is_named() {
        const COLUMN: &str =
            "  keep_outs: [{id: K1, what: column, box: {corner: [9.8, 9.8], size: [0.4, 0.4]}}]\n";
        // It runs past the wall, and is cut off there.
        const TIER: &str =
            "  tiers: [{id: V1, height: 200, box: {corner: [12, 5], size: [9, 10]}}]\n";
        const DIAMOND: &str = "  - {id: J2, kind: isolation, path: [[10, 9], [11, 10], [10, 11], [9, 10], [10, 9]]}\n";
        const OUTER: &str = "  - {id: J3, kind: isolation, path: [[10, 7], [13, 10], [10, 13], [7, 10], [10, 7]]}\n";
        let rows = [
            ("nothing is named", COLUMN, "", DIAMOND, vec![(0.0, 9.8), (10.2, 20.0)]),
            (
                "a column without a diamond",
                COLUMN,
                ", ends_at: K1",
                "",
                vec![(0.0, 9.8), (10.2, 20.0)],
            ),
            (
                "the diamond round a column",
                COLUMN,
                ", ends_at: K*",
                DIAMOND,
                vec![(0.0, 9.0), (11.0, 20.0)],
            ),
            ("a diamond by its id", "", ", ends_at: J2", DIAMOND, vec![(0.0, 9.0), (11.0, 20.0)]),
            (
                "several",
                COLUMN,
                ", ends_at: [K1, J3]",
                &format!("{DIAMOND}{OUTER}"),
                vec![(0.0, 7.0), (13.0, 20.0)],
            ),
            ("a tier", TIER, ", ends_at: V1", "", vec![(0.0, 12.0)]),
            (
                "a tier and a column before it",
                &format!("{TIER}{COLUMN}"),
                ", ends_at: [V*, K*]",
                "",
                vec![(0.0, 9.8), (10.2, 12.0)],
            ),
            (
                "the nearest of two",
                COLUMN,
                ", ends_at: K1",
                &format!("{OUTER}{DIAMOND}"),
                vec![(0.0, 9.0), (11.0, 20.0)],
            ),
        ];
        for (name, column, ends, others, wanted) in rows {
            let joint = format!("  - {{id: J1, kind: control, y: 10{ends}}}\n");
            let found = counted(&format!("{column}joints:\n{joint}{others}"));
            assert_eq!(found, wanted, "{name}");
        }
    }
}
