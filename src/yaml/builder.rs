//! Events of the engine to a tree, within limits.

use std::borrow::Cow;
use std::collections::BTreeMap;

use serde_yaml::granit_parser::{Event, ScalarStyle, StructureStyle, Tag};

use super::{Key, Kind, Node};
use crate::diagnostic::Span;
use crate::diagnostic::{Diagnostic, FileId, Place};
use crate::text::excerpt;

/// Most values a file may have. A floor of 100,000 joints has about three million.
pub(super) const MOST_NODES: usize = 8_000_000;
/// Most values that anchors may hold and aliases repeat, over the whole file.
const MOST_ALIASED: usize = 200_000;
/// Mappings with fewer keys are searched for duplicates without an index.
const FEW_KEYS: usize = 16;

/// A list or mapping that is not closed yet. What is in it so far lies on top of the tree's stacks. Its own room is taken
/// when it is closed, and is no larger than it needs.
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
    /// Where its first item lies.
    Sequence(usize),
    /// Where its first entry lies, and the key whose value comes next.
    Mapping(usize, Option<Key<'a>>),
}

/// A value that aliases can repeat.
struct Anchored<'a> {
    node: Node<'a>,
    size: usize,
    height: usize,
}

/// How much a text holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Held {
    /// Values.
    pub nodes: usize,
    /// Values that have an anchor or come from an alias.
    pub aliased: usize,
}

impl Held {
    /// Both together.
    pub const fn and(self, other: Self) -> Self {
        Self { nodes: self.nodes + other.nodes, aliased: self.aliased + other.aliased }
    }

    /// Whether one text may hold this.
    pub const fn is_within_limits(self) -> bool {
        self.nodes <= MOST_NODES && self.aliased <= MOST_ALIASED
    }
}

/// The tree so far.
pub(super) struct Builder<'a> {
    file: FileId,
    stack: Vec<Frame<'a>>,
    /// Items of the open lists, the innermost last.
    items: Vec<Node<'a>>,
    /// Entries of the open mappings, the innermost last.
    entries: Vec<(Key<'a>, Node<'a>)>,
    pub root: Option<Node<'a>>,
    documents: usize,
    anchors: BTreeMap<usize, Anchored<'a>>,
    held: Held,
    deepest: usize,
    pub faults: Vec<Diagnostic>,
}

/// A fault that ends reading. Boxed, because it is rare and large.
pub(super) type Fatal = Box<Diagnostic>;

impl<'a> Builder<'a> {
    /// Nothing yet.
    pub const fn new(file: FileId, deepest: usize) -> Self {
        Self {
            file,
            stack: Vec::new(),
            items: Vec::new(),
            entries: Vec::new(),
            root: None,
            documents: 0,
            anchors: BTreeMap::new(),
            held: Held { nodes: 0, aliased: 0 },
            deepest,
            faults: Vec::new(),
        }
    }

    /// How much there was so far.
    pub const fn held(&self) -> Held {
        self.held
    }

    const fn place(&self, span: Span) -> Place {
        Place { file: self.file, span }
    }

    fn fatal(&self, code: &'static str, span: Span, message: impl Into<String>) -> Fatal {
        let place = self.place(span);
        Box::new(Diagnostic::error(code, message).place(place))
    }

    /// Where the innermost open `[` or `{` stands.
    pub fn open_flow(&self) -> Option<Span> {
        let open = self.stack.last().filter(|frame| frame.flow)?;
        Some(open.start)
    }

    /// Takes the next event.
    pub fn event(&mut self, event: Event<'a>, span: Span) -> Result<(), Fatal> {
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
                self.open(Body::Sequence(self.items.len()), style, anchor, span)
            }
            Event::MappingStart(style, anchor, tag) => {
                self.tag(tag.as_deref(), span);
                self.open(Body::Mapping(self.entries.len(), None), style, anchor, span)
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
        self.held.nodes += nodes;
        if self.held.nodes <= MOST_NODES {
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
        self.faults.push(fault.hint("take it out, or put the text into quotes"));
    }

    fn open(
        &mut self,
        body: Body<'a>,
        style: StructureStyle,
        anchor: usize,
        start: Span,
    ) -> Result<(), Fatal> {
        self.depth(1, start)?;
        let nodes_before = self.held.nodes;
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
        if self.stack.len() + more <= self.deepest {
            return Ok(());
        }
        let message = format!("lists and keys are nested more than {} deep", self.deepest);
        Err(self.fatal("nested-too-deep", span, message))
    }

    fn close(&mut self, end: Span) -> Result<(), Fatal> {
        let Some(frame) = self.stack.pop() else {
            return Ok(());
        };
        let size = self.held.nodes - frame.nodes_before;
        // The engine ends a block where the next thing starts; its last value ends sooner.
        let (kind, first, last) = match frame.body {
            Body::Sequence(from) => {
                let items: Vec<Node> = self.items.drain(from..).collect();
                let last = items.last().map(|last| last.place.span.end);
                (Kind::Sequence(items), None, last)
            }
            Body::Mapping(from, _) => {
                let entries: Vec<(Key, Node)> = self.entries.drain(from..).collect();
                let first = entries.first().map(|(key, _)| key.place.span.start);
                let last = entries.last().map(|(_, value)| value.place.span.end);
                (Kind::Mapping(self.unique(entries)), first, last)
            }
        };
        let (first, last) = if frame.flow { (None, None) } else { (first, last) };
        let start = first.unwrap_or(frame.start.start);
        let place = self.place(Span { start, end: last.unwrap_or(end.end).max(start) });
        self.finish(Node { kind, place }, frame.anchor, size, frame.height)
    }

    /// Takes out keys that were there before, and says so.
    fn unique(&mut self, entries: Vec<(Key<'a>, Node<'a>)>) -> Vec<(Key<'a>, Node<'a>)> {
        let few = entries.len() < FEW_KEYS;
        let before = |k: usize| entries[..k].iter().map(|(key, _)| &key.text);
        if few && (1..entries.len()).all(|k| before(k).all(|text| *text != entries[k].0.text)) {
            return entries;
        }
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
            let message = format!("the key `{}` stands here twice", excerpt(&key.text));
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
        self.held.aliased += size;
        if self.held.aliased > MOST_ALIASED {
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
            self.held.aliased += size;
            if self.held.aliased > MOST_ALIASED {
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
            Body::Sequence(_) => self.items.push(node),
            Body::Mapping(_, pending) => match pending.take() {
                Some(key) => self.entries.push((key, node)),
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
    faults.push(Diagnostic::error("key-not-text", message).place(place).hint("write `key: value`"));
    Key { text: Cow::Borrowed(""), place }
}

fn scalar(text: Cow<'_, str>, style: ScalarStyle) -> Kind<'_> {
    let quoted = style != ScalarStyle::Plain;
    if !quoted && matches!(&*text, "" | "~" | "null" | "Null" | "NULL") {
        return Kind::Null;
    }
    Kind::Scalar { text, quoted }
}
