//! The quantities of the sample, worked out in inches.

use kurbo::Point;

use super::slab::{FACES, GROSS, KEEP_OUT, UNCOATED};
use super::{findings, ft, in2, in3, inch, mm};
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::quantity::M2_PER_FT2;
use crate::record::Kind;
use crate::sketch::JointKind;
use crate::slab::{Closure, Stretch};
use crate::takeoff::{
    AreaTotals, Chase, Conditions, CrackPortion, CrackRepair, CrackWork, Filling, JointRepair,
    JointWork, LippageWork, Mended, Patch, Seal, SpallRepair, SpallWork, StepStretch, Takeoff,
    Totals,
};

fn joint_work(id: &str, kind: JointKind, length: f64, repair: JointRepair) -> JointWork {
    JointWork { id: id.to_owned(), kind, length_m: ft(length), buried_m: 0.0, repair }
}

/// A section of so many inches, so long.
fn filling(length: f64, width: f64, depth: f64) -> Filling {
    Filling {
        width_m: inch(width),
        depth_m: inch(depth),
        volume_l: in3(length * 12.0 * width * depth),
    }
}

/// Sealed at a width that is found and stays.
fn seal(length: f64, width: f64, depth: f64, rod: f64) -> Seal {
    Seal {
        width_m: inch(width),
        depth_m: inch(depth),
        sealant_l: in3(length * 12.0 * width * depth),
        rod_m: Some(inch(rod)),
        ..Seal::default()
    }
}

fn stretch(from_in: f64, to_in: f64) -> Stretch {
    Stretch { from_m: inch(from_in), to_m: inch(to_in) }
}

fn joint_works() -> Vec<JointWork> {
    let sawn = Chase {
        filling: filling(24.0, 0.375, 1.25),
        saw_m: ft(23.5),
        by_hand: false,
        saw: vec![stretch(3.0, 285.0)],
        hand: vec![stretch(0.0, 3.0), stretch(285.0, 288.0)],
    };
    let by_hand = Chase {
        filling: filling(10.0, 0.375, 0.75),
        saw_m: 0.0,
        by_hand: true,
        saw: Vec::new(),
        hand: vec![stretch(0.0, 120.0)],
    };
    let honored = JointRepair::Honor(seal(24.0, 0.5, 0.25, 0.625));
    let j3 = joint_work("J3", JointKind::Construction, 10.0, JointRepair::Fill(by_hand));
    vec![
        joint_work("J1", JointKind::Control, 24.0, JointRepair::Fill(sawn)),
        joint_work("J2", JointKind::Isolation, 24.0, honored),
        JointWork { buried_m: ft(10.0), ..j3 },
        joint_work("J4", JointKind::Control, 4.0, JointRepair::Leave),
    ]
}

fn portion(from: f64, to: f64, width: f64, repair: CrackRepair) -> CrackPortion {
    let (from_m, to_m, length_m) = (ft(from), ft(to), ft(to - from));
    CrackPortion { from_m, to_m, length_m, width_m: inch(width), repair }
}

fn crack_works() -> Vec<CrackWork> {
    let filled = CrackRepair::Fill(filling(4.0, 1.0 / 16.0, 1.0));
    let chased = CrackRepair::Chase(filling(2.0, 0.25, 0.5));
    let honored = CrackRepair::Honor(seal(3.0, 0.25, 0.25, 0.375));
    let c1 = vec![portion(0.0, 4.0, 1.0 / 16.0, filled), portion(4.0, 6.0, 3.0 / 16.0, chased)];
    let c2 = vec![portion(0.0, 3.0, 0.25, honored)];
    vec![
        CrackWork { id: "C1".to_owned(), length_m: ft(6.0), portions: c1 },
        CrackWork { id: "C2".to_owned(), length_m: ft(3.0), portions: c2 },
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
        fill_l: joints.iter().filter_map(|j| Some(j.filling()?.volume_l)).sum(),
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
