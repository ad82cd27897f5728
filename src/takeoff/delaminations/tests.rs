use std::f64::consts::PI;

use crate::order::dust;
use crate::quantity::{L_PER_IN3, M_PER_IN, M2_PER_FT2};
use crate::schedule::silica;
use crate::survey::Survey;
use crate::takeoff::{LooseRepair, Patch};
use crate::trade::{Kind, Product};
use crate::{shop, sketch, survey};

const IN2: f64 = M2_PER_FT2 / 144.0;

/// A floor of 24 by 24 ft under a coating.
fn floor(slab: &str, rest: &str) -> Survey {
    let text = format!(
        "slabwalk: 1\njob: {{name: Hollow}}\nslab: {{post_tension: {slab}, outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]}}\n\
         coating: {{system: flake}}\n{rest}"
    );
    let (sketch, faults) = sketch::parse(&text);
    let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
    survey::survey(sketch, shop::built_in(), Vec::new())
        .unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// A box as a delamination: corner and size in inches, and the rest of the record.
fn hollow([x, y, w, h]: [f64; 4], rest: &str) -> String {
    format!("  - {{box: {{corner: [{x}\", {y}\"], size: [{w}\", {h}\"]}}{rest}}}\n")
}

/// Ids around a patch, and its sides, depth and mortar in inches.
fn patch(patch: &Patch) -> (String, [i64; 2], f64, f64) {
    let ids: Vec<&str> = patch.ids().collect();
    let inches = |m: f64| (m / M_PER_IN).round() as i64;
    let volume = (patch.volume_l / L_PER_IN3 * 1000.0).round() / 1000.0;
    let sides = [inches(patch.length_m), inches(patch.width_m)];
    let depth = (patch.depth_mm / 25.4 * 64.0).round() / 64.0;
    (ids.join(" "), sides, depth, volume)
}

#[test]
fn what_is_cut_out_is_a_patch_with_a_margin_of_its_own() {
    let one = hollow([100.0, 100.0, 12.0, 12.0], ", depth: 1");
    let next = |x: f64| one.clone() + &hollow([x, 100.0, 12.0, 12.0], ", depth: 3/4");
    let spall = |x: f64, depth: &str| {
        format!("spalls: [{{box: {{corner: [{x}\", 104\"], size: [3\", 3\"]}}, depth: {depth}}}]\n")
    };
    let joint = "joints: [{kind: control, width: 1/4, x: 117\"}]\n";
    type Row<'a> = (&'a str, String, &'a [(&'a str, [i64; 2], f64, f64)]);
    let rows: [Row; 8] = [
        // 12 + 2 × 3 = 18 in: 18 × 18 × 1.
        ("alone", one.clone(), &[("D1", [18, 18], 1.0, 324.0)]),
        // Nobody knows the depth: 3/4 in of the book, which is the least of a patch too. 18 × 18 × 3/4.
        ("assumed", hollow([100.0, 100.0, 12.0, 12.0], ""), &[("D1", [18, 18], 0.75, 243.0)]),
        // 10 in apart: 12 + 10 + 12 + 6 = 40 by 18, as deep as the deeper.
        ("10 in apart", next(122.0), &[("D1 D2", [40, 18], 1.0, 720.0)]),
        // 18 in apart: the cuts are 12 in apart, which is not less than 12.
        (
            "18 in apart",
            next(130.0),
            &[("D1", [18, 18], 1.0, 324.0), ("D2", [18, 18], 0.75, 243.0)],
        ),
        // A joint at 117 in runs between them.
        (
            "a joint between",
            joint.to_owned() + "delaminations:\n" + &next(122.0),
            &[("D1", [18, 18], 1.0, 324.0), ("D2", [18, 18], 0.75, 243.0)],
        ),
        // A deep spall in it has no patch of its own: the mortar counts once.
        (
            "around a spall",
            spall(104.0, "1 1/2") + "delaminations:\n" + &one,
            &[("S1 D1", [18, 18], 1.5, 486.0)],
        ),
        // So does one that would be skimmed.
        (
            "around a shallow spall",
            spall(104.0, "1/4") + "delaminations:\n" + &one,
            &[("S1 D1", [18, 18], 1.0, 324.0)],
        ),
        // A spall 10 in beside it: cuts 6 in apart, less than the 12 in around a delamination. From 97 to 126 in.
        (
            "beside a spall",
            spall(122.0, "1") + "delaminations:\n" + &one,
            &[("S1 D1", [29, 18], 1.0, 522.0)],
        ),
    ];
    for (name, rest, wanted) in rows {
        let whole = rest.contains("delaminations:");
        let rest = if whole { rest } else { format!("delaminations:\n{rest}") };
        let survey = floor("none", &rest);
        let takeoff = &survey.takeoff;
        let found: Vec<_> = takeoff.patches.iter().map(patch).collect();
        let wanted: Vec<_> = wanted
            .iter()
            .map(|&(ids, sides, deep, volume)| (ids.to_owned(), sides, deep, volume))
            .collect();
        assert_eq!(found, wanted, "{name}");
        // Every liter of mortar belongs to one record.
        let own = takeoff.spalls.iter().map(|s| s.repair.volume_l());
        let loose = takeoff.delaminations.iter().filter_map(|d| match d.repair {
            LooseRepair::Patch { volume_l, .. } => Some(volume_l),
            _ => None,
        });
        let shared: f64 = own.chain(loose).sum();
        assert!((shared - takeoff.totals.patch_l).abs() < 1e-9, "{name}: {shared}");
        assert!(takeoff.delaminations.iter().all(|d| d.in_patch()), "{name}");
    }
}

#[test]
fn an_injection_has_ports_in_a_grid_and_resin_for_its_gap() {
    // Sides in inches, ports, and the area injected in in².
    let rows = [
        ("8.75 ft², nine squares of a foot", "", [42.0, 30.0], 9, 1260.0),
        ("4 ft² to the last bit", "", [24.0, 24.0], 4, 576.0),
        ("one to fill and one for the air", "", [6.0, 6.0], 2, 36.0),
        // A patch of 5 by 5 in around a spall, from 98 to 103 in, takes 3 by 3 in of it.
        (
            "beside a patch",
            "spalls: [{box: {corner: [99\", 99\"], size: [3\", 3\"]}, depth: 1}]\n",
            [24.0, 24.0],
            4,
            576.0 - 9.0,
        ),
    ];
    for (name, rest, [w, h], ports, area) in rows {
        let loose = hollow([100.0, 100.0, w, h], ", depth: 1 1/2, treatment: inject");
        let survey = floor("none", &format!("{rest}delaminations:\n{loose}"));
        let takeoff = &survey.takeoff;
        let injection = takeoff.delaminations[0].injection().unwrap_or_else(|| panic!("{name}"));
        assert_eq!(injection.ports, ports, "{name}");
        assert!(
            (injection.area_m2 / IN2 - area).abs() < 1e-3,
            "{name}: {}",
            injection.area_m2 / IN2
        );
        // A gap of 1/32 in; holes of 3/8 in, 1 1/2 in deep.
        let resin = area / 32.0 * L_PER_IN3;
        let drilled = f64::from(u32::try_from(ports).unwrap_or(0)) * PI / 4.0 * 0.140_625 * 1.5;
        assert!((injection.resin_l - resin).abs() < 1e-6, "{name}");
        assert!((injection.drilled_l / L_PER_IN3 - drilled).abs() < 1e-9, "{name}");
        let row = |product: &Product| {
            let row = survey.order.rows.iter().find(|row| row.item == *product);
            row.map_or((0.0, 0), |row| (row.need, row.packages))
        };
        assert_eq!(row(&Product::InjectionPort), (ports as f64, ports as u64), "{name}");
        let (need, packages) = row(&Product::InjectionResin);
        assert!((need - resin * 1.25).abs() < 1e-6 && packages == 1, "{name}: {need}");
        let all = dust(takeoff, &survey.shop);
        let holes = all.iter().find(|dust| dust.from == "holes of injections").map(|d| d.volume_l);
        assert_eq!(holes, Some(injection.drilled_l), "{name}");
    }
    assert_eq!(silica::tool(Kind::Inject), Some(silica::Tool::Drill));
}

#[test]
fn what_is_done_with_it_is_its_treatment_unless_a_patch_takes_it_in() {
    let spall = "spalls: [{box: {corner: [100\", 100\"], size: [24\", 24\"]}, depth: 1}]\n";
    let rows = [
        ("left", "", [100.0, 100.0, 12.0, 12.0], "leave", "leave"),
        ("left in a patch", spall, [104.0, 104.0, 6.0, 6.0], "leave", "leave"),
        ("injected in a patch", spall, [104.0, 104.0, 6.0, 6.0], "inject", "cut-out"),
        (
            "off the coated floor",
            "coating: {uncoated: [{box: {corner: [0, 0], size: [24', 4']}}]}\n",
            [10.0, 10.0, 12.0, 12.0],
            "inject",
            "leave",
        ),
        (
            "off it, cut out",
            "coating: {uncoated: [{box: {corner: [0, 0], size: [24', 4']}}]}\n",
            [10.0, 10.0, 12.0, 12.0],
            "cut-out",
            "leave",
        ),
    ];
    for (name, rest, place, treatment, done) in rows {
        let loose = hollow(place, &format!(", depth: 1, treatment: {treatment}"));
        let text = format!(
            "slabwalk: 1\njob: {{name: x}}\nslab: {{post_tension: none, outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]}}\n{rest}delaminations:\n{loose}"
        );
        let (sketch, faults) = sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
        let survey = survey::survey(sketch, shop::built_in(), Vec::new());
        let survey = survey.unwrap_or_else(|faults| panic!("{faults:?}"));
        let work = &survey.takeoff.delaminations[0];
        assert_eq!(work.repair.treatment().word(), done, "{name}");
        let mended = survey.takeoff.patches.iter().flat_map(Patch::ids).any(|id| id == "D1");
        assert_eq!(mended, work.in_patch(), "{name}");
    }
}

/// What is said of each, and of none that is as it should be.
#[test]
fn findings_say_what_is_left_unknown_or_reaches_too_far() {
    let joint = "joints: [{kind: control, width: 1/4, x: 10'}]\n";
    let shallow = "spalls: [{box: {corner: [104\", 104\"], size: [3\", 3\"]}, depth: 1/4}]\n";
    let middle = [100.0, 100.0, 12.0, 12.0];
    let rows: [(&str, &str, [f64; 4], &str, &[&str]); 11] = [
        ("as it should be", "", middle, ", depth: 1", &[]),
        ("left", "", middle, ", depth: 1, treatment: leave", &["delamination-left"]),
        ("depth unknown", "", middle, "", &["delamination-depth-assumed"]),
        ("left, depth unknown", "", middle, ", treatment: leave", &["delamination-left"]),
        ("at a joint", joint, [108.0, 100.0, 12.0, 12.0], ", depth: 1", &["delamination-at-joint"]),
        (
            "1/8 in off a joint",
            joint,
            [107.875, 100.0, 12.0, 12.0],
            ", depth: 1",
            &["delamination-at-joint"],
        ),
        ("1/2 in off a joint", joint, [107.5, 100.0, 12.0, 12.0], ", depth: 1", &[]),
        (
            "across a joint, injected",
            joint,
            [114.0, 100.0, 12.0, 12.0],
            ", depth: 1, treatment: inject",
            &["delamination-at-joint"],
        ),
        ("at a wall", "", [0.0, 100.0, 12.0, 12.0], ", depth: 1", &["delamination-at-edge"]),
        ("one patch with a spall", shallow, middle, ", depth: 1", &["delamination-with-spall"]),
        (
            "injected under a spall",
            shallow,
            middle,
            ", depth: 1, treatment: inject",
            &["delamination-under-spall"],
        ),
    ];
    for (name, rest, place, keys, wanted) in rows {
        let survey = floor("none", &format!("{rest}delaminations:\n{}", hollow(place, keys)));
        let codes: Vec<&str> = survey.takeoff.findings.iter().map(|f| f.code).collect();
        let found: Vec<&str> =
            codes.into_iter().filter(|code| code.starts_with("delamination")).collect();
        assert_eq!(found, wanted, "{name}");
    }
}

/// Nobody drills or cuts where tendons may lie.
#[test]
fn drilling_waits_for_the_tendons_as_cutting_does() {
    let loose = hollow([100.0, 100.0, 12.0, 12.0], ", depth: 1")
        + &hollow([200.0, 100.0, 12.0, 12.0], ", depth: 1, treatment: inject")
        + &hollow([200.0, 200.0, 12.0, 12.0], ", depth: 1, treatment: leave");
    for (slab, held) in [("none", false), ("unknown", true), ("stamped", true)] {
        let survey = floor(slab, &format!("delaminations:\n{loose}"));
        let hold = survey.holds.iter().find(|hold| hold.items.iter().any(|id| id == "D2"));
        assert_eq!(hold.is_some(), held, "{slab}");
        if let Some(hold) = hold {
            assert_eq!(hold.items, ["D2", "R1"], "{slab}");
            assert!(
                [Kind::Inject, Kind::Patch].iter().all(|kind| hold.works.contains(kind)),
                "{slab}"
            );
        }
    }
}

/// The area under the coating is what it is without them.
#[test]
fn a_delamination_changes_no_area() {
    let with =
        floor("none", &format!("delaminations:\n{}", hollow([100.0, 100.0, 12.0, 12.0], "")));
    let without = floor("none", "");
    assert_eq!(with.takeoff.area, without.takeoff.area);
    assert!(without.takeoff.spalls.iter().all(|s| s.repair.skimmed_l().is_none()));
}
