//! `slabwalk change`.

use super::common::{GARAGE, folder, run};

fn found() -> String {
    GARAGE
        .replace("site: 1 Example Lane", "site: 1 Example Lane, revision: B")
        .replace("coating:", "  - {id: J2, kind: isolation, y: 10', width: 1/2, buried: true, note: under the shelf}\ncoating:")
}

#[test]
fn three_forms_and_a_folder() {
    let place = folder(&[("a.yaml", GARAGE), ("b.yaml", &found())]);
    let text = run(place.path(), &["change", "a.yaml", "b.yaml"]);
    assert_eq!(text.code, 0, "{}", text.messages);
    for words in [
        "CHANGE ORDER: Sample garage, job 26-001",
        "to revision B",
        "Joint J2 was found buried: 24.0 ft opened",
        "“under the shelf”",
        "not to exceed $",
        "EXAMPLE PRICES",
    ] {
        let unbroken = text.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(unbroken.contains(words), "{words}\n{}", text.out);
    }
    assert!(
        !text.out.to_lowercase().contains("cost") && !text.out.contains("margin"),
        "{}",
        text.out
    );
    let json = run(place.path(), &["change", "a.yaml", "b.yaml", "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!(value["items"][0]["id"], "J2");
    let amount = value["amount"].as_str().expect("an amount");
    let csv = run(place.path(), &["change", "a.yaml", "b.yaml", "--format", "csv"]);
    assert!(csv.out.ends_with(&format!("sum,,,,,,,,,{amount},,\n")), "{}", csv.out);
    let said = run(place.path(), &["change", "a.yaml", "b.yaml", "--out", "order"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    let written = std::fs::read_to_string(place.path().join("order/change.txt")).expect("a file");
    assert_eq!(written, text.out);
}

/// The drawing has a cloud around what was found, with its number, passes the audit, and is there as PDF.
#[test]
fn the_drawing_clouds_what_changed() {
    let place = folder(&[("a.yaml", GARAGE), ("b.yaml", &found())]);
    let said = run(place.path(), &["change", "a.yaml", "b.yaml", "--out", "order"]);
    assert!(!said.unfolded().contains("drawing-fault"), "{}", said.messages);
    let file = |name: &str| std::fs::read(place.path().join("order").join(name)).expect("a file");
    let svg = String::from_utf8(file("change-drawing.svg")).expect("text");
    assert!(svg.contains("id=\"revisions\""));
    assert_eq!(svg.matches("class=\"revision\"").count(), 1);
    assert_eq!(slabwalk::audit::audit(&svg), []);
    assert!(file("change-drawing.pdf").starts_with(b"%PDF-"));
    // A removed item is nowhere on the floor as found: no cloud, no drawing.
    let said = run(place.path(), &["change", "b.yaml", "a.yaml", "--out", "back"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    assert!(!place.path().join("back/change-drawing.svg").exists());
    let words = std::fs::read_to_string(place.path().join("back/change.txt")).expect("a file");
    assert!(words.contains("Joint J2 is no longer in the job: 24.0 ft less."), "{words}");
}

#[test]
fn different_jobs_write_nothing() {
    let other = found().replace("number: 26-001", "number: 26-002");
    let place = folder(&[("a.yaml", GARAGE), ("b.yaml", &other)]);
    let said = run(place.path(), &["change", "a.yaml", "b.yaml", "--out", "order"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(
        said.unfolded().contains("different jobs: the job numbers are `26-001` and `26-002`"),
        "{}",
        said.messages
    );
    assert!(!place.path().join("order").exists());
}

#[test]
fn a_broken_sketch_writes_nothing() {
    let place = folder(&[("a.yaml", GARAGE), ("b.yaml", "slabwalk: 1\n")]);
    let said = run(place.path(), &["change", "a.yaml", "b.yaml", "--out", "order"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(!place.path().join("order").exists());
    let said = run(place.path(), &["change", "a.yaml", "c.yaml"]);
    assert_eq!(said.code, 3, "{}", said.messages);
}

/// The second sketch's own book changes neither quantities nor prices: the first one's was agreed.
#[test]
fn both_are_measured_by_the_first_book() {
    let deeper = "slabwalk_shop: 1\nchase: {depth: 1 1/2\"}\n";
    let other = GARAGE.replace("slab:", "shop: shop.yaml\nslab:");
    let place = folder(&[("a.yaml", GARAGE), ("b.yaml", &other), ("shop.yaml", deeper)]);
    let said = run(place.path(), &["change", "a.yaml", "b.yaml"]);
    assert_eq!(said.code, 0, "{}", said.messages);
    assert!(said.out.contains("Nothing that is priced changed."), "{}", said.out);
}
