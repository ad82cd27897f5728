//! Dust and disposal: concrete that is sawn, cut out and ground off, by volume, weight and bags.

use serde::Serialize;

use super::need::whole_packages;
use crate::quantity::{KG_PER_LB, L_PER_FT3};
use crate::shop::Shop;
use crate::takeoff::{CrackPortion, DelaminationWork, JointWork, Takeoff};
use crate::trade::Good;

/// Weight of concrete, kg/L: 145 lb/ft³ (from memory; 145 to 150 for plain concrete).
const CONCRETE_KG_PER_L: f64 = 145.0 * KG_PER_LB / L_PER_FT3;

/// Weight of old coating and adhesive, kg/L: 90 lb/ft³ (from memory).
const OLD_COATING_KG_PER_L: f64 = 90.0 * KG_PER_LB / L_PER_FT3;

/// What one kind of work leaves on the floor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Dust {
    /// The work.
    pub from: &'static str,
    /// Solid concrete or old coating, L. Loose dust takes up to twice the room.
    pub volume_l: f64,
    /// Weight, kg.
    pub mass_kg: f64,
}

/// Weight of solid concrete, kg.
#[must_use]
pub fn concrete_kg(volume_l: f64) -> f64 {
    volume_l * CONCRETE_KG_PER_L
}

/// Dust and rubble of one floor by the work it comes from, work that makes none left out. Chases and
/// patches count with their whole section, as if nothing had been missing: a joint is full of old
/// filler or strip, a spall of loose concrete. A buried joint that is filled is opened within its
/// chase.
#[must_use]
pub fn dust(takeoff: &Takeoff, shop: &Shop) -> Vec<Dust> {
    let cracks = || takeoff.cracks.iter().flat_map(|c| &c.portions);
    let seals = takeoff.joints.iter().filter_map(JointWork::seal);
    let seals = seals.chain(cracks().filter_map(CrackPortion::seal));
    let joints = takeoff.joints.iter().filter_map(JointWork::filling);
    let injections = takeoff.delaminations.iter().filter_map(DelaminationWork::injection);
    let works = [
        ("joints", joints.map(|filling| filling.volume_l).sum::<f64>()),
        ("cracks cut open", cracks().filter_map(CrackPortion::chased).map(|f| f.volume_l).sum()),
        ("cuts for rod and sealant", seals.map(|seal| seal.removed_l).sum()),
        ("patches cut out", takeoff.patches.iter().map(|p| p.volume_l).sum()),
        ("holes of injections", injections.map(|i| i.drilled_l).sum()),
        ("steps", takeoff.totals.hand_grind_l),
        ("floor grinding", takeoff.area.net_m2 * shop.grinding.depth.m() * 1000.0),
    ];
    let concrete =
        works.map(|(from, volume_l)| Dust { from, volume_l, mass_kg: concrete_kg(volume_l) });
    let comes_off_kg = takeoff.totals.comes_off_kg;
    let old_coatings = Dust {
        from: "old coatings and adhesive",
        volume_l: comes_off_kg / OLD_COATING_KG_PER_L,
        mass_kg: comes_off_kg,
    };
    let all = concrete.into_iter().chain([old_coatings]);
    all.filter(|dust| dust.volume_l > 0.0).collect()
}

/// Bags for all of it, by weight.
#[must_use]
pub fn bags(dust: &[Dust], shop: &Shop) -> u64 {
    let kg: f64 = dust.iter().map(|d| d.mass_kg).sum();
    whole_packages(kg, shop.wear.of(Good::DustBag).each)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::fixture::{filled, shop, takeoff};
    use crate::quantity::{L_PER_IN3, Length};

    /// V-X1: 1000 ft² by 1/32 in are 2.604 ft³ and 377.6 lb at 145 lb/ft³ (arithmetic).
    #[test]
    fn floor_grinding() {
        let mut book = shop();
        book.grinding.depth = Length::from_in(1.0 / 32.0);
        let dust = dust(&takeoff(1000.0, 0.0), &book);
        assert_eq!(dust.len(), 1);
        assert!((dust[0].volume_l / L_PER_FT3 - 2.604).abs() < 0.001);
        assert!((dust[0].mass_kg / KG_PER_LB - 377.6).abs() < 0.1);
        // 377.6 lb in bags of 40 lb are 9.44: ten.
        assert_eq!(bags(&dust, &book), 10);
    }

    /// V-X2: 100 ft of 1/4 by 1 1/4 in are 375 in³ and 31.47 lb (arithmetic).
    #[test]
    fn kerf() {
        let mut floor = takeoff(0.0, 0.0);
        floor.joints = vec![filled("J1", 100.0, 0.25, 1.25)];
        let dust = dust(&floor, &shop());
        assert_eq!(dust.len(), 1);
        assert!((dust[0].volume_l / L_PER_IN3 - 375.0).abs() < 1e-6);
        assert!((dust[0].mass_kg / KG_PER_LB - 31.47).abs() < 0.01);
    }

    /// What is opened or widened for rod and sealant, and what is cut out for patches, is carried off
    /// too: 45 in³ of a buried joint, 11.25 of a crack, 30 of a patch of 8 by 5 by 3/4 in.
    #[test]
    fn openings_and_patches() {
        let text = "slabwalk: 1\njob: {name: x}\nslab: {post_tension: none, outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]}\n\
            joints: [{id: J1, kind: isolation, path: [[5', 10'], [29', 10']], width: 1/4, buried: true}]\n\
            cracks: [{id: C1, path: [[5', 20'], [13', 20']], width: 1/16, movement: active}]\n\
            spalls: [{id: S1, box: {corner: [30', 5'], size: [6\", 3\"]}, depth: 5/8}]\n";
        let (sketch, found) = crate::sketch::parse(text);
        let sketch = sketch.unwrap_or_else(|| panic!("{found:?}"));
        let floor = crate::survey::survey(sketch, crate::shop::built_in(), Vec::new());
        let floor = floor.expect("a floor");
        let dust = dust(&floor.takeoff, &floor.shop);
        let of = |from: &str| dust.iter().find(|d| d.from == from).map(|d| d.volume_l);
        for (from, cubic_inches) in
            [("cuts for rod and sealant", 45.0 + 11.25), ("patches cut out", 30.0)]
        {
            let got = of(from).unwrap_or(0.0) / L_PER_IN3;
            assert!((got - cubic_inches).abs() < 1e-6, "{from}: {got}");
        }
        let carried = crate::order::carried(&floor.order, &floor.facts());
        // 24 ft opened and 8 ft widened by hand, both sides of 32 ft taped.
        for (good, how) in
            [(Good::Wheel, "32.0 ft cut, opened, widened"), (Good::Tape, "64.0 ft of edges")]
        {
            let row = carried.iter().find(|row| row.good == good);
            assert!(row.is_some_and(|row| row.how.contains(how)), "{good:?}: {row:?}");
        }
    }

    /// V-L3: the wedge of a 1/4 in step at 1:12 is 4.5 in³ a foot, 0.378 lb.
    #[test]
    fn wedge() {
        let mut floor = takeoff(0.0, 0.0);
        floor.totals.hand_grind_l = 4.5 * L_PER_IN3;
        let dust = dust(&floor, &shop());
        assert!((dust[0].mass_kg / KG_PER_LB - 0.378).abs() < 0.001);
    }
}
