//! The floor of the sample.

use kurbo::Point;

use super::{ft, in2, inch};
use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::quantity::{M2_PER_FT2, Units};
use crate::sketch::{
    BlemishKind, Formed, Hand, JointKind, JointTreatment, Movement, PostTension, Span,
};
use crate::slab::{
    Areas, Blemish, Crack, Edge, EdgeKind, Form, Joint, Lippage, MoistureTest, Outline, Panel,
    Shape, Slab, Spall, Stretch, Zone,
};

fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Path {
    Path::polyline(&[Point::new(ft(x0), ft(y0)), Point::new(ft(x1), ft(y1))])
}

fn boxed(width: f64, height: f64) -> Shape {
    Shape {
        form: Form::Box { width: inch(width), height: inch(height) },
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
    vec![Stretch { from_m: 0.0, to_m: path.length() }]
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
        gaps: Vec::new(),
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
    let mut j3 = joint("J3", JointKind::Construction, line(2.0, 2.0, 12.0, 2.0), 0.375);
    j3.wander = Some(inch(0.5));
    j3.buried = true;
    let mut j4 = joint("J4", JointKind::Control, line(2.0, 20.0, 6.0, 20.0), 0.25);
    j4.treatment = Some(JointTreatment::Leave);
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
        on_top: Vec::new(),
        crowded: false,
        path,
        span: Span::default(),
    }
}

fn spall(id: &str, shape: Shape, depth: f64) -> Spall {
    Spall {
        id: id.to_owned(),
        part: shape.region.clone(),
        area_m2: shape.area_m2,
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
pub(super) const GROSS: f64 = 576.0;
pub(super) const KEEP_OUT: f64 = 0.25;
pub(super) const UNCOATED: f64 = 40.0 / 12.0;
pub(super) const FACES: f64 = 4.0;

pub(super) fn slab() -> Slab {
    let square = line(0.0, 0.0, 24.0, 0.0);
    let edge =
        |length: f64, kind: EdgeKind| Edge { ends: [Point::ZERO; 2], length_m: ft(length), kind };
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
        tiers: Vec::new(),
        risers: Vec::new(),
        // The walls that J1 runs from and to.
        obstacles: [0.0, 24.0].map(|y| [0.0, 24.0].map(|x| Point::new(ft(x), ft(y)))).to_vec(),
        joints: joints(),
        cracks: vec![
            crack(
                "C1",
                line(3.0, 3.0, 3.0, 9.0),
                &[(0.0, 1.0 / 16.0), (4.0, 3.0 / 16.0)],
                Movement::Dormant,
            ),
            crack("C2", line(20.0, 3.0, 20.0, 6.0), &[(0.0, 0.25)], Movement::Active),
        ],
        spalls: vec![
            spall("S1", boxed(6.0, 3.0), 0.75),
            spall("S2", boxed(4.0, 4.0), 0.375),
            spall("S3", boxed(4.0, 1.0), 0.5),
        ],
        delaminations: Vec::new(),
        blemishes: vec![Blemish {
            id: "B1".to_owned(),
            what: BlemishKind::Oil,
            shape: boxed(36.0, 48.0),
            area_m2: 12.0 * M2_PER_FT2,
            tested: None,
            tested_on: None,
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
