//! How a number was reached, in steps that can be done again with a pencil: the measured values,
//! the rule of the shop book by its name and value, the arithmetic, the result.
//!
//! Every factor shown is the one that was multiplied, so that the last number of an explanation is
//! the number of the takeoff.

mod crack;
mod floor;
mod joint;
mod patch;
mod say;
mod step;
mod sums;

#[cfg(test)]
mod tests;

use super::Takeoff;
use crate::order::Order;
use crate::shop::Shop;
use crate::slab::Slab;
use say::Say;

/// Everything an explanation draws on.
#[derive(Clone, Copy)]
struct Floor<'a> {
    slab: &'a Slab,
    takeoff: &'a Takeoff,
    shop: &'a Shop,
    order: &'a Order,
    say: Say,
}

/// What can be explained besides items with an id, and how.
type Topic = (&'static str, fn(&Floor) -> Vec<String>);

const TOPICS: &[Topic] = &[
    ("area", floor::area),
    ("edge", floor::edge),
    ("hand-edge", floor::hand_edge),
    ("closure", floor::closure),
    ("conditions", floor::conditions),
    ("levels", floor::levels),
    ("totals", sums::totals),
    ("order", sums::order),
];

/// How the numbers of an item were reached, a sentence a line, in the units of the sketch. The id
/// is that of a record, of a patch or panel, the name of an ordered item, or one of the topics in
/// [`ids`]; capitals don't matter. `None` for anything else.
#[must_use]
pub fn explain(
    slab: &Slab,
    takeoff: &Takeoff,
    shop: &Shop,
    order: &Order,
    id: &str,
) -> Option<Vec<String>> {
    let floor = Floor { slab, takeoff, shop, order, say: Say(slab.units) };
    let lines = item(&floor, id).or_else(|| topic(&floor, id)).or_else(|| several(&floor, id))?;
    Some(lines.iter().map(|line| super::words::clean(line)).collect())
}

fn topic(floor: &Floor, id: &str) -> Option<Vec<String>> {
    let known = TOPICS.iter().find(|(name, _)| name.eq_ignore_ascii_case(id));
    let lines = known.map(|(_, explain)| explain(floor));
    lines.filter(|lines| !lines.is_empty()).or_else(|| sums::ordered(floor, id))
}

/// What is said of a record that stands for several items.
fn several(floor: &Floor, id: &str) -> Option<Vec<String>> {
    let (slab, takeoff) = (floor.slab, floor.takeoff);
    let of_record = |item: &&str| {
        let (record, number) = item.rsplit_once('.').unwrap_or((item, ""));
        record.eq_ignore_ascii_case(id) && number.parse::<usize>().is_ok()
    };
    let joints = takeoff.joints.iter().map(|j| j.id.as_str());
    let others = (slab.keep_outs.iter().map(|z| &z.id))
        .chain(slab.spalls.iter().map(|s| &s.id))
        .chain(slab.moisture.iter().map(|m| &m.id));
    let ids: Vec<&str> = joints.chain(others.map(String::as_str)).filter(of_record).collect();
    let (first, last) = (ids.first()?, ids.last()?);
    let mut lines = vec![format!(
        "One record stands for {}: {first} to {last}. Each is explained by its own id.",
        ids.len()
    )];
    let joints = takeoff.joints.iter().filter(|j| of_record(&j.id.as_str()));
    let lengths: Vec<f64> = joints.map(|j| j.length_m).collect();
    if !lengths.is_empty() {
        let together = floor.say.length(lengths.iter().sum());
        lines.push(format!("Together they run {together} on the coated floor."));
    }
    Some(lines)
}

/// The place of the item with this id; capitals don't matter.
fn find<T>(items: &[T], id: &str, id_of: fn(&T) -> &String) -> Option<usize> {
    items.iter().position(|item| id_of(item).eq_ignore_ascii_case(id))
}

/// The explanation of the record with this id.
fn item(floor: &Floor, id: &str) -> Option<Vec<String>> {
    let (slab, takeoff) = (floor.slab, floor.takeoff);
    if let Some(i) = find(&takeoff.joints, id, |j| &j.id) {
        return Some(joint::joint(floor, &takeoff.joints[i], slab.joints.get(i)?));
    }
    if let Some(i) = find(&takeoff.cracks, id, |c| &c.id) {
        return Some(crack::crack(floor, &takeoff.cracks[i], slab.cracks.get(i)?));
    }
    if let Some(i) = find(&takeoff.spalls, id, |s| &s.id) {
        return Some(patch::spall(floor, &takeoff.spalls[i], slab.spalls.get(i)?));
    }
    if let Some(i) = find(&takeoff.patches, id, |p| &p.id) {
        return Some(patch::patch(floor, &takeoff.patches[i]));
    }
    if let Some(i) = find(&takeoff.lippage, id, |l| &l.id) {
        return Some(step::step(floor, &takeoff.lippage[i], slab.lippage.get(i)?));
    }
    place(floor, id)
}

/// The explanation of a part of the floor with this id: no work, but an area or a reading.
fn place(floor: &Floor, id: &str) -> Option<Vec<String>> {
    let slab = floor.slab;
    if let Some(i) = find(&slab.blemishes, id, |b| &b.id) {
        return Some(floor::blemish(floor, &slab.blemishes[i]));
    }
    if let Some(i) = find(&slab.keep_outs, id, |z| &z.id) {
        return Some(floor::keep_out(floor, &slab.keep_outs[i]));
    }
    if let Some(i) = find(&slab.uncoated, id, |z| &z.id) {
        return Some(floor::uncoated(floor, &slab.uncoated[i]));
    }
    if let Some(i) = find(&slab.tiers, id, |t| &t.id) {
        return Some(floor::tier(floor, &slab.tiers[i]));
    }
    if let Some(i) = find(&slab.moisture, id, |m| &m.id) {
        return Some(floor::moisture(floor, &slab.moisture[i]));
    }
    find(&slab.panels, id, |p| &p.id).map(|i| floor::panel(floor, &slab.panels[i]))
}

/// Everything that can be explained on this floor: records in the order of the sketch, patches,
/// panels, topics, ordered items.
#[must_use]
pub fn ids(slab: &Slab, takeoff: &Takeoff, order: &Order) -> Vec<String> {
    let mut ids: Vec<String> = Vec::new();
    ids.extend(takeoff.joints.iter().map(|j| j.id.clone()));
    ids.extend(takeoff.cracks.iter().map(|c| c.id.clone()));
    ids.extend(takeoff.spalls.iter().map(|s| s.id.clone()));
    ids.extend(takeoff.patches.iter().map(|p| p.id.clone()));
    ids.extend(takeoff.lippage.iter().map(|l| l.id.clone()));
    ids.extend(slab.blemishes.iter().map(|b| b.id.clone()));
    ids.extend(slab.keep_outs.iter().map(|z| z.id.clone()));
    ids.extend(slab.uncoated.iter().map(|z| z.id.clone()));
    ids.extend(slab.tiers.iter().map(|t| t.id.clone()));
    ids.extend(slab.moisture.iter().map(|m| m.id.clone()));
    ids.extend(slab.panels.iter().map(|p| p.id.clone()));
    let told = |topic: &str| match topic {
        "closure" => takeoff.closure.is_some(),
        "levels" => takeoff.levels.is_some(),
        "order" => !order.rows.is_empty(),
        _ => true,
    };
    ids.extend(TOPICS.iter().filter(|(t, _)| told(t)).map(|(t, _)| (*t).to_owned()));
    ids.extend(order.rows.iter().map(|row| row.item.to_string()));
    ids
}
