//! Works that took hours and cost no goods: coves, terminations, degreasing, coating removal.

use serde_json::Value;

use super::floor::text;
use crate::command::json;

/// A floor of 24 by 24 ft: a curb along 20 ft of its north edge, a sill of 12 ft left uncoated along
/// the south, oil, paint and adhesive.
fn floor(cove: &str, system: &str) -> String {
    text(&format!(
        "coating:\n  {system}uncoated: [{{what: sill, box: {{corner: [6', 0], size: [12', 1']}}}}]\n  faces: [{{name: curb, path: [[0, 24'], [20', 24']], height: 6\"{cove}}}]\n\
         blemishes:\n  - {{id: B1, what: oil, box: {{corner: [2', 4'], size: [12', 12']}}}}\n  - {{id: B2, what: paint, tested: clear, tested_on: 2026-09-01, box: {{corner: [2', 17'], size: [10', 5']}}}}\n  - {{id: B3, what: adhesive, tested: asbestos, tested_on: 2026-09-01, box: {{corner: [16', 4'], size: [5', 4']}}}}\n"
    ))
}

fn row<'a>(order: &'a Value, list: &str, item: &str) -> Option<&'a Value> {
    let rows = order[list].as_array().expect("a list");
    rows.iter().find(|row| row["item"] == item)
}

fn near(name: &str, found: &Value, want: f64) {
    let found = found.as_f64().unwrap_or(f64::NAN);
    assert!((found - want).abs() < want.abs() * 1e-6, "{name}: {found} for {want}");
}

/// One cubic inch and one gallon, L; one pound, kg; one foot, m.
const IN3: f64 = 0.016_387_064;
const GAL: f64 = 231.0 * IN3;
const LB: f64 = 0.453_592_37;
const FT: f64 = 0.3048;

/// (1 − π/4) r² along 20 ft: 51.50 in³ at 1 in, four times that at 2 in. A bag makes 0.4 ft³ = 691.2
/// in³ and 15 % are lost; 400 ft would take two.
#[test]
fn coves_take_mortar_and_hours() {
    let share = 1.0 - std::f64::consts::FRAC_PI_4;
    for (name, cove, radius_in) in [
        ("none", "", 0.0),
        ("none, said", ", cove: false", 0.0),
        ("of the book", ", cove: true", 1.0),
        ("two inches", ", cove: 2\"", 2.0),
    ] {
        let sketch = floor(cove, "system: flake\n  ");
        let totals = &json(&sketch, "takeoff")["totals"];
        let order = json(&sketch, "order");
        let mortar = row(&order, "order", "cove mortar");
        let days = json(&sketch, "days").to_string();
        assert_eq!(days.contains("form coves"), radius_in > 0.0, "{name}");
        assert_eq!(mortar.is_some(), radius_in > 0.0, "{name}");
        let Some(mortar) = mortar else {
            assert_eq!(totals["cove_m"], 0.0, "{name}");
            continue;
        };
        let litres = share * radius_in * radius_in * 240.0 * IN3;
        near(name, &totals["cove_m"], 20.0 * FT);
        near(name, &totals["cove_l"], litres);
        near(name, &mortar["need"], litres / IN3 * 1.15 / 691.2 * 50.0 * LB);
        assert_eq!(mortar["packages"], 1, "{name}");
    }
    // Nothing is formed where nothing is coated.
    let bare = json(&floor(", cove: true", ""), "order");
    assert_eq!(row(&bare, "order", "cove mortar"), None);
}

/// The sill's edge is 12 + 1 + 1 ft of termination: 14 × 12 × 1/4 × 1/4 = 10.5 in³ of base coat, and
/// one wheel for 14 ft.
#[test]
fn terminations_take_a_wheel_and_base_coat() {
    let order = json(&floor("", "system: flake\n  "), "order");
    let base = row(&order, "order", "flake: base coat").expect("the base coat");
    // 576 ft² less the sill of 12 and the curb of 10 more, at 160 ft²/gal less 5 %.
    let gal = 574.0 / (160.0 * 0.95) + 10.5 / 231.0;
    near("base coat", &base["need"], gal * GAL);
    let primer = row(&order, "order", "flake: primer").expect("the primer");
    near("primer", &primer["need"], 574.0 / (200.0 * 0.95) * GAL);
    let wheel = row(&order, "sundries", "hand grinder wheel").expect("a wheel");
    assert_eq!(wheel["count"], 1);
    // Nothing is keyed where nothing is coated.
    let bare = json(&floor("", ""), "order");
    assert_eq!(row(&bare, "sundries", "hand grinder wheel"), None);
}

/// 144 ft² of oil at 100 ft²/gal are 1.44 gal, two cans. 50 ft² of paint at 0.1 lb/ft² are 5 lb to
/// carry off; adhesive with asbestos is somebody else's.
#[test]
fn degreasing_and_removal_take_goods_and_bags() {
    for system in ["", "system: flake\n  "] {
        let sketch = floor("", system);
        let order = json(&sketch, "order");
        let degreaser = row(&order, "order", "degreaser").expect("degreaser");
        near("degreaser", &degreaser["need"], 1.44 * GAL);
        assert_eq!(degreaser["packages"], 2);
        let dust = order["dust"].as_array().expect("dust");
        let off = dust.iter().find(|d| d["from"] == "old coatings and adhesive");
        near("paint", &off.expect("paint")["mass_kg"], 5.0 * LB);
        let totals = &json(&sketch, "takeoff")["totals"];
        near("oil", &totals["oil_m2"], 144.0 * FT * FT);
        near("off", &totals["comes_off_kg"], 5.0 * LB);
    }
}

/// Each of these goods costs its packages at the price of the book.
#[test]
fn each_is_in_the_price() {
    let price = json(&floor(", cove: true", "system: flake\n  "), "price");
    for (item, quantity, amount) in [("cove mortar", "1", "45.00"), ("degreaser", "2", "40.00")] {
        let lines = price["base"]["lines"].as_array().expect("lines");
        let line = lines.iter().find(|line| line["item"] == item).expect(item);
        assert_eq!(line["quantity"], quantity, "{item}");
        assert_eq!(line["amount"], amount, "{item}");
    }
}
