//! What comes before what.

use crate::trade::{Kind, Wait};

/// A work that must be done before another may start, and what has to set, cure or dry between.
pub type Before = (Kind, Kind, Option<Wait>);

/// What comes before what (common practice). Coats among each other, scraping and sealant follow
/// the windows of the coating system and stand with the plan.
///
/// Edges and terminations only wait for what would be ground into them: they are done by the hands
/// that are free while filler sets. The floor grinder goes over everything that was cut and filled.
pub const BEFORE: &[Before] = {
    use Kind::{
        ChaseCracks, CleanCuts, Coat, CutTermination, Degrease, DetailJoints, FillCracks,
        FillJoints, FormCoves, GrindEdges, GrindFloor, GrindSteps, Mask, OpenBuried, Patch,
        PrepareFaces, RemoveCoating, SawJoints, Shave, Vacuum, Widen,
    };
    &[
        (RemoveCoating, SawJoints, None),
        (RemoveCoating, DetailJoints, None),
        (RemoveCoating, OpenBuried, None),
        (RemoveCoating, ChaseCracks, None),
        (RemoveCoating, Widen, None),
        (RemoveCoating, Patch, None),
        (RemoveCoating, GrindSteps, None),
        (RemoveCoating, GrindEdges, None),
        (RemoveCoating, GrindFloor, None),
        (Degrease, Patch, Some(Wait::Dry)),
        (Degrease, FillJoints, Some(Wait::Dry)),
        (Degrease, FillCracks, Some(Wait::Dry)),
        (Degrease, GrindSteps, Some(Wait::Dry)),
        (Degrease, GrindEdges, Some(Wait::Dry)),
        (Degrease, GrindFloor, Some(Wait::Dry)),
        (SawJoints, DetailJoints, None),
        (SawJoints, CleanCuts, None),
        (DetailJoints, CleanCuts, None),
        (OpenBuried, CleanCuts, None),
        (ChaseCracks, CleanCuts, None),
        (Widen, CleanCuts, None),
        (CleanCuts, FillJoints, None),
        (CleanCuts, FillCracks, None),
        (CleanCuts, GrindFloor, None),
        (FillJoints, Shave, Some(Wait::Shave)),
        (FillJoints, GrindSteps, Some(Wait::GrindFiller)),
        (FillJoints, GrindFloor, Some(Wait::GrindFiller)),
        (FillCracks, GrindSteps, Some(Wait::GrindResin)),
        (FillCracks, GrindFloor, Some(Wait::GrindResin)),
        (Patch, GrindSteps, Some(Wait::Patch)),
        (Patch, GrindFloor, Some(Wait::Patch)),
        (Shave, GrindFloor, None),
        (GrindSteps, GrindFloor, None),
        (PrepareFaces, FormCoves, None),
        (GrindFloor, FormCoves, None),
        (SawJoints, Vacuum, None),
        (GrindSteps, Vacuum, None),
        (GrindEdges, Vacuum, None),
        (GrindFloor, Vacuum, None),
        (CutTermination, Vacuum, None),
        (PrepareFaces, Vacuum, None),
        (FormCoves, Coat, Some(Wait::Cove)),
        (Mask, Coat, None),
        (Vacuum, Coat, None),
    ]
};
