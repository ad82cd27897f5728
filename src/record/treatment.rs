//! What is done with joints and cracks.

use super::words::words;

words! {
    /// What is done with a joint or a portion of a crack.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    Treatment {
        /// Cracks: the primer is enough.
        Prime = "prime", "Primed";
        /// Joints: chased open, filled flush, coated over. Cracks: thin resin.
        Fill = "fill", "Filled";
        /// Cracks: cut open, then filled.
        Chase = "chase", "Cut open and filled";
        /// Moves: carried through the coating, rod and flexible sealant.
        Honor = "honor", "Honored";
        /// Not in the job.
        Leave = "leave", "Left";
    }
}

impl Treatment {
    /// Itself behind its word, for the tables of those that have not all of them.
    pub(crate) const fn pair(self) -> (&'static str, Self) {
        (self.word(), self)
    }
}
