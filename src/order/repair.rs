//! Crack resin, patching mortar, sealant and backer rod.

use std::collections::BTreeMap;

use super::need::{Need, Needs};
use super::words;
use crate::quantity::measure::solid;
use crate::quantity::{L_PER_M3, Units, write};
use crate::shop::{Buying, Shop};
use crate::takeoff::{Seal, Takeoff};
use crate::trade::Product;

/// Metres in one coil of backer rod: 100 ft. Common practice for hand coils; bulk boxes are longer.
pub(crate) const ROD_COIL_M: f64 = 30.48;

/// Adds the resin of filled and chased cracks.
pub(crate) fn add_resin(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let mut ids: Vec<&str> = Vec::new();
    let (mut in_place, mut length) = (0.0, 0.0);
    for crack in &takeoff.cracks {
        for portion in &crack.portions {
            if let Some(filling) = portion.filling().filter(|filling| filling.volume_l > 0.0) {
                ids.push(&crack.id);
                in_place += filling.volume_l;
                length += portion.length_m;
            }
        }
    }
    ids.dedup();
    let waste = shop.cracks.waste.one();
    needs.add(Need {
        product: Product::CrackResin,
        amount: in_place * (1.0 + waste),
        sd: 0.0,
        varies: "",
        unit: "L",
        package: shop.cracks.package.l(),
        one_lot: false,
        buying: shop.cracks.buying,
        reclaimed: 0.0,
        how: vec![format!(
            "{}: {} filled, {} in place; with {} waste {}.",
            words::names(&ids),
            write::run(length, units),
            write::volume(in_place, units),
            write::percent(waste),
            write::volume(in_place * (1.0 + waste), units)
        )],
    });
}

/// Adds the resin and the ports of injected delaminations.
pub(crate) fn add_injection(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let (rules, totals) = (&shop.delaminations, &takeoff.totals);
    let injected = takeoff.delaminations.iter().filter(|d| d.injection().is_some());
    let ids: Vec<&str> = injected.map(|d| d.id.as_str()).collect();
    let (waste, area) = (rules.waste.one(), write::area(totals.inject_m2, units));
    let resin = Need {
        product: Product::InjectionResin,
        amount: totals.inject_l * (1.0 + waste),
        sd: 0.0,
        varies: "",
        unit: "L",
        package: rules.package.l(),
        one_lot: false,
        buying: rules.buying,
        reclaimed: 0.0,
        how: vec![format!(
            "{}: {area} at a gap of {}, {} in place; with {} waste {}.",
            words::names(&ids),
            write::small(rules.gap.m(), units),
            write::volume(totals.inject_l, units),
            write::percent(waste),
            write::volume(totals.inject_l * (1.0 + waste), units)
        )],
    };
    needs.add(Need {
        product: Product::InjectionPort,
        amount: totals.ports as f64,
        unit: "each",
        package: 1.0,
        how: vec![format!(
            "{}: {area}, a port every {} both ways, at least two each.",
            words::names(&ids),
            write::small(rules.spacing.m(), units)
        )],
        ..resin.clone()
    });
    needs.add(resin);
}

/// Adds the mortar of patches and skimmed spalls, in kilograms of dry bag.
pub(crate) fn add_mortar(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let patches: f64 = takeoff.patches.iter().map(|p| p.volume_l).sum();
    let skims: f64 = takeoff.spalls.iter().filter_map(|s| s.repair.skimmed_l()).sum();
    let rules = &shop.spalls;
    let wanted_l = (patches + skims) * (1.0 + rules.waste.one());
    let sentence = format!(
        "Patches {}, skimmed {}; with {} waste {} in place.",
        solid(patches, units),
        solid(skims, units),
        write::percent(rules.waste.one()),
        solid(wanted_l, units)
    );
    let bag = (rules.package.kg(), rules.yield_.l());
    needs.add(mortar(Product::PatchMortar, wanted_l, bag, sentence, shop, units));
}

/// A mortar of which so many litres are wanted in place, in kilograms of dry bag: `bag` is its weight, kg, and what it makes, L.
fn mortar(
    product: Product,
    wanted_l: f64,
    (bag_kg, bag_l): (f64, f64),
    sentence: String,
    shop: &Shop,
    units: Units,
) -> Need {
    Need {
        product,
        // A bag that makes nothing fills nothing; the shop book refuses it before it gets here.
        amount: if bag_l > 0.0 { wanted_l / bag_l * bag_kg } else { 0.0 },
        sd: 0.0,
        varies: "",
        unit: "kg",
        package: bag_kg,
        one_lot: false,
        buying: shop.spalls.buying,
        reclaimed: 0.0,
        how: vec![
            sentence,
            format!(
                "A bag of {} makes {}: {} at {} deep.",
                words::package(bag_kg, "kg", units),
                solid(bag_l, units),
                write::area(bag_l / L_PER_M3 / shop.spalls.least_depth.m(), units),
                write::small(shop.spalls.least_depth.m(), units)
            ),
        ],
    }
}

/// Adds the mortar of coves, in kilograms of dry bag.
pub(crate) fn add_cove_mortar(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let (rules, totals) = (&shop.coves, &takeoff.totals);
    let wanted_l = totals.cove_l * (1.0 + rules.waste.one());
    let sentence = format!(
        "{} of cove, {} in place; with {} waste {}.",
        write::run(totals.cove_m, units),
        solid(totals.cove_l, units),
        write::percent(rules.waste.one()),
        solid(wanted_l, units)
    );
    let bag = (rules.package.kg(), rules.yield_.l());
    needs.add(mortar(Product::CoveMortar, wanted_l, bag, sentence, shop, units));
}

/// Adds the degreaser of oily floor.
pub(crate) fn add_degreaser(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let (rules, oil_m2) = (&shop.surface, takeoff.totals.oil_m2);
    let covers = rules.coverage.m2_per_l();
    needs.add(Need {
        product: Product::Degreaser,
        amount: oil_m2 / covers,
        sd: 0.0,
        varies: "",
        unit: "L",
        package: rules.degreaser.l(),
        one_lot: false,
        buying: Buying::WHOLE,
        reclaimed: 0.0,
        how: vec![format!(
            "{} of oily floor at {}: {}.",
            write::area(oil_m2, units),
            words::coverage(covers, units),
            write::volume(oil_m2 / covers, units)
        )],
    });
}

/// What is honored of joints and cracks, each with its length, m.
fn honored(takeoff: &Takeoff) -> impl Iterator<Item = (f64, &Seal)> + Clone {
    let joints = takeoff.joints.iter().filter_map(|joint| Some((joint.length_m, joint.seal()?)));
    let portions = takeoff.cracks.iter().flat_map(|crack| &crack.portions);
    joints.chain(portions.filter_map(|portion| Some((portion.length_m, portion.seal()?))))
}

/// Adds backer rod, each stock size a product of its own, thinnest first.
pub(crate) fn add_rod(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let waste = shop.backer_rod.waste.one();
    let mut by_size: BTreeMap<Product, f64> = BTreeMap::new();
    for (length_m, seal) in honored(takeoff).filter(|(length_m, _)| *length_m > 0.0) {
        if let Some(rod) = seal.rod_m {
            *by_size.entry(Product::backer_rod(rod)).or_default() += length_m;
        }
    }
    for (product, length) in by_size {
        needs.add(Need {
            product,
            amount: length * (1.0 + waste),
            sd: 0.0,
            varies: "",
            unit: "m",
            package: ROD_COIL_M,
            one_lot: false,
            buying: shop.backer_rod.buying,
            reclaimed: 0.0,
            how: vec![format!(
                "{} of honored joint and crack; with {} waste {}.",
                write::run(length, units),
                write::percent(waste),
                write::run(length * (1.0 + waste), units)
            )],
        });
    }
}

/// Adds the sealant of honored joints and cracks.
pub(crate) fn add_sealant(needs: &mut Needs, takeoff: &Takeoff, shop: &Shop, units: Units) {
    let waste = shop.sealant.waste.one();
    let all = honored(takeoff);
    let in_place: f64 = all.clone().map(|(_, seal)| seal.sealant_l).sum();
    let length: f64 = all.clone().map(|(length_m, _)| length_m).sum();
    let bare: f64 =
        all.filter(|(_, seal)| seal.rod_m.is_none()).map(|(length_m, _)| length_m).sum();
    let mut how = vec![format!(
        "{} honored, {} in place; with {} waste {}.",
        write::run(length, units),
        write::volume(in_place, units),
        write::percent(waste),
        write::volume(in_place * (1.0 + waste), units)
    )];
    if bare > 0.0 {
        how.push(format!(
            "{} is too wide for any stock rod: order rod for it by hand.",
            write::run(bare, units)
        ));
    }
    needs.add(Need {
        product: Product::Sealant,
        amount: in_place * (1.0 + waste),
        sd: 0.0,
        varies: "",
        unit: "L",
        package: shop.sealant.package.l(),
        one_lot: false,
        buying: shop.sealant.buying,
        reclaimed: 0.0,
        how,
    });
}
