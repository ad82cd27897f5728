//! Entries of a walk: a direction and a length, or `close`.

use super::length::{Bare, length};
use super::scan::{Rational, Scan, normalise};
use super::{ReadError, excerpt};
use crate::quantity::{Length, Units};

const HINT: &str = "write it like E 24', N45E 3', arc E 12' R 8' left or close";
const ARC: &str = "write it like arc E 12' R 8' left: chord, radius and the hand it turns to; or arc E 12' rise 2' left";

/// A chord this much longer than a diameter, as a share of it, is the diameter: what reading loses.
const ROUNDED: f64 = 1e-9;

/// One entry of a walk around the outline: a run, an arc, or the way back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WalkEntry {
    /// A taped run.
    Run {
        /// Degrees counter-clockwise from east (the sheet's right), 0 to less than 360; `N` is 90.
        direction_deg: f64,
        /// How far; may be negative or zero as written.
        length: Length,
    },
    /// A circular arc.
    Arc {
        /// Direction of its chord, as of a run. Left out, the arc leaves in the direction in which the run before ends.
        direction_deg: Option<f64>,
        /// The straight line between its ends.
        chord: Length,
        /// Greatest distance of the arc from its chord.
        rise: Length,
        /// Whether it turns to the left, as walked.
        left: bool,
    },
    /// Back to the start, not taped.
    Close,
}

impl WalkEntry {
    /// Direction, degrees, and length of the straight line between the ends of an entry. `heading` is left at the direction in which the
    /// entry arrives. `None` for `close`, and for an arc without a direction where nothing comes before it.
    pub fn chord(&self, heading_deg: &mut Option<f64>) -> Option<(f64, Length)> {
        match *self {
            Self::Close => None,
            Self::Run { direction_deg, length } => {
                *heading_deg = Some(direction_deg);
                Some((direction_deg, length))
            }
            Self::Arc { direction_deg, chord, rise, left } => {
                // The angle between a chord and its tangent is half of what the arc turns by.
                let half = 2.0 * (2.0 * rise.m()).atan2(chord.m()).to_degrees();
                let half = if left { half } else { -half };
                let direction = direction_deg.or(heading_deg.map(|heading| heading + half))?;
                *heading_deg = Some(direction + half);
                Some((direction, chord))
            }
        }
    }
}

/// Reads an entry of a walk: `E 24'`, `N45E 3'`, `S 30 W 4'`, `arc E 12' R 8' left`, `close`.
///
/// A quadrant bearing counts degrees from north or south toward east or west. An arc has the direction of its chord, the chord, its radius
/// `R` or its `rise` over the chord, and the hand to which it turns. Without a direction it goes on in that of the run before.
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
    let (word, rest) = normal.split_once(' ').unwrap_or((&normal, ""));
    if word.eq_ignore_ascii_case("arc") {
        return arc(rest, units);
    }
    let mut scan = Scan::new(&normal);
    let direction_deg = direction(&mut scan)?;
    scan.blanks();
    let length = length(scan.rest(), Bare::Plan(units))?;
    Ok(WalkEntry::Run { direction_deg, length })
}

/// What follows the word `arc`.
fn arc(text: &str, units: Units) -> Result<WalkEntry, ReadError> {
    let wrong = |problem: &str| ReadError::new(problem.into(), ARC);
    let (text, hand) = text.trim_end().rsplit_once(' ').unwrap_or(("", text));
    let left = match hand.to_ascii_lowercase().as_str() {
        "left" => true,
        "right" => false,
        _ => return Err(wrong("it does not say whether it turns left or right")),
    };
    let (chord, is_rise, size) =
        sized(text).ok_or_else(|| wrong("it has no radius R and no rise"))?;
    let mut scan = Scan::new(chord);
    scan.blanks();
    let begins = scan.rest().chars().next();
    let direction_deg = match begins {
        Some(c) if c.is_ascii_alphabetic() => Some(direction(&mut scan)?),
        _ => None,
    };
    scan.blanks();
    let chord = length(scan.rest(), Bare::Plan(units))?;
    let size = length(size.trim(), Bare::Plan(units))?;
    if chord.m() <= 0.0 || size.m() <= 0.0 {
        return Err(wrong("an arc of no size is none"));
    }
    let half = chord.m() / 2.0;
    let rise = if is_rise {
        size
    } else if half <= size.m() * (1.0 + ROUNDED) {
        let to_center = (size.m().powi(2) - half.powi(2)).max(0.0).sqrt();
        Length::from_m(size.m() - to_center)
    } else {
        let hint = "a chord is at most twice the radius: tape both again, or give the rise over the chord: arc E 12' rise 2' left";
        let problem = "its chord is longer than the diameter of its circle".into();
        return Err(ReadError::new(problem, hint));
    };
    Ok(WalkEntry::Arc { direction_deg, chord, rise, left })
}

/// The text before the radius or the rise, whether it is a rise, and its size.
fn sized(text: &str) -> Option<(&str, bool, &str)> {
    let mut at = 0;
    for word in text.split(' ') {
        let letters = word.trim_end_matches(|c: char| !c.is_ascii_alphabetic());
        let letters =
            letters.find(|c: char| !c.is_ascii_alphabetic()).map_or(letters, |end| &letters[..end]);
        let is_rise = match letters.to_ascii_lowercase().as_str() {
            "r" | "radius" => Some(false),
            "rise" => Some(true),
            _ => None,
        };
        if let Some(is_rise) = is_rise {
            return Some((&text[..at], is_rise, &text[at + letters.len()..]));
        }
        at += word.len() + 1;
    }
    None
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
    let number = ahead.number().map_err(|problem| ReadError::new(problem, HINT))?;
    let (Some(angle), Some(east)) = (number, toward(&mut ahead)) else {
        return Ok(from.value());
    };
    *scan = ahead;
    if angle.value.num > 90 * angle.value.den {
        let problem = "a bearing has at most 90 degrees".into();
        return Err(ReadError::new(problem, "write it like N45E 3' or S 30 W 4'"));
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
            let wanted = WalkEntry::Run { direction_deg: degrees, length: Length::from_m(metres) };
            assert_eq!(walk_entry(text, Units::Us), Ok(wanted), "{text}");
        }
        assert_eq!(walk_entry("close", Units::Us), Ok(WalkEntry::Close));
    }

    #[test]
    fn arcs() {
        // By hand: a chord of 12' on a radius of 10' lies 8' off the center, so it rises 2'.
        let rows = [
            ("arc E 12' R 10' left", Some(0.0), 12.0, 2.0, true),
            ("Arc e 12' radius 10' RIGHT", Some(0.0), 12.0, 2.0, false),
            ("arc N 45 E 12' R10' left", Some(45.0), 12.0, 2.0, true),
            ("arc 12' rise 2' left", None, 12.0, 2.0, true),
            ("arc 12 R 10 left", None, 12.0, 2.0, true),
            ("arc W 16' 0\" R 8' left", Some(180.0), 16.0, 8.0, true),
        ];
        for (text, direction, chord_ft, rise_ft, left) in rows {
            let Ok(WalkEntry::Arc { direction_deg, chord, rise, left: turns_left }) =
                walk_entry(text, Units::Us)
            else {
                panic!("{text}");
            };
            assert_eq!((direction_deg, turns_left), (direction, left), "{text}");
            assert!((chord.m() / 0.3048 - chord_ft).abs() < 1e-9, "{text}");
            assert!((rise.m() / 0.3048 - rise_ft).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn an_arc_goes_on_from_the_run_before() {
        // A quarter circle of radius 8': its chord is 8' times the root of 2 and turns by 45 degrees.
        let mut heading = Some(0.0);
        let chord = 8.0 * std::f64::consts::SQRT_2;
        let entry = walk_entry(&format!("arc {chord:.9}' R 8' left"), Units::Us);
        let found = entry.map(|entry| entry.chord(&mut heading));
        assert!(found.is_ok_and(|f| f.is_some_and(|(deg, _)| (deg - 45.0).abs() < 1e-6)));
        assert!(heading.is_some_and(|deg| (deg - 90.0).abs() < 1e-6));
        let alone = walk_entry("arc 4' R 8' left", Units::Us);
        assert_eq!(alone.map(|entry| entry.chord(&mut None)), Ok(None));
    }

    #[test]
    fn refused() {
        let rows = [
            ("NE 3'", "`NE` does not say how many degrees"),
            ("24'", "it starts with `24'`, where N, E, S or W should stand"),
            ("up 3'", "it starts with `up`, where N, E, S or W should stand"),
            ("N120E 3'", "a bearing has at most 90 degrees"),
            ("E", "there is no number"),
            ("arc", "it does not say whether it turns left or right"),
            ("arc E 12' R 8'", "it does not say whether it turns left or right"),
            ("arc E 12' left", "it has no radius R and no rise"),
            ("arc up 12' R 8' left", "it starts with `up`, where N, E, S or W should stand"),
            ("arc E 17' R 8' left", "its chord is longer than the diameter of its circle"),
            ("arc E 0 R 8' left", "an arc of no size is none"),
            ("arc E 12' R 8x left", "`x` after `8` is no unit of length"),
            ("E 24x", "`x` after `24` is no unit of length"),
        ];
        for (text, problem) in rows {
            assert_eq!(walk_entry(text, Units::Us).unwrap_err().problem, problem, "{text}");
        }
    }
}
