//! Stations in their order along a line.

use super::Pass;
use crate::diagnostic::{Diagnostic, Place};
use crate::form::Fields;
use crate::quantity::Length;
use crate::sketch::At;

impl Pass<'_> {
    /// Notes stations that do not grow from one to the next.
    pub(super) fn ascending<'s>(
        &mut self,
        stations: impl Iterator<Item = &'s At<Length>>,
        key: &str,
    ) -> Option<()> {
        let mut before: Option<&At<Length>> = None;
        let mut good = Some(());
        for station in stations {
            if let Some(before) = before.filter(|before| station.value <= before.value) {
                let message = format!(
                    "the {key} are out of order: this station does not lie beyond the one before"
                );
                let fault = Diagnostic::error("out-of-order", message)
                    .place(Place::sketch(station.span))
                    .related(Place::sketch(before.span), "the one before")
                    .hint("stations grow along the line, each one once");
                self.reader.note(fault);
                good = None;
            }
            before = Some(station);
        }
        good
    }

    /// Notes a stretch that ends where it starts, or before.
    pub(super) fn in_order(
        &mut self,
        fields: &Fields,
        from: &At<Length>,
        to: &At<Length>,
    ) -> Option<()> {
        if from.value < to.value {
            return Some(());
        }
        let message = "`to` does not lie beyond `from`".into();
        let place = fields.get("to").map_or(fields.place, |node| node.place);
        self.reader.error("out-of-order", place, message, "`from` is the smaller station");
        None
    }
}
