//! Joints: chase, saw and hand, filler, sealant, rod.

use super::seal::seal;
use super::told::{Say, Told};
use super::{Chase, Filling, JointRepair, JointWork};
use crate::geometry::clip::{Clipper, near};
use crate::geometry::path::Vertex;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::quantity::M_PER_IN;
use crate::shop::Shop;
use crate::sketch::{JointKind, JointTreatment};
use crate::slab::{Joint, ON_TOP, Riser, Slab, Stretch, stretches};

/// Work on every joint.
pub(super) fn joints(slab: &Slab, shop: &Shop) -> Vec<JointWork> {
    let obstacles = Obstacles::new(slab);
    slab.joints.iter().map(|joint| one(joint, &obstacles, shop, &mut Told::default())).collect()
}

/// How one of them was reckoned.
pub(crate) fn told(slab: &Slab, joint: &Joint, shop: &Shop, say: Say) -> Vec<String> {
    Told::by(say, |told| one(joint, &Obstacles::new(slab), shop, told))
}

/// What stops the saw.
struct Obstacles {
    /// From either side.
    standing: Segments,
    /// Risers stop it from below alone; above them it runs out over the edge, as through an opening. With each goes the region of its
    /// tier, and whether that is the lower side.
    risers: Vec<(Segments, Clipper, bool)>,
}

impl Obstacles {
    fn new(slab: &Slab) -> Self {
        let pairs = |pairs: Vec<[kurbo::Point; 2]>| {
            let owned = pairs.into_iter().enumerate();
            Segments::new(owned.map(|(owner, [a, b])| Owned { a, b, owner }).collect())
        };
        let riser = |riser: &Riser| {
            let tier = slab.tiers.iter().find(|tier| tier.id == riser.tier)?;
            let chords = riser.path.points().windows(2).map(|p| [p[0], p[1]]).collect();
            Some((pairs(chords), Clipper::new(&tier.region), !riser.tier_high))
        };
        Self {
            standing: pairs(slab.obstacles.clone()),
            risers: slab.risers.iter().filter_map(riser).collect(),
        }
    }

    /// Stations of a path that the saw doesn't reach.
    fn near(&self, path: &[Vertex], clearance_m: f64) -> Intervals {
        let mut out = near(path, &self.standing, clearance_m).as_slice().to_vec();
        for (riser, tier, tier_low) in &self.risers {
            let close = near(path, riser, clearance_m);
            if close.is_empty() {
                continue;
            }
            let on_tier = tier.inside(path);
            // What runs along a riser lies at its foot, and more than an inch within 1/8 in runs along it.
            let mut along = near(path, riser, ON_TOP).as_slice().to_vec();
            along.retain(|(from, to)| to - from > M_PER_IN);
            let high =
                if *tier_low { close.difference(&on_tier) } else { close.intersection(&on_tier) };
            let below = close.difference(&high.difference(&Intervals::new(along)));
            out.extend_from_slice(below.as_slice());
        }
        Intervals::new(out)
    }
}

/// What is done with a joint. It is told by itself: before where the joint runs, which comes before all else.
pub(crate) fn treatment(joint: &Joint, shop: &Shop, told: &mut Told) -> JointTreatment {
    let by_rule = shop.treatments.of(joint.kind);
    let treatment = joint.treatment.unwrap_or(by_rule);
    told.line(|_| {
        let (kind, word) = (joint.kind.word(), treatment.word());
        let a = if joint.kind == JointKind::Isolation { "an" } else { "a" };
        let why = match joint.treatment {
            None => format!(" (treatments.{kind})"),
            Some(_) if by_rule == treatment => ", as the sketch says".to_owned(),
            Some(_) => {
                let other = by_rule.word();
                format!(", as the sketch says (treatments.{kind} would be {other})")
            }
        };
        format!("{} is {a} {kind} joint: {word}{why}.", joint.id)
    });
    treatment
}

fn one(joint: &Joint, obstacles: &Obstacles, shop: &Shop, told: &mut Told) -> JointWork {
    let treatment = treatment(joint, shop, &mut Told::default());
    let length_m = total(&joint.in_scope);
    let buried = joint.buried && treatment != JointTreatment::Leave;
    if buried && length_m > 0.0 {
        told.line(|say| {
            let buried = say.length(length_m);
            format!("Concrete was run over it: {buried} to be opened first.")
        });
    }
    let repair = match treatment {
        JointTreatment::Fill => JointRepair::Fill(chase(joint, length_m, obstacles, shop, told)),
        JointTreatment::Honor => {
            JointRepair::Honor(seal(length_m, joint.width, joint.buried, shop, told))
        }
        JointTreatment::Leave => {
            told.line(|_| "It is left: nothing of it is counted in the totals.".to_owned());
            JointRepair::Leave
        }
    };
    let buried_m = if buried { length_m } else { 0.0 };
    JointWork { id: joint.id.clone(), kind: joint.kind, length_m, buried_m, repair }
}

fn chase(
    joint: &Joint,
    length_m: f64,
    obstacles: &Obstacles,
    shop: &Shop,
    told: &mut Told,
) -> Chase {
    let (clearance, limit) = (shop.chase.saw_clearance.m(), shop.chase.saw_wander.m());
    let wander = joint.wander.filter(|wander| *wander > limit);
    let by_hand = joint.path.is_curved() || wander.is_some();
    let scope = Intervals::new(joint.in_scope.iter().map(|s| (s.from_m, s.to_m)).collect());
    let (saw, hand) = if by_hand {
        (Vec::new(), joint.in_scope.clone())
    } else {
        let close = obstacles.near(&joint.path.flatten(), clearance);
        (stretches(&scope.difference(&close)), stretches(&scope.intersection(&close)))
    };
    // Saw and hand add up to the length, to the last digit.
    let saw_m = if by_hand { 0.0 } else { length_m - total(&hand) };
    let mut chase = Chase { filling: Filling::default(), saw_m, by_hand, saw, hand };
    if by_hand {
        told.line(|say| {
            let why = wander.map_or("is curved".to_owned(), |wander| {
                let (wander, limit) = (say.small(wander), say.small(limit));
                format!("wanders {wander}, more than {limit} (chase.saw_wander)")
            });
            format!("It {why}: followed by hand all along, {}.", say.length(chase.hand_m()))
        });
    } else {
        sawn(&chase, length_m, clearance, told);
    }
    let (width_m, depth_m) = (width_m(joint, by_hand, shop, told), depth_m(joint, shop, told));
    let section = [length_m, width_m, depth_m];
    let volume_l = told.volume("Filler in place", section, "", Say::liquid);
    told.what_to_buy(volume_l, "filler", shop.filler.waste.one());
    chase.filling = Filling { width_m, depth_m, volume_l };
    chase
}

/// What is said of a joint that the saw takes, but for its ends.
fn sawn(chase: &Chase, length_m: f64, clearance_m: f64, told: &mut Told) {
    if chase.hand.is_empty() {
        told.line(|say| {
            let (clearance, sawn) = (say.small(clearance_m), say.length(chase.saw_m));
            format!(
                "No wall or obstacle is nearer than {clearance} (chase.saw_clearance): {sawn} sawn."
            )
        });
        return;
    }
    told.line(|say| {
        format!(
            "The saw stops {} (chase.saw_clearance) short of walls and obstacles: {} {} by hand ({}), {} together.",
            say.small(clearance_m),
            chase.hand_ends(),
            if chase.hand_ends() == 1 { "end" } else { "ends" },
            say.stations(&chase.hand),
            say.length(chase.hand_m()),
        )
    });
    told.line(|say| {
        let [length, hand, saw] = [length_m, chase.hand_m(), chase.saw_m].map(|m| say.length(m));
        format!("Sawn = {length} − {hand} = {saw}.")
    });
}

/// Width of the chase, m.
fn width_m(joint: &Joint, by_hand: bool, shop: &Shop, told: &mut Told) -> f64 {
    if let Some(width) = joint.chase_width {
        told.line(|say| format!("Chase width = {}, as the sketch says.", say.small(width)));
        return width;
    }
    let blade = shop.chase.blade.m();
    let wander = if by_hand { 0.0 } else { joint.wander.unwrap_or(0.0) };
    let width = joint.width.unwrap_or(0.0).max(blade) + wander;
    told.line(|say| {
        let blade = format!("blade {} (chase.blade)", say.small(blade));
        let base = match joint.width {
            Some(found) => format!("the larger of found {} and {blade}", say.small(found)),
            None => format!("{blade}, as no width was noted"),
        };
        let plus = match wander > 0.0 {
            true => format!(", plus wander {}", say.small(wander)),
            false => String::new(),
        };
        format!("Chase width = {base}{plus} = {}.", say.small(width))
    });
    width
}

/// Depth of the chase, m.
fn depth_m(joint: &Joint, shop: &Shop, told: &mut Told) -> f64 {
    if let Some(depth) = joint.chase_depth {
        told.line(|say| format!("Chase depth = {}, as the sketch says.", say.small(depth)));
        return depth;
    }
    let (least, deepest) = (shop.chase.depth.m(), shop.chase.deepest.m());
    let found = [(joint.depth, "found"), (joint.strip_depth, "strip left in")];
    let found = found.iter().filter_map(|&(depth, what)| Some((depth?, what)));
    let depth = found.clone().map(|(depth, _)| depth).fold(least, f64::max).min(deepest);
    told.line(|say| {
        let found = found.map(|(depth, what)| format!("{} {what}", say.small(depth)));
        let least = format!("{} (chase.depth)", say.small(least));
        let parts: Vec<String> = std::iter::once(least).chain(found).collect();
        let largest = match parts.as_slice() {
            [one] => one.clone(),
            [one, two] => format!("the larger of {one} and {two}"),
            many => format!("the largest of {}", many.join(", ")),
        };
        let (deepest, depth) = (say.small(deepest), say.small(depth));
        format!("Chase depth = {largest}, at most {deepest} (chase.deepest) = {depth}.")
    });
    depth
}

/// Sum of the lengths, m. Adding nought makes the sum of none plain nought: in floating point it
/// is minus nought.
pub(super) fn total(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(Stretch::length).sum::<f64>() + 0.0
}
