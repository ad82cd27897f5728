//! Panels of known figures.

use super::*;

#[test]
fn dividers_make_panels() {
    let slab = rect(Role::Outline, 0.0, 0.0, 12.0, 8.0);
    let across = divider(&[(6.0, 0.0), (6.0, 8.0)]);
    let rows: [(&str, Vec<Line>, &[f64]); 14] = [
        ("none", vec![], &[96.0]),
        ("one", vec![across.clone()], &[48.0, 48.0]),
        ("running past the walls", vec![divider(&[(6.0, -1.0), (6.0, 9.0)])], &[48.0, 48.0]),
        ("a cross", vec![across.clone(), divider(&[(0.0, 4.0), (12.0, 4.0)])], &[24.0; 4]),
        ("ending on open floor", vec![divider(&[(6.0, 0.0), (6.0, 5.0)])], &[96.0]),
        (
            "1 in short of both walls",
            vec![divider(&[(6.0, INCH), (6.0, 8.0 - INCH)])],
            &[48.0, 48.0],
        ),
        ("3 in short", vec![divider(&[(6.0, 3.0 * INCH), (6.0, 8.0)])], &[96.0]),
        (
            "1 in short of a divider",
            vec![across.clone(), divider(&[(0.0, 4.0), (6.0 - INCH, 4.0)])],
            &[24.0, 24.0, 48.0],
        ),
        (
            "1 in past a divider",
            vec![across.clone(), divider(&[(0.0, 4.0), (6.0 + INCH, 4.0)])],
            &[24.0, 24.0, 48.0],
        ),
        (
            "four ends an inch off their meeting",
            vec![
                divider(&[(6.0, 0.0), (6.0, 4.0 - INCH)]),
                divider(&[(6.0, 4.0 + INCH), (6.0, 8.0)]),
                divider(&[(0.0, 4.0), (6.0 - INCH, 4.0)]),
                divider(&[(6.0 + INCH, 4.0), (12.0, 4.0)]),
            ],
            &[24.0; 4],
        ),
        (
            "four ends an inch past their meeting",
            vec![
                divider(&[(6.0, 0.0), (6.0, 4.0 + INCH)]),
                divider(&[(6.0, 4.0 - INCH), (6.0, 8.0)]),
                divider(&[(0.0, 4.0), (6.0 + INCH, 4.0)]),
                divider(&[(6.0 - INCH, 4.0), (12.0, 4.0)]),
            ],
            &[24.0; 4],
        ),
        (
            "a closed divider",
            vec![divider(&[(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0), (1.0, 1.0)])],
            &[4.0, 92.0],
        ),
        (
            "one that nearly closes",
            vec![divider(&[(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0), (1.0, 1.0 + INCH)])],
            &[4.0, 92.0],
        ),
        (
            "drawn twice, a sixteenth apart",
            vec![across, divider(&[(6.0 + INCH / 16.0, 0.0), (6.0 - INCH / 16.0, 8.0)])],
            &[48.0, 48.0],
        ),
    ];
    for (name, dividers, expected) in rows {
        let lines: Vec<Line> = std::iter::once(slab.clone()).chain(dividers).collect();
        let a = build(&lines);
        check(&a);
        assert_areas(name, &areas(&a), expected, 0.02);
        let sum: f64 = areas(&a).iter().sum();
        assert!((sum - 96.0).abs() < 1e-12, "{name}: {sum}");
    }
}

#[test]
fn an_end_that_has_run_past_a_line_is_not_led_back_to_it() {
    let slab = rect(Role::Outline, 0.0, 0.0, 12.0, 8.0);
    let across = divider(&[(6.0, 0.0), (6.0, 8.0)]);
    let past = divider(&[(4.5, 0.0), (6.0 + 1.5 * INCH, 4.0 + 4.0 * INCH)]);
    let along = divider(&[(4.5, 0.0), (6.02, 4.0), (6.02, 4.15)]);
    let round = circle(Role::Hole, (6.0, 4.0), 1.0, 64);
    let beside = divider(&[(0.0, 4.0), (5.1, 4.0), (5.06, 4.4), (4.99, 4.3)]);
    // By hand: the triangle between the wall, the line and the one that passes it; no speck beyond.
    let rows: [(&str, Vec<Line>, &[f64]); 3] = [
        ("at a slant", vec![across.clone(), past], &[3.0, 45.0, 48.0]),
        ("bending along it", vec![across, along], &[2.960_526, 45.039_474, 48.0]),
        ("round a hole", vec![round, beside], &[96.0 - std::f64::consts::PI]),
    ];
    for (name, lines, expected) in rows {
        let lines: Vec<Line> = std::iter::once(slab.clone()).chain(lines).collect();
        let a = build(&lines);
        check(&a);
        assert_areas(name, &areas(&a), expected, 0.001);
    }
}

#[test]
fn an_end_short_of_one_wall_is_led_to_it_wherever_its_line_comes_from() {
    // From the wall beside the one it nearly reaches: it has left the neighborhood of both on the way.
    let slab = rect(Role::Outline, 0.0, 0.0, 10.0, 8.0);
    let rows: [(&str, &[(f64, f64)], f64); 3] = [
        ("from far off", &[(5.0, 0.0), (9.97, 0.2)], 0.5),
        ("the same with a point on the way", &[(5.0, 0.0), (9.473, 0.18), (9.97, 0.2)], 0.5),
        ("from near the corner", &[(9.7, 0.0), (9.97, 0.2)], 0.03),
    ];
    for (name, points, corner) in rows {
        let a = build(&[slab.clone(), divider(points)]);
        check(&a);
        assert_areas(name, &areas(&a), &[corner, 80.0 - corner], 0.005);
    }
}

#[test]
fn a_strip_of_three_inches_is_divided() {
    // All points of the divider are within two inches of the edge that it nearly reaches; but it comes from another part of it.
    let neck = 3.0 * INCH;
    let corners = [
        (0.0, 0.0),
        (10.0, 0.0),
        (10.0, 4.0),
        (6.0, 4.0),
        (6.0, neck),
        (4.0, neck),
        (4.0, 4.0),
        (0.0, 4.0),
    ];
    for first in 0..corners.len() {
        let mut ring = corners;
        ring.rotate_left(first);
        let across = divider(&[(5.0, 0.0), (5.0, 2.2 * INCH)]);
        let a = build(&[line(Role::Outline, &ring), across]);
        check(&a);
        assert_areas("neck", &areas(&a), &[16.0 + neck; 2], 1e-4);
    }
}

#[test]
fn bays_drawn_with_a_shaky_hand_are_all_panels() {
    // 12 x 12 bays of 6 m, each side of a bay a divider of its own, its ends off by up to 5, 15 and 20 mm in x and in y.
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut shake = |by: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        ((state >> 11) as f64 / (1_u64 << 53) as f64 * 2.0 - 1.0) * by
    };
    for (off, turn) in
        [(0.001, 0.0), (0.002, 0.4), (0.005, 0.0), (0.005, 0.5), (0.015, 0.3), (0.017, 0.0)]
    {
        let mut lines = vec![rect(Role::Outline, 0.0, 0.0, 72.0, 72.0)];
        for (x, y) in
            (0..12).flat_map(|i| (0..12).map(move |j| (f64::from(i) * 6.0, f64::from(j) * 6.0)))
        {
            let mut end = |dx: f64, dy: f64| (x + dx + shake(off), y + dy + shake(off));
            if x > 0.0 {
                lines.push(divider(&[end(0.0, 0.0), end(0.0, 6.0)]));
            }
            if y > 0.0 {
                lines.push(divider(&[end(0.0, 0.0), end(6.0, 0.0)]));
            }
        }
        let a = build(&moved(&lines, kurbo::Affine::rotate(turn)));
        let found = areas(&a);
        assert_eq!(found.len(), 144, "off by {off}, turned by {turn}");
        assert!(
            found.iter().all(|area| (area - 36.0).abs() < 24.0 * off + 0.01),
            "off by {off}: {found:?}"
        );
    }
}

#[test]
fn zones_do_not_divide_but_holes_do() {
    let lines = [
        rect(Role::Outline, 0.0, 0.0, 12.0, 8.0),
        rect(Role::Zone, 2.0, 0.0, 4.0, 8.0),
        rect(Role::Hole, 6.0, 1.0, 7.0, 7.0),
        divider(&[(6.5, 0.0), (6.5, 1.0)]),
        divider(&[(6.5, 7.0 + INCH), (6.5, 8.0)]),
    ];
    let a = build(&lines);
    assert_areas("panels", &areas(&a), &[41.0, 49.0], 0.01);
    let named: Vec<&[usize]> = a.panels().iter().map(|p| p.dividers.as_slice()).collect();
    assert_eq!(named, [&[3, 4], &[3, 4]]);
    let rows = [
        ((1.0, 4.0), Some(0)),
        ((3.0, 4.0), Some(0)),
        ((9.0, 4.0), Some(1)),
        ((6.5, 4.0), None),
        ((-1.0, 4.0), None),
        ((0.0, 4.0), Some(0)),
    ];
    for ((x, y), panel) in rows {
        assert_eq!(a.panel_at(Point::new(x, y)), panel, "({x}, {y})");
    }
    assert_eq!(a.panel_at(Point::new(f64::NAN, 0.0)), None);
}

#[test]
fn overlapping_dividers_share_their_edges() {
    // V-G3, slanted and off by a sixteenth of an inch: 24 ft of divider, not 34. A divider has no boundary of its own,
    // so the length is read where it bounds a zone on one side.
    let slant = |d: f64, off: f64| (d * FOOT * 0.96 - off * 0.28, d * FOOT * 0.28 + off * 0.96);
    let lines = [
        rect(Role::Outline, -1.0, -1.0, 10.0, 10.0),
        divider(&[slant(0.0, 0.0), slant(24.0, 0.0)]),
        divider(&[slant(10.0, INCH / 16.0), slant(20.0, -INCH / 16.0)]),
    ];
    let a = build(&lines);
    let length: f64 = a.edges.all.iter().filter(|e| e.divides).map(|e| e.length).sum();
    assert!((length / FOOT - 24.0).abs() < 0.01, "{}", length / FOOT);
}
