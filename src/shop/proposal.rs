//! The words of the proposal, with places for values.

use std::collections::BTreeMap;

use crate::diagnostic::Place;

/// A value that a text can hold a place for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slot {
    /// Who the job is for.
    Client,
    /// Address or place.
    Site,
    /// Name of the job.
    Job,
    /// The shop's job number.
    Number,
    /// Day of the survey, which is the proposal's.
    Date,
    /// Revision of the sketch.
    Revision,
    /// Who proposes.
    Company,
    /// Price of the job as sketched.
    Price,
    /// Coated area.
    Area,
    /// Coating system.
    System,
    /// Working days.
    Days,
    /// First day of the work.
    Start,
    /// First foot on the floor.
    Foot,
    /// First vehicle.
    Vehicles,
    /// Days that the proposal is good for.
    ValidDays,
    /// How far unit prices hold, percent.
    Band,
    /// The most that concealed work of which nothing was estimated may come to.
    NotToExceed,
    /// Tags that the sentence is about.
    Items,
}

impl Slot {
    /// All of them, as written between braces.
    pub const ALL: [(&'static str, Self); 18] = [
        ("client", Self::Client),
        ("site", Self::Site),
        ("job", Self::Job),
        ("number", Self::Number),
        ("date", Self::Date),
        ("revision", Self::Revision),
        ("company", Self::Company),
        ("price", Self::Price),
        ("area", Self::Area),
        ("system", Self::System),
        ("days", Self::Days),
        ("start", Self::Start),
        ("foot", Self::Foot),
        ("vehicles", Self::Vehicles),
        ("valid_days", Self::ValidDays),
        ("band", Self::Band),
        ("not_to_exceed", Self::NotToExceed),
        ("items", Self::Items),
    ];

    /// As written between braces.
    #[must_use]
    pub fn word(self) -> &'static str {
        let found = Self::ALL.into_iter().find(|(_, slot)| *slot == self);
        found.map_or("", |(word, _)| word)
    }
}

/// A part of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Words as they are.
    Words(String),
    /// A place for a value.
    Slot(Slot),
}

/// A text with places for values; empty where the shop wants nothing said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wording(pub Vec<Part>);

/// A text that can't be read: what is wrong, and which bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct BadSlot {
    pub at: std::ops::Range<usize>,
    /// What stands between the braces; `None` for a brace that is alone.
    pub word: Option<String>,
}

impl Wording {
    /// Reads the braces of a text.
    pub(super) fn read(text: &str) -> Result<Self, BadSlot> {
        let mut parts = Vec::new();
        let mut words = String::new();
        let mut rest = text;
        while let Some(brace) = rest.find(['{', '}']) {
            let at = text.len() - rest.len() + brace;
            words.push_str(&rest[..brace]);
            let tail = &rest[brace..];
            if tail.starts_with("{{") || tail.starts_with("}}") {
                words.push_str(&tail[..1]);
                rest = &tail[2..];
                continue;
            }
            let Some(end) = tail.find('}').filter(|end| *end > 0) else {
                return Err(BadSlot { at: at..at + 1, word: None });
            };
            let word = tail[1..end].trim();
            let Some((_, slot)) = Slot::ALL.into_iter().find(|(known, _)| *known == word) else {
                return Err(BadSlot { at: at..at + end + 1, word: Some(word.to_owned()) });
            };
            if !words.is_empty() {
                parts.push(Part::Words(std::mem::take(&mut words)));
            }
            parts.push(Part::Slot(slot));
            rest = &tail[end + 1..];
        }
        words.push_str(rest);
        if !words.trim().is_empty() || (!parts.is_empty() && !words.is_empty()) {
            parts.push(Part::Words(words));
        }
        Ok(Self(parts))
    }

    /// Whether the shop wants nothing said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// What a proposal of this shop says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ProposalWords {
    /// Texts by their key in the shop book.
    pub texts: BTreeMap<String, Wording>,
    /// A layer of a coating system in plain words, by the layer's name.
    pub layers: BTreeMap<String, Wording>,
    /// Days that a proposal is good for.
    pub valid_days: usize,
    /// File of the shop's logo, named from the shop book's folder, and where the book names it.
    pub logo: Option<(String, Place)>,
}

impl ProposalWords {
    /// A text as it stands, without the places for values: a company that named itself would never end.
    #[must_use]
    pub fn plain(&self, key: &str) -> Option<String> {
        let words = self.text(key).iter().filter_map(|part| match part {
            Part::Words(words) => Some(words.as_str()),
            Part::Slot(_) => None,
        });
        let words = crate::text::clean(words.collect::<String>().trim());
        Some(words).filter(|words| !words.is_empty())
    }

    /// A text; empty for a key that is none.
    #[must_use]
    pub fn text(&self, key: &str) -> &[Part] {
        self.texts.get(key).map_or(&[], |wording| &wording.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn braces_are_places_for_values() {
        let words = |t: &str| Part::Words(t.to_owned());
        let rows: [(&str, Vec<Part>); 6] = [
            ("", vec![]),
            ("  ", vec![]),
            ("plain", vec![words("plain")]),
            ("for {client}.", vec![words("for "), Part::Slot(Slot::Client), words(".")]),
            ("{ price }", vec![Part::Slot(Slot::Price)]),
            ("a {{b}} c", vec![words("a {b} c")]),
        ];
        for (text, wanted) in rows {
            assert_eq!(Wording::read(text), Ok(Wording(wanted)), "{text}");
        }
    }

    #[test]
    fn what_is_no_place_is_pointed_at() {
        let rows = [
            ("for {cleint}", 4..12, Some("cleint")),
            ("é {x}", 3..6, Some("x")),
            ("open {client", 5..6, None),
            ("shut } here", 5..6, None),
            ("none {}", 5..7, Some("")),
        ];
        for (text, at, word) in rows {
            let word = word.map(str::to_owned);
            assert_eq!(Wording::read(text), Err(BadSlot { at, word }), "{text}");
        }
    }
}
