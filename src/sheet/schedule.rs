//! Schedules: one row for every tag, with quantities, and where to find the item with a tape.

mod areas;
mod cracks;
mod faces;
mod joints;
mod patches;
mod rows;
mod steps;

pub use rows::{found_by, tables};

use std::rc::Rc;

use crate::flow::table::{Band, Grid, Place, Side, measured, squeezed};
use crate::ink::{Group, Mark, Weight};
use crate::paper::text::Text;

use super::flow::{Block, Content, Piece};
use crate::paper::draw;
use crate::paper::mm::{at, by};
use crate::paper::style;
use crate::paper::words;

/// Gap between columns, mm.
const GAP: f64 = 2.6;
/// The same where the columns would be wider than their room, mm.
const LEAST_GAP: f64 = 1.2;
/// Indent of the second line of a row, mm.
const INDENT: f64 = 3.0;
/// Widest indent of the words below a row, mm: the tag stands out, and no more.
const BELOW_TAG: f64 = 5.0;
/// Air above and below the text of a row, mm.
const AIR: f64 = 0.4;

/// What stands over the cells of a column, and how they line up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Printed over the cells.
    pub head: &'static str,
    /// Whether numbers line up on the right.
    pub right: bool,
}

/// A line of a schedule.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Id of the item; empty for a further line of the item above, and for an item that has no tag.
    pub id: String,
    /// Cells, one for each column.
    pub cells: Vec<String>,
    /// Treatment, place and note.
    pub words: String,
    /// The next row belongs to the same item.
    pub more: bool,
    /// Ids of further items that the row says all of.
    pub also: Vec<String>,
}

/// A schedule.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Printed over the table.
    pub title: String,
    /// From left to right.
    pub columns: Vec<Column>,
    /// Rows, by tag.
    pub rows: Vec<Row>,
    /// Totals below the rows; empty cells where there is none.
    pub total: Vec<String>,
    /// Head of the words' column, used where it stands beside the cells.
    pub words_head: &'static str,
}

impl Table {
    /// Widest word and widest cell of each column, mm; cells that are not `broken` count as one word.
    fn measured(&self, broken: bool) -> Vec<(f64, f64)> {
        let of = |(i, c): (usize, &Column)| {
            let body = if i == 0 { Weight::Semibold } else { Weight::Regular };
            let strong = self.total.get(i).map(|t| &**t);
            let strong = strong.into_iter().chain([c.head]);
            let cells = self.rows.iter().filter_map(|r| r.cells.get(i));
            let cells = cells.map(|t| (&**t, body));
            let strong = strong.map(|t| (t, Weight::Semibold));
            measured(cells.chain(strong), style::body().size, broken)
        };
        self.columns.iter().enumerate().map(of).collect()
    }
}

/// A schedule placed for one width: its columns, and last the words of its rows.
struct Placed {
    grid: Grid,
    /// Whether the words stand beside the cells and have a head.
    beside: bool,
}

impl Content for Table {
    fn lay(&self, width: f64) -> Block {
        let placed = self.placed(width);
        let head = Rc::new(placed.head(self));
        let mut pieces: Vec<Piece> = self.rows.iter().map(|r| placed.row(r)).collect();
        if let Some(last) = pieces.last_mut()
            && self.total.iter().any(|t| !t.is_empty())
        {
            // The total stays with the last row.
            let (total, height) = placed.total(self);
            let below = draw::moved(total, by(0.0, last.height));
            let both = [std::mem::take(&mut last.group), below];
            last.group = draw::group("", "", both.map(Mark::Group).into());
            last.height += height;
        }
        for piece in &mut pieces {
            piece.head = Some(Rc::clone(&head));
        }
        Block { title: self.title.clone(), pieces, whole: false }
    }
}

impl Table {
    fn placed(&self, width: f64) -> Placed {
        let mut widths: Vec<f64> = self.measured(false).into_iter().map(|m| m.1).collect();
        let across = |w: &[f64], gap: f64| w.iter().map(|w| w + gap).sum::<f64>();
        // The first cell has a line of its own above the others where all of them are wider than the room.
        let stacked = widths.len() > 1 && across(&widths, GAP) - GAP > width;
        let (start, above) = if stacked { (INDENT, 1) } else { (0.0, 0) };
        let tight = start + across(&widths[above..], GAP) - GAP > width;
        let gap = if tight { LEAST_GAP } else { GAP };
        let room = width - start - gap * (widths.len().saturating_sub(above + 1)) as f64;
        if widths[above..].iter().sum::<f64>() > room {
            widths.splice(above.., squeezed(&self.measured(true)[above..], room));
        }
        let mut x = start;
        let mut places = Vec::new();
        for (i, (width, column)) in widths.into_iter().zip(&self.columns).enumerate() {
            let side = if column.right { Side::Right } else { Side::Left };
            let (left, down) = if i < above { (0.0, 0) } else { (x, above) };
            x += if i < above { 0.0 } else { width + gap };
            places.push(Place { left, width, side, down });
        }
        let body = style::body();
        let longest = words::widest(self.rows.iter().map(|r| &*r.words), body);
        // Beside the cells if most rows then take at most two lines.
        let least = (longest / 2.0 + 6.0).max(28.0).min(longest);
        let beside = longest > 0.0 && !stacked && width - x >= least;
        let (left, down) = match beside {
            true => (x, 0),
            false => (places.get(1).map_or(INDENT, |p| p.left.min(BELOW_TAG)), 1 + above),
        };
        places.push(Place { left, width: width - left, side: Side::Left, down });
        let set = body.into();
        Placed { grid: Grid { places, width, set }, beside }
    }
}

/// Cells of a row with their words, the last of all; `strong` says which are semibold.
fn cells<'t>(
    columns: usize,
    texts: impl Iterator<Item = &'t str>,
    words: &'t str,
    strong: impl Fn(usize) -> bool,
) -> Vec<Text> {
    let none = std::iter::repeat("");
    let texts = texts.chain(none).take(columns).chain([words]);
    let text = |(i, text)| match strong(i) {
        true => Text::strong(text),
        false => Text::from(text),
    };
    texts.enumerate().map(text).collect()
}

impl Placed {
    fn columns(&self) -> usize {
        self.grid.places.len() - 1
    }

    fn head(&self, table: &Table) -> Piece {
        let heads = table.columns.iter().map(|c| c.head);
        let words = if self.beside { table.words_head } else { "" };
        let air = self.grid.set.air();
        let band = Band {
            air: (0.6 - air, 1.4 - air),
            under: Some(style::RULE),
            after: 0.4,
            ..Band::default()
        };
        let cells = cells(self.columns(), heads, words, |_| true);
        let (marks, height) = self.grid.row(&cells, &band);
        Piece::new(height, draw::group("", "head", marks))
    }

    fn row(&self, row: &Row) -> Piece {
        let texts = row.cells.iter().map(|t| &**t);
        let cells = cells(self.columns(), texts, &row.words, |i| i == 0);
        let band = Band {
            air: (AIR, if row.more { 0.0 } else { AIR }),
            under: (!row.more).then_some(style::HATCH),
            ..Band::default()
        };
        let (marks, height) = self.grid.row(&cells, &band);
        let id = if row.id.is_empty() { String::new() } else { format!("row-{}", row.id) };
        // A row of several items is that of each: their groups lie in one another.
        let mut group = draw::group(id, "row", marks);
        for id in &row.also {
            let inner =
                std::mem::replace(&mut group, draw::group(format!("row-{id}"), "row", Vec::new()));
            group.marks.push(Mark::Group(inner));
        }
        Piece::new(height, group)
    }

    fn total(&self, table: &Table) -> (Group, f64) {
        let texts = table.total.iter().map(|t| &**t);
        let cells = cells(self.columns(), texts, "", |_| true);
        let air = self.grid.set.air();
        let band = Band { air: (AIR + 1.2 - air, 1.4 - air), ..Band::default() };
        let (marks, height) = self.grid.row(&cells, &band);
        let over = draw::line(at(0.0, 0.5), at(self.grid.width, 0.5), style::RULE);
        let marks = [vec![over], marks].concat();
        (draw::group("", "total", marks), height)
    }
}

/// All groups of rows in a list of groups, by id; for tests.
#[must_use]
pub fn row_ids(groups: &[Group]) -> Vec<String> {
    let mut out = Vec::new();
    for group in groups {
        if group.id.starts_with("row-") {
            out.push(group.id.clone());
        }
        let inner: Vec<Group> = group
            .marks
            .iter()
            .filter_map(|m| match m {
                Mark::Group(g) => Some(g.clone()),
                _ => None,
            })
            .collect();
        out.extend(row_ids(&inner));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Right edges of the texts of a group, mm.
    fn rights(group: &Group, out: &mut Vec<f64>) {
        for mark in &group.marks {
            match mark {
                Mark::Group(inner) => rights(inner, out),
                Mark::Text(t) if t.align == crate::ink::Align::End => out.push(t.at.x),
                Mark::Text(t) => {
                    let width = crate::font::text_width(&t.text, t.size, t.weight);
                    out.push(t.at.x + width);
                }
                _ => {}
            }
        }
    }

    #[test]
    fn columns_wider_than_their_sheet_break_their_cells() {
        let head = |right| Column { head: "HEAD", right };
        let long = || "a cell of many words, wider than".to_owned();
        let table = Table {
            columns: vec![head(false), head(false), head(true), head(false)],
            rows: vec![Row {
                cells: vec!["J1".into(), long(), "12.5".into(), long()],
                words: "and what is done".into(),
                ..Row::default()
            }],
            ..Table::default()
        };
        for width in [40.0, 72.0, 120.0, 300.0] {
            let mut found = Vec::new();
            for piece in table.lay(width).pieces {
                rights(&piece.group, &mut found);
            }
            assert!(found.iter().all(|right| *right <= width + 1e-6), "{width}: {found:?}");
        }
    }
}
