//! The integer lattice on which every topological decision is taken, and exact predicates on it.

use kurbo::Point;
use std::cmp::Ordering;

/// Lattice units in one meter: the step is 3.125 micrometers, that is 1/320 mm or 1/8128 in.
///
/// An inch is exactly 25.4 mm, so a step that divides both 1 mm and 1/64 in (0.396875 mm) must divide their
/// greatest common divisor, 1/320 mm. The step is that divisor itself: 1 mm is 320 units and 1/64 in is 127
/// units, and a tape reading in either system lies on the lattice without rounding.
pub(crate) const UNITS_PER_METRE: f64 = 320_000.0;

/// Coordinates are smaller than this many units (about 1677 m), so that a cross product of two differences,
/// even at half units, stays below 2^62 and fits an `i64`.
pub(crate) const LIMIT: i64 = 1 << 29;

/// A point of the lattice. The order is by `x`, then by `y`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Site {
    pub x: i64,
    pub y: i64,
}

/// Why a point has no place on the lattice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OffLattice {
    NotFinite,
    TooFar,
}

impl Site {
    /// The lattice point nearest to `p` (meters).
    pub fn near(p: Point) -> Result<Site, OffLattice> {
        if !p.is_finite() {
            return Err(OffLattice::NotFinite);
        }
        let (x, y) = ((p.x * UNITS_PER_METRE).round(), (p.y * UNITS_PER_METRE).round());
        let limit = LIMIT as f64;
        if x.abs() < limit && y.abs() < limit {
            Ok(Site { x: x as i64, y: y as i64 })
        } else {
            Err(OffLattice::TooFar)
        }
    }

    /// The point in meters.
    pub fn to_point(self) -> Point {
        Point::new(self.x as f64 / UNITS_PER_METRE, self.y as f64 / UNITS_PER_METRE)
    }

    /// Squared distance in units; exact.
    pub fn distance_squared(self, other: Site) -> i64 {
        let (dx, dy) = (self.x - other.x, self.y - other.y);
        dx * dx + dy * dy
    }

    /// The lattice point nearest to a position in units, held inside the limit.
    pub fn round(x: f64, y: f64) -> Site {
        Site { x: x.round() as i64, y: y.round() as i64 }
    }
}

/// Twice the signed area of the triangle `o`, `a`, `b`: positive when it is counter-clockwise.
pub(crate) fn cross(o: Site, a: Site, b: Site) -> i64 {
    (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x)
}

/// Twice the signed area of a closed ring given by its vertices.
pub(crate) fn doubled_area(ring: impl IntoIterator<Item = (Site, Site)>) -> i128 {
    ring.into_iter().map(|(a, b)| i128::from(a.x * b.y - b.x * a.y)).sum()
}

/// A straight piece between two lattice points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Span {
    pub a: Site,
    pub b: Site,
}

/// How two spans meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Meeting {
    /// They cross at one point interior to both.
    Cross,
    /// An end of one lies on the other, at this site, and they share nothing else.
    Touch(Site),
    /// They run on top of each other; the site is the first shared one, in the order of sites.
    Overlap(Site),
}

impl Span {
    pub fn dx(&self) -> i64 {
        self.b.x - self.a.x
    }

    pub fn dy(&self) -> i64 {
        self.b.y - self.a.y
    }

    /// Squared length in units.
    pub fn squared(&self) -> i64 {
        self.a.distance_squared(self.b)
    }

    /// The same span from its smaller to its greater end.
    pub fn canonical(&self) -> Span {
        if self.a <= self.b { *self } else { Span { a: self.b, b: self.a } }
    }

    /// Dot product of `p - a` with the direction: 0 at `a`, [`Span::squared`] at `b`.
    pub fn along(&self, p: Site) -> i64 {
        self.dx() * (p.x - self.a.x) + self.dy() * (p.y - self.a.y)
    }

    /// Place of the foot of `p` on the span, from 0 at `a` to 1 at `b`.
    pub fn fraction(&self, p: Site) -> f64 {
        let squared = self.squared();
        if squared == 0 { 0.0 } else { (self.along(p) as f64 / squared as f64).clamp(0.0, 1.0) }
    }

    /// Whether the boxes of the two spans have a point in common.
    pub fn boxes_meet(&self, other: &Span) -> bool {
        let apart = |a: i64, b: i64, c: i64, d: i64| a.max(b) < c.min(d) || c.max(d) < a.min(b);
        !apart(self.a.x, self.b.x, other.a.x, other.b.x)
            && !apart(self.a.y, self.b.y, other.a.y, other.b.y)
    }

    /// Whether the box of the span comes within `reach` of `p` in x and in y.
    pub fn box_reaches(&self, p: Site, reach: i64) -> bool {
        let within = |a: i64, b: i64, c: i64| c >= a.min(b) - reach && c <= a.max(b) + reach;
        within(self.a.x, self.b.x, p.x) && within(self.a.y, self.b.y, p.y)
    }

    /// Whether `p` lies on the span, ends included.
    pub fn contains(&self, p: Site) -> bool {
        cross(self.a, self.b, p) == 0 && self.boxes_meet(&Span { a: p, b: p })
    }

    /// Whether the two spans cross at a point interior to both.
    pub fn crosses(&self, other: &Span) -> bool {
        let opposite = |s: i64, t: i64| (s > 0 && t < 0) || (s < 0 && t > 0);
        self.boxes_meet(other)
            && opposite(cross(self.a, self.b, other.a), cross(self.a, self.b, other.b))
            && opposite(cross(other.a, other.b, self.a), cross(other.a, other.b, self.b))
    }

    /// The lattice point whose pixel contains the crossing; both spans must cross properly.
    pub fn crossing(&self, other: &Span) -> Site {
        let s = i128::from(cross(other.a, other.b, self.a));
        let t = i128::from(cross(other.a, other.b, self.b));
        let (numerator, denominator) = if s > t { (s, s - t) } else { (-s, t - s) };
        let place = |start: i64, step: i64| {
            let doubled = 2 * numerator * i128::from(step) + denominator;
            // The quotient lies between the ends of the span, so it fits.
            start + doubled.div_euclid(2 * denominator) as i64
        };
        Site { x: place(self.a.x, self.dx()), y: place(self.a.y, self.dy()) }
    }

    /// How the spans meet, if they do. Exact.
    pub fn meeting(&self, other: &Span) -> Option<Meeting> {
        if !self.boxes_meet(other) {
            return None;
        }
        if self.crosses(other) {
            return Some(Meeting::Cross);
        }
        let lies = |p: Site, on: &Span| on.contains(p).then_some(p);
        let ends =
            [lies(self.a, other), lies(self.b, other), lies(other.a, self), lies(other.b, self)];
        let first = ends.into_iter().flatten().min()?;
        let last = ends.into_iter().flatten().max()?;
        Some(if first == last { Meeting::Touch(first) } else { Meeting::Overlap(first) })
    }

    /// The point of the span nearest to `p`, rounded to the lattice, and its squared distance in units.
    ///
    /// The answer doesn't depend on the direction of the span.
    pub fn nearest(&self, p: Site) -> (f64, Site) {
        let span = self.canonical();
        let t = span.fraction(p);
        let (x, y) = (
            t.mul_add(span.dx() as f64, span.a.x as f64),
            t.mul_add(span.dy() as f64, span.a.y as f64),
        );
        let (dx, dy) = (p.x as f64 - x, p.y as f64 - y);
        (dx * dx + dy * dy, Site::round(x, y))
    }

    /// Whether the span has a point in the pixel of `p`: the square of one unit around it, closed at its left
    /// and lower side and open at the others, so that the pixels of all sites tile the plane.
    pub fn passes(&self, p: Site) -> bool {
        if !self.brushes(p) {
            return false;
        }
        // In half units around `p` the pixel is [-1, 1) in both directions. A point of the span lies in it when
        // three intervals of the parameter have a point in common: that of x, that of y, and [0, 1]. On a line it
        // is enough that each two of them do.
        let x = slab(2 * (self.a.x - p.x), 2 * self.dx());
        let y = slab(2 * (self.a.y - p.y), 2 * self.dy());
        let whole = Interval { low: (0, 1), low_open: false, high: (1, 1), high_open: false };
        match (x, y) {
            (Crossed::Never, _) | (_, Crossed::Never) => false,
            (Crossed::Always, Crossed::Always) => true,
            (Crossed::Always, Crossed::In(i)) | (Crossed::In(i), Crossed::Always) => {
                i.meets(&whole)
            }
            (Crossed::In(i), Crossed::In(j)) => i.meets(&j) && i.meets(&whole) && j.meets(&whole),
        }
    }

    /// Whether the span meets the closed pixel of `p`, or nearly does at the ends.
    pub fn brushes(&self, p: Site) -> bool {
        self.box_reaches(p, 1)
            && 2 * cross(self.a, self.b, p).abs() <= self.dx().abs() + self.dy().abs()
    }
}

/// An interval of the parameter with rational ends; denominators are positive.
struct Interval {
    low: (i64, i64),
    low_open: bool,
    high: (i64, i64),
    high_open: bool,
}

impl Interval {
    fn meets(&self, other: &Interval) -> bool {
        let reaches =
            |low: (i64, i64), low_open: bool, high: (i64, i64), high_open: bool| match (low.0
                * high.1)
                .cmp(&(high.0 * low.1))
            {
                Ordering::Less => true,
                Ordering::Equal => !low_open && !high_open,
                Ordering::Greater => false,
            };
        reaches(self.low, self.low_open, other.high, other.high_open)
            && reaches(other.low, other.low_open, self.high, self.high_open)
    }
}

/// Where a moving coordinate lies in [-1, 1).
enum Crossed {
    Never,
    Always,
    In(Interval),
}

/// The parameters at which `start + t * step` lies in [-1, 1).
fn slab(start: i64, step: i64) -> Crossed {
    match step.cmp(&0) {
        Ordering::Equal if (-1..1).contains(&start) => Crossed::Always,
        Ordering::Equal => Crossed::Never,
        Ordering::Greater => Crossed::In(Interval {
            low: (-1 - start, step),
            low_open: false,
            high: (1 - start, step),
            high_open: true,
        }),
        Ordering::Less => Crossed::In(Interval {
            low: (start - 1, -step),
            low_open: true,
            high: (start + 1, -step),
            high_open: false,
        }),
    }
}
