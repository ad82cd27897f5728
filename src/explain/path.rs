//! What runs along the floor: where it is counted, and what the takeoff says of it.

use super::{Explanations, Say};
use crate::slab::{Crack, Joint, Lippage, Stretch};
use crate::takeoff::{JointWork, cracks, joints, lippage};

impl Explanations<'_> {
    pub(super) fn joint(&self, work: &JointWork, record: &Joint) -> Vec<String> {
        let say = self.say;
        let mut lines = self.hear(|f, told| joints::treatment(record, &f.shop, told));
        let whole = record.path.length();
        lines.push(runs(say, &work.id, work.length_m, whole, &record.in_scope));
        if !record.gaps.is_empty() {
            lines.push(format!(
                "{} of it ({}) lies inside what it ends at (ends_at): no joint is there.",
                say.length(record.gaps.iter().map(Stretch::length).sum()),
                say.stations(&record.gaps)
            ));
        }
        lines.extend(record.on_top.iter().map(|(stretch, other)| lies_on(say, stretch, other)));
        if work.length_m != 0.0 {
            lines.extend(joints::told(&self.floor.slab, record, &self.floor.shop, say));
        }
        lines
    }

    pub(super) fn crack(&self, length_m: f64, record: &Crack) -> Vec<String> {
        let say = self.say;
        let whole = record.path.length();
        let mut lines = vec![runs(say, &record.id, length_m, whole, &record.in_scope)];
        let on = record.on_top.iter();
        lines.extend(on.map(|(stretch, other)| lies_on(say, stretch, other)));
        if length_m != 0.0 {
            lines.extend(self.hear(|f, told| cracks::crack(record, &f.shop, told)));
        }
        lines
    }

    pub(super) fn step(&self, record: &Lippage) -> Vec<String> {
        let say = self.say;
        let along = record.along.as_ref().map(|id| format!(" along {id}")).unwrap_or_default();
        let one = |&(station, step): &(f64, Option<f64>)| {
            let step = step.map_or("not read".to_owned(), |step| say.small(step));
            format!("{} ({step})", say.station(station))
        };
        let readings = record.readings.iter().map(one).collect::<Vec<_>>().join(", ");
        let mut lines = vec![format!("{}{along} was read at {readings}.", record.id)];
        lines.extend(self.hear(|f, told| lippage::step(record, &f.shop, told)));
        lines
    }
}

/// How much of a path is counted, and where.
fn runs(say: Say, id: &str, counted: f64, whole: f64, in_scope: &[Stretch]) -> String {
    let (counted, drawn) = (say.length(counted), say.station(whole));
    match in_scope {
        [] => format!("{id} is drawn {drawn} long; nothing of it is counted on the coated floor."),
        [one] if one.from_m == 0.0 && one.to_m == whole => {
            format!("{id} runs {counted}, all of it on the coated floor.")
        }
        _ => format!(
            "{id} runs {counted} on the coated floor: stations {} of a path {drawn} long.",
            say.stations(in_scope)
        ),
    }
}

/// What of a line is counted for another one.
fn lies_on(say: Say, stretch: &Stretch, other: &str) -> String {
    format!(
        "{} of it ({}) lies on {other} and is counted there.",
        say.length(stretch.length()),
        say.stations(std::slice::from_ref(stretch)),
    )
}
