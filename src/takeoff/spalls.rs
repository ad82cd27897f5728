//! Spalls: skimmed, cut out and patched, or filled with their joint. Only what lies in the coated floor counts.

mod merge;

use std::cell::LazyCell;
use std::cmp::Reverse;

use kurbo::{Point, Rect};

use super::{JointWork, Patch, SpallRepair, SpallWork};
use crate::geometry::clip::Clipper;
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::within::Within;
use crate::quantity::M_PER_IN;
use crate::shop::Shop;
use crate::sketch::Treatment;
use crate::slab::{Form, Slab, Spall};
use crate::text::id_key;
use merge::{Rough, merged};

/// A spall shorter than this on a joint is filled with it, m: 6 in (FHWA, Partial-Depth Repairs, section 4).
pub(crate) const WITH_JOINT_LENGTH: f64 = 6.0 * M_PER_IN;
/// A spall narrower than this on a joint is filled with it, m: 1.5 in (FHWA, as above).
pub(crate) const WITH_JOINT_WIDTH: f64 = 1.5 * M_PER_IN;
/// A spall this close to a joint lies on it, m: 1/8 in, as for joints on top of each other.
const ON_JOINT: f64 = M_PER_IN / 8.0;
/// Rounding of sizes, m: 12 in less this is not under 12 in.
const GUARD: f64 = 1e-9;
/// A share of an area; what is less than this beside a patch is rounding.
const BESIDE: f64 = 1e-6;

/// Work on every spall, and the patches.
pub(super) fn spalls(
    slab: &Slab,
    joints: &[JointWork],
    shop: &Shop,
) -> (Vec<SpallWork>, Vec<Patch>) {
    // Wanted only where a spall is small.
    let lines = LazyCell::new(|| filled_joints(slab, joints));
    let mut works = Vec::with_capacity(slab.spalls.len());
    let mut singles = Vec::new();
    for (i, spall) in slab.spalls.iter().enumerate() {
        let rect = around(spall);
        let repair = if spall.area_m2 <= 0.0 {
            SpallRepair::Leave
        } else if let Some(joint) = with_joint(spall, &rect, &lines) {
            SpallRepair::WithJoint(joint)
        } else if spall.depth + GUARD < shop.spalls.cut_out_from.m()
            || rect.length() <= shop.spalls.sizes.pop_out.m() + GUARD
        {
            SpallRepair::Skim
        } else {
            singles.push(Rough::new(i, squared(&rect, shop)));
            SpallRepair::Patch(0)
        };
        works.push(SpallWork {
            id: spall.id.clone(),
            area_m2: spall.area_m2,
            in_patches_m2: 0.0,
            volume_l: spall.area_m2 * spall.depth * 1000.0,
            repair,
        });
    }
    let mut rough = merged(singles, slab, &shop.spalls);
    take_in(&mut rough, slab, &mut works);
    let patches = numbered(rough, slab, shop);
    for (index, patch) in patches.iter().enumerate() {
        let whole: f64 = patch.spalls.iter().map(|&i| works[i].area_m2).sum();
        for &i in &patch.spalls {
            works[i].repair = SpallRepair::Patch(index);
            works[i].volume_l = patch.volume_l * works[i].area_m2 / whole;
        }
    }
    (works, patches)
}

fn filled_joints(slab: &Slab, joints: &[JointWork]) -> Segments {
    let mut segments = Vec::new();
    for (owner, (joint, work)) in slab.joints.iter().zip(joints).enumerate() {
        if work.treatment != Treatment::Fill {
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

/// The smallest rectangle around what counts of a spall; a whole circle gets an upright square.
fn around(spall: &Spall) -> OrientedRect {
    let shape = &spall.shape;
    let whole = spall.area_m2 >= shape.area_m2;
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
        spall.part.rings().concat()
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
    let bounds = spall.part.bounds()?;
    let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
    let inside = Clipper::new(&spall.part);
    let rings = spall.part.rings();
    let sides = || {
        rings.iter().flat_map(|ring| {
            let next = ring.iter().cycle().skip(1);
            ring.iter().zip(next).map(|(p, q)| (*p, *q))
        })
    };
    joints.near(a, b, ON_JOINT).into_iter().find_map(|s| {
        let touches = inside.contains(s.a) || sides().any(|(p, q)| gap(p, q, s.a, s.b) <= ON_JOINT);
        touches.then_some(s.owner)
    })
}

/// Distance between two segments, m.
fn gap(a: Point, b: Point, c: Point, d: Point) -> f64 {
    use crate::geometry::segments::distance;
    let (u, v) = (b - a, d - c);
    let side = |p: f64, q: f64| (p > 0.0) != (q > 0.0);
    if side(u.cross(c - a), u.cross(d - a)) && side(v.cross(a - c), v.cross(b - c)) {
        return 0.0;
    }
    distance(a, c, d).min(distance(b, c, d)).min(distance(c, a, b)).min(distance(d, a, b))
}

/// Grown on every side and brought to the least size; the longer side gets the least length.
fn squared(rect: &OrientedRect, shop: &Shop) -> OrientedRect {
    let sizes = &shop.spalls.sizes;
    rect.grown(sizes.extend.m()).at_least(sizes.length.m(), sizes.width.m())
}

/// The corners of a rectangle's upright box, as an index wants them.
fn boxed(rect: &OrientedRect, owner: usize) -> Owned {
    let [first, rest @ ..] = rect.corners();
    let start = Rect::from_points(first, first);
    let bounds = rest.iter().fold(start, |r, c| r.union_pt(*c));
    let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
    Owned { a, b, owner }
}

/// What lies in a patch belongs to it: another patch whose spalls all do, and a spall that would be skimmed or filled
/// with its joint. Of one that lies there in part, the rest is left to do.
fn take_in(patches: &mut Vec<Rough>, slab: &Slab, works: &mut [SpallWork]) {
    if patches.is_empty() {
        return;
    }
    let lies_in = |i: usize, rect: &OrientedRect| {
        let rect = rect.grown(GUARD);
        let mut points = slab.spalls[i].part.rings().into_iter().flatten();
        points.all(|p| rect.contains(p))
    };
    // The larger takes in the smaller; of two alike the one that lies nearer to the sketch's zero, whatever their ids,
    // which follow the order of the records where the sketch gives none.
    let first = |spalls: &[usize]| spalls.iter().map(|&i| id_key(&slab.spalls[i].id)).min();
    let whole = |v: f64| (v / GUARD).round() as i64;
    let size = |rect: &OrientedRect| Reverse(whole(rect.area()));
    let place = |rect: &OrientedRect| (whole(rect.center.x), whole(rect.center.y));
    patches.sort_by_cached_key(|patch| {
        let rect = &patch.rect;
        (size(rect), place(rect), first(&patch.spalls))
    });
    let places =
        Segments::new(patches.iter().enumerate().map(|(i, p)| boxed(&p.rect, i)).collect());
    let mut taken: Vec<Option<usize>> = vec![None; patches.len()];
    for small in 0..patches.len() {
        let place = boxed(&patches[small].rect, small);
        let larger = places.near(place.a, place.b, 0.0).into_iter().map(|near| near.owner);
        taken[small] = larger
            .take_while(|&large| large < small)
            .filter(|&large| taken[large].is_none())
            .find(|&large| patches[small].spalls.iter().all(|&i| lies_in(i, &patches[large].rect)));
    }
    for (small, large) in taken.iter().enumerate() {
        if let Some(large) = *large {
            let spalls = std::mem::take(&mut patches[small].spalls);
            patches[large].spalls.extend(spalls);
        }
    }
    for (i, work) in works.iter_mut().enumerate() {
        if !matches!(work.repair, SpallRepair::Skim | SpallRepair::WithJoint(_)) {
            continue;
        }
        let Some(bounds) = slab.spalls[i].part.bounds() else {
            continue;
        };
        let near = places.near(bounds.origin(), Point::new(bounds.x1, bounds.y1), 0.0);
        let near: Vec<usize> =
            near.iter().map(|p| p.owner).filter(|&p| taken[p].is_none()).collect();
        if let Some(&patch) = near.iter().find(|&&p| lies_in(i, &patches[p].rect)) {
            patches[patch].spalls.push(i);
            work.repair = SpallRepair::Patch(patch);
            continue;
        }
        let over: Vec<Region> = near.iter().map(|&p| region(&patches[p].rect)).collect();
        let part = &slab.spalls[i].part;
        let share = part.intersection(&Region::union_all(over)).area() / part.area();
        if share > BESIDE {
            work.in_patches_m2 = work.area_m2 * share;
            work.volume_l *= 1.0 - share;
        }
    }
    patches.retain(|patch| !patch.spalls.is_empty());
    for patch in patches {
        patch.spalls.sort_unstable();
    }
}

fn region(rect: &OrientedRect) -> Region {
    Region::from_rings(&[rect.corners().to_vec()])
}

/// The patches by the ids of their spalls, so that the numbers don't depend on the order of the sketch. What two of them
/// share counts with the first.
fn numbered(mut patches: Vec<Rough>, slab: &Slab, shop: &Shop) -> Vec<Patch> {
    if patches.is_empty() {
        return Vec::new();
    }
    let taken = slab.ids();
    let first = |spalls: &[usize]| spalls.iter().map(|&i| id_key(&slab.spalls[i].id)).min();
    patches.sort_by_cached_key(|patch| first(&patch.spalls));
    let places =
        Segments::new(patches.iter().enumerate().map(|(i, p)| boxed(&p.rect, i)).collect());
    let net = Within::new(&slab.net);
    let mut next = 0;
    let mut out = Vec::with_capacity(patches.len());
    for (number, patch) in patches.iter().enumerate() {
        let id = loop {
            next += 1;
            let id = format!("R{next}");
            if !taken.contains(id.as_str()) {
                break id;
            }
        };
        let depths = patch.spalls.iter().map(|&i| slab.spalls[i].depth);
        let depth = depths.fold(shop.spalls.least_depth.m(), f64::max);
        let (length_m, width_m) = (patch.rect.length(), patch.rect.width());
        let place = boxed(&patch.rect, number);
        let before = places.near(place.a, place.b, 0.0).into_iter();
        let before: Vec<Region> = before
            .map(|near| near.owner)
            .filter(|&other| other < number && patches[other].rect.distance_to(&patch.rect) <= 0.0)
            .map(|other| region(&patches[other].rect))
            .collect();
        let whole = region(&patch.rect);
        let mut cut = net.common(&whole).into_owned();
        if !before.is_empty() {
            cut = cut.difference(&Region::union_all(before));
        }
        // The exact area where all of it is cut.
        let share = cut.area() / whole.area();
        let area_m2 =
            if share > 1.0 - BESIDE { length_m * width_m } else { length_m * width_m * share };
        out.push(Patch {
            id,
            rect: patch.rect,
            spalls: patch.spalls.clone(),
            length_m,
            width_m,
            area_m2,
            depth_mm: depth * 1000.0,
            volume_l: area_m2 * depth * 1000.0,
        });
    }
    out
}

#[cfg(test)]
mod tests;
