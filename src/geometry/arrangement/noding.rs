//! Snap rounding: segments become edges that meet only at lattice points.
//!
//! Every vertex and every crossing makes its pixel hot, and each segment is led through the centers of the hot
//! pixels it passes. The edges that result don't cross, and no segment moves by more than half a unit (Hobby,
//! "Practical segment intersection with finite precision output", 1999).

use super::ArrangementError;
use super::segment::{Budget, COST_OF_RESULT, Segments, sort_into_cells};
use crate::geometry::cells::{Cells, sorted_by_key};
use crate::geometry::lattice::{Site, Span};

/// A stretch between two neighboring sites, and the segments that were led along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    /// Numbers of the sites, the smaller first.
    pub u: u32,
    pub v: u32,
    /// Number of the distinct span it is a piece of.
    pub span: u32,
    /// Whether the span runs from `v` to `u`.
    pub reversed: bool,
    /// The part of the span it covers.
    pub from: f64,
    pub to: f64,
}

/// The result: sites in order, pieces in the order of their sites.
#[derive(Debug)]
pub(super) struct Noding {
    pub sites: Vec<Site>,
    pub pieces: Vec<Piece>,
    /// For each distinct span, the segments that lie on it; a segment drawn the other way is flagged.
    pub members: Members,
}

/// The segments of each distinct span.
#[derive(Debug)]
pub(super) struct Members {
    starts: Vec<u32>,
    segments: Vec<(u32, bool)>,
}

impl Members {
    pub fn of(&self, span: u32) -> &[(u32, bool)] {
        let at = |i: usize| self.starts.get(i).map_or(0, |s| *s as usize);
        self.segments.get(at(span as usize)..at(span as usize + 1)).unwrap_or_default()
    }
}

pub(super) fn node(segments: &Segments, budget: &mut Budget) -> Result<Noding, ArrangementError> {
    let (spans, members) = distinct(segments);
    let cells = sort_into_cells(&spans)?;
    let sites = hot_sites(&spans, &cells, budget)?;
    let routes = routes(&spans, &cells, &sites, budget)?;
    let mut pieces = Vec::with_capacity(routes.sites.len());
    for (number, span) in spans.iter().enumerate() {
        for step in routes.of(number).windows(2) {
            let &[from, to] = step else { continue };
            let fraction = |site: u32| span.fraction(sites[site as usize]);
            pieces.push(Piece {
                u: from.min(to),
                v: from.max(to),
                span: number as u32,
                reversed: from > to,
                from: fraction(from),
                to: fraction(to),
            });
        }
    }
    pieces.sort_unstable_by_key(|p| (p.u, p.v, p.span));
    Ok(Noding { sites, pieces, members })
}

/// Each different span once, from its smaller to its greater end, in order, with the segments on it.
fn distinct(segments: &Segments) -> (Vec<Span>, Members) {
    let mut keyed: Vec<(Span, u32, bool)> = segments
        .all
        .iter()
        .enumerate()
        .map(|(i, s)| (s.span.canonical(), i as u32, s.span.canonical() != s.span))
        .collect();
    keyed.sort_unstable();
    let mut spans = Vec::new();
    let mut starts = Vec::new();
    for (i, (span, _, _)) in keyed.iter().enumerate() {
        if spans.last() != Some(span) {
            spans.push(*span);
            starts.push(i as u32);
        }
    }
    starts.push(keyed.len() as u32);
    (
        spans,
        Members {
            starts,
            segments: keyed.into_iter().map(|(_, i, reversed)| (i, reversed)).collect(),
        },
    )
}

/// All ends and all rounded crossings, in order.
fn hot_sites(
    spans: &[Span],
    cells: &Cells,
    budget: &mut Budget,
) -> Result<Vec<Site>, ArrangementError> {
    let mut sites: Vec<Site> = spans.iter().flat_map(|s| [s.a, s.b]).collect();
    for (frame, members) in cells.leaves() {
        budget.spend(members.len() * members.len() / 2)?;
        for (i, first) in members.iter().enumerate() {
            let first = &spans[*first as usize];
            for second in members[i + 1..].iter().map(|m| &spans[*m as usize]) {
                if first.crosses(second) {
                    let site = first.crossing(second);
                    if frame.contains(site) {
                        budget.spend(COST_OF_RESULT)?;
                        sites.push(site);
                    }
                }
            }
        }
    }
    sites.sort_unstable();
    sites.dedup();
    u32::try_from(sites.len()).map_err(|_| ArrangementError::TooTangled)?;
    Ok(sites)
}

/// For each span the sites whose pixels it passes, by number, in the order in which it passes them.
struct Routes {
    starts: Vec<u32>,
    sites: Vec<u32>,
}

impl Routes {
    fn of(&self, span: usize) -> &[u32] {
        &self.sites[self.starts[span] as usize..self.starts[span + 1] as usize]
    }
}

fn routes(
    spans: &[Span],
    cells: &Cells,
    sites: &[Site],
    budget: &mut Budget,
) -> Result<Routes, ArrangementError> {
    let mut passed: Vec<(u32, u32)> = Vec::with_capacity(2 * sites.len());
    for (number, site) in sites.iter().enumerate() {
        let Some((_, members)) = cells.leaf_at(*site) else {
            continue;
        };
        budget.spend(members.len())?;
        for member in members {
            if spans[*member as usize].passes(*site) {
                budget.spend(COST_OF_RESULT)?;
                passed.push((*member, number as u32));
            }
        }
    }
    let (starts, mut passed) = sorted_by_key(spans.len(), &passed);
    for (span, range) in spans.iter().zip(starts.windows(2)) {
        // Along a straight line pixels follow each other in x and in y, so the place along it orders them.
        let route = &mut passed[range[0] as usize..range[1] as usize];
        route.sort_unstable_by_key(|site| span.along(sites[*site as usize]));
    }
    Ok(Routes { starts, sites: passed })
}
