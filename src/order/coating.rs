//! Layers of a coating system: liquids by coverage or film, broadcast goods by weight.

use super::need::{Need, Needs};
use super::words;
use crate::quantity::{Units, write};
use crate::shop::{Amount, Buying, Layer, Shop, System};
use crate::takeoff::Takeoff;
use crate::work::scraped;

/// Adds every layer of the named system on the floor and its faces.
pub(crate) fn add(
    needs: &mut Needs,
    (name, system): (&str, &System),
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) {
    for layer in &system.layers {
        if let Some(need) = layer_need((name, system), layer, takeoff, shop, units) {
            needs.add(need);
        }
    }
}

/// What a layer takes. Its coverage is better or worse all over the floor, so its deviation is a share
/// of the whole.
fn layer_need(
    (name, system): (&str, &System),
    layer: &Layer,
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) -> Option<Need> {
    let coated = takeoff.area.coated_m2;
    let on = write::area(coated, units);
    let mut reclaimed = 0.0;
    let (amount, sd, unit, package, sentence) = match &layer.amount {
        Amount::Broadcast {
            rate,
            waste,
            reclaimed: share,
            package,
        } => {
            let thrown = coated * rate.kg_per_m2();
            let kg = thrown * (1.0 + waste.one());
            let mut sentence = format!("{} on {on}: {}", layer.name, write::mass(thrown, units));
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
            let litres = coated / practical;
            let sentence = format!(
                "{} on {on} at {} after loss: {}.",
                layer.name,
                words::coverage(practical, units),
                write::volume(litres, units)
            );
            let sd = shop.coating.coverage_sd.one();
            (litres, sd, "L", liquid.kit_l()?, sentence)
        }
    };
    Some(Need {
        product: format!("{name}: {}", layer.name),
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
