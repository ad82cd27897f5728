//! Stage 3: quantities from the slab and the shop book.
//!
//! One file per kind of work. A quantity comes from the slab, never from what was drawn.

pub(crate) mod area;
pub(crate) mod conditions;
pub(crate) mod cracks;
mod delaminations;
pub(crate) mod joints;
pub(crate) mod levels;
pub(crate) mod lippage;
mod model;
mod patches;
mod seal;
mod spalls;
pub(crate) mod told;
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
use crate::slab::Slab;
use told::Told;

/// Measures everything. Findings are left empty: they compare these quantities with what is
/// published and belong to `finding`.
#[must_use]
pub fn measure(slab: &Slab, shop: &Shop, tests: &Tests) -> Takeoff {
    let told = &mut Told::default();
    let hand_edge = area::hand_edge(slab, shop);
    let hand_edge_m2 = area::by_hand(slab, shop, &hand_edge, told);
    let joints = joints::joints(slab, shop);
    let cracks: Vec<_> = slab.cracks.iter().map(|c| cracks::crack(c, shop, told)).collect();
    let (spalls, delaminations, patches) = mended(slab, &joints, shop, told);
    let lippage: Vec<_> = slab.lippage.iter().map(|l| lippage::step(l, shop, told)).collect();
    let hand_grind = lippage::on_floor(&lippage, &slab.net);
    let mut takeoff = Takeoff {
        area: area::totals(slab, hand_edge_m2, told),
        edge_m: area::edge(slab, told),
        termination_m: area::termination(slab, told),
        closure: slab.outline.closure,
        hand_edge,
        joints,
        cracks,
        spalls,
        delaminations,
        patches,
        lippage,
        hand_grind,
        totals: Totals::default(),
        conditions: conditions::conditions(slab, tests, told),
        levels: levels::report(slab, told),
        findings: Vec::new(),
    };
    takeoff.totals = totals(&takeoff, slab, shop, told);
    takeoff
}

/// The works on spalls and delaminations and the patches around them, reckoned together: any may lie in the patch of another.
pub(crate) fn mended(
    slab: &Slab,
    joints: &[JointWork],
    shop: &Shop,
    told: &mut Told,
) -> (Vec<SpallWork>, Vec<DelaminationWork>, Vec<Patch>) {
    let spalls = spalls::damages(slab, joints, shop, told).into_iter();
    let (mut damages, alone): (Vec<_>, Vec<_>) = spalls.unzip();
    damages.extend(slab.delaminations.iter().map(|d| delaminations::damage(d, shop, told)));
    let (patches, mended) = patches::cut(&damages, slab, shop, told);
    let mut mended = mended.into_iter();
    let spalls = (slab.spalls.iter().zip(alone).zip(&mut mended))
        .map(|((spall, alone), mending)| spalls::work(spall, alone, mending, told))
        .collect();
    let delaminations = (slab.delaminations.iter().zip(mended))
        .map(|(loose, mending)| delaminations::work(loose, mending, shop, told))
        .collect();
    (spalls, delaminations, patches)
}

/// The totals, each the sum of the parts that are said with it.
pub(crate) fn totals(takeoff: &Takeoff, slab: &Slab, shop: &Shop, told: &mut Told) -> Totals {
    let joints = |value: fn(&JointWork) -> f64| {
        takeoff.joints.iter().map(move |joint| (joint.id.as_str(), value(joint)))
    };
    let treated = |treatment: Treatment| {
        let these = takeoff.joints.iter().filter(move |joint| joint.treatment == treatment);
        these.map(|joint| (joint.id.as_str(), joint.length_m))
    };
    let cracks = |value: fn(&CrackPortion) -> f64| {
        let whole = move |crack: &CrackWork| crack.portions.iter().map(value).sum();
        takeoff.cracks.iter().map(move |crack| (crack.id.as_str(), whole(crack)))
    };
    let ends = takeoff.joints.iter().map(|joint| (joint.id.as_str(), joint.hand_ends));
    let steps = |value: fn(&LippageWork) -> f64| {
        takeoff.lippage.iter().map(move |step| (step.id.as_str(), value(step)))
    };
    let patches = takeoff.patches.iter().map(|patch| (patch.id.as_str(), patch.volume_l));
    let skims = takeoff.spalls.iter();
    let skims = skims.filter_map(|spall| Some((spall.id.as_str(), spall.repair.skimmed_l()?)));
    let injected = |value: fn(&Injection) -> f64| {
        let works = takeoff.delaminations.iter();
        works.filter_map(move |work| Some((work.id.as_str(), value(work.injection()?))))
    };
    let ports = takeoff.delaminations.iter();
    let ports = ports.filter_map(|work| Some((work.id.as_str(), work.injection()?.ports)));
    let coves = || slab.faces.iter().map(|face| area::cove(face, &mut Told::default()));
    let ours = || slab.blemishes.iter().filter(|b| !b.is_hazardous());
    Totals {
        chase_m: told.lengths("Joint chased and filled = ", treated(Treatment::Fill)),
        saw_m: told.lengths("Joint sawn = ", joints(|j| j.saw_m)),
        hand_cut_m: told.lengths("Joint cut by hand = ", joints(|j| j.hand_m)),
        hand_ends: told.count("Ends cut by hand = ", ends),
        buried_m: told.lengths("Buried joint opened = ", joints(|j| j.buried_m)),
        fill_l: told.liquids("Joint filler in place = ", joints(|j| j.fill_l)),
        honor_m: told.lengths(
            "Joint and crack honored = ",
            treated(Treatment::Honor).chain(cracks(|p| length_if(p, |t| t == Treatment::Honor))),
        ),
        widen_m: told.lengths(
            "Widened for rod and sealant = ",
            joints(|j| j.widen_m).chain(cracks(|p| p.widen_m)),
        ),
        sealant_l: told
            .liquids("Sealant in place = ", joints(|j| j.sealant_l).chain(cracks(|p| p.sealant_l))),
        crack_m: told
            .lengths("Crack treated = ", cracks(|p| length_if(p, |t| t != Treatment::Leave))),
        crack_fill_m: told.lengths(
            "Crack filled = ",
            cracks(|p| length_if(p, |t| matches!(t, Treatment::Fill | Treatment::Chase))),
        ),
        crack_chase_m: told
            .lengths("Crack cut open = ", cracks(|p| length_if(p, |t| t == Treatment::Chase))),
        crack_fill_l: told.liquids("Crack resin in place = ", cracks(|p| p.fill_l)),
        inject_m2: injected(|i| i.area_m2).map(|(_, m2)| m2).sum(),
        ports: told.count("Ports for injection = ", ports),
        inject_l: told.liquids("Injection resin in place = ", injected(|i| i.resin_l)),
        patch_l: told.solids("Mortar in place = ", patches.chain(skims)),
        hand_grind_m: told.lengths("Offset taken down by hand = ", steps(|l| l.hand_length_m)),
        hand_grind_m2: hand_grind_m2(takeoff, told),
        hand_grind_l: told.solids("Concrete ground off = ", steps(|l| l.removed_l)),
        blemish_m2: slab.blemishes.iter().map(|b| b.area_m2).sum(),
        cove_m: coves().map(|(length_m, _)| length_m).sum(),
        cove_l: coves().map(|(_, litres)| litres).sum(),
        oil_m2: ours().filter(|b| b.what == BlemishKind::Oil).map(|b| b.area_m2).sum(),
        comes_off_kg: ours().map(|b| b.area_m2 * shop.surface.comes_off(b.what)).sum(),
    }
}

/// The length of a portion with such a treatment, m.
fn length_if(portion: &CrackPortion, holds: fn(Treatment) -> bool) -> f64 {
    if holds(portion.treatment) { portion.length_m } else { 0.0 }
}

/// The bands of all steps as they lie on the floor, m².
fn hand_grind_m2(takeoff: &Takeoff, told: &mut Told) -> f64 {
    let area_m2 = takeoff.hand_grind.area();
    if area_m2 != 0.0 {
        told.line(|say| {
            let bands = takeoff.lippage.iter().map(|step| (step.id.as_str(), step.hand_area_m2));
            format!(
                "Floor feathered by hand = bands {}, merged and clipped to the coated floor = {}.",
                told::sum(bands, |m2| say.spot(m2)),
                say.spot(area_m2)
            )
        });
    }
    area_m2
}
