//! Which map carries the tag of an item that several of them show.
//!
//! An item is tagged on every map on which a meaningful part of it lies, and at least on the one with its largest part. What is
//! anchored in a frame is tagged on the enlarged plan alone, and the frame says so.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Rect};

use super::map::{Drawn, Map, Shows};
use crate::sheet::census::Spot;
use crate::sheet::split::clip;

/// A part of a line or area smaller than this needs no tag of its own, mm of paper: about as wide as a tag.
pub const MEANINGFUL: f64 = 12.0;

/// Takes from each map the tags that others carry, and from what the rest point at the parts inside frames. Strips on one sheet tag each
/// item `once`, where its largest part is.
pub fn share(maps: &[Map], drawn: &mut [Drawn], spots: &[Spot], once: bool) {
    let anchors: BTreeMap<&str, Point> = spots.iter().map(|s| (&*s.id, s.at)).collect();
    let frames: Vec<Rect> = maps
        .iter()
        .filter(|m| m.shows != Shows::Enlarged)
        .flat_map(|m| m.frames.iter().map(|f| f.0))
        .collect();
    let within = |r: &Rect, p: Point| p.x >= r.x0 && p.x <= r.x1 && p.y >= r.y0 && p.y <= r.y1;
    // Only what an enlarged plan does tag may lose its tag on the map.
    let enlarged: BTreeSet<String> = maps
        .iter()
        .zip(drawn.iter())
        .filter(|(m, _)| m.shows == Shows::Enlarged)
        .flat_map(|(_, d)| d.plan.tags.iter().map(|t| t.id.clone()))
        .collect();
    let framed: BTreeSet<&str> = anchors
        .iter()
        .filter(|(id, at)| enlarged.contains(**id) && frames.iter().any(|f| within(f, **at)))
        .map(|(id, _)| *id)
        .collect();
    let mut largest: BTreeMap<String, (f64, usize)> = BTreeMap::new();
    for (i, (map, d)) in maps.iter().zip(drawn.iter()).enumerate() {
        for (tag, &size) in d.plan.tags.iter().zip(&d.sizes) {
            let carries = map.shows == Shows::Enlarged || !framed.contains(&*tag.id);
            let own = largest.entry(tag.id.clone()).or_insert((-1.0, i));
            if carries && size > own.0 {
                *own = (size, i);
            }
        }
    }
    for (i, (map, d)) in maps.iter().zip(drawn.iter_mut()).enumerate() {
        let enlarged = map.shows == Shows::Enlarged;
        let sizes = std::mem::take(&mut d.sizes);
        let mut size = sizes.into_iter();
        d.plan.tags.retain(|tag| {
            let size = size.next().unwrap_or(0.0);
            let own = enlarged && anchors.get(&*tag.id).is_some_and(|p| within(&map.window, *p));
            if framed.contains(&*tag.id) && !enlarged {
                return false;
            }
            let meaningful = size >= MEANINGFUL && !once;
            own || meaningful || largest.get(&tag.id).is_some_and(|l| l.1 == i)
        });
        for tag in &mut d.plan.tags {
            for frame in &d.plan.framed {
                tag.feature = clip::feature_outside(tag.feature.clone(), frame);
            }
        }
    }
}
