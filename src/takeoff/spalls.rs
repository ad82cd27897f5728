//! Spalls: skimmed, cut out and patched, or filled with their joint. Only what lies in the coated floor counts.

use std::cell::LazyCell;

use kurbo::Point;

use super::patches::{Asks, Cut, Damage, GUARD, Mending, beside, squared, touching};
use super::told::{Say, Told};
use super::worked::pairs;
use super::{JointWork, SpallRepair, SpallWork};
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::quantity::M_PER_IN;
use crate::record::Kind;
use crate::shop::{Shop, SpallRules};
use crate::slab::{Form, Shape, Slab, Spall};

/// A spall shorter than this on a joint is filled with it, m: 6 in (FHWA, Partial-Depth Repairs, section 4).
const WITH_JOINT_LENGTH: f64 = 6.0 * M_PER_IN;
/// A spall narrower than this on a joint is filled with it, m: 1.5 in (FHWA, as above).
const WITH_JOINT_WIDTH: f64 = 1.5 * M_PER_IN;

/// What is done with a spall beside the patches.
pub(super) struct Alone {
    /// Id of the joint that it is filled with; skimmed without one.
    joint: Option<String>,
    /// Why, as a sentence.
    why: String,
}

/// What each spall asks of the patches, and what is done with it beside them: nothing where nothing is coated, and with what is
/// cut out.
pub(super) fn damages<'a>(
    slab: &'a Slab,
    joints: &[JointWork],
    shop: &Shop,
    told: &mut Told,
) -> Vec<(Damage<'a>, Option<Alone>)> {
    // Wanted only where a spall is small.
    let lines = LazyCell::new(|| filled_joints(slab, joints));
    let one = |spall: &'a Spall| {
        told.of(&spall.id);
        told.line(|say| say.damage(&spall.id, &spall.shape, spall.area_m2));
        let (asks, alone) = alone(spall, joints, &lines, &shop.spalls, told);
        let damage = Damage {
            kind: Kind::Spall,
            id: &spall.id,
            part: &spall.part,
            area_m2: spall.area_m2,
            depth_m: spall.depth,
            asks,
        };
        (damage, alone)
    };
    slab.spalls.iter().map(one).collect()
}

/// The same of one spall.
fn alone(
    spall: &Spall,
    joints: &[JointWork],
    lines: &LazyCell<Segments, impl FnOnce() -> Segments>,
    rules: &SpallRules,
    told: &Told,
) -> (Asks, Option<Alone>) {
    let (sizes, from) = (&rules.sizes, rules.cut_out_from);
    let rect = around(&spall.shape, &spall.part, spall.area_m2);
    let deep = |than: &str, done: &str| {
        told.part(|say| {
            let (depth, from) = (say.small(spall.depth), say.small(from.m()));
            format!("{depth} deep, {than} {from} (spalls.cut_out_from): {done}")
        })
    };
    if spall.area_m2 <= 0.0 {
        return (Asks::Nothing, None);
    }
    if let Some(joint) = with_joint(spall, &rect, lines) {
        let id = &joints[joint].id;
        let why = told.part(|say| {
            let [length, width] = [WITH_JOINT_LENGTH, WITH_JOINT_WIDTH].map(|m| say.small(m));
            format!(
                "Shorter than {length}, narrower than {width} and on {id}: filled with that joint."
            )
        });
        return (Asks::Mending, Some(Alone { joint: Some(id.clone()), why }));
    }
    if spall.depth + GUARD < from.m() {
        let why = deep("less than", "skimmed.");
        return (Asks::Mending, Some(Alone { joint: None, why }));
    }
    if rect.length() <= sizes.pop_out.m() + GUARD {
        let why = told.part(|say| {
            let (across, rule) = (say.small(sizes.pop_out.m()), rules.rule.word());
            format!("Not over {across} long (spalls.{rule}.pop_out): skimmed or cored.")
        });
        return (Asks::Mending, Some(Alone { joint: None, why }));
    }
    let (extend_m, apart_m) = (sizes.extend.m(), sizes.apart.m());
    let (rect, why) = (squared(&rect, extend_m, sizes), deep("not less than", "squared"));
    (Asks::Patch(Cut { rect, extend_m, apart_m, why }), None)
}

/// The work on a spall, alone or in a patch.
pub(super) fn work(
    spall: &Spall,
    alone: Option<Alone>,
    mending: Mending,
    told: &mut Told,
) -> SpallWork {
    told.of(&spall.id);
    let repair = match (mending, alone) {
        (Mending::Patch { id, volume_l }, _) => SpallRepair::Patch { id, volume_l },
        (Mending::Apart { in_patches_m2 }, Some(Alone { joint, why })) => {
            told.line(|_| why);
            let layer = [beside(spall.area_m2, in_patches_m2, told), spall.depth];
            if let Some(id) = joint {
                let volume_l = told.layer("Joint filler in place", layer, "", Say::liquid);
                SpallRepair::WithJoint { id, in_patches_m2, volume_l }
            } else {
                let volume_l = told.layer("Mortar in place", layer, "", Say::solid);
                SpallRepair::Skim { in_patches_m2, volume_l }
            }
        }
        // What is cut out has a patch.
        (Mending::Apart { .. }, None) => {
            told.line(|_| "It lies where nothing is coated: nothing is done.".to_owned());
            SpallRepair::Leave
        }
    };
    SpallWork { id: spall.id.clone(), area_m2: spall.area_m2, repair }
}

fn filled_joints(slab: &Slab, joints: &[JointWork]) -> Segments {
    let mut segments = Vec::new();
    for (owner, (joint, work)) in pairs(&slab.joints, joints).enumerate() {
        if work.chase().is_none() {
            continue;
        }
        for piece in &joint.in_scope {
            let part = joint.path.part(piece.from_m, piece.to_m);
            let points = part.points();
            segments.extend(points.windows(2).map(|p| Owned { a: p[0], b: p[1], owner }));
        }
    }
    Segments::new(segments)
}

/// The smallest rectangle around what counts of a shape; a whole circle gets an upright square.
pub(super) fn around(shape: &Shape, part: &Region, area_m2: f64) -> OrientedRect {
    let whole = area_m2 >= shape.area_m2;
    if let (true, Form::Circle { center, diameter }) = (whole, shape.form) {
        return OrientedRect {
            center,
            half_length: diameter / 2.0,
            half_width: diameter / 2.0,
            angle: 0.0,
        };
    }
    let points: Vec<_> = if whole {
        shape.rings.iter().flat_map(Path::points).collect()
    } else {
        part.rings().concat()
    };
    OrientedRect::around(&points).unwrap_or(OrientedRect {
        center: Point::ZERO,
        half_length: 0.0,
        half_width: 0.0,
        angle: 0.0,
    })
}

/// The filled joint a small spall lies on.
fn with_joint(
    spall: &Spall,
    rect: &OrientedRect,
    joints: &LazyCell<Segments, impl FnOnce() -> Segments>,
) -> Option<usize> {
    let small =
        rect.length() + GUARD < WITH_JOINT_LENGTH && rect.width() + GUARD < WITH_JOINT_WIDTH;
    if !small {
        return None;
    }
    touching(&spall.part, joints)
}

#[cfg(test)]
mod tests;
