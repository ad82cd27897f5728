//! Spalls: skimmed, cut out and patched, or filled with their joint.

use std::cell::LazyCell;
use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use super::{JointWork, Patch, SpallRepair, SpallWork, id_key};
use crate::geometry::clip::Clipper;
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::segments::{Owned, Segments};
use crate::quantity::M_PER_IN;
use crate::shop::Shop;
use crate::sketch::Treatment;
use crate::slab::{Form, Shape, Slab, Spall};

/// Least length of a patch, m: 12 in (FHWA, Partial-Depth Repairs, section 4).
pub(super) const PATCH_LENGTH: f64 = 12.0 * M_PER_IN;
/// Least width of a patch, m: 4 in (FHWA, Partial-Depth Repairs, section 4).
pub(super) const PATCH_WIDTH: f64 = 4.0 * M_PER_IN;
/// Patches closer than this become one, m: 12 in (FHWA, Partial-Depth Repairs, section 4).
pub(super) const MERGE: f64 = 12.0 * M_PER_IN;
/// A spall shorter than this on a joint is filled with it, m: 6 in (FHWA, as above).
pub(super) const WITH_JOINT_LENGTH: f64 = 6.0 * M_PER_IN;
/// A spall narrower than this on a joint is filled with it, m: 1.5 in (FHWA, as above).
pub(super) const WITH_JOINT_WIDTH: f64 = 1.5 * M_PER_IN;
/// A spall this close to a joint lies on it, m: 1/8 in, as for joints on top of each other.
const ON_JOINT: f64 = M_PER_IN / 8.0;
/// Rounding of sizes, m: 12 in less this is not under 12 in.
const GUARD: f64 = 1e-9;

/// Work on every spall, and the patches.
pub(super) fn spalls(
    slab: &Slab,
    joints: &[JointWork],
    shop: &Shop,
) -> (Vec<SpallWork>, Vec<Patch>) {
    // Wanted only where a spall is small.
    let lines = LazyCell::new(|| filled_joints(slab, joints));
    let mut works = Vec::with_capacity(slab.spalls.len());
    let mut patches = Vec::new();
    for (i, spall) in slab.spalls.iter().enumerate() {
        let rect = around(&spall.shape);
        let repair = if let Some(joint) = with_joint(spall, &rect, &lines) {
            SpallRepair::WithJoint(joint)
        } else if spall.depth + GUARD < shop.spalls.cut_out_from.m() {
            SpallRepair::Skim
        } else {
            patches.push((vec![i], squared(&rect, shop)));
            SpallRepair::Patch(0)
        };
        let area_m2 = spall.shape.area_m2;
        let volume_l = area_m2 * spall.depth * 1000.0;
        works.push(SpallWork {
            id: spall.id.clone(),
            area_m2,
            volume_l,
            repair,
        });
    }
    let patches = numbered(merged(patches), slab, shop);
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
            segments.extend(points.windows(2).map(|p| Owned {
                a: p[0],
                b: p[1],
                owner,
            }));
        }
    }
    Segments::new(segments)
}

/// The smallest rectangle around a shape; a circle gets an upright square.
fn around(shape: &Shape) -> OrientedRect {
    let points: Vec<_> = shape.rings.iter().flat_map(Path::points).collect();
    match shape.form {
        Form::Circle { center, diameter } => OrientedRect {
            center,
            half_length: diameter / 2.0,
            half_width: diameter / 2.0,
            angle: 0.0,
        },
        _ => OrientedRect::around(&points).unwrap_or(OrientedRect {
            center: points.first().copied().unwrap_or_default(),
            half_length: 0.0,
            half_width: 0.0,
            angle: 0.0,
        }),
    }
}

/// The filled joint a small spall lies on.
fn with_joint(
    spall: &Spall,
    rect: &OrientedRect,
    joints: &LazyCell<Segments, impl FnOnce() -> Segments>,
) -> Option<usize> {
    let small = 2.0 * rect.half_length + GUARD < WITH_JOINT_LENGTH
        && 2.0 * rect.half_width + GUARD < WITH_JOINT_WIDTH;
    if !small {
        return None;
    }
    let bounds = spall.shape.region.bounds()?;
    let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
    let inside = Clipper::new(&spall.shape.region);
    let ring: Vec<_> = spall.shape.rings.iter().flat_map(Path::points).collect();
    joints.near(a, b, ON_JOINT).into_iter().find_map(|s| {
        let touches = inside.contains(s.a)
            || ring
                .windows(2)
                .any(|p| gap(p[0], p[1], s.a, s.b) <= ON_JOINT);
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
    distance(a, c, d)
        .min(distance(b, c, d))
        .min(distance(c, a, b))
        .min(distance(d, a, b))
}

/// Grown on every side and brought to the least size; the longer side gets the 12 in.
fn squared(rect: &OrientedRect, shop: &Shop) -> OrientedRect {
    rect.grown(shop.spalls.extend.m())
        .at_least(PATCH_LENGTH, PATCH_WIDTH)
}

type Rough = (Vec<usize>, OrientedRect);

/// Patches closer than 12 in become one rectangle, again and again until none is. All that hang
/// together are joined at once, so that the order of records doesn't matter.
fn merged(mut patches: Vec<Rough>) -> Vec<Rough> {
    loop {
        let group = groups(&patches);
        if group.iter().enumerate().all(|(i, g)| i == *g) {
            return patches;
        }
        let mut joined: BTreeMap<usize, (Vec<usize>, Vec<OrientedRect>)> = BTreeMap::new();
        for (i, (spalls, rect)) in patches.into_iter().enumerate() {
            let (all, rects) = joined.entry(group[i]).or_default();
            all.extend(spalls);
            rects.push(rect);
        }
        patches = joined
            .into_values()
            .map(|(mut spalls, rects)| {
                spalls.sort_unstable();
                let corners: Vec<_> = rects.iter().flat_map(OrientedRect::corners).collect();
                let alone = rects.len() == 1;
                let around = OrientedRect::around(&corners).filter(|_| !alone);
                (spalls, around.unwrap_or(rects[0]))
            })
            .collect();
    }
}

/// For every patch the lowest index of those it hangs together with.
fn groups(patches: &[Rough]) -> Vec<usize> {
    let mut group: Vec<usize> = (0..patches.len()).collect();
    let boxes: Vec<Owned> = patches
        .iter()
        .enumerate()
        .map(|(owner, (_, rect))| {
            let [first, rest @ ..] = rect.corners();
            let start = Rect::from_points(first, first);
            let bounds = rest.iter().fold(start, |r, c| r.union_pt(*c));
            let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
            Owned { a, b, owner }
        })
        .collect();
    let index = Segments::new(boxes.clone());
    for (i, place) in boxes.iter().enumerate() {
        for other in index.near(place.a, place.b, MERGE) {
            let j = other.owner;
            if j > i && patches[i].1.distance_to(&patches[j].1) + GUARD < MERGE {
                let (p, q) = (root(&mut group, i), root(&mut group, j));
                let low = p.min(q);
                group[p] = low;
                group[q] = low;
            }
        }
    }
    (0..group.len()).map(|i| root(&mut group, i)).collect()
}

/// The lowest index of a group. The way there is made shorter for the next who asks.
fn root(group: &mut [usize], mut i: usize) -> usize {
    while group[i] != i {
        group[i] = group[group[i]];
        i = group[i];
    }
    i
}

fn numbered(mut patches: Vec<Rough>, slab: &Slab, shop: &Shop) -> Vec<Patch> {
    let taken = taken_ids(slab);
    // By the ids of their spalls, so that the numbers don't depend on the order of the sketch.
    let first = |spalls: &[usize]| spalls.iter().map(|&i| id_key(&slab.spalls[i].id)).min();
    patches.sort_by_cached_key(|(spalls, _)| first(spalls));
    let mut next = 0;
    let mut out = Vec::with_capacity(patches.len());
    for (spalls, rect) in patches {
        let id = loop {
            next += 1;
            let id = format!("R{next}");
            if !taken.contains(id.as_str()) {
                break id;
            }
        };
        let deepest = spalls
            .iter()
            .map(|&i| slab.spalls[i].depth)
            .fold(0.0, f64::max);
        let depth = deepest.max(shop.spalls.least_depth.m());
        let (length_m, width_m) = (2.0 * rect.half_length, 2.0 * rect.half_width);
        let area_m2 = length_m * width_m;
        out.push(Patch {
            id,
            rect,
            spalls,
            length_m,
            width_m,
            area_m2,
            depth_mm: depth * 1000.0,
            volume_l: area_m2 * depth * 1000.0,
        });
    }
    out
}

/// Ids of the sketch that could be taken for a patch's.
fn taken_ids(slab: &Slab) -> std::collections::BTreeSet<&str> {
    let joints = slab.joints.iter().map(|j| j.id.as_str());
    let cracks = slab.cracks.iter().map(|c| c.id.as_str());
    let spalls = slab.spalls.iter().map(|s| s.id.as_str());
    let blemishes = slab.blemishes.iter().map(|b| b.id.as_str());
    let steps = slab.lippage.iter().map(|l| l.id.as_str());
    let zones = slab
        .keep_outs
        .iter()
        .chain(&slab.uncoated)
        .map(|z| z.id.as_str());
    let tests = slab.moisture.iter().map(|m| m.id.as_str());
    joints
        .chain(cracks)
        .chain(spalls)
        .chain(blemishes)
        .chain(steps)
        .chain(zones)
        .chain(tests)
        .collect()
}
