//! What runs along the floor: where it is counted, and what the takeoff says of it.

use super::{Floor, Say, Told};
use crate::sketch::JointKind;
use crate::slab::{Crack, Joint, Lippage, Stretch};
use crate::takeoff::{JointWork, cracks, joints, lippage};

pub(super) fn joint(floor: &Floor, work: &JointWork, record: &Joint) -> Vec<String> {
    let say = floor.say;
    let mut lines = vec![what(floor, work, record)];
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
        lines.extend(joints::told(floor.slab, record, floor.shop, say));
    }
    lines
}

fn what(floor: &Floor, work: &JointWork, record: &Joint) -> String {
    let (kind, treatment) = (work.kind.word(), work.treatment().word());
    let by_rule = floor.shop.treatments.of(work.kind);
    let a = if work.kind == JointKind::Isolation { "an" } else { "a" };
    let rule = match record.treatment {
        Some(_) if by_rule == work.treatment() => "as the sketch says".to_owned(),
        Some(_) => {
            format!("as the sketch says (treatments.{kind} would be {})", by_rule.word())
        }
        None => {
            return format!("{} is {a} {kind} joint: {treatment} (treatments.{kind}).", work.id);
        }
    };
    format!("{} is {a} {kind} joint: {treatment}, {rule}.", work.id)
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

pub(super) fn crack(floor: &Floor, length_m: f64, record: &Crack) -> Vec<String> {
    let say = floor.say;
    let whole = record.path.length();
    let mut lines = vec![runs(say, &record.id, length_m, whole, &record.in_scope)];
    let on = record.on_top.iter();
    lines.extend(on.map(|(stretch, other)| lies_on(say, stretch, other)));
    if length_m != 0.0 {
        lines.extend(Told::by(say, |told| cracks::crack(record, floor.shop, told)));
    }
    lines
}

pub(super) fn step(floor: &Floor, record: &Lippage) -> Vec<String> {
    let say = floor.say;
    let along = record.along.as_ref().map(|id| format!(" along {id}")).unwrap_or_default();
    let one = |&(station, step): &(f64, Option<f64>)| {
        let step = step.map_or("not read".to_owned(), |step| say.small(step));
        format!("{} ({step})", say.station(station))
    };
    let readings = record.readings.iter().map(one).collect::<Vec<_>>().join(", ");
    let mut lines = vec![format!("{}{along} was read at {readings}.", record.id)];
    lines.extend(Told::by(say, |told| lippage::step(record, floor.shop, told)));
    lines
}
