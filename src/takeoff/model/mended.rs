//! Spalls, delaminations and the patches around them.

use serde::Serialize;

use crate::geometry::rectangle::OrientedRect;
use crate::record::{Kind, LooseTreatment};

/// What is done with a spall.
#[derive(Clone, Debug, PartialEq)]
pub enum SpallRepair {
    /// Nothing: it lies where nothing is coated.
    Leave,
    /// Skimmed, or cored where it is deep.
    Skim {
        /// What of its area lies in patches and is not mended again, m².
        in_patches_m2: f64,
        /// Mortar in place on the rest, L.
        volume_l: f64,
    },
    /// Cut out and patched.
    Patch {
        /// Id of the patch.
        id: String,
        /// Its share of the mortar of the patch by area, L.
        volume_l: f64,
    },
    /// Small and on a joint: filled with it.
    WithJoint {
        /// Id of the joint.
        id: String,
        /// What of its area lies in patches and is not mended again, m².
        in_patches_m2: f64,
        /// Joint filler in place on the rest, L.
        volume_l: f64,
    },
}

impl SpallRepair {
    /// Id of the patch that it lies in.
    #[must_use]
    pub fn patch(&self) -> Option<&str> {
        match self {
            Self::Patch { id, .. } => Some(id),
            Self::Leave | Self::Skim { .. } | Self::WithJoint { .. } => None,
        }
    }

    /// Mortar in place where it is skimmed, L.
    #[must_use]
    pub const fn skimmed_l(&self) -> Option<f64> {
        match self {
            Self::Skim { volume_l, .. } => Some(*volume_l),
            Self::Leave | Self::Patch { .. } | Self::WithJoint { .. } => None,
        }
    }

    /// What is put in, mortar or joint filler, L.
    #[must_use]
    pub const fn volume_l(&self) -> f64 {
        match self {
            Self::Leave => 0.0,
            Self::Skim { volume_l, .. }
            | Self::Patch { volume_l, .. }
            | Self::WithJoint { volume_l, .. } => *volume_l,
        }
    }
}

/// A spall's work.
#[derive(Clone, Debug)]
pub struct SpallWork {
    /// Id.
    pub id: String,
    /// Area of its part in the coated floor, m².
    pub area_m2: f64,
    /// What is done.
    pub repair: SpallRepair,
}

/// What is done with a delamination.
#[derive(Clone, Debug, PartialEq)]
pub enum LooseRepair {
    /// Nothing.
    Leave,
    /// Cut out and patched.
    Patch {
        /// Id of the patch.
        id: String,
        /// Its share of the mortar of the patch by area, L.
        volume_l: f64,
    },
    /// Drilled, and filled with resin through ports.
    Inject(Injection),
}

impl LooseRepair {
    /// Id of the patch that it lies in.
    #[must_use]
    pub fn patch(&self) -> Option<&str> {
        match self {
            Self::Patch { id, .. } => Some(id),
            Self::Leave | Self::Inject(_) => None,
        }
    }

    /// What it is in a word of the sketch. A delamination that lies in a patch is cut out with it, whatever was chosen.
    #[must_use]
    pub const fn treatment(&self) -> LooseTreatment {
        match self {
            Self::Leave => LooseTreatment::Leave,
            Self::Patch { .. } => LooseTreatment::CutOut,
            Self::Inject(_) => LooseTreatment::Inject,
        }
    }
}

/// An injection.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Injection {
    /// Area injected, m²: what of the delamination lies in no patch.
    pub area_m2: f64,
    /// Ports, each in a hole of its own.
    pub ports: usize,
    /// Resin in place, L.
    pub resin_l: f64,
    /// Concrete drilled out of the holes, L.
    pub drilled_l: f64,
}

/// A delamination's work.
#[derive(Clone, Debug)]
pub struct DelaminationWork {
    /// Id.
    pub id: String,
    /// Area of its part in the coated floor, m².
    pub area_m2: f64,
    /// Thickness of the loose layer, m.
    pub depth_m: f64,
    /// Whether nobody knows that thickness and it is the shop book's.
    pub assumed: bool,
    /// What is done.
    pub repair: LooseRepair,
}

impl DelaminationWork {
    /// Whether a patch mends it, which has tag and row.
    #[must_use]
    pub const fn in_patch(&self) -> bool {
        matches!(self.repair, LooseRepair::Patch { .. })
    }

    /// The injection, where it is injected.
    #[must_use]
    pub const fn injection(&self) -> Option<&Injection> {
        match &self.repair {
            LooseRepair::Inject(injection) => Some(injection),
            LooseRepair::Leave | LooseRepair::Patch { .. } => None,
        }
    }
}

/// What a patch mends.
#[derive(Clone, Debug)]
pub struct Mended {
    /// Its kind.
    pub kind: Kind,
    /// Its id.
    pub id: String,
    /// Area of its part in the coated floor, m².
    pub area_m2: f64,
    /// Its depth, m.
    pub depth_m: f64,
}

/// A patch.
#[derive(Clone, Debug)]
pub struct Patch {
    /// `R1`, `R2` …
    pub id: String,
    /// The rectangle to cut.
    pub rect: OrientedRect,
    /// What it is cut around, in file order.
    pub around: Vec<Mended>,
    /// Longer side, m.
    pub length_m: f64,
    /// Shorter side, m.
    pub width_m: f64,
    /// Area cut, m²: the rectangle less what is not coated floor and what an earlier patch has.
    pub area_m2: f64,
    /// Depth, mm.
    pub depth_mm: f64,
    /// Mortar in place, L.
    pub volume_l: f64,
}

impl Patch {
    /// The ids of what of a kind it is cut around.
    pub fn ids_of(&self, kind: Kind) -> impl Iterator<Item = &str> {
        let these = self.around.iter().filter(move |mended| mended.kind == kind);
        these.map(|mended| mended.id.as_str())
    }

    /// The ids of what it is cut around.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.around.iter().map(|mended| mended.id.as_str())
    }
}
