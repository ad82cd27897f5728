//! Dividers that nearly run on each other are made to run on each other.

use super::segment::{Budget, Segments, Waypoints};
use super::{ArrangementError, Line, Role};
use crate::geometry::cells::Cells;
use crate::geometry::lattice::{Site, Span};

/// Leads each divider through the vertices of other dividers within `reach` units of it.
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
    let mut vertices: Vec<(Site, u32)> =
        segments.all.iter().filter(|s| divides(s.line)).flat_map(|s| [(s.span.a, s.line), (s.span.b, s.line)]).collect();
    vertices.sort_unstable();
    vertices.dedup();
    let mut waypoints = Waypoints::default();
    for group in vertices.chunk_by(|a, b| a.0 == b.0) {
        let Some((site, _)) = group.first().copied() else { continue };
        let near = cells.near(site, reach.ceil() as i64);
        budget.spend(near.len())?;
        for number in near {
            let (segment, span) = (&segments.all[number as usize], &spans[number as usize]);
            let own = || group.binary_search_by_key(&segment.line, |(_, line)| *line).is_ok();
            if divides(segment.line) && beside(span, site, reach) && !own() {
                waypoints.push(number, site);
            }
        }
    }
    Ok(waypoints)
}

/// Whether `p` lies within `reach` of the span, beside it and not beyond its ends.
pub(super) fn beside(span: &Span, p: Site, reach: f64) -> bool {
    let (along, squared) = (span.along(p), span.squared());
    if along <= 0 || along >= squared {
        return false;
    }
    let off = crate::geometry::lattice::cross(span.a, span.b, p) as f64;
    off * off <= reach * reach * squared as f64
}
