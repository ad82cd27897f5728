//! What is not included, what the owner does, what must be cleared first, and the cautions.

use super::scope::heading;
use super::voice::{Voice, count};
use crate::document::{Block, Text};
use crate::floor::Survey;
use crate::hold::Code;
use crate::hold::say::not_priced;
use crate::sketch::Site;
use crate::text::clean;

/// What must be cleared before the work starts, in the words of the drawing; of tendons in the shop's own.
pub(super) fn holds(voice: &mut Voice) -> Option<Block> {
    let inputs = voice.inputs;
    let held = inputs.told.of.holds.iter().map(|held| {
        let own = match held.code {
            Code::PostTension => voice.say("caution_stamped"),
            Code::PostTensionUnknown => voice.say("caution_tendons"),
            _ => None,
        };
        let (lead, said) = &held.note;
        let said = own.unwrap_or_else(|| said.clone());
        Text::strong(lead).then(said + &voice.marked(&held.items))
    });
    let paragraphs: Vec<Text> = held.collect();
    (!paragraphs.is_empty())
        .then(|| Block::Notice { title: "On hold until this is cleared".into(), paragraphs })
}

/// Whether anything is cut into the slab.
fn cuts(floor: &Survey) -> bool {
    let totals = &floor.takeoff.totals;
    totals.chase_m > 0.0 || totals.ports > 0 || !floor.takeoff.patches.is_empty()
}

/// What is not part of the work, as far as this floor gives reason to say so.
pub(super) fn excluded(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let (slab, takeoff) = (&floor.slab, &floor.takeoff);
    let mut items = voice.entries(&["exclude_structure"]);
    let mut engineer = floor.holds.iter();
    let engineer = engineer.find(|hold| hold.code == Code::EngineerWanted);
    let ids: Vec<String> = engineer.iter().flat_map(|hold| hold.items.iter().cloned()).collect();
    if !ids.is_empty() {
        items.extend(voice.say_of("exclude_engineer", &ids).map(Text::from));
    }
    let unpriced = not_priced(&floor.holds, &|ids| voice.named(ids));
    items.extend(unpriced.into_iter().map(Text::from));
    let low = takeoff.levels.as_ref().map_or(0, |levels| levels.ponding.len());
    items.extend(voice.say("exclude_slope").map(|said| {
        if low == 0 {
            return Text::from(said);
        }
        let places = count(low, "place");
        Text::from(format!("{said} The survey found {places} where water is likely to stand."))
    }));
    if !slab.cracks.is_empty() {
        items.extend(voice.entries(&["exclude_cracks"]));
    }
    if takeoff.area.coated_m2 > 0.0 {
        items.extend(voice.entries(&["exclude_moisture"]));
    }
    let marks = !slab.joints.is_empty()
        || !slab.cracks.is_empty()
        || !slab.spalls.is_empty()
        || !slab.delaminations.is_empty()
        || !slab.lippage.is_empty();
    if marks {
        items.extend(voice.entries(&["exclude_telegraphing"]));
    }
    items.extend(voice.entries(&["exclude_color", "exclude_hidden"]));
    if !slab.delaminations.is_empty() {
        items.extend(voice.entries(&["exclude_hollow"]));
    }
    items.extend(uncoated(floor).map(|said| Text::from(said + &voice.marked(&ids_of(floor)))));
    section("Not included", items)
}

fn ids_of(floor: &Survey) -> Vec<String> {
    floor.slab.uncoated.iter().map(|zone| zone.id.clone()).collect()
}

/// The parts that stay bare, by name.
fn uncoated(floor: &Survey) -> Option<String> {
    let zones = floor.slab.uncoated.iter();
    let names: Vec<String> = zones
        .filter_map(|zone| zone.what.as_deref().map(clean))
        .filter(|name| !name.is_empty())
        .collect();
    match (names.as_slice(), floor.slab.uncoated.len()) {
        (_, 0) => None,
        ([], n) => Some(format!("{} that stay uncoated.", count(n, "part"))),
        (names, _) => Some(format!("Parts that stay uncoated: {}.", names.join("; "))),
    }
}

fn section(title: &str, items: Vec<Text>) -> Vec<Block> {
    if items.is_empty() {
        return Vec::new();
    }
    vec![heading(2, title), Block::List { ordered: false, items }]
}

/// What the owner sees to, and the cautions that this floor calls for.
pub(super) fn duties(voice: &mut Voice) -> Vec<Block> {
    let floor = voice.inputs.floor;
    let mut keys = vec!["duty_empty", "duty_power", "duty_heat"];
    if floor.sketch.coating.site == Site::Indoors {
        keys.push("duty_pilots");
    }
    keys.push("duty_people");
    if cuts(floor) {
        keys.push("duty_tell");
    }
    if cuts(floor) || floor.takeoff.area.net_m2 > 0.0 {
        keys.push("caution_dust");
    }
    if floor.takeoff.area.coated_m2 > 0.0 {
        keys.push("caution_resin");
    }
    keys.push("opinion");
    let items = voice.entries(&keys);
    section("What we ask of you, and safety", items)
}
