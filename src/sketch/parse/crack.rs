//! Cracks.

use super::Pass;
use super::path::Use;
use crate::diagnostic::Place;
use crate::form::Fields;
use crate::quantity::Length;
use crate::record::Kind;
use crate::record::limits::{CRACK_WIDTH, STATION, STEP};
use crate::sketch::{At, Crack, CrackTreatment, Movement};
use crate::yaml::Node;

/// A station and the width from there on.
type Portion = (At<Length>, At<Length>);

impl Pass<'_> {
    pub(super) fn crack(&mut self, node: &Node) -> Option<Crack> {
        self.item(node, Kind::Crack, |pass, fields, id| {
            let path = pass.reader.required(fields, "path", "path: [[3', 0], [3' 4\", 2']]");
            let path = path.and_then(|node| pass.path(node, "the path", Use::Line));
            let widths = pass.widths(fields);
            let step = pass.length(fields, "step", &STEP);
            let movement = pass.optional(fields, "movement", |pass, node| {
                pass.reader.word(node, "the movement", Movement::WORDS)
            });
            let treatment = pass.optional(fields, "treatment", |pass, node| {
                pass.reader.word(node, "the treatment", CrackTreatment::WORDS)
            });
            let note = pass.words(fields, "note");
            Some(Crack {
                id,
                path: path?,
                widths: widths?,
                step,
                movement: movement.map_or(Movement::Unknown, |movement| movement.value),
                treatment,
                note,
                span: node.place.span,
            })
        })
    }

    fn widths(&mut self, fields: &Fields) -> Option<Vec<Portion>> {
        match (fields.get("width"), fields.get("widths")) {
            (Some(_), Some(_)) => {
                let message = "the crack has both `width` and `widths`".into();
                let hint = "keep `widths` if it changes along the crack";
                self.reader.error("widths", fields.key_place("widths"), message, hint);
                None
            }
            (None, Some(node)) => self.portions(node),
            (None, None) => {
                self.reader.required(
                    fields,
                    "width",
                    "width: 1/16, or widths: [[0, 1/16], [4', 3/16]]",
                );
                None
            }
            (Some(node), None) => {
                let width = self.reader.length(node, &CRACK_WIDTH)?;
                let start = At { value: Length::default(), span: node.place.span };
                Some(vec![(start, width)])
            }
        }
    }

    fn portions(&mut self, node: &Node) -> Option<Vec<Portion>> {
        let entries = self.reader.list(Some(node), "widths");
        let read: Vec<Option<Portion>> = entries.iter().map(|entry| self.portion(entry)).collect();
        let portions = read.into_iter().collect::<Option<Vec<_>>>()?;
        let Some((first, _)) = portions.first() else {
            let hint = "write widths: [[0, 1/16], [4', 3/16]]";
            self.reader.error("widths", node.place, "the list of widths is empty".into(), hint);
            return None;
        };
        if first.value.m() > 0.0 {
            let message = "nothing says how wide the crack is at its first point".into();
            let hint = "start the list with station 0: [[0, 1/16], [4', 3/16]]";
            self.reader.error("widths", Place::sketch(first.span), message, hint);
            return None;
        }
        self.ascending(portions.iter().map(|(station, _)| station), "widths")?;
        Some(portions)
    }

    fn portion(&mut self, node: &Node) -> Option<Portion> {
        let [station, width] = node.items().unwrap_or_default() else {
            let hint = "write [4', 3/16]: from 4' on it is 3/16\" wide";
            self.reader.wrong_type(node, "an entry of `widths`", "a station and a width", hint);
            return None;
        };
        let station = self.reader.length(station, &STATION);
        let width = self.reader.length(width, &CRACK_WIDTH);
        Some((station?, width?))
    }
}
