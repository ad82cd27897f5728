//! The quantities of the sample, worked out in inches.

use kurbo::Point;

use super::slab::{FACES, GROSS, KEEP_OUT, UNCOATED};
use super::{findings, ft, in2, in3, inch, mm};
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::quantity::M2_PER_FT2;
use crate::record::Kind;
use crate::sketch::{JointKind, Treatment};
use crate::slab::{Closure, Stretch};
use crate::takeoff::{
    AreaTotals, Conditions, CrackPortion, CrackWork, JointWork, LippageWork, Mended, Patch,
    SpallRepair, SpallWork, StepStretch, Takeoff, Totals,
};

fn joint_work(id: &str, kind: JointKind, treatment: Treatment, length: f64) -> JointWork {
    JointWork {
        id: id.to_owned(),
        kind,
        treatment,
        length_m: ft(length),
        saw_m: 0.0,
        hand_m: 0.0,
        hand_ends: 0,
        by_hand: false,
        buried_m: 0.0,
        chase_width_mm: 0.0,
        chase_depth_mm: 0.0,
        fill_l: 0.0,
        sealant_l: 0.0,
        sealant_width_mm: 0.0,
        sealant_depth_mm: 0.0,
        rod_mm: None,
        widen_m: 0.0,
        groove_mm: 0.0,
        removed_l: 0.0,
        saw: Vec::new(),
        hand: Vec::new(),
    }
}

fn stretch(from_in: f64, to_in: f64) -> Stretch {
    Stretch { from_m: inch(from_in), to_m: inch(to_in) }
}

fn joint_works() -> Vec<JointWork> {
    let mut j1 = joint_work("J1", JointKind::Control, Treatment::Fill, 24.0);
    j1.saw_m = ft(23.5);
    j1.hand_m = ft(0.5);
    j1.hand_ends = 2;
    j1.chase_width_mm = mm(0.375);
    j1.chase_depth_mm = mm(1.25);
    j1.fill_l = in3(288.0 * 0.375 * 1.25);
    j1.saw = vec![stretch(3.0, 285.0)];
    j1.hand = vec![stretch(0.0, 3.0), stretch(285.0, 288.0)];
    let mut j2 = joint_work("J2", JointKind::Isolation, Treatment::Honor, 24.0);
    j2.sealant_width_mm = mm(0.5);
    j2.sealant_depth_mm = mm(0.25);
    j2.sealant_l = in3(288.0 * 0.5 * 0.25);
    j2.rod_mm = Some(mm(0.625));
    let mut j3 = joint_work("J3", JointKind::Construction, Treatment::Fill, 10.0);
    j3.hand_m = ft(10.0);
    j3.by_hand = true;
    j3.buried_m = ft(10.0);
    j3.chase_width_mm = mm(0.375);
    j3.chase_depth_mm = mm(0.75);
    j3.fill_l = in3(120.0 * 0.375 * 0.75);
    j3.hand = vec![stretch(0.0, 120.0)];
    let j4 = joint_work("J4", JointKind::Control, Treatment::Leave, 4.0);
    vec![j1, j2, j3, j4]
}

fn portion(from: f64, to: f64, width: f64, treatment: Treatment) -> CrackPortion {
    CrackPortion {
        from_m: ft(from),
        to_m: ft(to),
        length_m: ft(to - from),
        width_mm: mm(width),
        treatment,
        chase_width_mm: 0.0,
        depth_mm: 0.0,
        fill_l: 0.0,
        sealant_l: 0.0,
        sealant_width_mm: 0.0,
        sealant_depth_mm: 0.0,
        rod_mm: None,
        widen_m: 0.0,
        groove_mm: 0.0,
        removed_l: 0.0,
    }
}

fn crack_works() -> Vec<CrackWork> {
    let mut filled = portion(0.0, 4.0, 1.0 / 16.0, Treatment::Fill);
    filled.depth_mm = mm(1.0);
    filled.fill_l = in3(48.0 / 16.0);
    let mut chased = portion(4.0, 6.0, 3.0 / 16.0, Treatment::Chase);
    chased.chase_width_mm = mm(0.25);
    chased.depth_mm = mm(0.5);
    chased.fill_l = in3(24.0 * 0.25 * 0.5);
    let mut honored = portion(0.0, 3.0, 0.25, Treatment::Honor);
    honored.sealant_l = in3(36.0 * 0.25 * 0.25);
    honored.sealant_width_mm = mm(0.25);
    honored.sealant_depth_mm = mm(0.25);
    honored.rod_mm = Some(mm(0.375));
    vec![
        CrackWork { id: "C1".to_owned(), length_m: ft(6.0), portions: vec![filled, chased] },
        CrackWork { id: "C2".to_owned(), length_m: ft(3.0), portions: vec![honored] },
    ]
}

/// Cubic inches removed from a stretch of `d` inches with steps `a` and `b`, feathered at 1:12.
fn removed(d: f64, a: f64, b: f64) -> f64 {
    6.0 * d * (a * a + a * b + b * b) / 3.0
}

fn lippage_work() -> LippageWork {
    let (low, high) = (3.0 / 16.0, 0.25);
    let stretch = |from: f64, to: f64, a: f64, b: f64| StepStretch {
        from_m: ft(from),
        to_m: ft(to),
        step_from_mm: mm(a),
        step_to_mm: mm(b),
    };
    LippageWork {
        id: "L1".to_owned(),
        max_step_mm: mm(high),
        hand_length_m: ft(3.5),
        hand_area_m2: in2(12.0 * 42.0 * (low + high) / 2.0),
        removed_l: in3(removed(24.0, low, high) + removed(18.0, high, low)),
        stretches: vec![stretch(4.0, 6.0, low, high), stretch(6.0, 7.5, high, low)],
        band: Vec::new(),
    }
}

fn spall_works() -> Vec<SpallWork> {
    let work = |id: &str, area: f64, repair: SpallRepair| SpallWork {
        id: id.to_owned(),
        area_m2: in2(area),
        repair,
    };
    let (in_patches_m2, joint) = (0.0, "J1".to_owned());
    vec![
        work("S1", 18.0, SpallRepair::Patch { id: "R1".to_owned(), volume_l: in3(81.0) }),
        work("S2", 16.0, SpallRepair::Skim { in_patches_m2, volume_l: in3(6.0) }),
        work("S3", 4.0, SpallRepair::WithJoint { id: joint, in_patches_m2, volume_l: in3(2.0) }),
    ]
}

fn patch() -> Patch {
    let (id, area_m2, depth_m) = ("S1".to_owned(), in2(18.0), inch(0.75));
    Patch {
        id: "R1".to_owned(),
        rect: OrientedRect {
            center: Point::new(1.0, 2.0),
            half_length: inch(6.0),
            half_width: inch(4.5),
            angle: 0.0,
        },
        around: vec![Mended { kind: Kind::Spall, id, area_m2, depth_m }],
        length_m: inch(12.0),
        width_m: inch(9.0),
        area_m2: in2(108.0),
        depth_mm: mm(0.75),
        volume_l: in3(81.0),
    }
}

pub(super) fn takeoff() -> Takeoff {
    let (joints, cracks) = (joint_works(), crack_works());
    let step = lippage_work();
    let totals = Totals {
        chase_m: ft(34.0),
        saw_m: ft(23.5),
        hand_cut_m: ft(10.5),
        hand_ends: 2,
        buried_m: ft(10.0),
        fill_l: joints.iter().map(|j| j.fill_l).sum(),
        honor_m: ft(27.0),
        widen_m: 0.0,
        sealant_l: in3(36.0 + 2.25),
        crack_m: ft(9.0),
        crack_fill_m: ft(6.0),
        crack_chase_m: ft(2.0),
        crack_fill_l: in3(6.0),
        patch_l: in3(87.0),
        hand_grind_m: step.hand_length_m,
        hand_grind_m2: step.hand_area_m2,
        hand_grind_l: step.removed_l,
        blemish_m2: 12.0 * M2_PER_FT2,
        ..Totals::default()
    };
    Takeoff {
        area: AreaTotals {
            gross_m2: GROSS * M2_PER_FT2,
            keep_out_m2: KEEP_OUT * M2_PER_FT2,
            uncoated_m2: UNCOATED * M2_PER_FT2,
            net_m2: (GROSS - KEEP_OUT - UNCOATED) * M2_PER_FT2,
            faces_m2: FACES * M2_PER_FT2,
            coated_m2: (GROSS - KEEP_OUT - UNCOATED + FACES) * M2_PER_FT2,
            hand_edge_m2: 30.0 * M2_PER_FT2,
        },
        edge_m: ft(98.0),
        termination_m: ft(8.0),
        closure: Some(Closure {
            misclosure_m: inch(0.5),
            east_m: inch(0.5),
            north_m: 0.0,
            walked_m: ft(96.0),
            shared_out: true,
        }),
        hand_edge: Region::empty(),
        joints,
        cracks,
        spalls: spall_works(),
        delaminations: Vec::new(),
        patches: vec![patch()],
        lippage: vec![step],
        hand_grind: Region::empty(),
        totals,
        conditions: Conditions {
            dew_point_c: Some(9.6),
            spread_c: Some(9.4),
            moisture_tests_wanted: 3,
            rh_tests: 1,
            mver_tests: 0,
        },
        levels: None,
        findings: findings(),
    }
}
