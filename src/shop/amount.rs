//! What a liquid covers.

use super::Amount;

/// Area times film that one liter makes: 1 L on 1 m² stands 1 mm high. In US units 1604.17 ft²·mil/gal.
const M2_MM_PER_L: f64 = 1.0;

impl Amount {
    /// Area one liter covers on the floor, loss taken off, m²/L; `None` for broadcast goods and for
    /// values that cover nothing. Loss divides: what never reaches the floor covers nothing.
    #[must_use]
    pub fn covers(&self) -> Option<f64> {
        let (theoretical, loss) = match self {
            Self::Coverage { coverage, loss, .. } => (coverage.m2_per_l(), loss),
            // In US units the same formula reads 1604.17 × solids ÷ mils, ft²/gal.
            Self::Film { dft, solids, loss, .. } => (solids.one() * M2_MM_PER_L / dft.mm(), loss),
            Self::Broadcast { .. } => return None,
        };
        let practical = theoretical * (1.0 - loss.one());
        (practical.is_finite() && practical > 0.0).then_some(practical)
    }

    /// One kit of a liquid, L.
    #[must_use]
    pub fn kit_l(&self) -> Option<f64> {
        match self {
            Self::Coverage { kit, .. } | Self::Film { kit, .. } => Some(kit.l()),
            Self::Broadcast { .. } => None,
        }
    }
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
        amount.covers().map_or(0.0, |c| c * L_PER_GAL / M2_PER_FT2)
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
        assert_eq!(amount.covers(), Some(70.0));
    }

    #[test]
    fn a_film_of_nothing_covers_nothing() {
        assert_eq!(film(0.0, 5.0, 0.0), 0.0);
        assert_eq!(film(1.0, 5.0, 1.0), 0.0);
    }
}
