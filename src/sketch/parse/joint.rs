//! Joints.

use super::Pass;
use super::path::Use;
use crate::form::Fields;
use crate::quantity::Length;
use crate::record::Kind;
use crate::record::limits::{CHASE_DEPTH, CHASE_WIDTH, COORDINATE, DEPTH, WANDER, WIDTH};
use crate::sketch::{At, ChaseOverride, Formed, Joint, JointKind, JointTreatment, LineForm};
use crate::yaml::Node;

impl Pass<'_> {
    /// Reads a joint; one for each of a list of lines.
    pub(super) fn joint(&mut self, node: &Node) -> Option<Vec<Joint>> {
        self.item(node, Kind::Joint, |pass, fields, id| {
            let kind = pass.reader.required(fields, "kind", "kind: control");
            let kind = kind.and_then(|node| pass.reader.word(node, "the kind", JointKind::WORDS));
            let formed = pass.optional(fields, "formed", |pass, node| {
                pass.reader.word(node, "the forming", Formed::WORDS)
            });
            let lines = pass.joint_lines(fields);
            let ends_at = pass.ends_at(fields);
            let width = pass.length(fields, "width", &WIDTH);
            let depth = pass.length(fields, "depth", &DEPTH);
            let strip_depth = pass.length(fields, "strip_depth", &DEPTH.called("the strip depth"));
            let wander = pass.length(fields, "wander", &WANDER);
            let buried =
                pass.optional(fields, "buried", |pass, node| pass.reader.truth(node, "buried"));
            let treatment = pass.optional(fields, "treatment", |pass, node| {
                pass.reader.word(node, "the treatment", JointTreatment::WORDS)
            });
            let chase = pass.optional(fields, "chase", Self::chase);
            let note = pass.words(fields, "note");
            let mut lines = lines?.into_iter();
            let first = Joint {
                id,
                kind: kind?,
                formed: formed.map_or(Formed::Unknown, |formed| formed.value),
                line: lines.next()?,
                ends_at,
                width,
                depth,
                strip_depth,
                wander,
                buried: buried.unwrap_or(false),
                treatment,
                chase: chase.unwrap_or_default(),
                note,
            };
            let others = lines.map(|line| Joint { line, ..first.clone() });
            let others: Vec<Joint> = others.collect();
            Some(std::iter::once(first).chain(others).collect())
        })
    }

    /// Reads what a joint ends at: an id, a pattern with `*`, or a list of them.
    fn ends_at(&mut self, fields: &Fields) -> Vec<At<String>> {
        let Some(node) = fields.get("ends_at") else {
            return Vec::new();
        };
        let one = std::slice::from_ref(node);
        let mut out = Vec::new();
        for entry in node.items().unwrap_or(one) {
            let Some(text) = entry.text() else {
                let hint = "write ends_at: K*, or ends_at: [K1, K2]";
                let wanted = "an id or a pattern of ids";
                self.reader.wrong_type(entry, "`ends_at`", wanted, hint);
                continue;
            };
            let pattern = At { value: text.trim().to_owned(), span: entry.place.span };
            self.references.end(self.reader.item.as_ref(), &pattern);
            out.push(pattern);
        }
        out
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
        let given: Vec<&str> = keys.into_iter().filter(|key| fields.get(key).is_some()).collect();
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

    /// The line of a joint, or the lines of a list.
    fn joint_lines(&mut self, fields: &Fields) -> Option<Vec<At<LineForm>>> {
        let key = self.placed_by(fields)?;
        let node = fields.get(key)?;
        let from = self.length(fields, "from", &COORDINATE);
        let to = self.length(fields, "to", &COORDINATE);
        if key == "path" {
            self.no_limits(fields);
            let value = LineForm::Path(self.path(node, "the path", Use::Line)?);
            let span = node.place.span;
            return Some(vec![At { value, span }]);
        }
        let lines = self.lines(fields, key);
        self.some_length(fields, from.as_ref(), to.as_ref())?;
        let line = |at: At<Length>| At {
            span: at.span,
            value: match (key, from.clone(), to.clone()) {
                ("x", from, to) => LineForm::X { x: at, from, to },
                (_, from, to) => LineForm::Y { y: at, from, to },
            },
        };
        Some(lines?.into_iter().map(line).collect())
    }

    fn no_limits(&mut self, fields: &Fields) {
        for key in ["from", "to"] {
            if fields.get(key).is_some() {
                let message =
                    format!("`{key}` limits a joint given by x or y, and this one has a path");
                let hint = "take it out; a path ends where its points end";
                self.reader.error("placed-twice", fields.key_place(key), message, hint);
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
        self.reader.error("path", fields.key_place("to"), message, "give two different ends");
        None
    }
}
