//! Coats with what is broadcast into them, and the scraping of it.

use super::list::Facts;
use super::model::{Part, Work};
use super::time::{part, timed};
use crate::quantity::{KG_PER_LB, M2_PER_FT2};
use crate::shop::{Amount, Layer};
use crate::trade::{Key, Kind, Unit};

/// Workers who lay a coat (common practice; a maker's training sheet: two lay up to 500 ft² a batch).
const LAYING: usize = 2;
/// Goods thinner than this on a last coat are grit, thrown by who rolls it, kg/m²: 0.02 lb/ft²
/// (from memory; flakes go on at 0.025 and more).
const GRIT_BELOW: f64 = 0.02 * KG_PER_LB / M2_PER_FT2;

/// A work for every liquid of the system with what is thrown into it, and one for scraping what
/// another liquid goes over, in the order of the layers.
pub(super) fn coats(facts: &Facts<'_>) -> Vec<Work> {
    let Some((_, system)) = facts.system else {
        return Vec::new();
    };
    let liquid = |layer: &Layer| !matches!(layer.amount, Amount::Broadcast { .. });
    let mut all = Vec::new();
    for (place, layer) in system.layers.iter().enumerate() {
        if !liquid(layer) {
            continue;
        }
        let last = !system.layers[place + 1..].iter().any(liquid);
        let thrown: Vec<&Layer> = system
            .layers
            .iter()
            .filter(|other| other.into.as_deref() == Some(layer.name.as_str()))
            .collect();
        all.extend(coat(facts, layer, &thrown, last).map(|work| Work {
            layer: Some(place),
            ..work
        }));
        if !last && !thrown.is_empty() {
            all.extend(scrape(facts, &thrown).map(|work| Work {
                layer: Some(place),
                ..work
            }));
        }
    }
    all
}

/// Two lay the coat; a third throws beside them if there is one, otherwise the two stop for it.
fn coat(facts: &Facts<'_>, layer: &Layer, thrown: &[&Layer], last: bool) -> Option<Work> {
    let coated = facts.takeoff.area.coated_m2;
    let kind = Kind::Coat;
    let mut name = layer.name.clone();
    let mut throwing = Vec::new();
    for goods in thrown {
        name = format!("{name}, {}", goods.name);
        let grit = last
            && matches!(&goods.amount, Amount::Broadcast { rate, .. } if rate.kg_per_m2() < GRIT_BELOW);
        let key = if grit { Key::Grit } else { Key::Broadcast };
        throwing.push(part(
            facts.book(),
            (kind, key),
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
    // The rate is that of two; fewer take longer in proportion.
    let laid_s = work.unit_s * LAYING as f64 / laying as f64;
    (work.hands, work.unit_s) = if crew > LAYING && thrown_s > 0.0 {
        (LAYING + 1, laid_s.max(thrown_s))
    } else {
        (laying, laid_s + thrown_s / laying as f64)
    };
    work.parts.extend(throwing);
    Some(work)
}

fn scrape(facts: &Facts<'_>, thrown: &[&Layer]) -> Option<Work> {
    let names: Vec<&str> = thrown.iter().map(|goods| goods.name.as_str()).collect();
    let kind = Kind::Scrape;
    let area = facts.takeoff.area.net_m2;
    let parts = vec![part(facts.book(), (kind, Key::Rate), "", area, Unit::Area)];
    let name = format!("scrape and vacuum {}", names.join(", "));
    timed(kind, name, Vec::new(), parts, facts.book())
}
