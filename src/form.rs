//! Reading a tree of nodes against what is expected of it, with every fault noted and none fatal.
//!
//! A reader returns `None` for what could not be read, after noting why; the caller goes on
//! with the rest, so that all faults of a file are found in one pass.

mod ask;
mod fields;
#[cfg(test)]
pub(crate) mod heard;
mod nearest;
mod rule;
mod value;

pub(crate) use fields::{Belongs, Fields};
pub(crate) use nearest::nearest;
pub(crate) use rule::{Rule, Sign};

use std::collections::BTreeSet;

use crate::diagnostic::{Diagnostic, FileId, Place};
use crate::quantity::Units;
use crate::yaml::Node;

/// The state of one pass over one file.
pub(crate) struct Reader<'t> {
    file: FileId,
    text: &'t str,
    /// Where a key belongs, given the key and the record in which it stands wrongly.
    belongs: fn(&str, &str) -> Option<Belongs>,
    /// What bare numbers mean.
    pub units: Units,
    /// Everything found so far.
    pub faults: Vec<Diagnostic>,
    /// Id of the item that is being read; faults are put down to it.
    pub item: Option<String>,
    /// Records, by their first byte, with keys that are there under a misspelled name. What is said about
    /// the name is enough; they are not missing.
    misspelt: BTreeSet<(usize, String)>,
}

impl<'t> Reader<'t> {
    /// A pass over `text`, with the faults of its YAML already found.
    pub const fn new(
        file: FileId,
        text: &'t str,
        faults: Vec<Diagnostic>,
        belongs: fn(&str, &str) -> Option<Belongs>,
    ) -> Self {
        let misspelt = BTreeSet::new();
        Self { file, text, belongs, units: Units::Us, faults, item: None, misspelt }
    }

    /// A pass over another part of the same file, with nothing found yet.
    pub fn fork(&self) -> Self {
        Self { faults: Vec::new(), item: self.item.clone(), misspelt: BTreeSet::new(), ..*self }
    }

    /// Notes a fault, put down to the item being read unless it names another.
    pub fn note(&mut self, mut fault: Diagnostic) {
        if fault.item.is_none() {
            fault.item.clone_from(&self.item);
        }
        self.faults.push(fault);
    }

    /// Notes an error at a place.
    pub fn error(&mut self, code: &'static str, place: Place, message: String, hint: &str) {
        let fault = Diagnostic::error(code, message).place(place);
        self.note(if hint.is_empty() { fault } else { fault.hint(hint) });
    }

    /// Notes that something else stands where `wanted` should.
    pub fn wrong_type(&mut self, node: &Node, what: &str, wanted: &str, hint: &str) {
        let message = format!("{what} should be {wanted}, and {} stands here", node.describe());
        self.error("wrong-type", node.place, message, hint);
    }

    /// The entries of a list; a single value that is no list is an error.
    pub fn list<'n, 'a>(&mut self, node: Option<&'n Node<'a>>, what: &str) -> &'n [Node<'a>] {
        let Some(node) = node.filter(|node| !node.is_null()) else {
            return &[];
        };
        if let Some(items) = node.items() {
            return items;
        }
        let hint = format!("start each entry with `- `, or write {what}: [first, second]");
        self.wrong_type(node, &format!("`{what}`"), "a list", &hint);
        &[]
    }

    /// What stands in the file at a place of it.
    pub fn written(&self, span: crate::diagnostic::Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or("")
    }

    /// The text of the file this pass is over, from a byte on.
    fn after(&self, byte: usize) -> &'t str {
        self.text.get(byte..).unwrap_or("")
    }
}
