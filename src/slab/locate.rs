//! Points, paths and lines of a sketch, resolved to coordinates.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};

use super::Outline;
use super::outline::no_arc;
use crate::diagnostic::Diagnostic;
use crate::geometry::clip::Clipper;
use crate::geometry::path::{Arc, Path, Segment};
use crate::quantity::{Length, M_PER_IN, Units, write};
use crate::sketch::{self, At, Hand, LineForm, PathForm, PointForm, Sketch, Span};

/// A station this far past the end of its line is taken for the end, m: half an inch, what two
/// people with one tape differ by (common practice).
pub(super) const STATION_SLACK: f64 = 0.5 * M_PER_IN;

/// Circles of two ties that miss each other by less than this meet, m.
const TIE_SLACK: f64 = 1e-3;

/// Coordinates beyond this are not a floor, m: one mile.
pub const FARTHEST: f64 = 1609.344;

/// Where a line of a sketch runs, as written.
#[derive(Clone, Copy)]
enum LineOf<'a> {
    Joint(&'a At<LineForm>),
    Crack(&'a PathForm),
}

/// A line, resolved when it is first asked for.
enum Resolved {
    NotYet,
    UnderWay,
    Done(Option<Path>),
}

/// Turns the forms of a sketch into coordinates, once the outline is known.
pub(super) struct Locator<'a> {
    outline: &'a Outline,
    enclosed: &'a Clipper,
    units: Units,
    /// Joints, then cracks.
    lines: Vec<(LineOf<'a>, Resolved)>,
    /// Their ids, and where they stand among the lines.
    by_id: BTreeMap<&'a str, usize>,
    joints: usize,
    /// What was found wrong.
    pub(super) found: Vec<Diagnostic>,
}

impl<'a> Locator<'a> {
    pub(super) fn new(sketch: &'a Sketch, outline: &'a Outline, enclosed: &'a Clipper) -> Self {
        let joints = sketch.joints.iter().map(|j| LineOf::Joint(&j.line));
        let cracks = sketch.cracks.iter().map(|c| LineOf::Crack(&c.path));
        let lines = joints.chain(cracks);
        let ids = sketch.joints.iter().map(|j| j.id.value.as_str());
        let ids = ids.chain(sketch.cracks.iter().map(|c| c.id.value.as_str()));
        Self {
            outline,
            enclosed,
            units: sketch.units,
            lines: lines.map(|form| (form, Resolved::NotYet)).collect(),
            by_id: ids.zip(0..).collect(),
            joints: sketch.joints.len(),
            found: Vec::new(),
        }
    }

    /// Units that messages are written in.
    pub(super) const fn units(&self) -> Units {
        self.units
    }

    fn text(&self, metres: f64) -> String {
        write::length(metres, self.units)
    }

    /// A point, or `None` with the reason noted.
    pub(super) fn point(&mut self, form: &'a At<PointForm>) -> Option<Point> {
        let point = match &form.value {
            PointForm::Xy(x, y) => Point::new(x.m(), y.m()),
            PointForm::Wall { wall, along, out } => self.on_wall(wall, along, out.m())?,
            PointForm::Line { line, at } => {
                let path = self.line(&line.value, line.span)?;
                let station = self.station(at, path.length(), &line.value)?;
                path.point_at(station)
            }
            PointForm::Ties { ties, side } => self.tied(&ties[0], &ties[1], *side, form.span)?,
            PointForm::Off { from, by } => self.point(from)? + Vec2::new(by.0.m(), by.1.m()),
        };
        if !point.is_finite() || point.x.abs() > FARTHEST || point.y.abs() > FARTHEST {
            self.found.push(
                Diagnostic::error("beyond-belief", "this point lies more than a mile away")
                    .at(form.span)
                    .hint("check the feet and the inches"),
            );
            return None;
        }
        Some(point)
    }

    /// Places a record; whatever is found wrong with it is put down to it, unless it names another.
    pub(super) fn about<T>(&mut self, id: &str, place: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.found.len();
        let placed = place(self);
        for fault in &mut self.found[before..] {
            fault.item.get_or_insert_with(|| id.to_owned());
        }
        placed
    }

    /// A station, checked against the length of what it lies on.
    pub(super) fn station(&mut self, at: &At<Length>, length: f64, on: &str) -> Option<f64> {
        let station = at.value.m();
        if station > length + STATION_SLACK {
            self.found.push(
                Diagnostic::error(
                    "station-beyond-end",
                    format!(
                        "station {} lies beyond the end of {on}, which is {} long",
                        self.text(station),
                        self.text(length)
                    ),
                )
                .at(at.span)
                .hint(format!("stations on {on} run from 0 to {}", self.text(length))),
            );
            return None;
        }
        Some(station.clamp(0.0, length))
    }

    /// A wall by its number, from 1.
    pub(super) fn wall(&mut self, number: &At<usize>) -> Option<&'a Path> {
        let wall = number.value.checked_sub(1).and_then(|i| self.outline.walls.get(i));
        if wall.is_none() {
            self.found.push(missing("wall", number, self.outline.walls.len()));
        }
        wall
    }

    pub(super) fn corner(&mut self, number: &At<usize>) -> Option<Point> {
        let corner = number.value.checked_sub(1).and_then(|i| self.outline.corners.get(i));
        if corner.is_none() {
            self.found.push(missing("corner", number, self.outline.corners.len()));
        }
        corner.copied()
    }

    fn on_wall(&mut self, wall: &At<usize>, along: &At<Length>, out: f64) -> Option<Point> {
        let path = self.wall(wall)?;
        let station = self.station(along, path.length(), &format!("wall {}", wall.value))?;
        let direction = path.direction_at(station);
        let left = Vec2::new(-direction.y, direction.x);
        let inward = if self.outline.counter_clockwise { left } else { -left };
        Some(path.point_at(station) + out * inward)
    }

    fn tied(
        &mut self,
        first: &(At<usize>, At<Length>),
        second: &(At<usize>, At<Length>),
        side: Hand,
        span: Span,
    ) -> Option<Point> {
        let (a, b) = (self.corner(&first.0), self.corner(&second.0));
        let ties = Ties { a: a?, b: b?, ra: first.1.value.m(), rb: second.1.value.m() };
        let numbers = (first.0.value, second.0.value);
        let units = self.units;
        ties.meet(side).map_err(|gap| self.found.push(ties.apart(numbers, gap, units, span))).ok()
    }

    /// A path of points and arcs.
    pub(super) fn path(&mut self, form: &'a PathForm) -> Option<Path> {
        let points: Vec<_> = form.vertices.iter().map(|v| self.point(&v.to)).collect();
        let mut segments = Vec::with_capacity(points.len());
        let mut whole = points.iter().all(Option::is_some);
        for (pair, vertex) in points.windows(2).zip(form.vertices.iter().skip(1)) {
            let (Some(a), Some(b)) = (pair[0], pair[1]) else {
                continue;
            };
            match &vertex.via {
                None => segments.push(Segment::Line { a, b }),
                Some(via) => match self.point(via).map(|p| Arc::through(a, p, b)) {
                    Some(Some(arc)) => segments.push(Segment::Arc(arc)),
                    Some(None) => {
                        self.found.push(no_arc(via.span));
                        whole = false;
                    }
                    None => whole = false,
                },
            }
        }
        if !whole {
            return None;
        }
        let path = Path::new(segments);
        if path.length() < 1e-6 {
            self.found.push(
                Diagnostic::error("zero-length", "this path has no length")
                    .at(form.span)
                    .hint("give at least two different points"),
            );
            return None;
        }
        Some(path)
    }

    /// The path of a joint or crack, by id.
    pub(super) fn line(&mut self, id: &str, asked: Span) -> Option<Path> {
        let Some(&index) = self.by_id.get(id) else {
            self.found.push(
                Diagnostic::error("unknown-id", format!("there is no joint or crack `{id}`"))
                    .at(asked),
            );
            return None;
        };
        self.resolved(index, id, asked)
    }

    /// The path of a joint, by its place among the joints: ids take long to look up where there are many.
    pub(super) fn joint(&mut self, index: usize, joint: &sketch::Joint) -> Option<Path> {
        self.resolved(index, &joint.id.value, joint.line.span)
    }

    /// The path of a crack, by its place among the cracks.
    pub(super) fn crack(&mut self, index: usize, crack: &sketch::Crack) -> Option<Path> {
        self.resolved(self.joints + index, &crack.id.value, crack.path.span)
    }

    fn resolved(&mut self, index: usize, id: &str, asked: Span) -> Option<Path> {
        let (form, state) = self.lines.get_mut(index)?;
        let form = *form;
        match state {
            Resolved::Done(path) => return path.clone(),
            Resolved::NotYet => *state = Resolved::UnderWay,
            Resolved::UnderWay => {
                self.found.push(
                    Diagnostic::error("circular-reference", format!("{id} is placed by itself"))
                        .item(id)
                        .at(asked)
                        .hint("give one of its points by coordinates or by a wall"),
                );
                return None;
            }
        }
        let path = match form {
            LineOf::Crack(form) => self.path(form),
            LineOf::Joint(form) => self.line_form(form),
        };
        self.lines[index].1 = Resolved::Done(path.clone());
        path
    }

    fn line_form(&mut self, form: &'a At<LineForm>) -> Option<Path> {
        match &form.value {
            LineForm::Path(path) => self.path(path),
            LineForm::X { x, from, to } => self.across(x, from.as_ref(), to.as_ref(), Point::new),
            LineForm::Y { y, from, to } => {
                self.across(y, from.as_ref(), to.as_ref(), |y, x| Point::new(x, y))
            }
        }
    }

    /// A straight line right across what the outline encloses; it starts where it enters from
    /// the south or west.
    fn across(
        &mut self,
        at: &At<Length>,
        from: Option<&At<Length>>,
        to: Option<&At<Length>>,
        place: impl Fn(f64, f64) -> Point,
    ) -> Option<Path> {
        let fixed = at.value.m();
        let limits = [from, to].map(|l| l.map(|l| l.value.m()));
        let (mut lo, mut hi) = match limits {
            [Some(p), Some(q)] => (p.min(q), p.max(q)),
            [Some(p), None] => (p, FARTHEST),
            [None, Some(q)] => (-FARTHEST, q),
            [None, None] => (-FARTHEST, FARTHEST),
        };
        // The bounds of the outline keep stations small, so that no digit is lost.
        let bounds = self.outline.path.bounds();
        let (south_west, north_east) =
            (Point::new(bounds.x0, bounds.y0), Point::new(bounds.x1, bounds.y1));
        let along_x = place(0.0, 1.0).x != 0.0;
        let pick = |p: Point| if along_x { p.x } else { p.y };
        lo = lo.max(pick(south_west));
        hi = hi.min(pick(north_east));
        let inside = if lo < hi {
            let line = Path::polyline(&[place(fixed, lo), place(fixed, hi)]);
            self.enclosed.inside(&line.flatten()).as_slice().to_vec()
        } else {
            Vec::new()
        };
        let (Some(first), Some(last)) = (inside.first(), inside.last()) else {
            let axis = if along_x { 'y' } else { 'x' };
            self.found.push(
                Diagnostic::error(
                    "line-misses-slab",
                    format!("the line {axis} = {} does not touch the slab", self.text(fixed)),
                )
                .at(at.span)
                .hint(format!(
                    "the outline runs from [{}, {}] to [{}, {}]",
                    self.text(bounds.x0),
                    self.text(bounds.y0),
                    self.text(bounds.x1),
                    self.text(bounds.y1)
                )),
            );
            return None;
        };
        Some(Path::polyline(&[place(fixed, lo + first.0), place(fixed, lo + last.1)]))
    }
}

fn missing(what: &str, number: &At<usize>, count: usize) -> Diagnostic {
    Diagnostic::error(
        "unknown-reference",
        format!("there is no {what} {}: the outline has {what}s 1 to {count}", number.value),
    )
    .at(number.span)
}

/// Two distances taped from two corners, m.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ties {
    pub a: Point,
    pub b: Point,
    pub ra: f64,
    pub rb: f64,
}

impl Ties {
    /// The point on this side of the line from `a` to `b`, or by how much the circles miss, m.
    pub(super) fn meet(&self, side: Hand) -> Result<Point, f64> {
        let (ra, rb) = (self.ra, self.rb);
        let apart = (self.b - self.a).hypot();
        let gap = (apart - ra - rb).max(ra - rb - apart).max(rb - ra - apart);
        if gap > TIE_SLACK || apart == 0.0 {
            return Err(gap);
        }
        let unit = (self.b - self.a) / apart;
        let along = (apart * apart + ra * ra - rb * rb) / (2.0 * apart);
        let off = (ra * ra - along * along).max(0.0).sqrt();
        let left = Vec2::new(-unit.y, unit.x);
        let sign = if side == Hand::Left { 1.0 } else { -1.0 };
        Ok(self.a + along * unit + sign * off * left)
    }

    /// The error for ties that miss by `gap`.
    pub(super) fn apart(
        &self,
        corners: (usize, usize),
        gap: f64,
        units: Units,
        span: Span,
    ) -> Diagnostic {
        let apart = (self.b - self.a).hypot();
        let short = apart > self.ra + self.rb;
        let fault = if short { "too short" } else { "too long or too short" };
        Diagnostic::error(
            "ties-do-not-meet",
            format!(
                "the two ties don't meet: corners {} and {} are {} apart, and the tapes are {} {fault}",
                corners.0,
                corners.1,
                write::length(apart, units),
                write::length(gap, units)
            ),
        )
        .at(span)
        .hint("tape both distances again, and check the corner numbers")
    }
}
