//! Other ways to do the job, each computed anew from the changed sketch.

use super::build::build_up;
use super::model::{AlternateBuildUp, BuildUp};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, Severity};
use crate::hold::{Code, mitigation_offered};
use crate::quantity::write;
use crate::sketch::{Alternate, At, JointKind, JointTreatment, KindTreatments, Sketch};
use crate::survey::{Survey, survey};
use crate::takeoff::Takeoff;
use crate::work::Facts;

/// The job done the other way, and how much more or less that is.
pub(super) fn alternate(
    floor: &Survey,
    wanted: &Alternate,
    base: &BuildUp,
) -> Result<AlternateBuildUp, Diagnostics> {
    let mut other = changed(floor, wanted)?;
    if let Some(area) = &wanted.area_m2 {
        add_area(&mut other.takeoff, area.value);
        let facts = Facts::new(&other.sketch, &other.slab, &other.takeoff, &other.shop);
        other.order = crate::order::order(&facts);
    }
    let whole = build_up(&other).map_err(|found| about(found, wanted))?;
    Ok(AlternateBuildUp {
        name: wanted.name.value.clone(),
        change: change(wanted, (floor, base), (&other, &whole)),
        difference: whole.price - base.price,
        profile: other.profile(),
        whole,
    })
}

/// What the program prices unasked: moisture mitigation below the system, where tests read over what
/// the system takes and the sketch has no alternate with it.
pub(super) fn own(floor: &Survey) -> Option<Alternate> {
    let sketch = &floor.sketch;
    let asked = sketch.price.alternates.iter().any(|a| a.mitigation);
    if asked || !mitigation_offered(&sketch.coating, &floor.slab, &floor.shop) {
        return None;
    }
    let mut holds = floor.holds.iter();
    let over = holds.find(|hold| hold.code == Code::MoistureOverLimit)?;
    Some(Alternate {
        name: At {
            value: format!("with {}", floor.shop.moisture.mitigation.in_words()),
            span: over.cases.first()?.span,
        },
        system: None,
        mitigation: true,
        treatments: KindTreatments::default(),
        area_m2: None,
    })
}

/// The floor surveyed anew with the changed sketch.
fn changed(floor: &Survey, wanted: &Alternate) -> Result<Survey, Diagnostics> {
    let mut sketch = floor.sketch.clone();
    if wanted.system.is_some() {
        sketch.coating.system.clone_from(&wanted.system);
    }
    sketch.coating.mitigation |= wanted.mitigation;
    treat(&mut sketch, floor, &wanted.treatments);
    survey(sketch, floor.shop.clone(), Vec::new()).map_err(|found| {
        let errors = found.into_iter().filter(|fault| fault.severity == Severity::Error);
        about(errors.collect(), wanted)
    })
}

/// Gives every joint of a kind its other treatment; a joint that is not in the job stays out.
fn treat(sketch: &mut Sketch, floor: &Survey, treatments: &KindTreatments) {
    for joint in &mut sketch.joints {
        let rule = floor.shop.treatments.of(joint.kind.value);
        let other = match joint.kind.value {
            JointKind::Control => treatments.control,
            JointKind::Construction => treatments.construction,
            JointKind::Isolation => treatments.isolation,
        };
        let now = joint.treatment.as_ref().map_or(rule, |t| t.value);
        if let (Some(other), false) = (other, now == JointTreatment::Leave) {
            let span = joint.treatment.as_ref().map_or(joint.id.span, |t| t.span);
            joint.treatment = Some(At { value: other, span });
        }
    }
}

/// Floor beyond the sketch: coated and ground by machine, with no joint, crack or edge of its own.
fn add_area(takeoff: &mut Takeoff, m2: f64) {
    let area = &mut takeoff.area;
    area.gross_m2 += m2;
    area.net_m2 += m2;
    area.coated_m2 += m2;
}

/// Says which alternate a fault comes from.
fn about(found: Diagnostics, wanted: &Alternate) -> Diagnostics {
    let name = &wanted.name;
    found
        .into_iter()
        .map(|fault| {
            let message =
                format!("alternate `{}`: {}", crate::text::excerpt(&name.value), fault.message);
            let fault = Diagnostic { message, ..fault };
            if fault.place.is_none_or(|place| place.span == name.span) {
                return fault.at(name.span);
            }
            fault.related(Place::sketch(name.span), "wanted here")
        })
        .collect()
}

/// What is different, a sentence: what is done otherwise, and what profile and time it takes.
fn change(
    wanted: &Alternate,
    (floor, base): (&Survey, &BuildUp),
    (other, whole): (&Survey, &BuildUp),
) -> String {
    let units = floor.slab.units;
    let mut parts = Vec::new();
    if let Some(system) = &wanted.system {
        parts.push(format!("coating system {}", system.value));
    }
    if wanted.mitigation {
        let layers = other.shop.moisture.mitigation.in_words();
        parts.push(format!(
            "{layers} below the coating, for a slab that is moister than the coating takes alone"
        ));
    }
    let kinds = [
        ("control", wanted.treatments.control),
        ("construction", wanted.treatments.construction),
        ("isolation", wanted.treatments.isolation),
    ];
    for (kind, treatment) in kinds {
        let words = match treatment {
            None => continue,
            Some(JointTreatment::Honor) => "carried through the coating with rod and sealant",
            Some(JointTreatment::Leave) => "left as they are",
            Some(_) => "filled and coated over",
        };
        parts.push(format!("{kind} joints {words}"));
    }
    if let Some(area) = &wanted.area_m2 {
        let area = write::area(area.value, units);
        parts.push(format!("{area} of floor more, ground by machine and coated, without repairs"));
    }
    match (floor.profile(), other.profile()) {
        (was, Some(is)) if was != Some(is) => parts.push(format!("the floor ground to {is}")),
        _ => {}
    }
    let days = whole.days.abs_diff(base.days);
    let more = if whole.days > base.days { "more" } else { "less" };
    match days {
        0 => {}
        1 => parts.push(format!("1 working day {more}")),
        _ => parts.push(format!("{days} working days {more}")),
    }
    let text = parts.join("; ");
    let mut chars = text.chars();
    chars
        .next()
        .map_or(String::new(), |first| format!("{}{}.", first.to_uppercase(), chars.as_str()))
}
