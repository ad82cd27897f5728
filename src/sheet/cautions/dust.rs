//! Silica dust: 29 CFR 1926.1153, its Table 1 and its paragraph on housekeeping.

use crate::quantity::{M_PER_IN, write};
use crate::schedule::silica::collector_cfm;
use crate::sketch::Site;

use super::{Caution, caution};
use crate::sheet::Inputs;

/// Dust, respirators where the table is not followed, and the collector.
pub(super) fn cautions(inputs: &Inputs) -> Vec<Caution> {
    let totals = &inputs.takeoff.totals;
    let grinds = inputs.takeoff.area.net_m2 > 0.0;
    let sawn = totals.saw_m > 0.0;
    let drilled = totals.ports > 0;
    if !grinds && !sawn && !drilled && inputs.takeoff.patches.is_empty() {
        return Vec::new();
    }
    // The plan saws dry: water in a joint keeps the filler from bonding, and dry sawing is in no row of the table.
    let saw = if sawn {
        "Joints are sawn dry, with shroud and vacuum: OSHA Table 1 (29 CFR 1926.1153) lists no dry saw, so exposure is assessed before. "
    } else {
        ""
    };
    let drill = if drilled { " and on the drill, its holes vacuumed, not blown" } else { "" };
    let mut out = vec![caution(
        "Silica dust",
        format!(
            "{saw}Shroud and vacuum on every grinder{drill}. Vacuum with a HEPA filter, never blow or sweep dry. Eyes and ears covered."
        ),
    )];
    out.extend(respirators(inputs));
    out.push(collector(inputs));
    out
}

/// Where a hand grinder does not work as the table has it.
fn respirators(inputs: &Inputs) -> Option<Caution> {
    let (totals, takeoff) = (&inputs.takeoff.totals, inputs.takeoff);
    let indoors = inputs.coating.site == Site::Indoors;
    let by_hand = totals.hand_cut_m > 0.0 || totals.crack_chase_m > 0.0 || totals.buried_m > 0.0;
    let curved = inputs.slab.outline.walls.iter().any(|w| w.is_curved());
    let places = [
        ("where joints or cracks are cut by hand", by_hand && indoors),
        ("at joint ends beside walls", totals.hand_ends > 0 && !indoors),
        ("at thresholds", takeoff.termination_m > 0.0),
        ("along curved edges", curved),
    ];
    let places: Vec<&str> = places.iter().filter(|p| p.1).map(|p| p.0).collect();
    let (last, most) = places.split_last()?;
    let places = match most {
        [] => (*last).to_owned(),
        most => format!("{} and {last}", most.join(", ")),
    };
    Some(caution(
        "Respirator, APF 10",
        format!(
            "Worn {places}: the shroud can't seal there, so Table 1 is not followed. It stays on until exposure is assessed."
        ),
    ))
}

/// Table 1: 25 ft³/min for each inch of a hand grinder's wheel; for floor grinders what the maker asks for; a filter of 99 % with
/// cleaning or a cyclone; paragraph (c)(2)(i): indoors a means of exhaust.
fn collector(inputs: &Inputs) -> Caution {
    let wheel = inputs.shop.days.wheel.m();
    let cfm = collector_cfm(wheel / M_PER_IN);
    let exhaust = match inputs.coating.site {
        Site::Indoors => " Its exhaust goes outdoors.",
        Site::Outdoors => "",
    };
    caution(
        "Dust collector",
        format!(
            "At least {} ft³/min on the hand grinder's {} wheel (25 for each inch), and what the floor grinder's maker asks for. \
             Filter of 99 % or better, with filter cleaning or a cyclone before it.{exhaust}",
            write::trimmed(cfm, 1),
            write::small(wheel, inputs.slab.units)
        ),
    )
}
