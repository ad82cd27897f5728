//! `slabwalk audit`: finished drawings read back and measured.

use std::path::{Path, PathBuf};

use super::{Exit, load, terminal};
use crate::audit::{self, Code, Set};
use crate::cli::AuditArgs;

pub(super) fn audit(args: &AuditArgs) -> Exit {
    let mut paths = Vec::new();
    for path in &args.files {
        match listed(path) {
            Ok(found) => paths.extend(found),
            Err(exit) => return exit,
        }
    }
    let mut sheets = Vec::new();
    for path in &paths {
        match load::read(path, "drawing") {
            Ok(source) => sheets.push(source),
            // What is no text, or too large for one, is no drawing: a matter of files here.
            Err(_) => return Exit::File,
        }
    }
    let named: Vec<(&str, &str)> =
        sheets.iter().map(|s| (s.name.as_str(), s.text.as_str())).collect();
    let set = audit::audit_counted(&named);
    if set.faults.is_empty() {
        return terminal::data(&format!("sound: {}\n", counts(&set)));
    }
    let lines: String = set.faults.iter().map(|fault| format!("{fault}\n")).collect();
    let (unreadable, faulty) = (
        set.faults.iter().any(|f| f.code == Code::Unreadable),
        format!("{}: {}\n", several(set.faults.len(), "fault"), counts(&set)),
    );
    match terminal::data(&lines) {
        Exit::Done => {}
        failed => return failed,
    }
    terminal::message(&faulty);
    if unreadable { Exit::File } else { Exit::Sketch }
}

fn counts(set: &Set) -> String {
    format!("{}, {}", several(set.sheets, "sheet"), several(set.tags, "tag"))
}

fn several(n: usize, what: &str) -> String {
    let ending = if n == 1 { "" } else { "s" };
    format!("{n} {what}{ending}")
}

/// A file by itself; of a folder, every SVG file in it, by name.
fn listed(path: &Path) -> Result<Vec<PathBuf>, Exit> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let refused = |error: std::io::Error| {
        terminal::message(&format!(
            "error: the folder {} can't be read: {error}\n",
            path.display()
        ));
        Exit::File
    };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(path).map_err(refused)? {
        let path = entry.map_err(refused)?.path();
        let is_svg = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("svg"));
        if is_svg && path.is_file() {
            found.push(path);
        }
    }
    if found.is_empty() {
        terminal::message(&format!("error: there is no SVG file in {}\n", path.display()));
        return Err(Exit::File);
    }
    found.sort();
    Ok(found)
}
