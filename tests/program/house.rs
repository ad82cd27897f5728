//! The rules of the house, held against the sources: which stage may know what.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use proc_macro2::{Delimiter, TokenStream, TokenTree};

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

/// Every module of the crate, from the ground up: each knows only what stands before it.
const FROM_THE_GROUND: &[&str] = &[
    "parallel",
    "text",
    "quantity",
    "geometry",
    "ink",
    "font",
    // Reading files.
    "diagnostic",
    "yaml",
    "form",
    "record",
    "keys",
    "trade",
    "sketch",
    "shop",
    "schema",
    "edit",
    // From a sketch to a floor with everything that was found about it.
    "slab",
    "takeoff",
    "work",
    "hold",
    "order",
    "finding",
    "floor",
    "explain",
    "schedule",
    "survey",
    "starter",
    // What stands on paper, whatever it is about.
    "paper",
    "tags",
    "flow",
    "svg",
    "document",
    "pdf",
    "png",
    "audit",
    "photo",
    // What is said and drawn about a floor.
    "report",
    "price",
    "change",
    "closeout",
    "sheet",
    "customer",
    "field",
    "proposal",
    "papers",
    "render",
    // Who asks.
    "live",
    "cli",
    "run",
];

/// The words and signs of a source as the compiler reads them, without comments, and what stands between quotes as one.
fn tokens(stream: TokenStream, out: &mut Vec<String>) {
    for tree in stream {
        let TokenTree::Group(group) = tree else {
            out.push(tree.to_string());
            continue;
        };
        let (open, close) = match group.delimiter() {
            Delimiter::Brace => ("{", "}"),
            Delimiter::Parenthesis => ("(", ")"),
            Delimiter::Bracket => ("[", "]"),
            Delimiter::None => ("", ""),
        };
        out.push(open.to_owned());
        tokens(group.stream(), out);
        out.push(close.to_owned());
    }
}

/// Takes out what is only compiled for tests. What is declared there and stands in a file of its own is named in `files`.
fn without_tests(tokens: &[String], files: &mut Vec<String>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut rest = tokens;
    while let [first, ..] = rest {
        let attribute = ["#", "[", "cfg", "(", "test", ")", "]"];
        if rest.len() < attribute.len() || rest.iter().zip(attribute).any(|(one, of)| one != of) {
            out.push(first.clone());
            rest = &rest[1..];
            continue;
        }
        // The item ends with its semicolon, or with its body.
        let mut depth = 0;
        let end = rest.iter().skip(7).position(|token| {
            depth += i32::from(token == "{") - i32::from(token == "}");
            depth == 0 && (token == ";" || token == "}")
        });
        let (item, after) = rest.split_at(end.map_or(rest.len(), |end| 7 + end + 1));
        let module = item.iter().position(|token| token == "mod");
        files.extend(module.and_then(|at| item.get(at + 1).cloned()));
        rest = after;
    }
    out
}

/// The modules of the crate that a source names. `top` says whether it is itself a module of the crate, so that what is above it is
/// the crate.
fn modules_named(tokens: &[String], top: bool) -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for (at, window) in tokens.windows(3).enumerate() {
        let above = window[0] == "crate" || (top && window[0] == "super");
        if !above || window[1] != ":" || window[2] != ":" {
            continue;
        }
        let mut depth = 0;
        for (i, token) in tokens[at + 3..].iter().enumerate() {
            let starts =
                i == 0 || (depth == 1 && ["{", ","].contains(&tokens[at + 2 + i].as_str()));
            if starts && token != "{" {
                out.insert(token.clone());
            }
            depth += i32::from(token == "{") - i32::from(token == "}");
            if depth == 0 {
                break;
            }
        }
    }
    out
}

#[test]
fn every_module_knows_only_what_stands_below_it() {
    let mut wrong = Vec::new();
    let mut missing: BTreeSet<String> = BTreeSet::new();
    let mut tests: Vec<String> = Vec::new();
    let mut all = Vec::new();
    for (path, text) in sources("") {
        let inside = path.rsplit("/src/").next().unwrap_or_default().to_owned();
        let mut read = Vec::new();
        tokens(text.parse().expect("a source"), &mut read);
        let mut files = Vec::new();
        let code = without_tests(&read, &mut files);
        let below = inside.trim_end_matches(".rs").to_owned();
        tests.extend(files.into_iter().map(|name| format!("{below}/{name}")));
        all.push((inside, code));
    }
    for (inside, code) in all {
        let of_tests =
            |of: &String| inside.strip_prefix(of).is_some_and(|rest| rest.starts_with(['.', '/']));
        let module = inside.split(['/', '.']).next().unwrap_or_default();
        if ["lib", "main", "phone"].contains(&module) || tests.iter().any(of_tests) {
            continue;
        }
        let pair = ["super", ":", ":", "super"].map(str::to_owned);
        if code.windows(4).any(|window| window == pair) {
            wrong.push(format!(
                "{inside}: `super::super` leads further than a reader sees; write `crate::`"
            ));
        }
        let top = !inside.contains('/');
        let rank = |name: &str| FROM_THE_GROUND.iter().position(|known| *known == name);
        let Some(own) = rank(module) else {
            missing.insert(module.to_owned());
            continue;
        };
        for name in modules_named(&code, top) {
            if rank(&name).is_some_and(|other| other > own) {
                wrong.push(format!("{inside}: `{module}` must not know `{name}`"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(missing.is_empty(), "without a place: {missing:?}");
}

#[test]
fn what_a_source_names_is_found() {
    let rows: [(&str, bool, &[&str]); 7] = [
        ("use crate::a::B; fn f() { crate::c::d() }", false, &["a", "c"]),
        ("use crate::{a::{B, C}, d, e::F};", false, &["a", "d", "e"]),
        ("// crate::a\nconst T: &str = \"crate::b\";", false, &[]),
        ("fn f() { println!(\"{}\", crate::a::b()) }", false, &["a"]),
        ("use super::a;", true, &["a"]),
        ("use super::a;", false, &[]),
        ("#[cfg(test)]\nmod tests { use crate::a; }\nuse crate::b;", false, &["b"]),
    ];
    for (source, top, wanted) in rows {
        let mut all = Vec::new();
        tokens(source.parse().expect("a source"), &mut all);
        let found = modules_named(&without_tests(&all, &mut Vec::new()), top);
        assert_eq!(found.iter().map(String::as_str).collect::<Vec<_>>(), wanted, "{source}");
    }
}

/// Libraries that a stage must not know.
#[test]
fn no_stage_knows_a_library_that_is_not_its() {
    let rows: &[(&str, &[&str])] = &[
        ("sketch", &["geo::", "kurbo"]),
        ("shop", &["geo::", "kurbo"]),
        ("slab", &["serde"]),
        ("geometry", &["serde"]),
        ("sheet", &["serde_yaml"]),
        ("live", &["geo::"]),
        // The customer's paper is made from a price that has no room for a cost.
        ("proposal", &["BuildUp", "price::Price,", "price::price"]),
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
