//! Tags, leaders, text and plan lines that get into each other's way.

use super::read::{Drawing, Place, Shape, Words, mm, shown};
use super::{Code, Report, turned};
use crate::ink::PaperPoint;
use crate::tags::place::{PaperBox, lines_meet};
use std::collections::BTreeMap;

/// Overlaps of text boxes smaller than this, mm, are rounding of the reader.
const HAIR: f64 = 0.02;

/// A tag as drawn.
pub(super) struct Tag<'a> {
    pub id: &'a str,
    pub item: &'a str,
    pub area: PaperBox,
    outlines: Vec<&'a Shape>,
    words: Vec<&'a Words>,
}

/// A leader as drawn.
pub(super) struct Leader<'a> {
    pub id: &'a str,
    pub item: &'a str,
    pub lines: Vec<(PaperPoint, PaperPoint)>,
}

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    let tags = tags(drawing);
    let leaders = leaders(drawing);
    for (n, tag) in tags.iter().enumerate() {
        for other in &tags[n + 1..] {
            tag_on_tag(tag, other, report);
        }
        text_outside(tag, report);
    }
    tags_on_text(drawing, &tags, report);
    tags_on_lines(drawing, &tags, report);
    leaders_through_tags(&leaders, &tags, report);
    crossings(&leaders, report);
    text_on_text(drawing, report);
    on_pictures(drawing, report);
}

/// A photograph is to be seen whole: no text and no other photograph on it.
fn on_pictures(drawing: &Drawing, report: &mut Report) {
    for (n, picture) in drawing.pictures.iter().enumerate() {
        let words = drawing.words.iter().map(|w| (w.place, &w.ink));
        let others = drawing.pictures[n + 1..].iter().map(|p| (p.place, &p.area));
        for (place, area) in words.chain(others) {
            let (w, h) = shared(&picture.area, area);
            if w > HAIR && h > HAIR {
                let (id, own) = (&drawing.place(place).id, &drawing.place(picture.place).id);
                let message = format!(
                    "{} lies on the photograph of {} by {} x {}",
                    shown(id),
                    shown(own),
                    mm(w),
                    mm(h)
                );
                report.fault(Code::OnPicture, &[own, id], message);
            }
        }
    }
}

/// Tags in the order of their items. White grounds count as no ink; the box is that of outlines and letters.
pub(super) fn tags(drawing: &Drawing) -> Vec<Tag<'_>> {
    let mut tags: BTreeMap<&str, Tag> = BTreeMap::new();
    fn entry<'a, 'b>(
        tags: &'b mut BTreeMap<&'a str, Tag<'a>>,
        place: &'a Place,
        area: PaperBox,
    ) -> Option<&'b mut Tag<'a>> {
        let item = place.tag.as_deref()?;
        let new = Tag { id: &place.id, item, area, outlines: Vec::new(), words: Vec::new() };
        let tag = tags.entry(item).or_insert(new);
        tag.area = tag.area.joined(&area);
        Some(tag)
    }
    for shape in drawing.shapes.iter().filter(|s| s.stroke.is_some()) {
        if let Some(tag) = entry(&mut tags, drawing.place(shape.place), shape.area) {
            tag.outlines.push(shape);
        }
    }
    for words in &drawing.words {
        if let Some(tag) = entry(&mut tags, drawing.place(words.place), words.ink) {
            tag.words.push(words);
        }
    }
    tags.into_values().collect()
}

pub(super) fn leaders(drawing: &Drawing) -> Vec<Leader<'_>> {
    let mut leaders: BTreeMap<&str, Leader> = BTreeMap::new();
    for shape in &drawing.shapes {
        let place = drawing.place(shape.place);
        let (Some(item), Some(_)) = (place.leader.as_deref(), shape.stroke) else {
            continue;
        };
        let leader = leaders.entry(item).or_insert_with(|| Leader {
            id: &place.id,
            item,
            lines: Vec::new(),
        });
        leader.lines.extend(shape.pieces());
    }
    leaders.into_values().collect()
}

/// Width and height of what two boxes share.
fn shared(a: &PaperBox, b: &PaperBox) -> (f64, f64) {
    (a.right.min(b.right) - a.left.max(b.left), a.bottom.min(b.bottom) - a.top.max(b.top))
}

fn tag_on_tag(tag: &Tag, other: &Tag, report: &mut Report) {
    let (w, h) = shared(&tag.area, &other.area);
    if w > 0.0 && h > 0.0 {
        let message =
            format!("tags {} and {} overlap by {} x {}", tag.item, other.item, mm(w), mm(h));
        report.fault(Code::TagOnTag, &[tag.id, other.id], message);
    }
}

/// A letter that leaves every outline of its tag.
fn text_outside(tag: &Tag, report: &mut Report) {
    if tag.outlines.is_empty() {
        return;
    }
    for words in &tag.words {
        let held =
            tag.outlines.iter().any(|outline| words.outline.iter().all(|&p| outline.holds(p)));
        if !held {
            let message =
                format!("the text \"{}\" leaves the outline of tag {}", words.text, tag.item);
            report.fault(Code::TextOutsideTag, &[tag.id], message);
        }
    }
}

fn tags_on_text(drawing: &Drawing, tags: &[Tag], report: &mut Report) {
    for words in drawing.words.iter().filter(|w| drawing.place(w.place).tag.is_none()) {
        for tag in tags {
            let (w, h) = shared(&tag.area, &words.ink);
            let is_on = |words: &Words| {
                words.upright || turned::depth(&turned::corners(&tag.area), &words.frame) > 0.0
            };
            if w > 0.0 && h > 0.0 && is_on(words) {
                let id = drawing.place(words.place).id.as_str();
                let message = format!(
                    "tag {} covers \"{}\" of {} by {} x {}",
                    tag.item,
                    words.text,
                    shown(id),
                    mm(w),
                    mm(h)
                );
                report.fault(Code::TagOnText, &[tag.id, id], message);
            }
        }
    }
}

fn tags_on_lines(drawing: &Drawing, tags: &[Tag], report: &mut Report) {
    for shape in drawing.shapes.iter().filter(|s| drawing.place(s.place).plan_line) {
        let half = shape.stroke.unwrap_or(0.0) / 2.0;
        for tag in tags.iter().filter(|t| t.area.overlaps(&shape.area)) {
            let area = tag.area.grown(half);
            if let Some((from, _)) = shape.pieces().find(|&(from, to)| area.is_crossed_by(from, to))
            {
                let id = drawing.place(shape.place).id.as_str();
                let message = format!(
                    "tag {} covers a line of {} near {}, {}",
                    tag.item,
                    shown(id),
                    mm(from.x),
                    mm(from.y)
                );
                report.fault(Code::TagOnLine, &[tag.id, id], message);
            }
        }
    }
}

fn leaders_through_tags(leaders: &[Leader], tags: &[Tag], report: &mut Report) {
    for leader in leaders {
        for tag in tags.iter().filter(|t| t.item != leader.item) {
            if leader.lines.iter().any(|&(from, to)| tag.area.is_crossed_by(from, to)) {
                let message =
                    format!("the leader of {} runs through tag {}", leader.item, tag.item);
                report.fault(Code::LeaderThroughTag, &[leader.id, tag.id], message);
            }
        }
    }
}

fn crossings(leaders: &[Leader], report: &mut Report) {
    for (n, leader) in leaders.iter().enumerate() {
        for other in &leaders[n + 1..] {
            let meet =
                |&line: &(PaperPoint, PaperPoint)| other.lines.iter().any(|&o| lines_meet(line, o));
            if leader.lines.iter().any(meet) {
                let message = format!("the leaders of {} and {} cross", leader.item, other.item);
                report.fault(Code::LeaderCrossing, &[leader.id, other.id], message);
            }
        }
    }
}

/// Whether two lines of text whose boxes overlap do so themselves.
fn overlap(one: &Words, two: &Words) -> bool {
    (one.upright && two.upright) || turned::depth(&one.frame, &two.frame) > HAIR
}

/// Lines of text over one another, within a tag or outside; text in two tags is reported with the tags.
fn text_on_text(drawing: &Drawing, report: &mut Report) {
    let mut by_left: Vec<&Words> = drawing.words.iter().collect();
    by_left.sort_by(|a, b| a.ink.left.total_cmp(&b.ink.left));
    for (n, one) in by_left.iter().enumerate() {
        if report.is_full() {
            return;
        }
        for two in by_left[n + 1..].iter().take_while(|two| two.ink.left < one.ink.right) {
            let (a, b) = (drawing.place(one.place), drawing.place(two.place));
            let in_other_tags = (a.tag.is_some() || b.tag.is_some()) && a.tag != b.tag;
            let (w, h) = shared(&one.ink, &two.ink);
            if !in_other_tags && w > HAIR && h > HAIR && overlap(one, two) {
                let message = format!(
                    "\"{}\" and \"{}\" overlap by {} x {}",
                    one.text,
                    two.text,
                    mm(w),
                    mm(h)
                );
                report.fault(Code::TextOnText, &[&a.id, &b.id], message);
            }
        }
    }
}
