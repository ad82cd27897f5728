//! Joints: chase, saw and hand, filler, sealant, rod.

use super::JointWork;
use super::seal::seal;
use crate::geometry::clip::{Clipper, near};
use crate::geometry::path::Vertex;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::quantity::M_PER_IN;
use crate::shop::Shop;
use crate::sketch::{JointKind, Treatment};
use crate::slab::{Joint, ON_TOP, Riser, Slab, Stretch, stretches};

/// Work on every joint.
pub(super) fn joints(slab: &Slab, shop: &Shop) -> Vec<JointWork> {
    let obstacles = Obstacles::new(slab);
    slab.joints.iter().map(|joint| one(joint, &obstacles, shop)).collect()
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

/// The treatment of a joint: its own, or the shop's rule for its kind.
fn treatment(joint: &Joint, shop: &Shop) -> Treatment {
    joint.treatment.unwrap_or(match joint.kind {
        JointKind::Control => shop.treatments.control,
        JointKind::Construction => shop.treatments.construction,
        JointKind::Isolation => shop.treatments.isolation,
    })
}

fn one(joint: &Joint, obstacles: &Obstacles, shop: &Shop) -> JointWork {
    let treatment = treatment(joint, shop);
    let length_m = total(&joint.in_scope);
    let mut work = JointWork {
        id: joint.id.clone(),
        kind: joint.kind,
        treatment,
        length_m,
        saw_m: 0.0,
        hand_m: 0.0,
        hand_ends: 0,
        by_hand: false,
        buried_m: if joint.buried && treatment != Treatment::Leave { length_m } else { 0.0 },
        chase_width_mm: 0.0,
        chase_depth_mm: 0.0,
        fill_l: 0.0,
        sealant_l: 0.0,
        sealant_width_mm: 0.0,
        sealant_depth_mm: 0.0,
        rod_mm: None,
        widen_m: 0.0,
        groove_mm: 0.0,
        removed_l: 0.0,
        saw: Vec::new(),
        hand: Vec::new(),
    };
    match treatment {
        Treatment::Fill => fill(&mut work, joint, obstacles, shop),
        Treatment::Honor => honor(&mut work, joint, shop),
        // A joint is neither primed nor chased as cracks are; reading refuses those words.
        Treatment::Leave | Treatment::Prime | Treatment::Chase => {}
    }
    work
}

fn fill(work: &mut JointWork, joint: &Joint, obstacles: &Obstacles, shop: &Shop) {
    let rules = &shop.chase;
    let wander = joint.wander.unwrap_or(0.0);
    work.by_hand = joint.path.is_curved() || wander > rules.saw_wander.m();
    let scope = Intervals::new(joint.in_scope.iter().map(|s| (s.from_m, s.to_m)).collect());
    if work.by_hand {
        work.hand.clone_from(&joint.in_scope);
    } else {
        let close = obstacles.near(&joint.path.flatten(), rules.saw_clearance.m());
        work.hand = stretches(&scope.intersection(&close));
        work.saw = stretches(&scope.difference(&close));
        work.hand_ends = work.hand.len();
    }
    work.hand_m = total(&work.hand);
    // Saw and hand add up to the length, to the last digit.
    work.saw_m = if work.by_hand { 0.0 } else { work.length_m - work.hand_m };
    let (width, depth) = chase_m(joint, work.by_hand, shop);
    work.chase_width_mm = width * 1000.0;
    work.chase_depth_mm = depth * 1000.0;
    work.fill_l = work.length_m * width * depth * 1000.0;
}

/// Width and depth of the chase, m.
fn chase_m(joint: &Joint, by_hand: bool, shop: &Shop) -> (f64, f64) {
    let rules = &shop.chase;
    let wander = if by_hand { 0.0 } else { joint.wander.unwrap_or(0.0) };
    let width = joint.width.unwrap_or(0.0).max(rules.blade.m()) + wander;
    let found = joint.depth.unwrap_or(0.0).max(joint.strip_depth.unwrap_or(0.0));
    let depth = found.max(rules.depth.m()).min(rules.deepest.m());
    (joint.chase_width.unwrap_or(width), joint.chase_depth.unwrap_or(depth))
}

fn honor(work: &mut JointWork, joint: &Joint, shop: &Shop) {
    let seal = seal(work.length_m, joint.width, joint.buried, shop);
    work.sealant_width_mm = seal.width_m * 1000.0;
    work.sealant_depth_mm = seal.depth_m * 1000.0;
    work.sealant_l = seal.sealant_l;
    work.rod_mm = seal.rod_m.map(|rod| rod * 1000.0);
    work.widen_m = seal.widen_m;
    work.groove_mm = seal.groove_m * 1000.0;
    work.removed_l = seal.removed_l;
}

/// Sum of the lengths, m. Adding nought makes the sum of none plain nought: in floating point it
/// is minus nought.
pub(super) fn total(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(Stretch::length).sum::<f64>() + 0.0
}
