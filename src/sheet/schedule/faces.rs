//! Vertical faces, and what the heights say: fall, low spots, flatness.

use crate::quantity::write;
use crate::report::text::fall_text;
use crate::slab::Stretch;

use super::rows::{Rows, left, right, sentences};
use super::{Row, Table};
use crate::paper::words;
use crate::sheet::plan::flatness_words;

impl Rows<'_> {
    /// Faces that are coated too. They have no tags: each is found by the words beside its foot.
    pub(super) fn faces(&self) -> Table {
        let slab = self.inputs.slab;
        let rows = slab.faces.iter().map(|face| {
            let length_m = face.path.length();
            let whole = Stretch { from_m: 0.0, to_m: length_m };
            let name = words::clean(face.name.as_deref().unwrap_or(""));
            let radius = |m: f64| format!("cove of {} radius", self.small(m));
            let cove = face.cove_m.map_or(String::new(), radius);
            Row {
                cells: vec![
                    self.small(face.height_m),
                    self.run(length_m),
                    write::area(face.area_m2(), self.units()),
                ],
                words: sentences(&[&name, &cove, &self.ends(&face.path, &[whole], "")]),
                ..Row::default()
            }
        });
        Table {
            title: "FACES COATED TOO".into(),
            columns: vec![left("HEIGHT"), right(self.run_unit()), right("AREA")],
            rows: rows.collect(),
            total: Vec::new(),
            words_head: "WHAT AND WHERE",
        }
    }

    /// Fall, low spots and flatness rows.
    pub(super) fn levels(&self) -> Table {
        let row = |what: String, words: String| Row { cells: vec![what], words, ..Row::default() };
        let mut rows = Vec::new();
        if let Some(levels) = &self.inputs.takeoff.levels {
            if let Some(fall) = levels.fall {
                rows.push(row("fall".into(), capitalized(&fall_text(fall, self.units()))));
            }
            for low in &levels.ponding {
                let at = self.locator.point(low.level.at, "");
                rows.push(row(format!("low {}", self.small(low.below_m)), at));
            }
            for (line, found) in &levels.rows {
                let text = flatness_words(found);
                if !text.is_empty() {
                    rows.push(row(text, self.locator.line(line.from, line.end(), "")));
                }
            }
        }
        Table {
            title: "FALL AND FLATNESS".into(),
            columns: vec![left("WHAT")],
            rows,
            total: Vec::new(),
            words_head: "WHERE",
        }
    }
}

fn capitalized(text: &str) -> String {
    sentences(&[text])
}
