//! Rows of heights with their flatness, and low spots where water is likely to stand.

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::write;
use crate::slab::LevelRow;
use crate::takeoff::{Flatness, LevelReport, LowSpot};

use super::{Drawing, layer};
use crate::paper::clear::Slip;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, by, lerp};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;

/// Half a tick at a reading of a row, mm of paper.
const TICK: f64 = 0.8;
/// Radius of the ring around a low spot, mm of paper.
const LOW: f64 = 2.3;

/// A row of readings: a thin line with a tick at each.
#[must_use]
pub fn row_marks(points: &[PaperPoint]) -> Vec<Mark> {
    let (Some(&a), Some(&b)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    vec![draw::line(a, b, style::FINE), draw::lines(&row_ticks(points), style::FINE)]
}

fn row_ticks(points: &[PaperPoint]) -> Vec<Vec<PaperPoint>> {
    let (Some(&a), Some(&b)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let across = (b - a).unit().left() * TICK;
    let ticks = points.iter().map(|&p| vec![p + across, p + (-across)]);
    ticks.collect()
}

/// A place likely to pond: a ring of short dashes.
#[must_use]
pub fn low_mark(p: PaperPoint) -> Mark {
    draw::lines(&low_dashes(p), style::OBJECT)
}

fn low_dashes(p: PaperPoint) -> Vec<Vec<PaperPoint>> {
    let n = 8;
    let arc = |i: i32| {
        let at = |share: f64| {
            let angle = (f64::from(i) + share) / f64::from(n) * std::f64::consts::TAU;
            p + by(angle.cos() * LOW, angle.sin() * LOW)
        };
        vec![at(0.0), at(0.3), at(0.6)]
    };
    (0..n).map(arc).collect()
}

/// Flatness and levelness of a row as they are written.
#[must_use]
pub fn flatness_words(row: &Flatness) -> String {
    let one =
        |name: &str, value: Option<f64>| value.map(|v| format!("{name} {}", write::fixed(v, 0)));
    [one("FF", row.ff), one("FL", row.fl)].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

impl<'a> Drawing<'a> {
    fn row_points(&self, row: &LevelRow) -> Vec<PaperPoint> {
        let mut station = 0.0;
        let mut out = Vec::new();
        for _ in &row.heights_m {
            out.push(self.view.point(row.from + row.direction * station));
            station += row.spacing_m;
        }
        out
    }

    pub(super) fn level_rows(&mut self) -> Group {
        let slab = self.inputs.slab;
        let mut groups = Vec::new();
        for row in &slab.level_rows {
            let points = self.row_points(row);
            self.used.insert(Symbol::Row);
            self.clear.add_line(&points);
            for tick in row_ticks(&points) {
                self.clear.add_soft(&tick);
            }
            groups.push(draw::group("", "level-row", row_marks(&points)));
        }
        for low in self.found().flat_map(|levels| &levels.ponding) {
            self.used.insert(Symbol::Low);
            let p = self.view.point(low.level.at);
            self.clear.add(Slip::upright(&Box2::around(p, 2.0 * LOW, 2.0 * LOW)));
            for dash in low_dashes(p) {
                self.clear.add_soft(&dash);
            }
            let mut group = draw::group("", "low-spot", vec![low_mark(p)]);
            group.title = "Water is likely to stand here".into();
            groups.push(group);
        }
        layer("levels", groups)
    }

    /// What was found of the heights, where some were taken.
    fn found(&self) -> std::option::Iter<'a, LevelReport> {
        self.inputs.takeoff.levels.iter()
    }

    /// Flatness beside its row, depth beside a low spot.
    pub(super) fn level_texts(&mut self) {
        for (row, found) in self.found().flat_map(|levels| &levels.rows) {
            let text = flatness_words(found);
            let points = self.row_points(row);
            let (Some(&a), Some(&b)) = (points.first(), points.last()) else {
                continue;
            };
            if text.is_empty() {
                continue;
            }
            let along = (b - a).unit();
            let type_ = style::body();
            let places: Vec<Label> = [0.5, 0.3, 0.7, 0.15, 0.85]
                .into_iter()
                .flat_map(|s| [1.0, -1.0].map(|side| (s, side)))
                .map(|(s, side)| {
                    let off = along.left() * (side * (TICK + 1.0 + type_.cap() / 2.0));
                    Label::centered(lerp(a, b, s) + off, &text, type_, along)
                })
                .collect();
            self.put_beside("", 0.3, places);
        }
        self.low_texts();
    }

    fn low_texts(&mut self) {
        for LowSpot { level, below_m, .. } in self.found().flat_map(|levels| &levels.ponding) {
            let text = format!("LOW {}", self.small(*below_m));
            let p = self.view.point(level.at);
            let type_ = style::body();
            let half = words::width(&text, type_) / 2.0;
            let places: Vec<Label> = [
                (half + LOW + 0.8, 0.0),
                (-half - LOW - 0.8, 0.0),
                (0.0, LOW + 2.4),
                (0.0, -LOW - 2.4),
                (half, LOW + 2.4),
                (-half, LOW + 2.4),
                (half, -LOW - 2.4),
                (-half, -LOW - 2.4),
                (half + LOW + 3.0, 4.0),
                (-half - LOW - 3.0, 4.0),
            ]
            .into_iter()
            .map(|(dx, dy)| Label::level(p + by(dx, dy), &text, type_))
            .collect();
            self.put_label("", 0.3, places);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flatness_is_written_as_far_as_it_is_known() {
        let row = |ff, fl| flatness_words(&Flatness { ff, fl });
        assert_eq!(row(Some(48.3), Some(114.5)), "FF 48 FL 115");
        assert_eq!(row(Some(25.4), None), "FF 25");
        assert_eq!(row(None, None), "");
    }
}
