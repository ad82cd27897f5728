//! The list of works of one floor.

use std::collections::BTreeSet;

use super::coat;
use super::model::{Part, Work};
use super::time::{part, slower, timed};
use crate::quantity::M_PER_IN;
use crate::shop::{Shop, System, Works};
use crate::sketch::{BlemishKind, Formed, Sketch};
use crate::slab::{Blemish, Slab};
use crate::takeoff::{
    Chase, CrackPortion, CrackWork, JointRepair, JointWork, Seal, SpallRepair, SpallWork, Takeoff,
};
use crate::trade::{Key, Kind, Unit};

/// Mohs hardness above which the floor grinder is slower (common practice).
const HARD: f64 = 6.0;
/// Rounding of a chase width against the blade, m: a hundredth of a sixteenth of an inch.
const WIDTH_GUARD: f64 = 0.01 * M_PER_IN / 16.0;

/// What the list is made from.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// The floor.
    pub slab: &'a Slab,
    /// Its quantities.
    pub takeoff: &'a Takeoff,
    /// The shop book in force.
    pub shop: &'a Shop,
    /// The coating system with its name, where the floor is coated.
    pub system: Option<(&'a str, &'a System)>,
    /// Workers on the floor.
    pub crew: usize,
    /// Slab temperature at which liquids are mixed, °C.
    pub slab_c: f64,
}

/// Slab temperature that times are read at where the sketch gives none: 70 °F, °C.
pub const ASSUMED_SLAB_C: f64 = 38.0 / 1.8;

impl<'a> Facts<'a> {
    /// The facts of a sketch, with the crew of its shop book.
    #[must_use]
    pub fn new(sketch: &Sketch, slab: &'a Slab, takeoff: &'a Takeoff, shop: &'a Shop) -> Self {
        let named = sketch.coating.system.as_ref();
        let system = named.and_then(|name| shop.systems.get_key_value(&name.value));
        Self {
            slab,
            takeoff,
            shop,
            system: system.map(|(name, system)| (name.as_str(), system)),
            crew: shop.days.crew,
            slab_c: warmest(sketch),
        }
    }

    pub(super) const fn book(&self) -> &'a Works {
        &self.shop.days.works
    }

    /// Passes of the floor grinder.
    fn passes(&self) -> f64 {
        self.shop.passes(self.system.map(|(_, system)| system))
    }

    fn part(&self, kind: Kind, key: Key, quantity: f64, unit: Unit) -> Part {
        part(self.book(), (kind, key), "", quantity, unit)
    }
}

/// The warmest slab that the forecast or the survey speaks of: what is mixed must be laid on that day
/// too.
fn warmest(sketch: &Sketch) -> f64 {
    let days = sketch.tests.forecast.iter().map(|day| &day.slab);
    let slabs = days.chain(sketch.tests.slab_temperature.iter());
    let warmest = slabs.map(|slab| slab.value.c()).reduce(f64::max);
    warmest.unwrap_or(ASSUMED_SLAB_C)
}

/// Everything to be done on one floor, in the order of the trade. What comes every day (setting up,
/// packing up) is no part of it: the plan puts it in.
#[must_use]
pub fn works(facts: &Facts<'_>) -> Vec<Work> {
    let mut all = Vec::new();
    for kind in Kind::all() {
        match kind {
            Kind::Coat => all.extend(coat::coats(facts)),
            Kind::SetUp | Kind::PackUp | Kind::Abrade | Kind::Scrape => {}
            _ => {
                let (items, parts) = quantities(kind, facts);
                let work = timed(kind, kind.name().into(), items, parts, facts.book());
                all.extend(work.map(|work| with_changes(work, facts)));
            }
        }
    }
    all
}

/// The floor grinder is set up once, and its diamonds are changed between passes.
fn with_changes(mut work: Work, facts: &Facts<'_>) -> Work {
    let book = |key| facts.book().get(Kind::GrindFloor, key);
    match work.kind {
        Kind::GrindFloor => work.fixed_s += (facts.passes() - 1.0) * book(Key::Change),
        Kind::GrindOver if over(facts) >= reached(facts) => work.fixed_s += book(Key::SetUp),
        _ => {}
    }
    work
}

/// What a kind is done on, and how much of it there is.
fn quantities(kind: Kind, facts: &Facts<'_>) -> (Vec<String>, Vec<Part>) {
    let (takeoff, totals) = (facts.takeoff, &facts.takeoff.totals);
    let coated = facts.system.is_some();
    let run = |key, m| facts.part(kind, key, m, Unit::Length);
    let square = |key, m2| facts.part(kind, key, m2, Unit::Area);
    let whole_floor = |parts| (Vec::new(), parts);
    match kind {
        Kind::Mask if coated => {
            let faces: f64 = facts.slab.faces.iter().map(|f| f.path.length()).sum();
            whole_floor(vec![run(Key::Rate, takeoff.termination_m + faces)])
        }
        Kind::RemoveCoating => removed(facts),
        Kind::Degrease => {
            let oil = blemishes(facts, BlemishKind::Oil);
            (ids(&oil), vec![square(Key::Rate, sum(&oil))])
        }
        Kind::SawJoints => cut(kind, facts, |chase| chase.saw_m * passes(chase, facts.shop)),
        Kind::DetailJoints => cut(kind, facts, Chase::hand_m),
        Kind::OpenBuried => {
            let open = joints(facts, |j| Some(j.buried_m));
            (ids(&open), vec![run(Key::Rate, sum(&open))])
        }
        Kind::ChaseCracks => {
            let chased = portions(facts, |p| p.chased().map(|_| p.length_m));
            (ids(&chased), vec![run(Key::Rate, sum(&chased))])
        }
        Kind::Widen => {
            let widened = sealed(facts, |_, seal| seal.widen_m);
            (ids(&widened), vec![run(Key::Rate, sum(&widened))])
        }
        Kind::Patch => repairs(facts),
        Kind::Inject => {
            let injected = injected(facts);
            (ids(&injected), vec![square(Key::Rate, sum(&injected))])
        }
        Kind::CleanCuts => {
            let left = |j: &JointWork| matches!(j.repair, JointRepair::Leave);
            let mut cuts = joints(facts, |j| (!left(j)).then_some(j.length_m));
            let cut = |p: &CrackPortion| p.filling().is_some() || p.seal().is_some();
            cuts.extend(portions(facts, |p| cut(p).then_some(p.length_m)));
            cuts.extend(takeoff.patches.iter().map(|p| (p.id.clone(), p.length_m)));
            (ids(&cuts), vec![run(Key::Rate, sum(&cuts))])
        }
        Kind::FillJoints => {
            let filled = joints(facts, filled_joint);
            let litres = totals.fill_l * (1.0 + facts.shop.filler.waste.one());
            let parts = vec![
                part(facts.book(), (kind, Key::Rate), "placed", litres, Unit::Volume),
                part(facts.book(), (kind, Key::TopOff), "topped off", sum(&filled), Unit::Length),
            ];
            (ids(&filled), parts)
        }
        Kind::FillCracks => {
            let filled = portions(facts, filled_portion);
            (ids(&filled), vec![run(Key::Rate, sum(&filled))])
        }
        Kind::Shave => {
            let filled = joints(facts, filled_joint);
            (ids(&filled), vec![run(Key::Rate, sum(&filled))])
        }
        Kind::GrindSteps => {
            let by_hand = |l: &&crate::takeoff::LippageWork| l.hand_length_m > 0.0;
            let steps = takeoff.lippage.iter().filter(by_hand);
            let litres = facts.part(kind, Key::Volume, totals.hand_grind_l, Unit::Volume);
            let slow = slower(run(Key::Rate, totals.hand_grind_m), litres);
            (steps.map(|l| l.id.clone()).collect(), vec![slow])
        }
        Kind::GrindEdges => {
            let edge = (takeoff.edge_m - takeoff.termination_m).max(0.0);
            let by_area = square(Key::Area, takeoff.area.hand_edge_m2);
            whole_floor(vec![slower(run(Key::Rate, edge), by_area)])
        }
        Kind::GrindFloor => whole_floor(ground(facts)),
        Kind::GrindOver => whole_floor(vec![pass(facts, "", over(facts))]),
        Kind::CutTermination if coated => whole_floor(vec![run(Key::Rate, takeoff.termination_m)]),
        Kind::PrepareFaces if coated => whole_floor(vec![square(Key::Rate, takeoff.area.faces_m2)]),
        Kind::FormCoves if coated => whole_floor(vec![run(Key::Rate, totals.cove_m)]),
        Kind::Vacuum if coated => whole_floor(vec![square(Key::Rate, takeoff.area.net_m2)]),
        Kind::RodAndSealant => {
            let honored = sealed(facts, |length_m, _| length_m);
            (ids(&honored), vec![run(Key::Rate, sum(&honored))])
        }
        _ => (Vec::new(), Vec::new()),
    }
}

type Runs = Vec<(String, f64)>;

fn ids(runs: &Runs) -> Vec<String> {
    runs.iter().map(|(id, _)| id.clone()).collect()
}

fn sum(runs: &Runs) -> f64 {
    runs.iter().map(|(_, m)| m).sum::<f64>() + 0.0
}

/// Joints with a length of each that has one.
fn joints(facts: &Facts<'_>, length: impl Fn(&JointWork) -> Option<f64>) -> Runs {
    let all = facts.takeoff.joints.iter();
    let all = all.filter_map(|joint| Some((joint.id.clone(), length(joint)?)));
    all.filter(|(_, m)| *m > 0.0).collect()
}

/// Cracks with the sum of a length over their portions.
fn portions(facts: &Facts<'_>, length: impl Fn(&CrackPortion) -> Option<f64>) -> Runs {
    let of = |c: &CrackWork| (c.id.clone(), c.portions.iter().filter_map(&length).sum::<f64>());
    let all = facts.takeoff.cracks.iter().map(of);
    all.filter(|(_, m)| *m > 0.0).collect()
}

/// Joints and cracks with a length of what is honored of each: from its whole length, m, and its seal.
fn sealed(facts: &Facts<'_>, length: impl Fn(f64, &Seal) -> f64) -> Runs {
    let mut all = joints(facts, |joint| Some(length(joint.length_m, joint.seal()?)));
    all.extend(portions(facts, |portion| Some(length(portion.length_m, portion.seal()?))));
    all
}

/// The length of a joint that is filled, m.
fn filled_joint(joint: &JointWork) -> Option<f64> {
    joint.filling().map(|_| joint.length_m)
}

/// The length of a portion that takes resin, m: one too narrow to be measured takes none.
fn filled_portion(portion: &CrackPortion) -> Option<f64> {
    portion.filling().filter(|filling| filling.volume_l > 0.0).map(|_| portion.length_m)
}

/// Blemishes of a kind. What holds lead or asbestos is taken away by others and is no work here.
fn blemishes(facts: &Facts<'_>, what: BlemishKind) -> Runs {
    let ours = |b: &&Blemish| !b.is_hazardous();
    let all = facts.slab.blemishes.iter().filter(ours);
    all.filter(|b| b.what == what && b.area_m2 > 0.0).map(|b| (b.id.clone(), b.area_m2)).collect()
}

/// Old coatings and the like, each in its number of passes.
fn removed(facts: &Facts<'_>) -> (Vec<String>, Vec<Part>) {
    let kind = Kind::RemoveCoating;
    let kinds = [
        (BlemishKind::Paint, Key::Paint, "paint"),
        (BlemishKind::Adhesive, Key::Adhesive, "adhesive"),
        (BlemishKind::Sealer, Key::Sealer, "sealer"),
        (BlemishKind::CuringCompound, Key::CuringCompound, "curing compound"),
    ];
    let (mut items, mut parts) = (Vec::new(), Vec::new());
    for (what, key, name) in kinds {
        let found = blemishes(facts, what);
        let area = sum(&found) * facts.book().get(kind, key);
        items.extend(ids(&found));
        parts.push(part(facts.book(), (kind, Key::Rate), name, area, Unit::Area));
    }
    (items, parts)
}

/// Passes of the saw: a chase wider than the blade takes another beside the first.
fn passes(chase: &Chase, shop: &Shop) -> f64 {
    let blade = shop.chase.blade.m();
    ((chase.filling.width_m - WIDTH_GUARD) / blade).ceil().max(1.0)
}

/// Joints that are cut, those with a strip left in apart: it has to come out.
fn cut(kind: Kind, facts: &Facts<'_>, length: impl Fn(&Chase) -> f64) -> (Vec<String>, Vec<Part>) {
    let records = facts.slab.joints.iter();
    let strips = records.filter(|j| j.formed == Formed::Strip).map(|j| j.id.as_str());
    let strips: BTreeSet<&str> = strips.collect();
    let all = joints(facts, |joint| joint.chase().map(&length));
    let items = ids(&all);
    let (with, without): (Runs, Runs) =
        all.into_iter().partition(|(id, _)| strips.contains(id.as_str()));
    let parts = vec![
        part(facts.book(), (kind, Key::Rate), "", sum(&without), Unit::Length),
        part(
            facts.book(),
            (kind, Key::WithStrip),
            "with a strip left in",
            sum(&with),
            Unit::Length,
        ),
    ];
    (items, parts)
}

/// Patches cut out, and spalls skimmed.
fn repairs(facts: &Facts<'_>) -> (Vec<String>, Vec<Part>) {
    let takeoff = facts.takeoff;
    let patches: Runs = takeoff.patches.iter().map(|p| (p.id.clone(), p.area_m2)).collect();
    let skimmed = |spall: &SpallWork| match spall.repair {
        SpallRepair::Skim { in_patches_m2, .. } => {
            Some((spall.id.clone(), spall.area_m2 - in_patches_m2))
        }
        SpallRepair::Leave | SpallRepair::Patch { .. } | SpallRepair::WithJoint { .. } => None,
    };
    let skims: Runs = takeoff.spalls.iter().filter_map(skimmed).collect();
    let kind = Kind::Patch;
    let parts = vec![
        part(facts.book(), (kind, Key::Rate), "cut out", sum(&patches), Unit::Area),
        part(facts.book(), (kind, Key::Skim), "skimmed", sum(&skims), Unit::Area),
    ];
    ([ids(&patches), ids(&skims)].concat(), parts)
}

/// Delaminations with the area of each that is injected.
fn injected(facts: &Facts<'_>) -> Runs {
    let all = facts.takeoff.delaminations.iter();
    all.filter_map(|d| Some((d.id.clone(), d.injection()?.area_m2))).collect()
}

/// What the floor grinder reaches, m².
fn reached(facts: &Facts<'_>) -> f64 {
    let area = &facts.takeoff.area;
    (area.net_m2 - area.hand_edge_m2).max(0.0)
}

/// The part of it that is ground last: a strip as wide as the machine's head along what was filled,
/// the patches and what was injected, m².
fn over(facts: &Facts<'_>) -> f64 {
    let mut filled = joints(facts, filled_joint);
    filled.extend(portions(facts, filled_portion));
    let patches: f64 = facts.takeoff.patches.iter().map(|p| p.area_m2).sum();
    let strips = sum(&filled) * facts.shop.grinding.head.m();
    (strips + patches + sum(&injected(facts))).min(reached(facts))
}

/// One pass of the floor grinder, slower on hard concrete.
fn pass(facts: &Facts<'_>, what: &'static str, area_m2: f64) -> Part {
    let book = |key| facts.book().get(Kind::GrindFloor, key);
    let hardest = facts.slab.hardness.iter().map(|h| h.1).fold(0.0, f64::max);
    let less = if hardest > HARD { book(Key::HardLess) } else { 0.0 };
    Part {
        what,
        quantity: area_m2,
        unit: Unit::Area,
        key: Key::Rate,
        rate: book(Key::Rate) * (1.0 - less),
    }
}

/// The open floor, in all passes but one along what was filled. Scaling takes one more, where it is.
fn ground(facts: &Facts<'_>) -> Vec<Part> {
    let passes = facts.passes();
    let scaling = sum(&blemishes(facts, BlemishKind::Scaling)).min(reached(facts));
    vec![
        pass(facts, "", reached(facts) * passes - over(facts)),
        pass(facts, "once more on scaling", scaling),
    ]
}
