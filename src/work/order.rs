//! What comes before what.

use crate::trade::{Kind, Wait};

/// A work that must be done before another may start, and what has to set, cure or dry between.
pub type Before = (Kind, Kind, Option<Wait>);

/// What comes before what (common practice). Coats among each other, scraping and sealant follow
/// the windows of the coating system and stand with the plan.
///
/// Edges, terminations and the open floor only wait for what would be ground into them: they are
/// done by the hands that are free while others cut and fill. The floor grinder comes back over what
/// was filled and patched when that has set.
pub const BEFORE: &[Before] = {
    use Kind::{
        ChaseCracks, CleanCuts, Coat, CutTermination, Degrease, DetailJoints, FillCracks,
        FillJoints, FormCoves, GrindEdges, GrindFloor, GrindOver, GrindSteps, Inject, Mask,
        OpenBuried, Patch, PrepareFaces, RemoveCoating, SawJoints, Shave, Vacuum, Widen,
    };
    &[
        (RemoveCoating, SawJoints, None),
        (RemoveCoating, DetailJoints, None),
        (RemoveCoating, OpenBuried, None),
        (RemoveCoating, ChaseCracks, None),
        (RemoveCoating, Widen, None),
        (RemoveCoating, Patch, None),
        (RemoveCoating, Inject, None),
        (RemoveCoating, GrindSteps, None),
        (RemoveCoating, GrindEdges, None),
        (RemoveCoating, GrindFloor, None),
        (RemoveCoating, GrindOver, None),
        (Degrease, Patch, Some(Wait::Dry)),
        (Degrease, Inject, Some(Wait::Dry)),
        (Degrease, FillJoints, Some(Wait::Dry)),
        (Degrease, FillCracks, Some(Wait::Dry)),
        (Degrease, GrindSteps, Some(Wait::Dry)),
        (Degrease, GrindEdges, Some(Wait::Dry)),
        (Degrease, GrindFloor, Some(Wait::Dry)),
        (Degrease, GrindOver, Some(Wait::Dry)),
        (SawJoints, DetailJoints, None),
        (SawJoints, CleanCuts, None),
        (DetailJoints, CleanCuts, None),
        (OpenBuried, CleanCuts, None),
        (ChaseCracks, CleanCuts, None),
        (Widen, CleanCuts, None),
        (CleanCuts, FillJoints, None),
        (CleanCuts, FillCracks, None),
        (GrindSteps, FillJoints, None),
        (GrindSteps, FillCracks, None),
        (GrindSteps, GrindFloor, None),
        (FillJoints, Shave, Some(Wait::Shave)),
        (FillJoints, GrindOver, Some(Wait::GrindFiller)),
        (FillCracks, GrindOver, Some(Wait::GrindResin)),
        (Patch, GrindOver, Some(Wait::Patch)),
        (Inject, GrindOver, Some(Wait::Inject)),
        (Shave, GrindOver, None),
        (GrindFloor, GrindOver, None),
        (PrepareFaces, FormCoves, None),
        (GrindFloor, FormCoves, None),
        (GrindOver, FormCoves, None),
        (SawJoints, Vacuum, None),
        (GrindSteps, Vacuum, None),
        (GrindEdges, Vacuum, None),
        (GrindFloor, Vacuum, None),
        (GrindOver, Vacuum, None),
        (DetailJoints, Vacuum, None),
        (CutTermination, Vacuum, None),
        (PrepareFaces, Vacuum, None),
        (FormCoves, Coat, Some(Wait::Cove)),
        (Mask, Coat, None),
        (Vacuum, Coat, None),
    ]
};
