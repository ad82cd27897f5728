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
use super::page::{Section, TEXT};
use super::words;

/// The days; none without a plan. What holds for all of them stands before the first (`notes_first`) or behind the last.
#[must_use]
pub fn section(inputs: &Inputs, notes_first: bool) -> Option<Section<'static>> {
    let plan = inputs.plan.filter(|plan| !plan.days.is_empty())?;
    let mut contents: Vec<Box<dyn Content>> =
        vec![Box::new(day::Together(notes(inputs, plan))), Box::new(day::Bars::new(inputs, plan))];
    if !notes_first {
        contents.reverse();
    }
    // Who reads only the days must not start to saw where the map says stop.
    contents.splice(0..0, cautions::orders(inputs.holds));
    let n = plan.days.len();
    Some(Section {
        name: "crew-days",
        title: "DAYS",
        about: format!(
            "{}, {} worker hours. The day plan as text carries the same data.",
            words::counted(n, "working day", "working days"),
            write::fixed(plan.worker_h, 1)
        ),
        least: TEXT,
        reminder: None,
        contents: flow::once(contents),
        cursor: Cursor::default(),
    })
}

/// What holds for all days.
fn notes(inputs: &Inputs, plan: &Plan) -> Notes {
    let mut paragraphs = vec![(
        String::new(),
        format!(
            "{} workers, {} worker hours, {} hours of the crew, by the rates of the shop book.",
            inputs.shop.days.crew,
            write::fixed(plan.worker_h, 1),
            write::fixed(plan.crew_h, 1)
        ),
    )];
    let mut say = |lead: &str, rest: String| paragraphs.push((lead.to_owned(), rest));
    for (what, when) in plan.given_back() {
        let text = capital(&given_back_text(&when));
        say(what, format!("{text}."));
    }
    if !inputs.holds.is_empty() {
        say("", ONCE_CLEARED.into());
    }
    for note in &plan.notes {
        say("Check", capital(&words::clean(note)));
    }
    if plan.days.iter().any(|day| !day.shift.tools.is_empty()) {
        say(
            "Silica",
            "Keep the written exposure control plan and the competent person's word (29 CFR 1926.1153). What each tool asks for stands under CAUTIONS.".into(),
        );
    }
    say("", "The data sheets of the products go before every time and temperature here.".into());
    Notes { title: "FOR ALL DAYS".into(), paragraphs, framed: false }
}

#[cfg(test)]
mod tests;
