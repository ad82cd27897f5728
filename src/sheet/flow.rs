//! What flows over the crew's sheets beside tables: notes under a title, figures.

pub use crate::flow::{Block, Column, Content, Cursor, Piece, fill, once};
use crate::ink::{Align, Group, Mark, PaperPoint};
use crate::paper::text;
use crate::paper::text::{Setting, Text};

use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::paper::words;

/// Air between two things that stand beside one another in a column, mm.
const GUTTER: f64 = 3.0;
/// Narrowest text beside something, mm.
const LEAST_BESIDE: f64 = 32.0;

/// Between the name of a plan and the rest of its title, mm.
const BEHIND_NAME: f64 = 2.5;
/// Space below a paragraph, mm.
const BELOW: f64 = 1.2;
/// Between the first words of a paragraph and the rest, mm.
const BEHIND_LEAD: f64 = 1.2;
/// Longest part of a paragraph that is not broken over columns, characters: some ten lines of a narrow column.
const MOST_UNBROKEN: usize = 360;
/// Widest title that stands beside the text of a frame, mm.
const MOST_FIELD: f64 = 18.0;
/// Air before and behind it, mm.
const INSET: f64 = 1.5;
/// Most paragraphs beside such a title: a tall black field is ink for nothing.
const MOST_BESIDE_FIELD: usize = 2;
/// Space over the text of a frame, mm; below it stands that of its last paragraph.
const ABOVE_FRAMED: f64 = 1.6;

/// Room beside something as wide as this in a column, mm, if text is still read there.
#[must_use]
pub fn room_beside(taken: f64, column: f64) -> Option<f64> {
    let room = column - taken - GUTTER;
    (room >= LEAST_BESIDE).then_some(room)
}

/// A content `room` mm wide beside something, as one piece, with its left edge where it stands in a column `column` mm wide.
#[must_use]
pub fn beside(content: &dyn Content, room: f64, column: f64) -> Piece {
    let piece = content.lay(room).unbroken(room);
    Piece { group: draw::moved(piece.group, by(column - room, 0.0)), ..piece }
}

/// The title of a plan from the left end of its baseline: the name as a head, cut where there is no room, and the rest behind it.
#[must_use]
pub fn plan_title(name: &str, rest: &str, from: PaperPoint, width: f64) -> [Mark; 2] {
    let (head, body) = (style::head(), style::body());
    let name = words::fit(name, head, width - words::width(rest, body) - BEHIND_NAME);
    let behind = from + by(words::width(&name, head) + BEHIND_NAME, 0.0);
    [
        Mark::Text(draw::text(from, name, head, Align::Start)),
        Mark::Text(draw::text(behind, rest, body, Align::Start)),
    ]
}

/// Something drawn for a column, with its upper left corner at the origin.
#[derive(Clone, Debug, Default)]
pub struct Figure {
    /// Height, mm.
    pub height: f64,
    /// What is drawn.
    pub groups: Vec<Group>,
    /// What is said below it.
    pub below: Notes,
    /// Every column is tall enough for it and the words below, so it may stand in a later one where there is no room.
    pub floats: bool,
}

impl Figure {
    /// The same, for columns of this width and height, mm.
    #[must_use]
    pub fn of_columns(mut self, (width, height): (f64, f64)) -> Self {
        self.floats = self.lay(width).height() <= height;
        self
    }
}

impl Content for Figure {
    fn lay(&self, width: f64) -> Block {
        let marks = self.groups.iter().cloned().map(Mark::Group).collect();
        let mut pieces = vec![Piece::new(self.height, draw::group("", "figure", marks))];
        pieces.extend(self.below.lay(width).pieces);
        Block { pieces, whole: true, ..Block::default() }
    }

    fn floats(&self) -> bool {
        self.floats
    }
}

/// Paragraphs under a title.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    /// Printed over the paragraphs.
    pub title: String,
    /// First words of a paragraph, semibold, and the rest.
    pub paragraphs: Vec<(String, String)>,
    /// Framed heavily: what stops the work.
    pub framed: bool,
}

impl Content for Notes {
    fn lay(&self, width: f64) -> Block {
        let side = self.field();
        let inset = if self.framed { 2.5 + side } else { 0.0 };
        let inner = if self.framed { width - inset - 2.5 } else { width };
        let mut pieces: Vec<Piece> = Vec::new();
        for (lead, rest) in &self.paragraphs {
            let parts = in_parts(rest);
            for (i, part) in parts.iter().enumerate() {
                let lead = if i == 0 { lead } else { "" };
                let mut piece = paragraph(lead, part, inner, inset);
                if i + 1 < parts.len() {
                    piece.height -= BELOW;
                }
                pieces.push(piece);
            }
        }
        if !self.framed {
            return Block { title: self.title.clone(), pieces, whole: false };
        }
        Block {
            title: String::new(),
            pieces: vec![framed(&self.title, pieces, side, width)],
            whole: true,
        }
    }
}

/// A long text in parts between which a column may end: behind sentences where there are any, else between words. The parts are the
/// same for every width, so that a text goes on in a wider column where it stopped in a narrow one.
fn in_parts(text: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut put = |piece: &str| {
        let full = |last: &String| !last.is_empty() && last.len() + piece.len() >= MOST_UNBROKEN;
        match out.last_mut().filter(|last| !full(last)) {
            Some(last) => last.push_str(piece),
            None => out.push(piece.to_owned()),
        }
    };
    for sentence in text.split_inclusive(". ") {
        if sentence.len() <= MOST_UNBROKEN {
            put(sentence);
        } else {
            sentence.split_inclusive(' ').for_each(&mut put);
        }
    }
    out
}

impl Notes {
    /// Width of the black field for the title beside the few words of a frame, mm; 0 where the title has a band above the text.
    fn field(&self) -> f64 {
        let width = words::width(&self.title, style::head()) + 2.0 * INSET;
        let few = self.framed && self.paragraphs.len() <= MOST_BESIDE_FIELD;
        if few && width <= MOST_FIELD { width } else { 0.0 }
    }
}

/// A box with a black band for its title, or with a black field `side` mm wide.
fn framed(title: &str, pieces: Vec<Piece>, side: f64, width: f64) -> Piece {
    let inside: f64 = pieces.iter().map(|p| p.height).sum::<f64>();
    let band = if side > 0.0 { 0.0 } else { 7.0 };
    let black = match side > 0.0 {
        true => Box2::new(0.0, 0.0, side, inside + ABOVE_FRAMED),
        false => Box2::new(0.0, 0.0, width, band),
    };
    let (title, head) = words::fit_head(title, width - 2.0 * INSET);
    let base = at(INSET, black.height() / 2.0 + head.cap() / 2.0);
    let mut text = draw::text(base, title, head, Align::Start);
    text.color = crate::ink::WHITE;
    let mut marks = vec![draw::rectangle(&black, None, Some(crate::ink::BLACK)), Mark::Text(text)];
    let unbroken = Block::from(pieces).unbroken(width);
    let within = by(0.0, band + ABOVE_FRAMED);
    marks.extend(draw::moved(unbroken.group, within).marks);
    let y = within.y + unbroken.height;
    marks.push(draw::rectangle(&Box2::new(0.0, 0.0, width, y), Some(style::OUTLINE), None));
    Piece::new(y, draw::group("", "stops", marks))
}

/// One paragraph; its first words semibold, the rest running on behind them.
#[must_use]
pub fn paragraph(lead: &str, rest: &str, width: f64, inset: f64) -> Piece {
    let stop = if lead.is_empty() || rest.is_empty() { "" } else { "." };
    let text = Text::strong(format!("{lead}{stop}")).then(rest);
    let set = Setting { apart: Some(BEHIND_LEAD), ..style::body().into() };
    let (marks, height) = text::paragraph(&text, at(inset, 0.0), width, &set);
    let group = draw::group("", "paragraph", marks);
    Piece::new(height.max(set.leading) + BELOW, group)
}
