//! Pour lines: where a batch that was poured out along one side should be used up.
//!
//! Batch k of a layer is used up when the material has been pulled to line k: the line parallel to
//! the pouring side that has what k batches cover of net area behind it. Its distance is taped from the outermost point of the coated area on that side. The last line is the far
//! end of the floor, so the areas end at the net area.

use super::model::{PourLine, PourLines};
use crate::geometry::sweep::Sweep;
use crate::slab::Slab;
use crate::work::{Batch, Batches};

/// Pour lines of every layer that is mixed, bottom up; none where the sketch names no pouring side.
#[must_use]
pub fn pour_lines(batches: &[Batches], slab: &Slab) -> Vec<PourLines> {
    let Some(side) = &slab.pour_from else {
        return Vec::new();
    };
    let sweep = Sweep::new(&slab.net, side.away);
    let layer_lines = |layer: &Batches| {
        let lines = lines(&layer.list, &sweep, slab.areas.net);
        (!lines.is_empty()).then(|| PourLines {
            layer: layer.name.clone(),
            pot_life_s: layer.pot_life_s,
            lines,
        })
    };
    batches.iter().filter_map(layer_lines).collect()
}

/// Lines of one layer's batches on a floor of `net_m2`.
///
/// The swept region has its arcs flattened, so its area may differ from the exact one by a part
/// in 100,000; areas are scaled by that part, and the last line ends at the exact net area.
fn lines(batches: &[Batch], sweep: &Sweep, net_m2: f64) -> Vec<PourLine> {
    let extent = sweep.end() - sweep.start();
    let swept = sweep.area_behind(extent);
    if swept <= 0.0 {
        return Vec::new();
    }
    let mut behind = 0.0;
    let mut line = |(i, mixed): (usize, &Batch)| {
        behind += mixed.area_m2;
        let last = i + 1 == batches.len();
        let found = (!last).then(|| sweep.distance_for(behind * (swept / net_m2))).flatten();
        PourLine {
            batch: i + 1,
            mixed: mixed.clone(),
            distance_m: found.unwrap_or(extent),
            area_behind_m2: if found.is_some() { behind } else { net_m2 },
            chords: found.map_or_else(Vec::new, |distance| sweep.chord(distance)),
        }
    };
    batches.iter().enumerate().map(&mut line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::region::Region;
    use crate::order::fixture;
    use crate::quantity::{M_PER_FT, M2_PER_FT2};
    use crate::slab::PourSide;
    use kurbo::{Point, Vec2};
    use proptest::prelude::*;

    /// Rings in feet, the outer one counter-clockwise, holes clockwise.
    fn region(rings: &[&[(f64, f64)]]) -> Region {
        let ring = |r: &&[(f64, f64)]| {
            let at = |p: &(f64, f64)| Point::new(p.0 * M_PER_FT, p.1 * M_PER_FT);
            r.iter().map(at).collect::<Vec<_>>()
        };
        Region::from_rings(&rings.iter().map(ring).collect::<Vec<_>>())
    }

    fn square(side: f64) -> Region {
        region(&[&[(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]])
    }

    /// Set operations round coordinates to about a nanometre; a tape shows none of it, m and m².
    const ROUNDING: f64 = 1e-6;

    /// Batches that cover so much each, m², on a floor of `net` m².
    fn each(area: f64, net: f64) -> Vec<Batch> {
        let count = (net / area).ceil() as usize;
        let batch = |i: usize| Batch {
            volume_l: 1.0,
            parts_l: Vec::new(),
            area_m2: area.min(net - area * i as f64),
            lay_s: 0.0,
            whole_kit: false,
        };
        (0..count).map(batch).collect()
    }

    fn evenly(area: f64, sweep: &Sweep, net: f64) -> Vec<PourLine> {
        lines(&each(area, net), sweep, net)
    }

    /// 3 gal at 160 ft²/gal, 5 % lost, cover 456 ft².
    const KIT_M2: f64 = 3.0 * 160.0 * 0.95 * M2_PER_FT2;

    #[test]
    fn a_kit_covers_its_strip() {
        // A kit covers 456 ft². On a floor 24 ft wide that is 19 ft; the second kit reaches the
        // far wall at 24 ft.
        let sweep = Sweep::new(&square(24.0), Vec2::new(0.0, 1.0));
        let lines = evenly(KIT_M2, &sweep, 576.0 * M2_PER_FT2);
        assert_eq!(lines.len(), 2);
        assert!((lines[0].distance_m - 19.0 * M_PER_FT).abs() < ROUNDING);
        assert!((lines[0].area_behind_m2 - 456.0 * M2_PER_FT2).abs() < ROUNDING);
        assert!((lines[1].distance_m - 24.0 * M_PER_FT).abs() < ROUNDING);
        assert!((lines[1].area_behind_m2 - 576.0 * M2_PER_FT2).abs() < ROUNDING);
        assert_eq!(lines[0].chords.len(), 1);
    }

    #[test]
    fn a_hole_pushes_the_line_on() {
        // A pit of 12 by 8 ft, from 6 to 14 ft away, takes 96 ft² out of the first 456 ft² of a
        // floor 24 ft wide: the line moves on by 96 / 24 = 4 ft, from 19 to 23 ft.
        let floor = region(&[
            &[(0.0, 0.0), (24.0, 0.0), (24.0, 30.0), (0.0, 30.0)],
            &[(6.0, 6.0), (6.0, 14.0), (18.0, 14.0), (18.0, 6.0)],
        ]);
        let sweep = Sweep::new(&floor, Vec2::new(0.0, 1.0));
        let lines = evenly(KIT_M2, &sweep, (720.0 - 96.0) * M2_PER_FT2);
        assert!((lines[0].distance_m - 23.0 * M_PER_FT).abs() < ROUNDING);
    }

    #[test]
    fn an_oblique_side_starts_at_its_corner() {
        // Pulled from a corner of a square of side 24 ft along its diagonal, the line at distance
        // d up to the middle has a triangle of area d² behind it: 256 ft² at 16 ft.
        let sweep = Sweep::new(&square(24.0), Vec2::new(1.0, 1.0));
        let lines = evenly(256.0 * M2_PER_FT2, &sweep, 576.0 * M2_PER_FT2);
        assert!((lines[0].distance_m - 16.0 * M_PER_FT).abs() < ROUNDING);
    }

    #[test]
    fn broadcast_goods_have_no_lines() {
        let shop = fixture::shop();
        let mut slab = fixture::slab(20.0, 26.0);
        slab.net = region(&[&[(0.0, 0.0), (20.0, 0.0), (20.0, 26.0), (0.0, 26.0)]]);
        let takeoff = fixture::takeoff(520.0, 0.0);
        assert_eq!(fixture::order(&slab, &takeoff, &shop, Some("flake")).pour_lines, []);
        slab.pour_from = Some(PourSide {
            away: Vec2::new(0.0, -1.0),
            name: "N".into(),
            compass: None,
            wall: None,
        });
        let all = fixture::order(&slab, &takeoff, &shop, Some("flake")).pour_lines;
        let names: Vec<&str> = all.iter().map(|l| l.layer.as_str()).collect();
        assert_eq!(names, ["primer", "base coat", "top coat"]);
    }

    proptest! {
        #[test]
        fn areas_behind_grow_and_end_at_the_net_area(
            batch_ft2 in 20.0..700.0_f64, angle in 0.0..6.3_f64, notch in 1.0..23.0_f64,
        ) {
            let floor = region(&[&[
                (0.0, 0.0), (24.0, 0.0), (24.0, notch), (notch, notch), (notch, 24.0), (0.0, 24.0),
            ]]);
            let net = (576.0 - (24.0 - notch).powi(2)) * M2_PER_FT2;
            let sweep = Sweep::new(&floor, Vec2::new(angle.cos(), angle.sin()));
            let lines = evenly(batch_ft2 * M2_PER_FT2, &sweep, net);
            prop_assert_eq!(lines.last().map(|l| l.area_behind_m2), Some(net));
            for pair in lines.windows(2) {
                prop_assert!(pair[0].area_behind_m2 < pair[1].area_behind_m2);
                prop_assert!(pair[0].distance_m < pair[1].distance_m);
            }
            for line in &lines {
                let behind = sweep.area_behind(line.distance_m);
                prop_assert!((behind - line.area_behind_m2).abs() <= 1e-5 * net);
            }
        }
    }
}
