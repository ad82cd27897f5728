//! A CSV table whose cells no spreadsheet takes for a formula.

use std::fmt::Display;

use crate::text::cell;

/// A table under way.
pub(crate) struct Table {
    head: &'static [&'static str],
    writer: csv::Writer<Vec<u8>>,
}

impl Table {
    /// A table with its head.
    pub(crate) fn new(head: &'static [&'static str]) -> Self {
        let writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::Any(b'\n'))
            .from_writer(Vec::new());
        let mut table = Self { head, writer };
        table.record(head.iter().map(|name| (*name).to_owned()));
        table
    }

    /// Adds a row that has a cell in every column.
    pub(crate) fn row(&mut self, cells: &[&dyn Display]) {
        self.record(cells.iter().map(|cell| safe(&cell.to_string())));
    }

    /// Adds a row of cells by the names of their columns: what it shares with others, and what is its own. The other columns are empty.
    pub(crate) fn some(&mut self, shared: &[Cell], own: &[Cell]) {
        let cells = || shared.iter().chain(own);
        let head = self.head;
        debug_assert!(cells().all(|(name, _)| head.contains(name)), "a column that is not there");
        let of = |name: &&str| {
            let mut named = cells().filter(|(column, _)| column == name);
            named.next().map_or(String::new(), |(_, cell)| safe(&cell.to_string()))
        };
        self.record(head.iter().map(of));
    }

    fn record(&mut self, cells: impl Iterator<Item = String>) {
        // Writing to memory has no way to fail.
        self.writer.write_record(cells.map(String::into_bytes)).ok();
    }

    /// The whole text.
    pub(crate) fn done(self) -> String {
        let bytes = self.writer.into_inner().unwrap_or_default();
        String::from_utf8_lossy(&bytes).into_owned()
    }
}

/// A cell with the name of its column.
pub(crate) type Cell<'a> = (&'static str, &'a dyn Display);

/// What there may be nothing of, as a cell.
pub(crate) fn or_empty(value: Option<impl Display>) -> String {
    value.map_or(String::new(), |value| value.to_string())
}

/// A number stays a number, also a negative one; any other cell that would start a formula gets a
/// mark in front.
fn safe(text: &str) -> String {
    match text.parse::<rust_decimal::Decimal>() {
        Ok(_) => text.to_owned(),
        Err(_) => cell(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_defused_and_credits_stay_numbers() {
        for (cell, want) in
            [("-12.50", "-12.50"), ("=1+2", "'=1+2"), ("-SUM(A1)", "'-SUM(A1)"), ("joint", "joint")]
        {
            assert_eq!(safe(cell), want);
        }
    }

    #[test]
    fn cells_stand_in_their_columns() {
        let mut table = Table::new(&["row", "item", "amount"]);
        table.row(&[&"item", &"J1", &-2]);
        table.some(&[("row", &"sum")], &[("amount", &or_empty(Some(12)))]);
        table.some(&[], &[]);
        assert_eq!(table.done(), "row,item,amount\nitem,J1,-2\nsum,,12\n,,\n");
    }
}
