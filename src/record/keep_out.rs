//! Keep-outs: slab that is not there, or has something standing on it.

use super::Described;
use super::key::{Key, REPEAT, Takes, id, may, names, note, what};
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};

const KEYS: [Key; 9] = [
    id("K1"),
    what("floor drain"),
    may("flush", Takes::Truth, "Machines run over it: a drain, a cover.", "true")
        .asked("Can machines run over it?"),
    BOX,
    CIRCLE,
    POLYGON,
    BAND,
    REPEAT,
    note("bolted down"),
];

pub(super) const KEEP_OUT: Described = Described {
    name: "keep-out",
    a: "a keep-out",
    define: "keep_out",
    list: "slab.keep_outs",
    letter: "K",
    about: "Slab that is not there, or is built over.",
    listed: "Slab that is not there, or has something standing on it.",
    button: "Keep-out",
    seen: "keep-out",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE],
};
