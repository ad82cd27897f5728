//! Spot heights: fall and low spots; rows of readings: flatness and levelness.

use kurbo::{Point, Vec2};

use super::told::Told;
use super::{Fall, Flatness, LevelReport, LowSpot};
use crate::geometry::plane::Plane;
use crate::quantity::{M_PER_IN, Units, write};
use crate::slab::{LevelRow, Slab};

/// A point this far below the plane of its neighbours is likely to pond, m: 1/4 in (common
/// practice).
const PONDING: f64 = 0.25 * M_PER_IN;
/// Neighbours a point is compared with (common practice: the ring around it).
const NEIGHBOURS: usize = 6;
/// Numerators of FF and FL, in, for heights at 12 in (ASTM E1155; from memory).
const TOPS_IN: (f64, f64) = (4.57, 12.5);
/// Numerators of FF and FL, mm, for heights at 300 mm (ASTM E1155M; from memory).
const TOPS_MM: (f64, f64) = (115.8, 317.5);
/// Readings between the ends of an elevation difference (ASTM E1155: 10 ft at 12 in).
const LEVEL_BASE: usize = 10;

/// Fall, ponding and flatness; `None` where no heights were taken.
pub(crate) fn report(slab: &Slab, told: &mut Told) -> Option<LevelReport> {
    if slab.levels.is_empty() && slab.level_rows.is_empty() {
        return None;
    }
    let points: Vec<(Point, f64)> =
        slab.levels.iter().map(|l| (l.at, l.height_m - slab.height_at(l.at))).collect();
    let low =
        |(i, below_m): (usize, f64)| LowSpot { number: i + 1, level: slab.levels[i], below_m };
    let rows = slab.level_rows.iter();
    let rows = rows.map(|row| (row.clone(), flatness(&on_one_level(slab, row), slab.units)));
    let ponding = ponding(&points).into_iter().map(low).collect();
    let report = LevelReport { fall: fall(&points), ponding, rows: rows.collect() };
    say(&report, points.len(), slab.units, told);
    Some(report)
}

/// What is said of it: it was made from so many heights.
fn say(report: &LevelReport, heights: usize, units: Units, told: &mut Told) {
    if let Some(fall) = report.fall {
        told.line(|say| {
            let (slope, worst) = (write::trimmed(fall.slope * 100.0, 3), say.small(fall.worst_m));
            format!(
                "The plane that fits the {heights} heights best falls {slope} in 100; the farthest height lies {worst} off it."
            )
        });
    }
    for low in &report.ponding {
        told.line(|say| {
            let at = low.level.at;
            let (x, y, depth) = (say.length(at.x), say.length(at.y), say.small(low.below_m));
            format!("At x {x}, y {y} the floor lies {depth} below the plane through its neighbors: it may pond.")
        });
    }
    let numbers = report.rows.iter().enumerate();
    let numbers: Vec<_> = numbers.filter_map(|(i, (_, row))| Some((i, row.ff?, row.fl?))).collect();
    for &(i, ff, fl) in &numbers {
        told.line(|_| {
            let (ff, fl) = (write::fixed(ff, 1), write::fixed(fl, 1));
            format!("Row {} by {}: FF {ff}, FL {fl}.", i + 1, flatness_method(units))
        });
    }
    if report.fall.is_none() && report.ponding.is_empty() && numbers.is_empty() {
        told.line(|_| "Too few heights for a plane or for flatness numbers.".to_owned());
    }
}

/// The heights of a row less what the tiers under them make, m.
fn on_one_level(slab: &Slab, row: &LevelRow) -> Vec<f64> {
    let heights = row.heights_m.iter().enumerate();
    let level = |(i, height): (usize, &f64)| {
        height - slab.height_at(row.from + row.direction * (row.spacing_m * i as f64))
    };
    heights.map(level).collect()
}

fn fall(points: &[(Point, f64)]) -> Option<Fall> {
    let plane = fit(points)?;
    let slope = Vec2::new(plane.slope_x, plane.slope_y);
    let worst_m =
        points.iter().map(|(p, z)| (z - plane.height(p.x, p.y)).abs()).fold(0.0, f64::max);
    let direction = if slope.hypot() > 0.0 { -slope.normalize() } else { Vec2::ZERO };
    Some(Fall { direction, slope: slope.hypot(), worst_m })
}

fn fit(points: &[(Point, f64)]) -> Option<Plane> {
    Plane::fit(&points.iter().map(|(p, z)| (p.x, p.y, *z)).collect::<Vec<_>>())
}

/// The points likely to pond, by their index, and how far each lies below the plane of its neighbours, m.
fn ponding(points: &[(Point, f64)]) -> Vec<(usize, f64)> {
    let mut out = Vec::new();
    for (i, (at, height)) in points.iter().enumerate() {
        let mut others: Vec<(f64, usize)> = (0..points.len())
            .filter(|&j| j != i)
            .map(|j| ((points[j].0 - *at).hypot2(), j))
            .collect();
        others.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.cmp(&q.1)));
        let near: Vec<_> = others.iter().take(NEIGHBOURS).map(|&(_, j)| points[j]).collect();
        let Some(plane) = fit(&near) else { continue };
        let below = plane.height(at.x, at.y) - height;
        if below > PONDING + 1e-9 {
            out.push((i, below));
        }
    }
    out
}

/// F-numbers of one row of heights, m: at 12 in by the formulas in inches, at 300 mm by those in millimeters. `None` where there are
/// too few readings.
#[must_use]
pub fn flatness(heights_m: &[f64], units: Units) -> Flatness {
    let (unit_m, (top_ff, top_fl)) = match units {
        Units::Us => (M_PER_IN, TOPS_IN),
        Units::Metric => (0.001, TOPS_MM),
    };
    let heights: Vec<f64> = heights_m.iter().map(|h| h / unit_m).collect();
    let (q, z) = e_numbers(&heights);
    let number = |top: f64, values: &[f64]| {
        if values.len() < 2 {
            return None;
        }
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let variance =
            values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (values.len() - 1) as f64;
        let below = 3.0 * variance.sqrt() + mean.abs();
        (below > 0.0).then(|| top / below)
    };
    Flatness { ff: number(top_ff, &q), fl: number(top_fl, &z) }
}

/// The standard by which rows of heights are reckoned.
#[must_use]
pub const fn flatness_method(units: Units) -> &'static str {
    match units {
        Units::Us => "ASTM E1155",
        Units::Metric => "ASTM E1155M",
    }
}

/// Curvatures q (second differences) and 10-ft elevation differences z of a row, in its unit
/// (ASTM E1155).
#[must_use]
pub fn e_numbers(heights: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let d: Vec<f64> = heights.windows(2).map(|h| h[1] - h[0]).collect();
    let q = d.windows(2).map(|d| d[1] - d[0]).collect();
    let z = heights.windows(LEVEL_BASE + 1).map(|h| h[LEVEL_BASE] - h[0]).collect();
    (q, z)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Heights in mm at 300 mm of the SLAC SPEAR3 test pad survey, 5 May 2003 (ASTM E1155M), and
    /// the q-values its own sheet lists.
    const SLAC: [(&[f64], &[f64]); 5] = [
        (
            &[
                418.617, 419.938, 421.894, 423.748, 425.221, 424.739, 423.799, 424.307, 425.425,
                424.688, 423.164, 422.758, 420.472, 416.738,
            ],
            &[
                0.635, -0.102, -0.381, -1.956, -0.457, 1.448, 0.610, -1.854, -0.787, 1.118, -1.880,
                -1.448,
            ],
        ),
        (
            &[
                418.592, 421.081, 422.072, 421.513, 420.040, 421.132, 420.675, 421.640, 421.894,
                421.538, 421.183, 421.894, 419.684, 420.040, 417.982,
            ],
            &[
                -1.499, -1.549, -0.914, 2.565, -1.549, 1.422, -0.711, -0.610, 0.000, 1.067, -2.921,
                2.565, -2.413,
            ],
        ),
        (
            &[
                418.338, 419.659, 419.227, 419.227, 418.668, 418.186, 418.973, 419.379, 420.141,
                419.532, 418.643, 418.719, 416.763, 414.782,
            ],
            &[
                -1.753, 0.432, -0.559, 0.076, 1.270, -0.381, 0.356, -1.372, -0.279, 0.965, -2.032,
                -0.025,
            ],
        ),
        (
            &[
                418.617, 418.973, 419.100, 420.878, 419.989, 419.227, 419.684, 420.751, 420.065,
                421.259, 421.386, 418.846, 419.887, 418.363,
            ],
            &[
                -0.229, 1.651, -2.667, 0.127, 1.219, 0.610, -1.753, 1.880, -1.067, -2.667, 3.581,
                -2.565,
            ],
        ),
        (
            &[
                418.846, 418.135, 418.998, 419.405, 420.294, 420.370, 421.640, 421.259, 422.910,
                423.926, 424.053, 423.164, 422.732, 422.834, 421.513,
            ],
            &[
                1.575, -0.457, 0.483, -0.813, 1.194, -1.651, 2.032, -0.635, -0.889, -1.016, 0.457,
                0.533, -1.422,
            ],
        ),
    ];

    /// Vectors V-E1 and V-E2.
    #[test]
    fn curvatures_of_the_slac_survey_are_its_own() {
        for (line, (heights, listed)) in SLAC.iter().enumerate() {
            let (q, _) = e_numbers(heights);
            assert_eq!(q.len(), listed.len(), "line {line}");
            for (found, listed) in q.iter().zip(*listed) {
                assert!((found - listed).abs() <= 0.0015, "line {line}: {found} for {listed}");
            }
        }
    }

    /// Vectors V-E3 and V-E4 (formula from memory).
    #[test]
    fn f_numbers_of_the_slac_survey() {
        let (_, z) = e_numbers(SLAC[0].0);
        for (found, listed) in z.iter().zip([4.547, 2.820, -1.422, -7.010]) {
            assert!((found - listed).abs() <= 0.001, "{found} for {listed}");
        }
        let expected =
            [(28.84, 20.21), (20.44, 45.98), (34.63, 39.55), (18.50, 46.65), (32.49, 37.22)];
        for (line, (ff, fl)) in expected.into_iter().enumerate() {
            let heights: Vec<f64> = SLAC[line].0.iter().map(|mm| mm / 1000.0).collect();
            let found = flatness(&heights, Units::Us);
            assert!((found.ff.expect("FF") - ff).abs() <= 0.02, "line {line}: {found:?}");
            assert!((found.fl.expect("FL") - fl).abs() <= 0.02, "line {line}: {found:?}");
            // By the metric formulas, in which the survey was made: 115.8 mm is 4.559 in, 317.5 mm is 12.5 in.
            let metric = flatness(&heights, Units::Metric);
            let (ff, fl) = (ff * 115.8 / (4.57 * 25.4), fl);
            assert!((metric.ff.expect("FF") - ff).abs() <= 0.02, "line {line}: {metric:?}");
            assert!((metric.fl.expect("FL") - fl).abs() <= 0.02, "line {line}: {metric:?}");
            assert!(metric.ff < found.ff, "line {line}");
        }
    }

    /// Vector V-E5 (synthetic; formula from memory).
    #[test]
    fn f_numbers_of_a_synthetic_row() {
        let heights = [
            0.0, 0.03, 0.05, 0.04, 0.06, 0.05, 0.02, 0.03, 0.05, 0.08, 0.06, 0.04, 0.05, 0.02, 0.03,
        ];
        let heights = heights.map(|h| h * M_PER_IN);
        let found = flatness(&heights, Units::Us);
        assert!((found.ff.expect("FF") - 48.26).abs() <= 0.02, "{found:?}");
        assert!((found.fl.expect("FL") - 114.45).abs() <= 0.02, "{found:?}");
        let few = flatness(&heights[..3], Units::Us);
        assert_eq!(few, Flatness { ff: None, fl: None });
    }

    #[test]
    fn a_dip_below_its_neighbours_ponds_and_a_plane_falls_its_way() {
        let mut points = Vec::new();
        for i in 0..5 {
            for j in 0..5 {
                let (x, y) = (f64::from(i), f64::from(j));
                points.push((Point::new(x, y), -0.01 * x));
            }
        }
        let plane = fall(&points).expect("a plane");
        assert!((plane.slope - 0.01).abs() < 1e-12 && plane.direction.x > 0.999);
        assert!(ponding(&points).is_empty());
        points[12].1 -= 0.01;
        assert_eq!(ponding(&points).iter().map(|p| p.0).collect::<Vec<_>>(), [12]);
    }
}
