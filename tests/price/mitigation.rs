//! Moisture over the limit: the alternate that is priced unasked, and mitigation in the job.

use serde_json::Value;

use super::common::{folder, run};

/// 440 ft²; the third test reads what the words say.
fn sketch(reads: &str, coating: &str) -> String {
    format!(
        "slabwalk: 1\njob: {{name: hall}}\nslab:\n  post_tension: none\n  outline: [[0, 0], [22', 0], [22', 20'], [0, 20']]\n\
         tests: {{moisture: [{{at: [5', 5'], mver: 2}}, {{at: [9', 5'], mver: 2}}, {{id: M9, at: [5', 9'], mver: {reads}}}]}}\n\
         coating: {{{coating}}}\n"
    )
}

fn json(sketch: &str, command: &str) -> Value {
    let place = folder(&[("hall.yaml", sketch)]);
    let said = run(place.path(), &[command, "hall.yaml", "--format", "json"]);
    assert!(said.code < 2, "{command}: {}", said.messages);
    serde_json::from_str(&said.out).expect("JSON")
}

const PRIMER: &str = "moisture mitigation: moisture-mitigation primer";

/// 440 ft² at 100 ft²/gal less 5 % take 4.63 gal: two kits of 3 gal.
#[test]
fn the_alternate_is_priced_and_named_on_every_paper() {
    let moist = sketch("8", "system: flake");
    let price = json(&moist, "price");
    let [alternate] = &price["alternates"].as_array().expect("a list")[..] else {
        panic!("{}", price["alternates"]);
    };
    assert_eq!(alternate["name"], "with moisture-mitigation primer");
    assert_eq!(
        (&price["profile"], &alternate["profile"]),
        (&Value::from("CSP 2-3"), &Value::from("CSP 3"))
    );
    let lines = alternate["whole"]["lines"].as_array().expect("lines");
    let primer = lines.iter().find(|line| line["item"] == PRIMER);
    assert_eq!(primer.expect("the primer")["quantity"], "2");
    let days = |of: &Value| of["days"].as_u64().expect("days");
    assert_eq!(days(&alternate["whole"]), days(&price["base"]) + 1);
    let place = folder(&[("hall.yaml", &moist)]);
    let said = run(place.path(), &["packet", "hall.yaml"]);
    assert!(said.code < 2, "{}", said.messages);
    let out = place.path().join("out/hall");
    for paper in ["takeoff.txt", "order.txt", "days.txt", "price.txt"] {
        let text = std::fs::read_to_string(out.join(paper)).expect(paper);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let named = "the price has the alternate with moisture-mitigation primer";
        assert!(text.contains(named), "{paper}: {text}");
    }
    let text = std::fs::read_to_string(out.join("price.txt")).expect("the price");
    for line in [format!("{PRIMER}: 2 instead of 0"), "; working days: ".to_owned()] {
        assert!(text.contains(&line), "{line}: {text}");
    }
    let proposal = std::fs::read_to_string(out.join("proposal.html")).expect("the proposal");
    for words in [
        "With moisture-mitigation primer",
        "for a slab that is moister than the coating takes alone",
        "1 working day more",
    ] {
        assert!(proposal.contains(words), "{words}");
    }
}

#[test]
fn above_what_mitigation_takes_none_is_offered() {
    let price = json(&sketch("26", "system: flake"), "price");
    assert_eq!(price["alternates"], serde_json::json!([]));
    let said = price["holds"].to_string();
    assert!(said.contains("so the price has no alternate with it"), "{said}");
}

/// Taken into the job: no hold any more, its goods in the order, its coat and its profile in the plan.
#[test]
fn mitigation_in_the_job_is_ordered_and_planned() {
    let job = sketch("8", "system: flake, mitigation: true");
    let order = json(&job, "order");
    assert_eq!(order["holds"], serde_json::json!([]));
    let rows = order["order"].as_array().expect("rows");
    let primer = rows.iter().find(|row| row["item"] == PRIMER).expect("the primer");
    assert_eq!(primer["packages"], 2);
    let days = json(&job, "days");
    assert_eq!(days["profile"], "CSP 3");
    let pieces = days["days"].as_array().expect("days").iter();
    let tasks: Vec<&str> = pieces
        .flat_map(|day| day["pieces"].as_array().expect("pieces"))
        .filter_map(|piece| piece["task"].as_str())
        .collect();
    let at = |name: &str| tasks.iter().position(|task| *task == name);
    let (below, above) = (at("moisture-mitigation primer"), at("primer"));
    assert!(below.is_some() && below < above, "{tasks:?}");
    assert_eq!(json(&job, "takeoff")["profile"], "CSP 3");
}
