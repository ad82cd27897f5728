//! Moisture tests.

use super::Described;
use super::key::{Group, Key, REPEAT, Takes, id, may, must, names};

/// Vapor emission nobody believes, in lb per 1000 ft² in 24 h; a wet slab gives 20.
pub(crate) const MOST_MVER: f64 = 100.0;

const KEYS: [Key; 5] = [
    id("M1"),
    must("at", Takes::Point, "Where.", "[6', 6']"),
    REPEAT,
    may("rh", Takes::Percent, "Relative humidity in the slab (ASTM F2170).", "72%")
        .asked("Humidity in the slab, %"),
    may(
        "mver",
        Takes::Number(0.0, MOST_MVER),
        "Vapor emission, lb per 1000 ft2 in 24 h (ASTM F1869).",
        "2.5",
    )
    .asked("Emission, lb per 1000 sq ft in 24 h"),
];

pub(super) const MOISTURE: Described = Described {
    name: "moisture",
    a: "a moisture test",
    define: "moisture_test",
    list: "tests.moisture",
    letter: "M",
    about: "A moisture test.",
    listed: "Moisture tests.",
    button: "Moisture test",
    seen: "moisture test",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[Group::Some(&["rh", "mver"])],
};
