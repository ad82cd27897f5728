//! Large texts, cut between the entries of their long lists and read on all cores.
//!
//! A list of 100,000 joints is read in parts of some hundred entries each, and the rest of the text without it; then the
//! parts are put back. That is done only where nobody can notice it: a text is cut at lines where an entry of a block
//! list begins, and where anything at all is found in a part or in the rest (a fault, another shape than a cut
//! list has, more values than the limits allow) nothing of it is kept, and the text is read once more in one piece.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::builder::MOST_NODES;
use super::engine::{Gap, Read, read};
use super::{Key, Kind, Node};
use crate::diagnostic::{FileId, Place};
use crate::parallel;
use crate::sketch::Span;

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
        let gap = Gap {
            at: 0,
            missing: cut[i].start,
        };
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
                span: Span {
                    start: start?,
                    end: entries.last()?.place.span.end,
                },
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
        let is_entry = body
            .strip_prefix('-')
            .is_some_and(|rest| rest.starts_with([' ', '\n', '\r']));
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
                let mut section = Section {
                    key,
                    parts: Vec::new(),
                };
                section.parts.push(start..start);
                open = Some((section, outer, indent));
            }
            _ => {
                let body = body.split(" #").next().unwrap_or(body);
                key = body
                    .trim_ascii_end()
                    .ends_with(':')
                    .then_some((start + indent, indent));
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
        gaps.push(Gap {
            at: rest.len(),
            missing: from - rest.len(),
        });
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
        Kind::Scalar { text, quoted } => Kind::Scalar {
            text: own(text),
            quoted,
        },
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
    Node {
        kind,
        place: node.place,
    }
}

#[cfg(test)]
mod tests {
    use super::super::engine::whole;
    use super::*;
    use proptest::prelude::*;

    /// Wherever parts give a tree, it is the one that the whole text gives, to the last place.
    fn same(text: &str, size: usize) -> bool {
        let sections = sections(text, size);
        let tree = in_parts(text, FileId::Sketch, &sections);
        let Some(tree) = tree.filter(|_| !sections.is_empty()) else {
            return false;
        };
        let (wanted, faults) = whole(text, FileId::Sketch);
        assert_eq!(faults, [], "{text}");
        assert_eq!(Some(tree), wanted, "{text}");
        true
    }

    #[test]
    fn the_demonstration_sketches_in_parts_of_any_size() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches");
        let mut cut = 0;
        for entry in std::fs::read_dir(folder).expect("sketches").flatten() {
            if entry.path().extension().is_some_and(|e| e == "yaml") {
                let text = std::fs::read_to_string(entry.path()).expect("a sketch");
                cut += [1, 40, 200, 1000]
                    .iter()
                    .filter(|size| same(&text, **size))
                    .count();
            }
        }
        assert!(cut > 0);
    }

    #[test]
    fn what_is_cut_and_what_is_not() {
        let rows: &[(&str, bool, &str)] = &[
            ("a list", true, "a:\n  - 1\n  - 2\n"),
            (
                "two lists",
                true,
                "a:\n  - 1\n  - 2\nb:\n  - {x: 1}\n  - {x: 2}\nc: 3\n",
            ),
            ("last of its mapping", true, "t:\n  m:\n    - 1\n    - 2\n"),
            (
                "between others",
                true,
                "t:\n  k: 1\n  m:\n    - 1\n    - 2\n  n: 3\nu: 4\n",
            ),
            (
                "comments and blank lines",
                true,
                "a: # all\n\n  # one\n  - 1\n# two\n\n  - 2\n",
            ),
            ("no line feed at the end", true, "a:\n  - 1\n  - 2"),
            ("carriage returns", true, "a:\r\n  - 1\r\n  - 2\r\nb: 3\r\n"),
            (
                "a byte order mark",
                true,
                "\u{FEFF}a: 0\nb:\n  - 1\n  - 2\n",
            ),
            (
                "blocks in entries",
                false,
                "a:\n  - |\n    - x\n    y\n  - k:\n      - 1\n      - 2\n",
            ),
            (
                "two lines of a value",
                true,
                "a:\n  - one\n    - two\n  - three\n",
            ),
            (
                "anchors of one part",
                true,
                "a:\n  - &x 1\n  - *x\n  - &y 2\n",
            ),
            (
                "an entry each line",
                false,
                "a: [1,\n  2]\nb: {c:\n  - 1\n  - 2\n}\n",
            ),
            ("a block of text", false, "a: |\n  b:\n    - 1\n    - 2\n"),
            (
                "a text in quotes",
                false,
                "a: \"\n  b:\n    - 1\n    - 2\"\n",
            ),
            ("quotes over entries", true, "a:\n  - \"1\n  - 2\"\n  - 3\n"),
            ("brackets over entries", false, "a:\n  - [1,\n  - 2]\n"),
            ("a key twice", false, "a:\n  - 1\n  - 2\na:\n  - 3\n  - 4\n"),
            ("a list and a value", false, "a:\n  - 1\n  - 2\n b\n"),
            ("a list and another list", false, "a:\n  - 1\n  - 2\n- 3\n"),
            (
                "two documents",
                false,
                "a:\n  - 1\n  - 2\n---\na:\n  - 3\n  - 4\n",
            ),
            (
                "an alias of elsewhere",
                false,
                "k: &x 1\na:\n  - *x\n  - *x\n",
            ),
            ("a bare return", false, "a:\n  - 1\rb: 1\n  - 2\n"),
            ("an entry that is none", false, "a:\n  - 1\n  -2\n"),
            ("entries at the key", false, "a:\n- 1\n- 2\n"),
            (
                "an anchor above a list",
                false,
                "t: &x\n  m:\n    - 1\n    - 2\nu: *x\n",
            ),
            (
                "an anchor on a key",
                false,
                "a: &x:\n  - 1\n  - 2\nb: *x:\n",
            ),
            ("a return in a key", false, "a:\rb:\n  - 1\n  - 2\n"),
            (
                "a return in a comment",
                false,
                "a:\n# c\rb:\n  - 1\n  - 2\n",
            ),
            ("nothing, said so", false, "a: ~\t# x:\n  - 1\n  - 2\n"),
            (
                "a directive",
                false,
                "%TAG !! tag:example.com,2000:\n---\na:\n  - !!str 1\n  - !!str 2\n",
            ),
            ("a key without a value", false, "a:\n  - ? x\n  - 2\n"),
            ("a tag", false, "a:\n  - !x 1\n  - 2\n"),
        ];
        for (name, wanted, text) in rows {
            let cut = [1, 4, 10, 18, 30]
                .map(|size| same(text, size))
                .contains(&true);
            assert_eq!(cut, *wanted, "{name}");
        }
    }

    #[test]
    fn a_part_may_be_as_deep_as_it_likes_within_the_limit() {
        for depth in [1, 20, 30, 31, 40, 61, 62, 63, 70] {
            let entry = format!("  - {}{}\n", "[".repeat(depth), "]".repeat(depth));
            same(&format!("a:\n{entry}{entry}"), 1);
        }
    }

    #[test]
    fn a_large_text_is_read_in_parts() {
        let text = "a:\n".to_owned() + &"  - {id: J1, x: 12' 6\"}\n".repeat(20_000);
        assert!(text.len() > LARGE);
        assert!(same(&text, PART));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4000) })]

        /// Lines as they come, most of them at home in a sketch.
        #[test]
        fn any_lines(lines in prop::collection::vec(prop::sample::select(LINES), 1..14), size in 1_usize..30) {
            let mut text = lines.concat();
            same(&text, size);
            text.pop();
            same(&text, size);
        }
    }

    const LINES: &[&str] = &[
        "a:\n",
        "b:\n",
        "  c:\n",
        "    d:\n",
        "a: 1\n",
        "  - 1\n",
        "  - 2\n",
        "  - {x: 1}\n",
        "    - 3\n",
        "- 4\n",
        "  - k: 1\n",
        "    l: 2\n",
        "    m:\n",
        "      - 5\n",
        "  -\n",
        "  - |\n",
        "    text\n",
        "  - \"q\n",
        "  q\"\n",
        "  - [1,\n",
        "  2]\n",
        "# c\n",
        "  # c\n",
        "\n",
        "  \n",
        "  x\n",
        "x\n",
        "---\n",
        "...\n",
        "  - &a 1\n",
        "  - *a\n",
        "a: {\n",
        "}\n",
        "  - - 1\n",
        "  - a: b: c\n",
        "  - 'x'\n",
        "  - ''\r\n",
        "\t- 1\n",
        "  -\t1\n",
        "  ? x\n",
        "  : y\n",
        "a: # n\n",
        "a: |\n",
        "a: >-\n",
        "a: &k\n",
        "\"a\":\n",
        "  -  - 2\n",
        "   - 6\n",
        " - 7\n",
        "%YAML 1.2\n",
        "a:\r",
        "a: &x\n",
        "a: *x\n",
        "a: &x:\n",
        "b: *x:\n",
        "  - ? x\n",
        "a: ~\t# x:\n",
        "# c\rb:\n",
        "%TAG !! tag:example.com,2000:\n",
        "  - !!str 1\n",
    ];
}
