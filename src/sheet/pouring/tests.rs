use super::*;
use crate::quantity::{M_PER_FT, M2_PER_FT2};
use crate::sheet::fixture::{BOAT_SHOP, KITCHEN, floor, inputs, room};
use crate::sheet::paper::Paper;
use crate::sheet::paper::Size;

/// Feet, to the nearest millionth.
fn feet(m: f64) -> f64 {
    (m / M_PER_FT * 1e6).round() / 1e6
}

fn stations(tape: &Tape) -> Vec<(usize, f64)> {
    tape.marks.iter().map(|m| (m.0, feet(m.1))).collect()
}

/// A room of 20 by 45 ft, 900 ft². A kit of the built-in base coat covers 456 ft², so its line is 22.8 ft from the
/// pouring side; one of the top coat covers 427.5 ft², 21.375 ft and 42.75 ft; the primer's 570 ft² are 28.5 ft.
const LONG: &str = "slab:\n  outline: [[0, 0], [20', 0], [20', 45'], [0, 45']]\ncoating: {system: flake, pour_from: S}\n";

fn long(pour_from: &str) -> crate::survey::Survey {
    let text = LONG.replace("pour_from: S", &format!("pour_from: {pour_from}"));
    floor(&format!(
        "slabwalk: 1\njob: {{name: Long room}}\nunits: us\n{text}"
    ))
}

#[test]
fn lines_are_taped_from_the_corner_on_the_pouring_side() {
    for (side, right, left) in [
        ("S", false, true),
        ("N", true, false),
        ("1", false, true),
        ("3", true, false),
    ] {
        let survey = long(side);
        let all = batches(&survey.slab, &survey.order.pour_lines);
        let base = all
            .iter()
            .find(|b| b.layers == ["base coat"])
            .expect("a base coat");
        assert_eq!((base.count, base.lines.len()), (2, 1), "{side}");
        assert!((base.each_m2 - 456.0 * M2_PER_FT2).abs() < 1e-6, "{side}");
        // Wall 2 runs N along the right side, wall 4 back S along the left.
        let tapes: Vec<_> = base
            .tapes
            .iter()
            .map(|t| (t.wall, t.backward, stations(t)))
            .collect();
        assert_eq!(
            tapes,
            [(1, right, vec![(1, 22.8)]), (3, left, vec![(1, 22.8)])],
            "{side}"
        );
        let top = all
            .iter()
            .find(|b| b.layers == ["top coat"])
            .expect("a top coat");
        assert_eq!(stations(&top.tapes[0]), [(1, 21.375), (2, 42.75)], "{side}");
    }
}

#[test]
fn along_an_oblique_wall_the_tape_lies_on_the_wall() {
    // A right triangle with legs of 40 ft, poured from the S: the hypotenuse runs at 45°, so a line d away from the
    // side is taped d√2 along it.
    let survey = floor(
        "slabwalk: 1\njob: {name: Wedge}\nunits: us\nslab:\n  outline: [[0, 0], [40', 0], [0, 40']]\ncoating: {system: flake, pour_from: S}\n",
    );
    let all = batches(&survey.slab, &survey.order.pour_lines);
    let base = all
        .iter()
        .find(|b| b.layers == ["base coat"])
        .expect("a base coat");
    // 800 − (40 − d)²/2 = 456: d = 40 − √688.
    let d = 40.0 - 688.0_f64.sqrt();
    let marks: Vec<f64> = base.tapes.iter().map(|t| t.marks[0].1 / M_PER_FT).collect();
    assert_eq!(base.tapes.len(), 2);
    assert!((marks[0] - d * 2.0_f64.sqrt()).abs() < 1e-4, "{marks:?}");
    assert!((marks[1] - d).abs() < 1e-4, "{marks:?}");
}

#[test]
fn every_line_of_the_demonstration_floors_can_be_taped() {
    for text in [KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        for one in batches(&survey.slab, &survey.order.pour_lines) {
            for line in &one.lines {
                let taped = one.tapes.iter().flat_map(|t| &t.marks);
                let n = taped.filter(|m| m.0 == line.batch).count();
                assert!(n >= 1, "{:?}: batch {}", one.layers, line.batch);
            }
        }
    }
}

#[test]
fn layers_with_the_same_lines_are_drawn_once() {
    let survey = long("S");
    let mut lines = survey.order.pour_lines.clone();
    let mut again = lines[1].clone();
    again.layer = "second coat".into();
    lines.push(again);
    let all = batches(&survey.slab, &lines);
    assert_eq!(all.len(), 3);
    assert_eq!(all[1].layers, ["base coat", "second coat"]);
}

#[test]
fn a_floor_of_single_batches_has_no_sheet() {
    let survey = room("coating: {system: flake, pour_from: S}\n");
    let ground = Ground::new(Paper::landscape(Size::Tabloid));
    assert!(pages(&inputs(&survey), &ground).is_empty());
    let side = room("coating: {system: flake}\n");
    assert!(pages(&inputs(&side), &ground).is_empty());
}

#[test]
fn each_layer_of_several_batches_has_its_plan_and_its_table() {
    let survey = floor(KITCHEN);
    let ground = Ground::new(Paper::landscape(Size::Tabloid));
    let pages = pages(&inputs(&survey), &ground);
    let text = format!("{pages:?}");
    for name in [
        "PRIMER: 2 batches",
        "BASE COAT: 5 batches",
        "GROUT COAT: 4 batches",
    ] {
        assert_eq!(text.matches(name).count(), 1, "{name}");
    }
    let all = batches(&survey.slab, &survey.order.pour_lines);
    let side = survey.slab.pour_from.as_ref().expect("a side");
    let said = format!("{:?}", notes(&inputs(&survey), side, &all));
    assert!(said.contains("Pour along wall 4→5"), "{said}");
    // 3.825 m square off the wall are 3.025 m from corner 3, which lies 0.8 m away from the side.
    let table = table(&inputs(&survey), &all[0]);
    assert_eq!(table.rows[0].cells, ["1", "3825", "47.50 m²"]);
    assert_eq!(
        table.rows[0].words,
        "3025 from corner 3 along 2→3; 3025 from corner 6 along 6→7"
    );
}

#[test]
fn a_crowd_of_lines_leaves_the_title_free() {
    // 300 by 200 ft: 106 kits of primer, each line with its station on both long walls.
    let survey = floor(
        "slabwalk: 1\njob: {name: Hall}\nunits: us\nslab:\n  outline: [[0, 0], [300', 0], [300', 200'], [0, 200']]\ncoating: {system: flake, pour_from: W}\n",
    );
    let ground = Ground::new(Paper::landscape(Size::AnsiD));
    let inputs = inputs(&survey);
    let pages = pages(&inputs, &ground);
    let n = pages.len();
    let sheet = pages
        .into_iter()
        .next()
        .expect("a sheet")
        .finish(&inputs, &ground, (0, n));
    let faults = crate::audit::audit(&crate::svg::write_with(&sheet, false));
    assert_eq!(faults, []);
}
