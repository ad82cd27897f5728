//! `slabwalk closeout`.

use super::common::{GARAGE, folder, run, unfolded};

fn job(number: usize, filler: f64) -> String {
    let garage = GARAGE.replace("26-001", &format!("26-00{number}"));
    format!(
        "{garage}used: {{packages: {{joint filler: {filler}}}, hours: {{fill joints: 0.2}}, photos: [done.jpg]}}\n"
    )
}

#[test]
fn a_folder_of_jobs() {
    let place = folder(&[
        ("a.yaml", &job(1, 2.0)),
        ("b.yaml", &job(2, 2.1)),
        ("c.yaml", &job(3, 2.2)),
        ("open.yaml", GARAGE),
        ("shop.yaml", "slabwalk_shop: 1\n"),
    ]);
    let said = run(place.path(), &["closeout", "."]);
    assert_eq!(said.code, 0, "{}", said.messages);
    assert!(said.messages.contains("open.yaml: no record of use, left out"), "{}", said.messages);
    assert!(said.messages.contains("the photo done.jpg is not there"), "{}", said.messages);
    assert!(!said.messages.contains("shop.yaml"), "{}", said.messages);
    // In place 22 × 12 × 1/4 × 3/4 = 49.5 in³, 1.3519 packages: 2.1 are 55 % more.
    assert!(
        said.out.contains("filler: waste: book 10%, 3 jobs 48% to 63%, median 55%: change to 55%"),
        "{}",
        said.out
    );
    let said = run(place.path(), &["closeout", ".", "--out", "closed"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    let closed = place.path().join("closed");
    for file in
        ["closeout.txt", "closeout.csv", "closeout.json", "closeout.svg", "suggested-shop.yaml"]
    {
        assert!(closed.join(file).is_file(), "{file}");
    }
    let said = run(place.path(), &["price", "a.yaml", "--shop", "closed/suggested-shop.yaml"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    let json = run(place.path(), &["closeout", "a.yaml", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!(value["shop_book"][0]["outcome"], "too-few");
    let csv = run(place.path(), &["closeout", "a.yaml", "--format", "csv"]);
    assert!(csv.out.starts_with("job,item,unit,estimated"), "{}", csv.out);
}

/// Three garages with a joint across of 12, 24 and 48 ft, of which the saw takes 11.5, 23.5 and 47.5,
/// in 12 min and at 80 ft/h: 0.34375, 0.49375 and 0.79375 h. The book has 15 min and 120 ft/h.
#[test]
fn set_ups_and_rates_from_three_jobs() {
    let job = |number: usize, ft: usize, hours: f64| {
        let garage =
            GARAGE.replace("26-001", &format!("26-00{number}")).replace("22'", &format!("{ft}'"));
        format!("{garage}used: {{hours: {{saw joints: {hours}}}}}\n")
    };
    let place = folder(&[
        ("a.yaml", &job(1, 12, 0.34375)),
        ("b.yaml", &job(2, 24, 0.49375)),
        ("c.yaml", &job(3, 48, 0.79375)),
    ]);
    let said = run(place.path(), &["closeout", ".", "--out", "closed"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    let read = |name: &str| {
        std::fs::read_to_string(place.path().join("closed").join(name)).expect("it is written")
    };
    let book = read("suggested-shop.yaml");
    assert!(book.contains("\n    saw joints: {set_up: 12 min, rate: 80 ft/h}\n"), "{book}");
    assert!(book.contains("    # 3 jobs: set_up 12 min ± "), "{book}");
    let value: serde_json::Value = serde_json::from_str(&read("closeout.json")).expect("JSON");
    let work = &value["works"][0];
    assert_eq!(work["work"], "saw joints");
    assert_eq!(work["outcome"], "change");
    assert_eq!(work["set_up"]["from"], "jobs");
    let set_up_s = work["set_up"]["value_s"].as_f64().expect("a number");
    assert!((set_up_s - 720.0).abs() < 1e-3, "{work}");
    // With the suggested book the hours are foreseen, and nothing more is suggested.
    let again = ["closeout", "a.yaml", "b.yaml", "c.yaml", "--shop", "closed/suggested-shop.yaml"];
    let said = run(place.path(), &again);
    assert!(unfolded(&said.out).contains(": leave as it is "), "{}", said.out);
    assert!(said.out.ends_with("No change is suggested.\n"), "{}", said.out);
}

#[test]
fn what_is_wrong_is_said_and_nothing_written() {
    for (name, used, message) in [
        ("no record", "", "has no record of what was used"),
        ("unknown product", "used: {packages: {glue: 1}}\n", "`glue` is no product of the order"),
        (
            "which of several",
            "used: {hours: {grind: 1}}\n",
            "`grind` may be any of 3 tasks of the plan",
        ),
        ("negative", "used: {packages: {joint filler: -1}}\n", "`-1` is beyond belief"),
        ("no number", "used: {hours: {fill joints: long}}\n", "the hours `long` is not a time"),
        ("unknown key", "used: {package: {}}\n", "`package` is not a key of the record of use"),
    ] {
        let place = folder(&[("a.yaml", &format!("{GARAGE}{used}"))]);
        let said = run(place.path(), &["closeout", "a.yaml", "--out", "closed"]);
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{name}: {}", said.messages);
        assert!(said.messages.contains(message), "{name}: {}", said.messages);
        assert!(!place.path().join("closed").exists(), "{name}");
    }
}
