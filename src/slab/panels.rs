//! Panels: what the joints divide the slab into, numbered as one reads.

use kurbo::{Point, Rect, Vec2};

use super::floor::Floor;
use super::{Blemish, Crack, Delamination, Item, Lippage, Panel, Shape, Slab, Spall, Stretch};
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::interior_of;
use crate::geometry::segments::{Owned, Segments};
use crate::parallel;
use crate::sketch::Hand;

/// How far beside a line the panel on its high side is looked for, m.
const BESIDE: f64 = 0.02;

struct Found {
    panel: Panel,
    bounds: Rect,
    centroid: Point,
    index: usize,
}

pub(super) fn panels(floor: &Floor, slab: &Slab) -> Vec<Panel> {
    let found: Vec<Found> = parallel::many(floor.panel_count(), |index| {
        let (area, rings, joints) = floor.panel(index);
        let joints = joints.iter().map(|&j| slab.joints[j].id.clone()).collect();
        measured(index, area, rings, joints)
    });
    let mut found = in_reading_order(found);
    let mut place = vec![0; found.len()];
    for (i, f) in found.iter_mut().enumerate() {
        f.panel.id = format!("P{}", i + 1);
        place[f.index] = i;
    }
    let mut panels: Vec<Panel> = found.into_iter().map(|f| f.panel).collect();
    let cracks = crack_pieces(floor, slab);
    for (item, within) in items(floor, slab, &cracks) {
        for index in within {
            panels[place[index]].items.push(item.clone());
        }
    }
    for tier in &slab.tiers {
        let on_it = panels.iter_mut().filter(|p| tier.region.contains(p.label));
        on_it.for_each(|panel| panel.items.push(tier.id.clone()));
    }
    for (panel, length) in cracks.into_iter().flatten() {
        panels[place[panel]].crack_m += length;
    }
    panels
}

fn measured(index: usize, area_m2: f64, rings: Vec<Vec<Point>>, joints: Vec<String>) -> Found {
    let points: Vec<Point> = rings.iter().flatten().copied().collect();
    let first = points.first().copied().unwrap_or(Point::ORIGIN);
    let bounds = points.iter().fold(Rect::from_points(first, first), |r, p| r.union_pt(*p));
    let rect = OrientedRect::around(&points);
    let label = interior_of(&rings).unwrap_or(bounds.center());
    let panel = Panel {
        id: String::new(),
        area_m2,
        length_m: rect.map_or(0.0, |r| 2.0 * r.half_length),
        width_m: rect.map_or(0.0, |r| 2.0 * r.half_width),
        rings,
        joints,
        items: Vec::new(),
        crack_m: 0.0,
        label,
    };
    Found { panel, bounds, centroid: bounds.center(), index }
}

/// Rows from the top, each from the left. A panel belongs to the row of the highest panel left
/// if its middle lies above that panel's foot.
fn in_reading_order(mut found: Vec<Found>) -> Vec<Found> {
    let key = |f: &Found| (-f.bounds.y1, f.bounds.x0, -f.centroid.y, f.panel.area_m2);
    found.sort_by(|p, q| {
        let (a, b) = (key(p), key(q));
        (a.0.total_cmp(&b.0))
            .then(a.1.total_cmp(&b.1))
            .then(a.2.total_cmp(&b.2))
            .then(a.3.total_cmp(&b.3))
    });
    let mut out = Vec::with_capacity(found.len());
    let mut below = found.into_iter().peekable();
    // What begins above the foot of the rows so far, but has its middle below it.
    let mut left: Vec<Found> = Vec::new();
    while let Some(top) = left.first().or_else(|| below.peek()) {
        let foot = top.bounds.y0;
        while let Some(next) = below.next_if(|f| f.bounds.y1 > foot) {
            left.push(next);
        }
        let (mut row, rest): (Vec<_>, Vec<_>) = left.into_iter().partition(|f| f.centroid.y > foot);
        row.sort_by(|p, q| {
            p.bounds.x0.total_cmp(&q.bounds.x0).then(q.bounds.y1.total_cmp(&p.bounds.y1))
        });
        out.extend(row);
        left = rest;
    }
    out
}

/// Every item that lies in panels, and which ones.
fn items(floor: &Floor, slab: &Slab, cracks: &[Vec<(usize, f64)>]) -> Vec<(String, Vec<usize>)> {
    let mut out = Vec::new();
    let mut cracks = cracks.iter();
    for item in slab.items() {
        let mut within: Vec<usize> = match item {
            Item::Crack(_) => cracks.next().into_iter().flatten().map(|piece| piece.0).collect(),
            Item::Spall(Spall { shape, .. })
            | Item::Delamination(Delamination { shape, .. })
            | Item::Blemish(Blemish { shape, .. }) => under(floor, shape),
            Item::Lippage(step) => beside(floor, step),
            Item::KeepOut(zone) | Item::Uncoated(zone) => around(floor, &zone.shape),
            Item::Moisture(test) => floor.panel_at(test.at).into_iter().collect(),
            // A joint bounds panels, and what a panel lies on is found by its middle.
            Item::Joint(_) | Item::Tier(_) => continue,
        };
        within.sort_unstable();
        within.dedup();
        out.push((item.id().to_owned(), within));
    }
    out
}

/// Panels on the high side of a step.
fn beside(floor: &Floor, step: &Lippage) -> Vec<usize> {
    let sign = if step.high == Hand::Left { 1.0 } else { -1.0 };
    let noted = step.readings.iter().map(|r| r.0);
    let panels = noted.filter_map(|station| {
        let along = step.path.direction_at(station);
        let side = sign * BESIDE * Vec2::new(-along.y, along.x);
        floor.panel_at(step.path.point_at(station) + side)
    });
    panels.collect()
}

/// Panels under a shape: at its corners and in its middle.
fn under(floor: &Floor, shape: &Shape) -> Vec<usize> {
    let corners = shape.rings.iter().flat_map(Path::points);
    corners.chain(shape.region.middle()).filter_map(|p| floor.panel_at(p)).collect()
}

/// Panels under or right beside a shape.
fn around(floor: &Floor, shape: &Shape) -> Vec<usize> {
    let mut out = under(floor, shape);
    let center = shape.region.bounds().map_or(Point::ORIGIN, |b| b.center());
    for p in shape.rings.iter().flat_map(Path::points) {
        let out_a_bit = p + BESIDE * (p - center).normalize();
        out.extend(floor.panel_at(out_a_bit));
    }
    out
}

/// The pieces of every crack, as [`pieces`] gives them.
fn crack_pieces(floor: &Floor, slab: &Slab) -> Vec<Vec<(usize, f64)>> {
    if slab.cracks.is_empty() {
        return Vec::new();
    }
    let mut segments = Vec::new();
    let joints = slab.joints.iter().map(|joint| &joint.path);
    for path in joints.chain(slab.risers.iter().map(|riser| &riser.path)) {
        for pair in path.points().windows(2) {
            segments.push(Owned { a: pair[0], b: pair[1], owner: segments.len() });
        }
    }
    let joints = Segments::new(segments);
    parallel::many(slab.cracks.len(), |i| pieces(floor, &slab.cracks[i], &joints))
}

/// The in-scope pieces of a crack between the joints and risers it crosses: panel and length.
fn pieces(floor: &Floor, crack: &Crack, joints: &Segments) -> Vec<(usize, f64)> {
    let mut cuts = Vec::new();
    for pair in crack.path.flatten().windows(2) {
        let (a, b) = (pair[0].point, pair[1].point);
        for joint in joints.near(a, b, 0.0) {
            let (u, v) = (b - a, joint.b - joint.a);
            let cross = u.cross(v);
            if cross != 0.0 {
                let share = (joint.a - a).cross(v) / cross;
                if (0.0..=1.0).contains(&share) {
                    cuts.push(pair[0].station + share * (pair[1].station - pair[0].station));
                }
            }
        }
    }
    let mut out = Vec::new();
    for Stretch { from_m, to_m } in &crack.in_scope {
        let mut stations: Vec<f64> =
            cuts.iter().copied().filter(|c| from_m < c && c < to_m).collect();
        stations.extend([*from_m, *to_m]);
        stations.sort_by(f64::total_cmp);
        for pair in stations.windows(2).filter(|pair| pair[1] > pair[0]) {
            let middle = crack.path.point_at((pair[0] + pair[1]) / 2.0);
            if let Some(panel) = floor.panel_at(middle) {
                out.push((panel, pair[1] - pair[0]));
            }
        }
    }
    out
}
