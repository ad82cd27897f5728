//! The opening of a large region, a part at a time.
//!
//! Whether the disc reaches a point is decided by the boundary near it alone. So a region with much boundary is cut in two where
//! little of it lies. Each half is worked on with a margin of what lies beyond the cut, and is halved again. Memory goes by the
//! part in hand, and the parts share the cores.

use super::{Disc, STEP, angle};
use crate::geometry::region::Region;
use crate::parallel;
use kurbo::{Axis, Point, Vec2};

/// With fewer points than this on its moved boundary a region is done in one piece; a floor with some hundred columns.
pub(super) const LIGHT: usize = 1 << 15;
/// The margin is wider than it has to be by this much, m.
const ROOM: f64 = 0.01;
/// No side shorter than this many margins is cut.
const SHORTEST: f64 = 8.0;
/// No more than this part of the boundary is worked on twice.
const TWICE: f64 = 0.1;
/// The lesser part takes at least this much of the boundary.
const LESSER: f64 = 0.3;

/// A line across the plane, square to an axis.
#[derive(Clone, Copy, Debug)]
struct Cut {
    axis: Axis,
    /// m.
    at: f64,
}

/// What of `wanted` the disc doesn't reach in `region`, in pieces that meet at the cuts: to make one polygon of what lies on both
/// sides would take much longer than all the rest.
pub(super) fn unreached(wanted: &Region, region: &Region, disc: Disc, light: usize) -> Region {
    if wanted.is_empty() {
        return Region::empty();
    }
    let margin = disc.gap + 2.0 * disc.radius + ROOM;
    let Some(cut) = cut(wanted, region, margin, light) else {
        return wanted.difference(&super::opening(region, disc.gap, disc.radius));
    };
    let halves = parallel::each(2, |side| {
        let wanted = half(wanted, cut, side == 0, 0.0);
        let region = half(region, cut, side == 0, margin);
        unreached(&wanted, &region, disc, light)
    });
    Region::together(halves)
}

/// What lies on one side of a cut or at most `over` beyond it.
fn half(region: &Region, cut: Cut, lower: bool, over: f64) -> Region {
    let Some(bounds) = region.bounds() else {
        return Region::empty();
    };
    let mut window = bounds.inflate(1.0, 1.0);
    let (low, high) = window.get_coords_mut(cut.axis);
    if lower {
        *high = cut.at + over;
    } else {
        *low = cut.at - over;
    }
    if window.width() <= 0.0 || window.height() <= 0.0 {
        return Region::empty();
    }
    region.intersection(&Region::rectangle(window))
}

/// Where to cut: not far from the middle of the boundary, where the fewest of its points lie within the margin, and not close to one.
/// `None` when the region is light, or no cut parts its boundary well.
fn cut(wanted: &Region, region: &Region, margin: f64, light: usize) -> Option<Cut> {
    let bounds = wanted.bounds()?;
    let weighed: Vec<(Point, usize)> = region.rings().iter().flat_map(|r| weights(r)).collect();
    let total: usize = weighed.iter().map(|(_, w)| w).sum();
    if total <= light {
        return None;
    }
    let best = |axis: Axis| {
        let (low, high) = bounds.get_coords(axis);
        let long = high - low > SHORTEST * margin;
        let found = long.then(|| best(&weighed, axis, margin)).flatten();
        found.map(|(twice, at)| (twice, Cut { axis, at }))
    };
    let found = [Axis::Horizontal, Axis::Vertical].into_iter().filter_map(best);
    let (twice, cut) = found.min_by_key(|(twice, _)| *twice)?;
    let (low, high) = bounds.get_coords(cut.axis);
    let inside = low + margin < cut.at && cut.at < high - margin;
    (inside && twice as f64 <= TWICE * total as f64).then_some(cut)
}

/// Points of a ring, and how many the moved boundary has for each.
fn weights(ring: &[Point]) -> Vec<(Point, usize)> {
    let n = ring.len();
    let side = |i: usize| -> Vec2 { ring[(i + 1) % n] - ring[i % n] };
    let weight = |i: usize| {
        // Where the ring turns right the disc rolls around a corner.
        let turn = (-angle(side(i + n - 1), side(i))).max(0.0);
        1 + (turn / STEP).ceil() as usize
    };
    (0..n).map(|i| (ring[i], weight(i))).collect()
}

/// The weight within the margin of the best place for a cut, and that place.
fn best(weighed: &[(Point, usize)], axis: Axis, margin: f64) -> Option<(usize, f64)> {
    let mut along: Vec<(f64, usize)> =
        weighed.iter().map(|(p, w)| (p.get_coord(axis), *w)).collect();
    along.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut before = Vec::with_capacity(along.len() + 1);
    before.push(0);
    for (_, weight) in &along {
        before.push(before[before.len() - 1] + weight);
    }
    let total = before[along.len()] as f64;
    let until = |x: f64| before[along.partition_point(|(at, _)| *at < x)];
    let lesser = total * LESSER;
    let places: Vec<(f64, f64)> = (1..along.len())
        .filter(|i| before[*i] as f64 >= lesser && total - before[*i] as f64 >= lesser)
        .map(|i| (along[i].0 - along[i - 1].0, (along[i].0 + along[i - 1].0) / 2.0))
        .collect();
    let widest = places.iter().map(|(gap, _)| *gap).reduce(f64::max)?;
    places
        .into_iter()
        .filter(|(gap, _)| *gap >= widest / 2.0)
        .map(|(_, at)| (until(at + margin) - until(at - margin), at))
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::shapes::{hole, rect};
    use proptest::prelude::*;

    const DISC: Disc = Disc { gap: 0.0508, radius: 0.381 };

    fn perimeter(region: &Region) -> f64 {
        let rings = region.rings();
        let sides = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
        sides.map(|(a, b)| a.distance(*b)).sum()
    }

    /// The same but for the lattices, whose steps are up to 80 nm at these sizes.
    fn same(name: &str, a: &Region, b: &Region) {
        let off = a.difference(b).area() + b.difference(a).area();
        let long = perimeter(a);
        assert!(off < 1e-7 * long, "{name}: {off} m² along {long} m");
        let areas = a.area() - b.area();
        assert!(areas.abs() < 2e-8 * long, "{name}: {areas} m²");
    }

    /// A floor of columns in rows, some of them closer than the disc.
    fn hall(columns: usize, rows: usize, pitch: f64) -> Region {
        let (width, height) = (columns as f64 * pitch, rows as f64 * pitch);
        let mut rings = vec![rect(0.0, 0.0, width, height)];
        for row in 0..rows {
            for column in 0..columns {
                let (x, y) = ((column as f64 + 0.4) * pitch, (row as f64 + 0.4) * pitch);
                rings.push(hole(x, y, x + 0.3, y + 0.3));
                if (row + column) % 5 == 0 {
                    rings.push(hole(x + 0.6, y, x + 0.8, y + 0.25));
                }
            }
        }
        Region::from_rings(&rings)
    }

    // Comparing the two also shows that set operations end: those of i_overlay 4.5 didn't, on the columns.
    #[test]
    fn a_floor_in_parts_is_the_floor_in_one_piece() {
        let zone = Region::from_rings(&[rect(7.3, -1.0, 9.1, 40.0)]);
        let teeth: Vec<Point> = (0..160)
            .flat_map(|k| {
                let x = 0.21 * f64::from(k);
                let y = if k % 7 == 0 { 0.9 } else { 0.2 };
                [(x, 0.0), (x, y), (x + 0.1, y), (x + 0.1, 0.0)]
            })
            .chain([(40.0, 0.0), (40.0, 30.0), (-3.0, 30.0), (-3.0, 0.0)])
            .map(Point::from)
            .collect();
        let teeth = Region::from_rings(&[teeth]);
        let hall = hall(9, 8, 3.1);
        let rows = [
            ("columns", hall.clone(), hall.clone()),
            ("a zone across", hall.difference(&zone), hall),
            ("teeth", teeth.clone(), teeth),
        ];
        for (name, wanted, floor) in rows {
            let whole = unreached(&wanted, &floor, DISC, usize::MAX);
            let parts = unreached(&wanted, &floor, DISC, 4000);
            assert!(cut(&wanted, &floor, 1.0, 4000).is_some(), "{name}");
            same(name, &whole, &parts);
        }
    }

    #[test]
    fn a_crowd_in_one_spot_is_not_cut() {
        let mut rings = vec![rect(0.0, 0.0, 50.0, 50.0)];
        for k in 0..40 {
            let x = 20.0 + 0.02 * f64::from(k);
            rings.push(hole(x, 20.0, x + 0.01, 20.5));
        }
        let crowd = Region::from_rings(&rings);
        assert!(cut(&crowd, &crowd, 1.0, 1000).is_none());
        assert!(cut(&Region::empty(), &crowd, 1.0, 0).is_none());
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 4, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn parts_agree_with_the_whole_wherever_columns_stand(
            at in prop::collection::vec((0.0..28.0f64, 0.0..28.0f64, 0.05..1.5f64, 0.05..1.5f64), 30..60)
        ) {
            let mut rings = vec![rect(0.0, 0.0, 30.0, 29.0)];
            rings.extend(at.iter().map(|(x, y, w, h)| hole(*x, *y, x + w, y + h)));
            let floor = Region::from_rings(&rings);
            let whole = unreached(&floor, &floor, DISC, usize::MAX);
            let parts = unreached(&floor, &floor, DISC, 2000);
            same("columns", &whole, &parts);
        }
    }
}
