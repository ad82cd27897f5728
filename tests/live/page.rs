//! What the page is given.

use std::io::{BufRead, BufReader, Write};

use crate::client::{Program, SHED};

#[test]
fn the_page_its_files_and_what_it_shows() {
    let program = Program::start(SHED);
    let page = program.get("/");
    assert_eq!(page.status, 200);
    assert!(page.head.contains("Content-Security-Policy: default-src 'none'; script-src 'self'"));
    assert!(page.head.contains("X-Content-Type-Options: nosniff"));
    assert!(page.body.contains("<script type=\"module\" src=\"app.js\">"));
    assert!(!page.body.contains(" style=") && !page.body.contains(" onclick="));
    for file in
        ["live.css", "app.js", "map.js", "record.js", "keys.js", "icon.svg", "regular.woff2"]
    {
        assert_eq!(program.get(&format!("/{file}")).status, 200, "{file}");
    }
    let state = program.state();
    assert_eq!(state["job"], "Shed");
    assert_eq!(state["quantities"][0][1], "480.0 ft²");
    assert_eq!(state["items"][0]["id"], "J1");
    assert_eq!(state["items"][0]["at"]["line"], 7);
    let names: Vec<&str> =
        state["views"].as_array().expect("views").iter().filter_map(|v| v[0].as_str()).collect();
    assert!(names.starts_with(&["floor", "crew"]), "{names:?}");
    for name in names {
        let view = program.get(&format!("/api/view?name={name}&sheet=0")).json();
        let svg = view["svg"].as_str().expect(name);
        assert!(
            svg.starts_with("<svg") && svg.contains("id=\"J1\"")
                || name == "customer"
                || name == "field",
            "{name}: {svg:.200}"
        );
        assert!(!svg.contains("<style"), "{name}: the page's policy allows no style in a drawing");
        assert_eq!(view["version"], state["version"]);
    }
    assert_eq!(program.get("/api/view?name=none").status, 422);
    let told = program.get("/api/explain?id=J1").json();
    assert!(told["lines"].as_array().expect("lines").len() > 1, "{told}");
    assert_eq!(program.get("/api/explain?id=J99").status, 404);
    assert!(program.get("/api/kinds").body.contains("\"name\":\"crack\""));
}

#[test]
fn a_tap_becomes_wall_along_and_out() {
    let program = Program::start(SHED);
    let place = program.get("/api/place?x=1.52&y=0.62&reach=0.1").json();
    assert_eq!(place["form"], serde_json::json!({"wall": 1, "along": "5'", "out": "2'"}));
    assert_eq!(place["words"], "wall 1, 5'-0\" from corner 1 toward 2, 2'-0\" out");
    let snapped = program.get("/api/place?x=3.7&y=2&reach=0.2").json();
    assert_eq!(snapped["form"]["line"], "J1");
    let typed = program.get("/api/place?wall=2&along=5%27+6%22&out=1%27").json();
    assert_eq!(typed["y"].as_f64().map(|y| (y * 10_000.0).round()), Some(16_764.0));
    assert_eq!(program.get("/api/place?wall=2&along=500%27&out=1%27").status, 422);
    assert_eq!(program.get("/api/place?x=NaN&y=2").status, 422);
}

#[test]
fn every_save_is_told_and_a_broken_one_keeps_the_last_floor() {
    let program = Program::start(SHED);
    let mut stream = program.connect();
    let ask =
        format!("GET /{}/api/events HTTP/1.1\r\nHost: {}\r\n\r\n", program.token, program.host);
    stream.write_all(ask.as_bytes()).expect("asked");
    let mut lines = BufReader::new(stream).lines();
    let mut next = || {
        // A sign of life comes between; a stream that says nothing runs into the limit of time.
        lines
            .by_ref()
            .map(|line| line.expect("told in time"))
            .find_map(|line| line.strip_prefix("data: ").map(str::to_owned))
            .expect("the stream goes on")
    };
    let first = next();
    let good = program.state();
    assert_eq!(good["version"], first.as_str());

    program.save(&SHED.replace("24'", "30'"));
    let second = next();
    assert_ne!(first, second);
    assert_eq!(program.state()["quantities"][0][1], "600.0 ft²");

    program.save(&SHED.replace("width: 1/4", "width: thin"));
    let third = next();
    let broken = program.state();
    assert_eq!(broken["version"], third.as_str());
    assert_eq!(broken["broken"], true);
    assert_eq!(broken["drawn"], second.as_str(), "the last good floor stays");
    assert_eq!(broken["quantities"][0][1], "600.0 ft²");
    assert_eq!(broken["found"][0]["at"]["line"], 7);
    assert_eq!(broken["found"][0]["at"]["marked"], "thin");
    assert_eq!(program.get("/api/view?name=floor").json()["version"], second.as_str());

    // An editor that writes another file and moves it into place.
    let other = program.folder().join("other");
    std::fs::write(&other, SHED).expect("written");
    std::fs::rename(&other, program.path()).expect("moved");
    assert_eq!(next(), first, "mended");
    assert_eq!(program.state()["broken"], false);

    std::fs::remove_file(program.path()).expect("removed");
    program.state_when(|s| s["trouble"].is_string() && s["broken"] == true);
    program.save(SHED);
    program.state_when(|s| s["trouble"].is_null() && s["broken"] == false);
}

#[test]
fn a_sketch_that_starts_broken_is_shown_once_it_is_mended() {
    let program = Program::start("slabwalk: 1\n");
    let state = program.state();
    assert_eq!((state["broken"].as_bool(), state["drawn"].is_null()), (Some(true), true));
    assert_eq!(program.get("/api/view?name=floor").status, 409);
    assert_eq!(program.get("/api/place?x=1&y=1").status, 409);
    program.save(SHED);
    program.state_when(|s| s["broken"] == false && s["drawn"] == s["version"]);
}

#[cfg(unix)]
#[test]
fn it_ends_when_told_also_with_a_page_open() {
    let program = Program::start(SHED);
    let mut stream = program.connect();
    let ask =
        format!("GET /{}/api/events HTTP/1.1\r\nHost: {}\r\n\r\n", program.token, program.host);
    stream.write_all(ask.as_bytes()).expect("asked");
    let mut line = String::new();
    BufReader::new(&stream).read_line(&mut line).expect("answered");
    assert!(line.contains("200"), "{line}");
    assert_eq!(program.interrupt(), Some(0));
}
