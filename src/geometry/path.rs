//! Paths of straight and circular segments with exact stations.
//!
//! A station is the length along the path from its first point, in meters; on an arc it is
//! measured on the arc.

use std::f64::consts::TAU;

use kurbo::{Point, Rect, Vec2};

/// Greatest distance between an arc and the chords it is flattened to, m. Five micrometers: on an arc of 6 m radius the
/// flattened length is off by less than 3 parts in 10⁷. The area between arc and chords is carried along exactly beside it.
pub const FLATTEN_TOLERANCE: f64 = 5e-6;

/// Most chords one arc is flattened to; a full circle of 20 m radius takes about 4,400.
const MOST_CHORDS: f64 = 8192.0;

/// Fewest chords in a full circle, so that a drain still looks round.
const FEWEST_CHORDS: f64 = 48.0;

/// One piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// A straight piece.
    Line {
        /// Start.
        a: Point,
        /// End.
        b: Point,
    },
    /// A circular piece.
    Arc(Arc),
}

/// A circular arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    pub center: Point,
    /// Radius, m.
    pub radius: f64,
    /// Angle of the start as seen from the center, radians.
    pub start: f64,
    /// Signed sweep, radians; positive counter-clockwise.
    pub sweep: f64,
}

impl Arc {
    /// The arc from `a` through `via` to `b`; `None` where the three lie on a line (or coincide).
    #[must_use]
    pub fn through(a: Point, via: Point, b: Point) -> Option<Self> {
        let (u, v) = (via - a, b - a);
        let twice = 2.0 * u.cross(v);
        let scale = u.hypot2().max(v.hypot2());
        // Three points within a millionth of their spread of a line have no usable circle.
        if !twice.is_finite() || twice.abs() <= 1e-6 * scale || a == b {
            return None;
        }
        let center =
            a + Vec2::new(v.y * u.hypot2() - u.y * v.hypot2(), u.x * v.hypot2() - v.x * u.hypot2())
                / twice;
        let radius = (a - center).hypot();
        let start = (a - center).atan2();
        let end = (b - center).atan2();
        let counter_clockwise = twice > 0.0;
        let mut sweep = end - start;
        if counter_clockwise && sweep <= 0.0 {
            sweep += TAU;
        } else if !counter_clockwise && sweep >= 0.0 {
            sweep -= TAU;
        }
        Some(Self { a, b, center, radius, start, sweep })
    }

    /// A full circle, counter-clockwise from its eastern point.
    #[must_use]
    pub fn circle(center: Point, radius: f64) -> Self {
        let a = center + Vec2::new(radius, 0.0);
        Self { a, b: a, center, radius, start: 0.0, sweep: TAU }
    }

    /// Length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.radius * self.sweep.abs()
    }

    fn point(&self, share: f64) -> Point {
        if share <= 0.0 {
            return self.a;
        }
        if share >= 1.0 {
            return self.b;
        }
        self.center + self.radius * Vec2::from_angle(self.start + self.sweep * share)
    }

    fn chords(&self) -> usize {
        // A chord of angle t lies r(1 - cos(t/2)) inside its arc.
        let step = 2.0 * (1.0 - (FLATTEN_TOLERANCE / self.radius).min(1.0)).acos();
        let by_tolerance = (self.sweep.abs() / step).ceil();
        let by_look = (self.sweep.abs() / TAU * FEWEST_CHORDS).ceil();
        let chords = by_tolerance.max(by_look).clamp(1.0, MOST_CHORDS) as usize;
        // A whole circle has corners at its four sides, where straight walls touch it, whichever way the floor is turned.
        if self.sweep.abs() == TAU { chords.next_multiple_of(4) } else { chords }
    }
}

impl Segment {
    /// Length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        match self {
            Self::Line { a, b } => (*b - *a).hypot(),
            Self::Arc(arc) => arc.length(),
        }
    }

    /// First point.
    #[must_use]
    pub fn start(&self) -> Point {
        match self {
            Self::Line { a, .. } => *a,
            Self::Arc(arc) => arc.a,
        }
    }

    /// Last point.
    #[must_use]
    pub fn end(&self) -> Point {
        match self {
            Self::Line { b, .. } => *b,
            Self::Arc(arc) => arc.b,
        }
    }

    /// The point after this share of it.
    #[must_use]
    pub fn point(&self, share: f64) -> Point {
        match self {
            Self::Line { a, b } => a.lerp(*b, share),
            Self::Arc(arc) => arc.point(share),
        }
    }

    /// Share and distance of the point of it nearest to `p`.
    #[must_use]
    pub fn nearest(&self, p: Point) -> (f64, f64) {
        let share = match self {
            Self::Line { a, b } => {
                let d = *b - *a;
                ((p - *a).dot(d) / d.hypot2()).clamp(0.0, 1.0)
            }
            Self::Arc(arc) => arc_share(arc, p),
        };
        (share, (self.point(share) - p).hypot())
    }

    /// Unit direction after this share of it.
    #[must_use]
    pub fn tangent(&self, share: f64) -> Vec2 {
        match self {
            Self::Line { a, b } => (*b - *a).normalize(),
            Self::Arc(arc) => {
                let out = Vec2::from_angle(arc.start + arc.sweep * share);
                Vec2::new(-out.y, out.x) * arc.sweep.signum()
            }
        }
    }
}

/// A point of a flattened path and its station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    pub point: Point,
    /// Station on the true path, m.
    pub station: f64,
}

/// A chord of a flattened path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    /// Length of the true path between them, m.
    pub length: f64,
    /// Area between chord and true path, m²; positive where the path bulges to the right, so
    /// that it adds to a counter-clockwise ring.
    pub bow: f64,
}

/// A connected run of segments.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    segments: Vec<Segment>,
    /// Station of the start of each segment and, last, of the end.
    stations: Vec<f64>,
}

impl Path {
    /// From segments that follow each other; segments without length are dropped.
    #[must_use]
    pub fn new(segments: Vec<Segment>) -> Self {
        let segments: Vec<_> = segments.into_iter().filter(|s| s.length() > 0.0).collect();
        let mut stations = Vec::with_capacity(segments.len() + 1);
        let mut at = 0.0;
        stations.push(at);
        for segment in &segments {
            at += segment.length();
            stations.push(at);
        }
        Self { segments, stations }
    }

    /// Straight pieces between points.
    #[must_use]
    pub fn polyline(points: &[Point]) -> Self {
        Self::new(points.windows(2).map(|p| Segment::Line { a: p[0], b: p[1] }).collect())
    }

    /// Straight pieces between points and back to the first.
    #[must_use]
    pub fn polygon(points: &[Point]) -> Self {
        let mut closed = points.to_vec();
        closed.extend(points.first().copied());
        Self::polyline(&closed)
    }

    /// A full circle.
    #[must_use]
    pub fn circle(center: Point, diameter: f64) -> Self {
        Self::new(vec![Segment::Arc(Arc::circle(center, diameter / 2.0))])
    }

    /// The segments, in order.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Station of the start of every segment and of the end, m.
    #[must_use]
    pub fn stations(&self) -> &[f64] {
        &self.stations
    }

    /// Whether there is no segment.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.segments.is_empty()
    }

    /// Length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.stations.last().copied().unwrap_or(0.0)
    }

    /// First point; the origin for an empty path.
    #[must_use]
    pub fn start(&self) -> Point {
        self.segments.first().map_or(Point::ORIGIN, Segment::start)
    }

    /// Last point; the origin for an empty path.
    #[must_use]
    pub fn end(&self) -> Point {
        self.segments.last().map_or(Point::ORIGIN, Segment::end)
    }

    /// Whether any segment is an arc.
    #[must_use]
    pub fn is_curved(&self) -> bool {
        self.segments.iter().any(|s| matches!(s, Segment::Arc(_)))
    }

    fn locate(&self, station: f64) -> Option<(&Segment, f64)> {
        let last = self.segments.len().checked_sub(1)?;
        let index = self.stations.partition_point(|&s| s <= station).saturating_sub(1).min(last);
        let segment = &self.segments[index];
        Some((segment, ((station - self.stations[index]) / segment.length()).clamp(0.0, 1.0)))
    }

    /// Point at a station; stations off the path give its nearer end.
    #[must_use]
    pub fn point_at(&self, station: f64) -> Point {
        self.locate(station).map_or(Point::ORIGIN, |(segment, share)| segment.point(share))
    }

    /// Unit direction of travel at a station.
    #[must_use]
    pub fn direction_at(&self, station: f64) -> Vec2 {
        self.locate(station).map_or(Vec2::new(1.0, 0.0), |(segment, share)| segment.tangent(share))
    }

    /// The path flattened so that no chord is farther than [`FLATTEN_TOLERANCE`] from its arc;
    /// every vertex lies on the true path and carries its true station.
    #[must_use]
    pub fn flatten(&self) -> Vec<Vertex> {
        let mut out = Vec::with_capacity(self.segments.len() + 1);
        let Some(first) = self.segments.first() else {
            return out;
        };
        out.push(Vertex { point: first.start(), station: 0.0 });
        for (segment, pair) in self.segments.iter().zip(self.stations.windows(2)) {
            if let Segment::Arc(arc) = segment {
                let n = arc.chords();
                for i in 1..n {
                    let share = i as f64 / n as f64;
                    let station = pair[0] + share * (pair[1] - pair[0]);
                    out.push(Vertex { point: arc.point(share), station });
                }
            }
            out.push(Vertex { point: segment.end(), station: pair[1] });
        }
        out
    }

    /// The points of [`Path::flatten`].
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        self.flatten().into_iter().map(|v| v.point).collect()
    }

    /// The points of a closed path, the last one (which repeats the first) left out.
    #[must_use]
    pub fn ring(&self) -> Vec<Point> {
        let mut points = self.points();
        points.pop();
        points
    }

    /// The chords of [`Path::flatten`], each with the length and the area it stands for.
    #[must_use]
    pub fn chords(&self) -> Vec<Chord> {
        let mut out = Vec::new();
        for segment in &self.segments {
            match segment {
                Segment::Line { a, b } => {
                    out.push(Chord { a: *a, b: *b, length: segment.length(), bow: 0.0 });
                }
                Segment::Arc(arc) => {
                    let n = arc.chords();
                    let t = arc.sweep / n as f64;
                    // Circular segment r²(t - sin t)/2; a left turn (t > 0) bulges to the right.
                    let bow = arc.radius * arc.radius * (t - t.sin()) / 2.0;
                    let length = arc.length() / n as f64;
                    for i in 0..n {
                        let (a, b) = (i as f64 / n as f64, (i + 1) as f64 / n as f64);
                        out.push(Chord { a: arc.point(a), b: arc.point(b), length, bow });
                    }
                }
            }
        }
        out
    }

    /// Area of a closed path, m², exact on arcs; positive counter-clockwise.
    #[must_use]
    pub fn signed_area(&self) -> f64 {
        let origin = self.start();
        self.segments
            .iter()
            .map(|segment| {
                let chord = (segment.start() - origin).cross(segment.end() - origin) / 2.0;
                match segment {
                    Segment::Line { .. } => chord,
                    Segment::Arc(arc) => {
                        chord + arc.radius * arc.radius * (arc.sweep - arc.sweep.sin()) / 2.0
                    }
                }
            })
            .sum()
    }

    /// The same path traveled the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        let flip = |segment: &Segment| match *segment {
            Segment::Line { a, b } => Segment::Line { a: b, b: a },
            Segment::Arc(arc) => Segment::Arc(Arc {
                a: arc.b,
                b: arc.a,
                start: arc.start + arc.sweep,
                sweep: -arc.sweep,
                ..arc
            }),
        };
        Self::new(self.segments.iter().rev().map(flip).collect())
    }

    /// The part between two stations.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Self {
        let mut out = Vec::new();
        for (segment, pair) in self.segments.iter().zip(self.stations.windows(2)) {
            let (lo, hi) = (from.max(pair[0]), to.min(pair[1]));
            if hi <= lo {
                continue;
            }
            let length = pair[1] - pair[0];
            let (s, e) = ((lo - pair[0]) / length, (hi - pair[0]) / length);
            out.push(match segment {
                Segment::Line { .. } => Segment::Line { a: segment.point(s), b: segment.point(e) },
                Segment::Arc(arc) => Segment::Arc(Arc {
                    a: arc.point(s),
                    b: arc.point(e),
                    start: arc.start + arc.sweep * s,
                    sweep: arc.sweep * (e - s),
                    ..*arc
                }),
            });
        }
        Self::new(out)
    }

    /// Station and distance of the point of the path nearest to `p`; the first of equals.
    #[must_use]
    pub fn nearest(&self, p: Point) -> (f64, f64) {
        let mut best = (0.0, f64::INFINITY);
        for (segment, station) in self.segments.iter().zip(&self.stations) {
            let (share, distance) = segment.nearest(p);
            if distance < best.1 {
                best = (station + share * segment.length(), distance);
            }
        }
        best
    }

    /// Smallest upright rectangle around the path, arcs included.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let mut points = self.points().into_iter();
        let first = points.next().unwrap_or(Point::ORIGIN);
        points.fold(Rect::from_points(first, first), |r, p| r.union_pt(p))
    }

    /// Greatest distance of the path from the straight line between its ends, m.
    #[must_use]
    pub fn bow(&self) -> f64 {
        let (a, chord) = (self.start(), self.end() - self.start());
        if chord.hypot() == 0.0 {
            return self.points().iter().map(|p| (*p - a).hypot()).fold(0.0, f64::max);
        }
        let unit = chord.normalize();
        self.points().iter().map(|p| unit.cross(*p - a).abs()).fold(0.0, f64::max)
    }
}

/// Share of the sweep at which an arc comes nearest to `p`.
fn arc_share(arc: &Arc, p: Point) -> f64 {
    let mut turn = (p - arc.center).atan2() - arc.start;
    if arc.sweep < 0.0 {
        turn = -turn;
    }
    let turn = turn.rem_euclid(TAU);
    let sweep = arc.sweep.abs();
    if turn <= sweep {
        turn / sweep
    } else if turn - sweep < (TAU - sweep) / 2.0 {
        1.0
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn half_circle_has_exact_length_area_and_stations() {
        let arc = Arc::through(Point::new(1.0, 0.0), Point::new(0.0, 1.0), Point::new(-1.0, 0.0));
        let arc = arc.expect("three points on a circle");
        assert!(close(arc.sweep, PI));
        let path = Path::new(vec![
            Segment::Arc(arc),
            Segment::Line { a: Point::new(-1.0, 0.0), b: Point::new(1.0, 0.0) },
        ]);
        assert!(close(path.length(), PI + 2.0));
        assert!(close(path.signed_area(), PI / 2.0));
        let p = path.point_at(PI / 2.0);
        assert!(close(p.x, 0.0) && close(p.y, 1.0));
        let d = path.direction_at(PI / 2.0);
        assert!(close(d.x, -1.0) && close(d.y, 0.0));
    }

    #[test]
    fn chords_and_bows_add_up_to_the_circle() {
        let path = Path::circle(Point::new(3.0, 4.0), 0.2);
        let chords = path.chords();
        let length: f64 = chords.iter().map(|c| c.length).sum();
        let chord_area: f64 =
            chords.iter().map(|c| c.a.to_vec2().cross(c.b.to_vec2()) / 2.0 + c.bow).sum();
        assert!(close(length, 0.2 * PI));
        assert!(close(chord_area, 0.01 * PI));
    }

    #[test]
    fn clockwise_arc_runs_the_short_way_through_its_point() {
        let arc = Arc::through(Point::new(-1.0, 0.0), Point::new(0.0, 1.0), Point::new(1.0, 0.0));
        assert!(close(arc.expect("a circle").sweep, -PI));
    }

    #[test]
    fn points_on_a_line_make_no_arc() {
        let p = |x| Point::new(x, 2.0 * x);
        assert_eq!(Arc::through(p(0.0), p(1.0), p(2.0)), None);
        assert_eq!(Arc::through(p(0.0), p(0.0), p(2.0)), None);
    }

    #[test]
    fn nearest_and_part_agree_with_stations() {
        let path = Path::polyline(&[Point::ORIGIN, Point::new(3.0, 0.0), Point::new(3.0, 4.0)]);
        assert_eq!(path.nearest(Point::new(5.0, 2.0)), (5.0, 2.0));
        let part = path.part(2.0, 5.0);
        assert!(close(part.length(), 3.0));
        assert_eq!(part.start(), Point::new(2.0, 0.0));
        assert_eq!(part.end(), Point::new(3.0, 2.0));
        assert_eq!(path.reversed().reversed(), path);
    }

    #[test]
    fn nearest_on_an_arc_is_an_end_or_the_foot() {
        let arc = Arc::through(Point::new(1.0, 0.0), Point::new(0.0, 1.0), Point::new(-1.0, 0.0));
        let path = Path::new(vec![Segment::Arc(arc.expect("a circle"))]);
        assert!(close(path.nearest(Point::new(0.0, 3.0)).1, 2.0));
        assert!(close(path.nearest(Point::new(2.0, -1.0)).0, 0.0));
        assert!(close(path.nearest(Point::new(-2.0, -1.0)).0, PI));
    }
}
