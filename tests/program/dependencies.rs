//! What the program is built from: licences, sources, crates in two versions, and a reason for every direct dependency.
//! All offline, from the lock file; known vulnerabilities are not among it (docs/speed.md says how they are asked for).

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Licences under which the program may be given away with no more than their texts beside it.
const LICENCES: [&str; 11] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Crates that are built in more than one version, and why nothing can be done about it here. The first six are in the
/// program; the others serve build scripts and tests.
const TWICE: [(&str, &str); 15] = [
    ("i_overlay", "geo holds on to 4.5, whose set operations don't always end; regions use 9.1"),
    ("i_float", "both i_overlay"),
    ("i_key_sort", "both i_overlay"),
    ("i_shape", "both i_overlay"),
    ("i_tree", "both i_overlay"),
    ("miniz_oxide", "png wants 0.8, and flate2 under it 0.9"),
    ("bit-set", "proptest and fancy-regex (of jsonschema)"),
    ("bit-vec", "proptest and fancy-regex (of jsonschema)"),
    ("cpufeatures", "sha2 0.10 and rand (of proptest)"),
    ("getrandom", "rand, tempfile and ahash, each with its own"),
    ("quick-error", "rusty-fork (of proptest) and image"),
    ("rand", "geo, proptest and others"),
    ("rand_chacha", "rand"),
    ("rand_core", "rand"),
    ("syn", "derives of two generations; runs while building"),
];

/// Everything that is built for this machine, tests included.
fn metadata() -> Value {
    let host = Command::new("rustc").arg("-vV").output().expect("rustc");
    let host = String::from_utf8(host.stdout).expect("text");
    let host = host.lines().find_map(|line| line.strip_prefix("host: "));
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let found = Command::new(cargo)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["metadata", "--offline", "--locked", "--format-version", "1"])
        .args(["--filter-platform", host.expect("the host's name")])
        .output()
        .expect("cargo");
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stderr));
    serde_json::from_slice(&found.stdout).expect("JSON")
}

fn packages(metadata: &Value) -> impl Iterator<Item = (&str, &Value)> {
    let all = metadata["packages"].as_array().expect("packages");
    all.iter().map(|package| (package["name"].as_str().expect("a name"), package))
}

/// Whether an SPDX expression can be met: `OR` (or `/`) binds less than `AND`, brackets are allowed.
fn allowed(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let met = either(&words, &mut at);
    met && at == words.len()
}

fn either(words: &[&str], at: &mut usize) -> bool {
    let mut met = both(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= both(words, at);
    }
    met
}

fn both(words: &[&str], at: &mut usize) -> bool {
    let mut met = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at);
    }
    met
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let Some(word) = words.get(*at) else {
        return false;
    };
    *at += 1;
    if *word == "(" {
        let met = either(words, at);
        let closed = words.get(*at) == Some(&")");
        *at += 1;
        return met && closed;
    }
    let mut name = (*word).to_owned();
    if words.get(*at) == Some(&"WITH") {
        name = format!("{name} WITH {}", words.get(*at + 1).unwrap_or(&""));
        *at += 2;
    }
    LICENCES.contains(&name.as_str())
}

#[test]
fn expressions_are_read_as_spdx_means_them() {
    let rows = [
        ("MIT", true),
        ("GPL-3.0", false),
        ("GPL-3.0 OR MIT", true),
        ("MIT/Apache-2.0", true),
        ("MIT AND GPL-3.0", false),
        ("GPL-3.0 OR MIT AND Zlib", true),
        ("(GPL-3.0 OR MIT) AND LGPL-2.1", false),
        ("(MIT OR Apache-2.0) AND Unicode-3.0", true),
        ("Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR GPL-2.0", true),
        ("(MIT", false),
        ("", false),
    ];
    for (expression, met) in rows {
        assert_eq!(allowed(expression), met, "{expression}");
    }
}

#[test]
fn every_crate_comes_from_the_registry_under_a_licence_that_asks_no_more_than_its_text() {
    let metadata = metadata();
    let mut count = 0;
    for (name, package) in packages(&metadata) {
        let licence = package["license"].as_str().unwrap_or("");
        assert!(allowed(licence), "{name} is under `{licence}`");
        let source = package["source"].as_str();
        let registry = source.is_none_or(|s| s.starts_with("registry+"));
        assert!(registry, "{name} comes from {source:?}");
        count += usize::from(source.is_some());
        assert_eq!(
            source.is_none(),
            ["slabwalk", "slabwalk-phone"].contains(&name),
            "{name} comes from nowhere"
        );
    }
    assert!(count > 100, "only {count} crates were looked at");
}

#[test]
fn crates_in_two_versions_are_the_known_ones() {
    let metadata = metadata();
    let mut versions: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (name, package) in packages(&metadata) {
        let version = package["version"].as_str().expect("a version");
        versions.entry(name).or_default().insert(version);
    }
    let twice: BTreeSet<&str> =
        versions.iter().filter(|(_, versions)| versions.len() > 1).map(|(name, _)| *name).collect();
    let known: BTreeSet<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    let news: Vec<_> = twice.difference(&known).collect();
    assert!(news.is_empty(), "built in several versions: {news:?}");
    let gone: Vec<_> = known.difference(&twice).collect();
    assert!(gone.is_empty(), "no longer built twice: {gone:?}");
}

#[test]
fn every_direct_dependency_has_its_reason_in_the_table() {
    let root = env!("CARGO_MANIFEST_DIR");
    let page = std::fs::read_to_string(format!("{root}/DEVELOPERS.md")).expect("DEVELOPERS.md");
    let table = page.split("\n## Dependencies\n").nth(1).expect("a table");
    let table = table.split("\n## ").next().expect("its end");
    let named: BTreeSet<&str> = table
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.split(" | ").next())
        .flat_map(|cell| cell.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_')))
        .collect();
    let metadata = metadata();
    let own = packages(&metadata).find(|(name, _)| *name == "slabwalk");
    let (_, own) = own.expect("the program itself");
    let direct = own["dependencies"].as_array().expect("dependencies");
    assert!(direct.len() > 20, "the direct dependencies were found");
    for dependency in direct {
        let name = dependency["name"].as_str().expect("a name");
        assert!(named.contains(name), "no reason is given for {name}");
        let open = dependency["req"].as_str().is_none_or(|req| req == "*");
        assert!(!open, "{name} is wanted in any version");
    }
}
