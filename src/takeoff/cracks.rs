//! Cracks, by portion.

use super::joints::total;
use super::seal::seal;
use super::told::{Say, Told};
use super::{CrackPortion, CrackRepair, CrackWork, Filling};
use crate::geometry::stretch::Intervals;
use crate::quantity::Length;
use crate::shop::Shop;
use crate::sketch::{CrackTreatment, Movement};
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
    let fills = portions.iter().filter_map(CrackPortion::filling).map(|filling| filling.volume_l);
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
fn treatment(crack: &Crack, width: f64, shop: &Shop, told: &Told) -> (CrackTreatment, String) {
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
        (CrackTreatment::Honor, told.part(|_| why.to_owned()))
    } else if !reached(rules.prime_below) {
        (CrackTreatment::Prime, narrower("", rules.prime_below, "prime_below"))
    } else if !reached(rules.chase_from) {
        (CrackTreatment::Fill, narrower("", rules.chase_from, "chase_from"))
    } else {
        (CrackTreatment::Chase, narrower("not ", rules.chase_from, "chase_from"))
    }
}

fn portion(
    crack: &Crack,
    Stretch { from_m, to_m }: Stretch,
    length_m: f64,
    width_m: f64,
    shop: &Shop,
    told: &mut Told,
) -> CrackPortion {
    let (treatment, why) = treatment(crack, width_m, shop, told);
    told.line(|say| {
        format!(
            "Stations {} to {}, {} of it on the coated floor, {} wide: {}; {why}.",
            say.station(from_m),
            say.station(to_m),
            say.length(length_m),
            say.small(width_m),
            treatment.word()
        )
    });
    let repair = match treatment {
        CrackTreatment::Prime => {
            told.line(|_| "The primer is enough: nothing is bought for it.".to_owned());
            CrackRepair::Prime
        }
        CrackTreatment::Leave => {
            told.line(|_| "It is left: nothing is bought for it.".to_owned());
            CrackRepair::Leave
        }
        CrackTreatment::Fill => {
            let section = [length_m, width_m, shop.cracks.fill_depth.m()];
            CrackRepair::Fill(resin(section, " (cracks.fill_depth)", told))
        }
        CrackTreatment::Chase => {
            let (least, depth) = (shop.cracks.chase_width.m(), shop.cracks.chase_depth.m());
            let groove = width_m.max(least);
            told.line(|say| {
                let [found, least, groove] = [width_m, least, groove].map(|m| say.small(m));
                format!(
                    "Groove width = the larger of found {found}, {least} (cracks.chase.width) = {groove}."
                )
            });
            told.line(|say| format!("Groove depth = {} (cracks.chase.depth).", say.small(depth)));
            CrackRepair::Chase(resin([length_m, groove, depth], "", told))
        }
        CrackTreatment::Honor => {
            CrackRepair::Honor(seal(length_m, Some(width_m), false, shop, told))
        }
    };
    CrackPortion { from_m, to_m, length_m, width_m, repair }
}

/// Resin for a section: length, width and depth, m.
fn resin(section: [f64; 3], key: &str, told: &mut Told) -> Filling {
    let volume_l = told.volume("Resin in place", section, key, Say::liquid);
    let [_, width_m, depth_m] = section;
    Filling { width_m, depth_m, volume_l }
}
