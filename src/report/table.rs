//! Tables for a terminal or a page of plain text: two spaces between columns and one thin rule
//! under the heads, which reads on paper, in a message and on a small screen alike.

use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle,
};

/// A space inside a number: a mixed fraction must not be broken over two lines.
const HARD_SPACE: &str = "\u{a0}";

/// How a column is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// A name, to the left, never broken.
    Left,
    /// A number, to the right, never broken.
    Right,
    /// Words, to the left, broken over lines where the page is too narrow.
    Wrap,
}

/// A table being filled.
pub struct Rows {
    columns: Vec<(&'static str, Align)>,
    rows: Vec<Vec<String>>,
    total: bool,
}

impl Rows {
    /// A table with these heads; where all are empty no head is printed.
    pub fn new(columns: &[(&'static str, Align)]) -> Self {
        Self { columns: columns.to_vec(), rows: Vec::new(), total: false }
    }

    /// Adds a row.
    pub fn push(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().collect());
    }

    /// Adds the last row, set off by a rule.
    pub fn total(&mut self, cells: impl IntoIterator<Item = String>) {
        self.push(cells);
        self.total = true;
    }

    /// Whether nothing was added.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// How many rows there are.
    pub fn count(&self) -> usize {
        self.rows.len()
    }

    /// The same without columns that have nothing but a head.
    pub fn without_empty_columns(&self) -> Self {
        let used =
            |i: &usize| self.rows.iter().any(|row| row.get(*i).is_some_and(|c| !c.is_empty()));
        let kept: Vec<usize> = (0..self.columns.len()).filter(used).collect();
        let cells = |row: &Vec<String>| kept.iter().filter_map(|&i| row.get(i).cloned()).collect();
        Self {
            columns: kept.iter().map(|&i| self.columns[i]).collect(),
            rows: self.rows.iter().map(cells).collect(),
            total: self.total,
        }
    }

    /// Whether the table can be laid out in this width: its longest line without broken words.
    pub fn fits(&self, width: u16) -> bool {
        let longest = self.lines(width).iter().map(|line| line.chars().count()).max();
        longest.unwrap_or(0) <= usize::from(width)
    }

    /// The lines, at most `width` characters long where its words can be broken that far.
    pub fn lines(&self, width: u16) -> Vec<String> {
        let mut lines: Vec<String> = self.laid_out(width).lines().map(|l| tidy(&l)).collect();
        if self.total {
            rule_over_last_row(&mut lines, self.rows.last());
        }
        lines
    }

    fn laid_out(&self, width: u16) -> Table {
        let mut table = Table::new();
        table
            .load_style(
                TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─')),
            )
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(width);
        if self.columns.iter().any(|(head, _)| !head.is_empty()) {
            let heads = self.columns.iter().map(|&(head, align)| cell(head, align));
            table.set_header(heads);
        }
        for row in &self.rows {
            let cells = row.iter().zip(&self.columns);
            table.add_row(cells.map(|(text, &(_, align))| cell(text, align)));
        }
        let last = self.columns.len().saturating_sub(1);
        for (i, &(_, align)) in self.columns.iter().enumerate() {
            if let Some(column) = table.column_mut(i) {
                column.set_padding((0, if i == last { 0 } else { 1 }));
                if align != Align::Wrap {
                    column.set_constraint(ColumnConstraint::ContentWidth);
                }
            }
        }
        table
    }
}

fn cell(text: &str, align: Align) -> Cell {
    match align {
        Align::Wrap => Cell::new(text),
        Align::Left => Cell::new(text.replace(' ', HARD_SPACE)),
        Align::Right => {
            Cell::new(text.replace(' ', HARD_SPACE)).set_alignment(CellAlignment::Right)
        }
    }
}

fn tidy(line: &str) -> String {
    line.replace(HARD_SPACE, " ").trim_end().to_owned()
}

/// Puts the rule from under the heads once more over the last row.
fn rule_over_last_row(lines: &mut Vec<String>, last: Option<&Vec<String>>) {
    let is_rule = |line: &&String| line.starts_with('─');
    let rule = lines.iter().find(is_rule).cloned();
    let first_cell = last.and_then(|row| row.first());
    if let (Some(rule), Some(first_cell)) = (rule, first_cell)
        && let Some(at) =
            lines.iter().rposition(|line| line.trim_start().starts_with(first_cell.as_str()))
    {
        lines.insert(at, rule);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Rows {
        let mut rows =
            Rows::new(&[("Joint", Align::Left), ("Length", Align::Right), ("Note", Align::Wrap)]);
        rows.push(["J1", "24'-0 1/2\"", "strip broke off in the middle third"].map(str::to_owned));
        rows.push(["J12", "3'-0\"", ""].map(str::to_owned));
        rows
    }

    #[test]
    fn columns_are_aligned_under_one_rule() {
        assert_eq!(
            table().lines(80),
            [
                "Joint      Length  Note",
                "──────────────────────────────────────────────────────",
                "J1     24'-0 1/2\"  strip broke off in the middle third",
                "J12         3'-0\"",
            ]
        );
    }

    #[test]
    fn only_words_are_broken_on_a_narrow_page() {
        let lines = table().lines(40);
        assert!(lines.iter().all(|line| line.chars().count() <= 40), "{lines:#?}");
        assert!(lines.iter().any(|line| line.contains("24'-0 1/2\"")), "{lines:#?}");
        assert!(lines.len() > 4, "{lines:#?}");
    }

    #[test]
    fn a_total_stands_under_a_rule_of_its_own() {
        let mut rows = table();
        rows.total(["Total", "27'-0 1/2\"", ""].map(str::to_owned));
        let lines = rows.lines(80);
        assert_eq!(lines.len(), 6);
        assert!(lines[4].starts_with('─'));
        assert!(lines[5].starts_with("Total  27'-0 1/2\""));
    }
}
