//! The `used:` part: what the job really took.

use super::Pass;
use crate::form::Fields;
use crate::quantity::read;
use crate::sketch::{At, UsedNotes};
use crate::yaml::{Key, Kind, Node};

const KEYS: [&str; 5] = ["packages", "hours", "moisture", "photos", "note"];
/// Most packages or hours that are believed of one job.
pub(crate) const MOST: f64 = 100_000.0;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

impl Pass<'_> {
    /// Reads the `used:` part of a sketch.
    pub(super) fn used(&mut self, sketch: &Fields) -> UsedNotes {
        let node = sketch.get("used");
        let Some(fields) =
            node.and_then(|node| self.reader.fields(node, "the record of use", &KEYS))
        else {
            return UsedNotes::default();
        };
        let photos = self.reader.list(fields.get("photos"), "photos");
        let photos: Vec<At<String>> =
            photos.iter().filter_map(|node| self.photo_path(node)).collect();
        UsedNotes {
            span: Some(sketch.key_place("used").span),
            packages: self.amounts(&fields, "packages", Self::packages),
            hours: self.amounts(&fields, "hours", Self::hours),
            rh: self
                .optional(&fields, "moisture", |pass, node| {
                    pass.reader.percent(node, "the moisture")
                })
                .map(|rh| rh.value.one()),
            photos,
            note: self.words(&fields, "note"),
        }
    }

    fn photo_path(&mut self, node: &Node) -> Option<At<String>> {
        match node.text() {
            Some(path) if !path.trim().is_empty() => {
                Some(At { value: path.trim().to_owned(), span: node.place.span })
            }
            _ => {
                let hint = "write photos: [photos/done.jpg]";
                self.reader.wrong_type(node, "a photo", "the path of a file", hint);
                None
            }
        }
    }

    /// Names with their numbers; what stands under the name of a system is a layer of it.
    fn amounts(
        &mut self,
        fields: &Fields,
        key: &str,
        read: impl Fn(&mut Self, &Node) -> Option<f64>,
    ) -> Vec<(At<String>, f64)> {
        let Some(node) = fields.get(key) else {
            return Vec::new();
        };
        let Some(entries) = node.entries() else {
            let hint = "write a name and a number on each line: joint filler: 11";
            self.reader.wrong_type(node, &format!("`{key}`"), "numbers by name", hint);
            return Vec::new();
        };
        let mut out = Vec::new();
        let named = |key: &Key, name: String| At { value: name, span: key.place.span };
        for (key, node) in entries.iter().filter(|(_, node)| !node.is_null()) {
            let Kind::Mapping(layers) = &node.kind else {
                out.extend(read(self, node).map(|n| (named(key, key.text.to_string()), n)));
                continue;
            };
            for (layer, node) in layers.iter().filter(|(_, node)| !node.is_null()) {
                let name = format!("{}: {}", key.text, layer.text);
                out.extend(read(self, node).map(|n| (named(layer, name), n)));
            }
        }
        out
    }

    fn packages(&mut self, node: &Node) -> Option<f64> {
        let found = self.reader.number(node, "the number of packages", 0.0, MOST);
        found.map(|number| number.value)
    }

    /// Worker hours: `6.5`, `6.5 h`, `390 min`.
    fn hours(&mut self, node: &Node) -> Option<f64> {
        let bare = node.text().and_then(|text| read::number(text).ok());
        if bare.is_some() {
            let found = self.reader.number(node, "the hours", 0.0, MOST);
            return found.map(|number| number.value);
        }
        let found = self.reader.quantity(node, "the hours", "a time", read::span)?;
        let hours = found.value.s() / S_PER_H;
        if (0.0..=MOST).contains(&hours) {
            return Some(hours);
        }
        let message = "the hours are beyond belief".into();
        self.reader.error("beyond-belief", node.place, message, "write it like 6.5 h");
        None
    }
}
