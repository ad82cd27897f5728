//! Sorts everything on the floor by what becomes of it.

use std::collections::BTreeMap;

use kurbo::Point;

use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::geometry::stretch::Intervals;
use crate::sketch::{BlemishKind, CrackTreatment, JointKind, Movement, TestResult};
use crate::slab::{self, Crack, Delamination, Joint, Lippage, Shape, Slab, Spall, Stretch, Zone};
use crate::takeoff::{
    CrackPortion, CrackWork, DelaminationWork, JointRepair, JointWork, LippageWork, LooseRepair,
    SpallRepair, SpallWork, Worked,
};

use super::fate::Fate;
use crate::paper::words;
use crate::sheet::Inputs;

/// Something about one item that its group's sentences speak of.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fact {
    /// A joint between slab and something else: it moves.
    Isolation,
    /// A hidden joint that is filled once it is open.
    FilledOnceOpen,
    /// A crack that opens and closes.
    Moves,
    /// Cut open before it is filled.
    CutOpen,
    /// Filled with thin resin.
    Resin,
    /// In part or whole only under the primer.
    Primed,
    /// Squared, cut out and filled with mortar.
    CutOut,
    Skimmed,
    /// Filled with its joint.
    WithJoint,
    /// What covers or spoils an area.
    Covered(BlemishKind, Option<TestResult>),
    /// The estimator's own word for it.
    Called(String),
    /// Outside the coated area.
    Outside,
}

/// Where an item lies on the floor.
#[derive(Clone, Debug)]
pub(crate) enum Place<'a> {
    /// Intervals of a path.
    Line(&'a Path, Vec<Stretch>),
    /// Closed paths.
    Rings(&'a [Path]),
    /// A closed ring of corners.
    Corners(Vec<Point>),
    Spot(Point),
}

#[derive(Clone, Debug)]
pub(crate) struct Item<'a> {
    /// Its id in the sketch; not printed.
    pub id: String,
    /// Other records in it: spalls of one patch, and the patch's own id.
    pub also: Vec<String>,
    /// Where it lies.
    pub place: Place<'a>,
    /// What its group has to say of it.
    pub facts: Vec<Fact>,
    /// Length, m; 0 for an area.
    pub length_m: f64,
    /// Area, m²; 0 for a line.
    pub area_m2: f64,
    /// What of an area is not built over; `None` where nothing stands on it.
    pub free: Option<Region>,
}

/// Everything that comes to the same end.
#[derive(Clone, Debug)]
pub(crate) struct Sorted<'a> {
    /// By fate, in the order of the key; items from left to right.
    pub groups: BTreeMap<Fate, Vec<Item<'a>>>,
    /// Intervals of joints and cracks outside the coated area, drawn and not counted.
    pub beyond: Vec<(&'a Path, Vec<Stretch>)>,
}

/// Sorts a floor. The order of records in the sketch changes nothing.
pub(crate) fn sort<'a>(inputs: &Inputs<'a>) -> Sorted<'a> {
    let (slab, takeoff) = (inputs.slab, inputs.takeoff);
    let mut out = Sorted { groups: BTreeMap::new(), beyond: Vec::new() };
    out.patches(inputs);
    for worked in takeoff.walk(slab) {
        match worked {
            Worked::Joint(joint, work) => out.joint(joint, work),
            Worked::Crack(crack, work) => out.crack(crack, work),
            Worked::Spall(spall, work) => out.spall(spall, work),
            Worked::Delamination(loose, work) => out.delamination(loose, work),
            Worked::Blemish(b) if b.area_m2 > 0.0 => {
                let facts = vec![Fact::Covered(b.what, b.tested)];
                out.area(Fate::Surface, &b.id, &b.shape.rings, facts, b.area_m2);
            }
            Worked::Blemish(_) => {}
            Worked::Lippage(step, work) => out.step(step, work),
            Worked::Uncoated(zone) => {
                let (rings, area) = (&zone.shape.rings, zone.shape.area_m2);
                out.area(Fate::Uncoated, &zone.id, rings, called(zone), area);
            }
            // They are drawn as part of the floor; nothing becomes of them.
            Worked::KeepOut(_) | Worked::Moisture(_) | Worked::Tier(_) => {}
        }
    }
    let low = takeoff.levels.iter().flat_map(|l| &l.ponding);
    for low in low {
        let place = Place::Spot(low.level.at);
        out.put(Fate::LowSpot, String::new(), place, Vec::new(), (0.0, 0.0));
    }
    out.built_over(slab);
    out.groups.values_mut().for_each(|items| order(items));
    out
}

fn called(zone: &Zone) -> Vec<Fact> {
    let name = zone.what.as_deref().map(words::clean);
    let name = name.filter(|n| !n.is_empty());
    name.map(Fact::Called).into_iter().collect()
}

/// Left to right, then bottom to top, then by id.
fn order(items: &mut [Item]) {
    let key = |item: &Item| item.place.first();
    items.sort_by(|a, b| {
        let (p, q) = (key(a), key(b));
        p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)).then_with(|| a.id.cmp(&b.id))
    });
}

impl Item<'_> {
    /// Whether a record of this id is this item or lies in it.
    pub(crate) fn has(&self, id: &str) -> bool {
        self.id == id || self.also.iter().any(|a| a == id)
    }
}

impl Place<'_> {
    /// A point of it that does not depend on how it was recorded beside others.
    fn first(&self) -> Point {
        match self {
            Self::Line(path, _) => path.start(),
            Self::Rings(rings) => rings.first().map_or(Point::ORIGIN, |r| r.start()),
            Self::Corners(corners) => corners.first().copied().unwrap_or_default(),
            Self::Spot(p) => *p,
        }
    }
}

/// Shorter pieces outside the coated area are not drawn, m: the end of a joint under a sill strip.
const LEAST_BEYOND: f64 = 0.3;

fn length(stretches: &[Stretch]) -> f64 {
    stretches.iter().map(Stretch::length).sum()
}

/// What of a shape nothing stands on; `None` where nothing does, or where nothing would be left.
fn free(shape: &Shape, slab: &Slab) -> Option<Region> {
    let own = shape.region.bounds()?;
    let over = slab.keep_outs.iter().map(|k| &k.shape.region);
    let over: Vec<Region> =
        over.filter(|r| r.bounds().is_some_and(|b| b.overlaps(own))).cloned().collect();
    if over.is_empty() {
        return None;
    }
    let free = shape.region.difference(&Region::union_all(over));
    (!free.is_empty()).then_some(free)
}

/// What is on the slab and neither in the job nor counted for another joint.
fn beyond(on_slab: &[Stretch], counted: impl Iterator<Item = Stretch>) -> Vec<Stretch> {
    let pairs = |s: &Stretch| (s.from_m, s.to_m);
    let all = Intervals::new(on_slab.iter().map(pairs).collect());
    let used = Intervals::new(counted.map(|s| pairs(&s)).collect());
    let rest = all.difference(&used);
    let long = rest.as_slice().iter().filter(|(a, b)| b - a > LEAST_BEYOND);
    long.map(|&(from_m, to_m)| Stretch { from_m, to_m }).collect()
}

impl<'a> Sorted<'a> {
    fn put(
        &mut self,
        fate: Fate,
        id: String,
        place: Place<'a>,
        facts: Vec<Fact>,
        (length_m, area_m2): (f64, f64),
    ) {
        self.groups.entry(fate).or_default().push(Item {
            id,
            also: Vec::new(),
            place,
            facts,
            length_m,
            area_m2,
            free: None,
        });
    }

    fn area(&mut self, fate: Fate, id: &str, rings: &'a [Path], facts: Vec<Fact>, area: f64) {
        self.put(fate, id.to_owned(), Place::Rings(rings), facts, (0.0, area));
    }

    fn line(&mut self, fate: Fate, id: &str, path: &'a Path, on: Vec<Stretch>, facts: Vec<Fact>) {
        let long = length(&on);
        let place = Place::Line(path, on);
        self.put(fate, id.to_owned(), place, facts, (long, 0.0));
    }

    fn joint(&mut self, joint: &'a Joint, work: &JointWork) {
        let counted = joint.in_scope.iter().copied();
        let rest = beyond(&joint.on_slab, counted.chain(joint.on_top.iter().map(|t| t.0)));
        if joint.in_scope.is_empty() {
            // A joint taped a second time is drawn and counted as the first.
            if !rest.is_empty() {
                let facts = vec![Fact::Outside];
                self.line(Fate::JointLeft, &joint.id, &joint.path, rest, facts);
            }
            return;
        }
        let mut facts = Vec::new();
        let isolation = joint.kind == JointKind::Isolation;
        if isolation {
            facts.push(Fact::Isolation);
        }
        let fate = match work.repair {
            JointRepair::Leave => Fate::JointLeft,
            _ if joint.buried => Fate::JointHidden,
            JointRepair::Honor(_) => Fate::JointSealed,
            JointRepair::Fill(_) if isolation => Fate::JointFilledMoving,
            JointRepair::Fill(_) => Fate::JointFilled,
        };
        if joint.buried && work.seal().is_none() {
            facts.push(Fact::FilledOnceOpen);
        }
        let on = joint.in_scope.clone();
        self.line(fate, &joint.id, &joint.path, on, facts);
        if !rest.is_empty() {
            self.beyond.push((&joint.path, rest));
        }
    }

    fn crack(&mut self, crack: &'a Crack, work: &CrackWork) {
        let counted = crack.in_scope.iter().copied();
        let on_top = crack.on_top.iter().map(|t| t.0);
        let rest = beyond(&crack.on_slab, counted.chain(on_top));
        if crack.in_scope.is_empty() {
            if !rest.is_empty() {
                let facts = vec![Fact::Outside];
                self.line(Fate::CrackLeft, &crack.id, &crack.path, rest, facts);
            }
            return;
        }
        let portions = work.portions.iter().filter(|p| p.length_m > 0.0);
        let done: Vec<CrackTreatment> = portions.map(CrackPortion::treatment).collect();
        let has = |treatment| done.contains(&treatment);
        let mut facts = Vec::new();
        for (treatment, fact) in [
            (CrackTreatment::Chase, Fact::CutOpen),
            (CrackTreatment::Fill, Fact::Resin),
            (CrackTreatment::Prime, Fact::Primed),
        ] {
            if has(treatment) {
                facts.push(fact);
            }
        }
        if crack.movement == Movement::Active {
            facts.push(Fact::Moves);
        }
        let filled = has(CrackTreatment::Chase) || has(CrackTreatment::Fill);
        let fate = match crack.movement {
            _ if has(CrackTreatment::Honor) => Fate::CrackSealed,
            _ if has(CrackTreatment::Leave) => Fate::CrackLeft,
            Movement::Active => Fate::CrackReturns,
            Movement::Unknown => Fate::CrackMayReturn,
            Movement::Dormant if filled => Fate::CrackRepaired,
            Movement::Dormant => Fate::CrackPrimed,
        };
        let on = crack.in_scope.clone();
        self.line(fate, &crack.id, &crack.path, on, facts);
        if !rest.is_empty() {
            self.beyond.push((&crack.path, rest));
        }
    }

    /// Areas that something stands on: a mark must not point at that thing.
    fn built_over<'s>(&mut self, slab: &'s Slab) {
        let area = |item: slab::Item<'s>| match item.place() {
            slab::Place::Area(shape) => Some((item.id(), shape)),
            slab::Place::Line(_) | slab::Place::Point(_) => None,
        };
        let shapes: BTreeMap<&str, &Shape> = slab.items().filter_map(area).collect();
        let large = [Fate::Surface, Fate::Uncoated];
        for (_, items) in self.groups.iter_mut().filter(|(f, _)| large.contains(f)) {
            for item in items {
                item.free = shapes.get(&*item.id).and_then(|shape| free(shape, slab));
            }
        }
    }

    fn patches(&mut self, inputs: &Inputs<'a>) {
        for patch in &inputs.takeoff.patches {
            let place = Place::Corners(patch.rect.corners().to_vec());
            let size = (0.0, patch.area_m2);
            let facts = vec![Fact::CutOut];
            // A patch is known by the first of what it is cut around, so that its place in the file does not matter.
            let mut also: Vec<String> = patch.ids().map(String::from).collect();
            also.sort();
            let id = also.first().cloned().unwrap_or_default();
            also.push(patch.id.clone());
            self.put(Fate::Spot, id, place, facts, size);
            let last = self.groups.get_mut(&Fate::Spot).and_then(|g| g.last_mut());
            if let Some(item) = last {
                item.also = also;
            }
        }
    }

    fn spall(&mut self, spall: &'a Spall, work: &SpallWork) {
        let fact = match &work.repair {
            SpallRepair::Patch { .. } | SpallRepair::Leave => return,
            SpallRepair::Skim { .. } => Fact::Skimmed,
            SpallRepair::WithJoint { .. } => Fact::WithJoint,
        };
        self.area(Fate::Spot, &spall.id, &spall.shape.rings, vec![fact], work.area_m2);
    }

    fn delamination(&mut self, loose: &'a Delamination, work: &DelaminationWork) {
        let (fate, area_m2) = match &work.repair {
            LooseRepair::Patch { .. } => return,
            LooseRepair::Inject(injection) => (Fate::Hollow, injection.area_m2),
            LooseRepair::Leave => (Fate::HollowLeft, loose.shape.area_m2),
        };
        let outside = work.area_m2 <= 0.0;
        let facts = outside.then_some(Fact::Outside).into_iter().collect();
        self.area(fate, &loose.id, &loose.shape.rings, facts, area_m2);
    }

    fn step(&mut self, step: &'a Lippage, work: &LippageWork) {
        if !work.stretches.is_empty() {
            let on = work.stretches.iter().map(|s| Stretch { from_m: s.from_m, to_m: s.to_m });
            let on = Intervals::new(on.map(|s| (s.from_m, s.to_m)).collect());
            let on = on.as_slice().iter();
            let on = on.map(|&(from_m, to_m)| Stretch { from_m, to_m }).collect();
            self.line(Fate::HighEdge, &step.id, &step.path, on, Vec::new());
            return;
        }
        let read: Vec<f64> =
            step.readings.iter().filter(|r| r.1.is_some_and(|h| h > 0.0)).map(|r| r.0).collect();
        let (from_m, to_m) =
            read.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), &s| (a.min(s), b.max(s)));
        if to_m > from_m {
            let on = vec![Stretch { from_m, to_m }];
            self.line(Fate::SmallStep, &step.id, &step.path, on, Vec::new());
        }
    }
}
