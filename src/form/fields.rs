//! Keys and values of a record: which are known, which are missing.

use super::{Reader, nearest};
use crate::diagnostic::Span;
use crate::diagnostic::{Diagnostic, Place};
use crate::yaml::{Key, Node};

/// The keys and values of one record.
#[derive(Clone, Copy)]
pub(crate) struct Fields<'n, 'a> {
    entries: &'n [(Key<'a>, Node<'a>)],
    /// What the record is, with its article: `a joint`.
    pub what: &'static str,
    /// The whole record.
    pub place: Place,
}

impl<'n, 'a> Fields<'n, 'a> {
    /// The value of a key. A key with nothing behind it counts as left out, as on a blank form.
    pub fn get(&self, key: &str) -> Option<&'n Node<'a>> {
        self.entry(key).map(|(_, value)| value).filter(|value| !value.is_null())
    }

    /// A key that is there, with its value, which may be nothing.
    pub fn entry(&self, key: &str) -> Option<&'n (Key<'a>, Node<'a>)> {
        self.entries.iter().find(|(name, _)| name.text == key)
    }

    /// Where a key stands, or the record if it isn't there.
    pub fn key_place(&self, key: &str) -> Place {
        self.entry(key).map_or(self.place, |(key, _)| key.place)
    }
}

impl Reader<'_> {
    /// The fields of a record; unknown keys are errors that name the nearest known one.
    pub fn fields<'n, 'a>(
        &mut self,
        node: &'n Node<'a>,
        what: &'static str,
        known: &[&str],
    ) -> Option<Fields<'n, 'a>> {
        #[cfg(test)]
        super::heard::record(what, known);
        let Some(entries) = node.entries() else {
            let glued = node.text().filter(|text| !text.contains(' ') && text.contains(':'));
            let hint = match glued {
                Some(_) => "put a space after the colon: `key: value`".to_owned(),
                None => format!("it has the keys {}", list_of(known)),
            };
            self.wrong_type(node, what, "keys and values", &hint);
            return None;
        };
        for (key, _) in entries {
            if !known.contains(&&*key.text) {
                self.unknown_key(key, node.place.span.start, what, known);
            }
        }
        Some(Fields { entries, what, place: node.place })
    }

    fn unknown_key(&mut self, key: &Key, record: usize, what: &str, known: &[&str]) {
        let text = crate::text::excerpt(&key.text);
        let message = format!("`{text}` is not a key of {what}");
        let glued = key.text.split_once(':').map(|(name, _)| name);
        let glued = glued.filter(|name| known.contains(name));
        let near = nearest(&key.text, known.iter().copied());
        if let Some(meant) = near.or(glued) {
            self.misspelt.insert((record, meant.to_owned()));
        }
        let belongs = (self.belongs)(&key.text, what);
        if let Some(by) = belongs.as_ref().and_then(|belongs| belongs.by) {
            // What it belongs under is not missing: it was only not written.
            self.misspelt.insert((record, by.to_owned()));
        }
        let belongs = belongs.map(|belongs| belongs.said);
        let hint = match (near, belongs, glued) {
            (Some(word), Some(place), _) => format!("{place}; or did you mean `{word}`?"),
            (None, Some(place), _) => place,
            (Some(word), ..) => format!("did you mean `{word}`? Known here are {}", list_of(known)),
            _ if text == "<<" => "merging of mappings is not read; write the keys out".into(),
            (.., Some(name)) => format!("put a space after the colon: `{name}: …`"),
            _ => format!("known here are {}", list_of(known)),
        };
        self.note(
            Diagnostic::error("unknown-key", message)
                .place(key.place)
                .label("not known here")
                .hint(hint),
        );
    }

    /// The value of a key that must be there; `example` is a line that would do.
    pub fn required<'n, 'a>(
        &mut self,
        fields: &Fields<'n, 'a>,
        key: &str,
        example: &str,
    ) -> Option<&'n Node<'a>> {
        let found = fields.get(key);
        let misspelt = (fields.place.span.start, key.to_owned());
        if found.is_none() && !self.misspelt.contains(&misspelt) {
            let (place, message) = match fields.entry(key) {
                Some((key, _)) => (key.place, format!("nothing stands behind `{}`", key.text)),
                None => (
                    self.first_line(fields.place),
                    format!("{} needs the key `{key}`", fields.what),
                ),
            };
            self.error("missing-key", place, message, &format!("add {example}"));
        }
        found
    }

    /// Whether one of these keys is there under a misspelled name.
    pub fn has_misspelt(&self, fields: &Fields, keys: &[&str]) -> bool {
        let record = fields.place.span.start;
        keys.iter().any(|key| self.misspelt.contains(&(record, (*key).to_owned())))
    }

    /// The first line of a place that may run over several.
    pub fn first_line(&self, place: Place) -> Place {
        let Span { start, end } = place.span;
        let line = self.after(start).find('\n').unwrap_or(usize::MAX);
        Place { file: place.file, span: Span { start, end: end.min(start.saturating_add(line)) } }
    }
}

/// Where a misplaced key belongs.
#[derive(Debug)]
pub(crate) struct Belongs {
    /// In words.
    pub said: String,
    /// The key that leads there from the record in which it stands; `None` where no key does.
    pub by: Option<&'static str>,
}

/// Keys or words as they are listed in a hint.
pub(super) fn list_of(known: &[&str]) -> String {
    known.join(", ")
}
