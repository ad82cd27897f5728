//! Dew point, and how many moisture tests a floor wants.

use super::Conditions;
use super::told::Told;
use crate::quantity::{M2_PER_FT2, write};
use crate::sketch::Tests;
use crate::slab::Slab;

/// Magnus constant (Alduchov and Eskridge, J. Appl. Meteor. 35, 1996, page 601).
const MAGNUS_A: f64 = 17.625;
/// Magnus constant, °C (Alduchov and Eskridge, as above).
const MAGNUS_B: f64 = 243.04;
/// Tests wanted for the first 1000 ft² (ASTM F2170).
const FIRST_TESTS: usize = 3;
/// Area of one further test, m²: 1000 ft² (ASTM F2170).
const TEST_AREA: f64 = 1000.0 * M2_PER_FT2;

/// Dew point in °C of air at `air_c` with relative humidity `rh` (share of one), by Magnus with
/// the constants of Alduchov and Eskridge 1996, good to 0.35 K between −40 and 60 °C. `None` for
/// air without moisture.
#[must_use]
pub fn dew_point_c(air_c: f64, rh: f64) -> Option<f64> {
    let gamma = rh.ln() + MAGNUS_A * air_c / (MAGNUS_B + air_c);
    let dew = MAGNUS_B * gamma / (MAGNUS_A - gamma);
    dew.is_finite().then_some(dew)
}

/// Moisture tests wanted on a floor of `area_m2`: 3 for the first 1000 ft² and one for each
/// further 1000 ft² or part (ASTM F2170).
#[must_use]
pub fn moisture_tests_wanted(area_m2: f64) -> usize {
    let further = (area_m2 / TEST_AREA - 1.0 - 1e-9).ceil().max(0.0);
    FIRST_TESTS + further as usize
}

/// Air, slab and moisture, from the tests of the sketch.
pub(crate) fn conditions(slab: &Slab, tests: &Tests, told: &mut Told) -> Conditions {
    let moisture_tests_wanted = moisture_tests_wanted(slab.areas.net);
    let rh_tests = slab.moisture.iter().filter(|t| t.rh.is_some()).count();
    let mver_tests = slab.moisture.iter().filter(|t| t.mver.is_some()).count();
    told.line(|say| {
        let each = write::trimmed(TEST_AREA / M2_PER_FT2, 0);
        let net = say.area(slab.areas.net);
        format!(
            "Moisture tests wanted: {FIRST_TESTS} for the first {each} ft² and one for each further {each} ft² or part, of one kind; {net} of net floor want {moisture_tests_wanted}; taken {rh_tests} of ASTM F2170 and {mver_tests} of ASTM F1869, of which the greater counts."
        )
    });
    let air = tests.air_temperature.as_ref().map(|t| t.value.c());
    let rh = tests.air_humidity.as_ref().map(|h| h.value.one());
    let dew_point_c = air.zip(rh).and_then(|(air, rh)| dew_point_c(air, rh));
    if let Some(dew_c) = dew_point_c {
        told.line(|say| {
            let dew = say.temperature(dew_c);
            format!("Dew point of the air by Magnus ({MAGNUS_A}, {MAGNUS_B} °C) = {dew}.")
        });
    }
    let slab_c = tests.slab_temperature.as_ref().map(|t| t.value.c());
    let spread_c = slab_c.zip(dew_point_c).map(|(slab_c, dew_c)| {
        let spread_c = slab_c - dew_c;
        told.line(|say| {
            let (slab, dew) = (say.temperature(slab_c), say.temperature(dew_c));
            format!("Slab less dew point = {slab} − {dew} = {}.", say.difference(spread_c))
        });
        spread_c
    });
    Conditions { dew_point_c, spread_c, moisture_tests_wanted, rh_tests, mver_tests }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fahrenheit(f: f64) -> f64 {
        (f - 32.0) / 1.8
    }

    /// Vectors V-D1 to V-D7: Alduchov and Eskridge 1996; V-D5 the 5 °F rule of UFC 3-190-06.
    #[test]
    fn dew_points_of_the_vectors() {
        let f = fahrenheit;
        let rows = [
            ("V-D1", f(70.0), 0.50, f(50.5), 0.06),
            ("V-D2", f(70.0), 0.65, f(57.7), 0.06),
            ("V-D3", 25.0, 0.60, 16.70, 0.02),
            ("V-D4", 16.0, 0.71, 10.74, 0.02),
            ("V-D5", f(70.0), 0.65, f(62.0) - 4.30 / 1.8, 0.03),
            ("V-D6", f(80.0), 0.50, f(59.7), 0.06),
            ("V-D7", 21.3, 1.0, 21.3, 1e-6),
        ];
        for (name, air, rh, expected, tolerance) in rows {
            let dew = dew_point_c(air, rh).expect(name);
            assert!((dew - expected).abs() <= tolerance, "{name}: {dew} for {expected}");
        }
        assert_eq!(dew_point_c(20.0, 0.0), None);
    }

    /// Vector V-T1: ASTM F2170's count.
    #[test]
    fn test_counts_of_the_vectors() {
        let rows = [(400, 3), (1000, 3), (1001, 4), (2000, 4), (2500, 5), (5000, 7), (10000, 12)];
        for (ft2, count) in rows {
            assert_eq!(moisture_tests_wanted(f64::from(ft2) * M2_PER_FT2), count, "{ft2} ft2");
        }
    }
}
