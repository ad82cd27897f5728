//! A new record at the end of a list of the sketch: nothing that stands there is moved or rewritten.

use crate::diagnostic::FileId;
use crate::yaml::{self, Kind, Node};

/// Keys of a sketch in the order in which a new section finds its place.
const ORDER: [&str; 14] = [
    "slabwalk",
    "job",
    "units",
    "shop",
    "slab",
    "joints",
    "cracks",
    "spalls",
    "blemishes",
    "lippage",
    "levels",
    "tests",
    "coating",
    "photos",
];

/// A text and the byte where it goes in.
struct Piece {
    at: usize,
    text: String,
}

/// The text with `record`, a value on one line such as `{id: C3, width: 1/16}`, at the end of the list
/// `section`: `cracks`, or with a dot `slab.keep_outs`. A list or part that is missing is made. All
/// other bytes stay as they are, in their order.
///
/// # Errors
///
/// In words, if the text or the record can't be read, or if there is no place where the new text
/// would mean exactly the old one and the record.
pub fn insert_record(text: &str, section: &str, record: &str) -> Result<String, String> {
    let Some(old) = tree(text) else {
        return Err("the sketch can't be read as it is; mend it first".into());
    };
    let Some(added) = tree(record) else {
        return Err("the record can't be read".into());
    };
    if record.contains(['\n', '\r']) {
        return Err("a record stands on one line".into());
    }
    let keys: Vec<&str> = section.split('.').collect();
    let eol = if text.contains("\r\n") { "\r\n" } else { "\n" };
    for piece in pieces(text, &old, &keys, record, eol) {
        let mut new = text.to_owned();
        new.insert_str(piece.at, &piece.text);
        // The text is only taken if it reads as the old one and the record, whatever stood around.
        if tree(&new).is_some_and(|new| is_old_and(&new, &old, &keys, &added)) {
            return Ok(new);
        }
    }
    Err(format!(
        "no place for a record was found under `{section}`; write it by hand"
    ))
}

fn tree(text: &str) -> Option<Node<'_>> {
    let (root, faults) = yaml::parse(text, FileId::Sketch);
    root.filter(|_| faults.is_empty())
}

/// Places where the record might go, the likeliest first.
fn pieces(text: &str, root: &Node, keys: &[&str], record: &str, eol: &str) -> Vec<Piece> {
    let mut parent = root;
    for (depth, key) in keys.iter().enumerate() {
        match parent.get(key) {
            Some(node) if node.is_null() => {
                return after_key(text, parent, &keys[depth..], record, eol);
            }
            Some(node) => parent = node,
            None => return new_key(text, parent, &keys[depth..], record, eol, depth == 0),
        }
    }
    match parent.items() {
        Some([]) => vec![Piece {
            at: parent.place.span.start + 1,
            text: record.to_owned(),
        }],
        Some(items) => after_last(text, parent, items, record, eol),
        None => Vec::new(),
    }
}

/// After the last entry of a list.
fn after_last(text: &str, list: &Node, items: &[Node], record: &str, eol: &str) -> Vec<Piece> {
    let (Some(first), Some(last)) = (items.first(), items.last()) else {
        return Vec::new();
    };
    if is_flow(text, list, '[') {
        return vec![Piece {
            at: last.place.span.end,
            text: format!(", {record}"),
        }];
    }
    let before = &text[..first.place.span.start];
    let Some(dash) = before.rfind('-') else {
        return Vec::new();
    };
    let line = before[..dash].rfind('\n').map_or(0, |n| n + 1);
    let indent = before[line..dash].to_owned();
    block(
        text,
        last.place.span.end,
        &format!("{indent}- {record}"),
        eol,
    )
}

/// Whether a list or mapping is written in brackets.
fn is_flow(text: &str, node: &Node, bracket: char) -> bool {
    text[node.place.span.start..].starts_with(bracket)
}

/// A block on lines of its own after the line that holds a byte, or after one of the lines below it: a
/// text of several lines ends later than its value.
fn block(text: &str, end: usize, lines: &str, eol: &str) -> Vec<Piece> {
    /// Most lines tried after the first.
    const FARTHER: usize = 12;
    let mut out = Vec::new();
    let mut at = end.saturating_sub(usize::from(text[..end].ends_with('\n')));
    for _ in 0..=FARTHER {
        match text[at..].find('\n') {
            Some(n) => {
                at += n + 1;
                out.push(Piece {
                    at,
                    text: format!("{lines}{eol}"),
                });
            }
            None => {
                out.push(Piece {
                    at: text.len(),
                    text: format!("{eol}{lines}{eol}"),
                });
                break;
            }
        }
    }
    out
}

/// Under a key that has no value yet.
fn after_key(text: &str, parent: &Node, keys: &[&str], record: &str, eol: &str) -> Vec<Piece> {
    let Some((key, node)) = entry(parent, keys[0]) else {
        return Vec::new();
    };
    let written = node.place.span;
    if written.end > written.start {
        return Vec::new();
    }
    if is_flow(text, parent, '{') {
        let rest = flow(&keys[1..], record);
        return vec![Piece {
            at: key.place.span.end + 1,
            text: format!(" {rest}"),
        }];
    }
    let indent = indent_of(text, key.place.span.start);
    let lines = nested(&keys[1..], record, indent + 2, eol);
    block(text, key.place.span.end, &lines, eol)
}

/// A key that is not there yet.
fn new_key(
    text: &str,
    parent: &Node,
    keys: &[&str],
    record: &str,
    eol: &str,
    top: bool,
) -> Vec<Piece> {
    let Some(entries) = parent.entries().filter(|entries| !entries.is_empty()) else {
        return Vec::new();
    };
    let last = &entries[entries.len() - 1];
    if is_flow(text, parent, '{') {
        return vec![Piece {
            at: last.1.place.span.end.max(last.0.place.span.end),
            text: format!(", {}: {}", keys[0], flow(&keys[1..], record)),
        }];
    }
    let rank = |key: &str| ORDER.iter().position(|k| *k == key);
    let before = entries
        .iter()
        .rfind(|(key, _)| !top || rank(&key.text) < rank(keys[0]))
        .unwrap_or(last);
    let indent = indent_of(text, entries[0].0.place.span.start);
    let lines = nested(keys, record, indent, eol);
    // A section of the sketch stands apart from the one before it.
    let lines = if top { format!("{eol}{lines}") } else { lines };
    let mut out = Vec::new();
    for (key, value) in [before, last] {
        let end = value.place.span.end.max(key.place.span.end);
        out.extend(block(text, end, &lines, eol));
    }
    out
}

fn entry<'n, 'a>(parent: &'n Node<'a>, key: &str) -> Option<&'n (yaml::Key<'a>, Node<'a>)> {
    parent.entries()?.iter().find(|(name, _)| name.text == key)
}

/// Blanks before a byte on its line.
fn indent_of(text: &str, at: usize) -> usize {
    let line = text[..at].rfind('\n').map_or(0, |n| n + 1);
    text[line..at].chars().filter(|c| *c == ' ').count()
}

/// Keys inside each other and a list of one record, on lines.
fn nested(keys: &[&str], record: &str, mut indent: usize, eol: &str) -> String {
    let mut out = String::new();
    for key in keys {
        out += &format!("{:indent$}{key}:{eol}", "");
        indent += 2;
    }
    out + &format!("{:indent$}- {record}", "")
}

/// Keys inside each other and a list of one record, in brackets.
fn flow(keys: &[&str], record: &str) -> String {
    match keys {
        [] => format!("[{record}]"),
        [key, rest @ ..] => format!("{{{key}: {}}}", flow(rest, record)),
    }
}

/// Whether a tree is another one with a record at the end of a list, and nothing else.
fn is_old_and(new: &Node, old: &Node, keys: &[&str], added: &Node) -> bool {
    let Some((key, rest)) = keys.split_first() else {
        let before = old.items().unwrap_or_default();
        let Some((last, kept)) = new.items().and_then(|items| items.split_last()) else {
            return false;
        };
        let same = kept.len() == before.len() && kept.iter().zip(before).all(|(a, b)| same(a, b));
        return same && self::same(last, added);
    };
    let (Some(now), before) = (new.entries(), old.entries().unwrap_or_default()) else {
        return false;
    };
    let others = |entries: &[(yaml::Key, Node)]| -> Vec<usize> {
        (0..entries.len())
            .filter(|i| entries[*i].0.text != *key)
            .collect()
    };
    let (kept, were) = (others(now), others(before));
    let unchanged = kept.len() == were.len()
        && kept
            .iter()
            .zip(&were)
            .all(|(a, b)| now[*a].0.text == before[*b].0.text && same(&now[*a].1, &before[*b].1));
    let nothing = Node {
        kind: Kind::Null,
        place: old.place,
    };
    let inner = new.get(key);
    unchanged
        && inner
            .is_some_and(|inner| is_old_and(inner, old.get(key).unwrap_or(&nothing), rest, added))
}

/// Whether two values are the same, wherever they stand.
fn same(a: &Node, b: &Node) -> bool {
    match (&a.kind, &b.kind) {
        (Kind::Null, Kind::Null) => true,
        (Kind::Scalar { text: x, quoted: p }, Kind::Scalar { text: y, quoted: q }) => {
            x == y && p == q
        }
        (Kind::Sequence(x), Kind::Sequence(y)) => {
            x.len() == y.len() && x.iter().zip(y).all(|(x, y)| same(x, y))
        }
        (Kind::Mapping(x), Kind::Mapping(y)) => {
            x.len() == y.len()
                && x.iter()
                    .zip(y)
                    .all(|((k, x), (l, y))| k.text == l.text && same(x, y))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RECORD: &str = "{id: C9, width: 1/16}";

    #[test]
    fn a_record_goes_to_the_end_of_its_list() {
        // Name, text before, section, text after.
        let rows = [
            (
                "flow records in a block, comments around",
                "slabwalk: 1\ncracks:\n  - {id: C1}  # first\n  # below\n\nspalls: []\n",
                "cracks",
                "slabwalk: 1\ncracks:\n  - {id: C1}  # first\n  - {id: C9, width: 1/16}\n  # below\n\nspalls: []\n",
            ),
            (
                "block records, no indent",
                "cracks:\n- id: C1\n  width: 1/8   # wide\njoints: []\n",
                "cracks",
                "cracks:\n- id: C1\n  width: 1/8   # wide\n- {id: C9, width: 1/16}\njoints: []\n",
            ),
            (
                "no newline at the end",
                "cracks:\n  - {id: C1}",
                "cracks",
                "cracks:\n  - {id: C1}\n  - {id: C9, width: 1/16}\n",
            ),
            (
                "a list in brackets",
                "cracks: [{id: C1}, {id: C2} ] # two\n",
                "cracks",
                "cracks: [{id: C1}, {id: C2}, {id: C9, width: 1/16} ] # two\n",
            ),
            (
                "an empty list",
                "cracks: [ ]\n",
                "cracks",
                "cracks: [{id: C9, width: 1/16} ]\n",
            ),
            (
                "a key without a value",
                "cracks:   # none yet\nspalls: []\n",
                "cracks",
                "cracks:   # none yet\n  - {id: C9, width: 1/16}\nspalls: []\n",
            ),
            (
                "a missing section finds its place",
                "slabwalk: 1\njoints:\n  - {id: J1}\n\n# about spalls\nspalls: []\n",
                "cracks",
                "slabwalk: 1\njoints:\n  - {id: J1}\n\ncracks:\n  - {id: C9, width: 1/16}\n\n# about spalls\nspalls: []\n",
            ),
            (
                "a part inside a part that is missing",
                "slabwalk: 1\ncoating: {system: flake}\n",
                "tests.moisture",
                "slabwalk: 1\n\ntests:\n  moisture:\n    - {id: C9, width: 1/16}\ncoating: {system: flake}\n",
            ),
            (
                "a key inside a part in brackets",
                "coating: {system: flake}\n",
                "coating.uncoated",
                "coating: {system: flake, uncoated: [{id: C9, width: 1/16}]}\n",
            ),
            (
                "a key inside a part on lines",
                "slab:\n    thickness: 4\"\n    outline: [[0, 0]]\njoints: []\n",
                "slab.keep_outs",
                "slab:\n    thickness: 4\"\n    outline: [[0, 0]]\n    keep_outs:\n      - {id: C9, width: 1/16}\njoints: []\n",
            ),
            (
                "a note of several lines",
                "cracks:\n  - id: C1\n    note: |\n      one\n      two\nphotos: []\n",
                "cracks",
                "cracks:\n  - id: C1\n    note: |\n      one\n      two\n  - {id: C9, width: 1/16}\nphotos: []\n",
            ),
            (
                "lines that end as on another system",
                "cracks:\r\n  - {id: C1}\r\n",
                "cracks",
                "cracks:\r\n  - {id: C1}\r\n  - {id: C9, width: 1/16}\r\n",
            ),
        ];
        for (name, before, section, after) in rows {
            assert_eq!(
                insert_record(before, section, RECORD).as_deref(),
                Ok(after),
                "{name}"
            );
        }
    }

    #[test]
    fn what_would_change_the_rest_is_refused() {
        let rows = [
            ("no list", "cracks: none\n", RECORD),
            ("broken", "cracks: [\n", RECORD),
            ("two lines", "cracks: []\n", "{id: C9}\nspalls: []"),
            (
                "a list from elsewhere",
                "a: &a [{id: C1}]\ncracks: *a\n",
                RECORD,
            ),
        ];
        for (name, text, record) in rows {
            assert!(insert_record(text, "cracks", record).is_err(), "{name}");
        }
    }
}
