//! Schedules: one row for every tag, with quantities, and where to find the item with a tape.

mod areas;
mod cracks;
mod faces;
mod joints;
mod patches;
mod rows;
mod steps;

pub use rows::{found_by, tables};

use crate::ink::{Align, Group, Mark};

use super::draw;
use super::flow::{Block, Content, Piece};
use super::mm::at;
use super::style;
use super::words;

/// Gap between columns, mm.
const GAP: f64 = 2.6;
/// The same where the columns would be wider than their room, mm.
const LEAST_GAP: f64 = 1.2;
/// Indent of the second line of a row, mm.
const INDENT: f64 = 3.0;
/// Air above and below the text of a row, mm.
const AIR: f64 = 0.55;

/// A column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Its head.
    pub head: &'static str,
    /// Whether numbers line up on the right.
    pub right: bool,
}

/// A row.
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
    /// Title.
    pub title: String,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows, by tag.
    pub rows: Vec<Row>,
    /// Totals below the rows; empty cells where there is none.
    pub total: Vec<String>,
    /// Head of the words' column, used where it stands beside the cells.
    pub words_head: &'static str,
}

impl Table {
    fn widths(&self) -> Vec<f64> {
        let (strong, body) = (style::strong(), style::body());
        let width = |(i, c): (usize, &Column)| {
            let cells = self
                .rows
                .iter()
                .filter_map(|r| r.cells.get(i))
                .map(|t| words::width(t, if i == 0 { strong } else { body }));
            let total = self.total.get(i).map_or(0.0, |t| words::width(t, strong));
            cells.fold(words::width(c.head, strong).max(total), f64::max)
        };
        self.columns.iter().enumerate().map(width).collect()
    }
}

/// Columns placed for one width.
struct Grid<'a> {
    table: &'a Table,
    /// Left edge and width of each column.
    columns: Vec<(f64, f64)>,
    /// Whether the first cell has a line of its own above the others, because all of them are wider than the room.
    stacked: bool,
    /// Left edge of the words' column, if it stands beside the cells.
    words: Option<f64>,
    width: f64,
}

impl Content for Table {
    fn lay(&self, width: f64) -> Block {
        let widths = self.widths();
        let across = |w: &[f64], gap: f64| w.iter().map(|w| w + gap).sum::<f64>();
        let stacked = widths.len() > 1 && across(&widths, GAP) - GAP > width;
        let (start, side_by_side) = if stacked {
            (INDENT, &widths[1..])
        } else {
            (0.0, &widths[..])
        };
        let tight = start + across(side_by_side, GAP) - GAP > width;
        let gap = if tight { LEAST_GAP } else { GAP };
        let mut x = start;
        let mut columns: Vec<(f64, f64)> = widths[..usize::from(stacked)]
            .iter()
            .map(|w| (0.0, *w))
            .collect();
        for w in side_by_side {
            columns.push((x, *w));
            x += w + gap;
        }
        let longest = self
            .rows
            .iter()
            .map(|r| words::width(&r.words, style::body()))
            .fold(0.0, f64::max);
        // Beside the cells if most rows then take at most two lines.
        let words = (longest > 0.0
            && !stacked
            && width - x >= (longest / 2.0 + 6.0).max(28.0).min(longest))
        .then_some(x);
        let grid = Grid {
            table: self,
            columns,
            stacked,
            words,
            width,
        };
        let mut pieces: Vec<Piece> = self.rows.iter().map(|r| grid.row(r)).collect();
        if self.total.iter().any(|t| !t.is_empty()) {
            // The total stays with the last row.
            let total = grid.total();
            if let Some(last) = pieces.last_mut() {
                let below = draw::moved(total.group, super::mm::by(0.0, last.height));
                last.group = draw::group(
                    "",
                    "",
                    vec![
                        Mark::Group(std::mem::take(&mut last.group)),
                        Mark::Group(below),
                    ],
                );
                last.height += total.height;
            }
        }
        Block {
            title: self.title.clone(),
            head: Some(grid.head()),
            pieces,
            whole: false,
        }
    }
}

impl Grid<'_> {
    fn cell(&self, i: usize, text: &str, y: f64, type_: style::Type) -> Mark {
        let (left, width) = self.columns[i];
        let right = self.table.columns[i].right;
        let (x, align) = if right {
            (left + width, Align::End)
        } else {
            (left, Align::Start)
        };
        Mark::Text(draw::text(at(x, y), text, type_, align))
    }

    /// How far a cell stands below the first line of its row, mm.
    fn below(&self, i: usize) -> f64 {
        if self.stacked && i > 0 {
            style::body().pitch()
        } else {
            0.0
        }
    }

    fn head(&self) -> Piece {
        let strong = style::strong();
        let first = strong.cap() + 0.6;
        let mut marks: Vec<Mark> = self
            .table
            .columns
            .iter()
            .enumerate()
            .map(|(i, c)| self.cell(i, c.head, first + self.below(i), strong))
            .collect();
        let y = first + self.below(1);
        if let Some(x) = self.words {
            marks.push(Mark::Text(draw::text(
                at(x, y),
                self.table.words_head,
                strong,
                Align::Start,
            )));
        }
        let rule = y + 1.4;
        marks.push(draw::line(at(0.0, rule), at(self.width, rule), style::RULE));
        Piece {
            height: rule + 0.4,
            group: draw::group("", "head", marks),
        }
    }

    fn row(&self, row: &Row) -> Piece {
        let (body, strong) = (style::body(), style::strong());
        let first = AIR + (body.pitch() + body.cap()) / 2.0;
        let mut marks = Vec::new();
        for (i, text) in row
            .cells
            .iter()
            .enumerate()
            .filter(|(i, t)| !t.is_empty() && *i < self.columns.len())
        {
            let y = first + self.below(i);
            marks.push(self.cell(i, text, y, if i == 0 { strong } else { body }));
        }
        let more = self.below(1);
        let (x, room, mut y) = match self.words {
            Some(x) => (x, self.width - x, first),
            None => (
                self.columns.get(1).map_or(INDENT, |c| c.0),
                self.width - self.columns.get(1).map_or(INDENT, |c| c.0),
                first + more + body.pitch(),
            ),
        };
        let mut lines = 1.0_f64;
        for (n, line) in words::wrap(&row.words, body, room).into_iter().enumerate() {
            marks.push(Mark::Text(draw::text(at(x, y), line, body, Align::Start)));
            y += body.pitch();
            #[expect(clippy::cast_precision_loss, reason = "a few lines")]
            let below = n as f64 + if self.words.is_some() { 1.0 } else { 2.0 };
            lines = lines.max(below);
        }
        let air = if row.more { AIR } else { 2.0 * AIR };
        let height = air + more + lines * body.pitch();
        if !row.more {
            marks.push(draw::line(
                at(0.0, height),
                at(self.width, height),
                style::HATCH,
            ));
        }
        let id = if row.id.is_empty() {
            String::new()
        } else {
            format!("row-{}", row.id)
        };
        // A row of several items is that of each: their groups lie in one another.
        let mut group = draw::group(id, "row", marks);
        for id in &row.also {
            let inner = std::mem::replace(
                &mut group,
                draw::group(format!("row-{id}"), "row", Vec::new()),
            );
            group.marks.push(Mark::Group(inner));
        }
        Piece { height, group }
    }

    fn total(&self) -> Piece {
        let strong = style::strong();
        let y = AIR + 0.6 + strong.cap();
        let mut marks = vec![draw::line(at(0.0, 0.5), at(self.width, 0.5), style::RULE)];
        for (i, text) in self
            .table
            .total
            .iter()
            .enumerate()
            .filter(|(i, t)| !t.is_empty() && *i < self.columns.len())
        {
            marks.push(self.cell(i, text, y + 0.6 + self.below(i), strong));
        }
        Piece {
            height: y + 2.0 + self.below(1),
            group: draw::group("", "total", marks),
        }
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
