//! The region around which raw curves wind a positive number of times.
//!
//! The set operations of the region module do the same. But the moved boundary of a tight hollow makes a bundle of hundreds of
//! edges through nearly one point, and that takes them minutes. Snap rounding doesn't mind.

use super::edge::Edges;
use super::face::{self, Faces, Fans, UNBOUNDED, next};
use super::locate::Locator;
use super::noding;
use super::segment::{Budget, Segment, Segments};
use super::trace;
use super::{Line, Role};
use crate::geometry::lattice::{LIMIT, Site, Span, UNITS_PER_METRE};
use kurbo::{Point, Rect, Vec2};

/// Comparisons made before giving up; several seconds' worth.
const MOST_STEPS: u64 = 2_000_000_000;

/// The border rings of the points around which the rings wind more often counter-clockwise than clockwise: outer rings
/// counter-clockwise, holes clockwise, each visiting a point once, no repeated last point. `None` when the input is not
/// finite or too tangled.
///
/// The lattice is fitted to the input: its step is between 2^-29 and 2^-28 of the extent.
pub(crate) fn positive(rings: &[Vec<Point>]) -> Option<Vec<Vec<Point>>> {
    let boxes = rings.iter().flatten().map(|p| Rect::from_points(*p, *p));
    let Some(bounds) = boxes.reduce(|a, b| a.union(b)) else {
        return Some(Vec::new());
    };
    let fit = Fit { center: bounds.center().to_vec2(), scale: scale(bounds)? };
    let segments = Segments { all: segments(rings, &fit)?, of_line: Vec::new() };
    let noding = noding::node(&segments, &mut Budget(MOST_STEPS)).ok()?;
    let edges = Edges::new(&noding, &segments, &[Line { role: Role::Outline, edges: Vec::new() }]);
    let sites = noding.sites;
    let fans = Fans::new(&sites, &edges);
    let locator = Locator::new(face::spans(&sites, &edges));
    let faces = Faces::new(&sites, &edges, &fans, &locator);
    let sums = sums(&edges, &fans, &faces);
    let groups: Vec<Option<u32>> = sums.iter().map(|w| (*w > 0).then_some(0)).collect();
    let found = trace::rings(&sites, &edges, &fans, &faces, &groups);
    let back = |ring: trace::Ring| ring.points.into_iter().map(|p| fit.back(p)).collect();
    Some(found.into_iter().map(back).collect())
}

/// The edges of all rings on the fitted lattice, as if they were one line.
fn segments(rings: &[Vec<Point>], fit: &Fit) -> Option<Vec<Segment>> {
    let mut all = Vec::new();
    for ring in rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let span = Span { a: fit.site(*a)?, b: fit.site(*b)? };
            if span.a != span.b {
                all.push(Segment { span, line: 0, edge: 0, from: 0.0, to: 1.0 });
            }
        }
    }
    Some(all)
}

/// The placement of the input on the lattice.
struct Fit {
    center: Vec2,
    scale: f64,
}

impl Fit {
    fn site(&self, p: Point) -> Option<Site> {
        Site::near(((p - self.center).to_vec2() * self.scale).to_point()).ok()
    }

    fn back(&self, p: Point) -> Point {
        (p.to_vec2() / self.scale + self.center).to_point()
    }
}

/// The power of two that brings the box just within the limit of the lattice.
fn scale(bounds: Rect) -> Option<f64> {
    let half = bounds.width().max(bounds.height()) / 2.0;
    let room = 0.99 * LIMIT as f64 / UNITS_PER_METRE;
    let scale = (room / half).log2().floor().exp2();
    (half > 0.0 && scale.is_finite() && scale > 0.0).then_some(scale)
}

/// How many times the curves wind around each face.
fn sums(edges: &Edges, fans: &Fans, faces: &Faces) -> Vec<i32> {
    let mut found: Vec<Option<i32>> = vec![None; faces.count()];
    found[UNBOUNDED as usize] = Some(0);
    let mut waiting = vec![UNBOUNDED];
    while let Some(face) = waiting.pop() {
        let Some(here) = found[face as usize] else {
            continue;
        };
        for start in faces.borders(face) {
            let mut half = *start;
            loop {
                let across = faces.of_half[(half ^ 1) as usize] as usize;
                if found[across].is_none() {
                    let growth: i32 =
                        edges.turns(&edges.all[half as usize / 2]).iter().map(|t| t.growth).sum();
                    found[across] =
                        Some(if half.is_multiple_of(2) { here - growth } else { here + growth });
                    waiting.push(across as u32);
                }
                half = next(edges, fans, half);
                if half == *start {
                    break;
                }
            }
        }
    }
    found.into_iter().map(Option::unwrap_or_default).collect()
}
