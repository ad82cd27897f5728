//! The tree that a text becomes.

use std::borrow::Cow;

use crate::diagnostic::Place;
use crate::text::excerpt;

/// One value of the file.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node<'a> {
    /// What stands there.
    pub kind: Kind<'a>,
    /// Where it stands.
    pub place: Place,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind<'a> {
    /// Nothing, `~` or `null`.
    Null,
    /// A text, without its quotes.
    Scalar {
        text: Cow<'a, str>,
        /// It was written in quotes or as a block.
        quoted: bool,
    },
    /// A list.
    Sequence(Vec<Node<'a>>),
    /// Keys and values, in the order of the file, each key once.
    Mapping(Vec<(Key<'a>, Node<'a>)>),
}

/// A key of a mapping.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Key<'a> {
    pub text: Cow<'a, str>,
    /// Where it stands.
    pub place: Place,
}

impl<'a> Node<'a> {
    /// The text, if it is one.
    pub fn text(&self) -> Option<&str> {
        match &self.kind {
            Kind::Scalar { text, .. } => Some(text),
            _ => None,
        }
    }

    /// The entries, if it is a list.
    pub fn items(&self) -> Option<&[Self]> {
        match &self.kind {
            Kind::Sequence(items) => Some(items),
            _ => None,
        }
    }

    /// The keys and values, if it has any.
    pub fn entries(&self) -> Option<&[(Key<'a>, Self)]> {
        match &self.kind {
            Kind::Mapping(entries) => Some(entries),
            _ => None,
        }
    }

    /// The value of a key, if it is a mapping that has it.
    pub fn get(&self, key: &str) -> Option<&Self> {
        self.entries()?.iter().find(|(name, _)| name.text == key).map(|(_, value)| value)
    }

    /// Whether nothing stands there.
    pub const fn is_null(&self) -> bool {
        matches!(self.kind, Kind::Null)
    }

    /// What it is, in words for a message.
    pub fn describe(&self) -> String {
        match &self.kind {
            Kind::Null => "nothing".into(),
            Kind::Scalar { text, .. } => format!("`{}`", excerpt(text)),
            Kind::Sequence(items) => match items.len() {
                1 => "a list of one entry".into(),
                count => format!("a list of {count} entries"),
            },
            Kind::Mapping(_) => "keys and values".into(),
        }
    }
}
