//! The canonical form of a sketch: keys in the order of the format, one way of spacing, comments kept.
//!
//! No serializer keeps comments, the quotes of a text and the way a length was written, so the new text
//! is put together from pieces of the old one. What is not understood (anchors, tags, comments in odd
//! places) stays byte for byte, with everything around it in its old order.

mod flow;
mod layout;
mod line;
mod plan;
mod source;
#[cfg(test)]
mod tests;

use self::plan::Planner;
use self::source::Source;
use super::insert::{EditError, newline, tree};
use crate::yaml::{Kind, Node};

/// A text in canonical form. It reads to the same sketch, holds the same comments, and has no other
/// canonical form than itself. A text that would lose something is given back as it is.
///
/// # Errors
///
/// The text is not YAML.
///
/// ```
/// let text = "units:   us # tape\nslabwalk: 1\njob: {client: A,name: B}\n";
/// assert_eq!(
///     slabwalk::edit::format(text).unwrap(),
///     "slabwalk: 1\n\njob: {name: B, client: A}\n\nunits: us   # tape\n",
/// );
/// ```
pub fn format(text: &str) -> Result<String, EditError> {
    tree(text, "the sketch")?;
    let end = newline(text);
    let body = text.trim_start_matches('\u{FEFF}');
    let mark = &text[..text.len() - body.len()];
    let body = body.replace("\r\n", "\n");
    // A byte order mark has three bytes, and there is one at most.
    if mark.len() > 3 || body.contains('\r') {
        return Ok(text.to_owned());
    }
    let Some(new) = canonical(&body) else {
        return Ok(text.to_owned());
    };
    let new = if end == "\n" { new } else { new.replace('\n', end) };
    Ok(format!("{mark}{new}"))
}

/// The canonical form, if nothing gets lost on the way to it.
fn canonical(text: &str) -> Option<String> {
    let root = tree(text, "the sketch").ok()?;
    let source = Source::of(text, &root)?;
    let plan = Planner::new(&source).sketch(&root)?;
    let new = layout::write(&plan);
    let again = tree(&new, "the sketch").ok()?;
    let kept = source.words() == Source::of(&new, &again)?.words();
    (kept && same_in_any_order(&root, &again)).then_some(new)
}

/// Whether two trees are the same, but for the order of keys.
fn same_in_any_order(a: &Node, b: &Node) -> bool {
    match (&a.kind, &b.kind) {
        (Kind::Null, Kind::Null) => true,
        (Kind::Scalar { text, quoted }, Kind::Scalar { text: other, quoted: other_quoted }) => {
            text == other && quoted == other_quoted
        }
        (Kind::Sequence(a), Kind::Sequence(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_in_any_order(a, b))
        }
        (Kind::Mapping(a), Kind::Mapping(entries)) => {
            a.len() == entries.len()
                && a.iter()
                    .all(|(key, a)| b.get(&key.text).is_some_and(|b| same_in_any_order(a, b)))
        }
        _ => false,
    }
}
