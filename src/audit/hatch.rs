//! Distance of parallel hatch lines.

use super::read::{Drawing, Shape, mm, shown};
use super::{Code, LEAST_HATCH, Report};
use crate::ink::PaperPoint;
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Differences smaller than this, mm, are rounding; lines nearer than this are pieces of one line.
const ROUNDING: f64 = 0.01;

/// Steps of direction in half a turn: lines within half a degree count as parallel.
const STEPS: f64 = 180.0;

/// A hatch line as its distance from the sheet's corner and its range along its own direction.
struct Ruling {
    offset: f64,
    from: f64,
    to: f64,
}

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    let mut hatches: BTreeMap<(usize, i64), Vec<Ruling>> = BTreeMap::new();
    for shape in drawing.shapes.iter().filter(|s| is_ruled(drawing, s)) {
        for pair in shape.runs.iter().flat_map(|run| run.windows(2)) {
            let direction = direction(pair[0], pair[1]);
            hatches
                .entry((shape.place, direction))
                .or_default()
                .push(ruling(pair[0], pair[1], direction));
        }
    }
    for ((place, _), mut rulings) in hatches {
        rulings.sort_by(|a, b| a.offset.total_cmp(&b.offset));
        if let Some(gap) = least_gap(&rulings).filter(|gap| *gap < LEAST_HATCH - ROUNDING) {
            let id = drawing.place(place).id.as_str();
            let message = format!(
                "hatch lines of {} are {} apart, less than {}",
                shown(id),
                mm(gap),
                mm(LEAST_HATCH)
            );
            report.fault(Code::CloseHatch, &[id], message);
        }
    }
}

/// Whether a mark is a hatch of straight lines, not of dots.
fn is_ruled(drawing: &Drawing, shape: &Shape) -> bool {
    drawing.place(shape.place).hatch && shape.straight && shape.stroke.is_some()
}

/// Direction of a line in steps, the same for both ways.
fn direction(a: PaperPoint, b: PaperPoint) -> i64 {
    let angle = (b.y - a.y).atan2(b.x - a.x).rem_euclid(PI);
    ((angle / PI * STEPS).round() % STEPS) as i64
}

fn ruling(a: PaperPoint, b: PaperPoint, direction: i64) -> Ruling {
    let (sin, cos) = (direction as f64 * PI / STEPS).sin_cos();
    let along = |p: PaperPoint| p.x * cos + p.y * sin;
    let across = |p: PaperPoint| p.y * cos - p.x * sin;
    Ruling {
        offset: (across(a) + across(b)) / 2.0,
        from: along(a).min(along(b)),
        to: along(a).max(along(b)),
    }
}

/// Least distance of two lines that run beside each other; `None` if none do.
fn least_gap(rulings: &[Ruling]) -> Option<f64> {
    let mut least: Option<f64> = None;
    for (n, one) in rulings.iter().enumerate() {
        let near = rulings[n + 1..].iter().take_while(|two| two.offset - one.offset < LEAST_HATCH);
        let beside =
            near.filter(|two| two.from < one.to - ROUNDING && one.from < two.to - ROUNDING);
        let gaps = beside.map(|two| two.offset - one.offset).filter(|gap| *gap > ROUNDING);
        least = gaps.chain(least).min_by(f64::total_cmp);
    }
    least
}
