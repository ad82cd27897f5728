//! How time grows with the floor: 10² to 10⁵ records, stage by stage, for floors that have more of one thing than others.
//!
//! `cargo bench --bench scale` prints the table of what a user waits for, on all cores; started with `taskset -c 0` everything
//! runs on one, and the exponents between neighboring sizes are those of the work. Options after `--`: `--quick` takes 10² alone, `--size N` times one size, `--mix NAME` another mix than the even one
//! (`--mix all` for all of them), `--json` prints the times of the stages for another program, `--write FOLDER` writes the sketches.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

mod warehouse;

use std::time::Instant;
use warehouse::Mix;

/// What the command line asks for.
struct Asked {
    sizes: Vec<usize>,
    mixes: Vec<Mix>,
    json: bool,
    /// Records to go through at each size.
    work: usize,
}

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let asked = asked(&arguments);
    if let Some(folder) = after(&arguments, "--write") {
        for mix in &asked.mixes {
            for n in &asked.sizes {
                let path = format!("{folder}/{}-{n}.yaml", mix.name());
                std::fs::write(path, warehouse::sketch(*n, *mix)).expect("written");
            }
        }
        return;
    }
    if !asked.json {
        println!("milliseconds, the least of several runs");
    }
    for mix in &asked.mixes {
        table(&asked, *mix);
    }
    if !asked.json {
        plan_and_price(1000);
    }
}

/// Milliseconds of the plan, and of the price, which makes a plan of its own, of a coated floor with so many records.
fn plan_and_price(records: usize) {
    let text = warehouse::sketch(records, Mix::Even) + "coating: {system: flake}\n";
    let (sketch, _) = slabwalk::sketch::parse(&text);
    let shop = slabwalk::shop::built_in();
    let floor = slabwalk::survey::survey(sketch.expect("a sketch"), shop, Vec::new());
    let floor = floor.expect("a floor");
    let least = |work: &dyn Fn()| {
        let time = |_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64() * 1000.0
        };
        (0..10).map(time).fold(f64::INFINITY, f64::min)
    };
    let plan = least(&|| drop(slabwalk::schedule::plan(&floor)));
    let price = least(&|| drop(slabwalk::price::build_up(&floor)));
    println!("of {records} records, coated: plan {plan:.2}, plan and price {price:.2}");
}

fn after<'a>(arguments: &'a [String], option: &str) -> Option<&'a str> {
    let at = arguments.iter().position(|a| a == option)?;
    arguments.get(at + 1).map(String::as_str)
}

fn asked(arguments: &[String]) -> Asked {
    let has = |option: &str| arguments.iter().any(|a| a == option);
    let sizes = match after(arguments, "--size") {
        Some(only) => vec![only.parse().expect("--size is a number")],
        None if has("--quick") => vec![100],
        None => vec![100, 1000, 10_000, 100_000],
    };
    let mixes = match after(arguments, "--mix") {
        None => vec![Mix::Even],
        Some("all") => Mix::ALL.to_vec(),
        Some(name) => {
            let known = Mix::ALL.into_iter().find(|m| m.name() == name);
            vec![known.expect("--mix is the name of a mix")]
        }
    };
    Asked { sizes, mixes, json: has("--json"), work: if has("--quick") { 100 } else { 60_000 } }
}

/// One mix at every size.
fn table(asked: &Asked, mix: Mix) {
    let mut columns = Vec::new();
    for n in &asked.sizes {
        let runs = (asked.work / n).clamp(2, 1000);
        columns.push(stages(&warehouse::sketch(*n, mix), runs));
    }
    if asked.json {
        for (n, column) in asked.sizes.iter().zip(&columns) {
            let stages: Vec<String> =
                NAMES.iter().zip(column).map(|(name, ms)| format!("\"{name}\": {ms:.4}")).collect();
            println!("{{\"mix\": \"{}\", \"size\": {n}, {}}}", mix.name(), stages.join(", "));
        }
        return;
    }
    print!("{:<10}", mix.name());
    for n in &asked.sizes {
        print!(" {n:>10}");
    }
    println!("   exponents");
    let sums = columns.iter().map(|c| c.iter().sum::<f64>()).collect();
    let rows = (0..NAMES.len()).map(|row| (NAMES[row], columns.iter().map(|c| c[row]).collect()));
    for (name, times) in rows.chain([("all", sums)]) {
        let times: Vec<f64> = times;
        print!("{name:<10}");
        for t in &times {
            print!(" {t:>10.2}");
        }
        print!("  ");
        for (pair, n) in times.windows(2).zip(asked.sizes.windows(2)) {
            let growth = (n[1] as f64 / n[0] as f64).log10();
            print!(" {:.2}", (pair[1] / pair[0]).log10() / growth);
        }
        println!();
    }
}

const NAMES: [&str; 6] = ["read", "resolve", "measure", "find", "order", "json"];

/// Milliseconds of each stage: the least of the runs, which other work on the machine changes least.
fn stages(text: &str, runs: usize) -> [f64; 6] {
    let mut least = [f64::INFINITY; 6];
    for _ in 0..runs {
        for (l, t) in least.iter_mut().zip(once(text)) {
            *l = l.min(t);
        }
    }
    least
}

/// The whole way from a text to JSON, each stage timed.
fn once(text: &str) -> [f64; 6] {
    use slabwalk::work::Facts;
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
    let holds = slabwalk::hold::holds(&sketch, &slab, &takeoff, &shop);
    let mut found = finding::findings(&sketch, &slab, &takeoff, &shop, &holds);
    finding::sort(&mut found);
    lap(3, start);
    takeoff.findings = found;
    let start = Instant::now();
    let order = order::order(&Facts::new(&sketch, &slab, &takeoff, &shop));
    lap(4, start);
    let survey = slabwalk::survey::Survey { sketch, shop, slab, takeoff, order, holds };
    let start = Instant::now();
    let report = report::Report::new(&survey, text, None);
    // As the program writes it: nowhere as a whole.
    let written = report::json::write(&report, &mut std::io::sink());
    lap(5, start);
    written.expect("the takeoff is written");
    out
}
