//! `slabwalk price`, and the price files of a packet.

use super::common::{GARAGE, folder, run};

#[test]
fn three_forms_agree() {
    let place = folder(&[("garage.yaml", GARAGE)]);
    let json = run(place.path(), &["price", "garage.yaml", "--format", "json"]);
    assert_eq!(json.code, 0, "{}", json.messages);
    let value: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    let price = value["base"]["price"].as_str().expect("a price").to_owned();
    assert_eq!(value["example_prices"], true);
    assert!(json.messages.contains("EXAMPLE PRICES"), "{}", json.messages);
    let csv = run(place.path(), &["price", "garage.yaml", "--format", "csv"]);
    assert!(csv.out.contains(&format!("\nsum,price,,,,{price},,\n")), "{}", csv.out);
    let text = run(place.path(), &["price", "garage.yaml"]);
    let (whole, cents) = price.split_once('.').expect("cents");
    let grouped = format!("${},{}.{cents}\n", &whole[..whole.len() - 3], &whole[whole.len() - 3..]);
    assert!(text.out.contains(&grouped), "{grouped}\n{}", text.out);
    for words in [
        "EXAMPLE PRICES",
        "order: joint filler, 2 of 600 mL",
        "not of the cost",
        "Not for the customer",
    ] {
        assert!(text.out.contains(words), "{words}\n{}", text.out);
    }
}

/// By the shop's own numbers the sheet says nothing of examples.
#[test]
fn own_prices_are_no_examples() {
    let own = "slabwalk_shop: 1\nsystems: {one: {layers: [{name: coat, coverage: 100 ft2/gal, loss: 0%, kit: 1 gal}]}}\nprices:\n  labor: 60\n  goods: {one: {coat: 40}, joint filler: 24, static mixer: 1, \"dry sand, bag\": 6, joint saw blade: 50, hand grinder wheel: 15, dust bag: 2, cup wheel: 40, diamond set: 250, removal segment set: 300, \"masking film, roll\": 10, brush: 2, roller cover: 7, squeegee rubber: 12, mixing pail: 4, mixing paddle: 25, \"spiked shoes, pair\": 35, \"gloves, box\": 18, \"solvent, can\": 22, vacuum filter: 120, backer rod 5/8 in: 9, sealant: 9, \"masking tape, roll\": 5, crack resin: 80, patch mortar: 25}\n  equipment: {floor grinder: {day: 90}, joint saw: {day: 30}, hand grinder: {day: 10}, dust collector: {day: 40}, chipping hammer: {day: 15}, coating tools: {day: 20}}\n  travel: {distance: 0.6/mi, trip: 15}\n  disposal: 8\n  mobilization: 60\n  contingency: 3%\n  warranty: 1%\n  card_fee: 2.5%\n  minimum: 400\n  round: 10\n  overhead: 8%\n  margin: 32%\n  unit_margin: 40%\n  not_to_exceed: 10%\n  tax: 6%\n";
    let sketch = GARAGE.replace("system: flake", "system: one");
    let place = folder(&[("garage.yaml", &sketch), ("shop.yaml", own)]);
    let said = run(place.path(), &["price", "garage.yaml", "--shop", "shop.yaml"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    assert!(!said.out.contains("EXAMPLE") && !said.out.contains("*  "), "{}", said.out);
}

#[test]
fn bad_books_are_refused_at_their_line() {
    for (name, prices, message, line) in [
        (
            "margin of all",
            "  margin: 100%\n",
            "`margin` is 100%: a margin is a share of the price",
            3,
        ),
        ("margin beyond", "  unit_margin: 140%\n", "`unit_margin` is 140%", 3),
        (
            "shares of all",
            "  margin: 60%\n  warranty: 40%\n",
            "`margin`, `warranty`, `card_fee` are 103% of the price together, and with 100% or more nothing is left",
            3,
        ),
        (
            "shares of all, in unit prices",
            "  card_fee: 70%\n  margin: 20%\n",
            "`unit_margin`, `warranty`, `card_fee` are 107% of the price together",
            3,
        ),
        ("negative", "  labor: -5\n", "`labor` `-5` is not a price: it is negative", 3),
        ("negative tax", "  tax: -5%\n", "`tax` `-5%` is not a percentage: it is negative", 3),
        (
            "negative least charge",
            "  minimum: -1\n",
            "`minimum` `-1` is not a price: it is negative",
            3,
        ),
        (
            "a share that is money",
            "  warranty: 40\n",
            "`warranty` `40` is not a percentage: it has no percent sign",
            3,
        ),
        ("no number", "  disposal: free\n", "`disposal` `free` is not a price", 3),
        ("unknown", "  labour: 5\n", "`labour` is not a key of the prices", 3),
        (
            "unknown task",
            "  equipment: {saw: {day: 5, tasks: [saw joint]}}\n",
            "`saw joint` is no work of the plan",
            3,
        ),
        (
            "per foot",
            "  travel: {distance: 0.5/ft}\n",
            "`distance` `0.5/ft` is not a price per distance",
            3,
        ),
        (
            "a price of a layer",
            "  goods: {flake: {primer: x}}\n",
            "the price of `flake: primer` `x` is not a price",
            3,
        ),
    ] {
        let book = format!("slabwalk_shop: 1\nprices:\n{prices}");
        let place = folder(&[("garage.yaml", GARAGE), ("shop.yaml", &book)]);
        let said = run(place.path(), &["price", "garage.yaml", "--shop", "shop.yaml"]);
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{name}: {}", said.messages);
        assert!(said.unfolded().contains(message), "{name}: {}", said.messages);
        assert!(
            said.unfolded().contains(&format!("shop.yaml:{line}:")),
            "{name}: {}",
            said.messages
        );
    }
}

#[test]
fn bad_sketches_are_refused_at_their_line() {
    for (name, price, message) in [
        ("no unit", "{travel: 40}", "`travel` `40` is not a distance"),
        ("unknown key", "{trvel: 40 mi}", "`trvel` is not a key of the price"),
        ("changes nothing", "{alternates: [{name: x}]}", "alternate `x` changes nothing"),
        ("no name", "{alternates: [{system: quartz}]}", "an alternate needs the key `name`"),
        (
            "unknown system",
            "{alternates: [{name: other, system: quarz}]}",
            "alternate `other`: the shop book has no coating system named quarz",
        ),
        ("no area", "{alternates: [{name: x, area: 0 ft2}]}", "a floor has an area above zero"),
        (
            "unknown unit price",
            "{unit_prices: {foot: 3}}",
            "`foot` is not a key of the unit prices",
        ),
        ("negative", "{unit_prices: {crack: -3}}", "it is negative"),
    ] {
        let place = folder(&[("garage.yaml", &format!("{GARAGE}price: {price}\n"))]);
        let said = run(place.path(), &["price", "garage.yaml"]);
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{name}: {}", said.messages);
        assert!(said.unfolded().contains(message), "{name}: {}", said.messages);
        assert!(said.unfolded().contains("garage.yaml:9:"), "{name}: {}", said.messages);
    }
}

/// Without a price for a product `price` fails and names it; the packet goes without price files
/// and says so: a crew needs its map whatever a shop charges.
#[test]
fn a_price_missing_in_the_book() {
    let book = "slabwalk_shop: 1\nsystems: {own: {layers: [{name: clear, coverage: 4 m2/L, loss: 0%, kit: 2 L}]}}\n";
    let sketch = GARAGE.replace("system: flake", "system: own");
    let place = folder(&[("garage.yaml", &sketch), ("shop.yaml", book)]);
    let said = run(place.path(), &["price", "garage.yaml", "--shop", "shop.yaml"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(said.unfolded().contains("no price for `own: clear`"), "{}", said.messages);
    assert!(said.unfolded().contains("own: {clear: 24.50}"), "{}", said.messages);
    let said = run(place.path(), &["packet", "garage.yaml", "--shop", "shop.yaml"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    let packet = place.path().join("out/garage");
    let listed = std::fs::read_to_string(packet.join("contents.txt")).expect("the list");
    let why = "no price for `own: clear`";
    for files in ["price.csv, price.json, price.txt", "proposal.html, proposal.pdf"] {
        // The message goes on below where it is longer than a terminal is wide.
        let flat = said.messages.replace('\n', " ");
        let from = flat.find(&format!("garage.yaml: not made: {files}: "));
        assert!(from.is_some_and(|from| flat[from..].contains(why)), "{}", said.messages);
        let line = listed.lines().find(|line| line.starts_with(&format!("# not made: {files}: ")));
        assert!(line.is_some_and(|line| line.contains(why)), "{listed}");
    }
    // `check` says beforehand what `price` will say, at the same place and with the same hint.
    let said = run(place.path(), &["check", "garage.yaml", "--shop", "shop.yaml"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    for part in ["warning[", why, "own: {clear: 24.50}"] {
        assert!(said.unfolded().contains(part), "{part}: {}", said.messages);
    }
    assert!(packet.join("order.txt").is_file() && !packet.join("price.txt").exists());
    let said = run(place.path(), &["packet", "garage.yaml"]);
    assert_eq!(said.code, 1, "the sketch's own book has no such system");
    std::fs::write(place.path().join("garage.yaml"), GARAGE).expect("the sketch");
    assert_eq!(run(place.path(), &["packet", "garage.yaml"]).code, 0);
    for file in ["price.txt", "price.csv", "price.json"] {
        assert!(packet.join(file).is_file(), "{file}");
    }
}
