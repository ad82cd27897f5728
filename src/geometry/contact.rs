//! Where lines touch: at corners that lie on other lines, and where curves are tangent.
//!
//! Contacts are found on the true curves, before these are flattened, and both lines get a corner there. So lines that touch as written
//! touch on the grid too, whichever way the floor is turned, and arcs that run on each other get the same chords.

use kurbo::Point;

use super::lattice::UNITS_PER_METRE;
use super::path::{Arc, FLATTEN_TOLERANCE, Path, Segment};
use super::segments::{Owned, Segments};

/// Lines this close touch, m: one and a half steps of the grid, more than rounding puts between a line and a corner given on it.
pub const TOUCHING: f64 = 1.6 / UNITS_PER_METRE;

/// Circles with centers closer than this have no point of contact: they are nearly one, m.
const ONE_CIRCLE: f64 = 1e-3;

/// The pieces of each segment of each line, cut where it touches another line; what touches that is among the last `open` lines, which are no
/// rings, is looked at on rings only.
#[must_use]
pub fn cut_where_touching(lines: &[Vec<Segment>], open: usize) -> Vec<Vec<Vec<Segment>>> {
    let rings = lines.len() - open;
    let all: Vec<(usize, &Segment)> = lines
        .iter()
        .enumerate()
        .flat_map(|(line, segments)| segments.iter().map(move |s| (line, s)))
        .collect();
    let boxes: Vec<(Point, Point)> = all.iter().map(|(_, s)| corners_of_box(s)).collect();
    let owned = boxes.iter().enumerate();
    let index = Segments::new(
        owned
            .map(|(owner, &(a, b))| Owned { a, b, owner })
            .collect(),
    );
    let mut next = 0;
    let mut pieces = |line: usize, segment: &Segment| {
        let (a, b) = boxes[next];
        next += 1;
        // The boxes of arcs are those of their chords.
        let near = index.near(a, b, TOUCHING + FLATTEN_TOLERANCE);
        let others = near.iter().map(|o| all[o.owner]);
        let mut on: Vec<(f64, Point)> = others
            .filter(|(other, _)| *other != line && line.min(*other) < rings)
            .flat_map(|(other, s)| contacts(segment, s, line < other))
            .filter_map(|p| Some((share_at(segment, p)?, p)))
            .collect();
        on.sort_by(|p, q| p.0.total_cmp(&q.0));
        on.dedup_by(|q, p| (q.1 - p.1).hypot() <= TOUCHING);
        cut(segment, &on)
    };
    let each = lines.iter().enumerate();
    each.map(|(line, segments)| segments.iter().map(|s| pieces(line, s)).collect())
        .collect()
}

fn corners_of_box(segment: &Segment) -> (Point, Point) {
    let bounds = Path::new(vec![*segment]).bounds();
    (bounds.origin(), Point::new(bounds.x1, bounds.y1))
}

/// Points at which a segment may touch another: where they are tangent, and if they aren't, that one's ends. Beside a point of contact
/// an end may well lie closer than counts as touching; led through it too, both would run on each other up to there.
fn contacts(one: &Segment, other: &Segment, one_first: bool) -> Vec<Point> {
    let tangent = match (one, other) {
        (Segment::Line { .. }, Segment::Line { .. }) => None,
        (Segment::Arc(arc), line @ Segment::Line { .. })
        | (line @ Segment::Line { .. }, Segment::Arc(arc)) => foot(arc, line),
        // Both segments must find the same point to the last bit.
        (Segment::Arc(p), Segment::Arc(q)) if one_first => between(p, q),
        (Segment::Arc(p), Segment::Arc(q)) => between(q, p),
    };
    let tangent = tangent.filter(|t| [one, other].iter().all(|s| reaches(s, *t)));
    [other.start(), other.end()]
        .into_iter()
        .chain(tangent)
        .collect()
}

/// The foot of an arc's center on a line.
fn foot(arc: &Arc, line: &Segment) -> Option<Point> {
    let (a, along) = (line.start(), line.end() - line.start());
    let p = a + along * ((arc.center - a).dot(along) / along.hypot2());
    p.is_finite().then_some(p)
}

/// The point of the first circle nearest to the second, or farthest from it where one lies within the other.
fn between(first: &Arc, second: &Arc) -> Option<Point> {
    let apart = second.center - first.center;
    if apart.hypot() < ONE_CIRCLE {
        return None;
    }
    let outside = apart.hypot() > first.radius.max(second.radius);
    let toward = outside || first.radius > second.radius;
    let side = if toward { 1.0 } else { -1.0 };
    Some(first.center + apart.normalize() * (side * first.radius))
}

/// Whether a point lies on a segment, ends included.
fn reaches(segment: &Segment, p: Point) -> bool {
    segment.nearest(p).1 <= TOUCHING
}

/// The share of a segment at which a point lies on it, between its ends.
fn share_at(segment: &Segment, p: Point) -> Option<f64> {
    let apart = |end: Point| (p - end).hypot() > TOUCHING;
    if !apart(segment.start()) || !apart(segment.end()) {
        return None;
    }
    let (share, off) = segment.nearest(p);
    (off <= TOUCHING).then_some(share)
}

fn cut(segment: &Segment, on: &[(f64, Point)]) -> Vec<Segment> {
    let mut pieces = Vec::with_capacity(on.len() + 1);
    let (mut from, mut done) = (segment.start(), 0.0);
    for &(share, to) in on.iter().chain([&(1.0, segment.end())]) {
        pieces.push(match segment {
            Segment::Line { .. } => Segment::Line { a: from, b: to },
            Segment::Arc(arc) => Segment::Arc(Arc {
                a: from,
                b: to,
                start: arc.start + arc.sweep * done,
                sweep: arc.sweep * (share - done),
                ..*arc
            }),
        });
        (from, done) = (to, share);
    }
    pieces
}
