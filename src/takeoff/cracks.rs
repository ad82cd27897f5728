//! Cracks, by portion.

use super::joints::total;
use super::seal::{Seal, seal};
use super::{CrackPortion, CrackWork};
use crate::geometry::stretch::Intervals;
use crate::shop::Shop;
use crate::sketch::{Movement, Treatment};
use crate::slab::Crack;

/// A width this little under a limit by rounding reaches it, m.
const GUARD: f64 = 1e-9;

pub(super) fn crack(crack: &Crack, shop: &Shop) -> CrackWork {
    let scope = Intervals::new(crack.in_scope.iter().map(|s| (s.from_m, s.to_m)).collect());
    let end = crack.path.length();
    let mut portions = Vec::new();
    for (i, &(from_m, noted)) in crack.widths.iter().enumerate() {
        let to_m = crack.widths.get(i + 1).map_or(end, |next| next.0.min(end));
        let part = scope.intersection(&Intervals::new(vec![(from_m, to_m)]));
        // A crack without a noted width is at least one the resin has to fill.
        let width = if crack.width_known { noted } else { shop.cracks.prime_below.m() };
        if to_m > from_m {
            portions.push(portion(crack, from_m, to_m, part.length(), width, shop));
        }
    }
    let length_m = total(&crack.in_scope);
    CrackWork { id: crack.id.clone(), length_m, portions }
}

fn treatment(crack: &Crack, width: f64, shop: &Shop) -> Treatment {
    let rules = &shop.cracks;
    if let Some(treatment) = crack.treatment {
        treatment
    } else if crack.movement == Movement::Active {
        Treatment::Honor
    } else if width + GUARD < rules.prime_below.m() {
        Treatment::Prime
    } else if width + GUARD < rules.chase_from.m() {
        Treatment::Fill
    } else {
        Treatment::Chase
    }
}

fn portion(
    crack: &Crack,
    from_m: f64,
    to_m: f64,
    length_m: f64,
    width: f64,
    shop: &Shop,
) -> CrackPortion {
    let rules = &shop.cracks;
    let treatment = treatment(crack, width, shop);
    let groove = width.max(rules.chase_width.m());
    let (chase_width, depth) = match treatment {
        Treatment::Fill => (0.0, rules.fill_depth.m()),
        Treatment::Chase => (groove, rules.chase_depth.m()),
        _ => (0.0, 0.0),
    };
    let filled_width = if treatment == Treatment::Chase { chase_width } else { width };
    let seal = match treatment {
        Treatment::Honor => seal(length_m, Some(width), false, shop),
        _ => Seal::default(),
    };
    CrackPortion {
        from_m,
        to_m,
        length_m,
        width_mm: width * 1000.0,
        treatment,
        chase_width_mm: chase_width * 1000.0,
        depth_mm: depth * 1000.0,
        fill_l: length_m * filled_width * depth * 1000.0,
        sealant_l: seal.sealant_l,
        sealant_width_mm: seal.width_m * 1000.0,
        sealant_depth_mm: seal.depth_m * 1000.0,
        rod_mm: seal.rod_m.map(|rod| rod * 1000.0),
        widen_m: seal.widen_m,
        groove_mm: seal.groove_m * 1000.0,
        removed_l: seal.removed_l,
    }
}
