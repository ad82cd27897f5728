//! Steps between panels: what is taken down by hand, and the band it leaves on the floor.

use kurbo::{Point, Vec2};

use super::told::{Say, Show, Told};
use super::{LippageWork, StepStretch};
use crate::geometry::path::Segment;
use crate::geometry::region::{Region, counter_clockwise};
use crate::quantity::write;
use crate::shop::Shop;
use crate::sketch::Hand;
use crate::slab::Lippage;
use crate::trade::words::OFFSET;

/// A step this little under the limit by rounding reaches it, m.
const GUARD: f64 = 1e-9;
/// Arcs of a band are flattened to steps no wider than this, radians: its area is then short by 6 parts in a million.
const ARC_STEP: f64 = 0.006;

/// Work on one step.
///
/// Between readings the step runs straight; beyond the first and last, and beside a reading that
/// could not be taken, there is none. A stretch of length d with steps a and b at its ends has,
/// at a feather of f : 1, a band of f·d·(a+b)/2 and a wedge of f/2·d·(a²+ab+b²)/3.
pub(crate) fn step(record: &Lippage, shop: &Shop, told: &mut Told) -> LippageWork {
    let (feather, limit) = (shop.grinding.feather, shop.grinding.hand_from.m());
    let stretches = stretches(&record.readings, limit);
    let steps = record.readings.iter().filter_map(|reading| reading.1);
    let highest = steps.fold(0.0, f64::max);
    told.line(|say| {
        let limit = say.small(limit);
        format!(
            "Between readings the {OFFSET} runs straight; it is taken down by hand where it is at least {limit} (grinding.hand_from)."
        )
    });
    told.line(|say| {
        if stretches.is_empty() {
            let highest = say.small(highest);
            return format!(
                "The highest {OFFSET} read, {highest}, is below that: the floor grinder takes it."
            );
        }
        let feather = write::trimmed(feather, 2);
        format!("The high side is feathered at 1:{feather} (grinding.feather).")
    });
    let parts: Vec<Part> = stretches.iter().map(|s| Part::new(s, feather, told)).collect();
    let mut in_all = |what: &str, part: fn(&Part) -> f64, [show, whole]: [Show; 2]| {
        let all: f64 = parts.iter().map(part).sum::<f64>() + 0.0;
        if !parts.is_empty() {
            told.line(|say| {
                let parts: Vec<String> = parts.iter().map(|p| show(say, part(p))).collect();
                format!("{what} = {} = {}.", parts.join(" + "), whole(say, all))
            });
        }
        all
    };
    LippageWork {
        id: record.id.clone(),
        max_step_mm: highest * 1000.0,
        hand_length_m: in_all("By hand", |part| part.length_m, [Say::length; 2]),
        hand_area_m2: in_all("Band in all", |part| part.band_m2, [Say::spot; 2]),
        removed_l: in_all("Concrete removed in all", |p| p.removed_l, [Say::cubic, Say::solid]),
        band: stretches.iter().flat_map(|s| band(record, s, feather)).collect(),
        stretches,
    }
}

/// What one stretch adds.
struct Part {
    length_m: f64,
    band_m2: f64,
    removed_l: f64,
}

impl Part {
    fn new(stretch: &StepStretch, feather: f64, told: &mut Told) -> Self {
        let length_m = stretch.to_m - stretch.from_m;
        let (a, b) = (stretch.step_from_mm / 1000.0, stretch.step_to_mm / 1000.0);
        let band_m2 = feather * length_m * (a + b) / 2.0;
        let removed_l = feather / 2.0 * length_m * (a * a + a * b + b * b) / 3.0 * 1000.0;
        told.line(|say| {
            let (f, half) = (write::trimmed(feather, 2), write::trimmed(feather / 2.0, 2));
            let (d, a, b) = (say.length(length_m), say.small(a), say.small(b));
            format!(
                "Stations {} to {}: band = {f} × {d} × ({a} + {b}) / 2 = {}; removed = {half} × {d} × (({a})² + {a} × {b} + ({b})²) / 3 = {}.",
                say.station(stretch.from_m),
                say.station(stretch.to_m),
                say.spot(band_m2),
                say.cubic(removed_l)
            )
        });
        Self { length_m, band_m2, removed_l }
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
        let (from_m, a) = if h0 >= limit { (s0, h0) } else { (cross(h1), limit + GUARD) };
        let (to_m, b) = if h1 >= limit { (s1, h1) } else { (cross(h1), limit + GUARD) };
        if to_m > from_m {
            let (step_from_mm, step_to_mm) = (a * 1000.0, b * 1000.0);
            out.push(StepStretch { from_m, to_m, step_from_mm, step_to_mm });
        }
    }
    out
}

/// The band of one stretch: a quadrilateral per straight piece on the high side, many narrow ones along an arc, a fan at
/// bends that open towards it.
fn band(record: &Lippage, stretch: &StepStretch, feather: f64) -> Vec<Vec<Point>> {
    let length = stretch.to_m - stretch.from_m;
    let part = record.path.part(stretch.from_m, stretch.to_m);
    let wide = |station: f64| {
        let share = station / length;
        let step = stretch.step_from_mm + share * (stretch.step_to_mm - stretch.step_from_mm);
        feather * step / 1000.0
    };
    let sign = if record.high == Hand::Left { 1.0 } else { -1.0 };
    let mut out = Vec::new();
    let mut before: Option<Vec2> = None;
    for (segment, stations) in part.segments().iter().zip(part.stations().windows(2)) {
        let ribs = ribs(segment, sign);
        let station = |share: f64| stations[0] + share * (stations[1] - stations[0]);
        let far = |rib: &Rib| rib.at + wide(station(rib.share)).min(rib.most) * rib.normal;
        if let (Some(last), Some(first)) = (before, ribs.first()) {
            out.extend(fan(first.at, last, first.normal, wide(station(first.share)), sign));
        }
        out.extend(ribs.windows(2).map(|r| vec![r[0].at, r[1].at, far(&r[1]), far(&r[0])]));
        before = ribs.last().map(|rib| rib.normal);
    }
    out
}

/// A place on a path and the direction across it, to the high side.
struct Rib {
    at: Point,
    /// Share of the segment.
    share: f64,
    normal: Vec2,
    /// How wide a band can be here: on the inside of an arc as far as its center.
    most: f64,
}

/// Where a segment begins and ends, and on an arc steps of no more than [`ARC_STEP`] between. The direction is the arc's own:
/// that of a chord is not square to the arc at its ends, and a wide band shows it.
fn ribs(segment: &Segment, sign: f64) -> Vec<Rib> {
    let (steps, most) = match segment {
        Segment::Line { .. } => (1, f64::INFINITY),
        Segment::Arc(arc) => {
            let steps = (arc.sweep.abs() / ARC_STEP).ceil().max(1.0) as usize;
            let inside = arc.sweep * sign > 0.0;
            (steps, if inside { arc.radius } else { f64::INFINITY })
        }
    };
    (0..=steps)
        .map(|i| {
            let share = i as f64 / steps as f64;
            let along = segment.tangent(share);
            Rib {
                at: segment.point(share),
                share,
                normal: sign * Vec2::new(-along.y, along.x),
                most,
            }
        })
        .collect()
}

/// The wedge between two directions at a bend, empty where the bend closes on the high side.
fn fan(at: Point, from: Vec2, to: Vec2, radius: f64, sign: f64) -> Option<Vec<Point>> {
    let turn = from.cross(to).atan2(from.dot(to));
    if turn * sign >= -1e-9 {
        return None;
    }
    let steps = ((turn.abs() / ARC_STEP).ceil() as usize).max(1);
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
    use crate::geometry::path::Path;
    use crate::quantity::M_PER_IN;
    use crate::sketch::Span;

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
        let readings = [(0.0, Some(0.01)), (1.0, None), (2.0, Some(0.01)), (3.0, Some(0.01))];
        let found = stretches(&readings, 0.005);
        assert_eq!(found.iter().map(|s| (s.from_m, s.to_m)).collect::<Vec<_>>(), [(2.0, 3.0)]);
    }

    /// On an arc of radius R a band as wide as w has w ± w²/2R for each length of the arc, more outside and less inside.
    #[test]
    fn a_band_along_an_arc_has_the_area_of_the_ring() {
        use crate::geometry::path::Arc;
        for (high, sign) in [(Hand::Left, -1.0), (Hand::Right, 1.0)] {
            for radius in [0.3, 0.9, 4.0] {
                // Counter-clockwise, so that its inside is on the left.
                let at = |turn: f64| Point::new(radius * turn.cos(), radius * turn.sin());
                let arc = Arc::through(at(0.0), at(0.8), at(1.6)).expect("an arc");
                let (from, to) = (0.31 * radius, 1.27 * radius);
                let record = Lippage {
                    id: "L1".into(),
                    along: None,
                    path: Path::new(vec![Segment::Arc(arc)]),
                    high,
                    readings: vec![(from, Some(0.006)), (to, Some(0.012))],
                    note: None,
                    span: Span::default(),
                };
                let stretch = stretches(&record.readings, 0.004)[0];
                let pieces = band(&record, &stretch, 12.0);
                let pieces =
                    pieces.into_iter().map(|ring| Region::from_rings(&[counter_clockwise(ring)]));
                let area = Region::union_all(pieces.collect()).area();
                let (a, b): (f64, f64) = (12.0 * 0.006, 12.0 * 0.012);
                let length = to - from;
                let exact = length * (a + b) / 2.0
                    + sign * length * (a * a + a * b + b * b) / 3.0 / (2.0 * radius);
                assert!(
                    (area - exact).abs() <= 1e-5 * exact,
                    "{high:?} {radius}: {area} for {exact}"
                );
            }
        }
    }

    /// Inside an arc narrower than the band, the band ends at the center.
    #[test]
    fn a_band_inside_a_narrow_arc_ends_at_its_center() {
        use crate::geometry::path::Arc;
        let at = |turn: f64| Point::new(0.1 * turn.cos(), 0.1 * turn.sin());
        let arc = Arc::through(at(0.0), at(0.8), at(1.6)).expect("an arc");
        let ribs = ribs(&Segment::Arc(arc), 1.0);
        assert!(ribs.iter().all(|rib| (rib.most - 0.1).abs() < 1e-12));
        let centers = ribs.iter().map(|rib| rib.at + rib.most * rib.normal);
        assert!(centers.into_iter().all(|c| c.to_vec2().hypot() < 1e-9));
    }
}
