//! `slabwalk quick`.

use super::common::{folder, run};

/// A floor of 12 by 9 m is four to three: what is said on the telephone is the price of its sketch.
#[test]
fn the_lower_price_is_the_sketchs() {
    let sketch = "slabwalk: 1\nunits: metric\njob: {name: hall}\nslab: {post_tension: none, outline: [[0, 0], [12, 0], [12, 9], [0, 9]]}\njoints: [{kind: control, path: [[4, 0], [4, 9]], width: 6.35, depth: 19.05}]\ncracks: [{path: [[8, 0], [8, 3]], width: 1.8}]\ncoating: {system: flake}\n";
    let book = "slabwalk_shop: 1\nprices: {contingency: 0%}\n";
    let place = folder(&[("hall.yaml", sketch), ("shop.yaml", book)]);
    let priced =
        run(place.path(), &["price", "hall.yaml", "--shop", "shop.yaml", "--format", "json"]);
    let priced: serde_json::Value = serde_json::from_str(&priced.out).expect("JSON");
    let call = [
        "quick",
        "--system",
        "flake",
        "--area",
        "108",
        "--joint",
        "9",
        "--crack",
        "3 m",
        "--units",
        "metric",
        "--shop",
        "shop.yaml",
    ];
    let said = run(place.path(), &[&call[..], &["--format", "json"]].concat());
    assert_eq!(said.code, 0, "{}", said.messages);
    assert!(said.unfolded().contains("EXAMPLE PRICES"), "{}", said.messages);
    let quick: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
    assert_eq!(quick["low"], priced["base"]["price"]);
    let amount = |key: &str| -> f64 { quick[key].as_str().unwrap_or("").parse().expect(key) };
    assert!(amount("high") >= amount("low"));
    assert_eq!(quick["minimum"], "500.00");
    assert_eq!(quick["at_minimum"], false);
    let text = run(place.path(), &call);
    for words in [
        "QUICK PRICE: 108.00 m² of flake, 9.00 m of joint, 3.00 m of crack",
        " working days with 2 workers",
        "Least charge for a job: $500.00.",
        "One plain rectangle, 12.00 m by 9.00 m",
        "TAKEN FOR GRANTED",
        "no offer",
    ] {
        assert!(text.out.contains(words), "{words}\n{}", text.out);
    }
    assert!(!text.out.to_lowercase().contains("cost"), "{}", text.out);
}

/// Contingency is in the higher price alone; the least charge goes before both.
#[test]
fn range_and_least_charge() {
    for (name, prices, at_minimum) in [
        ("a range", "contingency: 20%, minimum: 0, round: 0", false),
        ("the least charge", "minimum: 900000, round: 0", true),
    ] {
        let book = format!("slabwalk_shop: 1\nprices: {{{prices}}}\n");
        let place = folder(&[("shop.yaml", &book)]);
        let said = run(
            place.path(),
            &[
                "quick",
                "--system",
                "flake",
                "--area",
                "480 ft2",
                "--shop",
                "shop.yaml",
                "--format",
                "json",
            ],
        );
        let quick: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
        assert_eq!(quick["at_minimum"], at_minimum, "{name}");
        assert_eq!(quick["low"] == quick["high"], at_minimum, "{name}: {}", said.out);
        // Rounded to nine decimals, as in every document.
        assert!(said.out.contains("\"area_m2\": 44.5934592,"), "{name}: {}", said.out);
    }
}

#[test]
fn what_is_wrong_is_said_with_what_would_be_right() {
    let flake = ["quick", "--system", "flake"];
    let area = ["--area", "480 ft2"];
    for (name, more, message, hint) in [
        (
            "no area",
            &flake[..],
            "a quick price needs the area of the floor",
            "hint: add --area \"480 ft2\"",
        ),
        (
            "no system",
            &["quick", "--area", "480 ft2"],
            "a quick price needs a coating system",
            "hint: add --system NAME, one of flake,",
        ),
        (
            "unknown system",
            &["quick", "--system", "flaek", "--area", "480 ft2"],
            "error: --system `flaek`: the shop book has no coating system of that name",
            "hint: did you mean flake? it has flake, partial-flake, quartz, two-coat",
        ),
        (
            "no unit of area",
            &[&flake[..], &["--area", "480 acres"]].concat(),
            "error: --area `480 acres`",
            "hint: write it like 500 ft2 or 46 m2",
        ),
        (
            "negative area",
            &[&flake[..], &["--area", "-5"]].concat(),
            "error: --area `-5`",
            "hint: write it like",
        ),
        (
            "too large",
            &[&flake[..], &["--area", "900000 ft2"]].concat(),
            "is larger than is priced without a sketch",
            "slabwalk new",
        ),
        (
            "no length",
            &[&flake[..], &area, &["--joint", "many"]].concat(),
            "error: --joint `many`",
            "hint:",
        ),
        (
            "negative length",
            &[&flake[..], &area, &["--crack", "-4 ft"]].concat(),
            "error: --crack `-4 ft`",
            "hint:",
        ),
        (
            "no room",
            &[&flake[..], &area, &["--joint", "9000 ft"]].concat(),
            "a floor of 480.0 ft² has no room for 9,000.0 ft of joint and crack",
            "it has room for about",
        ),
        (
            "no book",
            &[&flake[..], &area, &["--shop", "none.yaml"]].concat(),
            "the shop book none.yaml can't be read",
            "",
        ),
    ] {
        let place = folder(&[]);
        let said = run(place.path(), more);
        assert_eq!(said.out, "", "{name}");
        assert!([2, 3].contains(&said.code), "{name}: {}", said.code);
        for words in [message, hint] {
            assert!(said.unfolded().contains(words), "{name}: {}", said.messages);
        }
    }
}

/// A name of a system is a name, whatever is in it.
#[test]
fn a_system_of_any_name() {
    let book = "slabwalk_shop: 1\nsystems: {\"two: \\\"coats\\\" # {x}\": {layers: [{name: clear, coverage: 4 m2/L, loss: 0%, kit: 2 L}]}}\n";
    let place = folder(&[("shop.yaml", book)]);
    let said = run(
        place.path(),
        &["quick", "--system", "two: \"coats\" # {x}", "--area", "480 ft2", "--shop", "shop.yaml"],
    );
    assert_eq!((said.code, said.out.as_str()), (2, ""), "{}", said.messages);
    assert!(said.unfolded().contains("the shop book has no price for"), "{}", said.messages);
}
