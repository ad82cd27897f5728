//! Who is not answered.

use crate::client::{Program, SHED};

#[test]
fn token_host_origin_and_method() {
    let program = Program::start(SHED);
    let (host, token) = (program.host.clone(), program.token.clone());
    let port = host.rsplit(':').next().expect("a port").to_owned();
    let get = |path: &str, host: &str| {
        program.raw(format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n\r\n").as_bytes()).status
    };
    let other = if token.starts_with('0') { "1" } else { "0" };
    let wrong = format!("{other}{}", &token[1..]);
    // Name, path, host, status.
    let rows = [
        ("as printed", format!("/{token}/"), host.clone(), 200),
        ("no token", "/".into(), host.clone(), 403),
        ("no token, a file of the page", "/live.css".into(), host.clone(), 403),
        ("no token, the state", "/api/state".into(), host.clone(), 403),
        ("a wrong token", format!("/{wrong}/api/state"), host.clone(), 403),
        ("a token cut short", format!("/{}/api/state", &token[..31]), host.clone(), 403),
        ("a name made to lead here", format!("/{token}/"), format!("floor.example:{port}"), 421),
        ("another port", format!("/{token}/"), "127.0.0.1:1".into(), 421),
        ("another address", format!("/{token}/"), format!("10.0.0.1:{port}"), 421),
    ];
    for (name, path, host, status) in rows {
        assert_eq!(get(&path, &host), status, "{name}");
    }
    let record = program.crack(&program.state()).to_string();
    let own = format!("http://{host}");
    for origin in [None, Some("null"), Some("http://evil.example"), Some("http://127.0.0.1:1")] {
        assert_eq!(program.post_from("/api/record", origin, &record).status, 403, "{origin:?}");
        assert_eq!(
            program.post_from("/api/undo", origin, "{\"number\":1}").status,
            403,
            "{origin:?}"
        );
    }
    let stolen = format!(
        "POST /{wrong}/api/record HTTP/1.1\r\nHost: {host}\r\nOrigin: {own}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n{record}",
        record.len()
    );
    assert_eq!(program.raw(stolen.as_bytes()).status, 403, "a write without the token");
    let form = format!(
        "POST /{token}/api/record HTTP/1.1\r\nHost: {host}\r\nOrigin: {own}\r\nContent-Type: text/plain\r\nContent-Length: {}\r\n\r\n{record}",
        record.len()
    );
    assert_eq!(program.raw(form.as_bytes()).status, 415, "a form of another page");
    assert_eq!(program.get("/api/record").status, 405);
    assert_eq!(program.post("/api/state", &serde_json::json!({})).status, 405);
    assert_eq!(program.text(), SHED, "nothing of all this was written");
}

#[test]
fn sizes_and_noise() {
    let program = Program::start(SHED);
    let (host, token) = (program.host.clone(), program.token.clone());
    let own = format!("http://{host}");
    let large = format!("{{\"x\": \"{}\"}}", "a".repeat(70_000));
    assert_eq!(program.post_from("/api/record", Some(&own), &large).status, 413);
    let long = format!("GET /{token}/{} HTTP/1.1\r\nHost: {host}\r\n\r\n", "a".repeat(20_000));
    assert_eq!(program.raw(long.as_bytes()).status, 431);
    let lines = "A: b\r\n".repeat(100);
    let many = format!("GET /{token}/ HTTP/1.1\r\nHost: {host}\r\n{lines}\r\n");
    assert_eq!(program.raw(many.as_bytes()).status, 431);
    let chunked = format!(
        "POST /{token}/api/record HTTP/1.1\r\nHost: {host}\r\nOrigin: {own}\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"
    );
    assert_eq!(program.raw(chunked.as_bytes()).status, 411);
    assert_eq!(program.raw(b"\x16\x03\x01\x02\x00\x01\x00\r\n\r\n").status, 400);
    for body in [
        "",
        "[]",
        "{",
        "{\"kind\": \"crack\"}",
        "{\"version\":\"\",\"ground\":\"\",\"kind\":\"crack\",\"extra\":1}",
    ] {
        assert_eq!(program.post_from("/api/record", Some(&own), body).status, 400, "{body}");
    }
    let deep = "[".repeat(30_000);
    assert_eq!(program.post_from("/api/record", Some(&own), &deep).status, 400);
    assert_eq!(program.get("/").status, 200, "it still answers");
    assert_eq!(program.text(), SHED);
}

#[test]
fn nothing_beside_the_page_is_served() {
    let program = Program::start(SHED);
    std::fs::write(program.folder().join("secret.txt"), "hidden").expect("written");
    for path in [
        "/shed.yaml",
        "/secret.txt",
        "/../secret.txt",
        "/../../etc/passwd",
        "/%2e%2e/secret.txt",
        "/..%2fsecret.txt",
        "//etc/passwd",
        "/live.css/../secret.txt",
        "/page/app.js",
        "/api/view/../../secret.txt",
    ] {
        let answer = program.get(path);
        assert_eq!(answer.status, 404, "{path}");
        assert!(!answer.body.contains("hidden"), "{path}");
    }
    // A name in the query is a word, never a path.
    let view = program.get("/api/view?name=../secret.txt");
    assert_eq!(view.status, 422);
}
