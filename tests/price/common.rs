//! A folder with sketches and a shop book, and the program run in it.

use std::fs;
use std::path::Path;

use assert_cmd::Command;

/// What the program said: its exit code, standard output, standard error.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub messages: String,
}

impl Said {
    /// The messages as one line, however they were folded.
    pub fn unfolded(&self) -> String {
        unfolded(&self.messages)
    }
}

/// A text as one line, however it was folded.
pub fn unfolded(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A folder with these files in it.
pub fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in files {
        fs::write(folder.path().join(name), text).expect("a file is written");
    }
    folder
}

/// Runs the program in a folder.
pub fn run(folder: &Path, arguments: &[&str]) -> Said {
    let mut command = Command::cargo_bin("slabwalk").expect("the binary is built with the tests");
    let run = command
        .env("NO_COLOR", "1")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let said = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    Said {
        code: run.status.code().unwrap_or(-1),
        out: said(&run.stdout),
        messages: said(&run.stderr),
    }
}

/// A slab of 24 by 22 ft with a joint across.
pub const GARAGE: &str = "\
slabwalk: 1
job: {name: Sample garage, number: 26-001, site: 1 Example Lane}
slab:
  post_tension: none
  outline: [[0, 0], [24', 0], [24', 22'], [0, 22']]
joints:
  - {id: J1, kind: control, x: 12', width: 1/4, depth: 1/2}
coating: {system: flake}
";
