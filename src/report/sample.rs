//! A small floor made by hand for the tests of the reports: 24 ft by 24 ft, with at least one of
//! every kind of record and the quantities worked out in inches beside them.

use kurbo::Point;

use super::Report;
use crate::diagnostic::Diagnostic;
use crate::geometry::path::Path;
use crate::geometry::rectangle::OrientedRect;
use crate::geometry::region::Region;
use crate::order::{Order, OrderRow, PourLine, PourLines};
use crate::quantity::{
    KG_PER_LB, L_PER_GAL, L_PER_IN3, M_PER_FT, M_PER_IN, M2_PER_FT2, Ratio, Temperature, Units,
};
use crate::sketch::{
    At, BlemishKind, Coating, Formed, Hand, Job, JointKind, Movement, Outline as OutlineForm,
    PathForm, PostTension, Sketch, SlabNotes, Span, Tests, Treatment,
};
use crate::slab::{
    Areas, Blemish, Closure, Crack, Edge, EdgeKind, Form, Joint, Lippage, MoistureTest, Outline,
    Panel, Shape, Slab, Spall, Stretch, Zone,
};
use crate::survey::Survey;
use crate::takeoff::{
    AreaTotals, Conditions, CrackPortion, CrackWork, JointWork, LippageWork, Patch, SpallRepair,
    SpallWork, StepStretch, Takeoff, Totals,
};

/// Feet in metres.
pub fn ft(feet: f64) -> f64 {
    feet * M_PER_FT
}

/// Inches in metres.
fn inch(inches: f64) -> f64 {
    inches * M_PER_IN
}

/// Inches in millimetres.
fn mm(inches: f64) -> f64 {
    inches * 25.4
}

/// Square inches in square metres.
fn in2(square: f64) -> f64 {
    square * M_PER_IN * M_PER_IN
}

/// Cubic inches in litres.
fn in3(cubic: f64) -> f64 {
    cubic * L_PER_IN3
}

/// The floor, written in feet and inches.
pub fn us() -> Survey {
    Survey {
        sketch: sketch(),
        slab: slab(),
        takeoff: takeoff(),
        shop: crate::order::fixture::shop(),
        order: order(),
    }
}

/// The same floor from a sketch in metres.
pub fn metric() -> Survey {
    let mut sample = us();
    sample.sketch.units = Units::Metric;
    sample.slab.units = Units::Metric;
    sample
}

/// The report, from a text whose lines are all ten bytes long.
pub fn report(sample: &Survey) -> Report<'_> {
    Report::new(sample, &"123456789\n".repeat(40), None)
}

fn at<T>(value: T) -> At<T> {
    At {
        value,
        span: Span::default(),
    }
}

fn sketch() -> Sketch {
    let path = PathForm {
        vertices: Vec::new(),
        span: Span::default(),
    };
    Sketch {
        job: Job {
            name: "Harrow Lane workshop".to_owned(),
            client: Some("A. Sample".to_owned()),
            site: Some("14 Harrow Lane".to_owned()),
            surveyed: Some(at("2026-09-14".to_owned())),
            surveyor: Some("M. Example".to_owned()),
            number: Some("26-041".to_owned()),
            notes: Some("Key under the mat; driveway too steep for the trailer.".to_owned()),
            ..Job::default()
        },
        units: Units::Us,
        shop: None,
        slab: SlabNotes {
            thickness: None,
            post_tension: at(PostTension::Unknown),
            embedded: Vec::new(),
            outline: at(OutlineForm::Path(path)),
            checks: Vec::new(),
            openings: Vec::new(),
            keep_outs: Vec::new(),
        },
        joints: Vec::new(),
        cracks: Vec::new(),
        spalls: Vec::new(),
        blemishes: Vec::new(),
        lippage: Vec::new(),
        levels: Vec::new(),
        level_rows: Vec::new(),
        tests: Tests {
            air_temperature: Some(at(Temperature::from_c(21.0))),
            air_humidity: Some(at(Ratio::from_one(0.48))),
            slab_temperature: Some(at(Temperature::from_c(19.0))),
            ..Tests::default()
        },
        coating: Coating::default(),
        photos: Vec::new(),
    }
}

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Path {
    Path::polyline(&[Point::new(ft(x0), ft(y0)), Point::new(ft(x1), ft(y1))])
}

fn boxed(width: f64, height: f64) -> Shape {
    Shape {
        form: Form::Box {
            width: inch(width),
            height: inch(height),
        },
        rings: Vec::new(),
        region: Region::empty(),
        area_m2: in2(width * height),
    }
}

fn zone(id: &str, what: &str, shape: Shape) -> Zone {
    Zone {
        id: id.to_owned(),
        what: Some(what.to_owned()),
        flush: false,
        shape,
        span: Span::default(),
    }
}

fn whole(path: &Path) -> Vec<Stretch> {
    vec![Stretch {
        from_m: 0.0,
        to_m: path.length(),
    }]
}

fn joint(id: &str, kind: JointKind, path: Path, width: f64) -> Joint {
    Joint {
        id: id.to_owned(),
        kind,
        formed: Formed::Sawn,
        width: Some(inch(width)),
        depth: Some(inch(0.5)),
        strip_depth: None,
        wander: None,
        buried: false,
        treatment: None,
        chase_width: None,
        chase_depth: None,
        note: None,
        in_scope: whole(&path),
        on_slab: whole(&path),
        on_top: Vec::new(),
        path,
        span: Span::default(),
    }
}

fn joints() -> Vec<Joint> {
    let mut j1 = joint("J1", JointKind::Control, line(12.0, 0.0, 12.0, 24.0), 0.25);
    j1.formed = Formed::Strip;
    j1.depth = Some(inch(1.0));
    j1.strip_depth = Some(inch(1.25));
    j1.wander = Some(inch(0.125));
    let j2 = joint("J2", JointKind::Isolation, line(0.0, 12.0, 24.0, 12.0), 0.5);
    let mut j3 = joint(
        "J3",
        JointKind::Construction,
        line(2.0, 2.0, 12.0, 2.0),
        0.375,
    );
    j3.wander = Some(inch(0.5));
    j3.buried = true;
    let mut j4 = joint("J4", JointKind::Control, line(2.0, 20.0, 6.0, 20.0), 0.25);
    j4.treatment = Some(Treatment::Leave);
    vec![j1, j2, j3, j4]
}

fn crack(id: &str, path: Path, widths: &[(f64, f64)], movement: Movement) -> Crack {
    Crack {
        id: id.to_owned(),
        widths: widths.iter().map(|&(s, w)| (ft(s), inch(w))).collect(),
        width_known: true,
        step: None,
        movement,
        treatment: None,
        note: None,
        in_scope: whole(&path),
        on_slab: whole(&path),
        path,
        span: Span::default(),
    }
}

fn spall(id: &str, shape: Shape, depth: f64) -> Spall {
    Spall {
        id: id.to_owned(),
        shape,
        depth: inch(depth),
        note: None,
        span: Span::default(),
    }
}

fn panel(id: &str) -> Panel {
    Panel {
        id: id.to_owned(),
        area_m2: 144.0 * M2_PER_FT2,
        length_m: ft(12.0),
        width_m: ft(12.0),
        rings: Vec::new(),
        joints: vec!["J1".to_owned(), "J2".to_owned()],
        items: vec!["C1".to_owned()],
        crack_m: ft(6.0),
        label: Point::ZERO,
    }
}

/// Gross, keep-out, uncoated and faces, ft².
const GROSS: f64 = 576.0;
const KEEP_OUT: f64 = 0.25;
const UNCOATED: f64 = 40.0 / 12.0;
const FACES: f64 = 4.0;

fn slab() -> Slab {
    let square = line(0.0, 0.0, 24.0, 0.0);
    let edge = |length: f64, kind: EdgeKind| Edge {
        ends: [Point::ZERO; 2],
        length_m: ft(length),
        kind,
    };
    Slab {
        units: Units::Us,
        thickness: Some(inch(4.0)),
        post_tension: (PostTension::Unknown, Span::default()),
        embedded: Vec::new(),
        outline: Outline {
            path: square,
            corners: Vec::new(),
            walls: Vec::new(),
            counter_clockwise: true,
            closure: None,
            span: Span::default(),
        },
        checks: Vec::new(),
        openings: Vec::new(),
        keep_outs: vec![zone("K1", "post", boxed(6.0, 6.0))],
        uncoated: vec![zone("U1", "sill strip", boxed(96.0, 5.0))],
        areas: Areas {
            gross: GROSS * M2_PER_FT2,
            keep_out: KEEP_OUT * M2_PER_FT2,
            uncoated: UNCOATED * M2_PER_FT2,
            net: (GROSS - KEEP_OUT - UNCOATED) * M2_PER_FT2,
            faces: FACES * M2_PER_FT2,
        },
        enclosed: Region::empty(),
        reached: Region::empty(),
        net: Region::empty(),
        edges: vec![
            edge(88.0, EdgeKind::Wall),
            edge(2.0, EdgeKind::KeepOut(0)),
            edge(8.0, EdgeKind::Uncoated(0)),
        ],
        obstacles: Vec::new(),
        joints: joints(),
        cracks: vec![
            crack(
                "C1",
                line(3.0, 3.0, 3.0, 9.0),
                &[(0.0, 1.0 / 16.0), (4.0, 3.0 / 16.0)],
                Movement::Dormant,
            ),
            crack(
                "C2",
                line(20.0, 3.0, 20.0, 6.0),
                &[(0.0, 0.25)],
                Movement::Active,
            ),
        ],
        spalls: vec![
            spall("S1", boxed(6.0, 3.0), 0.75),
            spall("S2", boxed(4.0, 4.0), 0.375),
            spall("S3", boxed(4.0, 1.0), 0.5),
        ],
        blemishes: vec![Blemish {
            id: "B1".to_owned(),
            what: BlemishKind::Oil,
            shape: boxed(36.0, 48.0),
            area_m2: 12.0 * M2_PER_FT2,
            note: None,
            span: Span::default(),
        }],
        lippage: vec![Lippage {
            id: "L1".to_owned(),
            along: Some("J1".to_owned()),
            path: line(12.0, 0.0, 12.0, 24.0),
            high: Hand::Left,
            readings: vec![
                (0.0, Some(inch(1.0 / 16.0))),
                (ft(4.0), Some(inch(3.0 / 16.0))),
                (ft(6.0), Some(inch(0.25))),
                (ft(9.0), Some(inch(0.125))),
            ],
            note: None,
            span: Span::default(),
        }],
        panels: ["P1", "P2", "P3", "P4"].map(panel).to_vec(),
        levels: Vec::new(),
        level_rows: Vec::new(),
        moisture: vec![MoistureTest {
            id: "M1".to_owned(),
            at: Point::ZERO,
            rh: Some(0.78),
            mver: None,
            span: Span::default(),
        }],
        hardness: Vec::new(),
        faces: Vec::new(),
        pour_from: None,
    }
}

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
        saw: Vec::new(),
        hand: Vec::new(),
    }
}

fn stretch(from_in: f64, to_in: f64) -> Stretch {
    Stretch {
        from_m: inch(from_in),
        to_m: inch(to_in),
    }
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
        rod_mm: None,
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
    honored.rod_mm = Some(mm(0.375));
    vec![
        CrackWork {
            id: "C1".to_owned(),
            length_m: ft(6.0),
            portions: vec![filled, chased],
        },
        CrackWork {
            id: "C2".to_owned(),
            length_m: ft(3.0),
            portions: vec![honored],
        },
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
    let work = |id: &str, area: f64, volume: f64, repair: SpallRepair| SpallWork {
        id: id.to_owned(),
        area_m2: in2(area),
        volume_l: in3(volume),
        repair,
    };
    vec![
        work("S1", 18.0, 81.0, SpallRepair::Patch(0)),
        work("S2", 16.0, 6.0, SpallRepair::Skim),
        work("S3", 4.0, 2.0, SpallRepair::WithJoint(0)),
    ]
}

fn patch() -> Patch {
    Patch {
        id: "R1".to_owned(),
        rect: OrientedRect {
            center: Point::new(1.0, 2.0),
            half_length: inch(6.0),
            half_width: inch(4.5),
            angle: 0.0,
        },
        spalls: vec![0],
        length_m: inch(12.0),
        width_m: inch(9.0),
        area_m2: in2(108.0),
        depth_mm: mm(0.75),
        volume_l: in3(81.0),
    }
}

fn takeoff() -> Takeoff {
    let (joints, cracks) = (joint_works(), crack_works());
    let step = lippage_work();
    let totals = Totals {
        chase_m: ft(34.0),
        saw_m: ft(23.5),
        hand_cut_m: ft(10.5),
        hand_ends: 2,
        buried_m: ft(10.0),
        fill_l: joints.iter().map(|j| j.fill_l).sum(),
        honor_m: ft(24.0),
        sealant_l: in3(36.0 + 2.25),
        crack_m: ft(9.0),
        crack_chase_m: ft(2.0),
        crack_fill_l: in3(6.0),
        patch_l: in3(87.0),
        hand_grind_m: step.hand_length_m,
        hand_grind_m2: step.hand_area_m2,
        hand_grind_l: step.removed_l,
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
        patches: vec![patch()],
        lippage: vec![step],
        hand_grind: Region::empty(),
        blemish_m2: 12.0 * M2_PER_FT2,
        totals,
        conditions: Conditions {
            dew_point_c: Some(9.6),
            spread_c: Some(9.4),
            moisture_tests_wanted: 3,
        },
        levels: None,
        findings: findings(),
    }
}

fn findings() -> Vec<Diagnostic> {
    let here = |start: usize| Span {
        start,
        end: start + 2,
    };
    vec![
        Diagnostic::stop("chase-cover", "J1 is cut 1 1/4\" deep over tubes at 1\"")
            .item("J1")
            .at(here(110))
            .hint("have the tubes located, and ask a licensed engineer")
            .source("common practice"),
        Diagnostic::warning("moisture-over", "M1 reads 78 % RH, over the limit of 75 %")
            .item("M1")
            .at(here(200)),
        Diagnostic::note("moisture-tests", "3 tests are wanted, 1 was taken").source("ASTM F2170"),
    ]
}

fn order() -> Order {
    let row = |item: &str, need: f64, unit: &'static str, package: f64, packages: u64| OrderRow {
        item: item.to_owned(),
        need,
        unit,
        package,
        packages,
        sd: 0.0,
        one_lot: false,
        packages_p90: packages + 1,
        packages_p50: packages,
        left_over: package * packages as f64 - need,
        how: vec![format!("{item}: as it was reckoned")],
    };
    Order {
        rows: vec![
            row("joint filler", 1.1 * in3(135.0 + 33.75), "L", 0.6, 6),
            row(
                "patching mortar",
                10.0 * KG_PER_LB,
                "kg",
                50.0 * KG_PER_LB,
                1,
            ),
            row("flake: base coat", 3.7 * L_PER_GAL, "L", 3.0 * L_PER_GAL, 2),
        ],
        pour_lines: vec![PourLines {
            layer: "base coat".to_owned(),
            lines: vec![PourLine {
                batch: 1,
                distance_m: ft(19.0),
                area_behind_m2: 456.0 * M2_PER_FT2,
                chords: Vec::new(),
            }],
        }],
    }
}
