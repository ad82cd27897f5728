//! Tables on paper: widths of columns, rows that are not broken, a head on every page.

use std::rc::Rc;

use crate::flow::Piece;
use crate::flow::table::{Band, Grid, Place, Side, measured, squeezed};
use crate::ink::{BLACK, Weight};
use crate::paper::text::{Setting, Text};

use super::lay::{lines, piece};
use super::page::{BODY, RULE, TABLE_LEADING, TEXT, thin};
use super::{Column, Table};

/// Space between columns, mm.
const GUTTER: f64 = 5.0;
/// Space above and below the words of a row, mm.
const PADDING: f64 = 0.5;
/// Space above a table, mm.
const BEFORE: f64 = 2.4;

pub(super) fn lay(table: &Table, width: f64, height: f64) -> Vec<Piece> {
    if table.columns.is_empty() {
        return Vec::new();
    }
    let grid = Grid { places: places(table, width), width, set: Setting::new(BODY, TABLE_LEADING) };
    let heads = table.columns.iter().map(|c| (&*c.head, true));
    let mut band =
        Band { air: (PADDING, PADDING), under: Some(thin(0.35, BLACK)), ..Band::default() };
    let (marks, tall) = grid.row(&cells(heads), &band);
    let head = Rc::new(piece(tall, marks));
    let mut out = lines(&Text::strong(&*table.caption), width, &TEXT);
    out.iter_mut().for_each(|line| line.keep = true);
    band.under = Some(thin(0.18, RULE));
    let n = table.rows.len();
    for (i, row) in table.rows.iter().enumerate() {
        band.over = row.total.then_some(thin(0.35, BLACK));
        let texts = cells(row.cells.iter().map(|c| (&**c, row.total)));
        let parts = grid.parts(&texts, &band, height - tall);
        out.extend(
            parts
                .into_iter()
                .map(|(marks, tall)| Piece { head: Some(Rc::clone(&head)), ..piece(tall, marks) }),
        );
        // Two rows at least on either side of a break, and a total with what it adds up.
        let next_is_total = table.rows.get(i + 1).is_some_and(|r| r.total);
        if let Some(last) = out.last_mut() {
            last.keep = i + 1 < n && (i == 0 || i + 2 == n || next_is_total || table.whole);
        }
    }
    if n == 0 {
        out.push(Piece::clone(&head));
    }
    if let Some(first) = out.first_mut() {
        first.before = BEFORE;
    }
    out
}

fn cells<'t>(texts: impl Iterator<Item = (&'t str, bool)>) -> Vec<Text> {
    let text = |(text, strong)| Text::of(text, weight(strong));
    texts.map(text).collect()
}

fn weight(strong: bool) -> Weight {
    if strong { Weight::Semibold } else { Weight::Regular }
}

/// Where the columns stand. Numbers keep their width; what is left is shared out among the words.
fn places(table: &Table, width: f64) -> Vec<Place> {
    let n = table.columns.len();
    let room = width - GUTTER * (n - 1) as f64;
    let measured: Vec<(f64, f64)> = (0..n).map(|i| measure(table, i)).collect();
    let natural: f64 = measured.iter().map(|m| m.1).sum();
    let shared: Vec<f64> = if natural <= room {
        // Words take what is over, and the first column of words takes it all.
        let words = table.columns.iter().position(|c| c.side == Side::Left);
        let wide = |(i, m): (usize, &(f64, f64))| {
            m.1 + if Some(i) == words { room - natural } else { 0.0 }
        };
        measured.iter().enumerate().map(wide).collect()
    } else {
        squeezed(&measured, room)
    };
    let mut left = 0.0;
    let place = |(width, column): (f64, &Column)| {
        let place = Place { left, width, side: column.side, down: 0 };
        left += width + GUTTER;
        place
    };
    shared.into_iter().zip(&table.columns).map(place).collect()
}

/// Widest word and widest cell of a column, mm. Cells of numbers are not broken.
fn measure(table: &Table, column: usize) -> (f64, f64) {
    let Column { head, side } = &table.columns[column];
    let head = measured([(&**head, Weight::Semibold)], BODY, true);
    let cells = table
        .rows
        .iter()
        .filter_map(|row| Some((row.cells.get(column)?.as_str(), weight(row.total))));
    let cells = measured(cells, BODY, *side == Side::Left);
    (head.0.max(cells.0), head.1.max(cells.1))
}
