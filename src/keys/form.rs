//! What a file may hold, as data.

use crate::form::Rule;
pub(crate) use crate::record::{Group, Need};

/// What may stand somewhere.
#[derive(Clone)]
pub(crate) enum Form {
    /// Any text.
    Text,
    /// The name of an item, as on a tag.
    Id,
    /// The names of items: one, or a pattern with stars.
    Ids,
    /// The version of the format.
    Version,
    /// `YYYY-MM-DD`.
    Day,
    /// `true` or `false`.
    Truth,
    /// A whole number from 1.
    Count,
    /// A number without a unit, between two limits.
    Number(f64, f64),
    /// A price, with or without the sign of a currency.
    Money,
    /// A length and what it may be.
    Length(Rule),
    /// One of the reader's words.
    Words(Vec<&'static str>),
    /// A text of the form of a regular expression.
    Pattern(String),
    /// A list, with the fewest entries it may have.
    List(Box<Form>, usize),
    /// A list of a fixed length.
    Tuple(Vec<Form>),
    /// Keys and values.
    Record(fn() -> Record),
    /// Names chosen by the writer, and what stands behind each.
    Named(Box<Form>),
    /// One of several.
    Any(Vec<Form>),
    /// The same, or nothing.
    OrNothing(Box<Form>),
}

/// Words of the schema. A phone makes no schema, and its core is smaller without them.
#[derive(Clone, Copy)]
pub(crate) struct Said(#[cfg(not(target_family = "wasm"))] &'static str);

impl Said {
    #[cfg(not(target_family = "wasm"))]
    pub const fn new(text: &'static str) -> Self {
        Self(text)
    }

    #[cfg(not(target_family = "wasm"))]
    pub const fn text(self) -> &'static str {
        self.0
    }

    #[cfg(target_family = "wasm")]
    pub const fn new(_: &'static str) -> Self {
        Self()
    }

    #[cfg(target_family = "wasm")]
    pub const fn text(self) -> &'static str {
        ""
    }
}

/// A key of a record.
pub(crate) struct Key {
    pub name: &'static str,
    pub form: Form,
    pub need: Need,
    /// What it says, for a person.
    pub about: Said,
    /// A value that could stand there, as YAML; nothing for lists and records, whose own keys have theirs.
    pub example: Said,
}

/// Keys and values that belong together, in their canonical order.
pub(crate) struct Record {
    /// Name among the definitions of the schema.
    pub name: &'static str,
    /// What the reader calls it, with its article.
    pub what: &'static str,
    pub about: Said,
    pub keys: Vec<Key>,
    /// Of each group of keys, how many must be there and how many may.
    pub groups: &'static [Group],
}

impl Record {
    /// A record without groups.
    pub fn new(
        name: &'static str,
        what: &'static str,
        about: &'static str,
        keys: Vec<Key>,
    ) -> Self {
        Self { name, what, about: Said::new(about), keys, groups: &[] }
    }

    /// The same with its groups.
    pub fn grouped(self, groups: &'static [Group]) -> Self {
        Self { groups, ..self }
    }
}

/// A key that may be left out.
pub(crate) fn may(
    name: &'static str,
    form: Form,
    about: &'static str,
    example: &'static str,
) -> Key {
    Key { name, form, need: Need::Optional, about: Said::new(about), example: Said::new(example) }
}

/// A key that must be there.
pub(crate) fn must(
    name: &'static str,
    form: Form,
    about: &'static str,
    example: &'static str,
) -> Key {
    Key { need: Need::Required, ..may(name, form, about, example) }
}

/// The words of a reader's table.
pub(crate) fn words<T>(table: &[(&'static str, T)]) -> Form {
    Form::Words(table.iter().map(|(word, _)| *word).collect())
}

pub(crate) fn list(record: fn() -> Record) -> Form {
    Form::List(Box::new(Form::Record(record)), 0)
}

/// Values by the name that the order gives a product; those of layers under the name of their system.
pub(crate) fn by_name(value: &Form) -> Form {
    let layers = Form::Named(Box::new(value.clone()));
    Form::Named(Box::new(Form::Any(vec![value.clone(), layers])))
}

/// The keys of a record, one a line, as in a table.
macro_rules! keys {
    ($($key:expr;)*) => { vec![$($key),*] };
}
pub(crate) use keys;
