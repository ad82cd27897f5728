//! Values between brackets, on one line.

use super::plan::rank;
use crate::keys::{Form, Record};
use crate::yaml::{Kind, Node};

/// A value on one line with canonical order and spacing. Single values stay as they were written.
pub(super) fn canonical(text: &str, node: &Node, form: Option<&Form>) -> String {
    let written = || {
        let span = node.place.span;
        text[span.start..span.end].to_owned()
    };
    match &node.kind {
        Kind::Null | Kind::Scalar { .. } => written(),
        Kind::Sequence(items) => {
            let items: Vec<String> = items
                .iter()
                .enumerate()
                .map(|(index, item)| {
                    let inner = form.and_then(|form| entry_form(form, index));
                    canonical(text, item, inner.as_ref())
                })
                .collect();
            format!("[{}]", items.join(", "))
        }
        Kind::Mapping(entries) => {
            let record = form.and_then(|form| record_for(form, node));
            let mut keys: Vec<(usize, String)> = entries
                .iter()
                .map(|(key, value)| {
                    let known = record.as_ref();
                    let found = known.and_then(|r| r.keys.iter().find(|k| k.name == key.text));
                    let value = canonical(text, value, found.map(|key| &key.form));
                    let span = key.place.span;
                    let written = format!("{}: {value}", &text[span.start..span.end]);
                    (known.map_or(0, |record| rank(record, &key.text)), written)
                })
                .collect();
            keys.sort_by_key(|(rank, _)| *rank);
            let keys: Vec<String> = keys.into_iter().map(|(_, written)| written).collect();
            format!("{{{}}}", keys.join(", "))
        }
    }
}

/// The record that a mapping of this form is: of several the one that knows all its keys.
pub(super) fn record_for(form: &Form, node: &Node) -> Option<Record> {
    match form {
        Form::Record(record) => Some(record()),
        Form::OrNothing(form) => record_for(form, node),
        Form::Any(forms) => forms.iter().filter_map(|form| record_for(form, node)).find(|record| {
            let entries = node.entries().unwrap_or_default();
            entries.iter().all(|(key, _)| rank(record, &key.text) < record.keys.len())
        }),
        _ => None,
    }
}

/// The form of an entry of a list of this form.
pub(super) fn entry_form(form: &Form, index: usize) -> Option<Form> {
    match form {
        Form::List(entry, _) => Some((**entry).clone()),
        Form::Tuple(entries) => entries.get(index).cloned(),
        Form::OrNothing(form) => entry_form(form, index),
        Form::Any(forms) => forms.iter().find_map(|form| entry_form(form, index)),
        _ => None,
    }
}
