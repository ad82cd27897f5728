//! The key: a line for every letter, color and pattern on the plan, in plain words.

use std::collections::BTreeMap;

use crate::document::{Entry, SYMBOL, Text};
use crate::ink::{Mark, WHITE};

use super::fate::{self, Fate, Thing};
use super::floor::Shape;
use super::look;
use super::marks;
use super::say::{self, Said};
use super::sort::{Item, Sorted};
use super::symbol;
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::words;
use crate::quantity::Units;
use crate::sheet::Inputs;
use crate::slab::{Slab, Tier};
use crate::text::id_key;

/// What a line of the key shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Sample {
    /// A group with its letter; without one where no mark of it found room on the plan.
    Group(Fate, &'static str),
    /// The coated floor.
    #[default]
    Floor,
    /// Things that stand on the floor or lie in it.
    Standing,
    /// Where two heights of the floor meet.
    Riser,
    /// Joints and cracks beyond the coated area.
    Outside,
}

/// A line of the key.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Row {
    /// What it shows.
    pub sample: Sample,
    /// What happens, semibold.
    pub title: &'static str,
    /// How much.
    pub size: String,
    /// What is done, and what may still show.
    pub said: Said,
    /// The ids of each thing in it; not printed.
    pub ids: Vec<Vec<String>>,
}

/// Width of a sample, mm: what a symbol of a key has beside the ring of its letter.
const SAMPLE: f64 = SYMBOL.0 - marks::ROUND - OFF_RING;
/// Between the ring of a letter and its sample, mm.
const OFF_RING: f64 = 1.6;
/// Most names of fixtures in the key.
const MOST_NAMES: usize = 3;

/// Lines of the key, in the order of the letters.
pub(crate) fn rows(
    inputs: &Inputs,
    sorted: &Sorted,
    letters: &BTreeMap<Fate, &'static str>,
) -> Vec<Row> {
    let units = inputs.slab.units;
    let area = fate::area(inputs.takeoff.area.net_m2, units);
    let mut out = vec![Row {
        sample: Sample::Floor,
        title: "Coated floor",
        size: match inputs.looks() {
            Some(looks) => format!("{area}: {looks}"),
            None => area,
        },
        ..Row::default()
    }];
    for (&fate, items) in &sorted.groups {
        let Some(letter) = letters.get(&fate) else {
            continue;
        };
        let ids = |i: &Item| std::iter::once(&i.id).chain(&i.also).cloned().collect();
        out.push(Row {
            sample: Sample::Group(fate, letter),
            title: fate.title(),
            size: say::size(fate, items, units),
            said: say::say(fate, items),
            ids: items.iter().map(ids).collect(),
        });
    }
    if !inputs.slab.keep_outs.is_empty() {
        out.push(Row {
            sample: Sample::Standing,
            title: "Fixtures, not coated",
            size: fixtures(inputs),
            ..Row::default()
        });
    }
    if !inputs.slab.risers.is_empty() {
        out.push(Row {
            sample: Sample::Riser,
            title: "Step in the floor",
            size: heights(inputs),
            ..Row::default()
        });
    }
    if !sorted.beyond.is_empty() {
        out.push(Row {
            sample: Sample::Outside,
            title: "Joint or crack outside the job",
            ..Row::default()
        });
    }
    out
}

/// What stands on the floor or lies in it, by the names of the survey.
fn fixtures(inputs: &Inputs) -> String {
    let keep_outs = inputs.slab.keep_outs.iter();
    let named: std::collections::BTreeSet<String> = keep_outs
        .filter_map(|k| k.what.as_deref().map(words::clean))
        .filter(|n| !n.is_empty())
        .collect();
    let mut names: Vec<&str> = named.iter().take(MOST_NAMES).map(String::as_str).collect();
    if named.len() > MOST_NAMES {
        names.push("and others");
    }
    names.join(", ")
}

/// Tiers by id: the drawing doesn't depend on the order of records.
pub(crate) fn tiers(slab: &Slab) -> Vec<&Tier> {
    let mut tiers: Vec<&Tier> = slab.tiers.iter().collect();
    tiers.sort_by_cached_key(|tier| id_key(&tier.id));
    tiers
}

/// Which parts lie higher or lower, and what becomes of their upright faces.
fn heights(inputs: &Inputs) -> String {
    let slab = inputs.slab;
    let said = |tier: &Tier| {
        let coated = slab.risers_of(tier).2 > 0.0;
        let face = if coated { "is coated" } else { "stays as it is" };
        let what = match named(tier) {
            Some(what) => format!("The {what}"),
            None => "A part of the floor".into(),
        };
        let higher = tier.higher(slab.units);
        format!("{what} lies {higher}; its upright face {face}")
    };
    let tiers = tiers(slab).into_iter();
    let mut all: Vec<String> = tiers.take(MOST_NAMES).map(said).collect();
    if slab.tiers.len() > MOST_NAMES {
        let more = slab.tiers.len() - MOST_NAMES;
        all.push(format!("{more} more parts lie at another height"));
    }
    all.join(". ")
}

fn named(tier: &Tier) -> Option<String> {
    let what = tier.what.as_deref().map(words::clean);
    what.filter(|what| !what.is_empty())
}

/// What stands in a part at another height on the plan: `back slab, 7" higher`.
pub(crate) fn tier_words(tier: &Tier, units: Units) -> String {
    let what = named(tier).map_or_else(String::new, |what| what + ", ");
    what + &tier.higher(units)
}

impl Row {
    /// The letter that its things carry on the plan; empty where none does.
    pub(crate) const fn letter(&self) -> &'static str {
        match self.sample {
            Sample::Group(_, letter) => letter,
            _ => "",
        }
    }

    /// How many of its things are among these.
    pub(crate) fn count(&self, ids: &[String]) -> usize {
        let among =
            |thing: &&Vec<String>| thing.iter().any(|id| !id.is_empty() && ids.contains(id));
        self.ids.iter().filter(among).count()
    }

    /// What kind of thing it is about; nothing for the floor and what stands on it.
    pub(crate) fn thing(&self) -> Option<Thing> {
        self.fate().map(Fate::thing)
    }

    /// What becomes of its things; nothing for the floor and what stands on it.
    pub(crate) const fn fate(&self) -> Option<Fate> {
        match self.sample {
            Sample::Group(fate, _) => Some(fate),
            _ => None,
        }
    }

    /// What stands before its words.
    pub(crate) fn symbol(&self) -> Vec<Mark> {
        let middle = SYMBOL.1 / 2.0;
        let mut out = match self.letter() {
            "" => Vec::new(),
            letter => marks::letter(at(marks::ROUND / 2.0, middle), letter),
        };
        let left = marks::ROUND + OFF_RING;
        out.extend(self.sample.draw(&Box2::new(left, middle - 2.4, left + SAMPLE, middle + 2.4)));
        out
    }

    /// The line with some words behind its title.
    pub(crate) fn entry(&self, words: &str) -> Entry {
        let id = match self.letter() {
            "" => String::new(),
            letter => format!("key-{letter}"),
        };
        Entry {
            id,
            symbol: self.symbol(),
            text: Text::strong(format!("{}.", self.title)).then(words),
        }
    }

    /// The line with its size, as on a drawing.
    pub(crate) fn short(&self) -> Entry {
        self.entry(&self.size)
    }

    /// The same with what may still show. What is done stands in it if `full`, or if nothing may show.
    pub(crate) fn long(&self, full: bool) -> Entry {
        let size = match self.size.is_empty() {
            true => String::new(),
            false => format!("{}.", self.size),
        };
        let done = if full || self.said.shows.is_empty() { self.said.done.as_str() } else { "" };
        let all = [size.as_str(), done, &self.said.shows];
        let all: Vec<&str> = all.into_iter().filter(|words| !words.is_empty()).collect();
        self.entry(&all.join(" "))
    }
}

impl Sample {
    /// The sample in a box.
    pub(crate) fn draw(self, area: &Box2) -> Vec<Mark> {
        let fine = Some(look::FINE);
        match self {
            Self::Group(fate, _) => {
                let mut out = vec![draw::rectangle(area, None, Some(look::FLOOR))];
                out.extend(symbol::marks(fate, &sample(fate, area)));
                out
            }
            Self::Floor => vec![draw::rectangle(area, fine, Some(look::FLOOR))],
            Self::Standing => vec![draw::rectangle(area, fine, Some(look::STANDING))],
            Self::Riser => {
                let m = area.center();
                let line = draw::line(at(area.left, m.y), at(area.right, m.y), look::RISER);
                vec![draw::rectangle(area, None, Some(look::FLOOR)), line]
            }
            Self::Outside => {
                let m = area.center();
                let line = draw::line(
                    at(area.left, m.y),
                    at(area.right, m.y),
                    look::pen(0.25, crate::ink::BLACK),
                );
                vec![draw::rectangle(area, None, Some(WHITE)), line]
            }
        }
    }
}

/// A thing of a group as it looks on the plan, in a box.
fn sample(fate: Fate, area: &Box2) -> Shape {
    let m = area.center();
    match fate {
        Fate::Spot => Shape::Area(vec![Box2::around(m, 4.4, 3.4).corners().to_vec()]),
        // Wide enough for its hatch to be seen.
        Fate::Hollow | Fate::HollowLeft => {
            Shape::Area(vec![Box2::around(m, 8.0, 3.6).corners().to_vec()])
        }
        Fate::LowSpot => {
            let corner = |i: u8| {
                let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 24.0).sin_cos();
                m + by(look::LOW_SPOT * cos, look::LOW_SPOT * sin)
            };
            Shape::Area(vec![(0..24).map(corner).collect()])
        }
        Fate::Surface | Fate::Uncoated => Shape::Area(vec![area.corners().to_vec()]),
        _ if fate.thing() == fate::Thing::Crack => {
            let w = area.width();
            let zigzag = [(-0.5, 1.0), (-0.22, -1.2), (0.1, 0.8), (0.5, -0.9)];
            Shape::Line(vec![zigzag.map(|(x, y)| m + by(x * w, y)).to_vec()])
        }
        _ => Shape::Line(vec![vec![at(area.left, m.y), at(area.right, m.y)]]),
    }
}
