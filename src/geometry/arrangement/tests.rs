//! Helpers of the tests, and what must hold for every arrangement.

mod figures;
mod input;
mod panels;
mod random;

use super::*;
use crate::geometry::lattice::Span;
use std::f64::consts::TAU;

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

fn line(role: Role, points: &[(f64, f64)]) -> Line {
    let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    let mut edges: Vec<InputEdge> =
        points.windows(2).map(|w| InputEdge::straight(w[0], w[1])).collect();
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
    let edge =
        |i: usize| InputEdge { a: at(i), b: at((i + 1) % count), length: radius * step, bow };
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
    let same = found.len() == expected.len()
        && found.iter().zip(expected).all(|(f, e)| (f - e).abs() <= tolerance);
    assert!(same, "{name}: {found:?} for {expected:?}");
}

fn moved(lines: &[Line], by: kurbo::Affine) -> Vec<Line> {
    let flips = if by.determinant() < 0.0 { -1.0 } else { 1.0 };
    let edge = |e: &InputEdge| InputEdge {
        a: by * e.a,
        b: by * e.b,
        length: e.length,
        bow: e.bow * flips,
    };
    lines.iter().map(|l| Line { role: l.role, edges: l.edges.iter().map(edge).collect() }).collect()
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
        assert!(
            same || !a.edges.turns(edge).is_empty(),
            "the winding changes across {:?}",
            spans[number]
        );
    }
    assert!(a.faces.doubled[1..].iter().all(|d| *d > 0));
    let sum: f64 = a.panels().iter().map(|p| p.area).sum();
    let reached = a.area(Class::Reached);
    assert!((sum - reached).abs() <= 1e-12 * (1.0 + reached), "{sum} for {reached}");
    for panel in a.panels() {
        let region: f64 = panel
            .rings
            .iter()
            .map(|r| {
                r.iter()
                    .zip(r.iter().cycle().skip(1))
                    .map(|(p, q)| p.x * q.y - q.x * p.y)
                    .sum::<f64>()
                    / 2.0
            })
            .sum();
        let bowless = a.edges.all.iter().all(|e| e.bow == 0.0);
        assert!(!bowless || (region - panel.area).abs() < 1e-9 * (1.0 + panel.area));
    }
}
