//! Lengths as a tape shows them, on plans and in schedules.

use crate::quantity::Units;
use crate::quantity::write::{feet_inches, fixed, inches_fraction, small};

/// Dimensions in us units are rounded to the nearest 1/2 in.
const US_DENOMINATOR: u32 = 2;
/// Dimensions in metric units are rounded to the nearest 5 mm.
const METRIC_STEP_MM: f64 = 5.0;

/// A length as it is read off a tape: `12'-6 1/2"`, or millimeters without a unit.
#[must_use]
pub fn tape(m: f64, units: Units) -> String {
    match units {
        Units::Us => feet_inches(m, US_DENOMINATOR),
        Units::Metric => fixed((m * 1000.0 / METRIC_STEP_MM).round() * METRIC_STEP_MM, 0),
    }
}

/// A width and a depth, or two sides, in one unit: `1/4" × 1 1/2"`, `8.4 × 30 mm`.
#[must_use]
pub fn pair(a: f64, b: f64, units: Units) -> String {
    let (a, b) = (small(a, units), small(b, units));
    match units {
        Units::Us => format!("{a} × {b}"),
        Units::Metric => format!("{} × {b}", a.strip_suffix(" mm").unwrap_or(&a)),
    }
}

/// A side of a patch: inches under five feet, to the half inch; millimeters with their unit.
#[must_use]
pub fn side(m: f64, units: Units) -> String {
    match units {
        Units::Us if m < 1.6 => inches_fraction(m, US_DENOMINATOR),
        Units::Us => feet_inches(m, US_DENOMINATOR),
        Units::Metric => format!("{} mm", fixed(m * 1000.0, 0)),
    }
}

/// Two sides in one unit: `12" × 10"`, `300 × 250 mm`.
#[must_use]
pub fn sides(a: f64, b: f64, units: Units) -> String {
    let (a, b) = (side(a, units), side(b, units));
    format!("{} × {b}", a.strip_suffix(" mm").unwrap_or(&a))
}

/// What the sheet says about its dimensions.
#[must_use]
pub const fn rounding_note(units: Units) -> &'static str {
    match units {
        Units::Us => "Dimensions to the nearest 1/2\".",
        Units::Metric => "Dimensions in millimeters, to the nearest 5.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_of_chases() {
        assert_eq!(pair(0.009_525, 0.031_75, Units::Us), "3/8\" × 1 1/4\"");
        assert_eq!(pair(0.009_525, 0.031_75, Units::Metric), "9.5 × 31.8 mm");
    }

    #[test]
    fn sides_of_patches() {
        let inch = 0.0254;
        assert_eq!(sides(12.0 * inch, 10.0 * inch, Units::Us), "12\" × 10\"");
        assert_eq!(sides(72.0 * inch, 10.5 * inch, Units::Us), "6'-0\" × 10 1/2\"");
        assert_eq!(sides(0.305, 0.25, Units::Metric), "305 × 250 mm");
    }

    #[test]
    fn tape_readings() {
        let rows = [
            (3.81, Units::Us, "12'-6\""),
            (0.2032, Units::Us, "0'-8\""),
            (1.2319, Units::Us, "4'-0 1/2\""),
            (0.0127, Units::Us, "0'-0 1/2\""),
            (12.653, Units::Metric, "12655"),
            (0.0, Units::Metric, "0"),
        ];
        for (m, units, text) in rows {
            assert_eq!(tape(m, units), text);
        }
    }
}
