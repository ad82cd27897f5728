//! Lippage: steps between panels.

use super::Pass;
use super::path::Use;
use crate::form::Fields;
use crate::quantity::Length;
use crate::record::limits::{STATION, STEP};
use crate::record::{Kind, SIDES};
use crate::sketch::{AlongForm, At, Lippage, Reading};
use crate::yaml::Node;

/// The profile of a step: readings, or one step all along.
type Profile = (Vec<Reading>, Option<At<Length>>);

impl Pass<'_> {
    pub(super) fn lippage(&mut self, node: &Node) -> Option<Lippage> {
        self.item(node, Kind::Lippage, |pass, fields, id| {
            let along = pass.reader.required(fields, "along", "along: J1");
            let along = along.and_then(|node| pass.along(node));
            let high = pass.reader.required(fields, "high", "high: left");
            let high = high.and_then(|node| pass.reader.word(node, "the high side", &SIDES));
            let profile = pass.profile(fields);
            let note = pass.words(fields, "note");
            let (readings, everywhere) = profile?;
            Some(Lippage { id, along: along?, high: high?, readings, everywhere, note })
        })
    }

    fn along(&mut self, node: &Node) -> Option<At<AlongForm>> {
        let span = node.place.span;
        let value = if let Some(id) = node.text() {
            let id = At { value: id.to_owned(), span };
            self.references.line(self.reader.item.as_ref(), &id);
            AlongForm::Item(id)
        } else {
            AlongForm::Path(self.path(node, "`along`", Use::Line)?)
        };
        Some(At { value, span })
    }

    fn profile(&mut self, fields: &Fields) -> Option<Profile> {
        if let Some(node) = fields.get("readings") {
            for key in ["step", "from", "to"] {
                if fields.get(key).is_some() {
                    let message = format!("`{key}` stands beside `readings`");
                    let hint = "give readings, or one step with from and to";
                    self.reader.error("readings", fields.key_place(key), message, hint);
                }
            }
            return Some((self.readings(node)?, None));
        }
        self.one_step(fields)
    }

    /// One step: over a stretch, or all along.
    fn one_step(&mut self, fields: &Fields) -> Option<Profile> {
        let example = "readings: [[0, 1/16], [4', 3/16]], or step: 1/4 with from: and to:";
        let step = self.reader.required(fields, "step", example);
        let step = step.and_then(|node| self.reader.length(node, &STEP));
        let from = self.length(fields, "from", &STATION);
        let to = self.length(fields, "to", &STATION);
        let (given_from, given_to) = (fields.get("from").is_some(), fields.get("to").is_some());
        if given_from != given_to {
            let (there, missing) = if given_from { ("from", "to") } else { ("to", "from") };
            let message = format!("`{there}` is given and `{missing}` is not");
            let hint = "give both, or neither for the same step all along the line";
            self.reader.error("readings", fields.key_place(there), message, hint);
            return None;
        }
        if !given_from {
            return Some((Vec::new(), Some(step?)));
        }
        let (from, to) = (from?, to?);
        self.in_order(fields, &from, &to)?;
        let step = step?;
        let reading = |station| Reading { station, step: Some(step.clone()) };
        Some((vec![reading(from), reading(to)], None))
    }

    fn readings(&mut self, node: &Node) -> Option<Vec<Reading>> {
        let entries = self.reader.list(Some(node), "readings");
        let read: Vec<Option<Reading>> = entries.iter().map(|entry| self.reading(entry)).collect();
        let readings = read.into_iter().collect::<Option<Vec<_>>>()?;
        if readings.is_empty() {
            let hint = "write readings: [[0, 1/16], [4', 3/16]]";
            if node.items().is_some() {
                self.reader.error(
                    "readings",
                    node.place,
                    "the list of readings is empty".into(),
                    hint,
                );
            }
            return None;
        }
        self.ascending(readings.iter().map(|reading| &reading.station), "readings")?;
        Some(readings)
    }

    fn reading(&mut self, node: &Node) -> Option<Reading> {
        let [station, step] = node.items().unwrap_or_default() else {
            let hint = "write [4', 3/16]; a step that could not be read is null: [4', null]";
            self.reader.wrong_type(node, "a reading", "a station and a step", hint);
            return None;
        };
        let station = self.reader.length(station, &STATION);
        if step.is_null() {
            return Some(Reading { station: station?, step: None });
        }
        let step = self.reader.length(step, &STEP);
        Some(Reading { station: station?, step: Some(step?) })
    }
}
