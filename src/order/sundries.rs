//! Small goods by stated rules: mixers, sand, blades, wheels, tape, dust bags.

use super::dust::{bags, dust};
use super::filler::JOINT_FILLER;
use super::model::Order;
use super::need::whole_packages;
use super::words;
use crate::quantity::{KG_PER_LB, L_PER_FT3, Units, write};
use crate::shop::Shop;
use crate::takeoff::Takeoff;

/// Bulk weight of dry sand, kg/L: 100 lb/ft³ (from memory).
const SAND_KG_PER_L: f64 = 100.0 * KG_PER_LB / L_PER_FT3;
/// A package of filler up to this many litres is a cartridge and takes a static mixer (common
/// practice; larger ones are mixed in a pail).
const CARTRIDGE_L: f64 = 1.6;
/// Litres in one cubic meter.
const L_PER_M3: f64 = 1000.0;

/// Some small goods to take along.
#[derive(Clone, Debug, PartialEq)]
pub struct Sundry {
    /// What.
    pub item: &'static str,
    /// How many pieces, bags or rolls.
    pub count: u64,
    /// The rule and the number it was reached from, in the sketch's units.
    pub how: String,
}

/// Small goods for one floor; what the floor does not call for is left out.
#[must_use]
pub fn sundries(order: &Order, takeoff: &Takeoff, shop: &Shop, units: Units) -> Vec<Sundry> {
    let rows = [
        mixers(order, shop),
        choke(takeoff, shop, units),
        by_run(
            "joint saw blade",
            takeoff.totals.saw_m,
            shop.sundries.blade.m(),
            "sawn",
            units,
        ),
        by_run(
            "hand grinder wheel",
            wheels_m(order, takeoff),
            shop.sundries.wheel.m(),
            "cut, opened, widened and keyed by hand",
            units,
        ),
        by_run(
            "masking tape, roll",
            takeoff.termination_m + 2.0 * takeoff.totals.honor_m,
            shop.sundries.tape.m(),
            "of ends on open floor and of both sides of honored joints and cracks",
            units,
        ),
        dust_bags(takeoff, shop, units),
    ];
    rows.into_iter().filter(|row| row.count > 0).collect()
}

/// Joint and crack that wheels of the hand grinder cut, m, and terminations where something is
/// coated: then layers stand in the order, under their system.
fn wheels_m(order: &Order, takeoff: &Takeoff) -> f64 {
    let totals = &takeoff.totals;
    let coated = order.rows.iter().any(|row| row.item.contains(": "));
    let keyed = if coated { takeoff.termination_m } else { 0.0 };
    totals.hand_cut_m + totals.crack_chase_m + totals.buried_m + totals.widen_m + keyed
}

/// Whether the joint filler comes in cartridges, each with a static mixer.
pub(crate) fn in_cartridges(shop: &Shop) -> bool {
    shop.filler.package.l() <= CARTRIDGE_L
}

/// Bags of sand that choke the bottom of a chase, not rounded; all lengths in meters.
pub(crate) fn choke_bags(length: f64, width: f64, depth: f64, shop: &Shop) -> f64 {
    let litres = length * width * depth.min(shop.sundries.choke.m()) * L_PER_M3;
    litres * SAND_KG_PER_L / shop.sundries.sand.kg()
}

fn mixers(order: &Order, shop: &Shop) -> Sundry {
    let filler = order.rows.iter().find(|row| row.item == JOINT_FILLER);
    let cartridges = filler
        .filter(|_| in_cartridges(shop))
        .map_or(0, |row| row.packages);
    let spares = shop.sundries.mixer_spares as u64;
    Sundry {
        item: "static mixer",
        count: if cartridges > 0 {
            cartridges + spares
        } else {
            0
        },
        how: format!(
            "One a cartridge ({cartridges}) and {spares} spare: a mixer sets when work stops."
        ),
    }
}

fn choke(takeoff: &Takeoff, shop: &Shop, units: Units) -> Sundry {
    let height = shop.sundries.choke.m();
    let joints = takeoff.joints.iter();
    let joints = joints.map(|j| (j.length_m, j.chase_width_mm, j.chase_depth_mm));
    let portions = takeoff.cracks.iter().flat_map(|c| &c.portions);
    let cracks = portions.map(|p| (p.length_m, p.chase_width_mm, p.depth_mm));
    let bags: f64 = joints
        .chain(cracks)
        .map(|(length, wide, deep)| choke_bags(length, wide / 1000.0, deep / 1000.0, shop))
        .sum();
    Sundry {
        item: "dry sand, bag",
        count: whole_packages(bags, 1.0),
        how: format!(
            "{} at the bottom of every chase of a joint or crack: {}, in bags of {}.",
            write::small(height, units),
            write::mass(bags * shop.sundries.sand.kg(), units),
            words::package(shop.sundries.sand.kg(), "kg", units)
        ),
    }
}

fn by_run(item: &'static str, run_m: f64, each_m: f64, what: &str, units: Units) -> Sundry {
    Sundry {
        item,
        count: whole_packages(run_m, each_m),
        how: format!(
            "{} {what}, {} each.",
            write::run(run_m, units),
            write::run(each_m, units)
        ),
    }
}

fn dust_bags(takeoff: &Takeoff, shop: &Shop, units: Units) -> Sundry {
    let all = dust(takeoff, shop);
    let kg: f64 = all.iter().map(|d| d.mass_kg).sum();
    Sundry {
        item: "dust bag",
        count: bags(&all, shop),
        how: format!(
            "{} of dust and rubble, {} a bag.",
            write::mass(kg, units),
            words::package(shop.sundries.dust_bag.kg(), "kg", units)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::{filled, honored, shop, slab, takeoff};

    fn count(rows: &[Sundry], item: &str) -> u64 {
        rows.iter().find(|r| r.item == item).map_or(0, |r| r.count)
    }

    /// Rules of the built-in book, worked by hand.
    #[test]
    fn a_floor_with_joints() {
        let mut floor = takeoff(0.0, 0.0);
        // 216 ft of 1/4 by 1 1/4 in take 25 cartridges of 600 mL (V-Y9): 27 mixers with two spare.
        // Sand: 216 × 12 × 1/4 × 1/8 = 81 in³ = 0.0469 ft³ = 4.7 lb: one bag of 50.
        // Kerf: 810 in³ = 0.469 ft³ = 68 lb at 145: two bags of 40.
        floor.joints = vec![
            filled("J1", 216.0, 0.25, 1.25),
            honored("J2", 100.0, 0.5, Some(0.625)),
        ];
        floor.totals.saw_m = 650.0 * 0.3048; // 650 ft at 600 a blade: two
        floor.totals.hand_cut_m = 100.0 * 0.3048; // 100 ft at 100 a wheel: one
        floor.totals.honor_m = 100.0 * 0.3048; // two sides: 200 ft at 180 a roll: two
        let book = shop();
        let order = crate::order::order(&slab(24.0, 24.0), &floor, &book, None);
        let rows = sundries(&order, &floor, &book, Units::Us);
        for (item, want) in [
            ("static mixer", 27),
            ("dry sand, bag", 1),
            ("joint saw blade", 2),
            ("hand grinder wheel", 1),
            ("masking tape, roll", 2),
            ("dust bag", 2),
        ] {
            assert_eq!(count(&rows, item), want, "{item}: {rows:?}");
        }
    }

    #[test]
    fn nothing_to_do_takes_nothing() {
        let floor = takeoff(0.0, 0.0);
        assert_eq!(sundries(&Order::default(), &floor, &shop(), Units::Us), []);
    }
}
