//! Photographs.

use super::Pass;
use crate::sketch::Photo;
use crate::yaml::Node;

impl Pass<'_> {
    /// Reads a photograph's record.
    pub(super) fn photo(&mut self, node: &Node) -> Option<Photo> {
        let fields = self.reader.fields(node, "a photo", &["item", "file", "note", "proposal"])?;
        let named = self.reader.required(&fields, "item", "item: C1");
        let filed = self.reader.required(&fields, "file", "file: photos/crack.jpg");
        let item = self.reader.text(&fields, "item");
        let file = self.reader.text(&fields, "file");
        let note = self.words(&fields, "note");
        let proposal = fields
            .get("proposal")
            .is_some_and(|node| self.reader.truth(node, "`proposal`") == Some(true));
        if let Some(item) = &item {
            self.references.item(item);
        }
        named.and(filed)?;
        Some(Photo { item: item?, file: file?, note, proposal })
    }
}
