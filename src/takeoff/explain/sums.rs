//! How totals and the order add up.

use super::Floor;
use super::say::sum;
use crate::quantity::write;
use crate::sketch::Treatment;
use crate::takeoff::{CrackPortion, CrackWork, JointWork, SpallRepair};

pub(super) fn totals(floor: &Floor) -> Vec<String> {
    let mut lines = joints(floor);
    lines.extend(cracks(floor));
    lines.extend(surface(floor));
    if lines.is_empty() {
        lines.push("Nothing has to be repaired.".to_owned());
    }
    lines
}

/// `Joint sawn = J1 23'-6" + J2 23'-6" = 47'-0".`, or nothing where the total is nothing.
fn line(
    name: &str,
    parts: Vec<(&str, f64)>,
    total: f64,
    show: impl Fn(f64) -> String,
    shown_total: impl Fn(f64) -> String,
) -> Option<String> {
    (total != 0.0).then(|| format!("{name} = {} = {}.", sum(parts, show), shown_total(total)))
}

fn joints(floor: &Floor) -> Vec<String> {
    let (say, totals) = (floor.say, &floor.takeoff.totals);
    let parts = |value: &dyn Fn(&JointWork) -> f64| {
        let joints = floor.takeoff.joints.iter();
        joints
            .map(|joint| (joint.id.as_str(), value(joint)))
            .collect::<Vec<_>>()
    };
    let of = |treatment: Treatment| {
        parts(&|joint| {
            if joint.treatment == treatment {
                joint.length_m
            } else {
                0.0
            }
        })
    };
    let length = |m: f64| say.length(m);
    let cubic = |l: f64| say.cubic(l);
    let mut sealant = parts(&|joint| joint.sealant_l);
    sealant.extend(crack_parts(floor, |portion| portion.sealant_l));
    let ends = parts(&|joint| joint.hand_ends as f64);
    let number = |n: f64| write::trimmed(n, 0);
    let lines = [
        line(
            "Joint chased and filled",
            of(Treatment::Fill),
            totals.chase_m,
            length,
            length,
        ),
        line(
            "Joint sawn",
            parts(&|joint| joint.saw_m),
            totals.saw_m,
            length,
            length,
        ),
        line(
            "Joint cut by hand",
            parts(&|joint| joint.hand_m),
            totals.hand_cut_m,
            length,
            length,
        ),
        line(
            "Ends cut by hand",
            ends,
            totals.hand_ends as f64,
            number,
            number,
        ),
        line(
            "Buried joint opened",
            parts(&|j| j.buried_m),
            totals.buried_m,
            length,
            length,
        ),
        line(
            "Joint filler in place",
            parts(&|j| j.fill_l),
            totals.fill_l,
            cubic,
            |l| say.liquid(l),
        ),
        line(
            "Joint honored",
            of(Treatment::Honor),
            totals.honor_m,
            length,
            length,
        ),
        line("Sealant in place", sealant, totals.sealant_l, cubic, |l| {
            say.liquid(l)
        }),
    ];
    lines.into_iter().flatten().collect()
}

/// A value of the cracks, summed over their portions.
fn crack_parts<'a>(floor: &Floor<'a>, value: impl Fn(&CrackPortion) -> f64) -> Vec<(&'a str, f64)> {
    let whole = |crack: &CrackWork| crack.portions.iter().map(&value).sum();
    floor
        .takeoff
        .cracks
        .iter()
        .map(|crack| (crack.id.as_str(), whole(crack)))
        .collect()
}

fn cracks(floor: &Floor) -> Vec<String> {
    let (say, totals) = (floor.say, &floor.takeoff.totals);
    let length = |m: f64| say.length(m);
    let when = |holds: fn(Treatment) -> bool| {
        crack_parts(
            floor,
            move |p| if holds(p.treatment) { p.length_m } else { 0.0 },
        )
    };
    let treated = when(|treatment| treatment != Treatment::Leave);
    let chased = when(|treatment| treatment == Treatment::Chase);
    let resin = crack_parts(floor, |portion| portion.fill_l);
    let lines = [
        line("Crack treated", treated, totals.crack_m, length, length),
        line(
            "Crack cut open",
            chased,
            totals.crack_chase_m,
            length,
            length,
        ),
        line(
            "Crack resin in place",
            resin,
            totals.crack_fill_l,
            |l| say.cubic(l),
            |l| say.liquid(l),
        ),
    ];
    lines.into_iter().flatten().collect()
}

fn surface(floor: &Floor) -> Vec<String> {
    let (say, takeoff) = (floor.say, floor.takeoff);
    let totals = &takeoff.totals;
    let patches = takeoff
        .patches
        .iter()
        .map(|patch| (patch.id.as_str(), patch.volume_l));
    let skims = takeoff
        .spalls
        .iter()
        .filter(|spall| spall.repair == SpallRepair::Skim);
    let mortar = patches
        .chain(skims.map(|spall| (spall.id.as_str(), spall.volume_l)))
        .collect();
    let steps = || takeoff.lippage.iter();
    let by_hand = steps()
        .map(|step| (step.id.as_str(), step.hand_length_m))
        .collect();
    let removed = steps()
        .map(|step| (step.id.as_str(), step.removed_l))
        .collect();
    let length = |m: f64| say.length(m);
    let lines = [
        line(
            "Mortar in place",
            mortar,
            totals.patch_l,
            |l| say.cubic(l),
            |l| say.solid(l),
        ),
        line(
            "Step taken down by hand",
            by_hand,
            totals.hand_grind_m,
            length,
            length,
        ),
        line(
            "Concrete ground off",
            removed,
            totals.hand_grind_l,
            |l| say.cubic(l),
            |l| say.solid(l),
        ),
    ];
    let mut lines: Vec<String> = lines.into_iter().flatten().collect();
    if totals.hand_grind_m2 != 0.0 {
        let bands = sum(
            steps().map(|step| (step.id.as_str(), step.hand_area_m2)),
            |a| say.spot(a),
        );
        lines.push(format!(
            "Floor feathered by hand = bands {bands}, merged and clipped to the coated floor = {}.",
            say.spot(totals.hand_grind_m2)
        ));
    }
    lines
}

/// The order row of this name.
pub(super) fn ordered(floor: &Floor, item: &str) -> Option<Vec<String>> {
    let row = floor
        .order
        .rows
        .iter()
        .find(|row| row.item.eq_ignore_ascii_case(item))?;
    Some(row.how.clone())
}

/// All order rows, each under its name.
pub(super) fn order(floor: &Floor) -> Vec<String> {
    let rows = floor.order.rows.iter();
    let named = rows.map(|row| format!("{}: {}", row.item, row.how.join(" ")));
    named.collect()
}
