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
    /// How much the winding of outlines, holes and zones grows from the right side of `u`→`v` to its left.
    pub winding: [i32; 3],
    /// Whether a divider or a link runs along it.
    pub divides: bool,
    /// True length, metres.
    pub length: f64,
    /// Area between chord and curve, m²; positive when the curve lies to the right of `u`→`v`.
    pub bow: f64,
    sources: Range<u32>,
}

/// All edges in the order of their sites, and their sources.
#[derive(Debug, Clone)]
pub(super) struct Edges {
    pub all: Vec<Edge>,
    sources: Vec<Source>,
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
        let turns = segments.turns();
        let mut edges = Edges { all: Vec::new(), sources: Vec::new() };
        for group in noding.pieces.chunk_by(|a, b| (a.u, a.v) == (b.u, b.v)) {
            let runs: Vec<Run> = group.iter().flat_map(|p| runs(p, noding, segments, lines)).collect();
            edges.push(group[0], runs, &turns);
        }
        edges
    }

    fn push(&mut self, piece: Piece, runs: Vec<Run>, turns: &[i32]) {
        let mut winding = [0; 3];
        let mut divides = false;
        for run in &runs {
            let side = if run.forward { 1 } else { -1 };
            let turn = turns.get(run.line as usize).copied().unwrap_or(1);
            match run.role {
                Role::Outline => winding[0] += side * turn,
                Role::Hole => winding[1] += side * turn,
                Role::Zone => winding[2] += side * turn,
                Role::Divider => divides = true,
            }
        }
        // One run speaks for the length and the bow of the edge, the same one whatever the order of the input:
        // rings go before dividers, and among equals the shortest.
        let speaks = runs.iter().filter(|r| r.source.is_some()).min_by(|a, b| {
            a.role.cmp(&b.role).then(a.length.total_cmp(&b.length)).then(a.bow.total_cmp(&b.bow))
        });
        let (length, bow) = speaks.map_or((0.0, 0.0), |r| (r.length, r.bow));
        let first = self.sources.len();
        self.sources.extend(runs.iter().filter_map(|r| r.source));
        self.sources[first..].sort_unstable();
        let mut kept = first;
        for i in first..self.sources.len() {
            if i == first || self.sources[i] != self.sources[i - 1] {
                self.sources.swap(kept, i);
                kept += 1;
            }
        }
        self.sources.truncate(kept);
        let sources = first as u32..kept as u32;
        self.all.push(Edge { u: piece.u, v: piece.v, winding, divides, length, bow, sources });
    }

    /// What runs along an edge, in order, each once.
    pub fn sources(&self, edge: &Edge) -> &[Source] {
        self.sources.get(edge.sources.start as usize..edge.sources.end as usize).unwrap_or_default()
    }
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
            source: input.map(|_| Source { line: segment.line as usize, edge: segment.edge as usize }),
            line: segment.line,
            forward,
            length: input.map_or(0.0, |e| e.length) * share,
            bow: if forward { bow } else { -bow },
        })
    })
}
