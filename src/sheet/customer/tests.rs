//! Whole customer drawings.

use std::fmt::Write;

use super::super::fixture::{BOAT_SHOP, GARAGE, KITCHEN, floor, inputs, options, room};
use super::super::{Audience, Options, Scale, compose};
use super::*;
use crate::survey::Survey;

fn drawn(survey: &Survey) -> Vec<Sheet> {
    compose(&inputs(survey), &options(Audience::Customer)).expect("a drawing")
}

fn faults(sheets: &[Sheet]) -> Vec<String> {
    let files: Vec<(String, String)> = sheets
        .iter()
        .map(|s| (s.name.clone(), crate::svg::write_with(s, false)))
        .collect();
    let files: Vec<(&str, &str)> = files
        .iter()
        .map(|(n, f)| (n.as_str(), f.as_str()))
        .collect();
    let faults = crate::audit::audit_set(&files);
    faults.iter().map(ToString::to_string).collect()
}

fn groups(sheet: &Sheet) -> Vec<&Group> {
    fn add<'a>(group: &'a Group, out: &mut Vec<&'a Group>) {
        out.push(group);
        for mark in &group.marks {
            if let Mark::Group(inner) = mark {
                add(inner, out);
            }
        }
    }
    let mut out = Vec::new();
    sheet.groups.iter().for_each(|g| add(g, &mut out));
    out
}

/// Lines of text in the order they are drawn, with the cap height and the class of their group.
fn texts(sheets: &[Sheet]) -> Vec<(String, f64, String)> {
    let mut out = Vec::new();
    for group in sheets.iter().flat_map(groups) {
        for mark in &group.marks {
            if let Mark::Text(t) = mark {
                out.push((
                    t.text.clone(),
                    crate::font::cap_height(t.size),
                    group.class.clone(),
                ));
            }
        }
    }
    out
}

/// Everything the sheets say, lines joined.
fn said(sheets: &[Sheet]) -> String {
    let lines: Vec<String> = texts(sheets).into_iter().map(|t| t.0).collect();
    lines.join(" ")
}

#[test]
fn the_demonstration_floors_pass_the_audit() {
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey);
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{}", sheets[0].title);
        assert_eq!(sheets[0].name, "customer-drawing");
        assert_eq!(sheets[1].name, "customer-drawing-2");
        let plan = plan_alone(&inputs(&survey), (190.0, 230.0), &Marks::default());
        let plan = plan.unwrap_or_else(|found| panic!("{found:?}"));
        assert_eq!(faults(&[plan]), Vec::<String>::new());
    }
}

#[test]
fn paper_is_letter_or_a4_or_what_was_asked_for() {
    let sizes = [(GARAGE, 279.4), (KITCHEN, 297.0)];
    for (text, width) in sizes {
        assert!((drawn(&floor(text))[0].width - width).abs() < 1e-9);
    }
    let survey = floor(GARAGE);
    for size in Size::ALL {
        for paper in [Paper::landscape(size), Paper::portrait(size)] {
            let asked = Options {
                paper: Some(paper),
                ..options(Audience::Customer)
            };
            let sheets = compose(&inputs(&survey), &asked).expect("room");
            assert!((sheets[0].width - paper.width()).abs() < 1e-9);
            assert_eq!(faults(&sheets), Vec::<String>::new(), "{paper:?}");
        }
    }
}

#[test]
fn a_floor_that_does_not_fit_says_so() {
    let survey = floor(BOAT_SHOP);
    let asked = Options {
        paper: Some(Paper::landscape(Size::Letter)),
        scale: Some(Scale { ratio: 48.0 }),
        ..options(Audience::Customer)
    };
    let found = compose(&inputs(&survey), &asked).expect_err("no room");
    assert_eq!(found[0].code, "paper-too-small");
    let found = plan_alone(&inputs(&survey), (60.0, 40.0), &Marks::default());
    assert_eq!(found.expect_err("no room")[0].code, "paper-too-small");
}

#[test]
fn the_plan_is_true_to_scale() {
    let survey = room("");
    let sheets = drawn(&survey);
    let edge = groups(&sheets[0])
        .into_iter()
        .find(|g| g.id == "floor")
        .expect("the floor")
        .clone();
    let Some(Mark::Path(path)) = edge.marks.first() else {
        panic!("a path");
    };
    let points: Vec<_> = path
        .steps
        .iter()
        .filter_map(|s| match s {
            crate::ink::Step::Move(p) | crate::ink::Step::Line(p) => Some(*p),
            _ => None,
        })
        .collect();
    let around = Box2::of(&points);
    let said = said(&sheets);
    assert!(said.contains("1/4\" = 1'-0\""), "{said}");
    // 20 ft by 16 ft at a quarter inch to the foot.
    let foot = 25.4 / 4.0;
    assert!((around.width() - 20.0 * foot).abs() < 1e-9);
    assert!((around.height() - 16.0 * foot).abs() < 1e-9);
}

/// A floor with one record and the words its drawing must have, and must not have.
#[test]
fn words_come_from_the_takeoff() {
    let joint =
        |more: &str| format!("joints:\n  - {{id: J1, x: 10', width: 1/4, depth: 1, {more}}}\n");
    let crack =
        |more: &str| format!("cracks:\n  - {{id: C1, path: [[2', 2'], [8', 5']], {more}}}\n");
    let rows: &[(&str, String, &[&str], &[&str])] = &[
        ("filled joint", joint("kind: control"),
            &["Joints filled and coated over", "1 joint, 16 ft", "fill it level with the floor", "A fine line can show"],
            &["soft seal"]),
        ("honored joint", joint("kind: control, treatment: honor"),
            &["Joints kept open and sealed", "The floor moves here", "close it with a soft seal", "The line stays in sight"],
            &["Joints filled"]),
        ("isolation joint", joint("kind: isolation"), &["It lets the floor move beside walls, posts and pads"], &[]),
        ("isolation joint filled", joint("kind: isolation, treatment: fill"),
            &["Moving joints filled, will show", "The line will show, and the coating can split along it."], &["A fine line"]),
        ("buried joint", joint("kind: isolation, buried: true"),
            &["Hidden joints, opened first", "It lies under a skin of concrete.", "the work can change"], &[]),
        ("left joint", joint("kind: control, treatment: leave"), &["Joints left as they are", "We do nothing with it."], &["Joints filled"]),
        ("still crack", crack("width: 1/16, movement: dormant"),
            &["Cracks repaired", "thin resin", "It showed no movement"], &["will show again"]),
        ("wide crack", crack("width: 3/16, movement: dormant"), &["We cut it open, fill it with resin"], &["thin resin"]),
        ("hairline", crack("width: 0.01, movement: dormant"), &["Hairline cracks coated over", "The first coat soaks in"], &["resin"]),
        ("active crack", crack("width: 1/16, movement: active, treatment: fill"),
            &["Moving cracks that will come back", "It opens and closes. It will show again, however it is treated."], &["showed no movement"]),
        ("active crack, as the rule has it", crack("width: 1/16, movement: active"),
            &["Cracks kept open and sealed", "It opens and closes, so it stays open"], &["will come back"]),
        ("unknown crack", crack("width: 1/16"), &["Repaired cracks that may come back", "Nobody knows if it still moves"], &[]),
        ("left crack", crack("width: 1/16, movement: dormant, treatment: leave"),
            &["Cracks left, will show", "It will show through the coating and can grow."], &["Cracks repaired"]),
        ("honored crack", crack("width: 1/16, movement: dormant, treatment: honor"), &["Cracks kept open and sealed"], &["resin"]),
        ("wide crack for an engineer", crack("width: 3/8, movement: dormant"), &["1 crack is so wide or uneven that a licensed engineer should look"], &[]),
        ("lippage", format!("{}lippage:\n  - {{id: L1, along: J1, high: left, step: 1/4, from: 2', to: 6'}}\n", joint("kind: control")),
            &["High edges ground down", "1 edge, 4.0 ft", "We grind the high side down"], &["Small steps"]),
        ("small step", format!("{}lippage:\n  - {{id: L1, along: J1, high: left, step: 1/16, from: 2', to: 6'}}\n", joint("kind: control")),
            &["Small steps that may be felt", "A slight edge can still be seen or felt."], &["High edges"]),
        ("uncoated", "coating:\n  uncoated:\n    - {id: U1, what: under the stair, box: {corner: [0, 0], size: [4', 4']}}\n".into(),
            &["Not coated", "1 area, 16 ft²", "Stays as it is now: under the stair."], &[]),
        ("spall", "spalls:\n  - {id: S1, circle: {center: [5', 5'], diameter: 5\"}, depth: 3/4}\n".into(),
            &["Damaged spots repaired", "1 is cut out square", "the patches can show"], &["thin layer"]),
        ("oil", "blemishes:\n  - {id: B1, what: oil, box: {corner: [5', 5'], size: [2', 2']}}\n".into(),
            &["Oil is washed out", "Oil deep in the concrete can come up again"], &["Old glue"]),
        ("glue", "blemishes:\n  - {id: B1, what: adhesive, box: {corner: [5', 5'], size: [2', 2']}}\n".into(),
            &["tested for asbestos", "Nobody grinds either before a laboratory has tested it."], &["Oil"]),
        ("moist", "tests:\n  moisture: [{id: M1, at: [6', 6'], rh: 92%}, {id: M2, at: [9', 6'], rh: 60%}]\n".into(),
            &["1 of 2 tests read more moisture than the limit", "1 more test should be taken"], &[]),
        ("cure", "tests:\n  air: {temperature: 70 F, humidity: 40%}\n  slab_temperature: 70 F\ncoating:\n  system: flake\n".into(),
            &["With the floor at 70 °F: walk on it 24 hours after the last coat, drive on it after 3 days."], &[]),
        ("no system", String::new(), &["Wait for the times on the product's data sheet", "Empty the room."], &["Put out pilot lights, twice"]),
    ];
    for (name, records, wanted, unwanted) in rows {
        let survey = room(records);
        let said = said(&drawn(&survey));
        for words in *wanted {
            assert!(said.contains(words), "{name}: no \"{words}\" in: {said}");
        }
        for words in *unwanted {
            assert!(!said.contains(words), "{name}: \"{words}\" in: {said}");
        }
    }
}

#[test]
fn a_post_tensioned_slab_says_so_first() {
    let sketch = |key: &str| {
        format!(
            "slabwalk: 1\njob: {{name: Test}}\nunits: us\nslab:\n  {key}outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\njoints:\n  - {{id: J1, kind: control, x: 10', width: 1/4, depth: 1}}\n"
        )
    };
    let stamped = said(&drawn(&floor(&sketch("post_tension: stamped\n  "))));
    assert!(stamped.contains("First of all"), "{stamped}");
    assert!(stamped.contains("A cut cable can kill."), "{stamped}");
    let unknown = said(&drawn(&floor(&sketch(""))));
    assert!(
        unknown.contains("We do not cut before we know."),
        "{unknown}"
    );
    let none = said(&drawn(&floor(&sketch("post_tension: none\n  "))));
    assert!(!none.contains("cable"), "{none}");
}

#[test]
fn no_prices_no_measures_of_the_trade_no_ids() {
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey);
        let said = said(&sheets);
        for word in [
            "$",
            "chase",
            "cartridge",
            "backer rod",
            "Mohs",
            "lippage",
            "spall",
            "honor",
            "gal",
        ] {
            assert!(!said.to_lowercase().contains(word), "{word} in: {said}");
        }
        let words: Vec<&str> = said.split(|c: char| !c.is_alphanumeric()).collect();
        let slab = &survey.slab;
        let ids = slab.joints.iter().map(|j| &*j.id);
        let ids = ids.chain(slab.cracks.iter().map(|c| &*c.id));
        let ids = ids.chain(slab.spalls.iter().map(|s| &*s.id));
        for id in ids.chain(slab.lippage.iter().map(|l| &*l.id)) {
            assert!(!words.contains(&id), "{id}");
        }
    }
}

#[test]
fn text_is_large_enough_for_a_phone() {
    for (text, cap, class) in texts(&drawn(&floor(BOAT_SHOP))) {
        // The line of origin below the border is for whoever files the print.
        assert!(cap >= 3.2 || class.contains("margin"), "{text}: {cap}");
    }
}

/// Every item of a group is under a mark, or is counted as without one.
fn counted(sheet: &Sheet) -> BTreeMap<String, usize> {
    let mut out = BTreeMap::new();
    for group in groups(sheet) {
        let Some((letter, _)) = group
            .id
            .strip_prefix("mark-")
            .and_then(|m| m.rsplit_once('-'))
        else {
            continue;
        };
        for mark in &group.marks {
            if let Mark::Text(t) = mark {
                let count = t
                    .text
                    .split_once('×')
                    .map_or(1, |c| c.1.parse().unwrap_or(0));
                *out.entry(letter.to_owned()).or_insert(0) += count;
            }
        }
    }
    out
}

#[test]
fn nothing_is_dropped_silently() {
    for text in [
        GARAGE.to_owned(),
        KITCHEN.to_owned(),
        BOAT_SHOP.to_owned(),
        random(7, 300, false),
    ] {
        let survey = floor(&text);
        let inputs = inputs(&survey);
        let drawing = Drawing::of(&inputs);
        let sheet = &drawn(&survey)[0];
        let marked = counted(sheet);
        let said = said(std::slice::from_ref(sheet));
        for (fate, items) in &drawing.sorted.groups {
            let letter = drawing.letters[fate];
            let under = marked.get(letter).copied().unwrap_or(0);
            let without = items.len() - under;
            let told = said.contains(&format!("{without} × {letter}"))
                || said.contains("Without a letter: see the color");
            assert!(without == 0 || told, "{letter}: {without} in: {said}");
        }
    }
}

/// Whole numbers that look random and are the same in every run (a linear congruence of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }
}

/// An invented floor of 120 by 80 ft with so many items of every kind, its records forward or backward.
fn random(seed: u64, count: usize, backward: bool) -> String {
    let mut dice = Dice(seed);
    let kinds = ["joints", "cracks", "spalls", "blemishes", "lippage"];
    let mut records: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for n in 0..count {
        let kind = kinds[usize::try_from(dice.below(5)).expect("small")];
        let (x, y) = (dice.below(108) + 2, dice.below(68) + 2);
        let (w, h) = (dice.below(9) + 1, dice.below(9) + 1);
        let end = format!("[[{x}, {y}], [{}, {}]]", x + w, y + h);
        let record = match kind {
            "joints" => {
                let treatment =
                    ["fill", "honor", "leave"][usize::try_from(dice.below(3)).expect("small")];
                format!(
                    "{{id: J{n}, kind: control, path: {end}, width: 1/4, depth: 1, treatment: {treatment}}}"
                )
            }
            "cracks" => {
                let movement = ["dormant", "active", "unknown"]
                    [usize::try_from(dice.below(3)).expect("small")];
                format!(
                    "{{id: C{n}, path: [[{x}, {y}], [{}, {}.5], [{}, {}]], width: 1/16, movement: {movement}}}",
                    x + 1,
                    y + 1,
                    x + w + 1,
                    y + h
                )
            }
            "spalls" => format!(
                "{{id: S{n}, circle: {{center: [{x}.5, {y}.5], diameter: {}\"}}, depth: {}/8}}",
                dice.below(8) + 3,
                dice.below(7) + 1
            ),
            "blemishes" => {
                format!("{{id: B{n}, what: oil, box: {{corner: [{x}, {y}], size: [{w}, {h}]}}}}")
            }
            _ => format!("{{id: L{n}, along: {end}, high: left, step: 1/4, from: 0, to: 1}}"),
        };
        records.entry(kind).or_default().push(record);
    }
    let mut text = "slabwalk: 1\njob: {name: Random floor}\nunits: us\nslab:\n  post_tension: none\n  outline: [[0, 0], [120', 0], [120', 80'], [0, 80']]\n".to_owned();
    for (kind, mut list) in records {
        if backward {
            list.reverse();
        }
        writeln!(text, "{kind}:").expect("a string");
        for record in list {
            writeln!(text, "  - {record}").expect("a string");
        }
    }
    text
}

#[test]
fn random_floors_pass_the_audit() {
    for (seed, count) in [(1, 10), (2, 40), (3, 100), (4, 250), (5, 500)] {
        let sheets = drawn(&floor(&random(seed, count, false)));
        assert_eq!(faults(&sheets), Vec::<String>::new(), "seed {seed}");
    }
}

#[test]
fn the_order_of_records_changes_nothing() {
    let write = |backward: bool| -> Vec<String> {
        let sheets = drawn(&floor(&random(11, 120, backward)));
        sheets.iter().map(crate::svg::write).collect()
    };
    assert_eq!(write(false), write(true));
}

#[test]
fn revision_clouds_stand_round_what_changed() {
    let survey = floor(GARAGE);
    let clouded = [("C2".to_owned(), 1), ("S3".to_owned(), 2)];
    let marks = Marks { clouded: &clouded };
    let sheets =
        compose_marked(&inputs(&survey), &options(Audience::Customer), &marks).expect("a drawing");
    assert_eq!(faults(&sheets), Vec::<String>::new());
    let revisions = groups(&sheets[0])
        .into_iter()
        .filter(|g| g.class == "revision")
        .count();
    assert_eq!(revisions, 2);
    let unknown = [("X9".to_owned(), 1)];
    let found = compose_marked(
        &inputs(&survey),
        &options(Audience::Customer),
        &Marks { clouded: &unknown },
    );
    assert_eq!(found.expect_err("no such item")[0].code, "unknown-id");
}
