//! What the customer has to do and to know before, during and after the work; only what this floor calls for.

use crate::diagnostic::Diagnostic;
use crate::hold::{Code, mitigation_offered};
use crate::quantity::write;
use crate::schedule::ON_WEATHER;
use crate::shop::{System, Times};

use crate::paper::words;
use crate::sheet::Inputs;

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
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Held {
    /// Why the work waits.
    pub code: Code,
    /// It in plain words.
    pub note: Note,
    /// Ids of what it is about; not printed.
    pub items: Vec<String>,
}

/// What must be settled before the work starts, one note for each kind of hold.
pub(crate) fn holds(inputs: &Inputs) -> Vec<Held> {
    let mut codes: Vec<Code> = inputs.holds.iter().map(|hold| hold.code).collect();
    codes.dedup();
    let of = |code| {
        let these = inputs.holds.iter().filter(|hold| hold.code == code);
        Held {
            code,
            note: held(inputs, code),
            items: these.flat_map(|hold| &hold.items).cloned().collect(),
        }
    };
    codes.into_iter().map(of).collect()
}

/// What is on hold, in plain words.
fn held(inputs: &Inputs, code: Code) -> Note {
    let these = || inputs.holds.iter().filter(|hold| hold.code == code);
    let count: usize = these().map(|hold| hold.items.len()).sum();
    let steps = || match count {
        1 => "1 step in the floor is".to_owned(),
        n => format!("{n} steps in the floor are"),
    };
    match code {
        Code::PostTension => note(
            "Steel cables under tension.",
            "This slab is stamped as post-tensioned: it holds stretched steel cables. A cut cable can kill. Nobody cuts into the slab before \
             the cables are located and a licensed engineer agrees.",
        ),
        Code::PostTensionUnknown => note(
            "Tell us about cables.",
            "Nobody could say whether this slab holds stretched steel cables (post-tensioning). A cut cable can kill. Look for a stamp in the \
             concrete or in your papers. We do not cut before we know.",
        ),
        Code::ChaseCover => note(
            "Lines in the slab.",
            format!(
                "The planned cuts come near or reach {}. Somebody has to find the place, and a licensed engineer has to agree to the cuts, before anybody saws.",
                services(inputs)
            ),
        ),
        Code::CoverUnknown => note(
            "How deep are the lines?",
            format!(
                "The survey found {} in the slab, and nobody knows how deep. Somebody has to find out before anybody saws.",
                services(inputs)
            ),
        ),
        Code::StepPostTension => note(
            "No grinding of steps yet.",
            format!(
                "{} to be ground down on a slab with stretched steel cables. Nobody grinds there before the cables are located and a licensed engineer agrees.",
                steps()
            ),
        ),
        Code::StepThin => note(
            "Thin concrete.",
            format!(
                "{} to be ground down where little concrete would be left. A licensed engineer has to agree first.",
                steps()
            ),
        ),
        Code::TestBeforeGrinding => note(
            "Test first.",
            "Old paint can hold lead, and old glue asbestos. Nobody sands, saws or grinds them before a laboratory has tested them. If it finds \
             either, its removal is not part of our price.",
        ),
        Code::Abatement => note(
            "Lead or asbestos.",
            "The laboratory found it on this floor. A licensed firm has to take it off before we start, under its own contract. It is not part \
             of our work or of our price.",
        ),
        Code::StepHigh => note(
            "A high step.",
            format!(
                "{} too high to be ground away. Before we start we agree with you on a ramp, a leveled transition, or what a licensed engineer says.",
                steps()
            ),
        ),
        Code::EngineerWanted => {
            let what = match count {
                1 => "1 crack is".to_owned(),
                n => format!("{n} cracks are"),
            };
            note(
                "Ask an engineer.",
                format!(
                    "{what} so wide or uneven that a licensed engineer should look before we coat. We do not judge the slab."
                ),
            )
        }
        Code::MoistureOverLimit => {
            let offered = mitigation_offered(inputs.coating, inputs.slab, inputs.shop);
            let first = if offered {
                "a sealing primer or waiting has to be agreed first"
            } else {
                "the slab has to dry, and is tested again first"
            };
            note(
                "Too much moisture.",
                format!(
                    "{count} of {} tests read more moisture than the limit. Moisture from below can lift a coating: {first}.",
                    inputs.slab.moisture.len()
                ),
            )
        }
        Code::MoistureTestsWanted => {
            let more = inputs.takeoff.conditions.moisture_tests_missing();
            let tests = if more == 1 { "test" } else { "tests" };
            note(
                "Moisture tests.",
                format!(
                    "{more} more {tests} of the same kind must be taken before we coat: moisture from below can lift a coating."
                ),
            )
        }
        Code::SlabAge => {
            let until: Vec<String> = these()
                .map(|hold| format!("We do not {} before {}.", hold.works_in_words(), hold.clears))
                .collect();
            note(
                "The concrete is young.",
                format!("It still shrinks and dries. {}", until.join(" ")),
            )
        }
    }
}

/// What lies in the slab, in the words of the survey.
fn services(inputs: &Inputs) -> String {
    let mut names: Vec<String> =
        inputs.slab.embedded.iter().map(|e| words::clean(&e.what)).collect();
    names.sort();
    names.dedup();
    names.join(" and ")
}

/// What the customer does and has to know before and during the work.
pub(crate) fn before(inputs: &Inputs) -> Vec<Note> {
    let mut out = vec![note(
        "Empty the room.",
        "Clear everything off the floor, and keep people and pets out until we say the floor is ready.",
    )];
    let said = [Code::ChaseCover, Code::CoverUnknown];
    let told = inputs.holds.iter().any(|hold| said.contains(&hold.code));
    if !inputs.slab.embedded.is_empty() && !told {
        out.push(note(
            "Tell us what is in the slab.",
            format!(
                "The survey found {} in the slab. Show us where it runs before anybody cuts.",
                services(inputs)
            ),
        ));
    }
    out.extend(access(inputs));
    out.extend(moisture(inputs));
    if inputs.takeoff.area.coated_m2 > 0.0 {
        out.push(note(
            "Dust and vapors.",
            "Dust and what is in the cans harm skin and lungs: stay out while we work. Before we open a can, every flame and pilot light \
             is off, here and in any room that shares this air. Data sheets and local code come first.",
        ));
    }
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

fn access(inputs: &Inputs) -> Option<Note> {
    let count = found(inputs, "accessible-route");
    (count > 0).then(|| {
        let steps = if count == 1 { "step" } else { "steps" };
        note(
            "Accessible route.",
            super::say::number(
                &format!("{count} {steps} in the floor [stands|stand] higher than the access rules allow. We measure what is left after grinding."),
                count,
            ),
        )
    })
}

/// The moisture tests in a sentence, where they were taken and none is over the limit.
fn moisture(inputs: &Inputs) -> Option<Note> {
    let over = inputs.holds.iter().any(|h| h.code == Code::MoistureOverLimit);
    let text = match inputs.slab.moisture.len() {
        0 => "No moisture test was taken yet.".to_owned(),
        _ if over => return None,
        _ => return None,
    };
    let wanted = inputs.takeoff.conditions.moisture_tests_wanted;
    let any = !inputs.slab.moisture.is_empty() || wanted > 0;
    any.then(|| note("Moisture in the slab.", text))
}

/// When the floor may be used.
pub(crate) fn after(inputs: &Inputs) -> Vec<Note> {
    if inputs.takeoff.area.coated_m2 <= 0.0 {
        return Vec::new();
    }
    let sheet = "The product's data sheet has the last word.";
    let text = inputs
        .system()
        .and_then(|s| times(inputs, s))
        .map_or_else(
            || "Wait for the times on the product's data sheet before you walk or drive on it.".to_owned(),
            |(foot, wheels, c)| {
                format!(
                    "With the floor at {}, walk on it {} after the last coat and drive on it after {}. A colder floor takes longer. {sheet}",
                    write::temperature(c, inputs.slab.units),
                    hours(foot),
                    hours(wheels)
                )
            },
        );
    let weather = inputs.plan.is_some_and(|plan| plan.first_wait().is_some());
    let weather = weather.then(|| format!(" The day of the last coat {ON_WEATHER}."));
    vec![note("When it is ready.", text + &weather.unwrap_or_default())]
}

/// Hours to the first foot and the first vehicle, and at which temperature of the slab.
fn times(inputs: &Inputs, system: &System) -> Option<(f64, f64, f64)> {
    let conditions = &inputs.takeoff.conditions;
    let taken = conditions.dew_point_c.zip(conditions.spread_c).map(|(d, s)| d + s);
    let own = taken.and_then(|c| {
        crate::schedule::between(&system.cure, c).map(|(foot, wheels)| (foot, wheels, c))
    });
    own.or_else(|| {
        let off = |row: &&Times| (row.at.c() - ROOM_C).abs();
        let row = system.cure.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
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
        "It shows the floor on the day of the survey. If grinding uncovers more, we tell you before we go on.",
    )
}

#[cfg(test)]
mod tests {
    use super::hours;

    #[test]
    fn times_are_rounded_up() {
        for (h, text) in
            [(26.0, "26 hours"), (26.2, "27 hours"), (72.0, "3 days"), (73.0, "3.5 days")]
        {
            assert_eq!(hours(h), text);
        }
    }
}
