//! Delaminations: a layer of the slab that has come loose and sounds hollow.

use super::Described;
use super::key::{Key, Takes, id, may, names, note};
use super::limits::DELAMINATION_DEPTH;
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};
use super::words::words;

words! {
    /// What is done with concrete that sounds hollow.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
    LooseTreatment {
        /// Cut out square and filled with mortar (also when left out).
        #[default]
        CutOut = "cut-out", "Cut out";
        /// Drilled, and filled with resin through ports.
        Inject = "inject", "Injected";
        /// Left as it is.
        Leave = "leave", "Left as it is";
    }
}

const KEYS: [Key; 8] = [
    id("D1"),
    BOX,
    CIRCLE,
    POLYGON,
    BAND,
    may(
        "depth",
        Takes::Length(DELAMINATION_DEPTH),
        "How thick the loose layer is. Left out: the shop book's, and papers say that it is assumed.",
        "3/4",
    )
    .asked("Thickness of the loose layer"),
    may(
        "treatment",
        Takes::Words(LooseTreatment::CHOICES),
        "What is done with it. Left out: cut-out.",
        "inject",
    )
    .asked("What is done with it"),
    note("sounded by hammer"),
];

pub(super) const DELAMINATION: Described = Described {
    name: "delamination",
    a: "a delamination",
    define: "delamination",
    list: "delaminations",
    letter: "D",
    about: "A layer of the slab that has come loose: it sounds hollow under a chain or a hammer.",
    listed: "Loose layers, sounded by chain drag and hammer.",
    button: "Hollow spot",
    seen: "hollow spot",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE],
};
