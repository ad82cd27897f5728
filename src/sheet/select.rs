//! A floor with its records in the order of their ids, and the part of it that lies in a window.
//!
//! Drawings are made from the ordered floor, so that they don't depend on the order in which a sketch lists its records. A part is
//! a floor too: lines end at the window, walls keep their numbers, and nothing outside it is left to be drawn or dimensioned.

use crate::hold::Hold;
use crate::slab::Slab;
use crate::takeoff::{SpallRepair, Takeoff, id_key};

/// Which records are kept, by index, in the order in which they are wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Joints.
    pub joints: Vec<usize>,
    /// Cracks.
    pub cracks: Vec<usize>,
    /// Spalls.
    pub spalls: Vec<usize>,
    /// Patches.
    pub patches: Vec<usize>,
    /// Blemishes.
    pub blemishes: Vec<usize>,
    /// Steps.
    pub lippage: Vec<usize>,
    /// Moisture tests.
    pub moisture: Vec<usize>,
}

fn by_id<T>(items: &[T], id: impl Fn(&T) -> &str) -> Vec<usize> {
    let mut order: Vec<usize> = (0..items.len()).collect();
    order.sort_by_cached_key(|&i| (id_key(id(&items[i])), i));
    order
}

fn picked<T: Clone>(items: &[T], which: &[usize]) -> Vec<T> {
    which.iter().filter_map(|&i| items.get(i).cloned()).collect()
}

/// Where each old index has gone.
fn places(which: &[usize], n: usize) -> Vec<Option<usize>> {
    let mut out = vec![None; n];
    for (new, &old) in which.iter().enumerate() {
        if let Some(place) = out.get_mut(old) {
            *place = Some(new);
        }
    }
    out
}

impl Selection {
    /// Everything, by id.
    #[must_use]
    pub fn all(slab: &Slab, takeoff: &Takeoff) -> Self {
        Self {
            joints: by_id(&slab.joints, |j| &j.id),
            cracks: by_id(&slab.cracks, |c| &c.id),
            spalls: by_id(&slab.spalls, |s| &s.id),
            patches: by_id(&takeoff.patches, |p| &p.id),
            blemishes: by_id(&slab.blemishes, |b| &b.id),
            lippage: by_id(&slab.lippage, |l| &l.id),
            moisture: by_id(&slab.moisture, |m| &m.id),
        }
    }

    /// The records that were selected, in slab and takeoff alike; indices among them follow.
    #[must_use]
    pub fn apply(&self, slab: &Slab, takeoff: &Takeoff) -> (Slab, Takeoff) {
        let joint_place = places(&self.joints, slab.joints.len());
        let spall_place = places(&self.spalls, slab.spalls.len());
        let patch_place = places(&self.patches, takeoff.patches.len());
        let (mut s, mut t) = (slab.clone(), takeoff.clone());
        s.joints = picked(&slab.joints, &self.joints);
        for joint in &mut s.joints {
            joint.on_top = std::mem::take(&mut joint.on_top)
                .into_iter()
                .filter_map(|(stretch, of)| Some((stretch, joint_place.get(of).copied()??)))
                .collect();
        }
        s.cracks = picked(&slab.cracks, &self.cracks);
        s.spalls = picked(&slab.spalls, &self.spalls);
        s.blemishes = picked(&slab.blemishes, &self.blemishes);
        s.lippage = picked(&slab.lippage, &self.lippage);
        s.moisture = picked(&slab.moisture, &self.moisture);
        t.joints = picked(&takeoff.joints, &self.joints);
        t.cracks = picked(&takeoff.cracks, &self.cracks);
        t.spalls = picked(&takeoff.spalls, &self.spalls);
        t.lippage = picked(&takeoff.lippage, &self.lippage);
        t.patches = picked(&takeoff.patches, &self.patches);
        for patch in &mut t.patches {
            let kept = patch.spalls.iter();
            patch.spalls = kept.filter_map(|&i| spall_place.get(i).copied()?).collect();
            patch.spalls.sort_unstable();
        }
        for work in &mut t.spalls {
            work.repair = match work.repair {
                kept @ (SpallRepair::Leave | SpallRepair::Skim) => kept,
                SpallRepair::Patch(i) => {
                    SpallRepair::Patch(patch_place.get(i).copied().flatten().unwrap_or(usize::MAX))
                }
                SpallRepair::WithJoint(i) => SpallRepair::WithJoint(
                    joint_place.get(i).copied().flatten().unwrap_or(usize::MAX),
                ),
            };
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
    s.keep_outs.sort_by_cached_key(|z| id_key(&z.id));
    s.uncoated.sort_by_cached_key(|z| id_key(&z.id));
    s.tiers.sort_by_cached_key(|t| id_key(&t.id));
    // The edges of the floor name keep-outs by index; drawings go by their kind alone.
    let place = |p: kurbo::Point| (p.x, p.y);
    s.levels.sort_by(|a, b| compare(place(a.at), place(b.at)));
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
