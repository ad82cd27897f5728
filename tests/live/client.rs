//! A program that serves a sketch in a folder of its own, and a client that speaks HTTP by hand. Everything
//! has a limit of time, and the program ends with the test.

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::address;

/// Longest that anything may take. The machine may be busy; nothing is decided by being fast.
const PATIENCE: Duration = Duration::from_secs(60);

pub const SHED: &str = "# taped on a wet day\nslabwalk: 1\njob: {name: Shed}\nslab:\n  outline: [[0, 0], [24', 0], [24', 20'], [0, 20']]\njoints:\n  - {id: J1, kind: control, x: 12', width: 1/4}   # leans\n\n# nothing else\nspalls: []\n";

pub struct Program {
    child: Child,
    folder: tempfile::TempDir,
    /// `127.0.0.1:PORT`
    pub host: String,
    pub token: String,
}

pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.body).unwrap_or_else(|e| panic!("{e}: {}", self.body))
    }

    pub fn message(&self) -> String {
        self.json()["message"].as_str().unwrap_or_default().to_owned()
    }
}

impl Program {
    pub fn start(sketch: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("shed.yaml");
        fs::write(&path, sketch).expect("written");
        let mut child = Command::new(env!("CARGO_BIN_EXE_slabwalk"))
            .args(["live", "shed.yaml", "--port", "0"])
            .current_dir(folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let (host, token) = address::of(&mut child);
        assert!(host.starts_with("127.0.0.1:"), "{host}");
        assert!(token.len() == 32, "{token}");
        Self { host, token, child, folder }
    }

    pub fn path(&self) -> PathBuf {
        self.folder.path().join("shed.yaml")
    }

    pub fn folder(&self) -> PathBuf {
        self.folder.path().to_owned()
    }

    pub fn text(&self) -> String {
        fs::read_to_string(self.path()).expect("the sketch")
    }

    pub fn save(&self, text: &str) {
        fs::write(self.path(), text).expect("saved");
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(&self.host).expect("connected");
        stream.set_read_timeout(Some(PATIENCE)).expect("a limit");
        stream.set_write_timeout(Some(PATIENCE)).expect("a limit");
        stream
    }

    /// Sends bytes as they are.
    pub fn raw(&self, bytes: &[u8]) -> Answer {
        let mut stream = self.connect();
        // The program may answer, and close, before it has taken everything.
        let _ = stream.write_all(bytes);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        let all = String::from_utf8_lossy(&all).into_owned();
        let (head, body) = all.split_once("\r\n\r\n").unwrap_or((&all, ""));
        let status = head.split(' ').nth(1).and_then(|s| s.parse().ok());
        Answer { status: status.unwrap_or(0), head: head.into(), body: body.into() }
    }

    pub fn get(&self, path: &str) -> Answer {
        let (host, token) = (&self.host, &self.token);
        self.raw(format!("GET /{token}{path} HTTP/1.1\r\nHost: {host}\r\n\r\n").as_bytes())
    }

    pub fn post(&self, path: &str, body: &Value) -> Answer {
        let origin = format!("http://{}", self.host);
        self.post_from(path, Some(&origin), &body.to_string())
    }

    pub fn post_from(&self, path: &str, origin: Option<&str>, body: &str) -> Answer {
        let (host, token) = (&self.host, &self.token);
        let origin = origin.map_or(String::new(), |o| format!("Origin: {o}\r\n"));
        let head = format!(
            "POST /{token}{path} HTTP/1.1\r\nHost: {host}\r\n{origin}Content-Type: application/json\r\nContent-Length: {}\r\n\r\n",
            body.len()
        );
        self.raw(format!("{head}{body}").as_bytes())
    }

    /// Sends a photo as the page does.
    pub fn photo(&self, file: &str, kind: &str, bytes: &[u8]) -> Answer {
        let (host, token) = (&self.host, &self.token);
        let head = format!(
            "POST /{token}/api/photo?file={file} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\r\n",
            bytes.len()
        );
        self.raw(&[head.as_bytes(), bytes].concat())
    }

    pub fn state(&self) -> Value {
        self.get("/api/state").json()
    }

    /// The state once it is as wanted.
    pub fn state_when(&self, wanted: impl Fn(&Value) -> bool) -> Value {
        let began = Instant::now();
        loop {
            let state = self.state();
            if wanted(&state) {
                return state;
            }
            assert!(began.elapsed() < PATIENCE, "never came: {state}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// A crack as the page would send it.
    pub fn crack(&self, state: &Value) -> Value {
        serde_json::json!({
            "version": state["version"], "ground": state["ground"], "kind": "crack",
            "points": [{"wall": 1, "along": "3'", "out": "2'"}, {"line": "J1", "at": "6'"}],
            "values": {"width": "1/16\"", "movement": "dormant"},
        })
    }

    /// Ends as Ctrl-C does; the exit code.
    #[cfg(unix)]
    pub fn interrupt(mut self) -> Option<i32> {
        let id = self.child.id().to_string();
        let killed = Command::new("kill").args(["-INT", &id]).status();
        assert!(killed.expect("kill").success());
        let began = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().expect("waited") {
                return status.code();
            }
            assert!(began.elapsed() < PATIENCE, "it does not end");
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
