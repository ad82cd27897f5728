//! The `job:` part.

use super::Pass;
use super::date::is_day;
use crate::form::Fields;
use crate::sketch::{At, Job};

const KEYS: [&str; 9] = [
    "name",
    "client",
    "site",
    "surveyed",
    "surveyor",
    "number",
    "notes",
    "accessible_route",
    "revision",
];

impl Pass<'_> {
    /// Reads the `job:` part of a sketch.
    pub(super) fn job(&mut self, sketch: &Fields) -> Option<Job> {
        let node = self.reader.required(sketch, "job", "job: {name: what it is called}")?;
        let fields = self.reader.fields(node, "the job", &KEYS)?;
        let example = "name: what the job is called";
        let named = self.reader.required(&fields, "name", example).is_some();
        let name = self.words(&fields, "name");
        let job = Job {
            name: name.unwrap_or_default(),
            client: self.words(&fields, "client"),
            site: self.words(&fields, "site"),
            surveyed: self.day(&fields, "surveyed"),
            surveyor: self.words(&fields, "surveyor"),
            number: self.words(&fields, "number"),
            notes: self.words(&fields, "notes"),
            accessible_route: self
                .optional(&fields, "accessible_route", |pass, node| {
                    pass.reader.truth(node, "accessible_route")
                })
                .unwrap_or(false),
            revision: self.words(&fields, "revision"),
        };
        named.then_some(job)
    }

    pub(super) fn day(&mut self, fields: &Fields, key: &str) -> Option<At<String>> {
        let day = self.reader.text(fields, key)?;
        if is_day(&day.value) {
            return Some(day);
        }
        let message = format!("`{}` is no day", crate::text::excerpt(&day.value));
        let place = fields.get(key)?.place;
        self.reader.error("date", place, message, "write year, month and day: 2026-09-14");
        None
    }
}
