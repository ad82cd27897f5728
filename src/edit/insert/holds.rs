//! Whether a text with a record put in is the old one and the record, and nothing else.

use super::entry;
use crate::yaml::{Key, Kind, Node};

/// Whether `found` is `before` with the record at the end of the list, and nothing else changed.
pub(super) fn holds(found: &Node, before: &Node, path: &[&str], record: &Node) -> bool {
    let [name, rest @ ..] = path else {
        let items = found.items().unwrap_or_default();
        let old = before.items().unwrap_or_default();
        return items.split_last().is_some_and(|(last, others)| {
            same(last, record)
                && others.len() == old.len()
                && others.iter().zip(old).all(|(a, b)| same(a, b))
        });
    };
    let (Some(new), old) = (found.entries(), before.entries().unwrap_or_default()) else {
        return false;
    };
    let nothing = Node { kind: Kind::Null, place: before.place };
    let others = |key: &Key| key.text != *name;
    let same_others = new
        .iter()
        .filter(|(key, _)| others(key))
        .map(Some)
        .chain(std::iter::once(None))
        .zip(old.iter().filter(|(key, _)| others(key)).map(Some).chain(std::iter::once(None)))
        .all(|pair| match pair {
            (Some((a, x)), Some((b, y))) => a.text == b.text && same(x, y),
            (None, None) => true,
            _ => false,
        });
    let old_value = entry(before, name).map_or(&nothing, |(_, value)| value);
    let added = entry(found, name).is_some_and(|(_, value)| holds(value, old_value, rest, record));
    same_others && added
}

/// Whether two values are the same, wherever they stand and whatever quotes they are in.
fn same(a: &Node, b: &Node) -> bool {
    match (&a.kind, &b.kind) {
        (Kind::Null, Kind::Null) => true,
        (Kind::Scalar { text: a, .. }, Kind::Scalar { text: b, .. }) => a == b,
        (Kind::Sequence(a), Kind::Sequence(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Kind::Mapping(a), Kind::Mapping(b)) => {
            a.len() == b.len()
                && a.iter().zip(b).all(|((k, a), (l, b))| k.text == l.text && same(a, b))
        }
        _ => false,
    }
}
