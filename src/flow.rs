//! The one engine for what flows: text is broken into lines, tables into rows, and the pieces made of both fill columns and pages.
//!
//! The crew's sheets, the field form, the customer drawing and the proposal all go through [`fill`]. It knows text, pieces and columns,
//! and neither a slab nor a sketch.

use std::cell::RefCell;
use std::rc::Rc;

use crate::ink::{Align, Group, Mark};
use crate::paper::mm::{Box2, at, by};
use crate::paper::{draw, words};

pub mod table;

/// Space between contents, mm.
const BETWEEN: f64 = 3.4;
/// Height of the title of a block with the space below it, mm.
const TITLE: f64 = 5.4;
/// What is lower than two lines looks lost alone under a title, mm.
const LOST: f64 = 7.0;
/// Heights closer than this are the same, mm.
const HAIR: f64 = 1e-6;
/// Most pages; more would be a mistake.
const MOST_PAGES: usize = 2000;

/// A part of a block that is not broken: drawn with its upper left corner at the origin.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    /// Space above, mm; none at the top of a column.
    pub before: f64,
    /// Height, mm.
    pub height: f64,
    /// Marks.
    pub group: Group,
    /// Stands in the same column as the next piece if one column holds both.
    pub keep: bool,
    /// What does not fit here may stand at the top of the next column, and the text goes on meanwhile. Said by the first of the pieces
    /// that are kept together.
    pub float: bool,
    /// Begins a section.
    pub section: bool,
    /// Drawn above the first piece that has it, and again where these pieces go on in another column.
    pub head: Option<Rc<Piece>>,
}

impl Piece {
    /// A piece without more ado.
    #[must_use]
    pub fn new(height: f64, group: Group) -> Self {
        Self { height, group, ..Self::default() }
    }
}

/// A block laid out for one width.
#[derive(Clone, Debug, Default)]
pub struct Block {
    /// Title; empty for none. It is repeated where the block goes on in another column.
    pub title: String,
    /// Its parts, from the top.
    pub pieces: Vec<Piece>,
    /// Must not be broken if it fits into an empty column.
    pub whole: bool,
}

impl From<Vec<Piece>> for Block {
    fn from(pieces: Vec<Piece>) -> Self {
        Self { pieces, ..Self::default() }
    }
}

impl Block {
    /// Height of all of it in an empty column, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        let empty = Column::new(Box2::default());
        Stretch::new(self, &empty).height(0, self.pieces.len())
    }

    /// All of it as it stands in a column `width` mm wide, as one piece.
    #[must_use]
    pub fn unbroken(&self, width: f64) -> Piece {
        let column = Column::new(Box2::new(0.0, 0.0, width, 0.0));
        let mut all = Stretch::new(self, &column);
        (0..self.pieces.len()).for_each(|i| all.put(i));
        Piece::new(all.y, draw::group("", "block", all.marks))
    }

    /// Whether a piece stays with the next. One low row alone under its title looks lost at the foot of a column.
    fn keeps(&self, i: usize) -> bool {
        let low = self.pieces.first().is_some_and(|first| first.height < LOST);
        let first = i == 0 && low && self.pieces.len() > 2 && !self.title.is_empty();
        i + 1 < self.pieces.len() && (self.pieces[i].keep || self.whole || first)
    }

    /// Behind the last piece that is kept together with this one.
    fn chain_end(&self, from: usize) -> usize {
        (from..self.pieces.len())
            .find(|&i| !self.keeps(i))
            .map_or(self.pieces.len(), |last| last + 1)
    }

    /// The first pieces of all that are kept together.
    #[must_use]
    pub fn chains(&self) -> Vec<usize> {
        let next = |&from: &usize| Some(self.chain_end(from));
        std::iter::successors(Some(0), next).take_while(|&from| from < self.pieces.len()).collect()
    }

    /// The first of these pieces that may be put off together with those kept with it.
    fn float(&self, pieces: std::ops::Range<usize>) -> Option<usize> {
        let next = |&from: &usize| Some(self.chain_end(from));
        std::iter::successors(Some(pieces.start), next)
            .take_while(|&from| from < pieces.end)
            .find(|&from| self.pieces[from].float)
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

    /// Where it does not fit into a column it may stand at the top of the next, and what follows it goes on meanwhile. Said of what is
    /// lower than any column.
    fn floats(&self) -> bool {
        false
    }
}

impl<T: Content + ?Sized> Content for &T {
    fn lay(&self, width: f64) -> Block {
        (**self).lay(width)
    }

    fn shared(&self, width: f64) -> Rc<Block> {
        (**self).shared(width)
    }

    fn floats(&self) -> bool {
        (**self).floats()
    }
}

/// What is laid out already, for the one width of its columns.
impl Content for Rc<Block> {
    fn lay(&self, _: f64) -> Block {
        Block::clone(self)
    }

    fn shared(&self, _: f64) -> Rc<Block> {
        Rc::clone(self)
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

    fn floats(&self) -> bool {
        self.content.floats()
    }
}

/// Contents that are laid out once for each width: long tables and long plans run through many columns.
#[must_use]
pub fn once<'c>(contents: Vec<Box<dyn Content + 'c>>) -> Vec<Box<dyn Content + 'c>> {
    let wrapped = |content| -> Box<dyn Content + 'c> {
        Box::new(Once { content, known: RefCell::default() })
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
        Self { area, from: area.top }
    }
}

/// How far the flow has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cursor {
    /// Which content, by index.
    pub content: usize,
    /// Which piece of it, by index.
    pub piece: usize,
    /// The first of the pieces before it that were put off to the top of a later column.
    pub waiting: Option<usize>,
    /// Width for which the content was laid out where it was broken off, mm, and how many parts it had then.
    pub broken: (f64, usize),
    /// The first of the contents before it that were put off to the top of a later column.
    pub put_off: Option<usize>,
}

impl Cursor {
    /// Whether all of so many contents stand.
    #[must_use]
    pub const fn is_through(&self, contents: usize) -> bool {
        self.content >= contents && self.put_off.is_none()
    }
}

/// Columns of pages, by the page's number from 0: none where something else has the page to itself.
pub type Columns<'a> = &'a dyn Fn(usize) -> Vec<Box2>;

/// Fills as many pages as the contents take; gives back where each begins and what is drawn on it.
#[must_use]
pub fn pages(contents: &[Box<dyn Content + '_>], columns: Columns) -> Vec<(Cursor, Vec<Group>)> {
    let mut cursor = Cursor::default();
    let mut out = Vec::new();
    while !cursor.is_through(contents.len()) && out.len() < MOST_PAGES {
        let begins = cursor;
        let free = columns(out.len()).into_iter().map(Column::new);
        let mut free: Vec<Column> = free.collect();
        let next = columns(out.len() + 1);
        let next = next.iter().map(Box2::height).fold(0.0, f64::max);
        let groups = fill_before(next, contents, &mut cursor, &mut free);
        out.push((begins, groups));
    }
    out
}

/// Fills columns from where the cursor stands; gives back what was drawn, a group for each stretch of a content, moves the cursor on and
/// leaves in each column the room that is left.
pub fn fill(
    contents: &[Box<dyn Content + '_>],
    cursor: &mut Cursor,
    columns: &mut [Column],
) -> Vec<Group> {
    fill_before(0.0, contents, cursor, columns)
}

/// The same where columns of this height follow, mm: what is too tall for these goes on there.
fn fill_before(
    next: f64,
    contents: &[Box<dyn Content + '_>],
    cursor: &mut Cursor,
    columns: &mut [Column],
) -> Vec<Group> {
    let heights = columns.iter().map(|c| c.area.height());
    let tallest = heights.fold(next, f64::max);
    let mut out = Vec::new();
    for column in columns {
        out.extend(fill_put_off(contents, cursor, column));
        while let Some(content) = contents.get(cursor.content) {
            let (width, block) = laid(&**content, cursor, column.area.width());
            let mut stretch = Stretch::new(&block, column);
            if content.floats()
                && (cursor.put_off.is_some() || !stretch.empty && !stretch.holds_all())
            {
                cursor.put_off = cursor.put_off.or(Some(cursor.content));
                cursor.content += 1;
                continue;
            }
            let done = stretch.fill(cursor, tallest);
            if stretch.begun {
                column.from += stretch.y + BETWEEN;
                out.push(draw::group("", "block", stretch.marks));
            }
            if !done {
                cursor.broken = (width, block.pieces.len());
                break;
            }
            *cursor = Cursor {
                content: cursor.content + 1,
                put_off: cursor.put_off,
                ..Cursor::default()
            };
        }
    }
    out
}

/// The contents that were put off take the top of a column, as many as it holds.
fn fill_put_off(
    contents: &[Box<dyn Content + '_>],
    cursor: &mut Cursor,
    column: &mut Column,
) -> Vec<Group> {
    let mut out = Vec::new();
    while let Some(first) = cursor.put_off {
        let block = contents[first].shared(column.area.width());
        let mut stretch = Stretch::new(&block, column);
        if !stretch.empty && !stretch.holds_all() {
            break;
        }
        (0..block.pieces.len()).for_each(|i| stretch.put(i));
        column.from += stretch.y + BETWEEN;
        out.push(draw::group("", "block", stretch.marks));
        cursor.put_off = (first + 1..cursor.content).find(|&i| contents[i].floats());
    }
    out
}

/// A content laid out for a column, and the width it was laid out for. What was broken off goes on in its old width where this column
/// would divide it into other parts: the parts that the two layouts do not share would be lost.
fn laid(content: &dyn Content, cursor: &Cursor, width: f64) -> (f64, Rc<Block>) {
    let block = content.shared(width);
    let (before, parts) = cursor.broken;
    if cursor.piece == 0 || block.pieces.len() == parts || before >= width {
        return (width, block);
    }
    (before, content.shared(before))
}

/// What stands of one block in one column.
struct Stretch<'b> {
    block: &'b Block,
    column: Column,
    /// Its height so far, mm.
    y: f64,
    /// Nothing stands in the column.
    empty: bool,
    /// Something of this block stands in it.
    begun: bool,
    /// The head under which its last piece stands.
    head: Option<&'b Rc<Piece>>,
    marks: Vec<Mark>,
}

impl<'b> Stretch<'b> {
    fn new(block: &'b Block, column: &Column) -> Self {
        Self {
            block,
            column: *column,
            y: 0.0,
            empty: column.from <= column.area.top,
            begun: false,
            head: None,
            marks: Vec::new(),
        }
    }

    /// Puts down what there is room for; whether that was all of the block.
    fn fill(&mut self, cursor: &mut Cursor, tallest: f64) -> bool {
        // The first of what waits takes the top of the column, and more if there is room.
        while let Some(from) = cursor.waiting {
            let to = self.block.chain_end(from);
            if !self.empty && !self.holds(from, to) {
                break;
            }
            (from..to).for_each(|i| self.put(i));
            cursor.waiting = self.block.float(to..cursor.piece);
        }
        while let Some(first) = self.block.pieces.get(cursor.piece) {
            let (from, to) = (cursor.piece, self.block.chain_end(cursor.piece));
            let holds = self.holds(from, to);
            // What is kept together with it may make it taller than any column.
            let one = from + 1 == to;
            let floats = first.float && (one || self.height(from, to) <= tallest + HAIR);
            if floats && (!holds || cursor.waiting.is_some()) {
                cursor.waiting = cursor.waiting.or(Some(from));
            } else if holds {
                (from..to).for_each(|i| self.put(i));
            } else {
                // A taller column may hold them together; if there is none, this one takes what it can.
                let helped = !self.empty || self.height(from, to) <= tallest + HAIR;
                if helped || !self.put_broken(cursor, to, tallest) {
                    return false;
                }
            }
            cursor.piece = to;
        }
        cursor.waiting.is_none()
    }

    /// Pieces that no column holds together, as many as this one holds; whether those are all. A piece that is taller than every column
    /// can't be helped by another: it is drawn, and the audit reports it.
    fn put_broken(&mut self, cursor: &mut Cursor, to: usize, tallest: f64) -> bool {
        while cursor.piece < to {
            let i = cursor.piece;
            let helped = !self.empty || self.height(i, i + 1) <= tallest + HAIR;
            if !self.holds(i, i + 1) && helped {
                return false;
            }
            self.put(i);
            cursor.piece += 1;
        }
        true
    }

    fn holds_all(&self) -> bool {
        self.holds(0, self.block.pieces.len())
    }

    fn holds(&self, from: usize, to: usize) -> bool {
        self.column.from + self.y + self.height(from, to) <= self.column.area.bottom + HAIR
    }

    /// Height that pieces would take here, with title and heads, mm.
    fn height(&self, from: usize, to: usize) -> f64 {
        let titled = !self.begun && !self.block.title.is_empty();
        let mut height = if titled { TITLE } else { 0.0 };
        let (mut empty, mut head) = (self.empty, self.head);
        for piece in &self.block.pieces[from..to] {
            height += if empty { 0.0 } else { piece.before };
            height += new_head(head, piece).map_or(0.0, |h| h.height) + piece.height;
            (empty, head) = (false, piece.head.as_ref());
        }
        height
    }

    fn put(&mut self, i: usize) {
        if !self.begun && !self.block.title.is_empty() {
            self.put_title(i > 0);
        }
        let piece = &self.block.pieces[i];
        self.y += if self.empty { 0.0 } else { piece.before };
        let head = new_head(self.head, piece);
        for piece in head.map(|h| &**h).into_iter().chain([piece]) {
            let place = by(self.column.area.left, self.column.from + self.y);
            let group = draw::moved(piece.group.clone(), place);
            self.marks.push(Mark::Group(group));
            self.y += piece.height;
        }
        (self.empty, self.begun, self.head) = (false, true, piece.head.as_ref());
    }

    fn put_title(&mut self, goes_on: bool) {
        let mut title = self.block.title.clone();
        if goes_on {
            title += ", CONTINUED";
        }
        let Column { area, from } = &self.column;
        let (text, head) = words::fit_head(&title, area.width());
        let base = at(area.left, from + self.y + head.cap() + 0.4);
        let text = draw::text(base, text, head, Align::Start);
        self.marks.push(Mark::Text(text));
        self.y += TITLE;
    }
}

/// The head of a piece, if that is not what stands above it already.
fn new_head<'b>(above: Option<&Rc<Piece>>, piece: &'b Piece) -> Option<&'b Rc<Piece>> {
    let head = piece.head.as_ref()?;
    let same = above.is_some_and(|above| Rc::ptr_eq(above, head));
    (!same).then_some(head)
}

#[cfg(test)]
mod tests;
