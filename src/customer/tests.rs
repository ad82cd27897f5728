//! Whole customer drawings.

mod random;
mod wording;

use super::*;
use crate::floor::Survey;
use crate::papers::compose;
use crate::sheet::fixture::{BOAT_SHOP, GARAGE, KITCHEN, floor, inputs, options, room};
use crate::sheet::{Audience, Options, Scale};
use random::random;

fn drawn(survey: &Survey) -> Vec<Sheet> {
    compose(&inputs(survey), &options(Audience::Customer)).expect("a drawing")
}

fn faults(sheets: &[Sheet]) -> Vec<String> {
    let files: Vec<(String, String)> =
        sheets.iter().map(|s| (s.name.clone(), crate::svg::write_with(s, false))).collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(n, f)| (n.as_str(), f.as_str())).collect();
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
                out.push((t.text.clone(), crate::font::cap_height(t.size), group.class.clone()));
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
        // A second page only where the first can't hold it.
        assert_eq!(sheets.len(), if text == GARAGE { 1 } else { 2 }, "{}", sheets[0].title);
        let plan = plan_alone(&inputs(&survey), (180.0, 150.0));
        let (plan, told) = plan.unwrap_or_else(|found| panic!("{found:?}"));
        assert!(plan.width > 179.9 || plan.height > 149.9);
        // Its key stands as text beside it.
        let own: Vec<String> =
            faults(&[plan]).into_iter().filter(|f| !f.contains("mark-without-key")).collect();
        assert_eq!(own, Vec::<String>::new());
        assert!(told.rows.iter().any(|row| row.letter() == "A"));
    }
}

/// The papers of a shop with long names, or with none: the head grows, and nothing is cut or runs over.
#[test]
fn the_head_holds_names_of_any_length() {
    let long = "Northwest Industrial and Residential Floor Preparation, Repair and Coating of the Second Generation ".repeat(2);
    let word = "W".repeat(200);
    for (name, job) in [(long.as_str(), long.as_str()), (&word, &word), ("", "Hall")] {
        let mut survey = room("");
        let wording = crate::shop::Wording(vec![crate::shop::Part::Words(name.to_owned())]);
        survey.shop.proposal.texts.insert("company".into(), wording);
        survey.sketch.job.name = job.to_owned();
        survey.sketch.job.client = Some(name.to_owned());
        let sheets = drawn(&survey);
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{name}");
        let squeezed = |text: &str| text.split_whitespace().collect::<String>();
        assert!(squeezed(&said(&sheets)).contains(&squeezed(name)), "{name}");
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
            let asked = Options { paper: Some(paper), ..options(Audience::Customer) };
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
    let found = plan_alone(&inputs(&survey), (10.0, 5.0));
    assert_eq!(found.expect_err("no room")[0].code, "paper-too-small");
}

#[test]
fn the_plan_is_true_to_scale() {
    let survey = room("");
    let sheets = drawn(&survey);
    let edge = groups(&sheets[0]).into_iter().find(|g| g.id == "floor").expect("the floor").clone();
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
    // The scale stands in the description of the file; on paper the bar tells it.
    let told = &sheets[0].description;
    let scales = Scale::standard(Units::Us);
    let scale = scales.iter().find(|s| told.starts_with(&format!("Scale {}.", s.text(Units::Us))));
    let foot = 0.3048 * scale.expect("a standard scale").mm_per_m();
    assert!((around.width() - 20.0 * foot).abs() < 1e-9);
    assert!((around.height() - 16.0 * foot).abs() < 1e-9);
}

#[test]
fn a_post_tensioned_slab_says_so_first() {
    let sketch = |key: &str| {
        format!(
            "slabwalk: 1\njob: {{name: Test}}\nunits: us\nslab:\n  {key}outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\njoints:\n  - {{id: J1, kind: control, x: 10', width: 1/4, depth: 1}}\n"
        )
    };
    let stamped = said(&drawn(&floor(&sketch("post_tension: stamped\n  "))));
    assert!(stamped.contains("On hold: settle this before we start"), "{stamped}");
    assert!(stamped.contains("A cut cable can kill."), "{stamped}");
    let unknown = said(&drawn(&floor(&sketch(""))));
    assert!(unknown.contains("We do not cut before we know."), "{unknown}");
    let none = said(&drawn(&floor(&sketch("post_tension: none\n  "))));
    assert!(!none.contains("cable"), "{none}");
}

#[test]
fn no_prices_no_measures_of_the_trade_no_ids() {
    for text in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(text);
        let sheets = drawn(&survey);
        let said = said(&sheets);
        for word in
            ["$", "chase", "cartridge", "backer rod", "Mohs", "lippage", "spall", "honor", "gal"]
        {
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
        // Words stand in the proposal's HTML too, which a phone sets in its own size; what is drawn is only here.
        let words = class == "words" || class == "key" || class == "frame";
        assert!(cap >= if words { 2.38 } else { 3.2 }, "{text}: {cap} {class}");
    }
}

/// Every item of a group is under a mark, or is counted as without one.
fn counted(sheet: &Sheet) -> BTreeMap<String, usize> {
    let mut out = BTreeMap::new();
    for group in groups(sheet) {
        let Some((letter, _)) = group.id.strip_prefix("mark-").and_then(|m| m.rsplit_once('-'))
        else {
            continue;
        };
        for mark in &group.marks {
            if let Mark::Text(t) = mark {
                let count = t.text.split_once('×').map_or(1, |c| c.1.parse().unwrap_or(0));
                *out.entry(letter.to_owned()).or_insert(0) += count;
            }
        }
    }
    out
}

#[test]
fn nothing_is_dropped_silently() {
    for text in [GARAGE.to_owned(), KITCHEN.to_owned(), BOAT_SHOP.to_owned(), random(7, 300, false)]
    {
        let survey = floor(&text);
        let inputs = inputs(&survey);
        let drawing = Drawing::of(&inputs);
        let sheets = drawn(&survey);
        let marked = counted(&sheets[0]);
        let (key, said) = (said(&sheets), said(&sheets[..1]));
        for (fate, items) in &drawing.sorted.groups {
            let letter = drawing.letters[fate];
            let under = marked.get(letter).copied().unwrap_or(0);
            let without = items.len() - under;
            // The row of a group that is all bare has no letter in the key, and says so.
            let told = match under {
                0 => key.contains("; without a letter."),
                _ => said.contains(&format!("{without} × {letter}")),
            } || said.contains("Without a letter: see the color");
            assert!(without == 0 || told, "{letter}: {without} in: {said}");
        }
    }
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
    let revisions = groups(&sheets[0]).into_iter().filter(|g| g.class == "revision").count();
    assert_eq!(revisions, 2);
    let unknown = [("X9".to_owned(), 1)];
    let found = compose_marked(
        &inputs(&survey),
        &options(Audience::Customer),
        &Marks { clouded: &unknown },
    );
    assert_eq!(found.expect_err("no such item")[0].code, "unknown-id");
}
