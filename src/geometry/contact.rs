//! Where lines touch: at corners that lie on other lines, and where curves are tangent.
//!
//! Contacts are found on the true curves, before these are flattened, and both lines get a corner there. So lines that touch as written
//! touch on the grid too, whichever way the floor is turned, and arcs that run on each other get the same chords.

use std::f64::consts::TAU;

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
    let index = Segments::new(owned.map(|(owner, &(a, b))| Owned { a, b, owner }).collect());
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
    each.map(|(line, segments)| segments.iter().map(|s| pieces(line, s)).collect()).collect()
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
    match tangent.filter(|t| [one, other].iter().all(|s| reaches(s, *t))) {
        Some(point) => vec![point],
        None => vec![other.start(), other.end()],
    }
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
    // A whole circle begins at its first contact: the point it was drawn from must not become a corner.
    let circle = matches!(segment, Segment::Arc(arc) if arc.sweep.abs() == TAU);
    let first = on.first().filter(|_| circle);
    let (mut done, mut from) = *first.unwrap_or(&(0.0, segment.start()));
    let last = first.map_or((1.0, segment.end()), |f| (1.0 + f.0, f.1));
    let mut pieces = Vec::with_capacity(on.len() + 1);
    for &(share, to) in on.iter().skip(usize::from(first.is_some())).chain([&last]) {
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
        (done, from) = (share, to);
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    fn circle(x: f64, y: f64, r: f64) -> Vec<Segment> {
        vec![Segment::Arc(Arc::circle(Point::new(x, y), r))]
    }

    fn line(a: (f64, f64), b: (f64, f64)) -> Vec<Segment> {
        vec![Segment::Line { a: a.into(), b: b.into() }]
    }

    #[test]
    fn both_lines_get_a_corner_where_they_touch() {
        let (c, s) = (0.6, 0.8);
        let rows = [
            (
                "a wall and a column",
                line((0.0, 0.0), (9.0, 0.0)),
                circle(4.0, 0.15, 0.15),
                (4.0, 0.0),
            ),
            (
                "an oblique wall",
                line((0.0, 0.0), (9.0 * c, 9.0 * s)),
                circle(4.0 * c - s, 4.0 * s + c, 1.0),
                (4.0 * c, 4.0 * s),
            ),
            ("columns", circle(1.0, 1.0, 1.0), circle(2.5, 3.0, 1.5), (1.0 + c, 1.0 + s)),
            ("one circle in another", circle(0.0, 0.0, 2.0), circle(0.6, 0.8, 1.0), (1.2, 1.6)),
            ("a corner on an arc", circle(0.0, 0.0, 1.0), line((c, -s), (5.0, 0.0)), (c, -s)),
            (
                "a corner on a line",
                line((0.0, 0.0), (9.0 * c, 9.0 * s)),
                line((3.0 * c, 3.0 * s), (9.0, 0.0)),
                (3.0 * c, 3.0 * s),
            ),
        ];
        for (name, one, other, at) in rows {
            let at = Point::from(at);
            let found = cut_where_touching(&[one, other], 0);
            for line in &found {
                let ends = line.iter().flatten().flat_map(|s| [s.start(), s.end()]);
                let nearest = ends.map(|p| (p - at).hypot()).fold(f64::INFINITY, f64::min);
                assert!(nearest < 1e-12, "{name}: {nearest}");
            }
        }
    }

    #[test]
    fn a_circle_drawn_from_beside_its_contact_has_no_corner_there() {
        // The eastern point lies 0.4 degrees from where the wall touches, 1.2 µm off it.
        let (sin, cos) = 0.4f64.to_radians().sin_cos();
        let wall = line(
            (0.05 * cos - 9.0 * sin, 0.05 * sin + 9.0 * cos),
            (0.05 * cos + 9.0 * sin, 0.05 * sin - 9.0 * cos),
        );
        let found = cut_where_touching(&[wall, circle(0.0, 0.0, 0.05)], 0);
        assert_eq!((found[0][0].len(), found[1][0].len()), (2, 1));
        assert!(
            (Path::new(found[1][0].clone()).signed_area() - std::f64::consts::PI * 0.0025).abs()
                < 1e-12
        );
    }

    #[test]
    fn lines_apart_and_open_lines_among_themselves_are_left() {
        let apart = [line((0.0, 0.0), (9.0, 0.0)), circle(4.0, 0.151, 0.15)];
        let open = [line((0.0, 0.0), (9.0, 0.0)), line((4.0, 0.0), (4.0, 9.0))];
        for (lines, count) in [(apart, 0), (open, 2)] {
            let found = cut_where_touching(&lines, count);
            assert!(found.iter().all(|line| line[0].len() == 1));
        }
    }
}
