//! Areas, boundaries and rings of known figures.

use super::*;
use crate::geometry::region::Region;
use std::f64::consts::TAU;

#[test]
fn classes_of_known_figures() {
    let big = rect(Role::Outline, 0.0, 0.0, 10.0, 10.0);
    let l = line(
        Role::Outline,
        &[(0.0, 0.0), (24.0, 0.0), (24.0, 16.0), (14.0, 16.0), (14.0, 24.0), (0.0, 24.0)],
    );
    let l_back = line(
        Role::Outline,
        &[(0.0, 24.0), (14.0, 24.0), (14.0, 16.0), (24.0, 16.0), (24.0, 0.0), (0.0, 0.0)],
    );
    let rows: [(&str, Vec<Line>, [f64; 3]); 11] = [
        ("L (V-G1)", vec![l], [496.0; 3]),
        ("L clockwise (V-G1)", vec![l_back], [496.0; 3]),
        (
            "hole and zone",
            vec![
                big.clone(),
                rect(Role::Hole, 1.0, 1.0, 2.0, 2.0),
                rect(Role::Zone, 3.0, 3.0, 5.0, 5.0),
            ],
            [100.0, 99.0, 95.0],
        ),
        (
            "overlapping holes",
            vec![
                big.clone(),
                rect(Role::Hole, 1.0, 1.0, 5.0, 5.0),
                rect(Role::Hole, 3.0, 3.0, 7.0, 7.0),
            ],
            [100.0, 72.0, 72.0],
        ),
        (
            "one hole twice",
            vec![
                big.clone(),
                rect(Role::Hole, 1.0, 1.0, 5.0, 5.0),
                rect(Role::Hole, 1.0, 1.0, 5.0, 5.0),
            ],
            [100.0, 84.0, 84.0],
        ),
        (
            "zone across a hole",
            vec![
                big.clone(),
                rect(Role::Hole, 1.0, 1.0, 5.0, 5.0),
                rect(Role::Zone, 4.0, 4.0, 6.0, 6.0),
            ],
            [100.0, 84.0, 81.0],
        ),
        (
            "hole across the outline",
            vec![big.clone(), rect(Role::Hole, 8.0, 8.0, 12.0, 12.0)],
            [100.0, 96.0, 96.0],
        ),
        ("hole outside", vec![big.clone(), rect(Role::Hole, 20.0, 8.0, 22.0, 12.0)], [100.0; 3]),
        (
            "hole along the outline",
            vec![big.clone(), rect(Role::Hole, 0.0, 0.0, 1.0, 10.0)],
            [100.0, 90.0, 90.0],
        ),
        (
            "bow-tie, both lobes",
            vec![line(Role::Outline, &[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])],
            [2.0; 3],
        ),
        ("nothing", vec![], [0.0; 3]),
    ];
    for (name, lines, expected) in rows {
        let a = build(&lines);
        let found = [Class::Enclosed, Class::Reached, Class::Net].map(|c| a.area(c));
        assert_areas(name, &found, &expected, 1e-12);
        check(&a);
    }
}

#[test]
fn the_tape_s_units_are_whole() {
    for (name, metres, units) in
        [("1/64 in", INCH / 64.0, 127), ("1 mm", 0.001, 320), ("1 ft", FOOT, 97_536)]
    {
        assert_eq!(
            Site::near(Point::new(metres, -metres)),
            Ok(Site { x: units, y: -units }),
            "{name}"
        );
    }
}

#[test]
fn curves_count_with_their_bows() {
    let foot = 12.0 * INCH;
    let drain = circle(Role::Hole, (3.0 * foot, 3.0 * foot), 4.0 * INCH, 24);
    let a = build(&[rect(Role::Outline, 0.0, 0.0, 24.0 * foot, 24.0 * foot), drain]);
    // V-G6: the drain of 8 in takes 0.349 sq ft off.
    let taken = (a.area(Class::Enclosed) - a.area(Class::Reached)) / (foot * foot);
    assert!((taken - 0.349).abs() < 0.001 && (taken - TAU / 18.0).abs() < 1e-5, "{taken}");
    let around: f64 = a
        .boundary(Class::Reached)
        .iter()
        .filter(|e| e.beyond == Beyond::Hole)
        .map(|e| e.length)
        .sum();
    assert!((around - TAU * 4.0 * INCH).abs() < 1e-9);
    // Cut in half, the two halves of a disc are equal and add up.
    let halved = build(&[
        circle(Role::Outline, (0.0, 0.0), 5.0, 100),
        divider(&[(-6.0, 0.013), (6.0, 0.013)]),
    ]);
    assert_eq!(halved.panels().len(), 2);
    let sum: f64 = halved.panels().iter().map(|p| p.area).sum();
    assert!((sum - 12.5 * TAU).abs() < 1e-4 && (sum - halved.area(Class::Reached)).abs() < 1e-12);
}

#[test]
fn boundaries_know_what_lies_beyond_and_where_they_come_from() {
    let lines = [
        rect(Role::Outline, 0.0, 0.0, 10.0, 10.0),
        rect(Role::Hole, 4.0, 0.0, 6.0, 2.0),
        rect(Role::Zone, 0.0, 8.0, 10.0, 10.0),
        divider(&[(0.0, 8.0), (10.0, 8.0)]),
    ];
    let a = build(&lines);
    let length = |class: Class, beyond: Beyond| -> f64 {
        a.boundary(class).iter().filter(|e| e.beyond == beyond).map(|e| e.length).sum()
    };
    let rows = [
        (Class::Enclosed, [40.0, 0.0, 0.0]),
        (Class::Reached, [38.0, 6.0, 0.0]),
        (Class::Net, [8.0 + 8.0 + 8.0, 6.0, 10.0]),
    ];
    for (class, expected) in rows {
        let found = [Beyond::Outside, Beyond::Hole, Beyond::Zone].map(|b| length(class, b));
        assert_areas(&format!("{class:?}"), &found, &expected, 1e-9);
    }
    let along: Vec<BoundaryEdge> =
        a.boundary(Class::Net).into_iter().filter(|e| e.beyond == Beyond::Zone).collect();
    let sources = [Source { line: 2, edge: 0 }, Source { line: 3, edge: 0 }];
    assert!(along.iter().all(|e| e.sources == sources && e.b.x < e.a.x), "{along:?}");
}

#[test]
fn rings_are_wound_and_simple() {
    let lines = [
        rect(Role::Outline, 0.0, 0.0, 10.0, 10.0),
        rect(Role::Hole, 2.0, 2.0, 4.0, 4.0),
        rect(Role::Hole, 4.0, 4.0, 6.0, 6.0),
        rect(Role::Hole, 0.0, 8.0, 2.0, 10.0),
        rect(Role::Outline, 10.0, 10.0, 12.0, 12.0),
        divider(&[(5.0, 0.0), (5.0, 10.0)]),
    ];
    let a = build(&lines);
    let rings = a.rings(Class::Reached);
    let doubled = |ring: &[Point]| -> f64 {
        ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| p.x * q.y - q.x * p.y).sum()
    };
    let found: Vec<(usize, f64)> = rings.iter().map(|r| (r.len(), doubled(r) / 2.0)).collect();
    assert_eq!(found, [(6, 96.0), (4, 4.0), (4, -4.0), (4, -4.0)]);
    assert!((Region::from_rings(&rings).area() - a.area(Class::Reached)).abs() < 1e-6);
}
