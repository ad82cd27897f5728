//! Random lines: invariants, comparison with set operations, and moves that must change nothing.

use super::*;
use crate::geometry::region::Region;
use proptest::prelude::*;
use std::f64::consts::TAU;

fn role() -> impl Strategy<Value = Role> {
    prop_oneof![Just(Role::Outline), Just(Role::Hole), Just(Role::Zone)]
}

/// Points of a small lattice, so that many lines touch, overlap and pass through each other's vertices.
fn knot() -> impl Strategy<Value = (f64, f64)> {
    (0..9i32, 0..9i32).prop_map(|(x, y)| (f64::from(x), f64::from(y)))
}

fn any_lines() -> impl Strategy<Value = Vec<Line>> {
    let outline = (4..12i32, 4..12i32)
        .prop_map(|(w, h)| rect(Role::Outline, -1.0, -1.0, f64::from(w), f64::from(h)));
    let rings = prop::collection::vec((role(), prop::collection::vec(knot(), 3..6)), 0..6);
    let dividers = prop::collection::vec(prop::collection::vec(knot(), 2..5), 0..10);
    (outline, rings, dividers).prop_map(|(outline, rings, dividers)| {
        let rings = rings.iter().map(|(role, points)| line(*role, points));
        let dividers = dividers.iter().map(|points| divider(points));
        std::iter::once(outline).chain(rings).chain(dividers).collect()
    })
}

fn reversed(line: &Line) -> Line {
    let back = |e: &InputEdge| InputEdge { a: e.b, b: e.a, length: e.length, bow: -e.bow };
    Line { role: line.role, edges: line.edges.iter().rev().map(back).collect() }
}

/// The same by set operations; a ring may cross itself, so each is first filled by itself.
fn by_set_operations(lines: &[Line]) -> [f64; 3] {
    let filled = |role: Role| {
        let rings = lines.iter().filter(|l| l.role == role).map(|l| {
            let ring: Vec<Point> = l.edges.iter().map(|e| e.a).collect();
            let back: Vec<Point> = ring.iter().rev().copied().collect();
            Region::from_rings(&[ring]).union(&Region::from_rings(&[back]))
        });
        Region::union_all(rings.collect())
    };
    let enclosed = filled(Role::Outline);
    let reached = enclosed.difference(&filled(Role::Hole));
    let net = reached.difference(&filled(Role::Zone));
    [enclosed.area(), reached.area(), net.area()]
}

fn class_areas(a: &Arrangement) -> [f64; 3] {
    [Class::Enclosed, Class::Reached, Class::Net].map(|c| a.area(c))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn invariants_hold(lines in any_lines(), size in 0.000_02..1.0f64, turn in 0.0..TAU) {
        let lines = moved(&scaled(&lines, size), kurbo::Affine::rotate(turn));
        for options in [Options { weld: 0.0, snap: 0.0, sliver: 0.0 }, Options::default()] {
            let a = Arrangement::build(&lines, &options).expect("an arrangement");
            check(&a);
        }
    }

    #[test]
    fn areas_agree_with_set_operations(lines in any_lines(), turn in 0.0..TAU) {
        let lines = moved(&lines, kurbo::Affine::rotate(turn));
        let a = build(&lines);
        for (found, expected) in class_areas(&a).into_iter().zip(by_set_operations(&lines)) {
            prop_assert!((found - expected).abs() < 2e-3, "{} for {}", found, expected);
        }
        let rings = Region::from_rings(&a.rings(Class::Net));
        prop_assert!((rings.area() - a.area(Class::Net)).abs() < 1e-5);
    }

    #[test]
    fn order_and_direction_change_nothing(lines in any_lines(), seed in any::<u64>(), turn in 0.0..TAU) {
        let lines = moved(&lines, kurbo::Affine::rotate(turn));
        let mut mixed: Vec<Line> = lines.iter().enumerate().map(|(i, l)| if seed >> (i % 64) & 1 == 1 { reversed(l) } else { l.clone() }).collect();
        let count = mixed.len();
        for i in 1..count {
            mixed.swap(i, (seed as usize).wrapping_mul(31 * i + 7) % (i + 1));
        }
        let (a, b) = (build(&lines), build(&mixed));
        prop_assert_eq!(class_areas(&a), class_areas(&b));
        let rings = |a: &Arrangement| a.panels().iter().map(|p| p.rings.clone()).collect::<Vec<_>>();
        prop_assert_eq!(rings(&a), rings(&b));
        prop_assert_eq!(a.rings(Class::Net), b.rings(Class::Net));
    }

    #[test]
    fn moving_the_floor_changes_nothing(lines in any_lines(), quarter in 0..4u8, mirror in any::<bool>(), (dx, dy) in (-400..400i32, -400..400i32)) {
        // Moves that keep the lattice: the result must be the same to the last unit.
        let turn = match quarter { 0 => [1.0, 0.0, 0.0, 1.0], 1 => [0.0, 1.0, -1.0, 0.0], 2 => [-1.0, 0.0, 0.0, -1.0], _ => [0.0, -1.0, 1.0, 0.0] };
        let flip = kurbo::Affine::new([if mirror { -1.0 } else { 1.0 }, 0.0, 0.0, 1.0, 0.0, 0.0]);
        let by = kurbo::Affine::new([turn[0], turn[1], turn[2], turn[3], f64::from(dx), f64::from(dy)]) * flip;
        let (a, b) = (build(&lines), build(&moved(&lines, by)));
        for (x, y) in class_areas(&a).into_iter().zip(class_areas(&b)) {
            prop_assert!((x - y).abs() < 1e-3);
        }
        prop_assert_eq!(a.panels().len(), b.panels().len());
    }

    #[test]
    fn points_are_in_the_panel_whose_rings_hold_them(lines in any_lines(), (x, y) in (-2.0..12.0f64, -2.0..12.0f64)) {
        let a = build(&lines);
        let holds = |panel: &Panel| Region::from_rings(&panel.rings).contains(Point::new(x, y));
        prop_assert_eq!(a.panel_at(Point::new(x, y)), a.panels().iter().position(holds));
    }

    #[test]
    fn a_pixel_is_passed_just_when_some_point_of_the_span_lies_in_it(
        (ax, ay, bx, by) in (-6..7i64, -6..7i64, -6..7i64, -6..7i64),
    ) {
        let span = Span { a: Site { x: ax, y: ay }, b: Site { x: bx, y: by } };
        prop_assume!(span.a != span.b);
        // Where the span enters a pixel it is at a half unit in x or in y; between two such places it stays in one pixel.
        let mut places: Vec<(i64, i64)> = vec![(0, 1), (1, 1)];
        for (start, step) in [(ax, bx - ax), (ay, by - ay)].into_iter().filter(|(_, d)| *d != 0) {
            for half in -13..14i64 {
                places.push(((half - 2 * start) * step.signum(), 2 * step.abs()));
            }
        }
        places.retain(|(n, d)| *n >= 0 && n <= d);
        places.sort_by_key(|(n, d)| n * 5_354_228_880 / d);
        let middles: Vec<(i64, i64)> = places.windows(2).map(|w| (w[0].0 * w[1].1 + w[1].0 * w[0].1, 2 * w[0].1 * w[1].1)).collect();
        let pixel = |start: i64, step: i64, (n, d): (i64, i64)| (2 * (start * d + step * n) + d).div_euclid(2 * d);
        let passed: std::collections::BTreeSet<(i64, i64)> =
            places.iter().chain(&middles).map(|t| (pixel(ax, bx - ax, *t), pixel(ay, by - ay, *t))).collect();
        for x in -7..8 {
            for y in -7..8 {
                prop_assert_eq!(span.passes(Site { x, y }), passed.contains(&(x, y)), "pixel ({}, {})", x, y);
            }
        }
    }
}
