//! Taps on an ell, places that are refused, and lengths that read back.

use super::*;
use crate::live::floor::tests::slab_of;

/// An ell: 24 ft by 20 ft, the upper left 8 ft by 6 ft missing; a joint across at x = 12 ft.
const ELL: &str = "slabwalk: 1\njob: {name: ell}\nslab:\n  outline: [[0, 0], [24', 0], [24', 20'], [8', 20'], [8', 14'], [0, 14']]\njoints:\n  - {id: J1, kind: control, x: 12'}\n";

fn at(x_ft: f64, y_ft: f64) -> Point {
    Point::new(x_ft * M_PER_FT, y_ft * M_PER_FT)
}

#[test]
fn taps_as_a_tape_finds_them() {
    let slab = slab_of(ELL);
    // Name, tap in feet, reach in feet, place.
    let rows = [
        (
            "from the nearest wall",
            (5.0, 2.0),
            0.0,
            "wall 1, 5'-0\" from corner 1 toward 2, 2'-0\" out",
        ),
        ("to the inch", (5.03, 2.04), 0.0, "wall 1, 5'-0\" from corner 1 toward 2, 2'-0\" out"),
        (
            "square to the wall, not past its end",
            (10.0, 13.0),
            0.0,
            "wall 3, 14'-0\" from corner 3 toward 4, 7'-0\" out",
        ),
        (
            "beside a reentrant corner",
            (9.0, 15.0),
            0.0,
            "wall 4, 5'-0\" from corner 4 toward 5, 1'-0\" out",
        ),
        ("drawn to a joint", (12.3, 8.02), 0.5, "on J1, 8'-0\" along it"),
        ("drawn to a joint's end", (12.2, 0.1), 0.5, "on J1, 0'-0\" along it"),
        ("drawn to a wall", (5.0, 0.2), 0.5, "wall 1, 5'-0\" from corner 1 toward 2, on the wall"),
        (
            "drawn to a corner",
            (0.1, 0.1),
            0.5,
            "wall 1, 0'-0\" from corner 1 toward 2, on the wall",
        ),
        (
            "not drawn without reach",
            (12.3, 8.0),
            0.0,
            "wall 1, 12'-4\" from corner 1 toward 2, 8'-0\" out",
        ),
    ];
    for (name, (x, y), reach, words) in rows {
        let found = place(&slab, at(x, y), reach * M_PER_FT, Onto::Anything).expect(name);
        assert_eq!(found.words, words, "{name}");
        let again = resolve(&slab, found.form.clone()).expect(name);
        assert_eq!(again, found, "{name}: what is written leads to the same point");
        let moved = (Point::new(found.x, found.y) - at(x, y)).hypot();
        assert!(moved <= reach * M_PER_FT + M_PER_IN, "{name}: moved {moved} m");
    }
}

#[test]
fn what_is_measured_on_a_line_is_drawn_to_lines_only() {
    let slab = slab_of(ELL);
    let beside_the_joint_s_end = at(12.1, 0.05);
    let form = |onto| place(&slab, beside_the_joint_s_end, 0.3, onto).map(|p| p.form);
    assert!(matches!(form(Onto::Lines), Some(Form::Line { .. })));
    assert!(matches!(form(Onto::Walls), Some(Form::Wall { wall: 1, .. })));
}

#[test]
fn far_taps_and_wrong_places_are_refused() {
    let slab = slab_of(ELL);
    assert_eq!(place(&slab, at(200.0, 5.0), 1.0, Onto::Anything), None);
    assert_eq!(place(&slab, Point::new(f64::NAN, 0.0), 1.0, Onto::Anything), None);
    let wall =
        |wall, along: &str, out: &str| Form::Wall { wall, along: along.into(), out: out.into() };
    let rows = [
        ("no such wall", wall(7, "1'", "0"), "there is no wall 7"),
        ("wall zero", wall(0, "1'", "0"), "there is no wall 0"),
        ("past the end", wall(1, "25'", "0"), "not on wall 1"),
        ("outside", wall(1, "2'", "-1'"), "outside the wall"),
        ("no length", wall(1, "x", "0"), "is no length"),
        ("no line", Form::Line { line: "J9".into(), at: "0".into() }, "no joint or crack J9"),
    ];
    for (name, form, words) in rows {
        let error = resolve(&slab, form).expect_err(name);
        assert!(error.contains(words), "{name}: {error}");
    }
}

#[test]
fn a_tap_above_all_walls_is_still_placed() {
    // In metric the same floor reads back too, on every tenth of a meter.
    let slab = slab_of(
        "slabwalk: 1\nunits: metric\njob: {name: m}\nslab: {outline: [[0, 0], [4, 0], [6, 3], [1, 5]]}\n",
    );
    for i in 0..60 {
        for k in 0..50 {
            let tap = Point::new(f64::from(i) / 10.0, f64::from(k) / 10.0);
            let found = place(&slab, tap, 0.0, Onto::Anything).expect("near the slab");
            assert!((Point::new(found.x, found.y) - tap).hypot() < 0.011, "{found:?}");
        }
    }
}

#[test]
fn lengths_read_back() {
    let rows = [(0.0, "0"), (12.0, "1'"), (8.5, "8 1/2\""), (150.5, "12' 6 1/2\"")];
    for (inches, wanted) in rows {
        let written = text(inches * M_PER_IN, Units::Us);
        assert_eq!(written, wanted);
        assert!((metres(&written, Units::Us).expect(wanted) - inches * M_PER_IN).abs() < 1e-9);
    }
    assert_eq!(text(3.26, Units::Metric), "3.26 m");
}
