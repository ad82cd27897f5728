//! What the liquids of a job ask for, by what they are made of.
//!
//! Isocyanates: OSHA NEP CPL 03-00-017; NIOSH 96-111, 2004-116 and 2006-149. Amines of epoxies, solvents, heat in a pail, foam in
//! wet joints: common practice and data sheets, which go first.

use std::collections::BTreeSet;

use crate::shop::{Amount, Layer, Resin};

use super::{Caution, caution};
use crate::sheet::Inputs;

/// The liquids of a job.
struct Liquids {
    /// What they are made of, as far as the shop book says.
    resins: BTreeSet<Resin>,
    /// Whether the shop book doesn't say it of one of them.
    unknown: bool,
    /// Whether one holds solvent.
    solvent: bool,
    /// Whether one is mixed in a pail.
    mixed: bool,
}

fn liquids(inputs: &Inputs) -> Liquids {
    let totals = &inputs.takeoff.totals;
    let coated = inputs.takeoff.area.coated_m2 > 0.0;
    let system = inputs.system().filter(|_| coated);
    let layers = system.iter().flat_map(|system| &system.layers);
    let coats: Vec<&Layer> =
        layers.filter(|layer| !matches!(layer.amount, Amount::Broadcast { .. })).collect();
    let others = [
        (totals.fill_l, inputs.shop.filler.resin),
        (totals.crack_fill_l, inputs.shop.cracks.resin),
        (totals.inject_l, inputs.shop.delaminations.resin),
        (totals.sealant_l, inputs.shop.sealant.resin),
    ];
    let used = others.iter().filter(|other| other.0 > 0.0).map(|other| other.1);
    Liquids {
        resins: coats.iter().filter_map(|coat| coat.resin).chain(used).collect(),
        // A floor that is coated with something that nobody named yet.
        unknown: coated && (coats.is_empty() || coats.iter().any(|coat| coat.resin.is_none())),
        solvent: coats.iter().any(|coat| coat.solvent == Some(true)),
        mixed: coated || totals.crack_fill_l > 0.0 || totals.inject_l > 0.0,
    }
}

const fn name(resin: Resin) -> &'static str {
    match resin {
        Resin::Epoxy => "epoxy",
        Resin::Polyurea => "polyurea",
        Resin::Polyaspartic => "polyaspartic",
        Resin::Polyurethane => "polyurethane",
    }
}

/// Gloves and air by kind of product, a pail that heats up, joints that have to be dry.
pub(super) fn cautions(inputs: &Inputs) -> Vec<Caution> {
    let used = liquids(inputs);
    let mut out = Vec::new();
    if used.unknown {
        out.push(caution(
            "Resins",
            "Amines and isocyanates sensitize skin and lungs: gloves, clothes and respirator as each data sheet says, and moving air.",
        ));
    }
    if used.resins.contains(&Resin::Epoxy) {
        out.push(caution(
            "Epoxy",
            "Its hardener holds amines: they burn, and once skin is sensitized it stays so. Nitrile or butyl gloves, long sleeves, goggles; air moves through.",
        ));
    }
    let isocyanates: Vec<&str> = used
        .resins
        .iter()
        .filter(|resin| resin.has_isocyanates())
        .map(|resin| name(*resin))
        .collect();
    if !isocyanates.is_empty() {
        out.push(caution(
            &format!("Isocyanates ({})", isocyanates.join(", ")),
            "They sensitize lungs for good, also through the skin. Nitrile or butyl gloves, no bare skin, fresh air; the respirator that the data sheet names. \
             Anyone who wheezes stops work.",
        ));
    }
    if used.solvent {
        out.push(caution(
            "Solvent",
            "Its vapor burns and lies on the floor. No flame, no switch, no tool that sparks; fans made for it, that blow outdoors; gloves that the data sheet names.",
        ));
    }
    let totals = &inputs.takeoff.totals;
    let foams = totals.fill_l > 0.0 && inputs.shop.filler.resin.has_isocyanates();
    if foams {
        out.push(caution(
            "Joints stay dry",
            format!(
                "No water on the saw and none in a joint: {} filler foams on wet concrete.",
                name(inputs.shop.filler.resin)
            ),
        ));
    }
    if used.mixed {
        out.push(caution(
            "A pail that heats up",
            "Mixed resin left in a pail heats itself, smokes and boils over. Pour it out on the floor at once; carry a hot pail outdoors without its lid and keep off.",
        ));
    }
    if inputs.takeoff.area.coated_m2 > 0.0 {
        out.push(caution(
            "Vapors",
            "Pilot lights out before anything with vapor is opened. Data sheets and local code go before this sheet.",
        ));
    }
    out
}
