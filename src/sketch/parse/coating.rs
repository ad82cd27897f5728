//! The `coating:` part.

use super::Pass;
use super::path::Use;
use crate::form::Fields;
use crate::record::Kind;
use crate::record::limits::{COVE, FACE_HEIGHT, SIZE};
use crate::sketch::{At, Coating, Compass, Cove, Face, PourFrom, Sheen, Site, Uncoated};
use crate::yaml::Node;

const KEYS: [&str; 11] = [
    "system",
    "mitigation",
    "color",
    "blend",
    "flake_size",
    "sheen",
    "uncoated",
    "faces",
    "pour_from",
    "start",
    "site",
];
/// The words of `sheen`.
pub(crate) const SHEENS: [(&str, Sheen); 3] = [
    (Sheen::Matte.word(), Sheen::Matte),
    (Sheen::Satin.word(), Sheen::Satin),
    (Sheen::Gloss.word(), Sheen::Gloss),
];
pub(crate) const SITES: [(&str, Site); 2] =
    [("indoors", Site::Indoors), ("outdoors", Site::Outdoors)];
const TRUTHS: [&str; 2] = ["true", "false"];

impl Pass<'_> {
    /// Reads the `coating:` part of a sketch.
    pub(super) fn coating(&mut self, sketch: &Fields) -> Coating {
        let node = sketch.get("coating");
        let Some(fields) = node.and_then(|node| self.reader.fields(node, "the coating", &KEYS))
        else {
            return Coating::default();
        };
        Coating {
            system: self.reader.text(&fields, "system"),
            color: self.chosen(&fields, "color"),
            blend: self.chosen(&fields, "blend"),
            flake_size: self.chosen(&fields, "flake_size"),
            sheen: self
                .optional(&fields, "sheen", |pass, node| {
                    pass.reader.word(node, "the sheen", &SHEENS)
                })
                .map(|sheen| sheen.value),
            mitigation: self.mitigation(&fields),
            uncoated: self.items(&fields, Kind::Uncoated.key(), Self::uncoated),
            faces: self.items(&fields, "faces", Self::face),
            pour_from: self.optional(&fields, "pour_from", Self::pour_from),
            start: self.day(&fields, "start"),
            site: self
                .optional(&fields, "site", |pass, node| pass.reader.word(node, "the site", &SITES))
                .map_or(Site::Indoors, |site| site.value),
        }
    }

    /// A name that was chosen; one of blanks is none.
    fn chosen(&mut self, fields: &Fields, key: &str) -> Option<String> {
        let name = self.words(fields, key)?;
        (!name.trim().is_empty()).then_some(name)
    }

    /// Whether moisture mitigation goes below the system, which then has to be named.
    fn mitigation(&mut self, fields: &Fields) -> bool {
        let node = fields.get("mitigation");
        let wanted = node.and_then(|node| self.reader.truth(node, "mitigation"));
        if wanted.is_some() && fields.get("system").is_none() {
            let message =
                "moisture mitigation goes below a coating system, and none is named".into();
            let place = fields.key_place("mitigation");
            self.reader.error("missing-key", place, message, "add system: flake");
        }
        wanted.unwrap_or(false)
    }

    fn uncoated(&mut self, node: &Node) -> Option<Uncoated> {
        self.item(node, Kind::Uncoated, |pass, fields, id| {
            let what = pass.words(fields, "what");
            let shape = pass.shape(fields, &SIZE);
            Some(Uncoated { id, what, shape: shape? })
        })
    }

    fn face(&mut self, node: &Node) -> Option<Face> {
        let fields = self.reader.fields(node, "a face", &["name", "path", "height", "cove"])?;
        let name = self.words(&fields, "name");
        let path = self.reader.required(&fields, "path", "path: [[0, 22'], [8', 22']]");
        let path = path.and_then(|node| self.path(node, "the path", Use::Line));
        let height = self.needed_length(&fields, "height", &FACE_HEIGHT, "height: 6\"");
        let cove = self.optional(&fields, "cove", Self::cove);
        Some(Face { name, path: path?, height: height?, cove: cove.flatten() })
    }

    /// `true`, `false`, or the radius of the cove.
    pub(super) fn cove(&mut self, node: &Node) -> Option<Option<Cove>> {
        let text = node.text().unwrap_or_default();
        if TRUTHS.iter().any(|word| text.eq_ignore_ascii_case(word)) {
            let wanted = self.reader.truth(node, "cove")?;
            return Some(wanted.then_some(Cove::Usual));
        }
        if text.starts_with(|c: char| c.is_ascii_alphabetic()) {
            let message = format!("a cove is true, false or a radius, not {}", node.describe());
            self.reader.error(
                "unknown-value",
                node.place,
                message,
                "write cove: true, or cove: 1\"",
            );
            return None;
        }
        let radius = self.reader.length(node, &COVE)?;
        Some(Some(Cove::Radius(radius.value)))
    }

    fn pour_from(&mut self, node: &Node) -> Option<At<PourFrom>> {
        let text = node.text().unwrap_or_default();
        let number = text.strip_prefix("wall").unwrap_or(text).trim();
        if number.starts_with(|c: char| c.is_ascii_digit()) {
            let mut number_node = node.clone();
            number_node.kind = crate::yaml::Kind::Scalar { text: number.into(), quoted: false };
            let wall = self.wall(&number_node, "the wall")?;
            return Some(At { value: PourFrom::Wall(wall.value), span: wall.span });
        }
        if node.text().is_none() || !Compass::WORDS.iter().any(|(side, _)| *side == text) {
            let message =
                format!("`pour_from` is a side of the sheet or a wall, not {}", node.describe());
            self.reader.error("unknown-value", node.place, message, "write N, E, S, W or wall 3");
            return None;
        }
        let side = self.reader.word(node, "pour_from", Compass::WORDS)?;
        Some(At { value: PourFrom::Compass(side.value), span: side.span })
    }
}
