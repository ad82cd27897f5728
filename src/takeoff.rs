//! Stage 3: quantities from the slab and the shop book.
//!
//! One file per kind of work. A quantity comes from the slab, never from what was drawn.

mod area;
mod conditions;
mod cracks;
mod delaminations;
mod joints;
mod levels;
mod lippage;
mod model;
mod patches;
pub(crate) mod seal;
pub(crate) mod spalls;
pub mod wanted;
pub mod words;
mod worked;

pub use area::unreached_beyond;
pub use conditions::{dew_point_c, moisture_tests_wanted};
pub use levels::{e_numbers, flatness, flatness_method};
pub use model::*;
pub(crate) use patches::touching;
pub use seal::{rod_m, sealant_depth_m};
pub use worked::{Worked, has_work, kinds_by_work};

use crate::shop::Shop;
use crate::sketch::{BlemishKind, Tests, Treatment};
use crate::slab::{Face, Slab};

/// Measures everything. Findings are left empty: they compare these quantities with what is
/// published and belong to `finding`.
#[must_use]
pub fn measure(slab: &Slab, shop: &Shop, tests: &Tests) -> Takeoff {
    let hand_edge = area::hand_edge(slab, shop);
    let joints = joints::joints(slab, shop);
    let cracks: Vec<_> = slab.cracks.iter().map(|c| cracks::crack(c, shop)).collect();
    let spalls = spalls::alone(slab, &joints, shop);
    let loose = slab.delaminations.iter().map(|loose| delaminations::damage(loose, shop));
    let damages: Vec<_> = (slab.spalls.iter().zip(&spalls))
        .map(|(spall, alone)| spalls::damage(spall, alone, shop))
        .chain(loose)
        .collect();
    let (patches, mended) = patches::cut(&damages, slab, shop);
    let mut mended = mended.into_iter();
    let spalls = (slab.spalls.iter().zip(spalls).zip(&mut mended))
        .map(|((spall, alone), mending)| spalls::work(spall, alone, mending))
        .collect();
    let delaminations = (slab.delaminations.iter().zip(mended))
        .map(|(loose, mending)| delaminations::work(loose, mending, shop))
        .collect();
    let lippage: Vec<_> = slab.lippage.iter().map(|l| lippage::step(l, shop)).collect();
    let hand_grind = lippage::on_floor(&lippage, &slab.net);
    let mut takeoff = Takeoff {
        area: area::totals(slab, &hand_edge),
        edge_m: area::edge(slab),
        termination_m: area::termination(slab),
        closure: slab.outline.closure,
        hand_edge,
        joints,
        cracks,
        spalls,
        delaminations,
        patches,
        lippage,
        hand_grind,
        blemish_m2: slab.blemishes.iter().map(|b| b.area_m2).sum(),
        totals: Totals::default(),
        conditions: conditions::conditions(slab, tests),
        levels: levels::report(slab),
        findings: Vec::new(),
    };
    takeoff.totals = totals(&takeoff, slab, shop);
    takeoff
}

/// Share of the square over the radius that a cove fills: all but the quarter of a circle.
const COVE_SHARE: f64 = 1.0 - std::f64::consts::FRAC_PI_4;
/// Litres in one cubic meter.
const L_PER_M3: f64 = 1000.0;

/// Length of a face's cove, m, and mortar in it, L; nothing of a face without one. It runs along the whole foot, as the face is
/// coated along the whole of it.
#[must_use]
pub fn cove(face: &Face) -> (f64, f64) {
    let Some(radius_m) = face.cove_m else {
        return (0.0, 0.0);
    };
    let length_m = face.path.length();
    let section_m2 = COVE_SHARE * radius_m * radius_m;
    (length_m, length_m * section_m2 * L_PER_M3)
}

fn totals(takeoff: &Takeoff, slab: &Slab, shop: &Shop) -> Totals {
    let joints = |pick: fn(&JointWork) -> f64| takeoff.joints.iter().map(pick).sum::<f64>() + 0.0;
    let of = |treatment: Treatment| {
        let these = takeoff.joints.iter().filter(|j| j.treatment == treatment);
        these.map(|j| j.length_m).sum::<f64>()
    };
    let portions = || takeoff.cracks.iter().flat_map(|c| &c.portions);
    let cracks = |holds: fn(Treatment) -> bool| {
        let these = portions().filter(|p| holds(p.treatment));
        these.map(|p| p.length_m).sum::<f64>()
    };
    let in_patches: f64 = takeoff.patches.iter().map(|p| p.volume_l).sum();
    let skimmed = takeoff.spalls.iter().filter(|s| s.repair == SpallRepair::Skim);
    let injections = || takeoff.delaminations.iter().filter_map(DelaminationWork::injection);
    let ours = || slab.blemishes.iter().filter(|b| !b.is_hazardous());
    Totals {
        chase_m: of(Treatment::Fill),
        saw_m: joints(|j| j.saw_m),
        hand_cut_m: joints(|j| j.hand_m),
        hand_ends: takeoff.joints.iter().map(|j| j.hand_ends).sum(),
        buried_m: joints(|j| j.buried_m),
        fill_l: joints(|j| j.fill_l),
        honor_m: of(Treatment::Honor) + cracks(|t| t == Treatment::Honor),
        widen_m: joints(|j| j.widen_m) + portions().map(|p| p.widen_m).sum::<f64>(),
        sealant_l: joints(|j| j.sealant_l) + portions().map(|p| p.sealant_l).sum::<f64>(),
        crack_m: cracks(|t| t != Treatment::Leave),
        crack_fill_m: cracks(|t| matches!(t, Treatment::Fill | Treatment::Chase)),
        crack_chase_m: cracks(|t| t == Treatment::Chase),
        crack_fill_l: portions().map(|p| p.fill_l).sum(),
        inject_m2: injections().map(|i| i.area_m2).sum(),
        ports: injections().map(|i| i.ports).sum(),
        inject_l: injections().map(|i| i.resin_l).sum(),
        patch_l: in_patches + skimmed.map(|s| s.volume_l).sum::<f64>(),
        hand_grind_m: takeoff.lippage.iter().map(|l| l.hand_length_m).sum(),
        hand_grind_m2: takeoff.hand_grind.area(),
        hand_grind_l: takeoff.lippage.iter().map(|l| l.removed_l).sum(),
        cove_m: slab.faces.iter().map(|face| cove(face).0).sum(),
        cove_l: slab.faces.iter().map(|face| cove(face).1).sum(),
        oil_m2: ours().filter(|b| b.what == BlemishKind::Oil).map(|b| b.area_m2).sum(),
        comes_off_kg: ours().map(|b| b.area_m2 * shop.surface.comes_off(b.what)).sum(),
    }
}
