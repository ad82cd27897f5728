//! The days of the work as bars: what is done when, what waits for what, the air of each coat, the dust of each day.

mod axis;
mod day;

use crate::hold::say::capital;
use crate::quantity::write;
use crate::schedule::report::given_back_text;
use crate::schedule::{ONCE_CLEARED, Plan};

use super::Inputs;
use super::cautions;
use super::flow::{self, Content, Cursor, Notes};
use super::page::{BARS, Section, TEXT};
use crate::paper::words;

/// The days and what holds for all of them; none without a plan.
#[must_use]
pub fn sections(inputs: &Inputs) -> Option<[Section<'static>; 2]> {
    let plan = inputs.plan.filter(|plan| !plan.days.is_empty())?;
    let n = plan.days.len();
    let section = |least, contents, reminder| Section {
        name: "crew-days",
        title: "DAYS".into(),
        about: format!(
            "{}, {} worker hours. The day plan as text carries the same data.",
            words::counted(n, "working day", "working days"),
            write::fixed(plan.worker_h, 1)
        ),
        least,
        reminder,
        contents: flow::once(contents),
        cursor: Cursor::default(),
    };
    // Who reads only the days must not start to saw where the map says stop.
    let mut days = cautions::orders(inputs.holds);
    days.push(Box::new(day::Bars::new(inputs, plan)));
    let notes: Box<dyn Content> = Box::new(day::Together(notes(inputs, plan)));
    let reminder = cautions::reminder(inputs.holds);
    Some([section(BARS, days, None), section(TEXT, vec![notes], reminder)])
}

/// What holds for all days.
fn notes(inputs: &Inputs, plan: &Plan) -> Notes {
    let mut paragraphs = vec![(
        String::new(),
        format!(
            "{} workers, {} worker hours, {} hours of the crew.",
            inputs.shop.days.crew,
            write::fixed(plan.worker_h, 1),
            write::fixed(plan.crew_h, 1)
        ),
    )];
    let mut say = |lead: &str, rest: String| paragraphs.push((lead.to_owned(), rest));
    // What is given back at the same time is said together.
    let mut given: Vec<(String, String)> = Vec::new();
    for (what, when) in plan.given_back() {
        let text = format!("{}.", capital(&given_back_text(&when)));
        match given.iter_mut().find(|known| known.1 == text) {
            Some(known) => known.0 += &format!(", {}", what.to_lowercase()),
            None => given.push((what.to_owned(), text)),
        }
    }
    given.into_iter().for_each(|(what, text)| say(&what, text));
    let first = "Data sheets go first.";
    say("", if inputs.holds.is_empty() { first.into() } else { format!("{ONCE_CLEARED} {first}") });
    for note in &plan.notes {
        say("Check", capital(&words::clean(note)));
    }
    if plan.days.iter().any(|day| !day.shift.tools.is_empty()) {
        say(
            "Silica",
            "Written exposure control plan and competent person: 29 CFR 1926.1153; see CAUTIONS."
                .into(),
        );
    }
    Notes { title: "FOR ALL DAYS".into(), paragraphs, framed: false }
}

#[cfg(test)]
mod tests;
