//! How a crack was reckoned.

use super::{Floor, joint};
use crate::sketch::{Movement, Treatment};
use crate::slab::Crack;
use crate::takeoff::{CrackPortion, CrackWork};

pub(super) fn crack(floor: &Floor, work: &CrackWork, record: &Crack) -> Vec<String> {
    let say = floor.say;
    let whole = record.path.length();
    let mut lines = vec![joint::runs(floor, &work.id, work.length_m, whole, &record.in_scope)];
    let on = record.on_top.iter();
    lines.extend(on.map(|(stretch, other)| joint::lies_on(floor, stretch, other)));
    if work.length_m == 0.0 {
        return lines;
    }
    if !record.width_known {
        lines.push(format!(
            "No width was noted; it is taken as {} (cracks.prime_below).",
            say.small(floor.shop.cracks.prime_below.m())
        ));
    }
    let many = work.portions.len() > 1;
    for portion in &work.portions {
        lines.push(why(floor, portion, record));
        lines.extend(volume(floor, portion));
    }
    let fill: f64 = work.portions.iter().map(|p| p.fill_l).sum();
    if many && fill > 0.0 {
        let parts = work.portions.iter().filter(|p| p.fill_l > 0.0).map(|p| say.cubic(p.fill_l));
        let parts: Vec<String> = parts.collect();
        lines.push(format!("Resin in all = {} = {}.", parts.join(" + "), say.liquid(fill)));
    }
    if fill > 0.0 {
        let waste = floor.shop.cracks.waste.one();
        lines.push(joint::to_buy(floor, fill, "cracks", waste));
    }
    lines
}

/// Which rule decided.
fn why(floor: &Floor, portion: &CrackPortion, record: &Crack) -> String {
    let (say, rules) = (floor.say, &floor.shop.cracks);
    let limits = (say.small(rules.prime_below.m()), say.small(rules.chase_from.m()));
    let width = say.mm(portion.width_mm);
    let reason = if record.treatment.is_some() {
        "as the sketch says".to_owned()
    } else if record.movement == Movement::Active {
        "it moves, so it is carried through the coating like a joint".to_owned()
    } else {
        match portion.treatment {
            Treatment::Prime => {
                format!("{width} is narrower than {} (cracks.prime_below)", limits.0)
            }
            Treatment::Fill => format!("{width} is narrower than {} (cracks.chase_from)", limits.1),
            _ => format!("{width} is not narrower than {} (cracks.chase_from)", limits.1),
        }
    };
    format!(
        "Stations {} to {}, {} of it on the coated floor, {width} wide: {}; {reason}.",
        say.station(portion.from_m),
        say.station(portion.to_m),
        say.length(portion.length_m),
        portion.treatment.word()
    )
}

fn volume(floor: &Floor, portion: &CrackPortion) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.cracks);
    let length = say.length(portion.length_m);
    let depth = say.mm(portion.depth_mm);
    match portion.treatment {
        Treatment::Prime => vec!["The primer is enough: nothing is bought for it.".to_owned()],
        Treatment::Leave => vec!["It is left: nothing is bought for it.".to_owned()],
        Treatment::Fill => vec![format!(
            "Resin in place = {length} × {} × {depth} (cracks.fill_depth) = {}.",
            say.mm(portion.width_mm),
            say.liquid(portion.fill_l)
        )],
        Treatment::Chase => vec![
            format!(
                "Groove width = the larger of found {}, {} (cracks.chase.width) = {}.",
                say.mm(portion.width_mm),
                say.small(rules.chase_width.m()),
                say.mm(portion.chase_width_mm)
            ),
            format!("Groove depth = {depth} (cracks.chase.depth)."),
            format!(
                "Resin in place = {length} × {} × {depth} = {}.",
                say.mm(portion.chase_width_mm),
                say.liquid(portion.fill_l)
            ),
        ],
        Treatment::Honor => honored(floor, portion),
    }
}

/// The seal of a working crack.
fn honored(floor: &Floor, portion: &CrackPortion) -> Vec<String> {
    let found = portion.width_mm / 1000.0;
    let sealed = joint::Sealed {
        length_m: portion.length_m,
        width_mm: portion.sealant_width_mm,
        sealant_l: portion.sealant_l,
        rod_mm: portion.rod_mm,
    };
    let mut lines = vec![joint::seal_width(floor, Some(found), portion.sealant_width_mm)];
    lines.extend(sealed.lines(floor));
    if portion.widen_m > 0.0 {
        lines.push(joint::widened(floor, found, &sealed, portion.groove_mm, portion.removed_l));
    }
    lines
}
