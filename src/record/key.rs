//! A key of a record: what it takes, and who asks for it in which words.

use super::words::Choice;
use crate::form::Rule;

/// A key that may be left out, or must be there.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Need {
    Optional,
    Required,
}

/// What stands behind a key of an item.
#[derive(Clone, Copy)]
pub(crate) enum Takes {
    /// The name of the item.
    Id,
    /// Any text.
    Text,
    /// `YYYY-MM-DD`.
    Day,
    /// `true` or `false`.
    Truth,
    Length(Rule),
    /// A length, or a list of them.
    Lengths(Rule),
    /// A share in percent.
    Percent,
    /// A number without a unit, between two limits.
    Number(f64, f64),
    /// One of these words.
    Words(&'static [Choice]),
    Point,
    /// Two vertices or more.
    Path,
    /// A rectangle square to the sheet.
    Box,
    Circle,
    /// Three corners or more.
    Corners,
    /// A strip along a path.
    Strip,
    /// Where the items stand that one record stands for.
    Repeat,
    /// What a joint ends at.
    Ends,
    /// The size of a chase.
    Chase,
    /// The width of a crack along it.
    Widths,
    /// The line of a step.
    Along,
    /// Steps by their stations.
    Readings,
    /// Whether there is a cove, or its radius.
    Cove,
}

/// How the page asks for a key.
#[derive(Clone, Copy)]
pub(crate) struct Asked {
    /// What it calls the field.
    pub label: &'static str,
    /// Whether it must be filled in. The page asks for more than a sketch must have.
    pub needed: bool,
    /// The words that it offers, where they are not simply those of the key.
    pub choices: Option<&'static [Choice]>,
}

/// A key of a record.
#[derive(Clone, Copy)]
pub(crate) struct Key {
    pub name: &'static str,
    pub takes: Takes,
    pub need: Need,
    /// What it says, for a person.
    pub about: &'static str,
    /// A value that could stand there, as YAML; nothing for lists and records, whose own keys have theirs.
    pub example: &'static str,
    /// Nothing where the page places the item by it, or leaves it to the file.
    pub asked: Option<Asked>,
}

/// A key that may be left out.
pub(super) const fn may(
    name: &'static str,
    takes: Takes,
    about: &'static str,
    example: &'static str,
) -> Key {
    Key { name, takes, need: Need::Optional, about, example, asked: None }
}

/// A key that must be there.
pub(super) const fn must(
    name: &'static str,
    takes: Takes,
    about: &'static str,
    example: &'static str,
) -> Key {
    Key { need: Need::Required, ..may(name, takes, about, example) }
}

impl Key {
    /// The same key, for which the page asks under a label.
    pub(super) const fn asked(self, label: &'static str) -> Self {
        let needed = matches!(self.need, Need::Required);
        Self { asked: Some(Asked { label, needed, choices: None }), ..self }
    }

    /// The same key, without which the page records nothing.
    pub(super) const fn asked_always(self, label: &'static str) -> Self {
        Self { asked: Some(Asked { label, needed: true, choices: None }), ..self }
    }

    /// The same key, for which the page offers words of its own.
    pub(super) const fn choosing(self, label: &'static str, choices: &'static [Choice]) -> Self {
        let needed = matches!(self.need, Need::Required);
        Self { asked: Some(Asked { label, needed, choices: Some(choices) }), ..self }
    }
}

/// Keys of which only some go together.
pub(crate) enum Group {
    /// Exactly one of these keys.
    One(&'static [&'static str]),
    /// At least one of these keys.
    Some(&'static [&'static str]),
    /// All of these keys or none.
    Both(&'static str, &'static str),
    /// If the first key is there, none of the others may be.
    Without(&'static str, &'static [&'static str]),
    /// If the first key is there, all of the others must be.
    With(&'static str, &'static [&'static str]),
}

pub(super) const fn names<const N: usize>(keys: &[Key; N]) -> [&'static str; N] {
    let mut out = [""; N];
    let mut i = 0;
    while i < N {
        out[i] = keys[i].name;
        i += 1;
    }
    out
}

/// The keys that all items have alike.
pub(super) const fn id(example: &'static str) -> Key {
    let about = "How the item is called on the map and on the floor. Left out: the next free number of its letter.";
    may("id", Takes::Id, about, example)
}

/// What the item is, in a person's words.
pub(super) const fn what(example: &'static str) -> Key {
    may("what", Takes::Text, "What it is.", example).asked_always("What is it?")
}

pub(crate) const NOTE: &str = "Anything worth knowing.";

/// A free note.
pub(super) const fn note(example: &'static str) -> Key {
    may("note", Takes::Text, NOTE, example).asked("Note")
}

/// Several alike.
pub(super) const REPEAT: Key = may(
    "repeat",
    Takes::Repeat,
    "Several alike: a row of so many at equal distances, or one at each of these x and y. Their ids end in .1, .2 and so on.",
    "",
);
