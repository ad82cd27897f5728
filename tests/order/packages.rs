//! Packages of a hand-worked floor, and how they grow.

use proptest::prelude::*;

use super::floor::survey;

fn packages(more: &str, item: &str) -> u64 {
    let floor = survey(more);
    let row = floor.order.rows.iter().find(|row| row.item.to_string() == item);
    row.map_or(0, |row| row.packages)
}

/// The built-in systems on 576 ft², kits of 3 gal. A kit covers 3 × coverage × 0.95:
/// primer 570 ft², so 576 take two; base 456, two; top 427.5, two (160 ft²/gal: 456, two).
/// Flake: 57.6 lb in boxes of 25 are 2.3, three; partial 14.4 lb, one. Grit: 1.152 lb, one.
/// Quartz base: 1604.17 / 16 × 0.95 × 3 = 285.7 ft² a kit: 2.02, three; sand 288 lb in bags of
/// 50: 5.76, six; grout coat 100 × 0.93 × 3 = 279: 2.06, three.
/// Two coats of 8 mil: 1604.17 / 8 × 0.92 × 3 = 553.4: 1.04, two; at 5 % loss 571.5: 1.01, two.
#[test]
fn four_systems_by_hand() {
    let rows = [
        ("flake", "primer", 2),
        ("flake", "base coat", 2),
        ("flake", "flake", 3),
        ("flake", "top coat", 2),
        ("flake", "grit", 1),
        ("partial-flake", "flake", 1),
        ("partial-flake", "top coat", 2),
        ("quartz", "base coat", 3),
        ("quartz", "quartz sand", 6),
        ("quartz", "grout coat", 3),
        ("two-coat", "first coat", 2),
        ("two-coat", "second coat", 2),
    ];
    for (system, layer, want) in rows {
        let got =
            packages(&format!("coating: {{system: {system}}}\n"), &format!("{system}: {layer}"));
        assert_eq!(got, want, "{system}: {layer}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn packages_never_fall_when_a_joint_grows(inches in 12..200_u32, more in 1..80_u32) {
        let joint = |to: u32| packages(
            &format!("joints:\n  - {{kind: control, x: 12', from: 0, to: {to}\", width: 3/8\", depth: 1 1/2\"}}\n"),
            "joint filler",
        );
        prop_assert!(joint(inches) <= joint(inches + more));
    }
}
