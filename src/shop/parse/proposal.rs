//! `proposal:`: the words of the paper that a customer signs.

use std::collections::BTreeMap;

use super::Pass;
use crate::diagnostic::Span;
use crate::diagnostic::{Diagnostic, Place};
use crate::form::nearest;
use crate::shop::{ProposalWords, Slot, Wording};
use crate::yaml::Node;

/// Every key of the section that holds a text.
pub(crate) const TEXTS: [&str; 52] = [
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
pub(crate) const MORE_TEXTS: [&str; 16] = [
    "caution_stamped",
    "opinion",
    "acceptance",
    "tags",
    "joint_fill_moving",
    "crack_may_return",
    "crack_returns",
    "step_high",
    "blemish_untested",
    "blemish_hazard",
    "schedule_holds",
    "return_weather",
    "delamination",
    "delamination_inject",
    "delamination_leave",
    "exclude_hollow",
];

impl Pass<'_> {
    /// Reads the section of the merged book.
    pub(super) fn proposal(&mut self, node: &Node) -> Option<ProposalWords> {
        let keys = [&TEXTS[..], &MORE_TEXTS, &["valid_days", "layers", "logo"]].concat();
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
        let days = self.reader.required(&fields, "valid_days", "valid_days: 30");
        let days = days.and_then(|node| self.reader.count(node, "`valid_days`"));
        let logo = fields.get("logo").filter(|node| !node.is_null());
        let logo = logo.and_then(|node| self.file(node));
        let layers = fields.get("layers").map(|node| self.layer_words(node));
        Some(ProposalWords {
            texts,
            layers: layers.unwrap_or_default(),
            valid_days: days?.value,
            logo,
        })
    }

    /// A file's name, and where it stands; nothing for an empty name.
    fn file(&mut self, node: &Node) -> Option<(String, Place)> {
        let Some(text) = node.text() else {
            let hint = "name a PNG or SVG file from the shop book's folder: `logo: logo.svg`";
            self.reader.wrong_type(node, "`logo`", "the name of a file", hint);
            return None;
        };
        (!text.trim().is_empty()).then(|| (text.trim().to_owned(), node.place))
    }

    fn layer_words(&mut self, node: &Node) -> BTreeMap<String, Wording> {
        let Some(entries) = node.entries() else {
            let hint =
                "write the name of a layer and behind it what it does: `primer: bonds the coating`";
            self.reader.wrong_type(node, "`layers`", "texts by the names of layers", hint);
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
            self.reader.wrong_type(node, &format!("`{key}`"), "a text", hint);
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
                let word = crate::text::excerpt(word);
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
                span: Span { start: start + at, end: start + at + part.len() },
            },
            _ => self.reader.first_line(node.place),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::FileId;
    use crate::shop::parse::{BUILT_IN, parse};

    #[test]
    fn every_text_has_a_built_in_wording_and_every_wording_a_key() {
        let words = crate::shop::built_in().proposal;
        let keys: Vec<&str> = TEXTS.into_iter().chain(MORE_TEXTS).collect();
        for key in &keys {
            assert!(words.texts.contains_key(*key), "{key}");
        }
        assert_eq!(words.texts.len(), keys.len());
        for key in ["right_to_cancel", "deposit_notice", "company"] {
            assert!(words.texts[key].is_empty(), "{key} is the shop's to write");
        }
        assert!(BUILT_IN.contains("many states prescribe this notice word for word"));
    }

    #[test]
    fn a_wrong_place_for_a_value_is_pointed_at() {
        let rows = [
            (
                "{cleint}",
                "unknown-placeholder",
                "`{cleint}` in `intro` is no value that a proposal has",
                "did you mean `{client}`?",
                "{cleint}",
            ),
            (
                "{pirce}",
                "unknown-placeholder",
                "`{pirce}` in `intro` is no value",
                "did you mean `{price}`?",
                "{pirce}",
            ),
            (
                "{wages}",
                "unknown-placeholder",
                "`{wages}` in `intro` is no value",
                "known are client, site",
                "{wages}",
            ),
            ("{client", "lone-brace", "a brace stands alone in `intro`", "write {{ or }}", "{"),
        ];
        for (text, code, message, hint, marked) in rows {
            let book = format!(
                "slabwalk_shop: 1\nproposal:\n  company: Sample\n  intro: \"For you, {text}, a floor.\"\n"
            );
            let (shop, faults) = parse(&book);
            assert_eq!(shop, None, "{text}");
            let [fault] = &faults[..] else {
                panic!("{faults:#?}");
            };
            assert_eq!(fault.code, code);
            assert!(fault.message.starts_with(message), "{}", fault.message);
            let said = fault.hint.as_deref().unwrap_or_default();
            assert!(said.starts_with(hint) || said.contains(hint), "{said}");
            let place = fault.place.unwrap();
            assert_eq!(place.file, FileId::Shop);
            assert_eq!(&book[place.span.start..place.span.end], marked);
        }
    }

    #[test]
    fn unknown_keys_and_wrong_types_are_errors() {
        let rows = [
            ("proposal: {intor: x}", "`intor` is not a key of the proposal"),
            ("proposal: {intro: [a]}", "`intro` should be a text"),
            ("proposal: {layers: x}", "`layers` should be texts by the names of layers"),
            ("proposal: {layers: {primer: \"{nobody}\"}}", "`{nobody}` in `primer` is no value"),
            ("proposal: {valid_days: soon}", "`valid_days` `soon` is not a number"),
        ];
        for (text, message) in rows {
            let (shop, faults) = parse(&format!("slabwalk_shop: 1\n{text}\n"));
            assert_eq!(shop, None, "{text}");
            assert!(faults[0].message.starts_with(message), "{}", faults[0].message);
        }
    }

    #[test]
    fn keys_override_one_by_one_and_an_empty_text_is_left_out() {
        let (shop, faults) = parse(
            "slabwalk_shop: 1\nproposal: {warranty: \"\", payment: Half at the start., title:}\n",
        );
        assert_eq!(faults, []);
        let (words, built_in) = (shop.unwrap().proposal, crate::shop::built_in().proposal);
        assert!(words.texts["warranty"].is_empty());
        assert_ne!(words.texts["payment"], built_in.texts["payment"]);
        assert_eq!(words.texts["title"], built_in.texts["title"]);
        assert_eq!(words.texts["intro"], built_in.texts["intro"]);
    }
}
