//! Every hold on every paper, read back from the finished files; and no paper that promises what another says to wait for.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use slabwalk::hold::Hold;

use super::common::slabwalk;

/// A stamped slab with everything that can be on hold on it.
const STAMPED: &str = "slabwalk: 1
job: {name: Hall, client: A. Sample, site: 1 Example Street, surveyed: 2026-09-14, revision: A}
slab:
  thickness: 4\"
  placed: 2026-08-20
  post_tension: stamped
  embedded: [{what: heating tubes, cover: 1 in}, {what: an old cable}]
  outline: [[0, 0], [30', 0], [30', 20'], [0, 20']]
joints: [{id: J1, kind: control, x: 10', width: 1/4, depth: 1}]
cracks: [{id: C1, path: [[12', 3'], [15', 8']], width: 5/16, movement: dormant}]
blemishes:
  - {id: B1, what: paint, box: {corner: [2', 2'], size: [3', 3']}}
  - {id: B2, what: adhesive, box: {corner: [2', 12'], size: [3', 3']}}
  - {id: B3, what: paint, box: {corner: [22', 2'], size: [3', 3']}, tested: lead, tested_on: 2026-09-12}
lippage: [{id: L1, along: [[20', 4'], [20', 12']], high: W, step: 3}]
tests: {moisture: [{id: M1, at: [16', 16'], rh: 92%}]}
coating: {system: flake, pour_from: W, start: 2026-09-21}
";

/// A slab of which nobody knows whether it is post-tensioned.
const UNKNOWN: &str = "slabwalk: 1
job: {name: Shed, client: A. Sample, site: 1 Example Street, surveyed: 2026-09-14, revision: A}
slab: {outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]}
joints: [{id: J1, kind: control, x: 10', width: 1/4, depth: 1}]
coating: {system: flake, start: 2026-09-21}
";

/// A packet of a sketch, and its folder.
fn packet(text: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().expect("a folder for the test");
    fs::write(dir.path().join("floor.yaml"), text).expect("written");
    let run = slabwalk()
        .args(["packet", "floor.yaml"])
        .current_dir(dir.path())
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    assert_eq!(run.status.code(), Some(0), "{said}");
    dir
}

fn holds(text: &str) -> Vec<Hold> {
    let (sketch, found) = slabwalk::sketch::parse(text);
    let shop = slabwalk::shop::built_in();
    let survey = slabwalk::survey::survey(sketch.expect("a sketch"), shop, found);
    survey.expect("a floor").holds
}

/// What a run prints, and its exit code.
fn printed(dir: &Path, arguments: &[&str]) -> (String, Option<i32>) {
    let run = slabwalk().args(arguments).current_dir(dir).output().expect("the program runs");
    let both = [run.stdout, run.stderr].concat();
    (String::from_utf8_lossy(&both).into_owned(), run.status.code())
}

/// Text without the signs of its format and without white space: where a line ends says nothing.
fn plain(text: &str) -> String {
    // Lines of a calendar that are folded.
    let text = text.replace("\r\n ", "");
    let text = text.replace("\\n", " ").replace("\\,", ",").replace("\\;", ";");
    // Quotes in a cell of CSV.
    let text = text.replace("\"\"", "\"");
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// The text of SVG or HTML.
fn without_tags(text: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    // The style sheet holds the font.
    let bodies = text
        .split("<style")
        .map(|part| part.split_once("</style>").map_or(part, |(_, after)| after));
    for c in bodies.flat_map(str::chars) {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    for (entity, c) in [
        ("&quot;", "\""),
        ("&apos;", "'"),
        ("&#39;", "'"),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&amp;", "&"),
    ] {
        out = out.replace(entity, c);
    }
    plain(&out)
}

/// Text of a PDF, where the machine can read one.
fn of_pdf(path: &Path) -> Option<String> {
    let output = Command::new("pdftotext").arg(path).arg("-").output().ok()?;
    output.status.success().then(|| plain(&String::from_utf8_lossy(&output.stdout)))
}

/// All files of a packet whose names begin and end so, one after the other.
fn files(folder: &Path, start: &str, end: &str) -> String {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a packet")
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with(start) && name.ends_with(end))
        .collect();
    names.sort();
    assert!(!names.is_empty(), "{start}*{end}");
    names.iter().map(|name| fs::read_to_string(folder.join(name)).expect("read")).collect()
}

/// The customer's words for a hold.
fn in_plain_words(code: &str) -> &'static str {
    match code {
        "post-tension" => "Nobody cuts into the slab before the cables are located",
        "post-tension-unknown" => "We do not cut before we know.",
        "chase-cover" => "The planned cuts come near",
        "cover-unknown" => "nobody knows how deep",
        "step-post-tension" => "ground down on a slab with stretched steel cables",
        "step-thin" => "where little concrete would be left",
        "test-before-grinding" => {
            "Nobody sands, saws or grinds them before a laboratory has tested them"
        }
        "abatement" => "A licensed firm has to take it off before we start",
        "step-high" => "too high to be ground away",
        "engineer-wanted" => "a licensed engineer should look before we coat",
        "moisture-over-limit" => "1 of 1 tests read more moisture than the limit",
        "moisture-tests-wanted" => "of the same kind must be taken before we coat",
        "slab-age" => "It still shrinks and dries.",
        other => panic!("no words for {other}"),
    }
}

#[test]
fn every_hold_stands_on_every_paper() {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    for text in [STAMPED, UNKNOWN] {
        let dir = packet(text);
        let folder = dir.path().join("out/floor");
        let read = |name: &str| fs::read_to_string(folder.join(name)).expect(name);
        fs::write(
            dir.path().join("later.yaml"),
            text.replace("revision: A", "revision: B").replace("x: 10'", "x: 11'"),
        )
        .expect("written");
        let change = |format: &str| {
            let arguments = ["change", "floor.yaml", "later.yaml", "--format", format];
            printed(dir.path(), &arguments).0
        };
        let mut papers: Vec<(&str, String)> = Vec::new();
        for name in ["takeoff.txt", "takeoff.csv", "order.txt", "order.csv", "days.txt", "days.ics"]
        {
            papers.push((name, plain(&read(name))));
        }
        for name in ["price.txt", "price.csv", "contents.txt"] {
            papers.push((name, plain(&read(name))));
        }
        papers.push(("change as text", plain(&change("text"))));
        papers.push(("change as CSV", plain(&change("csv"))));
        papers.push(("crew map", without_tags(&files(&folder, "crew-map", ".svg"))));
        // Days begin below whatever stands before them.
        let sheets = fs::read_dir(&folder).expect("a packet").flatten();
        let sheets = sheets.map(|entry| entry.path());
        let crew = sheets.filter(|p| p.to_string_lossy().contains("/crew-"));
        let drawn = crew.filter(|p| p.extension().is_some_and(|e| e == "svg"));
        let said = drawn.map(|p| fs::read_to_string(p).expect("read"));
        let days: String = said.filter(|s| s.contains("DAYS<")).collect();
        papers.push(("crew days", without_tags(&days)));
        // The owner's papers have the words of his drawing, and no ids.
        let proposal = without_tags(&read("proposal.html"));
        let customer = without_tags(&files(&folder, "customer-drawing", ".svg"));
        let (checked, code) = printed(dir.path(), &["check", "floor.yaml"]);
        assert_eq!(code, Some(1), "{checked}");
        let json = ["takeoff.json", "order.json", "days.json", "price.json"].map(read);
        let json = json.into_iter().chain([change("json")]);
        let json: Vec<serde_json::Value> = json
            .map(|text| {
                let from = text.find('{').expect("an object");
                let mut read = serde_json::Deserializer::from_str(&text[from..]).into_iter();
                read.next().expect("a value").expect("JSON")
            })
            .collect();
        let holds = holds(text);
        for (i, hold) in holds.iter().enumerate() {
            let word = hold.code.word();
            seen.insert(word);
            let (lead, order) = (plain(&hold.lead()), plain(&hold.order()));
            // The crew's sheets don't depend on the order of records.
            let mut by_id = hold.clone();
            by_id.items.sort();
            let by_id = plain(&by_id.lead());
            let items = plain(&hold.items.join(" "));
            for (paper, said) in &papers {
                let of_csv = paper.ends_with(".csv") || paper.ends_with("CSV");
                let named = said.contains(&lead)
                    || (paper.starts_with("crew") && said.contains(&by_id))
                    || (of_csv && said.contains(&items) && said.contains(word));
                assert!(named, "{paper}: {} is not in {said}", hold.lead());
                assert!(said.contains(&order), "{paper}: {} is not in {said}", hold.order());
            }
            let words = in_plain_words(word);
            assert!(customer.contains(&plain(words)), "{words} is not in {customer}");
            // The shop has its own words for tendons in a proposal, those of the built-in book here.
            let promised = match word {
                "post-tension" => "Nothing is cut before the tendons are located",
                "post-tension-unknown" => "We do not cut before that is ruled out",
                _ => words,
            };
            assert!(proposal.contains(&plain(promised)), "{promised} is not in {proposal}");
            // Messages are folded, and those of one kind stand under one head.
            let told: Vec<&str> = checked.split_whitespace().collect();
            let told = told.join(" ");
            for case in &hold.cases {
                assert!(told.contains(&format!("[{word}]: ")), "{checked}");
                assert!(told.contains(&case.message), "{}: {checked}", case.message);
            }
            for value in &json {
                let held = &value["holds"][i];
                assert_eq!(held["code"], word, "{value:#}");
                assert_eq!(held["items"], serde_json::json!(hold.items));
                assert_eq!(held["message"], hold.message.as_str());
                assert_eq!(held["source"], hold.source);
                let works: Vec<&str> = hold.works.iter().map(|w| w.name()).collect();
                assert_eq!(held["works"], serde_json::json!(works));
            }
        }
        if let Some(said) = of_pdf(&folder.join("crew-map.pdf")) {
            for hold in &holds {
                // Lines of columns stand side by side in the text of a page, so only their beginnings are whole.
                let title = plain(hold.code.title());
                assert!(said.contains(&title), "{title} is not in {said}");
            }
        }
    }
    assert_eq!(seen.len(), 13, "{seen:?}");
}

/// A paper has the holds before anything that they stop.
#[test]
fn holds_stand_at_the_top() {
    let dir = packet(STAMPED);
    let folder = dir.path().join("out/floor");
    for (name, hold, after) in [
        ("takeoff.txt", "HOLD: CLEAR BEFORE", "\nFLOOR"),
        ("order.txt", "HOLD: CLEAR BEFORE", "joint filler"),
        ("days.txt", "HOLD: CLEAR BEFORE", "DAY 1"),
        ("price.txt", "HOLD: CLEAR BEFORE", "MATERIALS"),
        ("takeoff.csv", "post-tension", "gross"),
        ("order.csv", "HOLD post-tension", "joint filler"),
        ("price.csv", "HOLD post-tension", "materials"),
        ("days.ics", "HOLD", "day 1"),
        ("contents.txt", "# HOLD", "contents.txt"),
        ("proposal.html", "On hold until this is cleared", "What is done"),
    ] {
        let text = fs::read_to_string(folder.join(name)).expect(name);
        let place = |what: &str| text.find(what).unwrap_or_else(|| panic!("{name}: no {what}"));
        assert!(place(hold) <= place(after), "{name}");
    }
}

/// What is not tested, too high or somebody else's is promised nowhere; hazardous material is in no price.
#[test]
fn nothing_on_hold_is_promised() {
    let dir = packet(STAMPED);
    let folder = dir.path().join("out/floor");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect(name);
    let proposal = without_tags(&read("proposal.html"));
    for words in [
        "Old paint can hold lead, and old adhesive asbestos. Nobody sands, saws or grinds these",
        "The laboratory found lead or asbestos here. A licensed abatement firm takes it off",
        "Steps that are too high to be ground down",
        "Lead and asbestos are no part of this price: area D, taken off",
        "The price holds for 2 areas (D) only if the laboratory finds neither lead nor asbestos",
        "These days hold only if everything that is on hold above is cleared",
    ] {
        assert!(proposal.contains(&plain(words)), "{words}: {proposal}");
    }
    for words in ["are removed by machine", "we grind the high side down"] {
        assert!(!proposal.contains(&plain(words)), "{words}");
    }
    let price = plain(&read("price.txt"));
    assert!(price.contains(&plain("Lead and asbestos are no part of this price: B3")));
}

/// The third day of this floor is too close to the dew point, so its coats go to days after the forecast: no paper
/// promises a date from there on.
#[test]
fn no_paper_promises_what_another_says_to_wait_for() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches/harrow-lane-garage.yaml");
    let garage = fs::read_to_string(path).expect("the garage");
    let garage: String = garage.split("\nphotos:").next().expect("its floor").to_owned() + "\n";
    let dir = packet(&garage);
    let folder = dir.path().join("out/floor");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect(name);
    let days = read("days.txt");
    assert!(!days.contains("WAIT: slab"), "{days}");
    assert!(days.contains("DAY 3, Monday 2026-09-28, if dry"), "{days}");
    for words in [
        "On foot depends on the weather; confirmed the day before.",
        "Vehicles depends on the weather; confirmed the day before.",
    ] {
        assert!(days.contains(words), "{days}");
    }
    let json: serde_json::Value = serde_json::from_str(&read("days.json")).expect("JSON");
    assert!(json["foot"].is_null() && json["vehicles"].is_null());
    assert_eq!(json["depends_on_weather"], true);
    let proposal = without_tags(&read("proposal.html"));
    assert!(proposal.contains("September23") && proposal.contains("September24"), "{proposal}");
    for day in ["September25", "September26", "September27"] {
        assert!(!proposal.contains(day), "{day}: {proposal}");
    }
    for day in ["September28", "September29"] {
        let dry = plain(&format!("{day} morning, if dry"));
        assert!(
            proposal.matches(day).count() == proposal.matches(&dry).count(),
            "{day}: {proposal}"
        );
    }
    assert!(proposal.contains(&plain("depends on the weather; confirmed the day before")));
    assert!(proposal.contains(&plain("When you can walk and drive on it depends on the weather")));
    let customer = without_tags(&files(&folder, "customer-drawing", ".svg"));
    assert!(customer.contains(&plain("depends on the weather; confirmed the day before")));
    let calendar = plain(&read("days.ics"));
    for gone in ["SUMMARY:Onfoot", "SUMMARY:Vehicles"] {
        assert!(!calendar.contains(gone), "{calendar}");
    }
    assert!(calendar.contains("day3,dependsontheweather") && calendar.contains("STATUS:TENTATIVE"));
    let crew = without_tags(&files(&folder, "crew-", ".svg"));
    assert!(
        crew.contains(&plain(
            "On foot, vehicles. Depends on the weather; confirmed the day before."
        ))
    );
    // With a drier third day, and a forecast for the fourth, everything has its date.
    let fourth = "slab: 64 F}\n    - {day: 2026-09-28, air: 68 F, humidity: 50%, slab: 66 F}\n";
    let dry = garage.replace("humidity: 88%", "humidity: 50%");
    let dry = dry.replace("slab: 64 F}\n", fourth);
    let dir = packet(&dry);
    let folder = dir.path().join("out/floor");
    let proposal = without_tags(&fs::read_to_string(folder.join("proposal.html")).expect("read"));
    assert!(
        proposal.contains("September25") && proposal.contains("WalkonitfromTuesday"),
        "{proposal}"
    );
    let calendar = plain(&fs::read_to_string(folder.join("days.ics")).expect("read"));
    assert!(
        calendar.contains("SUMMARY:Onfoot,oncetheholdsarecleared:HarrowLanegarage"),
        "{calendar}"
    );
}
