//! Spalls: skimmed, cut out and patched, or filled with their joint.

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
    let lines = filled_joints(slab, joints);
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
fn with_joint(spall: &Spall, rect: &OrientedRect, joints: &Segments) -> Option<usize> {
    let small = 2.0 * rect.half_length + GUARD < WITH_JOINT_LENGTH
        && 2.0 * rect.half_width + GUARD < WITH_JOINT_WIDTH;
    if !small {
        return None;
    }
    let bounds = spall.shape.region.bounds()?;
    let (a, b) = (bounds.origin(), kurbo::Point::new(bounds.x1, bounds.y1));
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
fn gap(a: kurbo::Point, b: kurbo::Point, c: kurbo::Point, d: kurbo::Point) -> f64 {
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
        let mut out: Vec<(usize, Vec<usize>, Vec<OrientedRect>)> = Vec::new();
        for (i, (spalls, rect)) in patches.into_iter().enumerate() {
            match out.iter_mut().find(|o| o.0 == group[i]) {
                Some(o) => {
                    o.1.extend(spalls);
                    o.2.push(rect);
                }
                None => out.push((group[i], spalls, vec![rect])),
            }
        }
        patches = out
            .into_iter()
            .map(|(_, mut spalls, rects)| {
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
    let mut order: Vec<(f64, f64, usize)> = patches
        .iter()
        .enumerate()
        .map(|(i, (_, rect))| {
            let xs = rect.corners().map(|c| c.x);
            let lo = xs.iter().copied().fold(f64::INFINITY, f64::min);
            let hi = xs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            (lo, hi, i)
        })
        .collect();
    order.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.2.cmp(&q.2)));
    for (k, &(_, hi, i)) in order.iter().enumerate() {
        for &(lo, _, j) in &order[k + 1..] {
            if lo - hi >= MERGE {
                break;
            }
            if patches[i].1.distance_to(&patches[j].1) + GUARD < MERGE {
                let (p, q) = (root(&group, i), root(&group, j));
                let low = p.min(q);
                group[p] = low;
                group[q] = low;
            }
        }
    }
    (0..group.len()).map(|i| root(&group, i)).collect()
}

fn root(group: &[usize], mut i: usize) -> usize {
    while group[i] != i {
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
