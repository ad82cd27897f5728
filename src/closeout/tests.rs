//! Close-outs by hand.

use super::*;
use crate::closeout::key::{Form, Key};
use crate::survey::{Survey, survey};

fn floor(used: &str) -> Survey {
    let text = format!(
        "slabwalk: 1\njob: {{name: hall, number: 26-7}}\nslab: {{post_tension: none, outline: [[0, 0], [40', 0], [40', 30'], [0, 30']]}}\njoints: [{{id: J1, kind: control, path: [[2', 10'], [38', 10']], width: 1/4, depth: 3/4}}]\ntests: {{moisture: [{{at: [5', 5'], rh: 71%}}, {{at: [9', 5'], rh: 68%}}]}}\ncoating: {{system: two-coat}}\n{used}"
    );
    let (parsed, found) = crate::sketch::parse(&text);
    let parsed = parsed.unwrap_or_else(|| panic!("{found:?}\n{text}"));
    survey(parsed, crate::shop::built_in(), Vec::new()).expect("a floor")
}

fn done(used: &str) -> CloseOut {
    close_out(&floor(used)).expect("a close-out")
}

fn row<'a>(job: &'a CloseOut, item: &str) -> &'a Row {
    job.rows.iter().find(|row| row.item == item).expect(item)
}

/// By hand: 36 ft × 12 × 1/4 × 3/4 = 81 in³ in place, with 10 % waste 89.1, 2.43350 packages of
/// 36.6142 in³. Three used are 109.8426 in³: 35.608 % more than in place. Sawing 36 ft at 150 ft/h is
/// 0.24 h; 0.36 h are 100 ft/h.
#[test]
fn what_use_implies() {
    let job = done(
        "used: {packages: {joint filler: 3}, hours: {saw joints: 0.36 h, fill joints: 15 min}, moisture: 74%, note: cold, photos: [a.jpg]}\n",
    );
    let filler = row(&job, "joint filler");
    assert!((filler.estimated - 2.433_50).abs() < 1e-4, "{filler:?}");
    assert_eq!(filler.ordered, Some(3));
    let implied = filler.implied.as_ref().expect("a waste");
    assert_eq!(implied.key.dotted(), "filler: waste");
    assert!((implied.value - 0.356_08).abs() < 1e-4, "{implied:?}");
    let saw = row(&job, "saw joints");
    assert!((saw.estimated - 0.24).abs() < 1e-9 && (saw.used - 0.36).abs() < 1e-12);
    let implied = saw.implied.as_ref().expect("a rate");
    assert!((implied.value - 100.0 * 0.3048).abs() < 1e-9, "{implied:?}");
    assert_eq!(row(&job, "fill joints").used, 0.25);
    assert_eq!(job.moisture, Some((0.74, Some(0.71))));
    assert!(
        job.unrecorded
            .iter()
            .any(|name| name == "two-coat: first coat")
    );
    assert_eq!((job.photos.len(), job.note.as_deref()), (1, Some("cold")));
}

/// A film twice as thick as planned took twice the paint; spread goods and coverage likewise.
#[test]
fn each_form_turns_the_right_way() {
    for (form, book, ratio, want) in [
        (Form::Waste, 0.10, 1.1, 0.21),
        (Form::Yield, 10.0, 1.25, 8.0),
        (Form::Run, 30.0, 1.5, 20.0),
        (Form::Area, 30.0, 0.5, 60.0),
        (Form::Coverage, 4.0, 2.0, 2.0),
        (Form::Spread, 0.5, 1.2, 0.6),
        (Form::Film, 0.0002, 2.0, 0.0004),
    ] {
        let got = Key::new(&["x"], form).implied(book, ratio);
        assert!((got - want).abs() < 1e-12, "{form:?}: {got}");
    }
}

#[test]
fn names_that_the_estimate_lacks_are_errors_at_their_place() {
    for (used, message, hint) in [
        (
            "used: {packages: {joint filer: 3}}\n",
            "`joint filer` is no product of the order for this floor",
            "did you mean `joint filler`?",
        ),
        (
            "used: {packages: {two-coat: {third coat: 3}}}\n",
            "`two-coat: third coat` is no product",
            "two-coat: first coat",
        ),
        (
            "used: {hours: {saw joint: 3}}\n",
            "`saw joint` is no task of the plan",
            "did you mean `saw joints`?",
        ),
        ("", "has no record of what was used", "add used:"),
    ] {
        let faults = close_out(&floor(used)).expect_err(used);
        assert!(faults[0].message.contains(message), "{}", faults[0].message);
        assert!(
            faults[0].hint.as_deref().unwrap_or("").contains(hint),
            "{:?}",
            faults[0].hint
        );
        assert_eq!(faults[0].place.is_some(), !used.is_empty());
    }
}

/// A floor coated with a system of this shop, by the layers' names; what is thrown goes into the first.
fn coated(first: &str, second: &str, thrown: bool, used: &str) -> Result<CloseOut, Vec<String>> {
    let liquid =
        |name: &str| format!("{{name: \"{name}\", coverage: 100 ft2/gal, loss: 0%, kit: 1 gal}}");
    let sand = match thrown {
        true => format!("{{name: sand, rate: 0.1 lb/ft2, package: 25 lb, into: \"{first}\"}}, "),
        false => String::new(),
    };
    let book = format!(
        "slabwalk_shop: 1\nsystems: {{own: {{layers: [{}, {sand}{}]}}}}\n",
        liquid(first),
        liquid(second)
    );
    let (shop, faults) = crate::shop::parse(&book);
    let shop = shop.unwrap_or_else(|| panic!("{faults:?}\n{book}"));
    let text = format!(
        "slabwalk: 1\njob: {{name: hall}}\nslab: {{post_tension: none, outline: [[0, 0], [45', 0], [45', 10'], [0, 10']]}}\ncoating: {{system: own}}\nused: {{hours: {used}}}\n"
    );
    let (sketch, found) = crate::sketch::parse(&text);
    let sketch = sketch.unwrap_or_else(|| panic!("{found:?}\n{text}"));
    let floor = survey(sketch, shop, Vec::new()).expect("a floor");
    close_out(&floor).map_err(|faults| {
        let said = |fault: &crate::diagnostic::Diagnostic| {
            format!(
                "{}: {}",
                fault.message,
                fault.hint.clone().unwrap_or_default()
            )
        };
        faults.iter().map(said).collect()
    })
}

/// 450 ft² of a coat at 450 ft²/h by two are 2 worker hours; sand at 600 ft²/h adds 1.5. A coat is known
/// by its layer, whatever is in the layer's name, and hours are booked on one task or on none.
#[test]
fn a_coat_is_its_layer_and_no_piece_of_a_name() {
    let (one, two) = ("epoxy, first", "epoxy, second");
    let rows = [
        (
            "names with commas",
            one,
            two,
            false,
            "{\"epoxy, first\": 3, \"epoxy, second\": 4}",
            Ok(vec![
                ("epoxy, first", 2.0, 3.0, true),
                ("epoxy, second", 2.0, 4.0, true),
            ]),
        ),
        (
            "the layer of a coat with sand",
            one,
            two,
            true,
            "{\"epoxy, first\": 3}",
            Ok(vec![("epoxy, first, sand", 3.5, 3.0, false)]),
        ),
        (
            "two coats of one name are one row",
            "epoxy",
            "epoxy",
            false,
            "{epoxy: 5}",
            Ok(vec![("epoxy", 4.0, 5.0, true)]),
        ),
        (
            "which of them",
            one,
            two,
            false,
            "{epoxy: 20}",
            Err(
                "`epoxy` may be any of 2 tasks of the plan: write the whole name, in quotation marks: \"epoxy, first\" or \"epoxy, second\"",
            ),
        ),
        (
            "one layer named like another's coat",
            "base",
            "base, sand",
            true,
            "{\"base, sand\": 4}",
            Ok(vec![("base, sand", 5.5, 4.0, false)]),
        ),
        (
            "one task under two names",
            one,
            two,
            true,
            "{\"epoxy, first\": 3, \"epoxy, first, sand\": 1}",
            Err(
                "`epoxy, first, sand` and `epoxy, first` are the same task of the plan: add the hours up under one of the names",
            ),
        ),
        (
            "no such coat",
            "primer",
            "epoxy",
            false,
            "{paint: 3}",
            Err("`paint` is no task of the plan for this floor: "),
        ),
    ];
    for (name, first, second, thrown, used, want) in rows {
        let got = coated(first, second, thrown, used);
        match (got, want) {
            (Ok(job), Ok(want)) => {
                let got: Vec<(&str, f64, f64, bool)> = job
                    .rows
                    .iter()
                    .map(|r| (r.item.as_str(), r.estimated, r.used, r.implied.is_some()))
                    .collect();
                assert_eq!(got.len(), want.len(), "{name}: {got:?}");
                for (got, want) in got.iter().zip(&want) {
                    assert_eq!((got.0, got.2, got.3), (want.0, want.2, want.3), "{name}");
                    assert!((got.1 - want.1).abs() < 1e-9, "{name}: {got:?}");
                }
            }
            (Err(said), Err(want)) => {
                assert!(
                    said.len() == 1 && said[0].starts_with(want),
                    "{name}: {said:?}"
                );
            }
            (got, want) => panic!("{name}: {got:?}, not {want:?}"),
        }
    }
}

fn saw(hours: &[f64]) -> Vec<CloseOut> {
    hours
        .iter()
        .map(|h| done(&format!("used: {{hours: {{saw joints: {h}}}}}\n")))
        .collect()
}

/// 36 ft: 0.36 h are 100 ft/h, 0.32 h 112.5, 0.40 h 90, 0.80 h 45, 0.24 h the book's 150.
#[test]
fn three_jobs_that_agree_suggest_a_change() {
    for (name, hours, outcome, median) in [
        ("agree", vec![0.36, 0.32, 0.40], Outcome::Change, 100.0),
        ("two only", vec![0.36, 0.36], Outcome::TooFew, 100.0),
        (
            "one far off",
            vec![0.36, 0.36, 0.80],
            Outcome::Disagree,
            100.0,
        ),
        (
            "as the book",
            vec![0.24, 0.24, 0.25],
            Outcome::AsItIs,
            150.0,
        ),
        (
            "four, mean of the middle two",
            vec![0.36, 0.36, 0.40, 0.40],
            Outcome::Change,
            95.0,
        ),
    ] {
        let verdicts = suggest(&saw(&hours));
        let [verdict] = &verdicts[..] else {
            panic!("{name}: {verdicts:?}");
        };
        assert_eq!(verdict.outcome, outcome, "{name}: {verdict:?}");
        assert!(
            (verdict.median / 0.3048 - median).abs() < 1e-9,
            "{name}: {verdict:?}"
        );
        assert_eq!(verdict.values.len(), hours.len(), "{name}");
    }
}

#[test]
fn the_suggestion_is_a_shop_book() {
    let jobs: Vec<CloseOut> = [(0.36, 3.0), (0.34, 2.9), (0.38, 3.1)]
        .iter()
        .map(|(h, p)| done(&format!("used: {{packages: {{joint filler: {p}, two-coat: {{first coat: 4}}}}, hours: {{saw joints: {h}}}}}\n")))
        .collect();
    let verdicts = suggest(&jobs);
    let yaml = report::yaml(&verdicts, crate::quantity::Units::Us).expect("a suggestion");
    assert!(yaml.contains("    saw: 100 ft/h   # 3 jobs 94.7 ft/h to 106 ft/h, median 100 ft/h; the book had 150 ft/h\n"), "{yaml}");
    assert!(
        yaml.contains("  waste: 36%   # 3 jobs 31% to 40%"),
        "{yaml}"
    );
    assert!(
        yaml.contains("# systems: two-coat: first coat: dft: "),
        "{yaml}"
    );
    let (book, faults) = crate::shop::parse(&yaml);
    assert_eq!(faults, [], "{yaml}");
    let book = book.expect("a book");
    assert!(
        (book
            .days
            .works
            .get(crate::trade::Kind::SawJoints, crate::trade::Key::Rate)
            - 30.48)
            .abs()
            < 1e-9
    );
    assert!((book.filler.waste.one() - 0.36).abs() < 1e-12);
    let none = report::text(&jobs[..2], &suggest(&jobs[..2]));
    assert!(
        none.contains("no change: fewer than 3 jobs have a record of it"),
        "{none}"
    );
    assert!(none.ends_with("No change is suggested.\n"), "{none}");
}

#[test]
fn the_median_by_hand() {
    for (values, want) in [
        (vec![], 0.0),
        (vec![3.0], 3.0),
        (vec![9.0, 1.0, 2.0], 2.0),
        (vec![4.0, 1.0, 2.0, 9.0], 3.0),
    ] {
        let mut sorted = values.clone();
        assert_eq!(median(&mut sorted), want, "{values:?}");
    }
}

/// The plot of one job, of the largest legend and of strange amounts passes the audit.
#[test]
fn plots_pass_the_audit() {
    let one = |i: usize| {
        let mut job = done(&format!(
            "used: {{packages: {{joint filler: {}, static mixer: {}, dust bag: 4, two-coat: {{first coat: {}}}}}, hours: {{saw joints: {:.2}, grind the floor: {}, fill joints: 0.4}}}}\n",
            1 + i,
            2 * i + 1,
            1 + i % 5,
            0.1 + 0.07 * i as f64,
            1 + 3 * i
        ));
        job.job = format!("hall number {i} with a name that is longer than its column");
        job
    };
    for (name, jobs) in [
        ("one", vec![one(0)]),
        ("four", (0..4).map(one).collect()),
        ("twenty", (0..20).map(one).collect::<Vec<_>>()),
        ("hours alone", saw(&[0.001, 90_000.0])),
    ] {
        let sheet = plot::sheet(&jobs).expect(name);
        let svg = crate::svg::write(&sheet);
        let faults = crate::audit::audit(&svg);
        assert_eq!(faults, [], "{name}");
    }
    assert!(plot::sheet(&saw(&[0.0])).is_none());
}
