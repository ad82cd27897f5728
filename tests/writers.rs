//! Random floors of 10 to 500 tags, from placement to the written file.

#[path = "writers/floor.rs"]
mod floor;

use floor::{ANSI_D, Paper, Spread, TABLOID, floor};
use slabwalk::sheet::place::{CLEARANCE, Placement, Verdict, place};
use std::time::Instant;

fn check_hard_rules(placement: &Placement, problem: &slabwalk::sheet::place::Problem) {
    for (n, tag) in placement.placed.iter().enumerate() {
        assert!(
            problem.zone.contains_box(&tag.area),
            "{} leaves the zone",
            tag.id
        );
        for line in &problem.lines {
            assert!(
                !tag.area
                    .grown(0.99 * CLEARANCE)
                    .is_crossed_by(line.from, line.to),
                "a line under {}",
                tag.id
            );
        }
        for area in &problem.boxes {
            assert!(
                !tag.area.grown(0.99 * CLEARANCE).overlaps(area),
                "a box under {}",
                tag.id
            );
        }
        for (m, other) in placement.placed.iter().enumerate() {
            if m == n {
                continue;
            }
            assert!(
                !tag.area.grown(0.99 * CLEARANCE).overlaps(&other.area),
                "{} on {}",
                tag.id,
                other.id
            );
            if let Some(leader) = other.leader {
                assert!(
                    !tag.area
                        .grown(0.9 * CLEARANCE)
                        .is_crossed_by(leader.from, leader.to),
                    "{} on the leader of {}",
                    tag.id,
                    other.id
                );
            }
        }
    }
}

#[test]
fn survey() {
    for (paper, name) in [(TABLOID, "B"), (ANSI_D, "D")] {
        for count in [10, 50, 100, 150, 200, 250, 300, 500] {
            let (mut ms, mut unplaced, mut crossings, mut leader, mut fill) =
                (Vec::new(), 0, 0, 0.0, Vec::new());
            for seed in 0..20 {
                let f = floor(seed, count, Spread::Even, paper);
                let t = Instant::now();
                let p = place(&f.problem);
                ms.push(t.elapsed().as_secs_f64() * 1e3);
                check_hard_rules(&p, &f.problem);
                unplaced += p.unplaced.len();
                crossings += p.crossings;
                fill.push(p.fill.share);
                leader += p
                    .placed
                    .iter()
                    .filter_map(|t| t.leader)
                    .map(|l| (l.from.x - l.to.x).hypot(l.from.y - l.to.y))
                    .sum::<f64>()
                    / p.placed.len() as f64;
            }
            ms.sort_by(f64::total_cmp);
            fill.sort_by(f64::total_cmp);
            println!(
                "{name} {count}: unplaced {:.2} crossings {:.2} leader {:.2} ms {:.1} ({:.1}) fill {:.2}..{:.2}",
                unplaced as f64 / 20.0,
                crossings as f64 / 20.0,
                leader / 20.0,
                ms[10],
                ms[19],
                fill[0],
                fill[19]
            );
        }
    }
    let mut bands = [(0, 0, 0, 0.0_f64); 6];
    for seed in 0..240 {
        let spread = [
            Spread::Clusters(5, 20.0),
            Spread::Clusters(5, 30.0),
            Spread::Clusters(5, 45.0),
            Spread::Even,
        ][seed as usize % 4];
        let count = [50, 75, 100, 150, 200][(seed as usize / 4) % 5];
        let f = floor(1000 + seed, count, spread, TABLOID);
        let t = Instant::now();
        let p = place(&f.problem);
        let ms = t.elapsed().as_secs_f64() * 1e3;
        check_hard_rules(&p, &f.problem);
        let b = &mut bands[((p.fill.share * 10.0) as usize).saturating_sub(2).min(5)];
        b.0 += 1;
        b.1 += usize::from(!p.unplaced.is_empty());
        b.2 += p.crossings;
        b.3 = b.3.max(ms);
    }
    for (n, b) in bands.iter().enumerate() {
        println!(
            "fill {}: floors {} with unplaced {} crossings {:.2} max ms {:.1}",
            0.2 + 0.1 * n as f64,
            b.0,
            b.1,
            b.2 as f64 / b.0.max(1) as f64,
            b.3
        );
    }
    let _ = (Verdict::Roomy, TABLOID.width, |p: Paper| p.height);
}
