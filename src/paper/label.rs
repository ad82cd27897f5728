//! A line of text with the room it takes, level or along a line of the drawing.

use crate::ink::{Align, TextMark};

use crate::ink::PaperPoint;
use crate::paper::clear::{Clear, Slip};
use crate::paper::draw;
use crate::paper::mm::{Shift, by};
use crate::paper::style::Type;
use crate::paper::words;

/// Room a line of text takes above its capitals and below its baseline, mm: commas, quotes, tails.
const AIR: f64 = 0.45;

/// Sine of the angle up to which a direction counts as level or upright, about half a degree.
const SQUARE: f64 = 0.01;

/// A line of text and the rectangle it fills.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    pub mark: TextMark,
    /// Its rectangle.
    pub slip: Slip,
}

/// The direction in which text along a line is read: from below or from the right, never upside down.
#[must_use]
pub fn reading(along: Shift) -> Shift {
    let along = along.unit();
    // A wall that is half a degree off gets level or upright text all the same.
    if along.y.abs() < SQUARE {
        return by(1.0, 0.0);
    }
    if along.x.abs() < SQUARE {
        return by(0.0, -1.0);
    }
    if along.x < 0.0 { -along } else { along }
}

impl Label {
    /// Text whose middle is at a point, along a direction.
    #[must_use]
    pub fn centered(middle: PaperPoint, text: &str, style: Type, along: Shift) -> Self {
        let along = reading(along);
        let base = middle + (-along.left()) * (style.cap() / 2.0);
        let mut mark = draw::text(base, text, style, Align::Middle);
        mark.turn = (-along.y).atan2(along.x).to_degrees();
        Self {
            mark,
            slip: Slip {
                center: middle,
                along,
                half_along: words::width(text, style) / 2.0,
                half_across: style.cap() / 2.0 + AIR,
            },
        }
    }

    /// Level text whose middle is at a point.
    #[must_use]
    pub fn level(middle: PaperPoint, text: &str, style: Type) -> Self {
        Self::centered(middle, text, style, by(1.0, 0.0))
    }

    /// Text that starts at a point and runs away from it in the given direction; the line through its middle passes the point.
    #[must_use]
    pub fn outward(from: PaperPoint, text: &str, style: Type, away: Shift) -> Self {
        let half = words::width(text, style) / 2.0;
        Self::centered(from + away.unit() * half, text, style, away)
    }

    /// The first of some places, best first, that is blank.
    #[must_use]
    pub fn first_free(
        clear: &Clear,
        distance: f64,
        places: impl IntoIterator<Item = Self>,
    ) -> Option<Self> {
        let mut places = places.into_iter();
        places.find(|place| clear.is_blank(&place.slip, distance))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::mm::{Box2, at};
    use crate::paper::style::body;

    #[test]
    fn text_is_never_upside_down() {
        let rows = [
            (by(1.0, 0.0), 0.0),
            (by(-1.0, 0.0), 0.0),
            (by(0.0, 1.0), 90.0),
            (by(0.0, -1.0), 90.0),
            (by(1.0, -1.0), 45.0),
            (by(-1.0, 1.0), 45.0),
            (by(1.0, 1.0), -45.0),
        ];
        for (along, turn) in rows {
            let label = Label::centered(at(50.0, 50.0), "12'-6\"", body(), along);
            assert!((label.mark.turn - turn).abs() < 1e-9, "{along:?} {}", label.mark.turn);
        }
    }

    #[test]
    fn text_stands_off_joints_or_nowhere() {
        let mut clear = Clear::new(Box2::new(0.0, 0.0, 100.0, 100.0));
        clear.add_soft(&[at(0.0, 20.0), at(100.0, 20.0)]);
        let places = [20.0, 40.0].map(|y| Label::level(at(50.0, y), "J1", body()));
        let found = |places: &[Label]| {
            let found = Label::first_free(&clear, 0.5, places.to_vec());
            found.map(|l| l.slip.center.y)
        };
        assert_eq!(found(&places), Some(40.0));
        assert_eq!(found(&places[..1]), None);
    }
}
