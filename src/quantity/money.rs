//! Money: decimal, whole cents.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Neg, Sub};

use rust_decimal::{Decimal, RoundingStrategy};
use serde::Serializer;

use super::write;

/// An amount of money in whole cents. Two amounts add up exactly.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(Decimal);

crate::text::in_json_by!(Money);

/// A decimal number in JSON: text, so that nothing of it is lost in binary.
pub fn exact<S: Serializer>(value: &Decimal, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(value)
}

/// The same without zeros behind it.
pub fn normal<S: Serializer>(value: &Decimal, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(&value.normalize())
}

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// Rounded to whole cents, half a cent up (away from zero, so that a credit of half a cent is
    /// rounded as the charge would be). The only place where money is rounded.
    ///
    /// ```
    /// use slabwalk::quantity::Money;
    /// assert_eq!(Money::rounded("2.345".parse().unwrap()).to_string(), "2.35");
    /// assert_eq!(Money::rounded("-2.345".parse().unwrap()).to_string(), "-2.35");
    /// ```
    #[must_use]
    pub fn rounded(amount: Decimal) -> Self {
        let mut cents = amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        cents.rescale(2);
        // A rounded zero has no sign.
        Self(if cents.is_zero() { Decimal::ZERO } else { cents })
    }

    /// The exact amount.
    #[must_use]
    pub const fn decimal(self) -> Decimal {
        self.0
    }

    /// With a currency sign in front and commas between thousands: `$1,250.00`, `-$12.50`.
    #[must_use]
    pub fn with(self, currency: &str) -> String {
        let plain = self.to_string();
        let (sign, digits) = match plain.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", plain.as_str()),
        };
        let (whole, cents) = digits.split_once('.').unwrap_or((digits, "00"));
        let mut grouped = String::new();
        for (place, digit) in whole.chars().enumerate() {
            if place > 0 && (whole.len() - place).is_multiple_of(3) {
                grouped.push(',');
            }
            grouped.push(digit);
        }
        format!("{sign}{currency}{grouped}.{cents}")
    }
}

impl fmt::Display for Money {
    /// Two decimals, no separators: `1250.00`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.2}", self.0)
    }
}

impl Add for Money {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Money {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self::rounded(self.0 - other.0)
    }
}

impl Neg for Money {
    type Output = Self;

    fn neg(self) -> Self {
        Self::rounded(-self.0)
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}

/// A measured quantity as the decimal number that is printed, with at most this many decimals: what
/// is printed times the rate is what is charged. `None` for what is not a number or is beyond belief
/// (over 1e12).
#[must_use]
pub fn decimal(value: f64, places: u32) -> Option<Decimal> {
    write::fixed(value, places).parse::<Decimal>().ok().map(|number| number.normalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_of_a_cent_go_up() {
        for (name, exact, want) in [
            ("half", "0.005", "0.01"),
            ("just below", "0.00499999999999", "0.00"),
            ("even neighbor below", "2.345", "2.35"),
            ("credit", "-0.005", "-0.01"),
            ("no minus nothing", "-0.004", "0.00"),
            ("whole", "12", "12.00"),
        ] {
            let exact: Decimal = exact.parse().unwrap();
            assert_eq!(Money::rounded(exact).to_string(), want, "{name}");
        }
    }

    #[test]
    fn thousands_are_grouped() {
        for (exact, want) in [
            ("0", "$0.00"),
            ("999.99", "$999.99"),
            ("-1234567.5", "-$1,234,567.50"),
            ("100000", "$100,000.00"),
        ] {
            assert_eq!(Money::rounded(exact.parse().unwrap()).with("$"), want, "{exact}");
        }
    }

    #[test]
    fn a_quantity_is_charged_as_it_is_printed() {
        for (value, places, want) in [
            (7.245_f64, 2, Some("7.25")),
            (2.0 / 3.0, 2, Some("0.67")),
            (9.0, 0, Some("9")),
            (f64::NAN, 2, None),
            (f64::INFINITY, 2, None),
        ] {
            let got = decimal(value, places).map(|d| d.to_string());
            assert_eq!(got.as_deref(), want, "{value}");
        }
    }
}
