//! Steps between panels: what is taken down by hand, and the band it leaves on the floor.

use kurbo::{Point, Vec2};

use super::{LippageWork, StepStretch};
use crate::geometry::region::{Region, counter_clockwise};
use crate::shop::Shop;
use crate::sketch::Hand;
use crate::slab::Lippage;

/// A step this little under the limit by rounding reaches it, m.
const GUARD: f64 = 1e-9;

/// Work on one step.
///
/// Between readings the step runs straight; beyond the first and last, and beside a reading that
/// could not be taken, there is none. A stretch of length d with steps a and b at its ends has,
/// at a feather of f : 1, a band of f·d·(a+b)/2 and a wedge of f/2·d·(a²+ab+b²)/3.
pub(super) fn step(record: &Lippage, shop: &Shop) -> LippageWork {
    let feather = shop.grinding.feather;
    let stretches = stretches(&record.readings, shop.grinding.hand_from.m());
    let (mut length, mut area, mut removed) = (0.0, 0.0, 0.0);
    for s in &stretches {
        let d = s.to_m - s.from_m;
        let (a, b) = (s.step_from_mm / 1000.0, s.step_to_mm / 1000.0);
        length += d;
        area += feather * d * (a + b) / 2.0;
        removed += feather / 2.0 * d * (a * a + a * b + b * b) / 3.0;
    }
    let steps = record.readings.iter().filter_map(|r| r.1);
    LippageWork {
        id: record.id.clone(),
        max_step_mm: steps.fold(0.0, f64::max) * 1000.0,
        hand_length_m: length,
        hand_area_m2: area,
        removed_l: removed * 1000.0,
        band: stretches
            .iter()
            .flat_map(|s| band(record, s, feather))
            .collect(),
        stretches,
    }
}

/// The stretches on which the profile stands at or above `limit`, cut exactly where it crosses.
fn stretches(readings: &[(f64, Option<f64>)], limit: f64) -> Vec<StepStretch> {
    let limit = limit - GUARD;
    let mut out = Vec::new();
    for pair in readings.windows(2) {
        let [(s0, Some(h0)), (s1, Some(h1))] = [pair[0], pair[1]] else {
            continue;
        };
        if s1 <= s0 || h0.max(h1) < limit {
            continue;
        }
        let cross = |h: f64| s0 + (limit + GUARD - h0) / (h - h0) * (s1 - s0);
        let (from_m, a) = if h0 >= limit {
            (s0, h0)
        } else {
            (cross(h1), limit + GUARD)
        };
        let (to_m, b) = if h1 >= limit {
            (s1, h1)
        } else {
            (cross(h1), limit + GUARD)
        };
        if to_m > from_m {
            let (step_from_mm, step_to_mm) = (a * 1000.0, b * 1000.0);
            out.push(StepStretch {
                from_m,
                to_m,
                step_from_mm,
                step_to_mm,
            });
        }
    }
    out
}

/// The band of one stretch: a quadrilateral per straight piece on the high side, a fan at bends
/// that open towards it.
fn band(record: &Lippage, stretch: &StepStretch, feather: f64) -> Vec<Vec<Point>> {
    let length = stretch.to_m - stretch.from_m;
    let part = record.path.part(stretch.from_m, stretch.to_m).flatten();
    let wide = |station: f64| {
        let share = station / length;
        let step = stretch.step_from_mm + share * (stretch.step_to_mm - stretch.step_from_mm);
        feather * step / 1000.0
    };
    let sign = if record.high == Hand::Left { 1.0 } else { -1.0 };
    let side = |a: Point, b: Point| {
        let unit = (b - a).normalize();
        sign * Vec2::new(-unit.y, unit.x)
    };
    let mut out = Vec::new();
    let mut before: Option<Vec2> = None;
    for pair in part.windows(2) {
        let (a, b) = (pair[0].point, pair[1].point);
        let n = side(a, b);
        let (wa, wb) = (wide(pair[0].station), wide(pair[1].station));
        if let Some(last) = before {
            out.extend(fan(a, last, n, wa, sign));
        }
        out.push(vec![a, b, b + wb * n, a + wa * n]);
        before = Some(n);
    }
    out
}

/// The wedge between two directions at a bend, empty where the bend closes on the high side.
fn fan(at: Point, from: Vec2, to: Vec2, radius: f64, sign: f64) -> Option<Vec<Point>> {
    let turn = from.cross(to).atan2(from.dot(to));
    if turn * sign >= -1e-9 {
        return None;
    }
    let steps = ((turn.abs() / 0.05).ceil() as usize).max(1);
    let start = from.atan2();
    let mut points = vec![at];
    for i in 0..=steps {
        let angle = start + turn * i as f64 / steps as f64;
        points.push(at + radius * Vec2::from_angle(angle));
    }
    Some(points)
}

/// All bands as they lie on the floor: merged, and clipped to K.
pub(super) fn on_floor(steps: &[LippageWork], net: &Region) -> Region {
    let pieces = steps
        .iter()
        .flat_map(|s| &s.band)
        .map(|ring| Region::from_rings(&[counter_clockwise(ring.clone())]));
    Region::union_all(pieces.collect()).intersection(net)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::M_PER_IN;

    #[test]
    fn stretches_are_cut_where_the_profile_crosses() {
        let inch = |x: f64| x * M_PER_IN;
        let foot = |x: f64| x * 12.0 * M_PER_IN;
        // The readings of the format's example: 1/16, 3/16, 1/4, 1/8 at 0, 4, 6, 9 ft.
        let readings = [
            (0.0, Some(inch(1.0 / 16.0))),
            (foot(4.0), Some(inch(3.0 / 16.0))),
            (foot(6.0), Some(inch(0.25))),
            (foot(9.0), Some(inch(0.125))),
        ];
        let found = stretches(&readings, inch(3.0 / 16.0));
        assert_eq!(found.len(), 2);
        assert!((found[0].from_m - foot(4.0)).abs() < 1e-6);
        assert!((found[1].to_m - foot(7.5)).abs() < 1e-9);
    }

    #[test]
    fn a_reading_that_could_not_be_taken_breaks_the_profile() {
        let readings = [
            (0.0, Some(0.01)),
            (1.0, None),
            (2.0, Some(0.01)),
            (3.0, Some(0.01)),
        ];
        let found = stretches(&readings, 0.005);
        assert_eq!(
            found.iter().map(|s| (s.from_m, s.to_m)).collect::<Vec<_>>(),
            [(2.0, 3.0)]
        );
    }
}
