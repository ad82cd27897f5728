//! Stage 3: quantities from the slab and the shop book.
//!
//! One file per kind of work. A quantity comes from the slab, never from what was drawn.

mod area;
mod conditions;
mod cracks;
pub mod explain;
mod id_key;
mod joints;
mod levels;
mod lippage;
mod model;
mod seal;
mod spalls;
pub mod words;

pub use area::unreached_beyond;
pub use conditions::{dew_point_c, moisture_tests_wanted};
pub use id_key::id_key;
pub use levels::{e_numbers, flatness, flatness_method};
pub use model::*;
pub use seal::{rod_m, sealant_depth_m};

use crate::shop::Shop;
use crate::sketch::{Tests, Treatment};
use crate::slab::Slab;

/// Measures everything. Findings are left empty: they compare these quantities with what is
/// published and belong to [`crate::finding`].
#[must_use]
pub fn measure(slab: &Slab, shop: &Shop, tests: &Tests) -> Takeoff {
    let hand_edge = area::hand_edge(slab, shop);
    let joints = joints::joints(slab, shop);
    let cracks: Vec<_> = slab.cracks.iter().map(|c| cracks::crack(c, shop)).collect();
    let (spalls, patches) = spalls::spalls(slab, &joints, shop);
    let lippage: Vec<_> = slab
        .lippage
        .iter()
        .map(|l| lippage::step(l, shop))
        .collect();
    let hand_grind = lippage::on_floor(&lippage, &slab.net);
    let mut takeoff = Takeoff {
        area: area::totals(slab, &hand_edge),
        edge_m: slab.edges.iter().map(|e| e.length_m).sum(),
        termination_m: area::termination(slab),
        closure: slab.outline.closure,
        hand_edge,
        joints,
        cracks,
        spalls,
        patches,
        lippage,
        hand_grind,
        blemish_m2: slab.blemishes.iter().map(|b| b.area_m2).sum(),
        totals: Totals::default(),
        conditions: conditions::conditions(slab, tests),
        levels: levels::report(slab),
        findings: Vec::new(),
    };
    takeoff.totals = totals(&takeoff);
    takeoff
}

fn totals(takeoff: &Takeoff) -> Totals {
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
    let skimmed = takeoff
        .spalls
        .iter()
        .filter(|s| s.repair == SpallRepair::Skim);
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
        patch_l: in_patches + skimmed.map(|s| s.volume_l).sum::<f64>(),
        hand_grind_m: takeoff.lippage.iter().map(|l| l.hand_length_m).sum(),
        hand_grind_m2: takeoff.hand_grind.area(),
        hand_grind_l: takeoff.lippage.iter().map(|l| l.removed_l).sum(),
    }
}
