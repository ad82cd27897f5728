//! Delaminations: cut out and patched as spalls are, injected, or left. Only what lies in the coated floor counts.

use super::patches::{Asks, Cut, Damage, Mending, beside, squared};
use super::spalls::around;
use super::told::{Say, Told};
use super::{DelaminationWork, Injection, LooseRepair};
use crate::quantity::L_PER_M3;
use crate::record::Kind;
use crate::shop::{DelaminationRules, Shop};
use crate::sketch::LooseTreatment;
use crate::slab::Delamination;

/// Least ports of an injection: one to fill, one through which the air goes and the resin shows (common practice).
pub(super) const LEAST_PORTS: usize = 2;
/// Rounding of a count of ports: 4.0000000001 are four.
const GUARD: f64 = 1e-9;

/// Thickness of the loose layer, m: the shop book's where nobody knows it.
fn depth_m(loose: &Delamination, rules: &DelaminationRules) -> f64 {
    loose.depth.unwrap_or_else(|| rules.depth.m())
}

/// What a delamination asks of the patches. What is cut out goes farther than around a spall: where the layer ends is heard, not seen.
pub(super) fn damage<'a>(loose: &'a Delamination, shop: &Shop, told: &mut Told) -> Damage<'a> {
    let rules = &shop.delaminations;
    let depth_m = depth_m(loose, rules);
    told.of(&loose.id);
    told.line(|say| say.damage(&loose.id, &loose.shape, loose.area_m2));
    if loose.depth.is_none() && loose.area_m2 > 0.0 {
        told.line(|say| {
            let depth = say.small(depth_m);
            format!(
                "Nobody has measured its loose layer: {depth} (delaminations.depth) is assumed."
            )
        });
    }
    let asks = match loose.treatment {
        _ if loose.area_m2 <= 0.0 => Asks::Nothing,
        LooseTreatment::CutOut => {
            let rect = around(&loose.shape, &loose.part, loose.area_m2);
            let (extend_m, apart_m) = (rules.extend.m(), rules.apart.m());
            let rect = squared(&rect, extend_m, &shop.spalls.sizes);
            Asks::Patch(Cut { rect, extend_m, apart_m, why: told.part(|_| "Squared".to_owned()) })
        }
        LooseTreatment::Inject => Asks::Mending,
        LooseTreatment::Leave => Asks::Nothing,
    };
    Damage {
        kind: Kind::Delamination,
        id: &loose.id,
        part: &loose.part,
        area_m2: loose.area_m2,
        depth_m,
        asks,
    }
}

/// The work on a delamination, alone or in a patch.
pub(super) fn work(
    loose: &Delamination,
    mending: Mending,
    shop: &Shop,
    told: &mut Told,
) -> DelaminationWork {
    let rules = &shop.delaminations;
    let depth_m = depth_m(loose, rules);
    told.of(&loose.id);
    let repair = match (mending, loose.treatment) {
        (Mending::Patch { id, volume_l }, _) => LooseRepair::Patch { id, volume_l },
        (Mending::Apart { in_patches_m2 }, LooseTreatment::Inject) if loose.area_m2 > 0.0 => {
            let left_m2 = beside(loose.area_m2, in_patches_m2, told);
            LooseRepair::Inject(injection(left_m2, depth_m, rules, told))
        }
        (Mending::Apart { .. }, _) => {
            told.line(|_| match loose.area_m2 <= 0.0 {
                true => "It lies where nothing is coated: nothing is done.".to_owned(),
                false => "It is left as it is: nothing is done.".to_owned(),
            });
            LooseRepair::Leave
        }
    };
    DelaminationWork {
        id: loose.id.clone(),
        area_m2: loose.area_m2,
        depth_m,
        assumed: loose.depth.is_none(),
        repair,
    }
}

/// Ports in a square grid, a hole down to the gap under each; resin for the gap under the whole area.
fn injection(area_m2: f64, depth_m: f64, rules: &DelaminationRules, told: &mut Told) -> Injection {
    let (spacing, gap, waste) = (rules.spacing.m(), rules.gap.m(), rules.waste.one());
    let cells = area_m2 / (spacing * spacing);
    let ports = ((cells - GUARD).ceil().max(0.0) as usize).max(LEAST_PORTS);
    let hole_m2 = std::f64::consts::FRAC_PI_4 * rules.hole.m() * rules.hole.m();
    told.line(|say| {
        let (spacing, area) = (say.small(spacing), say.spot(area_m2));
        format!(
            "Injected through {ports} ports: one for every {spacing} × {spacing} (delaminations.spacing) of {area}, at least two."
        )
    });
    let key = " (delaminations.gap)";
    let resin_l = told.layer("Resin in place", [area_m2, gap], key, Say::liquid);
    told.line(|say| {
        let others = "injection resin before rounding to packages";
        say.to_buy(resin_l, "delaminations", waste, [Say::cubic, Say::liquid], others)
    });
    Injection { area_m2, ports, resin_l, drilled_l: ports as f64 * hole_m2 * depth_m * L_PER_M3 }
}

#[cfg(test)]
mod tests;
