//! What stands in a text between its values: comments, and things that are not understood.

use crate::yaml::{Kind, Node};

#[derive(Clone, Copy, Debug)]
pub(super) struct Comment {
    pub start: usize,
    pub end: usize,
    /// Characters before it on its line.
    pub column: usize,
    /// Nothing stands before it on its line.
    pub own: bool,
}

/// A text with its comments.
pub(super) struct Source<'t> {
    pub text: &'t str,
    pub comments: Vec<Comment>,
    /// Bytes that are not understood: anchors, aliases, tags, keys in other forms.
    pub foreign: Vec<usize>,
}

impl<'t> Source<'t> {
    /// Looks through a text whose tree is known. Nothing if it has marks of documents.
    pub fn of(text: &'t str, root: &Node) -> Option<Self> {
        let mut values = Vec::new();
        spans(text, root, &mut values);
        values.sort_unstable();
        let mut source = Self { text, comments: Vec::new(), foreign: Vec::new() };
        let mut at = 0;
        for (start, end) in values {
            if start > at {
                source.between(at, start)?;
            }
            at = at.max(end);
        }
        source.between(at, text.len())?;
        Some(source)
    }

    /// Looks through what stands between two values.
    fn between(&mut self, from: usize, to: usize) -> Option<()> {
        let gap = self.text.get(from..to)?;
        if gap.contains("---") {
            return None;
        }
        let mut skip = 0;
        for (index, c) in gap.char_indices() {
            let at = from + index;
            if at < skip {
                continue;
            }
            match c {
                '#' => {
                    let end = self.text[at..].find('\n').map_or(self.text.len(), |line| at + line);
                    self.comment(at, end);
                    skip = end;
                }
                ' ' | '\t' | '\n' | ':' | '-' | ',' | '[' | ']' | '{' | '}' | '|' | '>' => {}
                _ => self.foreign.push(at),
            }
        }
        Some(())
    }

    fn comment(&mut self, start: usize, end: usize) {
        let line = self.text[..start].rfind('\n').map_or(0, |newline| newline + 1);
        let before = &self.text[line..start];
        self.comments.push(Comment {
            start,
            end,
            column: before.chars().count(),
            own: before.trim().is_empty(),
        });
    }

    /// The text of a comment, without blanks at its end.
    pub fn word(&self, comment: &Comment) -> &'t str {
        self.text[comment.start..comment.end].trim_end()
    }

    /// All comments, in the order of the alphabet.
    pub fn words(&self) -> Vec<&'t str> {
        let mut words: Vec<&str> = self.comments.iter().map(|comment| self.word(comment)).collect();
        words.sort_unstable();
        words
    }

    /// Whether a blank line stands before the line of a byte.
    pub fn blank_before(&self, at: usize) -> bool {
        let line = self.text[..at].rfind('\n').map_or(0, |newline| newline);
        let before = self.text[..line].rfind('\n').map_or(0, |newline| newline + 1);
        line > 0 && self.text[before..line].trim().is_empty()
    }
}

/// The bytes of all keys and single values.
fn spans(text: &str, node: &Node, out: &mut Vec<(usize, usize)>) {
    let span = node.place.span;
    match &node.kind {
        Kind::Null => out.push((span.start, span.end)),
        Kind::Scalar { .. } => out.push((span.start, end_of(text, node))),
        Kind::Sequence(items) => items.iter().for_each(|item| spans(text, item, out)),
        Kind::Mapping(entries) => {
            for (key, value) in entries {
                out.push((key.place.span.start, key.place.span.end));
                spans(text, value, out);
            }
        }
    }
}

/// Whether a value is a block of text, behind `|` or `>`. Its span starts with the first line of it.
pub(super) fn is_block_text(text: &str, node: &Node) -> bool {
    let start = node.place.span.start;
    matches!(&node.kind, Kind::Scalar { quoted: true, .. })
        && !text[start..].starts_with(['"', '\''])
}

/// The end of a value. The engine counts blank lines behind a block of text as part of it.
pub(super) fn end_of(text: &str, node: &Node) -> usize {
    let span = node.place.span;
    if is_block_text(text, node) {
        return text[..span.end].trim_end().len().max(span.start);
    }
    span.end
}
