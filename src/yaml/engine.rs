//! Events of the engine to a tree, within limits.

use std::borrow::Cow;
use std::collections::BTreeMap;

use serde_yaml::granit_parser::{
    Event, Parser, ScalarStyle, Span as EngineSpan, StructureStyle, Tag, options,
};

use super::fault::syntax_fault;
use super::{Key, Kind, Node};
use crate::diagnostic::{Diagnostic, FileId, Place};
use crate::sketch::Span;

/// Deepest nesting of lists and mappings. The deepest form of a sketch has seven levels.
const DEEPEST: usize = 64;
/// Most values a file may have. A floor of 100,000 joints has about three million.
const MOST_NODES: usize = 8_000_000;
/// Most values that anchors may hold and aliases repeat, over the whole file.
const MOST_ALIASED: usize = 200_000;
/// Mappings with fewer keys are searched for duplicates without an index.
const FEW_KEYS: usize = 16;

/// Reads the tree of a text. Without a tree there is at least one error.
pub(crate) fn parse(text: &str, file: FileId) -> (Option<Node<'_>>, Vec<Diagnostic>) {
    let mut settings = options! {
        strict_indentation: false,
        flow_nesting_limit: DEEPEST,
        block_nesting_limit: DEEPEST,
    };
    settings.set_emit_comments(false);
    let mut builder = Builder::new(file);
    let mut end = 0;
    for event in Parser::new_from_str_with_options(text, settings) {
        match event {
            Ok((event, span)) => {
                let span = bytes(span);
                end = end.max(span.start);
                if let Err(fault) = builder.event(event, span) {
                    builder.faults.push(*fault);
                    return (None, builder.faults);
                }
            }
            Err(error) => {
                let fault = syntax_fault(text, file, &error, builder.open_flow(), end);
                builder.faults.push(fault);
                return (None, builder.faults);
            }
        }
    }
    if builder.root.is_none() && builder.faults.is_empty() {
        builder.faults.push(empty_file(file));
    }
    (builder.root, builder.faults)
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
    Span {
        start,
        end: span.end.byte_offset().unwrap_or(start).max(start),
    }
}

/// A list or mapping that is not closed yet.
struct Frame<'a> {
    body: Body<'a>,
    start: Span,
    flow: bool,
    anchor: usize,
    /// Values before it, to know how many it holds.
    nodes_before: usize,
    /// Levels below it.
    height: usize,
}

enum Body<'a> {
    Sequence(Vec<Node<'a>>),
    Mapping(Vec<(Key<'a>, Node<'a>)>, Option<Key<'a>>),
}

/// A value that aliases can repeat.
struct Anchored<'a> {
    node: Node<'a>,
    size: usize,
    height: usize,
}

struct Builder<'a> {
    file: FileId,
    stack: Vec<Frame<'a>>,
    root: Option<Node<'a>>,
    documents: usize,
    anchors: BTreeMap<usize, Anchored<'a>>,
    nodes: usize,
    aliased: usize,
    faults: Vec<Diagnostic>,
}

/// A fault that ends reading. Boxed, because it is rare and large.
type Fatal = Box<Diagnostic>;

impl<'a> Builder<'a> {
    const fn new(file: FileId) -> Self {
        Self {
            file,
            stack: Vec::new(),
            root: None,
            documents: 0,
            anchors: BTreeMap::new(),
            nodes: 0,
            aliased: 0,
            faults: Vec::new(),
        }
    }

    const fn place(&self, span: Span) -> Place {
        Place {
            file: self.file,
            span,
        }
    }

    fn fatal(&self, code: &'static str, span: Span, message: impl Into<String>) -> Fatal {
        let place = self.place(span);
        Box::new(Diagnostic::error(code, message).place(place))
    }

    /// Where the innermost open `[` or `{` stands.
    fn open_flow(&self) -> Option<Span> {
        let open = self.stack.last().filter(|frame| frame.flow)?;
        Some(open.start)
    }

    fn event(&mut self, event: Event<'a>, span: Span) -> Result<(), Fatal> {
        match event {
            Event::DocumentStart(..) => self.document(span),
            Event::Scalar(text, style, anchor, tag) => {
                self.tag(tag.as_deref(), span);
                let kind = scalar(text, style);
                let place = self.place(span);
                self.count(1, span)?;
                self.finish(Node { kind, place }, anchor, 1, 0)
            }
            Event::SequenceStart(style, anchor, tag) => {
                self.tag(tag.as_deref(), span);
                self.open(Body::Sequence(Vec::new()), style, anchor, span)
            }
            Event::MappingStart(style, anchor, tag) => {
                self.tag(tag.as_deref(), span);
                self.open(Body::Mapping(Vec::new(), None), style, anchor, span)
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(span),
            Event::Alias(id) => self.alias(id, span),
            _ => Ok(()),
        }
    }

    fn document(&mut self, span: Span) -> Result<(), Fatal> {
        self.documents += 1;
        if self.documents < 2 {
            return Ok(());
        }
        let mut fault = self.fatal(
            "several-documents",
            span,
            "a second document starts here, and one file describes one floor",
        );
        fault.hint = Some("put the rest into a file of its own, or take out the line ---".into());
        Err(fault)
    }

    fn count(&mut self, nodes: usize, span: Span) -> Result<(), Fatal> {
        self.nodes += nodes;
        if self.nodes <= MOST_NODES {
            return Ok(());
        }
        let message = format!("the file has more than {MOST_NODES} values");
        Err(self.fatal("too-many-values", span, message))
    }

    fn tag(&mut self, tag: Option<&Tag>, span: Span) {
        let Some(tag) = tag.filter(|tag| !tag.is_yaml_core_schema()) else {
            return;
        };
        let message = format!("the tag `{}` has no meaning here", tag.original());
        let fault = self.fatal("tag", span, message);
        self.faults
            .push(fault.hint("take it out, or put the text into quotes"));
    }

    fn open(
        &mut self,
        body: Body<'a>,
        style: StructureStyle,
        anchor: usize,
        start: Span,
    ) -> Result<(), Fatal> {
        self.depth(1, start)?;
        let nodes_before = self.nodes;
        self.count(1, start)?;
        self.stack.push(Frame {
            body,
            start,
            flow: style == StructureStyle::Flow,
            anchor,
            nodes_before,
            height: 1,
        });
        Ok(())
    }

    fn depth(&self, more: usize, span: Span) -> Result<(), Fatal> {
        if self.stack.len() + more <= DEEPEST {
            return Ok(());
        }
        let message = format!("lists and keys are nested more than {DEEPEST} deep");
        Err(self.fatal("nested-too-deep", span, message))
    }

    fn close(&mut self, end: Span) -> Result<(), Fatal> {
        let Some(frame) = self.stack.pop() else {
            return Ok(());
        };
        let size = self.nodes - frame.nodes_before;
        let last = match &frame.body {
            Body::Sequence(items) => items.last(),
            Body::Mapping(entries, _) => entries.last().map(|(_, value)| value),
        };
        // The engine ends a block where the next thing starts; its last value ends sooner.
        let end = match last {
            Some(last) if !frame.flow => last.place.span.end,
            _ => end.end,
        };
        let start = match &frame.body {
            Body::Mapping(entries, _) if !frame.flow => entries
                .first()
                .map_or(frame.start.start, |(key, _)| key.place.span.start),
            _ => frame.start.start,
        };
        let place = self.place(Span {
            start,
            end: end.max(start),
        });
        let kind = match frame.body {
            Body::Sequence(items) => Kind::Sequence(items),
            Body::Mapping(entries, _) => Kind::Mapping(self.unique(entries)),
        };
        self.finish(Node { kind, place }, frame.anchor, size, frame.height)
    }

    /// Takes out keys that were there before, and says so.
    fn unique(&mut self, entries: Vec<(Key<'a>, Node<'a>)>) -> Vec<(Key<'a>, Node<'a>)> {
        let few = entries.len() < FEW_KEYS;
        let mut index: BTreeMap<Cow<'a, str>, Place> = BTreeMap::new();
        let mut kept: Vec<(Key<'a>, Node<'a>)> = Vec::with_capacity(entries.len());
        for (key, value) in entries {
            let first = if few {
                let same = kept.iter().find(|(other, _)| other.text == key.text);
                same.map(|(other, _)| other.place)
            } else {
                index.insert(key.text.clone(), key.place)
            };
            let Some(first) = first else {
                kept.push((key, value));
                continue;
            };
            let message = format!(
                "the key `{}` stands here twice",
                super::node::excerpt(&key.text)
            );
            self.faults.push(
                Diagnostic::error("duplicate-key", message)
                    .place(key.place)
                    .label("again")
                    .related(first, "first here")
                    .hint("keep one of them; a list item starts with `- `"),
            );
        }
        kept
    }

    fn alias(&mut self, id: usize, span: Span) -> Result<(), Fatal> {
        let Some(anchored) = self.anchors.get(&id) else {
            let message = "this alias stands inside the value it repeats";
            return Err(self.fatal("alias", span, message));
        };
        let (size, height) = (anchored.size, anchored.height);
        self.aliased += size;
        if self.aliased > MOST_ALIASED {
            return Err(self.too_many_aliases(span));
        }
        self.depth(height, span)?;
        let Some(anchored) = self.anchors.get(&id) else {
            return Ok(());
        };
        let node = anchored.node.clone();
        self.count(size, span)?;
        self.finish(node, 0, size, height)
    }

    fn too_many_aliases(&self, span: Span) -> Fatal {
        let message = format!("anchors and aliases stand for more than {MOST_ALIASED} values");
        let mut fault = self.fatal("aliases-multiply", span, message);
        fault.hint = Some("write the values out, or describe the floor in several files".into());
        fault
    }

    /// Puts a finished value where it belongs.
    fn finish(
        &mut self,
        node: Node<'a>,
        anchor: usize,
        size: usize,
        height: usize,
    ) -> Result<(), Fatal> {
        if anchor > 0 {
            self.aliased += size;
            if self.aliased > MOST_ALIASED {
                return Err(self.too_many_aliases(node.place.span));
            }
            let node = node.clone();
            self.anchors.insert(anchor, Anchored { node, size, height });
        }
        let Some(frame) = self.stack.last_mut() else {
            self.root = Some(node);
            return Ok(());
        };
        frame.height = frame.height.max(height + 1);
        match &mut frame.body {
            Body::Sequence(items) => items.push(node),
            Body::Mapping(entries, pending) => match pending.take() {
                Some(key) => entries.push((key, node)),
                None => *pending = Some(key_of(node, &mut self.faults)),
            },
        }
        Ok(())
    }
}

fn key_of<'a>(node: Node<'a>, faults: &mut Vec<Diagnostic>) -> Key<'a> {
    let place = node.place;
    if let Kind::Scalar { text, .. } = node.kind {
        return Key { text, place };
    }
    let message = format!("{} can't be a key", node.describe());
    faults.push(
        Diagnostic::error("key-not-text", message)
            .place(place)
            .hint("write `key: value`"),
    );
    Key {
        text: Cow::Borrowed(""),
        place,
    }
}

fn scalar(text: Cow<'_, str>, style: ScalarStyle) -> Kind<'_> {
    let quoted = style != ScalarStyle::Plain;
    if !quoted && matches!(&*text, "" | "~" | "null" | "Null" | "NULL") {
        return Kind::Null;
    }
    Kind::Scalar { text, quoted }
}

#[cfg(test)]
mod tests {
    use super::*;

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
        assert_eq!(
            &text[slab.start..slab.end],
            "outline:\n    - [0, 0]\n    - [1, 1]"
        );
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
            laughs += &format!(
                "a{level}: &a{level} [{}]\n",
                vec![format!("*a{before}"); 10].join(", ")
            );
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
        let block: String = (0..200)
            .map(|level| format!("{}a:\n", " ".repeat(level)))
            .collect();
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
