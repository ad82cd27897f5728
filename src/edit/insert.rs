//! A record put into its section, with comments and order untouched.

mod holds;

use self::holds::holds;
use crate::diagnostic::FileId;
use crate::yaml::{self, Key, Kind, Node};

/// Sections of a sketch in the order of the format's description.
const ORDER: &[&str] = &crate::sketch::parse::KEYS;

/// Why a text could not be changed. The text is then as it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EditError {
    /// What is in the way, as a sentence without a full stop.
    pub message: String,
}

impl EditError {
    pub(super) fn new(message: impl Into<String>) -> Self {
        Self { message: message.into() }
    }
}

impl std::fmt::Display for EditError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.message)
    }
}

impl std::error::Error for EditError {}

/// A place in a text and what goes there.
pub(super) struct Insertion {
    pub(super) at: usize,
    /// Bytes from `at` on that are replaced: what stands for nothing, such as `~` or `[]`.
    pub(super) over: usize,
    pub(super) new: String,
}

/// Puts a record at the end of a list of a sketch. Everything else stays byte for byte.
///
/// `section` names the list by its keys with points between them: `joints`, `slab.keep_outs`,
/// `tests.moisture`. Sections that are missing are made, at their place in the order of the format.
/// `record` is one value of YAML on one line, as it would stand in the list: `{id: J3, kind: control,
/// x: 12'}`.
///
/// The text is only read as YAML; whether the record makes sense is for [`crate::sketch::parse`] to say.
///
/// # Errors
///
/// The text or the record is not YAML, the section holds something other than a list, or it is written in
/// a form that can't be added to, such as an alias.
///
/// ```
/// let text = "spalls:\n  - {id: S1, depth: 3/8}   # by the door\n\nlevels: []\n";
/// let text = slabwalk::edit::insert_record(text, "spalls", "{id: S2, depth: 1/4}").unwrap();
/// let text = slabwalk::edit::insert_record(&text, "levels", "[0, 0, 0]").unwrap();
/// assert_eq!(
///     text,
///     "spalls:\n  - {id: S1, depth: 3/8}   # by the door\n  - {id: S2, depth: 1/4}\n\nlevels: [[0, 0, 0]]\n",
/// );
/// ```
pub fn insert_record(text: &str, section: &str, record: &str) -> Result<String, EditError> {
    let record = record.trim();
    if record.contains(['\n', '\r']) {
        return Err(EditError::new("the record is not on one line"));
    }
    let wanted = tree(record, "the record")?;
    let root = tree(text, "the sketch")?;
    let path: Vec<&str> = section.split('.').collect();
    let insertion = find(text, &root, &path, record)?;
    let end = insertion.at + insertion.over;
    let (Some(before), Some(after)) = (text.get(..insertion.at), text.get(end..)) else {
        return Err(EditError::new("the place of the record was not found"));
    };
    let new = match newline(text) {
        "\n" => insertion.new,
        other => insertion.new.replace('\n', other),
    };
    let out = format!("{before}{new}{after}");
    let (found, _) = yaml::parse(&out, FileId::Sketch);
    let good = found.is_some_and(|found| holds(&found, &root, &path, &wanted));
    if good {
        return Ok(out);
    }
    Err(EditError::new(format!("`{section}` is written in a form that a record can't be added to")))
}

/// The line ending of a text.
pub(super) fn newline(text: &str) -> &'static str {
    match text.find('\n') {
        Some(at) if text[..at].ends_with('\r') => "\r\n",
        _ => "\n",
    }
}

pub(super) fn tree<'t>(text: &'t str, what: &str) -> Result<Node<'t>, EditError> {
    let (root, faults) = yaml::parse(text, FileId::Sketch);
    let fault = faults.first().map(|fault| &fault.message);
    match (root, fault) {
        (Some(root), None) => Ok(root),
        (_, Some(fault)) => Err(EditError::new(format!("{what} can't be read: {fault}"))),
        (None, None) => Err(EditError::new(format!("{what} is empty"))),
    }
}

/// Where the record goes, and what is written there.
fn find(text: &str, root: &Node, path: &[&str], record: &str) -> Result<Insertion, EditError> {
    let mut node = root;
    for (depth, name) in path.iter().enumerate() {
        let Some((key, value)) = entry(node, name) else {
            return missing(text, node, &path[depth..], depth, record);
        };
        let last = depth + 1 == path.len();
        if value.is_null() {
            return nothing(text, key, value, &path[depth + 1..], record);
        }
        if value.place.span.start < key.place.span.end {
            return Err(EditError::new(format!("`{name}` is an alias")));
        }
        match &value.kind {
            Kind::Sequence(items) if last => return list(text, value, items, record),
            Kind::Mapping(_) if !last => node = value,
            _ => {
                let wanted = if last { "a list" } else { "keys and values" };
                return Err(EditError::new(format!("`{name}` should be {wanted}")));
            }
        }
    }
    Err(EditError::new("no section is named"))
}

pub(super) fn entry<'n, 'a>(node: &'n Node<'a>, name: &str) -> Option<&'n (Key<'a>, Node<'a>)> {
    node.entries()?.iter().find(|(key, _)| key.text == name)
}

/// The record below the keys that are not there yet, as flow.
fn wrapped(path: &[&str], record: &str) -> String {
    path.iter().rev().fold(format!("[{record}]"), |inner, name| format!("{{{name}: {inner}}}"))
}

/// The missing keys and the record below them, as a block.
fn block(path: &[&str], indent: usize, record: &str) -> String {
    let mut out = String::new();
    for (depth, name) in path.iter().enumerate() {
        out += &format!("{}{name}:\n", " ".repeat(indent + 2 * depth));
    }
    out + &format!("{}- {record}\n", " ".repeat(indent + 2 * path.len()))
}

/// A key with nothing behind it, or `~`.
fn nothing(
    text: &str,
    key: &Key,
    value: &Node,
    rest: &[&str],
    record: &str,
) -> Result<Insertion, EditError> {
    let colon =
        text[key.place.span.end..].find(':').ok_or_else(|| EditError::new("a key has no colon"))?;
    let after = key.place.span.end + colon + 1;
    let written = value.place.span;
    let flow = match rest {
        [] => format!("[{record}]"),
        [first, more @ ..] => {
            let inner = wrapped(more, record);
            format!("{{{first}: {inner}}}")
        }
    };
    if written.start > after && written.end > written.start {
        return Ok(Insertion { at: written.start, over: written.end - written.start, new: flow });
    }
    Ok(Insertion { at: after, over: 0, new: format!(" {flow}") })
}

/// A list that is there.
fn list(text: &str, value: &Node, items: &[Node], record: &str) -> Result<Insertion, EditError> {
    let flow = is_flow(text, value);
    let Some(last) = items.last() else {
        return Ok(Insertion { at: value.place.span.start + 1, over: 0, new: record.to_owned() });
    };
    if flow {
        return Ok(Insertion { at: last.place.span.end, over: 0, new: format!(", {record}") });
    }
    let Some(dash) = dash(text, value) else {
        return Err(EditError::new("the first entry of the list was not found"));
    };
    let indent = column(text, dash);
    let at = end_of_block(text, last.place.span.end, indent);
    Ok(line_at(text, at, &format!("{}- {record}\n", " ".repeat(indent))))
}

/// A key that is missing from `node`, with the keys below it.
fn missing(
    text: &str,
    node: &Node,
    path: &[&str],
    depth: usize,
    record: &str,
) -> Result<Insertion, EditError> {
    let Some(entries) = node.entries() else {
        return Err(EditError::new("the sketch should be keys and values"));
    };
    let start = node.place.span.start;
    if is_flow(text, node) {
        let inner = wrapped(path, record);
        let inner = inner.trim_start_matches('{');
        let inner = inner.strip_suffix('}').unwrap_or(inner);
        let new = match entries.last() {
            Some(_) => format!(", {inner}"),
            None => inner.to_owned(),
        };
        let at = entries.last().map_or(start + 1, |(_, value)| value.place.span.end);
        return Ok(Insertion { at, over: 0, new });
    }
    let indent = column(text, start);
    let before = if depth == 0 { predecessor(entries, path[0]) } else { entries.last() };
    let Some((key, value)) = before else {
        return Err(EditError::new("the sketch has no section to stand behind"));
    };
    let end = value.place.span.end.max(key.place.span.end);
    // Inside a part, comments at the margin of its keys still belong to it.
    let at = end_of_block(text, end, indent.saturating_sub(1));
    let new = block(path, indent, record);
    let spaced = depth == 0 && blank_between(text, entries);
    Ok(line_at(text, at, &if spaced { format!("\n{new}") } else { new }))
}

/// The section that a new one stands behind: the last one that comes before it in the order of the format.
pub(super) fn predecessor<'n, 'a>(
    entries: &'n [(Key<'a>, Node<'a>)],
    name: &str,
) -> Option<&'n (Key<'a>, Node<'a>)> {
    let rank = |name: &str| ORDER.iter().position(|known| *known == name);
    let own = rank(name);
    entries
        .iter()
        .rfind(|(key, _)| rank(&key.text) < own || own.is_none())
        .or_else(|| entries.last())
}

/// Whether sections are set apart by blank lines.
pub(super) fn blank_between(text: &str, entries: &[(Key, Node)]) -> bool {
    entries.iter().skip(1).any(|(key, _)| {
        let before = text[..key.place.span.start].trim_end_matches([' ', '\t']);
        before.ends_with("\n\n") || before.ends_with("\n\r\n")
    })
}

/// Whether a list or a mapping is written between brackets.
pub(super) fn is_flow(text: &str, node: &Node) -> bool {
    let start = node.place.span.start;
    let first = node.items().and_then(<[Node]>::first);
    // The engine starts a list at the margin of its key with its first value, which may be in brackets.
    let at_margin = first.is_some_and(|first| first.place.span.start == start);
    text[start..].starts_with(['[', '{']) && !at_margin
}

/// Where the first `-` of a block list stands. The engine starts a list at the margin of its key with its
/// first value.
pub(super) fn dash(text: &str, list: &Node) -> Option<usize> {
    let start = list.place.span.start;
    if text.get(start..)?.starts_with('-') {
        return Some(start);
    }
    let first = list.items()?.first()?.place.span.start;
    let before = text.get(..first)?.trim_end_matches([' ', '\t']);
    before.ends_with('-').then(|| before.len() - 1)
}

/// The column of a byte, in bytes from the start of its line.
pub(super) fn column(text: &str, at: usize) -> usize {
    let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    let line = text[start..at].trim_start_matches('\u{FEFF}');
    line.len()
}

/// Where the next line can be put behind a value: behind its own line and the comments that are set in
/// deeper than `indent`, which belong to it.
pub(super) fn end_of_block(text: &str, end: usize, indent: usize) -> usize {
    // The engine counts blank lines behind a block of text as part of it.
    let end = text[..end].trim_end_matches([' ', '\t', '\r', '\n']).len();
    let mut at = text[end..].find('\n').map_or(text.len(), |line| end + line + 1);
    let mut ahead = at;
    for line in text[at..].split_inclusive('\n') {
        ahead += line.len();
        let inner = line.trim_start_matches(' ');
        if inner.starts_with('#') && line.len() - inner.len() > indent {
            at = ahead;
        } else if !inner.trim().is_empty() {
            break;
        }
    }
    at
}

/// Whole lines put in at the start of a line, or behind a last line without an end.
pub(super) fn line_at(text: &str, at: usize, lines: &str) -> Insertion {
    let open = at > 0 && !text[..at].ends_with('\n');
    Insertion {
        at,
        over: 0,
        new: if open { format!("\n{}", lines.trim_end_matches('\n')) } else { lines.to_owned() },
    }
}

#[cfg(test)]
mod tests;
