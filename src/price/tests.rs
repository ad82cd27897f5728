//! Prices worked by hand, and what holds for every price.

use proptest::prelude::*;
use rust_decimal::Decimal;

use super::build::with_margin;
use super::*;
use crate::quantity::Money;
use crate::sketch::UnitKind;
use crate::survey::{Survey, survey};

fn floor(sketch: &str, shop: &str) -> Survey {
    let (parsed, found) = crate::sketch::parse(sketch);
    let (book, faults) = crate::shop::parse(shop);
    assert!(
        parsed.is_some() && book.is_some(),
        "{found:?} {faults:?}\n{sketch}\n{shop}"
    );
    let (Some(parsed), Some(book)) = (parsed, book) else {
        unreachable!()
    };
    survey(parsed, book, Vec::new()).expect("a floor")
}

fn decimal(text: &str) -> Decimal {
    text.parse().expect("a number")
}

/// V-M1, V-M2 and the facts beside them: 80 000 at 20 % are 100 000; 30 000 at 50 % are 60 000; a
/// markup of 20 % is a margin of one sixth.
#[test]
fn margin_is_a_share_of_the_price() {
    for (name, cost, margin, want) in [
        ("V-M1", "80000", "0.2", "100000.00"),
        ("half", "30000", "0.5", "60000.00"),
        ("V-M2, markup 20 %", "100", "0.16666667", "120.00"),
        ("no margin", "123.45", "0", "123.45"),
        ("a third", "100", "0.3333", "149.99"),
        ("refused elsewhere", "100", "1", "100.00"),
    ] {
        let price = with_margin(decimal(cost), decimal(margin));
        assert_eq!(price.to_string(), want, "{name}");
    }
}

const SLAB: &str =
    "slabwalk: 1\njob: {name: shed}\nslab: {outline: [[0, 0], [30', 0], [30', 10'], [0, 10']]}\n";
const BOOK: &str = "slabwalk_shop: 1
grinding: {head: 1\", edge_gap: 0\"}
systems: {one: {layers: [{name: coat, coverage: 100 ft2/gal, loss: 0%, kit: 1 gal}]}}
prices:
  labor: 62.50
  goods: {one: {coat: 40.00}, dust bag: 1.50}
  equipment: {floor grinder: {day: 110}, dust collector: {day: 45}, coating tools: {day: 0}, hand grinder: {day: 0}}
  travel: {distance: 0.67/mi, trip: 20}
  disposal: 12.25
  overhead: 12.5%
  margin: 35%
  unit_margin: 35%
  tax: 8.25%
";

/// By hand: 300 ft² at 100 ft²/gal are three kits, 120.00. Ground 1/64 in deep the floor gives
/// 300 × 1/768 = 0.390625 ft³ of concrete, 56.6 lb at 145: two bags, 3.00. Tax 8.25 % of 123.00
/// = 10.1475, up to 10.15. Grinding 300/250 = 1.2 h, 75.00; the coat by two 300/450 × 2 = 1.33 h,
/// 83.125, up to 83.13. One day: grinder 110, collector 45. One trip 20.00 and 18.5 mi × 0.67 =
/// 12.395, up to 12.40. Two bags off at 12.25, 24.50. Direct 503.18; overhead 12.5 % = 62.8975, up to
/// 62.90; cost 566.08; ÷ 0.65 = 870.892…, 870.89.
#[test]
fn a_small_job_by_hand() {
    let sketch = format!("{SLAB}coating: {{system: one}}\nprice: {{travel: 18.5 mi}}\n");
    let built = build_up(&floor(&sketch, BOOK)).expect("a price");
    let lines: Vec<String> = built
        .lines
        .iter()
        .map(|line| format!("{} {}", line.item, line.amount))
        .collect();
    let want = [
        "one: coat 120.00",
        "dust bag 3.00",
        "tax on materials 10.15",
        "grind the floor 75.00",
        "coat 83.13",
        "floor grinder 110.00",
        "dust collector 45.00",
        "trips 20.00",
        "driving 12.40",
        "dust 24.50",
        "overhead 62.90",
    ];
    assert_eq!(lines, want);
    assert_eq!(built.direct.to_string(), "503.18");
    assert_eq!(built.cost.to_string(), "566.08");
    assert_eq!(built.price.to_string(), "870.89");
    assert_eq!(built.margin.to_string(), "304.81");
    assert!(
        built
            .lines
            .iter()
            .all(|line| !line.example && !line.from.is_empty())
    );
}

#[test]
fn tax_and_trips_are_the_sketchs() {
    let sketch = format!("{SLAB}coating: {{system: one}}\nprice: {{tax: false, trips: 4}}\n");
    let built = build_up(&floor(&sketch, BOOK)).expect("a price");
    assert_eq!(built.section(Section::Tax), Money::ZERO);
    assert_eq!(built.section(Section::Travel).to_string(), "80.00");
    assert_eq!(built.section(Section::Materials).to_string(), "123.00");
}

/// By hand, a foot of joint by the book above: 12 × 1/4 × 3/4 = 2.25 in³ = 36.870894 mL, with 10 %
/// waste 40.557983 mL, 0.06759664 of a 600 mL cartridge at 24.00 = 1.62231936; a blade of 60.00
/// lasts 600 ft, 0.1; as many mixers as cartridges at 1.00, 0.06759664; sand 12 × 1/4 × 1/8 = 0.375 in³
/// at 100 lb/ft³ = 0.02170139 lb of a bag of 50 at 8.00, 0.00347222; tax 8.25 % of 1.79338822 =
/// 0.14795453. Saw 1/150, fill 1/150, shave 1/300 of an hour, together 1/60 h at 62.50 = 1.04166667.
/// The saw, free here; the collector 45 a day of 8 h for 1/150 h = 0.0375. Dust 2.25/1728 ft³ × 145 =
/// 0.18880208 lb, ÷ 40 × 12.25 = 0.05782064. Direct 3.07833006, overhead 12.5 %, 3.46312132 ÷ 0.65 =
/// 5.3278…: 5.33.
#[test]
fn a_foot_of_joint_by_hand() {
    let book = BOOK.replace(
        "goods: {",
        "goods: {joint filler: 24, joint saw blade: 60, ",
    );
    let book = book.replace("equipment: {", "equipment: {joint saw: {day: 0}, ");
    let units = unit_prices(&floor(SLAB, &book));
    let joint = units
        .iter()
        .find(|unit| unit.price.kind == UnitKind::Joint)
        .expect("a joint");
    assert_eq!(joint.price.amount.to_string(), "5.33");
    let cost = joint.cost - decimal("3.46312132");
    assert!(cost.abs() < decimal("0.0000005"), "{}", joint.cost);
    assert_eq!(joint.price.unit, "ft");
    assert!(joint.price.basis.contains("1/4\""), "{}", joint.price.basis);
}

#[test]
fn an_agreed_unit_price_stands() {
    let sketch = format!("{SLAB}price: {{unit_prices: {{crack: 9.50}}}}\n");
    let units = unit_prices(&floor(&sketch, BOOK));
    let crack = units.iter().find(|unit| unit.price.kind == UnitKind::Crack);
    let crack = &crack.expect("a crack").price;
    assert_eq!(
        (crack.amount.to_string(), crack.agreed),
        ("9.50".into(), true)
    );
    assert!(units.iter().all(|unit| unit.price.kind != UnitKind::Floor));
}

/// By hand: 120 ft² more at 100 ft²/gal make 4.2 kits, five: two more, 80.00. The price differs by
/// what the whole build-up of 420 ft² says.
#[test]
fn alternates_are_computed_anew() {
    let sketch = format!(
        "{SLAB}joints: [{{kind: isolation, x: 15', width: 1/2}}]\ncoating: {{system: one}}\nprice:\n  alternates:\n    - {{name: hallway, area: 120 ft2}}\n    - {{name: filled, treatments: {{isolation: fill}}}}\n    - {{name: two coats, system: two-coat}}\n"
    );
    let floor = floor(&sketch, BOOK);
    let price = price(&floor).expect("a price");
    let [hallway, filled, coats] = &price.alternates[..] else {
        panic!("three alternates");
    };
    let amount = |build: &BuildUp, item: &str| {
        let line = build.lines.iter().find(|line| line.item == item);
        line.map_or(Money::ZERO, |line| line.amount).to_string()
    };
    assert_eq!(amount(&price.base, "one: coat"), "120.00");
    assert_eq!(amount(&hallway.whole, "one: coat"), "200.00");
    assert_eq!(amount(&price.base, "joint filler"), "0.00");
    assert_ne!(amount(&price.base, "sealant"), "0.00");
    assert_ne!(amount(&filled.whole, "joint filler"), "0.00");
    assert_eq!(amount(&filled.whole, "sealant"), "0.00");
    assert_eq!(amount(&coats.whole, "one: coat"), "0.00");
    for alternate in &price.alternates {
        assert_eq!(
            alternate.difference,
            alternate.whole.price - price.base.price
        );
    }
    assert!(hallway.difference > Money::ZERO);
    assert_eq!(
        hallway.change,
        "120.0 ft² of floor more, ground by machine and coated, without repairs."
    );
}

/// Numbers of cost, margin and rates are nowhere in what a customer's paper is made from.
#[test]
fn the_customers_price_has_no_cost() {
    let sketch = format!("{SLAB}coating: {{system: one}}\nprice: {{travel: 18.5 mi}}\n");
    let price = price(&floor(&sketch, BOOK)).expect("a price");
    let shown = format!("{:?}", price.for_customer());
    assert!(shown.contains("870.89"), "{shown}");
    for hidden in [
        "566.08", "503.18", "304.81", "62.5", "0.35", "cost", "margin:",
    ] {
        assert!(!shown.contains(hidden), "{hidden} in {shown}");
    }
}

#[test]
fn what_is_bought_needs_a_price() {
    let book = "slabwalk_shop: 1\nsystems: {own: {layers: [{name: clear, coverage: 4 m2/L, loss: 0%, kit: 2 L}]}}\n";
    let sketch = format!("{SLAB}coating: {{system: own}}\n");
    let faults = price(&floor(&sketch, book)).expect_err("no price");
    let said: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
    assert_eq!(
        said,
        ["the shop book has no price for `own: clear`, and 4 are bought"]
    );
    let hint = faults[0].hint.as_deref().unwrap_or("");
    assert!(hint.ends_with("own: {clear: 24.50}"), "{hint}");
    assert_eq!(faults[0].place.map(|place| place.span.start), Some(0));
}

/// Every system of the built-in book, every size of rod and every small good has its example.
#[test]
fn the_built_in_book_prices_all_it_sells() {
    let shop = crate::shop::built_in();
    let mut wanted: Vec<String> = ["patch mortar", "crack resin", "joint filler", "sealant"]
        .map(String::from)
        .to_vec();
    for (name, system) in &shop.systems {
        wanted.extend(
            system
                .layers
                .iter()
                .map(|layer| format!("{name}: {}", layer.name)),
        );
    }
    let rods = shop.backer_rod.sizes.iter();
    wanted.extend(rods.map(|size| format!("backer rod {}", crate::order::words::size(size.m()))));
    let sundries = [
        "static mixer",
        "dry sand, bag",
        "joint saw blade",
        "hand grinder wheel",
        "masking tape, roll",
        "dust bag",
    ];
    wanted.extend(sundries.map(String::from));
    for item in wanted {
        let rate = shop.prices.goods.get(&item);
        assert!(rate.is_some_and(crate::shop::Rate::is_example), "{item}");
    }
}

fn book(labor: u32, filler: u32, margin: u32, overhead: u32, tax: u32) -> String {
    format!(
        "slabwalk_shop: 1\nprices:\n  labor: {}.{:02}\n  goods: {{joint filler: {}.{:02}}}\n  margin: {}.{:02}%\n  overhead: {overhead}%\n  tax: {}.{:02}%\n",
        labor / 100,
        labor % 100,
        filler / 100,
        filler % 100,
        margin / 100,
        margin % 100,
        tax / 100,
        tax % 100
    )
}

fn jointed(feet: u32, crack: u32) -> String {
    format!(
        "slabwalk: 1\njob: {{name: hall}}\nslab: {{outline: [[0, 0], [80', 0], [80', 60'], [0, 60']]}}\njoints: [{{kind: control, path: [[1', 20'], [{}', 20']]}}]\ncracks: [{{path: [[2', 40'], [{}', 41']], width: 1/16}}]\ncoating: {{system: flake}}\n",
        1 + feet,
        2 + crack
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Lines add up to the sections, the sections to the cost, cost and margin to the price, to the
    /// cent; the price less its margin share is the cost within half a cent.
    #[test]
    fn everything_adds_up_to_the_cent(
        feet in 1u32..78, crack in 1u32..70, labor in 0u32..20_000, filler in 0u32..50_000,
        margin in 0u32..9_990, overhead in 0u32..200, tax in 0u32..3_000,
    ) {
        let floor = floor(&jointed(feet, crack), &book(labor, filler, margin, overhead, tax));
        let built = build_up(&floor).expect("a price");
        let sections: Money = Section::ALL.into_iter().map(|section| built.section(section)).sum();
        prop_assert_eq!(sections, built.cost);
        prop_assert_eq!(built.cost + built.margin, built.price);
        prop_assert_eq!(built.direct + built.section(Section::Overhead), built.cost);
        for line in &built.lines {
            prop_assert_eq!(line.amount, Money::rounded(line.quantity * line.rate));
            prop_assert!(line.amount.decimal().scale() <= 2);
        }
        let left = built.price.decimal() * (Decimal::ONE - built.margin_share) - built.cost.decimal();
        prop_assert!(left.abs() <= decimal("0.005"), "{}", left);
    }

    /// More feet never cost less.
    #[test]
    fn more_feet_never_cost_less(feet in 1u32..70, more in 1u32..8, crack in 1u32..60) {
        let book = "slabwalk_shop: 1\n";
        let less = build_up(&floor(&jointed(feet, crack), book)).expect("a price");
        let longer = build_up(&floor(&jointed(feet + more, crack), book)).expect("a price");
        let cracked = build_up(&floor(&jointed(feet, crack + more), book)).expect("a price");
        prop_assert!(longer.price >= less.price);
        prop_assert!(cracked.price >= less.price);
    }
}
