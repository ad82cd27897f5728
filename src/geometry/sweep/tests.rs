use super::*;
use crate::geometry::shapes::{hole, rect};
use proptest::prelude::*;
use std::f64::consts::TAU;

fn ring(pairs: &[(f64, f64)]) -> Vec<Point> {
    pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
}

const UP: Vec2 = Vec2::new(0.0, 1.0);

#[test]
fn area_behind_known_figures() {
    let l = ring(&[(0.0, 0.0), (24.0, 0.0), (24.0, 16.0), (14.0, 16.0), (14.0, 24.0), (0.0, 24.0)]);
    let triangle = ring(&[(0.0, 0.0), (6.0, 0.0), (0.0, 6.0)]);
    type Row<'a> = (&'a str, Vec<Vec<Point>>, Vec2, f64, f64);
    let rows: [Row<'_>; 9] = [
        ("L below its notch (V-G1)", vec![l.clone()], UP, 12.0, 288.0),
        ("L above its notch", vec![l.clone()], UP, 20.0, 384.0 + 56.0),
        ("L from the right", vec![l.clone()], Vec2::new(-1.0, 0.0), 10.0, 160.0),
        ("L whole", vec![l], UP, 99.0, 496.0),
        ("triangle", vec![triangle.clone()], UP, 2.0, 10.0),
        ("triangle from its corner", vec![triangle], Vec2::new(1.0, 1.0), 8f64.sqrt(), 8.0),
        (
            "hole half passed",
            vec![rect(0.0, 0.0, 10.0, 10.0), hole(2.0, 2.0, 8.0, 8.0)],
            UP,
            5.0,
            50.0 - 18.0,
        ),
        (
            "between two pieces",
            vec![rect(0.0, 0.0, 2.0, 1.0), rect(0.0, 3.0, 2.0, 4.0)],
            UP,
            2.0,
            2.0,
        ),
        ("before the start", vec![rect(0.0, 5.0, 2.0, 6.0)], UP, -1.0, 0.0),
    ];
    for (name, rings, normal, distance, expected) in rows {
        let sweep = Sweep::new(&Region::from_rings(&rings), normal);
        let area = sweep.area_behind(distance);
        assert!((area - expected).abs() < 1e-5, "{name}: {area} for {expected}");
        if expected > 0.0 {
            let back = sweep.distance_for(area).expect(name);
            assert!(
                (sweep.area_behind(back) - area).abs() < 1e-9 * expected,
                "{name}: back to {back}"
            );
        }
    }
}

#[test]
fn distances_that_have_to_be_chosen() {
    let two = Region::from_rings(&[rect(0.0, 0.0, 2.0, 1.0), rect(0.0, 3.0, 2.0, 4.0)]);
    let sweep = Sweep::new(&two, UP);
    assert!((sweep.distance_for(2.0).expect("half") - 1.0).abs() < 1e-6, "the smallest of many");
    assert_eq!(sweep.distance_for(0.0), Some(0.0));
    assert!((sweep.distance_for(two.area()).expect("all") - 4.0).abs() < 1e-6);
    assert_eq!(
        (sweep.distance_for(4.1), sweep.distance_for(-0.1), sweep.distance_for(f64::NAN)),
        (None, None, None)
    );
    assert!((sweep.start() - 0.0).abs() < 1e-6 && (sweep.end() - 4.0).abs() < 1e-6);
}

#[test]
fn nothing_to_sweep() {
    for sweep in [
        Sweep::new(&Region::empty(), UP),
        Sweep::new(&Region::from_rings(&[rect(0.0, 0.0, 1.0, 1.0)]), Vec2::ZERO),
        Sweep::new(&Region::from_rings(&[rect(0.0, 0.0, 1.0, 1.0)]), Vec2::new(f64::NAN, 1.0)),
    ] {
        assert_eq!((sweep.area_behind(1.0), sweep.distance_for(0.5)), (0.0, None));
        assert!(sweep.chord(0.5).is_empty());
    }
}

#[test]
fn chords_leave_out_holes() {
    let region = Region::from_rings(&[rect(0.0, 0.0, 10.0, 10.0), hole(2.0, 2.0, 8.0, 8.0)]);
    let sweep = Sweep::new(&region, UP);
    let ends: Vec<(f64, f64)> = sweep.chord(5.0).iter().map(|(a, b)| (a.x, b.x)).collect();
    let expected = [(8.0, 10.0), (0.0, 2.0)];
    assert_eq!(ends.len(), 2);
    for ((a, b), (low, high)) in ends.into_iter().zip(expected) {
        assert!((a.max(b) - high).abs() < 1e-6 && (a.min(b) - low).abs() < 1e-6);
    }
    assert_eq!(sweep.chord(-1.0).len() + sweep.chord(11.0).len(), 0);
}

proptest! {
    #[test]
    fn cutting_the_region_gives_the_same_area(
        radii in prop::collection::vec(1.0..9.0f64, 3..60),
        angle in 0.0..TAU,
        share in 0.0..1.0f64,
    ) {
        let step = TAU / radii.len() as f64;
        let outline: Vec<Point> = radii.iter().enumerate().map(|(i, r)| (Vec2::from_angle(i as f64 * step) * *r).to_point()).collect();
        let mut core: Vec<Point> = outline.iter().map(|p| (p.to_vec2() * 0.5).to_point()).collect();
        core.reverse();
        let region = Region::from_rings(&[outline, core]);
        let normal = Vec2::from_angle(angle);
        let sweep = Sweep::new(&region, normal);
        let distance = share * (sweep.end() - sweep.start());
        let behind = sweep.area_behind(distance);
        // Clipping each ring with the half plane, and the shoelace formula, give the same.
        let at = sweep.start() + distance;
        let expected: f64 = region.rings().iter().map(|ring| clipped_area(ring, normal, at)).sum();
        prop_assert!((behind - expected).abs() < 1e-9 * (1.0 + expected), "{} for {}", behind, expected);
        prop_assert!((sweep.area_behind(f64::MAX) - region.area()).abs() < 1e-9 * region.area());
        let back = sweep.distance_for(behind).expect("within the area");
        prop_assert!((sweep.area_behind(back) - behind).abs() < 1e-9 * (1.0 + behind));
        let width: f64 = sweep.chord(distance).iter().map(|(a, b)| a.distance(*b)).sum();
        let slope = (sweep.area_behind(distance + 1e-6) - sweep.area_behind(distance - 1e-6)) / 2e-6;
        prop_assert!((width - slope).abs() < 0.05 * (1.0 + width), "{} for {}", width, slope);
    }
}

fn clipped_area(ring: &[Point], normal: Vec2, at: f64) -> f64 {
    let place = |p: Point| p.to_vec2().dot(normal);
    let mut kept: Vec<Point> = Vec::new();
    for (a, b) in ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)) {
        if place(a) <= at {
            kept.push(a);
        }
        if (place(a) < at) != (place(b) < at) {
            kept.push(a.lerp(b, (at - place(a)) / (place(b) - place(a))));
        }
    }
    0.5 * kept
        .iter()
        .zip(kept.iter().cycle().skip(1))
        .map(|(p, q)| p.x * q.y - q.x * p.y)
        .sum::<f64>()
}
