//! Revision clouds: arcs that bulge outward round what changed, with the number of the revision in a triangle.

use crate::ink::{Group, Mark, PaperPoint, Step};

use super::floor::{Drawn, Shape};
use super::look;
use crate::paper::clear::{Clear, Slip};
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::mm::{Box2, Shift, at, by, length, lerp};

/// Air between a thing and its cloud, mm.
const AIR: f64 = 3.0;
/// Chord of one arc, mm, about.
const CHORD: f64 = 5.0;
/// How far an arc bulges, as a share of its chord.
const BULGE: f64 = 0.35;
/// Side of the triangle, mm.
const SIDE: f64 = 9.5;

/// A ring round a thing.
pub(crate) fn ring(shape: &Shape) -> Vec<PaperPoint> {
    match shape {
        Shape::Line(runs) => {
            let longest = runs
                .iter()
                .max_by(|a, b| length(a).total_cmp(&length(b)))
                .cloned()
                .unwrap_or_default();
            let straight = runs.len() == 1 && longest.len() == 2;
            let all: Vec<_> = runs.iter().flatten().copied().collect();
            if straight { corridor(&longest) } else { Box2::of(&all).grown(AIR).corners().to_vec() }
        }
        Shape::Area(rings) => {
            let all: Vec<_> = rings.iter().flatten().copied().collect();
            Box2::of(&all).grown(AIR).corners().to_vec()
        }
        Shape::Spot(p) => Box2::around(*p, 2.0 * AIR, 2.0 * AIR).corners().to_vec(),
    }
}

/// A rectangle along a straight run.
fn corridor(run: &[PaperPoint]) -> Vec<PaperPoint> {
    let along = (run[1] - run[0]).unit() * AIR;
    let side = along.left();
    let (a, b) = (run[0] + (-along), run[1] + along);
    vec![a + side, b + side, b + (-side), a + (-side)]
}

/// A cloud along a ring: arcs of even chords, each bulging away from the inside.
pub(crate) fn cloud(ring: &[PaperPoint]) -> Mark {
    let mut ring = ring.to_vec();
    // Clockwise on paper, so that the outside lies to the left of the way.
    let mut closed = ring.clone();
    closed.extend(ring.first().copied());
    if hatch::ring_area(&closed) < 0.0 {
        ring.reverse();
    }
    let mut steps = Vec::new();
    for (i, &a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        let n = ((b - a).length() / CHORD).round().clamp(1.0, 400.0);
        if i == 0 {
            steps.push(Step::Move(a));
        }
        let mut k = 0.0;
        while k < n {
            let (p, q) = (lerp(a, b, k / n), lerp(a, b, (k + 1.0) / n));
            // The handles of an arc stand 4/3 of its height off the chord.
            let out = (q - p).left() * (BULGE * 4.0 / 3.0);
            let lean = (q - p) * 0.08;
            steps.push(Step::Cubic(p + out + (-lean), q + out + lean, q));
            k += 1.0;
        }
    }
    steps.push(Step::Close);
    draw::path(steps, Some(look::CLOUD), None)
}

/// Clouds round the items with these ids, each with its triangle. Nothing else is put on them.
pub(crate) fn clouds(drawn: &[Drawn], clouded: &[(String, u32)], clear: &mut Clear) -> Vec<Group> {
    let mut order: Vec<&(String, u32)> = clouded.iter().collect();
    order.sort();
    order.dedup();
    let mut rings = Vec::new();
    for (id, revision) in order {
        for d in drawn.iter().filter(|d| d.ids.contains(id)) {
            let ring = inside(&ring(&d.shape), clear.bounds());
            clear.add_ring(&outer(&ring));
            rings.push((ring, *revision));
        }
    }
    let mut out = Vec::new();
    for (ring, revision) in rings {
        let mut marks = vec![cloud(&ring)];
        if let Some(p) = place(&ring, clear) {
            clear.add(Slip::upright(&Box2::around(p, SIDE + 0.6, SIDE)));
            marks.extend(triangle(p, revision));
        }
        out.push(draw::group("", "revision", marks));
    }
    out
}

/// Held inside the window with room for the arcs.
fn inside(ring: &[PaperPoint], window: &Box2) -> Vec<PaperPoint> {
    let b = window.grown(-(CHORD * BULGE + 0.6));
    let hold = |p: &PaperPoint| at(p.x.clamp(b.left, b.right), p.y.clamp(b.top, b.bottom));
    ring.iter().map(hold).collect()
}

/// The ring through the tops of the arcs, about.
fn outer(ring: &[PaperPoint]) -> Vec<PaperPoint> {
    let c = Box2::of(ring).center();
    ring.iter().map(|&p| p + (p - c).unit() * (CHORD * BULGE * 1.5)).collect()
}

/// Where the triangle stands: outside the ring, square off one of its sides or beyond a corner, the
/// nearest free place first. Where nothing is free it stands on the ring itself, held inside the window.
fn place(ring: &[PaperPoint], clear: &Clear) -> Option<PaperPoint> {
    let c = Box2::of(ring).center();
    let off = |p: PaperPoint, way: Shift, far: f64| p + way * far;
    let mut places = Vec::new();
    for (i, &a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        places.push((a, (a - c).unit()));
        let side = (b - a).unit().left();
        let outward = if side.dot(lerp(a, b, 0.5) - c) < 0.0 { -side } else { side };
        places.extend([0.5, 0.3, 0.7, 0.1, 0.9].map(|share| (lerp(a, b, share), outward)));
    }
    let room = |p: PaperPoint| Slip::upright(&Box2::around(p, SIDE + 0.6, SIDE));
    let reaches = [0.8, 1.05, 1.3, 1.7, 2.2].map(|share| SIDE * share);
    reaches
        .into_iter()
        .flat_map(|far| places.iter().map(move |&(p, way)| off(p, way, far)))
        .find(|&p| clear.is_free(&room(p), 0.3))
        .or_else(|| {
            let b = clear.bounds().grown(-SIDE);
            let held = |p: &PaperPoint| at(p.x.clamp(b.left, b.right), p.y.clamp(b.top, b.bottom));
            (b.left <= b.right && b.top <= b.bottom).then(|| ring.first().map(held)).flatten()
        })
}

/// A triangle with the number of a revision, its middle at a point.
pub(crate) fn triangle(p: PaperPoint, revision: u32) -> Vec<Mark> {
    let half = SIDE / 2.0;
    let corners = [p + by(0.0, -half), p + by(half, half * 0.75), p + by(-half, half * 0.75)];
    let type_ = look::strong();
    let base = p + by(0.0, half * 0.75 - 1.0);
    vec![
        draw::polygon(&corners, Some(look::CLOUD), Some(crate::ink::WHITE)),
        Mark::Text(draw::text(base, revision.to_string(), type_, crate::ink::Align::Middle)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_bulge_outward_whichever_way_the_ring_runs() {
        let square = Box2::new(10.0, 10.0, 40.0, 30.0);
        let mut ring = square.corners().to_vec();
        for _ in 0..2 {
            let Mark::Path(path) = cloud(&ring) else {
                panic!("a path");
            };
            let cubics: Vec<_> = path
                .steps
                .iter()
                .filter_map(|s| match s {
                    Step::Cubic(a, b, _) => Some([*a, *b]),
                    _ => None,
                })
                .flatten()
                .collect();
            assert_eq!(cubics.len(), 2 * 20);
            assert!(cubics.iter().all(|p| !square.contains(*p)));
            ring.reverse();
        }
    }
}
