//! How a number was reached, in steps that can be done again with a pencil: the measured values,
//! the rule of the shop book by its name and value, the arithmetic, the result.
//!
//! The code that reaches a number says how (`takeoff::Told`): to explain an item, the takeoff reckons it once more and is listened to. So every
//! factor shown is the one that was multiplied, and no rule stands here a second time. What is printed here is what the slab, the
//! takeoff and the order hold.

mod path;
mod place;

#[cfg(test)]
mod tests;

use std::cell::OnceCell;
use std::collections::BTreeMap;

use crate::floor::Survey;
use crate::slab::Item;
use crate::takeoff::told::{Say, Told};
use crate::takeoff::{self, Worked, area, conditions, levels};

/// How the numbers of a floor were reached, each a sentence a line, in the units of the sketch.
pub struct Explanations<'a> {
    floor: &'a Survey,
    say: Say,
    /// Spalls, delaminations and patches by their ids: they are reckoned together, and only where one is asked for.
    mended: OnceCell<BTreeMap<String, Vec<String>>>,
}

/// What can be explained besides items with an id, and how.
type Topic = (&'static str, fn(&Explanations) -> Vec<String>);

const TOPICS: &[Topic] = &[
    ("area", |of| of.hear(|f, told| area::totals(&f.slab, f.takeoff.area.hand_edge_m2, told))),
    ("edge", |of| of.hear(|f, told| (area::edge(&f.slab, told), area::termination(&f.slab, told)))),
    ("hand-edge", |of| {
        of.hear(|f, told| area::by_hand(&f.slab, &f.shop, &f.takeoff.hand_edge, told))
    }),
    ("closure", |of| of.closure()),
    ("conditions", |of| of.hear(|f, told| conditions::conditions(&f.slab, &f.sketch.tests, told))),
    ("levels", |of| of.hear(|f, told| levels::report(&f.slab, told))),
    ("totals", |of| {
        let lines = of.hear(|f, told| takeoff::totals(&f.takeoff, &f.slab, &f.shop, told));
        if lines.is_empty() { vec!["Nothing has to be repaired.".to_owned()] } else { lines }
    }),
    ("order", |of| {
        let rows = of.floor.order.rows.iter();
        rows.map(|row| format!("{}: {}", row.item, row.how.join(" "))).collect()
    }),
];

impl<'a> Explanations<'a> {
    /// Those of one floor.
    #[must_use]
    pub const fn new(floor: &'a Survey) -> Self {
        Self { floor, say: Say(floor.slab.units), mended: OnceCell::new() }
    }

    /// The id is that of a record, of a patch or panel, the name of an ordered item, or one of the topics in
    /// [`Explanations::ids`]; capitals don't matter. `None` for anything else.
    #[must_use]
    pub fn of(&self, id: &str) -> Option<Vec<String>> {
        let lines = self.item(id).or_else(|| self.topic(id)).or_else(|| self.several(id))?;
        Some(lines.iter().map(|line| crate::text::clean(line)).collect())
    }

    /// Everything that can be explained on this floor: records in the order of the sketch, patches,
    /// panels, topics, ordered items.
    #[must_use]
    pub fn ids(&self) -> Vec<String> {
        let Survey { slab, takeoff, order, .. } = self.floor;
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

    /// What is said while something of the floor is reckoned once more.
    fn hear<T>(&self, reckon: impl FnOnce(&Survey, &mut Told) -> T) -> Vec<String> {
        Told::by(self.say, |told| reckon(self.floor, told))
    }

    /// What is said of a topic, or of the ordered item of this name.
    fn topic(&self, id: &str) -> Option<Vec<String>> {
        let known = TOPICS.iter().find(|(name, _)| name.eq_ignore_ascii_case(id));
        let lines = known.map(|(_, explain)| explain(self));
        let mut rows = self.floor.order.rows.iter();
        lines.filter(|lines| !lines.is_empty()).or_else(|| {
            let row = rows.find(|row| row.item.to_string().eq_ignore_ascii_case(id))?;
            Some(row.how.clone())
        })
    }

    /// What is said of a record that stands for several items.
    fn several(&self, id: &str) -> Option<Vec<String>> {
        let Survey { slab, takeoff, .. } = self.floor;
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
            let together = self.say.length(lengths.iter().sum());
            lines.push(format!("Together they run {together} on the coated floor."));
        }
        Some(lines)
    }

    /// The explanation of the item, patch or panel with this id; capitals don't matter where there is none that is written alike.
    fn item(&self, id: &str) -> Option<Vec<String>> {
        self.named(|other| other == id)
            .or_else(|| self.named(|other| other.eq_ignore_ascii_case(id)))
    }

    fn named(&self, is: impl Fn(&str) -> bool) -> Option<Vec<String>> {
        let Survey { slab, takeoff, .. } = self.floor;
        if let Some(patch) = takeoff.patches.iter().find(|patch| is(&patch.id)) {
            return Some(self.mended(&patch.id));
        }
        if let Some(panel) = slab.panels.iter().find(|panel| is(&panel.id)) {
            return Some(self.panel(panel));
        }
        Some(match takeoff.walk(slab).find(|worked| is(worked.item().id()))? {
            Worked::Joint(record, work) => self.joint(work, record),
            Worked::Crack(record, work) => self.crack(work.length_m, record),
            Worked::Spall(record, _) => self.mended(&record.id),
            Worked::Delamination(record, _) => self.mended(&record.id),
            Worked::Blemish(blemish) => self.blemish(blemish),
            Worked::Lippage(record, _) => self.step(record),
            Worked::KeepOut(zone) => self.keep_out(zone),
            Worked::Uncoated(zone) => self.uncoated(zone),
            Worked::Moisture(test) => self.moisture(test),
            Worked::Tier(tier) => self.tier(tier),
        })
    }

    /// A spall, delamination or patch.
    fn mended(&self, id: &str) -> Vec<String> {
        let Survey { slab, takeoff, shop, .. } = self.floor;
        let all = self.mended.get_or_init(|| {
            Told::by_id(self.say, |told| takeoff::mended(slab, &takeoff.joints, shop, told))
        });
        all.get(id).cloned().unwrap_or_default()
    }
}
