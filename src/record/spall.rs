//! Spalls: missing concrete.

use super::Described;
use super::key::{Key, REPEAT, Takes, id, must, names, note};
use super::limits::SPALL_DEPTH;
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};

const KEYS: [Key; 8] = [
    id("S1"),
    BOX,
    CIRCLE,
    POLYGON,
    BAND,
    must("depth", Takes::Length(SPALL_DEPTH), "How deep it is.", "3/8").asked("Depth"),
    REPEAT,
    note("loose edge"),
];

pub(super) const SPALL: Described = Described {
    name: "spall",
    a: "a spall",
    define: "spall",
    list: "spalls",
    letter: "S",
    about: "Missing concrete.",
    listed: "Missing concrete: pop-outs, pits, broken edges.",
    button: "Hole or broken edge",
    seen: "hole or broken edge",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE],
};
