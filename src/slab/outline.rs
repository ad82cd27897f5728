//! The outline: corners, walls, and how a walk closes.

use kurbo::{Point, Vec2};

use super::locate::Ties;
use super::{Closure, Outline};
use crate::diagnostic::Diagnostic;
use crate::geometry::crossing::first_self_crossing;
use crate::geometry::path::{Arc, Path, Segment};
use crate::geometry::rectangle::OrientedRect;
use crate::quantity::{M_PER_IN, Units, write};
use crate::sketch::{self, At, Hand, PathForm, PointForm, Run, Span};

/// A walk that comes this close to its start is closed silently, m: 1/4 in, what a tape and a
/// pencil lose on a good day (common practice).
pub const CLOSED_SILENTLY: f64 = 0.25 * M_PER_IN;

/// Least misclosure that is shared out instead of refused, m: 2 in (common practice).
pub const LEAST_TOLERANCE: f64 = 2.0 * M_PER_IN;

/// Misclosure over length walked up to which it is shared out: 1 in 300, the coarse end of tape
/// traverses (common practice).
pub const TOLERANCE_RATIO: f64 = 1.0 / 300.0;

/// Runs whose direction is this close to the misclosure are named as likely misreadings: the
/// sine of 10°.
const LIKELY: f64 = 0.174;

/// Least area of a slab, m²: a square foot and a half; less is a slip of the pencil.
const LEAST_AREA: f64 = 1e-4;

/// The outline of a sketch, or what is wrong with it.
pub(super) fn outline(
    form: &At<sketch::Outline>,
    units: Units,
    found: &mut Vec<Diagnostic>,
) -> Option<Outline> {
    let (walls, corners, closure) = match &form.value {
        sketch::Outline::Path(path) => {
            let walls = by_corners(path, units, found)?;
            let corners = walls.iter().map(Path::start).collect();
            (walls, corners, None)
        }
        sketch::Outline::Walk { start, runs, close } => {
            let start = Point::new(start.0.m(), start.1.m());
            let legs: Vec<Leg> = runs.iter().map(Leg::of).collect();
            let (corners, closure) = walk(start, &legs, *close, units, form.span, found)?;
            let walls = sides(&corners, &legs);
            (walls, corners, closure)
        }
    };
    finish(walls, corners, closure, units, form.span, found)
}

/// A run of a walk on the plan.
struct Leg {
    /// From its first point to its last, m.
    chord: Vec2,
    /// How far an arc stands out from its chord to the right, as a share of the chord; 0 for a straight run.
    bow: f64,
    /// Length walked, m.
    length_m: f64,
    span: Span,
}

impl Leg {
    fn of(run: &At<Run>) -> Self {
        let chord = step(&run.value);
        let length = run.value.length.m();
        // What turns to the left stands out to the right.
        let bow = run.value.bend.map_or(0.0, |bend| match bend.to {
            Hand::Left => bend.rise.m() / length,
            Hand::Right => -bend.rise.m() / length,
        });
        let mut leg = Self { chord, bow, length_m: length, span: run.span };
        leg.length_m = leg.between(Point::ORIGIN, chord.to_point()).length();
        leg
    }

    /// The leg between two corners: where a misclosure was shared out, an arc keeps its form.
    fn between(&self, a: Point, b: Point) -> Path {
        let chord = b - a;
        let via = a.midpoint(b) + self.bow * Vec2::new(chord.y, -chord.x);
        let arc = (self.bow != 0.0).then(|| Arc::through(a, via, b));
        arc.flatten()
            .map_or_else(|| Path::polyline(&[a, b]), |arc| Path::new(vec![Segment::Arc(arc)]))
    }
}

/// The walls between corners; after the legs comes the way back that was not taped.
fn sides(corners: &[Point], legs: &[Leg]) -> Vec<Path> {
    let ends = corners.iter().cycle().skip(1);
    let mut legs = legs.iter();
    corners
        .iter()
        .zip(ends)
        .map(|(&a, &b)| match legs.next() {
            Some(leg) => leg.between(a, b),
            None => Path::polyline(&[a, b]),
        })
        .collect()
}

fn finish(
    walls: Vec<Path>,
    corners: Vec<Point>,
    closure: Option<Closure>,
    units: Units,
    span: Span,
    found: &mut Vec<Diagnostic>,
) -> Option<Outline> {
    if let Some(wall) = walls.iter().position(Path::is_empty) {
        let next = (wall + 1) % walls.len() + 1;
        found.push(
            Diagnostic::error(
                "zero-length",
                format!("corners {} and {next} of the outline are the same point", wall + 1),
            )
            .at(span)
            .hint("leave one of them out"),
        );
        return None;
    }
    let path = Path::new(walls.iter().flat_map(|w| w.segments().to_vec()).collect());
    if thin(&path.ring()) {
        found.push(no_area(span));
        return None;
    }
    if let Some(crossing) = first_self_crossing(&path.ring()) {
        let (x, y) = (write::length(crossing.at.x, units), write::length(crossing.at.y, units));
        let stations = path.flatten();
        let wall = |edge: usize| wall_of(&walls, stations[edge].station);
        let (a, b) = (wall(crossing.edge_a), wall(crossing.edge_b));
        found.push(
            Diagnostic::error(
                "outline-crosses-itself",
                format!("the outline crosses itself at [{x}, {y}], where walls {a} and {b} meet"),
            )
            .at(span)
            .label("this outline")
            .hint("check the order of the corners and the direction of each run"),
        );
        return None;
    }
    let area = path.signed_area();
    if area.abs() < LEAST_AREA {
        found.push(no_area(span));
        return None;
    }
    Some(Outline { path, corners, walls, counter_clockwise: area > 0.0, closure, span })
}

fn no_area(span: Span) -> Diagnostic {
    Diagnostic::error("zero-area", "the outline encloses no area")
        .at(span)
        .hint("list the corners around the slab, one after another")
}

/// Whether all points lie on one line: such a ring has no inside, and to say that it crosses
/// itself would send the estimator looking for the wrong thing.
pub(super) fn thin(ring: &[Point]) -> bool {
    const NO_WIDTH: f64 = 1e-6;
    OrientedRect::around(ring).is_none_or(|rect| rect.width() < NO_WIDTH)
}

/// Number, from 1, of the wall a station of the whole outline lies on.
fn wall_of(walls: &[Path], station: f64) -> usize {
    let mut end = 0.0;
    for (i, wall) in walls.iter().enumerate() {
        end += wall.length();
        if station < end - 1e-9 {
            return i + 1;
        }
    }
    walls.len()
}

fn by_corners(path: &PathForm, units: Units, found: &mut Vec<Diagnostic>) -> Option<Vec<Path>> {
    // A last vertex that repeats the first closes the outline: that is how an arc comes back to it.
    let count = path.corners();
    let mut corners: Vec<Point> = Vec::with_capacity(count);
    for vertex in path.vertices.iter().take(count) {
        let corner = corner(&vertex.to, &corners, units, found)?;
        corners.push(corner);
    }
    let mut walls = Vec::with_capacity(count);
    for i in 0..count {
        let (a, b) = (corners[i], corners[(i + 1) % count]);
        let back = path.vertices.get(count).or(path.vertices.first());
        let vertex = if i + 1 < count { path.vertices.get(i + 1) } else { back };
        let segment = match vertex.and_then(|v| v.via.as_deref()) {
            None => Segment::Line { a, b },
            Some(via) => {
                let through = corner(via, &corners, units, found)?;
                Segment::Arc(Arc::through(a, through, b).or_else(|| {
                    found.push(no_arc(via.span));
                    None
                })?)
            }
        };
        walls.push(Path::new(vec![segment]));
    }
    Some(walls)
}

/// The error for three points of an arc that lie on a line.
pub(super) fn no_arc(span: Span) -> Diagnostic {
    Diagnostic::error(
        "no-arc",
        "no circular arc runs through these three points: they lie on a line",
    )
    .at(span)
    .label("`via` must lie off the straight line between the two ends")
    .hint("leave `via` out for a straight piece, or give a point half way along the curve")
}

/// A corner by coordinates, or tied to corners before it.
fn corner(
    form: &At<PointForm>,
    before: &[Point],
    units: Units,
    found: &mut Vec<Diagnostic>,
) -> Option<Point> {
    match &form.value {
        PointForm::Xy(x, y) => return Some(Point::new(x.m(), y.m())),
        PointForm::Ties { ties, side } => {
            let [first, second] = &**ties;
            let at = |number: &At<usize>| number.value.checked_sub(1).and_then(|i| before.get(i));
            if let (Some(&a), Some(&b)) = (at(&first.0), at(&second.0)) {
                let ties = Ties { a, b, ra: first.1.value.m(), rb: second.1.value.m() };
                let numbers = (first.0.value, second.0.value);
                return ties
                    .meet(*side)
                    .map_err(|gap| found.push(ties.apart(numbers, gap, units, form.span)))
                    .ok();
            }
        }
        PointForm::Wall { .. } | PointForm::Line { .. } | PointForm::Off { .. } => {}
    }
    found.push(
        Diagnostic::error(
            "outline-point",
            "a corner of the outline must be given by coordinates or ties to corners before it",
        )
        .at(form.span)
        .label("walls and lines need an outline to start from")
        .hint("write it as `[x, y]`, or give the outline as a walk"),
    );
    None
}

fn walk(
    start: Point,
    legs: &[Leg],
    close: bool,
    units: Units,
    span: Span,
    found: &mut Vec<Diagnostic>,
) -> Option<(Vec<Point>, Option<Closure>)> {
    let mut points = vec![start];
    let mut at = start;
    for leg in legs {
        at += leg.chord;
        points.push(at);
    }
    if close {
        return Some((points, None));
    }
    let gap = at - start;
    let walked: f64 = legs.iter().map(|leg| leg.length_m).sum();
    let tolerance = LEAST_TOLERANCE.max(walked * TOLERANCE_RATIO);
    if gap.hypot() > tolerance {
        found.push(refused(gap, walked, tolerance, legs, units, span));
        return None;
    }
    points.pop();
    // The compass rule: every run takes its share of the gap by its length.
    let mut before = 0.0;
    for (point, leg) in points.iter_mut().zip(legs) {
        *point -= gap * (before / walked);
        before += leg.length_m;
    }
    let closure = Closure {
        misclosure_m: gap.hypot(),
        east_m: gap.x,
        north_m: gap.y,
        walked_m: walked,
        shared_out: gap.hypot() > CLOSED_SILENTLY,
    };
    Some((points, Some(closure)))
}

/// A run as a vector. The four sides of the sheet are exact, whatever the sine of 180° says.
fn step(run: &Run) -> Vec2 {
    let length = run.length.m();
    let unit = match run.direction_deg.rem_euclid(360.0) {
        0.0 => Vec2::new(1.0, 0.0),
        90.0 => Vec2::new(0.0, 1.0),
        180.0 => Vec2::new(-1.0, 0.0),
        270.0 => Vec2::new(0.0, -1.0),
        deg => Vec2::from_angle(deg.to_radians()),
    };
    length * unit
}

fn refused(
    gap: Vec2,
    walked: f64,
    tolerance: f64,
    legs: &[Leg],
    units: Units,
    span: Span,
) -> Diagnostic {
    let side = |value: f64, plus: &str, minus: &str| {
        let word = if value < 0.0 { minus } else { plus };
        format!("{} {word}", write::length(value.abs(), units))
    };
    let lean = |leg: &Leg| (gap.cross(leg.chord) / (gap.hypot() * leg.chord.hypot())).abs();
    let least = legs.iter().map(lean).fold(f64::INFINITY, f64::min);
    let likely: Vec<usize> =
        (0..legs.len()).filter(|&i| lean(&legs[i]) <= least + 1e-9 && least <= LIKELY).collect();
    let mut out = Diagnostic::error(
        "misclosure",
        format!(
            "the walk ends {} from its start ({}, {}); up to {} can be shared out over {} walked",
            write::length(gap.hypot(), units),
            side(gap.x, "east", "west"),
            side(gap.y, "north", "south"),
            write::length(tolerance, units),
            write::length(walked, units),
        ),
    );
    let turned: Vec<usize> =
        (0..legs.len()).filter(|&i| (gap - 2.0 * legs[i].chord).hypot() <= tolerance).collect();
    // A run is missing where the way back turns off both from the last run and from the first.
    let ends = [legs.first(), legs.last()];
    let turns_off = ends.iter().flatten().all(|leg| lean(leg) > LIKELY);
    let back = turns_off.then(|| way_back(-gap, tolerance, units)).flatten();
    out = match (turned.first(), back, likely.first()) {
        (Some(&first), ..) => out
            .at(legs[first].span)
            .label("the other way round, this run closes the walk")
            .hint(format!("check the direction letter of {}", named(&turned, "or"))),
        (None, Some(back), first) => {
            let misread = first.map_or(String::new(), |_| {
                format!("; if no run is missing, tape {} again", named(&likely, "and"))
            });
            out.at(legs.last().map_or(span, |leg| leg.span))
                .label("a run back to the start is missing behind this one")
                .hint(format!("add `{back}`, or `close` if it was not taped{misread}"))
        }
        (None, None, Some(&first)) => out
            .at(legs[first].span)
            .label("runs in the direction of the gap: likely misread")
            .hint(format!(
                "tape {} again; a wrong direction letter or a missing run does this too",
                named(&likely, "and")
            )),
        (None, None, None) => out
            .at(span)
            .hint("no single run lies in the direction of the gap: a run is missing or a direction is wrong"),
    };
    out.source("compass rule of traverse surveying; tolerance: common practice")
}

/// The run back to the start as one would write it; `None` where the run so written doesn't close the walk within the tolerance, m.
fn way_back(back: Vec2, tolerance: f64, units: Units) -> Option<String> {
    let straight = [
        ("E", back.x, back.y),
        ("N", back.y, back.x),
        ("W", -back.x, back.y),
        ("S", -back.y, back.x),
    ];
    let along = straight.iter().find(|(_, along, aside)| *along > 0.0 && aside.abs() <= tolerance);
    if let Some((letter, along, _)) = along {
        return Some(format!("{letter} {}", write::length(*along, units)));
    }
    let degrees = back.x.abs().atan2(back.y.abs()).to_degrees();
    let degrees = (degrees * 10.0).round() / 10.0;
    let written = Vec2::from_angle((90.0 - degrees).to_radians()) * back.hypot();
    let off = written - Vec2::new(back.x.abs(), back.y.abs());
    let north = if back.y < 0.0 { "S" } else { "N" };
    let east = if back.x < 0.0 { "W" } else { "E" };
    (off.hypot() <= tolerance).then(|| {
        let degrees = write::trimmed(degrees, 1);
        format!("{north}{degrees}{east} {}", write::length(back.hypot(), units))
    })
}

/// Runs by their numbers, from 1: `run 1 and run 3`.
fn named(runs: &[usize], word: &str) -> String {
    let names: Vec<String> = runs.iter().map(|i| format!("run {}", i + 1)).collect();
    names.join(&format!(" {word} "))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    /// Area, ft², and number of walls of a walk.
    fn walked(walk: &str) -> (f64, usize) {
        let text =
            format!("slabwalk: 1\njob: {{name: Shed}}\nslab: {{outline: {{walk: [{walk}]}}}}\n");
        let (sketch, found) = crate::sketch::parse(&text);
        let sketch = sketch.unwrap_or_else(|| panic!("{walk}: {found:?}"));
        let (slab, found) = crate::slab::resolve(&sketch, &crate::shop::built_in());
        let slab = slab.unwrap_or_else(|| panic!("{walk}: {found:?}"));
        (slab.areas.gross / 0.09290304, slab.outline.walls.len())
    }

    #[test]
    fn arcs_of_a_walk() {
        // By hand, from the rectangle of 24' by 20' and what the arc adds to it or takes off.
        let half = PI * 10.0 * 10.0 / 2.0;
        let rows = [
            ("E 24', arc N 20' R 10' left, W 24', S 20'", 480.0 + half, 4),
            ("E 24', arc N 20' R 10' right, W 24', S 20'", 480.0 - half, 4),
            ("E 24', arc N 20' rise 10' left, W 24', close", 480.0 + half, 4),
            // A corner rounded with a radius of 6': the chord of the quarter is 6' times the root of 2, 8' 5 13/16".
            (
                "E 18', arc 8.485281374' R 6' left, N 14', W 24', S 20'",
                480.0 - (36.0 - PI * 9.0),
                5,
            ),
            (
                "E 18', arc 8' 5 13/16\" R 6' left, N 14', W 24', S 20'",
                480.0 - (36.0 - PI * 9.0),
                5,
            ),
        ];
        for (walk, area, walls) in rows {
            let found = walked(walk);
            assert!((found.0 - area).abs() < 0.05, "{walk}: {} for {area}", found.0);
            assert_eq!(found.1, walls, "{walk}");
        }
    }
}
