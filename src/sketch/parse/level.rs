//! Spot heights, and rows of them.

use super::Pass;
use crate::form::Fields;
use crate::record::limits::{COORDINATE, LEVEL};
use crate::sketch::{At, Level, LevelRow, PointForm, Span};
use crate::yaml::Node;

const HINT: &str = "write [x, y, height], {at: POINT, height: -1/2\"} or {from: POINT, to: POINT, heights: [0, 1/8]}";
/// Fewest readings that make a row.
const LEAST_HEIGHTS: usize = 2;

impl Pass<'_> {
    /// Reads the `levels:` part: single heights and rows.
    pub(super) fn levels(&mut self, sketch: &Fields) -> (Vec<Level>, Vec<LevelRow>) {
        let (mut levels, mut rows) = (Vec::new(), Vec::new());
        for node in self.reader.list(sketch.get("levels"), "levels") {
            if node.get("heights").is_some() || node.get("from").is_some() {
                rows.extend(self.level_row(node));
            } else {
                levels.extend(self.level(node));
            }
        }
        (levels, rows)
    }

    fn level(&mut self, node: &Node) -> Option<Level> {
        if let Some([x, y, height]) = node.items() {
            let span = Span { start: x.place.span.start, end: y.place.span.end };
            let x = self.reader.length(x, &COORDINATE);
            let y = self.reader.length(y, &COORDINATE);
            let height = self.reader.length(height, &LEVEL);
            return Some(Level {
                at: At { value: PointForm::Xy(x?.value, y?.value), span },
                height: height?,
            });
        }
        if node.entries().is_none() {
            self.reader.wrong_type(node, "a level", "a place and a height", HINT);
            return None;
        }
        let fields = self.reader.fields(node, "a level", &["at", "height"])?;
        let at = self.reader.required(&fields, "at", "at: [24', 0]");
        let at = at.and_then(|node| self.point(node));
        let height = self.needed_length(&fields, "height", &LEVEL, "height: -1/2\"");
        Some(Level { at: at?, height: height? })
    }

    fn level_row(&mut self, node: &Node) -> Option<LevelRow> {
        let keys = ["from", "to", "heights"];
        let fields = self.reader.fields(node, "a row of levels", &keys)?;
        let from = self.reader.required(&fields, "from", "from: [0, 0]");
        let from = from.and_then(|node| self.point(node));
        let to = self.reader.required(&fields, "to", "to: [24', 0]");
        let to = to.and_then(|node| self.point(node));
        let list = self.reader.required(&fields, "heights", "heights: [0, 1/8, 1/16]")?;
        let entries = self.reader.list(Some(list), "heights");
        let heights: Vec<_> =
            entries.iter().map(|entry| self.reader.length(entry, &LEVEL)).collect();
        let heights = heights.into_iter().collect::<Option<Vec<_>>>()?;
        if heights.len() < LEAST_HEIGHTS {
            let message =
                format!("a row needs at least two heights, and this has {}", heights.len());
            let hint = "write heights: [0, 1/8, 1/16], one every 12 in (300 mm)";
            self.reader.error("levels", list.place, message, hint);
            return None;
        }
        Some(LevelRow { from: from?, to: to?, heights, span: node.place.span })
    }
}
