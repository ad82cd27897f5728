//! Faces of the arrangement: which edge borders what.
//!
//! Edge `e` gives two half-edges: `2 e` from its smaller to its greater site and `2 e + 1` back. A half-edge has its
//! face on its left.

use super::edge::Edges;
use super::locate::Locator;
use super::union::Union;
use crate::geometry::cells::sorted_by_key;
use crate::geometry::lattice::{Site, Span, cross};
use std::cmp::Ordering;

/// The unbounded face.
pub(super) const UNBOUNDED: u32 = 0;

/// Half-edges leaving each site, counter-clockwise.
#[derive(Debug, Clone)]
pub(super) struct Fans {
    starts: Vec<u32>,
    leaving: Vec<u32>,
    /// For each half-edge its place in the fan of its origin, counted through all fans.
    places: Vec<u32>,
}

impl Fans {
    pub fn new(sites: &[Site], edges: &Edges) -> Fans {
        let mut starts = vec![0_u32; sites.len() + 1];
        for edge in &edges.all {
            starts[edge.u as usize + 1] += 1;
            starts[edge.v as usize + 1] += 1;
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut free = starts.clone();
        let mut leaving = vec![0_u32; 2 * edges.all.len()];
        for (number, edge) in edges.all.iter().enumerate() {
            for (site, half) in [(edge.u, 2 * number), (edge.v, 2 * number + 1)] {
                leaving[free[site as usize] as usize] = half as u32;
                free[site as usize] += 1;
            }
        }
        let far = |half: u32| sites[target(edges, half) as usize];
        for (site, range) in sites.iter().zip(starts.windows(2)) {
            leaving[range[0] as usize..range[1] as usize]
                .sort_unstable_by(|a, b| by_angle(*site, far(*a), far(*b)));
        }
        let mut places = vec![0_u32; leaving.len()];
        for (place, half) in leaving.iter().enumerate() {
            places[*half as usize] = place as u32;
        }
        Fans { starts, leaving, places }
    }

    /// The half-edge that leaves the same site next in clockwise direction.
    pub fn clockwise(&self, origin: u32, half: u32) -> u32 {
        let (start, end) = (self.starts[origin as usize], self.starts[origin as usize + 1]);
        let place = self.places[half as usize];
        self.leaving[if place == start { end - 1 } else { place - 1 } as usize]
    }
}

/// The site a half-edge starts from.
pub(super) fn origin(edges: &Edges, half: u32) -> u32 {
    let edge = &edges.all[half as usize / 2];
    if half.is_multiple_of(2) { edge.u } else { edge.v }
}

/// The site a half-edge leads to.
pub(super) fn target(edges: &Edges, half: u32) -> u32 {
    origin(edges, half ^ 1)
}

/// Order of the directions from `o` to `a` and to `b`, counter-clockwise from due east.
fn by_angle(o: Site, a: Site, b: Site) -> Ordering {
    let lower = |p: Site| p.y < o.y || (p.y == o.y && p.x < o.x);
    lower(a).cmp(&lower(b)).then_with(|| 0.cmp(&cross(o, a, b)))
}

/// Faces and what lies in them.
#[derive(Debug, Clone)]
pub(super) struct Faces {
    /// For each half-edge the face on its left.
    pub of_half: Vec<u32>,
    /// For each face twice its area in square units, without bows; 0 for the unbounded face.
    pub doubled: Vec<i128>,
    /// A half-edge of each closed walk along a border, by face.
    borders: Vec<u32>,
    first_border: Vec<u32>,
}

/// A closed walk with its face on the left.
struct Walk {
    start: u32,
    doubled: i128,
}

impl Faces {
    pub fn new(sites: &[Site], edges: &Edges, fans: &Fans, locator: &Locator) -> Faces {
        let (walk_of, walks) = walks(sites, edges, fans);
        // A connected part has one walk around its outside, which does not run counter-clockwise; all its other
        // walks do, and each is the outer border of a face of its own.
        let mut faces = 1;
        let mut face_of_walk: Vec<Option<u32>> = walks
            .iter()
            .map(|walk| {
                (walk.doubled > 0).then(|| {
                    faces += 1;
                    faces - 1
                })
            })
            .collect();
        // Parts come in the order of their leftmost sites, so that whatever lies left of one is already placed.
        for (site, outside) in outsides(sites, edges, &walk_of, &walks) {
            let beneath = locator
                .beneath(sites[site as usize])
                .and_then(|half| face_of_walk[walk_of[half as usize] as usize]);
            face_of_walk[outside] = Some(beneath.unwrap_or(UNBOUNDED));
        }
        let face = |walk: usize| face_of_walk[walk].unwrap_or(UNBOUNDED);
        let mut doubled = vec![0; faces as usize];
        for (number, walk) in walks.iter().enumerate() {
            doubled[face(number) as usize] += walk.doubled;
        }
        doubled[UNBOUNDED as usize] = 0;
        let starts: Vec<(u32, u32)> =
            walks.iter().enumerate().map(|(number, walk)| (face(number), walk.start)).collect();
        let (first_border, borders) = sorted_by_key(faces as usize, &starts);
        Faces {
            of_half: walk_of.iter().map(|walk| face(*walk as usize)).collect(),
            doubled,
            borders,
            first_border,
        }
    }

    pub fn count(&self) -> usize {
        self.doubled.len()
    }

    /// A half-edge of each closed walk along the border of a face.
    pub fn borders(&self, face: u32) -> &[u32] {
        &self.borders[self.first_border[face as usize] as usize
            ..self.first_border[face as usize + 1] as usize]
    }

    /// Faces on the left and on the right of an edge.
    pub fn beside(&self, edge: usize) -> (u32, u32) {
        (self.of_half[2 * edge], self.of_half[2 * edge + 1])
    }
}

/// The half-edge that follows on the border of the face on the left: the sharpest turn to the left.
pub(super) fn next(edges: &Edges, fans: &Fans, half: u32) -> u32 {
    fans.clockwise(target(edges, half), half ^ 1)
}

fn walks(sites: &[Site], edges: &Edges, fans: &Fans) -> (Vec<u32>, Vec<Walk>) {
    const UNSEEN: u32 = u32::MAX;
    let mut walk_of = vec![UNSEEN; 2 * edges.all.len()];
    let mut walks = Vec::new();
    for start in 0..walk_of.len() as u32 {
        if walk_of[start as usize] != UNSEEN {
            continue;
        }
        let mut doubled = 0;
        let mut half = start;
        while walk_of[half as usize] == UNSEEN {
            walk_of[half as usize] = walks.len() as u32;
            let (a, b) = (sites[origin(edges, half) as usize], sites[target(edges, half) as usize]);
            doubled += i128::from(a.x * b.y - b.x * a.y);
            half = next(edges, fans, half);
        }
        walks.push(Walk { start, doubled });
    }
    (walk_of, walks)
}

/// For each connected part its first site and the walk around its outside, in the order of the sites.
fn outsides(sites: &[Site], edges: &Edges, walk_of: &[u32], walks: &[Walk]) -> Vec<(u32, usize)> {
    let mut parts = Union::new(sites.len());
    for edge in &edges.all {
        parts.join(edge.u as usize, edge.v as usize);
    }
    let mut found: Vec<(u32, usize)> = Vec::new();
    for (number, walk) in walks.iter().enumerate() {
        debug_assert_eq!(walk_of[walk.start as usize] as usize, number);
        if walk.doubled <= 0 {
            found.push((parts.root(origin(edges, walk.start) as usize) as u32, number));
        }
    }
    found.sort_unstable();
    found
}

/// The spans of all edges, from smaller to greater site.
pub(super) fn spans(sites: &[Site], edges: &Edges) -> Vec<Span> {
    edges.all.iter().map(|e| Span { a: sites[e.u as usize], b: sites[e.v as usize] }).collect()
}
