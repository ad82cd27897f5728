//! Spalls, delaminations and blemishes.

use super::Pass;
use crate::record::Kind;
use crate::record::limits::{DELAMINATION_DEPTH, SIZE, SPALL_DEPTH, SPALL_SIZE};
use crate::sketch::{Blemish, BlemishKind, Delamination, LooseTreatment, Spall, TestResult};
use crate::yaml::Node;

impl Pass<'_> {
    pub(super) fn spall(&mut self, node: &Node) -> Option<Spall> {
        self.item(node, Kind::Spall, |pass, fields, id| {
            let shape = pass.shape(fields, &SPALL_SIZE);
            let depth = pass.needed_length(fields, "depth", &SPALL_DEPTH, "depth: 3/8");
            let note = pass.words(fields, "note");
            Some(Spall { id, shape: shape?, depth: depth?, note })
        })
    }

    pub(super) fn delamination(&mut self, node: &Node) -> Option<Delamination> {
        self.item(node, Kind::Delamination, |pass, fields, id| {
            let shape = pass.shape(fields, &SIZE);
            let depth = pass.length(fields, "depth", &DELAMINATION_DEPTH);
            let treatment = pass.optional(fields, "treatment", |pass, node| {
                pass.reader.word(node, "the treatment", LooseTreatment::WORDS)
            });
            let treatment = treatment.map_or_else(LooseTreatment::default, |at| at.value);
            let note = pass.words(fields, "note");
            Some(Delamination { id, shape: shape?, depth, treatment, note })
        })
    }

    pub(super) fn blemish(&mut self, node: &Node) -> Option<Blemish> {
        self.item(node, Kind::Blemish, |pass, fields, id| {
            let what = pass.reader.required(fields, "what", "what: oil");
            let what =
                what.and_then(|node| pass.reader.word(node, "the blemish", BlemishKind::WORDS));
            let shape = pass.shape(fields, &SIZE);
            let tested = pass.optional(fields, "tested", |pass, node| {
                pass.reader.word(node, "the result of the test", TestResult::WORDS)
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
