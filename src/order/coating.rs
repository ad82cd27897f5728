//! Layers of a coating system: liquids by coverage or film, broadcast goods by weight.

use super::need::{Need, Needs};
use super::words;
use crate::quantity::{Units, write};
use crate::shop::{Amount, Layer, Shop, System};
use crate::takeoff::Takeoff;

/// Litres in one cubic meter.
const L_PER_M3: f64 = 1000.0;
/// Area times film that one litre makes: 1 L on 1 m² stands 1 mm high. In US units 1604.17 ft²·mil/gal.
const M2_MM_PER_L: f64 = 1.0;

/// Area one litre covers on the floor, loss taken off, m²/L; `None` for broadcast goods and for
/// values that cover nothing. Loss divides: what never reaches the floor covers nothing.
#[must_use]
pub(crate) fn practical_coverage(amount: &Amount) -> Option<f64> {
    let (theoretical, loss) = match amount {
        Amount::Coverage { coverage, loss, .. } => (coverage.m2_per_l(), loss),
        // In US units the same formula reads 1604.17 × solids ÷ mils, ft²/gal.
        Amount::Film {
            dft, solids, loss, ..
        } => (solids.one() * M2_MM_PER_L / dft.mm(), loss),
        Amount::Broadcast { .. } => return None,
    };
    let practical = theoretical * (1.0 - loss.one());
    (practical.is_finite() && practical > 0.0).then_some(practical)
}

/// One kit of a liquid, L.
#[must_use]
pub(crate) fn kit_l(amount: &Amount) -> Option<f64> {
    match amount {
        Amount::Coverage { kit, .. } | Amount::Film { kit, .. } => Some(kit.l()),
        Amount::Broadcast { .. } => None,
    }
}

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
        let kerf_l = if system.base_coat() == Some(place) {
            kerf_l
        } else {
            0.0
        };
        if let Some(need) = layer_need(product, layer, kerf_l, takeoff, shop, units) {
            needs.add(need);
        }
    }
}

/// What a layer takes, with what fills the kerf of terminations. Its coverage is better or worse all over the floor, so its deviation is a share
/// of the whole.
fn layer_need(
    product: String,
    layer: &Layer,
    kerf_l: f64,
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
            let practical = practical_coverage(liquid)?;
            let litres = coated / practical + kerf_l;
            let mut sentence = format!(
                "{} on {on} at {} after loss: {}.",
                layer.name,
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
            (litres, sd, "L", kit_l(liquid)?, sentence)
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
        how: vec![sentence],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Coverage, L_PER_GAL, Length, M2_PER_FT2, Ratio, Volume};

    /// ft²/gal of a film of so many mils.
    fn film(solids: f64, mils: f64, loss: f64) -> f64 {
        let amount = Amount::Film {
            dft: Length::from_in(mils / 1000.0),
            solids: Ratio::from_one(solids),
            loss: Ratio::from_one(loss),
            kit: Volume::from_l(3.0 * L_PER_GAL),
        };
        practical_coverage(&amount).map_or(0.0, |c| c * L_PER_GAL / M2_PER_FT2)
    }

    /// Coatings handbook (1604 × volume solids ÷ dry film); coatings glossary for the loss.
    #[test]
    fn coverage_of_a_film() {
        for (name, solids, mils, loss, want, tolerance) in [
            ("V-Q1", 0.65, 5.0, 0.0, 208.52, 0.1),
            ("V-Q2", 0.35, 2.0, 0.0, 281.0, 0.5),
            ("V-Q3 first", 0.55, 8.0, 0.0, 110.0, 0.5),
            ("V-Q3 second", 0.80, 5.0, 0.0, 257.0, 0.5),
            ("V-Q3 third", 0.45, 3.0, 0.0, 241.0, 0.5),
            // One gallon at 52 % solids, 30 % of which reaches the surface, at 1.5 mil.
            ("V-Q7", 0.52, 1.5, 0.7, 166.8, 0.5),
            // 160 ft²/gal for 100 % solids at 10 mil.
            ("facts 7", 1.0, 10.0, 0.0, 160.0, 0.5),
        ] {
            let got = film(solids, mils, loss);
            assert!((got - want).abs() <= tolerance, "{name}: {got}");
        }
    }

    #[test]
    fn loss_takes_off_coverage() {
        // V-Q6 (coatings glossary): 100 ft²/gal at 30 % loss cover 70.
        let amount = Amount::Coverage {
            coverage: Coverage::from_m2_per_l(100.0),
            loss: Ratio::from_one(0.3),
            kit: Volume::from_l(1.0),
        };
        assert_eq!(practical_coverage(&amount), Some(70.0));
    }

    #[test]
    fn a_film_of_nothing_covers_nothing() {
        assert_eq!(film(0.0, 5.0, 0.0), 0.0);
        assert_eq!(film(1.0, 5.0, 1.0), 0.0);
    }
}
