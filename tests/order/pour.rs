//! Pour lines from every side and from an oblique wall, by hand. A quart of the built-in base coat
//! covers 160 × 0.95 ÷ 4 = 38 ft². Two lay 800 ft² an hour, 320 ft² or 8.4 quarts in 0.8 of its pot
//! life of half an hour: a batch is 8 quarts at most.

use super::floor::{survey, text};

const FT: f64 = 0.3048;

/// Distances of the base coat's lines, ft, and areas behind them, ft².
fn lines(floor: &slabwalk::survey::Survey) -> Vec<(f64, f64)> {
    let layers = &floor.order.pour_lines;
    let base = layers.iter().find(|layer| layer.layer == "base coat");
    let base = base.expect("the base coat is poured");
    let feet =
        |line: &slabwalk::order::PourLine| (line.distance_m / FT, line.area_behind_m2 / FT / FT);
    base.lines.iter().map(feet).collect()
}

/// A pit of 8 by 6 ft, 4 to 12 ft along the south wall, leaves 528 ft²: 13.9 quarts, two batches of 7, 266 ft². From
/// the south and west the whole pit lies behind the first line: (266 + 48) ÷ 24 = 13.083 ft. From the north and east
/// it lies beyond it: 266 ÷ 24 = 11.083 ft. The second line is the far wall.
#[test]
fn from_the_four_sides() {
    let (behind, beyond) = (314.0 / 24.0, 266.0 / 24.0);
    for (side, want) in [("S", behind), ("W", behind), ("E", beyond), ("N", beyond)] {
        let floor = survey(&format!(
            "  keep_outs: [{{what: pit, box: {{corner: [4', 0], size: [8', 6']}}}}]\ncoating: {{system: flake, pour_from: {side}}}\n"
        ));
        let found = lines(&floor);
        assert_eq!(found.len(), 2, "{side}");
        assert!((found[0].0 - want).abs() < 1e-4, "{side}: {found:?}");
        assert!((found[0].1 - 266.0).abs() < 266.0 * 1e-5, "{side}: {found:?}");
        assert!((found[1].0 - 24.0).abs() < 1e-4, "{side}: {found:?}");
        assert!((found[1].1 - 528.0).abs() < 1e-6, "{side}: {found:?}");
    }
}

/// The corner at 24, 24 is cut off from (24, 16) to (16, 24): 544 ft². Square to that wall the floor widens from
/// 8√2 by 2 ft a foot up to the diagonal, 8√2 ft away, with 256 ft² behind it; beyond, it narrows from 24√2:
/// 256 + 24√2 e − e² = 304 gives e = 12√2 − √240, so 12.792 ft: the floor takes 14.3 quarts, a first batch of 8,
/// 304 ft², and one of 7. The far corner is 40 ÷ √2 = 28.284 ft away.
#[test]
fn from_an_oblique_wall() {
    let sketch = text("coating: {system: flake, pour_from: wall 3}\n")
        .replace("[24', 24']", "[24', 16'], [16', 24']");
    let (sketch, faults) = slabwalk::sketch::parse(&sketch);
    let sketch = sketch.expect("a sketch");
    let floor =
        slabwalk::survey::survey(sketch, slabwalk::shop::built_in(), faults).expect("a floor");
    let found = lines(&floor);
    let e = 12.0 * 2.0_f64.sqrt() - 240.0_f64.sqrt();
    assert!((found[0].0 - (8.0 * 2.0_f64.sqrt() + e)).abs() < 1e-4, "{found:?}");
    assert!((found[1].0 - 40.0 / 2.0_f64.sqrt()).abs() < 1e-4, "{found:?}");
    assert!((found[1].1 - 544.0).abs() < 1e-6, "{found:?}");
}
