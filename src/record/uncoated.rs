//! Parts of the slab that are left uncoated.

use super::Described;
use super::key::{Key, id, names, what};
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};

const KEYS: [Key; 6] = [id("U1"), what("sill strip outside the door"), BOX, CIRCLE, POLYGON, BAND];

pub(super) const UNCOATED: Described = Described {
    name: "uncoated",
    a: "an uncoated part",
    define: "uncoated",
    list: "coating.uncoated",
    letter: "U",
    about: "Slab outside the job.",
    listed: "Parts of the slab outside the job.",
    button: "Left uncoated",
    seen: "left uncoated",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE],
};
