//! The schedule of cracks, a line for each portion.

use crate::sketch::Movement;
use crate::slab::Crack;
use crate::takeoff::{CrackPortion, CrackRepair, CrackWork};
use crate::trade::words::OFFSET;

use super::rows::{Rows, left, note, right, sentences, tagged};
use super::{Row, Table};

impl Rows<'_> {
    pub(super) fn cracks(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let rows = takeoff.cracks_of(slab).flat_map(|(c, w)| self.crack(c, w)).collect();
        Table {
            title: "CRACKS".into(),
            columns: vec![left("TAG"), left("WIDTH"), left("REPAIR"), right(self.run_unit())],
            rows,
            total: vec![
                "ALL".into(),
                String::new(),
                String::new(),
                self.run(takeoff.totals.crack_m),
            ],
            words_head: "WHERE",
        }
    }

    fn crack(&self, crack: &Crack, work: &CrackWork) -> Vec<Row> {
        let moves = match crack.movement {
            Movement::Active => "MOVES",
            Movement::Unknown => "movement unknown",
            Movement::Dormant => "",
        };
        let step = crack
            .step
            .filter(|s| *s > 0.0)
            .map_or(String::new(), |s| format!("{OFFSET} {}", self.small(s)));
        let at = self.ends(&crack.path, &crack.on_slab, &crack.id);
        let about = sentences(&[&at, moves, &step, &note(crack.note.as_deref())]);
        let mut rows: Vec<Row> = work.portions.iter().map(|p| self.portion(crack, p)).collect();
        if rows.is_empty() {
            rows.push(Row {
                cells: vec![String::new(), String::new(), "none".into(), self.run(work.length_m)],
                ..Row::default()
            });
        }
        // The first row carries the tag; the words stand under the last, so that they close the item.
        if let Some(first) = rows.first_mut() {
            first.id = tagged(&crack.id, &crack.on_slab);
            first.cells[0].clone_from(&crack.id);
        }
        let n = rows.len();
        for row in rows.iter_mut().take(n.saturating_sub(1)) {
            row.more = true;
        }
        if let Some(last) = rows.last_mut() {
            last.words = about;
        }
        rows
    }

    fn portion(&self, crack: &Crack, portion: &CrackPortion) -> Row {
        let width =
            if crack.width_known { self.small(portion.width_m) } else { "not noted".to_owned() };
        let word = portion.treatment().word();
        let cut = match &portion.repair {
            CrackRepair::Chase(groove) => {
                format!("{word} {}", self.pair(groove.width_m, groove.depth_m))
            }
            CrackRepair::Honor(seal) if seal.widen_m > 0.0 => {
                format!("{word}, widen to {}", self.small(seal.width_m))
            }
            _ => word.to_owned(),
        };
        Row { cells: vec![String::new(), width, cut, self.run(portion.length_m)], ..Row::default() }
    }
}
