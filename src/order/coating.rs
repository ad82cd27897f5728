//! Layers of a coating system: liquids by coverage or film, broadcast goods by weight.

use super::need::{Need, Needs};
use super::words;
use crate::quantity::{L_PER_M3, Units, write};
use crate::shop::{Amount, Buying, Layer, Shop, System};
use crate::takeoff::Takeoff;
use crate::trade::Product;
use crate::trade::words::said;
use crate::work::scraped;

/// Adds every layer of the named system on the floor and its faces.
pub(crate) fn add(
    needs: &mut Needs,
    (name, system): (&str, &System),
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) {
    let kerf = &shop.termination;
    let kerf_l = takeoff.termination_m * kerf.width.m() * kerf.depth.m() * L_PER_M3;
    for (place, (product, layer)) in system.products(name).enumerate() {
        let kerf_l = if system.base_coat() == Some(place) { kerf_l } else { 0.0 };
        if let Some(need) = layer_need((product, system), layer, kerf_l, takeoff, shop, units) {
            needs.add(need);
        }
    }
}

/// What a layer takes, with what fills the kerf of terminations. Its coverage is better or worse all over the floor, so its deviation is a share
/// of the whole.
fn layer_need(
    (product, system): (Product, &System),
    layer: &Layer,
    kerf_l: f64,
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) -> Option<Need> {
    let coated = takeoff.area.coated_m2;
    let on = write::area(coated, units);
    let mut reclaimed = 0.0;
    let (amount, sd, unit, package, sentence) = match &layer.amount {
        Amount::Broadcast { rate, waste, reclaimed: share, package } => {
            let thrown = coated * rate.kg_per_m2();
            let kg = thrown * (1.0 + waste.one());
            let mut sentence =
                format!("{} on {on}: {}", said(&layer.name), write::mass(thrown, units));
            if waste.one() > 0.0 {
                sentence += &format!(
                    "; with {} waste {}",
                    write::percent(waste.one()),
                    write::mass(kg, units)
                );
            }
            if is_scraped(system, layer) && share.one() > 0.0 {
                reclaimed = thrown * share.one();
                sentence += &format!(
                    "; {} of what is thrown, {}, is scraped off and can be thrown again, but all of it must be on site first",
                    write::percent(share.one()),
                    write::mass(reclaimed, units)
                );
            }
            let sd = shop.coating.rate_sd.one();
            (kg, sd, "kg", package.kg(), sentence + ".")
        }
        liquid => {
            let practical = liquid.covers()?;
            let litres = coated / practical + kerf_l;
            let mut sentence = format!(
                "{} on {on} at {} after loss: {}.",
                said(&layer.name),
                words::coverage(practical, units),
                write::volume(coated / practical, units)
            );
            if kerf_l > 0.0 {
                sentence += &format!(
                    " The kerf of {} of termination, {} by {}, takes {} more.",
                    write::run(takeoff.termination_m, units),
                    write::small(shop.termination.width.m(), units),
                    write::small(shop.termination.depth.m(), units),
                    write::volume(kerf_l, units)
                );
            }
            let sd = shop.coating.coverage_sd.one();
            (litres, sd, "L", liquid.kit_l()?, sentence)
        }
    };
    Some(Need {
        product,
        amount,
        sd: amount * sd,
        varies: match unit {
            "kg" => "What is broadcast varies with the hand",
            _ => "Coverage varies with the profile, the concrete and the hand that spreads it",
        },
        unit,
        package,
        one_lot: layer.one_lot,
        buying: Buying {
            charged: layer.charged.unwrap_or(shop.coating.buying.charged),
            ..shop.coating.buying
        },
        reclaimed,
        how: vec![sentence],
    })
}

/// Whether what is thrown is scraped before another liquid goes over it.
fn is_scraped(system: &System, goods: &Layer) -> bool {
    let named = |layer: &Layer| goods.into.as_deref() == Some(layer.name.as_str());
    let into = system.layers.iter().position(named);
    into.is_some_and(|place| scraped(system, place))
}
