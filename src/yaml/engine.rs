//! The engine: a text to a tree.

use serde_yaml::granit_parser::{Event, Parser, ScalarStyle, Span as EngineSpan, options};

use super::builder::{Builder, Held};
use super::fault::syntax_fault;
use super::{DEEPEST, Node, parts};
use crate::diagnostic::Span;
use crate::diagnostic::{Diagnostic, FileId};

/// What a text holds.
pub(super) struct Read<'a> {
    /// Its tree, if it has one.
    pub root: Option<Node<'a>>,
    /// What is wrong with it, all of it errors.
    pub faults: Vec<Diagnostic>,
    /// How much there is.
    pub held: Held,
}

/// Where a part of the text is missing: from this byte on, places are farther on by all that is missing so far.
pub(super) struct Gap {
    pub at: usize,
    pub missing: usize,
}

/// Reads the tree of a text. Without a tree there is at least one error.
pub(crate) fn parse(text: &str, file: FileId) -> (Option<Node<'_>>, Vec<Diagnostic>) {
    if text.len() >= parts::LARGE
        && let Some(root) = parts::tree(text, file)
    {
        return (Some(root), Vec::new());
    }
    whole(text, file)
}

/// As [`parse`], in one piece.
pub(super) fn whole(text: &str, file: FileId) -> (Option<Node<'_>>, Vec<Diagnostic>) {
    let mut read = read(text, file, &[], DEEPEST);
    if read.root.is_none() && read.faults.is_empty() {
        read.faults.push(empty_file(file));
    }
    (read.root, read.faults)
}

/// Reads a text with gaps, nested at most so deep.
pub(super) fn read<'a>(text: &'a str, file: FileId, gaps: &[Gap], deepest: usize) -> Read<'a> {
    let mut settings = options! {
        strict_indentation: false,
        flow_nesting_limit: deepest,
        block_nesting_limit: deepest,
    };
    settings.set_emit_comments(false);
    let mut builder = Builder::new(file, deepest);
    let mut end = 0;
    for event in Parser::new_from_str_with_options(text, settings) {
        let fatal = match event {
            Ok((event, span)) => {
                let mut span = bytes(span);
                end = end.max(span.start);
                if let Event::Scalar(_, ScalarStyle::Literal | ScalarStyle::Folded, ..) = event {
                    // The engine ends a block of text somewhere in the blanks behind it.
                    let written = text.get(span.start..span.end).unwrap_or("");
                    span.end = span.start + written.trim_ascii_end().len();
                }
                builder.event(event, moved(span, gaps)).err()
            }
            Err(error) => {
                Some(Box::new(syntax_fault(text, file, &error, builder.open_flow(), end)))
            }
        };
        if let Some(fault) = fatal {
            builder.faults.push(*fault);
            builder.root = None;
            break;
        }
    }
    Read { held: builder.held(), root: builder.root, faults: builder.faults }
}

fn moved(span: Span, gaps: &[Gap]) -> Span {
    let on = |byte: usize| {
        let before = gaps.partition_point(|gap| gap.at <= byte);
        byte + before.checked_sub(1).map_or(0, |last| gaps[last].missing)
    };
    Span { start: on(span.start), end: on(span.end) }
}

fn empty_file(file: FileId) -> Diagnostic {
    let (message, first) = match file {
        FileId::Sketch => ("the sketch is empty", "slabwalk: 1"),
        FileId::Shop | FileId::BuiltIn => ("the shop book is empty", "slabwalk_shop: 1"),
    };
    Diagnostic::error("empty-file", message).hint(format!("the first line should be {first}"))
}

/// The bytes of an engine's span. The engine always knows them for a text held in memory.
fn bytes(span: EngineSpan) -> Span {
    let start = span.start.byte_offset().unwrap_or(0);
    Span { start, end: span.end.byte_offset().unwrap_or(start).max(start) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::yaml::Kind;

    fn tree(text: &str) -> Node<'_> {
        let (node, faults) = parse(text, FileId::Sketch);
        assert_eq!(faults, [], "{text}");
        node.expect(text)
    }

    fn code(text: &str) -> &'static str {
        let (_, faults) = parse(text, FileId::Sketch);
        faults.first().map_or("none", |fault| fault.code)
    }

    #[test]
    fn lengths_need_no_quotes() {
        let text = "a: [12' 6\", 0, -2' 6\", .25 in]\nb: {at: 6', step: 1/4\"}\nc: ¼\"\nd: [[6\",6\"],[1' 2\" , 3]]\ne: 6' 4\"  # a note\n";
        let root = tree(text);
        let mut found = Vec::new();
        let mut left = vec![&root];
        while let Some(node) = left.pop() {
            match &node.kind {
                Kind::Scalar { text: value, .. } => {
                    let span = node.place.span;
                    assert_eq!(&text[span.start..span.end], value, "the span is the text");
                    found.push(value.to_string());
                }
                Kind::Sequence(items) => left.extend(items.iter().rev()),
                Kind::Mapping(entries) => left.extend(entries.iter().rev().map(|(_, node)| node)),
                Kind::Null => {}
            }
        }
        assert_eq!(
            found,
            [
                "12' 6\"", "0", "-2' 6\"", ".25 in", "6'", "1/4\"", "¼\"", "6\"", "6\"", "1' 2\"",
                "3", "6' 4\""
            ]
        );
    }

    #[test]
    fn spans_of_blocks_end_with_their_last_value() {
        let text = "slab:\n  outline:\n    - [0, 0]\n    - [1, 1]   # note\n\njoints:\n  - id: J1\n    x: 3\n\n";
        let root = tree(text);
        let slab = root.get("slab").unwrap().place.span;
        assert_eq!(&text[slab.start..slab.end], "outline:\n    - [0, 0]\n    - [1, 1]");
        let joint = root.get("joints").unwrap().items().unwrap()[0].place.span;
        assert_eq!(&text[joint.start..joint.end], "id: J1\n    x: 3");
    }

    #[test]
    fn nothing_and_quotes() {
        let root = tree("a:\nb: ~\nc: null\nd: \"null\"\ne: none\nf: ''\ng: |\n  two\n  lines\n");
        for key in ["a", "b", "c"] {
            assert!(root.get(key).unwrap().is_null(), "{key}");
        }
        assert_eq!(root.get("d").unwrap().text(), Some("null"));
        assert_eq!(root.get("e").unwrap().text(), Some("none"));
        assert_eq!(root.get("f").unwrap().text(), Some(""));
        assert_eq!(root.get("g").unwrap().text(), Some("two\nlines\n"));
    }

    #[test]
    fn a_byte_order_mark_is_skipped() {
        let text = "\u{FEFF}slabwalk: 1\n";
        let place = tree(text).get("slabwalk").unwrap().place.span;
        assert_eq!(&text[place.start..place.end], "1");
    }

    #[test]
    fn aliases_are_followed_within_limits() {
        let root = tree("a: &a {depth: 1\"}\nb: [*a, *a]\n");
        let b = root.get("b").unwrap().items().unwrap();
        assert_eq!(b[1].get("depth").unwrap().text(), Some("1\""));
        let mut laughs = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
        for level in 1..12 {
            let before = level - 1;
            laughs +=
                &format!("a{level}: &a{level} [{}]\n", vec![format!("*a{before}"); 10].join(", "));
        }
        assert_eq!(code(&laughs), "aliases-multiply");
        assert_eq!(code("a: &a [*a]\n"), "alias");
        let mut chain = String::from("a0: &a0 [x]\n");
        for level in 1..80 {
            chain += &format!("a{level}: &a{level} [*a{}]\n", level - 1);
        }
        assert_eq!(code(&chain), "nested-too-deep");
    }

    #[test]
    fn limits_and_faults() {
        let deep = format!("a: {}{}", "[".repeat(100_000), "]".repeat(100_000));
        assert_eq!(code(&deep), "nested-too-deep");
        let block: String = (0..200).map(|level| format!("{}a:\n", " ".repeat(level))).collect();
        assert_eq!(code(&block), "nested-too-deep");
        assert_eq!(code(""), "empty-file");
        assert_eq!(code("# only a comment\n"), "empty-file");
        assert_eq!(code("a: 1\n---\nb: 2\n"), "several-documents");
        assert_eq!(code("a: 1\na: 2\n"), "duplicate-key");
        let many: String = (0..40).map(|n| format!("k{}: 1\n", n % 30)).collect();
        let (_, faults) = parse(&many, FileId::Sketch);
        assert_eq!(faults.len(), 10);
        assert_eq!(code("? [1, 2]\n: 3\n"), "key-not-text");
        assert_eq!(code("a: !thing 3\n"), "tag");
        assert_eq!(code("a: !!str 3\n"), "none");
    }
}
