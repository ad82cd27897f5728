//! A paper to be read: headings, paragraphs, lists, tables, figures and lines to sign on, without a word about how it is put down.
//!
//! [`pages()`] lays it out on paper for the PDF, [`html()`] writes one file for a screen; both hold the same content in the same order.
//! [`set()`] fills the columns beside a drawing with the same blocks.

mod html;
mod lay;
mod page;
mod table;

pub use html::html;
pub(crate) use lay::{BESIDE, LEAST_BESIDE, letterhead};
pub use page::{Paper, pages, set, text_width};

pub use crate::flow::table::Side;
use crate::ink::{Mark, Picture, Sheet};
pub use crate::paper::text::{Run, Text};

/// A paper, independent of how it is written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// Whose paper it is, above the title.
    pub head: Letterhead,
    /// Title, the only heading of the first level.
    pub title: String,
    /// One paragraph on what the paper is, for searching.
    pub subject: String,
    /// Who wrote it, for searching.
    pub author: String,
    /// Job and revision, at the foot of every page.
    pub running: String,
    /// Year, month and day as given in the sketch.
    pub date: Option<(u16, u8, u8)>,
    /// The content, in reading order.
    pub blocks: Vec<Block>,
}

/// Name and address of a shop at the head of its papers; nothing where there is no name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Letterhead {
    /// Its sign.
    pub logo: Option<Picture>,
    pub name: String,
    /// Address, phone, license.
    pub lines: Vec<String>,
}

impl Letterhead {
    /// Whether there is nothing to show.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.logo.is_none() && self.name.is_empty() && self.lines.is_empty()
    }
}

/// A part of the content.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading of the second or third level; it never stands alone at the foot of a page.
    Heading {
        /// 2 or 3.
        level: u8,
        /// Its words.
        text: String,
    },
    /// A paragraph; no page begins or ends with a single line of it.
    Paragraph(Text),
    /// A list with hanging marks.
    List {
        /// Numbers instead of dots.
        ordered: bool,
        /// Its entries.
        items: Vec<Text>,
    },
    /// Names and values, one beside the other.
    Facts(Vec<(String, Text)>),
    Table(Table),
    /// A drawing or photograph with its caption; never broken.
    Figure(Figure),
    /// Photographs beside each other, as many in a row as have room.
    Figures(Vec<Figure>),
    /// A drawing with what belongs to it: beside it where that has room, else below. On a screen it opens alone.
    Plan(Figure, Vec<Block>),
    /// Lines of a key, each with what it stands for.
    Key(Vec<Entry>),
    /// Places to sign, side by side; never broken.
    Signatures(Vec<Signature>),
    /// Something that must not be overlooked, with a bar beside it.
    Notice {
        /// First words.
        title: String,
        /// The rest.
        paragraphs: Vec<Text>,
    },
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    pub head: String,
    /// Where its cells stand.
    pub side: Side,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn left(head: impl Into<String>) -> Self {
        Self { head: head.into(), side: Side::Left }
    }

    /// A column of numbers.
    #[must_use]
    pub fn right(head: impl Into<String>) -> Self {
        Self { head: head.into(), side: Side::Right }
    }
}

/// A row of a table; as many cells as the table has columns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    pub cells: Vec<String>,
    /// A total: semibold, with a rule above.
    pub total: bool,
}

/// A table. It repeats its head on every page and is broken between rows only; a row that is taller than a page is the one exception.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// What it shows; also for those who hear it read.
    pub caption: String,
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    /// Kept on one page if one page holds it.
    pub whole: bool,
}

/// What a figure shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Picturing {
    /// A drawing at its own size; its width should not exceed that of the text.
    Drawing(Box<Sheet>),
    /// A photograph.
    Photo(Picture),
}

/// A drawing or photograph.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What is shown.
    pub shows: Picturing,
    /// What stands below it.
    pub caption: Text,
    /// What a person who can't see it is told.
    pub words: String,
    /// Widest it is shown on paper, mm.
    pub width: f64,
    /// Where the page has no room left, it goes to the top of the next one and the text goes on meanwhile.
    pub float: bool,
}

/// Width and height of what stands before a line of a key, mm.
pub const SYMBOL: (f64, f64) = (18.0, 6.6);

/// A line of a key.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    /// Id of its group in a drawing; empty for none.
    pub id: String,
    /// What stands before it, within [`SYMBOL`].
    pub symbol: Vec<Mark>,
    /// What it stands for.
    pub text: Text,
}

/// A place to sign.
#[derive(Clone, Debug, PartialEq)]
pub struct Signature {
    /// Who signs.
    pub party: String,
    /// What is written on each line: `Signature`, `Name`, `Date`.
    pub lines: Vec<String>,
}

impl Document {
    /// Every text of the paper in reading order, as both writers put it down. For tests and for the characters that a font lacks.
    #[must_use]
    pub fn texts(&self) -> Vec<String> {
        let mut out = vec![self.head.name.clone()];
        out.extend(self.head.lines.clone());
        out.push(self.title.clone());
        self.blocks.iter().for_each(|block| block.texts(&mut out));
        out.retain(|text| !text.is_empty());
        out
    }
}

impl Block {
    fn texts(&self, out: &mut Vec<String>) {
        match self {
            Self::Heading { text, .. } => out.push(text.clone()),
            Self::Paragraph(text) => out.push(text.plain()),
            Self::List { items, .. } => out.extend(items.iter().map(Text::plain)),
            Self::Facts(rows) => {
                for (name, value) in rows {
                    out.extend([name.clone(), value.plain()]);
                }
            }
            Self::Table(table) => {
                out.push(table.caption.clone());
                out.extend(table.columns.iter().map(|c| c.head.clone()));
                out.extend(table.rows.iter().flat_map(|r| r.cells.clone()));
            }
            Self::Figure(figure) => out.push(figure.caption.plain()),
            Self::Figures(all) => out.extend(all.iter().map(|f| f.caption.plain())),
            Self::Key(entries) => out.extend(entries.iter().map(|e| e.text.plain())),
            Self::Plan(figure, blocks) => {
                out.push(figure.caption.plain());
                blocks.iter().for_each(|block| block.texts(out));
            }
            Self::Signatures(places) => {
                for place in places {
                    out.push(place.party.clone());
                    out.extend(place.lines.clone());
                }
            }
            Self::Notice { title, paragraphs } => {
                out.push(title.clone());
                out.extend(paragraphs.iter().map(Text::plain));
            }
        }
    }
}

#[cfg(test)]
mod tests;
