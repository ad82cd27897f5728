//! Text, tables and the legend flow down columns; what does not fit goes on on the next sheet.

use std::cell::RefCell;
use std::rc::Rc;

use crate::ink::{Align, Group, Mark};

use super::draw;
use super::mm::{Box2, at, by};
use super::style;

/// Space between blocks, mm.
const BETWEEN: f64 = 4.0;
/// Height of the title of a block with the space below it, mm.
const TITLE: f64 = 5.8;

/// Air between two things that stand beside one another in a column, mm.
const GUTTER: f64 = 3.0;
/// Narrowest text beside something, mm.
const LEAST_BESIDE: f64 = 32.0;

/// Space below a paragraph, mm.
const BELOW: f64 = 1.4;
/// Longest part of a paragraph that is not broken over columns, characters: some ten lines of a narrow column.
const MOST_UNBROKEN: usize = 360;
/// Widest title that stands beside the text of a frame, mm.
const MOST_FIELD: f64 = 18.0;
/// Most paragraphs beside such a title: a tall black field is ink for nothing.
const MOST_BESIDE_FIELD: usize = 2;
/// Space over the text of a frame, mm; below it stands that of its last paragraph.
const ABOVE_FRAMED: f64 = 1.6;

/// A part of a block that is not broken: drawn with its upper left corner at the origin.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    /// Height, mm.
    pub height: f64,
    /// Marks.
    pub group: Group,
}

/// A block laid out for one width.
#[derive(Clone, Debug, Default)]
pub struct Block {
    /// Title; empty for none.
    pub title: String,
    /// Repeated where the block goes on in another column.
    pub head: Option<Piece>,
    /// Its parts, from the top.
    pub pieces: Vec<Piece>,
    /// Must not be broken if it fits into an empty column.
    pub whole: bool,
}

impl Block {
    fn start(&self) -> f64 {
        let title = if self.title.is_empty() { 0.0 } else { TITLE };
        title + self.head.as_ref().map_or(0.0, |h| h.height)
    }

    /// Height of all of it, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.start() + self.pieces.iter().map(|p| p.height).sum::<f64>()
    }

    /// All of it as it stands in a column `width` mm wide, as one piece.
    fn unbroken(&self, width: f64) -> Piece {
        let (mut out, all) = (Vec::new(), self.pieces.len());
        let column = Box2::new(0.0, 0.0, width, self.height());
        let height = draw_block(self, Cursor::default(), all, &column, 0.0, &mut out);
        Piece {
            height,
            group: out.pop().unwrap_or_default(),
        }
    }
}

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
    Piece {
        group: draw::moved(piece.group, by(column - room, 0.0)),
        ..piece
    }
}

/// Something that can be laid out for any width.
pub trait Content {
    /// Lays it out.
    fn lay(&self, width: f64) -> Block;

    /// The same, shared with whoever has it laid out already.
    fn shared(&self, width: f64) -> Rc<Block> {
        Rc::new(self.lay(width))
    }
}

impl<T: Content + ?Sized> Content for &T {
    fn lay(&self, width: f64) -> Block {
        (**self).lay(width)
    }

    fn shared(&self, width: f64) -> Rc<Block> {
        (**self).shared(width)
    }
}

/// Content that is laid out once for each width, however many columns it runs through.
struct Once<'c> {
    content: Box<dyn Content + 'c>,
    known: RefCell<Vec<(f64, Rc<Block>)>>,
}

impl Content for Once<'_> {
    fn lay(&self, width: f64) -> Block {
        Block::clone(&self.shared(width))
    }

    fn shared(&self, width: f64) -> Rc<Block> {
        let mut known = self.known.borrow_mut();
        let same = known.iter().find(|(w, _)| (w - width).abs() < 1e-9);
        if let Some((_, block)) = same {
            return Rc::clone(block);
        }
        let block = self.content.shared(width);
        known.push((width, Rc::clone(&block)));
        block
    }
}

/// Contents that are laid out once for each width: long tables and long plans run through many columns.
#[must_use]
pub fn once<'c>(contents: Vec<Box<dyn Content + 'c>>) -> Vec<Box<dyn Content + 'c>> {
    let wrapped = |content| -> Box<dyn Content + 'c> {
        Box::new(Once {
            content,
            known: RefCell::default(),
        })
    };
    contents.into_iter().map(wrapped).collect()
}

/// A column and how far it is filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// All of it.
    pub area: Box2,
    /// Where the free part begins, mm from the upper edge of the sheet.
    pub from: f64,
}

impl Column {
    /// An empty column.
    #[must_use]
    pub const fn new(area: Box2) -> Self {
        Self {
            area,
            from: area.top,
        }
    }
}

/// How far the flow has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cursor {
    /// Content.
    pub content: usize,
    /// Piece of it.
    pub piece: usize,
    /// Width for which the content was laid out where it was broken off, mm, and how many parts it had then.
    pub broken: (f64, usize),
}

/// Fills columns from where the cursor stands; gives back what was drawn, moves the cursor on and leaves in each column the room that is left.
pub fn fill(
    contents: &[Box<dyn Content + '_>],
    cursor: &mut Cursor,
    columns: &mut [Column],
) -> Vec<Group> {
    let mut out = Vec::new();
    let all: Vec<Box2> = columns.iter().map(|c| c.area).collect();
    for Column { area: column, from } in columns {
        let mut y = *from;
        while let Some(content) = contents.get(cursor.content) {
            let (width, block) = laid(&**content, cursor, column.width());
            if cursor.piece >= block.pieces.len() {
                *cursor = Cursor {
                    content: cursor.content + 1,
                    ..Cursor::default()
                };
                continue;
            }
            let broken = (width, block.pieces.len());
            let room = column.bottom - y;
            let n = pieces_that_fit(&block, cursor.piece, room);
            let rest = block.pieces.len() - cursor.piece;
            let could_stay_whole =
                block.whole && cursor.piece == 0 && block.height() <= column.height();
            let fresh = y <= column.top;
            // One row alone at the foot of a column looks lost.
            let n = if n == 1 && rest > 2 && !fresh { 0 } else { n };
            if n == 0 || (n < rest && could_stay_whole && !fresh) {
                if fresh {
                    // A piece taller than a column can't be helped by another column: it is drawn and the audit reports it.
                    if !fits_anywhere(&block, cursor.piece, &all) {
                        y = draw_block(&block, *cursor, cursor.piece + 1, column, y, &mut out);
                        advance(cursor, 1, rest, broken);
                        continue;
                    }
                }
                break;
            }
            y = draw_block(&block, *cursor, cursor.piece + n, column, y, &mut out) + BETWEEN;
            advance(cursor, n, rest, broken);
        }
        *from = y;
    }
    out
}

/// A content laid out for a column, and the width it was laid out for. What was broken off and has other parts in this column
/// goes on as it began, or the parts that the two layouts do not share would be lost.
fn laid(content: &dyn Content, cursor: &Cursor, width: f64) -> (f64, Rc<Block>) {
    let block = content.shared(width);
    let (before, parts) = cursor.broken;
    if cursor.piece == 0 || block.pieces.len() == parts || before >= width {
        return (width, block);
    }
    (before, content.shared(before))
}

fn advance(cursor: &mut Cursor, n: usize, rest: usize, broken: (f64, usize)) {
    if n >= rest {
        *cursor = Cursor {
            content: cursor.content + 1,
            ..Cursor::default()
        };
    } else {
        cursor.piece += n;
        cursor.broken = broken;
    }
}

fn fits_anywhere(block: &Block, piece: usize, columns: &[Box2]) -> bool {
    columns
        .iter()
        .any(|c| pieces_that_fit(block, piece, c.height()) > 0)
}

fn pieces_that_fit(block: &Block, from: usize, room: f64) -> usize {
    let mut height = block.start();
    let mut n = 0;
    for piece in &block.pieces[from.min(block.pieces.len())..] {
        height += piece.height;
        if height > room + 1e-9 {
            break;
        }
        n += 1;
    }
    n
}

fn draw_block(
    block: &Block,
    cursor: Cursor,
    until: usize,
    column: &Box2,
    top: f64,
    out: &mut Vec<Group>,
) -> f64 {
    let mut y = top;
    let mut marks = Vec::new();
    if !block.title.is_empty() {
        let title = if cursor.piece > 0 {
            format!("{}, CONTINUED", block.title)
        } else {
            block.title.clone()
        };
        let head = style::head();
        let text = super::words::fit(&title, head, column.width());
        marks.push(Mark::Text(draw::text(
            at(column.left, y + head.cap() + 0.4),
            text,
            head,
            Align::Start,
        )));
        y += TITLE;
    }
    let shift = |y: f64| by(column.left, y);
    if let Some(head) = &block.head {
        marks.push(Mark::Group(draw::moved(head.group.clone(), shift(y))));
        y += head.height;
    }
    for piece in &block.pieces[cursor.piece..until.min(block.pieces.len())] {
        marks.push(Mark::Group(draw::moved(piece.group.clone(), shift(y))));
        y += piece.height;
    }
    out.push(draw::group("", "block", marks));
    y
}

/// Something drawn for a column, with its upper left corner at the origin.
#[derive(Clone, Debug, Default)]
pub struct Figure {
    /// Height, mm.
    pub height: f64,
    /// What is drawn.
    pub groups: Vec<Group>,
}

impl Content for Figure {
    fn lay(&self, _width: f64) -> Block {
        let marks = self.groups.iter().cloned().map(Mark::Group).collect();
        Block {
            pieces: vec![Piece {
                height: self.height,
                group: draw::group("", "figure", marks),
            }],
            whole: true,
            ..Block::default()
        }
    }
}

/// Paragraphs under a title.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    /// Title.
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
        let inner = if self.framed {
            width - inset - 2.5
        } else {
            width
        };
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
            return Block {
                title: self.title.clone(),
                head: None,
                pieces,
                whole: false,
            };
        }
        Block {
            title: String::new(),
            head: None,
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
        let width = super::words::width(&self.title, style::head()) + 4.0;
        let few = self.framed && self.paragraphs.len() <= MOST_BESIDE_FIELD;
        if few && width <= MOST_FIELD {
            width
        } else {
            0.0
        }
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
    // In a narrow column the title is set smaller before it is cut.
    let wide = super::words::width(title, style::head()) > width - 4.0;
    let head = if wide { style::strong() } else { style::head() };
    let mut text = draw::text(
        at(2.0, black.height() / 2.0 + head.cap() / 2.0),
        super::words::fit(title, head, width - 4.0),
        head,
        Align::Start,
    );
    text.color = crate::ink::WHITE;
    let mut marks = vec![
        draw::rectangle(&black, None, Some(crate::ink::BLACK)),
        Mark::Text(text),
    ];
    let mut y = band + ABOVE_FRAMED;
    for piece in pieces {
        marks.push(Mark::Group(draw::moved(piece.group, by(0.0, y))));
        y += piece.height;
    }
    marks.push(draw::rectangle(
        &Box2::new(0.0, 0.0, width, y),
        Some(style::OUTLINE),
        None,
    ));
    Piece {
        height: y,
        group: draw::group("", "stops", marks),
    }
}

/// One paragraph; its first words semibold, the rest running on behind them.
#[must_use]
pub fn paragraph(lead: &str, rest: &str, width: f64, inset: f64) -> Piece {
    let (strong, body) = (style::strong(), style::body());
    let mut marks = Vec::new();
    let mut y = 0.0;
    let mut put = |text: String, type_: style::Type, x: f64, y: f64| {
        let base = y + (type_.pitch() + type_.cap()) / 2.0;
        marks.push(Mark::Text(draw::text(
            at(inset + x, base),
            text,
            type_,
            Align::Start,
        )));
    };
    let lead_text = if lead.is_empty() || rest.is_empty() {
        lead.to_owned()
    } else {
        format!("{lead}.")
    };
    let mut x = 0.0;
    for line in super::words::wrap(&lead_text, strong, width) {
        if x > 0.0 {
            y += strong.pitch();
        }
        x = super::words::width(&line, strong) + 1.2;
        put(line, strong, 0.0, y);
    }
    let (first, others) = super::words::split(rest, body, width - x);
    if !first.is_empty() {
        put(first, body, x, y);
    }
    y += body.pitch();
    for line in super::words::wrap(&others, body, width) {
        put(line, body, 0.0, y);
        y += body.pitch();
    }
    Piece {
        height: y + BELOW,
        group: draw::group("", "paragraph", marks),
    }
}

#[cfg(test)]
mod tests;
