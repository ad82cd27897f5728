//! How totals and the order add up.

use super::Floor;
use super::say::sum;
use crate::quantity::write;
use crate::sketch::Treatment;
use crate::takeoff::{CrackPortion, CrackWork, Injection, JointWork, LippageWork, SpallRepair};

pub(super) fn totals(floor: &Floor) -> Vec<String> {
    let mut lines = joints(floor);
    lines.extend(cracks(floor));
    lines.extend(surface(floor));
    if lines.is_empty() {
        lines.push("Nothing has to be repaired.".to_owned());
    }
    lines
}

/// Ids and their part of a total.
type Parts<'a> = Vec<(&'a str, f64)>;

/// `Joint sawn = J1 23'-6" + J2 23'-6" = 47'-0".`, or nothing where the total is nothing.
fn lengths(floor: &Floor, name: &str, parts: Parts, total: f64) -> Option<String> {
    let say = floor.say;
    let parts = sum(parts, |m| say.length(m));
    (total != 0.0).then(|| format!("{name} = {parts} = {}.", say.length(total)))
}

/// The same for filler, resin and sealant in litres.
fn liquids(floor: &Floor, name: &str, parts: Parts, total: f64) -> Option<String> {
    let say = floor.say;
    let parts = sum(parts, |l| say.cubic(l));
    (total != 0.0).then(|| format!("{name} = {parts} = {}.", say.liquid(total)))
}

/// The same for mortar and concrete in litres.
fn solids(floor: &Floor, name: &str, parts: Parts, total: f64) -> Option<String> {
    let say = floor.say;
    let parts = sum(parts, |l| say.cubic(l));
    (total != 0.0).then(|| format!("{name} = {parts} = {}.", say.solid(total)))
}

/// A value of every joint.
fn of_joints<'a>(floor: &Floor<'a>, value: impl Fn(&JointWork) -> f64) -> Parts<'a> {
    let joints = floor.takeoff.joints.iter();
    joints.map(|joint| (joint.id.as_str(), value(joint))).collect()
}

/// A value of every crack, summed over its portions.
fn of_cracks<'a>(floor: &Floor<'a>, value: impl Fn(&CrackPortion) -> f64) -> Parts<'a> {
    let whole = |crack: &CrackWork| crack.portions.iter().map(&value).sum();
    floor.takeoff.cracks.iter().map(|crack| (crack.id.as_str(), whole(crack))).collect()
}

/// A value of every step.
fn of_steps<'a>(floor: &Floor<'a>, value: impl Fn(&LippageWork) -> f64) -> Parts<'a> {
    let steps = floor.takeoff.lippage.iter();
    steps.map(|step| (step.id.as_str(), value(step))).collect()
}

fn joints(floor: &Floor) -> Vec<String> {
    let totals = &floor.takeoff.totals;
    let of = |treatment: Treatment| {
        of_joints(floor, |joint| if joint.treatment == treatment { joint.length_m } else { 0.0 })
    };
    let (saw, hand) = (of_joints(floor, |j| j.saw_m), of_joints(floor, |j| j.hand_m));
    let (buried, fill) = (of_joints(floor, |j| j.buried_m), of_joints(floor, |j| j.fill_l));
    let mut honored = of(Treatment::Honor);
    honored.extend(of_cracks(floor, |p| match p.treatment {
        Treatment::Honor => p.length_m,
        _ => 0.0,
    }));
    let mut widened = of_joints(floor, |joint| joint.widen_m);
    widened.extend(of_cracks(floor, |portion| portion.widen_m));
    let mut sealant = of_joints(floor, |joint| joint.sealant_l);
    sealant.extend(of_cracks(floor, |portion| portion.sealant_l));
    let lines = [
        lengths(floor, "Joint chased and filled", of(Treatment::Fill), totals.chase_m),
        lengths(floor, "Joint sawn", saw, totals.saw_m),
        lengths(floor, "Joint cut by hand", hand, totals.hand_cut_m),
        ends(floor),
        lengths(floor, "Buried joint opened", buried, totals.buried_m),
        liquids(floor, "Joint filler in place", fill, totals.fill_l),
        lengths(floor, "Joint and crack honored", honored, totals.honor_m),
        lengths(floor, "Widened for rod and sealant", widened, totals.widen_m),
        liquids(floor, "Sealant in place", sealant, totals.sealant_l),
    ];
    lines.into_iter().flatten().collect()
}

fn ends(floor: &Floor) -> Option<String> {
    let total = floor.takeoff.totals.hand_ends;
    let parts = sum(of_joints(floor, |joint| joint.hand_ends as f64), |n| write::trimmed(n, 0));
    (total > 0).then(|| format!("Ends cut by hand = {parts} = {total}."))
}

fn cracks(floor: &Floor) -> Vec<String> {
    let totals = &floor.takeoff.totals;
    let when = |holds: fn(Treatment) -> bool| {
        of_cracks(floor, move |p| if holds(p.treatment) { p.length_m } else { 0.0 })
    };
    let treated = when(|treatment| treatment != Treatment::Leave);
    let filled = when(|treatment| matches!(treatment, Treatment::Fill | Treatment::Chase));
    let chased = when(|treatment| treatment == Treatment::Chase);
    let resin = of_cracks(floor, |portion| portion.fill_l);
    let lines = [
        lengths(floor, "Crack treated", treated, totals.crack_m),
        lengths(floor, "Crack filled", filled, totals.crack_fill_m),
        lengths(floor, "Crack cut open", chased, totals.crack_chase_m),
        liquids(floor, "Crack resin in place", resin, totals.crack_fill_l),
    ];
    lines.into_iter().flatten().collect()
}

fn surface(floor: &Floor) -> Vec<String> {
    let (say, takeoff) = (floor.say, floor.takeoff);
    let totals = &takeoff.totals;
    let patches = takeoff.patches.iter().map(|patch| (patch.id.as_str(), patch.volume_l));
    let skims = takeoff.spalls.iter().filter(|spall| spall.repair == SpallRepair::Skim);
    let mortar = patches.chain(skims.map(|spall| (spall.id.as_str(), spall.volume_l))).collect();
    let by_hand = of_steps(floor, |step| step.hand_length_m);
    let removed = of_steps(floor, |step| step.removed_l);
    let bands = || {
        let bands = sum(of_steps(floor, |step| step.hand_area_m2), |m2| say.spot(m2));
        let on_floor = say.spot(totals.hand_grind_m2);
        format!(
            "Floor feathered by hand = bands {bands}, merged and clipped to the coated floor = {on_floor}."
        )
    };
    let injected = |value: fn(&Injection) -> f64| -> Parts<'_> {
        let all = takeoff.delaminations.iter();
        all.filter_map(|d| Some((d.id.as_str(), value(d.injection()?)))).collect()
    };
    let ports = sum(injected(|i| i.ports as f64), |n| write::trimmed(n, 0));
    let resin = injected(|i| i.resin_l);
    let lines = [
        (totals.ports > 0).then(|| format!("Ports for injection = {ports} = {}.", totals.ports)),
        liquids(floor, "Injection resin in place", resin, totals.inject_l),
        solids(floor, "Mortar in place", mortar, totals.patch_l),
        lengths(floor, "Offset taken down by hand", by_hand, totals.hand_grind_m),
        (totals.hand_grind_m2 != 0.0).then(bands),
        solids(floor, "Concrete ground off", removed, totals.hand_grind_l),
    ];
    lines.into_iter().flatten().collect()
}

/// The order row of this name.
pub(super) fn ordered(floor: &Floor, item: &str) -> Option<Vec<String>> {
    let row =
        floor.order.rows.iter().find(|row| row.item.to_string().eq_ignore_ascii_case(item))?;
    Some(row.how.clone())
}

/// All order rows, each under its name.
pub(super) fn order(floor: &Floor) -> Vec<String> {
    let rows = floor.order.rows.iter();
    let named = rows.map(|row| format!("{}: {}", row.item, row.how.join(" ")));
    named.collect()
}
