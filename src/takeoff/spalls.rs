//! Spalls: skimmed, cut out and patched, or filled with their joint. Only what lies in the coated floor counts.

use std::cell::LazyCell;

use kurbo::Point;

use super::patches::{Asks, Damage, GUARD, Mending, squared, touching};
use super::worked::pairs;
use super::{JointWork, SpallRepair, SpallWork};
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::quantity::M_PER_IN;
use crate::record::Kind;
use crate::shop::Shop;
use crate::slab::{Form, Shape, Slab, Spall};

/// A spall shorter than this on a joint is filled with it, m: 6 in (FHWA, Partial-Depth Repairs, section 4).
pub(crate) const WITH_JOINT_LENGTH: f64 = 6.0 * M_PER_IN;
/// A spall narrower than this on a joint is filled with it, m: 1.5 in (FHWA, as above).
pub(crate) const WITH_JOINT_WIDTH: f64 = 1.5 * M_PER_IN;

/// What a spall is when no other lies near it.
pub(super) enum Alone {
    /// Done with it, unless it lies in the patch of another.
    Mended(SpallRepair),
    /// The rectangle of its own that is cut.
    CutOut(OrientedRect),
}

/// What each spall is alone.
pub(super) fn alone(slab: &Slab, joints: &[JointWork], shop: &Shop) -> Vec<Alone> {
    // Wanted only where a spall is small.
    let lines = LazyCell::new(|| filled_joints(slab, joints));
    let sizes = &shop.spalls.sizes;
    let one = |spall: &Spall| {
        let rect = around(&spall.shape, &spall.part, spall.area_m2);
        if spall.area_m2 <= 0.0 {
            Alone::Mended(SpallRepair::Leave)
        } else if let Some(joint) = with_joint(spall, &rect, &lines) {
            Alone::Mended(SpallRepair::WithJoint(joints[joint].id.clone()))
        } else if spall.depth + GUARD < shop.spalls.cut_out_from.m()
            || rect.length() <= sizes.pop_out.m() + GUARD
        {
            Alone::Mended(SpallRepair::Skim)
        } else {
            Alone::CutOut(squared(&rect, sizes.extend.m(), sizes))
        }
    };
    slab.spalls.iter().map(one).collect()
}

/// What a spall asks of the patches.
pub(super) fn damage<'a>(spall: &'a Spall, alone: &Alone, shop: &Shop) -> Damage<'a> {
    Damage {
        kind: Kind::Spall,
        id: &spall.id,
        part: &spall.part,
        area_m2: spall.area_m2,
        depth_m: spall.depth,
        asks: match alone {
            Alone::Mended(SpallRepair::Leave) => Asks::Nothing,
            Alone::Mended(_) => Asks::Mending,
            Alone::CutOut(rect) => {
                Asks::Patch { rect: *rect, apart_m: shop.spalls.sizes.apart.m() }
            }
        },
    }
}

/// The work on a spall, alone or in a patch.
pub(super) fn work(spall: &Spall, alone: Alone, mending: Mending) -> SpallWork {
    let volume_l = spall.area_m2 * spall.depth * 1000.0;
    let (repair, in_patches_m2, volume_l) = match (mending, alone) {
        (Mending::Patch { id, volume_l }, _) => (SpallRepair::Patch(id), 0.0, volume_l),
        (Mending::Apart { in_patches_m2 }, Alone::Mended(repair)) => {
            let left = if in_patches_m2 > 0.0 { 1.0 - in_patches_m2 / spall.area_m2 } else { 1.0 };
            (repair, in_patches_m2, volume_l * left)
        }
        // What is cut out alone has a patch.
        (Mending::Apart { .. }, Alone::CutOut(_)) => (SpallRepair::Leave, 0.0, 0.0),
    };
    SpallWork { id: spall.id.clone(), area_m2: spall.area_m2, in_patches_m2, volume_l, repair }
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
