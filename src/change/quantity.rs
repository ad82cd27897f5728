//! The work on every item, in units of the unit prices.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::model::ItemKind;
use crate::quantity::{M_PER_FT, M2_PER_FT2, Units, decimal};
use crate::shop::Shop;
use crate::sketch::{Treatment, UnitKind};
use crate::survey::Survey;
use crate::takeoff::{CrackWork, JointWork, LippageWork, SpallRepair, SpallWork};

/// An item's work by unit price.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Work {
    /// Amounts as printed.
    pub amounts: BTreeMap<UnitKind, Decimal>,
    /// What is done with it, as the sketch says it; portions of a crack joined.
    pub treatment: String,
}

/// The work on every item of a floor, joints first, each in the order of the sketch.
///
/// The floor counts only where both sketches have a coating system: `coated`.
pub(super) fn works(floor: &Survey, units: Units, coated: bool) -> Vec<((ItemKind, String), Work)> {
    let (takeoff, shop) = (&floor.takeoff, &floor.shop);
    let joints = takeoff.joints.iter().map(|joint| {
        (
            (ItemKind::Joint, joint.id.clone()),
            of_joint(joint, shop, units),
        )
    });
    let cracks = takeoff
        .cracks
        .iter()
        .map(|crack| ((ItemKind::Crack, crack.id.clone()), of_crack(crack, units)));
    let spalls = takeoff
        .spalls
        .iter()
        .map(|spall| ((ItemKind::Spall, spall.id.clone()), of_spall(spall, shop)));
    let steps = takeoff
        .lippage
        .iter()
        .map(|step| ((ItemKind::Step, step.id.clone()), of_step(step, units)));
    let mut all: Vec<_> = joints.chain(cracks).chain(spalls).chain(steps).collect();
    if coated {
        let mut work = Work::default();
        work.add(UnitKind::Floor, takeoff.area.coated_m2, units);
        all.push(((ItemKind::Floor, "floor".to_owned()), work));
    }
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
}

/// One unit in meters or square meters, and the decimals it is priced with.
fn scale(kind: UnitKind, units: Units) -> (f64, u32) {
    match (kind, units) {
        (UnitKind::Patch | UnitKind::Filler, _) => (1.0, 2),
        (_, Units::Metric) => (1.0, 2),
        (UnitKind::HandGrind | UnitKind::Floor, Units::Us) => (M2_PER_FT2, 1),
        (_, Units::Us) => (M_PER_FT, 1),
    }
}

/// Filler beyond the section that the price of a foot of joint holds, packages.
fn extra_filler(volume_l: f64, shop: &Shop) -> f64 {
    volume_l * (1.0 + shop.filler.waste.one()) / shop.filler.package.l()
}

fn of_joint(joint: &JointWork, shop: &Shop, units: Units) -> Work {
    let mut work = Work {
        treatment: crate::takeoff::words::treatment(joint.treatment).into(),
        ..Work::default()
    };
    work.add(UnitKind::JointOpen, joint.buried_m, units);
    match joint.treatment {
        Treatment::Fill => {
            work.add(UnitKind::Joint, joint.length_m, units);
            let section = shop.chase.blade.m() * shop.chase.depth.m();
            let held_l = joint.length_m * section * 1000.0;
            let more_l = (joint.fill_l - held_l).max(0.0);
            work.add(UnitKind::Filler, extra_filler(more_l, shop), units);
        }
        Treatment::Honor => work.add(UnitKind::JointHonor, joint.length_m, units),
        Treatment::Leave | Treatment::Prime | Treatment::Chase => {}
    }
    work
}

fn of_crack(crack: &CrackWork, units: Units) -> Work {
    let mut by_kind: BTreeMap<UnitKind, f64> = BTreeMap::new();
    let mut done: Vec<&str> = Vec::new();
    for portion in &crack.portions {
        let word = crate::takeoff::words::treatment(portion.treatment);
        if !done.contains(&word) {
            done.push(word);
        }
        let kind = match portion.treatment {
            Treatment::Fill => UnitKind::Crack,
            Treatment::Chase => UnitKind::CrackChase,
            Treatment::Honor => UnitKind::JointHonor,
            Treatment::Prime | Treatment::Leave => continue,
        };
        *by_kind.entry(kind).or_default() += portion.length_m;
    }
    done.sort_unstable();
    let mut work = Work {
        treatment: done.join(", "),
        ..Work::default()
    };
    for (kind, length) in by_kind {
        work.add(kind, length, units);
    }
    work
}

fn of_spall(spall: &SpallWork, shop: &Shop) -> Work {
    let mut work = Work {
        treatment: crate::takeoff::words::spall_repair(spall.repair).into(),
        ..Work::default()
    };
    let (kind, amount) = match spall.repair {
        SpallRepair::WithJoint(_) => (UnitKind::Filler, extra_filler(spall.volume_l, shop)),
        SpallRepair::Leave | SpallRepair::Skim | SpallRepair::Patch(_) => {
            let rules = &shop.spalls;
            let bags = spall.volume_l * (1.0 + rules.waste.one()) / rules.yield_.l();
            (UnitKind::Patch, bags)
        }
    };
    work.add(kind, amount, Units::Metric);
    work
}

fn of_step(step: &LippageWork, units: Units) -> Work {
    let mut work = Work::default();
    work.add(UnitKind::HandGrind, step.hand_area_m2, units);
    work
}
