//! The formula of the confidence against 100,000 floors built at random from a fixed seed.

use slabwalk::order::Z_NINE_IN_TEN;
use slabwalk::survey::Survey;

use super::floor::survey;

/// A small deterministic generator: multiply and add modulo 2⁶⁴ (Knuth's constants), upper bits.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
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
            let width = joint.chase_width_mm + rules.width_sd.mm() * dice.normal();
            let depth = joint.chase_depth_mm + rules.depth_sd.mm() * dice.normal();
            joint.length_m * width * depth / 1000.0
        })
        .sum();
    let computed: f64 = floor.takeoff.joints.iter().map(|joint| joint.fill_l).sum();
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
    let row = rows.iter().find(|row| row.item == "joint filler");
    let row = row.expect("joints are filled");
    let runs = 100_000;
    let mut dice = Dice(26_041);
    let all: Vec<f64> = (0..runs).map(|_| one(&floor, &mut dice)).collect();
    let mean = all.iter().sum::<f64>() / f64::from(runs);
    let variance = all.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / f64::from(runs);
    // Standard errors: the mean's is sd/√100,000 = 0.3 % of sd, the deviation's 0.2 % of it.
    assert!(
        (mean - row.need).abs() < 0.015 * row.sd,
        "{mean} {}",
        row.need
    );
    assert!(
        (variance.sqrt() / row.sd - 1.0).abs() < 0.012,
        "{} {}",
        variance.sqrt(),
        row.sd
    );
    let enough = |limit: f64| all.iter().filter(|v| **v <= limit).count() as f64 / f64::from(runs);
    assert!((enough(row.need) - 0.5).abs() < 0.01);
    assert!((enough(row.need + Z_NINE_IN_TEN * row.sd) - 0.9).abs() < 0.005);
}

#[test]
fn the_text_says_why_they_differ() {
    let floor = survey(
        "joints:\n  - {kind: control, x: 12', width: 3/8\", depth: 1 1/2\"}\n  - {kind: control, y: 12', width: 3/8\", depth: 1 1/2\"}\n",
    );
    let text = slabwalk::order::report::text(&floor);
    assert!(
        text.contains("Half and nine of ten differ because each joint"),
        "{text}"
    );
}
