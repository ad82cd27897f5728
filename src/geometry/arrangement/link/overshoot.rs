//! Ends that have run past a line at a slant and stayed near it: they are not led back.

use super::{Goal, Linker, length, meeting_place};
use crate::geometry::arrangement::ArrangementError;
use crate::geometry::arrangement::segment::Budget;
use crate::geometry::lattice::{Site, Span};

/// How far back from an end its own line is followed to see whether it has come from a line and never left its
/// neighborhood since, in snapping distances: straight lines at more than 6 degrees have met by then.
const BACK: f64 = 10.0;
/// Most segments by which a line is followed from where it was met to a goal.
const MOST_STEPS: usize = 10_000;

impl Linker<'_> {
    /// Those of these goals' lines that its own line has met farther back, to run beside them from there within the snapping
    /// distance: its end overshoots them at a slant, and a link would cut a speck off a panel.
    pub(super) fn come_from(
        &self,
        line: u32,
        end: Site,
        from_start: bool,
        goals: &[&Goal],
        budget: &mut Budget,
    ) -> Result<Vec<u32>, ArrangementError> {
        let around = BACK * self.reach.snap;
        let near = self.cells.near(end, around.ceil() as i64);
        let way: Vec<Span> =
            self.inwards(line, from_start).take_while(|s| length(s.b, end) <= around).collect();
        budget.spend(near.len() * (1 + goals.len()))?;
        // Of each line the goal nearest to the end.
        let mut nearest: Vec<&Goal> = goals.to_vec();
        nearest.sort_by(|a, b| a.line.cmp(&b.line).then(a.order(b)));
        nearest.dedup_by_key(|g| g.line);
        let mut found = Vec::new();
        for goal in nearest {
            let of_line = |n: &u32| {
                let segment = self.segments.all.get(*n as usize)?;
                (segment.line == goal.line).then_some((*n, segment.span))
            };
            let others: Vec<(u32, Span)> = near.iter().filter_map(of_line).collect();
            budget.spend((way.len() + 2 * BACK as usize) * others.len())?;
            if self.overshoots(&way, goal, &others) {
                found.push(goal.line);
            }
        }
        Ok(found)
    }

    /// Whether a way back from an end meets the goal's line before it leaves its neighborhood, and about as far back as the
    /// line itself leads from there to the goal.
    fn overshoots(&self, way: &[Span], goal: &Goal, others: &[(u32, Span)]) -> bool {
        let (snap, around) = (self.reach.snap, BACK * self.reach.snap);
        let beside = |site: Site| {
            let squared = others.iter().map(|(_, span)| span.nearest(site).0);
            squared.fold(f64::INFINITY, f64::min) <= snap * snap
        };
        let mut walked = 0.0;
        for own in way {
            let meetings = others.iter().filter_map(|(n, span)| {
                let place = meeting_place(own, span)?;
                Some((length(place, own.b), *n))
            });
            let met = meetings.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let whole = length(own.a, own.b);
            let far = met.map_or(whole, |(far, _)| far);
            if walked + far > around {
                return false;
            }
            let mut at = snap / 2.0;
            while at < far {
                if !beside(towards(own.b, own.a, at / whole)) {
                    return false;
                }
                at += snap / 2.0;
            }
            if let Some((far, met)) = met {
                return self.leads_to(goal, met, 2.0 * (walked + far) + snap);
            }
            if !beside(own.a) {
                return false;
            }
            walked += whole;
        }
        false
    }

    /// Whether the goal's line leads from the goal to another of its segments within a length, forwards or backwards.
    fn leads_to(&self, goal: &Goal, to: u32, most: f64) -> bool {
        let Some(range) = self.segments.of_line.get(goal.line as usize) else {
            return false;
        };
        let own = &self.segments.all[range.clone()];
        let count = own.len();
        let closed = count > 1 && own[0].span.a == own[count - 1].span.b;
        let [from, to] = [goal.segment, to].map(|n| n as usize - range.start);
        let walk = |forwards: bool| {
            let (mut at, mut walked, mut steps) = (from, 0.0, 0);
            while at != to {
                steps += 1;
                if at != from {
                    walked += length(own[at].span.a, own[at].span.b);
                }
                let last = if forwards { count - 1 } else { 0 };
                if walked > most || steps > MOST_STEPS || (at == last && !closed) {
                    return false;
                }
                at = (at + if forwards { 1 } else { count - 1 }) % count;
            }
            true
        };
        walk(true) || walk(false)
    }
}

/// The site at a share of the way between two others.
fn towards(from: Site, to: Site, share: f64) -> Site {
    let between = |a: i64, b: i64| a + ((b - a) as f64 * share).round() as i64;
    Site { x: between(from.x, to.x), y: between(from.y, to.y) }
}
