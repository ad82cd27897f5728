//! The shop's words with the values of one job in their places.

use std::collections::BTreeSet;

use super::Inputs;
use crate::customer;
use crate::customer::Row;
use crate::diagnostic::Diagnostic;
use crate::document::{Block, Text};
use crate::hold::say::capital;
use crate::price::UNIT_PRICE_TOLERANCE_PERCENT;
use crate::schedule::{Moment, ON_WEATHER, Plan, date};
use crate::shop::{Part, Slot};
use crate::text::clean;

/// Where a value is missing, a line to write it on.
const BLANK: &str = "____________";

/// Speaks in the shop's words, and remembers which values were missing.
pub(super) struct Voice<'a> {
    pub inputs: &'a Inputs<'a>,
    missing: BTreeSet<(String, Slot)>,
    notices: Vec<&'static str>,
}

impl<'a> Voice<'a> {
    pub fn new(inputs: &'a Inputs<'a>) -> Self {
        Self { inputs, missing: BTreeSet::new(), notices: Vec::new() }
    }

    /// A text of the shop book; `None` where the shop wants nothing said.
    pub fn say(&mut self, key: &str) -> Option<String> {
        self.say_of(key, &[])
    }

    /// The same for a sentence about some items.
    pub fn say_of(&mut self, key: &str, items: &[String]) -> Option<String> {
        let inputs = self.inputs;
        let parts = inputs.floor.shop.proposal.text(key);
        self.fill(key, parts, items)
    }

    /// A layer in plain words; its name where the book has none.
    pub fn layer(&mut self, name: &str) -> String {
        let inputs = self.inputs;
        let words = inputs.floor.shop.proposal.layers.get(name);
        let said = words.and_then(|wording| self.fill(name, &wording.0, &[]));
        said.unwrap_or_else(|| clean(&format!("{}.", capital(name))))
    }

    /// A text as a paragraph.
    pub fn paragraph(&mut self, key: &str) -> Option<Block> {
        self.say(key).map(|text| Block::Paragraph(text.into()))
    }

    /// Texts as entries of a list.
    pub fn entries(&mut self, keys: &[&str]) -> Vec<Text> {
        let said = keys.iter().filter_map(|key| self.say(key));
        said.map(Text::from).collect()
    }

    /// Notes that the shop has no text of its own where the law may want one.
    pub fn notice_missing(&mut self, key: &'static str) {
        self.notices.push(key);
    }

    fn fill(&mut self, key: &str, parts: &[Part], items: &[String]) -> Option<String> {
        if parts.is_empty() {
            return None;
        }
        let mut out = String::new();
        for part in parts {
            match part {
                Part::Words(words) => out.push_str(words),
                Part::Slot(slot) => match self.value(*slot, items) {
                    Some(value) => out.push_str(&value),
                    None => {
                        self.missing.insert((key.to_owned(), *slot));
                        out.push_str(BLANK);
                    }
                },
            }
        }
        Some(clean(out.trim()))
    }

    fn value(&mut self, slot: Slot, items: &[String]) -> Option<String> {
        let inputs = self.inputs;
        let (job, plan) = (&inputs.floor.sketch.job, inputs.plan);
        let text = |t: &Option<String>| t.as_deref().map(clean).filter(|t| !t.is_empty());
        match slot {
            Slot::Client => text(&job.client),
            Slot::Site => text(&job.site),
            Slot::Job => Some(clean(&job.name)),
            Slot::Number => text(&job.number),
            Slot::Date => job.surveyed.as_ref().map(|d| date::words(&d.value)),
            Slot::Revision => text(&job.revision),
            Slot::Company => inputs.floor.shop.proposal.plain("company"),
            Slot::Price => Some(inputs.price.total.with(&inputs.price.currency)),
            Slot::Area => {
                Some(customer::area(inputs.floor.takeoff.area.coated_m2, inputs.floor.slab.units))
            }
            Slot::System => inputs.floor.sketch.coating.system.as_ref().map(|s| clean(&s.value)),
            Slot::Days => (!plan.days.is_empty()).then(|| count(plan.days.len(), "working day")),
            Slot::Start => plan.days.first().map(|day| date::moment(&day.start)),
            Slot::Foot => plan.foot.as_ref().map(|moment| given_back(plan, moment)),
            Slot::Vehicles => plan.wheels.as_ref().map(|moment| given_back(plan, moment)),
            Slot::ValidDays => Some(inputs.floor.shop.proposal.valid_days.to_string()),
            Slot::Band => Some(format!("{UNIT_PRICE_TOLERANCE_PERCENT}%")),
            Slot::NotToExceed => Some(inputs.price.not_to_exceed.with(&inputs.price.currency)),
            Slot::Items => Some(self.named(items)).filter(|named| !named.is_empty()),
        }
    }

    /// What the customer is told of the floor, group by group.
    pub fn rows(&self) -> &[Row] {
        &self.inputs.told.of.rows
    }

    /// Items by the letters of the drawing: `2 cracks (B), 1 joint (A)`; nothing for what is not on it.
    pub fn named(&self, ids: &[String]) -> String {
        let of = |row: &Row| {
            let count = row.count(ids);
            let letter = row.letter();
            let words = row.thing()?.counted(count);
            let said = match letter {
                "" if ids.len() == 1 => row.thing()?.word(1).to_owned(),
                "" => words,
                _ if ids.len() == 1 => format!("{} {letter}", row.thing()?.word(1)),
                _ => format!("{words} ({letter})"),
            };
            (count > 0).then_some(said)
        };
        let all: Vec<String> = self.rows().iter().filter_map(of).collect();
        all.join(", ")
    }

    /// Letters of the drawing for items: ` Marked A, C on the drawing.`; nothing where none of them has one.
    pub fn marked(&self, ids: &[String]) -> String {
        let rows = self.rows().iter();
        let has = |row: &&Row| !row.letter().is_empty() && row.count(ids) > 0;
        let letters: Vec<&str> = rows.filter(has).map(Row::letter).collect();
        match letters.as_slice() {
            [] => String::new(),
            letters => format!(" Marked {} on the drawing.", letters.join(", ")),
        }
    }

    /// What somebody wrote for the shop, for the customer: the ids of the sketch as the drawing names them.
    pub fn plain(&self, text: &str) -> String {
        let text = clean(text);
        let mut out = String::new();
        for word in text.split_inclusive(|c: char| !c.is_alphanumeric() && c != '-' && c != '_') {
            let id = word.trim_end_matches(|c: char| !c.is_alphanumeric());
            let name = self.named(&[id.to_owned()]);
            match name.is_empty() {
                true => out.push_str(word),
                false => out.push_str(&word.replacen(id, &name, 1)),
            }
        }
        out
    }

    /// What somebody has to look at before the paper is signed.
    pub fn findings(self) -> Vec<Diagnostic> {
        let mut out: Vec<Diagnostic> =
            self.missing.iter().map(|(key, slot)| missing(key, *slot)).collect();
        out.extend(self.notices.iter().map(|key| {
            Diagnostic::note(
                "proposal-notice-missing",
                format!("the shop book has no `{key}`; the proposal holds its place"),
            )
            .hint("many states prescribe such notices, and they differ: put your state's own text into the shop book, under proposal:")
            .source("docs/proposal.md")
        }));
        if self.inputs.price.example {
            out.push(
                Diagnostic::warning(
                    "proposal-example-prices",
                    "built-in example prices went into this proposal; it says that it is not to be signed",
                )
                .hint("put your own prices into the shop book, under prices:")
                .source("docs/proposal.md"),
            );
        }
        out
    }
}

/// When the floor is given back; no date where a coat before it waits for the weather.
fn given_back(plan: &Plan, moment: &Moment) -> String {
    match plan.first_wait() {
        None => date::moment(moment),
        Some(_) => format!("a day that {}", ON_WEATHER.replace("; ", " and is ")),
    }
}

/// The finding about a value that a text asks for and the job does not have.
fn missing(key: &str, slot: Slot) -> Diagnostic {
    let word = slot.word();
    let from = match slot {
        Slot::Client | Slot::Site | Slot::Number | Slot::Revision => {
            format!("add {word}: to the job of the sketch")
        }
        Slot::Date => "add surveyed: 2026-09-14 to the job of the sketch".into(),
        Slot::Company => "add company: to the proposal of the shop book".into(),
        Slot::System => "add system: to the coating of the sketch".into(),
        Slot::Foot | Slot::Vehicles => "add cure: to the system in the shop book".into(),
        _ => "the plan by days has nothing to say here".into(),
    };
    Diagnostic::warning(
        "proposal-value-missing",
        format!("the text `{key}` of the proposal asks for {{{word}}}, and there is none; a blank line stands in its place"),
    )
    .hint(from)
    .source("docs/proposal.md")
}

/// `1 working day`, `3 working days`.
pub(super) fn count(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}
