//! Records go into the file and out again, and nobody's are lost.

use std::thread;

use crate::client::{Program, SHED};

const CRACK: &str = "{id: C1, path: [{wall: 1, along: 3', out: 2'}, {line: J1, at: 6'}], width: 1/16\", movement: dormant}";

#[test]
fn a_record_goes_into_its_section_and_is_taken_back() {
    let program = Program::start(SHED);
    let done = program.post("/api/record", &program.crack(&program.state()));
    assert_eq!(done.status, 200, "{}", done.body);
    assert_eq!(done.json()["id"], "C1");
    assert_eq!(done.json()["merged"], false);
    let wanted = SHED.replace("   # leans\n", &format!("   # leans\ncracks:\n  - {CRACK}\n"));
    assert_eq!(program.text(), wanted, "everything else as it was");
    let state = program.state();
    assert_eq!(state["undo"][1], "Crack C1");
    assert!(state["items"].to_string().contains("\"C1\""));

    let undo = serde_json::json!({"number": state["undo"][0]});
    let undone = program.post("/api/undo", &undo);
    assert_eq!(undone.status, 200, "{}", undone.body);
    assert_eq!(program.text(), SHED);
    assert!(program.state()["undo"].is_null());
    assert_eq!(program.post("/api/undo", &undo).status, 409, "only once");
    let left = std::fs::read_dir(program.folder()).expect("the folder").count();
    assert_eq!(left, 1, "nothing is left beside the sketch");
}

#[test]
fn undo_leaves_a_file_alone_that_somebody_else_changed() {
    let program = Program::start(SHED);
    program.post("/api/record", &program.crack(&program.state()));
    let edited = program.text().replace("wet day", "dry day");
    program.save(&edited);
    let undo = serde_json::json!({"number": program.state()["undo"][0]});
    let refused = program.post("/api/undo", &undo);
    assert_eq!(refused.status, 409);
    assert!(refused.message().contains("changed since"), "{}", refused.message());
    assert_eq!(program.text(), edited);
}

#[test]
fn a_stale_page_adds_to_what_is_there_now() {
    let program = Program::start(SHED);
    let seen = program.state();
    // Meanwhile an editor saves a note, before the program has even looked.
    let edited = SHED.replace("wet day", "dry day");
    program.save(&edited);
    let done = program.post("/api/record", &program.crack(&seen));
    assert_eq!(done.status, 200, "{}", done.body);
    assert_eq!(done.json()["merged"], true);
    let text = program.text();
    assert!(text.contains("dry day") && text.contains(CRACK), "{text}");

    // A second page that still shows the first state: its crack gets the next number.
    let second = program.post("/api/record", &program.crack(&seen));
    assert_eq!(second.json()["id"], "C2");
    assert!(program.text().contains(CRACK) && program.text().contains("{id: C2,"));
}

#[test]
fn a_place_on_an_outline_that_moved_is_refused() {
    let program = Program::start(SHED);
    let seen = program.state();
    let moved = SHED.replace("[0, 0], ", "[1', 0], ");
    program.save(&moved);
    let refused = program.post("/api/record", &program.crack(&seen));
    assert_eq!(refused.status, 409, "{}", refused.body);
    assert!(refused.message().contains("outline"), "{}", refused.message());
    assert_eq!(program.text(), moved);
}

#[test]
fn a_broken_sketch_takes_no_record_and_stays_as_it_is() {
    let program = Program::start(SHED);
    let seen = program.state();
    let broken = SHED.replace("width: 1/4", "width: thin");
    program.save(&broken);
    let refused = program.post("/api/record", &program.crack(&seen));
    assert_eq!(refused.status, 409);
    assert_eq!(program.text(), broken);
}

#[test]
fn what_the_sketch_would_not_take_is_not_written() {
    let program = Program::start(SHED);
    let state = program.state();
    let mut far = program.crack(&state);
    far["points"][1] = serde_json::json!({"wall": 1, "along": "3'", "out": "2'"});
    let refused = program.post("/api/record", &far);
    assert_eq!(refused.status, 422, "a path without length: {}", refused.body);
    let mut wide = program.crack(&state);
    wide["values"]["width"] = "40'".into();
    let refused = program.post("/api/record", &wide);
    assert_eq!(refused.status, 422, "{}", refused.body);
    let mut thin = program.crack(&state);
    thin["values"]["width"] = "thin".into();
    assert_eq!(program.post("/api/record", &thin).json()["field"], "width");
    assert_eq!(program.text(), SHED);
}

#[test]
fn many_at_once_lose_nothing() {
    let program = Program::start(SHED);
    let state = program.state();
    thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| {
                for _ in 0..3 {
                    let done = program.post("/api/record", &program.crack(&state));
                    assert_eq!(done.status, 200, "{}", done.body);
                }
            });
        }
    });
    let text = program.text();
    for i in 1..=12 {
        assert_eq!(text.matches(&format!("{{id: C{i},")).count(), 1, "C{i}\n{text}");
    }
}

#[test]
fn a_photo_is_kept_beside_the_sketch_and_over_nothing() {
    const PHOTO: &[u8] = include_bytes!("../../sketches/photos/broken-sill.jpg");
    const OTHER: &[u8] = include_bytes!("../../sketches/photos/buried-joint.jpg");
    let program = Program::start(SHED);
    let photos = program.folder().join("photos");
    let kept = || std::fs::read(photos.join("J1-a.jpg")).ok();
    let large = vec![0xff; (4 << 20) + 1];
    // Name, file, type, bytes, status, words.
    let rows: [(&str, &str, &str, &[u8], u16, &str); 9] = [
        ("no photo", "photos/J1-a.jpg", "image/jpeg", b"text", 422, "neither JPEG nor PNG"),
        ("as JSON", "photos/J1-a.jpg", "application/json", b"{}", 415, "sent as JPEG"),
        ("too large", "photos/J1-a.jpg", "image/jpeg", &large, 413, "larger than 4 MiB"),
        ("elsewhere", "../J1-a.jpg", "image/jpeg", PHOTO, 422, "named as photos/"),
        ("deeper", "photos/../../a.jpg", "image/jpeg", PHOTO, 422, "named as photos/"),
        ("hidden", "photos/.a.jpg", "image/jpeg", PHOTO, 422, "named as photos/"),
        ("it", "photos/J1-a.jpg", "image/jpeg", PHOTO, 200, ""),
        ("it again", "photos/J1-a.jpg", "image/jpeg", PHOTO, 200, ""),
        ("another", "photos/J1-a.jpg", "image/jpeg", OTHER, 409, "another photo"),
    ];
    for (name, file, kind, bytes, status, words) in rows {
        let answer = program.photo(file, kind, bytes);
        assert_eq!(answer.status, status, "{name}: {}", answer.body);
        assert!(answer.body.contains(words), "{name}: {}", answer.body);
        assert_eq!(kept().is_some(), name.starts_with("it") || name == "another", "{name}");
    }
    assert_eq!(kept().as_deref(), Some(PHOTO));
    let names = std::fs::read_dir(program.folder()).expect("the folder").count();
    assert_eq!(names, 2, "the sketch and its photos");
    let state = program.state();
    let entry = serde_json::json!({
        "version": state["version"], "ground": state["ground"], "kind": "photo", "points": [],
        "values": {"item": "J1", "file": "photos/J1-a.jpg"},
    });
    assert_eq!(program.post("/api/record", &entry).status, 200);
    assert!(program.text().contains("{item: J1, file: photos/J1-a.jpg}"), "{}", program.text());
    #[cfg(unix)]
    assert_eq!(program.interrupt(), Some(0), "Ctrl-C ends it as before");
}

#[test]
fn a_change_that_is_asked_for_again_is_answered_with_what_is_there_now() {
    let program = Program::start(SHED);
    let crack = program.crack(&program.state());
    let first = program.post("/api/record?once=a", &crack).json();
    program.post("/api/record?once=b", &crack);
    let again = program.post("/api/record?once=a", &crack).json();
    assert_eq!((&again["id"], &again["label"]), (&first["id"], &first["label"]));
    assert_eq!(again["glance"]["undo"][1], "Crack C2", "{}", again["glance"]["undo"]);
    assert_eq!(again["glance"]["version"], program.state()["version"]);
    assert_eq!(program.text().matches("movement: dormant").count(), 2, "written once");
}
