//! The holds and cautions that one floor calls for, and no others. They defer to product data sheets, local code and a licensed engineer.

mod dust;
mod products;

use crate::hold::say::{HEAD, named};
use crate::hold::{Code, Hold};
use crate::sketch::{Movement, Site};

use super::Inputs;
use super::flow::{Content, Notes};
use crate::paper::words;

/// A caution: first words and the rest.
type Caution = (String, String);

/// Longest text in one frame, characters: a frame is not broken, and a sheet may end between two.
const MOST_FRAMED: usize = 1200;
/// Head of a frame that has no room for more; it stands beside the text.
const SHORT: &str = "HOLD";

/// What must be cleared before which work: what waits, and until when.
#[must_use]
pub fn orders(holds: &[Hold]) -> Vec<Box<dyn Content>> {
    framed(holds, MOST_FRAMED)
}

/// The same, each in a frame of its own, for columns too short for more.
#[must_use]
pub fn orders_apart(holds: &[Hold]) -> Vec<Box<dyn Content>> {
    framed(holds, 0)
}

fn framed(holds: &[Hold], most: usize) -> Vec<Box<dyn Content>> {
    let mut frames: Vec<Notes> = Vec::new();
    let mut length = 0;
    for hold in holds {
        let (lead, rest) = (hold.lead(), format!("{}.", hold.order()));
        length += lead.len() + rest.len();
        match frames.last_mut() {
            Some(last) if length <= most => last.paragraphs.push((lead, rest)),
            _ => {
                length = lead.len() + rest.len();
                let title = if frames.is_empty() { HEAD } else { SHORT };
                frames.push(Notes {
                    title: title.into(),
                    paragraphs: vec![(lead, rest)],
                    framed: true,
                });
            }
        }
    }
    let boxed = |notes| -> Box<dyn Content> { Box::new(notes) };
    frames.into_iter().map(boxed).collect()
}

/// The same in one frame and short, for a sheet behind the one that says it all.
#[must_use]
pub fn reminder(holds: &[Hold]) -> Option<Box<dyn Content>> {
    let mut paragraphs: Vec<Caution> = holds
        .iter()
        .filter(|hold| !hold.works.is_empty())
        .map(|hold| {
            let works = format!("Do not {} yet", hold.works_in_words());
            (hold.lead(), works)
        })
        .collect();
    let last = paragraphs.len().checked_sub(1)?;
    for (n, (_, works)) in paragraphs.iter_mut().enumerate() {
        works.push_str(if n == last { ": see the first sheet." } else { "." });
    }
    Some(Box::new(Notes { title: SHORT.into(), paragraphs, framed: true }))
}

/// The same where there is no room for more: where it stands.
#[must_use]
pub fn pointer() -> Box<dyn Content> {
    Box::new(Notes {
        title: HEAD.into(),
        paragraphs: vec![caution("", "What is on hold stands on the first sheet.")],
        framed: true,
    })
}

/// Cautions for the crew.
#[must_use]
pub fn cautions(inputs: &Inputs) -> Option<Notes> {
    let mut out = Vec::new();
    out.extend(dust::cautions(inputs));
    out.extend(hidden(inputs));
    out.extend(moving(inputs));
    out.extend(steps(inputs));
    out.extend(buried(inputs));
    out.extend(products::cautions(inputs));
    out.extend(fuel(inputs));
    (!out.is_empty()).then(|| Notes { title: "CAUTIONS".into(), paragraphs: out, framed: false })
}

fn caution(lead: &str, rest: impl Into<String>) -> Caution {
    (lead.to_owned(), rest.into())
}

/// What lies in the slab deeper than any cut comes near; nearer, or at an unknown depth, it is a hold.
fn hidden(inputs: &Inputs) -> Vec<Caution> {
    let cuts = crate::hold::cuts(inputs.slab, inputs.takeoff);
    if cuts.is_empty() {
        return Vec::new();
    }
    let margin = inputs.shop.chase.cover_margin.m();
    let deepest = cuts.iter().map(|cut| cut.depth).fold(0.0, f64::max);
    let services = inputs.slab.embedded.iter();
    services
        .filter_map(|service| Some((service, service.cover?)))
        .filter(|(_, cover)| *cover >= deepest + margin)
        .map(|(service, cover)| {
            let cover = crate::quantity::write::small(cover, inputs.slab.units);
            caution(
                &format!("In the slab: {}", words::clean(&service.what)),
                format!("{cover} below the surface. Locate it before cutting."),
            )
        })
        .collect()
}

fn moving(inputs: &Inputs) -> Vec<Caution> {
    let mut out = Vec::new();
    let honored: Vec<&str> = inputs
        .takeoff
        .joints
        .iter()
        .filter(|j| j.seal().is_some() && j.length_m > 0.0)
        .map(|j| &*j.id)
        .collect();
    if !honored.is_empty() {
        out.push(caution(
            &format!("They move: {}", named(&honored)),
            "Never filled: rod and flexible sealant after the top coat.",
        ));
    }
    let active: Vec<&str> = inputs
        .slab
        .cracks
        .iter()
        .filter(|c| c.movement == Movement::Active)
        .map(|c| &*c.id)
        .collect();
    if !active.is_empty() {
        out.push(caution(
            &format!("Cracks that move: {}", named(&active)),
            "Will show through whatever is laid rigidly over them.",
        ));
    }
    out
}

fn steps(inputs: &Inputs) -> Option<Caution> {
    // A step that grinding does not mend is on hold, and nobody takes it down first.
    let held = |id: &String| {
        let mut high = inputs.holds.iter().filter(|h| h.code == Code::StepHigh);
        high.any(|hold| hold.items.contains(id))
    };
    let ids: Vec<&str> = inputs
        .takeoff
        .lippage
        .iter()
        .filter(|l| l.stretches.iter().any(super::plan::has_length) && !held(&l.id))
        .map(|l| &*l.id)
        .collect();
    (!ids.is_empty()).then(|| {
        caution(
            &format!("Before the floor grinder: {}", named(&ids)),
            "Take these offsets down by hand first: a high edge tears off segments and throws them.",
        )
    })
}

fn buried(inputs: &Inputs) -> Option<Caution> {
    let ids: Vec<&str> =
        inputs.takeoff.joints.iter().filter(|j| j.buried_m > 0.0).map(|j| &*j.id).collect();
    (!ids.is_empty()).then(|| {
        caution(
            &format!("Buried: {}", named(&ids)),
            "Find the joint's true edges and open them before anything else is cut.",
        )
    })
}

/// Engines and heaters that burn fuel: 29 CFR 1926.154 (fresh air for temporary heaters) and NIOSH 96-118 (no gasoline-powered
/// engine inside a building).
fn fuel(inputs: &Inputs) -> Option<Caution> {
    (inputs.coating.site == Site::Indoors).then(|| {
        caution(
            "Carbon monoxide",
            "Has no smell. Generators and other engines stay outdoors, off doors and windows. No machine or heater that burns fuel \
             without its exhaust led outdoors and fresh air coming in; carry an alarm.",
        )
    })
}
