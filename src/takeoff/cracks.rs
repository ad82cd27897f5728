//! Cracks, by portion.

use super::joints::total;
use super::seal::{Seal, seal};
use super::told::{Say, Told};
use super::{CrackPortion, CrackWork};
use crate::geometry::stretch::Intervals;
use crate::quantity::Length;
use crate::shop::Shop;
use crate::sketch::{Movement, Treatment};
use crate::slab::{Crack, Stretch};

/// A width this little under a limit by rounding reaches it, m.
const GUARD: f64 = 1e-9;

pub(crate) fn crack(crack: &Crack, shop: &Shop, told: &mut Told) -> CrackWork {
    let scope = Intervals::new(crack.in_scope.iter().map(|s| (s.from_m, s.to_m)).collect());
    let end = crack.path.length();
    // A crack without a noted width is at least one the resin has to fill.
    let assumed = shop.cracks.prime_below.m();
    if !crack.width_known {
        told.line(|say| {
            let width = say.small(assumed);
            format!("No width was noted; it is taken as {width} (cracks.prime_below).")
        });
    }
    let mut portions = Vec::new();
    for (i, &(from_m, noted)) in crack.widths.iter().enumerate() {
        let to_m = crack.widths.get(i + 1).map_or(end, |next| next.0.min(end));
        let part = scope.intersection(&Intervals::new(vec![(from_m, to_m)]));
        let width = if crack.width_known { noted } else { assumed };
        if to_m > from_m {
            let stretch = Stretch { from_m, to_m };
            portions.push(portion(crack, stretch, part.length(), width, shop, told));
        }
    }
    let fills = portions.iter().map(|portion| portion.fill_l);
    let fill_l: f64 = fills.clone().sum();
    if fill_l > 0.0 {
        if portions.len() > 1 {
            told.line(|say| {
                let parts: Vec<String> = fills.filter(|l| *l > 0.0).map(|l| say.cubic(l)).collect();
                format!("Resin in all = {} = {}.", parts.join(" + "), say.liquid(fill_l))
            });
        }
        told.what_to_buy(fill_l, "cracks", shop.cracks.waste.one());
    }
    let length_m = total(&crack.in_scope);
    CrackWork { id: crack.id.clone(), length_m, portions }
}

/// What is done with a portion so wide, m, and why.
fn treatment(crack: &Crack, width: f64, shop: &Shop, told: &Told) -> (Treatment, String) {
    let rules = &shop.cracks;
    let reached = |limit: Length| width + GUARD >= limit.m();
    let narrower = |not: &str, limit: Length, key: &str| {
        told.part(|say| {
            let (width, limit) = (say.small(width), say.small(limit.m()));
            format!("{width} is {not}narrower than {limit} (cracks.{key})")
        })
    };
    if let Some(treatment) = crack.treatment {
        (treatment, told.part(|_| "as the sketch says".to_owned()))
    } else if crack.movement == Movement::Active {
        let why = "it moves, so it is carried through the coating like a joint";
        (Treatment::Honor, told.part(|_| why.to_owned()))
    } else if !reached(rules.prime_below) {
        (Treatment::Prime, narrower("", rules.prime_below, "prime_below"))
    } else if !reached(rules.chase_from) {
        (Treatment::Fill, narrower("", rules.chase_from, "chase_from"))
    } else {
        (Treatment::Chase, narrower("not ", rules.chase_from, "chase_from"))
    }
}

fn portion(
    crack: &Crack,
    Stretch { from_m, to_m }: Stretch,
    length_m: f64,
    width: f64,
    shop: &Shop,
    told: &mut Told,
) -> CrackPortion {
    let (treatment, why) = treatment(crack, width, shop, told);
    told.line(|say| {
        format!(
            "Stations {} to {}, {} of it on the coated floor, {} wide: {}; {why}.",
            say.station(from_m),
            say.station(to_m),
            say.length(length_m),
            say.small(width),
            treatment.word()
        )
    });
    let (mut chase_width, mut depth, mut fill_l) = (0.0, 0.0, 0.0);
    let mut sealed = Seal::default();
    match treatment {
        Treatment::Prime => {
            told.line(|_| "The primer is enough: nothing is bought for it.".to_owned());
        }
        Treatment::Leave => told.line(|_| "It is left: nothing is bought for it.".to_owned()),
        Treatment::Fill => {
            depth = shop.cracks.fill_depth.m();
            let key = " (cracks.fill_depth)";
            fill_l = told.volume("Resin in place", [length_m, width, depth], key, Say::liquid);
        }
        Treatment::Chase => {
            let least = shop.cracks.chase_width.m();
            (chase_width, depth) = (width.max(least), shop.cracks.chase_depth.m());
            told.line(|say| {
                let [found, least, groove] = [width, least, chase_width].map(|m| say.small(m));
                format!(
                    "Groove width = the larger of found {found}, {least} (cracks.chase.width) = {groove}."
                )
            });
            told.line(|say| format!("Groove depth = {} (cracks.chase.depth).", say.small(depth)));
            fill_l = told.volume("Resin in place", [length_m, chase_width, depth], "", Say::liquid);
        }
        Treatment::Honor => sealed = seal(length_m, Some(width), false, shop, told),
    }
    CrackPortion {
        from_m,
        to_m,
        length_m,
        width_mm: width * 1000.0,
        treatment,
        chase_width_mm: chase_width * 1000.0,
        depth_mm: depth * 1000.0,
        fill_l,
        sealant_l: sealed.sealant_l,
        sealant_width_mm: sealed.width_m * 1000.0,
        sealant_depth_mm: sealed.depth_m * 1000.0,
        rod_mm: sealed.rod_m.map(|rod| rod * 1000.0),
        widen_m: sealed.widen_m,
        groove_mm: sealed.groove_m * 1000.0,
        removed_l: sealed.removed_l,
    }
}
