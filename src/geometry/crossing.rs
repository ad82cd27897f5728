//! Where a closed ring meets itself.

use super::cells::Cells;
use super::lattice::{Meeting, Site, Span, UNITS_PER_METRE};
use kurbo::Point;

/// A place where a ring crosses, touches or runs on itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SelfCrossing {
    /// The place: the crossing, the touching point, or the first point of a stretch run twice.
    pub at: Point,
    /// Number of the first edge; edge `i` leads from point `i` to the next.
    pub edge_a: usize,
    /// Number of the second edge, greater than the first.
    pub edge_b: usize,
}

/// The first pair of edges of a closed ring that meet where they should not: neighbors that run on each other, or
/// others that cross, touch or run on each other. First by `edge_a`, then by `edge_b`.
///
/// The ring closes from its last point to its first; a repeated last point does no harm. It is looked at on the lattice of the
/// arrangement, so edges less than about 3 micrometers apart touch. A ring with a point that is not finite or more than
/// 1677 m from the origin gives `None`; building the arrangement reports that.
#[must_use]
pub fn first_self_crossing(ring: &[Point]) -> Option<SelfCrossing> {
    let sites: Vec<Site> = ring.iter().map(|p| Site::near(*p).ok()).collect::<Option<_>>()?;
    let closed = sites.iter().zip(sites.iter().cycle().skip(1)).enumerate();
    let (numbers, spans): (Vec<usize>, Vec<Span>) =
        closed.filter(|(_, (a, b))| a != b).map(|(i, (a, b))| (i, Span { a: *a, b: *b })).unzip();
    let cells = Cells::new(&spans);
    let mut first: Option<(usize, usize)> = None;
    for (_, members) in cells.leaves() {
        // Members are in ascending order, so the outer loop can stop at the best edge so far.
        for (i, a) in members.iter().enumerate() {
            for b in &members[i + 1..] {
                let pair = (*a as usize, *b as usize);
                if first.is_none_or(|f| pair < f) && meet_wrongly(&spans, pair) {
                    first = Some(pair);
                }
            }
        }
    }
    let (a, b) = first?;
    Some(SelfCrossing { at: place(&spans[a], &spans[b]), edge_a: numbers[a], edge_b: numbers[b] })
}

fn meet_wrongly(spans: &[Span], (a, b): (usize, usize)) -> bool {
    let follow = b == a + 1 || (a == 0 && b + 1 == spans.len());
    match spans[a].meeting(&spans[b]) {
        None => false,
        Some(Meeting::Touch(_)) => !follow,
        Some(Meeting::Cross | Meeting::Overlap(_)) => true,
    }
}

fn place(a: &Span, b: &Span) -> Point {
    match a.meeting(b) {
        Some(Meeting::Touch(site)) => site.to_point(),
        Some(Meeting::Overlap(site)) => {
            // The first shared point in the direction of the first edge.
            let ends =
                [a.a, a.b, b.a, b.b].into_iter().filter(|p| a.contains(*p) && b.contains(*p));
            ends.min_by_key(|p| a.along(*p)).unwrap_or(site).to_point()
        }
        Some(Meeting::Cross) | None => exact_crossing(a, b),
    }
}

/// The crossing itself, not rounded to the lattice.
fn exact_crossing(a: &Span, b: &Span) -> Point {
    let (s, t) =
        (super::lattice::cross(b.a, b.b, a.a) as f64, super::lattice::cross(b.a, b.b, a.b) as f64);
    let share = if s == t { 0.0 } else { s / (s - t) };
    let unit = UNITS_PER_METRE;
    Point::new(
        (a.a.x as f64 + share * a.dx() as f64) / unit,
        (a.a.y as f64 + share * a.dy() as f64) / unit,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn ring(pairs: &[(f64, f64)]) -> Vec<Point> {
        pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    #[test]
    fn known_rings() {
        type Row<'a> = (&'a str, &'a [(f64, f64)], Option<((f64, f64), usize, usize)>);
        let rows: [Row<'_>; 11] = [
            ("square", &[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)], None),
            ("repeated last point", &[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 0.0)], None),
            (
                "repeated points",
                &[(0.0, 0.0), (2.0, 0.0), (2.0, 0.0), (2.0, 2.0), (2.0, 2.0), (0.0, 2.0)],
                None,
            ),
            ("straight corner", &[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 2.0)], None),
            (
                "bow-tie",
                &[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)],
                Some(((1.0, 1.0), 0, 2)),
            ),
            (
                "vertex on a far edge",
                &[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)],
                Some(((2.0, 0.0), 0, 2)),
            ),
            (
                "two vertices at one place",
                &[(0.0, 0.0), (2.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 2.0), (1.0, 1.0)],
                Some(((1.0, 1.0), 1, 4)),
            ),
            (
                "spike",
                &[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (4.0, 1.0), (0.0, 3.0)],
                Some(((4.0, 1.0), 1, 2)),
            ),
            ("there and back", &[(0.0, 0.0), (4.0, 0.0)], Some(((0.0, 0.0), 0, 1))),
            (
                "far edges on each other",
                &[
                    (0.0, 0.0),
                    (6.0, 0.0),
                    (6.0, 4.0),
                    (5.0, 4.0),
                    (5.0, 0.0),
                    (1.0, 0.0),
                    (1.0, 4.0),
                    (0.0, 4.0),
                ],
                Some(((5.0, 0.0), 0, 3)),
            ),
            ("empty", &[], None),
        ];
        for (name, points, expected) in rows {
            let found = first_self_crossing(&ring(points));
            let expected = expected.map(|((x, y), edge_a, edge_b)| SelfCrossing {
                at: Point::new(x, y),
                edge_a,
                edge_b,
            });
            assert_eq!(found, expected, "{name}");
        }
        assert_eq!(first_self_crossing(&ring(&[(0.0, f64::NAN), (1.0, 0.0), (0.0, 1.0)])), None);
    }

    proptest! {
        #[test]
        fn agrees_with_comparing_all_pairs(pairs in prop::collection::vec((0..12i64, 0..12i64), 3..40)) {
            let points: Vec<Point> = pairs.iter().map(|(x, y)| Point::new(*x as f64, *y as f64)).collect();
            let sites: Vec<Site> = points.iter().filter_map(|p| Site::near(*p).ok()).collect();
            let closed = sites.iter().zip(sites.iter().cycle().skip(1)).enumerate().filter(|(_, (a, b))| a != b);
            let (numbers, spans): (Vec<usize>, Vec<Span>) = closed.map(|(i, (a, b))| (i, Span { a: *a, b: *b })).unzip();
            let pairs = (0..spans.len()).flat_map(|a| (a + 1..spans.len()).map(move |b| (a, b)));
            let expected = pairs.into_iter().find(|p| meet_wrongly(&spans, *p)).map(|(a, b)| (numbers[a], numbers[b]));
            prop_assert_eq!(first_self_crossing(&points).map(|c| (c.edge_a, c.edge_b)), expected);
        }

        #[test]
        fn star_shaped_rings_are_simple(radii in prop::collection::vec(1.0..9.0f64, 3..400)) {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let points: Vec<Point> = radii.iter().enumerate().map(|(i, r)| (kurbo::Vec2::from_angle(i as f64 * step) * *r).to_point()).collect();
            prop_assert_eq!(first_self_crossing(&points), None);
        }
    }
}
