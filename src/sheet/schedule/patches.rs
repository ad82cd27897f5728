//! The schedules of patches and spalls, and of delaminations.

use std::collections::BTreeMap;

use crate::slab::{Delamination, Item, Spall};
use crate::takeoff::{DelaminationWork, Patch, SpallRepair};

use super::rows::{Rows, left, note, right, sentences};
use super::{Row, Table};
use crate::paper::words;

impl Rows<'_> {
    pub(super) fn patches(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let items = slab.by_id();
        let patch = |patch| self.patch(patch, &items);
        let mut rows: Vec<Row> = takeoff.patches.iter().map(patch).collect();
        for (spall, work) in takeoff.spalls_of(slab) {
            match &work.repair {
                SpallRepair::Patch { .. } => {}
                SpallRepair::Leave => rows.push(self.spall(spall, "leave", 0.0)),
                SpallRepair::Skim { volume_l, .. } => {
                    rows.push(self.spall(spall, "skim", *volume_l));
                }
                SpallRepair::WithJoint { id, volume_l, .. } => {
                    rows.push(self.spall(spall, &format!("fill with {id}"), *volume_l));
                }
            }
        }
        Table {
            title: "PATCHES AND SPALLS".into(),
            columns: vec![
                left("TAG"),
                left("SIZE"),
                left("DEPTH"),
                left("REPAIR"),
                right("MORTAR"),
            ],
            rows,
            total: vec![
                "ALL".into(),
                String::new(),
                String::new(),
                String::new(),
                self.volume(takeoff.totals.patch_l),
            ],
            words_head: "WHERE",
        }
    }

    /// Delaminations that lie in no patch: of the others it has the row.
    pub(super) fn delaminations(&self) -> Table {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let lone = takeoff.delaminations_of(slab).filter(|(_, work)| !work.in_patch());
        let row = |(record, work): (&Delamination, &DelaminationWork)| {
            let (how, ports, resin_l) = match work.injection() {
                Some(injection) => ("inject", injection.ports.to_string(), injection.resin_l),
                None => ("leave", String::new(), 0.0),
            };
            let assumed = if work.assumed { "depth assumed" } else { "" };
            Row {
                id: work.id.clone(),
                cells: vec![
                    work.id.clone(),
                    self.size(&record.shape),
                    self.small(work.depth_m),
                    how.into(),
                    ports,
                    self.volume(resin_l),
                ],
                words: sentences(&[
                    &self.shape_at(&record.shape, &record.id),
                    assumed,
                    &note(record.note.as_deref()),
                ]),
                ..Row::default()
            }
        };
        Table {
            title: "HOLLOW SPOTS (DELAMINATIONS)".into(),
            columns: vec![
                left("TAG"),
                left("SIZE"),
                left("DEPTH"),
                left("REPAIR"),
                right("PORTS"),
                right("RESIN"),
            ],
            rows: lone.map(row).collect(),
            total: vec![
                "ALL".into(),
                String::new(),
                String::new(),
                String::new(),
                takeoff.totals.ports.to_string(),
                self.volume(takeoff.totals.inject_l),
            ],
            words_head: "WHERE",
        }
    }

    fn patch(&self, patch: &Patch, items: &BTreeMap<&str, Item<'_>>) -> Row {
        let ids: Vec<&str> = patch.ids().collect();
        let notes = ids.iter().filter_map(|id| items.get(id)?.note());
        let notes: Vec<String> = notes.map(words::clean).collect();
        let at =
            format!("{}: middle {}", ids.join(", "), self.locator.point(patch.rect.center, ""));
        Row {
            id: patch.id.clone(),
            cells: vec![
                patch.id.clone(),
                self.sides(patch.length_m, patch.width_m),
                self.small(patch.depth_mm / 1000.0),
                "cut out".into(),
                self.volume(patch.volume_l),
            ],
            words: sentences(&[&at, &notes.join(". ")]),
            ..Row::default()
        }
    }

    fn spall(&self, spall: &Spall, repair: &str, volume_l: f64) -> Row {
        Row {
            id: spall.id.clone(),
            cells: vec![
                spall.id.clone(),
                self.size(&spall.shape),
                self.small(spall.depth),
                repair.into(),
                self.volume(volume_l),
            ],
            words: sentences(&[
                &self.shape_at(&spall.shape, &spall.id),
                &note(spall.note.as_deref()),
            ]),
            ..Row::default()
        }
    }
}
