//! Every equation that an explanation prints is done again from the printed text alone, and what
//! it comes to is held against the takeoff.

mod arithmetic;

use super::*;
use crate::floor::Survey;
use crate::quantity::Units;
use crate::report::sample::{demonstrations, mended, metric, us};
use crate::sketch::JointTreatment;
use arithmetic::{Equations, equations};

fn lines(sample: &Survey, id: &str) -> Vec<String> {
    let Survey { slab, takeoff, shop, order, .. } = sample;
    explain(slab, takeoff, shop, order, id).unwrap_or_else(|| panic!("{id} is not known"))
}

/// Equations of one item, all of which must hold.
fn checked(sample: &Survey, id: &str) -> usize {
    let mut checked = 0;
    for line in lines(sample, id) {
        let Equations { found, wrong } = equations(&line);
        assert!(wrong.is_empty(), "{id}: {wrong:#?}");
        checked += found;
    }
    checked
}

#[test]
fn every_equation_comes_out_as_printed() {
    // The number of equations, so that a check that finds none is noticed.
    let rows = [
        ("J1", 6, 5),
        ("J2", 6, 5),
        ("J3", 5, 4),
        ("C1", 8, 5),
        ("C2", 6, 5),
        ("S1", 2, 1),
        ("S2", 3, 2),
        ("S3", 3, 2),
        ("R1", 6, 4),
        ("L1", 8, 7),
        ("K1", 1, 1),
        ("U1", 1, 1),
        ("B1", 1, 1),
        ("P1", 1, 1),
        ("area", 4, 4),
        ("edge", 2, 2),
        ("hand-edge", 1, 1),
        ("conditions", 0, 0),
        ("totals", 20, 15),
    ];
    for (id, in_us, in_metric) in rows {
        assert_eq!(checked(&us(), id), in_us, "{id} in feet and inches");
        assert_eq!(checked(&metric(), id), in_metric, "{id} in metres");
    }
}

#[test]
fn the_last_number_is_the_takeoffs() {
    for sample in [us(), metric()] {
        let (t, say) = (&sample.takeoff, Say(sample.slab.units));
        let chase = |i: usize| t.joints[i].chase().expect("filled");
        let first = chase(0);
        let sealed = t.joints[1].seal().expect("honored");
        let crack = t.cracks[1].portions[0].seal().expect("honored");
        let rows = [
            ("J1", "Filler in place", say.liquid(first.filling.volume_l)),
            ("J1", "Chase width", say.small(first.filling.width_m)),
            ("J1", "Chase depth", say.small(first.filling.depth_m)),
            ("J1", "Sawn", say.length(first.saw_m)),
            ("J2", "Sealant in place", say.liquid(sealed.sealant_l)),
            ("J3", "Filler in place", say.liquid(chase(2).filling.volume_l)),
            ("C1", "Resin in all", say.liquid(6.0 * crate::quantity::L_PER_IN3)),
            ("C2", "Sealant in place", say.liquid(crack.sealant_l)),
            ("S2", "Mortar in place", say.solid(t.spalls[1].volume_l)),
            ("S3", "Joint filler in place", say.liquid(t.spalls[2].volume_l)),
            ("R1", "Mortar in place", say.solid(t.patches[0].volume_l)),
            ("R1", "Area", say.spot(t.patches[0].area_m2)),
            ("L1", "By hand", say.length(t.lippage[0].hand_length_m)),
            ("L1", "Band in all", say.spot(t.lippage[0].hand_area_m2)),
            ("L1", "Concrete removed in all", say.solid(t.lippage[0].removed_l)),
            ("area", "Net", say.area(t.area.net_m2)),
            ("area", "Coated", say.area(t.area.coated_m2)),
            ("edge", "Edge", say.length(t.edge_m)),
            ("hand-edge", "It reaches", say.area(t.area.hand_edge_m2)),
            ("totals", "Joint filler in place", say.liquid(t.totals.fill_l)),
            ("totals", "Mortar in place", say.solid(t.totals.patch_l)),
            ("totals", "Joint sawn", say.length(t.totals.saw_m)),
        ];
        for (id, lead, number) in rows {
            let lines = lines(&sample, id);
            let line = lines.iter().find(|line| line.starts_with(lead));
            let line = line.unwrap_or_else(|| panic!("{id} has no {lead}: {lines:#?}"));
            assert!(line.ends_with(&format!("= {number}.")), "{id}: {line} ({number})");
        }
    }
}

#[test]
fn a_joint_in_full() {
    assert_eq!(
        lines(&us(), "J1"),
        [
            "J1 is a control joint: fill (treatments.control).",
            "J1 runs 24'-0\", all of it on the coated floor.",
            "The saw stops 3\" (chase.saw_clearance) short of walls and obstacles: 2 ends by hand \
             (0'-0\" to 0'-3\", 23'-9\" to 24'-0\"), 0'-6\" together.",
            "Sawn = 24'-0\" − 0'-6\" = 23'-6\".",
            "Chase width = the larger of found 1/4\" and blade 1/4\" (chase.blade), plus wander \
             1/8\" = 3/8\".",
            "Chase depth = the largest of 3/4\" (chase.depth), 1\" found, 1 1/4\" strip left in, \
             at most 2\" (chase.deepest) = 1 1/4\".",
            "Filler in place = 24'-0\" × 3/8\" × 1 1/4\" = 135 in³ = 0.58442 gal.",
            "To buy = 0.58442 gal × 1.1 (filler.waste) = 0.64286 gal; added to all other needs \
             before rounding to packages.",
        ]
    );
}

#[test]
fn what_the_sketch_overrides_is_said() {
    let mut sample = us();
    let record = &mut sample.slab.joints[0];
    record.treatment = Some(JointTreatment::Fill);
    record.chase_width = Some(0.009_525);
    record.chase_depth = Some(0.031_75);
    record.in_scope[0].from_m = 0.3048;
    record.on_top = vec![(crate::slab::Stretch { from_m: 0.0, to_m: 0.3048 }, "J4".to_owned())];
    let text = lines(&sample, "J1").join("\n");
    for words in [
        "fill, as the sketch says.",
        "Chase width = 3/8\", as the sketch says.",
        "Chase depth = 1 1/4\", as the sketch says.",
        "stations 1'-0\" to 24'-0\" of a path 24'-0\" long",
        "1'-0\" of it (0'-0\" to 1'-0\") lies on J4 and is counted there.",
    ] {
        assert!(text.contains(words), "{words} is not in {text}");
    }
}

#[test]
fn a_joint_off_the_coated_floor_has_no_chase() {
    let mut sample = us();
    sample.slab.joints[0].in_scope.clear();
    sample.takeoff.joints[0].length_m = 0.0;
    let text = lines(&sample, "J1").join("\n");
    assert!(text.contains("nothing of it is counted"), "{text}");
    assert!(!text.contains("Chase"), "{text}");
}

#[test]
fn patches_of_several_spalls_share_their_mortar() {
    let mut sample = us();
    let t = &mut sample.takeoff;
    t.patches[0].around.push(mended("S2", 16.0, 0.375));
    t.spalls[1].repair = crate::takeoff::SpallRepair::Patch("R1".into());
    let whole = t.spalls[0].area_m2 + t.spalls[1].area_m2;
    for i in [0, 1] {
        t.spalls[i].volume_l = t.patches[0].volume_l * t.spalls[i].area_m2 / whole;
    }
    for id in ["S1", "S2", "R1"] {
        assert!(checked(&sample, id) > 0, "{id}");
    }
    assert!(lines(&sample, "R1")[1].contains("closer than 2\", or one lies in the other"));
}

#[test]
fn ids_are_all_known_and_nothing_else_is() {
    let sample = us();
    let Survey { slab, takeoff, shop, order, .. } = &sample;
    let known = ids(slab, takeoff, order);
    for id in &known {
        assert!(!lines(&sample, id).is_empty(), "{id}");
        assert!(!lines(&sample, &id.to_lowercase()).is_empty(), "{id} in lower case");
    }
    for id in ["J1", "R1", "P4", "M1", "area", "hand-edge", "totals", "joint filler"] {
        assert!(known.iter().any(|k| k == id), "{id} is not in {known:?}");
    }
    for id in ["J9", "", "levels", "all"] {
        assert_eq!(explain(slab, takeoff, shop, order, id), None, "{id:?}");
    }
    assert!(!known.iter().any(|id| id == "levels"));
}

#[test]
fn an_order_row_is_explained_by_itself() {
    assert_eq!(lines(&us(), "joint filler"), ["joint filler: as it was reckoned"]);
}

#[test]
fn both_systems_of_units_are_kept_apart() {
    let sample = metric();
    assert_eq!(sample.slab.units, Units::Metric);
    for id in ids(&sample.slab, &sample.takeoff, &sample.order) {
        for line in lines(&sample, &id) {
            let inches = line.contains('"') || line.contains("'-") || line.contains(" gal");
            assert!(!inches, "{id}: {line}");
        }
    }
}

#[test]
fn every_equation_of_the_demonstration_floors_holds() {
    for (name, survey) in demonstrations() {
        let mut found = 0;
        for id in ids(&survey.slab, &survey.takeoff, &survey.order) {
            found += checked(survey, &id);
        }
        assert!(found > 60, "{name} has {found} equations");
        for joint in &survey.takeoff.joints {
            let filled = joint.length_m > 0.0 && joint.treatment() != JointTreatment::Leave;
            assert!(!filled || checked(survey, &joint.id) >= 3, "{name} {}", joint.id);
        }
    }
}
