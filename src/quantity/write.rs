//! Quantities to text for people: the only place that does it.
//!
//! Rounding is to the nearest, halves away from zero, as one reads a tape. A guard of a millionth of the
//! last step keeps a half that lost its last bit in conversion (7.499999999999999 eighths) from
//! going the wrong way. A rounded zero never has a sign.

use super::{KG_PER_LB, L_PER_FL_OZ, L_PER_GAL, M_PER_FT, M_PER_IN, M2_PER_FT2, Units};

/// Lifts a half that conversion left just short of one, in steps; see the module.
const HALF_GUARD: f64 = 1e-6;
/// Finest step of a small length in text: tapes and crack gauges stop at a 64th.
const SMALL_DENOMINATOR: u32 = 64;
/// Finest step of a floor length in text: what a tape on rough concrete is good for.
const FLOOR_DENOMINATOR: u32 = 8;
/// Quarts in a gallon. Below a gallon a volume is given in quarts, and below a quart in fluid ounces: what a pail and a cup show.
const QT_PER_GAL: f64 = 4.0;
/// Fluid ounces in a quart.
const OZ_PER_QT: f64 = 32.0;
/// Numbers beyond this are printed as [`BEYOND`]; they can only come from a fault.
const LARGEST: f64 = 1e12;
/// Printed for what is not a number or is beyond belief.
const BEYOND: &str = "?";

/// Nearest whole number, halves away from zero; `None` for what can't be printed.
#[expect(clippy::cast_possible_truncation, reason = "bounded by LARGEST")]
fn nearest(value: f64) -> Option<i64> {
    let lifted = value.abs() + HALF_GUARD;
    (lifted <= LARGEST).then(|| {
        let whole = (lifted + 0.5).floor() as i64;
        if value < 0.0 { -whole } else { whole }
    })
}

/// A number with exactly this many decimals.
///
/// ```
/// use slabwalk::quantity::write::fixed;
/// assert_eq!(fixed(2.345, 2), "2.35");
/// assert_eq!(fixed(-0.001, 2), "0.00");
/// ```
#[must_use]
pub fn fixed(value: f64, decimals: u32) -> String {
    let scale = 10_i64.pow(decimals.min(9));
    #[expect(clippy::cast_precision_loss, reason = "at most a billion")]
    let Some(steps) = nearest(value * scale as f64) else {
        return BEYOND.into();
    };
    let sign = if steps < 0 { "-" } else { "" };
    let (whole, part) = (steps.abs() / scale, steps.abs() % scale);
    if decimals == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{part:0width$}", width = decimals.min(9) as usize)
}

/// A number with at most this many decimals and no trailing zeros.
#[must_use]
pub fn trimmed(value: f64, decimals: u32) -> String {
    let text = fixed(value, decimals);
    if text.contains('.') {
        return text.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    text
}

/// A number with this many decimals and commas between thousands.
#[must_use]
pub fn grouped(value: f64, decimals: u32) -> String {
    let text = fixed(value, decimals);
    let whole = text.find('.').unwrap_or(text.len());
    let first = usize::from(text.starts_with('-'));
    let mut out = String::with_capacity(text.len() + 4);
    for (place, c) in text.chars().enumerate() {
        if place > first && place < whole && (whole - place).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    out
}

/// Whole inches and a reduced fraction, for a count of `1/denominator` inches: `6 1/2`, `3/8`, `0`.
fn inches_text(steps: i64, denominator: u32) -> String {
    let denominator = i64::from(denominator.max(1));
    let (whole, mut part, mut of) = (steps / denominator, steps % denominator, denominator);
    while part != 0 && part % 2 == 0 && of % 2 == 0 {
        (part, of) = (part / 2, of / 2);
    }
    match (whole, part) {
        (whole, 0) => whole.to_string(),
        (0, part) => format!("{part}/{of}"),
        (whole, part) => format!("{whole} {part}/{of}"),
    }
}

/// Feet and inches to the nearest `1/denominator` inch: `12'-6 1/2"`, `0'-8"`, `4'-0 1/2"`, `-2'-6"`. Behind feet there are always
/// whole inches, as on drawings: `4'-1/2"` would be read as four and a half feet.
///
/// ```
/// use slabwalk::quantity::write::feet_inches;
/// assert_eq!(feet_inches(3.8227, 2), "12'-6 1/2\"");
/// ```
#[must_use]
pub fn feet_inches(m: f64, denominator: u32) -> String {
    let denominator = denominator.max(1);
    let Some(steps) = nearest(m / M_PER_IN * f64::from(denominator)) else {
        return BEYOND.into();
    };
    let sign = if steps < 0 { "-" } else { "" };
    let foot = 12 * i64::from(denominator);
    let (feet, inches) = (steps.abs() / foot, steps.abs() % foot);
    let zero = if inches > 0 && inches < i64::from(denominator) { "0 " } else { "" };
    format!("{sign}{feet}'-{zero}{}\"", inches_text(inches, denominator))
}

/// Inches to the nearest `1/denominator`: `3/8"`, `1 1/2"`, `0"`, `-1/2"`.
///
/// ```
/// use slabwalk::quantity::write::inches_fraction;
/// assert_eq!(inches_fraction(0.009525, 64), "3/8\"");
/// ```
#[must_use]
pub fn inches_fraction(m: f64, denominator: u32) -> String {
    let Some(steps) = nearest(m / M_PER_IN * f64::from(denominator.max(1))) else {
        return BEYOND.into();
    };
    let sign = if steps < 0 { "-" } else { "" };
    format!("{sign}{}\"", inches_text(steps.abs(), denominator))
}

/// A length on the floor: `12'-6 1/2"` to the nearest eighth, or `12.65 m` to the centimeter.
#[must_use]
pub fn length(m: f64, units: Units) -> String {
    match units {
        Units::Us => feet_inches(m, FLOOR_DENOMINATOR),
        Units::Metric => format!("{} m", fixed(m, 2)),
    }
}

/// A width, depth, step or thickness: `3/8"` to the nearest 64th, or `9.5 mm` to the tenth.
#[must_use]
pub fn small(m: f64, units: Units) -> String {
    match units {
        Units::Us => inches_fraction(m, SMALL_DENOMINATOR),
        Units::Metric => format!("{} mm", trimmed(m * 1000.0, 1)),
    }
}

/// Running feet or meters, as lengths are added up and priced: `47.0 ft`, `14.33 m`.
#[must_use]
pub fn run(m: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} ft", grouped(m / M_PER_FT, 1)),
        Units::Metric => format!("{} m", fixed(m, 2)),
    }
}

/// Decimal feet without a unit: `47.00`.
#[must_use]
pub fn decimal_feet(m: f64, decimals: u32) -> String {
    fixed(m / M_PER_FT, decimals)
}

/// An area: `4,012.3 ft²` or `372.75 m²`.
#[must_use]
pub fn area(m2: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} ft²", grouped(m2 / M2_PER_FT2, 1)),
        Units::Metric => format!("{} m²", fixed(m2, 2)),
    }
}

/// A measure of liquids: how many liters one of it is, its name, and the decimals that are of use.
pub type Measure = (f64, &'static str, u32);

/// The measure in which a volume is said: gallons, below one quarts, below a quart fluid ounces; liters, below one milliliters.
#[must_use]
pub fn measure(l: f64, units: Units) -> Measure {
    match units {
        Units::Us if l.abs() < L_PER_GAL / QT_PER_GAL => (L_PER_FL_OZ, "fl oz", 1),
        Units::Us if l.abs() < L_PER_GAL => (L_PER_GAL / QT_PER_GAL, "qt", 2),
        Units::Us => (L_PER_GAL, "gal", 2),
        Units::Metric if l.abs() < 1.0 => (0.001, "mL", 0),
        Units::Metric => (1.0, "L", 2),
    }
}

/// A volume: `2.43 gal`, `3.20 qt`, `9.6 fl oz`; `3.25 L`, `250 mL`.
#[must_use]
pub fn volume(l: f64, units: Units) -> String {
    let (one, name, decimals) = measure(l, units);
    format!("{} {name}", grouped(l / one, decimals))
}

/// A volume as a pail shows it: `5 qt 11 fl oz`, `8 qt`; `4.67 L`, `10 L`.
#[must_use]
pub fn pail(l: f64, units: Units) -> String {
    if units == Units::Metric {
        return format!("{} L", trimmed(l, 2));
    }
    let ounces = (l / L_PER_FL_OZ).round();
    let quarts = (ounces / OZ_PER_QT).floor();
    let rest = ounces - quarts * OZ_PER_QT;
    match (quarts > 0.0, rest > 0.0) {
        (true, true) => format!("{} qt {} fl oz", grouped(quarts, 0), trimmed(rest, 0)),
        (true, false) => format!("{} qt", grouped(quarts, 0)),
        (false, _) => format!("{} fl oz", trimmed(rest, 0)),
    }
}

/// A weight: `49.6 lb`, `22.5 kg`; two decimals below ten.
#[must_use]
pub fn mass(kg: f64, units: Units) -> String {
    let (value, unit) = match units {
        Units::Us => (kg / KG_PER_LB, "lb"),
        Units::Metric => (kg, "kg"),
    };
    let decimals = if value.abs() < 10.0 { 2 } else { 1 };
    format!("{} {unit}", grouped(value, decimals))
}

/// A temperature: `50.5 °F`, `10.3 °C`.
#[must_use]
pub fn temperature(c: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} °F", trimmed(c * 1.8 + 32.0, 1)),
        Units::Metric => format!("{} °C", trimmed(c, 1)),
    }
}

/// A difference of temperatures given in kelvins: `5 °F`, `2.8 °C`.
#[must_use]
pub fn temperature_difference(k: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{} °F", trimmed(k * 1.8, 1)),
        Units::Metric => format!("{} °C", trimmed(k, 1)),
    }
}

/// A share of one as a percentage: `10%`, `12.5%`.
#[must_use]
pub fn percent(one: f64) -> String {
    format!("{}%", trimmed(one * 100.0, 1))
}

/// A time span in the largest unit that keeps it readable: `15 min`, `1.5 h`, `2 d`.
#[must_use]
pub fn span(s: f64) -> String {
    const MINUTE: f64 = 60.0;
    const HOUR: f64 = 3600.0;
    const DAY: f64 = 86_400.0;
    match s.abs() {
        less if less < HOUR => format!("{} min", trimmed(s / MINUTE, 0)),
        less if less < 2.0 * DAY => format!("{} h", trimmed(s / HOUR, 1)),
        _ => format!("{} d", trimmed(s / DAY, 1)),
    }
}

/// Part of an inch that trade sizes are multiples of.
const TRADE_STEP: f64 = 16.0;

/// `1 3/4` inches to the nearest sixteenth, if the length is a multiple of it within a thousandth.
fn sixteenths(metres: f64) -> Option<String> {
    let count = metres / M_PER_IN * TRADE_STEP;
    if !count.is_finite() || (count - count.round()).abs() > 0.016 || count.abs() > 1e6 {
        return None;
    }
    let (mut top, mut bottom) = (count.round() as i64, 16);
    let whole = top / bottom;
    top %= bottom;
    while top != 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    Some(match (whole, top) {
        (_, 0) => format!("{whole} in"),
        (0, _) => format!("{top}/{bottom} in"),
        _ => format!("{whole} {top}/{bottom} in"),
    })
}

/// A trade size: in sixteenths of an inch where it comes out in them, else in millimeters. It doesn't
/// go by the units of the sketch, so that a product keeps one name.
#[must_use]
pub fn trade_size(metres: f64) -> String {
    sixteenths(metres).unwrap_or_else(|| format!("{} mm", trimmed(metres * 1000.0, 1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn volumes_in_a_pail() {
        for (gallons, want) in [
            (2.0, "8 qt"),
            (4.0 / 3.0, "5 qt 11 fl oz"),
            // 31.9 fl oz are a quart.
            (31.9 / 128.0, "1 qt"),
            (0.1, "13 fl oz"),
        ] {
            assert_eq!(pail(gallons * L_PER_GAL, Units::Us), want);
        }
        assert_eq!(pail(4.666, Units::Metric), "4.67 L");
    }

    #[test]
    fn feet_and_inches() {
        // Inches, denominator, text.
        let rows = [
            (150.5, 2, "12'-6 1/2\""),
            (294.5, 8, "24'-6 1/2\""),
            (8.0, 8, "0'-8\""),
            (0.0, 8, "0'-0\""),
            (-0.01, 8, "0'-0\""),
            (-30.0, 8, "-2'-6\""),
            (11.99, 8, "1'-0\""),
            (11.94, 16, "0'-11 15/16\""),
            (0.0625, 8, "0'-0 1/8\""),
            (48.5, 2, "4'-0 1/2\""),
            (-12.25, 4, "-1'-0 1/4\""),
            (63360.0, 8, "5280'-0\""),
            (0.5, 1, "0'-1\""),
            (0.5, 0, "0'-1\""),
            (f64::NAN, 8, "?"),
            (f64::INFINITY, 8, "?"),
        ];
        for (inches, denominator, text) in rows {
            assert_eq!(feet_inches(inches * M_PER_IN, denominator), text, "{inches}");
        }
    }

    #[test]
    fn inches() {
        let rows = [
            (0.375, 64, "3/8\""),
            (1.5, 16, "1 1/2\""),
            (2.0, 16, "2\""),
            (0.0, 16, "0\""),
            (-0.5, 16, "-1/2\""),
            (0.015625, 64, "1/64\""),
            (1.0 / 3.0, 16, "5/16\""),
            (0.997, 64, "1\""),
        ];
        for (inches, denominator, text) in rows {
            assert_eq!(inches_fraction(inches * M_PER_IN, denominator), text, "{inches}");
        }
    }

    #[test]
    fn numbers() {
        assert_eq!(fixed(1.005, 2), "1.01");
        assert_eq!(fixed(-0.0, 1), "0.0");
        assert_eq!(fixed(-1.25, 1), "-1.3");
        assert_eq!(fixed(12.0, 0), "12");
        assert_eq!(trimmed(12.50, 2), "12.5");
        assert_eq!(trimmed(100.0, 0), "100");
        assert_eq!(grouped(1234567.0, 0), "1,234,567");
        assert_eq!(grouped(-123.4, 1), "-123.4");
        assert_eq!(grouped(999.96, 1), "1,000.0");
    }

    #[test]
    fn both_units() {
        use Units::{Metric, Us};
        let rows = [
            (length(3.81, Us), "12'-6\""),
            (length(12.65, Metric), "12.65 m"),
            (small(0.045, Metric), "45 mm"),
            (small(0.009525, Metric), "9.5 mm"),
            (small(0.009525, Us), "3/8\""),
            (run(14.3256, Us), "47.0 ft"),
            (decimal_feet(14.3256, 2), "47.00"),
            (area(46.45152, Us), "500.0 ft²"),
            (area(372.75, Metric), "372.75 m²"),
            (area(372.75, Us), "4,012.2 ft²"),
            (volume(9.2, Us), "2.43 gal"),
            (volume(0.284, Us), "9.6 fl oz"),
            (volume(0.95, Us), "1.00 qt"),
            (volume(3.0, Us), "3.17 qt"),
            (volume(0.94, Us), "31.8 fl oz"),
            (volume(0.25, Metric), "250 mL"),
            (volume(3.25, Metric), "3.25 L"),
            (mass(22.679_618_5, Us), "50.0 lb"),
            (mass(0.45, Us), "0.99 lb"),
            (mass(25.0, Metric), "25.0 kg"),
            (temperature(20.0, Us), "68 °F"),
            (temperature(10.28, Us), "50.5 °F"),
            (temperature(-0.01, Metric), "0 °C"),
            (temperature_difference(5.0 / 1.8, Us), "5 °F"),
            (percent(0.125), "12.5%"),
            (percent(0.1), "10%"),
            (span(900.0), "15 min"),
            (span(28_800.0), "8 h"),
            (span(172_800.0), "2 d"),
        ];
        for (found, wanted) in rows {
            assert_eq!(found, wanted);
        }
    }

    #[test]
    fn sizes_keep_their_trade_name() {
        for (name, metres, want) in [
            ("three eighths", 0.375 * M_PER_IN, "3/8 in"),
            ("inch and a quarter", 1.25 * M_PER_IN, "1 1/4 in"),
            ("one inch", M_PER_IN, "1 in"),
            ("ten millimetres", 0.010, "10 mm"),
        ] {
            assert_eq!(trade_size(metres), want, "{name}");
        }
    }
}
