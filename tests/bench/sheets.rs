//! Time from placement to the written and audited file on invented floors, printed as a table.
//!
//! `cargo bench` takes the median of many runs; `-- --quick` takes one of the small floors, to see that it still runs. Meant to hold, on two cores: placement of 100 tags
//! under 50 ms and of 500 under 250 ms, audit of 500 under 100 ms, the PDFs of a garage's packet under 150 ms.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../writers/draw.rs"]
mod draw;
#[path = "../writers/floor.rs"]
mod floor;
#[path = "../sheets/floor.rs"]
#[expect(dead_code, reason = "the tests of the sheets use the rest")]
mod sketch;

use floor::{ANSI_D, Paper, Spread, TABLOID};
use slabwalk::sheet::{Audience, Inputs, Options};
use slabwalk::tags::place::place;
use slabwalk::{audit, pdf, png, svg};
use std::time::{Duration, Instant};

fn main() {
    let quick = std::env::args().any(|a| a == "--quick");
    let runs = if quick { 1 } else { 15 };
    println!("median of {runs} runs, milliseconds");
    println!(
        "{:<28} {:>8} {:>8} {:>8} {:>8} {:>8}",
        "floor", "place", "svg", "audit", "pdf", "png 150"
    );
    let clusters = Spread::Clusters(5, 30.0);
    let rows: [(&str, usize, Spread, Paper); 6] = [
        ("10 tags on 11 x 17", 10, Spread::Even, TABLOID),
        ("100 tags on 11 x 17", 100, Spread::Even, TABLOID),
        ("100 tags in 5 clusters", 100, clusters, TABLOID),
        ("250 tags on 11 x 17", 250, Spread::Even, TABLOID),
        ("250 tags on 22 x 34", 250, Spread::Even, ANSI_D),
        ("500 tags on 22 x 34", 500, Spread::Even, ANSI_D),
    ];
    // To see that it runs, small floors are enough.
    let most = if quick { 100 } else { usize::MAX };
    for (name, count, spread, paper) in rows.into_iter().filter(|row| row.1 <= most) {
        row(name, &floor::floor(1, count, spread, paper), runs);
    }
    println!("\n{:<28} {:>8} {:>8} {:>8}", "set of a floor", "compose", "sheets", "audit");
    let sets = [
        ("100 items, 80 x 50 ft", 100, (80.0, 50.0)),
        ("500 items, 180 x 110 ft", 500, (180.0, 110.0)),
        ("1000 items, 250 x 160 ft", 1000, (250.0, 160.0)),
        ("2000 items, 350 x 220 ft", 2000, (350.0, 220.0)),
    ];
    for (name, items, size) in sets.into_iter().filter(|set| set.1 <= most) {
        set(name, items, size, runs.min(3));
    }
    packet(runs);
}

/// The PDFs of the garage's packet, without its photos and its days: the crew's and the customer's sheets.
fn packet(runs: usize) {
    let root = env!("CARGO_MANIFEST_DIR");
    let text = std::fs::read_to_string(format!("{root}/sketches/harrow-lane-garage.yaml"));
    let survey = sketch::surveyed(&text.expect("the garage's sketch"));
    let metadata = pdf::Metadata::default();
    println!("\n{:<28} {:>8} {:>8}", "packet of the garage", "sheets", "pdf");
    let mut sum = 0.0;
    for (name, audience) in [("crew", Audience::Crew), ("customer", Audience::Customer)] {
        let sheets = drawn(&survey, audience);
        let time = median(runs, || drop(pdf::write(&sheets, &metadata)));
        sum += time;
        println!("{name:<28} {:>8} {time:>8.1}", sheets.len());
    }
    println!("{:<28} {:>8} {sum:>8.1}", "both", "");
}

fn drawn(survey: &slabwalk::survey::Survey, audience: Audience) -> Vec<slabwalk::ink::Sheet> {
    let inputs = Inputs::of(survey, "harrow-lane-garage.yaml", "0123456789abcdef0123");
    let options = Options { audience, paper: None, scale: None };
    slabwalk::papers::compose(&inputs, &options).unwrap_or_else(|found| panic!("{found:#?}"))
}

/// A floor from its sketch to the sheets of its set.
fn set(name: &str, items: usize, size: (f64, f64), runs: usize) {
    let survey = sketch::surveyed(&sketch::Plan::new(1, size, items, 0).text());
    let sheets = sketch::composed(&survey, None, None);
    let files = sketch::written(&sheets);
    let compose = median(runs, || drop(sketch::composed(&survey, None, None)));
    let audit = median(runs, || drop(sketch::faults(&files)));
    println!("{name:<28} {compose:>8.1} {:>8} {audit:>8.1}", sheets.len());
}

fn row(name: &str, floor: &floor::Floor, runs: usize) {
    let placement = place(&floor.problem);
    let sheet = draw::draw(floor, &placement);
    let text = svg::write(&sheet);
    let sheets = [sheet];
    let metadata = pdf::Metadata::default();
    let times = [
        median(runs, || drop(place(&floor.problem))),
        median(runs, || drop(svg::write(&sheets[0]))),
        median(runs, || drop(audit::audit(&text))),
        median(runs, || drop(pdf::write(&sheets, &metadata))),
        median(runs.min(5), || drop(png::write(&sheets[0], 150.0))),
    ];
    let cells: Vec<String> = times.iter().map(|t| format!("{t:>8.1}")).collect();
    println!("{name:<28} {}", cells.join(" "));
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
