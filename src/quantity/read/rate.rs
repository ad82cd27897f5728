//! Everything but lengths and directions: amounts, rates, shares, temperatures, times, counts.

use super::scan::{Form, Rational, Scan, normalise};
use super::{ReadError, excerpt};
use crate::quantity::write;
use crate::quantity::{Coverage, Length, Mass, Ratio, Span, Spread, Temperature, Units, Volume};

/// A spelling of a unit and what one of it is worth in the SI unit, as an exact fraction.
pub(super) type UnitWord = (&'static str, i128, i128);

/// US gallon in liters: 231 cubic inches of 16.387064 mL (NIST Handbook 44 Appendix C).
const GALLON: (i128, i128) = (3_785_411_784, 1_000_000_000);
/// Pound in kilograms (NIST Handbook 44 Appendix C).
const POUND: (i128, i128) = (45_359_237, 100_000_000);

const VOLUMES: [UnitWord; 16] = [
    ("ml", 1, 1000),
    ("cl", 1, 100),
    ("l", 1, 1),
    ("litre", 1, 1),
    ("litres", 1, 1),
    ("liter", 1, 1),
    ("liters", 1, 1),
    ("gal", GALLON.0, GALLON.1),
    ("gallon", GALLON.0, GALLON.1),
    ("gallons", GALLON.0, GALLON.1),
    ("qt", GALLON.0, 4 * GALLON.1),
    ("pt", GALLON.0, 8 * GALLON.1),
    ("fl oz", GALLON.0, 128 * GALLON.1),
    ("ft3", 28_316_846_592, 1_000_000_000),
    ("in3", 16_387_064, 1_000_000_000),
    ("m3", 1000, 1),
];

const MASSES: [UnitWord; 6] = [
    ("lb", POUND.0, POUND.1),
    ("lbs", POUND.0, POUND.1),
    ("oz", POUND.0, 16 * POUND.1),
    ("kg", 1, 1),
    ("g", 1, 1000),
    ("t", 1000, 1),
];

const COVERAGES: [UnitWord; 4] = [
    ("ft2/gal", 92_903_040, 3_785_411_784),
    ("sq ft/gal", 92_903_040, 3_785_411_784),
    ("m2/l", 1, 1),
    ("m2/litre", 1, 1),
];

const SPREADS: [UnitWord; 5] = [
    ("lb/ft2", 45_359_237, 9_290_304),
    ("lb/sq ft", 45_359_237, 9_290_304),
    ("oz/ft2", 45_359_237, 16 * 9_290_304),
    ("kg/m2", 1, 1),
    ("g/m2", 1, 1000),
];

const SPANS: [UnitWord; 14] = [
    ("s", 1, 1),
    ("min", 60, 1),
    ("minute", 60, 1),
    ("minutes", 60, 1),
    ("h", 3600, 1),
    ("hr", 3600, 1),
    ("hour", 3600, 1),
    ("hours", 3600, 1),
    ("d", 86_400, 1),
    ("day", 86_400, 1),
    ("days", 86_400, 1),
    ("wk", 604_800, 1),
    ("week", 604_800, 1),
    ("weeks", 604_800, 1),
];

const FILMS: [UnitWord; 7] = [
    ("mil", 254, 10_000_000),
    ("mils", 254, 10_000_000),
    ("in", 254, 10_000),
    ("\"", 254, 10_000),
    ("mm", 1, 1000),
    ("um", 1, 1_000_000),
    ("µm", 1, 1_000_000),
];

/// A number and one of the units, not negative, as the SI value.
pub(super) fn amount(
    text: &str,
    units: &[UnitWord],
    what: &str,
    hint: &str,
) -> Result<f64, ReadError> {
    let normal = normalise(text);
    let normal = normal.replace('²', "2").replace('³', "3");
    let mut scan = Scan::new(&normal);
    if scan.rest().starts_with('-') {
        return Err(ReadError::new(format!("{what} can't be negative"), hint));
    }
    let number = scan.number().map_err(|problem| ReadError::new(problem, hint))?;
    let Some(number) = number else {
        return Err(ReadError::no_number(&scan, hint));
    };
    scan.blanks();
    let word = scan.rest().to_lowercase().replace(" / ", "/");
    let word = word.strip_suffix('.').unwrap_or(&word);
    if word.is_empty() {
        return Err(ReadError::new("it has no unit".into(), hint));
    }
    match units.iter().find(|(name, ..)| *name == word) {
        Some((_, num, den)) => Ok(number.value.times(*num, *den).value()),
        None => {
            Err(ReadError::new(format!("`{}` is no unit of {what}", excerpt(scan.rest())), hint))
        }
    }
}

/// Reads a volume: `600 mL`, `3 gal`, `20 fl oz`, `2 L`, `0.4 ft3`.
///
/// # Errors
///
/// The text is not a number with a unit of volume.
pub fn volume(text: &str) -> Result<Volume, ReadError> {
    let hint = "write it like 600 mL, 2 L, 3 gal, 20 fl oz or 0.4 ft3";
    amount(text, &VOLUMES, "a volume", hint).map(Volume::from_l)
}

/// Reads a weight: `50 lb`, `25 kg`.
///
/// # Errors
///
/// The text is not a number with a unit of weight.
pub fn mass(text: &str) -> Result<Mass, ReadError> {
    amount(text, &MASSES, "a weight", "write it like 50 lb or 25 kg").map(Mass::from_kg)
}

/// Reads a coverage: `160 ft2/gal`, `4 m2/L`.
///
/// # Errors
///
/// The text is not an area per volume.
pub fn coverage(text: &str) -> Result<Coverage, ReadError> {
    let hint = "write it like 160 ft2/gal or 4 m2/L";
    amount(text, &COVERAGES, "a coverage", hint).map(Coverage::from_m2_per_l)
}

/// Reads a spread rate of broadcast goods: `0.1 lb/ft2`, `0.5 kg/m2`.
///
/// # Errors
///
/// The text is not a weight per area.
pub fn spread(text: &str) -> Result<Spread, ReadError> {
    let hint = "write it like 0.1 lb/ft2 or 0.5 kg/m2";
    amount(text, &SPREADS, "a spread rate", hint).map(Spread::from_kg_per_m2)
}

/// Reads a time span: `15 min`, `8 h`, `2 d`.
///
/// # Errors
///
/// The text is not a number with a unit of time.
pub fn span(text: &str) -> Result<Span, ReadError> {
    let hint = "write it like 15 min, 8 h or 2 d";
    amount(text, &SPANS, "a time", hint).map(Span::from_s)
}

/// Reads the thickness of a film: `10 mil`, `0.25 mm`, `250 um`.
///
/// A mil is a thousandth of an inch; it is read nowhere else, because to many it means a millimeter.
///
/// # Errors
///
/// The text is not a number with a unit of film thickness.
pub fn film(text: &str) -> Result<Length, ReadError> {
    let hint = "write it like 10 mil or 0.25 mm";
    amount(text, &FILMS, "a film thickness", hint).map(Length::from_m)
}

/// A number with an optional sign, and what follows it.
fn signed(text: &str, hint: &str) -> Result<(Rational, String), ReadError> {
    let normal = normalise(text);
    let mut scan = Scan::new(&normal);
    let sign = if scan.eat('-') { -1 } else { 1 };
    let number = scan.number().map_err(|problem| ReadError::new(problem, hint))?;
    let Some(number) = number else {
        return Err(ReadError::no_number(&scan, hint));
    };
    Ok((number.value.times(sign, 1), scan.rest().trim().to_owned()))
}

/// Reads a temperature: `68 F`, `20 C`, `20 °C`; a bare number is Fahrenheit under `us`, Celsius
/// under `metric`.
///
/// # Errors
///
/// The text is not a number with `F` or `C`.
pub fn temperature(text: &str, units: Units) -> Result<Temperature, ReadError> {
    let hint = "write it like 68 F or 20 C";
    let (value, unit) = signed(text, hint)?;
    let unit = unit.strip_prefix('°').unwrap_or(&unit).trim();
    let fahrenheit = match unit {
        "F" | "f" => true,
        "C" | "c" => false,
        "" => units == Units::Us,
        other => {
            let problem = format!("`{}` is no unit of temperature", excerpt(other));
            return Err(ReadError::new(problem, hint));
        }
    };
    let celsius =
        if fahrenheit { value.plus(Rational { num: -32, den: 1 }).times(5, 9) } else { value };
    Ok(Temperature::from_c(celsius.value()))
}

/// Reads a percentage: `10%`, `12.5 %`. The sign is required, because `0.1` and `10` are both
/// written for the same thing.
///
/// # Errors
///
/// The text is not a number with a percent sign.
pub fn percent(text: &str) -> Result<Ratio, ReadError> {
    let hint = "write it like 10%";
    let (value, unit) = signed(text, hint)?;
    if unit.is_empty() {
        let problem = "it has no percent sign".into();
        let share = value.value();
        // A share of one, as a meter or a calculator shows it.
        let meant = if share > 0.0 && share < 1.0 {
            write::trimmed(share * 100.0, 4)
        } else {
            text.trim().to_owned()
        };
        return Err(ReadError::new(problem, format!("write {meant}%")));
    }
    if unit != "%" {
        let problem = format!("after the number comes `{}`", excerpt(&unit));
        return Err(ReadError::new(problem, hint));
    }
    Ok(Ratio::from_one(value.times(1, 100).value()))
}

/// Reads a number without a unit: `5`, `2.5`, `-1`.
///
/// # Errors
///
/// The text is not one number, or has something after it.
pub fn number(text: &str) -> Result<f64, ReadError> {
    let hint = "write a number like 2.5";
    let (value, rest) = signed(text, hint)?;
    if rest.is_empty() {
        return Ok(value.value());
    }
    let problem = format!("after the number comes `{}`", excerpt(&rest));
    Err(ReadError::new(problem, hint))
}

/// Reads a count: a whole number from 1 up.
///
/// # Errors
///
/// The text is not a whole number, is zero, or is beyond a million.
pub fn count(text: &str) -> Result<usize, ReadError> {
    /// No floor has a million corners.
    const MOST: i128 = 1_000_000;
    let hint = "write a whole number, counted from 1";
    let normal = normalise(text);
    let mut scan = Scan::new(&normal);
    let number = scan.number().map_err(|problem| ReadError::new(problem, hint))?;
    let Some(number) = number else {
        return Err(ReadError::no_number(&scan, hint));
    };
    if !scan.at_end() {
        return Err(ReadError::stopped(&scan, hint));
    }
    if number.form != Form::Whole {
        return Err(ReadError::new("it is not a whole number".into(), hint));
    }
    match usize::try_from(number.value.num) {
        Ok(0) => Err(ReadError::new("counting starts at 1".into(), hint)),
        Ok(value) if number.value.num <= MOST => Ok(value),
        _ => Err(ReadError::new("it is beyond belief".into(), hint)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{KG_PER_LB, L_PER_GAL, M2_PER_FT2};

    fn same(found: Result<f64, ReadError>, wanted: f64, text: &str) {
        let found = found.expect(text);
        assert!((found - wanted).abs() <= 1e-15 * wanted.abs(), "{text}: {found}");
    }

    #[test]
    fn amounts_and_rates() {
        same(volume("600 mL").map(Volume::l), 0.6, "600 mL");
        same(volume("3 gal").map(Volume::l), 3.0 * L_PER_GAL, "3 gal");
        same(volume("2 L").map(Volume::l), 2.0, "2 L");
        same(volume("2l").map(Volume::l), 2.0, "2l");
        // NIST Handbook 44 Appendix C: one fluid ounce is 29.5735295625 mL.
        same(volume("20 fl oz").map(Volume::l), 0.591_470_591_25, "20 fl oz");
        same(volume("0.4 ft3").map(Volume::l), 11.326_738_636_8, "0.4 ft3");
        same(volume("0.4 ft³").map(Volume::l), 11.326_738_636_8, "0.4 ft³");
        same(mass("50 lb").map(Mass::kg), 50.0 * KG_PER_LB, "50 lb");
        same(mass("25 kg").map(Mass::kg), 25.0, "25 kg");
        let each = 160.0 * M2_PER_FT2 / L_PER_GAL;
        same(coverage("160 ft2/gal").map(Coverage::m2_per_l), each, "160 ft2/gal");
        same(coverage("160 ft²/gal").map(Coverage::m2_per_l), each, "160 ft²/gal");
        same(coverage("4 m2/L").map(Coverage::m2_per_l), 4.0, "4 m2/L");
        let each = 0.1 * KG_PER_LB / M2_PER_FT2;
        same(spread("0.1 lb/ft2").map(Spread::kg_per_m2), each, "0.1 lb/ft2");
        same(span("15 min").map(Span::s), 900.0, "15 min");
        same(span("8 h").map(Span::s), 28_800.0, "8 h");
        same(span("1 1/2 d").map(Span::s), 129_600.0, "1 1/2 d");
        same(film("10 mil").map(Length::m), 0.000_254, "10 mil");
    }

    #[test]
    fn temperatures_and_shares() {
        same(temperature("68 F", Units::Metric).map(Temperature::c), 20.0, "68 F");
        same(temperature("68°F", Units::Metric).map(Temperature::c), 20.0, "68°F");
        same(temperature("20 C", Units::Us).map(Temperature::c), 20.0, "20 C");
        same(temperature("-40", Units::Us).map(Temperature::c), -40.0, "-40");
        same(temperature("-5.5", Units::Metric).map(Temperature::c), -5.5, "-5.5");
        same(percent("10%").map(Ratio::one), 0.1, "10%");
        same(percent("12.5 %").map(Ratio::one), 0.125, "12.5 %");
        same(number("2.5"), 2.5, "2.5");
        assert_eq!(count("3"), Ok(3));
    }

    #[test]
    fn refused() {
        let rows: [(&str, ReadError); 9] = [
            ("it has no percent sign; write 10%", percent("10").unwrap_err()),
            ("after the number comes `of 5`; write it like 10%", percent("10 of 5").unwrap_err()),
            (
                "it has no unit; write it like 600 mL, 2 L, 3 gal, 20 fl oz or 0.4 ft3",
                volume("600").unwrap_err(),
            ),
            (
                "a volume can't be negative; write it like 600 mL, 2 L, 3 gal, 20 fl oz or 0.4 ft3",
                volume("-6 L").unwrap_err(),
            ),
            (
                "`stone` is no unit of a weight; write it like 50 lb or 25 kg",
                mass("5 stone").unwrap_err(),
            ),
            (
                "`K` is no unit of temperature; write it like 68 F or 20 C",
                temperature("300 K", Units::Us).unwrap_err(),
            ),
            ("counting starts at 1; write a whole number, counted from 1", count("0").unwrap_err()),
            (
                "it is not a whole number; write a whole number, counted from 1",
                count("1.5").unwrap_err(),
            ),
            (
                "it starts with `.nan`, where a number should stand; write a number like 2.5",
                number(".nan").unwrap_err(),
            ),
        ];
        for (words, error) in rows {
            assert_eq!(words, format!("{}; {}", error.problem, error.hint));
        }
    }
}
