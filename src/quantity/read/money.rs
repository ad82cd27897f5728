//! Prices, shares in decimal arithmetic, and distances driven.

use rust_decimal::Decimal;

use super::ReadError;

/// Dearest thing that is believed, in whole units of the currency: leaves decimal arithmetic room
/// for any floor that is read.
const DEAREST: i64 = 1_000_000;
/// Decimals that a price or a share may have.
const MOST_DECIMALS: u32 = 4;
/// Longest trip that is believed, km: a quarter of the way around the earth.
const FARTHEST_KM: i64 = 10_000;
/// Kilometers in a mile, exact (international mile; NIST Handbook 44 Appendix C).
const KM_PER_MI: Decimal = Decimal::from_parts(1_609_344, 0, 0, false, 6);

/// A plain decimal number, not negative, with commas between thousands left out.
fn plain(text: &str, hint: &str) -> Result<Decimal, ReadError> {
    let fault = |problem: &str| ReadError::new(problem.into(), hint);
    let text = text.trim();
    if text.is_empty() {
        return Err(fault("there is no number"));
    }
    if text.starts_with('-') || text.starts_with('−') {
        return Err(fault("it is negative"));
    }
    let digits = ungrouped(text).ok_or_else(|| fault("it is not a plain decimal number"))?;
    let number: Decimal = digits.parse().map_err(|_| fault("it is not a plain decimal number"))?;
    if number.scale() > MOST_DECIMALS {
        return Err(fault("it has more than four decimals"));
    }
    Ok(number)
}

/// The digits with their point, commas taken out where they stand between thousands.
fn ungrouped(text: &str) -> Option<String> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |t: &str| !t.is_empty() && t.len() <= 18 && t.bytes().all(|b| b.is_ascii_digit());
    let mut groups = whole.split(',');
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    let grouped = rest.is_empty() || first.len() <= 3;
    let fits = digits(first) && rest.iter().all(|g| g.len() == 3 && digits(g)) && digits(part);
    (grouped && fits).then(|| format!("{first}{}.{part}", rest.concat()))
}

/// Reads a price: `24`, `24.50`, `$24.50`, `1,250.00`. Up to four decimals; the currency sign is the
/// shop's and counts for nothing here.
///
/// # Errors
///
/// The text is not a plain decimal number, is negative, or is over a million.
pub fn money(text: &str) -> Result<Decimal, ReadError> {
    let hint = "write it like 24.50 or $1,250.00";
    let bare = text.trim().trim_start_matches(['$', '€', '£']);
    let number = plain(bare, hint)?;
    if number > Decimal::from(DEAREST) {
        return Err(ReadError::new("it is over a million".into(), hint));
    }
    Ok(number.normalize())
}

/// Reads a percentage exactly, as a share of one: `40%` is 0.4.
///
/// # Errors
///
/// The text is not a plain decimal number with a percent sign, or is negative.
pub fn decimal_percent(text: &str) -> Result<Decimal, ReadError> {
    let hint = "write it like 40%";
    let Some(number) = text.trim().strip_suffix('%') else {
        return Err(ReadError::new("it has no percent sign".into(), hint));
    };
    let share = plain(number, hint)? / Decimal::ONE_HUNDRED;
    Ok(share.normalize())
}

/// Reads a distance, in km: `40 mi`, `64 km`.
///
/// # Errors
///
/// The text is not a distance in miles or kilometers, or is beyond belief.
pub fn distance(text: &str) -> Result<Decimal, ReadError> {
    let hint = "write it like 40 mi or 64 km";
    let text = text.trim();
    let (number, one) = if let Some(number) = text.strip_suffix("mi") {
        (number, KM_PER_MI)
    } else if let Some(number) = text.strip_suffix("km") {
        (number, Decimal::ONE)
    } else {
        return Err(ReadError::new("it does not end in mi or km".into(), hint));
    };
    let number = plain(number, hint)?;
    if number > Decimal::from(FARTHEST_KM) {
        return Err(ReadError::new("nobody drives that far".into(), hint));
    }
    Ok((number * one).normalize())
}

/// Reads a speed, in km/h: `30 mi/h`, `50 km/h`.
///
/// # Errors
///
/// The text is not a distance an hour, or is nought.
pub fn speed(text: &str) -> Result<Decimal, ReadError> {
    let hint = "write it like 30 mi/h or 50 km/h";
    let Some(far) = text.trim().strip_suffix("/h") else {
        return Err(ReadError::new("it does not end in /h".into(), hint));
    };
    let far = distance(far).map_err(|error| ReadError::new(error.problem, hint))?;
    if far.is_zero() {
        return Err(ReadError::new("nobody gets there".into(), hint));
    }
    Ok(far)
}

/// Reads a price per distance: the price, and the km that it is for. `0.70/mi`, `0.45/km`.
///
/// # Errors
///
/// The text is not a price over `mi` or `km`.
pub fn distance_rate(text: &str) -> Result<(Decimal, Decimal), ReadError> {
    let hint = "write it like 0.70/mi or 0.45/km";
    let Some((price, unit)) = text.split_once('/') else {
        return Err(ReadError::new("it is not per mi or km".into(), hint));
    };
    let one = match unit.trim() {
        "mi" => KM_PER_MI,
        "km" => Decimal::ONE,
        _ => {
            return Err(ReadError::new(
                format!("`{}` is none of mi and km", super::excerpt(unit)),
                hint,
            ));
        }
    };
    let price = money(price).map_err(|error| ReadError::new(error.problem, hint))?;
    Ok((price, one))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_as_people_write_them() {
        for (text, want) in [
            ("24", Some("24")),
            ("24.50", Some("24.5")),
            ("$24.5", Some("24.5")),
            ("1,250.00", Some("1250")),
            ("$ 0.7250", Some("0.725")),
            ("0", Some("0")),
            ("1000000", Some("1000000")),
            ("1000001", None),
            ("1,25", None),
            ("1250,00", None),
            ("24.50 $", None),
            ("-3", None),
            ("2e5", None),
            ("0.00001", None),
            ("", None),
            ("nan", None),
        ] {
            let got = money(text).ok().map(|d| d.to_string());
            assert_eq!(got.as_deref(), want, "{text}");
        }
    }

    #[test]
    fn shares_are_exact() {
        for (text, want) in [
            ("40%", Some("0.4")),
            ("33.3333 %", Some("0.333333")),
            ("100%", Some("1")),
            ("250%", Some("2.5")),
            ("-5%", None),
            ("0.4", None),
        ] {
            let got = decimal_percent(text).ok().map(|d| d.to_string());
            assert_eq!(got.as_deref(), want, "{text}");
        }
    }

    #[test]
    fn distances() {
        for (text, want) in
            [("40 mi", Some("64.37376")), ("64km", Some("64")), ("40", None), ("99999 mi", None)]
        {
            let got = distance(text).ok().map(|d| d.to_string());
            assert_eq!(got.as_deref(), want, "{text}");
        }
        assert_eq!(distance_rate("0.70/mi").map(|(p, _)| p.to_string()), Ok("0.7".into()));
        assert!(distance_rate("0.70/ft").is_err());
    }
}
