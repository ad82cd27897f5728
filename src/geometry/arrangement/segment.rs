//! The lines as handed in, put on the lattice.

use super::{ArrangementError, InputEdge, Line, Options, Role, Source};
use crate::geometry::cells::Cells;
use crate::geometry::lattice::{OffLattice, Site, Span};
use std::ops::Range;

/// The edge number of a link that the arrangement itself adds; it is nobody's edge and has no length.
pub(super) const LINK: u32 = u32::MAX;

/// A straight piece of one input edge, or a link.
#[derive(Debug, Clone, Copy)]
pub(super) struct Segment {
    pub span: Span,
    pub line: u32,
    /// Number of the edge within its line, or [`LINK`].
    pub edge: u32,
    /// The part of the edge that the piece covers, as fractions of its chord.
    pub from: f64,
    pub to: f64,
}

/// All segments, those of one line next to each other and in its order.
#[derive(Debug, Clone, Default)]
pub(super) struct Segments {
    pub all: Vec<Segment>,
    /// For each line, where its segments lie in `all`.
    pub of_line: Vec<Range<usize>>,
}

/// A crossing or a point of a route counts as this many comparisons, for the memory it takes.
pub(super) const COST_OF_RESULT: usize = 64;

/// Work that may still be done before the input is given up as too tangled.
#[derive(Debug)]
pub(super) struct Budget(pub u64);

impl Budget {
    pub fn spend(&mut self, steps: usize) -> Result<(), ArrangementError> {
        match self.0.checked_sub(steps as u64) {
            Some(rest) => {
                self.0 = rest;
                Ok(())
            }
            None => Err(ArrangementError::TooTangled),
        }
    }
}

/// More spans than this through one small box are given up at once.
const MOST_TOGETHER: usize = 4096;

/// Sorts spans into cells, unless too many run through one place.
pub(super) fn sort_into_cells(spans: &[Span]) -> Result<Cells, ArrangementError> {
    let cells = Cells::new(spans);
    if cells.greatest_crowd() > MOST_TOGETHER {
        Err(ArrangementError::TooTangled)
    } else {
        Ok(cells)
    }
}

impl Options {
    /// All tolerances finite and not negative.
    pub(super) fn check(&self) -> Result<(), ArrangementError> {
        let good = |t: f64| t.is_finite() && (0.0..1000.0).contains(&t);
        if good(self.weld) && good(self.snap) && good(self.sliver) {
            Ok(())
        } else {
            Err(ArrangementError::BadTolerance)
        }
    }
}

impl Segments {
    /// Puts every edge on the lattice. Edges that vanish there are dropped; rings have to close.
    pub fn read(lines: &[Line]) -> Result<Segments, ArrangementError> {
        let mut segments = Segments::default();
        for (number, line) in lines.iter().enumerate() {
            let first = segments.all.len();
            for (place, edge) in line.edges.iter().enumerate() {
                segments.all.extend(read_edge(edge, Source { line: number, edge: place })?);
            }
            let range = first..segments.all.len();
            if line.role != Role::Divider {
                closed(number, &segments.all[range.clone()])?;
            }
            segments.of_line.push(range);
        }
        Ok(segments)
    }

    pub fn spans(&self) -> Vec<Span> {
        self.all.iter().map(|s| s.span).collect()
    }
}

/// One edge on the lattice; `None` when it vanishes there.
fn read_edge(edge: &InputEdge, source: Source) -> Result<Option<Segment>, ArrangementError> {
    let Source { line, edge: place } = source;
    let failed = |e: OffLattice| match e {
        OffLattice::NotFinite => ArrangementError::NotFinite { line, edge: place },
        OffLattice::TooFar => ArrangementError::TooFar { line, edge: place },
    };
    if !edge.length.is_finite() || !edge.bow.is_finite() {
        return Err(failed(OffLattice::NotFinite));
    }
    let span =
        Span { a: Site::near(edge.a).map_err(failed)?, b: Site::near(edge.b).map_err(failed)? };
    let small =
        |n: usize| u32::try_from(n).ok().filter(|n| *n != LINK).ok_or(ArrangementError::TooTangled);
    let segment = Segment { span, line: small(line)?, edge: small(place)?, from: 0.0, to: 1.0 };
    Ok((span.a != span.b).then_some(segment))
}

/// Checks that each segment of a ring begins where the one before it ends.
fn closed(line: usize, ring: &[Segment]) -> Result<(), ArrangementError> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    for (previous, next) in before.zip(ring) {
        if previous.span.b != next.span.a {
            return Err(ArrangementError::OpenRing { line, edge: next.edge as usize });
        }
    }
    Ok(())
}

/// Points through which segments are to be led.
#[derive(Debug, Default)]
pub(super) struct Waypoints(Vec<(u32, Site)>);

impl Waypoints {
    pub fn push(&mut self, segment: u32, site: Site) {
        self.0.push((segment, site));
    }

    /// Breaks the segments at their waypoints.
    ///
    /// The route doesn't depend on the direction in which a segment was drawn.
    pub fn lead(mut self, segments: Segments) -> Segments {
        self.0.sort_unstable();
        self.0.dedup();
        let mut led = Segments::default();
        let mut rest = self.0.as_slice();
        for range in segments.of_line {
            let first = led.all.len();
            for (number, segment) in range.clone().zip(&segments.all[range]) {
                let count = rest.iter().take_while(|(s, _)| *s as usize == number).count();
                let (mine, others) = rest.split_at(count);
                rest = others;
                break_at(segment, mine.iter().map(|(_, site)| *site).collect(), &mut led.all);
            }
            led.of_line.push(first..led.all.len());
        }
        led
    }
}

fn break_at(segment: &Segment, mut sites: Vec<Site>, out: &mut Vec<Segment>) {
    let canonical = segment.span.canonical();
    sites.sort_unstable_by_key(|site| (canonical.along(*site), *site));
    if canonical != segment.span {
        sites.reverse();
    }
    sites.push(segment.span.b);
    let (mut at, mut from) = (segment.span.a, segment.from);
    for site in sites.into_iter() {
        let share = segment.span.fraction(site);
        let to = segment.from + share * (segment.to - segment.from);
        if site != at {
            out.push(Segment { span: Span { a: at, b: site }, from, to, ..*segment });
            (at, from) = (site, to);
        }
    }
}
