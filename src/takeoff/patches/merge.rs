//! Patches that lie near each other become one, as far as a crew would cut one.

use kurbo::Point;

use super::{GUARD, ON_JOINT, boxed, region};
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::geometry::segments::{Owned, Segments};
use crate::geometry::within::Within;
use crate::shop::SpallRules;
use crate::slab::Slab;

/// Step to which lengths are rounded before they are ordered, m, and areas, m²: both 1/64 in and 1 mm are whole numbers of
/// it, so that what is as long in the sketch is as long here.
const STEP: f64 = 3.125e-6;
/// A keep-out of which less than this lies in a rectangle is beside it, m²: 1 mm².
const TOUCHED: f64 = 1e-6;

/// A patch before it has a number.
pub(super) struct Rough {
    /// What it is cut around, by index.
    pub around: Vec<usize>,
    /// What is cut.
    pub rect: OrientedRect,
    /// A patch nearer to it than this may become one with it, m.
    apart_m: f64,
    /// The patches that each of these would have alone.
    parts: Vec<OrientedRect>,
    /// Area that these cover together, m².
    filled_m2: f64,
}

impl Rough {
    /// The patch around one alone.
    pub fn new(one: usize, rect: OrientedRect, apart_m: f64) -> Self {
        Self { around: vec![one], rect, apart_m, parts: vec![rect], filled_m2: rect.area() }
    }

    /// Where it lies, how large it is and how much of it is to be repaired.
    fn place(&self) -> [i64; 6] {
        let rect = &self.rect;
        let (center, count) = (rect.center, self.around.len() as f64 * STEP);
        let sides = [rect.half_length, rect.half_width];
        [center.x, center.y, sides[0], sides[1], self.filled_m2, count].map(rounded)
    }
}

fn rounded(value: f64) -> i64 {
    (value / STEP).round() as i64
}

/// What ends the merging.
struct Stops {
    joints: Segments,
    keep_outs: Within,
}

impl Stops {
    fn new(slab: &Slab) -> Self {
        let mut segments = Vec::new();
        for (owner, joint) in slab.joints.iter().enumerate() {
            for piece in &joint.in_scope {
                let points = joint.path.part(piece.from_m, piece.to_m).points();
                segments.extend(points.windows(2).map(|p| Owned { a: p[0], b: p[1], owner }));
            }
        }
        for riser in &slab.risers {
            let points = riser.path.points();
            segments.extend(points.windows(2).map(|p| Owned {
                a: p[0],
                b: p[1],
                owner: slab.joints.len(),
            }));
        }
        let zones = slab.keep_outs.iter().map(|zone| zone.shape.region.clone());
        Self {
            joints: Segments::new(segments),
            keep_outs: Within::new(&Region::union_all(zones.collect())),
        }
    }

    /// Whether a joint, a riser or a keep-out runs through a rectangle. Along its edge is not through it.
    fn cross(&self, rect: &OrientedRect) -> bool {
        let place = boxed(rect, 0);
        let inner = rect.grown(-ON_JOINT);
        let joints = self.joints.near(place.a, place.b, 0.0);
        joints.iter().any(|s| crosses(&inner, s.a, s.b))
            || self.keep_outs.area(&region(rect)) > TOUCHED
    }
}

/// Whether a segment has a length inside a rectangle.
fn crosses(rect: &OrientedRect, a: Point, b: Point) -> bool {
    let (along, across) = rect.axes();
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (axis, half) in [(along, rect.half_length), (across, rect.half_width)] {
        let (p, q) = ((a - rect.center).dot(axis), (b - rect.center).dot(axis));
        if (q - p).abs() < GUARD {
            if p.abs() >= half {
                return false;
            }
            continue;
        }
        let (s, t) = ((-half - p) / (q - p), (half - p) / (q - p));
        from = from.max(s.min(t));
        to = to.min(s.max(t));
    }
    (to - from) * (b - a).hypot() > GUARD
}

/// Two patches that may become one, and what the rectangle around them is.
struct Pair {
    /// Nearest first; of those as near the one with the smaller rectangle, then the one further left and lower down; then by
    /// the two themselves, so that only pairs that are alike in everything go by the order of the records.
    key: [i64; 4],
    both: [[i64; 6]; 2],
    of: (usize, usize),
    rect: OrientedRect,
}

/// Patches nearer than either allows become one rectangle, two by two and the nearest first, again and again until no two may. Two
/// may not where the rectangle around them is larger than a crew would cut, holds too little of what is to be
/// repaired, or lies over a joint, a riser or a keep-out. The order of records doesn't matter.
pub(super) fn merged(mut patches: Vec<Rough>, slab: &Slab, rules: &SpallRules) -> Vec<Rough> {
    let stops = std::cell::LazyCell::new(|| Stops::new(slab));
    // Two old ones that didn't become one in a round never will.
    let mut old = 0;
    loop {
        let mut pairs = pairs(&patches, old, rules);
        pairs.sort_by_key(|pair| (pair.key, pair.both, pair.of));
        let mut gone = vec![false; patches.len()];
        let mut new = Vec::new();
        for Pair { of: (i, j), rect, .. } in pairs {
            if gone[i] || gone[j] {
                continue;
            }
            let least = rules.filled.one() * rect.area() * (1.0 - GUARD);
            let (p, q) = (&patches[i], &patches[j]);
            if p.filled_m2 + q.filled_m2 < least || stops.cross(&rect) {
                continue;
            }
            let parts = [&p.parts[..], &q.parts[..]].concat();
            let filled_m2 = if p.rect.distance_to(&q.rect) > 0.0 {
                p.filled_m2 + q.filled_m2
            } else {
                Region::union_all(parts.iter().map(region).collect()).area()
            };
            if filled_m2 < least {
                continue;
            }
            let around = [&p.around[..], &q.around[..]].concat();
            let apart_m = p.apart_m.max(q.apart_m);
            (gone[i], gone[j]) = (true, true);
            new.push(Rough { around, rect, apart_m, parts, filled_m2 });
        }
        if new.is_empty() {
            return patches;
        }
        let mut gone = gone.into_iter();
        patches.retain(|_| !gone.next().unwrap_or(false));
        old = patches.len();
        patches.append(&mut new);
    }
}

/// The pairs near enough to each other, with a rectangle that is not too large; one of each is not among the first `old`.
fn pairs(patches: &[Rough], old: usize, rules: &SpallRules) -> Vec<Pair> {
    let apart = patches.iter().map(|p| p.apart_m).fold(0.0, f64::max);
    let boxes: Vec<Owned> = patches.iter().enumerate().map(|(i, p)| boxed(&p.rect, i)).collect();
    let index = Segments::new(boxes.clone());
    let mut out = Vec::new();
    for (i, place) in boxes.iter().enumerate().skip(old) {
        for j in index.near(place.a, place.b, apart).into_iter().map(|near| near.owner) {
            if j == i || (j > i && j >= old) {
                continue;
            }
            let distance = patches[i].rect.distance_to(&patches[j].rect);
            if distance + GUARD >= patches[i].apart_m.max(patches[j].apart_m) {
                continue;
            }
            let parts = patches[i].parts.iter().chain(&patches[j].parts);
            let corners: Vec<_> = parts.flat_map(OrientedRect::corners).collect();
            let Some(rect) = OrientedRect::around(&corners) else {
                continue;
            };
            if rect.area() <= rules.largest_m2 * (1.0 + GUARD) {
                let key = [distance, rect.area(), rect.center.x, rect.center.y];
                let mut both = [patches[i].place(), patches[j].place()];
                both.sort_unstable();
                out.push(Pair { key: key.map(rounded), both, of: (i.min(j), i.max(j)), rect });
            }
        }
    }
    out
}
