//! Time of each stage on the demonstration floors, and of whole commands, printed as a table.
//!
//! `cargo bench` takes the median of many runs; `-- --quick` takes few, to see that it still runs.
//! Times are for reading and comparing; no test passes or fails by them.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

fn main() {
    let quick = std::env::args().any(|a| a == "--quick");
    let runs = if quick { 3 } else { 100 };
    println!("median of {runs} runs, milliseconds");
    println!(
        "{:<28} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8}",
        "floor", "read", "resolve", "measure", "find", "order", "plan", "price"
    );
    for path in sketches() {
        let text = std::fs::read_to_string(&path).expect("a demonstration sketch");
        stages(name(&path), &text, runs);
    }
    println!();
    println!("{:<28} {:>8} {:>8} {:>8}", "command", "check", "takeoff", "packet");
    for path in sketches() {
        commands(&path, runs.min(30));
    }
}

fn sketches() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sketches");
    let mut out: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .map(|e| e.path())
        .filter(|p| p.extension().is_some_and(|e| e == "yaml"))
        .collect();
    out.sort();
    out
}

fn median(runs: usize, mut work: impl FnMut()) -> f64 {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[runs / 2].as_secs_f64() * 1000.0
}

fn name(path: &Path) -> &str {
    path.file_stem().and_then(|s| s.to_str()).unwrap_or("")
}

fn stages(name: &str, text: &str, runs: usize) {
    let shop = slabwalk::shop::built_in();
    let (sketch, _) = slabwalk::sketch::parse(text);
    let mut sketch = sketch.expect("demonstration sketches read");
    // Every floor in a system that the built-in book has and prices.
    let flake = sketch.coating.system.as_mut().expect("a coated floor");
    flake.value = "flake".into();
    let (slab, _) = slabwalk::slab::resolve(&sketch, &shop);
    let slab = slab.expect("demonstration sketches resolve");
    let takeoff = slabwalk::takeoff::measure(&slab, &shop, &sketch.tests);
    let read = median(runs, || drop(slabwalk::sketch::parse(text)));
    let resolve = median(runs, || drop(slabwalk::slab::resolve(&sketch, &shop)));
    let measure = median(runs, || drop(slabwalk::takeoff::measure(&slab, &shop, &sketch.tests)));
    let find = median(runs, || {
        let holds = slabwalk::hold::holds(&sketch, &slab, &takeoff, &shop);
        drop(slabwalk::finding::findings(&sketch, &slab, &takeoff, &shop, &holds));
    });
    let facts = slabwalk::work::Facts::new(&sketch, &slab, &takeoff, &shop);
    let order = median(runs, || drop(slabwalk::order::order(&facts)));
    let floor = slabwalk::survey::survey(sketch, shop, Vec::new()).expect("a floor");
    let plan = median(runs, || drop(slabwalk::schedule::plan(&floor)));
    // The price makes a plan of its own.
    let price = median(runs, || drop(slabwalk::price::build_up(&floor).expect("a price")));
    println!(
        "{name:<28} {read:>8.2} {resolve:>8.2} {measure:>8.2} {find:>8.2} {order:>8.2} {plan:>8.2} {price:>8.2}"
    );
}

/// Whole commands, start of the process included.
fn commands(path: &Path, runs: usize) {
    let folder = std::env::temp_dir().join(format!("slabwalk-bench-{}", std::process::id()));
    let time = |arguments: &[&str]| {
        median(runs, || {
            let run = Command::new(env!("CARGO_BIN_EXE_slabwalk"))
                .arg(arguments[0])
                .arg(path)
                .args(&arguments[1..])
                .output();
            drop(run.expect("the program runs"));
        })
    };
    let out = folder.to_string_lossy().into_owned();
    let check = time(&["check"]);
    let takeoff = time(&["takeoff", "--format", "json"]);
    let packet = time(&["packet", "--out", &out]);
    let name = name(path);
    println!("{name:<28} {check:>8.2} {takeoff:>8.2} {packet:>8.2}");
    drop(std::fs::remove_dir_all(&folder));
}
