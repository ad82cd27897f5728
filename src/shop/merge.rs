//! A shop's own book over the built-in one, key by key.

use crate::yaml::{Kind, Node};

/// `over` where it says something, `base` elsewhere: mappings are merged key by key, everything else is
/// replaced as a whole, and a key with nothing behind it changes nothing.
pub(super) fn merged<'a>(base: &Node<'a>, over: &Node<'a>) -> Node<'a> {
    let (Kind::Mapping(base_entries), Kind::Mapping(over_entries)) = (&base.kind, &over.kind)
    else {
        return if over.is_null() { base } else { over }.clone();
    };
    let mut entries = base_entries.clone();
    for (key, value) in over_entries {
        match entries.iter_mut().find(|(name, _)| name.text == key.text) {
            Some((name, node)) => {
                *name = key.clone();
                *node = merged(node, value);
            }
            None => entries.push((key.clone(), value.clone())),
        }
    }
    Node { kind: Kind::Mapping(entries), place: over.place }
}
