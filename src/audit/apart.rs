//! Leaders and texts that stand nearer to another item than to their own.

use std::collections::BTreeMap;

use super::overlap::{leaders, tags};
use super::read::{Drawing, Item, Piece, Words, mm, shown};
use super::turned::{self, Own};
use super::{Code, Report};
use crate::ink::PaperPoint;
use crate::tags::place::{PaperBox, lines_meet};

/// Differences smaller than this, mm, are none to the eye: the gaps of a dashed line, the two lines of a double one.
const EVEN: f64 = 0.7;

/// The same for a text, which stands beside a whole stretch of its item, so that gaps don't count.
const EVEN_TO_TEXT: f64 = 0.1;

/// An item as drawn.
struct Drawn<'a> {
    item: &'a Item,
    pieces: Vec<Piece>,
    area: PaperBox,
}

impl Drawn<'_> {
    /// From a point to its lines, mm; 0 within an area.
    fn off_point(&self, p: PaperPoint) -> f64 {
        if self.item.area && self.area.contains(p) {
            return 0.0;
        }
        let all = self.pieces.iter().map(|s| turned::from_piece(p, *s));
        all.fold(f64::INFINITY, f64::min)
    }

    /// From a text to its lines, mm; 0 where they meet.
    fn off_words(&self, words: &Words) -> f64 {
        let own = Own::of(&words.frame);
        let sides = ((0.0, own.length), (0.0, own.height));
        let rim: Vec<Piece> = (0..4).map(|i| (words.frame[i], words.frame[(i + 1) % 4])).collect();
        let apart = |s: &Piece| {
            if own.clipped(*s, sides).is_some() || rim.iter().any(|r| lines_meet(*r, *s)) {
                return 0.0;
            }
            let corners = words.frame.iter().map(|c| turned::from_piece(*c, *s));
            let ends = [s.0, s.1];
            let back = rim.iter().flat_map(|r| ends.map(|e| turned::from_piece(e, *r)));
            corners.chain(back).fold(f64::INFINITY, f64::min)
        };
        self.pieces.iter().map(apart).fold(f64::INFINITY, f64::min)
    }
}

fn drawn(drawing: &Drawing) -> BTreeMap<&str, Drawn<'_>> {
    let mut out: BTreeMap<&str, Drawn> = BTreeMap::new();
    for shape in &drawing.shapes {
        let place = drawing.place(shape.place);
        let Some(item) = place.item.as_ref().filter(|_| !place.hatch) else {
            continue;
        };
        let new = || Drawn { item, pieces: Vec::new(), area: shape.area };
        let own = out.entry(&item.id).or_insert_with(new);
        own.pieces.extend(shape.pieces());
        own.area = own.area.joined(&shape.area);
    }
    out
}

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    let items = drawn(drawing);
    for (tip, leader) in tips(drawing) {
        let Some(own) = items.get(leader.1) else {
            continue;
        };
        let far = own.off_point(tip);
        let near = |d: &&Drawn| {
            let lines = d.pieces.iter().map(|s| turned::from_piece(tip, *s));
            lines.fold(f64::INFINITY, f64::min) + EVEN < far
        };
        if let Some(other) = items.values().filter(|d| d.item != own.item).find(near) {
            let (item, other) = (leader.1, &other.item.id);
            let message =
                format!("the leader of {item} ends {} from it, nearer to {other}", mm(far));
            report.fault(Code::StrayLeader, &[leader.0, other], message);
        }
    }
    for words in &drawing.words {
        let place = drawing.place(words.place);
        let own = place.said_of.as_deref().and_then(|said| {
            let whole = items.get(said);
            whole.or_else(|| items.get(said.rsplit_once('-')?.0))
        });
        let Some(own) = own else { continue };
        let far = own.off_words(words);
        let rivals = items.values();
        let mut rivals =
            rivals.filter(|d| d.item.kind == own.item.kind && d.item.id != own.item.id);
        if let Some(other) = rivals.find(|d| d.off_words(words) + EVEN_TO_TEXT < far) {
            let (text, own, other) = (&words.text, &own.item.id, &other.item.id);
            let message = format!("\"{text}\" of {own} stands nearer to {other}");
            report.fault(Code::StrayText, &[shown(&place.id), other], message);
        }
    }
}

/// Farthest that a leader may end from its tag, mm; one that ends farther off leads to something else.
const AT_TAG: f64 = 1.5;

/// Where each leader ends on the plan, with the leader's id and item.
pub(super) fn tips(drawing: &Drawing) -> Vec<(PaperPoint, (&str, &str))> {
    let tags = tags(drawing);
    let mut out = Vec::new();
    for leader in leaders(drawing) {
        let Some(tag) = tags.iter().find(|t| t.item == leader.item) else {
            continue;
        };
        let wide = tag.area.grown(AT_TAG);
        let from_tag = |&(a, b): &Piece| match (wide.contains(a), wide.contains(b)) {
            (true, false) => Some(b),
            (false, true) => Some(a),
            _ => None,
        };
        let middle = tag.area.centre();
        let far = |p: &PaperPoint| (p.x - middle.x).hypot(p.y - middle.y);
        let ends = leader.lines.iter().filter_map(from_tag);
        if let Some(tip) = ends.max_by(|a, b| far(a).total_cmp(&far(b))) {
            out.push((tip, (leader.id, leader.item)));
        }
    }
    out
}
