//! Coats with what is broadcast into them, and the scraping of it.

use super::list::Facts;
use super::model::{Part, Work};
use super::time::{part, timed};
use crate::quantity::{KG_PER_LB, M2_PER_FT2};
use crate::shop::{Amount, Layer, System};
use crate::trade::{Key, Kind, Unit};

/// Workers who lay a coat (common practice; a maker's training sheet: two lay up to 500 ft² a batch).
const LAYING: usize = 2;
/// Goods thinner than this on a last coat are grit, thrown by who rolls it, kg/m²: 0.02 lb/ft²
/// (from memory; flakes go on at 0.025 and more).
const GRIT_BELOW: f64 = 0.02 * KG_PER_LB / M2_PER_FT2;

/// A work for every liquid of the system, with what is thrown into it, in the order of the layers. Where another liquid goes over what was
/// thrown, scraping it is a work of its own.
pub(super) fn coats(facts: &Facts<'_>) -> Vec<Work> {
    let Some((_, system)) = facts.system else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (place, layer) in system.layers.iter().enumerate() {
        if !liquid(layer) {
            continue;
        }
        let thrown = thrown(system, layer);
        all.extend(
            coat(facts, system, layer, &thrown).map(|work| Work { layer: Some(place), ..work }),
        );
        if scraped(system, place) {
            all.extend(scrape(facts, &thrown).map(|work| Work { layer: Some(place), ..work }));
        }
    }
    all
}

const fn liquid(layer: &Layer) -> bool {
    !matches!(layer.amount, Amount::Broadcast { .. })
}

/// Whether no liquid goes over this layer.
fn last(system: &System, place: usize) -> bool {
    !system.layers[place + 1..].iter().any(liquid)
}

/// What is thrown into a layer.
fn thrown<'a>(system: &'a System, layer: &Layer) -> Vec<&'a Layer> {
    let into = |other: &&Layer| other.into.as_deref() == Some(layer.name.as_str());
    system.layers.iter().filter(into).collect()
}

/// Whether what is thrown into a layer is scraped and vacuumed before the next liquid goes over it.
#[must_use]
pub fn scraped(system: &System, place: usize) -> bool {
    let layer = &system.layers[place];
    liquid(layer) && !last(system, place) && !thrown(system, layer).is_empty()
}

/// At which rate goods are thrown: grit into the last coat, or flakes and sand.
#[must_use]
pub fn throwing_key(system: &System, goods: &Layer) -> Key {
    let named = |layer: &Layer| goods.into.as_deref() == Some(layer.name.as_str());
    let into = system.layers.iter().position(named);
    let thin =
        matches!(&goods.amount, Amount::Broadcast { rate, .. } if rate.kg_per_m2() < GRIT_BELOW);
    if thin && into.is_some_and(|place| last(system, place)) { Key::Grit } else { Key::Broadcast }
}

/// Two lay the coat; a third throws beside them if there is one, otherwise the two stop for it.
fn coat(facts: &Facts<'_>, system: &System, layer: &Layer, thrown: &[&Layer]) -> Option<Work> {
    let coated = facts.takeoff.area.coated_m2;
    let kind = Kind::Coat;
    let mut name = layer.name.clone();
    let mut throwing = Vec::new();
    for goods in thrown {
        name = format!("{name}, {}", goods.name);
        throwing.push(part(
            facts.book(),
            (kind, throwing_key(system, goods)),
            "thrown",
            coated,
            Unit::Area,
        ));
    }
    let laid = part(facts.book(), (kind, Key::Rate), "laid", coated, Unit::Area);
    let mut work = timed(kind, name, Vec::new(), vec![laid], facts.book())?;
    let thrown_s: f64 = throwing.iter().map(Part::seconds).sum();
    let crew = facts.crew.max(1);
    let laying = crew.min(LAYING);
    let laid_s = work.unit_s / laid_by(crew);
    (work.hands, work.unit_s) = if crew > LAYING && thrown_s > 0.0 {
        (LAYING + 1, laid_s.max(thrown_s))
    } else {
        (laying, laid_s + thrown_s / laying as f64)
    };
    work.parts.extend(throwing);
    Some(work)
}

/// Share of the rate that a crew lays: the rate is that of two; fewer take longer in proportion.
pub(super) fn laid_by(crew: usize) -> f64 {
    crew.clamp(1, LAYING) as f64 / LAYING as f64
}

fn scrape(facts: &Facts<'_>, thrown: &[&Layer]) -> Option<Work> {
    let names: Vec<&str> = thrown.iter().map(|goods| goods.name.as_str()).collect();
    let kind = Kind::Scrape;
    let area = facts.takeoff.area.net_m2;
    let parts = vec![part(facts.book(), (kind, Key::Rate), "", area, Unit::Area)];
    let name = format!("scrape and vacuum {}", names.join(", "));
    timed(kind, name, Vec::new(), parts, facts.book())
}
