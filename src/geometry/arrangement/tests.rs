//! Known figures, invariants of random arrangements, and comparison with set operations.

use super::*;
use crate::geometry::lattice::{LIMIT, Span};
use crate::geometry::region::Region;
use proptest::prelude::*;
use std::f64::consts::TAU;

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

fn line(role: Role, points: &[(f64, f64)]) -> Line {
    let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    let mut edges: Vec<InputEdge> = points.windows(2).map(|w| InputEdge::straight(w[0], w[1])).collect();
    if role != Role::Divider {
        edges.extend(points.last().zip(points.first()).map(|(a, b)| InputEdge::straight(*a, *b)));
    }
    Line { role, edges }
}

fn rect(role: Role, x0: f64, y0: f64, x1: f64, y1: f64) -> Line {
    line(role, &[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
}

fn divider(points: &[(f64, f64)]) -> Line {
    line(Role::Divider, points)
}

/// A circle as chords with their bows, counter-clockwise.
fn circle(role: Role, (x, y): (f64, f64), radius: f64, count: usize) -> Line {
    let step = TAU / count as f64;
    let at = |i: usize| Point::new(x, y) + kurbo::Vec2::from_angle(i as f64 * step) * radius;
    let bow = radius * radius * (step - step.sin()) / 2.0;
    let edge = |i: usize| InputEdge { a: at(i), b: at((i + 1) % count), length: radius * step, bow };
    Line { role, edges: (0..count).map(edge).collect() }
}

fn build(lines: &[Line]) -> Arrangement {
    Arrangement::build(lines, &Options::default()).expect("an arrangement")
}

fn scaled(lines: &[Line], by: f64) -> Vec<Line> {
    let edge = |e: &InputEdge| InputEdge {
        a: (e.a.to_vec2() * by).to_point(),
        b: (e.b.to_vec2() * by).to_point(),
        length: e.length * by,
        bow: e.bow * by * by,
    };
    lines.iter().map(|l| Line { role: l.role, edges: l.edges.iter().map(edge).collect() }).collect()
}

fn areas(arrangement: &Arrangement) -> Vec<f64> {
    let mut areas: Vec<f64> = arrangement.panels().iter().map(|p| p.area).collect();
    areas.sort_by(f64::total_cmp);
    areas
}

fn assert_areas(name: &str, found: &[f64], expected: &[f64], tolerance: f64) {
    let same = found.len() == expected.len() && found.iter().zip(expected).all(|(f, e)| (f - e).abs() <= tolerance);
    assert!(same, "{name}: {found:?} for {expected:?}");
}

#[test]
fn classes_of_known_figures() {
    let big = rect(Role::Outline, 0.0, 0.0, 10.0, 10.0);
    let l = line(Role::Outline, &[(0.0, 0.0), (24.0, 0.0), (24.0, 16.0), (14.0, 16.0), (14.0, 24.0), (0.0, 24.0)]);
    let l_back = line(Role::Outline, &[(0.0, 24.0), (14.0, 24.0), (14.0, 16.0), (24.0, 16.0), (24.0, 0.0), (0.0, 0.0)]);
    let rows: [(&str, Vec<Line>, [f64; 3]); 11] = [
        ("L (V-G1)", vec![l], [496.0; 3]),
        ("L clockwise (V-G1)", vec![l_back], [496.0; 3]),
        ("hole and zone", vec![big.clone(), rect(Role::Hole, 1.0, 1.0, 2.0, 2.0), rect(Role::Zone, 3.0, 3.0, 5.0, 5.0)], [100.0, 99.0, 95.0]),
        ("overlapping holes", vec![big.clone(), rect(Role::Hole, 1.0, 1.0, 5.0, 5.0), rect(Role::Hole, 3.0, 3.0, 7.0, 7.0)], [100.0, 72.0, 72.0]),
        ("one hole twice", vec![big.clone(), rect(Role::Hole, 1.0, 1.0, 5.0, 5.0), rect(Role::Hole, 1.0, 1.0, 5.0, 5.0)], [100.0, 84.0, 84.0]),
        ("zone across a hole", vec![big.clone(), rect(Role::Hole, 1.0, 1.0, 5.0, 5.0), rect(Role::Zone, 4.0, 4.0, 6.0, 6.0)], [100.0, 84.0, 81.0]),
        ("hole across the outline", vec![big.clone(), rect(Role::Hole, 8.0, 8.0, 12.0, 12.0)], [100.0, 96.0, 96.0]),
        ("hole outside", vec![big.clone(), rect(Role::Hole, 20.0, 8.0, 22.0, 12.0)], [100.0; 3]),
        ("hole along the outline", vec![big.clone(), rect(Role::Hole, 0.0, 0.0, 1.0, 10.0)], [100.0, 90.0, 90.0]),
        ("bow-tie, both lobes", vec![line(Role::Outline, &[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])], [2.0; 3]),
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
    for (name, metres, units) in [("1/64 in", INCH / 64.0, 127), ("1 mm", 0.001, 320), ("1 ft", FOOT, 97_536)] {
        assert_eq!(Site::near(Point::new(metres, -metres)), Ok(Site { x: units, y: -units }), "{name}");
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
    let around: f64 = a.boundary(Class::Reached).iter().filter(|e| e.beyond == Beyond::Hole).map(|e| e.length).sum();
    assert!((around - TAU * 4.0 * INCH).abs() < 1e-9);
    // Cut in half, the two halves of a disc are equal and add up.
    let halved = build(&[circle(Role::Outline, (0.0, 0.0), 5.0, 100), divider(&[(-6.0, 0.013), (6.0, 0.013)])]);
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
    let along: Vec<BoundaryEdge> = a.boundary(Class::Net).into_iter().filter(|e| e.beyond == Beyond::Zone).collect();
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
    let doubled = |ring: &[Point]| -> f64 { ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| p.x * q.y - q.x * p.y).sum() };
    let found: Vec<(usize, f64)> = rings.iter().map(|r| (r.len(), doubled(r) / 2.0)).collect();
    assert_eq!(found, [(6, 96.0), (4, 4.0), (4, -4.0), (4, -4.0)]);
    assert!((Region::from_rings(&rings).area() - a.area(Class::Reached)).abs() < 1e-6);
}

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
        ("1 in short of both walls", vec![divider(&[(6.0, INCH), (6.0, 8.0 - INCH)])], &[48.0, 48.0]),
        ("3 in short", vec![divider(&[(6.0, 3.0 * INCH), (6.0, 8.0)])], &[96.0]),
        ("1 in short of a divider", vec![across.clone(), divider(&[(0.0, 4.0), (6.0 - INCH, 4.0)])], &[24.0, 24.0, 48.0]),
        ("1 in past a divider", vec![across.clone(), divider(&[(0.0, 4.0), (6.0 + INCH, 4.0)])], &[24.0, 24.0, 48.0]),
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
        ("a closed divider", vec![divider(&[(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0), (1.0, 1.0)])], &[4.0, 92.0]),
        ("one that nearly closes", vec![divider(&[(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0), (1.0, 1.0 + INCH)])], &[4.0, 92.0]),
        ("drawn twice, a sixteenth apart", vec![across, divider(&[(6.0 + INCH / 16.0, 0.0), (6.0 - INCH / 16.0, 8.0)])], &[48.0, 48.0]),
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
fn bays_drawn_with_a_shaky_hand_are_all_panels() {
    // 12 x 12 bays of 6 m, each side of a bay a divider of its own, its ends off by up to 5, 15 and 20 mm in x and in y.
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut shake = |by: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        ((state >> 11) as f64 / (1_u64 << 53) as f64 * 2.0 - 1.0) * by
    };
    for (off, turn) in [(0.001, 0.0), (0.002, 0.4), (0.005, 0.0), (0.005, 0.5), (0.015, 0.3), (0.017, 0.0)] {
        let mut lines = vec![rect(Role::Outline, 0.0, 0.0, 72.0, 72.0)];
        for (x, y) in (0..12).flat_map(|i| (0..12).map(move |j| (f64::from(i) * 6.0, f64::from(j) * 6.0))) {
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
        assert!(found.iter().all(|area| (area - 36.0).abs() < 24.0 * off + 0.01), "off by {off}: {found:?}");
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
    let rows = [((1.0, 4.0), Some(0)), ((3.0, 4.0), Some(0)), ((9.0, 4.0), Some(1)), ((6.5, 4.0), None), ((-1.0, 4.0), None), ((0.0, 4.0), Some(0))];
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

#[test]
fn unusable_input_is_refused() {
    let good = rect(Role::Outline, 0.0, 0.0, 1.0, 1.0);
    let with = |change: fn(&mut Line)| {
        let mut changed = good.clone();
        change(&mut changed);
        Arrangement::build(&[good.clone(), changed], &Options::default()).map(|_| ())
    };
    let far = LIMIT as f64 / UNITS_PER_METRE;
    assert_eq!(with(|l| l.edges[1].a.x = f64::NAN), Err(ArrangementError::NotFinite { line: 1, edge: 1 }));
    assert_eq!(with(|l| l.edges[2].bow = f64::INFINITY), Err(ArrangementError::NotFinite { line: 1, edge: 2 }));
    assert_eq!(with(|l| l.edges[3].b.y = 1678.0), Err(ArrangementError::TooFar { line: 1, edge: 3 }));
    assert_eq!(with(|l| l.edges[3].b.y = -1e300), Err(ArrangementError::TooFar { line: 1, edge: 3 }));
    assert_eq!(with(|l| l.edges.truncate(2)), Err(ArrangementError::OpenRing { line: 1, edge: 0 }));
    assert_eq!(with(|l| l.edges.clear()), Ok(()));
    for bad in [f64::NAN, -1.0, 1e9] {
        let options = Options { snap: bad, ..Options::default() };
        assert_eq!(Arrangement::build(&[good.clone()], &options).map(|_| ()), Err(ArrangementError::BadTolerance));
    }
    let edge = far - 0.001;
    let largest = build(&[rect(Role::Outline, -edge, -edge, edge, edge), divider(&[(-edge, -edge), (edge, edge)])]);
    assert!((largest.area(Class::Net) - 4.0 * edge * edge).abs() < 1e-6);
    assert_eq!(largest.panels().len(), 2);
}

#[test]
fn a_tangle_is_given_up() {
    // Many different dividers on one line: every one has to be led through the ends of all others.
    let stack = |count: i32| -> Vec<Line> {
        (0..count).map(|i| divider(&[(-1.0 - f64::from(i) * 1e-3, 0.0), (1.0 + f64::from(i) * 1e-3, 0.0)])).collect()
    };
    let node = |count: i32| {
        let segments = Segments::read(&stack(count)).expect("good lines");
        noding::node(&segments, &mut Budget(1_000_000)).map(|n| n.pieces.len())
    };
    assert_eq!(node(30), Ok(30 * 30));
    assert_eq!(node(300).map(|_| ()), Err(ArrangementError::TooTangled));
}

/// What must hold for every arrangement.
fn check(a: &Arrangement) {
    let spans: Vec<Span> = face::spans(&a.sites, &a.edges);
    for (i, s) in spans.iter().enumerate() {
        for t in &spans[i + 1..] {
            assert!(!s.crosses(t), "{s:?} crosses {t:?}");
        }
    }
    for (site, s) in a.sites.iter().flat_map(|p| spans.iter().map(move |s| (p, s))) {
        assert!(!s.contains(*site) || s.a == *site || s.b == *site, "{site:?} lies within {s:?}");
    }
    let mut parts = union::Union::new(a.sites.len());
    for edge in &a.edges.all {
        parts.join(edge.u as usize, edge.v as usize);
    }
    let count = (0..a.sites.len()).filter(|i| parts.root(*i) == *i).count();
    // Euler: V - E + F = 1 + C.
    assert_eq!(a.sites.len() + a.faces.count(), a.edges.all.len() + 1 + count);
    for (number, edge) in a.edges.all.iter().enumerate() {
        let (left, right) = a.faces.beside(number);
        let same = a.windings[left as usize] == a.windings[right as usize];
        assert!(same || !a.edges.turns(edge).is_empty(), "the winding changes across {:?}", spans[number]);
    }
    assert!(a.faces.doubled[1..].iter().all(|d| *d > 0));
    let sum: f64 = a.panels().iter().map(|p| p.area).sum();
    let reached = a.area(Class::Reached);
    assert!((sum - reached).abs() <= 1e-12 * (1.0 + reached), "{sum} for {reached}");
    for panel in a.panels() {
        let region: f64 = panel.rings.iter().map(|r| r.iter().zip(r.iter().cycle().skip(1)).map(|(p, q)| p.x * q.y - q.x * p.y).sum::<f64>() / 2.0).sum();
        let bowless = a.edges.all.iter().all(|e| e.bow == 0.0);
        assert!(!bowless || (region - panel.area).abs() < 1e-9 * (1.0 + panel.area));
    }
}

fn role() -> impl Strategy<Value = Role> {
    prop_oneof![Just(Role::Outline), Just(Role::Hole), Just(Role::Zone)]
}

/// Points of a small lattice, so that many lines touch, overlap and pass through each other's vertices.
fn knot() -> impl Strategy<Value = (f64, f64)> {
    (0..9i32, 0..9i32).prop_map(|(x, y)| (f64::from(x), f64::from(y)))
}

fn any_lines() -> impl Strategy<Value = Vec<Line>> {
    let outline = (4..12i32, 4..12i32).prop_map(|(w, h)| rect(Role::Outline, -1.0, -1.0, f64::from(w), f64::from(h)));
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

fn moved(lines: &[Line], by: kurbo::Affine) -> Vec<Line> {
    let flips = if by.determinant() < 0.0 { -1.0 } else { 1.0 };
    let edge = |e: &InputEdge| InputEdge { a: by * e.a, b: by * e.b, length: e.length, bow: e.bow * flips };
    lines.iter().map(|l| Line { role: l.role, edges: l.edges.iter().map(edge).collect() }).collect()
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
