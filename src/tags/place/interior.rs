//! Inside and outside of closed rings, by the even-odd rule.

use super::shape::{PaperBox, distance, snap_point};
use crate::ink::PaperPoint;

/// Columns and rows of the first search for the deepest point.
const SEARCH: usize = 12;

/// A closed shape: its rings.
pub(super) type Rings = [Vec<PaperPoint>];

/// Edges of all rings, the closing ones included.
pub(super) fn edges(rings: &Rings) -> impl Iterator<Item = (PaperPoint, PaperPoint)> + '_ {
    rings.iter().flat_map(|ring| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)))
}

/// Smallest upright box around all rings.
pub(super) fn bounds(rings: &Rings) -> PaperBox {
    let first = rings.iter().flatten().next().copied().unwrap_or_default();
    let start = PaperBox::new(first.x, first.y, first.x, first.y);
    rings.iter().flatten().fold(start, |b, &p| b.with(p))
}

/// Whether a point is inside.
pub(super) fn is_inside(rings: &Rings, p: PaperPoint) -> bool {
    let crosses = |(a, b): &(PaperPoint, PaperPoint)| {
        (a.y > p.y) != (b.y > p.y) && p.x - a.x < (p.y - a.y) * (b.x - a.x) / (b.y - a.y)
    };
    edges(rings).filter(crosses).count() % 2 == 1
}

/// Distance of a point from a straight line.
fn distance_to(p: PaperPoint, (a, b): (PaperPoint, PaperPoint)) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    if square == 0.0 {
        return distance(p, a);
    }
    let share = (((p.x - a.x) * dx + (p.y - a.y) * dy) / square).clamp(0.0, 1.0);
    ((p.x - a.x) - share * dx).hypot((p.y - a.y) - share * dy)
}

/// How far inside a point is: distance to the nearest edge, negative outside.
pub(super) fn depth(rings: &Rings, p: PaperPoint) -> f64 {
    let far = edges(rings).map(|e| distance_to(p, e)).fold(f64::INFINITY, f64::min);
    if is_inside(rings, p) { far } else { -far }
}

/// The eight neighbors of a point, in steps.
const NEIGHBOURS: [(f64, f64); 8] = [
    (-1.0, 0.0),
    (1.0, 0.0),
    (0.0, -1.0),
    (0.0, 1.0),
    (-1.0, -1.0),
    (1.0, -1.0),
    (-1.0, 1.0),
    (1.0, 1.0),
];

/// A point far inside the rings and its depth: the best of a lattice, improved by halving steps.
///
/// Not the exact deepest point; a dot or a tag needs a good one only.
pub(super) fn deep_point(rings: &Rings) -> (PaperPoint, f64) {
    let area = bounds(rings);
    let (mut dx, mut dy) = (area.width() / SEARCH as f64, area.height() / SEARCH as f64);
    let mut best = (area.centre(), depth(rings, area.centre()));
    let improve = |best: &mut (PaperPoint, f64), x: f64, y: f64| {
        let d = depth(rings, PaperPoint { x, y });
        if d > best.1 + 1e-9 {
            *best = (PaperPoint { x, y }, d);
        }
    };
    for n in 0..SEARCH * SEARCH {
        let (column, row) = ((n % SEARCH) as f64, (n / SEARCH) as f64);
        improve(&mut best, area.left + (0.5 + column) * dx, area.top + (0.5 + row) * dy);
    }
    for _ in 0..4 {
        let centre = best.0;
        (dx, dy) = (dx / 2.0, dy / 2.0);
        NEIGHBOURS
            .iter()
            .for_each(|(x, y)| improve(&mut best, centre.x + x * dx, centre.y + y * dy));
    }
    let point = snap_point(best.0);
    (point, depth(rings, point))
}

/// Whether a box lies wholly inside.
pub(super) fn holds_box(rings: &Rings, area: &PaperBox) -> bool {
    is_inside(rings, area.centre()) && !edges(rings).any(|(a, b)| area.is_crossed_by(a, b))
}

/// How far from a point inside, in a direction, the rings are left for the last time.
pub(super) fn way_out(rings: &Rings, from: PaperPoint, (ux, uy): (f64, f64)) -> f64 {
    let hit = |(a, b): (PaperPoint, PaperPoint)| {
        let (sx, sy) = (b.x - a.x, b.y - a.y);
        let cross = ux * sy - uy * sx;
        if cross == 0.0 {
            return 0.0;
        }
        let (px, py) = (a.x - from.x, a.y - from.y);
        let along = (px * sy - py * sx) / cross;
        let share = (px * uy - py * ux) / cross;
        if (0.0..=1.0).contains(&share) { along } else { 0.0 }
    };
    edges(rings).map(hit).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Vec<Vec<PaperPoint>> {
        vec![points.iter().map(|&(x, y)| PaperPoint { x, y }).collect()]
    }

    #[test]
    fn the_deep_point_of_an_l_is_in_its_corner() {
        let l =
            ring(&[(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0)]);
        let (p, d) = deep_point(&l);
        // The largest circle touches both outer edges and the inner corner: r = 10 (2 - √2).
        assert!((d - 10.0 * (2.0 - 2.0_f64.sqrt())).abs() < 0.3, "{p:?} {d}");
        assert!(holds_box(&l, &PaperBox::around(p, 6.0, 6.0)));
        assert!(!holds_box(&l, &PaperBox::around(PaperPoint { x: 15.0, y: 15.0 }, 2.0, 2.0)));
        assert!(!holds_box(&l, &PaperBox::around(p, 30.0, 3.0)));
    }

    #[test]
    fn way_out_of_a_square() {
        let square = ring(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        let centre = PaperPoint { x: 5.0, y: 5.0 };
        assert!((way_out(&square, centre, (1.0, 0.0)) - 5.0).abs() < 1e-12);
        let diagonal = std::f64::consts::FRAC_1_SQRT_2;
        assert!(
            (way_out(&square, centre, (diagonal, -diagonal)) - 5.0 * 2.0_f64.sqrt()).abs() < 1e-9
        );
    }
}
