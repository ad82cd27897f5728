use super::*;
use proptest::prelude::*;
use std::f64::consts::PI;

fn points(pairs: &[(f64, f64)]) -> Vec<Point> {
    pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
}

fn turned(rect: &[(f64, f64)], angle: f64) -> Vec<Point> {
    let turn = kurbo::Affine::rotate(angle);
    points(rect).into_iter().map(|p| turn * p).collect()
}

#[test]
fn known_figures() {
    let box_ = [(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0)];
    type Row<'a> = (&'a str, Vec<Point>, (f64, f64, f64));
    let rows: [Row<'_>; 8] = [
        ("upright", points(&box_), (4.0, 1.0, 0.0)),
        ("lying on its side", turned(&box_, FRAC_PI_2), (4.0, 1.0, FRAC_PI_2)),
        ("turned by 0.3", turned(&box_, 0.3), (4.0, 1.0, 0.3)),
        ("turned by -0.3", turned(&box_, -0.3), (4.0, 1.0, PI - 0.3)),
        (
            "a diamond",
            points(&[(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)]),
            (2f64.sqrt(), 2f64.sqrt(), PI / 4.0),
        ),
        (
            "a slanted line",
            points(&[(0.0, 0.0), (3.0, 4.0), (1.5, 2.0)]),
            (5.0, 0.0, (4.0f64).atan2(3.0)),
        ),
        ("one point", points(&[(2.0, 3.0), (2.0, 3.0)]), (0.0, 0.0, 0.0)),
        // Of the boxes around this triangle two have area 2; the one along the axes is taken.
        ("a right triangle", points(&[(0.0, 0.0), (2.0, 0.0), (0.0, 1.0)]), (2.0, 1.0, 0.0)),
    ];
    for (name, points, (length, width, angle)) in rows {
        let r = OrientedRect::around(&points).expect(name);
        assert!((r.length() - length).abs() < 1e-9, "{name}: length {}", r.length());
        assert!((r.width() - width).abs() < 1e-9, "{name}: width {}", r.width());
        assert!((r.angle - angle).abs() < 1e-9, "{name}: angle {}", r.angle);
    }
    assert_eq!(OrientedRect::around(&[]), None);
    assert_eq!(OrientedRect::around(&[Point::new(f64::NAN, 0.0)]), None);
}

#[test]
fn distances() {
    let unit = OrientedRect::around(&points(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]))
        .expect("square");
    let moved =
        |x: f64, y: f64, angle: f64| OrientedRect { center: Point::new(x, y), angle, ..unit };
    let rows = [
        ("side by side", moved(3.5, 0.5, 0.0), 2.0),
        ("corner to corner", moved(4.5, 4.5, 0.0), 18f64.sqrt()),
        ("touching", moved(1.5, 0.5, 0.0), 0.0),
        ("inside one another", moved(0.5, 0.5, 0.7), 0.0),
        ("a corner pointing at a side", moved(3.5, 0.5, PI / 4.0), 2.5 - 0.5f64.sqrt()),
    ];
    for (name, other, expected) in rows {
        assert!(
            (unit.distance_to(&other) - expected).abs() < 1e-12,
            "{name}: {}",
            unit.distance_to(&other)
        );
        assert!((other.distance_to(&unit) - expected).abs() < 1e-12, "{name}, the other way");
    }
}

#[test]
fn growing_and_least_sizes() {
    let r = OrientedRect { center: Point::ORIGIN, half_length: 0.5, half_width: 0.25, angle: 0.2 };
    assert!((r.grown(0.5).area() - 2.0 * 1.5).abs() < 1e-12);
    assert_eq!(r.grown(-1.0).area(), 0.0);
    let wide = r.at_least(1.0, 3.0);
    assert_eq!((wide.length(), wide.width()), (3.0, 1.0));
    assert!((wide.angle - 0.2 - FRAC_PI_2).abs() < 1e-12);
}

proptest! {
    #[test]
    fn no_direction_gives_a_smaller_box(
        pairs in prop::collection::vec((-50.0..50.0f64, -50.0..50.0f64), 1..40),
        tries in prop::collection::vec(0.0..PI, 20),
    ) {
        let points = points(&pairs);
        let r = OrientedRect::around(&points).expect("points");
        prop_assert!(r.half_length >= r.half_width && (0.0..PI).contains(&r.angle));
        for p in &points {
            prop_assert!(r.grown(1e-9).contains(*p));
        }
        for angle in tries {
            let extent = Calipers::new(&convex_hull(&points).expect("points")).boxes(&[angle % FRAC_PI_2]);
            prop_assert!(r.area() <= extent[0].area() * (1.0 + 1e-8) + 1e-9);
        }
    }

    #[test]
    fn turning_the_points_turns_the_box(pairs in prop::collection::vec((-5.0..5.0f64, -5.0..5.0f64), 3..20), angle in 0.0..6.0f64) {
        let (a, b) = (OrientedRect::around(&points(&pairs)), OrientedRect::around(&turned(&pairs, angle)));
        // The axes themselves are a candidate in both, so the turned box may be smaller but for rounding only.
        let (a, b) = (a.expect("points").area(), b.expect("points").area());
        prop_assert!((a - b).abs() <= 1e-7 * a.max(1e-3));
    }
}
