//! A CSV table whose cells no spreadsheet takes for a formula.

use crate::text::{cell, clean};

/// A table under way.
pub(crate) struct Table(csv::Writer<Vec<u8>>);

impl Table {
    /// A table with its head.
    pub(crate) fn new(head: &[&str]) -> Self {
        let writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::Any(b'\n'))
            .from_writer(Vec::new());
        let mut table = Self(writer);
        table.row(head);
        table
    }

    pub(crate) fn row(&mut self, cells: &[&str]) {
        // Writing to memory has no way to fail.
        self.0.write_record(cells.iter().map(|text| safe(text))).ok();
    }

    /// The whole text.
    pub(crate) fn done(self) -> String {
        let bytes = self.0.into_inner().unwrap_or_default();
        String::from_utf8_lossy(&bytes).into_owned()
    }
}

/// A number stays a number, also a negative one; any other cell that would start a formula gets a
/// mark in front.
fn safe(text: &str) -> String {
    let plain = clean(text);
    if plain.parse::<rust_decimal::Decimal>().is_ok() {
        return plain;
    }
    cell(&plain)
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
}
