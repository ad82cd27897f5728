//! Edges of the arrangement: each stretch once, with everything that runs along it.

use super::noding::{Noding, Piece};
use super::segment::{LINK, Segments};
use super::{Line, Role, Source};
use std::ops::Range;

/// An undirected edge, stored from its smaller to its greater site.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub u: u32,
    pub v: u32,
    /// Whether a divider or a link runs along it.
    pub divides: bool,
    /// True length, meters.
    pub length: f64,
    /// Area between chord and curve, m²; positive when the curve lies to the right of `u`→`v`.
    pub bow: f64,
    sources: Range<u32>,
    turns: Range<u32>,
}

/// By how much the winding of one ring grows from the right side of an edge to its left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Turn {
    pub line: u32,
    pub role: Role,
    pub growth: i32,
}

/// All edges in the order of their sites, and their sources.
#[derive(Debug, Clone)]
pub(super) struct Edges {
    pub all: Vec<Edge>,
    sources: Vec<Source>,
    turns: Vec<Turn>,
}

/// One segment running along an edge.
struct Run {
    role: Role,
    source: Option<Source>,
    line: u32,
    /// Whether it runs from `u` to `v`.
    forward: bool,
    length: f64,
    bow: f64,
}

impl Edges {
    /// Puts the pieces of each stretch together.
    pub fn new(noding: &Noding, segments: &Segments, lines: &[Line]) -> Edges {
        let mut edges = Edges { all: Vec::new(), sources: Vec::new(), turns: Vec::new() };
        let mut together: Vec<Run> = Vec::new();
        for group in noding.pieces.chunk_by(|a, b| (a.u, a.v) == (b.u, b.v)) {
            together.clear();
            together.extend(group.iter().flat_map(|p| runs(p, noding, segments, lines)));
            edges.push(group[0], &together);
        }
        edges
    }

    fn push(&mut self, piece: Piece, runs: &[Run]) {
        // One run speaks for the length and the bow of the edge, the same one whatever the order of the input:
        // rings go before dividers, and among equals the shortest.
        let speaks = runs.iter().filter(|r| r.source.is_some()).min_by(|a, b| {
            a.role.cmp(&b.role).then(a.length.total_cmp(&b.length)).then(a.bow.total_cmp(&b.bow))
        });
        let (length, bow) = speaks.map_or((0.0, 0.0), |r| (r.length, r.bow));
        let sources = append(&mut self.sources, runs.iter().filter_map(|r| r.source));
        self.sources[sources.start as usize..].sort_unstable();
        let rings = runs.iter().filter(|r| r.role != Role::Divider);
        let turns = rings.map(|r| Turn {
            line: r.line,
            role: r.role,
            growth: if r.forward { 1 } else { -1 },
        });
        self.all.push(Edge {
            u: piece.u,
            v: piece.v,
            divides: runs.iter().any(|r| r.role == Role::Divider),
            length,
            bow,
            sources,
            turns: append(&mut self.turns, turns),
        });
    }

    /// The rings that run along an edge.
    pub fn turns(&self, edge: &Edge) -> &[Turn] {
        self.turns.get(edge.turns.start as usize..edge.turns.end as usize).unwrap_or_default()
    }

    /// What runs along an edge, in order; an input edge led along it twice comes twice.
    pub fn sources(&self, edge: &Edge) -> &[Source] {
        self.sources.get(edge.sources.start as usize..edge.sources.end as usize).unwrap_or_default()
    }
}

/// Appends and gives the place of what was appended.
fn append<T>(all: &mut Vec<T>, more: impl IntoIterator<Item = T>) -> Range<u32> {
    let first = all.len() as u32;
    all.extend(more);
    first..all.len() as u32
}

fn runs<'a>(
    piece: &'a Piece,
    noding: &'a Noding,
    segments: &'a Segments,
    lines: &'a [Line],
) -> impl Iterator<Item = Run> + 'a {
    noding.members.of(piece.span).iter().filter_map(move |(number, reversed)| {
        let segment = segments.all.get(*number as usize)?;
        let line = lines.get(segment.line as usize)?;
        let forward = *reversed == piece.reversed;
        let input = line.edges.get(segment.edge as usize).filter(|_| segment.edge != LINK);
        let share = (piece.to - piece.from).abs() * (segment.to - segment.from);
        let bow = input.map_or(0.0, |e| e.bow) * share;
        Some(Run {
            role: line.role,
            source: input
                .map(|_| Source { line: segment.line as usize, edge: segment.edge as usize }),
            line: segment.line,
            forward,
            length: input.map_or(0.0, |e| e.length) * share,
            bow: if forward { bow } else { -bow },
        })
    })
}
