//! Random floors of 10 to 500 items, and small odd ones: every set is clean, whatever the order of its records.

use super::floor::{Plan, composed, drawn, faults, ids, packet, surveyed, written};
use super::odd;

/// Floors in a run without optimization; all of them in one with it.
const FLOORS: usize = if cfg!(debug_assertions) { 14 } else { 200 };

/// Items of a floor, at most: in a run without optimization, and with it.
const FEW: usize = 120;
const MANY: usize = 490;

/// What is wrong with the set of a floor of fewer than so many items, and ten.
fn wrong(n: usize, most: usize) -> Option<String> {
    let (name, plan, items) = many(n, most);
    let files = match drawn(&surveyed(&plan.text()), None, None) {
        Ok(sheets) => written(&sheets),
        Err(found) => return Some(format!("{name}: no map: {found}")),
    };
    keep(&name, &files);
    let found = faults(&files);
    if !found.is_empty() {
        return Some(format!("{name}: {found:#?}"));
    }
    let rows = ids(&files, "row-").len();
    (rows < items).then(|| format!("{name}: {rows} rows"))
}

/// The floor of a number: what it is called, its records and how many items they are.
fn many(n: usize, most: usize) -> (String, Plan, usize) {
    let items = 10 + (n * 37) % most;
    let clusters = if n.is_multiple_of(2) { 0 } else { 2 + n % 4 };
    let size = (30.0 + (n * 53 % 170) as f64, 24.0 + (n * 29 % 110) as f64);
    let name = format!("floor {n}, {items} items, {size:?} ft, {clusters} clusters");
    (name, Plan::new(n as u64, size, items, clusters), items)
}

/// The sheets of a floor in a folder of their own below `KEEP_SHEETS`, if that is set.
fn keep(name: &str, files: &[(String, String)]) {
    let Some(root) = std::env::var_os("KEEP_SHEETS") else {
        return;
    };
    let folder = std::path::Path::new(&root).join(name.split(',').next().unwrap_or(name));
    std::fs::create_dir_all(&folder).expect("a folder for sheets");
    for (name, file) in files {
        std::fs::write(folder.join(format!("{name}.svg")), file).expect("a sheet");
    }
}

/// Single floors of the sets above and below, by their numbers:
/// `FLOORS=9,51 ODD=94 KEEP_SHEETS=FOLDER cargo test --test sheets named_floors -- --ignored`.
#[test]
#[ignore = "looks at single floors"]
fn named_floors_audit_clean() {
    let named = |key: &str| -> Vec<usize> {
        let all = std::env::var(key).unwrap_or_default();
        all.split(',').filter_map(|n| n.trim().parse().ok()).collect()
    };
    let many = named("FLOORS").into_iter().filter_map(|n| wrong(n, MANY));
    let odd = named("ODD").into_iter().filter_map(|n| odd_wrong(n as u64));
    let all: Vec<String> = many.chain(odd).collect();
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn random_floors_audit_clean() {
    let most = if cfg!(debug_assertions) { FEW } else { MANY };
    let all: Vec<String> = (0..FLOORS).filter_map(|n| wrong(n, most)).collect();
    assert!(all.is_empty(), "{} of {FLOORS} floors:\n{}", all.len(), all.join("\n"));
}

#[test]
fn floors_of_many_items_audit_clean() {
    let rows = [
        ("names of frames at tags of panels", 103),
        ("texts of filling marks at the wall", 189),
        ("long leaders with room nearby", 138),
        ("a tag at the rim of a frame", 83),
    ];
    let wrong = rows.iter().filter_map(|(name, n)| Some(format!("{name}: {}", wrong(*n, MANY)?)));
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Odd floors that come after those of a run without optimization.
#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn odd_floors_of_short_walls_and_narrow_plans_audit_clean() {
    let rows = [
        ("lengths of walls shorter than their text is high", 108),
        ("the scale bar of a narrow plan", 133),
        ("the line of a mark beside a ring", 160),
        ("the corner of a long text outside its ellipse", 94),
        ("a leader to a patch that a match line cuts", 97),
        ("blemishes smaller than is seen", 99),
        ("the size of a patch of which a match line leaves little", 100),
        ("a hatch at the slash of a dimension", 118),
        ("the number of a corner at the border of the squares", 124),
        ("steps past the walls of a customer's plan", 126),
        ("a leader to a blemish that is cut past the walls", 151),
        ("the same on an enlarged plan", 163),
        ("steps under the title of a customer's plan", 165),
        ("the corner of a small patch that a match line cuts off", 177),
        ("a step past the wall of a strip", 183),
    ];
    let wrong = rows.iter().filter_map(|(name, n)| Some(format!("{name}: {}", odd_wrong(*n)?)));
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
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

/// Odd floors in a run without optimization: every outline and every burden among them. All of them in one with it.
const ODD: u64 = if cfg!(debug_assertions) { 24 } else { 200 };

/// What is wrong with the drawings of an odd floor.
pub(super) fn odd_wrong(seed: u64) -> Option<String> {
    let (name, plan) = odd::floor(seed);
    let mut wrong = Vec::new();
    for sheets in packet(&surveyed(&plan.text())) {
        match sheets.map(|sheets| written(&sheets)) {
            Ok(files) => {
                keep(&name, &files);
                wrong.extend(faults(&files));
            }
            Err(found) => wrong.push(found),
        }
    }
    (!wrong.is_empty()).then(|| format!("{name}:\n  {}", wrong.join("\n  ")))
}

#[test]
#[ignore = "one of the ten that take longest: .ci/run asks for them"]
fn small_odd_floors_audit_clean() {
    let all: Vec<String> = (0..ODD).filter_map(odd_wrong).collect();
    let n = all.len();
    assert!(all.is_empty(), "{n} of {ODD} floors:\n{}", all.join("\n"));
}
