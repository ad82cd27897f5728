//! Blocks of the field sheet's record pages: tables, cells, questions and ruled lines to write on.

use crate::flow::table::{Band, Grid, Place};
use crate::ink::{Align, Color, Group, Mark, PaperPoint, Stroke};
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::paper::style::Type;
use crate::paper::text::{Setting, Text};
use crate::paper::{draw, words};

/// Least height of a row that is written in by hand, mm.
pub const ROW: f64 = 7.2;
/// Greatest height of such a row where a page has room to spare, mm.
pub const HIGHEST_ROW: f64 = 10.0;
/// Height of a block's title, mm.
const TITLE: f64 = 7.0;
/// Height of a table's head, mm.
const HEAD: f64 = 5.6;
/// Space below a block, mm.
const BELOW: f64 = 3.4;
/// Side of a box to tick, mm.
const TICK: f64 = 3.6;
/// Air left and right of text in a cell, mm.
const AIR: f64 = 1.2;
/// Share of the width that a question takes; its answers take the rest.
const ASKING: f64 = 0.44;
/// Rules between rows: gray enough to write over.
pub const FAINT: Stroke = Stroke { width: 0.18, color: Color(0x8C, 0x8C, 0x8C), round: false };

/// A question with its answers to tick and what to write.
#[derive(Clone, Debug, Default)]
pub struct Question {
    /// What to find out.
    pub ask: &'static str,
    /// Answers to tick.
    pub choices: Vec<&'static str>,
    /// What is written on the line behind them; empty for none.
    pub write: Vec<&'static str>,
}

/// What a block holds.
#[derive(Clone, Debug)]
pub enum Body {
    /// Columns with their share of the width, and rows with what is printed in their first cells.
    Table {
        /// Head and share of the width.
        columns: Vec<(&'static str, f64)>,
        /// Printed words of each row.
        rows: Vec<Vec<String>>,
    },
    /// Boxes with a small label, so many to a row. A tab in a label divides its box.
    Cells {
        labels: Vec<String>,
        /// Boxes in a row.
        across: usize,
    },
    Questions(Vec<Question>),
    /// So many ruled lines.
    Lines(usize),
}

/// A titled block.
#[derive(Clone, Debug)]
pub struct Block {
    /// Id of its group.
    pub id: &'static str,
    pub title: String,
    /// How to fill it in; empty for none.
    pub note: String,
    /// What it holds.
    pub body: Body,
}

impl Block {
    /// Rows that are written in.
    #[must_use]
    pub fn rows(&self) -> usize {
        match &self.body {
            Body::Table { rows, .. } => rows.len(),
            Body::Cells { labels, across } => labels.len().div_ceil((*across).max(1)),
            Body::Questions(list) => list.len(),
            Body::Lines(n) => *n,
        }
    }

    fn note_lines(&self, width: f64) -> Vec<String> {
        words::wrap(&self.note, style::body(), width)
    }

    /// Height without the rows that are written in, mm.
    #[must_use]
    pub fn fixed(&self, width: f64) -> f64 {
        let notes = self.note_lines(width).len() as f64 * style::body().pitch();
        let head = match self.body {
            Body::Table { .. } => HEAD,
            _ => 0.0,
        };
        TITLE + notes + head + BELOW
    }

    /// Draws it with rows of a height; the point is its upper left corner.
    #[must_use]
    pub fn draw(&self, corner: PaperPoint, width: f64, row: f64) -> Group {
        let mut marks = Vec::new();
        let body = style::body();
        let mut y = corner.y + 4.4;
        say(&mut marks, at(corner.x, y), &self.title, style::head());
        y = corner.y + TITLE;
        let notes = self.note_lines(width);
        let tall = notes.len() as f64 * body.pitch();
        let first = at(corner.x, y + body.cap() - 0.2);
        marks.extend(draw::below(first, notes, body, body.pitch()));
        y += tall;
        let area = Box2::new(corner.x, y, corner.x + width, y);
        match &self.body {
            Body::Table { columns, rows } => table(&mut marks, &area, row, columns, rows),
            Body::Cells { labels, across } => cells(&mut marks, &area, row, labels, *across),
            Body::Questions(list) => questions(&mut marks, &area, row, list),
            Body::Lines(n) => ruled(&mut marks, &area, row, *n),
        }
        draw::group(self.id, "record", marks)
    }
}

fn say(marks: &mut Vec<Mark>, on: PaperPoint, text: &str, type_: Type) {
    if !text.is_empty() {
        marks.push(draw::words(on, text, type_, Align::Start));
    }
}

/// Baseline of text in the middle of a row, mm.
fn middle(top: f64, height: f64) -> f64 {
    top + (height + style::body().cap()) / 2.0
}

fn table(
    marks: &mut Vec<Mark>,
    area: &Box2,
    row: f64,
    columns: &[(&'static str, f64)],
    rows: &[Vec<String>],
) {
    let total: f64 = columns.iter().map(|c| c.1).sum();
    let mut left = 0.0;
    let place = |(_, share): &(&str, f64)| {
        let width = share / total * area.width();
        left += width;
        Place { left: left - width + AIR, width: width - AIR, ..Place::default() }
    };
    let mut grid = Grid {
        places: columns.iter().map(place).collect(),
        width: area.width(),
        set: Setting::new(style::strong().size, HEAD),
    };
    let bottom = area.top + HEAD + rows.len() as f64 * row;
    for place in grid.places.iter().skip(1) {
        let x = area.left + place.left - AIR;
        marks.push(draw::line(at(x, area.top), at(x, bottom), FAINT));
    }
    let heads: Vec<String> = columns.iter().map(|c| c.0.to_owned()).collect();
    let rows = rows.iter().map(|texts| (texts, row, FAINT));
    let mut y = area.top;
    for (texts, leading, rule) in std::iter::once((&heads, HEAD, style::RULE)).chain(rows) {
        grid.set.leading = leading;
        let cell = |(text, place): (&String, &Place)| {
            Text::strong(words::fit(text, style::strong(), place.width))
        };
        let cells: Vec<Text> = texts.iter().zip(&grid.places).map(cell).collect();
        let band = Band { under: Some(rule), ..Band::default() };
        let (drawn, height) = grid.row(&cells, &band);
        marks.extend(draw::moved(draw::group("", "", drawn), by(area.left, y)).marks);
        y += height;
    }
    let all = Box2::new(area.left, area.top, area.right, bottom);
    marks.push(draw::rectangle(&all, Some(style::RULE), None));
}

fn cells(marks: &mut Vec<Mark>, area: &Box2, row: f64, labels: &[String], across: usize) {
    let across = across.max(1);
    let width = area.width() / across as f64;
    let count = labels.len().div_ceil(across);
    let all = Box2::new(area.left, area.top, area.right, area.top + count as f64 * row);
    for (i, label) in labels.iter().enumerate() {
        let (column, line) = ((i % across) as f64, (i / across) as f64);
        let (x, y) = (area.left + column * width, area.top + line * row);
        // Words with tabs between share the box, each with its own room behind it.
        let parts: Vec<&str> = label.split('\t').collect();
        let room = width / parts.len() as f64;
        for (k, part) in parts.iter().enumerate() {
            let on = at(x + AIR + k as f64 * room, middle(y, row));
            say(marks, on, &words::fit(part, style::body(), room - AIR), style::body());
        }
        if column > 0.0 {
            marks.push(draw::line(at(x, y), at(x, y + row), FAINT));
        } else if line > 0.0 {
            marks.push(draw::line(at(x, y), at(area.right, y), FAINT));
        }
    }
    marks.push(draw::rectangle(&all, Some(style::RULE), None));
}

fn questions(marks: &mut Vec<Mark>, area: &Box2, row: f64, list: &[Question]) {
    let body = style::body();
    let bottom = area.top + list.len() as f64 * row;
    for (i, question) in list.iter().enumerate() {
        let y = area.top + i as f64 * row;
        if i > 0 {
            marks.push(draw::line(at(area.left, y), at(area.right, y), FAINT));
        }
        let base = middle(y, row);
        let room = area.width() * ASKING - 2.0 * AIR;
        let ask = words::fit(question.ask, style::strong(), room);
        say(marks, at(area.left + AIR, base), &ask, style::strong());
        let mut x = area.left + area.width() * ASKING;
        for choice in &question.choices {
            let tick = Box2::around(at(x + TICK / 2.0, y + row / 2.0), TICK, TICK);
            marks.push(draw::rectangle(&tick, Some(style::FINE), None));
            say(marks, at(x + TICK + 1.2, base), choice, body);
            x += TICK + 1.2 + words::width(choice, body) + 4.0;
        }
        to_write(marks, &question.write, x, area.right - AIR, base);
    }
    let all = Box2::new(area.left, area.top, area.right, bottom);
    marks.push(draw::rectangle(&all, Some(style::RULE), None));
}

/// Words with a line behind each, sharing what is left of a row.
fn to_write(marks: &mut Vec<Mark>, write: &[&'static str], from: f64, to: f64, base: f64) {
    let body = style::body();
    let told: f64 = write.iter().map(|w| words::width(w, body) + 1.5).sum();
    let gaps = write.len().saturating_sub(1) as f64 * 2.5;
    let line = (to - from - told - gaps) / write.len().max(1) as f64;
    let mut x = from;
    for word in write {
        say(marks, at(x, base), word, body);
        x += words::width(word, body) + 1.5;
        let end = (x + line).max(x + 1.0);
        marks.push(draw::line(at(x, base + 0.8), at(end, base + 0.8), FAINT));
        x = end + 2.5;
    }
}

fn ruled(marks: &mut Vec<Mark>, area: &Box2, row: f64, count: usize) {
    for i in 1..=count {
        let y = area.top + i as f64 * row;
        marks.push(draw::line(at(area.left, y), at(area.right, y), FAINT));
    }
}
