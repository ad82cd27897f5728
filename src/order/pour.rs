//! Pour lines: where a batch that was poured out along one side should be used up.
//!
//! Batch k of a layer is used up when the material has been pulled to line k: the line parallel to
//! the pouring side that has k × batch × coverage × (1 − loss) of net area behind it. Its distance
//! is taped from the outermost point of the coated area on that side. The last line is the far
//! end of the floor, so the areas end at the net area.

use kurbo::Point;

use super::coating::{kit_l, practical_coverage};
use super::model::{PourLine, PourLines};
use super::need::whole_packages;
use crate::shop::System;

/// Most lines of one layer. A floor that takes more batches than this is not poured by lines on a
/// map; the layer then has none.
const MOST_LINES: u64 = 1000;

/// The coated floor seen from the pouring side.
pub trait Behind {
    /// Whole area, m².
    fn whole_area(&self) -> f64;
    /// Extent away from the pouring side, m.
    fn extent(&self) -> f64;
    /// Distance of the line that has this area behind it, m.
    fn distance(&self, area: f64) -> f64;
    /// Pieces of the line at this distance that lie on the coated floor.
    fn line(&self, distance: f64) -> Vec<(Point, Point)>;
}

/// Pour lines of every layer that is mixed, bottom up.
#[must_use]
pub fn pour_lines(system: &System, floor: &impl Behind) -> Vec<PourLines> {
    let layer_lines = |layer: &crate::shop::Layer| {
        let batch_m2 = practical_coverage(&layer.amount)? * kit_l(&layer.amount)?;
        let lines = lines(batch_m2, floor);
        (!lines.is_empty()).then(|| PourLines {
            layer: layer.name.clone(),
            lines,
        })
    };
    system.layers.iter().filter_map(layer_lines).collect()
}

fn lines(batch_m2: f64, floor: &impl Behind) -> Vec<PourLine> {
    let whole = floor.whole_area();
    let batches = whole_packages(whole, batch_m2);
    if batches > MOST_LINES {
        return Vec::new();
    }
    (1..=batches)
        .map(|k| {
            let behind = batch_m2 * k as f64;
            if k == batches {
                return PourLine {
                    batch: k as usize,
                    distance_m: floor.extent(),
                    area_behind_m2: whole,
                    chords: Vec::new(),
                };
            }
            let distance_m = floor.distance(behind);
            PourLine {
                batch: k as usize,
                distance_m,
                area_behind_m2: behind,
                chords: floor.line(distance_m),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture;
    use crate::quantity::{M_PER_FT, M2_PER_FT2};

    /// A plain rectangle, `wide` along the pouring side and `deep` away from it, m.
    struct Rectangle {
        wide: f64,
        deep: f64,
    }

    impl Behind for Rectangle {
        fn whole_area(&self) -> f64 {
            self.wide * self.deep
        }
        fn extent(&self) -> f64 {
            self.deep
        }
        fn distance(&self, area: f64) -> f64 {
            area / self.wide
        }
        fn line(&self, d: f64) -> Vec<(Point, Point)> {
            vec![(Point::new(0.0, d), Point::new(self.wide, d))]
        }
    }

    #[test]
    fn a_kit_covers_its_strip() {
        // 3 gal at 160 ft²/gal, 5 % lost, cover 456 ft². On a floor 24 ft wide that is 19 ft; the
        // second kit reaches the far wall at 24 ft.
        let floor = Rectangle {
            wide: 24.0 * M_PER_FT,
            deep: 24.0 * M_PER_FT,
        };
        let batch = 3.0 * 160.0 * 0.95 * M2_PER_FT2;
        let lines = lines(batch, &floor);
        assert_eq!(lines.len(), 2);
        assert!((lines[0].distance_m - 19.0 * M_PER_FT).abs() < 1e-9);
        assert!((lines[0].area_behind_m2 - 456.0 * M2_PER_FT2).abs() < 1e-9);
        assert!((lines[1].distance_m - 24.0 * M_PER_FT).abs() < 1e-9);
        assert!((lines[1].area_behind_m2 - 576.0 * M2_PER_FT2).abs() < 1e-9);
        assert_eq!(lines[0].chords.len(), 1);
    }

    #[test]
    fn broadcast_goods_have_no_lines() {
        let floor = Rectangle {
            wide: 6.0,
            deep: 8.0,
        };
        let shop = fixture::shop();
        let all = pour_lines(&shop.systems["flake"], &floor);
        let names: Vec<&str> = all.iter().map(|l| l.layer.as_str()).collect();
        assert_eq!(names, ["primer", "base coat", "top coat"]);
    }

    #[test]
    fn a_batch_of_a_drop_draws_no_thicket() {
        assert!(
            lines(
                1e-6,
                &Rectangle {
                    wide: 6.0,
                    deep: 8.0
                }
            )
            .is_empty()
        );
        assert!(
            lines(
                0.0,
                &Rectangle {
                    wide: 6.0,
                    deep: 8.0
                }
            )
            .is_empty()
        );
    }
}
