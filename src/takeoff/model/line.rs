//! The works of joints and cracks. What is done with one holds what only that has.

use crate::sketch::{CrackTreatment, JointKind, JointTreatment};
use crate::slab::Stretch;
use crate::takeoff::Seal;
use crate::takeoff::joints::total;

/// A joint's work.
#[derive(Clone, Debug)]
pub struct JointWork {
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: JointKind,
    /// In scope, counted once, m.
    pub length_m: f64,
    /// Opened first, m.
    pub buried_m: f64,
    /// What is done with it.
    pub repair: JointRepair,
}

/// What is done with a joint.
#[derive(Clone, Debug)]
pub enum JointRepair {
    /// Nothing: it is not in the job.
    Leave,
    /// Cut open and filled flush.
    Fill(Chase),
    /// Carried through the coating with rod and sealant.
    Honor(Seal),
}

/// What is cut of a filled joint, and what fills it.
#[derive(Clone, Debug, Default)]
pub struct Chase {
    /// Its section, and the filler.
    pub filling: Filling,
    /// Sawn, m.
    pub saw_m: f64,
    /// Followed by hand all along (curved, or wanders too much for the saw).
    pub by_hand: bool,
    /// Sawn stretches.
    pub saw: Vec<Stretch>,
    /// Stretches cut by hand.
    pub hand: Vec<Stretch>,
}

/// A section that is filled, and what that takes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Filling {
    /// Width, m.
    pub width_m: f64,
    /// Depth, m.
    pub depth_m: f64,
    /// Filler or resin in place, L.
    pub volume_l: f64,
}

/// A crack's work.
#[derive(Clone, Debug)]
pub struct CrackWork {
    /// Id.
    pub id: String,
    /// In scope, m.
    pub length_m: f64,
    /// Portions of one width and treatment, by station.
    pub portions: Vec<CrackPortion>,
}

/// A portion of a crack.
#[derive(Clone, Debug, PartialEq)]
pub struct CrackPortion {
    /// From this station, m.
    pub from_m: f64,
    /// To this station, m.
    pub to_m: f64,
    /// Its part in scope, m.
    pub length_m: f64,
    /// Width as found, m.
    pub width_m: f64,
    /// What is done with it.
    pub repair: CrackRepair,
}

/// What is done with a portion of a crack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CrackRepair {
    /// Nothing: it is not in the job.
    Leave,
    /// The primer is enough.
    Prime,
    /// Filled at the width it was found with.
    Fill(Filling),
    /// Cut open to this section, then filled.
    Chase(Filling),
    /// Carried through the coating with rod and sealant.
    Honor(Seal),
}

impl Chase {
    /// Cut by hand, m.
    #[must_use]
    pub fn hand_m(&self) -> f64 {
        total(&self.hand)
    }

    /// Separate stretches cut by hand because the saw can't get there; none where it isn't used at all.
    #[must_use]
    pub const fn hand_ends(&self) -> usize {
        if self.by_hand { 0 } else { self.hand.len() }
    }
}

impl JointWork {
    /// What is done with it in a word of the sketch.
    #[must_use]
    pub const fn treatment(&self) -> JointTreatment {
        match self.repair {
            JointRepair::Leave => JointTreatment::Leave,
            JointRepair::Fill(_) => JointTreatment::Fill,
            JointRepair::Honor(_) => JointTreatment::Honor,
        }
    }

    /// How it is cut, where it is filled.
    #[must_use]
    pub const fn chase(&self) -> Option<&Chase> {
        match &self.repair {
            JointRepair::Fill(chase) => Some(chase),
            JointRepair::Leave | JointRepair::Honor(_) => None,
        }
    }

    /// What fills it.
    #[must_use]
    pub fn filling(&self) -> Option<&Filling> {
        self.chase().map(|chase| &chase.filling)
    }

    /// Rod and sealant, where it is honored.
    #[must_use]
    pub const fn seal(&self) -> Option<&Seal> {
        match &self.repair {
            JointRepair::Honor(seal) => Some(seal),
            JointRepair::Leave | JointRepair::Fill(_) => None,
        }
    }
}

impl CrackPortion {
    /// What is done with it in a word of the sketch.
    #[must_use]
    pub const fn treatment(&self) -> CrackTreatment {
        match self.repair {
            CrackRepair::Leave => CrackTreatment::Leave,
            CrackRepair::Prime => CrackTreatment::Prime,
            CrackRepair::Fill(_) => CrackTreatment::Fill,
            CrackRepair::Chase(_) => CrackTreatment::Chase,
            CrackRepair::Honor(_) => CrackTreatment::Honor,
        }
    }

    /// What fills it, cut open first or not.
    #[must_use]
    pub const fn filling(&self) -> Option<&Filling> {
        match &self.repair {
            CrackRepair::Fill(filling) | CrackRepair::Chase(filling) => Some(filling),
            CrackRepair::Leave | CrackRepair::Prime | CrackRepair::Honor(_) => None,
        }
    }

    /// The section that it is cut open to.
    #[must_use]
    pub const fn chased(&self) -> Option<&Filling> {
        match &self.repair {
            CrackRepair::Chase(filling) => Some(filling),
            _ => None,
        }
    }

    /// Rod and sealant, where it is honored.
    #[must_use]
    pub const fn seal(&self) -> Option<&Seal> {
        match &self.repair {
            CrackRepair::Honor(seal) => Some(seal),
            _ => None,
        }
    }
}
