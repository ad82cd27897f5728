//! Joints: chase, saw and hand, filler, sealant, rod.

use super::JointWork;
use crate::geometry::clip::near;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::stretch::Intervals;
use crate::quantity::M_PER_IN;
use crate::shop::Shop;
use crate::sketch::{JointKind, Treatment};
use crate::slab::{Joint, Slab, Stretch, stretches};

/// Sealant is half as deep as it is wide, m: at least 1/4 in (architectural detailing text).
pub(super) const SEALANT_LEAST: f64 = 0.25 * M_PER_IN;
/// Sealant is half as deep as it is wide, m: at most 1/2 in (architectural detailing text).
pub(super) const SEALANT_MOST: f64 = 0.5 * M_PER_IN;
/// Backer rod is this much thicker than its joint, so that it holds by itself (from memory; the
/// rod maker's sheet decides).
pub(super) const ROD_OVER_WIDTH: f64 = 1.25;
/// A rod this little too thin by rounding still fits, m.
const ROD_GUARD: f64 = 1e-9;

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
    let width = joint.width.unwrap_or(0.0).max(shop.chase.blade.m());
    let depth = sealant_depth_m(width);
    work.sealant_width_mm = width * 1000.0;
    work.sealant_depth_mm = depth * 1000.0;
    work.sealant_l = work.length_m * width * depth * 1000.0;
    work.rod_mm = rod_m(width, shop).map(|rod| rod * 1000.0);
}

/// Sum of the lengths, m. Adding nought makes the sum of none plain nought: in floating point it
/// is minus nought.
pub(super) fn total(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(Stretch::length).sum::<f64>() + 0.0
}

/// Depth of sealant in a joint of this width, m: half the width, at least 1/4 in, at most 1/2 in
/// (architectural detailing text).
#[must_use]
pub fn sealant_depth_m(width_m: f64) -> f64 {
    (width_m / 2.0).clamp(SEALANT_LEAST, SEALANT_MOST)
}

/// The thinnest stock rod of at least 1.25 times the width, m; `None` if there is none.
#[must_use]
pub fn rod_m(width_m: f64, shop: &Shop) -> Option<f64> {
    let sizes = shop.backer_rod.sizes.iter().map(|s| s.m());
    sizes
        .filter(|size| *size + ROD_GUARD >= ROD_OVER_WIDTH * width_m)
        .min_by(f64::total_cmp)
}
