//! Entries of a walk: a direction and a length, or `close`.

use super::super::{Length, Units};
use super::length::{Bare, length};
use super::scan::{Rational, Scan, normalise};
use super::{ReadError, excerpt};

const HINT: &str = "write it like E 24', N45E 3' or close";

/// One entry of a walk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WalkEntry {
    /// A taped run.
    Run {
        /// Degrees counter-clockwise from east (the sheet's right), 0 to less than 360; `N` is 90.
        direction_deg: f64,
        /// How far; may be negative or zero as written.
        length: Length,
    },
    /// Back to the start, not taped.
    Close,
}

/// Reads an entry of a walk: `E 24'`, `N45E 3'`, `S 30 W 4'`, `close`.
///
/// A quadrant bearing counts degrees from north or south toward east or west.
///
/// # Errors
///
/// The direction or the length can't be read.
///
/// ```
/// use slabwalk::quantity::{Units, read::{WalkEntry, walk_entry}};
/// let Ok(WalkEntry::Run { direction_deg, .. }) = walk_entry("S 30 W 4'", Units::Us) else { panic!() };
/// assert_eq!(direction_deg, 240.0);
/// ```
pub fn walk_entry(text: &str, units: Units) -> Result<WalkEntry, ReadError> {
    let normal = normalise(text);
    if normal.eq_ignore_ascii_case("close") {
        return Ok(WalkEntry::Close);
    }
    let mut scan = Scan::new(&normal);
    let direction_deg = direction(&mut scan)?;
    scan.blanks();
    let length = length(scan.rest(), Bare::Plan(units))?;
    Ok(WalkEntry::Run {
        direction_deg,
        length,
    })
}

fn direction(scan: &mut Scan) -> Result<f64, ReadError> {
    let whole = scan.rest();
    let word = scan.unit();
    let from = match word.to_ascii_uppercase().as_str() {
        "E" => return Ok(0.0),
        "W" => return Ok(180.0),
        "N" => Rational { num: 90, den: 1 },
        "S" => Rational { num: 270, den: 1 },
        "NE" | "NW" | "SE" | "SW" => {
            let (first, second) = word.split_at(1);
            let problem = format!("`{word}` does not say how many degrees");
            let hint = format!("write {first}45{second} for halfway between the two");
            return Err(ReadError::new(problem, hint));
        }
        _ => {
            let start = excerpt(whole.split(' ').next().unwrap_or(whole));
            let problem = format!("it starts with `{start}`, where N, E, S or W should stand");
            return Err(ReadError::new(problem, HINT));
        }
    };
    // `N 45` may be the start of `N 45 E 3'` or a run of 45 feet: only the letter after it tells.
    let mut ahead = scan.clone();
    ahead.blanks();
    let number = ahead
        .number()
        .map_err(|problem| ReadError::new(problem, HINT))?;
    let (Some(angle), Some(east)) = (number, toward(&mut ahead)) else {
        return Ok(from.value());
    };
    *scan = ahead;
    if angle.value.num > 90 * angle.value.den {
        let problem = "a bearing has at most 90 degrees".into();
        return Err(ReadError::new(
            problem,
            "write it like N45E 3' or S 30 W 4'",
        ));
    }
    // From north, east is clockwise; from south, east is counter-clockwise.
    let clockwise = (from.num == 90) == east;
    let sign = if clockwise { -1 } else { 1 };
    Ok(from.plus(angle.value.times(sign, 1)).value())
}

/// The second letter of a quadrant bearing: whether it is east.
fn toward(scan: &mut Scan) -> Option<bool> {
    scan.blanks();
    if scan.eat('°') {
        scan.blanks();
    }
    match scan.unit() {
        "E" | "e" => Some(true),
        "W" | "w" => Some(false),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries() {
        let rows = [
            ("E 24'", 0.0, 7.3152),
            ("e24'", 0.0, 7.3152),
            ("N 22' 3\"", 90.0, 6.7818),
            ("W 8'", 180.0, 2.4384),
            ("S 24' 3\"", 270.0, 7.3914),
            ("N 45", 90.0, 13.716),
            ("N45E 3'", 45.0, 0.9144),
            ("N 45° E 3'", 45.0, 0.9144),
            ("S 30 W 4'", 240.0, 1.2192),
            ("S30E 4'", 300.0, 1.2192),
            ("N0E 4'", 90.0, 1.2192),
            ("N90W 4'", 180.0, 1.2192),
            ("N22.5W 4'", 112.5, 1.2192),
            ("E 2.5 m", 0.0, 2.5),
        ];
        for (text, degrees, metres) in rows {
            let wanted = WalkEntry::Run {
                direction_deg: degrees,
                length: Length::from_m(metres),
            };
            assert_eq!(walk_entry(text, Units::Us), Ok(wanted), "{text}");
        }
        assert_eq!(walk_entry("close", Units::Us), Ok(WalkEntry::Close));
    }

    #[test]
    fn refused() {
        let rows = [
            ("NE 3'", "`NE` does not say how many degrees"),
            (
                "24'",
                "it starts with `24'`, where N, E, S or W should stand",
            ),
            (
                "up 3'",
                "it starts with `up`, where N, E, S or W should stand",
            ),
            ("N120E 3'", "a bearing has at most 90 degrees"),
            ("E", "there is no number"),
            ("E 24x", "`x` after `24` is no unit of length"),
        ];
        for (text, problem) in rows {
            assert_eq!(
                walk_entry(text, Units::Us).unwrap_err().problem,
                problem,
                "{text}"
            );
        }
    }
}
