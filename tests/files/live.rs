//! The page of `live`, killed while it writes a record: the sketch is the old or the new.

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::Value;

use crate::address;
use crate::bench::{BIN, command, hidden, sketch, tree};
use crate::killed::{signalled, strace};

/// Steps of writing a record, up to the last: what is locked, set, waited for, exchanged, removed. The page is served by other calls.
const STEPS: [(&str, usize); 8] = [
    ("flock", 1),
    ("fchmod", 1),
    ("flock", 2),
    ("fsync", 1),
    ("flock", 3),
    ("renameat2", 1),
    ("unlink", 1),
    ("unlink", 2),
];

/// A page that is served, and ended with the test.
struct Page {
    child: Child,
    host: String,
    token: String,
}

impl Page {
    fn serve(mut command: Command) -> Self {
        let command = command.stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().expect("started");
        let (host, token) = address::of(&mut child);
        Self { host, token, child }
    }

    /// The answer, or what there was of it when the program was killed.
    fn ask(&self, head: &str, body: &str) -> String {
        let (verb, path) = head.split_once(' ').expect("a verb");
        let (host, token) = (&self.host, &self.token);
        let text = format!(
            "{verb} /{token}{path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\n\
             Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        );
        let mut stream = TcpStream::connect(host).expect("connected");
        let limit = Some(Duration::from_secs(60));
        stream.set_read_timeout(limit).expect("a limit");
        let _ = stream.write_all(text.as_bytes());
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        String::from_utf8_lossy(&all).into_owned()
    }

    /// Records a crack; whether it was said to be written.
    fn record(&self) -> bool {
        let state = self.ask("GET /api/state", "");
        let state = state.split_once("\r\n\r\n").expect("an answer").1;
        let state: Value = serde_json::from_str(state).expect("JSON");
        let crack = serde_json::json!({
            "version": state["version"], "ground": state["ground"], "kind": "crack",
            "points": [{"wall": 1, "along": "3'", "out": "2'"}, {"line": "J1", "at": "6'"}],
            "values": {"width": "1/16\"", "movement": "dormant"},
        });
        let answer = self.ask("POST /api/record", &crack.to_string());
        answer.starts_with("HTTP/1.1 200")
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        // Told so, strace ends the program with itself; killed, it would leave it behind.
        let id = self.child.id().to_string();
        let _ = Command::new("kill").args(["-TERM", &id]).status();
        let _ = self.child.wait();
    }
}

const ARGUMENTS: [&str; 4] = ["live", "floor.yaml", "--port", "0"];

/// A page whose program is killed at a step.
fn killed_at(step: (&str, usize), at: &Path) -> Page {
    // -I 1: strace itself ends when it is told to.
    Page::serve(signalled(&["-I", "1"], step, "KILL", &ARGUMENTS, at))
}

#[test]
fn a_page_that_is_killed_at_any_step_leaves_the_old_sketch_or_the_new() {
    if !strace() {
        return;
    }
    let old = sketch(10);
    let (mut killed, mut written) = (0, 0);
    for step in STEPS {
        let dir = tempfile::tempdir().expect("a folder");
        let path = dir.path().join("floor.yaml");
        fs::write(&path, &old).expect("written");
        let said = killed_at(step, dir.path()).record();
        let now = fs::read_to_string(&path).expect("the sketch");
        let added: Vec<&str> = now.lines().filter(|line| !old.contains(line)).collect();
        let new = matches!(added[..], [one] if one.contains("id: C2,"));
        assert!(now == old || new, "{step:?}: {now}");
        assert!(now != old || !said, "{step:?}: it was said to be written");
        killed += usize::from(!said);
        written += usize::from(!said && new);
        let again = Page::serve(command(BIN, &ARGUMENTS, dir.path()));
        assert!(again.record(), "{step:?}: the next one can't write");
        drop(again);
        let found = tree(dir.path());
        assert!(hidden(&found).is_empty(), "{step:?}: {:?}", hidden(&found));
    }
    assert!(killed > 5 && written > 0, "{killed} of them killed, {written} after the exchange");
}
