//! Large texts, cut between the entries of their long lists and read on all cores.
//!
//! A list of 100,000 joints is read in parts of some hundred entries each, and the rest of the text without it. Then the
//! parts are put back. Nobody may notice it: a text is cut only at lines where an entry of a block list begins. Where a part
//! or the rest holds anything unusual (a fault, another shape than a cut list has, more values than the limits allow),
//! nothing of it is kept, and the text is read once more in one piece.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::builder::MOST_NODES;
use super::engine::{Gap, Read, read};
use super::{Key, Kind, Node};
use crate::diagnostic::Span;
use crate::diagnostic::{FileId, Place};
use crate::parallel;

/// Smaller texts are read in one piece: there, a thread costs more than it saves.
pub(super) const LARGE: usize = 1 << 18;
/// Bytes of a part, about.
const PART: usize = 1 << 16;
/// Deepest nesting, of the rest and of each part, so that both together stay below the limit of the whole.
const DEEPEST: usize = super::DEEPEST / 2;

/// A block list below a key.
#[derive(Debug, PartialEq, Eq)]
struct Section {
    /// Where the line of its key begins, without blanks.
    key: usize,
    /// Its entries, in parts.
    parts: Vec<Range<usize>>,
}

/// The tree of a text without faults, read in parts. `None` says nothing about the text.
pub(super) fn tree(text: &str, file: FileId) -> Option<Node<'_>> {
    let sections = sections(text, PART);
    let cut: usize = sections.iter().flat_map(|s| &s.parts).map(Range::len).sum();
    // What is left is read alone and copied.
    if cut < text.len() / 2 {
        return None;
    }
    in_parts(text, file, &sections)
}

fn in_parts<'a>(text: &'a str, file: FileId, sections: &[Section]) -> Option<Node<'a>> {
    let cut: Vec<Range<usize>> = sections.iter().flat_map(|s| s.parts.clone()).collect();
    let values = AtomicUsize::new(0);
    let parts = parallel::each(cut.len(), |i| {
        // No more is kept at a time than of a text that is read in one piece.
        if values.load(Ordering::Relaxed) > MOST_NODES {
            return None;
        }
        let gap = Gap { at: 0, missing: cut[i].start };
        let read = clean(read(&text[cut[i].clone()], file, &[gap], DEEPEST))?;
        values.fetch_add(read.held.nodes, Ordering::Relaxed);
        Some(read)
    });
    if parts.iter().any(Option::is_none) {
        return None;
    }
    let (rest, gaps) = without(text, &cut);
    let rest = clean(read(&rest, file, &gaps, DEEPEST))?;
    if rest.held.aliased > 0 {
        // An anchor above a list would stand for it wherever it is repeated.
        return None;
    }
    let mut held = rest.held;
    let mut root = owned(rest.root?);
    let mut parts = parts.into_iter();
    for section in sections {
        let mut entries = Vec::new();
        let mut start = None;
        for part in parts.by_ref().take(section.parts.len()) {
            let part = part?;
            held = held.and(part.held);
            let node = part.root?;
            start = start.or(Some(node.place.span.start));
            let Kind::Sequence(more) = node.kind else {
                return None;
            };
            entries.extend(more);
        }
        let list = Node {
            place: Place {
                file,
                span: Span { start: start?, end: entries.last()?.place.span.end },
            },
            kind: Kind::Sequence(entries),
        };
        put_back(&mut root, text, section.key, list, DEEPEST)?;
    }
    held.is_within_limits().then_some(root)
}

/// What was read, if nothing was found in it.
fn clean(read: Read<'_>) -> Option<Read<'_>> {
    read.faults.is_empty().then_some(read)
}

/// The lists that are long enough to be cut. What looks like one and is none shows when it is read.
fn sections(text: &str, size: usize) -> Vec<Section> {
    let mut out = Vec::new();
    if text.split('\r').skip(1).any(|rest| !rest.starts_with('\n')) {
        // A return by itself ends a line too, and could hide a key.
        return out;
    }
    let mut key: Option<(usize, usize)> = None;
    let mut open: Option<(Section, usize, usize)> = None;
    let mut next = 0;
    for line in text.split_inclusive('\n') {
        let start = next;
        next += line.len();
        let body = line.trim_start_matches(' ');
        let indent = line.len() - body.len();
        if line.starts_with('%') || body.trim_start_matches(['-', ' ']).starts_with('?') {
            // Directives hold for every part, and a key without a value ends where the next part begins.
            return Vec::new();
        }
        if body.trim_ascii().is_empty() || body.starts_with('#') {
            continue;
        }
        let is_entry =
            body.strip_prefix('-').is_some_and(|rest| rest.starts_with([' ', '\n', '\r']));
        if let Some((mut section, outer, inner)) = open.take() {
            if indent > outer {
                if begins_text(body) {
                    // Where a block of text lies depends on what stands behind it.
                    return Vec::new();
                }
                let part = section.parts.last().map_or(start, |part| part.start);
                if is_entry && indent == inner && start - part >= size {
                    end_part(&mut section, start);
                    section.parts.push(start..start);
                }
                open = Some((section, outer, inner));
                continue;
            }
            end_part(&mut section, start);
            out.push(section);
        }
        match key.take() {
            Some((key, outer)) if is_entry && indent > outer => {
                if begins_text(body) {
                    return Vec::new();
                }
                let mut section = Section { key, parts: Vec::new() };
                section.parts.push(start..start);
                open = Some((section, outer, indent));
            }
            _ => {
                let body = body.split(" #").next().unwrap_or(body);
                key = body.trim_ascii_end().ends_with(':').then_some((start + indent, indent));
            }
        }
    }
    if let Some((mut section, ..)) = open {
        end_part(&mut section, text.len());
        out.push(section);
    }
    out.retain(|section| section.parts.len() > 1);
    out
}

/// Whether a line may end with the sign of a block of text; a comment behind it or not.
fn begins_text(line: &str) -> bool {
    let before = line.match_indices('#').map(|(i, _)| &line[..i]);
    before.chain([line]).any(|part| {
        let digits = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-');
        let part = part.trim_end().trim_end_matches(digits);
        part.ends_with(['|', '>'])
    })
}

fn end_part(section: &mut Section, end: usize) {
    if let Some(part) = section.parts.last_mut() {
        part.end = end;
    }
}

/// The text without the parts cut out of it, and where they are missing.
fn without(text: &str, cut: &[Range<usize>]) -> (String, Vec<Gap>) {
    let (mut rest, mut gaps, mut from) = (String::new(), Vec::new(), 0);
    for part in cut {
        rest.push_str(&text[from..part.start]);
        from = part.end;
        gaps.push(Gap { at: rest.len(), missing: from - rest.len() });
    }
    rest.push_str(&text[from..]);
    (rest, gaps)
}

/// Puts a list below the key that begins at a byte, if there is such a key in a block and nothing below it.
fn put_back<'a>(
    node: &mut Node<'a>,
    text: &str,
    key: usize,
    list: Node<'a>,
    deepest: usize,
) -> Option<()> {
    let deepest = deepest.checked_sub(1)?;
    let Kind::Mapping(entries) = &mut node.kind else {
        return None;
    };
    if text.as_bytes().get(node.place.span.start) == Some(&b'{') {
        return None;
    }
    let before = entries.partition_point(|(name, _)| name.place.span.start <= key);
    let (name, value) = entries.get_mut(before.checked_sub(1)?)?;
    if name.place.span.start < key {
        put_back(value, text, key, list, deepest)?;
    } else if value.is_null() && is_alone(&text[name.place.span.end..]) {
        *value = list;
    } else {
        return None;
    }
    // As the tree of a block is built: it ends with its last value.
    let span = &mut node.place.span;
    span.end = entries.last()?.1.place.span.end.max(span.start);
    Some(())
}

/// Whether nothing but a colon and a comment stands behind a key on its line.
fn is_alone(behind: &str) -> bool {
    let line = behind.lines().next().unwrap_or("");
    let after = line.trim_start().strip_prefix(':').map(str::trim_start);
    after.is_some_and(|rest| rest.is_empty() || rest.starts_with('#'))
}

/// The same tree with texts of its own.
fn owned<'a>(node: Node) -> Node<'a> {
    let own = |text: Cow<str>| Cow::Owned(text.into_owned());
    let kind = match node.kind {
        Kind::Null => Kind::Null,
        Kind::Scalar { text, quoted } => Kind::Scalar { text: own(text), quoted },
        Kind::Sequence(items) => Kind::Sequence(items.into_iter().map(owned).collect()),
        Kind::Mapping(entries) => {
            let entry = |(key, value): (Key, Node)| {
                let text = own(key.text);
                let place = key.place;
                (Key { text, place }, owned(value))
            };
            Kind::Mapping(entries.into_iter().map(entry).collect())
        }
    };
    Node { kind, place: node.place }
}

#[cfg(test)]
mod tests;
