//! Schedules against OR-tools' CP-SAT: `schedules.py` made `schedules.csv`.

use slabwalk::schedule::network::{Activity, Calendar, Effort, Link, Network};

fn number(text: &str) -> i64 {
    text.parse().unwrap_or_else(|_| panic!("{text:?}"))
}

fn count(text: &str) -> usize {
    number(text) as usize
}

fn digits(text: &str) -> Vec<usize> {
    text.bytes().map(|b| usize::from(b - b'0')).collect()
}

fn activity(key: usize, text: &str) -> Activity {
    let cells: Vec<&str> = text.split('/').collect();
    let [work, setup, least, hands, machines, most_units, links] = cells[..] else {
        panic!("{text}");
    };
    let link = |text: &str| {
        let (before, wait) = text.split_once('+').expect("a wait");
        Link { before: count(before), opens_s: 60 * number(wait), closes_s: None }
    };
    Activity {
        key,
        effort: Effort {
            work_s: 60 * number(work),
            setup_s: 60 * number(setup),
            least_s: 60 * number(least),
            hands: count(hands),
            machines: digits(machines),
            most_units: count(most_units),
            cut: true,
            dry: false,
        },
        links: links.split('&').filter(|l| !l.is_empty()).map(link).collect(),
        ..Activity::default()
    }
}

/// How much longer a schedule may be than the best that the solver found.
const MOST_OVER: f64 = 0.15;

#[test]
fn schedules_are_near_the_best_that_a_solver_finds() {
    let mut over = Vec::new();
    for line in include_str!("schedules.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [crew, machines, bound_s, best_s, works] = cells[..] else {
            panic!("{line}");
        };
        let works = works.split(' ').enumerate();
        let network = Network {
            activities: works.map(|(index, work)| activity(index, work)).collect(),
            crew: count(crew),
            machines: digits(machines),
            calendar: Calendar::endless(),
        };
        let schedule = slabwalk::schedule::network::solve(&network).expect("a schedule");
        let finish_s = schedule.finish_s;
        assert!(finish_s >= number(bound_s), "{finish_s} s is below the bound: {line}");
        over.push(finish_s as f64 / number(best_s) as f64 - 1.0);
    }
    let worst = over.iter().copied().fold(0.0, f64::max);
    let mean = over.iter().sum::<f64>() / over.len() as f64;
    assert_eq!(over.len(), 200, "the whole table");
    assert!(worst <= MOST_OVER && mean <= 0.02, "{mean:.4} in the mean, {worst:.4} at worst");
}
