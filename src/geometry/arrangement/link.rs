//! Ends of dividers that stop a little short are joined to what they were meant to reach.
//!
//! Nothing is moved, so one joined end can't set off another: a link is added between the end and its goal, and no quantity
//! counts its length. Ends that lie near each other and are not connected there are joined by the shortest set of links
//! that connects them. A cluster of ends that touches no other line gets one link to the nearest.

mod overshoot;

use super::segment::{Budget, LINK, Segment, Segments, Waypoints};
use super::union::Union;
use super::{ArrangementError, Line, Role};
use crate::geometry::cells::Cells;
use crate::geometry::lattice::{Meeting, Site, Span};
use kurbo::Vec2;
use std::cmp::Ordering;

/// A divider shorter than this many times the snapping distance, from end to end, is not bent round to meet itself.
const SHORT: f64 = 3.0;
/// An end that has run past a line looks for a further goal only within 60 degrees of straight ahead (cosine 1/2).
const AHEAD: f64 = 0.5;

/// Tolerances in units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reach {
    pub weld: f64,
    pub snap: f64,
}

/// Links to add, and the points at which the lines they lead to have to be broken.
#[derive(Debug, Default)]
pub(super) struct Links {
    pub segments: Vec<Segment>,
    pub waypoints: Waypoints,
}

/// Something an end may reach.
#[derive(Debug, Clone, Copy)]
struct Goal {
    squared: f64,
    foot: Site,
    segment: u32,
    line: u32,
}

impl Goal {
    /// Nearest first.
    fn order(&self, other: &Goal) -> Ordering {
        self.squared.total_cmp(&other.squared).then(self.foot.cmp(&other.foot))
    }
}

/// An end of a divider and what it is near.
#[derive(Debug, Clone)]
struct End {
    site: Site,
    line: u32,
    goals: Vec<Goal>,
    /// Lines, in order, that its own line touches within the snapping distance of the end, or touched before and has stayed
    /// within that distance of since.
    touched: Vec<u32>,
    /// Where the divider would run on to, when it has passed what it touches by more than the welding distance.
    ahead: Option<Goal>,
}

impl End {
    /// Whether the two are already connected where they are near each other: one touches the other's line, or
    /// both touch the same line.
    fn meets(&self, other: &End) -> bool {
        let touches = |end: &End, line: u32| end.touched.binary_search(&line).is_ok();
        touches(self, other.line)
            || touches(other, self.line)
            || self.touched.iter().any(|line| touches(other, *line))
    }
}

pub(super) struct Linker<'a> {
    pub segments: &'a Segments,
    pub spans: &'a [Span],
    pub lines: &'a [Line],
    pub cells: &'a Cells,
    pub reach: Reach,
}

impl Linker<'_> {
    pub fn links(&self, budget: &mut Budget) -> Result<Links, ArrangementError> {
        let mut links = Links::default();
        let mut ends = Vec::new();
        for (line, range) in self.segments.of_line.iter().enumerate() {
            let Some((first, last)) = self.ends(line, range.clone()) else {
                continue;
            };
            for (site, from_start) in [(first, true), (last, false)] {
                ends.push(self.end(line as u32, site, from_start, &mut links.waypoints, budget)?);
            }
        }
        ends.sort_by_key(|end| end.site);
        self.join(&ends, &mut links, budget)?;
        Ok(links)
    }

    /// The two ends of an open divider.
    fn ends(&self, line: usize, range: std::ops::Range<usize>) -> Option<(Site, Site)> {
        let segments = self.segments.all.get(range)?;
        let (first, last) = (segments.first()?.span.a, segments.last()?.span.b);
        (self.lines.get(line)?.role == Role::Divider && first != last).then_some((first, last))
    }

    fn end(
        &self,
        line: u32,
        site: Site,
        from_start: bool,
        held: &mut Waypoints,
        budget: &mut Budget,
    ) -> Result<End, ArrangementError> {
        let near = self.cells.near(site, self.reach.snap.ceil() as i64);
        budget.spend(near.len())?;
        let (tail, direction) = self.tail(line, site, from_start);
        let goals: Vec<Goal> = near.into_iter().filter_map(|n| self.goal(line, site, n)).collect();
        budget.spend(tail.len() * goals.len())?;
        let (mut touched, arrived) = self.touched(&goals, site, &tail, held);
        let left: Vec<&Goal> =
            goals.iter().filter(|g| touched.binary_search(&g.line).is_err()).collect();
        if !left.is_empty() {
            touched.extend(self.come_from(line, site, from_start, &left, budget)?);
            touched.sort_unstable();
            touched.dedup();
        }
        let passed = !arrived && !touched.is_empty();
        let ahead = |g: &&Goal| {
            passed && touched.binary_search(&g.line).is_err() && is_ahead(site, direction, g)
        };
        let ahead = goals.iter().filter(ahead).min_by(|a, b| a.order(b)).copied();
        Ok(End { site, line, goals, touched, ahead })
    }

    /// A divider of another line, or the edge of an outline or hole, within the snapping distance.
    fn goal(&self, line: u32, end: Site, number: u32) -> Option<Goal> {
        let segment = self.segments.all.get(number as usize)?;
        let role = self.lines.get(segment.line as usize)?.role;
        if segment.line == line || role == Role::Zone {
            return None;
        }
        if !segment.span.box_reaches(end, self.reach.snap.ceil() as i64) {
            return None;
        }
        let (squared, foot) = segment.span.nearest(end);
        let within = squared <= self.reach.snap * self.reach.snap;
        within.then_some(Goal { squared, foot, segment: number, line: segment.line })
    }

    /// The spans of a divider from one of its ends on, each of them drawn toward that end.
    fn inwards(&self, line: u32, from_start: bool) -> impl Iterator<Item = Span> + '_ {
        let range = self.segments.of_line.get(line as usize).cloned().unwrap_or_default();
        let own = &self.segments.all[range];
        let outward = move |s: &Segment| {
            if from_start { Span { a: s.span.b, b: s.span.a } } else { s.span }
        };
        let count = own.len();
        (0..count).map(move |i| outward(&own[if from_start { i } else { count - 1 - i }]))
    }

    /// The last stretch of the divider, as far as the snapping distance, and the direction in which it ends.
    fn tail(&self, line: u32, end: Site, from_start: bool) -> (Vec<Span>, Vec2) {
        let near = |s: &Span| s.b.distance_squared(end) as f64 <= self.reach.snap * self.reach.snap;
        let tail: Vec<Span> = self.inwards(line, from_start).take_while(near).collect();
        let start = tail.last().map_or(end, |s| s.a);
        let direction = Vec2::new((end.x - start.x) as f64, (end.y - start.y) as f64);
        (tail, direction / direction.hypot().max(1.0))
    }

    /// The lines touched within the snapping distance, and whether one of them within the welding distance.
    fn touched(
        &self,
        goals: &[Goal],
        end: Site,
        tail: &[Span],
        held: &mut Waypoints,
    ) -> (Vec<u32>, bool) {
        let mut touched = Vec::new();
        let mut arrived = false;
        for goal in goals {
            match self.touch(goal, end, tail) {
                Some((distance, place)) if distance <= self.reach.weld => {
                    // A link to the same target bends it by up to a unit, which must not undo this.
                    held.push(goal.segment, place);
                    touched.push(goal.line);
                    arrived = true;
                }
                Some((distance, _)) if distance <= self.reach.snap => touched.push(goal.line),
                _ => {}
            }
        }
        touched.sort_unstable();
        touched.dedup();
        (touched, arrived)
    }

    /// Where its own line touches the goal nearest to the end, and how far from the end that is.
    fn touch(&self, goal: &Goal, end: Site, tail: &[Span]) -> Option<(f64, Site)> {
        let target = self.spans.get(goal.segment as usize)?;
        let places = tail.iter().filter_map(|own| meeting_place(own, target));
        let measured = places.map(|place| (length(place, end), place));
        measured.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
    }

    fn reach_goal(&self, links: &mut Links, line: u32, end: Site, goal: Goal) {
        let target = self.spans.get(goal.segment as usize);
        if target.is_some_and(|t| t.a != goal.foot && t.b != goal.foot) {
            links.waypoints.push(goal.segment, goal.foot);
        }
        link(&mut links.segments, line, end, goal.foot);
    }

    /// Joins the ends of each cluster to one another, and each cluster to the nearest line.
    fn join(
        &self,
        ends: &[End],
        links: &mut Links,
        budget: &mut Budget,
    ) -> Result<(), ArrangementError> {
        let mut clusters = Union::new(ends.len());
        let pairs = self.pairs(ends, budget)?;
        for (_, i, j) in &pairs {
            if ends[*i].meets(&ends[*j]) || self.is_short(&ends[*i], &ends[*j]) {
                clusters.join(*i, *j);
            }
        }
        let mut joined = Vec::new();
        for (_, i, j) in pairs {
            if clusters.join(i, j) {
                let span = Span { a: ends[i].site, b: ends[j].site };
                link(&mut links.segments, ends[i].line, span.a, span.b);
                joined.push((i, span));
            }
        }
        let joined = by_cluster(&mut clusters, joined);
        let members = by_cluster(&mut clusters, ends.iter().enumerate().collect());
        for cluster in members.chunk_by(|a, b| a.0 == b.0) {
            let root = cluster[0].0;
            let own: Vec<&End> = cluster.iter().map(|(_, end)| *end).collect();
            let start = joined.partition_point(|(r, _)| *r < root);
            let added = joined[start..].iter().take_while(|(r, _)| *r == root);
            self.reach_out(&own, &added.map(|(_, span)| *span).collect::<Vec<_>>(), links, budget)?;
        }
        Ok(())
    }

    /// Whether the two are the ends of one divider so short that they need no link.
    fn is_short(&self, a: &End, b: &End) -> bool {
        a.line == b.line && length(a.site, b.site) * SHORT > self.extent(a.line)
    }

    /// Links a cluster to the nearest line that is not its own, unless it touches one already. Those of its ends that have
    /// passed what they touch are linked to what lies ahead.
    fn reach_out(
        &self,
        ends: &[&End],
        joined: &[Span],
        links: &mut Links,
        budget: &mut Budget,
    ) -> Result<(), ArrangementError> {
        let mut own: Vec<u32> = ends.iter().map(|end| end.line).collect();
        own.sort_unstable();
        let foreign = |line: &u32| own.binary_search(line).is_err();
        for end in ends {
            if let Some(goal) = end.ahead.filter(|goal| foreign(&goal.line)) {
                self.reach_goal(links, end.line, end.site, goal);
            }
        }
        if ends.iter().any(|end| end.touched.iter().any(foreign)) {
            return Ok(());
        }
        let mut best: Option<(&End, Goal)> = None;
        for end in ends {
            for goal in end.goals.iter().filter(|g| foreign(&g.line)) {
                budget.spend(1 + joined.len())?;
                let target = self.spans.get(goal.segment as usize);
                if target.is_some_and(|t| joined.iter().any(|link| link.meeting(t).is_some())) {
                    return Ok(());
                }
                let nearer =
                    |(e, g): (&End, Goal)| goal.order(&g).then(end.site.cmp(&e.site)).is_lt();
                if best.is_none_or(nearer) {
                    best = Some((end, *goal));
                }
            }
        }
        if let Some((end, goal)) = best {
            self.reach_goal(links, end.line, end.site, goal);
        }
        Ok(())
    }

    /// Pairs of ends within the snapping distance, nearest first.
    fn pairs(
        &self,
        ends: &[End],
        budget: &mut Budget,
    ) -> Result<Vec<(i64, usize, usize)>, ArrangementError> {
        let points: Vec<Span> = ends.iter().map(|end| Span { a: end.site, b: end.site }).collect();
        let cells = Cells::new(&points);
        let mut pairs = Vec::new();
        for (i, end) in ends.iter().enumerate() {
            let near = cells.near(end.site, self.reach.snap.ceil() as i64);
            budget.spend(near.len())?;
            for j in near.into_iter().map(|j| j as usize).filter(|j| i < *j) {
                let squared = end.site.distance_squared(ends[j].site);
                if squared as f64 <= self.reach.snap * self.reach.snap {
                    pairs.push((squared, i, j));
                }
            }
        }
        pairs.sort_unstable();
        Ok(pairs)
    }

    /// Length of a line in units.
    fn extent(&self, line: u32) -> f64 {
        let range = self.segments.of_line.get(line as usize).cloned().unwrap_or_default();
        self.segments.all[range].iter().map(|s| (s.span.squared() as f64).sqrt()).sum()
    }
}

/// Things of members, with the root of the cluster instead of the member, sorted by it.
fn by_cluster<T>(clusters: &mut Union, things: Vec<(usize, T)>) -> Vec<(usize, T)> {
    let mut sorted: Vec<(usize, T)> =
        things.into_iter().map(|(member, t)| (clusters.root(member), t)).collect();
    sorted.sort_by_key(|(root, _)| *root);
    sorted
}

/// Where two spans meet, if they do.
fn meeting_place(own: &Span, other: &Span) -> Option<Site> {
    Some(match own.meeting(other)? {
        Meeting::Cross => own.crossing(other),
        Meeting::Touch(site) | Meeting::Overlap(site) => site,
    })
}

/// Length between two sites, in units.
fn length(a: Site, b: Site) -> f64 {
    (a.distance_squared(b) as f64).sqrt()
}

fn link(out: &mut Vec<Segment>, line: u32, a: Site, b: Site) {
    if a != b {
        out.push(Segment { span: Span { a, b }, line, edge: LINK, from: 0.0, to: 0.0 });
    }
}

fn is_ahead(end: Site, direction: Vec2, goal: &Goal) -> bool {
    let way = Vec2::new((goal.foot.x - end.x) as f64, (goal.foot.y - end.y) as f64);
    way.dot(direction) >= AHEAD * way.hypot()
}
