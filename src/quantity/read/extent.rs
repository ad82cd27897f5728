//! How large a floor is thought to be: an area, or a width and a height.

use super::rate::{UnitWord, amount, number};
use super::{Bare, ReadError, length};
use crate::quantity::{Length, M2_PER_FT2, Units};

/// Square foot in square meters, exact: 0.3048² = 9290304 / 100000000.
const SQUARE_FOOT: (i128, i128) = (9_290_304, 100_000_000);

const AREAS: [UnitWord; 10] = [
    ("ft2", SQUARE_FOOT.0, SQUARE_FOOT.1),
    ("sq ft", SQUARE_FOOT.0, SQUARE_FOOT.1),
    ("sqft", SQUARE_FOOT.0, SQUARE_FOOT.1),
    ("sf", SQUARE_FOOT.0, SQUARE_FOOT.1),
    ("square feet", SQUARE_FOOT.0, SQUARE_FOOT.1),
    ("m2", 1, 1),
    ("sq m", 1, 1),
    ("sqm", 1, 1),
    ("square meters", 1, 1),
    ("square metres", 1, 1),
];

/// Reads an area in m²: `500 ft2`, `46 m2`, `500 sq ft`; a bare number is square feet or square meters.
///
/// # Errors
///
/// The text is not one positive number with a unit of area.
pub fn area(text: &str, units: Units) -> Result<f64, ReadError> {
    let hint = "write it like 500 ft2 or 46 m2";
    let bare = match units {
        Units::Us => M2_PER_FT2,
        Units::Metric => 1.0,
    };
    let found =
        number(text).map(|n| n * bare).or_else(|_| amount(text, &AREAS, "an area", hint))?;
    if found > 0.0 {
        Ok(found)
    } else {
        Err(ReadError::new("a floor has an area above zero".into(), hint))
    }
}

/// Reads a width and a height: `24' x 22'`, `7.3 m by 6.8 m`; bare numbers are feet or meters.
///
/// # Errors
///
/// The text is not two positive lengths with `x`, `×` or `by` between them.
pub fn size(text: &str, units: Units) -> Result<(Length, Length), ReadError> {
    let hint = "write it like 24' x 22' or 7.3 m x 6.8 m";
    let lower = text.to_lowercase().replace('×', "x").replace(" by ", " x ");
    let Some((width, height)) = lower.split_once('x') else {
        return Err(ReadError::new("it is not two lengths with an x between".into(), hint));
    };
    let side = |text: &str| {
        let side = length(text.trim(), Bare::Plan(units))?;
        if side.m() > 0.0 {
            Ok(side)
        } else {
            Err(ReadError::new("a floor has sides above zero".into(), hint))
        }
    };
    Ok((side(width)?, side(height)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_as_people_write_them() {
        let rows = [
            ("500 ft2", Units::Us, Some(500.0 * M2_PER_FT2)),
            ("500 ft²", Units::Metric, Some(500.0 * M2_PER_FT2)),
            ("500 sq ft", Units::Us, Some(500.0 * M2_PER_FT2)),
            ("500", Units::Us, Some(500.0 * M2_PER_FT2)),
            ("46", Units::Metric, Some(46.0)),
            ("46 m2", Units::Us, Some(46.0)),
            ("0 ft2", Units::Us, None),
            ("-5", Units::Us, None),
            ("500 acres", Units::Us, None),
            ("big", Units::Us, None),
            ("", Units::Us, None),
        ];
        for (text, units, wanted) in rows {
            let found = area(text, units).ok();
            let near = match (found, wanted) {
                (Some(a), Some(b)) => (a - b).abs() < 1e-9,
                (None, None) => true,
                _ => false,
            };
            assert!(near, "{text}: {found:?}");
        }
    }

    #[test]
    fn sizes_as_people_write_them() {
        let ft = 0.3048;
        let rows = [
            ("24' x 22'", Units::Us, Some((24.0 * ft, 22.0 * ft))),
            ("24x22", Units::Us, Some((24.0 * ft, 22.0 * ft))),
            ("24' 6\" × 22'", Units::Metric, Some((24.5 * ft, 22.0 * ft))),
            ("7.3 m by 6.8 m", Units::Us, Some((7.3, 6.8))),
            ("24'", Units::Us, None),
            ("24' x", Units::Us, None),
            ("0 x 5", Units::Us, None),
            ("a x b", Units::Us, None),
        ];
        for (text, units, wanted) in rows {
            let found = size(text, units).ok().map(|(w, h)| (w.m(), h.m()));
            let near = match (found, wanted) {
                (Some(a), Some(b)) => (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9,
                (None, None) => true,
                _ => false,
            };
            assert!(near, "{text}: {found:?}");
        }
    }
}
