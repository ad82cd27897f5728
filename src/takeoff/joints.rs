//! Joints: chase, saw and hand, filler, sealant, rod.

use super::JointWork;
use super::seal::seal;
use crate::geometry::clip::near;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::shop::Shop;
use crate::sketch::{JointKind, Treatment};
use crate::slab::{Joint, Slab, Stretch, stretches};

/// Work on every joint.
pub(super) fn joints(slab: &Slab, shop: &Shop) -> Vec<JointWork> {
    let owned = |(owner, e): (usize, &[kurbo::Point; 2])| Owned {
        a: e[0],
        b: e[1],
        owner,
    };
    let obstacles = Segments::new(slab.obstacles.iter().enumerate().map(owned).collect());
    slab.joints
        .iter()
        .map(|joint| one(joint, &obstacles, shop))
        .collect()
}

/// The treatment of a joint: its own, or the shop's rule for its kind.
fn treatment(joint: &Joint, shop: &Shop) -> Treatment {
    joint.treatment.unwrap_or(match joint.kind {
        JointKind::Control => shop.treatments.control,
        JointKind::Construction => shop.treatments.construction,
        JointKind::Isolation => shop.treatments.isolation,
    })
}

fn one(joint: &Joint, obstacles: &Segments, shop: &Shop) -> JointWork {
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
        buried_m: if joint.buried && treatment != Treatment::Leave {
            length_m
        } else {
            0.0
        },
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

fn fill(work: &mut JointWork, joint: &Joint, obstacles: &Segments, shop: &Shop) {
    let rules = &shop.chase;
    let wander = joint.wander.unwrap_or(0.0);
    work.by_hand = joint.path.is_curved() || wander > rules.saw_wander.m();
    let scope = Intervals::new(joint.in_scope.iter().map(|s| (s.from_m, s.to_m)).collect());
    if work.by_hand {
        work.hand.clone_from(&joint.in_scope);
    } else {
        let close = near(&joint.path.flatten(), obstacles, rules.saw_clearance.m());
        work.hand = stretches(&scope.intersection(&close));
        work.saw = stretches(&scope.difference(&close));
        work.hand_ends = work.hand.len();
    }
    work.hand_m = total(&work.hand);
    // Saw and hand add up to the length, to the last digit.
    work.saw_m = if work.by_hand {
        0.0
    } else {
        work.length_m - work.hand_m
    };
    let (width, depth) = chase_m(joint, work.by_hand, shop);
    work.chase_width_mm = width * 1000.0;
    work.chase_depth_mm = depth * 1000.0;
    work.fill_l = work.length_m * width * depth * 1000.0;
}

/// Width and depth of the chase, m.
fn chase_m(joint: &Joint, by_hand: bool, shop: &Shop) -> (f64, f64) {
    let rules = &shop.chase;
    let wander = if by_hand {
        0.0
    } else {
        joint.wander.unwrap_or(0.0)
    };
    let width = joint.width.unwrap_or(0.0).max(rules.blade.m()) + wander;
    let found = joint
        .depth
        .unwrap_or(0.0)
        .max(joint.strip_depth.unwrap_or(0.0));
    let depth = found.max(rules.depth.m()).min(rules.deepest.m());
    (
        joint.chase_width.unwrap_or(width),
        joint.chase_depth.unwrap_or(depth),
    )
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
