//! The `slab:` part.

use super::Pass;
use crate::form::Fields;
use crate::record::Kind;
use crate::record::limits::{COVER, SIZE, STATION, THICKNESS, TIER_HEIGHT};
use crate::sketch::{
    At, Check, Embedded, KeepOut, Opening, PostTension, RiserFinish, SlabNotes, Tier,
};
use crate::yaml::Node;

const KEYS: [&str; 9] = [
    "thickness",
    "placed",
    "post_tension",
    "embedded",
    "outline",
    "checks",
    "openings",
    "keep_outs",
    "tiers",
];
pub(crate) const POST_TENSION: [(&str, PostTension); 3] = [
    ("none", PostTension::None),
    ("stamped", PostTension::Stamped),
    ("unknown", PostTension::Unknown),
];
impl Pass<'_> {
    /// Reads the `slab:` part of a sketch.
    pub(super) fn slab(&mut self, sketch: &Fields) -> Option<SlabNotes> {
        let node = self.reader.required(sketch, "slab", "slab: with the outline in it")?;
        let fields = self.reader.fields(node, "the slab", &KEYS)?;
        let outline = self.outline(&fields);
        let thickness = self.length(&fields, "thickness", &THICKNESS);
        let placed = self.day(&fields, "placed");
        let post_tension = self.optional(&fields, "post_tension", |pass, node| {
            pass.reader.word(node, "post_tension", &POST_TENSION)
        });
        let embedded = self.items(&fields, "embedded", Self::embedded);
        let checks = self.items(&fields, "checks", Self::taped);
        let openings = self.items(&fields, "openings", Self::opening);
        let keep_outs = self
            .several(&fields, Kind::KeepOut.key(), |pass, node| Some(vec![pass.keep_out(node)?]));
        let tiers = self.items(&fields, Kind::Tier.key(), Self::tier);
        Some(SlabNotes {
            thickness,
            placed,
            post_tension: post_tension
                .unwrap_or(At { value: PostTension::Unknown, span: fields.place.span }),
            embedded,
            outline: outline?,
            checks,
            openings,
            keep_outs,
            tiers,
        })
    }

    fn embedded(&mut self, node: &Node) -> Option<Embedded> {
        let what = "an embedded service";
        let fields = self.reader.fields(node, what, &["what", "cover"])?;
        let named = self.reader.required(&fields, "what", "what: radiant tubing");
        let what = self.words(&fields, "what");
        let cover = self.length(&fields, "cover", &COVER);
        named?;
        Some(Embedded { what: what?, cover, span: node.place.span })
    }

    fn taped(&mut self, node: &Node) -> Option<Check> {
        let keys = ["from", "to", "measured"];
        let fields = self.reader.fields(node, "a check", &keys)?;
        let from = self.reader.required(&fields, "from", "from: 1");
        let from = from.and_then(|node| self.corner(node, "the corner"));
        let to = self.reader.required(&fields, "to", "to: 3");
        let to = to.and_then(|node| self.corner(node, "the corner"));
        let rule = SIZE.called("the diagonal");
        let measured = self.needed_length(&fields, "measured", &rule, "measured: 32' 9\"");
        let (from, to) = (from?, to?);
        if from.value == to.value {
            let message = format!("the check runs from corner {} to itself", from.value);
            self.reader.error("check", node.place, message, "name two different corners");
            return None;
        }
        Some(Check { from, to, measured: measured?, span: node.place.span })
    }

    fn opening(&mut self, node: &Node) -> Option<Opening> {
        let keys = ["name", "wall", "from", "to"];
        let fields = self.reader.fields(node, "an opening", &keys)?;
        let name = self.words(&fields, "name");
        let wall = self.reader.required(&fields, "wall", "wall: 1");
        let wall = wall.and_then(|node| self.wall(node, "the wall"));
        let from = self.needed_length(&fields, "from", &STATION, "from: 4'");
        let to = self.needed_length(&fields, "to", &STATION, "to: 20'");
        let (from, to) = (from?, to?);
        self.in_order(&fields, &from, &to)?;
        Some(Opening { name, wall: wall?, from, to, span: node.place.span })
    }

    fn keep_out(&mut self, node: &Node) -> Option<KeepOut> {
        self.item(node, Kind::KeepOut, |pass, fields, id| {
            let what = pass.words(fields, "what");
            let flush =
                pass.optional(fields, "flush", |pass, node| pass.reader.truth(node, "flush"));
            let shape = pass.shape(fields, &SIZE);
            let note = pass.words(fields, "note");
            Some(KeepOut { id, what, flush: flush.unwrap_or(false), shape: shape?, note })
        })
    }
    fn tier(&mut self, node: &Node) -> Option<Tier> {
        self.item(node, Kind::Tier, |pass, fields, id| {
            let what = pass.words(fields, "what");
            let height = pass.needed_length(fields, "height", &TIER_HEIGHT, "height: 7\"");
            let riser = pass.optional(fields, "riser", |pass, node| {
                pass.reader.word(node, "riser", RiserFinish::WORDS)
            });
            let cove = pass.optional(fields, "cove", Self::cove).flatten();
            let shape = pass.shape(fields, &SIZE);
            let note = pass.words(fields, "note");
            let height = height?;
            if height.value.m() == 0.0 {
                let message = format!("the tier {} is as high as the floor around it", id.value);
                let hint = "write how much higher it lies, or lower with a minus: height: 7\" or height: -3\"";
                let place = fields.key_place("height");
                pass.reader.error("tier-height", place, message, hint);
                return None;
            }
            let left = riser.as_ref().is_some_and(|r| r.value == RiserFinish::Leave);
            if left && cove.is_some() {
                let message = "a cove belongs to a coated riser, and this one is left as it is";
                let place = fields.key_place("cove");
                let hint = "write riser: coat, or leave the cove out";
                pass.reader.error("cove", place, message.into(), hint);
                return None;
            }
            Some(Tier {
                id,
                what,
                height,
                riser,
                cove,
                shape: shape?,
                note,
            })
        })
    }
}
