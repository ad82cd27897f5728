//! Tables of two times by slab temperature: recoat windows and cure.

use super::Pass;
use crate::form::Fields;
use crate::quantity::{Span, read};
use crate::shop::Times;
use crate::yaml::Node;

/// No coat stays open or cures for a year, s.
const YEAR_S: f64 = 366.0 * 86_400.0;

impl Pass<'_> {
    /// Reads the table behind a key; no table is an empty one.
    pub(super) fn times(&mut self, fields: &Fields, key: &str) -> Option<Vec<Times>> {
        self.rows(fields, key, false)
    }

    /// Reads a table whose rows may end after the first time: nothing comes too late.
    pub(super) fn waits_table(&mut self, fields: &Fields, key: &str) -> Option<Vec<Times>> {
        let rows = self.rows(fields, key, true)?;
        let open = rows.iter().filter(|row| row.last.s().is_infinite()).count();
        if open == 0 || open == rows.len() {
            return Some(rows);
        }
        let message = format!("some rows of `{key}` have one time and some have two");
        let hint = "give every row the same: [70 F, 20 min], or [70 F, 20 min, 3 h] where it can be too late";
        self.reader.error("unreadable", fields.key_place(key), message, hint);
        None
    }

    fn rows(&mut self, fields: &Fields, key: &str, one: bool) -> Option<Vec<Times>> {
        let Some(node) = fields.get(key) else {
            return Some(Vec::new());
        };
        let rows = self.reader.list(Some(node), key);
        let read: Vec<Option<Times>> =
            rows.iter().map(|row| self.times_row(row, key, one)).collect();
        let rows = read.into_iter().collect::<Option<Vec<_>>>()?;
        if rows.windows(2).any(|pair| pair[0].at >= pair[1].at) {
            let message = format!("the rows of `{key}` are out of order");
            let hint = "rows run from cold to warm, each temperature once";
            self.reader.error("out-of-order", node.place, message, hint);
            return None;
        }
        Some(rows)
    }

    fn times_row(&mut self, node: &Node, key: &str, one: bool) -> Option<Times> {
        if let (true, Some([at, first])) = (one, node.items()) {
            let at = self.reader.temperature(at, "the temperature of the slab");
            let first = self.reader.quantity(first, "the first time", "a time", read::span);
            let (at, first) = (at?.value, first?.value);
            self.believable(node, key, first.s(), first.s())?;
            return Some(Times { at, first, last: Span::from_s(f64::INFINITY) });
        }
        let Some([at, first, last]) = node.items() else {
            let hint = "write a row as [70 F, 8 h, 24 h]";
            let what = format!("a row of `{key}`");
            self.reader.wrong_type(node, &what, "a temperature and two times", hint);
            return None;
        };
        let at = self.reader.temperature(at, "the temperature of the slab");
        let first = self.reader.quantity(first, "the first time", "a time", read::span);
        let last = self.reader.quantity(last, "the second time", "a time", read::span);
        let row = Times { at: at?.value, first: first?.value, last: last?.value };
        self.believable(node, key, row.first.s(), row.last.s())?;
        if row.first > row.last {
            let message = match key {
                "recoat" => "the window closes before it opens".to_owned(),
                _ => format!("the second time of `{key}` is before the first"),
            };
            let hint = "give the earlier time first: [70 F, 8 h, 24 h]";
            self.reader.error("out-of-order", node.place, message, hint);
            return None;
        }
        Some(row)
    }
    fn believable(&mut self, node: &Node, key: &str, first_s: f64, last_s: f64) -> Option<()> {
        if first_s >= 0.0 && last_s <= YEAR_S {
            return Some(());
        }
        let message = format!("a time of `{key}` is beyond belief");
        let hint = "times lie between 0 h and 366 d";
        self.reader.error("beyond-belief", node.place, message, hint);
        None
    }
}
