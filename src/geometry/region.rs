//! Regions of the plane and set operations on them.
//!
//! The set operations work on a grid that is fitted to each call, about 15 nanometers on a floor of 30 m. So two calls
//! agree to about 1e-9 of the area and never bit for bit. They are those of `i_overlay` 9, used directly: the 4.5 that `geo`
//! 0.33 brings never ends on some regions whose borders lie nanometers apart, as two results of set operations do.

use geo::algorithm::interior_point::InteriorPoint;
use geo::{Area, BoundingRect, Contains, LineString, MultiPolygon, Polygon, Winding};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::overlay::{FloatOverlay, OverlayOptions};
use kurbo::{Point, Rect};

use super::stripes::Stripes;

/// A region: polygons with disjoint interiors, outer rings counter-clockwise, holes clockwise, all coordinates finite.
#[derive(Clone, Debug, PartialEq)]
pub struct Region(MultiPolygon<f64>);

impl Default for Region {
    fn default() -> Self {
        Self::empty()
    }
}

impl Region {
    /// Nothing.
    #[must_use]
    pub fn empty() -> Self {
        Self(MultiPolygon::new(Vec::new()))
    }

    /// The points around which the rings turn counter-clockwise more often than clockwise.
    ///
    /// So an outer ring is given counter-clockwise and a hole clockwise; overlapping outer rings count once,
    /// overlapping holes too, and a region inside a hole is given as one more outer ring. Rings with fewer than three points
    /// or with a coordinate that is not finite are left out.
    #[must_use]
    pub fn from_rings(rings: &[Vec<Point>]) -> Self {
        let good = |ring: &&Vec<Point>| ring.len() >= 3 && ring.iter().all(|p| p.is_finite());
        let contour = |ring: &Vec<Point>| ring.iter().map(|p| [p.x, p.y]).collect();
        let contours: Vec<Contour> = rings.iter().filter(good).map(contour).collect();
        Self::filled(&contours)
    }

    #[must_use]
    pub fn rectangle(rect: Rect) -> Self {
        Self::from_rings(&[corners(rect).to_vec()])
    }

    /// A set operation on rings, by how often they wind around a point.
    fn overlay(subject: &[Contour], clip: &[Contour], rule: OverlayRule, fill: FillRule) -> Self {
        if subject.is_empty() && clip.is_empty() {
            return Self::empty();
        }
        let options = OverlayOptions::ogc();
        let mut overlay =
            FloatOverlay::with_subj_and_clip_custom(subject, clip, options, Default::default());
        let polygon = |shape: Vec<Contour>| {
            let mut rings = shape.into_iter().map(closed);
            rings.next().map(|outer| Polygon::new(outer, rings.collect()))
        };
        let shapes = overlay.overlay(rule, fill);
        Self::tidy(shapes.into_iter().filter_map(polygon).collect())
    }

    /// The points around which rings turn counter-clockwise more often than clockwise.
    fn filled(rings: &[Contour]) -> Self {
        Self::overlay(rings, &[], OverlayRule::Subject, FillRule::Positive)
    }

    /// A set operation on two regions.
    fn combined(&self, other: &Region, rule: OverlayRule) -> Self {
        Self::overlay(&self.contours(), &other.contours(), rule, FillRule::EvenOdd)
    }

    /// All rings as the set operations take them.
    fn contours(&self) -> Vec<Contour> {
        let contour = |ring: &LineString<f64>| points(ring).iter().map(|c| [c.x, c.y]).collect();
        self.borders().map(contour).collect()
    }

    /// All rings, closed.
    fn borders(&self) -> impl Iterator<Item = &LineString<f64>> {
        self.0.iter().flat_map(|p| std::iter::once(p.exterior()).chain(p.interiors()))
    }

    /// Keeps polygons with an area, wound as promised. Every result of a set operation passes through here.
    fn tidy(polygons: Vec<Polygon<f64>>) -> Self {
        let wound = polygons
            .into_iter()
            .filter(|p| p.exterior().0.len() > 3 && p.unsigned_area() > 0.0)
            .map(|mut p| {
                p.exterior_mut(LineString::make_ccw_winding);
                p.interiors_mut(|holes| holes.iter_mut().for_each(LineString::make_cw_winding));
                p
            });
        Self(MultiPolygon::new(wound.collect()))
    }

    /// Area, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.0.unsigned_area()
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.0.is_empty()
    }

    /// What lies in either.
    #[must_use]
    pub fn union(&self, other: &Region) -> Region {
        if self.is_empty() {
            return other.clone();
        }
        if other.is_empty() {
            return self.clone();
        }
        self.combined(other, OverlayRule::Union)
    }

    /// What lies in any of them; one call, however many there are.
    #[must_use]
    pub fn union_all(regions: Vec<Region>) -> Region {
        let all = Self::together(regions);
        if all.0.0.len() < 2 {
            return all;
        }
        // The rings of regions all have the promised winding, which this rule relies on.
        Self::filled(&all.contours())
    }

    /// Regions that share at most borders, as one; a shared border stays.
    pub(super) fn together(regions: Vec<Region>) -> Region {
        Self(MultiPolygon::new(regions.into_iter().flat_map(|r| r.0.0).collect()))
    }

    /// What lies in both.
    #[must_use]
    pub fn intersection(&self, other: &Region) -> Region {
        if self.is_empty() || other.is_empty() {
            return Self::empty();
        }
        self.combined(other, OverlayRule::Intersect)
    }

    /// What lies in this one and not in the other.
    #[must_use]
    pub fn difference(&self, other: &Region) -> Region {
        if self.is_empty() || other.is_empty() {
            return self.clone();
        }
        self.combined(other, OverlayRule::Difference)
    }

    /// Whether `p` lies strictly inside. Looks at every edge; for many points use [`Region::locator`].
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        p.is_finite() && self.0.contains(&geo::Coord { x: p.x, y: p.y })
    }

    /// An index for many questions.
    #[must_use]
    pub fn locator(&self) -> RegionLocator {
        RegionLocator::new(self)
    }

    /// Each polygon as its outer ring, counter-clockwise, and its holes, clockwise; no repeated last point.
    pub fn polygons(&self) -> impl Iterator<Item = (Vec<Point>, Vec<Vec<Point>>)> + '_ {
        self.0.iter().map(|p| (open(p.exterior()), p.interiors().iter().map(open).collect()))
    }

    /// All rings, outer and holes, wound as promised; no repeated last point.
    #[must_use]
    pub fn rings(&self) -> Vec<Vec<Point>> {
        self.borders().map(open).collect()
    }

    /// The box around it.
    #[must_use]
    pub fn bounds(&self) -> Option<Rect> {
        let b = self.0.bounding_rect()?;
        Some(Rect::new(b.min().x, b.min().y, b.max().x, b.max().y))
    }

    /// A point well inside its polygons.
    #[must_use]
    pub fn interior_point(&self) -> Option<Point> {
        let p = self.0.interior_point()?;
        Some(Point::new(p.x(), p.y()))
    }

    /// The same point to the last digits but one, and much sooner where the region is one convex polygon.
    #[must_use]
    pub fn middle(&self) -> Option<Point> {
        if let [polygon] = self.0.0.as_slice()
            && polygon.interiors().is_empty()
        {
            let ring = open(polygon.exterior());
            if is_convex(&ring) {
                return middle_of_convex(&ring);
            }
        }
        self.interior_point()
    }
}

/// A ring for the set operations, not closed.
type Contour = Vec<[f64; 2]>;

fn closed(contour: Contour) -> LineString<f64> {
    let mut ring = LineString::new(contour.into_iter().map(|[x, y]| geo::Coord { x, y }).collect());
    ring.close();
    ring
}

fn open(ring: &LineString<f64>) -> Vec<Point> {
    points(ring).iter().map(|c| Point::new(c.x, c.y)).collect()
}

/// The points of a closed ring, the last not repeated.
fn points(ring: &LineString<f64>) -> &[geo::Coord<f64>] {
    ring.0.split_last().map_or(&[], |(_, rest)| rest)
}

/// The edges of a region, for quick answers to whether a point lies inside.
#[derive(Clone, Debug)]
pub struct RegionLocator(Stripes);

impl RegionLocator {
    fn new(region: &Region) -> Self {
        let mut edges = Vec::new();
        for ring in region.rings() {
            edges.extend(ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)));
        }
        Self(Stripes::new(&edges))
    }

    /// Whether `p` lies inside; on the boundary either answer may come.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.0.contains(p)
    }
}

/// A point well inside the region of these rings, as [`Region::interior_point`] finds it: in the middle of the longest stretch
/// of the region half-way up. For one convex ring, which most panels are, without building the region.
#[must_use]
pub fn interior_of(rings: &[Vec<Point>]) -> Option<Point> {
    match rings {
        [ring] if is_convex(ring) => middle_of_convex(ring),
        _ => Region::from_rings(rings).interior_point(),
    }
}

/// Whether a ring turns left at every point and once around in all.
fn is_convex(ring: &[Point]) -> bool {
    let n = ring.len();
    let side = |i: usize| ring[(i + 1) % n] - ring[i % n];
    let turns_left = |i: usize| side(i).cross(side(i + 1)) > 0.0;
    // A ring that turns left all the way goes around once if it changes from falling to rising once.
    let rises = |i: usize| side(i).y > 0.0 || (side(i).y == 0.0 && side(i).x > 0.0);
    n >= 3
        && ring.iter().all(|p| p.is_finite())
        && (0..n).all(turns_left)
        && (0..n).filter(|&i| !rises(i) && rises(i + 1)).count() == 1
}

/// The middle of a convex ring half-way up; a little above or below where a corner lies at that height.
fn middle_of_convex(ring: &[Point]) -> Option<Point> {
    let heights = || ring.iter().map(|p| p.y);
    let (low, high) = (heights().reduce(f64::min)?, heights().reduce(f64::max)?);
    let mut y = (low + high) / 2.0;
    let off = |other: &f64| (other - y).abs();
    if heights().any(|other| other == y) {
        let others = heights().filter(|other| *other != y);
        let nearest = others.min_by(|a, b| off(a).total_cmp(&off(b)))?;
        y = (y + nearest) / 2.0;
    }
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossed = sides.filter(|(a, b)| (a.y > y) != (b.y > y));
    let mut places = crossed.map(|(a, b)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
    let (first, second) = (places.next()?, places.next()?);
    Some(Point::new((first + second) / 2.0, y))
}

/// The corners of a rectangle, counter-clockwise.
#[must_use]
pub fn corners(r: Rect) -> [Point; 4] {
    [Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
}

/// The same ring, counter-clockwise.
#[must_use]
pub fn counter_clockwise(mut ring: Vec<Point>) -> Vec<Point> {
    if twice_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// Twice the area in a ring, m², negative where it runs clockwise.
pub(super) fn twice_area(ring: &[Point]) -> f64 {
    // About its first point: far from the origin, the products lose what the difference needs.
    let Some(&o) = ring.first() else { return 0.0 };
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    sides.map(|(&a, &b)| (a - o).cross(b - o)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::shapes::{hole, rect};

    fn region(rings: &[Vec<Point>]) -> Region {
        Region::from_rings(rings)
    }

    #[test]
    fn rings_give_the_area_they_enclose() {
        let bow_tie = vec![
            Point::new(0.0, 0.0),
            Point::new(2.0, 2.0),
            Point::new(2.0, 0.0),
            Point::new(0.0, 2.0),
        ];
        let nan = vec![Point::new(f64::NAN, 0.0), Point::new(1.0, 0.0), Point::new(1.0, 1.0)];
        let rows: [(&str, Vec<Vec<Point>>, f64); 9] = [
            ("one", vec![rect(0.0, 0.0, 4.0, 3.0)], 12.0),
            ("with a hole", vec![rect(0.0, 0.0, 4.0, 3.0), hole(1.0, 1.0, 2.0, 2.0)], 11.0),
            (
                "overlapping outers",
                vec![rect(0.0, 0.0, 10.0, 10.0), rect(5.0, 0.0, 15.0, 10.0)],
                150.0,
            ),
            (
                "overlapping holes",
                vec![
                    rect(0.0, 0.0, 10.0, 10.0),
                    hole(1.0, 1.0, 5.0, 5.0),
                    hole(3.0, 3.0, 7.0, 7.0),
                ],
                100.0 - 28.0,
            ),
            (
                "island in a hole",
                vec![
                    rect(0.0, 0.0, 10.0, 10.0),
                    hole(1.0, 1.0, 9.0, 9.0),
                    rect(2.0, 2.0, 3.0, 3.0),
                ],
                37.0,
            ),
            ("hole sticking out", vec![rect(0.0, 0.0, 2.0, 2.0), hole(1.0, 1.0, 3.0, 3.0)], 3.0),
            ("bow-tie keeps its counter-clockwise lobe", vec![bow_tie], 1.0),
            ("not finite", vec![nan], 0.0),
            (
                "too few points",
                vec![vec![], vec![Point::ORIGIN], vec![Point::ORIGIN, Point::new(1.0, 1.0)]],
                0.0,
            ),
        ];
        for (name, rings, expected) in rows {
            let area = region(&rings).area();
            assert!((area - expected).abs() < 1e-6, "{name}: {area} for {expected}");
        }
    }

    #[test]
    fn set_operations_agree_with_each_other() {
        let a = region(&[rect(0.0, 0.0, 6.0, 6.0), hole(2.0, 2.0, 4.0, 4.0)]);
        let b = region(&[rect(3.0, 3.0, 9.0, 9.0)]);
        assert!((a.intersection(&b).area() - 8.0).abs() < 1e-6);
        assert!((a.union(&b).area() - (32.0 + 36.0 - 8.0)).abs() < 1e-6);
        assert!((a.difference(&b).area() - 24.0).abs() < 1e-6);
        let all = Region::union_all(vec![a.clone(), b.clone(), Region::empty(), a.clone()]);
        assert!((all.area() - 60.0).abs() < 1e-6);
        assert!(a.intersection(&Region::empty()).is_empty());
        assert_eq!(Region::empty().union(&b), b);
        assert!(Region::union_all(vec![]).is_empty());
    }

    #[test]
    fn polygons_are_wound_and_not_closed_twice() {
        let a = region(&[rect(0.0, 0.0, 6.0, 6.0), hole(2.0, 2.0, 4.0, 4.0)]);
        let doubled = |ring: &[Point]| -> f64 {
            ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| p.x * q.y - q.x * p.y).sum()
        };
        let (outer, holes) = a.polygons().next().expect("one polygon");
        assert_eq!((outer.len(), holes.len()), (4, 1));
        assert!((doubled(&outer) - 72.0).abs() < 1e-6 && (doubled(&holes[0]) + 8.0).abs() < 1e-6);
    }

    #[test]
    fn a_convex_ring_has_its_interior_point_where_its_region_has() {
        let p = Point::new;
        let rows = [
            ("a square", rect(1.0, 1.0, 4.0, 3.0), true),
            ("a triangle", vec![p(0.0, 0.0), p(5.0, 1.0), p(2.0, 7.0)], true),
            (
                "a corner half-way up",
                vec![p(0.0, 0.0), p(6.0, 2.0), p(5.0, 2.5), p(1.0, 4.0)],
                true,
            ),
            (
                "an octagon",
                (0..8)
                    .map(|k| p(3.0, 2.0) + 2.0 * kurbo::Vec2::from_angle(f64::from(k) * 0.785))
                    .collect(),
                true,
            ),
            (
                "an L",
                vec![p(0.0, 0.0), p(4.0, 0.0), p(4.0, 1.0), p(1.0, 1.0), p(1.0, 4.0), p(0.0, 4.0)],
                false,
            ),
            (
                "twice around",
                (0..10)
                    .map(|k| (kurbo::Vec2::from_angle(f64::from(k) * 1.25)).to_point())
                    .collect(),
                false,
            ),
        ];
        for (name, ring, convex) in rows {
            assert_eq!(is_convex(&ring), convex, "{name}");
            let (got, want) = (
                interior_of(std::slice::from_ref(&ring)),
                Region::from_rings(std::slice::from_ref(&ring)).interior_point(),
            );
            let (got, want) = (got.expect(name), want.expect(name));
            assert!(got.distance(want) < 1e-6, "{name}: {got} for {want}");
            let middle = Region::from_rings(&[ring]).middle().expect(name);
            assert!(middle.distance(want) < 1e-12, "{name}: {middle} for {want}");
        }
        assert_eq!(interior_of(&[]), None);
    }

    #[test]
    fn points_are_found_inside_and_outside() {
        let a = region(&[rect(0.0, 0.0, 6.0, 6.0), hole(2.0, 2.0, 4.0, 4.0)]);
        let locator = a.locator();
        let rows = [
            ("in the ring", Point::new(1.0, 1.0), true),
            ("in the hole", Point::new(3.0, 3.0), false),
            ("outside", Point::new(7.0, 3.0), false),
            ("level with a corner", Point::new(1.0, 2.0), true),
            ("not finite", Point::new(f64::NAN, 1.0), false),
        ];
        for (name, p, inside) in rows {
            assert_eq!((a.contains(p), locator.contains(p)), (inside, inside), "{name}");
        }
        assert!(a.interior_point().is_some_and(|p| a.contains(p)));
        assert!(Region::empty().interior_point().is_none() && Region::empty().bounds().is_none());
        assert!(!Region::empty().locator().contains(Point::ORIGIN));
    }
}
