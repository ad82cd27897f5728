//! Spalls and blemishes.

use super::Pass;
use super::limits::{SIZE, SPALL_DEPTH, SPALL_SIZE};
use super::shape::SHAPES;
use crate::sketch::{Blemish, BlemishKind, Spall};
use crate::yaml::Node;

const SPALL: [&str; 7] = [
    "id", "depth", "note", SHAPES[0], SHAPES[1], SHAPES[2], SHAPES[3],
];
const BLEMISH: [&str; 7] = [
    "id", "what", "note", SHAPES[0], SHAPES[1], SHAPES[2], SHAPES[3],
];
pub(crate) const KINDS: [(&str, BlemishKind); 7] = [
    ("oil", BlemishKind::Oil),
    ("sealer", BlemishKind::Sealer),
    ("paint", BlemishKind::Paint),
    ("adhesive", BlemishKind::Adhesive),
    ("scaling", BlemishKind::Scaling),
    ("efflorescence", BlemishKind::Efflorescence),
    ("curing-compound", BlemishKind::CuringCompound),
];

impl Pass<'_> {
    /// Reads a spall.
    pub(super) fn spall(&mut self, node: &Node) -> Option<Spall> {
        self.item(node, "a spall", &SPALL, |pass, fields, id| {
            let shape = pass.shape(fields, &SPALL_SIZE);
            let depth = pass.needed_length(fields, "depth", &SPALL_DEPTH, "depth: 3/8");
            let note = pass.words(fields, "note");
            Some(Spall {
                id,
                shape: shape?,
                depth: depth?,
                note,
            })
        })
    }

    /// Reads a blemish.
    pub(super) fn blemish(&mut self, node: &Node) -> Option<Blemish> {
        self.item(node, "a blemish", &BLEMISH, |pass, fields, id| {
            let what = pass.reader.required(fields, "what", "what: oil");
            let what = what.and_then(|node| pass.reader.word(node, "the blemish", &KINDS));
            let shape = pass.shape(fields, &SIZE);
            let note = pass.words(fields, "note");
            Some(Blemish {
                id,
                what: what?,
                shape: shape?,
                note,
            })
        })
    }
}
