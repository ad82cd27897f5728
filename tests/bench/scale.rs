//! How time and memory grow with the floor: 10² to 10⁵ joints and cracks, stage by stage.
//!
//! `cargo bench --bench scale` prints the table with the exponent of each stage between neighboring
//! sizes; `-- --quick` stops at 10³, `-- --size N` times one size. `-- --write FOLDER` writes the sketches for other programs.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

mod warehouse;

use std::time::Instant;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if let Some(at) = arguments.iter().position(|a| a == "--write") {
        let folder = arguments.get(at + 1).expect("--write names a folder");
        for n in [100, 1000, 10_000, 100_000] {
            std::fs::write(format!("{folder}/{n}.yaml"), warehouse::sketch(n)).expect("written");
        }
        return;
    }
    let only = arguments.iter().position(|a| a == "--size");
    let only = only.map(|at| [arguments[at + 1].parse().expect("--size is a number")]);
    let quick = arguments.iter().any(|a| a == "--quick");
    let sizes: &[usize] = match (quick, &only) {
        (_, Some(only)) => only,
        (true, None) => &[100, 1000],
        (false, None) => &[100, 1000, 10_000, 100_000],
    };
    println!("milliseconds, best of several runs");
    let mut columns = Vec::new();
    for n in sizes {
        columns.push(stages(
            &warehouse::sketch(*n),
            if *n < 10_000 { 9 } else { 3 },
        ));
    }
    print!("{:<10}", "stage");
    for n in sizes {
        print!(" {n:>10}");
    }
    println!("   exponents");
    for row in 0..NAMES.len() {
        print!("{:<10}", NAMES[row]);
        for c in &columns {
            print!(" {:>10.2}", c[row]);
        }
        print!("  ");
        for pair in columns.windows(2) {
            print!(" {:.2}", (pair[1][row] / pair[0][row]).log10());
        }
        println!();
    }
}

const NAMES: [&str; 6] = ["read", "resolve", "measure", "find", "order", "json"];

/// Milliseconds of each stage.
fn stages(text: &str, runs: usize) -> [f64; 6] {
    let mut best = [f64::INFINITY; 6];
    for _ in 0..runs {
        for (b, t) in best.iter_mut().zip(once(text)) {
            *b = b.min(t);
        }
    }
    best
}

/// The whole way from a text to JSON, each stage timed.
fn once(text: &str) -> [f64; 6] {
    use slabwalk::{finding, order, report, shop, sketch, slab, takeoff};
    let mut out = [0.0; 6];
    let mut lap = |k: usize, start: Instant| out[k] = start.elapsed().as_secs_f64() * 1000.0;
    let shop = shop::built_in();
    let start = Instant::now();
    let (read, faults) = sketch::parse(text);
    lap(0, start);
    let sketch = read.unwrap_or_else(|| panic!("the floor reads: {:?}", faults.first()));
    let start = Instant::now();
    let (slab, faults) = slab::resolve(&sketch, &shop);
    lap(1, start);
    let slab = slab.unwrap_or_else(|| panic!("the floor resolves: {:?}", faults.first()));
    let start = Instant::now();
    let mut takeoff = takeoff::measure(&slab, &shop, &sketch.tests);
    lap(2, start);
    let start = Instant::now();
    let mut found = finding::findings(&sketch, &slab, &takeoff, &shop);
    finding::sort(&mut found);
    lap(3, start);
    takeoff.findings = found;
    let start = Instant::now();
    let order = order::order(&slab, &takeoff, &shop, None);
    lap(4, start);
    let survey = slabwalk::survey::Survey {
        sketch,
        shop,
        slab,
        takeoff,
        order,
    };
    let start = Instant::now();
    let written = report::json::takeoff(&report::Report::new(&survey, text, None));
    lap(5, start);
    assert!(written.len() > 100, "the takeoff is written");
    out
}
