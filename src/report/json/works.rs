//! The records of joints, cracks, spalls, patches and steps.

use serde::Serialize;

use super::Number;
use crate::record::Kind;
use crate::report::Report;
use crate::slab::Stretch;
use crate::takeoff::words;
use crate::takeoff::{
    CrackPortion, CrackWork, DelaminationWork, JointWork, LippageWork, LooseRepair, Patch,
    SpallRepair, SpallWork, StepStretch,
};

#[derive(Serialize)]
struct StretchJson {
    from_m: Number,
    to_m: Number,
}

impl StretchJson {
    fn list(stretches: &[Stretch]) -> Vec<Self> {
        let one =
            |stretch: &Stretch| Self { from_m: Number(stretch.from_m), to_m: Number(stretch.to_m) };
        stretches.iter().map(one).collect()
    }
}

#[derive(Serialize)]
pub struct JointJson<'a> {
    id: &'a str,
    kind: &'static str,
    treatment: &'static str,
    length_m: Number,
    saw_m: Number,
    hand_m: Number,
    hand_ends: usize,
    chase_width_mm: Number,
    chase_depth_mm: Number,
    fill_l: Number,
    sealant_l: Number,
    rod_mm: Option<Number>,
    widen_m: Number,
    groove_mm: Number,
    removed_l: Number,
    by_hand: bool,
    buried_m: Number,
    sealant_width_mm: Number,
    sealant_depth_mm: Number,
    saw_stretches: Vec<StretchJson>,
    hand_stretches: Vec<StretchJson>,
}

impl<'a> JointJson<'a> {
    pub fn new(joint: &'a JointWork) -> Self {
        Self {
            id: &joint.id,
            kind: joint.kind.word(),
            treatment: joint.treatment.word(),
            length_m: Number(joint.length_m),
            saw_m: Number(joint.saw_m),
            hand_m: Number(joint.hand_m),
            hand_ends: joint.hand_ends,
            chase_width_mm: Number(joint.chase_width_mm),
            chase_depth_mm: Number(joint.chase_depth_mm),
            fill_l: Number(joint.fill_l),
            sealant_l: Number(joint.sealant_l),
            rod_mm: joint.rod_mm.map(Number),
            widen_m: Number(joint.widen_m),
            groove_mm: Number(joint.groove_mm),
            removed_l: Number(joint.removed_l),
            by_hand: joint.by_hand,
            buried_m: Number(joint.buried_m),
            sealant_width_mm: Number(joint.sealant_width_mm),
            sealant_depth_mm: Number(joint.sealant_depth_mm),
            saw_stretches: StretchJson::list(&joint.saw),
            hand_stretches: StretchJson::list(&joint.hand),
        }
    }
}

#[derive(Serialize)]
pub struct CrackJson<'a> {
    id: &'a str,
    length_m: Number,
    portions: Vec<PortionJson>,
}

#[derive(Serialize)]
struct PortionJson {
    from_m: Number,
    to_m: Number,
    length_m: Number,
    width_mm: Number,
    treatment: &'static str,
    fill_l: Number,
    chase_width_mm: Number,
    depth_mm: Number,
    sealant_l: Number,
    sealant_width_mm: Number,
    sealant_depth_mm: Number,
    rod_mm: Option<Number>,
    widen_m: Number,
    groove_mm: Number,
    removed_l: Number,
}

impl<'a> CrackJson<'a> {
    pub fn new(crack: &'a CrackWork) -> Self {
        Self {
            id: &crack.id,
            length_m: Number(crack.length_m),
            portions: crack.portions.iter().map(PortionJson::new).collect(),
        }
    }
}

impl PortionJson {
    fn new(portion: &CrackPortion) -> Self {
        Self {
            from_m: Number(portion.from_m),
            to_m: Number(portion.to_m),
            length_m: Number(portion.length_m),
            width_mm: Number(portion.width_mm),
            treatment: portion.treatment.word(),
            fill_l: Number(portion.fill_l),
            chase_width_mm: Number(portion.chase_width_mm),
            depth_mm: Number(portion.depth_mm),
            sealant_l: Number(portion.sealant_l),
            sealant_width_mm: Number(portion.sealant_width_mm),
            sealant_depth_mm: Number(portion.sealant_depth_mm),
            rod_mm: portion.rod_mm.map(Number),
            widen_m: Number(portion.widen_m),
            groove_mm: Number(portion.groove_mm),
            removed_l: Number(portion.removed_l),
        }
    }
}

#[derive(Serialize)]
pub struct SpallJson<'a> {
    id: &'a str,
    area_m2: Number,
    volume_l: Number,
    patch: Option<OwnPatchJson<'a>>,
    repair: &'static str,
    joint: Option<&'a str>,
}

/// The patch that mends something, as it stands in the record of that.
#[derive(Serialize)]
struct OwnPatchJson<'a> {
    id: &'a str,
    length_m: Number,
    width_m: Number,
    area_m2: Number,
    depth_mm: Number,
    spalls: Vec<&'a str>,
    delaminations: Vec<&'a str>,
}

impl<'a> OwnPatchJson<'a> {
    fn new(patch: &'a Patch) -> Self {
        Self {
            id: &patch.id,
            length_m: Number(patch.length_m),
            width_m: Number(patch.width_m),
            area_m2: Number(patch.area_m2),
            depth_mm: Number(patch.depth_mm),
            spalls: patch.ids_of(Kind::Spall).collect(),
            delaminations: patch.ids_of(Kind::Delamination).collect(),
        }
    }
}

impl<'a> SpallJson<'a> {
    pub fn new(report: &Report<'a>, spall: &'a SpallWork) -> Self {
        let takeoff = report.takeoff;
        let (patch, joint) = match &spall.repair {
            SpallRepair::Patch(id) => (takeoff.patch(id), None),
            SpallRepair::WithJoint(id) => (None, Some(id.as_str())),
            SpallRepair::Leave | SpallRepair::Skim => (None, None),
        };
        Self {
            id: &spall.id,
            area_m2: Number(spall.area_m2),
            volume_l: Number(spall.volume_l),
            patch: patch.map(OwnPatchJson::new),
            repair: words::spall_repair(&spall.repair),
            joint,
        }
    }
}

#[derive(Serialize)]
pub struct DelaminationJson<'a> {
    id: &'a str,
    area_m2: Number,
    depth_mm: Number,
    depth_assumed: bool,
    repair: &'static str,
    /// Mortar, its share of that of the patch.
    volume_l: Number,
    patch: Option<OwnPatchJson<'a>>,
    injection: Option<InjectionJson>,
}

#[derive(Serialize)]
struct InjectionJson {
    area_m2: Number,
    ports: usize,
    resin_l: Number,
    drilled_l: Number,
}

impl<'a> DelaminationJson<'a> {
    pub fn new(report: &Report<'a>, loose: &'a DelaminationWork) -> Self {
        let (patch, volume_l) = match &loose.repair {
            LooseRepair::Patch { id, volume_l } => (report.takeoff.patch(id), *volume_l),
            LooseRepair::Leave | LooseRepair::Inject(_) => (None, 0.0),
        };
        let injection = loose.injection().map(|injection| InjectionJson {
            area_m2: Number(injection.area_m2),
            ports: injection.ports,
            resin_l: Number(injection.resin_l),
            drilled_l: Number(injection.drilled_l),
        });
        Self {
            id: &loose.id,
            area_m2: Number(loose.area_m2),
            depth_mm: Number(loose.depth_m * 1000.0),
            depth_assumed: loose.assumed,
            repair: loose.repair.treatment().word(),
            volume_l: Number(volume_l),
            patch: patch.map(OwnPatchJson::new),
            injection,
        }
    }
}

#[derive(Serialize)]
pub struct PatchJson<'a> {
    id: &'a str,
    spalls: Vec<&'a str>,
    delaminations: Vec<&'a str>,
    length_m: Number,
    width_m: Number,
    area_m2: Number,
    depth_mm: Number,
    volume_l: Number,
    center_m: [Number; 2],
    angle_deg: Number,
}

impl<'a> PatchJson<'a> {
    pub fn new(patch: &'a Patch) -> Self {
        Self {
            id: &patch.id,
            spalls: patch.ids_of(Kind::Spall).collect(),
            delaminations: patch.ids_of(Kind::Delamination).collect(),
            length_m: Number(patch.length_m),
            width_m: Number(patch.width_m),
            area_m2: Number(patch.area_m2),
            depth_mm: Number(patch.depth_mm),
            volume_l: Number(patch.volume_l),
            center_m: [Number(patch.rect.center.x), Number(patch.rect.center.y)],
            angle_deg: Number(patch.rect.angle.to_degrees()),
        }
    }
}

#[derive(Serialize)]
pub struct LippageJson<'a> {
    id: &'a str,
    max_step_mm: Number,
    hand_length_m: Number,
    hand_area_m2: Number,
    removed_l: Number,
    stretches: Vec<StepJson>,
}

#[derive(Serialize)]
struct StepJson {
    from_m: Number,
    to_m: Number,
    step_from_mm: Number,
    step_to_mm: Number,
}

impl<'a> LippageJson<'a> {
    pub fn new(step: &'a LippageWork) -> Self {
        let stretch = |stretch: &StepStretch| StepJson {
            from_m: Number(stretch.from_m),
            to_m: Number(stretch.to_m),
            step_from_mm: Number(stretch.step_from_mm),
            step_to_mm: Number(stretch.step_to_mm),
        };
        Self {
            id: &step.id,
            max_step_mm: Number(step.max_step_mm),
            hand_length_m: Number(step.hand_length_m),
            hand_area_m2: Number(step.hand_area_m2),
            removed_l: Number(step.removed_l),
            stretches: step.stretches.iter().map(stretch).collect(),
        }
    }
}
