//! How much of a region lies behind a line that is swept across it.

use super::region::Region;
use kurbo::{Point, Vec2};

/// A region swept by a line at right angles to a direction.
///
/// The width of the region along the line is linear between one vertex and the next, so the area behind the line is
/// quadratic there; both are kept exactly, piece by piece.
#[derive(Clone, Debug)]
pub struct Sweep {
    normal: Vec2,
    edges: Vec<(Point, Point)>,
    start: f64,
    end: f64,
    steps: Vec<Step>,
    total: f64,
}

/// The sweep between two neighbouring vertices; distances from the start.
#[derive(Clone, Copy, Debug)]
struct Step {
    from: f64,
    to: f64,
    /// Width along the line just after `from` and just before `to`.
    widths: (f64, f64),
    /// Area behind the line at `from`.
    area: f64,
}

impl Step {
    /// Area that the line passes in the first `x` of this step.
    fn passed(&self, x: f64) -> f64 {
        let (w0, w1) = self.widths;
        let length = self.to - self.from;
        if length > 0.0 { x * (w0 + 0.5 * (w1 - w0) * (x / length)) } else { 0.0 }
    }

    /// The place in this step at which the line has passed `area`.
    fn place(&self, area: f64) -> f64 {
        let (w0, w1) = self.widths;
        let length = self.to - self.from;
        let slope = (w1 - w0) / length;
        // The root of slope/2 x² + w0 x = area, in the form that doesn't cancel.
        let root = (w0 * w0 + 2.0 * slope * area).max(0.0).sqrt();
        let x = if w0 + root > 0.0 { 2.0 * area / (w0 + root) } else { 0.0 };
        x.clamp(0.0, length)
    }
}

impl Sweep {
    /// Prepares the sweep in the direction `normal`, away from the side where it starts. The direction need not have
    /// length 1; one without a length, or an empty region, gives a sweep over nothing.
    #[must_use]
    pub fn new(region: &Region, normal: Vec2) -> Sweep {
        let normal = normal / normal.hypot();
        let edges: Vec<(Point, Point)> = if normal.is_finite() {
            let rings = region.rings();
            rings.iter().flat_map(|r| r.iter().copied().zip(r.iter().copied().cycle().skip(1))).collect()
        } else {
            Vec::new()
        };
        let places = || edges.iter().map(|(a, _)| a.to_vec2().dot(normal));
        let (start, end) = places().fold((f64::MAX, f64::MIN), |(low, high), s| (low.min(s), high.max(s)));
        if edges.is_empty() {
            return Sweep { normal: Vec2::ZERO, edges, start: 0.0, end: 0.0, steps: Vec::new(), total: 0.0 };
        }
        let steps = steps(&edges, normal, start);
        let total = steps.last().map_or(0.0, |s| s.area + s.passed(s.to - s.from));
        Sweep { normal, edges, start, end, steps, total }
    }

    /// The smallest value of `normal · p` over the region, m from the origin.
    #[must_use]
    pub fn start(&self) -> f64 {
        self.start
    }

    /// The greatest value of `normal · p` over the region, m from the origin.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.end
    }

    /// Area behind the line `distance` metres from the start, m².
    #[must_use]
    pub fn area_behind(&self, distance: f64) -> f64 {
        if distance.is_nan() || distance <= 0.0 {
            return 0.0;
        }
        let after = self.steps.partition_point(|s| s.from <= distance);
        match after.checked_sub(1).and_then(|i| self.steps.get(i)) {
            Some(step) if distance < step.to => (step.area + step.passed(distance - step.from)).clamp(0.0, self.total),
            Some(step) => (step.area + step.passed(step.to - step.from)).clamp(0.0, self.total),
            None => 0.0,
        }
    }

    /// The smallest distance from the start at which `area` lies behind the line, m; `None` when the area is negative, not
    /// a number, or more than the region has (by more than rounding).
    #[must_use]
    pub fn distance_for(&self, area: f64) -> Option<f64> {
        if area.is_nan() || area < 0.0 || area > self.total * (1.0 + 1e-12) {
            return None;
        }
        if area == 0.0 {
            return Some(0.0);
        }
        let step = self.steps[..self.steps.partition_point(|s| s.area < area)].last()?;
        Some(step.from + step.place(area - step.area))
    }

    /// The pieces of the line `distance` metres from the start that lie in the region, ordered along the line to the left of the
    /// direction. At a vertex the width just behind counts.
    #[must_use]
    pub fn chord(&self, distance: f64) -> Vec<(Point, Point)> {
        let at = self.start + distance;
        let across = Vec2::new(-self.normal.y, self.normal.x);
        let mut places: Vec<f64> = Vec::new();
        for (a, b) in &self.edges {
            let (s, t) = (a.to_vec2().dot(self.normal), b.to_vec2().dot(self.normal));
            if (s < at) != (t < at) {
                let share = (at - s) / (t - s);
                places.push(a.lerp(*b, share).to_vec2().dot(across));
            }
        }
        places.sort_by(f64::total_cmp);
        let point = |place: f64| (self.normal * at + across * place).to_point();
        places.chunks_exact(2).filter(|pair| pair[0] < pair[1]).map(|pair| (point(pair[0]), point(pair[1]))).collect()
    }
}

/// A sum that doesn't lose what is small beside what comes and goes (Neumaier's variant of Kahan's summation).
///
/// An edge nearly along the line contributes a huge slope for a very short way; it must leave nothing behind.
#[derive(Clone, Copy, Default)]
struct Sum {
    high: f64,
    low: f64,
}

impl Sum {
    fn add(&mut self, x: f64) {
        let sum = self.high + x;
        let lost = if self.high.abs() >= x.abs() { (self.high - sum) + x } else { (x - sum) + self.high };
        let low = self.low + lost;
        self.high = sum + low;
        self.low = low - (self.high - sum);
    }
}

/// An edge begins or ends to count: width = constant + slope × distance.
struct Change {
    at: f64,
    constant: f64,
    slope: f64,
}

fn steps(edges: &[(Point, Point)], normal: Vec2, start: f64) -> Vec<Step> {
    let across = Vec2::new(-normal.y, normal.x);
    // Measured from the middle of the region the coordinates, and with them the errors, are smallest.
    let middle = edges.iter().map(|(a, _)| a.to_vec2().dot(across)).sum::<f64>() / edges.len() as f64;
    let mut changes = Vec::with_capacity(2 * edges.len());
    for (a, b) in edges {
        let (s, t) = (a.to_vec2().dot(normal) - start, b.to_vec2().dot(normal) - start);
        let (c, d) = (a.to_vec2().dot(across) - middle, b.to_vec2().dot(across) - middle);
        if s == t {
            continue;
        }
        // With the region on its left, an edge that goes on along the direction bounds it on the right of the
        // direction, where the coordinate across is smaller.
        let sign = if s < t { -1.0 } else { 1.0 };
        let slope = sign * (d - c) / (t - s);
        let constant = sign * c - slope * s;
        changes.push(Change { at: s.min(t), constant, slope });
        changes.push(Change { at: s.max(t), constant: -constant, slope: -slope });
    }
    changes.sort_by(|p, q| p.at.total_cmp(&q.at));
    let (mut constant, mut slope) = (Sum::default(), Sum::default());
    let mut steps: Vec<Step> = Vec::with_capacity(changes.len());
    let mut area = Sum::default();
    for group in changes.chunk_by(|p, q| p.at == q.at) {
        let at = group[0].at;
        let width = (constant.high + slope.high * at + (constant.low + slope.low * at)).max(0.0);
        if let Some(step) = steps.last_mut() {
            step.to = at;
            step.widths.1 = width;
            area.add(step.passed(step.to - step.from));
        }
        for change in group {
            constant.add(change.constant);
            slope.add(change.slope);
        }
        let width = (constant.high + slope.high * at + (constant.low + slope.low * at)).max(0.0);
        steps.push(Step { from: at, to: at, widths: (width, width), area: area.high });
    }
    steps.pop();
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn ring(pairs: &[(f64, f64)]) -> Vec<Point> {
        pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
        ring(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    }

    fn hole(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
        let mut ring = rect(x0, y0, x1, y1);
        ring.reverse();
        ring
    }

    const UP: Vec2 = Vec2::new(0.0, 1.0);

    #[test]
    fn area_behind_known_figures() {
        let l = ring(&[(0.0, 0.0), (24.0, 0.0), (24.0, 16.0), (14.0, 16.0), (14.0, 24.0), (0.0, 24.0)]);
        let triangle = ring(&[(0.0, 0.0), (6.0, 0.0), (0.0, 6.0)]);
        let rows: [(&str, Vec<Vec<Point>>, Vec2, f64, f64); 9] = [
            ("L below its notch (V-G1)", vec![l.clone()], UP, 12.0, 288.0),
            ("L above its notch", vec![l.clone()], UP, 20.0, 384.0 + 56.0),
            ("L from the right", vec![l.clone()], Vec2::new(-1.0, 0.0), 10.0, 160.0),
            ("L whole", vec![l], UP, 99.0, 496.0),
            ("triangle", vec![triangle.clone()], UP, 2.0, 10.0),
            ("triangle from its corner", vec![triangle], Vec2::new(1.0, 1.0), 8f64.sqrt(), 8.0),
            ("hole half passed", vec![rect(0.0, 0.0, 10.0, 10.0), hole(2.0, 2.0, 8.0, 8.0)], UP, 5.0, 50.0 - 18.0),
            ("between two pieces", vec![rect(0.0, 0.0, 2.0, 1.0), rect(0.0, 3.0, 2.0, 4.0)], UP, 2.0, 2.0),
            ("before the start", vec![rect(0.0, 5.0, 2.0, 6.0)], UP, -1.0, 0.0),
        ];
        for (name, rings, normal, distance, expected) in rows {
            let sweep = Sweep::new(&Region::from_rings(&rings), normal);
            let area = sweep.area_behind(distance);
            assert!((area - expected).abs() < 1e-5, "{name}: {area} for {expected}");
            if expected > 0.0 {
                let back = sweep.distance_for(area).expect(name);
                assert!((sweep.area_behind(back) - area).abs() < 1e-9 * expected, "{name}: back to {back}");
            }
        }
    }

    #[test]
    fn distances_that_have_to_be_chosen() {
        let two = Region::from_rings(&[rect(0.0, 0.0, 2.0, 1.0), rect(0.0, 3.0, 2.0, 4.0)]);
        let sweep = Sweep::new(&two, UP);
        assert!((sweep.distance_for(2.0).expect("half") - 1.0).abs() < 1e-6, "the smallest of many");
        assert_eq!(sweep.distance_for(0.0), Some(0.0));
        assert!((sweep.distance_for(two.area()).expect("all") - 4.0).abs() < 1e-6);
        assert_eq!((sweep.distance_for(4.1), sweep.distance_for(-0.1), sweep.distance_for(f64::NAN)), (None, None, None));
        assert!((sweep.start() - 0.0).abs() < 1e-6 && (sweep.end() - 4.0).abs() < 1e-6);
    }

    #[test]
    fn nothing_to_sweep() {
        for sweep in [
            Sweep::new(&Region::empty(), UP),
            Sweep::new(&Region::from_rings(&[rect(0.0, 0.0, 1.0, 1.0)]), Vec2::ZERO),
            Sweep::new(&Region::from_rings(&[rect(0.0, 0.0, 1.0, 1.0)]), Vec2::new(f64::NAN, 1.0)),
        ] {
            assert_eq!((sweep.area_behind(1.0), sweep.distance_for(0.5)), (0.0, None));
            assert!(sweep.chord(0.5).is_empty());
        }
    }

    #[test]
    fn chords_leave_out_holes() {
        let region = Region::from_rings(&[rect(0.0, 0.0, 10.0, 10.0), hole(2.0, 2.0, 8.0, 8.0)]);
        let sweep = Sweep::new(&region, UP);
        let ends: Vec<(f64, f64)> = sweep.chord(5.0).iter().map(|(a, b)| (a.x, b.x)).collect();
        let expected = [(8.0, 10.0), (0.0, 2.0)];
        assert_eq!(ends.len(), 2);
        for ((a, b), (low, high)) in ends.into_iter().zip(expected) {
            assert!((a.max(b) - high).abs() < 1e-6 && (a.min(b) - low).abs() < 1e-6);
        }
        assert_eq!(sweep.chord(-1.0).len() + sweep.chord(11.0).len(), 0);
    }

    proptest! {
        #[test]
        fn cutting_the_region_gives_the_same_area(
            radii in prop::collection::vec(1.0..9.0f64, 3..60),
            angle in 0.0..TAU,
            share in 0.0..1.0f64,
        ) {
            let step = TAU / radii.len() as f64;
            let outline: Vec<Point> = radii.iter().enumerate().map(|(i, r)| (Vec2::from_angle(i as f64 * step) * *r).to_point()).collect();
            let mut core: Vec<Point> = outline.iter().map(|p| (p.to_vec2() * 0.5).to_point()).collect();
            core.reverse();
            let region = Region::from_rings(&[outline, core]);
            let normal = Vec2::from_angle(angle);
            let sweep = Sweep::new(&region, normal);
            let distance = share * (sweep.end() - sweep.start());
            let behind = sweep.area_behind(distance);
            // Clipping each ring with the half plane, and the shoelace formula, give the same.
            let at = sweep.start() + distance;
            let expected: f64 = region.rings().iter().map(|ring| clipped_area(ring, normal, at)).sum();
            prop_assert!((behind - expected).abs() < 1e-9 * (1.0 + expected), "{} for {}", behind, expected);
            prop_assert!((sweep.area_behind(f64::MAX) - region.area()).abs() < 1e-9 * region.area());
            let back = sweep.distance_for(behind).expect("within the area");
            prop_assert!((sweep.area_behind(back) - behind).abs() < 1e-9 * (1.0 + behind));
            let width: f64 = sweep.chord(distance).iter().map(|(a, b)| a.distance(*b)).sum();
            let slope = (sweep.area_behind(distance + 1e-6) - sweep.area_behind(distance - 1e-6)) / 2e-6;
            prop_assert!((width - slope).abs() < 0.05 * (1.0 + width), "{} for {}", width, slope);
        }
    }

    fn clipped_area(ring: &[Point], normal: Vec2, at: f64) -> f64 {
        let place = |p: Point| p.to_vec2().dot(normal);
        let mut kept: Vec<Point> = Vec::new();
        for (a, b) in ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)) {
            if place(a) <= at {
                kept.push(a);
            }
            if (place(a) < at) != (place(b) < at) {
                kept.push(a.lerp(b, (at - place(a)) / (place(b) - place(a))));
            }
        }
        0.5 * kept.iter().zip(kept.iter().cycle().skip(1)).map(|(p, q)| p.x * q.y - q.x * p.y).sum::<f64>()
    }
}
