//! Cracks.

use super::Described;
use super::key::{Group, Key, Takes, id, may, must, names, note};
use super::limits::{CRACK_WIDTH, STEP};
use super::words::words;

words! {
    /// Whether a crack still moves.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    Movement {
        /// Still.
        Dormant = "dormant", "No";
        /// Opens and closes.
        Active = "active", "Yes";
        /// Nobody knows.
        #[default]
        Unknown = "unknown", "Not known";
    }
}

words! {
    /// What is done with a portion of a crack.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    CrackTreatment {
        /// The primer is enough.
        Prime = "prime", "prime";
        /// Thin resin, as it is found.
        Fill = "fill", "fill";
        /// Cut open, then filled.
        Chase = "chase", "chase";
        /// Moves: carried through the coating, rod and flexible sealant.
        Honor = "honor", "honor";
        /// Not in the job.
        Leave = "leave", "leave";
    }
}

const KEYS: [Key; 8] = [
    id("C1"),
    must(
        "path",
        Takes::Path,
        "Where it runs: the start, the bends, the end.",
        "[[3', 0], [3' 4\", 2']]",
    ),
    may("width", Takes::Length(CRACK_WIDTH), "Its width.", "1/16").asked_always("Width"),
    may(
        "widths",
        Takes::Widths,
        "Its width from a station on, where it changes; begins with station 0.",
        "[[0, 1/16], [4', 3/16]]",
    ),
    may("step", Takes::Length(STEP), "How much one side stands higher.", "0")
        .asked("Height difference across it"),
    may(
        "movement",
        Takes::Words(Movement::CHOICES),
        "Whether it still moves. Left out: unknown.",
        "dormant",
    )
    .asked_always("Does it move?"),
    may(
        "treatment",
        Takes::Words(CrackTreatment::CHOICES),
        "What is done with it. Left out: the rule.",
        "fill",
    ),
    note("hairline"),
];

pub(super) const CRACK: Described = Described {
    name: "crack",
    a: "a crack",
    define: "crack",
    list: "cracks",
    letter: "C",
    about: "A crack.",
    listed: "Cracks.",
    button: "Crack",
    seen: "crack",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[Group::One(&["width", "widths"])],
};
