//! The records of joints and cracks. They are flat: whatever is done with one, every key is there, with nought for what it has not.

use serde::Serialize;

use crate::sketch::{CrackTreatment, JointKind, JointTreatment};
use crate::slab::Stretch;
use crate::takeoff::{Chase, CrackPortion, CrackWork, JointWork};

#[derive(Serialize)]
pub struct JointJson<'a> {
    id: &'a str,
    kind: JointKind,
    treatment: JointTreatment,
    length_m: f64,
    saw_m: f64,
    hand_m: f64,
    hand_ends: usize,
    chase_width_mm: f64,
    chase_depth_mm: f64,
    fill_l: f64,
    sealant_l: f64,
    rod_mm: Option<f64>,
    widen_m: f64,
    groove_mm: f64,
    removed_l: f64,
    by_hand: bool,
    buried_m: f64,
    sealant_width_mm: f64,
    sealant_depth_mm: f64,
    saw_stretches: Vec<StretchJson>,
    hand_stretches: Vec<StretchJson>,
}

impl<'a> JointJson<'a> {
    pub fn new(joint: &'a JointWork) -> Self {
        let chase = joint.chase().cloned().unwrap_or_default();
        let Chase { filling, saw_m, by_hand, .. } = chase;
        let seal = joint.seal().copied().unwrap_or_default();
        Self {
            id: &joint.id,
            kind: joint.kind,
            treatment: joint.treatment(),
            length_m: joint.length_m,
            saw_m,
            hand_m: chase.hand_m(),
            hand_ends: chase.hand_ends(),
            chase_width_mm: mm(filling.width_m),
            chase_depth_mm: mm(filling.depth_m),
            fill_l: filling.volume_l,
            sealant_l: seal.sealant_l,
            rod_mm: seal.rod_m.map(mm),
            widen_m: seal.widen_m,
            groove_mm: mm(seal.groove_m),
            removed_l: seal.removed_l,
            by_hand,
            buried_m: joint.buried_m,
            sealant_width_mm: mm(seal.width_m),
            sealant_depth_mm: mm(seal.depth_m),
            saw_stretches: chase.saw.iter().map(StretchJson::new).collect(),
            hand_stretches: chase.hand.iter().map(StretchJson::new).collect(),
        }
    }
}

const fn mm(m: f64) -> f64 {
    m * 1000.0
}

#[derive(Serialize)]
struct StretchJson {
    from_m: f64,
    to_m: f64,
}

impl StretchJson {
    const fn new(&Stretch { from_m, to_m }: &Stretch) -> Self {
        Self { from_m, to_m }
    }
}

#[derive(Serialize)]
pub struct CrackJson<'a> {
    id: &'a str,
    length_m: f64,
    portions: Vec<PortionJson>,
}

impl<'a> CrackJson<'a> {
    pub fn new(crack: &'a CrackWork) -> Self {
        Self {
            id: &crack.id,
            length_m: crack.length_m,
            portions: crack.portions.iter().map(PortionJson::new).collect(),
        }
    }
}

#[derive(Serialize)]
struct PortionJson {
    from_m: f64,
    to_m: f64,
    length_m: f64,
    width_mm: f64,
    treatment: CrackTreatment,
    fill_l: f64,
    chase_width_mm: f64,
    depth_mm: f64,
    sealant_l: f64,
    sealant_width_mm: f64,
    sealant_depth_mm: f64,
    rod_mm: Option<f64>,
    widen_m: f64,
    groove_mm: f64,
    removed_l: f64,
}

impl PortionJson {
    fn new(portion: &CrackPortion) -> Self {
        let filling = portion.filling().copied().unwrap_or_default();
        let seal = portion.seal().copied().unwrap_or_default();
        Self {
            from_m: portion.from_m,
            to_m: portion.to_m,
            length_m: portion.length_m,
            width_mm: mm(portion.width_m),
            treatment: portion.treatment(),
            fill_l: filling.volume_l,
            chase_width_mm: portion.chased().map_or(0.0, |groove| mm(groove.width_m)),
            depth_mm: mm(filling.depth_m),
            sealant_l: seal.sealant_l,
            sealant_width_mm: mm(seal.width_m),
            sealant_depth_mm: mm(seal.depth_m),
            rod_mm: seal.rod_m.map(mm),
            widen_m: seal.widen_m,
            groove_mm: mm(seal.groove_m),
            removed_l: seal.removed_l,
        }
    }
}
