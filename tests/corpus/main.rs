//! The corpus of the fuzzer, replayed without it: what was found once is tried in every run of the tests.

#![allow(clippy::print_stdout, reason = "a failure names its input")]

mod checks;
mod choices;
mod floor;
mod reports;

use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;

/// Where the corpus is kept: a file for each target, a line for each input, its name and its bytes in Base64.
fn packed(target: &str) -> PathBuf {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    root.join("tests/fuzz/corpus").join(format!("{target}.txt"))
}

/// The inputs of a target, by name.
fn inputs(target: &str) -> Vec<(String, Vec<u8>)> {
    let text = fs::read_to_string(packed(target)).expect("a corpus");
    let input = |line: &str| {
        let (name, bytes) = line.split_once(' ').expect("a name and bytes");
        let bytes = BASE64_STANDARD.decode(bytes).expect("Base64");
        (name.to_owned(), bytes)
    };
    text.lines().map(input).collect()
}

fn replay(target: &str) {
    let (_, check) = checks::TARGETS.iter().find(|(name, _)| *name == target).expect("a target");
    let inputs = inputs(target);
    let read = inputs.iter().filter(|(name, data)| {
        // The name of the input stands last if something doesn't hold.
        println!("{target} {name}");
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
#[ignore = "prints the sketch that a file's bytes stand for: SLABWALK_INPUT=FILE cargo test --test corpus -- --ignored --nocapture sketch_of"]
fn the_sketch_of_an_input() {
    let path = std::env::var_os("SLABWALK_INPUT").expect("SLABWALK_INPUT is set");
    println!("{}", floor::sketch(&std::fs::read(path).expect("an input")));
}

/// A folder for the fuzzer, which keeps an input a file: unpacks the corpus of every target into it, and packs what stands there already.
#[test]
#[ignore = "packs and unpacks the corpus: SLABWALK_CORPUS=FOLDER cargo test --test corpus -- --ignored corpus_and_folder"]
fn corpus_and_folder_hold_the_same() {
    let folder =
        PathBuf::from(std::env::var_os("SLABWALK_CORPUS").expect("SLABWALK_CORPUS is set"));
    for (target, _) in checks::TARGETS {
        let own = folder.join(target);
        fs::create_dir_all(&own).expect("a folder");
        for (name, bytes) in inputs(target) {
            fs::write(own.join(name), bytes).expect("an input");
        }
        let mut lines: Vec<String> = fs::read_dir(&own)
            .expect("a folder")
            .flatten()
            .map(|entry| {
                let bytes = fs::read(entry.path()).expect("an input");
                let name = entry.file_name().to_string_lossy().into_owned();
                format!("{name} {}\n", BASE64_STANDARD.encode(bytes))
            })
            .collect();
        lines.sort();
        fs::write(packed(target), lines.concat()).expect("a corpus");
    }
}
