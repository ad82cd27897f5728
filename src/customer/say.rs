//! What is done with a group of things, and what may still show, in sentences a customer reads once.
//!
//! Every sentence comes from the takeoff: which treatment, whether it moves, what covers it. Nothing general is said of a floor that has
//! no such thing.

use std::collections::BTreeSet;

use crate::quantity::Units;
use crate::sketch::{BlemishKind, TestResult};

use super::fate::{self, Fate};
use super::sort::{Fact, Item};

/// What the customer is told about one group.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Said {
    pub done: String,
    /// What may still show afterward; empty where there is nothing to say.
    pub shows: String,
}

/// Most names of uncoated parts that are written out.
const MOST_NAMES: usize = 6;

/// How many and how much.
pub(crate) fn size(fate: Fate, items: &[Item], units: Units) -> String {
    let length: f64 = items.iter().map(|i| i.length_m).sum();
    let area: f64 = items.iter().map(|i| i.area_m2).sum();
    let mut out = fate.thing().counted(items.len());
    if length > 0.0 {
        out.push_str(&format!(", {}", fate::length(length, units)));
    }
    if area > 0.0 {
        out.push_str(&format!(", {}", fate::area(area, units)));
    }
    out
}

/// What the customer is told of one group.
pub(crate) fn say(fate: Fate, items: &[Item]) -> Said {
    let (done, shows) = match fate {
        Fate::JointFilled
        | Fate::JointFilledMoving
        | Fate::JointSealed
        | Fate::JointHidden
        | Fate::JointLeft => joints(fate, items),
        Fate::Spot => spots(items),
        Fate::Hollow => (
            "The top of the concrete has come loose here and sounds hollow. We drill [it|them] and fill the gap with resin.".into(),
            "The filled holes can show. Nobody sees how far the resin runs: a part can stay hollow.".into(),
        ),
        Fate::HollowLeft => left(
            items,
            "The top of the concrete is loose here. It can break out, and the coating comes off with it.",
        ),
        Fate::Surface => surfaces(items),
        Fate::Uncoated => uncoated(items),
        Fate::HighEdge => (
            "One side stands higher than the other. We grind the high side down to a gentle slope."
                .into(),
            "The ground strip keeps its slope and can look different.".into(),
        ),
        Fate::SmallStep => (
            "The step is small. The floor grinder takes off what it can; nothing more is done."
                .into(),
            "A slight edge can still be seen or felt.".into(),
        ),
        Fate::LowSpot => (
            "The coating follows the floor. We do not fill these spots.".into(),
            "Water is likely to stand here.".into(),
        ),
        _ => cracks(fate, items),
    };
    Said { done: number(&done, items.len()), shows: number(&shows, items.len()) }
}

fn with(items: &[Item], fact: &Fact) -> usize {
    items.iter().filter(|i| i.facts.contains(fact)).count()
}

/// Picks the word for one or for several: `[it|them]`.
pub(crate) fn number(text: &str, count: usize) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('[') {
        let (choice, tail) = after.split_once(']').unwrap_or((after, ""));
        let (one, many) = choice.split_once('|').unwrap_or((choice, choice));
        out.push_str(before);
        out.push_str(if count == 1 { one } else { many });
        rest = tail;
    }
    out.push_str(rest);
    out
}

/// What is said of things left alone, some or all of them outside the coated area.
fn left(items: &[Item], shows: &str) -> (String, String) {
    let (outside, all) = (with(items, &Fact::Outside), items.len());
    let done = if outside == 0 {
        "We leave [it|them] alone.".to_owned()
    } else if outside == all {
        "We leave [it|them] alone: [it lies|they lie] outside the coated area.".to_owned()
    } else {
        let lie = if outside == 1 { "lies" } else { "lie" };
        format!("We leave them alone. {outside} of them {lie} outside the coated area.")
    };
    let shows = if outside == all { "" } else { shows };
    (done, shows.to_owned())
}

fn joints(fate: Fate, items: &[Item]) -> (String, String) {
    let (done, shows) = match fate {
        Fate::JointFilled => (
            "We cut [it|them] clean, fill [it|them] level with the floor and coat over [it|them].",
            "A fine line can show over a joint as the concrete moves with heat and cold.",
        ),
        Fate::JointFilledMoving => (
            "[This joint is|These joints are] there so that the floor can move. We were asked to fill [it|them] and coat over [it|them].",
            "The floor will still move here. The line will show, and the coating can split along it.",
        ),
        Fate::JointSealed if with(items, &Fact::Isolation) == items.len() => (
            "[It lets|They let] the floor move beside walls, posts and pads, so [it|they] must stay open. We carry [it|them] through the coating and close [it|them] with a soft seal.",
            SEALED_SHOWS,
        ),
        Fate::JointSealed => (
            "The floor moves here, so [it|they] must stay open. We carry [it|them] through the coating and close [it|them] with a soft seal.",
            SEALED_SHOWS,
        ),
        Fate::JointHidden => return hidden(items),
        _ => {
            return left(
                items,
                "[It|They] will show through the coating as [it does|they do] now.",
            );
        }
    };
    (done.into(), shows.into())
}

/// What shows of a joint or crack that is carried through the coating.
const SEALED_SHOWS: &str = "You will still see the [line|lines]. The seal can be a shade off, and it wears out before the coating does.";

fn hidden(items: &[Item]) -> (String, String) {
    let filled = with(items, &Fact::FilledOnceOpen);
    let then = if filled == items.len() {
        "Then we fill [it|them] and coat over [it|them]."
    } else if filled == 0 {
        "Then [it stays|they stay] open through the coating, closed with a soft seal, because the floor moves here."
    } else {
        "Then some are filled, and those that move are closed with a soft seal."
    };
    (
        format!("[It lies|They lie] under a skin of concrete. We open [it|them] first. {then}"),
        "Nobody can see [it|them] yet. [Its|Their] width and state are known once [it is|they are] open, and the work can change. You will still see the line of a sealed joint.".into(),
    )
}

fn cracks(fate: Fate, items: &[Item]) -> (String, String) {
    let has = |fact: Fact| with(items, &fact) > 0;
    let how = match (has(Fact::CutOpen), has(Fact::Resin)) {
        (true, true) => {
            "We cut [its wide part|the wide ones] open, fill [it|them] with resin and coat over [it|them]."
        }
        (true, false) => {
            "We cut [it|them] open, fill [it|them] with resin and coat over [it|them]."
        }
        (false, true) => "We fill [it|them] with thin resin and coat over [it|them].",
        (false, false) => "The first coat soaks in and closes [it|them].",
    };
    let fine = if has(Fact::Primed) && (has(Fact::CutOpen) || has(Fact::Resin)) {
        " The finest parts are closed by the first coat."
    } else {
        ""
    };
    let (done, shows) = match fate {
        Fate::CrackRepaired => (
            format!("{how}{fine}"),
            "[It|They] showed no movement. If the concrete cracks again, a line will show.",
        ),
        Fate::CrackPrimed => (
            format!("{how}{fine}"),
            "A faint line can show in some light.",
        ),
        Fate::CrackMayReturn => (
            format!("{how}{fine}"),
            "Nobody knows whether [it still moves|they still move]. If so, [it|they] will come back through the coating.",
        ),
        Fate::CrackReturns => (
            format!("{how}{fine}"),
            "[It opens and closes. It|They open and close. They] will show again, however [it is|they are] treated.",
        ),
        Fate::CrackSealed if with(items, &Fact::Moves) == items.len() => (
            "[It opens and closes, so it stays|They open and close, so they stay] open through the coating, closed with a soft seal.".into(),
            SEALED_SHOWS,
        ),
        Fate::CrackSealed => (
            "[It stays|They stay] open through the coating, closed with a soft seal.".into(),
            SEALED_SHOWS,
        ),
        _ => {
            return left(
                items,
                "[It|They] will show through the coating and can grow.",
            );
        }
    };
    (done, shows.to_owned())
}

fn spots(items: &[Item]) -> (String, String) {
    let mut done = Vec::new();
    for (fact, text) in [
        (Fact::CutOut, "cut out and rebuilt with repair mortar"),
        (Fact::Skimmed, "skimmed level"),
        (Fact::WithJoint, "filled together with the joint beside [it|them]"),
    ] {
        let count = with(items, &fact);
        if count == 0 {
            continue;
        }
        let subject = match (count == items.len(), count) {
            (true, 1) => "It is".to_owned(),
            (true, _) => "They are".to_owned(),
            (false, 1) => "One is".to_owned(),
            (false, n) => format!("{} are", in_words(n)),
        };
        done.push(number(&format!("{subject} {text}."), count));
    }
    (
        done.join(" "),
        "Repair mortar takes color differently: under a clear or single-color coat the patches can show.".into(),
    )
}

/// A count at the beginning of a sentence.
fn in_words(n: usize) -> String {
    const WORDS: [&str; 12] = [
        "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven",
        "Twelve",
    ];
    let word = n.checked_sub(1).and_then(|i| WORDS.get(i));
    word.map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

fn surfaces(items: &[Item]) -> (String, String) {
    let kinds: BTreeSet<(BlemishKind, Option<TestResult>)> = items
        .iter()
        .flat_map(|i| &i.facts)
        .filter_map(|f| match f {
            Fact::Covered(kind, tested) => Some((*kind, *tested)),
            _ => None,
        })
        .collect();
    let mut done = Vec::new();
    let mut shows = Vec::new();
    for (kind, tested) in kinds {
        let (what, after) = surface(kind, tested);
        done.push(what);
        shows.extend(after);
    }
    (done.join(" "), shows.join(" "))
}

const fn surface(
    kind: BlemishKind,
    tested: Option<TestResult>,
) -> (&'static str, Option<&'static str>) {
    if matches!(tested, Some(TestResult::Lead | TestResult::Asbestos)) {
        return (
            "Lead or asbestos was found here. A licensed firm takes it off first; that is not our work.",
            None,
        );
    }
    match kind {
        BlemishKind::Oil => (
            "We clean out the oil before we grind.",
            Some("Oil deep in the concrete can come up again and loosen the coating."),
        ),
        BlemishKind::Sealer => ("Old sealer is ground off.", None),
        BlemishKind::CuringCompound => ("The old curing film on the concrete is ground off.", None),
        BlemishKind::Paint if tested.is_none() => (
            "Nobody grinds old paint before it is tested for lead. What is done with it is agreed after that.",
            None,
        ),
        BlemishKind::Adhesive if tested.is_none() => (
            "Nobody grinds old glue before it is tested for asbestos. What is done with it is agreed after that.",
            None,
        ),
        BlemishKind::Paint => ("Old paint, tested clear, is ground off.", None),
        BlemishKind::Adhesive => ("Old glue, tested clear, is ground off.", None),
        BlemishKind::Scaling => (
            "Flaking concrete is ground to a sound surface.",
            Some("More may come off than shows now, and the floor can lie lower there."),
        ),
        BlemishKind::Efflorescence => (
            "White salts are taken off.",
            Some(
                "Salts come with water from below. While water comes, they can come back and lift the coating.",
            ),
        ),
    }
}

fn uncoated(items: &[Item]) -> (String, String) {
    let names: BTreeSet<&str> = items
        .iter()
        .flat_map(|i| &i.facts)
        .filter_map(|f| match f {
            Fact::Called(name) => Some(name.as_str()),
            _ => None,
        })
        .collect();
    let more = names.len().saturating_sub(MOST_NAMES);
    let mut list: Vec<String> = names.into_iter().take(MOST_NAMES).map(str::to_owned).collect();
    if more > 0 {
        list.push(format!("and {more} more"));
    }
    let done = if list.is_empty() {
        "Bare concrete, as it is now.".to_owned()
    } else {
        format!("Stays as it is now: {}.", list.join(", "))
    };
    (done, "You will see where the coating stops.".into())
}
