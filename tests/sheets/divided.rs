//! A floor over several sheets.

use std::collections::{BTreeMap, BTreeSet};

use super::floor::{Plan, composed, faults, ids, surveyed, written};
use slabwalk::quantity::Units;
use slabwalk::sheet::{Paper, Scale};

/// A quarter of it without optimization.
const MANY: usize = if cfg!(debug_assertions) { 500 } else { 2000 };

#[test]
fn a_floor_of_thousands_of_items_is_divided_and_every_item_is_tagged() {
    let side = if cfg!(debug_assertions) { 150.0 } else { 300.0 };
    let survey = surveyed(&Plan::new(7, (side, side * 0.7), MANY, 0).text());
    let sheets = composed(&survey, Paper::parse("tabloid"), None);
    let files = written(&sheets);
    assert_eq!(faults(&files), Vec::<String>::new());
    let maps = sheets.iter().filter(|s| s.title.contains("REPAIR MAP"));
    assert!(maps.count() > 3);
    let tags = ids(&files, "tag-");
    let tagged: BTreeSet<&str> = tags.iter().map(|t| &*t.1).collect();
    let rows: BTreeSet<String> = ids(&files, "row-").into_iter().map(|r| r.1).collect();
    assert_eq!(tagged.len(), rows.len());
    let once: BTreeSet<&(String, String)> = tags.iter().collect();
    assert_eq!(once.len(), tags.len(), "a tag stands twice on one sheet");
    for crack in &survey.slab.cracks {
        assert!(tagged.contains(&*crack.id), "{}", crack.id);
    }
    // What is small has one tag in the set.
    let mut count: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, id) in tags.iter().filter(|t| t.1.starts_with('S')) {
        *count.entry(id).or_default() += 1;
    }
    assert!(count.values().all(|n| *n == 1), "{count:?}");
}

#[test]
fn match_lines_lie_on_joints_and_name_each_other() {
    let survey = surveyed(&Plan::new(8, (400.0, 90.0), 40, 0).text());
    let sheets = composed(&survey, Paper::parse("tabloid"), None);
    let files = written(&sheets);
    assert_eq!(faults(&files), Vec::<String>::new());
    let text = |i: usize| files[i].1.as_str();
    assert!(text(0).contains("MATCH LINE, SEE S-102"));
    assert!(text(1).contains("MATCH LINE, SEE S-101"));
    assert!(text(1).contains("MATCH LINE, SEE S-103"));
    assert!(text(2).contains("MATCH LINE, SEE S-102"));
    // The joint of the match line is drawn and tagged on both sheets, its note names it.
    let notes: String = files.iter().map(|f| f.1.as_str()).collect();
    assert!(notes.contains("The map is divided along J"));
    let on = |name: &str, start: &str| -> BTreeSet<String> {
        let all = ids(&files, start).into_iter();
        all.filter(|t| t.0 == name).map(|t| t.1).collect()
    };
    let shared: Vec<String> =
        on("crew-map", "tag-J").intersection(&on("crew-map-2", "tag-J")).cloned().collect();
    // Long joints along the floor, and one across it: the match line.
    assert_eq!(
        shared.iter().filter(|j| j.parse::<u32>().is_ok_and(|n| n < 20)).count(),
        1,
        "{shared:?}"
    );
}

#[test]
fn every_map_of_a_divided_floor_has_its_own_window_shaded_on_the_key_plan() {
    let survey = surveyed(&Plan::new(9, (400.0, 90.0), 20, 0).text());
    let files = written(&composed(&survey, Paper::parse("tabloid"), None));
    let mut lefts: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for (name, file) in files.iter().filter(|f| f.1.contains("match-line-1")) {
        let own = file.split("id=\"overview-own\"").nth(1).expect("a key plan");
        let path = own.split(" d=\"").nth(1).and_then(|p| p.split('"').next()).unwrap_or("");
        let first = path.trim_start_matches('M').split([' ', ',', 'L']).find(|t| !t.is_empty());
        let x: f64 = first.and_then(|t| t.parse().ok()).unwrap_or_else(|| panic!("{name}: {path}"));
        let kind = name.trim_end_matches(|c: char| c == '-' || c.is_ascii_digit());
        lefts.entry(kind).or_default().push(x);
    }
    assert_eq!(Vec::from_iter(lefts.keys()), [&"crew-filling", &"crew-map"]);
    for lefts in lefts.values() {
        assert_eq!(lefts.len(), 3);
        assert!(lefts.windows(2).all(|p| p[1] > p[0] + 10.0), "{lefts:?}");
    }
}

#[test]
fn no_scale_is_off_the_list() {
    for (seed, size, paper) in [
        (1, (33.0, 21.0), "letter"),
        (2, (77.0, 210.0), "tabloid-portrait"),
        (3, (400.0, 200.0), "a3"),
        (4, (61.0, 44.0), "a4-portrait"),
        (5, (320.0, 220.0), "ansi-d"),
    ] {
        let survey = surveyed(&Plan::new(seed, size, 12, 0).text());
        let sheets = composed(&survey, Paper::parse(paper), None);
        let standard: Vec<String> =
            Scale::detail(Units::Us).iter().map(|s| s.text(Units::Us)).collect();
        let drawn = |s: &&slabwalk::ink::Sheet| {
            s.title.contains(" REPAIR MAP ") || s.title.contains(" ENLARGED PLAN ")
        };
        assert!(sheets.iter().any(|s| drawn(&s)), "{paper}");
        for sheet in sheets.iter().filter(drawn) {
            let scale = sheet.description.strip_prefix("Scale ").and_then(|d| d.split('.').next());
            assert!(scale.is_some_and(|s| standard.iter().any(|t| t == s)), "{paper}: {scale:?}");
        }
        assert_eq!(faults(&written(&sheets)), Vec::<String>::new(), "{paper}");
    }
}

#[test]
fn crowded_windows_are_drawn_larger_and_their_tags_stand_there_alone() {
    let survey = surveyed(&Plan::new(11, (90.0, 60.0), 110, 2).text());
    let files = written(&composed(&survey, Paper::parse("tabloid"), Scale::parse("1/16")));
    assert_eq!(faults(&files), Vec::<String>::new());
    assert!(files.iter().any(|f| f.0 == "crew-enlarged"));
    assert!(files[0].1.contains("SEE S-401"));
    let tags = ids(&files, "tag-S");
    let on_map = tags.iter().filter(|t| t.0.starts_with("crew-map")).count();
    let on_enlarged = tags.iter().filter(|t| t.0.starts_with("crew-enlarged")).count();
    assert!(on_enlarged > 10, "{on_enlarged}");
    assert_eq!(on_map + on_enlarged, survey.slab.spalls.len());
}

/// A floor of square bays of 5 ft, each side of a bay a joint of its own.
fn bays(across: usize, up: usize) -> String {
    let mut text = format!(
        "slabwalk: 1\njob: {{name: Bays}}\nslab: {{post_tension: none, thickness: 6\", outline: [[0, 0], [{w}, 0], [{w}, {h}], [0, {h}]]}}\njoints:\n",
        w = 5 * across,
        h = 5 * up,
    );
    let mut joint = |a: [usize; 2], b: [usize; 2]| {
        let [a, b] = [a, b].map(|p| p.map(|n| 5 * n));
        text.push_str(&format!(
            "  - {{kind: control, path: [[{}, {}], [{}, {}]], width: 1/4, depth: 1}}\n",
            a[0], a[1], b[0], b[1]
        ));
    };
    for i in 0..across {
        for k in 0..up {
            if i > 0 {
                joint([i, k], [i, k + 1]);
            }
            if k > 0 {
                joint([i, k], [i + 1, k]);
            }
        }
    }
    text
}

#[test]
fn the_filling_of_many_short_joints_is_divided_too() {
    let survey = surveyed(&bays(12, 8));
    let n = survey.slab.joints.len();
    assert_eq!(n, 11 * 8 + 12 * 7);
    let sheets = composed(&survey, Paper::parse("letter"), None);
    let files = written(&sheets);
    assert_eq!(faults(&files), Vec::<String>::new());
    let filling: Vec<_> =
        files.iter().filter(|f| f.0.starts_with("crew-filling")).cloned().collect();
    let maps: Vec<_> = filling.iter().filter(|f| f.1.contains("MATCH LINE, SEE S-")).collect();
    assert!(maps.len() > 1, "{} maps", maps.len());
    // Each joint has its tag, each stretch its number in the order, and each cartridge its stroke.
    for start in ["tag-J", "order-", "cartridge-"] {
        let found: BTreeSet<String> = ids(&filling, start).into_iter().map(|i| i.1).collect();
        let wanted = if start == "cartridge-" { 1 } else { n };
        assert!(found.len() >= wanted, "{start}: {} of {n}", found.len());
    }
    // The sheets that match lines and key plans name are those that draw the windows.
    let numbers = |text: &str| -> BTreeSet<String> {
        let parts = text.split("MATCH LINE, SEE ").skip(1);
        parts.map(|p| p.chars().take(5).collect()).collect()
    };
    let named: BTreeSet<String> = maps.iter().flat_map(|f| numbers(&f.1)).collect();
    let titles = |number: &str| {
        let of = |f: &&(String, String)| f.1.contains(&format!("<title id=\"t\">{number} FILLING"));
        filling.iter().filter(of).count()
    };
    for number in &named {
        assert_eq!(titles(number), 1, "{number} of {named:?}");
    }
}
