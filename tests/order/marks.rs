//! Filler marks on hand-worked floors.

use proptest::prelude::*;
use slabwalk::order::{Marks, filler_marks};
use slabwalk::survey::Survey;

use super::floor::survey;

const FT: f64 = 0.3048;

fn marks(floor: &Survey) -> Marks<'_> {
    filler_marks(&floor.slab, &floor.takeoff, &floor.shop)
}

/// Two joints of 24 ft, 12 ft apart, 3/8 by 1 1/2 in: 6.75 in³ a foot. A cartridge of 600 mL
/// leaves 36.614 ÷ 1.1 = 33.286 in³ in place, 4.931 ft. So 48 ft take 9.73 cartridges, nine marks: four
/// on the first joint, the fifth 5 × 4.931 − 24 = 0.656 ft into the second. Filled to and fro the
/// crew walks 12 ft between them; as listed it comes back across, √(24² + 12²) = 26.83 ft.
#[test]
fn two_joints_by_hand() {
    let floor = survey(
        "joints:\n  - {kind: control, x: 6', width: 3/8\", depth: 1 1/2\"}\n  - {kind: control, x: 18', width: 3/8\", depth: 1 1/2\"}\n",
    );
    let found = marks(&floor);
    assert!((found.walk_m - 12.0 * FT).abs() < 1e-6, "{}", found.walk_m);
    assert!((found.naive_m - 720.0_f64.sqrt() * FT).abs() < 1e-6, "{}", found.naive_m);
    assert_eq!(found.marks.len(), 9);
    let each = 36.614_246_4 / 1.1 / 6.75;
    for mark in &found.marks {
        let filled = each * mark.cartridge as f64;
        // The second joint is filled backward.
        let (joint, station) = if filled < 24.0 { ("J1", filled) } else { ("J2", 48.0 - filled) };
        assert_eq!(mark.joint.id, joint);
        assert!((mark.station_m / FT - station).abs() < 1e-4, "{mark:?}");
    }
}

#[test]
fn a_floor_without_joints_has_no_marks() {
    let floor = survey("");
    let Marks { legs, marks, walk_m, naive_m } = marks(&floor);
    assert!(legs.is_empty() && marks.is_empty(), "{legs:?} {marks:?}");
    assert_eq!((walk_m, naive_m), (0.0, 0.0));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_walks_no_more_and_fills_everything(places in prop::collection::btree_set(1..23_u32, 1..7)) {
        let mut more = String::from("joints:\n");
        for (i, place) in places.iter().enumerate() {
            let axis = if i % 2 == 0 { "x" } else { "y" };
            more += &format!("  - {{kind: control, {axis}: {place}', width: 3/8\", depth: 1 1/2\"}}\n");
        }
        let floor = survey(&more);
        let found = marks(&floor);
        prop_assert!(found.walk_m <= found.naive_m + 1e-9);
        let filled: f64 = found.legs.iter().map(|leg| leg.stretch.length()).sum();
        prop_assert!((filled - floor.takeoff.totals.chase_m).abs() < 1e-6);
        let row = floor.order.rows.iter().find(|row| row.item.to_string() == "joint filler");
        let used = row.map_or(0, |row| row.packages);
        prop_assert_eq!(found.marks.len() as u64 + 1, used);
    }
}
