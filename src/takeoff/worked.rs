//! One walk over the items of a floor, each with its work.

use std::iter::Zip;
use std::slice::Iter;

use super::{CrackWork, DelaminationWork, JointWork, LippageWork, SpallWork, Takeoff};
use crate::record::Kind;
use crate::slab::{
    Blemish, Crack, Delamination, Item, Joint, Lippage, MoistureTest, Slab, Spall, Tier, Zone,
};

/// An item of a floor with its work, where it has one. Whatever must treat the kinds differently has a `match` with an arm for each.
#[derive(Clone, Copy, Debug)]
pub enum Worked<'a> {
    /// A joint.
    Joint(&'a Joint, &'a JointWork),
    /// A crack.
    Crack(&'a Crack, &'a CrackWork),
    /// Missing concrete.
    Spall(&'a Spall, &'a SpallWork),
    /// A layer of the slab that has come loose.
    Delamination(&'a Delamination, &'a DelaminationWork),
    /// An area that changes the preparation.
    Blemish(&'a Blemish),
    /// A step between panels.
    Lippage(&'a Lippage, &'a LippageWork),
    /// Slab that is not there, or is built over.
    KeepOut(&'a Zone),
    /// Slab outside the job.
    Uncoated(&'a Zone),
    /// A moisture test.
    Moisture(&'a MoistureTest),
    /// A part that lies higher or lower than the rest.
    Tier(&'a Tier),
}

/// Whether items of a kind have works of their own among the quantities. The others change what is done on the whole floor.
#[must_use]
pub const fn has_work(kind: Kind) -> bool {
    match kind {
        Kind::Joint | Kind::Crack | Kind::Spall | Kind::Delamination | Kind::Lippage => true,
        Kind::Blemish | Kind::KeepOut | Kind::Uncoated | Kind::Moisture | Kind::Tier => false,
    }
}

/// The kinds with works of their own, and the others, in the order in which reports and schedules tell of them.
#[must_use]
pub fn kinds_by_work() -> (Vec<Kind>, Vec<Kind>) {
    Kind::ALL.iter().partition(|kind| has_work(**kind))
}

impl<'a> Worked<'a> {
    /// The item without its work.
    #[must_use]
    pub const fn item(self) -> Item<'a> {
        match self {
            Self::Joint(joint, _) => Item::Joint(joint),
            Self::Crack(crack, _) => Item::Crack(crack),
            Self::Spall(spall, _) => Item::Spall(spall),
            Self::Delamination(loose, _) => Item::Delamination(loose),
            Self::Blemish(blemish) => Item::Blemish(blemish),
            Self::Lippage(step, _) => Item::Lippage(step),
            Self::KeepOut(zone) => Item::KeepOut(zone),
            Self::Uncoated(zone) => Item::Uncoated(zone),
            Self::Moisture(test) => Item::Moisture(test),
            Self::Tier(tier) => Item::Tier(tier),
        }
    }
}

/// Records of a kind, each with its work.
type Pairs<'a, R, W> = Zip<Iter<'a, R>, Iter<'a, W>>;

/// The one place that brings records and works together: works stand in the order of their records, one for each.
pub(super) fn pairs<'a, R, W>(records: &'a [R], works: &'a [W]) -> Pairs<'a, R, W> {
    debug_assert_eq!(records.len(), works.len(), "a work for each record");
    records.iter().zip(works)
}

impl Takeoff {
    /// The joints, each with its work.
    pub fn joints_of<'a>(&'a self, slab: &'a Slab) -> Pairs<'a, Joint, JointWork> {
        pairs(&slab.joints, &self.joints)
    }

    /// The cracks, each with its work.
    pub fn cracks_of<'a>(&'a self, slab: &'a Slab) -> Pairs<'a, Crack, CrackWork> {
        pairs(&slab.cracks, &self.cracks)
    }

    /// The spalls, each with its work.
    pub fn spalls_of<'a>(&'a self, slab: &'a Slab) -> Pairs<'a, Spall, SpallWork> {
        pairs(&slab.spalls, &self.spalls)
    }

    /// The delaminations, each with its work.
    pub fn delaminations_of<'a>(
        &'a self,
        slab: &'a Slab,
    ) -> Pairs<'a, Delamination, DelaminationWork> {
        pairs(&slab.delaminations, &self.delaminations)
    }

    /// The steps, each with its work.
    pub fn steps_of<'a>(&'a self, slab: &'a Slab) -> Pairs<'a, Lippage, LippageWork> {
        pairs(&slab.lippage, &self.lippage)
    }

    /// The items of a kind with their works, in file order.
    #[must_use]
    pub fn of<'a>(&'a self, slab: &'a Slab, kind: Kind) -> Vec<Worked<'a>> {
        match kind {
            Kind::Joint => self.joints_of(slab).map(|(j, work)| Worked::Joint(j, work)).collect(),
            Kind::Crack => self.cracks_of(slab).map(|(c, work)| Worked::Crack(c, work)).collect(),
            Kind::Spall => self.spalls_of(slab).map(|(s, work)| Worked::Spall(s, work)).collect(),
            Kind::Delamination => {
                self.delaminations_of(slab).map(|(d, work)| Worked::Delamination(d, work)).collect()
            }
            Kind::Blemish => slab.blemishes.iter().map(Worked::Blemish).collect(),
            Kind::Lippage => {
                self.steps_of(slab).map(|(l, work)| Worked::Lippage(l, work)).collect()
            }
            Kind::KeepOut => slab.keep_outs.iter().map(Worked::KeepOut).collect(),
            Kind::Uncoated => slab.uncoated.iter().map(Worked::Uncoated).collect(),
            Kind::Moisture => slab.moisture.iter().map(Worked::Moisture).collect(),
            Kind::Tier => slab.tiers.iter().map(Worked::Tier).collect(),
        }
    }

    /// All items with their works, kind by kind in the order of `Kind::ALL`, each in file order.
    pub fn walk<'a>(&'a self, slab: &'a Slab) -> impl Iterator<Item = Worked<'a>> {
        Kind::ALL.iter().flat_map(|&kind| self.of(slab, kind))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::fixture::floor;
    use crate::slab::Place;

    /// One of each kind.
    const ALL: &str = "slabwalk: 1
job: {name: Everything}
slab:
  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]
  keep_outs: [{box: {corner: [1', 1'], size: [1', 1']}}]
  tiers: [{height: 3\", box: {corner: [0, 14'], size: [20', 2']}}]
joints: [{kind: control, x: 10'}]
cracks: [{path: [[3', 3'], [6', 6']], width: 1/16}]
spalls: [{circle: {center: [12', 4'], diameter: 6\"}, depth: 1}]
delaminations: [{box: {corner: [6', 10'], size: [1', 1']}, depth: 1}]
blemishes: [{what: oil, box: {corner: [14', 4'], size: [2', 2']}}]
lippage: [{along: J1, high: left, readings: [[2', 1/8], [4', 1/8]]}]
tests: {moisture: [{at: [8', 8'], rh: 70%}]}
coating: {uncoated: [{box: {corner: [18', 0], size: [2', 2']}}]}
";

    #[test]
    fn the_walk_meets_every_kind_and_gives_each_item_its_own_work() {
        let survey = floor(ALL);
        let all: Vec<Worked> = survey.takeoff.walk(&survey.slab).collect();
        let items: Vec<Item> = all.iter().map(|worked| worked.item()).collect();
        let kinds: Vec<Kind> = items.iter().map(|item| item.kind()).collect();
        assert_eq!(kinds, Kind::ALL);
        let given = Kind::ALL.iter().map(|kind| format!("{}1", kind.letter()));
        assert!(items.iter().map(|item| item.id()).eq(given));
        assert!(survey.slab.items().map(Item::id).eq(items.iter().map(|item| item.id())));
        for (worked, item) in all.iter().zip(&items) {
            let work = match worked {
                Worked::Joint(_, work) => &work.id,
                Worked::Crack(_, work) => &work.id,
                Worked::Spall(_, work) => &work.id,
                Worked::Delamination(_, work) => &work.id,
                Worked::Lippage(_, work) => &work.id,
                Worked::Blemish(_)
                | Worked::KeepOut(_)
                | Worked::Uncoated(_)
                | Worked::Moisture(_)
                | Worked::Tier(_) => continue,
            };
            assert_eq!(work, item.id());
        }
    }

    #[test]
    fn an_item_lies_where_its_sketch_says() {
        let survey = floor(ALL);
        for item in survey.slab.items() {
            let within = match item.place() {
                Place::Line(path) => path.bounds(),
                Place::Area(shape) => shape.region.bounds().expect("an area"),
                Place::Point(at) => kurbo::Rect::from_points(at, at),
            };
            let floor = survey.slab.outline.path.bounds().inflate(1e-6, 1e-6);
            assert!(floor.contains_rect(within), "{}: {within:?}", item.id());
        }
    }
}
