//! How a joint was reckoned.

use super::Floor;
use crate::quantity::write;
use crate::sketch::{JointKind, Treatment};
use crate::slab::{Joint, Stretch};
use crate::takeoff::seal::{ROD_OVER_WIDTH, SEALANT_LEAST, SEALANT_MOST, thinnest_rod_m};
use crate::takeoff::{JointWork, sealant_depth_m};

pub(super) fn joint(floor: &Floor, work: &JointWork, record: &Joint) -> Vec<String> {
    let mut lines = vec![what(floor, work, record)];
    lines.extend(scope(floor, work, record));
    if work.length_m == 0.0 {
        return lines;
    }
    match work.treatment {
        Treatment::Fill => {
            if work.buried_m > 0.0 {
                lines.push(buried(floor, work));
            }
            lines.extend(cut(floor, work, record));
            lines.push(width(floor, work, record));
            lines.push(depth(floor, work, record));
            lines.extend(filler(floor, work));
        }
        Treatment::Honor => {
            if work.buried_m > 0.0 {
                lines.push(buried(floor, work));
            }
            lines.extend(seal(floor, work, record));
        }
        Treatment::Leave | Treatment::Prime | Treatment::Chase => {
            lines.push("It is left: nothing of it is counted in the totals.".to_owned());
        }
    }
    lines
}

fn what(floor: &Floor, work: &JointWork, record: &Joint) -> String {
    let (kind, treatment) = (work.kind.word(), work.treatment.word());
    let treatments = &floor.shop.treatments;
    let by_rule = match work.kind {
        JointKind::Control => treatments.control,
        JointKind::Construction => treatments.construction,
        JointKind::Isolation => treatments.isolation,
    };
    let kind_of = match work.kind {
        JointKind::Isolation => format!("an {kind} joint"),
        JointKind::Control | JointKind::Construction => format!("a {kind} joint"),
    };
    match record.treatment {
        Some(_) if by_rule == work.treatment => {
            format!("{} is {kind_of}: {treatment}, as the sketch says.", work.id)
        }
        Some(_) => format!(
            "{} is {kind_of}: {treatment}, as the sketch says (treatments.{kind} would be {}).",
            work.id,
            by_rule.word()
        ),
        None => format!("{} is {kind_of}: {treatment} (treatments.{kind}).", work.id),
    }
}

/// Stations of some stretches: `0'-0" to 4'-0", 6'-0" to 24'-0"`.
pub(super) fn stations(floor: &Floor, stretches: &[Stretch]) -> String {
    let at = |m: f64| floor.say.station(m);
    let one = |s: &Stretch| format!("{} to {}", at(s.from_m), at(s.to_m));
    stretches.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// How much of a path is counted, and where.
pub(super) fn runs(
    floor: &Floor,
    id: &str,
    counted: f64,
    whole: f64,
    in_scope: &[Stretch],
) -> String {
    let say = floor.say;
    let (counted, drawn) = (say.length(counted), say.station(whole));
    match in_scope {
        [] => format!("{id} is drawn {drawn} long; nothing of it is counted on the coated floor."),
        [one] if one.from_m == 0.0 && one.to_m == whole => {
            format!("{id} runs {counted}, all of it on the coated floor.")
        }
        _ => format!(
            "{id} runs {counted} on the coated floor: stations {} of a path {drawn} long.",
            stations(floor, in_scope)
        ),
    }
}

fn scope(floor: &Floor, work: &JointWork, record: &Joint) -> Vec<String> {
    let whole = record.path.length();
    let mut lines = Vec::new();
    lines.push(runs(floor, &work.id, work.length_m, whole, &record.in_scope));
    if !record.gaps.is_empty() {
        let length = record.gaps.iter().map(Stretch::length).sum();
        lines.push(format!(
            "{} of it ({}) lies inside what it ends at (ends_at): no joint is there.",
            floor.say.length(length),
            stations(floor, &record.gaps)
        ));
    }
    let ids = &floor.takeoff.joints;
    let on = record.on_top.iter();
    lines.extend(on.map(|(stretch, on)| {
        let other = ids.get(*on).map_or("another joint", |j| j.id.as_str());
        lies_on(floor, stretch, other)
    }));
    lines
}

/// What of a line is counted for another one.
pub(super) fn lies_on(floor: &Floor, stretch: &Stretch, other: &str) -> String {
    format!(
        "{} of it ({}) lies on {other} and is counted there.",
        floor.say.length(stretch.length()),
        stations(floor, std::slice::from_ref(stretch)),
    )
}

fn buried(floor: &Floor, work: &JointWork) -> String {
    format!("Concrete was run over it: {} to be opened first.", floor.say.length(work.buried_m))
}

fn cut(floor: &Floor, work: &JointWork, record: &Joint) -> Vec<String> {
    let (say, rules) = (floor.say, &floor.shop.chase);
    let limit = say.small(rules.saw_wander.m());
    if work.by_hand {
        let why = match record.wander {
            Some(wander) if wander > rules.saw_wander.m() => {
                format!("wanders {}, more than {limit} (chase.saw_wander)", say.small(wander))
            }
            _ => "is curved".to_owned(),
        };
        return vec![format!("It {why}: followed by hand all along, {}.", say.length(work.hand_m))];
    }
    let clearance = say.small(rules.saw_clearance.m());
    if work.hand_ends == 0 {
        let sawn = say.length(work.saw_m);
        return vec![format!(
            "No wall or obstacle is nearer than {clearance} (chase.saw_clearance): {sawn} sawn."
        )];
    }
    let ends = if work.hand_ends == 1 { "end" } else { "ends" };
    vec![
        format!(
            "The saw stops {clearance} (chase.saw_clearance) short of walls and obstacles: {} {ends} by hand ({}), {} together.",
            work.hand_ends,
            stations(floor, &work.hand),
            say.length(work.hand_m),
        ),
        format!(
            "Sawn = {} − {} = {}.",
            say.length(work.length_m),
            say.length(work.hand_m),
            say.length(work.saw_m)
        ),
    ]
}

/// `the larger of found 1/4" and blade 1/4" (chase.blade)`.
fn found_or_blade(floor: &Floor, found: Option<f64>) -> String {
    let blade = floor.say.small(floor.shop.chase.blade.m());
    match found {
        Some(found) => {
            format!(
                "the larger of found {} and blade {blade} (chase.blade)",
                floor.say.small(found)
            )
        }
        None => format!("blade {blade} (chase.blade), as no width was noted"),
    }
}

fn width(floor: &Floor, work: &JointWork, record: &Joint) -> String {
    let say = floor.say;
    let result = say.mm(work.chase_width_mm);
    if record.chase_width.is_some() {
        return format!("Chase width = {result}, as the sketch says.");
    }
    let base = found_or_blade(floor, record.width);
    match record.wander {
        Some(wander) if !work.by_hand && wander > 0.0 => {
            format!("Chase width = {base}, plus wander {} = {result}.", say.small(wander))
        }
        _ => format!("Chase width = {base} = {result}."),
    }
}

fn depth(floor: &Floor, work: &JointWork, record: &Joint) -> String {
    let (say, rules) = (floor.say, &floor.shop.chase);
    let result = say.mm(work.chase_depth_mm);
    if record.chase_depth.is_some() {
        return format!("Chase depth = {result}, as the sketch says.");
    }
    let mut parts = vec![format!("{} (chase.depth)", say.small(rules.depth.m()))];
    parts.extend(record.depth.map(|depth| format!("{} found", say.small(depth))));
    parts.extend(record.strip_depth.map(|strip| format!("{} strip left in", say.small(strip))));
    let largest = match parts.as_slice() {
        [one] => one.clone(),
        [one, two] => format!("the larger of {one} and {two}"),
        many => format!("the largest of {}", many.join(", ")),
    };
    let deepest = say.small(rules.deepest.m());
    format!("Chase depth = {largest}, at most {deepest} (chase.deepest) = {result}.")
}

fn filler(floor: &Floor, work: &JointWork) -> Vec<String> {
    let say = floor.say;
    let waste = floor.shop.filler.waste.one();
    vec![
        format!(
            "Filler in place = {} × {} × {} = {}.",
            say.length(work.length_m),
            say.mm(work.chase_width_mm),
            say.mm(work.chase_depth_mm),
            say.liquid(work.fill_l)
        ),
        to_buy(floor, work.fill_l, "filler", waste),
    ]
}

/// What waste adds, for a product whose waste is `<key>.waste` in the shop book.
pub(super) fn to_buy(floor: &Floor, in_place_l: f64, key: &str, waste: f64) -> String {
    let say = floor.say;
    format!(
        "To buy = {} × {} ({key}.waste) = {}; added to all other needs before rounding to packages.",
        say.bought(in_place_l),
        write::trimmed(1.0 + waste, 4),
        say.bought(in_place_l * (1.0 + waste))
    )
}

fn seal(floor: &Floor, work: &JointWork, record: &Joint) -> Vec<String> {
    let mut lines = vec![seal_width(floor, record.width, work.sealant_width_mm)];
    let sealed = Sealed {
        length_m: work.length_m,
        width_mm: work.sealant_width_mm,
        sealant_l: work.sealant_l,
        rod_mm: work.rod_mm,
    };
    lines.extend(sealed.lines(floor));
    if work.widen_m > 0.0 {
        let found = record.width.unwrap_or(0.0);
        lines.push(widened(floor, found, &sealed, work.groove_mm, work.removed_l));
    } else if work.removed_l > 0.0 {
        let say = floor.say;
        lines.push(format!(
            "Concrete cut out for rod and sealant where it is opened = {} × {} × {} = {}.",
            say.length(work.length_m),
            say.mm(work.sealant_width_mm),
            say.mm(work.groove_mm),
            say.solid(work.removed_l)
        ));
    }
    lines
}

/// The sentence about the width that is sealed: as found (m), or the least that takes rod and sealant.
pub(super) fn seal_width(floor: &Floor, found: Option<f64>, width_mm: f64) -> String {
    let say = floor.say;
    let least = format!("{} (sealant.least_width)", say.small(floor.shop.sealant.least_width.m()));
    let least = match thinnest_rod_m(floor.shop) {
        Some(rod) if rod / ROD_OVER_WIDTH > floor.shop.sealant.least_width.m() => {
            format!("{} / {ROD_OVER_WIDTH} for the thinnest rod (backer_rod.sizes)", say.small(rod))
        }
        _ => least,
    };
    let result = say.mm(width_mm);
    match found {
        Some(found) => {
            format!("Seal width = the larger of found {} and {least} = {result}.", say.small(found))
        }
        None => format!("Seal width = {least} = {result}, as no width was noted."),
    }
}

/// The sentence about what is cut by hand so that rod and sealant fit; `found` in meters.
pub(super) fn widened(
    floor: &Floor,
    found: f64,
    sealed: &Sealed,
    groove_mm: f64,
    removed_l: f64,
) -> String {
    let say = floor.say;
    let (length, width, groove) =
        (say.length(sealed.length_m), say.mm(sealed.width_mm), say.mm(groove_mm));
    format!(
        "Too narrow for rod and sealant: widen to {width} with a hand grinder, {length}, {groove} deep for both; concrete cut out = {length} × ({width} − {}) × {groove} = {}.",
        say.small(found),
        say.solid(removed_l)
    )
}

/// A stretch of one width with its sealant and rod.
pub(super) struct Sealed {
    pub length_m: f64,
    pub width_mm: f64,
    pub sealant_l: f64,
    pub rod_mm: Option<f64>,
}

impl Sealed {
    /// Depth, sealant, what is bought, rod.
    pub fn lines(&self, floor: &Floor) -> Vec<String> {
        let say = floor.say;
        let width_m = self.width_mm / 1000.0;
        vec![
            seal_depth(floor, width_m),
            format!(
                "Sealant in place = {} × {} × {} = {}.",
                say.length(self.length_m),
                say.mm(self.width_mm),
                say.small(sealant_depth_m(width_m)),
                say.liquid(self.sealant_l)
            ),
            to_buy(floor, self.sealant_l, "sealant", floor.shop.sealant.waste.one()),
            rod(floor, self.width_mm, self.rod_mm),
        ]
    }
}

/// The sentence about the depth of a seal of this width, m.
fn seal_depth(floor: &Floor, width: f64) -> String {
    let say = floor.say;
    format!(
        "Seal depth = the larger of {} / 2 and {}, at most {} = {}.",
        say.small(width),
        say.small(SEALANT_LEAST),
        say.small(SEALANT_MOST),
        say.small(sealant_depth_m(width))
    )
}

/// The sentence about the rod for a seal of this width.
fn rod(floor: &Floor, width_mm: f64, rod_mm: Option<f64>) -> String {
    let say = floor.say;
    let least = format!(
        "Least backer rod = {ROD_OVER_WIDTH} × {} = {}",
        say.mm(width_mm),
        say.mm(width_mm * ROD_OVER_WIDTH)
    );
    match rod_mm {
        Some(rod) => format!("{least}; the next stock size (backer_rod.sizes) is {}.", say.mm(rod)),
        None => format!("{least}; no stock size (backer_rod.sizes) is that thick."),
    }
}
