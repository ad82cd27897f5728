//! Prices worked by hand, and what holds for every price.

use proptest::prelude::*;
use rust_decimal::Decimal;

use super::build::with_shares;
use super::*;
use crate::quantity::Money;
use crate::sketch::UnitKind;
use crate::survey::{Survey, survey};
use crate::trade::Kind;

fn floor(sketch: &str, shop: &str) -> Survey {
    let (parsed, found) = crate::sketch::parse(sketch);
    let (book, faults) = crate::shop::parse(shop);
    assert!(parsed.is_some() && book.is_some(), "{found:?} {faults:?}\n{sketch}\n{shop}");
    let (Some(parsed), Some(book)) = (parsed, book) else { unreachable!() };
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
        let price = with_shares(decimal(cost), decimal(margin));
        assert_eq!(price.to_string(), want, "{name}");
    }
}

const SLAB: &str =
    "slabwalk: 1\njob: {name: shed}\nslab: {outline: [[0, 0], [30', 0], [30', 10'], [0, 10']]}\n";
/// One worker, so that no hands are without work: what is waited for is nothing.
const BOOK: &str = "slabwalk_shop: 1
grinding: {head: 1\", edge_gap: 0\"}
days: {crew: 1}
systems: {one: {layers: [{name: coat, coverage: 100 ft2/gal, loss: 0%, kit: 1 gal}]}}
prices:
  labor: 62.50
  goods: {one: {coat: 40.00}, dust bag: 1.50, cup wheel: 0, diamond set: 0, removal segment set: 0, \"masking film, roll\": 0, brush: 0, roller cover: 0, squeegee rubber: 0, mixing pail: 0, mixing paddle: 0, \"spiked shoes, pair\": 0, \"gloves, box\": 0, \"solvent, can\": 0, vacuum filter: 0}
  equipment: {floor grinder: {day: 110}, dust collector: {day: 45}, coating tools: {day: 0}, hand grinder: {day: 0}}
  travel: {distance: 0.67/mi, trip: 20}
  disposal: 12.25
  mobilization: 40
  contingency: 5%
  overhead: 12.5%
  margin: 35%
  unit_margin: 35%
  warranty: 2%
  card_fee: 3%
  minimum: 500
  round: 5
  tax: 8.25%
";

/// By hand, with every set-up of the built-in book: 300 ft² at 100 ft²/gal are three kits, 120.00.
/// Ground 1/64 in deep the floor gives 300 × 1/768 = 0.390625 ft³ of concrete, 56.6 lb at 145: two
/// bags, 3.00. Tax 8.25 % of 123.00 = 10.1475, up to 10.15. The worker sets up for 45 min, 0.75 h at
/// 62.50 = 46.875, up to 46.88; sets up the grinder in 15 min and grinds 300/250 = 1.2 h, 1.45 h =
/// 90.625, up to 90.63; grinds the 80 ft of edge at 50 ft/h, 1.6 h, 100.00; vacuums 300/1500 = 0.2 h,
/// 12.50; lays the coat at half the rate of two, 300/400 = 0.75 h, with 20 min before and 25 min after
/// it 1.5 h, 93.75; packs up for 30 min, 31.25. That is 6 h, from 8:00 to 12:00 and, after lunch, from
/// 12:30 to 14:30: one day, and nothing is waited for. On the way 18.5 mi at 30 mi/h are 0.62 h, 38.75.
/// Grinder 110, collector 45. One trip 20.00 and 18.5 mi × 0.67 = 12.395, up to 12.40. Two bags off at
/// 12.25, 24.50. Mobilization 40.00. Direct 798.81; contingency 5 % = 39.9405, 39.94; overhead 12.5 % =
/// 99.85125, 99.85; cost 938.60. ÷ (1 − 0.35 − 0.02 − 0.03) = 1564.333…, 1564.33; to the nearest 5,
/// 1565.00, 0.67 more. Of it 2 % are 31.30, 3 % 46.95; margin 1565.00 − 938.60 − 78.25 = 548.15.
#[test]
fn a_small_job_by_hand() {
    let sketch = format!("{SLAB}coating: {{system: one}}\nprice: {{travel: 18.5 mi}}\n");
    let built = build_up(&floor(&sketch, BOOK)).expect("a price");
    let lines: Vec<String> =
        built.lines.iter().map(|line| format!("{} {}", line.item, line.amount)).collect();
    let want = [
        "one: coat 120.00",
        "dust bag 3.00",
        "tax on materials 10.15",
        "set up 46.88",
        "grind the floor 90.63",
        "grind edges by hand 100.00",
        "vacuum and wipe 12.50",
        "coat 93.75",
        "pack up 31.25",
        "driving, paid hours 38.75",
        "floor grinder 110.00",
        "dust collector 45.00",
        "trips 20.00",
        "driving 12.40",
        "dust 24.50",
        "mobilization 40.00",
        "contingency 39.94",
        "overhead 99.85",
    ];
    assert_eq!(lines, want);
    let sums = [
        ("direct", built.direct, "798.81"),
        ("cost", built.cost, "938.60"),
        ("asked", built.asked, "1564.33"),
        ("to the least charge", built.to_minimum, "0.00"),
        ("rounding", built.rounding, "0.67"),
        ("price", built.price, "1565.00"),
        ("warranty", built.warranty, "31.30"),
        ("card fee", built.card_fee, "46.95"),
        ("margin", built.margin, "548.15"),
    ];
    for (name, amount, want) in sums {
        assert_eq!(amount.to_string(), want, "{name}");
    }
    assert!(built.lines.iter().all(|line| !line.example && !line.from.is_empty()));
}

/// By hand, what a coat of 300 ft² wears, by use and whole: one worker, three kits of 100 ft². A brush,
/// a roller and a rubber are thrown away after it. Of the 80 ft of edge at 50 ft/h 1.6 h of grinding by
/// hand, 0.08 of a wheel of 20 h. A paddle mixes 30 batches, of which this are 3, 0.1. Shoes last 60
/// coats, 0.0167 as 0.017. Charged whole it is one of each.
#[test]
fn goods_are_charged_by_use_or_whole() {
    let sketch = format!("{SLAB}coating: {{system: one}}\n");
    let prices = [
        ("brush", "2", "2.00", "2.00"),
        ("roller cover", "8", "8.00", "8.00"),
        ("squeegee rubber", "15", "15.00", "15.00"),
        ("cup wheel", "45", "3.60", "45.00"),
        ("mixing pail", "4", "12.00", "12.00"),
        ("mixing paddle", "30", "3.00", "30.00"),
        ("spiked shoes, pair", "40", "0.68", "40.00"),
    ];
    for (name, price, used, whole) in prices {
        let key = match name.contains(',') {
            true => format!("\"{name}\""),
            false => name.to_owned(),
        };
        let book = BOOK.replace(&format!("{key}: 0"), &format!("{key}: {price}"));
        for (charged, want) in [("used", used), ("whole", whole)] {
            let book = format!("{book}wear: {{{key}: {{charged: {charged}}}}}\n");
            let built = build_up(&floor(&sketch, &book)).expect("a price");
            let line = built.lines.iter().find(|line| line.item == name);
            let amount = line.map(|line| line.amount.to_string());
            assert_eq!(amount.as_deref(), Some(want), "{name}, {charged}");
        }
    }
}

/// By hand: 280 ft² at 100 ft²/gal are 2.8 of the kits of a gallon at 40.00. Whole they are three,
/// 120.00, used 112.00; nine of ten such floors take 2.8 × (1 + 1.281552 × 8 %) = 3.087 kits: four,
/// 160.00, or 123.48. With a tenth in reserve 3.08 kits are bought: four whole, and no more is used.
#[test]
fn products_are_charged_whole_or_by_use() {
    let slab = SLAB
        .replace("[30', 10'], [0, 10']", "[28', 10'], [0, 10']")
        .replace("[30', 0]", "[28', 0]");
    let sketch = format!("{slab}coating: {{system: one}}\n");
    for (name, coating, allowance, want) in [
        ("whole, the default", "{}", "half", "120.00"),
        ("used", "{charged: used}", "half", "112.00"),
        ("whole, nine in ten", "{}", "nine-in-ten", "160.00"),
        ("used, nine in ten", "{charged: used}", "nine-in-ten", "123.48"),
        ("a reserve, whole", "{reserve: 10%}", "half", "160.00"),
        ("a reserve, used", "{reserve: 10%, charged: used}", "half", "112.00"),
    ] {
        let book = BOOK.replace("prices:\n", &format!("prices:\n  allowance: {allowance}\n"));
        let built = build_up(&floor(&sketch, &format!("{book}coating: {coating}\n")));
        let built = built.expect("a price");
        let coat = built.lines.iter().find(|line| line.item == "one: coat");
        let amount = coat.map(|line| line.amount.to_string());
        assert_eq!(amount.as_deref(), Some(want), "{name}");
    }
}

/// The same floor without anything driven, by hand: direct 747.66 (798.81 less 38.75 and 12.40),
/// contingency 37.383, 37.38, overhead 93.4575, 93.46, cost 878.50; ÷ 0.6 = 1464.166…, 1464.17.
#[test]
fn least_charge_and_rounding() {
    let sketch = format!("{SLAB}coating: {{system: one}}\n");
    let whole = floor(&sketch, BOOK);
    for (name, minimum, round, shares, to_minimum, rounding, price) in [
        ("to the cent", "0", "0", true, "0.00", "0.00", "1464.17"),
        ("down to the nearest", "500", "5", true, "0.00", "0.83", "1465.00"),
        ("up by half", "1462.50", "25", false, "584.00", "12.50", "1475.00"),
        ("the least charge", "2000", "5", true, "535.83", "0.00", "2000.00"),
        ("never below the cost", "0", "700", false, "0.00", "521.50", "1400.00"),
        ("never below the least charge", "2100", "1000", true, "635.83", "900.00", "3000.00"),
        ("the least charge rounded up", "1600", "1000", true, "135.83", "400.00", "2000.00"),
    ] {
        let mut floor = whole.clone();
        let prices = &mut floor.shop.prices;
        prices.minimum.amount = decimal(minimum);
        prices.round.amount = decimal(round);
        if !shares {
            for rate in [&mut prices.margin, &mut prices.warranty, &mut prices.card_fee] {
                rate.amount = Decimal::ZERO;
            }
        }
        let built = build_up(&floor).expect("a price");
        assert_eq!(built.cost.to_string(), "878.50", "{name}");
        let got = [built.to_minimum, built.rounding, built.price].map(|m| m.to_string());
        assert_eq!(got, [to_minimum, rounding, price], "{name}");
    }
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
/// at 100 lb/ft³ = 0.02170139 lb of a bag of 50 at 8.00, 0.00347222; 0.18880208 lb of dust in bags of
/// 40 at 1.50, 0.00708008; tax 8.25 % of 1.8004683 = 0.14853863. At 62.50 an hour: saw 1/120 h, 0.52083313; vacuum 1/200 h, 0.3125; place 40.557983 mL
/// at 9 L/h, 0.00450644 h, 0.2816525; top off 1/600 h, 0.10416688; shave 1/150 h, 0.41666688; without
/// set-ups, the crew is there. The saw, free here; the collector, at 45 a day of 8 h, runs as long as
/// the saw, 1/120 h, 0.04687515. Dust 2.25/1728 ft³ × 145 = 0.18880208 lb, ÷ 40 × 12.25 = 0.05782064.
/// Direct 3.68952211; contingency 5 % 0.18447611, overhead 12.5 % 0.46119026; 4.33518848 ÷ (1 − 0.35 −
/// 0.02 − 0.03) = 7.2253…: 7.23. Of 5 the
/// largest part that is no more than a twentieth of it is a twentieth, 0.25: 7.25.
#[test]
fn a_foot_of_joint_by_hand() {
    let book = BOOK.replace("goods: {", "goods: {joint filler: 24, joint saw blade: 60, ");
    let book = book.replace("equipment: {", "equipment: {joint saw: {day: 0}, ");
    let units = unit_prices(&floor(SLAB, &book));
    let joint = units.iter().find(|unit| unit.price.kind == UnitKind::Joint).expect("a joint");
    assert_eq!(joint.price.amount.to_string(), "7.25");
    let cost = joint.cost - decimal("4.33518848");
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
    assert_eq!((crack.amount.to_string(), crack.agreed), ("9.50".into(), true));
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
        assert_eq!(alternate.difference, alternate.whole.price - price.base.price);
    }
    assert!(hallway.difference > Money::ZERO);
    for built in price.alternates.iter().map(|a| &a.whole) {
        assert_eq!(built.price.decimal() % decimal("5"), Decimal::ZERO);
    }
    assert_eq!(
        hallway.change,
        "120.0 ft² of floor more, ground by machine and coated, without repairs."
    );
}

/// By hand: 300 ft² at 100 ft²/gal less 5 % take 3.158 gal, two kits of 3 gal, 600.00. One pass of the
/// grinder more is 300/250 = 1.2 h and a change of diamonds of 20 min; the primer 300/800 h with
/// two, 0.75 h for one, and 45 min to set up and clean up. Its window opens the day after.
#[test]
fn over_the_moisture_limit_mitigation_is_priced_unasked() {
    let job = |coating: &str, mver: &str, price: &str| {
        let tests = format!("tests: {{moisture: [{{at: [5', 5'], mver: {mver}}}]}}\n");
        floor(&format!("{SLAB}{tests}coating: {{{coating}}}\n{price}"), BOOK)
    };
    let names = |floor: &Survey| -> Vec<String> {
        let price = price(floor).expect("a price");
        price.alternates.into_iter().map(|a| a.name).collect()
    };
    let unasked = "with moisture-mitigation primer".to_owned();
    let asked = "price: {alternates: [{name: primed, mitigation: true}]}\n";
    for (name, floor, want) in [
        ("dry", job("system: one", "3", ""), vec![]),
        ("moist", job("system: one", "8", ""), vec![unasked.clone()]),
        ("asked for", job("system: one", "8", asked), vec!["primed".to_owned()]),
        ("too moist", job("system: one", "30", ""), vec![]),
        ("in the job", job("system: one, mitigation: true", "8", ""), vec![]),
    ] {
        assert_eq!(names(&floor), want, "{name}");
    }
    let price_of = |floor: &Survey| price(floor).expect("a price");
    let moist = price_of(&job("system: one", "8", ""));
    let [primed] = &moist.alternates[..] else {
        panic!("one alternate");
    };
    let line = |item: &str| primed.whole.lines.iter().find(|line| line.item == item);
    let primer = line("moisture mitigation: moisture-mitigation primer").expect("primer");
    assert_eq!((primer.quantity, primer.amount.to_string()), (decimal("2"), "600.00".into()));
    assert_eq!(primed.whole.days, moist.base.days + 1);
    let more_h = primed.whole.worker_h - moist.base.worker_h;
    // The second day's setting up and packing up come on top: 20 and 15 min.
    let by_hand = 1.2 + 20.0 / 60.0 + 0.75 + 45.0 / 60.0 + 35.0 / 60.0;
    assert!((more_h - by_hand).abs() < 1e-9, "{more_h} for {by_hand}");
    assert_eq!(
        primed.change,
        "Moisture-mitigation primer below the coating, for a slab that is moister than the coating takes alone; the floor ground to CSP 3; 1 working day more."
    );
    // Taken into the job it is the same job.
    let taken = price_of(&job("system: one, mitigation: true", "8", ""));
    assert_eq!(taken.base, primed.whole);
    let asked = price_of(&job("system: one", "8", asked));
    assert_eq!(asked.alternates[0].difference, primed.difference);
}

/// Numbers of cost, margin and rates are nowhere in what a customer's paper is made from.
#[test]
fn the_customers_price_has_no_cost() {
    let sketch = format!("{SLAB}coating: {{system: one}}\nprice: {{travel: 18.5 mi}}\n");
    let price = price(&floor(&sketch, BOOK)).expect("a price");
    let shown = format!("{:?}", price.for_customer());
    assert!(shown.contains("1565.00"), "{shown}");
    for hidden in [
        "938.60", "798.81", "548.15", "1564.33", "31.30", "46.95", "62.5", "0.35", "cost",
        "margin", "warranty", "fee",
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
    assert_eq!(said, ["the shop book has no price for `own: clear`, and 4 are bought"]);
    let hint = faults[0].hint.as_deref().unwrap_or("");
    assert!(hint.ends_with("own: {clear: 24.50}"), "{hint}");
    assert_eq!(faults[0].place.map(|place| place.span.start), Some(0));
}

/// Every system of the built-in book, every size of rod and every small good has its example.
#[test]
fn the_built_in_book_prices_all_it_sells() {
    let shop = crate::shop::built_in();
    let mut wanted: Vec<String> =
        ["patch mortar", "crack resin", "joint filler", "sealant"].map(String::from).to_vec();
    for (name, system) in &shop.systems {
        wanted.extend(system.layers.iter().map(|layer| format!("{name}: {}", layer.name)));
    }
    let rods = shop.backer_rod.sizes.iter();
    wanted.extend(
        rods.map(|size| format!("backer rod {}", crate::quantity::write::trade_size(size.m()))),
    );
    wanted.extend(crate::trade::Good::all().map(|wears| wears.name.to_owned()));
    for item in wanted {
        let rate = shop.prices.goods.get(&item);
        assert!(rate.is_some_and(crate::shop::Rate::is_example), "{item}");
    }
}

/// Every kind that is done with a machine that has a price pays for it.
#[test]
fn every_machine_is_paid_for() {
    let shop = crate::shop::built_in();
    for kind in Kind::all() {
        let Some(machine) = crate::trade::row(kind).machine else {
            continue;
        };
        let mut priced = shop.prices.equipment.iter();
        if let Some(found) = priced.find(|priced| priced.name == machine.name()) {
            assert!(found.tasks.contains(&kind), "{}", kind.name());
        }
    }
}

/// The square foot of floor is what one more adds while the crew is here: every kind of work that a
/// plain floor has by its area, each pass, and no set-up. Grinder: 1/250 h a pass of 8 h at 100.00.
#[test]
fn additional_floor_is_marginal() {
    let sketch = format!("{SLAB}coating: {{system: flake}}\n");
    for (passes, grinder) in [("1", "0.05"), ("2", "0.1")] {
        let book = format!(
            "slabwalk_shop: 1\ndays: {{works: {{grind the floor: {{passes: {passes}}}}}}}\n"
        );
        let floor = floor(&sketch, &book);
        let units = unit_prices(&floor);
        let unit = units.iter().find(|unit| unit.price.kind == UnitKind::Floor);
        let unit = unit.expect("a floor");
        assert!(unit.price.name.starts_with("additional floor"));
        assert!(unit.price.basis.ends_with("while the crew is here"));
        let of = |section: Section| {
            let lines = unit.lines.iter().filter(move |line| line.section == section);
            lines.map(|line| (line.item.as_str(), line.amount))
        };
        let found = of(Section::Equipment).find(|(name, _)| *name == "floor grinder");
        assert_eq!(found.map(|(_, amount)| amount.normalize()), Some(decimal(grinder)));
        let by_area = [Kind::GrindFloor, Kind::Vacuum, Kind::Coat, Kind::Scrape];
        let spent = crate::schedule::plan(&floor).spent();
        for kind in by_area {
            assert!(of(Section::Labor).any(|(name, _)| name == kind.name()), "{}", kind.name());
            assert!(spent.iter().any(|work| work.kind == kind), "{}", kind.name());
        }
        let rest = [Kind::SetUp, Kind::PackUp, Kind::GrindEdges, Kind::Mask];
        for work in &spent {
            let known = by_area.contains(&work.kind) || rest.contains(&work.kind);
            assert!(known, "{}", work.name);
        }
    }
}

/// Shares of a price in hundredths of a percent, money in cents.
#[derive(Clone, Copy, Debug)]
struct Book {
    labor: u32,
    filler: u32,
    mobilization: u32,
    contingency: u32,
    overhead: u32,
    margin: u32,
    warranty: u32,
    card_fee: u32,
    minimum: u32,
    round: u32,
    tax: u32,
}

impl Book {
    fn text(self) -> String {
        let number = |hundredths: u32| format!("{}.{:02}", hundredths / 100, hundredths % 100);
        let money = [
            ("labor", self.labor),
            ("mobilization", self.mobilization),
            ("minimum", self.minimum),
            ("round", self.round),
        ];
        let shares = [
            ("contingency", self.contingency),
            ("overhead", self.overhead),
            ("margin", self.margin),
            ("warranty", self.warranty),
            ("card_fee", self.card_fee),
            ("tax", self.tax),
        ];
        let mut text = format!(
            "slabwalk_shop: 1\nprices:\n  goods: {{joint filler: {}}}\n",
            number(self.filler)
        );
        for (key, value) in money {
            text += &format!("  {key}: {}\n", number(value));
        }
        for (key, value) in shares {
            text += &format!("  {key}: {}%\n", number(value));
        }
        text
    }
}

prop_compose! {
    fn books()(
        (labor, filler, mobilization) in (0u32..20_000, 0u32..50_000, 0u32..50_000),
        (contingency, overhead, tax) in (0u32..3_000, 0u32..20_000, 0u32..3_000),
        (margin, warranty, card_fee) in (0u32..8_900, 0u32..600, 0u32..400),
        (minimum, round) in (0u32..2_000_000, prop_oneof![Just(0u32), 1u32..50_000]),
    ) -> Book {
        Book {
            labor, filler, mobilization, contingency, overhead, margin, warranty, card_fee, minimum,
            round, tax,
        }
    }
}

fn jointed(feet: u32, crack: u32) -> String {
    format!(
        "slabwalk: 1\njob: {{name: hall}}\nslab: {{outline: [[0, 0], [80', 0], [80', 60'], [0, 60']]}}\njoints: [{{kind: control, path: [[1', 20'], [{}', 20']]}}]\ncracks: [{{path: [[2', 40'], [{}', 41']], width: 1/16}}]\ncoating: {{system: flake}}\n",
        1 + feet,
        2 + crack
    )
}

/// A floor of 30 by 20 ft with some of what floors have.
fn small(feet: u32, crack: u32, oil: bool, spall: bool, step: bool) -> String {
    let mut text = String::from(
        "slabwalk: 1\njob: {name: shed}\nslab: {outline: [[0, 0], [30', 0], [30', 20'], [0, 20']]}\ncoating: {system: own}\n",
    );
    let mut joints = Vec::new();
    if feet > 0 {
        joints.push(format!("{{id: J1, kind: control, path: [[10', 0], [10', {feet}']]}}"));
    }
    if step {
        joints.push("{id: J2, kind: construction, x: 20'}".into());
        text += "lippage: [{id: L1, along: J2, high: E, step: 1/4}]\n";
    }
    text += &format!("joints: [{}]\n", joints.join(", "));
    if crack > 0 {
        text += &format!("cracks: [{{id: C1, path: [[5', 0], [5', {crack}']], width: 1/16}}]\n");
    }
    if spall {
        text += "spalls: [{id: S1, circle: {center: [15', 15'], diameter: 5\"}, depth: 1}]\n";
    }
    if oil {
        text += "blemishes: [{id: B1, what: oil, box: {corner: [25', 2'], size: [3', 3']}}]\n";
    }
    text
}

/// A book with a system of two coats and flakes between; the first takes the second from 8 h on.
fn layered(crew: usize, closes: u32) -> String {
    format!(
        "slabwalk_shop: 1\ndays: {{crew: {crew}}}\nsystems:\n  own:\n    layers:\n      - {{name: first, coverage: 160 ft2/gal, loss: 5%, kit: 3 gal, recoat: [[70 F, 8 h, {closes} h]]}}\n      - {{name: chips, rate: 0.1 lb/ft2, package: 25 lb, into: first}}\n      - {{name: second, coverage: 160 ft2/gal, loss: 5%, kit: 3 gal}}\nprices: {{goods: {{own: {{first: 100, chips: 50, second: 100}}}}}}\n"
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Lines add up to the sections, the sections to the cost; the cost with its shares, what the least
    /// charge and the rounding add, and cost, warranty, card fee and margin, each add up to the price,
    /// to the cent. The price is a multiple, and below neither the cost nor the least charge.
    #[test]
    fn everything_adds_up_to_the_cent(feet in 1u32..78, crack in 1u32..70, book in books()) {
        let floor = floor(&jointed(feet, crack), &book.text());
        let built = build_up(&floor).expect("a price");
        let sections: Money = Section::ALL.into_iter().map(|section| built.section(section)).sum();
        prop_assert_eq!(sections, built.cost);
        let above = built.section(Section::Contingency) + built.section(Section::Overhead);
        prop_assert_eq!(built.direct + above, built.cost);
        prop_assert_eq!(built.asked + built.to_minimum + built.rounding, built.price);
        prop_assert_eq!(built.cost + built.warranty + built.card_fee + built.margin, built.price);
        for line in &built.lines {
            prop_assert_eq!(line.amount, Money::rounded(line.quantity * line.rate));
            prop_assert!(line.amount.decimal().scale() <= 2);
        }
        let rest = Decimal::ONE - built.shares.sum();
        let left = built.asked.decimal() * rest - built.cost.decimal();
        prop_assert!(left.abs() <= decimal("0.005"), "{}", left);
        let prices = &floor.shop.prices;
        prop_assert!(built.price >= built.cost);
        prop_assert!(built.price.decimal() >= prices.minimum.amount);
        let round = prices.round.amount;
        if round.is_zero() {
            prop_assert_eq!(built.rounding, Money::ZERO);
        } else {
            prop_assert_eq!(built.price.decimal() % round, Decimal::ZERO);
            prop_assert!(built.rounding.decimal().abs() < round);
        }
    }

    /// Whatever the plan has, the price has, and nothing else: a line of labor for every work, with its
    /// hours; all of them together are the hours that the crew is there. Abrading where a window has
    /// closed is one of them.
    #[test]
    fn the_price_has_what_the_plan_has(
        (feet, crack) in (0u32..20, 0u32..20), crew in 1usize..4, closes in prop_oneof![Just(9u32), Just(24)],
        (oil, spall, step) in (any::<bool>(), any::<bool>(), any::<bool>()),
    ) {
        let floor = floor(&small(feet, crack, oil, spall, step), &layered(crew, closes));
        let plan = crate::schedule::plan(&floor);
        let built = build_up(&floor).expect("a price");
        let labor: Vec<(&str, Decimal)> = built
            .lines
            .iter()
            .filter(|line| line.section == Section::Labor)
            .map(|line| (line.item.as_str(), line.quantity))
            .collect();
        let spent = plan.spent();
        let mut want = Vec::new();
        for work in &spent {
            want.push((work.name.as_str(), crate::quantity::decimal(work.worker_h, 2).expect("hours")));
        }
        want.retain(|(_, hours)| !hours.is_zero());
        let works: Vec<_> = labor.iter().filter(|(name, _)| *name != "waiting").copied().collect();
        prop_assert_eq!(works, want);
        let paid: Decimal = labor.iter().map(|(_, hours)| *hours).sum();
        let there = crate::quantity::decimal(plan.present_h, 8).expect("hours");
        let rounding = decimal("0.005") * Decimal::from(labor.len() + 1);
        prop_assert!((paid - there).abs() <= rounding, "{} paid, {} there", paid, there);
        let abraded = spent.iter().any(|work| work.kind == Kind::Abrade);
        prop_assert!(abraded || closes == 24, "a window that closes overnight");
    }

    /// More feet never take less material, and no work of them less time. The hours that are paid may
    /// still be fewer: a foot more can fill the time in which something sets, and the crew goes home
    /// earlier by what it would have waited.
    #[test]
    fn more_feet_never_take_less(feet in 1u32..70, more in 1u32..8, crack in 1u32..60) {
        let of = |feet, crack| {
            let floor = floor(&jointed(feet, crack), "slabwalk_shop: 1\n");
            let built = build_up(&floor).expect("a price");
            let facts = floor.facts();
            let times: Vec<(Kind, f64)> = crate::work::works(&facts)
                .iter()
                .filter(|work| !work.items.is_empty())
                .map(|work| (work.kind, work.worker_s(1)))
                .collect();
            (built.section(Section::Materials), times)
        };
        let (goods, times) = of(feet, crack);
        for (more_goods, more_times) in [of(feet + more, crack), of(feet, crack + more)] {
            prop_assert!(more_goods >= goods);
            for (kind, time) in &times {
                let longer = more_times.iter().find(|(other, _)| other == kind);
                prop_assert!(longer.is_some_and(|(_, longer)| *longer >= time - 1e-6), "{}", kind.name());
            }
        }
    }
}
