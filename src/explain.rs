//! How a number was reached, in steps that can be done again with a pencil: the measured values,
//! the rule of the shop book by its name and value, the arithmetic, the result.
//!
//! The code that reaches a number says how (`takeoff::Told`): to explain an item, the takeoff reckons it once more and is listened to. So every
//! factor shown is the one that was multiplied, and no rule stands here a second time. What is printed here is what the slab, the
//! takeoff and the order hold.

mod floor;
mod loose;
mod patch;
mod path;
mod sums;

#[cfg(test)]
mod tests;

use crate::order::Order;
use crate::shop::Shop;
use crate::slab::{Item, Slab};
use crate::takeoff::told::{Say, Told};
use crate::takeoff::{self, Takeoff, Worked};

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
    ("area", floor::areas),
    ("edge", floor::edge),
    ("hand-edge", floor::hand_edge),
    ("closure", floor::closure),
    ("conditions", floor::conditions),
    ("levels", floor::levels),
    ("totals", totals),
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
    Some(lines.iter().map(|line| crate::text::clean(line)).collect())
}

fn totals(floor: &Floor) -> Vec<String> {
    let lines =
        Told::by(floor.say, |told| takeoff::totals(floor.takeoff, floor.slab, floor.shop, told));
    if lines.is_empty() { vec!["Nothing has to be repaired.".to_owned()] } else { lines }
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
    let repeated = slab.items().filter(|item| item.kind().repeats());
    let ids: Vec<&str> = repeated.map(Item::id).filter(of_record).collect();
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

/// The explanation of the item, patch or panel with this id; capitals don't matter where there is none that is written alike.
fn item(floor: &Floor, id: &str) -> Option<Vec<String>> {
    named(floor, |other| other == id)
        .or_else(|| named(floor, |other| other.eq_ignore_ascii_case(id)))
}

fn named(floor: &Floor, is: impl Fn(&str) -> bool) -> Option<Vec<String>> {
    let (slab, takeoff) = (floor.slab, floor.takeoff);
    if let Some(patch) = takeoff.patches.iter().find(|patch| is(&patch.id)) {
        return Some(patch::patch(floor, patch));
    }
    if let Some(panel) = slab.panels.iter().find(|panel| is(&panel.id)) {
        return Some(floor::panel(floor, panel));
    }
    Some(match takeoff.walk(slab).find(|worked| is(worked.item().id()))? {
        Worked::Joint(record, work) => path::joint(floor, work, record),
        Worked::Crack(record, work) => path::crack(floor, work.length_m, record),
        Worked::Spall(record, work) => patch::spall(floor, work, record),
        Worked::Delamination(record, work) => loose::delamination(floor, work, record),
        Worked::Blemish(blemish) => floor::blemish(floor, blemish),
        Worked::Lippage(record, _) => path::step(floor, record),
        Worked::KeepOut(zone) => floor::keep_out(floor, zone),
        Worked::Uncoated(zone) => floor::uncoated(floor, zone),
        Worked::Moisture(test) => floor::moisture(floor, test),
        Worked::Tier(tier) => floor::tier(floor, tier),
    })
}

/// Everything that can be explained on this floor: records in the order of the sketch, patches,
/// panels, topics, ordered items.
#[must_use]
pub fn ids(slab: &Slab, takeoff: &Takeoff, order: &Order) -> Vec<String> {
    let mut ids: Vec<String> = slab.items().map(|item| item.id().to_owned()).collect();
    ids.extend(takeoff.patches.iter().map(|p| p.id.clone()));
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
