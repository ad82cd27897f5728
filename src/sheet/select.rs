//! A floor with its records in the order of their ids, and the part of it that lies in a window.
//!
//! Drawings are made from the ordered floor, so that they don't depend on the order in which a sketch lists its records. A part is
//! a floor too: lines end at the window, walls keep their numbers, and nothing outside it is left to be drawn or dimensioned.

use std::collections::BTreeMap;

use crate::hold::Hold;
use crate::record::Kind;
use crate::slab::Slab;
use crate::takeoff::{Takeoff, Worked};
use crate::text::id_key;

/// Which records are kept, by index, in the order in which they are wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Items of the slab, by index.
    items: BTreeMap<Kind, Vec<usize>>,
    /// Patches of the takeoff, by index.
    pub patches: Vec<usize>,
}

fn by_id<T>(items: &[T], id: impl Fn(&T) -> &str) -> Vec<usize> {
    let mut order: Vec<usize> = (0..items.len()).collect();
    order.sort_by_cached_key(|&i| (id_key(id(&items[i])), i));
    order
}

fn picked<T: Clone>(items: &[T], which: &[usize]) -> Vec<T> {
    which.iter().filter_map(|&i| items.get(i).cloned()).collect()
}

impl Selection {
    /// Everything, by id.
    #[must_use]
    pub fn all(slab: &Slab, takeoff: &Takeoff) -> Self {
        let of = |&kind: &Kind| (kind, by_id(&slab.of(kind), |item| item.id()));
        let items = Kind::ALL.iter().map(of).collect();
        Self { items, patches: by_id(&takeoff.patches, |p| &p.id) }
    }

    /// Leaves out the items that are not to be kept.
    pub fn retain(&mut self, slab: &Slab, takeoff: &Takeoff, keep: impl Fn(Worked) -> bool) {
        for (&kind, which) in &mut self.items {
            let of = takeoff.of(slab, kind);
            which.retain(|&i| of.get(i).is_some_and(|&worked| keep(worked)));
        }
    }

    /// The records that were selected, in slab and takeoff alike.
    #[must_use]
    pub fn apply(&self, slab: &Slab, takeoff: &Takeoff) -> (Slab, Takeoff) {
        let (mut s, mut t) = (slab.clone(), takeoff.clone());
        for (&kind, which) in &self.items {
            match kind {
                Kind::Joint => {
                    s.joints = picked(&slab.joints, which);
                    t.joints = picked(&takeoff.joints, which);
                }
                Kind::Crack => {
                    s.cracks = picked(&slab.cracks, which);
                    t.cracks = picked(&takeoff.cracks, which);
                }
                Kind::Spall => {
                    s.spalls = picked(&slab.spalls, which);
                    t.spalls = picked(&takeoff.spalls, which);
                }
                Kind::Delamination => {
                    s.delaminations = picked(&slab.delaminations, which);
                    t.delaminations = picked(&takeoff.delaminations, which);
                }
                Kind::Blemish => s.blemishes = picked(&slab.blemishes, which),
                Kind::Lippage => {
                    s.lippage = picked(&slab.lippage, which);
                    t.lippage = picked(&takeoff.lippage, which);
                }
                // The edges of the floor name keep-outs by index; drawings go by their kind alone.
                Kind::KeepOut => s.keep_outs = picked(&slab.keep_outs, which),
                Kind::Uncoated => s.uncoated = picked(&slab.uncoated, which),
                Kind::Moisture => s.moisture = picked(&slab.moisture, which),
                Kind::Tier => s.tiers = picked(&slab.tiers, which),
            }
        }
        t.patches = picked(&takeoff.patches, &self.patches);
        let kept = s.ids();
        for patch in &mut t.patches {
            patch.around.retain(|mended| kept.contains(mended.id.as_str()));
            patch.around.sort_by_cached_key(|mended| id_key(&mended.id));
        }
        (s, t)
    }
}

/// A floor with its records by id.
#[must_use]
pub fn ordered(slab: &Slab, takeoff: &Takeoff) -> (Slab, Takeoff) {
    let (mut s, mut t) = Selection::all(slab, takeoff).apply(slab, takeoff);
    let key = |ids: &mut Vec<String>| ids.sort_by_cached_key(|id| id_key(id));
    for panel in &mut s.panels {
        key(&mut panel.joints);
        key(&mut panel.items);
    }
    s.openings.sort_by(|a, b| a.wall.cmp(&b.wall).then(a.from_m.total_cmp(&b.from_m)));
    let place = |p: kurbo::Point| (p.x, p.y);
    s.levels.sort_by(|a, b| compare(place(a.at), place(b.at)));
    if let Some(levels) = &mut t.levels {
        levels.ponding.sort_by(|a, b| compare(place(a.level.at), place(b.level.at)));
    }
    s.hardness.sort_by(|a, b| compare(place(a.0), place(b.0)));
    t.findings.sort_by_cached_key(|f| {
        let item = f.item.as_deref().map(id_key);
        (std::cmp::Reverse(f.severity), item, f.code, f.message.clone())
    });
    (s, t)
}

/// Holds with their items by id.
#[must_use]
pub fn by_items(holds: &[Hold]) -> Vec<Hold> {
    let mut out = holds.to_vec();
    for hold in &mut out {
        hold.items.sort_by_cached_key(|id| id_key(id));
    }
    out
}

fn compare(a: (f64, f64), b: (f64, f64)) -> std::cmp::Ordering {
    a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Inputs;
    use crate::sheet::fixture::{inputs, room};
    use crate::sheet::schedule::tables;

    /// Heights are listed row by row, and drawn from left to right.
    #[test]
    fn a_low_spot_stays_where_it_was_read() {
        let heights = [2, 8, 14].map(|y| [2, 10, 18].map(|x| (x, y))).concat();
        let list: String = heights
            .iter()
            .map(|&(x, y)| format!("  - [{x}', {y}', {}\"]\n", -i32::from((x, y) == (10, 2))))
            .collect();
        let survey = room(&format!("levels:\n{list}"));
        let said = |slab: &Slab, takeoff: &Takeoff| {
            let tables = tables(&Inputs { slab, takeoff, ..inputs(&survey) });
            let rows = tables.into_iter().flat_map(|table| table.rows);
            let rows = rows.filter(|row| row.cells[0].starts_with("low "));
            let mut rows: Vec<String> =
                rows.map(|row| format!("{}: {}", row.cells[0], row.words)).collect();
            rows.sort();
            rows
        };
        let as_listed = said(&survey.slab, &survey.takeoff);
        assert!(as_listed.iter().any(|row| row.starts_with("low 1\":")), "{as_listed:?}");
        let (slab, takeoff) = ordered(&survey.slab, &survey.takeoff);
        assert_eq!(said(&slab, &takeoff), as_listed);
    }
}
