//! What is done with joints and cracks.

/// What is done with a joint or a portion of a crack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Treatment {
    /// Cracks: the primer is enough.
    Prime,
    /// Joints: chased open, filled flush, coated over. Cracks: thin resin.
    Fill,
    /// Cracks: cut open, then filled.
    Chase,
    /// Moves: carried through the coating, rod and flexible sealant.
    Honor,
    /// Not in the job.
    Leave,
}

crate::text::in_json_by!(Treatment, word);

impl Treatment {
    /// Its word in the sketch and in every report.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Prime => "prime",
            Self::Fill => "fill",
            Self::Chase => "chase",
            Self::Honor => "honor",
            Self::Leave => "leave",
        }
    }

    /// Itself behind its word, for the tables of those that have not all of them.
    pub(crate) const fn pair(self) -> (&'static str, Self) {
        (self.word(), self)
    }
}
