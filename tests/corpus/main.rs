//! The corpus of the fuzzer, replayed without it: what was found once is tried in every run of the tests.

#![allow(clippy::print_stdout, reason = "a failure names its input")]

mod checks;
mod choices;
mod floor;
mod reports;

use std::path::{Path, PathBuf};

/// The inputs of a target, by name.
fn inputs(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/fuzz/corpus")
        .join(target);
    let entries = std::fs::read_dir(&folder)
        .expect("a folder of the corpus")
        .flatten();
    let mut out: Vec<(PathBuf, Vec<u8>)> = entries
        .map(|entry| entry.path())
        .map(|path| (path.clone(), std::fs::read(path).expect("an input")))
        .collect();
    out.sort();
    out
}

fn replay(target: &str) {
    let (_, check) = checks::TARGETS
        .iter()
        .find(|(name, _)| *name == target)
        .expect("a target");
    let inputs = inputs(target);
    let read = inputs.iter().filter(|(path, data)| {
        // The name of the input stands last if something doesn't hold.
        println!("{}", path.display());
        let read = check(data);
        println!("{}", if read { "read" } else { "refused" });
        read
    });
    let read = read.count();
    assert!(read > 5, "of {} inputs {read} are read", inputs.len());
}

#[test]
fn texts() {
    replay("text");
}

#[test]
fn shop_books() {
    replay("shop");
}

#[test]
fn lengths() {
    replay("length");
}

#[test]
fn walks() {
    replay("walk");
}

#[test]
fn whole_floors() {
    replay("pipeline");
}

#[test]
fn whole_floors_drawn() {
    replay("sheets");
}

/// For whoever looks into what the fuzzer found.
#[test]
#[ignore = "prints the sketch that a file's bytes stand for: SLABWALK_INPUT=FILE cargo test --test corpus -- --ignored --nocapture"]
fn the_sketch_of_an_input() {
    let path = std::env::var_os("SLABWALK_INPUT").expect("SLABWALK_INPUT is set");
    println!("{}", floor::sketch(&std::fs::read(path).expect("an input")));
}
