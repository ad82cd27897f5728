//! Tiers: parts of the slab that lie higher or lower than the rest.

use super::Described;
use super::key::{Key, Takes, id, may, must, names, note, what};
use super::limits::TIER_HEIGHT;
use super::shape::{BAND, BOX, CIRCLE, ONE_SHAPE, POLYGON};
use super::words::words;

words! {
    /// What is done with the riser of a tier.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    RiserFinish {
        /// Coated with the floor (also when left out).
        #[default]
        Coat = "coat", "Coated";
        /// Not coated.
        Leave = "leave", "Left uncoated";
    }
}

const KEYS: [Key; 10] = [
    id("V1"),
    what("back slab"),
    must(
        "height",
        Takes::Length(TIER_HEIGHT),
        "How much higher it lies than the rest of the floor; negative for a lower one.",
        "7\"",
    )
    .asked("Height over the floor, minus for lower"),
    may(
        "riser",
        Takes::Words(RiserFinish::CHOICES),
        "Whether its riser is coated. Left out: coat.",
        "coat",
    )
    .asked("Its upright face"),
    may(
        "cove",
        Takes::Cove,
        "Whether a cove is formed at the foot of the riser; or its radius.",
        "1\"",
    ),
    BOX,
    CIRCLE,
    POLYGON,
    BAND,
    note("edge chipped at the door"),
];

pub(super) const TIER: Described = Described {
    name: "tier",
    a: "a tier",
    define: "tier",
    list: "slab.tiers",
    letter: "V",
    about: "A part of the slab that lies higher or lower than the rest, with a riser where they meet. It may run past the walls.",
    listed: "Parts that lie higher or lower than the rest.",
    button: "Higher or lower part",
    seen: "raised or sunken part",
    keys: &KEYS,
    names: &names(&KEYS),
    groups: &[ONE_SHAPE],
};
