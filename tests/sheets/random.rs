//! Random floors of 10 to 500 items: every set is clean, whatever the order of its records.

use super::floor::{Plan, composed, faults, ids, surveyed, written};

/// Floors in a run without optimization; all of them in one with it.
const FLOORS: usize = if cfg!(debug_assertions) { 14 } else { 200 };

#[test]
fn random_floors_audit_clean() {
    for n in 0..FLOORS {
        let most = if cfg!(debug_assertions) { 120 } else { 490 };
        let items = 10 + (n * 37) % most;
        let clusters = if n % 2 == 0 { 0 } else { 2 + n % 4 };
        let size = (30.0 + (n * 53 % 170) as f64, 24.0 + (n * 29 % 110) as f64);
        let plan = Plan::new(n as u64, size, items, clusters);
        let files = written(&composed(&surveyed(&plan.text()), None, None));
        let found = faults(&files);
        assert!(
            found.is_empty(),
            "floor {n}, {items} items, {size:?}, {clusters} clusters: {found:#?}"
        );
        let rows = ids(&files, "row-").len();
        assert!(rows >= items, "floor {n}: {rows} rows for {items} items");
    }
}

#[test]
fn the_order_of_records_changes_no_byte() {
    for (seed, size, items) in [(3, (60.0, 40.0), 40), (4, (260.0, 90.0), 90)] {
        let mut plan = Plan::new(seed, size, items, 0);
        let straight = written(&composed(&surveyed(&plan.text()), None, None));
        plan.shuffle(seed + 50);
        let shuffled = written(&composed(&surveyed(&plan.text()), None, None));
        assert_eq!(straight.len(), shuffled.len());
        for (a, b) in straight.iter().zip(&shuffled) {
            assert!(a == b, "{} differs", a.0);
        }
    }
}
