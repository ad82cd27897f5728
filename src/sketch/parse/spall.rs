//! Spalls and blemishes.

use super::Pass;
use super::limits::{SIZE, SPALL_DEPTH, SPALL_SIZE};
use super::shape::SHAPES;
use crate::sketch::{Blemish, BlemishKind, Spall, TestResult};
use crate::yaml::Node;

const SPALL: [&str; 8] =
    ["id", "depth", "repeat", "note", SHAPES[0], SHAPES[1], SHAPES[2], SHAPES[3]];
const BLEMISH: [&str; 9] =
    ["id", "what", "tested", "tested_on", "note", SHAPES[0], SHAPES[1], SHAPES[2], SHAPES[3]];
pub(crate) const RESULTS: [(&str, TestResult); 3] =
    [("clear", TestResult::Clear), ("lead", TestResult::Lead), ("asbestos", TestResult::Asbestos)];
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
            Some(Spall { id, shape: shape?, depth: depth?, note })
        })
    }

    /// Reads a blemish.
    pub(super) fn blemish(&mut self, node: &Node) -> Option<Blemish> {
        self.item(node, "a blemish", &BLEMISH, |pass, fields, id| {
            let what = pass.reader.required(fields, "what", "what: oil");
            let what = what.and_then(|node| pass.reader.word(node, "the blemish", &KINDS));
            let shape = pass.shape(fields, &SIZE);
            let tested = pass.optional(fields, "tested", |pass, node| {
                pass.reader.word(node, "the result of the test", &RESULTS)
            });
            let tested_on = pass.day(fields, "tested_on");
            if let (Some(node), None) = (fields.get("tested_on"), fields.get("tested")) {
                let message = "`tested_on` has no result".into();
                let hint = "add what the laboratory found: tested: clear, lead or asbestos";
                pass.reader.error("missing-key", node.place, message, hint);
            }
            let note = pass.words(fields, "note");
            Some(Blemish { id, what: what?, shape: shape?, tested, tested_on, note })
        })
    }
}
