//! What has to set, cure or dry before the next work.

/// A wait between the end of one work and the start of another, by slab temperature in the shop
/// book. Windows between coats and the cure belong to the coating system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wait {
    /// Joint filler, until it is shaved while still soft; it has a last time too.
    Shave,
    /// Joint filler, until it may be ground over.
    GrindFiller,
    /// Crack resin, until it may be ground over.
    GrindResin,
    /// Injection resin, until it may be ground over.
    Inject,
    /// Patch mortar, until it may be ground over and coated.
    Patch,
    /// Cove mortar, until it may be coated.
    Cove,
    /// A washed floor, until it is dry.
    Dry,
}

/// Every wait with its key in the shop book.
const NAMES: [(Wait, &str); 7] = [
    (Wait::Shave, "shave"),
    (Wait::GrindFiller, "grind_filler"),
    (Wait::GrindResin, "grind_resin"),
    (Wait::Inject, "inject"),
    (Wait::Patch, "patch"),
    (Wait::Cove, "cove"),
    (Wait::Dry, "dry"),
];

impl Wait {
    /// All waits.
    pub fn all() -> impl Iterator<Item = Self> {
        NAMES.iter().map(|(wait, _)| *wait)
    }

    /// Its key under `waits:` in the shop book.
    #[must_use]
    pub const fn key(self) -> &'static str {
        NAMES[self as usize].1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_wait_stands_in_its_own_place() {
        for (place, wait) in Wait::all().enumerate() {
            assert_eq!(wait as usize, place, "{}", wait.key());
        }
    }
}
