//! The schedule of steps.

use crate::quantity::write;
use crate::takeoff::LippageWork;

use super::rows::{Rows, left, note, right, sentences};
use super::{Row, Table};
use crate::sheet::plan::has_length;

impl Rows<'_> {
    pub(super) fn steps(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let rows = takeoff.steps_of(slab).map(|(l, w)| self.step(l, w)).collect();
        let t = &takeoff.totals;
        Table {
            title: "OFFSETS TAKEN DOWN BY HAND".into(),
            columns: vec![
                left("TAG"),
                left("OFFSET UP TO"),
                left("HIGH SIDE"),
                right(self.run_unit()),
                right("BAND"),
            ],
            rows,
            total: vec![
                "ALL".into(),
                String::new(),
                String::new(),
                self.run(t.hand_grind_m),
                write::area(t.hand_grind_m2, self.units()),
            ],
            words_head: "WHERE",
        }
    }

    fn step(&self, step: &crate::slab::Lippage, work: &LippageWork) -> Row {
        let path = &step.path;
        let along = path.direction_at(path.length() / 2.0);
        let high = match step.high {
            crate::sketch::Hand::Left => kurbo::Vec2::new(-along.y, along.x),
            crate::sketch::Hand::Right => kurbo::Vec2::new(along.y, -along.x),
        };
        let side = if high.x.abs() > high.y.abs() {
            if high.x > 0.0 { "E" } else { "W" }
        } else if high.y > 0.0 {
            "N"
        } else {
            "S"
        };
        let stretches: Vec<(f64, f64)> =
            work.stretches.iter().filter(|s| has_length(s)).map(|s| (s.from_m, s.to_m)).collect();
        let stretches = joined(&stretches);
        let at = self.locator.along(path, step.along.as_deref(), &stretches);
        let low = if stretches.is_empty() { "Low enough for the machine" } else { "" };
        Row {
            id: step.id.clone(),
            cells: vec![
                step.id.clone(),
                self.small(work.max_step_mm / 1000.0),
                side.into(),
                self.run_or_blank(work.hand_length_m),
                if work.hand_area_m2 > 0.0 {
                    write::area(work.hand_area_m2, self.units())
                } else {
                    String::new()
                },
            ],
            words: sentences(&[&at, low, &note(step.note.as_deref())]),
            ..Row::default()
        }
    }
}

/// Stretches that follow each other without a gap, as one.
fn joined(stretches: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = Vec::new();
    for &(from, to) in stretches {
        match out.last_mut() {
            Some(last) if from - last.1 < 1e-3 => last.1 = to,
            _ => out.push((from, to)),
        }
    }
    out
}
