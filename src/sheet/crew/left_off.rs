//! Tags that find no place even on an enlarged plan. They stand in a list beside the map, with the places of their items: each row has
//! its tag, and nobody looks for one on the plan in vain.

use std::collections::BTreeMap;

use crate::ink::{Group, Mark, Sheet};

use crate::paper::draw;
use crate::paper::mm::Box2;
use crate::sheet::Inputs;
use crate::sheet::flow::{Block, Content, Piece, paragraph};
use crate::sheet::schedule;
use crate::tags::{Tag, tag_group};

/// Tags that a list takes on any floor, and the part of all tags that it takes on a large one. With more, a plan says too little
/// to be drawn.
const FEW: usize = 40;
const PART: usize = 10;
/// A list no longer than this stands in one piece.
const SHORT: usize = 12;
/// Class of the list.
const CLASS: &str = "left-off";
/// Air between a tag and its words, and below both, mm.
const AIR: f64 = 2.0;

/// Most tags in the list of a floor with so many.
#[must_use]
pub const fn most(tags: usize) -> usize {
    if tags / PART > FEW { tags / PART } else { FEW }
}

/// The list.
#[derive(Clone, Debug)]
pub struct LeftOff {
    /// Tags without a place, by id, each with what its schedule says of it.
    pub tags: Vec<(Tag, String)>,
}

impl LeftOff {
    /// The list of some tags.
    #[must_use]
    pub fn of(tags: Vec<Tag>, inputs: &Inputs) -> Self {
        let mut words = BTreeMap::new();
        for row in schedule::tables(inputs).into_iter().flat_map(|t| t.rows) {
            for id in row.also.into_iter().chain([row.id]) {
                words.insert(id, row.words.clone());
            }
        }
        let said = |t: Tag| {
            let words = words.remove(&t.id).unwrap_or_default();
            (t, words)
        };
        Self { tags: tags.into_iter().map(said).collect() }
    }

    /// A row for each tag: the tag, and beside it where its item is.
    fn rows(&self, width: f64) -> Vec<Piece> {
        let texts = self.tags.iter().map(|(tag, words)| {
            let text = tag.texts.last().map_or("", String::as_str);
            (tag, text, tag.size(text), words)
        });
        let column = texts.clone().map(|(_, _, (w, _), _)| w).fold(0.0, f64::max) + AIR;
        let row = |(tag, text, (w, h), words): (&Tag, &str, (f64, f64), &String)| {
            let area = Box2::new(0.2, 0.2, 0.2 + w, 0.2 + h);
            let said = paragraph("", words, width - column, column);
            let tag = Mark::Group(tag_group(tag, text, &area));
            let group = draw::group("", CLASS, vec![tag, Mark::Group(said.group)]);
            Piece::new(said.height.max(h + AIR), group)
        };
        texts.map(row).collect()
    }
}

impl Content for LeftOff {
    fn lay(&self, width: f64) -> Block {
        let said = "No room on the plan for these tags. Their items are drawn; here is where each of them is.";
        let mut pieces = vec![paragraph("", said, width, 0.0)];
        pieces.extend(self.rows(width));
        Block { title: "TAGS WITHOUT ROOM".into(), pieces, whole: self.tags.len() <= SHORT }
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
    use crate::ink::{Group, Mark};
    use crate::papers::compose;
    use crate::sheet::fixture::{inputs, options, room};
    use crate::sheet::{Audience, left_off};

    /// Spalls so close that a handful of tags finds no place at any scale.
    fn crowd(count: usize) -> crate::floor::Survey {
        let spall = |i: usize| {
            let (x, y) = (5.0 + (i % 8) as f64 * 0.13, 5.0 + (i / 8) as f64 * 0.13);
            format!("  - {{circle: {{center: [{x:.2}', {y:.2}'], diameter: 1\"}}, depth: 1/8}}\n")
        };
        let all: String = (0..count).map(spall).collect();
        room(&format!("spalls:\n{all}"))
    }

    /// What the rows of the list say.
    fn said(group: &Group, listed: bool, out: &mut Vec<String>) {
        let listed = listed || group.class == super::CLASS;
        for mark in &group.marks {
            match mark {
                Mark::Group(inner) => said(inner, listed, out),
                Mark::Text(text) if listed => out.push(text.text.clone()),
                _ => {}
            }
        }
    }

    #[test]
    fn a_list_takes_some_of_any_floor_and_more_of_a_large_one() {
        let rows = [(10, 40), (400, 40), (10_000, 1000)];
        for (tags, wanted) in rows {
            assert_eq!(super::most(tags), wanted, "{tags}");
        }
    }

    #[test]
    fn a_few_tags_without_room_stand_in_a_list_and_the_set_is_sound() {
        let survey = crowd(60);
        let sheets = compose(&inputs(&survey), &options(Audience::Crew)).expect("a map");
        let listed = left_off(&sheets);
        assert!(!listed.is_empty() && listed.len() <= super::FEW, "{listed:?}");
        let mut words = Vec::new();
        for group in sheets.iter().flat_map(|s| &s.groups) {
            said(group, false, &mut words);
        }
        let words = words.join(" ");
        assert_eq!(words.matches("out ").count(), listed.len(), "{words}");
        let files: Vec<(String, String)> =
            sheets.iter().map(|s| (s.name.clone(), crate::svg::write_with(s, false))).collect();
        let set: Vec<(&str, &str)> = files.iter().map(|(n, f)| (&**n, &**f)).collect();
        let found = crate::audit::audit_set(&set);
        let found: Vec<_> =
            found.iter().filter(|f| f.code != crate::audit::Code::LeaderCrossing).collect();
        assert!(found.is_empty(), "{found:#?}");
    }
}
