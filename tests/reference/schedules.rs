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
        Link {
            before: count(before),
            opens_s: 60 * number(wait),
            closes_s: None,
        }
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
        links: links
            .split('&')
            .filter(|l| !l.is_empty())
            .map(link)
            .collect(),
        ..Activity::default()
    }
}

#[test]
fn schedules_are_near_the_best_that_a_solver_finds() {
    let (mut sum, mut worst, mut rows) = (0.0, 0.0_f64, 0);
    for line in include_str!("schedules.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [crew, machines, bound_s, best_s, works] = cells[..] else {
            panic!("{line}");
        };
        let network = Network {
            activities: works
                .split(' ')
                .enumerate()
                .map(|(i, w)| activity(i, w))
                .collect(),
            crew: count(crew),
            machines: digits(machines),
            calendar: Calendar::endless(),
        };
        let finish = slabwalk::schedule::network::solve(&network)
            .expect("a schedule")
            .finish_s;
        assert!(
            finish >= number(bound_s),
            "{finish} s is below the bound: {line}"
        );
        let over = finish as f64 / number(best_s) as f64 - 1.0;
        if over > 0.1 {
            println!(
                "{rows} {over:.3} n={} crew={crew}",
                network.activities.len()
            );
        }
        (sum, worst, rows) = (sum + over, worst.max(over), rows + 1);
    }
    println!("mean {:.4} worst {worst:.4}", sum / f64::from(rows));
    assert!(
        rows == 200 && worst <= 0.15,
        "{rows} lists, {worst:.3} over the best"
    );
}
