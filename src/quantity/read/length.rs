//! Lengths as a tape and a pencil give them.

use super::scan::{Form, Number, Rational, Scan, normalise};
use super::{ReadError, excerpt};
use crate::quantity::{Length, Units};

/// What a bare number stands for, and which forms an error offers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// On the plan: feet under `us`, meters under `metric`.
    Plan(Units),
    /// A width, depth, step or thickness: inches under `us`, millimeters under `metric`.
    Small(Units),
}

impl Bare {
    /// Forms that are read, to offer in an error.
    pub(super) const fn examples(self) -> &'static str {
        match self {
            Self::Plan(Units::Us) => "write it like 24' 6\" or 24.5 (feet) or 7.3 m",
            Self::Plan(Units::Metric) => "write it like 7.3 (metres), 730 cm or 24' 6\"",
            Self::Small(Units::Us) => "write it like 1/4 or 0.25 (inches), 1/4\" or 6 mm",
            Self::Small(Units::Metric) => "write it like 6 (millimetres), 6 mm or 1/4\"",
        }
    }
}

/// Meters in one inch as a fraction: 127/5000.
const INCH: (i128, i128) = (127, 5000);

/// Unit words of a length, with what one of them is worth.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Unit {
    Foot,
    Inch,
    /// This many of a thousand to the meter.
    Metric(i128),
}

fn unit_of(word: &str) -> Option<Unit> {
    const WORDS: [(&str, Unit); 17] = [
        ("'", Unit::Foot),
        ("ft", Unit::Foot),
        ("feet", Unit::Foot),
        ("foot", Unit::Foot),
        ("\"", Unit::Inch),
        ("in", Unit::Inch),
        ("inch", Unit::Inch),
        ("inches", Unit::Inch),
        ("mm", Unit::Metric(1)),
        ("millimeters", Unit::Metric(1)),
        ("millimetres", Unit::Metric(1)),
        ("cm", Unit::Metric(10)),
        ("centimeters", Unit::Metric(10)),
        ("centimetres", Unit::Metric(10)),
        ("m", Unit::Metric(1000)),
        ("meters", Unit::Metric(1000)),
        ("metres", Unit::Metric(1000)),
    ];
    WORDS.iter().find(|(name, _)| name.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
}

/// Reads a length: every form of the tables in `docs/sketch.md`, negative ones too.
///
/// The arithmetic is exact until one last division, so `24' 6 1/2"` is the `f64` nearest to
/// 7.4803 m.
///
/// # Errors
///
/// Says what was read, where it stopped making sense and a form that would have worked.
///
/// ```
/// use slabwalk::quantity::{Units, read::{Bare, length}};
/// let wall = length("24'-6½\"", Bare::Plan(Units::Us)).unwrap();
/// assert_eq!(wall.m(), 7.4803);
/// assert_eq!(length("1/4", Bare::Small(Units::Us)).unwrap().m(), 0.00635);
/// assert!(length("12-6", Bare::Plan(Units::Us)).is_err());
/// ```
pub fn length(text: &str, bare: Bare) -> Result<Length, ReadError> {
    let normal = normalise(text);
    let mut scan = Scan::new(&normal);
    let negative = scan.eat('-');
    scan.blanks();
    let metres = unsigned(&mut scan, bare, negative)?;
    let sign = if negative { -1 } else { 1 };
    Ok(Length::from_m(metres.times(sign, 1).value()))
}

fn unsigned(scan: &mut Scan, bare: Bare, negative: bool) -> Result<Rational, ReadError> {
    let error = |problem: String| ReadError::new(problem, bare.examples());
    let Some(number) = scan.number().map_err(error)? else {
        return Err(ReadError::no_number(scan, bare.examples()));
    };
    scan.blanks();
    if scan.at_end() {
        return Ok(bare_metres(number, bare));
    }
    if scan.rest().starts_with(|c: char| c == '-' || c.is_ascii_digit()) {
        return Err(two_numbers(scan, number, bare));
    }
    let before = scan.done();
    let word = scan.unit();
    match unit_of(word) {
        Some(Unit::Foot) => feet(scan, number, bare, negative),
        Some(Unit::Inch) => {
            end(scan, bare)?;
            Ok(number.value.times(INCH.0, INCH.1))
        }
        Some(Unit::Metric(thousandths)) => {
            end(scan, bare)?;
            if number.form == Form::Fraction {
                return Err(error(format!(
                    "metric lengths are written with a point, and `{}` is a fraction",
                    excerpt(before)
                )));
            }
            Ok(number.value.times(thousandths, 1000))
        }
        None => Err(unknown_unit(scan, before, word, bare)),
    }
}

fn bare_metres(number: Number, bare: Bare) -> Rational {
    match bare {
        Bare::Plan(Units::Us) => number.value.times(12 * INCH.0, INCH.1),
        Bare::Small(Units::Us) => number.value.times(INCH.0, INCH.1),
        Bare::Plan(Units::Metric) => number.value,
        Bare::Small(Units::Metric) => number.value.times(1, 1000),
    }
}

/// What may follow the feet: nothing, or inches over a blank or a hyphen.
fn feet(scan: &mut Scan, feet: Number, bare: Bare, negative: bool) -> Result<Rational, ReadError> {
    let error = |problem: String, hint: String| ReadError::new(problem, hint);
    let feet_text = scan.done().to_owned();
    scan.blanks();
    if scan.eat('-') {
        scan.blanks();
    } else if scan.at_end() {
        return Ok(feet.value.times(12 * INCH.0, INCH.1));
    }
    let before = scan.rest();
    let found = scan.number().map_err(|problem| error(problem, bare.examples().into()))?;
    let Some(inches) = found else {
        return Err(ReadError::stopped(scan, bare.examples()));
    };
    let inch_text = &before[..before.len() - scan.rest().len()];
    let whole = format!("{feet_text} {inch_text}\"");
    scan.blanks();
    if scan.at_end() {
        let problem = format!("`{inch_text}` after the feet has no inch mark");
        return Err(error(problem, format!("write {whole}")));
    }
    if unit_of(scan.unit()) != Some(Unit::Inch) {
        let problem = format!("`{inch_text}` after the feet is not followed by an inch mark");
        return Err(error(problem, format!("write it like {whole}")));
    }
    end(scan, bare)?;
    if feet.form != Form::Whole {
        let problem = "the feet have a part of a foot and inches besides".into();
        return Err(error(problem, bare.examples().into()));
    }
    if inches.value.num >= 12 * inches.value.den {
        return Err(foot_or_more(feet, inches, inch_text, negative));
    }
    let inches = feet.value.times(12, 1).plus(inches.value);
    Ok(inches.times(INCH.0, INCH.1))
}

/// Inches that are a foot or more: offers the foot carried over.
fn foot_or_more(feet: Number, inches: Number, inch_text: &str, negative: bool) -> ReadError {
    let carried = inches.value.num / (12 * inches.value.den);
    let left = inches.value.num - 12 * carried * inches.value.den;
    let sign = if negative { "-" } else { "" };
    let hint = if left % inches.value.den == 0 {
        let (feet, inches) = (feet.value.num + carried, left / inches.value.den);
        format!("write {sign}{feet}' {inches}\"")
    } else {
        "carry the foot over".into()
    };
    let problem = format!("{inch_text} inches after the feet are a foot or more");
    ReadError::new(problem, hint)
}

fn end(scan: &mut Scan, bare: Bare) -> Result<(), ReadError> {
    scan.blanks();
    if scan.at_end() { Ok(()) } else { Err(ReadError::stopped(scan, bare.examples())) }
}

/// `12-6` and `12 6`: two numbers and no unit.
fn two_numbers(scan: &Scan, first: Number, bare: Bare) -> ReadError {
    let done = scan.done();
    let rest = scan.rest().trim_start_matches(['-', ' ']);
    let plain = rest.chars().all(|c| c.is_ascii_digit()) && !rest.is_empty();
    if first.form != Form::Whole || !plain || rest.len() > 2 {
        return ReadError::stopped(scan, bare.examples());
    }
    // Only forms that are read in turn are offered: there are 12 inches to the foot and 16 sixteenths.
    let count: u32 = rest.parse().unwrap_or(u32::MAX);
    let feet = (count < 12).then(|| format!("{done}' {rest}\" for feet and inches"));
    let other = match bare {
        Bare::Plan(Units::Us) => Some(format!("{done}.{rest} for a decimal of a foot")),
        Bare::Small(Units::Us) if count < 16 => {
            Some(format!("{done} {rest}/16\" for sixteenths of an inch"))
        }
        Bare::Small(Units::Us) => None,
        Bare::Plan(Units::Metric) => Some(format!("{done}.{rest} m for metres")),
        Bare::Small(Units::Metric) => Some(format!("{done}.{rest} mm for millimetres")),
    };
    let forms: Vec<String> = feet.into_iter().chain(other).collect();
    if forms.is_empty() {
        return ReadError::stopped(scan, bare.examples());
    }
    ReadError::new(
        "two numbers without a unit can be read in two ways".into(),
        format!("write {}", forms.join(", or ")),
    )
}

fn unknown_unit(scan: &Scan, before: &str, word: &str, bare: Bare) -> ReadError {
    if word.is_empty() {
        return match scan.rest().strip_prefix(',') {
            Some(decimals) if decimals.starts_with(|c: char| c.is_ascii_digit()) => ReadError::new(
                "a comma is no decimal point".into(),
                format!("write {}.{}", excerpt(before), excerpt(decimals)),
            ),
            _ => ReadError::stopped(scan, bare.examples()),
        };
    }
    if word.eq_ignore_ascii_case("e") {
        return ReadError::new("powers of ten are not read".into(), bare.examples().to_owned());
    }
    ReadError::new(
        format!("`{}` after `{}` is no unit of length", excerpt(word), excerpt(before)),
        bare.examples().to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAN: Bare = Bare::Plan(Units::Us);
    const SMALL: Bare = Bare::Small(Units::Us);
    const METRIC: Bare = Bare::Plan(Units::Metric);
    const MM: Bare = Bare::Small(Units::Metric);

    #[test]
    fn written_forms() {
        // Text, context, meters computed by hand: inches times 0.0254.
        let rows = [
            ("24'", PLAN, 7.3152),
            ("24 ft", PLAN, 7.3152),
            ("24ft", SMALL, 7.3152),
            ("24' 6\"", PLAN, 7.4676),
            ("24'6\"", PLAN, 7.4676),
            ("24'-6\"", PLAN, 7.4676),
            ("24 ft 6 in", PLAN, 7.4676),
            ("24 FT. 6 IN.", PLAN, 7.4676),
            ("24' 6 1/2\"", PLAN, 7.4803),
            ("24' 6-1/2\"", PLAN, 7.4803),
            ("24'-6½\"", PLAN, 7.4803),
            ("24′ 6½″", PLAN, 7.4803),
            ("24’6”", PLAN, 7.4676),
            ("24' 6''", PLAN, 7.4676),
            ("0' 6\"", PLAN, 0.1524),
            ("6\"", PLAN, 0.1524),
            ("6 in", PLAN, 0.1524),
            ("1/4\"", PLAN, 0.00635),
            ("3 1/2\"", PLAN, 0.0889),
            ("3-1/2\"", SMALL, 0.0889),
            ("¼\"", PLAN, 0.00635),
            ("3¾\"", SMALL, 0.09525),
            ("⅛", SMALL, 0.003_175),
            ("⅜", SMALL, 0.009_525),
            ("⅝", SMALL, 0.015_875),
            ("⅞", SMALL, 0.022_225),
            ("1/16", SMALL, 0.001_587_5),
            (".25 in", PLAN, 0.00635),
            ("7.3 m", PLAN, 7.3),
            ("730 cm", SMALL, 7.3),
            ("45 mm", PLAN, 0.045),
            ("24", PLAN, 7.3152),
            ("24.5", PLAN, 7.4676),
            ("24.50", PLAN, 7.4676),
            ("3 1/2", PLAN, 1.0668),
            ("3-1/2", PLAN, 1.0668),
            ("1/4", SMALL, 0.00635),
            ("0.25", SMALL, 0.00635),
            ("2", SMALL, 0.0508),
            ("24", METRIC, 24.0),
            ("2", MM, 0.002),
            ("12.5", MM, 0.0125),
            ("-2' 6\"", PLAN, -0.762),
            ("- 2'", PLAN, -0.6096),
            ("−1/2\"", SMALL, -0.0127),
            ("0", PLAN, 0.0),
            ("-0", PLAN, 0.0),
            ("100 miles", PLAN, f64::NAN),
        ];
        for (text, bare, metres) in rows {
            match length(text, bare) {
                Ok(found) => assert_eq!(found.m().to_bits(), f64::to_bits(metres), "{text}"),
                Err(_) => assert!(metres.is_nan(), "{text} was refused"),
            }
        }
    }

    #[test]
    fn refused_forms() {
        let rows = [
            (
                "12-6",
                PLAN,
                "two numbers without a unit can be read in two ways",
                "write 12' 6\" for feet and inches, or 12.6 for a decimal of a foot",
            ),
            (
                "1-6",
                SMALL,
                "two numbers without a unit can be read in two ways",
                "write 1' 6\" for feet and inches, or 1 6/16\" for sixteenths of an inch",
            ),
            (
                "12-16",
                SMALL,
                "after `12` comes `-16`, which can't be read",
                "write it like 1/4 or 0.25 (inches), 1/4\" or 6 mm",
            ),
            (
                "12-14",
                PLAN,
                "two numbers without a unit can be read in two ways",
                "write 12.14 for a decimal of a foot",
            ),
            ("24' 6", PLAN, "`6` after the feet has no inch mark", "write 24' 6\""),
            ("24' 14\"", PLAN, "14 inches after the feet are a foot or more", "write 25' 2\""),
            ("7,3 m", METRIC, "a comma is no decimal point", "write 7.3 m"),
            (
                "24 yd",
                PLAN,
                "`yd` after `24` is no unit of length",
                "write it like 24' 6\" or 24.5 (feet) or 7.3 m",
            ),
            (
                "24 yarrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrds",
                PLAN,
                "`yarrrrrrrrrrrrrrrrrrrrrr…` after `24` is no unit of length",
                "write it like 24' 6\" or 24.5 (feet) or 7.3 m",
            ),
            (
                "7,3333333333333333333333333333333 m",
                METRIC,
                "a comma is no decimal point",
                "write 7.333333333333333333333333…",
            ),
            (
                "24' 6x\"",
                PLAN,
                "`6` after the feet is not followed by an inch mark",
                "write it like 24' 6\"",
            ),
            (
                "1e999",
                PLAN,
                "powers of ten are not read",
                "write it like 24' 6\" or 24.5 (feet) or 7.3 m",
            ),
            (
                "nan",
                SMALL,
                "it starts with `nan`, where a number should stand",
                "write it like 1/4 or 0.25 (inches), 1/4\" or 6 mm",
            ),
            (
                "1/0\"",
                SMALL,
                "1/0 divides by nothing",
                "write it like 1/4 or 0.25 (inches), 1/4\" or 6 mm",
            ),
            (
                "3 5/4\"",
                SMALL,
                "the fraction 5/4 after a whole number is not less than one",
                "write it like 1/4 or 0.25 (inches), 1/4\" or 6 mm",
            ),
            ("", PLAN, "there is no number", "write it like 24' 6\" or 24.5 (feet) or 7.3 m"),
            (
                "1/2 m",
                METRIC,
                "metric lengths are written with a point, and `1/2` is a fraction",
                "write it like 7.3 (metres), 730 cm or 24' 6\"",
            ),
            (
                "24' 6\" 2\"",
                PLAN,
                "after `24' 6\"` comes `2\"`, which can't be read",
                "write it like 24' 6\" or 24.5 (feet) or 7.3 m",
            ),
        ];
        for (text, bare, problem, hint) in rows {
            let error = length(text, bare).expect_err(text);
            assert_eq!((error.problem.as_str(), error.hint.as_str()), (problem, hint), "{text}");
        }
        for text in [
            "inf",
            "-inf",
            "0x10",
            "1_000",
            "12'-",
            "'",
            "\"",
            "--2",
            "1//2",
            "..5",
            "9999999999999999'",
        ] {
            assert!(length(text, PLAN).is_err(), "{text}");
        }
    }
}
