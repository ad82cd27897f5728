//! Commands from outside: exit codes, what goes where, and that nothing is ever half written.

use std::fs;
use std::path::Path;

use crate::common::{folder, slabwalk};

const GOOD: &str = "slabwalk: 1
job: {name: Small garage}
slab:
  post_tension: none
  outline: {start: [0, 0], walk: [E 20', N 20', W 20', S 20']}
joints: [{kind: control, x: 10, formed: sawn}]
";

/// What a run printed and how it ended.
fn run(arguments: &[&str], at: &Path) -> (i32, String, String) {
    let output = slabwalk().current_dir(at).args(arguments).output().expect("the program runs");
    (
        output.status.code().expect("an exit code"),
        String::from_utf8(output.stdout).expect("text"),
        String::from_utf8(output.stderr).expect("text"),
    )
}

/// Every file below a folder with its bytes.
fn tree(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut out = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.path().is_dir() {
            out.extend(tree(&entry.path()).into_iter().map(|(n, b)| (format!("{name}/{n}"), b)));
        } else {
            out.push((name, fs::read(entry.path()).expect("readable")));
        }
    }
    out.sort();
    out
}

#[test]
fn exit_codes_are_the_contract() {
    let (dir, _) = folder(GOOD);
    let bad = GOOD.replace("kind: control", "kind: controll");
    let stop = GOOD.replace("post_tension: none", "post_tension: stamped");
    fs::write(dir.path().join("bad.yaml"), bad).unwrap();
    fs::write(dir.path().join("stop.yaml"), stop).unwrap();
    let rows: &[(&[&str], i32)] = &[
        (&["check", "floor.yaml"], 0),
        (&["check", "stop.yaml"], 1),
        (&["check", "bad.yaml"], 1),
        (&["check", "floor.yaml", "bad.yaml"], 1),
        (&["check", "missing.yaml"], 3),
        (&["check", "."], 3),
        (&["check"], 2),
        (&["takeoff", "floor.yaml"], 0),
        (&["takeoff", "stop.yaml"], 0),
        (&["takeoff", "bad.yaml"], 1),
        (&["takeoff", "floor.yaml", "--format", "xml"], 2),
        (&["takeoff", "floor.yaml", "--explain", "J1"], 0),
        (&["takeoff", "floor.yaml", "--explain", "J9"], 2),
        (&["takeoff", "floor.yaml", "--shop", "missing.yaml"], 3),
        (&["packet", "floor.yaml", "stop.yaml"], 0),
        (&["packet", "bad.yaml"], 1),
        (&["packet", "missing.yaml"], 3),
        (&["shop"], 0),
        (&["walk"], 2),
        (&[], 2),
    ];
    for (arguments, code) in rows {
        let (found, out, err) = run(arguments, dir.path());
        assert_eq!(found, *code, "{arguments:?}\n{out}\n{err}");
        if *code != 0 {
            assert!(
                out.is_empty() || arguments[0] == "packet",
                "{arguments:?} printed data: {out}"
            );
            assert!(!err.is_empty(), "{arguments:?} said nothing");
        }
    }
}

#[test]
fn data_goes_to_standard_output_and_messages_to_standard_error() {
    let stop = GOOD.replace("post_tension: none", "post_tension: stamped");
    let (dir, _) = folder(&stop);
    let (_, out, err) = run(&["takeoff", "floor.yaml", "--format", "json"], dir.path());
    serde_json::from_str::<serde_json::Value>(&out).expect("nothing but JSON");
    assert!(err.contains("stop[post-tension]"), "{err}");
    let (_, out, err) = run(&["check", "floor.yaml"], dir.path());
    assert!(out.is_empty(), "{out}");
    assert!(err.contains("floor.yaml:6:"), "the line of the joint: {err}");
    assert!(!err.contains('\u{1b}'), "no colour when piped: {err}");
}

#[test]
fn a_packet_is_the_same_on_every_run() {
    let (dir, _) = folder(GOOD);
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    let first = tree(&dir.path().join("out"));
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    assert_eq!(first, tree(&dir.path().join("out")));
    let names: Vec<&str> = first.iter().map(|f| f.0.as_str()).collect();
    for name in [
        "takeoff.json",
        "takeoff.csv",
        "takeoff.txt",
        "crew-map.svg",
        "customer-drawing.pdf",
        "customer-drawing.svg",
        "contents.txt",
    ] {
        assert!(names.contains(&format!("floor/{name}").as_str()), "{name} of {names:?}");
    }
}

#[test]
fn a_bad_sketch_leaves_an_existing_packet_as_it_was() {
    let (dir, path) = folder(GOOD);
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    let first = tree(&dir.path().join("out"));
    fs::write(&path, GOOD.replace("E 20'", "E 20 elephants")).unwrap();
    let (code, _, err) = run(&["packet", "floor.yaml"], dir.path());
    assert_eq!(code, 1);
    assert!(err.contains("elephants"), "{err}");
    assert_eq!(first, tree(&dir.path().join("out")));
    // The same where nothing was written before: no folder is left behind.
    assert_eq!(run(&["packet", "floor.yaml", "--out", "fresh"], dir.path()).0, 1);
    assert!(!dir.path().join("fresh").exists());
}

#[test]
fn a_packet_keeps_what_others_put_beside_it_and_drops_its_own_old_files() {
    let (dir, _) = folder(GOOD);
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    let packet = dir.path().join("out/floor");
    fs::write(packet.join("notes-from-the-phone.txt"), "call first").unwrap();
    fs::write(packet.join("old-map.svg"), "stale").unwrap();
    let contents = fs::read_to_string(packet.join("contents.txt")).unwrap();
    fs::write(packet.join("contents.txt"), contents + "old-map.svg\n").unwrap();
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 0);
    assert_eq!(fs::read_to_string(packet.join("notes-from-the-phone.txt")).unwrap(), "call first");
    assert!(!packet.join("old-map.svg").exists());
    let left: Vec<_> = fs::read_dir(dir.path().join("out")).unwrap().flatten().collect();
    assert_eq!(left.len(), 1, "no folder under way is left: {left:?}");
}

#[test]
fn a_good_sketch_is_written_although_its_neighbour_is_bad() {
    let (dir, _) = folder(GOOD);
    fs::write(dir.path().join("bad.yaml"), "slabwalk: 1\n").unwrap();
    assert_eq!(run(&["packet", "bad.yaml", "floor.yaml"], dir.path()).0, 1);
    assert!(dir.path().join("out/floor/takeoff.json").exists());
    assert!(!dir.path().join("out/bad").exists());
}

#[test]
fn two_sketches_must_not_share_a_folder() {
    let (dir, _) = folder(GOOD);
    fs::create_dir(dir.path().join("other")).unwrap();
    fs::write(dir.path().join("other/floor.yaml"), GOOD).unwrap();
    let (code, _, err) = run(&["packet", "floor.yaml", "other/floor.yaml"], dir.path());
    assert_eq!(code, 2);
    assert!(err.contains("would both be written"), "{err}");
    assert!(!dir.path().join("out").exists());
}

#[test]
fn a_file_in_the_way_is_an_error_of_files() {
    let (dir, _) = folder(GOOD);
    fs::create_dir(dir.path().join("out")).unwrap();
    fs::write(dir.path().join("out/floor"), "mine").unwrap();
    assert_eq!(run(&["packet", "floor.yaml"], dir.path()).0, 3);
    assert_eq!(fs::read_to_string(dir.path().join("out/floor")).unwrap(), "mine");
    let left: Vec<_> = fs::read_dir(dir.path().join("out")).unwrap().flatten().collect();
    assert_eq!(left.len(), 1, "{left:?}");
}

#[test]
fn bytes_that_are_no_text_are_refused_with_their_line() {
    let (dir, path) = folder(GOOD);
    fs::write(&path, b"slabwalk: 1\njob: {name: \xff}\n").unwrap();
    let (code, _, err) = run(&["check", "floor.yaml"], dir.path());
    assert_eq!(code, 1);
    assert!(err.contains("floor.yaml:2"), "{err}");
}

#[test]
fn a_shop_book_that_the_sketch_names_must_be_there() {
    let (dir, path) = folder(GOOD);
    fs::write(&path, format!("{GOOD}shop: ours.yaml\n")).unwrap();
    let (code, _, err) = run(&["check", "floor.yaml"], dir.path());
    assert_eq!(code, 3);
    assert!(err.contains("floor.yaml:7:"), "{err}");
    fs::write(dir.path().join("ours.yaml"), "slabwalk_shop: 1\nchase: {depth: 1\"}\n").unwrap();
    let (code, out, err) = run(&["takeoff", "floor.yaml", "--format", "json"], dir.path());
    assert_eq!(code, 0, "{err}");
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    crate::common::near("the shop's depth", &json, "/joints/0/chase_depth_mm", 25.4, 1e-9);
    // The command line overrides the sketch.
    fs::write(dir.path().join("theirs.yaml"), "slabwalk_shop: 1\nchase: {depth: 1 1/2\"}\n")
        .unwrap();
    let (_, out, _) =
        run(&["takeoff", "floor.yaml", "--format", "json", "--shop", "theirs.yaml"], dir.path());
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    crate::common::near("the other's depth", &json, "/joints/0/chase_depth_mm", 38.1, 1e-9);
}

#[test]
fn the_printed_shop_book_reads_back_as_itself() {
    let (dir, _) = folder(GOOD);
    let (_, book, _) = run(&["shop"], dir.path());
    fs::write(dir.path().join("book.yaml"), &book).unwrap();
    let (code, again, err) = run(&["shop", "book.yaml"], dir.path());
    assert_eq!(code, 0, "{err}");
    // The remarks say where a value comes from, and that is the shop now; the values stay.
    let values = |text: &str| {
        let lines = text.lines().map(|l| l.split('#').next().unwrap_or("").trim_end().to_owned());
        lines.filter(|l| !l.is_empty()).collect::<Vec<_>>()
    };
    assert_eq!(values(&book), values(&again));
}

#[test]
fn every_finding_names_its_line_and_its_source() {
    let sketches = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches");
    for name in ["harrow-lane-garage", "mill-street-kitchen", "dock-road-boat-shop"] {
        let file = format!("{name}.yaml");
        let (code, out, err) = run(&["takeoff", &file, "--format", "json"], &sketches);
        assert_eq!(code, 0, "{err}");
        let json: serde_json::Value = serde_json::from_str(&out).expect("JSON");
        for finding in json["findings"].as_array().expect("findings") {
            for key in ["severity", "code", "message", "source"] {
                assert!(finding[key].is_string(), "{name}: {key} of {finding}");
            }
            assert!(finding["line"].is_u64(), "{name}: line of {finding}");
        }
    }
}

#[test]
fn a_floor_whose_items_lie_on_top_of_each_other_gets_its_tables_and_is_told() {
    let crack = |i: usize| format!("  - {{path: [[{0}, 2], [{0}, 9]], width: 1/16}}\n", 1 + i % 18);
    let cracks: String = (0..601).map(crack).collect();
    let (dir, _) = folder(&format!("{GOOD}cracks:\n{cracks}"));
    let (code, _, err) = run(&["packet", "floor.yaml"], dir.path());
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("no crew map is drawn"), "{err}");
    assert!(dir.path().join("out/floor/takeoff.json").exists());
    assert!(!dir.path().join("out/floor/crew-map.svg").exists());
}
