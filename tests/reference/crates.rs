//! The two geometry crates against each other, and against the program's own paths: shapes with straight sides and arcs.
//!
//! kurbo gets the true arcs, as cubics within a nanometer; geo gets the polygon that the program makes of them. What the two
//! may differ by is then the flattening, and that is known: for areas and lengths to the last chord.

use geo::{Area, BoundingRect, Centroid, Contains, Euclidean, Length};
use kurbo::simplify::moment_integrals;
use kurbo::{BezPath, Point, Shape, Vec2};
use slabwalk::geometry::path::{Arc, Path, Segment};

/// Shapes that are tried.
const SHAPES: u64 = 400;
/// Points that are looked for in each shape.
const POINTS: usize = 60;
/// How far kurbo's cubics may be from an arc, m.
const CUBIC_M: f64 = 1e-9;
/// How far a chord may be from its arc, m (`FLATTEN_TOLERANCE` of the program).
const CHORD_M: f64 = 5e-6;
/// Rounding of sums, as a part.
const PART: f64 = 1e-9;

/// Numbers from 0 to 1, always the same for a seed (SplitMix64).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn real(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

/// A shape about the point (4, 3): corners around it, some sides bulging out or in, some of them not at all.
fn shape(dice: &mut Dice) -> Path {
    let count = 3 + (dice.next() * 6.0) as usize;
    let middle = Point::new(4.0, 3.0);
    let corners: Vec<Point> = (0..count)
        .map(|i| {
            let turn = (i as f64 + dice.real(-0.2, 0.2)) / count as f64 * std::f64::consts::TAU;
            middle + dice.real(2.0, 6.0) * Vec2::from_angle(turn)
        })
        .collect();
    let sides = (0..count).map(|i| {
        let (a, b) = (corners[i], corners[(i + 1) % count]);
        let bulge = [0.0, 0.0, 0.04, -0.04][(dice.next() * 4.0) as usize] * dice.real(0.1, 1.0);
        let square = Vec2::new((b - a).y, -(b - a).x);
        Arc::through(a, a.midpoint(b) + bulge * square, b)
            .map_or(Segment::Line { a, b }, Segment::Arc)
    });
    Path::new(sides.collect())
}

/// The shape with true arcs.
fn curves(path: &Path) -> BezPath {
    let mut out = BezPath::new();
    out.move_to(path.start());
    for segment in path.segments() {
        match segment {
            Segment::Line { b, .. } => out.line_to(*b),
            Segment::Arc(arc) => {
                let radii = Vec2::new(arc.radius, arc.radius);
                let arc = kurbo::Arc::new(arc.center, radii, arc.start, arc.sweep, 0.0);
                arc.append_iter(CUBIC_M).for_each(|el| out.push(el));
            }
        }
    }
    out.close_path();
    out
}

/// The shape as the program flattens it.
fn polygon(path: &Path) -> geo::Polygon<f64> {
    let ring: Vec<(f64, f64)> = path.ring().iter().map(|p| (p.x, p.y)).collect();
    geo::Polygon::new(ring.into(), Vec::new())
}

/// Fails where two values part by more than what is allowed.
fn close(name: &str, a: f64, b: f64, allowed: f64) {
    assert!((a - b).abs() <= allowed, "{name}: {a} and {b}");
}

fn every_shape(look: impl Fn(u64, &mut Dice, &Path)) {
    for seed in 0..SHAPES {
        let mut dice = Dice(seed);
        let path = shape(&mut dice);
        look(seed, &mut dice, &path);
    }
}

#[test]
fn areas_of_the_two_crates_differ_by_what_chords_cut_off() {
    every_shape(|seed, _, path| {
        let (true_arcs, flat) = (curves(path).area(), polygon(path).signed_area());
        let cut: f64 = path.chords().iter().map(|chord| chord.bow).sum();
        let allowed = PART * true_arcs.abs() + CUBIC_M * path.length();
        close(&format!("{seed}"), flat + cut, true_arcs, allowed);
        close(&format!("{seed} ours"), path.signed_area(), true_arcs, allowed);
        assert!(cut.abs() <= 1e-5 * true_arcs, "{seed}: flattening takes {cut} of {true_arcs}");
    });
}

#[test]
fn lengths_of_the_two_crates_differ_by_what_chords_cut_short() {
    every_shape(|seed, _, path| {
        let true_arcs = curves(path).perimeter(CUBIC_M);
        let flat = Euclidean.length(polygon(path).exterior());
        let short: f64 = path.chords().iter().map(|c| c.length - (c.b - c.a).hypot()).sum();
        let allowed = PART * true_arcs + 1e-8;
        close(&format!("{seed}"), flat + short, true_arcs, allowed);
        close(&format!("{seed} ours"), path.length(), true_arcs, allowed);
        assert!((0.0..=1e-5 * true_arcs).contains(&(short + PART)), "{seed}: {short}");
    });
}

#[test]
fn boxes_of_the_two_crates_differ_by_the_height_of_a_chord() {
    every_shape(|seed, _, path| {
        let (whole, ours) = (curves(path).bounding_box(), path.bounds());
        let flat = polygon(path).bounding_rect().expect("a box");
        let sides = [
            (flat.min().x, whole.x0, ours.x0),
            (flat.min().y, whole.y0, ours.y0),
            (-flat.max().x, -whole.x1, -ours.x1),
            (-flat.max().y, -whole.y1, -ours.y1),
        ];
        for (flat, whole, ours) in sides {
            close(&format!("{seed} ours"), ours, flat, 1e-12);
            assert!(
                flat >= whole - 2.0 * CUBIC_M && flat <= whole + CHORD_M + 2.0 * CUBIC_M,
                "{seed}: {flat} {whole}"
            );
        }
    });
}

#[test]
fn centroids_of_the_two_crates_differ_by_less_than_a_chord() {
    every_shape(|seed, _, path| {
        let (area, x, y) = curves(path)
            .segments()
            .map(|segment| moment_integrals(segment.to_cubic()))
            .fold((0.0, 0.0, 0.0), |sum, m| (sum.0 + m.0, sum.1 + m.1, sum.2 + m.2));
        let flat = polygon(path).centroid().expect("a centroid");
        close(&format!("{seed} x"), flat.x(), x / area, CHORD_M);
        // kurbo's third integral is that of y² dx, twice the moment.
        close(&format!("{seed} y"), flat.y(), y / 2.0 / area, CHORD_M);
    });
}

#[test]
fn both_crates_find_the_same_points_inside() {
    every_shape(|seed, dice, path| {
        let (arcs, flat) = (curves(path), polygon(path));
        for _ in 0..POINTS {
            let p = Point::new(dice.real(-3.0, 11.0), dice.real(-4.0, 10.0));
            // Nearer than a chord's height to the edge the two may part, and should.
            let (_, away) = path.nearest(p);
            if away > 2.0 * CHORD_M {
                let (a, b) = (arcs.winding(p) != 0, flat.contains(&geo::Point::new(p.x, p.y)));
                assert_eq!(a, b, "{seed}: {p:?}");
            }
        }
    });
}
