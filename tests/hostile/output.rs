//! Places to write to that are links, devices, files and folders of somebody else.

use std::fs;
use std::path::Path;

use super::common::{SLAB, fed, names, run, with};

/// A folder with a sketch, and beside it a file and a folder that nobody may touch.
fn guarded() -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = with(format!("{SLAB}coating: {{system: flake, start: 2026-09-21}}\n"));
    let outside = folder.path().join("outside");
    fs::create_dir(&outside).expect("a folder");
    fs::write(outside.join("kept"), "kept").expect("a file");
    (folder, outside)
}

#[track_caller]
fn untouched(outside: &Path) {
    assert_eq!(names(outside), ["kept"]);
    assert_eq!(fs::read_to_string(outside.join("kept")).expect("a file"), "kept");
}

#[test]
#[cfg(unix)]
fn links_are_not_followed() {
    use std::os::unix::fs::symlink;
    let (folder, outside) = guarded();
    let at = folder.path();
    symlink(outside.join("kept"), at.join("map.svg")).expect("a link");
    symlink(outside.join("new"), at.join("dangling.pdf")).expect("a link");
    fs::create_dir(at.join("out")).expect("a folder");
    symlink(&outside, at.join("out/floor")).expect("a link");
    let before = names(at);
    run(at, &["map", "floor.yaml", "--out", "map.svg"]).is(3, &["map.svg", "link"]);
    run(at, &["proposal", "floor.yaml", "--out", "dangling.pdf"]).is(3, &["dangling.pdf", "link"]);
    run(at, &["packet", "floor.yaml"]).is(3, &["floor", "link"]);
    run(at, &["change", "floor.yaml", "floor.yaml", "--out", "out/floor"]).is(3, &["link"]);
    assert_eq!(names(at), before);
    untouched(&outside);
}

#[test]
#[cfg(unix)]
fn devices_pipes_and_folders_are_no_place() {
    let (folder, outside) = guarded();
    let at = folder.path();
    for device in ["/dev/null", "/dev/full", "/dev/zero"] {
        run(at, &["map", "floor.yaml", "--format", "svg", "--out", device]).is(3, &[device]);
        run(at, &["proposal", "floor.yaml", "--format", "html", "--out", device]).is(3, &[device]);
        assert!(
            fs::symlink_metadata(device).is_ok_and(|meta| !meta.is_file()),
            "{device} is still a device"
        );
    }
    let made = std::process::Command::new("mkfifo").arg(at.join("pipe.svg")).status();
    assert!(made.is_ok_and(|status| status.success()));
    run(at, &["map", "floor.yaml", "--out", "pipe.svg"]).is(3, &["pipe.svg", "ordinary"]);
    fs::create_dir(at.join("a.svg")).expect("a folder");
    run(at, &["map", "floor.yaml", "--out", "a.svg"]).is(3, &["a.svg", "folder"]);
    run(at, &["map", "floor.yaml", "--out", "none/a.svg"]).is(3, &["none/a.svg"]);
    run(at, &["packet", "floor.yaml", "--out", "floor.yaml"]).is(3, &["floor.yaml"]);
    fs::create_dir(at.join("out")).expect("a folder");
    fs::write(at.join("out/floor"), "a file").expect("a file");
    run(at, &["packet", "floor.yaml"]).is(3, &["in the way"]);
    assert_eq!(fs::read_to_string(at.join("out/floor")).expect("a file"), "a file");
    let left: Vec<String> = names(at).into_iter().filter(|n| n.contains(".new")).collect();
    assert!(left.is_empty(), "{left:?}");
    untouched(&outside);
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_device_as_standard_output_is_said() {
    let (folder, _) = guarded();
    for command in [
        &["takeoff", "floor.yaml"][..],
        &["map", "floor.yaml", "--sheet", "1"],
        &["shop"],
        &["schema"],
    ] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("a device");
        let said = fed(folder.path(), command, std::process::Stdio::null(), full.into());
        said.is(3, &["standard output", "No space left"]);
    }
}

#[test]
#[cfg(unix)]
fn no_name_of_a_sketch_leads_out_of_the_folder() {
    let (folder, outside) = guarded();
    let at = folder.path();
    let text = fs::read(at.join("floor.yaml")).expect("the sketch");
    let rows = [
        ("con.yaml", "con"),
        ("a b.yaml", "a b"),
        ("<script>.yaml", "<script>"),
        ("'\"&.yaml", "'\"&"),
        ("\u{202e}x.yaml", "\u{202e}x"),
        ("esc\u{1b}[2J.yaml", "esc\u{1b}[2J"),
        ("two\nlines.yaml", "two\nlines"),
        ("...yaml", ""),
        ("..yaml", ""),
        ("-x.yaml", "-x"),
        ("=1+1.yaml", "=1+1"),
    ];
    for (name, wanted) in rows {
        fs::write(at.join(name), &text).expect("a file");
        let named = format!("./{name}");
        let said = run(at, &["packet", &named]);
        if wanted.is_empty() {
            said.is(2, &["no name"]);
        } else {
            said.is(0, &[]);
            assert!(at.join("out").join(wanted).join("takeoff.csv").is_file(), "{name}");
        }
    }
    let made = fs::read_dir(at.join("out")).expect("a folder").count();
    assert_eq!(made, rows.iter().filter(|(_, wanted)| !wanted.is_empty()).count());
    untouched(&outside);
}

#[test]
fn no_name_in_a_sketch_leads_out_of_the_folder() {
    let (folder, outside) = guarded();
    let at = folder.path();
    for name in ["../../x", "/etc/passwd", "outside/kept", "con", "..", "a\u{0}b", "a/../../b"] {
        let quoted = serde_json::Value::from(name).to_string();
        let sketch = format!(
            "slabwalk: 1\njob: {{name: {quoted}, number: {quoted}, client: {quoted}, revision: {quoted}}}\nslab: {{post_tension: none, outline: [[0, 0], [24', 0], [24', 22'], [0, 22']]}}\njoints: [{{id: J1, kind: control, x: 12'}}]\nphotos: [{{item: J1, file: {quoted}}}]\n"
        );
        fs::write(at.join("named.yaml"), sketch).expect("a sketch");
        let before = names(at).into_iter().filter(|n| !n.starts_with("out/") && n != "out").count();
        let said = run(at, &["packet", "named.yaml"]);
        said.is(0, &["J1"]);
        assert!(!said.messages.contains("root:"), "{}", said.messages);
        let after = names(at).into_iter().filter(|n| !n.starts_with("out/") && n != "out").count();
        assert_eq!(before, after);
        assert!(names(&at.join("out")).iter().all(|n| n.starts_with("named")));
        // A shop book may be named anywhere; what is not one is refused without being shown.
        fs::write(at.join("booked.yaml"), format!("{SLAB}shop: {quoted}\n")).expect("a sketch");
        let said = run(at, &["check", "booked.yaml"]);
        assert!((1..=3).contains(&said.code), "{name}: {}", said.messages);
    }
    untouched(&outside);
}

#[test]
fn ids_that_are_no_ids_are_refused() {
    for id in [
        "a\"b",
        "a'b",
        "../x",
        "a/b",
        "<b>",
        "a b",
        "a\u{0}",
        "",
        "\u{202e}",
        "a\nb",
        "wwwwwwwwwwwwwwwww",
        "&amp;",
        "=1",
        "]]>",
    ] {
        let quoted = serde_json::Value::from(id).to_string();
        let said = super::common::check(format!(
            "{SLAB}joints: [{{id: {quoted}, kind: control, x: 12'}}]\n"
        ));
        said.is(1, &["floor.yaml:4", "hint"]);
    }
}
