//! Published numbers and identities, held against the whole program. The source stands beside
//! each row.

use crate::common::{FT, FT2, MM_PER_IN, codes, near, number, takeoff, takeoff_by};

/// A rectangle of feet with `more` appended at the top level.
fn floor(w: &str, h: &str, more: &str) -> String {
    format!(
        "slabwalk: 1\njob: {{name: Vector}}\nslab:\n  post_tension: none\n  \
         outline: [[0, 0], [{w}, 0], [{w}, {h}], [0, {h}]]\n{more}"
    )
}

const L_SHAPE: &str = "slabwalk: 1
job: {name: Vector}
slab:
  post_tension: none
  outline: [[0, 0], [24, 0], [24, 16], [14, 16], [14, 24], [0, 24]]
";

/// V-G1: identity of the L outline, either way round.
#[test]
fn the_l_outline_has_its_area_and_perimeter() {
    let clockwise = L_SHAPE.replace(
        "[[0, 0], [24, 0], [24, 16], [14, 16], [14, 24], [0, 24]]",
        "[[0, 24], [14, 24], [14, 16], [24, 16], [24, 0], [0, 0]]",
    );
    for (name, sketch) in [("counter-clockwise", L_SHAPE.to_owned()), ("clockwise", clockwise)] {
        let json = takeoff(&sketch);
        near(name, &json, "/area/net_m2", 496.0 * FT2, 1e-8);
        near(name, &json, "/edge_m", 96.0 * FT, 1e-8);
        assert!(codes(&json, "").contains(&"re-entrant-corner".to_owned()), "{name}");
    }
}

/// V-G2, V-G3, V-G4: lengths clipped to the L, an overlap counted once, a crack's length.
#[test]
fn lines_on_the_l_have_their_lengths() {
    let json = takeoff(&format!(
        "{L_SHAPE}joints:
  - {{id: J1, kind: control, x: 18}}
  - {{id: J2, kind: control, y: 12}}
  - {{id: J3, kind: control, x: 12}}
  - {{id: J4, kind: control, path: [[10, 12], [20, 12]]}}
cracks: [{{id: C1, path: [[2, 2], [5, 6], [9, 9]], width: 1/16, movement: dormant}}]
"
    ));
    for (i, (name, feet)) in
        [("V-G2 x = 18", 16.0), ("V-G2 y = 12", 24.0), ("V-G2 x = 12", 24.0), ("V-G3", 0.0)]
            .into_iter()
            .enumerate()
    {
        near(name, &json, &format!("/joints/{i}/length_m"), feet * FT, 1e-8);
    }
    assert_eq!(codes(&json, "J4"), ["counted-once"]);
    near("V-G4", &json, "/cracks/0/length_m", 10.0 * FT, 1e-8);
}

/// V-G5: a 24 by 24 ft floor and a 4 in ring; V-G6: a drain; V-G7: a curb.
#[test]
fn rings_drains_and_curbs() {
    // A head small enough that the corners it leaves are nothing: the ring alone is left.
    let shop = "slabwalk_shop: 1\ngrinding: {head: 0.001\", edge_gap: 3.9995\"}\n";
    let (folder, path) = crate::common::folder(&floor("24", "24", "shop: ring.yaml\n"));
    std::fs::write(folder.path().join("ring.yaml"), shop).expect("the shop book is written");
    let run = crate::common::slabwalk().args(["takeoff", "--format", "json"]).arg(&path).output();
    let run = run.expect("the program runs");
    let json: serde_json::Value = serde_json::from_slice(&run.stdout).expect("JSON");
    near("V-G5", &json, "/area/hand_edge_m2", 31.556 * FT2, 0.01 * FT2);

    let json = takeoff(
        &floor(
            "24",
            "24",
            "coating: {faces: [{path: [[0, 0], [24, 0], [24, 24], [12, 24]], height: 4}]}\n",
        )
        .replace(
            "  outline",
            "  keep_outs: [{circle: {center: [12, 12], diameter: 8\"}}]\n  outline",
        ),
    );
    near("V-G6", &json, "/area/keep_out_m2", 0.349 * FT2, 0.001 * FT2);
    near("V-G7", &json, "/area/faces_m2", 20.0 * FT2, 1e-8);
}

/// V-J8: two 24-ft joints wall to wall, the saw stopping 3 in short at each end (Concrete
/// Construction magazine gives 2 to 4 in).
#[test]
fn the_saw_stops_short_of_walls() {
    let json =
        takeoff(&floor("24", "24", "joints: [{kind: control, x: 8}, {kind: control, x: 16}]\n"));
    near("V-J8 sawn", &json, "/totals/saw_m", 47.0 * FT, 1e-8);
    near("V-J8 by hand", &json, "/totals/hand_cut_m", 1.0 * FT, 1e-8);
    near("V-J8 ends", &json, "/totals/hand_ends", 4.0, 0.0);
}

/// A doorway has no wall for the saw to stop at, but its jambs are walls.
#[test]
fn the_saw_runs_out_through_a_doorway() {
    let joints = "joints: [{kind: control, x: 12}, {kind: control, x: 4' 2\"}]\n";
    let sketch = floor("24", "24", joints)
        .replace("  outline", "  openings: [{wall: 1, from: 4', to: 20'}]\n  outline");
    let json = takeoff(&sketch);
    near("through the door", &json, "/joints/0/hand_m", 0.25 * FT, 1e-8);
    // 2 in beside the jamb the wall comes within 3 in over sqrt(9 - 4) in.
    near("beside the jamb", &json, "/joints/1/hand_m", (3.0 + 5f64.sqrt()) / 12.0 * FT, 1e-8);
}

/// V-J6: aspect 12 by 20 is flagged and 12 by 18 is not (ACI 302.1R); V-J7: 15 ft panels of a 4 in
/// slab are over 36 thicknesses (ACI 302.1R-96); V-J4: 18 ft in any case.
#[test]
fn panels_are_held_against_aci_302() {
    let rows = [
        ("V-J6 12 x 20", "12", "20", "8\"", vec!["panel-spacing", "panel-aspect"]),
        ("V-J6 12 x 18", "12", "18", "8\"", vec![]),
        ("V-J7", "15", "15", "4\"", vec!["panel-spacing"]),
        ("V-J1 12 ft at 4 in", "12", "12", "4\"", vec![]),
        ("V-J2 18 ft at 6 in", "18", "18", "6\"", vec![]),
        ("V-J4 18 ft at 8 in", "18 1/4", "18", "8\"", vec!["panel-spacing"]),
    ];
    for (name, w, h, thickness, expected) in rows {
        let sketch =
            floor(w, h, "").replace("  outline", &format!("  thickness: {thickness}\n  outline"));
        let mut found = codes(&takeoff(&sketch), "P1");
        found.sort_unstable();
        let mut expected = expected;
        expected.sort_unstable();
        assert_eq!(found, expected, "{name}");
    }
}

/// V-S1, V-S2: depth of sealant (architectural detailing text); V-S4: rod at least 1.25 times the
/// width, in stock sizes (from memory).
#[test]
fn honored_joints_get_sealant_and_rod() {
    let rows = [
        ("V-S1 1/4", "1/4", 0.25, Some(0.375)),
        ("V-S1 3/4", "3/4", 0.375, Some(1.0)),
        ("V-S1 1 1/4", "1 1/4", 0.5, None),
        ("V-S2 1/2", "1/2", 0.25, Some(0.625)),
        ("V-S2 1 1/2", "1 1/2", 0.5, None),
    ];
    for (name, width, depth, rod) in rows {
        let joint = format!("joints: [{{kind: isolation, x: 12, width: {width}}}]\n");
        let json = takeoff(&floor("24", "24", &joint));
        let inches = match width {
            "1/4" => 0.25,
            "3/4" => 0.75,
            "1/2" => 0.5,
            "1 1/4" => 1.25,
            _ => 1.5,
        };
        let litres = 24.0 * 12.0 * inches * depth * 0.016387064;
        near(name, &json, "/joints/0/sealant_l", litres, 1e-8);
        match rod {
            Some(rod) => near(name, &json, "/joints/0/rod_mm", rod * MM_PER_IN, 1e-8),
            None => assert!(json["joints"][0]["rod_mm"].is_null(), "{name}"),
        }
    }
}

/// By hand: 24 ft found 1/8 in wide is widened to 1/4 in, 5/8 in deep for 1/4 in of sealant on a 3/8 in
/// rod; 8 ft of a crack that moves, 1/16 in wide, likewise. 5/16 in keeps its width, whatever the blade.
#[test]
fn only_what_rod_and_sealant_do_not_fit_is_widened() {
    let shop = "joints:\n  - {id: J1, kind: isolation, x: 12, width: 1/8}\n  - {id: J2, kind: isolation, y: 12, width: 5/16}\n\
                cracks:\n  - {id: C1, path: [[2, 2], [10, 2]], width: 1/16, movement: active}\n  \
                - {id: C2, path: [[2, 20], [10, 20]], width: 1/16}\n  - {id: C3, path: [[2, 22], [10, 22]], width: 0.01}\n";
    let json = takeoff(&floor("24", "24", shop));
    let (foot, cubic_inch) = (0.3048, 0.016387064);
    for (what, want) in [
        ("/joints/0/widen_m", 24.0 * foot),
        ("/joints/0/sealant_width_mm", 0.25 * MM_PER_IN),
        ("/joints/0/groove_mm", 0.625 * MM_PER_IN),
        ("/joints/0/removed_l", 288.0 * 0.125 * 0.625 * cubic_inch),
        ("/joints/0/sealant_l", 288.0 * 0.0625 * cubic_inch),
        ("/joints/1/widen_m", 0.0),
        ("/joints/1/sealant_width_mm", 0.3125 * MM_PER_IN),
        ("/joints/1/sealant_l", 288.0 * 0.3125 * 0.25 * cubic_inch),
        ("/joints/1/rod_mm", 0.5 * MM_PER_IN),
        ("/joints/1/removed_l", 0.0),
        ("/cracks/0/portions/0/widen_m", 8.0 * foot),
        ("/cracks/0/portions/0/removed_l", 96.0 * 0.1875 * 0.625 * cubic_inch),
        ("/cracks/1/portions/0/widen_m", 0.0),
        ("/totals/widen_m", 32.0 * foot),
        ("/totals/honor_m", 56.0 * foot),
        ("/totals/crack_m", 24.0 * foot),
        ("/totals/crack_fill_m", 8.0 * foot),
    ] {
        near(what, &json, what, want, 1e-8);
    }
}

/// V-L3: a 1/4 in step feathered 1 : 12 has a 3 in band and 4.5 cubic inches a foot (computed;
/// 1 : 12 as in public works solicitations).
#[test]
fn a_quarter_inch_step_is_feathered_three_inches() {
    let more = "joints: [{id: J1, kind: control, x: 12}]
lippage: [{along: J1, high: left, step: 1/4, from: 6, to: 16}]
";
    let json = takeoff(&floor("24", "24", more));
    near("V-L3 length", &json, "/lippage/0/hand_length_m", 10.0 * FT, 1e-8);
    near("V-L3 band", &json, "/lippage/0/hand_area_m2", 2.5 * FT2, 1e-8);
    near("V-L3 band on the floor", &json, "/totals/hand_grind_m2", 2.5 * FT2, 1e-6);
    near("V-L3 volume", &json, "/lippage/0/removed_l", 45.0 * 0.016387064, 1e-8);
}

/// V-L1: changes in level on an accessible route (ADA/ABA Standards, section 303).
#[test]
fn steps_on_an_accessible_route_are_held_against_section_303() {
    let rows = [
        ("0.25", vec![]),
        ("0.26", vec!["beveled"]),
        ("0.50", vec!["beveled"]),
        ("0.51", vec!["ramp"]),
    ];
    for (step, expected) in rows {
        let more = format!(
            "joints: [{{id: J1, kind: control, x: 12}}]
lippage: [{{id: L1, along: J1, high: left, step: {step}, from: 6, to: 16}}]
"
        );
        let sketch =
            floor("24", "24", &more).replace("{name: Vector}", "{name: V, accessible_route: true}");
        let json = takeoff(&sketch);
        let said: Vec<&str> = json["findings"]
            .as_array()
            .expect("findings")
            .iter()
            .filter(|f| f["code"] == "accessible-route")
            .map(|f| f["message"].as_str().expect("a message"))
            .collect();
        assert_eq!(said.len(), expected.len(), "{step}: {said:?}");
        for word in expected {
            assert!(said[0].contains(word), "{step}: {said:?}");
        }
    }
}

/// V-L8: a reading that could not be taken stays null and is not nought (FHWA LTPP manual).
#[test]
fn a_missing_reading_breaks_the_profile() {
    let more = "joints: [{id: J1, kind: control, x: 12}]
lippage: [{along: J1, high: W, readings: [[0, 1/4], [4, null], [8, 1/4], [10, 1/4]]}]
";
    let json = takeoff(&floor("24", "24", more));
    near("V-L8", &json, "/lippage/0/hand_length_m", 2.0 * FT, 1e-8);
}

/// V-K1: a 50-ft crack in portions of 10, 20 and 20 ft (TM 5-826-6).
#[test]
fn a_crack_is_counted_by_portion() {
    let more = "cracks:
  - {path: [[2, 2], [52, 2]], widths: [[0, 1/4], [10, 1/8], [30, 1/64]], movement: dormant}
";
    let json = takeoff(&floor("60", "10", more));
    for (i, feet) in [10.0, 20.0, 20.0].into_iter().enumerate() {
        near("V-K1", &json, &format!("/cracks/0/portions/{i}/length_m"), feet * FT, 1e-8);
    }
    let treatments: Vec<_> =
        (0..3).map(|i| json["cracks"][0]["portions"][i]["treatment"].clone()).collect();
    assert_eq!(treatments, ["chase", "chase", "fill"]);
}

/// The sizes of partial-depth repairs of highways, which the vectors below are of.
const PAVEMENT: &str = "slabwalk_shop: 1\nspalls: {rule: pavement}\n";

/// V-P1 to V-P5: sizes and merging of partial-depth patches (FHWA Partial-Depth Repairs,
/// section 4); V-P4 with 4 in is the shop's own extension.
#[test]
fn patches_follow_the_fhwa_rules() {
    let rows = [
        ("V-P2 6 x 3", "6\", 3\"", Some((12.0, 9.0))),
        ("V-P3 4 x 2", "4\", 2\"", Some((12.0, 8.0))),
        ("V-P4 18 x 5", "18\", 5\"", Some((24.0, 11.0))),
        ("V-P4 18 x 5, 4 in", "18\", 5\"", Some((26.0, 13.0))),
    ];
    for (name, size, patch) in rows {
        let by_4_in = "slabwalk_shop: 1\nspalls: {rule: pavement, extend: 4\"}\n";
        let book = if name.ends_with("4 in") { by_4_in } else { PAVEMENT };
        let more = format!("spalls: [{{box: {{corner: [6, 6], size: [{size}]}}, depth: 1}}]\n");
        let json = takeoff_by(book, &floor("24", "24", &more));
        let (length, width) = patch.expect("a patch");
        near(name, &json, "/spalls/0/patch/length_m", length / 12.0 * FT, 1e-8);
        near(name, &json, "/spalls/0/patch/width_m", width / 12.0 * FT, 1e-8);
        let litres = length * width * 0.016387064;
        near(name, &json, "/spalls/0/volume_l", litres, 1e-8);
    }
    // V-P1: 5 by 1 in on a joint is joint work; V-P6 has its arithmetic in 12 x 9 x 2.
    let more = "joints: [{id: J1, kind: control, x: 12}]
spalls: [{box: {corner: [11' 11 1/2\", 6], size: [1\", 5\"]}, depth: 1}]
";
    assert!(takeoff_by(PAVEMENT, &floor("24", "24", more))["spalls"][0]["patch"].is_null(), "V-P1");
    let more = "spalls: [{box: {corner: [6, 6], size: [6\", 3\"]}, depth: 2}]\n";
    let json = takeoff_by(PAVEMENT, &floor("24", "24", more));
    near("V-P6", &json, "/spalls/0/volume_l", 0.125 * 28.316846592, 1e-8);
    // V-P5: the patches, not the spalls, are 11.9 and 12.0 in apart.
    for (name, gap, merged) in [("V-P5 11.9", 17.9, true), ("V-P5 12.0", 18.0, false)] {
        let second = 72.0 + 6.0 + gap;
        let more = format!(
            "spalls:
  - {{box: {{corner: [6, 6], size: [6\", 6\"]}}, depth: 1}}
  - {{box: {{corner: [{second}\", 6], size: [6\", 6\"]}}, depth: 1}}
"
        );
        let json = takeoff_by(PAVEMENT, &floor("24", "24", &more));
        let together = json["spalls"][0]["patch"]["id"] == json["spalls"][1]["patch"]["id"];
        assert_eq!(together, merged, "{name}");
        if merged {
            let sum = number(&json, "/spalls/0/volume_l") + number(&json, "/spalls/1/volume_l");
            let litres = (12.0 + 11.9 + 12.0) * 12.0 * 0.016387064;
            assert!((sum - litres).abs() < 1e-8, "{name}: {sum} for {litres}");
        }
    }
}

/// V-T4: limits of 3 lb and 75 % RH (bid specification: not exceed).
#[test]
fn moisture_results_over_the_limit_are_findings() {
    let more = "tests:
  moisture:
    - {id: M1, at: [2, 2], mver: 3.0}
    - {id: M2, at: [4, 4], mver: 3.1}
    - {id: M3, at: [6, 6], rh: 75%}
    - {id: M4, at: [8, 8], rh: 76%}
";
    let json = takeoff(&floor("24", "24", more));
    for (id, over) in [("M1", false), ("M2", true), ("M3", false), ("M4", true)] {
        let said = codes(&json, id).contains(&"moisture-over-limit".to_owned());
        assert_eq!(said, over, "V-T4 {id}");
    }
}

/// V-D5: air at 70 °F and 65 %, a slab of 62 °F is no go and one of 64 °F is (UFC 3-190-06).
#[test]
fn the_slab_must_be_five_degrees_above_the_dew_point() {
    for (slab, spread, severity) in [("62 F", 4.30, "warning"), ("64 F", 6.30, "note")] {
        let more = format!(
            "tests: {{air: {{temperature: 70 F, humidity: 65%}}, slab_temperature: {slab}}}\n"
        );
        let json = takeoff(&floor("24", "24", &more));
        near("V-D5", &json, "/conditions/spread_c", spread / 1.8, 0.05);
        let finding = json["findings"].as_array().expect("findings").iter();
        let finding = finding.filter(|f| f["code"] == "dew-point").collect::<Vec<_>>();
        assert_eq!(finding[0]["severity"], severity, "V-D5 {slab}");
    }
}

/// By hand: of a floor of 20 by 20 ft the back strip of 20 by 6 ft lies 7 in higher. 280 + 120 ft², and a riser of 20 × 7/12 = 11.667 ft².
/// The order goes by 411.667 ft² where it went by 400: flakes at 0.1 lb/ft², primer at 200 ft²/gal less 5 %. The works gain the face
/// (15 min and 11.667 ft² at 40 ft²/h: 32.5 min) and 40 ft of edge at 50 ft/h (80 ft and 120 ft of edge: 96 and 144 min).
#[test]
fn a_floor_of_two_heights_is_ordered_and_priced_with_its_riser() {
    let tiers = "tiers: [{height: 7\", box: {corner: [0, 14], size: [20, 6]}}]\n  outline";
    let flat = floor("20", "20", "coating: {system: flake}\n");
    let high = flat.replace("outline", tiers);
    let (flat_json, json) = (takeoff(&flat), takeoff(&high));
    near("floor", &json, "/area/net_m2", 400.0 * FT2, 1e-6);
    near("tier", &json, "/tiers/0/area_m2", 120.0 * FT2, 1e-6);
    near("height", &json, "/tiers/0/height_m", 7.0 * FT / 12.0, 1e-9);
    near("riser", &json, "/tiers/0/riser_m", 20.0 * FT, 1e-5);
    let face = 20.0 * 7.0 / 12.0;
    near("face", &json, "/tiers/0/riser_coated_m2", face * FT2, 1e-6);
    near("coated", &json, "/area/coated_m2", (400.0 + face) * FT2, 1e-6);
    let need = |json: &serde_json::Value, item: &str| {
        let rows = json["order"].as_array().expect("an order");
        let row = rows.iter().find(|row| row["item"] == item);
        row.unwrap_or_else(|| panic!("no {item}"))["need"].as_f64().expect("a number")
    };
    for item in ["flake: primer", "flake: base coat", "flake: flake", "flake: top coat"] {
        let more = need(&json, item) / need(&flat_json, item);
        assert!((more - (400.0 + face) / 400.0).abs() < 1e-6, "{item}: {more}");
    }
    let priced = |sketch: &str| {
        let (_folder, path) = crate::common::folder(sketch);
        let run = crate::common::slabwalk().arg("price").arg(&path).output();
        String::from_utf8(run.expect("the program runs").stdout).expect("text")
    };
    let hours = |text: &str, work: &str| {
        let line = text.lines().find(|line| line.trim_start().starts_with(work))?;
        let before = line.split(" h ×").next()?;
        before.split_whitespace().last()?.parse::<f64>().ok()
    };
    let (flat, high) = (priced(&flat), priced(&high));
    assert_eq!(hours(&flat, "prepare faces"), None, "{flat}");
    assert_eq!(hours(&high, "prepare faces"), Some(0.54), "{high}");
    assert_eq!(hours(&flat, "grind edges by hand"), Some(1.6), "{flat}");
    assert_eq!(hours(&high, "grind edges by hand"), Some(2.4), "{high}");
}
