//! Rigid joint filler: joints, and the small spalls filled with them.

use std::collections::BTreeMap;

use super::confidence::section_variance;
use super::need::{Need, Needs};
use super::words;
use crate::quantity::{L_PER_M3, Units, write};
use crate::shop::Shop;
use crate::takeoff::{Filling, JointWork, SpallRepair, Takeoff};
use crate::trade::Product;

/// A joint, and what fills it.
type Filled<'a> = (&'a JointWork, &'a Filling);

/// Adds the filler of the floor.
pub(crate) fn add(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let filled = takeoff.joints.iter().filter(|joint| joint.length_m > 0.0);
    let filled: Vec<Filled> = filled.filter_map(|joint| Some((joint, joint.filling()?))).collect();
    let joints_l: f64 = filled.iter().map(|(_, filling)| filling.volume_l).sum();
    let spalls_l: f64 = spalls_with_joints(takeoff).map(|(_, litres)| litres).sum();
    let in_place = joints_l + spalls_l;
    let bought = 1.0 + shop.filler.waste.one();
    let mut how = sections(&filled, units);
    let ids: Vec<&str> = spalls_with_joints(takeoff).map(|(id, _)| id).collect();
    if !ids.is_empty() {
        how.push(format!(
            "Small spalls filled with their joint ({}): {}.",
            words::names(&ids),
            write::volume(spalls_l, units)
        ));
    }
    how.push(format!(
        "In place {}; with {} waste {}.",
        write::volume(in_place, units),
        write::percent(shop.filler.waste.one()),
        write::volume(in_place * bought, units)
    ));
    needs.add(Need {
        product: Product::JointFiller,
        amount: in_place * bought,
        sd: deviation(&filled, in_place, shop) * bought,
        varies: "Widths and depths are read to a sixteenth on a rough edge and the yield varies",
        unit: "L",
        package: shop.filler.package.l(),
        one_lot: false,
        buying: shop.filler.buying,
        reclaimed: 0.0,
        how,
    });
}

fn spalls_with_joints(takeoff: &Takeoff) -> impl Iterator<Item = (&str, f64)> {
    takeoff.spalls.iter().filter_map(|spall| match spall.repair {
        SpallRepair::WithJoint { volume_l, .. } => Some((spall.id.as_str(), volume_l)),
        SpallRepair::Leave | SpallRepair::Skim { .. } | SpallRepair::Patch { .. } => None,
    })
}

/// Standard deviation of the volume in place, L: widths and depths joint by joint, the yield over
/// everything.
fn deviation(filled: &[Filled], in_place_l: f64, shop: &Shop) -> f64 {
    let (width_sd, depth_sd) = (shop.filler.width_sd.m(), shop.filler.depth_sd.m());
    let sections: f64 = filled
        .iter()
        .map(|(joint, Filling { width_m, depth_m, .. })| {
            section_variance(joint.length_m, *width_m, width_sd, *depth_m, depth_sd)
        })
        .sum();
    let sections_l = sections.sqrt() * L_PER_M3;
    sections_l.hypot(in_place_l * shop.filler.yield_sd.one())
}

/// One sentence for each chase section, widest joints first as the sketch lists them.
fn sections(filled: &[Filled], units: Units) -> Vec<String> {
    let mut order: Vec<(u64, u64)> = Vec::new();
    let mut groups: BTreeMap<(u64, u64), (f64, f64, Vec<&str>)> = BTreeMap::new();
    for (joint, filling) in filled {
        let key = (filling.width_m.to_bits(), filling.depth_m.to_bits());
        let group = groups.entry(key).or_insert_with(|| {
            order.push(key);
            (0.0, 0.0, Vec::new())
        });
        group.0 += joint.length_m;
        group.1 += filling.volume_l;
        group.2.push(&joint.id);
    }
    let sentence = |key: &(u64, u64)| {
        groups.get(key).map(|(length, litres, ids)| {
            format!(
                "{}: {} long, chased {} wide and {} deep: {}.",
                words::names(ids),
                write::run(*length, units),
                write::small(f64::from_bits(key.0), units),
                write::small(f64::from_bits(key.1), units),
                write::volume(*litres, units)
            )
        })
    };
    order.iter().filter_map(sentence).collect()
}
