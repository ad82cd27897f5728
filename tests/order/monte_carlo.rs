//! The formula of the confidence against 100,000 floors built at random from a fixed seed.

use slabwalk::order::Z_NINE_IN_TEN;
use slabwalk::survey::Survey;

use super::floor::survey;

/// A small deterministic generator: multiply and add modulo 2⁶⁴ (Knuth's constants), upper bits.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// A normal deviate (Box and Muller).
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// Filler of one such floor, waste included, L: every joint at its own width and depth, the yield
/// common to all.
fn one(floor: &Survey, dice: &mut Dice) -> f64 {
    let rules = &floor.shop.filler;
    let drawn: f64 = floor
        .takeoff
        .joints
        .iter()
        .map(|joint| {
            let filling = joint.filling().expect("every joint is filled");
            let width = filling.width_m + rules.width_sd.m() * dice.normal();
            let depth = filling.depth_m + rules.depth_sd.m() * dice.normal();
            joint.length_m * width * depth * 1000.0
        })
        .sum();
    let computed = floor.takeoff.totals.fill_l;
    // The yield's share is of the computed volume: the formula leaves out the product of the two
    // deviations, which is smaller than either by their own size.
    (drawn + computed * rules.yield_sd.one() * dice.normal()) * (1.0 + rules.waste.one())
}

#[test]
fn nine_of_ten_floors_take_no_more() {
    let floor = survey(
        "joints:\n  - {kind: control, x: 12', width: 1/4\"}\n  - {kind: control, y: 8', width: 3/16\", depth: 1\"}\n  \
         - {kind: construction, y: 16', width: 3/8\", depth: 1 1/2\"}\n",
    );
    let rows = &floor.order.rows;
    let row = rows.iter().find(|row| row.item.to_string() == "joint filler");
    let row = row.expect("joints are filled");
    let runs = 100_000;
    let mut dice = Dice(26_041);
    let all: Vec<f64> = (0..runs).map(|_| one(&floor, &mut dice)).collect();
    let mean = all.iter().sum::<f64>() / f64::from(runs);
    let variance = all.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / f64::from(runs);
    // Standard errors: the mean's is sd/√100,000 = 0.3 % of sd, the deviation's 0.2 % of it.
    assert!((mean - row.need).abs() < 0.015 * row.sd, "{mean} {}", row.need);
    assert!((variance.sqrt() / row.sd - 1.0).abs() < 0.012, "{} {}", variance.sqrt(), row.sd);
    let enough = |limit: f64| all.iter().filter(|v| **v <= limit).count() as f64 / f64::from(runs);
    assert!((enough(row.need) - 0.5).abs() < 0.01);
    assert!((enough(row.need + Z_NINE_IN_TEN * row.sd) - 0.9).abs() < 0.005);
}

/// A coat covers better or worse all over the floor, and so is what is thrown: one deviate for a layer.
#[test]
fn nine_of_ten_coats_take_no_more() {
    let floor = survey("coating: {system: flake}\n");
    let rules = &floor.shop.coating;
    let runs = 100_000;
    let mut dice = Dice(7_919);
    for (layer, spread) in [
        ("flake: primer", rules.coverage_sd.one()),
        ("flake: base coat", rules.coverage_sd.one()),
        ("flake: flake", rules.rate_sd.one()),
    ] {
        let row = floor.order.rows.iter().find(|row| row.item.to_string() == layer);
        let row = row.expect(layer);
        let limit = row.need + Z_NINE_IN_TEN * row.sd;
        let (mut enough, mut half, mut squares) = (0, 0, 0.0);
        for _ in 0..runs {
            let taken = row.need * (1.0 + spread * dice.normal());
            enough += usize::from(taken <= limit);
            half += usize::from(taken <= row.need);
            squares += (taken - row.need).powi(2);
        }
        let share = |count: usize| count as f64 / f64::from(runs);
        assert!((share(enough) - 0.9).abs() < 0.005, "{layer}: {}", share(enough));
        assert!((share(half) - 0.5).abs() < 0.01, "{layer}: {}", share(half));
        let sd = (squares / f64::from(runs)).sqrt();
        assert!((sd / row.sd - 1.0).abs() < 0.012, "{layer}: {sd} {}", row.sd);
    }
}

/// 560 ft² of primer at 190 ft²/gal are 2.95 of a kit of 3 gal: enough in half of such jobs, not in nine
/// of ten.
#[test]
fn a_kit_that_is_nearly_full_is_not_enough_in_nine_of_ten() {
    let text = super::floor::text("coating: {system: flake}\n")
        .replace("24'], [0, 24'", "23' 4\"], [0, 23' 4\"");
    let (sketch, faults) = slabwalk::sketch::parse(&text);
    let sketch = sketch.unwrap_or_else(|| panic!("{faults:?}"));
    let floor =
        slabwalk::survey::survey(sketch, slabwalk::shop::built_in(), faults).expect("a floor");
    let row = floor.order.rows.iter().find(|row| row.item.to_string() == "flake: primer");
    let row = row.expect("a primer");
    assert_eq!((row.packages, row.packages_p90), (1, 2), "{row:?}");
    let told = "Coverage varies with the profile, the concrete and the hand that spreads it, so half of such floors take up to 1 and nine of ten up to 2.";
    assert!(row.how.iter().any(|sentence| sentence == told), "{:?}", row.how);
    // Nothing is known of how other products vary: the order says no second number.
    let sure: Vec<_> = floor.order.rows.iter().filter(|row| row.sd <= 0.0).collect();
    assert!(sure.iter().all(|row| row.nine_in_ten().is_none()));
}

#[test]
fn the_text_says_why_they_differ() {
    let floor = survey(
        "joints:\n  - {kind: control, x: 12', width: 3/8\", depth: 1 1/2\"}\n  - {kind: control, y: 12', width: 3/8\", depth: 1 1/2\"}\n",
    );
    let text = slabwalk::report::order::text(&floor);
    assert!(text.contains("Half and nine of ten differ because each joint"), "{text}");
}
