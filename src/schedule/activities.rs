//! From the list of works to what is scheduled: who it takes, and what it waits for.

use super::network::{Activity, Effort, Late, Link, Part};
use super::window::between;
use crate::shop::{Shop, System};
use crate::trade::{Key, Kind, Machine};
use crate::work::{BEFORE, Work};

/// Wait for the next coat where the shop book has no window: until the next morning (common
/// practice: one coat a day).
const NO_WINDOW_S: f64 = 14.0 * 3600.0;
/// Wait for sealant where the shop book has no cure (common practice: a day).
const NO_CURE_S: f64 = 24.0 * 3600.0;
/// Layers that a system may have for its works to be told apart.
const LAYERS: usize = 64;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

/// The activities of a list of works, in its order; `slab_c` is the temperature of the slab when
/// each of them ends, °C.
pub(super) fn activities(
    works: &[Work],
    slab_c: &[f64],
    shop: &Shop,
    system: Option<&System>,
) -> Vec<Activity> {
    let first_coat = works.iter().position(|w| w.kind == Kind::Coat);
    let links = |place: usize| -> Vec<Link> {
        let mut links: Vec<Link> = works[..place]
            .iter()
            .enumerate()
            .filter(|_| works[place].kind != Kind::Coat || Some(place) == first_coat)
            .flat_map(|(before, under)| {
                let rules = BEFORE.iter();
                rules.filter(move |(a, b, _)| *a == under.kind && *b == works[place].kind).map(
                    move |(_, _, wait)| {
                        let (opens, closes) = wait
                            .map_or((0.0, None), |wait| shop.days.waits.at(wait, slab_c[before]));
                        link(before, opens, closes)
                    },
                )
            })
            .collect();
        if let Some(system) = system {
            links.extend(coat_links(works, slab_c, place, system));
        }
        if links.is_empty() && works[place].kind == Kind::RodAndSealant {
            // No coat: sealant comes when everything else is done.
            links.extend((0..place).map(|before| link(before, 0.0, None)));
        }
        links
    };
    works
        .iter()
        .enumerate()
        .map(|(place, work)| Activity {
            key: number(work.kind) * LAYERS + work.layer.unwrap_or(0),
            effort: effort(work),
            links: links(place),
            beside: false,
            late: late(work, works, shop),
        })
        .collect()
}

fn link(before: usize, opens_s: f64, closes_s: Option<f64>) -> Link {
    Link { before, opens_s: opens_s.ceil() as i64, closes_s: closes_s.map(|s| s.floor() as i64) }
}

fn effort(work: &Work) -> Effort {
    Effort {
        work_s: work.unit_s.ceil() as i64,
        setup_s: work.fixed_s.ceil() as i64,
        least_s: work.least_s.ceil() as i64,
        hands: work.hands,
        machines: work.machine.iter().map(|m| *m as usize).collect(),
        most_units: work.most,
        cut: work.cut,
        dry: work.kind == Kind::Coat,
    }
}

/// What a coat waits for on the one below and on its scraping; scraping on its coat; sealant on the
/// last coat.
fn coat_links(works: &[Work], slab_c: &[f64], place: usize, system: &System) -> Vec<Link> {
    let coat_before =
        |from: usize| works[..from].iter().rposition(|other| other.kind == Kind::Coat);
    let work = &works[place];
    let Some(under) = coat_before(place) else {
        return Vec::new();
    };
    let window = |under: usize| {
        let layer = works[under].layer.and_then(|l| system.layers.get(l))?;
        between(&layer.recoat, slab_c[under])
    };
    match work.kind {
        Kind::Coat => {
            let (opens, closes) = window(under).unzip();
            let opens = opens.map_or(NO_WINDOW_S, |h| h * S_PER_H);
            let mut links = vec![link(under, opens, closes.map(|h| h * S_PER_H))];
            let scraped = (under + 1..place).find(|i| works[*i].kind == Kind::Scrape);
            links.extend(scraped.map(|before| link(before, 0.0, None)));
            links
        }
        // The coat holds a foot when the next could go on.
        Kind::Scrape => {
            let opens = window(under).map_or(NO_WINDOW_S, |(h, _)| h * S_PER_H);
            vec![link(under, opens, None)]
        }
        Kind::RodAndSealant => {
            let foot = between(&system.cure, slab_c[under]);
            let opens = foot.map_or(NO_CURE_S, |(h, _)| h * S_PER_H);
            vec![link(under, opens, None)]
        }
        _ => Vec::new(),
    }
}

/// A coat that comes too late goes on one that was abraded; filler that has gone hard is ground
/// flush with a hand grinder, at the rate of an edge.
fn late(work: &Work, works: &[Work], shop: &Shop) -> Option<Late> {
    let book = &shop.days.works;
    match work.kind {
        Kind::Coat if works.iter().any(|w| w.kind == Kind::Coat && w.layer < work.layer) => {
            let area: f64 = work.parts.first().map_or(0.0, |part| part.quantity);
            let rate = book.get(Kind::Abrade, Key::Rate);
            Some(Late {
                effort: Effort {
                    work_s: (area / rate * S_PER_H).ceil() as i64,
                    setup_s: book.get(Kind::Abrade, Key::SetUp).ceil() as i64,
                    hands: 1,
                    machines: vec![Machine::FloorGrinder as usize],
                    most_units: usize::MAX,
                    cut: true,
                    ..Effort::default()
                },
                instead: false,
            })
        }
        Kind::Shave => {
            let run: f64 = work.parts.iter().map(|part| part.quantity).sum();
            let rate = book.get(Kind::GrindEdges, Key::Rate);
            Some(Late {
                effort: Effort {
                    work_s: (run / rate * S_PER_H).ceil() as i64,
                    hands: 1,
                    machines: vec![Machine::HandGrinder as usize],
                    most_units: usize::MAX,
                    cut: true,
                    ..Effort::default()
                },
                instead: true,
            })
        }
        _ => None,
    }
}

/// What a run of a work is, and what it is called.
pub(super) fn named(work: &Work, part: Part) -> (Kind, String) {
    match (part, work.kind) {
        (Part::First, _) => (Kind::Abrade, format!("abrade before {}", work.name)),
        (Part::Instead, kind) => (kind, "grind filler flush".into()),
        (Part::Work, kind) => (kind, work.name.clone()),
    }
}

/// Kinds of work that were added later.
const LATER: [Kind; 1] = [Kind::Inject];

/// The number by which orders are drawn for a kind. Kinds that were added later have those behind all others: the plan of a floor that
/// has none of them stays as it was.
fn number(kind: Kind) -> usize {
    let later = LATER.iter().position(|known| *known == kind);
    let before = LATER.iter().filter(|known| **known < kind).count();
    later.map_or(kind as usize - before, |place| Kind::ALL.len() - LATER.len() + place)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_number_of_its_own_and_keeps_it() {
        let mut numbers: Vec<usize> = Kind::all().map(number).collect();
        assert_eq!((number(Kind::SetUp), number(Kind::Patch), number(Kind::PackUp)), (0, 4, 26));
        numbers.sort_unstable();
        assert!(numbers.into_iter().eq(0..Kind::ALL.len()));
    }
}
