//! Moving the boundary of a region in or out by a distance, and the opening of a region by a disc.
//!
//! Each ring gives one raw curve: its edges moved sideways, joined by an arc where the move opens a gap, and led back
//! through the vertex where it makes an overlap. The raw curve is the ring plus (moving out) or minus (moving in) the outlines
//! of the rectangle swept by each edge and the sector swept at each vertex; whatever is swept twice cancels in
//! pairs. So it winds around a point once for the region, and once more or less for each figure that covers the point,
//! and the answer is exactly where it winds a positive number of times.

use super::arrangement::fill;
use super::region::Region;
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

/// Arcs are flattened to steps no wider than this, radians. A chord then leaves its arc by 2e-5 of the radius.
const STEP: f64 = TAU / 512.0;
/// Points of a ring nearer to each other than this are one point, m; it is the noise of the set operations.
const SAME_POINT: f64 = 1e-8;
/// A disc that fits a slot exactly is to pass. The disc is made smaller by this much, m: more than the noise of the set
/// operations, and too little to be seen in an area (its effect is of second order).
const PLAY: f64 = 2e-7;

/// Where more edges than this in a row are too short for the whole move they run in a bundle through nearly one point, which
/// takes the set operations very long. The move is then made in steps.
const BUNDLE: usize = 16;
/// A step goes this far towards the distance at which the edges of a bundle vanish.
const NEARLY: f64 = 0.999;
/// After a step, points within this of a straight line are left out, m, so that what has nearly vanished has few edges.
const STRAIGHT: f64 = 1e-7;
/// Steps are not made smaller than this, m, and not more of them than `MOST_STEPS`.
const SMALLEST_STEP: f64 = 1e-6;
/// See `SMALLEST_STEP`.
const MOST_STEPS: usize = 64;

/// An arc is not worth its points when leaving it out changes no more than this area, m².
const TIP: f64 = 1e-12;

/// How the flattened arcs are fitted to the true ones.
#[derive(Clone, Copy)]
enum Fit {
    /// The flattened sector has the area of the true one.
    Area,
    /// The arc is going to be moved back by this distance, and is to have the right area after that.
    AreaAfterReturn(f64),
}

/// The points of the region that are farther than `d` metres from its boundary. Not moved when `d` is not positive.
#[must_use]
pub fn shrink(region: &Region, d: f64) -> Region {
    moved(region, -d.max(0.0), Fit::Area)
}

/// The points within `d` metres of the region. Not moved when `d` is not positive.
#[must_use]
pub fn grow(region: &Region, d: f64) -> Region {
    moved(region, d.max(0.0), Fit::Area)
}

/// Where a disc of this radius gets that stays `gap` off the boundary: the region moved in by `gap + radius` and
/// out again by `radius`, all in metres. A slot as wide as the disc and two gaps is passed.
#[must_use]
pub fn opening(region: &Region, gap: f64, radius: f64) -> Region {
    let (gap, radius) = (gap.max(0.0), radius.max(0.0));
    let radius = radius - PLAY.min(radius / 2.0);
    let centers = moved(region, -(gap + radius), Fit::AreaAfterReturn(radius));
    grow(&centers, radius)
}

/// Moves the boundary out by `by`, in when it is negative.
///
/// A move can be made in steps, because what is within `a` of all that is within `b` is what is within `a + b`.
fn moved(region: &Region, by: f64, fit: Fit) -> Region {
    if by == 0.0 || !by.is_finite() || region.is_empty() {
        return region.clone();
    }
    let mut rings: Vec<Vec<Point>> = region.rings().iter().map(|ring| without_repeats(ring)).collect();
    let mut left = by;
    for _ in 0..MOST_STEPS {
        let mut limits: Vec<f64> = rings.iter().flat_map(|ring| bundled(ring, left)).collect();
        limits.sort_by(f64::total_cmp);
        let Some(limit) = limits.get(BUNDLE.min(limits.len().saturating_sub(1))).map(|l| l * NEARLY) else { break };
        if limit < SMALLEST_STEP {
            break;
        }
        let step = limit.copysign(by);
        left -= step;
        rings = once(&rings, step, Fit::Area).iter().map(|ring| straightened(ring)).collect();
    }
    Region::from_rings(&once(&rings, left, fit))
}

/// Moves the boundary in one step.
fn once(rings: &[Vec<Point>], by: f64, fit: Fit) -> Vec<Vec<Point>> {
    let raw: Vec<Vec<Point>> = rings.iter().map(|ring| raw_curve(ring, by, fit)).collect();
    fill::positive(&raw).unwrap_or_else(|| Region::from_rings(&raw).rings())
}

/// Leaves out points that lie within [`STRAIGHT`] of the line between those kept.
fn straightened(ring: &[Point]) -> Vec<Point> {
    const LONGEST: usize = 16;
    let ring = without_repeats(ring);
    let mut kept: Vec<Point> = Vec::with_capacity(ring.len());
    let mut at = 0;
    while let Some(start) = ring.get(at) {
        kept.push(*start);
        let straight = |end: &usize| {
            let along = (ring[*end] - *start).normalize();
            ring[at + 1..*end].iter().all(|p| along.cross(*p - *start).abs() <= STRAIGHT)
        };
        at = (at + 2..ring.len().min(at + LONGEST)).take_while(straight).last().unwrap_or(at + 1);
    }
    kept
}

fn without_repeats(ring: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(ring.len());
    for p in ring {
        if kept.last().is_none_or(|q| q.distance(*p) > SAME_POINT) {
            kept.push(*p);
        }
    }
    while kept.len() > 1 && kept.first().zip(kept.last()).is_some_and(|(p, q)| p.distance(*q) <= SAME_POINT) {
        kept.pop();
    }
    kept
}

/// How two moved edges are joined at the vertex between them.
#[derive(Clone, Copy, PartialEq)]
enum Join {
    /// They come apart; an arc fills the gap.
    Arc,
    /// They are cut, or drawn on by next to nothing, to where they meet.
    Meet,
    /// They overlap but one is too short to be cut; the curve goes back through the vertex.
    Vertex,
}

/// The raw curve of a ring with the region on its left.
fn raw_curve(ring: &[Point], by: f64, fit: Fit) -> Vec<Point> {
    if ring.len() < 3 {
        return Vec::new();
    }
    let next = |i: usize| (i + 1) % ring.len();
    let (edges, turns) = edges_and_turns(ring);
    let joins = joins(&edges, &turns, by);
    let mut raw = Vec::with_capacity(3 * ring.len());
    for (i, join) in joins.iter().enumerate() {
        let (vertex, turn) = (ring[next(i)], turns[i]);
        let [before, after] = [edges[i], edges[next(i)]].map(|edge| outward(edge.normalize()) * by);
        match join {
            Join::Meet => raw.push(vertex + (before + after) / (1.0 + turn.cos())),
            Join::Vertex => raw.extend([vertex + before, vertex, vertex + after]),
            Join::Arc => {
                raw.push(vertex + before);
                arc(vertex, before, turn, fit, &mut raw);
                raw.push(vertex + after);
            }
        }
    }
    raw
}

/// The edges of a ring as vectors, and the turn at the end of each.
fn edges_and_turns(ring: &[Point]) -> (Vec<Vec2>, Vec<f64>) {
    let edges: Vec<Vec2> = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| *b - *a).collect();
    let turns = edges.iter().zip(edges.iter().cycle().skip(1)).map(|(e, f)| angle(*e, *f)).collect();
    (edges, turns)
}

/// The signed angle from one direction to the other.
fn angle(from: Vec2, to: Vec2) -> f64 {
    from.cross(to).atan2(from.dot(to))
}

/// The joins, each at the end of its edge.
///
/// Cutting two edges where they meet takes a doubly swept kite out of the sum once, which changes nothing as long as
/// each edge is long enough for the cuts at both its ends. It spares the many crossings of curves going back
/// through the vertices of a finely flattened hollow.
fn joins(edges: &[Vec2], turns: &[f64], by: f64) -> Vec<Join> {
    let too_short = |i: usize| vanishing(edges, turns, i, by) < by.abs();
    let join = |i: usize| match turns[i] * by > 0.0 {
        // The tip between an arc and the edges moved until they meet has r² (tan(t/2) - t/2), about r² t³ / 24.
        true if by * by * turns[i].abs().powi(3) > 24.0 * TIP => Join::Arc,
        true => Join::Meet,
        false if too_short(i) || too_short((i + 1) % turns.len()) => Join::Vertex,
        false => Join::Meet,
    };
    (0..turns.len()).map(join).collect()
}

/// The distance at which a moved edge has been cut to nothing from both its ends.
fn vanishing(edges: &[Vec2], turns: &[f64], i: usize, by: f64) -> f64 {
    let cut = |turn: f64| if turn * by > 0.0 { 0.0 } else { (turn.abs() / 2.0).tan() };
    edges[i].hypot() / (cut(turns[i]) + cut(turns[(i + turns.len() - 1) % turns.len()]))
}

/// The vanishing distances of edges that vanish before `by` in runs longer than [`BUNDLE`].
fn bundled(ring: &[Point], by: f64) -> Vec<f64> {
    if ring.len() <= BUNDLE {
        return Vec::new();
    }
    let (edges, turns) = edges_and_turns(ring);
    let limits: Vec<f64> = (0..ring.len()).map(|i| vanishing(&edges, &turns, i, by)).collect();
    let runs = limits.chunk_by(|a, b| (*a < by.abs()) == (*b < by.abs()));
    runs.filter(|run| run.len() > BUNDLE && run[0] < by.abs()).flatten().copied().collect()
}

/// To the right of a direction, where the outside is.
fn outward(along: Vec2) -> Vec2 {
    Vec2::new(along.y, -along.x)
}

/// The points of an arc between its ends, which are on the circle; those between are fitted.
fn arc(center: Point, from: Vec2, turn: f64, fit: Fit, out: &mut Vec<Point>) {
    let steps = (turn.abs() / STEP).ceil().max(2.0);
    let step = turn.abs() / steps;
    let radius = from.hypot();
    let fitted = match fit {
        // A regular polygon around a circle of radius `kept` has tan(s/2) / (s/2) times the area of the circle.
        Fit::AreaAfterReturn(back) if back < radius => {
            let kept = (radius - back) * (step / 2.0 / (step / 2.0).tan()).sqrt();
            (back + kept) / (step / 2.0).cos()
        }
        // (After a move in steps the last may be shorter than the way back; then the difference is not worth the trouble.)
        // The sector is two triangles with one fitted side and steps - 2 with two; their area gives a quadratic equation.
        Fit::Area | Fit::AreaAfterReturn(_) => {
            let wanted = radius * radius * turn.abs() / step.sin();
            wanted / (radius + (radius * radius + (steps - 2.0) * wanted).sqrt())
        }
    };
    let spoke = from * (fitted / radius);
    for i in 1..steps as usize {
        let angle = turn * i as f64 / steps;
        let (sin, cos) = angle.sin_cos();
        out.push(center + Vec2::new(spoke.x * cos - spoke.y * sin, spoke.x * sin + spoke.y * cos));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    const HEAD: f64 = 0.381;
    const GAP: f64 = 0.0508;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
        vec![Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)]
    }

    fn ring(pairs: &[(f64, f64)]) -> Vec<Point> {
        pairs.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    fn reversed(mut ring: Vec<Point>) -> Vec<Point> {
        ring.reverse();
        ring
    }

    /// A polygon with the area of the circle.
    fn circle(x: f64, y: f64, radius: f64, count: usize) -> Vec<Point> {
        let step = TAU / count as f64;
        let r = radius * (step / step.sin()).sqrt();
        (0..count).map(|i| Point::new(x, y) + Vec2::from_angle(i as f64 * step) * r).collect()
    }

    fn close(name: &str, area: f64, expected: f64, relative: f64) {
        assert!((area - expected).abs() <= relative * expected.abs(), "{name}: {area} for {expected}");
    }

    fn unreached(rings: &[Vec<Point>]) -> f64 {
        let region = Region::from_rings(rings);
        region.difference(&opening(&region, GAP, HEAD)).area()
    }

    /// Area between a right-angled corner and a disc in it.
    fn corner(r: f64) -> f64 {
        (1.0 - PI / 4.0) * r * r
    }

    #[test]
    fn growing_and_shrinking_by_the_formula_of_steiner() {
        let square = Region::from_rings(&[rect(0.0, 0.0, 4.0, 3.0)]);
        close("grown", grow(&square, 0.5).area(), 12.0 + 14.0 * 0.5 + PI * 0.25, 1e-7);
        close("shrunk", shrink(&square, 0.5).area(), 6.0, 1e-7);
        assert!(shrink(&square, 1.6).is_empty());
        let l = Region::from_rings(&[ring(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)])]);
        // A strip along 16 of wall; at five corners it overlaps itself, at the sixth a quarter disc fills its gap.
        close("L shrunk", shrink(&l, 0.5).area(), 12.0 - (8.0 - 5.0 * 0.25 + PI / 16.0), 1e-7);
        let holed = Region::from_rings(&[rect(0.0, 0.0, 10.0, 10.0), reversed(rect(4.0, 4.0, 6.0, 6.0))]);
        close("hole grows", shrink(&holed, 1.0).area(), 64.0 - (4.0 + 8.0 + PI), 1e-7);
        close("hole shrinks", grow(&holed, 0.25).area(), 100.0 + 10.0 + PI / 16.0 - 2.25, 1e-7);
        close("hole vanishes", grow(&holed, 1.5).area(), 100.0 + 60.0 + PI * 2.25, 1e-7);
        assert_eq!(grow(&square, 0.0), square);
        assert_eq!(shrink(&square, f64::NAN), square);
        assert!(grow(&Region::empty(), 1.0).is_empty());
    }

    #[test]
    fn floor_out_of_reach_of_the_disc() {
        let r = HEAD;
        let rows: [(&str, Vec<Vec<Point>>, f64); 9] = [
            ("rectangle", vec![rect(0.0, 0.0, 6.0, 4.0)], 24.0 - (6.0 - 2.0 * GAP) * (4.0 - 2.0 * GAP) + 4.0 * corner(r)),
            (
                "L shape",
                vec![ring(&[(0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (3.0, 2.0), (3.0, 5.0), (0.0, 5.0)])],
                // The strip along 22 m of wall; five corners inwards; at the one outwards a quarter disc of the gap.
                22.0 * GAP - 5.0 * GAP * GAP + PI / 4.0 * GAP * GAP + 5.0 * corner(r),
            ),
            ("circle", vec![circle(0.0, 0.0, 3.0, 4096)], PI * (9.0 - (3.0 - GAP) * (3.0 - GAP))),
            (
                "a slot too narrow",
                vec![ring(&[(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (4.0, 4.0), (4.0, 6.0), (3.5, 6.0), (3.5, 4.0), (0.0, 4.0)])],
                f64::NAN,
            ),
            (
                "a post in the middle",
                vec![rect(0.0, 0.0, 6.0, 4.0), reversed(rect(2.8, 1.8, 3.2, 2.2))],
                24.0 - (6.0 - 2.0 * GAP) * (4.0 - 2.0 * GAP) + 4.0 * corner(r) + 4.0 * 0.4 * GAP + PI * GAP * GAP,
            ),
            (
                "a round post in the middle",
                vec![rect(0.0, 0.0, 6.0, 4.0), reversed(circle(3.0, 2.0, 0.2, 4096))],
                24.0 - (6.0 - 2.0 * GAP) * (4.0 - 2.0 * GAP)
                    + 4.0 * corner(r)
                    + PI * ((0.2 + GAP) * (0.2 + GAP) - 0.04),
            ),
            ("too narrow for the disc", vec![rect(0.0, 0.0, 6.0, 0.8)], 4.8),
            ("exactly as wide as the disc", vec![rect(0.0, 0.0, 6.0, 2.0 * (HEAD + GAP))], f64::NAN),
            ("a round post near a wall", vec![rect(0.0, 0.0, 6.0, 4.0), reversed(circle(3.0, 0.5, 0.2, 4096))], f64::NAN),
        ];
        let wide = 6.0 * 2.0 * (HEAD + GAP) - (6.0 - 2.0 * GAP) * 2.0 * HEAD + 4.0 * corner(r);
        let special = [narrow_slot(0.5, 2.0), wide, post_near_wall(0.2, 0.5)];
        let mut special = special.into_iter();
        for (name, rings, expected) in rows {
            let expected = if expected.is_nan() { special.next().expect("one for each") } else { expected };
            close(name, unreached(&rings), expected, 1e-6);
        }
    }

    /// A 6 × 4 rectangle with a slot in its upper side that is narrower than the disc: the slot is lost, and the disc
    /// bulges a little into its mouth, resting on the two circles around the corners of the mouth.
    fn narrow_slot(width: f64, depth: f64) -> f64 {
        let whole = 24.0 - (6.0 - 2.0 * GAP) * (4.0 - 2.0 * GAP) + 4.0 * corner(HEAD);
        // Centres of discs touch the circles of radius GAP + HEAD around both corners of the mouth.
        let d = GAP + HEAD;
        let angle = (width / 2.0 / d).asin();
        let lowest = d * angle.cos();
        // Above the line of the wall, offset by the gap, the reached region gains, on each side, from the end of the strip
        // to the middle of the mouth: below the circle around the corner, then below the disc.
        let corner_part = circle_strip(GAP, angle);
        let half = width / 2.0 - GAP * angle.sin();
        // The disc has its centre in the middle of the mouth, `lowest` below the line of the corners.
        let disc = half * -lowest + 0.5 * (half * (HEAD * HEAD - half * half).sqrt() + HEAD * HEAD * (half / HEAD).asin());
        // Heights measured from the wall line, the strip's edge lies at -GAP.
        let gained = 2.0 * (-corner_part + disc + GAP * width / 2.0);
        whole + width * depth - gained
    }

    /// Integral of the height of a circle's lower arc below its centre, from the lowest point to `angle` beside it.
    fn circle_strip(radius: f64, angle: f64) -> f64 {
        let x = radius * angle.sin();
        0.5 * (x * (radius * radius - x * x).sqrt() + radius * radius * angle)
    }

    /// A 6 × 4 rectangle with a post of this radius whose centre is `height` above the lower side, too near for the
    /// disc to pass: beside the strips there are the two pockets between wall, post and disc.
    fn post_near_wall(radius: f64, height: f64) -> f64 {
        let whole = 24.0 - (6.0 - 2.0 * GAP) * (4.0 - 2.0 * GAP) + 4.0 * corner(HEAD);
        let post = radius + GAP;
        // The disc rests on the strip at x from the post's axis.
        let (rise, reach) = (height - GAP - HEAD, post + HEAD);
        let x = (reach * reach - rise * rise).sqrt();
        // Between the axis and x lies, from the strip up to the level of the post's centre, the pocket: the trapezoid
        // under the line of centres less the two sectors and, above, nothing.
        let (post_height, disc_height) = (height - GAP, HEAD);
        let trapezoid = x * (post_height + disc_height) / 2.0;
        let tilt = (rise / reach).asin();
        let post_sector = 0.5 * post * post * (PI / 2.0 - tilt);
        let disc_sector = 0.5 * HEAD * HEAD * (PI / 2.0 + tilt);
        let pocket = trapezoid - post_sector - disc_sector;
        let ring = PI * (post * post - radius * radius);
        // The ring around the post and the strip may overlap when the post is nearer than twice the gap; here they don't.
        whole + ring + 2.0 * pocket
    }

    fn blob() -> impl Strategy<Value = Vec<Point>> {
        prop::collection::vec(1.0..6.0f64, 3..40).prop_map(|radii| {
            let step = TAU / radii.len() as f64;
            radii.iter().enumerate().map(|(i, r)| (Vec2::from_angle(i as f64 * step) * *r).to_point()).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(8))]

        #[test]
        fn the_opening_lies_in_the_region_off_its_edge(ring in blob(), angle in 0.0..6.0f64) {
            let region = Region::from_rings(std::slice::from_ref(&ring));
            let open = opening(&region, GAP, HEAD);
            prop_assert!(open.difference(&shrink(&region, GAP)).area() < 1e-4 * (1.0 + region.area()));
            // Opening twice changes nothing more.
            let again = opening(&open, 0.0, HEAD);
            prop_assert!((again.area() - open.area()).abs() < 1e-4 * (1.0 + open.area()));
            let turn = kurbo::Affine::rotate(angle);
            let turned: Vec<Point> = ring.iter().map(|p| turn * *p).collect();
            let other = opening(&Region::from_rings(&[turned]), GAP, HEAD);
            prop_assert!((other.area() - open.area()).abs() < 1e-6 * (1.0 + open.area()));
        }

        #[test]
        fn what_is_within_d_is_what_growing_reaches(ring in blob(), d in 0.05..2.0f64, x in -8.0..8.0f64, y in -8.0..8.0f64) {
            let region = Region::from_rings(std::slice::from_ref(&ring));
            let p = Point::new(x, y);
            let to_edge = |(a, b): (&Point, &Point)| {
                let (along, from) = (*b - *a, p - *a);
                (from - along * (from.dot(along) / along.hypot2()).clamp(0.0, 1.0)).hypot()
            };
            let distance = ring.iter().zip(ring.iter().cycle().skip(1)).map(to_edge).fold(f64::MAX, f64::min);
            prop_assume!((distance - d).abs() > 1e-4 && distance > 1e-6);
            prop_assert_eq!(grow(&region, d).contains(p), region.contains(p) || distance < d);
            prop_assert_eq!(shrink(&region, d).contains(p), region.contains(p) && distance > d);
        }
    }
}
