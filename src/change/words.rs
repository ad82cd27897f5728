//! What was found, in sentences with the numbers of the sketches.

use super::model::ItemKind;
use super::quantity::{Work, say_differences};
use crate::floor::Survey;
use crate::quantity::measure::solid;
use crate::quantity::{Units, write};
use crate::schedule::plan;
use crate::sketch::{CrackTreatment, PriceNotes};
use crate::takeoff::{
    Chase, CrackWork, DelaminationWork, JointRepair, JointWork, LippageWork, LooseRepair,
    SpallRepair, SpallWork,
};

/// Lengths that differ by less are printed alike, m.
const ALIKE_M: f64 = 0.003;
/// Widths and depths that differ by less are the same: rounding, m.
const SAME_M: f64 = 1e-9;

/// What was found about an item, and the note that the sketch has on it.
pub(super) fn found(
    old: &Survey,
    new: &Survey,
    key: &(ItemKind, String),
    works: (Option<&Work>, Option<&Work>),
) -> String {
    let (kind, id) = key;
    let units = old.slab.units;
    let differ = match works {
        (Some(was), Some(is)) => say_differences(was, is, units),
        _ => String::new(),
    };
    // The same amounts at the unit prices: only what differs says what was found.
    let alike = matches!(works, (Some(was), Some(is)) if was.treatment == is.treatment && was.amounts == is.amounts);
    let text = match kind {
        ItemKind::Crack | ItemKind::Spall | ItemKind::Delamination | ItemKind::Step if alike => {
            format!("{} {id} was found otherwise: {differ}.", kind.name())
        }
        ItemKind::Floor if alike => format!("The floor was found otherwise: {differ}."),
        ItemKind::Joint => {
            let find =
                |floor: &'_ Survey| floor.takeoff.joints.iter().find(|j| j.id == *id).cloned();
            joint(id, find(old), find(new), &differ, units)
        }
        ItemKind::Crack => {
            let find =
                |floor: &'_ Survey| floor.takeoff.cracks.iter().find(|c| c.id == *id).cloned();
            crack(id, find(old), find(new), units)
        }
        ItemKind::Spall => {
            let find =
                |floor: &'_ Survey| floor.takeoff.spalls.iter().find(|s| s.id == *id).cloned();
            let mended = |s: SpallWork| mended(&s, units);
            otherwise("Spall", id, find(old).map(mended), find(new).map(mended))
        }
        ItemKind::Delamination => {
            let find = |floor: &Survey| {
                let mut all = floor.takeoff.delaminations.iter();
                all.find(|d| d.id == *id).map(|d| treated(d, units))
            };
            otherwise("Delamination", id, find(old), find(new))
        }
        ItemKind::Step => {
            let find =
                |floor: &'_ Survey| floor.takeoff.lippage.iter().find(|l| l.id == *id).cloned();
            step(id, find(old), find(new), units)
        }
        ItemKind::Floor => floor(old, new, units),
    };
    // A note that stood there before says nothing of what was found.
    let known = note(old, id);
    match note(new, id).filter(|note| known != Some(note)) {
        Some(note) => format!("{text} The sketch notes: “{note}”"),
        None => text,
    }
}

fn note<'f>(floor: &'f Survey, id: &str) -> Option<&'f str> {
    floor.slab.items().find(|item| item.id() == id)?.note()
}

/// What is done with a joint: `19.7 ft opened, cut 1/4" wide and 3/4" deep, filled and shaved`.
fn done(joint: &JointWork, units: Units) -> String {
    let length = write::run(joint.length_m, units);
    let opened = if joint.buried_m > 0.0 { "opened, " } else { "" };
    match &joint.repair {
        JointRepair::Fill(Chase { filling, .. }) => format!(
            "{length} {opened}cut {} wide and {} deep, filled and shaved",
            write::small(filling.width_m, units),
            write::small(filling.depth_m, units)
        ),
        JointRepair::Honor(seal) => {
            let width = write::small(seal.width_m, units);
            let widened = match seal.widen_m > 0.0 {
                true => format!("widened to {width}, "),
                false => format!("{width} wide, "),
            };
            format!("{length} {opened}{widened}honored with rod and sealant")
        }
        JointRepair::Leave => format!("{length} left as they are"),
    }
}

/// `differ`: everything that differs, where both sketches have it.
fn joint(
    id: &str,
    old: Option<JointWork>,
    new: Option<JointWork>,
    differ: &str,
    units: Units,
) -> String {
    let (old, new) = match (old, new) {
        (None, Some(new)) if new.buried_m > 0.0 => {
            return format!("Joint {id} was found buried: {}.", done(&new, units));
        }
        (None, Some(new)) => return format!("Joint {id} was found: {}.", done(&new, units)),
        (Some(old), None) => {
            return format!(
                "Joint {id} is no longer in the job: {} less.",
                write::run(old.length_m, units)
            );
        }
        (Some(old), Some(new)) => (old, new),
        (None, None) => return format!("Joint {id}."),
    };
    let mut parts = Vec::new();
    if new.buried_m > 0.0 && old.buried_m == 0.0 {
        let opened = write::run(new.buried_m, units);
        parts.push(format!("Joint {id} was found buried: {opened} to be opened."));
    }
    if (new.length_m - old.length_m).abs() > ALIKE_M {
        parts.push(length(&format!("Joint {id}"), old.length_m, new.length_m, units));
    }
    if new.treatment() != old.treatment() {
        parts.push(format!(
            "Joint {id} is treated otherwise: {} instead of {}.",
            done(&new, units),
            done(&old, units)
        ));
    } else if let Some(found) = section(id, &old, &new, units) {
        parts.push(found);
    }
    if parts.is_empty() {
        parts.push(format!("Joint {id} was found otherwise: {differ}."));
    }
    parts.join(" ")
}

/// A filled joint whose cut is wider or deeper than was sold, or less so; an honored one that is wider
/// or narrower.
fn section(id: &str, old: &JointWork, new: &JointWork, units: Units) -> Option<String> {
    let differs = |a: f64, b: f64| (a - b).abs() > SAME_M;
    let small = |m: f64| write::small(m, units);
    if let (Some(old), Some(new)) = (old.seal(), new.seal()) {
        let (was, is) = (old.width_m, new.width_m);
        if !differs(was, is) {
            return None;
        }
        let wide = if is > was { "wider" } else { "narrower" };
        return Some(format!(
            "Joint {id} was found {wide}: sealed {} wide instead of {}.",
            small(is),
            small(was)
        ));
    }
    let (was, is) = (old.filling()?, new.filling()?);
    let deeper = differs(was.depth_m, is.depth_m);
    let wider = differs(was.width_m, is.width_m);
    let word = |up: bool, more: &'static str, less: &'static str| if up { more } else { less };
    let deep = word(is.depth_m > was.depth_m, "deeper", "shallower");
    let wide = word(is.width_m > was.width_m, "wider", "narrower");
    let what = match (deeper, wider) {
        (false, false) => return None,
        (true, false) => deep.to_owned(),
        (false, true) => wide.to_owned(),
        (true, true) => format!("{deep} and {wide}"),
    };
    Some(format!(
        "Joint {id} was found {what}: cut {} wide and {} deep instead of {} and {}.",
        small(is.width_m),
        small(is.depth_m),
        small(was.width_m),
        small(was.depth_m)
    ))
}

fn length(what: &str, old: f64, new: f64, units: Units) -> String {
    let word = if new > old { "longer" } else { "shorter" };
    format!(
        "{what} was found {word}: {} instead of {}.",
        write::run(new, units),
        write::run(old, units)
    )
}

/// The portions of a crack: `4.0 ft filled, 2.0 ft cut open and filled`.
fn portions(crack: &CrackWork, units: Units) -> String {
    let words = [
        (CrackTreatment::Fill, "filled"),
        (CrackTreatment::Chase, "cut open and filled"),
        (CrackTreatment::Honor, "honored with rod and sealant"),
        (CrackTreatment::Prime, "primed only"),
        (CrackTreatment::Leave, "left as it is"),
    ];
    let parts = words.iter().filter_map(|(treatment, word)| {
        let portions = crack.portions.iter().filter(|p| p.treatment() == *treatment);
        let total: f64 = portions.map(|p| p.length_m).sum();
        (total > 0.0).then(|| format!("{} {word}", write::run(total, units)))
    });
    parts.collect::<Vec<_>>().join(", ")
}

fn crack(id: &str, old: Option<CrackWork>, new: Option<CrackWork>, units: Units) -> String {
    match (old, new) {
        (None, Some(new)) => {
            let widest = new.portions.iter().map(|p| p.width_m).fold(0.0, f64::max);
            format!(
                "Crack {id} was found, up to {} wide: {}.",
                write::small(widest, units),
                portions(&new, units)
            )
        }
        (Some(old), None) => {
            format!("Crack {id} is no longer in the job: {} less.", write::run(old.length_m, units))
        }
        (Some(old), Some(new)) => {
            let longer = (new.length_m - old.length_m).abs() > ALIKE_M;
            let start = if longer {
                length(&format!("Crack {id}"), old.length_m, new.length_m, units)
            } else {
                format!("Crack {id} was found otherwise than sketched.")
            };
            format!("{start} Now {}; before {}.", portions(&new, units), portions(&old, units))
        }
        (None, None) => format!("Crack {id}."),
    }
}

fn mended(spall: &SpallWork, units: Units) -> String {
    let how = match &spall.repair {
        SpallRepair::Leave => "left",
        SpallRepair::Skim { .. } => "skimmed",
        SpallRepair::Patch { .. } => "cut out and patched",
        SpallRepair::WithJoint { .. } => "filled with its joint",
    };
    let material = solid(spall.repair.volume_l(), units);
    format!("{}, {material} {how}", write::area(spall.area_m2, units))
}

/// What is done with a delamination: `3.0 ft² injected`.
fn treated(loose: &DelaminationWork, units: Units) -> String {
    let how = match &loose.repair {
        LooseRepair::Leave => "left".to_owned(),
        LooseRepair::Patch { volume_l, .. } => {
            format!("{} cut out and patched", solid(*volume_l, units))
        }
        LooseRepair::Inject(injection) => {
            format!("{} injected", write::area(injection.area_m2, units))
        }
    };
    format!("{}, {how}", write::area(loose.area_m2, units))
}

/// What became of a spall or delamination, from what was done with it before and what is now.
fn otherwise(what: &str, id: &str, old: Option<String>, new: Option<String>) -> String {
    match (old, new) {
        (None, Some(new)) => format!("{what} {id} was found: {new}."),
        (Some(old), None) => format!("{what} {id} is no longer in the job ({old})."),
        (Some(old), Some(new)) => {
            format!("{what} {id} was found otherwise: {new} instead of {old}.")
        }
        (None, None) => format!("{what} {id}."),
    }
}

fn ground(step: &LippageWork, units: Units) -> String {
    format!(
        "{} over {}, up to {} high",
        write::area(step.hand_area_m2, units),
        write::run(step.hand_length_m, units),
        write::small(step.max_step_mm / 1000.0, units)
    )
}

fn step(id: &str, old: Option<LippageWork>, new: Option<LippageWork>, units: Units) -> String {
    match (old, new) {
        (None, Some(new)) => {
            format!("Offset {id} was found: to be ground by hand {}.", ground(&new, units))
        }
        (Some(old), None) => format!(
            "Offset {id} is no longer in the job ({} to be ground by hand).",
            ground(&old, units)
        ),
        (Some(old), Some(new)) => format!(
            "Offset {id} was found otherwise: to be ground by hand {} instead of {}.",
            ground(&new, units),
            ground(&old, units)
        ),
        (None, None) => format!("Offset {id}."),
    }
}

fn floor(old: &Survey, new: &Survey, units: Units) -> String {
    format!(
        "The coated area, floor and faces, is {} instead of {}.",
        write::area(new.takeoff.area.coated_m2, units),
        write::area(old.takeoff.area.coated_m2, units)
    )
}

/// What changed and has no unit price: it is priced by hand, or as an alternate.
pub(super) fn unpriced(old: &Survey, new: &Survey) -> Vec<String> {
    let mut out = Vec::new();
    let system = |floor: &Survey| {
        let named = floor.sketch.coating.system.as_ref();
        let below = if floor.shop.is_mitigated() { " with moisture mitigation" } else { "" };
        named.map_or("none".to_owned(), |name| format!("{}{below}", name.value))
    };
    if system(old) != system(new) {
        out.push(format!(
            "The coating system is {} instead of {}: another system is an alternate, priced with slabwalk price.",
            system(new),
            system(old)
        ));
    }
    let units = old.slab.units;
    let (was, is) = (old.takeoff.totals.blemish_m2, new.takeoff.totals.blemish_m2);
    if write::area(was, units) != write::area(is, units) {
        out.push(format!(
            "Oil, paint and other blemishes cover {} instead of {}: removing them has no unit price.",
            write::area(is, units),
            write::area(was, units)
        ));
    }
    let (was, is) = (plan(old).days.len(), plan(new).days.len());
    if was != is {
        let word = if is == 1 { "working day" } else { "working days" };
        out.push(format!(
            "The work takes {is} {word} instead of {was}: driving and machines by the day have no unit price."
        ));
    }
    let (was, is) = (&old.sketch.price, &new.sketch.price);
    let trips = |notes: &PriceNotes| notes.trips.as_ref().map(|trips| trips.value);
    let travel = |notes: &PriceNotes| notes.travel.as_ref().map(|travel| travel.value);
    for (what, differs) in [
        ("The tax", was.tax != is.tax),
        ("The number of trips", trips(was) != trips(is)),
        ("The distance driven", travel(was) != travel(is)),
    ] {
        if differs {
            out.push(format!(
                "{what} is another under price: in the second sketch: it has no unit price."
            ));
        }
    }
    out
}
