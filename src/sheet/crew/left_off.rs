//! Tags that find no place even on an enlarged plan: they stand in a list beside the map, so that each row has its tag and nobody
//! looks for one on the plan in vain.

use crate::ink::{Group, Mark, Sheet};

use super::super::draw;
use super::super::flow::{Block, Content, Piece, paragraph};
use super::super::mm::Box2;
use super::super::tags::{Tag, tag_group};

/// Most tags in the list. With more, a plan says too little to be drawn.
pub const MOST: usize = 40;
/// Class of the list.
const CLASS: &str = "left-off";
/// Air between tags, mm.
const AIR: f64 = 2.0;

/// The list.
#[derive(Clone, Debug)]
pub struct LeftOff {
    /// Tags without a place, by id.
    pub tags: Vec<Tag>,
}

impl LeftOff {
    /// Tags side by side, in as many rows as they take.
    fn rows(&self, width: f64) -> Vec<Piece> {
        let mut rows: Vec<(f64, f64, Vec<Mark>)> = Vec::new();
        for tag in &self.tags {
            let Some(text) = tag.texts.last() else {
                continue;
            };
            let (w, h) = tag.size(text);
            let fits = rows.last().is_some_and(|(x, ..)| x + w <= width);
            if !fits {
                rows.push((0.0, 0.0, Vec::new()));
            }
            if let Some((x, tall, marks)) = rows.last_mut() {
                let area = Box2::new(*x + 0.2, 0.2, *x + 0.2 + w, 0.2 + h);
                marks.push(Mark::Group(tag_group(tag, text, &area)));
                *x += w + AIR;
                *tall = tall.max(h);
            }
        }
        let piece = |(_, tall, marks): (f64, f64, Vec<Mark>)| Piece {
            height: tall + AIR,
            group: draw::group("", CLASS, marks),
        };
        rows.into_iter().map(piece).collect()
    }
}

impl Content for LeftOff {
    fn lay(&self, width: f64) -> Block {
        let said = "No room on the plan for these tags. Their items are drawn; the schedules say where each of them is.";
        let mut pieces = vec![paragraph("", said, width, 0.0)];
        pieces.extend(self.rows(width));
        Block {
            title: "TAGS WITHOUT ROOM".into(),
            head: None,
            pieces,
            whole: true,
        }
    }
}

/// Ids of the items whose tags stand in such a list on some sheets.
#[must_use]
pub fn ids(sheets: &[Sheet]) -> Vec<String> {
    fn within(group: &Group, listed: bool, out: &mut Vec<String>) {
        let listed = listed || group.class == CLASS;
        if let Some(id) = group.id.strip_prefix("tag-").filter(|_| listed) {
            out.push(id.to_owned());
        }
        for mark in &group.marks {
            if let Mark::Group(inner) = mark {
                within(inner, listed, out);
            }
        }
    }
    let mut out = Vec::new();
    for group in sheets.iter().flat_map(|s| &s.groups) {
        within(group, false, &mut out);
    }
    out
}

#[cfg(test)]
mod tests {
    use crate::sheet::fixture::{inputs, options, room};
    use crate::sheet::{Audience, compose, left_off};

    /// Spalls so close that a handful of tags finds no place at any scale.
    fn crowd(count: usize) -> crate::survey::Survey {
        let spall = |i: usize| {
            let (x, y) = (5.0 + (i % 8) as f64 * 0.13, 5.0 + (i / 8) as f64 * 0.13);
            format!("  - {{circle: {{center: [{x:.2}', {y:.2}'], diameter: 1\"}}, depth: 1/8}}\n")
        };
        let all: String = (0..count).map(spall).collect();
        room(&format!("spalls:\n{all}"))
    }

    #[test]
    fn a_few_tags_without_room_stand_in_a_list_and_the_set_is_sound() {
        let survey = crowd(60);
        let sheets = compose(&inputs(&survey), &options(Audience::Crew)).expect("a map");
        let listed = left_off(&sheets);
        assert!(
            !listed.is_empty() && listed.len() <= super::MOST,
            "{listed:?}"
        );
        let files: Vec<(String, String)> = sheets
            .iter()
            .map(|s| (s.name.clone(), crate::svg::write_with(s, false)))
            .collect();
        let set: Vec<(&str, &str)> = files.iter().map(|(n, f)| (&**n, &**f)).collect();
        let found = crate::audit::audit_set(&set);
        let found: Vec<_> = found
            .iter()
            .filter(|f| f.code != crate::audit::Code::LeaderCrossing)
            .collect();
        assert!(found.is_empty(), "{found:#?}");
    }
}
