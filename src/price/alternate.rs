//! Other ways to do the job, each computed anew from the changed sketch.

use super::build::build_up;
use super::model::{AlternateBuildUp, BuildUp};
use crate::diagnostic::{Diagnostic, Place, Severity};
use crate::quantity::{Units, write};
use crate::sketch::{Alternate, At, JointKind, KindTreatments, Sketch, Treatment};
use crate::survey::{Survey, survey};
use crate::takeoff::Takeoff;
use crate::work::Facts;

/// The job done the other way, and how much more or less that is.
pub(super) fn alternate(
    floor: &Survey,
    wanted: &Alternate,
    base: &BuildUp,
) -> Result<AlternateBuildUp, Vec<Diagnostic>> {
    let mut other = changed(floor, wanted)?;
    if let Some(area) = &wanted.area_m2 {
        add_area(&mut other.takeoff, area.value);
        let facts = Facts::new(&other.sketch, &other.slab, &other.takeoff, &other.shop);
        other.order = crate::order::order(&facts);
    }
    let whole = build_up(&other).map_err(|found| about(found, wanted))?;
    Ok(AlternateBuildUp {
        name: wanted.name.value.clone(),
        change: change(wanted, floor.slab.units),
        difference: whole.price - base.price,
        whole,
    })
}

/// The floor surveyed anew with the changed sketch.
fn changed(floor: &Survey, wanted: &Alternate) -> Result<Survey, Vec<Diagnostic>> {
    let mut sketch = floor.sketch.clone();
    if wanted.system.is_some() {
        sketch.coating.system.clone_from(&wanted.system);
    }
    treat(&mut sketch, floor, &wanted.treatments);
    survey(sketch, floor.shop.clone(), Vec::new()).map_err(|found| {
        let errors = found
            .into_iter()
            .filter(|fault| fault.severity == Severity::Error);
        about(errors.collect(), wanted)
    })
}

/// Gives every joint of a kind its other treatment; a joint that is not in the job stays out.
fn treat(sketch: &mut Sketch, floor: &Survey, treatments: &KindTreatments) {
    for joint in &mut sketch.joints {
        let (other, rule) = match joint.kind.value {
            JointKind::Control => (treatments.control, floor.shop.treatments.control),
            JointKind::Construction => {
                (treatments.construction, floor.shop.treatments.construction)
            }
            JointKind::Isolation => (treatments.isolation, floor.shop.treatments.isolation),
        };
        let now = joint.treatment.as_ref().map_or(rule, |t| t.value);
        if let (Some(other), false) = (other, now == Treatment::Leave) {
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
fn about(found: Vec<Diagnostic>, wanted: &Alternate) -> Vec<Diagnostic> {
    let name = &wanted.name;
    found
        .into_iter()
        .map(|fault| {
            let message = format!(
                "alternate `{}`: {}",
                crate::yaml::excerpt(&name.value),
                fault.message
            );
            let fault = Diagnostic { message, ..fault };
            if fault.place.is_none_or(|place| place.span == name.span) {
                return fault.at(name.span);
            }
            fault.related(Place::sketch(name.span), "wanted here")
        })
        .collect()
}

/// What is different, a sentence.
fn change(wanted: &Alternate, units: Units) -> String {
    let mut parts = Vec::new();
    if let Some(system) = &wanted.system {
        parts.push(format!("coating system {}", system.value));
    }
    let kinds = [
        ("control", wanted.treatments.control),
        ("construction", wanted.treatments.construction),
        ("isolation", wanted.treatments.isolation),
    ];
    for (kind, treatment) in kinds {
        let words = match treatment {
            None => continue,
            Some(Treatment::Honor) => "carried through the coating with rod and sealant",
            Some(Treatment::Leave) => "left as they are",
            Some(_) => "filled and coated over",
        };
        parts.push(format!("{kind} joints {words}"));
    }
    if let Some(area) = &wanted.area_m2 {
        let area = write::area(area.value, units);
        parts.push(format!(
            "{area} of floor more, ground by machine and coated, without repairs"
        ));
    }
    let text = parts.join("; ");
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| {
        format!("{}{}.", first.to_uppercase(), chars.as_str())
    })
}
