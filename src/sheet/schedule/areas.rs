//! The schedules of areas and obstacles, and of moisture tests.

use crate::quantity::write;
use crate::slab::{Shape, Zone};

use super::super::plan::blemish_name;
use super::rows::{Rows, left, note, sentences};
use super::{Row, Table};

impl Rows<'_> {
    pub(super) fn areas(&self) -> Table {
        let slab = self.inputs.slab;
        let mut rows: Vec<Row> = slab
            .blemishes
            .iter()
            .map(|b| {
                let what = blemish_name(b.what).to_owned();
                self.area(&b.id, what, &b.shape, note(b.note.as_deref()))
            })
            .collect();
        let zone = |z: &Zone, word: &str| {
            self.area(&z.id, word.to_owned(), &z.shape, note(z.what.as_deref()))
        };
        rows.extend(slab.uncoated.iter().map(|z| zone(z, "not coated")));
        rows.extend(
            slab.keep_outs
                .iter()
                .map(|z| zone(z, if z.flush { "flush" } else { "keep off" })),
        );
        Table {
            title: "AREAS AND OBSTACLES".into(),
            columns: vec![left("TAG"), left("WHAT"), left("SIZE")],
            rows,
            total: Vec::new(),
            words_head: "WHERE",
        }
    }

    fn area(&self, id: &str, what: String, shape: &Shape, note: String) -> Row {
        Row {
            id: id.to_owned(),
            cells: vec![id.to_owned(), what, self.size(shape)],
            more: false,
            words: sentences(&[&self.shape_at(shape, id), &note]),
        }
    }

    pub(super) fn tests(&self) -> Table {
        let rows = self.inputs.slab.moisture.iter().map(|t| {
            let rh = t.rh.map(|r| format!("{} RH", write::percent(r)));
            let mver = t.mver.map(|v| format!("{} lb", write::trimmed(v, 2)));
            let found = [rh, mver]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", ");
            Row {
                id: t.id.clone(),
                cells: vec![t.id.clone(), found],
                more: false,
                words: self.locator.point(t.at, ""),
            }
        });
        let wanted = self.inputs.wanted();
        let wanted = wanted.into_iter().map(|t| Row {
            words: self.locator.point(t.at, ""),
            cells: vec![t.id.clone(), "still wanted".to_owned()],
            id: t.id,
            more: false,
        });
        Table {
            title: "MOISTURE TESTS".into(),
            columns: vec![left("TAG"), left("FOUND")],
            rows: rows.chain(wanted).collect(),
            total: Vec::new(),
            words_head: "WHERE",
        }
    }
}
