//! The rules of the house, held against the sources: which stage may know what.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust source below a folder of `src` (or the file itself), with its text.
fn sources(part: &str) -> Vec<(String, String)> {
    let path = root().join("src").join(part);
    let mut out = Vec::new();
    collect(&path, &mut out);
    if path.with_extension("rs").is_file() {
        collect(&path.with_extension("rs"), &mut out);
    }
    assert!(!out.is_empty(), "there is no src/{part}");
    out
}

fn collect(path: &Path, out: &mut Vec<(String, String)>) {
    if path.is_dir() {
        let mut entries: Vec<_> =
            fs::read_dir(path).expect("a folder").flatten().map(|e| e.path()).collect();
        entries.sort();
        entries.iter().for_each(|p| collect(p, out));
    } else if path.extension().is_some_and(|e| e == "rs") {
        let text = fs::read_to_string(path).expect("a source");
        out.push((path.display().to_string(), text));
    }
}

/// Code lines, comments left out, of everything before the unit tests.
fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let end = text.find("#[cfg(test)]").unwrap_or(text.len());
    text[..end].lines().enumerate().map(|(i, line)| (i + 1, line.split("//").next().unwrap_or("")))
}

#[test]
fn no_stage_knows_what_it_must_not() {
    let rows: &[(&str, &[&str])] = &[
        (
            "record",
            &[
                "crate::sketch",
                "crate::yaml",
                "crate::slab",
                "crate::takeoff",
                "crate::schema",
                "crate::live",
                "crate::sheet",
            ],
        ),
        ("sketch", &["geo::", "kurbo", "crate::geometry", "crate::slab", "crate::sheet"]),
        ("shop", &["geo::", "kurbo", "crate::geometry", "crate::slab", "crate::sheet"]),
        ("slab", &["serde", "crate::yaml", "crate::ink", "crate::sheet", "crate::takeoff"]),
        ("geometry", &["serde", "crate::sketch", "crate::slab", "crate::shop", "crate::sheet"]),
        ("takeoff", &["crate::ink", "crate::sheet", "crate::yaml", "crate::svg"]),
        ("finding", &["crate::ink", "crate::sheet", "crate::yaml"]),
        ("order", &["crate::ink", "crate::sheet", "crate::yaml"]),
        ("sheet", &["crate::yaml", "serde_yaml"]),
        (
            "flow",
            &[
                "crate::slab",
                "crate::sketch",
                "crate::takeoff",
                "crate::shop",
                "crate::document",
                "crate::yaml",
            ],
        ),
        (
            "document",
            &["crate::slab", "crate::takeoff", "crate::shop", "crate::price", "crate::yaml"],
        ),
        ("proposal", &["crate::yaml", "BuildUp", "price::Price,", "price::price"]),
        ("photo", &["crate::slab", "crate::takeoff", "crate::sheet"]),
        ("svg", &["crate::slab", "crate::sketch", "crate::takeoff"]),
        ("edit", &["crate::geometry", "crate::slab", "crate::sheet"]),
        ("live", &["crate::yaml", "geo::", "crate::run"]),
    ];
    let mut wrong = Vec::new();
    for (part, forbidden) in rows {
        for (path, text) in sources(part) {
            for (line, code) in code(&text) {
                for word in forbidden.iter().filter(|w| code.contains(**w)) {
                    wrong.push(format!("{path}:{line}: {part} must not know {word}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_the_commands_touch_the_machine() {
    let forbidden = [
        "std::fs",
        "std::env::",
        "SystemTime",
        "Instant::",
        "std::process",
        "stdout()",
        "stderr()",
        "TcpListener",
        "TcpStream",
        "UdpSocket",
        "getrandom",
        "thread::sleep",
    ];
    let mut wrong = Vec::new();
    for (path, text) in sources("") {
        let inside = path.rsplit("/src/").next().unwrap_or_default();
        // A module of tests may read the files that it holds the program against.
        let test = inside.contains("tests/");
        if inside.starts_with("run/") || inside == "main.rs" || test {
            continue;
        }
        for (line, code) in code(&text) {
            for word in forbidden.iter().filter(|w| code.contains(**w)) {
                wrong.push(format!("{path}:{line}: {word} belongs in run/"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_one_module_knows_the_yaml_engine() {
    let wrong: Vec<String> = sources("")
        .into_iter()
        .filter(|(path, _)| !path.contains("/src/yaml"))
        .filter(|(_, text)| code(text).any(|(_, line)| line.contains("serde_yaml")))
        .map(|(path, _)| path)
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn main_is_a_table_of_contents() {
    let text = fs::read_to_string(root().join("src/main.rs")).expect("main.rs");
    assert!(text.lines().count() <= 40, "main.rs has {} lines", text.lines().count());
}

#[test]
fn the_top_level_holds_what_a_reader_came_for() {
    let allowed = [
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "README.md",
        "docs",
        "out",
        "sketches",
        "src",
        "tests",
    ];
    let found: Vec<String> = fs::read_dir(root())
        .expect("the top level")
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && !allowed.contains(&name.as_str()))
        .collect();
    assert!(found.is_empty(), "{found:?}");
}
