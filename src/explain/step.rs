//! How a step between panels was reckoned.

use super::Floor;
use crate::quantity::write;
use crate::slab::Lippage;
use crate::takeoff::{LippageWork, StepStretch};
use crate::trade::words::OFFSET;

pub(super) fn step(floor: &Floor, work: &LippageWork, record: &Lippage) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.grinding);
    let along = record.along.as_ref().map(|id| format!(" along {id}")).unwrap_or_default();
    let limit = say.small(rules.hand_from.m());
    let mut lines = vec![
        format!("{}{along} was read at {}.", work.id, readings(floor, record)),
        format!(
            "Between readings the {OFFSET} runs straight; it is taken down by hand where it is at least {limit} (grinding.hand_from)."
        ),
    ];
    if work.stretches.is_empty() {
        lines.push(format!(
            "The highest {OFFSET} read, {}, is below that: the floor grinder takes it.",
            say.mm(work.max_step_mm)
        ));
        return lines;
    }
    lines.push(format!(
        "The high side is feathered at 1:{} (grinding.feather).",
        write::trimmed(rules.feather, 2)
    ));
    let parts: Vec<Part> = work.stretches.iter().map(|s| Part::of(s, rules.feather)).collect();
    lines.extend(parts.iter().map(|part| part.line(floor)));
    let add = |show: &dyn Fn(&Part) -> String| {
        let shown: Vec<String> = parts.iter().map(show).collect();
        shown.join(" + ")
    };
    let length = add(&|part| say.length(part.d));
    lines.push(format!("By hand = {length} = {}.", say.length(work.hand_length_m)));
    let area = add(&|part| say.spot(part.area()));
    lines.push(format!("Band in all = {area} = {}.", say.spot(work.hand_area_m2)));
    let removed = add(&|part| say.cubic(part.removed_l()));
    lines.push(format!("Concrete removed in all = {removed} = {}.", say.solid(work.removed_l)));
    lines
}

fn readings(floor: &Floor, record: &Lippage) -> String {
    let say = floor.say;
    let one = |&(station, step): &(f64, Option<f64>)| {
        let step = step.map_or("not read".to_owned(), |step| say.small(step));
        format!("{} ({step})", say.station(station))
    };
    record.readings.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// One stretch: feather f, length d and steps a and b at its ends, m.
struct Part<'a> {
    stretch: &'a StepStretch,
    f: f64,
    d: f64,
    a: f64,
    b: f64,
}

impl<'a> Part<'a> {
    fn of(stretch: &'a StepStretch, feather: f64) -> Self {
        Self {
            stretch,
            f: feather,
            d: stretch.to_m - stretch.from_m,
            a: stretch.step_from_mm / 1000.0,
            b: stretch.step_to_mm / 1000.0,
        }
    }

    /// Band, m².
    fn area(&self) -> f64 {
        self.f * self.d * (self.a + self.b) / 2.0
    }

    /// Concrete removed, L.
    fn removed_l(&self) -> f64 {
        let (a, b) = (self.a, self.b);
        self.f / 2.0 * self.d * (a * a + a * b + b * b) / 3.0 * 1000.0
    }

    fn line(&self, floor: &Floor) -> String {
        let say = floor.say;
        let (f, half) = (write::trimmed(self.f, 2), write::trimmed(self.f / 2.0, 2));
        let (d, a, b) = (say.length(self.d), say.small(self.a), say.small(self.b));
        format!(
            "Stations {} to {}: band = {f} × {d} × ({a} + {b}) / 2 = {}; removed = {half} × {d} × (({a})² + {a} × {b} + ({b})²) / 3 = {}.",
            say.station(self.stretch.from_m),
            say.station(self.stretch.to_m),
            say.spot(self.area()),
            say.cubic(self.removed_l())
        )
    }
}
