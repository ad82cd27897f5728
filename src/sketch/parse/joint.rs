//! Joints.

use super::Pass;
use super::limits::{CHASE_DEPTH, CHASE_WIDTH, COORDINATE, DEPTH, WANDER, WIDTH};
use super::path::Use;
use crate::form::Fields;
use crate::quantity::Length;
use crate::sketch::{At, ChaseOverride, Formed, Joint, JointKind, LineForm, Treatment};
use crate::yaml::Node;

const KEYS: [&str; 16] = [
    "id",
    "kind",
    "formed",
    "path",
    "x",
    "y",
    "from",
    "to",
    "width",
    "depth",
    "strip_depth",
    "wander",
    "buried",
    "treatment",
    "chase",
    "note",
];
pub(crate) const KINDS: [(&str, JointKind); 3] = [
    ("control", JointKind::Control),
    ("construction", JointKind::Construction),
    ("isolation", JointKind::Isolation),
];
pub(crate) const FORMED: [(&str, Formed); 6] = [
    ("sawn", Formed::Sawn),
    ("tooled", Formed::Tooled),
    ("strip", Formed::Strip),
    ("board", Formed::Board),
    ("keyed", Formed::Keyed),
    ("unknown", Formed::Unknown),
];
pub(crate) const TREATMENTS: [(&str, Treatment); 3] = [
    ("fill", Treatment::Fill),
    ("honor", Treatment::Honor),
    ("leave", Treatment::Leave),
];

impl Pass<'_> {
    /// Reads a joint.
    pub(super) fn joint(&mut self, node: &Node) -> Option<Joint> {
        self.item(node, "a joint", &KEYS, |pass, fields, id| {
            let kind = pass.reader.required(fields, "kind", "kind: control");
            let kind = kind.and_then(|node| pass.reader.word(node, "the kind", &KINDS));
            let formed = pass.optional(fields, "formed", |pass, node| {
                pass.reader.word(node, "the forming", &FORMED)
            });
            let line = pass.joint_line(fields);
            let width = pass.length(fields, "width", &WIDTH);
            let depth = pass.length(fields, "depth", &DEPTH);
            let strip_depth = pass.length(fields, "strip_depth", &DEPTH.called("the strip depth"));
            let wander = pass.length(fields, "wander", &WANDER);
            let buried = pass.optional(fields, "buried", |pass, node| {
                pass.reader.truth(node, "buried")
            });
            let treatment = pass.optional(fields, "treatment", |pass, node| {
                pass.reader.word(node, "the treatment", &TREATMENTS)
            });
            let chase = pass.optional(fields, "chase", Self::chase);
            let note = pass.words(fields, "note");
            Some(Joint {
                id,
                kind: kind?,
                formed: formed.map_or(Formed::Unknown, |formed| formed.value),
                line: line?,
                width,
                depth,
                strip_depth,
                wander,
                buried: buried.unwrap_or(false),
                treatment,
                chase: chase.unwrap_or_default(),
                note,
            })
        })
    }

    fn chase(&mut self, node: &Node) -> Option<ChaseOverride> {
        let fields = self.reader.fields(node, "a chase", &["width", "depth"])?;
        Some(ChaseOverride {
            width: self.length(&fields, "width", &CHASE_WIDTH),
            depth: self.length(&fields, "depth", &CHASE_DEPTH),
        })
    }

    /// The one way a joint is placed, by its key.
    fn placed_by(&mut self, fields: &Fields) -> Option<&'static str> {
        let keys = ["path", "x", "y"];
        let given: Vec<&str> = keys
            .into_iter()
            .filter(|key| fields.get(key).is_some())
            .collect();
        match given[..] {
            [key] => Some(key),
            [] if self.reader.has_misspelt(fields, &keys) => None,
            [] => {
                let place = self.reader.first_line(fields.place);
                let message = "a joint needs to be placed".into();
                let hint = "add x: 12' or y: 10' for one that runs right across, or path: [[0, 0], [4', 2']]";
                self.reader.error("missing-key", place, message, hint);
                None
            }
            [first, second, ..] => {
                let message = format!("the joint is placed twice, by `{first}` and by `{second}`");
                self.reader.error(
                    "placed-twice",
                    fields.key_place(second),
                    message,
                    "keep one of them",
                );
                None
            }
        }
    }

    fn joint_line(&mut self, fields: &Fields) -> Option<At<LineForm>> {
        let key = self.placed_by(fields)?;
        let node = fields.get(key)?;
        let from = self.length(fields, "from", &COORDINATE);
        let to = self.length(fields, "to", &COORDINATE);
        let value = if key == "path" {
            self.no_limits(fields);
            LineForm::Path(self.path(node, "the path", Use::Line)?)
        } else {
            let at = self.reader.length(node, &COORDINATE);
            self.some_length(fields, from.as_ref(), to.as_ref())?;
            match (key, at?) {
                ("x", x) => LineForm::X { x, from, to },
                (_, y) => LineForm::Y { y, from, to },
            }
        };
        Some(At {
            value,
            span: node.place.span,
        })
    }

    fn no_limits(&mut self, fields: &Fields) {
        for key in ["from", "to"] {
            if fields.get(key).is_some() {
                let message =
                    format!("`{key}` limits a joint given by x or y, and this one has a path");
                let hint = "take it out; a path ends where its points end";
                self.reader
                    .error("placed-twice", fields.key_place(key), message, hint);
            }
        }
    }

    fn some_length(
        &mut self,
        fields: &Fields,
        from: Option<&At<Length>>,
        to: Option<&At<Length>>,
    ) -> Option<()> {
        let (Some(from), Some(to)) = (from, to) else {
            return Some(());
        };
        if from.value != to.value {
            return Some(());
        }
        let message = "the joint has no length: `from` and `to` are the same".into();
        self.reader.error(
            "path",
            fields.key_place("to"),
            message,
            "give two different ends",
        );
        None
    }
}
