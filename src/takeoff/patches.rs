//! Patches: what is cut square around concrete that is missing or loose. Only what lies in the coated floor counts.

mod merge;

use std::cmp::Reverse;

use kurbo::{Point, Rect};

use super::told::{Say, Told};
use super::{Mended, Patch};
use crate::geometry::clip::Clipper;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::within::Within;
use crate::quantity::M_PER_IN;
use crate::record::Kind;
use crate::shop::{PatchSizes, Shop, SpallRules};
use crate::slab::Slab;
use crate::text::id_key;
use merge::{Rough, merged};

/// What is this close to a joint lies on it, m: 1/8 in, as for joints on top of each other.
const ON_JOINT: f64 = M_PER_IN / 8.0;
/// Rounding of sizes, m: 12 in less this is not under 12 in.
pub(super) const GUARD: f64 = 1e-9;
/// A share of an area; what is less than this beside a patch is rounding.
const BESIDE: f64 = 1e-6;

/// Concrete that is missing or loose, as far as patches go.
pub(super) struct Damage<'a> {
    /// Its kind.
    pub kind: Kind,
    /// Its id.
    pub id: &'a str,
    /// Its part in the coated floor.
    pub part: &'a Region,
    /// Area of that part, m².
    pub area_m2: f64,
    /// How deep it goes, m.
    pub depth_m: f64,
    /// What it asks of the patches.
    pub asks: Asks,
}

impl Damage<'_> {
    /// The patch that it asks for.
    const fn cut(&self) -> Option<&Cut> {
        match &self.asks {
            Asks::Patch(cut) => Some(cut),
            Asks::Mending | Asks::Nothing => None,
        }
    }
}

/// What missing or loose concrete asks of the patches.
pub(super) enum Asks {
    /// A patch.
    Patch(Cut),
    /// To be mended otherwise, except for what lies in the patch of another.
    Mending,
    /// Nothing: it is left as it is.
    Nothing,
}

/// The patch that something asks for.
pub(super) struct Cut {
    /// What is cut around it alone.
    pub rect: OrientedRect,
    /// How far that goes beyond it on every side, m.
    pub extend_m: f64,
    /// It may become one with others nearer than this, m.
    pub apart_m: f64,
    /// Why, as the start of a sentence.
    pub why: String,
}

/// How something is mended.
pub(super) enum Mending {
    /// In a patch, with so much of its mortar.
    Patch {
        /// Id of the patch.
        id: String,
        /// Its share of the mortar by area, L.
        volume_l: f64,
    },
    /// By itself, but for the part that lies in patches, m².
    Apart {
        /// That part, m².
        in_patches_m2: f64,
    },
}

/// The patches of a floor, and how each of the damages is mended.
pub(super) fn cut(
    damages: &[Damage<'_>],
    slab: &Slab,
    shop: &Shop,
    told: &mut Told,
) -> (Vec<Patch>, Vec<Mending>) {
    let single = |(i, damage): (usize, &Damage<'_>)| {
        damage.cut().map(|cut| Rough::new(i, cut.rect, cut.apart_m))
    };
    let singles = damages.iter().enumerate().filter_map(single).collect();
    let mut rough = merged(singles, slab, &shop.spalls);
    let in_patches = take_in(&mut rough, damages);
    let apart = |in_patches_m2| Mending::Apart { in_patches_m2 };
    let mut mended: Vec<Mending> = in_patches.into_iter().map(apart).collect();
    let patches = numbered(rough, damages, slab, shop, told);
    let patches = patches.into_iter().map(|(patch, around)| {
        let whole_m2 = around.iter().map(|&i| damages[i].area_m2).sum();
        for i in around {
            mended[i] = share(&damages[i], &patch, whole_m2, told);
        }
        patch
    });
    (patches.collect(), mended)
}

/// How something is mended in a patch around so much in all, m².
fn share(damage: &Damage<'_>, patch: &Patch, whole_m2: f64, told: &mut Told) -> Mending {
    let id = patch.id.clone();
    told.of(damage.id);
    told.line(|_| match damage.cut() {
        Some(cut) => format!("{} and cut out as {id}.", cut.why),
        None => format!("It lies in {id} and belongs to it."),
    });
    let volume_l = patch.volume_l * damage.area_m2 / whole_m2;
    told.line(|say| {
        let volume = say.solid(volume_l);
        if patch.around.len() < 2 {
            return format!("Mortar in place = all of {id} = {volume}.");
        }
        let (all, area, whole) =
            (say.cubic(patch.volume_l), say.spot(damage.area_m2), say.spot(whole_m2));
        format!("Its share of the mortar of {id} by area = {all} × {area} / {whole} = {volume}.")
    });
    Mending::Patch { id, volume_l }
}

/// What of an area is left beside the patches in which a part of it lies, m² of each.
pub(super) fn beside(area_m2: f64, in_patches_m2: f64, told: &mut Told) -> f64 {
    let left_m2 = area_m2 - in_patches_m2;
    if in_patches_m2 > 0.0 {
        told.line(|say| {
            let [area, part, left] = [area_m2, in_patches_m2, left_m2].map(|m2| say.spot(m2));
            format!("{part} of it lie in a patch and are mended there: {area} − {part} = {left}.")
        });
    }
    left_m2
}

/// Grown on every side and brought to the least size; the longer side gets the least length.
pub(super) fn squared(rect: &OrientedRect, extend_m: f64, sizes: &PatchSizes) -> OrientedRect {
    rect.grown(extend_m).at_least(sizes.length.m(), sizes.width.m())
}

/// The owner of the first line that an area touches or comes near to as joints on top of each other do.
pub(crate) fn touching(part: &Region, lines: &Segments) -> Option<usize> {
    let bounds = part.bounds()?;
    let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
    let inside = Clipper::new(part);
    let rings = part.rings();
    let sides = || {
        rings.iter().flat_map(|ring| {
            let next = ring.iter().cycle().skip(1);
            ring.iter().zip(next).map(|(p, q)| (*p, *q))
        })
    };
    lines.near(a, b, ON_JOINT).into_iter().find_map(|s| {
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

/// The corners of a rectangle's upright box, as an index wants them.
fn boxed(rect: &OrientedRect, owner: usize) -> Owned {
    let [first, rest @ ..] = rect.corners();
    let start = Rect::from_points(first, first);
    let bounds = rest.iter().fold(start, |r, c| r.union_pt(*c));
    let (a, b) = (bounds.origin(), Point::new(bounds.x1, bounds.y1));
    Owned { a, b, owner }
}

/// What lies in a patch belongs to it: another patch of which all does, and what would be mended otherwise. Of what lies
/// there in part, m² of each, the rest is left to do.
fn take_in(patches: &mut Vec<Rough>, damages: &[Damage<'_>]) -> Vec<f64> {
    let mut in_patches = vec![0.0; damages.len()];
    if patches.is_empty() {
        return in_patches;
    }
    let lies_in = |i: usize, rect: &OrientedRect| {
        let rect = rect.grown(GUARD);
        let mut points = damages[i].part.rings().into_iter().flatten();
        points.all(|p| rect.contains(p))
    };
    // The larger takes in the smaller; of two alike the one that lies nearer to the sketch's zero, whatever their ids,
    // which follow the order of the records where the sketch gives none.
    let first = |around: &[usize]| around.iter().map(|&i| id_key(damages[i].id)).min();
    let whole = |v: f64| (v / GUARD).round() as i64;
    let size = |rect: &OrientedRect| Reverse(whole(rect.area()));
    let place = |rect: &OrientedRect| (whole(rect.center.x), whole(rect.center.y));
    patches.sort_by_cached_key(|patch| {
        let rect = &patch.rect;
        (size(rect), place(rect), first(&patch.around))
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
            .find(|&large| patches[small].around.iter().all(|&i| lies_in(i, &patches[large].rect)));
    }
    for (small, large) in taken.iter().enumerate() {
        if let Some(large) = *large {
            let around = std::mem::take(&mut patches[small].around);
            patches[large].around.extend(around);
        }
    }
    for (i, damage) in damages.iter().enumerate() {
        if !matches!(damage.asks, Asks::Mending) {
            continue;
        }
        let Some(bounds) = damage.part.bounds() else {
            continue;
        };
        let near = places.near(bounds.origin(), Point::new(bounds.x1, bounds.y1), 0.0);
        let near: Vec<usize> =
            near.iter().map(|p| p.owner).filter(|&p| taken[p].is_none()).collect();
        if let Some(&patch) = near.iter().find(|&&p| lies_in(i, &patches[p].rect)) {
            patches[patch].around.push(i);
            continue;
        }
        let over: Vec<Region> = near.iter().map(|&p| region(&patches[p].rect)).collect();
        let part = damage.part;
        let share = part.intersection(&Region::union_all(over)).area() / part.area();
        if share > BESIDE {
            in_patches[i] = damage.area_m2 * share;
        }
    }
    patches.retain(|patch| !patch.around.is_empty());
    for patch in patches {
        patch.around.sort_unstable();
    }
    in_patches
}

fn region(rect: &OrientedRect) -> Region {
    Region::from_rings(&[rect.corners().to_vec()])
}

/// The patches by the ids of what they are cut around, so that the numbers don't depend on the order of the sketch; with its
/// indices. What two of them share counts with the first.
fn numbered(
    mut patches: Vec<Rough>,
    damages: &[Damage<'_>],
    slab: &Slab,
    shop: &Shop,
    told: &mut Told,
) -> Vec<(Patch, Vec<usize>)> {
    if patches.is_empty() {
        return Vec::new();
    }
    let taken = slab.ids();
    let first = |around: &[usize]| around.iter().map(|&i| id_key(damages[i].id)).min();
    patches.sort_by_cached_key(|patch| first(&patch.around));
    let places =
        Segments::new(patches.iter().enumerate().map(|(i, p)| boxed(&p.rect, i)).collect());
    let net = Within::new(&slab.net);
    let mut next = 0;
    let mut out = Vec::with_capacity(patches.len());
    for (number, rough) in patches.iter().enumerate() {
        let id = loop {
            next += 1;
            let id = format!("R{next}");
            if !taken.contains(id.as_str()) {
                break id;
            }
        };
        let place = boxed(&rough.rect, number);
        let before = places.near(place.a, place.b, 0.0).into_iter();
        let before: Vec<Region> = before
            .map(|near| near.owner)
            .filter(|&other| other < number && patches[other].rect.distance_to(&rough.rect) <= 0.0)
            .map(|other| region(&patches[other].rect))
            .collect();
        let whole = region(&rough.rect);
        let mut cut = net.common(&whole).into_owned();
        if !before.is_empty() {
            cut = cut.difference(&Region::union_all(before));
        }
        let share = cut.area() / whole.area();
        out.push((patch(id, rough, share, damages, shop, told), rough.around.clone()));
    }
    out
}

/// The patch with this id, of whose rectangle a share is cut.
fn patch(
    id: String,
    rough: &Rough,
    share: f64,
    damages: &[Damage<'_>],
    shop: &Shop,
    told: &mut Told,
) -> Patch {
    let around: Vec<&Damage<'_>> = rough.around.iter().map(|&i| &damages[i]).collect();
    told.of(&id);
    say_around(&id, &around, &shop.spalls, told);
    let (length_m, width_m) = (rough.rect.length(), rough.rect.width());
    let whole_m2 = length_m * width_m;
    told.line(|say| {
        let (length, width) = (say.small(length_m), say.small(width_m));
        format!("Area = {length} × {width} = {}.", say.spot(whole_m2))
    });
    // The exact area where all of it is cut.
    let area_m2 = if share > 1.0 - BESIDE {
        whole_m2
    } else {
        let area_m2 = whole_m2 * share;
        told.line(|say| {
            let [whole, off, area] = [whole_m2, whole_m2 - area_m2, area_m2].map(|m2| say.spot(m2));
            format!("{off} of it lie off the coated floor or in a patch before it: {whole} − {off} = {area}.")
        });
        area_m2
    };
    let (depths, least_m) = (around.iter().map(|d| d.depth_m), shop.spalls.least_depth.m());
    let depth_m = depths.clone().fold(least_m, f64::max);
    told.line(|say| {
        let found = depths.map(|depth| say.small(depth)).collect::<Vec<_>>().join(", ");
        let (least, depth) = (say.small(least_m), say.small(depth_m));
        format!("Depth = the largest of {found} found, {least} (spalls.least_depth) = {depth}.")
    });
    let volume_l = told.layer("Mortar in place", [area_m2, depth_m], "", Say::solid);
    told.line(|say| {
        let (waste, others) = (shop.spalls.waste.one(), "mortar before rounding to bags");
        say.to_buy(volume_l, "spalls", waste, [Say::cubic, Say::solid], others)
    });
    let mended = |damage: &&Damage<'_>| {
        let &&Damage { kind, id, area_m2, depth_m, .. } = damage;
        Mended { kind, id: id.to_owned(), area_m2, depth_m }
    };
    Patch {
        id,
        rect: rough.rect,
        around: around.iter().map(mended).collect(),
        length_m,
        width_m,
        area_m2,
        depth_mm: depth_m * 1000.0,
        volume_l,
    }
}

/// What a patch is cut around, and what else lies in it.
fn say_around(id: &str, around: &[&Damage<'_>], rules: &SpallRules, told: &mut Told) {
    let asking = || around.iter().filter_map(|damage| Some((damage, damage.cut()?)));
    told.line(|say| {
        let ids: Vec<&str> = asking().map(|(damage, _)| damage.id).collect();
        let each = if ids.len() > 1 { "each of " } else { "" };
        let extend = |kind| {
            let mut these = asking().filter(|(damage, _)| damage.kind == kind);
            these.next().map(|(_, cut)| say.small(cut.extend_m))
        };
        let grown = match (extend(Kind::Spall), extend(Kind::Delamination)) {
            (Some(spall), Some(loose)) => format!(
                "{spall} around a spall and {loose} around a delamination (delaminations.extend)"
            ),
            (None, Some(loose)) => format!("{loose} (delaminations.extend)"),
            (spall, None) => spall.unwrap_or_default(),
        };
        format!(
            "{id} squares the slab around {each}{}: the smallest rectangle, grown by {grown} on every side, at least {} × {} (spalls.{}).",
            ids.join(" and "),
            say.small(rules.sizes.length.m()),
            say.small(rules.sizes.width.m()),
            rules.rule.word()
        )
    });
    if asking().count() > 1 {
        told.line(|say| {
            let apart = say.small(asking().map(|(_, cut)| cut.apart_m).fold(0.0, f64::max));
            format!(
                "The rectangles are closer than {apart}, or one lies in the other: they become one."
            )
        });
    }
    let others = around.iter().filter(|damage| damage.cut().is_none());
    let others: Vec<&str> = others.map(|damage| damage.id).collect();
    if !others.is_empty() {
        told.line(|_| {
            let lie = if others.len() == 1 { "lies in it and is" } else { "lie in it and are" };
            format!("{} {lie} mended with it.", others.join(" and "))
        });
    }
}
