//! Lippage: steps between panels.

use super::Described;
use super::key::{Group, Key, Takes, id, may, must, names, note};
use super::limits::{STATION, STEP};
use super::words::{Choice, plain, words};

words! {
    /// Left or right of a path, looking along it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    Hand {
        /// To the left.
        Left = "left";
        /// To the right.
        Right = "right";
    }
}

words! {
    /// A side of the sheet.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    Compass {
        /// Up the sheet.
        N = "N", "Up";
        /// To the right on the sheet.
        E = "E", "Right";
        /// Down the sheet.
        S = "S", "Down";
        /// To the left on the sheet.
        W = "W", "Left";
    }
}

/// Which side of the line is high.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HighSide {
    /// A side of the path.
    Hand(Hand),
    /// A side of the sheet.
    Compass(Compass),
}

/// The sides by which the high one is named.
pub(crate) const SIDES: [(&str, HighSide); 6] = [
    hand(Hand::Left),
    hand(Hand::Right),
    side(Compass::N),
    side(Compass::E),
    side(Compass::S),
    side(Compass::W),
];
const NAMED: [Choice; 6] = plain(&SIDES);

const fn hand(hand: Hand) -> (&'static str, HighSide) {
    (hand.word(), HighSide::Hand(hand))
}

const fn side(side: Compass) -> (&'static str, HighSide) {
    (side.word(), HighSide::Compass(side))
}

const KEYS: [Key; 8] = [
    id("L1"),
    must("along", Takes::Along, "Id of a joint or crack, or a path.", "J1"),
    must("high", Takes::Words(&NAMED), "The high side: of the path, or of the sheet.", "left")
        .choosing("High side on the drawing", Compass::CHOICES),
    may(
        "readings",
        Takes::Readings,
        "Station and step, one after another. A step that could not be read is null, never 0.",
        "[[0, 1/16], [4', 3/16], [6', null]]",
    )
    .asked_always("Offset"),
    may("step", Takes::Length(STEP), "One step, instead of readings.", "1/4"),
    may(
        "from",
        Takes::Length(STATION),
        "With step: where it begins. Left out with to: all along.",
        "5'",
    ),
    may("to", Takes::Length(STATION), "With step: where it ends.", "7'"),
    note("settled panel"),
];

pub(super) const LIPPAGE: Described = Described {
    name: "lippage",
    a: "a lippage",
    define: "lippage",
    list: "lippage",
    letter: "L",
    about: "A line along which one side stands higher.",
    listed: "Lines along which one side stands higher.",
    button: "Offset at a joint",
    seen: "offset",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[
        Group::One(&["readings", "step"]),
        Group::Without("readings", &["from", "to"]),
        Group::Both("from", "to"),
    ],
};
