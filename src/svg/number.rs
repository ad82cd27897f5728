//! The one place where a number becomes text in an SVG.

/// Decimals kept: a thousandth of a millimeter, far below what a printer resolves.
const PLACES: i32 = 3;

/// Largest magnitude written, mm. Single precision, which viewers use, holds thousandths up to here.
const LIMIT: f64 = 10_000.0;

/// A number with at most three decimals, no exponent, no negative zero, no trailing zeros.
///
/// What is not a number becomes 0 and what is beyond ±10 m of paper becomes that limit: the file stays readable, the mark ends up
/// where the audit reports it.
#[must_use]
pub fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_string();
    }
    let scale = 10_f64.powi(PLACES);
    let thousandths = (value.clamp(-LIMIT, LIMIT) * scale).round() as i64;
    let sign = if thousandths < 0 { "-" } else { "" };
    let digits = format!("{sign}{}.{:03}", thousandths.abs() / 1000, thousandths.abs() % 1000);
    digits.trim_end_matches('0').trim_end_matches('.').to_string()
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn numbers_as_written() {
        let rows = [
            (0.0, "0"),
            (-0.0, "0"),
            (-0.0004, "0"),
            (0.0005, "0.001"),
            (431.8, "431.8"),
            (100.0, "100"),
            (-1.25, "-1.25"),
            (-0.5, "-0.5"),
            (1.0 / 3.0, "0.333"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
            (1e300, "10000"),
            (-1e300, "-10000"),
        ];
        for (value, want) in rows {
            assert_eq!(number(value), want, "{value}");
        }
    }
}
