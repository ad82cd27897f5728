use proptest::prelude::*;

use crate::quantity::{M_PER_IN, M2_PER_FT2};
use crate::shop;
use crate::sketch;
use crate::survey::survey;
use crate::takeoff::{Patch, SpallRepair, Takeoff};

const IN2: f64 = M2_PER_FT2 / 144.0;
const PAVEMENT: &str = "spalls: {rule: pavement}";

/// A floor of 24 by 24 ft; bare numbers of the plan are inches here.
fn takeoff(book: &str, floor: &str, rest: &str) -> Takeoff {
    let text = format!(
        "slabwalk: 1\njob: {{name: Spalls}}\nslab: {{post_tension: none, outline: [[0, 0], [24', 0], [24', 24'], [0, 24']]{floor}}}\n{rest}"
    );
    let (sketch, faults) = sketch::parse(&text);
    let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
    let (shop, faults) = shop::parse(&format!("slabwalk_shop: 1\n{book}\n"));
    let shop = shop.unwrap_or_else(|| panic!("{faults:?}"));
    survey(sketch, shop, Vec::new()).map_or_else(|faults| panic!("{faults:?}"), |s| s.takeoff)
}

/// Square spalls, 1 in deep: corner and side in inches.
fn squares(of: &[(f64, f64, f64)]) -> String {
    let rows = of.iter().enumerate().map(|(i, (x, y, side))| {
        format!("  - {{id: S{}, box: {{corner: [{x}\", {y}\"], size: [{side}\", {side}\"]}}, depth: 1}}\n", i + 1)
    });
    format!("spalls:\n{}", rows.collect::<String>())
}

/// The spalls of each patch and its sides in inches.
fn patches(takeoff: &Takeoff) -> Vec<(String, i64, i64)> {
    let ids = |patch: &Patch| patch.ids().collect::<Vec<_>>().join(" ");
    let inches = |m: f64| (m / M_PER_IN).round() as i64;
    let all = takeoff.patches.iter();
    all.map(|p| (ids(p), inches(p.length_m), inches(p.width_m))).collect()
}

#[test]
fn patches_are_merged_as_a_crew_would_cut_them() {
    let joint = "joints: [{kind: control, width: 1/4, x: 111\"}]\n";
    let column = ", keep_outs: [{box: {corner: [109\", 100\"], size: [4\", 4\"]}}]";
    let two = squares(&[(100.0, 100.0, 6.0), (116.0, 100.0, 6.0)]);
    let rows: [(&str, &str, &str, String, &[(&str, i64, i64)]); 12] = [
        ("a floor's size", "", "", squares(&[(100.0, 100.0, 3.0)]), &[("S1", 5, 5)]),
        (
            "a floor's least",
            "",
            "",
            "spalls: [{id: S1, box: {corner: [8', 8'], size: [3\", 1\"]}, depth: 1}]".into(),
            &[("S1", 5, 4)],
        ),
        ("a highway's size", PAVEMENT, "", squares(&[(100.0, 100.0, 3.0)]), &[("S1", 12, 9)]),
        (
            "as far as the shop says",
            "spalls: {extend: 2\"}",
            "",
            squares(&[(100.0, 100.0, 3.0)]),
            &[("S1", 7, 7)],
        ),
        ("a rib of 8 in stays", "", "", two.clone(), &[("S1", 8, 8), ("S2", 8, 8)]),
        ("under the rule of highways not", PAVEMENT, "", two.clone(), &[("S1 S2", 28, 12)]),
        (
            "a rib of an inch goes",
            "",
            "",
            squares(&[(100.0, 100.0, 6.0), (109.0, 100.0, 6.0)]),
            &[("S1 S2", 17, 8)],
        ),
        (
            "a joint between",
            PAVEMENT,
            "",
            format!("{joint}{two}"),
            &[("S1", 12, 12), ("S2", 12, 12)],
        ),
        ("a column between", PAVEMENT, column, two, &[("S1", 12, 12), ("S2", 12, 12)]),
        (
            "less than half repair",
            PAVEMENT,
            "",
            // Rectangles of 12 in, corner to corner 11 in off: 34 by 35 in around them, a quarter of it repair.
            squares(&[(100.0, 100.0, 6.0), (123.0, 122.0, 6.0)]),
            &[("S1", 12, 12), ("S2", 12, 12)],
        ),
        (
            "over 16 square feet",
            PAVEMENT,
            "",
            // 44 by 44 and 12 by 12 in; together 58 by 44 in, 17.7 ft².
            squares(&[(100.0, 100.0, 38.0), (146.0, 116.0, 6.0)]),
            &[("S1", 44, 44), ("S2", 12, 12)],
        ),
        (
            "the nearest first",
            PAVEMENT,
            "",
            // 48 by 40 in as one at most: the middle one goes with the right one, an inch off, not the left one, two off.
            squares(&[(100.0, 100.0, 30.0), (138.0, 100.0, 20.0), (165.0, 100.0, 20.0)]),
            &[("S1", 36, 36), ("S2 S3", 53, 26)],
        ),
    ];
    for (name, book, floor, rest, wanted) in rows {
        let found = patches(&takeoff(book, floor, &rest));
        let wanted: Vec<_> = wanted.iter().map(|(s, l, w)| ((*s).to_owned(), *l, *w)).collect();
        assert_eq!(found, wanted, "{name}");
    }
}

#[test]
fn ten_small_spalls_around_a_column_are_no_patch_over_it() {
    let ring: Vec<_> = (0..10)
        .map(|i| {
            let turn = f64::from(i) / 10.0 * std::f64::consts::TAU;
            ((146.0 + 30.0 * turn.cos()).round(), (146.0 + 18.0 * turn.sin()).round(), 3.0)
        })
        .collect();
    let column =
        ", keep_outs: [{id: K1, what: column, box: {corner: [142\", 142\"], size: [12\", 12\"]}}]";
    for book in ["", PAVEMENT] {
        let takeoff = takeoff(book, column, &squares(&ring));
        assert!(takeoff.patches.len() > 1, "{book}");
        for patch in &takeoff.patches {
            let middle = kurbo::Point::new(148.0 * M_PER_IN, 148.0 * M_PER_IN);
            assert!(!patch.rect.contains(middle), "{book} {}", patch.id);
            assert!(patch.area_m2 <= 16.0 * M2_PER_FT2, "{book} {}", patch.id);
        }
    }
}

#[test]
fn what_lies_in_a_patch_belongs_to_it_and_the_rest_is_skimmed() {
    let rest = "spalls:
  - {id: S1, box: {corner: [100\", 100\"], size: [10\", 10\"]}, depth: 1}
  - {id: S2, box: {corner: [98\", 98\"], size: [1\", 1\"]}, depth: 1/4}
  - {id: S3, box: {corner: [111\", 104\"], size: [4\", 2\"]}, depth: 1/4}
  - {id: S4, box: {corner: [120\", 104\"], size: [4\", 2\"]}, depth: 1/4}
  - {id: S5, box: {corner: [103\", 103\"], size: [2 1/2\", 2 1/2\"]}, depth: 1 1/2}
";
    let takeoff = takeoff(PAVEMENT, "", rest);
    assert_eq!(patches(&takeoff), [("S1 S2 S5".to_owned(), 16, 16)]);
    let patch = &takeoff.patches[0];
    assert!((patch.depth_mm - 38.1).abs() < 1e-9, "as deep as its deepest");
    let work = |i: usize| &takeoff.spalls[i];
    assert_eq!(work(1).repair.patch(), Some("R1"));
    // The patch reaches to 113 in: half of S3 lies in it.
    let SpallRepair::Skim { in_patches_m2, volume_l } = work(2).repair else {
        panic!("{:?}", work(2).repair);
    };
    assert!((in_patches_m2 - 4.0 * IN2).abs() < 1e-8);
    let quarter = 0.25 * M_PER_IN * 1000.0;
    assert!((volume_l - 4.0 * IN2 * quarter).abs() < 1e-6);
    let other_l = work(3).repair.skimmed_l().expect("it is skimmed");
    assert!((other_l - 8.0 * IN2 * quarter).abs() < 1e-9);
    let all = patch.volume_l + volume_l + other_l;
    assert!((takeoff.totals.patch_l - all).abs() < 1e-12);
}

#[test]
fn a_pop_out_of_a_floor_is_skimmed_or_cored() {
    let rows = [("", 2.0, "skim"), ("", 2.25, "patch"), (PAVEMENT, 2.0, "patch")];
    for (book, across, wanted) in rows {
        let rest =
            format!("spalls: [{{circle: {{center: [8', 8'], diameter: {across}\"}}, depth: 1}}]");
        let takeoff = takeoff(book, "", &rest);
        let found = crate::takeoff::words::spall_repair(&takeoff.spalls[0].repair);
        assert_eq!(found, wanted, "{book} {across}");
    }
}

#[test]
fn only_what_lies_in_the_coated_floor_counts() {
    let column = ", keep_outs: [{id: K1, box: {corner: [100\", 100\"], size: [20\", 20\"]}}]";
    let sill = "coating: {uncoated: [{id: U1, box: {corner: [200\", 0], size: [40\", 40\"]}}]}\n";
    // Name, the spall's corner and size in inches, the area that counts, the patch's sides and what of it is cut, in².
    let rows: [(&str, [f64; 4], f64, Option<(i64, i64, f64)>); 5] = [
        ("in a keep-out", [104.0, 104.0, 8.0, 8.0], 0.0, None),
        ("in an uncoated part", [210.0, 10.0, 8.0, 8.0], 0.0, None),
        ("half in a keep-out", [94.0, 104.0, 12.0, 8.0], 48.0, Some((10, 8, 70.0))),
        ("half in an uncoated part", [194.0, 10.0, 12.0, 8.0], 48.0, Some((10, 8, 70.0))),
        ("half over a wall", [-6.0, 104.0, 12.0, 8.0], 48.0, Some((10, 8, 70.0))),
    ];
    for (name, [x, y, w, h], area, cut) in rows {
        let rest = format!(
            "{sill}spalls: [{{box: {{corner: [{x}\", {y}\"], size: [{w}\", {h}\"]}}, depth: 1}}]\n"
        );
        let takeoff = takeoff("", column, &rest);
        let work = &takeoff.spalls[0];
        assert!((work.area_m2 / IN2 - area).abs() < 1e-3, "{name}: {}", work.area_m2 / IN2);
        assert_eq!(work.repair == SpallRepair::Leave, area == 0.0, "{name}");
        let found = takeoff.patches.first();
        assert_eq!(found.is_some(), cut.is_some(), "{name}");
        if let (Some(patch), Some((length, width, area))) = (found, cut) {
            assert_eq!(patches(&takeoff)[0], ("S1".to_owned(), length, width), "{name}");
            assert!((patch.area_m2 / IN2 - area).abs() < 1e-2, "{name}: {}", patch.area_m2 / IN2);
            let litres = patch.area_m2 * M_PER_IN * 1000.0;
            assert!((work.repair.volume_l() - litres).abs() < 1e-9, "{name}");
        }
    }
}

#[test]
fn what_two_patches_share_counts_once() {
    let joint = "joints: [{kind: control, width: 1/4, x: 10'}]\n";
    let rest = format!("{joint}{}", squares(&[(115.0, 100.0, 4.0), (121.0, 100.0, 4.0)]));
    let takeoff = takeoff(PAVEMENT, "", &rest);
    // 12 by 10 in each, the middles 6 in apart: 6 by 10 in of them are the same concrete.
    let areas: Vec<i64> =
        takeoff.patches.iter().map(|p| (p.area_m2 / IN2).round() as i64).collect();
    assert_eq!(areas, [120, 60]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn the_order_of_the_records_does_not_matter(
        // Places on a grid, so that many are as near as others.
        places in prop::collection::vec((0..12_u8, 0..12_u8, 1..4_u8), 2..24),
        turned in 1..23_usize,
        pavement: bool,
    ) {
        let book = if pavement { PAVEMENT } else { "" };
        let floor = ", keep_outs: [{id: K1, box: {corner: [120\", 120\"], size: [10\", 10\"]}}]";
        let joint = "joints: [{id: J1, kind: control, width: 1/4, x: 104\"}]\nspalls:\n";
        let rows: Vec<String> = places.iter().map(|(x, y, size)| {
            let (x, y, size) = (90 + 5 * u16::from(*x), 90 + 5 * u16::from(*y), 2 * u16::from(*size));
            format!("  - {{box: {{corner: [{x}\", {y}\"], size: [{size}\", {size}\"]}}, depth: 1}}\n")
        }).collect();
        let found = |rows: &[String]| {
            let takeoff = takeoff(book, floor, &format!("{joint}{}", rows.concat()));
            let mut sides: Vec<_> = takeoff.patches.iter().map(|p| {
                let at = |v: f64| (v * 1e6).round() as i64;
                [p.rect.center.x, p.rect.center.y, p.length_m, p.width_m].map(at)
            }).collect();
            sides.sort_unstable();
            (sides, takeoff.totals.patch_l)
        };
        let mut other = rows.clone();
        other.rotate_left(turned % rows.len());
        other.reverse();
        let ((sides, litres), (others, more)) = (found(&rows), found(&other));
        prop_assert_eq!(sides, others);
        prop_assert!((litres - more).abs() < 1e-6, "{} {}", litres, more);
    }
}

#[test]
fn a_patch_has_the_id_of_no_item() {
    let tier = ", tiers: [{id: R1, height: 3\", box: {corner: [0, 20'], size: [24', 4']}}]";
    let takeoff = takeoff("", tier, &squares(&[(100.0, 100.0, 6.0)]));
    assert_eq!(takeoff.patches[0].id, "R2");
}
