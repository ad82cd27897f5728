//! A paper to be read: headings, paragraphs, lists, tables, figures and lines to sign on, without a word about how it is put down.
//!
//! [`pages()`] lays it out on paper for the PDF, [`html()`] writes one file for a screen; both hold the same content in the same order.

mod html;
mod lay;
mod page;
mod paginate;
mod table;
mod text;

pub use html::html;
pub use page::{Paper, pages, text_width};
pub use text::{Run, Text};

use crate::ink::{Picture, Sheet};

/// A paper, independent of how it is written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// Title, the only heading of the first level.
    pub title: String,
    /// What stands under the title, one line.
    pub subtitle: String,
    /// One paragraph on what the paper is, for searching.
    pub subject: String,
    /// Whose paper it is.
    pub author: String,
    /// Job and revision, at the foot of every page.
    pub running: String,
    /// Year, month and day as given in the sketch.
    pub date: Option<(u16, u8, u8)>,
    /// The content, in reading order.
    pub blocks: Vec<Block>,
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
    /// A table.
    Table(Table),
    /// A drawing or photograph with its caption; never broken.
    Figure(Figure),
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

/// On which side of its column a cell stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Side {
    /// Words.
    #[default]
    Left,
    /// Numbers.
    Right,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// Where its cells stand.
    pub side: Side,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn left(head: impl Into<String>) -> Self {
        Self {
            head: head.into(),
            side: Side::Left,
        }
    }

    /// A column of numbers.
    #[must_use]
    pub fn right(head: impl Into<String>) -> Self {
        Self {
            head: head.into(),
            side: Side::Right,
        }
    }
}

/// A row of a table; as many cells as the table has columns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Its cells.
    pub cells: Vec<String>,
    /// A total: semibold, with a rule above.
    pub total: bool,
}

/// A table. It repeats its head on every page and is broken between rows only; a row that is taller than a page is the one exception.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// What it shows; also for those who hear it read.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
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
        let mut out = vec![self.title.clone(), self.subtitle.clone()];
        for block in &self.blocks {
            match block {
                Block::Heading { text, .. } => out.push(text.clone()),
                Block::Paragraph(text) => out.push(text.plain()),
                Block::List { items, .. } => out.extend(items.iter().map(Text::plain)),
                Block::Facts(rows) => {
                    for (name, value) in rows {
                        out.extend([name.clone(), value.plain()]);
                    }
                }
                Block::Table(table) => {
                    out.push(table.caption.clone());
                    out.extend(table.columns.iter().map(|c| c.head.clone()));
                    out.extend(table.rows.iter().flat_map(|r| r.cells.clone()));
                }
                Block::Figure(figure) => out.push(figure.caption.plain()),
                Block::Signatures(places) => {
                    for place in places {
                        out.push(place.party.clone());
                        out.extend(place.lines.clone());
                    }
                }
                Block::Notice { title, paragraphs } => {
                    out.push(title.clone());
                    out.extend(paragraphs.iter().map(Text::plain));
                }
            }
        }
        out.retain(|text| !text.is_empty());
        out
    }
}

#[cfg(test)]
mod tests;
