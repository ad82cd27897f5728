use super::*;
use crate::paper::size::Paper;
use crate::paper::size::Size;
use crate::quantity::{M_PER_FT, M2_PER_FT2};
use crate::sheet::fixture::{BOAT_SHOP, KITCHEN, floor, inputs, room};
use crate::sheet::page::{Names, Page, flowed};

/// The sheets of pouring alone.
fn pages(inputs: &Inputs, paper: Paper) -> Vec<Page> {
    let ground = Ground::new(paper);
    let sections = sections(inputs, &ground, &BTreeSet::new());
    flowed(&ground, sections, &mut Names::default())
}

/// Feet, to the nearest millionth.
fn feet(m: f64) -> f64 {
    (m / M_PER_FT * 1e6).round() / 1e6
}

fn stations(tape: &Tape) -> Vec<(usize, f64)> {
    tape.marks.iter().map(|m| (m.0, feet(m.1))).collect()
}

/// A room of 20 by 45 ft, 900 ft². Two lay 320 ft² in 0.8 of the half hour that a batch of the built-in base coat can
/// be worked with, 8.4 quarts of 38 ft²; the floor takes 23.7 quarts: three batches of 8, 15.2 ft each. Of the top
/// coat they lay 213 ft² in its time, 5 quarts of 35.6 ft²; of 26 quarts the first two batches have 5, the others 4.
const LONG: &str = "slab:\n  outline: [[0, 0], [20', 0], [20', 45'], [0, 45']]\ncoating: {system: flake, pour_from: S}\n";

fn long(pour_from: &str) -> crate::floor::Survey {
    let text = LONG.replace("pour_from: S", &format!("pour_from: {pour_from}"));
    floor(&format!("slabwalk: 1\njob: {{name: Long room}}\nunits: us\n{text}"))
}

#[test]
fn lines_are_taped_from_the_corner_on_the_pouring_side() {
    for (side, right, left) in
        [("S", false, true), ("N", true, false), ("1", false, true), ("3", true, false)]
    {
        let survey = long(side);
        let all = batches(&survey.slab, &survey.order.pour_lines);
        let base = all.iter().find(|b| b.layers == ["base coat"]).expect("a base coat");
        assert_eq!((base.all.len(), base.lines.len()), (3, 2), "{side}");
        let first = base.all[0].mixed.area_m2;
        assert!((first - 304.0 * M2_PER_FT2).abs() < 1e-6, "{side}");
        // Wall 2 runs N along the right side, wall 4 back S along the left.
        let tapes: Vec<_> = base.tapes.iter().map(|t| (t.wall, t.backward, stations(t))).collect();
        assert_eq!(
            tapes,
            [(1, right, vec![(1, 15.2), (2, 30.4)]), (3, left, vec![(1, 15.2), (2, 30.4)])],
            "{side}"
        );
        let top = all.iter().find(|b| b.layers == ["top coat"]).expect("a top coat");
        let want = [8.906_25, 17.812_5, 24.937_5, 32.062_5, 39.187_5];
        let found: Vec<f64> = stations(&top.tapes[0]).iter().map(|mark| mark.1).collect();
        assert_eq!(found, want, "{side}");
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
    let base = all.iter().find(|b| b.layers == ["base coat"]).expect("a base coat");
    // 800 ft² take 21.05 quarts of 38 ft²: 22 in batches of 8, 7 and 7. 800 − (40 − d)²/2 = 304: d = 40 − √992.
    let d = 40.0 - 992.0_f64.sqrt();
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
    let survey = floor(
        "slabwalk: 1\njob: {name: Closet}\nunits: us\nslab:\n  outline: [[0, 0], [12', 0], [12', 12'], [0, 12']]\ncoating: {system: flake, pour_from: S}\n",
    );
    let tabloid = Paper::landscape(Size::Tabloid);
    assert!(pages(&inputs(&survey), tabloid).is_empty());
    let side = room("coating: {system: flake}\n");
    assert!(pages(&inputs(&side), tabloid).is_empty());
}

#[test]
fn each_layer_of_several_batches_has_its_plan_and_its_table() {
    let survey = floor(KITCHEN);
    let pages = pages(&inputs(&survey), Paper::landscape(Size::Tabloid));
    let text = format!("{pages:?}");
    for name in ["\"3 batches, pot life", "\"5 batches, pot life", "\"4 batches, pot life"] {
        assert_eq!(text.matches(name).count(), 1, "{name}");
    }
    let all = batches(&survey.slab, &survey.order.pour_lines);
    let side = survey.slab.pour_from.as_ref().expect("a side");
    let said = format!("{:?}", notes(&inputs(&survey), side, &all, (None, true)));
    assert!(said.contains("Pour along wall 4→5"), "{said}");
    // 2.315 m square off the wall are 1.515 m from corner 3, which lies 0.8 m away from the side.
    let table = table(&inputs(&survey), &all[0], &BTreeSet::new());
    assert_eq!(table.rows[0].cells, ["1", "2315", "28.50 m²"]);
    assert_eq!(table.rows[0].words, "6 L: A 4 L, B 2 L; 23 min; line 3→2 1515; 6→7 1515");
}

#[test]
fn a_crowd_of_lines_leaves_the_title_free() {
    // 300 by 200 ft: 106 kits of primer, each line with its station on both long walls.
    let survey = floor(
        "slabwalk: 1\njob: {name: Hall}\nunits: us\nslab:\n  outline: [[0, 0], [300', 0], [300', 200'], [0, 200']]\ncoating: {system: flake, pour_from: W}\n",
    );
    let ground = Ground::new(Paper::landscape(Size::AnsiD));
    let inputs = inputs(&survey);
    let pages = pages(&inputs, ground.paper);
    let n = pages.len();
    let sheet = pages.into_iter().next().expect("a sheet").finish(&inputs, &ground, (0, n));
    let faults = crate::audit::audit(&crate::svg::write_with(&sheet, false));
    assert_eq!(faults, []);
}
