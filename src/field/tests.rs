use super::*;
use crate::ink::Mark;
use crate::sheet::Audience;
use crate::sheet::fixture::{BOAT_SHOP, GARAGE, KITCHEN, floor, inputs, options};

fn asked(shop: &Shop, units: Units, expected: Expected) -> Blank<'_> {
    Blank { units, paper: None, scale: None, expected, shop }
}

fn faults(sheets: &[Sheet]) -> Vec<String> {
    let files: Vec<(String, String)> =
        sheets.iter().map(|s| (s.name.clone(), crate::svg::write_with(s, false))).collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(n, f)| (n.as_str(), f.as_str())).collect();
    let found = crate::audit::audit_set(&files);
    found.iter().map(ToString::to_string).collect()
}

fn text(sheets: &[Sheet]) -> String {
    sheets.iter().map(|s| crate::svg::write_with(s, false)).collect()
}

#[test]
fn blank_sheets_of_every_paper_pass_the_audit() {
    let shop = crate::shop::built_in();
    for units in [Units::Us, Units::Metric] {
        for size in Size::ALL {
            for paper in [Paper::portrait(size), Paper::landscape(size)] {
                let sheets = blank(&Blank {
                    paper: Some(paper),
                    ..asked(&shop, units, Expected::Area(46.0))
                })
                .expect("a sheet");
                assert_eq!(faults(&sheets), Vec::<String>::new(), "{paper:?} {units:?}");
            }
        }
    }
}

#[test]
fn demonstration_floors_pass_the_audit() {
    for sketch in [GARAGE, KITCHEN, BOAT_SHOP] {
        let survey = floor(sketch);
        let sheets = compose(&inputs(&survey), &options(Audience::Field)).expect("a sheet");
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{}", survey.sketch.job.name);
        assert!(sheets[0].groups.iter().any(|g| g.id == "known"));
    }
}

#[test]
fn there_is_a_place_for_every_record_of_a_sketch() {
    let shop = crate::shop::built_in();
    let sheets = blank(&asked(&shop, Units::Us, Expected::Unknown)).expect("a sheet");
    let ids: Vec<&str> = sheets.iter().flat_map(|s| &s.groups).map(|g| g.id.as_str()).collect();
    for id in [
        "grid",
        "scale-bar",
        "before-cutting",
        "outline-walk",
        "diagonals",
        "openings",
        "keep-outs",
        "tiers",
        "joints",
        "cracks",
        "spalls",
        "blemishes",
        "lippage",
        "levels",
        "moisture",
        "conditions",
        "coating",
        "photos",
    ] {
        assert!(ids.contains(&id), "{id} of {ids:?}");
    }
    let text = text(&sheets);
    for word in [
        "KIND",
        "FORMED",
        "WIDTH",
        "DEPTH",
        "STRIP",
        "WANDER",
        "BURIED",
        "Mohs",
        "Humidity",
        "Slab °F",
        "Post-tension",
        "Heating",
        "buried",
        "Asbestos",
        "Power",
        "Water",
        "Access",
        "color",
        "Pour side",
        "UNCOATED",
        "unknown",
    ] {
        assert!(text.contains(word), "{word}");
    }
}

#[test]
fn the_tests_wanted_have_their_rows() {
    let shop = crate::shop::built_in();
    let rows = [
        (Expected::Unknown, 3),
        (Expected::Area(500.0 * M2_PER_FT2), 3),
        (Expected::Size(60.0 * 0.3048, 40.0 * 0.3048), 5),
        (Expected::Area(30_000.0 * M2_PER_FT2), 32),
    ];
    for (expected, wanted) in rows {
        let sheets = blank(&asked(&shop, Units::Us, expected)).expect("a sheet");
        let text = text(&sheets);
        assert!(text.contains(&format!("MOISTURE: {wanted} TESTS WANTED")), "{expected:?}");
        assert!(text.contains(&format!(">M{wanted}<")), "{expected:?}");
        assert!(!text.contains(&format!(">M{}<", wanted + 1)), "{expected:?}");
        assert_eq!(faults(&sheets), Vec::<String>::new(), "{expected:?}");
    }
}

#[test]
fn a_square_is_true_to_scale() {
    let shop = crate::shop::built_in();
    let sheets = blank(&Blank {
        scale: Some(Scale { ratio: 48.0 }),
        ..asked(&shop, Units::Us, Expected::Unknown)
    })
    .expect("a sheet");
    let grid = &sheets[0].groups[0];
    let Mark::Path(light) = &grid.marks[0] else { panic!("lines") };
    let xs: Vec<f64> = light
        .steps
        .iter()
        .filter_map(|s| match s {
            crate::ink::Step::Move(p) => Some(p.x),
            _ => None,
        })
        .take(3)
        .collect();
    // The lines at 1, 2 and 3 ft: a quarter of an inch apart.
    assert!((xs[1] - xs[0] - 6.35).abs() < 1e-9 && (xs[2] - xs[1] - 6.35).abs() < 1e-9, "{xs:?}");
}

#[test]
fn another_visit_goes_on_where_the_last_one_ended() {
    let survey = floor(GARAGE);
    let visit = text(&compose(&inputs(&survey), &options(Audience::Field)).expect("a sheet"));
    let last = survey.slab.joints.iter().filter_map(|j| j.id[1..].parse::<usize>().ok()).max();
    let next = last.expect("joints") + 1;
    assert!(visit.contains(&format!(">J{next}<")) && !visit.contains(">J1<"));
    assert!(visit.contains(&survey.sketch.job.name));
}

/// Heights of the long level lines of a block, from above.
fn rules(group: &Group) -> Vec<f64> {
    let level = |mark: &Mark| match mark {
        Mark::Path(path) => match path.steps.as_slice() {
            [crate::ink::Step::Move(a), crate::ink::Step::Line(b)]
                if a.y == b.y && b.x - a.x > 150.0 =>
            {
                Some(a.y)
            }
            _ => None,
        },
        _ => None,
    };
    let mut out: Vec<f64> = group.marks.iter().filter_map(level).collect();
    out.sort_by(f64::total_cmp);
    out
}

#[test]
fn tests_that_were_taken_are_not_asked_for_again() {
    let survey = floor(KITCHEN);
    let visit = text(&compose(&inputs(&survey), &options(Audience::Field)).expect("a sheet"));
    assert!(visit.contains("MOISTURE: 3 TESTS WANTED, 2 TAKEN"));
    assert!(visit.contains(">M3<") && !visit.contains(">M4<"));
}

#[test]
fn rows_are_high_enough_to_write_in() {
    let shop = crate::shop::built_in();
    for paper in [None, Some(Paper::landscape(Size::Tabloid)), Some(Paper::landscape(Size::A4))] {
        let asked = asked(&shop, Units::Us, Expected::Unknown);
        let sheets = blank(&Blank { paper, ..asked }).expect("a sheet");
        let records = sheets.iter().flat_map(|s| &s.groups).filter(|g| g.class == "record");
        let mut seen = 0;
        for group in records {
            for pair in rules(group).windows(2) {
                assert!(pair[1] - pair[0] >= 7.0, "{}: {pair:?}", group.id);
                seen += 1;
            }
        }
        assert!(seen > 40, "{seen}");
    }
}

#[test]
fn more_tests_than_a_form_holds_are_said() {
    let shop = crate::shop::built_in();
    let sheets =
        blank(&asked(&shop, Units::Us, Expected::Area(200_000.0 * M2_PER_FT2))).expect("a sheet");
    let text = text(&sheets);
    assert!(
        text.contains("MOISTURE: 202 TESTS WANTED")
            && text.contains("Rows for 60; copy this page for the rest.")
    );
    assert!(text.contains(">M60<") && !text.contains(">M61<"));
    assert_eq!(faults(&sheets), Vec::<String>::new());
}

#[test]
fn a_floor_that_does_not_fit_says_so() {
    let shop = crate::shop::built_in();
    let found = blank(&Blank {
        paper: Some(Paper::portrait(Size::Letter)),
        scale: Some(Scale { ratio: 48.0 }),
        ..asked(&shop, Units::Us, Expected::Size(30.0, 9.0))
    })
    .expect_err("no room");
    assert_eq!(found[0].message, "the floor does not fit on 8 1/2 × 11 IN at 1/4\" = 1'-0\"");
    let hint = found[0].hint.as_deref().expect("a hint");
    assert!(hint.starts_with("choose larger paper"), "{hint}");
}

#[test]
fn a_floor_that_fits_the_other_way_up_is_told_so() {
    let shop = crate::shop::built_in();
    let given = |paper| Blank {
        paper: Some(paper),
        scale: Some(Scale { ratio: 48.0 }),
        ..asked(&shop, Units::Us, Expected::Size(20.0 * 0.3048, 28.0 * 0.3048))
    };
    let found = blank(&given(Paper::landscape(Size::Letter))).expect_err("no room");
    let hint = found[0].hint.as_deref().expect("a hint");
    assert_eq!(hint, "it fits with the paper turned: --paper letter-portrait");
    assert!(blank(&given(Paper::portrait(Size::Letter))).is_ok());
}

#[test]
fn names_that_would_break_a_form_do_not() {
    let name = "\\u0007Bell \\u202Eturned \\u05D0\\u05D1\\u05D2 & <b> \\\"quoted\\\" ".repeat(12);
    let text = format!(
        "slabwalk: 1\njob: {{name: \"{name}\", client: \"{name}\", site: \"{name}\"}}\nslab:\n  outline: [[0, 0], [20', 0], [20', 16'], [0, 16']]\n"
    );
    let survey = floor(&text);
    let sheets = compose(&inputs(&survey), &options(Audience::Field)).expect("a sheet");
    assert_eq!(faults(&sheets), Vec::<String>::new());
}

/// A floor far from its origin, with negative coordinates, keeps its own numbers on the grid.
#[test]
fn the_grid_carries_the_numbers_of_the_sketch() {
    let survey = floor(
        "slabwalk: 1\njob: {name: Far}\nunits: metric\nslab:\n  outline: [[-104, 40], [-99, 40], [-99, 44], [-104, 44]]\n",
    );
    let sheets = compose(&inputs(&survey), &options(Audience::Field)).expect("a sheet");
    let text = text(&sheets[..1]);
    assert!(text.contains(">-104<") && text.contains(">44<"));
    assert_eq!(faults(&sheets), Vec::<String>::new());
}
