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
pub use seal::{Seal, rod_m, sealant_depth_m};
pub use worked::{Worked, has_work, kinds_by_work};

use crate::shop::Shop;
use crate::sketch::{BlemishKind, Tests};
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
    let chases = takeoff.joints.iter();
    let chases = chases.filter_map(|joint| Some((joint.id.as_str(), joint, joint.chase()?)));
    let chased = |value: fn(&JointWork, &Chase) -> f64| {
        chases.clone().map(move |(id, joint, chase)| (id, value(joint, chase)))
    };
    let ends = chases.clone().map(|(id, _, chase)| (id, chase.hand_ends()));
    let buried = takeoff.joints.iter().map(|joint| (joint.id.as_str(), joint.buried_m));
    let cracks = |value: fn(&CrackPortion) -> Option<f64>| {
        let whole = move |crack: &CrackWork| crack.portions.iter().filter_map(value).sum();
        takeoff.cracks.iter().map(move |crack| (crack.id.as_str(), whole(crack)))
    };
    let sealed = |value: fn(f64, &Seal) -> f64| {
        let joints = takeoff.joints.iter();
        let joints =
            joints.filter_map(move |j| Some((j.id.as_str(), value(j.length_m, j.seal()?))));
        let whole = move |crack: &CrackWork| {
            let portions = crack.portions.iter();
            portions.filter_map(|p| Some(value(p.length_m, p.seal()?))).sum()
        };
        joints.chain(takeoff.cracks.iter().map(move |crack| (crack.id.as_str(), whole(crack))))
    };
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
        chase_m: told.lengths("Joint chased and filled = ", chased(|joint, _| joint.length_m)),
        saw_m: told.lengths("Joint sawn = ", chased(|_, chase| chase.saw_m)),
        hand_cut_m: told.lengths("Joint cut by hand = ", chased(|_, chase| chase.hand_m())),
        hand_ends: told.count("Ends cut by hand = ", ends),
        buried_m: told.lengths("Buried joint opened = ", buried),
        fill_l: told.liquids("Joint filler in place = ", chased(|_, chase| chase.filling.volume_l)),
        honor_m: told.lengths("Joint and crack honored = ", sealed(|length_m, _| length_m)),
        widen_m: told.lengths("Widened for rod and sealant = ", sealed(|_, seal| seal.widen_m)),
        sealant_l: told.liquids("Sealant in place = ", sealed(|_, seal| seal.sealant_l)),
        crack_m: told.lengths(
            "Crack treated = ",
            cracks(|p| (p.repair != CrackRepair::Leave).then_some(p.length_m)),
        ),
        crack_fill_m: told.lengths("Crack filled = ", cracks(|p| p.filling().map(|_| p.length_m))),
        crack_chase_m: told
            .lengths("Crack cut open = ", cracks(|p| p.chased().map(|_| p.length_m))),
        crack_fill_l: told
            .liquids("Crack resin in place = ", cracks(|p| p.filling().map(|f| f.volume_l))),
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
