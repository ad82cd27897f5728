//! What the customer has to do and to know before, during and after the work; only what this floor calls for.

use crate::diagnostic::{Diagnostic, Severity};
use crate::quantity::write;
use crate::shop::{System, Times};
use crate::sketch::PostTension;

use super::super::Inputs;
use super::super::words;

/// Temperature at which times are given where nobody took the slab's own, °C: 70 °F, the usual room of data sheets.
const ROOM_C: f64 = (70.0 - 32.0) / 1.8;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;
/// Hours from which a time is given in days.
const DAYS_FROM_H: f64 = 48.0;

/// First words and the rest.
pub(crate) type Note = (String, String);

fn note(lead: &str, rest: impl Into<String>) -> Note {
    (lead.to_owned(), rest.into())
}

/// What must be settled before the work starts.
pub(crate) fn stops(inputs: &Inputs) -> Vec<Note> {
    let mut out = Vec::new();
    let stopped = |code: &str| {
        inputs
            .takeoff
            .findings
            .iter()
            .any(|f| f.severity == Severity::Stop && f.code == code)
    };
    if stopped("post-tension") {
        out.push(note(
            "Steel cables under tension.",
            "This slab is stamped as post-tensioned: it holds stretched steel cables. A cut cable can kill. Nobody cuts into the slab before \
             the cables are located and a licensed engineer agrees.",
        ));
    }
    if stopped("chase-cover") {
        let what = services(inputs);
        out.push(note(
            "Lines in the slab.",
            format!(
                "The planned cuts reach {what}. They must be located, and the cuts agreed with you, before anybody saws."
            ),
        ));
    }
    let known = ["post-tension", "chase-cover"];
    let others = inputs
        .takeoff
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Stop && !known.contains(&f.code));
    let mut others: Vec<String> = others.map(|f| words::clean(&f.message)).collect();
    others.sort();
    out.extend(others.into_iter().map(|m| note("Stop.", format!("{m}."))));
    out
}

/// What lies in the slab, in the words of the survey.
fn services(inputs: &Inputs) -> String {
    let mut names: Vec<String> = inputs
        .slab
        .embedded
        .iter()
        .map(|e| words::clean(&e.what))
        .collect();
    names.sort();
    names.dedup();
    names.join(" and ")
}

fn cuts(inputs: &Inputs) -> bool {
    let totals = &inputs.takeoff.totals;
    totals.chase_m > 0.0 || totals.crack_chase_m > 0.0 || !inputs.takeoff.patches.is_empty()
}

/// What the customer does before the work.
pub(crate) fn before(inputs: &Inputs) -> Vec<Note> {
    let mut out = vec![note(
        "Empty the room.",
        "Take out everything that stands on the floor, and keep people and pets out until we say the floor is ready.",
    )];
    let post_tension = inputs.slab.post_tension.0;
    if cuts(inputs) && post_tension == PostTension::Unknown {
        out.push(note(
            "Tell us about cables.",
            "Nobody could say whether this slab holds stretched steel cables (post-tensioning). Look for a stamp in the concrete or in your \
             papers. We do not cut before we know.",
        ));
    }
    if !inputs.slab.embedded.is_empty() && stops(inputs).iter().all(|s| s.0 != "Lines in the slab.")
    {
        out.push(note(
            "Tell us what is in the slab.",
            format!(
                "The survey notes {} in the slab. Show us the way they run before anybody cuts.",
                services(inputs)
            ),
        ));
    }
    out.extend(tested(inputs));
    out.extend(engineer(inputs));
    out.extend(access(inputs));
    out.extend(moisture(inputs));
    out
}

/// So many findings of a kind about different items.
fn found(inputs: &Inputs, code: &str) -> usize {
    let mut ids: Vec<Option<&str>> = inputs
        .takeoff
        .findings
        .iter()
        .filter(|f| f.code == code)
        .map(|f: &Diagnostic| f.item.as_deref())
        .collect();
    ids.sort_unstable();
    ids.dedup();
    ids.len()
}

fn tested(inputs: &Inputs) -> Option<Note> {
    (found(inputs, "test-before-grinding") > 0).then(|| {
        note(
            "Test first.",
            "Old paint can hold lead, and old glue asbestos. Nobody grinds either before a laboratory has tested it.",
        )
    })
}

fn engineer(inputs: &Inputs) -> Option<Note> {
    let count = found(inputs, "engineer-wanted");
    (count > 0).then(|| {
        let what = if count == 1 {
            "1 crack is".to_owned()
        } else {
            format!("{count} cracks are")
        };
        note(
            "Ask an engineer.",
            format!(
                "{what} so wide or uneven that a licensed engineer should look before we coat. We do not judge the slab."
            ),
        )
    })
}

fn access(inputs: &Inputs) -> Option<Note> {
    let count = found(inputs, "accessible-route");
    (count > 0).then(|| {
        let steps = if count == 1 { "step" } else { "steps" };
        note(
            "Accessible route.",
            format!(
                "{count} {steps} in the floor stood higher than the access rules allow. What is left after grinding is measured again."
            ),
        )
    })
}

/// The moisture tests in a sentence.
fn moisture(inputs: &Inputs) -> Option<Note> {
    let taken = inputs.slab.moisture.len();
    let over = found(inputs, "moisture-over-limit");
    let wanted = inputs.takeoff.conditions.moisture_tests_wanted;
    let mut text = match (taken, over) {
        (0, _) => "No moisture test was taken yet.".to_owned(),
        (1, 0) => "The 1 test taken is within the limit.".to_owned(),
        (n, 0) => format!("All {n} tests taken are within the limit."),
        (n, o) => format!(
            "{o} of {n} tests read more moisture than the limit. Moisture from below can lift a coating: a sealing primer or waiting has to be agreed first."
        ),
    };
    if taken < wanted {
        let more = wanted - taken;
        let tests = if more == 1 { "test" } else { "tests" };
        text.push_str(&format!(" {more} more {tests} should be taken."));
    }
    (taken > 0 || wanted > 0).then(|| note("Moisture in the slab.", text))
}

/// What the customer has to know during the work.
pub(crate) fn during(inputs: &Inputs) -> Vec<Note> {
    let mut out = Vec::new();
    if inputs.takeoff.area.coated_m2 > 0.0 {
        out.push(note(
            "Dust and noise.",
            "Dust from concrete harms the lungs, and the machines are loud. We catch the dust; stay out while we work.",
        ));
        out.push(note(
            "Vapors.",
            "Put out pilot lights and other flames, also next door in the same air, before cans are opened. Some parts irritate skin and lungs \
             until they are hard: stay out. The product's data sheets say more, and they and local code go before this page.",
        ));
    }
    out
}

/// When the floor may be used.
pub(crate) fn after(inputs: &Inputs) -> Vec<Note> {
    if inputs.takeoff.area.coated_m2 <= 0.0 {
        return Vec::new();
    }
    let sheet = "The product's data sheet decides.";
    let text = system(inputs)
        .and_then(|s| times(inputs, s))
        .map_or_else(
            || "Wait for the times on the product's data sheet before you walk or drive on it.".to_owned(),
            |(foot, wheels, c)| {
                format!(
                    "With the floor at {}: walk on it {} after the last coat, drive on it after {}. A colder floor takes longer. {sheet}",
                    write::temperature(c, inputs.slab.units),
                    hours(foot),
                    hours(wheels)
                )
            },
        );
    vec![note("When it is ready.", text)]
}

/// The system of the order, found by its layers.
fn system<'a>(inputs: &Inputs<'a>) -> Option<&'a System> {
    let rows = &inputs.order?.rows;
    let ordered = |name: &str, system: &System| {
        system.layers.iter().any(|layer| {
            let item = format!("{name}: {}", layer.name);
            rows.iter().any(|row| row.item == item)
        })
    };
    let mut systems = inputs.shop.systems.iter();
    systems
        .find(|(name, system)| ordered(name, system))
        .map(|(_, system)| system)
}

/// Hours to the first foot and the first vehicle, and at which temperature of the slab.
fn times(inputs: &Inputs, system: &System) -> Option<(f64, f64, f64)> {
    let conditions = &inputs.takeoff.conditions;
    let taken = conditions
        .dew_point_c
        .zip(conditions.spread_c)
        .map(|(d, s)| d + s);
    let own = taken.and_then(|c| {
        crate::schedule::between(&system.cure, c).map(|(foot, wheels)| (foot, wheels, c))
    });
    own.or_else(|| {
        let off = |row: &&Times| (row.at.c() - ROOM_C).abs();
        let row = system
            .cure
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))?;
        Some((row.first.s() / S_PER_H, row.last.s() / S_PER_H, row.at.c()))
    })
}

/// Whole hours or half days, rounded up: nobody should be on the floor too early.
fn hours(h: f64) -> String {
    if h < DAYS_FROM_H {
        return format!("{} hours", write::fixed((h - 1e-6).ceil(), 0));
    }
    let days = ((h / 24.0 - 1e-6) * 2.0).ceil() / 2.0;
    format!("{} days", write::trimmed(days, 1))
}

/// What a coating can't do, whichever floor.
pub(crate) fn limits() -> Note {
    note(
        "This drawing is not an engineering opinion.",
        "It shows what was seen and measured on the day of the survey. If grinding uncovers more, we tell you before we go on.",
    )
}

#[cfg(test)]
mod tests {
    use super::hours;

    #[test]
    fn times_are_rounded_up() {
        for (h, text) in [
            (26.0, "26 hours"),
            (26.2, "27 hours"),
            (72.0, "3 days"),
            (73.0, "3.5 days"),
        ] {
            assert_eq!(hours(h), text);
        }
    }
}
