//! The stops and cautions that one floor calls for, and no others. They defer to product data sheets, local code and a licensed engineer.

use crate::diagnostic::{Diagnostic, Severity};
use crate::sketch::{Movement, PostTension, Treatment};

use super::Inputs;
use super::flow::Notes;
use super::words;

/// A caution: first words and the rest.
type Caution = (String, String);

/// What must be cleared before the work starts; `None` where nothing is.
#[must_use]
pub fn stops(inputs: &Inputs) -> Option<Notes> {
    let stops: Vec<&Diagnostic> = inputs
        .takeoff
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Stop)
        .collect();
    let mut codes: Vec<&str> = stops.iter().map(|s| s.code).collect();
    codes.dedup();
    let mut seen: Vec<&str> = Vec::new();
    let mut paragraphs = Vec::new();
    for code in codes {
        if seen.contains(&code) {
            continue;
        }
        seen.push(code);
        let same: Vec<&Diagnostic> = stops.iter().copied().filter(|s| s.code == code).collect();
        paragraphs.push(stop(&same));
    }
    (!paragraphs.is_empty()).then(|| Notes {
        title: "STOP: CLEAR THIS BEFORE WORK STARTS".into(),
        paragraphs,
        framed: true,
    })
}

/// Stops of one kind in one paragraph.
fn stop(same: &[&Diagnostic]) -> Caution {
    let ids: Vec<&str> = same.iter().filter_map(|s| s.item.as_deref()).collect();
    let Some(first) = same.first() else {
        return Caution::default();
    };
    let hint = first.hint.as_deref().unwrap_or("");
    if first.code == "post-tension" {
        return (format!("Post-tensioned slab: {}", named(&ids)), "Stamped as post-tensioned. A cut tendon can kill: do not cut before the tendons are located and a licensed engineer agrees.".into());
    }
    let mut said: Vec<String> = same
        .iter()
        .take(MOST_SAID)
        .map(|s| words::clean(&s.message))
        .collect();
    if same.len() > MOST_SAID {
        said.push(format!("{} more like these", same.len() - MOST_SAID));
    }
    (
        named(&ids),
        format!("{}. {}.", said.join("; "), capital(hint)),
    )
}

/// Most stops of one kind that are said in full; the heading names the items of more.
const MOST_SAID: usize = 12;

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// Cautions for the crew.
#[must_use]
pub fn cautions(inputs: &Inputs) -> Option<Notes> {
    let mut out = Vec::new();
    out.extend(dust(inputs));
    out.extend(hidden(inputs));
    out.extend(moving(inputs));
    out.extend(engineer(inputs));
    out.extend(steps(inputs));
    out.extend(buried(inputs));
    out.extend(resins(inputs));
    (!out.is_empty()).then(|| Notes {
        title: "CAUTIONS".into(),
        paragraphs: out,
        framed: false,
    })
}

/// Ids for the head of a caution. Of very many, the first ones: a paragraph has to fit on a sheet, and the schedules say of
/// every item what it is.
fn named(ids: &[&str]) -> String {
    const MOST: usize = 100;
    match ids.len().checked_sub(MOST) {
        None | Some(0) => ids.join(", "),
        Some(more) => format!("{} and {more} more", ids[..MOST].join(", ")),
    }
}

fn caution(lead: &str, rest: impl Into<String>) -> Caution {
    (lead.to_owned(), rest.into())
}

/// 29 CFR 1926.1153: Table 1 and its housekeeping paragraph.
fn dust(inputs: &Inputs) -> Option<Caution> {
    let cuts = inputs.takeoff.totals.chase_m > 0.0 || !inputs.takeoff.patches.is_empty();
    let grinds = inputs.takeoff.area.net_m2 > 0.0;
    (cuts || grinds).then(|| {
        caution(
            "Silica dust",
            "Shroud and vacuum on grinders, water on saws. Respirators by 29 CFR 1926.1153 Table 1; dry sawing is not in it: assess exposure. \
             Vacuum, never blow or sweep dry. Eyes and ears covered.",
        )
    })
}

fn hidden(inputs: &Inputs) -> Vec<Caution> {
    let mut out = Vec::new();
    let cuts = inputs.takeoff.totals.chase_m > 0.0 || !inputs.takeoff.patches.is_empty();
    if cuts && inputs.slab.post_tension.0 == PostTension::Unknown {
        out.push(caution(
            "Tendons not ruled out",
            "Nobody noted whether the slab is post-tensioned. Look for a stamp or pocket plugs and ask the owner before the first cut.",
        ));
    }
    if cuts {
        for service in &inputs.slab.embedded {
            let cover = service.cover.map_or("cover not noted".to_owned(), |c| {
                format!(
                    "{} below the surface",
                    crate::quantity::write::small(c, inputs.slab.units)
                )
            });
            out.push(caution(
                &format!("In the slab: {}", words::clean(&service.what)),
                format!("{}. Locate it before cutting.", capital(&cover)),
            ));
        }
    }
    out
}

fn moving(inputs: &Inputs) -> Vec<Caution> {
    let mut out = Vec::new();
    let honored: Vec<&str> = inputs
        .takeoff
        .joints
        .iter()
        .filter(|j| j.treatment == Treatment::Honor && j.length_m > 0.0)
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

fn engineer(inputs: &Inputs) -> Option<Caution> {
    let wanted = inputs
        .takeoff
        .findings
        .iter()
        .filter(|f| f.code == "engineer-wanted");
    let mut ids: Vec<&str> = wanted.filter_map(|f| f.item.as_deref()).collect();
    ids.dedup();
    (!ids.is_empty()).then(|| {
        caution(
            &format!("Engineer: {}", named(&ids)),
            "A licensed engineer's opinion is wanted before this is coated over.",
        )
    })
}

fn steps(inputs: &Inputs) -> Option<Caution> {
    let ids: Vec<&str> = inputs
        .takeoff
        .lippage
        .iter()
        .filter(|l| l.stretches.iter().any(super::plan::has_length))
        .map(|l| &*l.id)
        .collect();
    (!ids.is_empty()).then(|| {
        caution(
            &format!("Before the floor grinder: {}", named(&ids)),
            "Take these steps down by hand first: a high edge tears off segments and throws them.",
        )
    })
}

fn buried(inputs: &Inputs) -> Option<Caution> {
    let ids: Vec<&str> = inputs
        .takeoff
        .joints
        .iter()
        .filter(|j| j.buried_m > 0.0)
        .map(|j| &*j.id)
        .collect();
    (!ids.is_empty()).then(|| {
        caution(
            &format!("Buried: {}", named(&ids)),
            "Find the joint's true edges and open them before anything else is cut.",
        )
    })
}

fn resins(inputs: &Inputs) -> Option<Caution> {
    let work = inputs.takeoff.area.coated_m2 > 0.0;
    work.then(|| {
        caution(
            "Resins and vapors",
            "Amines and isocyanates sensitize skin and lungs: protect as each data sheet says. Pilot lights out before anything with vapor is opened. \
             Data sheets and local code go before this sheet.",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_very_many_items_the_first_are_named_and_the_rest_counted() {
        let ids: Vec<String> = (1..=250).map(|n| format!("J{n}")).collect();
        let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
        assert_eq!(named(&ids[..2]), "J1, J2");
        assert!(named(&ids[..100]).ends_with("J99, J100"));
        assert!(named(&ids).ends_with("J99, J100 and 150 more"));
        let stop =
            |n: usize| Diagnostic::error("kind", format!("J{n} is hot")).item(format!("J{n}"));
        let many: Vec<Diagnostic> = (1..=30).map(stop).collect();
        let (lead, rest) = super::stop(&many.iter().collect::<Vec<_>>());
        assert!(lead.ends_with("J30"));
        assert!(rest.contains("J12 is hot; 18 more like these. "), "{rest}");
    }
}
