//! `proposal:`: the words of the paper that a customer signs.

use std::collections::BTreeMap;

use super::Pass;
use crate::diagnostic::{Diagnostic, Place};
use crate::form::nearest;
use crate::shop::{ProposalWords, Slot, Wording};
use crate::sketch::Span;
use crate::yaml::Node;

/// Every key of the section that holds a text.
pub(super) const TEXTS: [&str; 52] = [
    "company",
    "address",
    "phone",
    "license",
    "title",
    "intro",
    "preparation",
    "joint_fill",
    "joint_honor",
    "joint_buried",
    "joint_leave",
    "crack_prime",
    "crack_fill",
    "crack_chase",
    "crack_honor",
    "crack_leave",
    "spall",
    "step",
    "blemish",
    "moisture_within",
    "moisture_over",
    "moisture_none",
    "moisture_few",
    "hardness",
    "dew_ok",
    "dew_low",
    "exclude_structure",
    "exclude_engineer",
    "exclude_slope",
    "exclude_cracks",
    "exclude_moisture",
    "exclude_telegraphing",
    "exclude_color",
    "exclude_hidden",
    "duty_empty",
    "duty_power",
    "duty_heat",
    "duty_pilots",
    "duty_people",
    "duty_tell",
    "schedule",
    "return_to_service",
    "unit_prices",
    "validity",
    "payment",
    "changes",
    "warranty",
    "right_to_cancel",
    "deposit_notice",
    "caution_dust",
    "caution_resin",
    "caution_tendons",
];
/// The rest of them; a list of more than fifty is hard to count.
pub(super) const MORE_TEXTS: [&str; 4] = ["caution_stamped", "opinion", "acceptance", "tags"];

impl Pass<'_> {
    /// Reads the section of the merged book.
    pub(super) fn proposal(&mut self, node: &Node) -> Option<ProposalWords> {
        let keys = [&TEXTS[..], &MORE_TEXTS, &["valid_days", "layers"]].concat();
        let fields = self.reader.fields(node, "the proposal", &keys)?;
        let mut texts = BTreeMap::new();
        for key in TEXTS.into_iter().chain(MORE_TEXTS) {
            let Some(node) = fields.get(key) else {
                continue;
            };
            if let Some(wording) = self.wording(node, key) {
                texts.insert(key.to_owned(), wording);
            }
        }
        let days = self
            .reader
            .required(&fields, "valid_days", "valid_days: 30");
        let days = days.and_then(|node| self.reader.count(node, "`valid_days`"));
        let layers = fields.get("layers").map(|node| self.layer_words(node));
        Some(ProposalWords {
            texts,
            layers: layers.unwrap_or_default(),
            valid_days: days?.value,
        })
    }

    fn layer_words(&mut self, node: &Node) -> BTreeMap<String, Wording> {
        let Some(entries) = node.entries() else {
            let hint =
                "write the name of a layer and behind it what it does: `primer: bonds the coating`";
            self.reader
                .wrong_type(node, "`layers`", "texts by the names of layers", hint);
            return BTreeMap::new();
        };
        entries
            .iter()
            .filter(|(_, node)| !node.is_null())
            .filter_map(|(key, node)| Some((key.text.to_string(), self.wording(node, &key.text)?)))
            .collect()
    }

    /// Reads a text and the places for values in it.
    fn wording(&mut self, node: &Node, key: &str) -> Option<Wording> {
        let Some(text) = node.text() else {
            let hint = "put a text that has brackets or colons in it into quotation marks";
            self.reader
                .wrong_type(node, &format!("`{key}`"), "a text", hint);
            return None;
        };
        let bad = match Wording::read(text) {
            Ok(wording) => return Some(wording),
            Err(bad) => bad,
        };
        let known: Vec<&str> = Slot::ALL.iter().map(|(word, _)| *word).collect();
        let place = self.inside(node, &text[bad.at.clone()]);
        let fault = match &bad.word {
            None => Diagnostic::error("lone-brace", format!("a brace stands alone in `{key}`"))
                .hint(
                    "values stand between two braces: {client}; write {{ or }} for a brace itself",
                ),
            Some(word) => {
                let word = crate::yaml::excerpt(word);
                let message = format!("`{{{word}}}` in `{key}` is no value that a proposal has");
                let near = nearest(&word, known.iter().copied());
                let list = known.join(", ");
                Diagnostic::error("unknown-placeholder", message).hint(match near {
                    Some(meant) => format!("did you mean `{{{meant}}}`? Known are {list}"),
                    None => format!("known are {list}; write {{{{ for a brace itself"),
                })
            }
        };
        self.reader.note(fault.place(place).label("not known here"));
        None
    }

    /// Where a part of a text stands in the file; the whole text where escapes hide it.
    fn inside(&self, node: &Node, part: &str) -> Place {
        let Span { start, end } = node.place.span;
        let written = self.reader.written(node.place.span);
        match written.find(part) {
            Some(at) if at + part.len() <= end - start => Place {
                file: node.place.file,
                span: Span {
                    start: start + at,
                    end: start + at + part.len(),
                },
            },
            _ => self.reader.first_line(node.place),
        }
    }
}
