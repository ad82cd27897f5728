//! Tables on paper: widths of columns, rows that are not broken, a head on every page.

use std::rc::Rc;

use crate::font;
use crate::ink::{Align, BLACK, Mark, Weight};

use super::lay::{baseline, line_marks};
use super::page::{BODY, LEADING, RULE, TABLE_LEADING, rule};
use super::paginate::Piece;
use super::text::{Line, Text, wrap};
use super::{Row, Side, Table};

/// Space between columns, mm.
const GUTTER: f64 = 5.0;
/// Space above and below the words of a row, mm.
const PADDING: f64 = 0.5;
/// Space above a table, mm.
const BEFORE: f64 = 2.4;

/// Lays a table out.
pub(super) fn lay(table: &Table, width: f64, height: f64) -> Vec<Piece> {
    if table.columns.is_empty() {
        return Vec::new();
    }
    let columns = widths(table, width);
    let head = Rc::new(head(table, &columns, width));
    let mut out = caption(table, width);
    let mut first = (*head).clone();
    first.keep = !table.rows.is_empty();
    if out.is_empty() {
        first.before = BEFORE;
    }
    out.push(first);
    let most = height - head.height;
    let n = table.rows.len();
    for (i, row) in table.rows.iter().enumerate() {
        let mut pieces = self::row(table, row, &columns, width, most);
        // Two rows at least on either side of a break, and a total with what it adds up.
        let next_is_total = table.rows.get(i + 1).is_some_and(|r| r.total);
        let keep = i + 1 < n && (i == 0 || i + 2 == n || next_is_total || table.whole);
        for piece in &mut pieces {
            piece.head = Some(Rc::clone(&head));
        }
        if let Some(last) = pieces.last_mut() {
            last.keep = keep;
        }
        out.extend(pieces);
    }
    out
}

fn caption(table: &Table, width: f64) -> Vec<Piece> {
    if table.caption.is_empty() {
        return Vec::new();
    }
    let lines = wrap(&Text::strong(&*table.caption), width, BODY);
    let piece = |(i, line): (usize, &Line)| Piece {
        before: if i == 0 { BEFORE } else { 0.0 },
        height: LEADING,
        marks: line_marks(line, 0.0, baseline(BODY, LEADING), BODY),
        keep: true,
        ..Piece::default()
    };
    lines.iter().enumerate().map(piece).collect()
}

fn weight(strong: bool) -> Weight {
    if strong {
        Weight::Semibold
    } else {
        Weight::Regular
    }
}

/// Left edge and width of each column, mm. Numbers keep their width; what is left is shared out among the words.
fn widths(table: &Table, width: f64) -> Vec<(f64, f64)> {
    let n = table.columns.len();
    let room = width - GUTTER * (n - 1) as f64;
    let measured: Vec<(f64, f64)> = (0..n).map(|i| measure(table, i)).collect();
    let natural: f64 = measured.iter().map(|m| m.1).sum();
    let shared: Vec<f64> = if natural <= room {
        // Words take what is over, and the first column of words takes it all.
        let words = table.columns.iter().position(|c| c.side == Side::Left);
        let wide = |(i, m): (usize, &(f64, f64))| {
            m.1 + if Some(i) == words {
                room - natural
            } else {
                0.0
            }
        };
        measured.iter().enumerate().map(wide).collect()
    } else {
        squeezed(&measured, room)
    };
    let mut x = 0.0;
    let mut out = Vec::with_capacity(n);
    for w in shared {
        out.push((x, w));
        x += w + GUTTER;
    }
    out
}

/// Every column its longest word, and the rest of the room in proportion to what each would take beyond it.
fn squeezed(measured: &[(f64, f64)], room: f64) -> Vec<f64> {
    let least: f64 = measured.iter().map(|m| m.0).sum();
    let wanted: f64 = measured.iter().map(|m| m.1 - m.0).sum();
    if least >= room || wanted <= 0.0 {
        let each = room / least.max(1e-9);
        return measured.iter().map(|m| m.0 * each).collect();
    }
    let share = (room - least) / wanted;
    measured.iter().map(|m| m.0 + (m.1 - m.0) * share).collect()
}

/// Widest word and widest cell of a column, mm. Cells of numbers are not broken.
fn measure(table: &Table, column: usize) -> (f64, f64) {
    /// No single word asks for more of the page than this, mm.
    const WIDEST_WORD: f64 = 60.0;
    let side = table.columns[column].side;
    let head = (table.columns[column].head.as_str(), true);
    let cells = table
        .rows
        .iter()
        .filter_map(|row| Some((row.cells.get(column)?.as_str(), row.total)));
    let mut out: (f64, f64) = (0.0, 0.0);
    for (i, (text, strong)) in std::iter::once(head).chain(cells).enumerate() {
        let width = |t: &str| font::text_width(t, BODY, weight(strong));
        let whole = width(text);
        let word = if side == Side::Right && i > 0 {
            whole
        } else {
            text.split(' ').map(width).fold(0.0, f64::max)
        };
        out = (out.0.max(word.min(WIDEST_WORD)), out.1.max(whole));
    }
    (out.0, out.1.max(out.0))
}

/// The lines of a row's cells.
fn cells(row: &[(&str, bool)], columns: &[(f64, f64)]) -> Vec<Vec<Line>> {
    row.iter()
        .zip(columns)
        .map(|((text, strong), (_, width))| {
            let text = if *strong {
                Text::strong(*text)
            } else {
                (*text).into()
            };
            // A hair more than measured, so that rounding breaks no cell that fits.
            wrap(&text, width + 1e-6, BODY)
        })
        .collect()
}

/// Marks of the lines `from..to` of a row's cells, the first `top` below the piece's top.
fn cell_marks(
    table: &Table,
    cells: &[Vec<Line>],
    columns: &[(f64, f64)],
    (from, to): (usize, usize),
    top: f64,
) -> Vec<Mark> {
    let mut marks = Vec::new();
    for ((column, (x, width)), lines) in table.columns.iter().zip(columns).zip(cells) {
        for (n, line) in lines.iter().enumerate().take(to).skip(from) {
            let y = top + (n - from) as f64 * TABLE_LEADING + baseline(BODY, TABLE_LEADING);
            match column.side {
                Side::Left => marks.extend(line_marks(line, *x, y, BODY)),
                Side::Right => marks.extend(right_marks(line, x + width, y)),
            }
        }
    }
    marks.retain(|mark| !matches!(mark, Mark::Text(t) if t.text.is_empty()));
    marks
}

fn right_marks(line: &Line, right: f64, y: f64) -> Vec<Mark> {
    let mut marks = line_marks(line, right, y, BODY);
    for mark in &mut marks {
        if let Mark::Text(text) = mark {
            text.align = Align::End;
            text.at.x = right;
        }
    }
    marks
}

fn head(table: &Table, columns: &[(f64, f64)], width: f64) -> Piece {
    let texts: Vec<(&str, bool)> = table.columns.iter().map(|c| (&*c.head, true)).collect();
    let cells = cells(&texts, columns);
    let n = cells.iter().map(Vec::len).max().unwrap_or(1);
    let height = n as f64 * TABLE_LEADING + 2.0 * PADDING;
    let mut marks = cell_marks(table, &cells, columns, (0, n), PADDING);
    marks.push(rule(0.0, width, height, 0.35, BLACK));
    Piece {
        height,
        marks,
        ..Piece::default()
    }
}

/// A row as one piece; only one that is taller than `most` mm is broken, between lines.
fn row(table: &Table, row: &Row, columns: &[(f64, f64)], width: f64, most: f64) -> Vec<Piece> {
    let texts: Vec<(&str, bool)> = row.cells.iter().map(|c| (&**c, row.total)).collect();
    let cells = cells(&texts, columns);
    let n = cells.iter().map(Vec::len).max().unwrap_or(1);
    let fitting = (((most - 2.0 * PADDING) / TABLE_LEADING).floor() as usize).max(1);
    let mut out = Vec::new();
    let mut from = 0;
    while from < n {
        let to = (from + fitting).min(n);
        let height = (to - from) as f64 * TABLE_LEADING + 2.0 * PADDING;
        let mut marks = cell_marks(table, &cells, columns, (from, to), PADDING);
        if row.total {
            marks.push(rule(0.0, width, 0.0, 0.35, BLACK));
        }
        marks.push(rule(0.0, width, height, 0.18, RULE));
        out.push(Piece {
            height,
            marks,
            ..Piece::default()
        });
        from = to;
    }
    out
}
