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

/// The sweep between two neighboring vertices; distances from the start.
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
            rings
                .iter()
                .flat_map(|r| r.iter().copied().zip(r.iter().copied().cycle().skip(1)))
                .collect()
        } else {
            Vec::new()
        };
        let places = || edges.iter().map(|(a, _)| a.to_vec2().dot(normal));
        let (start, end) =
            places().fold((f64::MAX, f64::MIN), |(low, high), s| (low.min(s), high.max(s)));
        if edges.is_empty() {
            return Sweep {
                normal: Vec2::ZERO,
                edges,
                start: 0.0,
                end: 0.0,
                steps: Vec::new(),
                total: 0.0,
            };
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

    /// Area behind the line `distance` meters from the start, m².
    #[must_use]
    pub fn area_behind(&self, distance: f64) -> f64 {
        if distance.is_nan() || distance <= 0.0 {
            return 0.0;
        }
        let after = self.steps.partition_point(|s| s.from <= distance);
        match after.checked_sub(1).and_then(|i| self.steps.get(i)) {
            Some(step) if distance < step.to => {
                (step.area + step.passed(distance - step.from)).clamp(0.0, self.total)
            }
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

    /// The pieces of the line `distance` meters from the start that lie in the region, ordered along the line to the left of the
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
        places
            .chunks_exact(2)
            .filter(|pair| pair[0] < pair[1])
            .map(|pair| (point(pair[0]), point(pair[1])))
            .collect()
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
        let lost =
            if self.high.abs() >= x.abs() { (self.high - sum) + x } else { (x - sum) + self.high };
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

/// Where each edge begins and ends to count, in order.
fn changes(edges: &[(Point, Point)], normal: Vec2, start: f64) -> Vec<Change> {
    let across = Vec2::new(-normal.y, normal.x);
    let mean = edges.iter().map(|(a, _)| a.to_vec2().dot(across)).sum::<f64>() / edges.len() as f64;
    // Measured from the middle of the region the coordinates, and with them the errors, are smallest.
    let place = |p: Point| (p.to_vec2().dot(normal) - start, p.to_vec2().dot(across) - mean);
    let mut changes = Vec::with_capacity(2 * edges.len());
    for (a, b) in edges {
        let ((s, c), (t, d)) = (place(*a), place(*b));
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
    changes
}

/// The width of the region along the line as a sum of what all edges give.
#[derive(Default)]
struct Width {
    constant: Sum,
    slope: Sum,
}

impl Width {
    fn at(&self, distance: f64) -> f64 {
        let high = self.constant.high + self.slope.high * distance;
        (high + (self.constant.low + self.slope.low * distance)).max(0.0)
    }
}

fn steps(edges: &[(Point, Point)], normal: Vec2, start: f64) -> Vec<Step> {
    let changes = changes(edges, normal, start);
    let mut width = Width::default();
    let mut area = Sum::default();
    let mut steps: Vec<Step> = Vec::with_capacity(changes.len());
    for group in changes.chunk_by(|p, q| p.at == q.at) {
        let at = group[0].at;
        if let Some(step) = steps.last_mut() {
            step.to = at;
            step.widths.1 = width.at(at);
            area.add(step.passed(step.to - step.from));
        }
        for change in group {
            width.constant.add(change.constant);
            width.slope.add(change.slope);
        }
        let after = width.at(at);
        steps.push(Step { from: at, to: at, widths: (after, after), area: area.high });
    }
    steps.pop();
    steps
}

#[cfg(test)]
mod tests;
