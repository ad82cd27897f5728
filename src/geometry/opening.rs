//! Moving the boundary of a region in or out by a distance, and the opening of a region by a disc.
//!
//! Each ring gives one raw curve: its edges moved sideways, joined by an arc where the move opens a gap, and led back
//! through the vertex where it makes an overlap. The raw curve is the ring plus (moving out) or minus (moving in) the outlines
//! of the rectangle swept by each edge and the sector swept at each vertex; whatever is swept twice cancels in
//! pairs. So it winds around a point once for the region, and once more or once less for each figure that covers the point.
//! The answer is exactly where it winds a positive number of times.

mod tiles;

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

/// More edges than this in a row, all too short for the whole move, run in a bundle through nearly one point, which takes
/// the set operations very long. The move is then made in steps.
const BUNDLE: usize = 16;
/// A step goes this far toward the distance at which the edges of a bundle vanish.
const NEARLY: f64 = 0.999;
/// After a step, points this close to a straight line are left out, m. What has nearly vanished then has few edges.
const STRAIGHT: f64 = 1e-7;
/// Steps are not made smaller than this, m, and not more of them than `MOST_STEPS`.
const SMALLEST_STEP: f64 = 1e-6;
/// See `SMALLEST_STEP`.
const MOST_STEPS: usize = 64;

/// A step finds the arcs of the one before it as corners that turn by up to so much, radians. Rounded off one by one they would have three times
/// the points after each step; moved as they are they stay within a micrometer of the arc.
const FLATTENED: f64 = 2.0 * STEP;

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

/// The points of the region that are farther than `d` meters from its boundary. Not moved when `d` is not positive.
#[must_use]
pub fn shrink(region: &Region, d: f64) -> Region {
    moved(region, -d.max(0.0), Fit::Area)
}

/// The points within `d` meters of the region. Not moved when `d` is not positive.
#[must_use]
pub fn grow(region: &Region, d: f64) -> Region {
    moved(region, d.max(0.0), Fit::Area)
}

/// Where a disc of this radius gets that stays `gap` off the boundary: the region moved in by `gap + radius` and
/// out again by `radius`, all in meters. A slot as wide as the disc and two gaps is passed.
fn opening(region: &Region, gap: f64, radius: f64) -> Region {
    let (gap, radius) = (gap.max(0.0), radius.max(0.0));
    let radius = radius - PLAY.min(radius / 2.0);
    let centers = moved(region, -(gap + radius), Fit::AreaAfterReturn(radius));
    grow(&centers, radius)
}

/// What of `wanted` no disc of this radius reaches that stays in the region and `gap` off its boundary; all in meters. A large
/// region is worked on in parts and given back in pieces that share borders.
#[must_use]
pub fn unreached(wanted: &Region, region: &Region, gap: f64, radius: f64) -> Region {
    let disc = Disc { gap: gap.max(0.0), radius: radius.max(0.0) };
    tiles::unreached(wanted, region, disc, tiles::LIGHT)
}

/// A disc that stays off the boundary, m.
#[derive(Clone, Copy, Debug)]
struct Disc {
    gap: f64,
    radius: f64,
}

/// Moves the boundary out by `by`, in when it is negative.
///
/// A move can be made in steps, because what is within `a` of all that is within `b` is what is within `a + b`.
fn moved(region: &Region, by: f64, fit: Fit) -> Region {
    if by == 0.0 || !by.is_finite() || region.is_empty() {
        return region.clone();
    }
    let mut rings: Vec<Vec<Point>> =
        region.rings().iter().map(|ring| without_repeats(ring)).collect();
    let (mut left, mut round_from) = (by, 0.0);
    for _ in 0..MOST_STEPS {
        let mut limits: Vec<f64> = rings.iter().flat_map(|ring| bundled(ring, left)).collect();
        limits.sort_by(f64::total_cmp);
        let Some(limit) =
            limits.get(BUNDLE.min(limits.len().saturating_sub(1))).map(|l| l * NEARLY)
        else {
            break;
        };
        if limit < SMALLEST_STEP {
            break;
        }
        let step = limit.copysign(by);
        left -= step;
        rings = once(&rings, step, Fit::Area, round_from)
            .iter()
            .map(|ring| straightened(ring))
            .collect();
        round_from = FLATTENED;
    }
    Region::from_rings(&once(&rings, left, fit, round_from))
}

/// Moves the boundary in one step; corners that turn by less than `round_from` are not rounded off.
fn once(rings: &[Vec<Point>], by: f64, fit: Fit, round_from: f64) -> Vec<Vec<Point>> {
    let rings = rings.iter();
    let raw: Vec<Vec<Point>> = rings.map(|ring| raw_curve(ring, by, fit, round_from)).collect();
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
    while kept.len() > 1
        && kept.first().zip(kept.last()).is_some_and(|(p, q)| p.distance(*q) <= SAME_POINT)
    {
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
fn raw_curve(ring: &[Point], by: f64, fit: Fit, round_from: f64) -> Vec<Point> {
    if ring.len() < 3 {
        return Vec::new();
    }
    let next = |i: usize| (i + 1) % ring.len();
    let (edges, turns) = edges_and_turns(ring);
    let joins = joins(&edges, &turns, by, round_from);
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
    let edges: Vec<Vec2> =
        ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| *b - *a).collect();
    let turns =
        edges.iter().zip(edges.iter().cycle().skip(1)).map(|(e, f)| angle(*e, *f)).collect();
    (edges, turns)
}

/// The signed angle from one direction to the other.
fn angle(from: Vec2, to: Vec2) -> f64 {
    from.cross(to).atan2(from.dot(to))
}

/// The joins, each at the end of its edge.
///
/// Cutting two edges where they meet takes a kite that was swept twice out of the sum once. That changes nothing as
/// long as each edge is long enough for the cuts at both its ends. It spares the many crossings of curves going back
/// through the vertices of a finely flattened hollow.
fn joins(edges: &[Vec2], turns: &[f64], by: f64, round_from: f64) -> Vec<Join> {
    let too_short = |i: usize| vanishing(edges, turns, i, by) < by.abs();
    // The tip between an arc and the edges moved until they meet has r² (tan(t/2) - t/2), about r² t³ / 24.
    let tip = |turn: f64| turn >= round_from && by * by * turn.powi(3) > 24.0 * TIP;
    let join = |i: usize| match turns[i] * by > 0.0 {
        true if tip(turns[i].abs()) => Join::Arc,
        true => Join::Meet,
        false if too_short(i) || too_short((i + 1) % turns.len()) => Join::Vertex,
        false => Join::Meet,
    };
    (0..turns.len()).map(join).collect()
}

/// The distance at which a moved edge has been cut to nothing from both its ends.
fn vanishing(edges: &[Vec2], turns: &[f64], i: usize, by: f64) -> f64 {
    let cut = |turn: f64| {
        if turn * by > 0.0 { 0.0 } else { (turn.abs() / 2.0).tan() }
    };
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
mod tests;
