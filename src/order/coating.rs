//! Layers of a coating system: liquids by coverage or film, broadcast goods by weight.

use super::need::{Need, Needs};
use super::words;
use crate::quantity::{Units, write};
use crate::shop::{Amount, Layer, Shop, System};
use crate::takeoff::Takeoff;

/// Adds every layer of the named system on the floor and its faces.
pub(crate) fn add(
    needs: &mut Needs,
    (name, system): (&str, &System),
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) {
    for layer in &system.layers {
        if let Some(need) = layer_need(name, layer, takeoff, shop, units) {
            needs.add(need);
        }
    }
}

/// What a layer takes. Its coverage is better or worse all over the floor, so its deviation is a share
/// of the whole.
fn layer_need(
    system: &str,
    layer: &Layer,
    takeoff: &Takeoff,
    shop: &Shop,
    units: Units,
) -> Option<Need> {
    let coated = takeoff.area.coated_m2;
    let on = write::area(coated, units);
    let (amount, sd, unit, package, sentence) = match &layer.amount {
        Amount::Broadcast { rate, package } => {
            let kg = coated * rate.kg_per_m2();
            let sentence = format!("{} on {on}: {}.", layer.name, write::mass(kg, units));
            let sd = shop.coating.rate_sd.one();
            (kg, sd, "kg", package.kg(), sentence)
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
        product: format!("{system}: {}", layer.name),
        amount,
        sd: amount * sd,
        varies: match unit {
            "kg" => "What is broadcast varies with the hand",
            _ => "Coverage varies with the profile, the concrete and the hand that spreads it",
        },
        unit,
        package,
        one_lot: layer.one_lot,
        how: vec![sentence],
    })
}
