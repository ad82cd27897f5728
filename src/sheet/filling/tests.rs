use super::*;
use crate::paper::size::{Paper, Size};
use crate::quantity::M_PER_FT;
use crate::sheet::fixture::{BOAT_SHOP, GARAGE, floor, inputs, room};

/// The sheets of filling alone.
fn pages(inputs: &Inputs) -> Vec<Page> {
    let ground = Ground::new(Paper::landscape(Size::Tabloid));
    let mut named = Names::default();
    let Some(filling) =
        filling(inputs, &ground, 0, (&BTreeSet::new(), &BTreeSet::new()), &mut named)
    else {
        return Vec::new();
    };
    let mut pages = filling.sheets;
    pages.extend(page::flowed(&ground, vec![filling.section], &mut named));
    pages
}

/// Two joints of 16 ft, 1/2 in × 2 in: 192 in³ each. A cartridge of 600 mL is 36.614 in³, less 10 % waste 33.286 in³, which
/// fill 33.286 in = 2.7738 ft.
const JOINTS: &str = "joints:\n  - {id: J1, kind: control, x: 6', width: 1/2, depth: 1, chase: {width: 1/2, depth: 2}}\n  - {id: J2, kind: control, x: 14', width: 1/2, depth: 1, chase: {width: 1/2, depth: 2}}\n";

#[test]
fn stations_are_taped_from_the_ring_in_both_directions() {
    let survey = room(JOINTS);
    let inputs = inputs(&survey);
    let marks = filler_marks(&survey.slab, &survey.takeoff, &survey.shop);
    let table = table(&inputs, &marks);
    assert_eq!(table.rows.len(), 2);
    // 2.7738 ft apart from the S end: 2'-9 1/2", 5'-6 1/2", 8'-4" …
    let first = &table.rows[0];
    assert_eq!(first.cells, ["1", "J1", "16.0", "from ring"]);
    assert!(
        first.words.starts_with("1 at 2'-9 1/2\"; 2 at 5'-6 1/2\"; 3 at 8'-4\""),
        "{}",
        first.words
    );
    // Six of them would reach 16.643 ft; the sixth runs out 0.643 ft down from the N end of J2: at 15'-4 1/2".
    let second = &table.rows[1];
    assert_eq!(second.cells, ["2", "J2", "16.0", "to ring"]);
    assert!(second.words.starts_with("6 at 15'-4 1/2\""), "{}", second.words);
    // Across 8 ft at the N end; as sketched it would be back down: √(8² + 16²) = 17.9 ft.
    assert!((marks.walk_m / M_PER_FT - 8.0).abs() < 1e-6);
    assert!((marks.naive_m / M_PER_FT - 320.0_f64.sqrt()).abs() < 1e-6);
}

#[test]
fn every_mark_stands_on_the_plan_and_in_the_table() {
    for sketch in [GARAGE, BOAT_SHOP] {
        let survey = floor(sketch);
        let inputs = inputs(&survey);
        let marks = filler_marks(&survey.slab, &survey.takeoff, &survey.shop);
        let words: Vec<String> = table(&inputs, &marks).rows.into_iter().map(|r| r.words).collect();
        let words = words.join("; ");
        let drawn = format!("{:?}", pages(&inputs));
        for mark in &marks.marks {
            let n = mark.cartridge;
            assert!(format!("; {words}").contains(&format!("; {n} at ")), "{n}");
            assert!(drawn.contains(&format!("\"cartridge-{n}\"")), "{n}");
        }
        for i in 1..=marks.legs.len() {
            assert!(drawn.contains(&format!("\"order-{i}\"")), "{i}");
        }
    }
}

#[test]
fn a_floor_without_filled_joints_has_no_sheet() {
    let survey = room("");
    assert!(pages(&inputs(&survey)).is_empty());
}
