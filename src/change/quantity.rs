//! The work on every item, in units of the unit prices, and everything else about it that the price of
//! the job hangs on.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::model::ItemKind;
use crate::floor::Survey;
use crate::quantity::measure::solid;
use crate::quantity::{M_PER_FT, M2_PER_FT2, Units, decimal, write};
use crate::shop::Shop;
use crate::sketch::UnitKind;
use crate::takeoff::{
    CrackRepair, CrackWork, DelaminationWork, JointRepair, JointWork, LippageWork, LooseRepair,
    Seal, SpallRepair, SpallWork, Takeoff, Worked,
};

/// Measures that differ by no more are the same: rounding, in meters, square meters or liters.
const SAME: f64 = 1e-6;

/// What a measure is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum By {
    /// Meters.
    Run,
    /// Square meters.
    Area,
    /// Liters of a liquid.
    Liquid,
    /// Liters of concrete or mortar.
    Solid,
}

/// Something about an item that moves the price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Measure {
    /// What it is, said after its amount.
    what: &'static str,
    /// Width, or diameter of the rod, µm; 0 where the size plays no part.
    size_um: i64,
    by: By,
    /// The unit price that takes a width for granted, this one or, without a size, that it need not be
    /// widened.
    pub kind: Option<UnitKind>,
}

impl Measure {
    /// Its width, m.
    pub fn width_m(&self) -> f64 {
        self.size_um as f64 * 1e-6
    }

    /// `20.0 ft sealed 1/2" wide`.
    fn say(&self, amount: f64, units: Units) -> String {
        let amount = match self.by {
            By::Run => write::run(amount, units),
            By::Area => write::area(amount, units),
            By::Liquid => write::volume(amount, units),
            By::Solid => solid(amount, units),
        };
        match self.size_um {
            0 => format!("{amount} {}", self.what),
            _ => format!("{amount} {} {}", self.what, write::small(self.width_m(), units)),
        }
    }
}

/// An item's work.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Work {
    /// Amounts by unit price, as printed.
    pub amounts: BTreeMap<UnitKind, Decimal>,
    /// What is done with it, as the sketch says it; portions of a crack joined.
    pub treatment: String,
    /// What else the price hangs on, in meters, square meters or liters.
    measures: BTreeMap<Measure, f64>,
}

/// The work on every item of a floor, joints first, each in the order of the sketch; the floor last.
///
/// The floor has a unit price only where both sketches have a coating system: `coated`.
pub(super) fn works(floor: &Survey, units: Units, coated: bool) -> Vec<((ItemKind, String), Work)> {
    let (takeoff, shop) = (&floor.takeoff, &floor.shop);
    let work = |worked: Worked<'_>| {
        let (kind, work) = match worked {
            Worked::Joint(_, joint) => (ItemKind::Joint, of_joint(joint, shop, units)),
            Worked::Crack(_, crack) => (ItemKind::Crack, of_crack(crack, units)),
            Worked::Spall(_, spall) => (ItemKind::Spall, of_spall(spall, takeoff, shop)),
            Worked::Delamination(_, loose) => {
                (ItemKind::Delamination, of_delamination(loose, takeoff, shop, units))
            }
            Worked::Lippage(_, step) => (ItemKind::Step, of_step(step, units)),
            // They change the floor, the coating or the preparation, and are compared with these.
            Worked::Blemish(_)
            | Worked::KeepOut(_)
            | Worked::Uncoated(_)
            | Worked::Moisture(_)
            | Worked::Tier(_) => return None,
        };
        Some(((kind, worked.item().id().to_owned()), work))
    };
    let mut all: Vec<_> = takeoff.walk(&floor.slab).filter_map(work).collect();
    let whole = of_floor(floor, units, coated);
    all.push(((ItemKind::Floor, "floor".to_owned()), whole));
    all
}

impl Work {
    /// Adds an amount: meters, square meters, bags or packages.
    fn add(&mut self, kind: UnitKind, amount: f64, units: Units) {
        let (one, places) = scale(kind, units);
        let shown = decimal(amount / one, places).unwrap_or_default();
        if !shown.is_zero() {
            *self.amounts.entry(kind).or_default() += shown;
        }
    }

    fn note(&mut self, what: &'static str, by: By, amount: f64) {
        self.note_sized(what, by, 0.0, None, amount);
    }

    fn note_sized(
        &mut self,
        what: &'static str,
        by: By,
        size_m: f64,
        kind: Option<UnitKind>,
        amount: f64,
    ) {
        let measure = Measure { what, size_um: (size_m * 1e6).round() as i64, by, kind };
        *self.measures.entry(measure).or_default() += amount;
    }

    /// Rod and sealant of a length, m, and what is cut for them.
    fn seal(&mut self, length: f64, seal: &Seal) {
        let kind = Some(UnitKind::JointHonor);
        self.note_sized("sealed at a width of", By::Run, seal.width_m, kind, length);
        match seal.rod_m {
            Some(rod) => self.note_sized("of backer rod", By::Run, rod, None, length),
            None => self.note("without a rod that fits", By::Run, length),
        }
        self.note_sized("widened by hand", By::Run, 0.0, kind, seal.widen_m);
        self.note("of concrete cut out for rod and sealant", By::Solid, seal.removed_l);
    }
}

/// Measures of two works that differ, with the amount in each.
pub(super) fn differences(was: &Work, is: &Work) -> Vec<(Measure, f64, f64)> {
    let known: BTreeSet<&Measure> = was.measures.keys().chain(is.measures.keys()).collect();
    let amount = |work: &Work, measure| work.measures.get(measure).copied().unwrap_or_default();
    known
        .into_iter()
        .map(|measure| (*measure, amount(was, measure), amount(is, measure)))
        .filter(|(_, before, after)| (before - after).abs() > SAME)
        .collect()
}

/// What differs, before and now: `now 24.0 ft sealed at a width of 1"; before 24.0 ft sealed at a width
/// of 1/2"`.
pub(super) fn say_differences(was: &Work, is: &Work, units: Units) -> String {
    let differences = differences(was, is);
    let list = |pick: fn(&(Measure, f64, f64)) -> f64| {
        let some = differences.iter().filter(|row| pick(row) > SAME);
        let said: Vec<String> = some.map(|row| row.0.say(pick(row), units)).collect();
        match said.is_empty() {
            true => "none of it".to_owned(),
            false => said.join(", "),
        }
    };
    let (before, now) = (list(|row| row.1), list(|row| row.2));
    if before == now {
        return "by less than is printed".to_owned();
    }
    format!("now {now}; before {before}")
}

/// One unit in meters or square meters, and the decimals it is priced with.
fn scale(kind: UnitKind, units: Units) -> (f64, u32) {
    match (kind, units) {
        (UnitKind::Patch | UnitKind::Filler, _) => (1.0, 2),
        (_, Units::Metric) => (1.0, 2),
        (UnitKind::HandGrind | UnitKind::Inject | UnitKind::Floor, Units::Us) => (M2_PER_FT2, 1),
        (_, Units::Us) => (M_PER_FT, 1),
    }
}

/// Filler beyond the section that the price of a foot of joint holds, packages.
fn extra_filler(volume_l: f64, shop: &Shop) -> f64 {
    volume_l * (1.0 + shop.filler.waste.one()) / shop.filler.package.l()
}

fn of_joint(joint: &JointWork, shop: &Shop, units: Units) -> Work {
    let mut work = Work { treatment: joint.treatment().word().into(), ..Work::default() };
    work.add(UnitKind::JointOpen, joint.buried_m, units);
    work.note("opened", By::Run, joint.buried_m);
    match &joint.repair {
        JointRepair::Fill(chase) => {
            work.add(UnitKind::Joint, joint.length_m, units);
            let section = shop.chase.blade.m() * shop.chase.depth.m();
            let held_l = joint.length_m * section * 1000.0;
            let more_l = (chase.filling.volume_l - held_l).max(0.0);
            work.add(UnitKind::Filler, extra_filler(more_l, shop), units);
            work.note("sawn", By::Run, chase.saw_m);
            work.note("cut by hand", By::Run, chase.hand_m());
            let width = chase.filling.width_m;
            work.note_sized("cut to a width of", By::Run, width, None, joint.length_m);
            work.note("of filler", By::Liquid, chase.filling.volume_l);
        }
        JointRepair::Honor(seal) => {
            work.add(UnitKind::JointHonor, joint.length_m, units);
            work.seal(joint.length_m, seal);
        }
        JointRepair::Leave => {}
    }
    work
}

fn of_crack(crack: &CrackWork, units: Units) -> Work {
    let mut by_kind: BTreeMap<UnitKind, f64> = BTreeMap::new();
    let mut done: Vec<&str> = Vec::new();
    let mut work = Work::default();
    for portion in &crack.portions {
        let word = portion.treatment().word();
        if !done.contains(&word) {
            done.push(word);
        }
        let length = portion.length_m;
        let (kind, what, filling) = match &portion.repair {
            CrackRepair::Fill(filling) => (UnitKind::Crack, "filled at a width of", filling),
            CrackRepair::Chase(filling) => {
                (UnitKind::CrackChase, "cut open to a width of", filling)
            }
            CrackRepair::Honor(seal) => {
                work.seal(length, seal);
                *by_kind.entry(UnitKind::JointHonor).or_default() += length;
                continue;
            }
            CrackRepair::Prime | CrackRepair::Leave => continue,
        };
        work.note_sized(what, By::Run, filling.width_m, Some(kind), length);
        *by_kind.entry(kind).or_default() += length;
    }
    done.sort_unstable();
    work.treatment = done.join(", ");
    for (kind, length) in by_kind {
        work.add(kind, length, units);
    }
    work
}

fn of_spall(spall: &SpallWork, takeoff: &Takeoff, shop: &Shop) -> Work {
    let mut work = Work {
        treatment: crate::takeoff::words::spall_repair(&spall.repair).into(),
        ..Work::default()
    };
    let (rules, volume_l) = (&shop.spalls, spall.repair.volume_l());
    let bags = volume_l * (1.0 + rules.waste.one()) / rules.yield_.l();
    let (kind, amount, what) = match &spall.repair {
        SpallRepair::WithJoint { .. } => {
            (UnitKind::Filler, extra_filler(volume_l, shop), "of filler")
        }
        SpallRepair::Leave => return work,
        SpallRepair::Skim { .. } => (UnitKind::Patch, bags, "of mortar, skimmed"),
        SpallRepair::Patch { id, .. } => {
            if let Some(patch) = takeoff.patch(id) {
                work.note("of patch, with all its spalls", By::Area, patch.area_m2);
            }
            (UnitKind::Patch, bags, "of mortar in a patch")
        }
    };
    work.add(kind, amount, Units::Metric);
    work.note(what, By::Solid, volume_l);
    work
}

fn of_delamination(loose: &DelaminationWork, takeoff: &Takeoff, shop: &Shop, units: Units) -> Work {
    let treatment = loose.repair.treatment().word().into();
    let mut work = Work { treatment, ..Work::default() };
    match &loose.repair {
        LooseRepair::Leave => {}
        LooseRepair::Patch { id, volume_l } => {
            if let Some(patch) = takeoff.patch(id) {
                work.note("of patch, with all in it", By::Area, patch.area_m2);
            }
            let rules = &shop.spalls;
            let bags = volume_l * (1.0 + rules.waste.one()) / rules.yield_.l();
            work.add(UnitKind::Patch, bags, Units::Metric);
            work.note("of mortar in a patch", By::Solid, *volume_l);
        }
        LooseRepair::Inject(injection) => {
            work.add(UnitKind::Inject, injection.area_m2, units);
            work.note("injected", By::Area, injection.area_m2);
            work.note("of injection resin", By::Liquid, injection.resin_l);
            work.note("drilled out for ports", By::Solid, injection.drilled_l);
        }
    }
    work
}

fn of_step(step: &LippageWork, units: Units) -> Work {
    let mut work = Work::default();
    work.add(UnitKind::HandGrind, step.hand_area_m2, units);
    work.note("taken down by hand", By::Run, step.hand_length_m);
    work.note("of concrete ground off", By::Solid, step.removed_l);
    work
}

fn of_floor(floor: &Survey, units: Units, coated: bool) -> Work {
    let (area, mut work) = (&floor.takeoff.area, Work::default());
    if coated {
        work.add(UnitKind::Floor, area.coated_m2, units);
    }
    work.note("of floor", By::Area, area.net_m2);
    work.note("of upright faces", By::Area, area.faces_m2);
    work.note("of cove", By::Run, floor.takeoff.totals.cove_m);
    work.note("ground by hand along edges", By::Area, area.hand_edge_m2);
    work.note("of ends on open floor", By::Run, floor.takeoff.termination_m);
    work
}
