//! Every equation that an explanation prints is done again from the printed text alone, and what
//! it comes to is held against the takeoff.

mod arithmetic;

use super::*;
use crate::quantity::Units;
use crate::report::sample::demonstrations;
use crate::sheet::fixture::floor;
use crate::sketch::JointTreatment;
use crate::survey;
use arithmetic::{Equations, equations};

/// A floor with one of nearly everything.
const FLOOR: &str = "slabwalk: 1
job: {name: Harrow Lane workshop}
slab:
  thickness: 4\"
  outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]
  keep_outs: [{what: post, box: {corner: [18', 16'], size: [6\", 6\"]}}]
joints:
  - {kind: control, formed: strip, x: 12', width: 1/4\", depth: 1\", strip_depth: 1 1/4\", wander: 1/8\"}
  - {kind: isolation, y: 12', width: 1/2\", depth: 1/2\"}
  - {kind: construction, path: [[2', 2'], [12', 2']], width: 3/8\", depth: 1/2\", wander: 1/2\", buried: true}
  - {kind: control, path: [[2', 20'], [6', 20']], width: 1/4\", depth: 1/2\", treatment: leave}
cracks:
  - {path: [[3', 3'], [3', 9']], widths: [[0, 1/16\"], [4', 3/16\"]], movement: dormant}
  - {path: [[20', 3'], [20', 6']], width: 1/4\", movement: active}
spalls:
  - {box: {corner: [6', 6'], size: [6\", 3\"]}, depth: 3/4\"}
  - {box: {corner: [16', 6'], size: [4\", 4\"]}, depth: 3/8\"}
  - {box: {corner: [11' 10\", 8'], size: [4\", 1\"]}, depth: 1/2\"}
blemishes: [{what: oil, box: {corner: [15', 18'], size: [36\", 48\"]}}]
lippage: [{along: J1, high: left, readings: [[0, 1/16\"], [4', 3/16\"], [6', 1/4\"], [9', 1/8\"]]}]
tests:
  moisture: [{at: [8', 8'], rh: 78%}]
  air: {temperature: 70 F, humidity: 48%}
  slab_temperature: 66 F
coating:
  system: flake
  uncoated: [{what: sill strip, box: {corner: [14', 0], size: [96\", 5\"]}}]
  faces: [{name: curb, path: [[0, 24'], [8', 24']], height: 6\", cove: 1\"}]
";

fn us() -> Survey {
    floor(FLOOR)
}

/// The same floor from a sketch in metres.
fn metric() -> Survey {
    floor(&FLOOR.replace("job:", "units: metric\njob:"))
}

fn lines(sample: &Survey, id: &str) -> Vec<String> {
    Explanations::new(sample).of(id).unwrap_or_else(|| panic!("{id} is not known"))
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
        ("area", 7, 6),
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
            ("S2", "Mortar in place", say.solid(t.spalls[1].repair.volume_l())),
            ("S3", "Joint filler in place", say.liquid(t.spalls[2].repair.volume_l())),
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

/// A plain floor with these records, under a shop book with these rules.
fn with(book: &str, records: &str) -> Survey {
    let text = format!(
        "slabwalk: 1\njob: {{name: Odd}}\nslab: {{post_tension: none, outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]}}\n{records}"
    );
    let book = format!("slabwalk_shop: 1\n{book}\n");
    survey::read(&text, Some(&book)).unwrap_or_else(|found| panic!("{found:?}"))
}

#[test]
fn patches_of_several_spalls_share_their_mortar() {
    let records = "spalls:
  - {box: {corner: [100\", 100\"], size: [6\", 6\"]}, depth: 1}
  - {box: {corner: [109\", 100\"], size: [4\", 6\"]}, depth: 3/4}
";
    let sample = with("", records);
    for (id, wanted) in [("S1", 3), ("S2", 3), ("R1", 6)] {
        assert_eq!(checked(&sample, id), wanted, "{id}: {:#?}", lines(&sample, id));
    }
    // 6 + 3 + 4 in and an inch more on either side by 8 in, 1 in deep: 120 in³, of which S1 has 36 of 60.
    assert_eq!(
        lines(&sample, "S1")[1..],
        [
            "1\" deep, not less than 1/2\" (spalls.cut_out_from): squared and cut out as R1.",
            "Its share of the mortar of R1 by area = 120 in³ × 36 in² / 60 in² = 72 in³ = 0.041667 ft³.",
        ]
    );
    let patch = lines(&sample, "R1");
    assert!(patch[0].starts_with("R1 squares the slab around each of S1 and S2: "), "{patch:#?}");
    assert!(patch[1].contains("closer than 2\", or one lies in the other"), "{patch:#?}");
}

/// What only lies in a patch is mended with it: it was neither squared nor cut out for itself, however deep it is.
#[test]
fn what_lies_in_the_patch_of_another_is_no_reason_for_it() {
    let deep = "spalls:\n  - {box: {corner: [100\", 100\"], size: [10\", 10\"]}, depth: 1}\n";
    let pop_out = "  - {circle: {center: [99 1/2\", 105\"], diameter: 3/4\"}, depth: 1 1/2}\n";
    let joint = "joints: [{kind: control, width: 1/4, x: 105\"}]\n";
    let on_joint = "  - {box: {corner: [103\", 99 1/4\"], size: [4\", 1/2\"]}, depth: 1}\n";
    let loose = "delaminations: [{treatment: inject, depth: 1, box: {corner: [102\", 102\"], size: [4\", 4\"]}}]\n";
    let squared = "R1 squares the slab around S1: the smallest rectangle, grown by 1\" on every side, at least 4\" × 4\" (spalls.floor).";
    for (id, records) in [
        ("S2", format!("{deep}{pop_out}")),
        ("S2", format!("{joint}{deep}{on_joint}")),
        ("D1", format!("{deep}{loose}")),
    ] {
        let sample = with("", &records);
        assert_eq!(lines(&sample, id)[1], "It lies in R1 and belongs to it.", "{records}");
        let belongs = format!("{id} lies in it and is mended with it.");
        assert_eq!(lines(&sample, "R1")[..2], [squared, belongs.as_str()], "{records}");
    }
}

/// What misses the limit by rounding alone is cut out, and that is said of it.
#[test]
fn a_depth_at_its_limit_is_said_to_reach_it() {
    let records =
        "spalls: [{box: {corner: [100\", 100\"], size: [6\", 6\"]}, depth: 0.4999999999}]\n";
    let said = &lines(&with("", records), "S1")[1];
    assert!(
        said.ends_with("not less than 1/2\" (spalls.cut_out_from): squared and cut out as R1."),
        "{said}"
    );
}

#[test]
fn the_distance_of_patches_is_theirs() {
    let loose = "delaminations:
  - {depth: 1, box: {corner: [100\", 100\"], size: [12\", 12\"]}}
  - {depth: 1, box: {corner: [119\", 100\"], size: [12\", 12\"]}}
";
    let sample = with("spalls: {rule: pavement}\ndelaminations: {apart: 2\"}", loose);
    let patch = lines(&sample, "R1");
    assert!(patch[1].starts_with("The rectangles are closer than 2\","), "{patch:#?}");
}

#[test]
fn ids_are_all_known_and_nothing_else_is() {
    let sample = us();
    let explanations = Explanations::new(&sample);
    let known = explanations.ids();
    for id in &known {
        assert!(!lines(&sample, id).is_empty(), "{id}");
        assert!(!lines(&sample, &id.to_lowercase()).is_empty(), "{id} in lower case");
    }
    for id in ["J1", "R1", "P4", "M1", "area", "hand-edge", "totals", "joint filler"] {
        assert!(known.iter().any(|k| k == id), "{id} is not in {known:?}");
    }
    for id in ["J9", "", "levels", "all"] {
        assert_eq!(explanations.of(id), None, "{id:?}");
    }
    assert!(!known.iter().any(|id| id == "levels"));
}

#[test]
fn an_order_row_is_explained_by_itself() {
    let sample = us();
    let row = &sample.order.rows[0];
    assert!(!row.how.is_empty());
    assert_eq!(lines(&sample, &row.item.to_string()), row.how);
}

#[test]
fn both_systems_of_units_are_kept_apart() {
    let sample = metric();
    assert_eq!(sample.slab.units, Units::Metric);
    for id in Explanations::new(&sample).ids() {
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
        for id in Explanations::new(survey).ids() {
            found += checked(survey, &id);
        }
        assert!(found > 60, "{name} has {found} equations");
        for joint in &survey.takeoff.joints {
            let filled = joint.length_m > 0.0 && joint.treatment() != JointTreatment::Leave;
            assert!(!filled || checked(survey, &joint.id) >= 3, "{name} {}", joint.id);
        }
    }
}
