//! Kinds of work. A kind is an identity; its name is for printing.

use serde::Serialize;

/// A kind of work, in the order of the trade. What cures longest comes as early as it can. What a free
/// hand can do comes where the others cut and fill. The floor grinder begins on the open floor and
/// goes over joints and patches when they have set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(into = "&'static str")]
pub enum Kind {
    /// Arrive, unload, power, protect.
    SetUp,
    /// Remove an old coating, a sealer, a curing compound or adhesive.
    RemoveCoating,
    /// Wash oil out of the concrete.
    Degrease,
    /// Saw joints with the joint saw.
    SawJoints,
    /// Cut out spalls, patch them, skim shallow ones.
    Patch,
    /// Drill into delaminations and inject resin.
    Inject,
    ChaseCracks,
    /// Open joints that concrete was run over.
    OpenBuried,
    /// Widen honored joints and cracks so that rod and sealant fit.
    Widen,
    /// Take steps down by hand.
    GrindSteps,
    /// Grind the open floor by machine.
    GrindFloor,
    /// Cut joints, and the ends that the saw can't reach, with a hand grinder.
    DetailJoints,
    /// Vacuum joints, cracks and patches clean.
    CleanCuts,
    FillJoints,
    FillCracks,
    /// Shave filler.
    Shave,
    /// Grind edges by hand.
    GrindEdges,
    /// Cut and key terminations.
    CutTermination,
    /// Prepare upright faces.
    PrepareFaces,
    /// Mask walls and edges that stay clean, hang film.
    Mask,
    /// Grind by machine what was filled and patched, once it has set.
    GrindOver,
    FormCoves,
    /// Vacuum and wipe the whole floor before the first coat.
    Vacuum,
    /// Lay a coat with what is broadcast into it.
    Coat,
    /// Take the gloss off a coat whose window has closed.
    Abrade,
    /// Scrape and vacuum what was broadcast.
    Scrape,
    /// Backer rod and sealant in honored joints and cracks.
    RodAndSealant,
    /// Pack up, haul away.
    PackUp,
}

/// Every kind with its name, in the order of the trade.
const NAMES: [(Kind, &str); 28] = [
    (Kind::SetUp, "set up"),
    (Kind::RemoveCoating, "remove coating or adhesive"),
    (Kind::Degrease, "degrease"),
    (Kind::SawJoints, "saw joints"),
    (Kind::Patch, "cut out and patch"),
    (Kind::Inject, "drill and inject"),
    (Kind::ChaseCracks, "chase cracks"),
    (Kind::OpenBuried, "open buried joints"),
    (Kind::Widen, "widen for rod and sealant"),
    (Kind::GrindSteps, "grind steps by hand"),
    (Kind::GrindFloor, "grind the floor"),
    (Kind::DetailJoints, "detail joints by hand"),
    (Kind::CleanCuts, "clean joints and patches"),
    (Kind::FillJoints, "fill joints"),
    (Kind::FillCracks, "fill cracks"),
    (Kind::Shave, "shave filler"),
    (Kind::GrindEdges, "grind edges by hand"),
    (Kind::CutTermination, "cut and key termination"),
    (Kind::PrepareFaces, "prepare faces"),
    (Kind::Mask, "mask and hang film"),
    (Kind::GrindOver, "grind over joints and patches"),
    (Kind::FormCoves, "form coves"),
    (Kind::Vacuum, "vacuum and wipe"),
    (Kind::Coat, "coat"),
    (Kind::Abrade, "abrade"),
    (Kind::Scrape, "scrape and vacuum broadcast"),
    (Kind::RodAndSealant, "rod and sealant"),
    (Kind::PackUp, "pack up"),
];

impl Kind {
    /// All kinds, in the order of the trade.
    pub const ALL: [Self; NAMES.len()] = {
        let mut all = [Self::SetUp; NAMES.len()];
        let mut i = 0;
        while i < NAMES.len() {
            all[i] = NAMES[i].0;
            i += 1;
        }
        all
    };

    /// All kinds, in the order of the trade.
    pub fn all() -> impl Iterator<Item = Self> {
        Self::ALL.into_iter()
    }

    /// Whether the shop book has numbers of its own for it.
    #[must_use]
    pub const fn has_numbers(self) -> bool {
        !super::row(self).keys.is_empty()
    }

    /// What it is called in every output.
    #[must_use]
    pub const fn name(self) -> &'static str {
        NAMES[self as usize].1
    }
}

impl From<Kind> for &'static str {
    fn from(kind: Kind) -> Self {
        kind.name()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_stands_in_its_own_place() {
        for (place, (kind, name)) in NAMES.iter().enumerate() {
            assert_eq!(*kind as usize, place, "{name}");
            assert_eq!(kind.name(), *name);
        }
    }
}
