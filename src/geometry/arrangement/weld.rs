//! Dividers that nearly run on each other are made to run on each other.

use super::segment::{Budget, COST_OF_RESULT, Segments, Waypoints};
use super::{ArrangementError, Line, Role};
use crate::geometry::cells::Cells;
use crate::geometry::lattice::{Site, Span};

/// Dividers whose directions differ by more than this sine (about 5.7°) cross; they don't run on each other.
const ALONG: f64 = 0.1;

/// Leads each divider through the vertices of other dividers within `reach` units of it, where those run its way.
///
/// A divider that merely ends near it, at an angle, does not bend it: that end is joined by a link, and the panels
/// on both sides keep their areas.
///
/// Two dividers drawn on top of each other with the error of a tape then share their edges, instead of crossing
/// at a needle's angle many times. Rings are not bent. A vertex that the divider has itself needs no leading.
pub(super) fn weld(
    segments: &Segments,
    spans: &[Span],
    lines: &[Line],
    cells: &Cells,
    reach: f64,
    budget: &mut Budget,
) -> Result<Waypoints, ArrangementError> {
    let divides = |line: u32| lines.get(line as usize).is_some_and(|l| l.role == Role::Divider);
    let vertices = vertices(segments, divides);
    let mut waypoints = Waypoints::default();
    for group in vertices.chunk_by(|a, b| a.0 == b.0) {
        let Some((site, ..)) = group.first().copied() else {
            continue;
        };
        let near = cells.near(site, reach.ceil() as i64);
        budget.spend(near.len())?;
        for number in near {
            let (segment, span) = (&segments.all[number as usize], &spans[number as usize]);
            let own = || group.binary_search_by_key(&segment.line, |(_, line, _)| *line).is_ok();
            let beside = divides(segment.line) && beside(span, site, reach) && !own();
            if beside && group.iter().any(|(.., other)| along(span, &spans[*other as usize])) {
                budget.spend(COST_OF_RESULT)?;
                waypoints.push(number, site);
            }
        }
    }
    Ok(waypoints)
}

/// The vertices of all dividers with their lines and segments, in order.
fn vertices(segments: &Segments, divides: impl Fn(u32) -> bool) -> Vec<(Site, u32, u32)> {
    let dividers = (0_u32..).zip(&segments.all).filter(|(_, s)| divides(s.line));
    let ends = dividers.flat_map(|(n, s)| [(s.span.a, s.line, n), (s.span.b, s.line, n)]);
    let mut vertices: Vec<(Site, u32, u32)> = ends.collect();
    vertices.sort_unstable();
    vertices
}

/// Whether two spans run nearly the same way, or nearly the opposite one.
fn along(a: &Span, b: &Span) -> bool {
    let (ax, ay, bx, by) = (a.dx() as f64, a.dy() as f64, b.dx() as f64, b.dy() as f64);
    (ax * by - ay * bx).abs() <= ALONG * ax.hypot(ay) * bx.hypot(by)
}

/// Whether `p` lies within `reach` of the span, beside it and not beyond its ends.
fn beside(span: &Span, p: Site, reach: f64) -> bool {
    let (along, squared) = (span.along(p), span.squared());
    if along <= 0 || along >= squared {
        return false;
    }
    let off = crate::geometry::lattice::cross(span.a, span.b, p) as f64;
    off * off <= reach * reach * squared as f64
}
