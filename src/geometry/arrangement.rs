//! One exact planar arrangement of all lines of a floor: net area, boundary and panels are read off the same edges.
//!
//! Lines are put on an integer lattice of 3.125 micrometers and noded by snap rounding, so that every decision is one of
//! integers: no edge crosses another, and the areas of the panels add up to the area of the region by
//! construction. Curves come as chords; each carries its true length and the area between chord and curve, and a part of
//! a chord carries its share of both.

mod class;
mod edge;
mod face;
pub(super) mod fill;
mod link;
mod locate;
mod noding;
mod panel;
mod segment;
#[cfg(test)]
mod tests;
mod trace;
mod union;
mod weld;

use super::lattice::{Site, UNITS_PER_METRE};
use class::Winding;
use edge::Edges;
use face::{Faces, Fans};
use kurbo::Point;
use link::{Linker, Reach};
use locate::Locator;
use panel::Grouping;
use segment::{Budget, Segments};
use std::fmt;

/// A straight edge, or the chord of a piece of a curve. Meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InputEdge {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    /// True length along the curve this edge is a chord of, m; for a straight edge the distance from `a` to `b`.
    pub length: f64,
    /// Area between the chord and the curve it stands for, m²; positive when the curve bulges to the right
    /// of `a`→`b`, so that it adds to a counter-clockwise ring.
    pub bow: f64,
}

impl InputEdge {
    #[must_use]
    pub fn straight(a: Point, b: Point) -> InputEdge {
        InputEdge { a, b, length: a.distance(b), bow: 0.0 }
    }
}

/// What a line is for. The first three are closed rings of either direction; a divider may be open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Encloses the region.
    Outline,
    /// Cut out of the region.
    Hole,
    /// Cut out of the net region, but still part of the reached one.
    Zone,
    /// Divides the reached region into panels.
    Divider,
}

/// A line, known by its place in the slice handed in. Its edges follow one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub role: Role,
    pub edges: Vec<InputEdge>,
}

/// Tolerances in meters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Dividers within this of each other run on each other. Rings are not bent.
    pub weld: f64,
    /// A divider's end within this of another divider or of the edge of an outline or hole reaches it.
    pub snap: f64,
    /// A panel thinner than this (twice its area by its perimeter) joins a neighbor.
    pub sliver: f64,
}

impl Default for Options {
    /// Weld 1/8 in, the best a tape on a rough floor gives; snap 2 in, as panels are read; slivers below 1/2 in.
    fn default() -> Self {
        Options { weld: 0.003_175, snap: 0.050_8, sliver: 0.012_7 }
    }
}

/// Regions that can be read off. Overlaps count once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Inside an outline.
    Enclosed,
    /// Enclosed and in no hole.
    Reached,
    /// Reached and in no zone.
    Net,
}

/// What lies on the other side of a boundary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// The outside of every outline.
    Outside,
    Hole,
    Zone,
}

/// An edge of an input line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Source {
    /// Place of the line in the slice handed in.
    pub line: usize,
    /// Place of the edge in the line.
    pub edge: usize,
}

/// A piece of the boundary of a class.
#[derive(Clone, Debug, PartialEq)]
pub struct BoundaryEdge {
    /// Start, with the class on the left of `a`→`b`.
    pub a: Point,
    /// End.
    pub b: Point,
    /// True length, m.
    pub length: f64,
    /// All input edges that run along it, dividers too, in order.
    pub sources: Vec<Source>,
    /// What lies on the right.
    pub beyond: Beyond,
}

/// An edge between two panels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    /// True length, m.
    pub length: f64,
    /// What lies on the left of `a`→`b`.
    pub left: Beside,
    /// What lies on its right.
    pub right: Beside,
}

/// What lies beside an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Beside {
    /// Which panel, by index.
    pub panel: usize,
    /// Whether it is part of the net region there.
    pub net: bool,
}

/// A part of the reached region that no divider divides.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Area with bows, m².
    pub area: f64,
    /// Outer rings counter-clockwise, then holes clockwise; no repeated last point.
    pub rings: Vec<Vec<Point>>,
    /// Lines that bound it and are dividers, in order.
    pub dividers: Vec<usize>,
}

/// Why no arrangement could be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArrangementError {
    /// A coordinate, length or bow is not a finite number.
    NotFinite {
        /// Its place in the slice handed in.
        line: usize,
        /// Place of the edge in the line.
        edge: usize,
    },
    /// A coordinate is more than 1677 m from the origin.
    TooFar {
        /// Its place in the slice handed in.
        line: usize,
        /// Place of the edge in the line.
        edge: usize,
    },
    /// An edge of a ring doesn't begin where the one before it ends.
    OpenRing {
        /// Its place in the slice handed in.
        line: usize,
        /// Place of the edge in the line.
        edge: usize,
    },
    /// A tolerance is negative, not finite or 1000 m and more.
    BadTolerance,
    /// So many lines run through or on each other that it would take unreasonable work.
    TooTangled,
}

impl fmt::Display for ArrangementError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite { .. } => write!(f, "a coordinate or length is not a finite number"),
            Self::TooFar { .. } => write!(f, "a point lies more than 1677 m from the origin"),
            Self::OpenRing { .. } => write!(f, "a ring is not closed"),
            Self::BadTolerance => {
                write!(f, "a tolerance is negative, not finite or 1000 m and more")
            }
            Self::TooTangled => write!(f, "too many lines run through or on each other"),
        }
    }
}

impl std::error::Error for ArrangementError {}

/// Comparisons of two edges, or of an edge with a point, that are made before giving up; about a second's worth. A floor of
/// 100,000 dividers takes less than a third of it.
const MOST_STEPS: u64 = 400_000_000;

/// The finished arrangement.
#[derive(Clone, Debug)]
pub struct Arrangement {
    sites: Vec<Site>,
    edges: Edges,
    fans: Fans,
    faces: Faces,
    windings: Vec<Winding>,
    locator: Locator,
    panels: Vec<Panel>,
    panel_of_face: Vec<Option<u32>>,
}

impl Arrangement {
    /// Builds it. The order of the lines and their directions change no area and no panel.
    ///
    /// # Errors
    /// When the input can't be put on the lattice, a ring is open, or the lines are too tangled.
    pub fn build(lines: &[Line], options: &Options) -> Result<Arrangement, ArrangementError> {
        options.check()?;
        let mut budget = Budget(MOST_STEPS);
        let segments = connect(Segments::read(lines)?, lines, options, &mut budget)?;
        let noding = noding::node(&segments, &mut budget)?;
        let edges = Edges::new(&noding, &segments, lines);
        let sites = noding.sites;
        let fans = Fans::new(&sites, &edges);
        let locator = Locator::new(face::spans(&sites, &edges));
        let faces = Faces::new(&sites, &edges, &fans, &locator);
        let windings = class::windings(lines.len(), &edges, &fans, &faces);
        let grouping =
            Grouping { sites: &sites, edges: &edges, faces: &faces, windings: &windings };
        let found = grouping.panels(lines, options.sliver);
        let mut panels = found.panels;
        for ring in trace::rings(&sites, &edges, &fans, &faces, &found.of_face) {
            if let Some(panel) = panels.get_mut(ring.group as usize) {
                panel.rings.push(ring.points);
            }
        }
        Ok(Arrangement {
            sites,
            edges,
            fans,
            faces,
            windings,
            locator,
            panels,
            panel_of_face: found.of_face,
        })
    }

    /// Area of a class, m²: exact for the polygon on the lattice, and the bows of its boundary.
    #[must_use]
    pub fn area(&self, class: Class) -> f64 {
        self.area_of(|face| self.windings[face as usize].belongs(class))
    }

    /// What of a class lies in some of the panels, m².
    #[must_use]
    pub fn area_in(&self, class: Class, chosen: impl Fn(usize) -> bool) -> f64 {
        self.area_of(|face| {
            let panel = self.panel_of_face[face as usize];
            self.windings[face as usize].belongs(class) && panel.is_some_and(|p| chosen(p as usize))
        })
    }

    fn area_of(&self, inside: impl Fn(u32) -> bool) -> f64 {
        let faces = self.faces.doubled.iter().zip(0..);
        let doubled: i128 = faces.filter(|&(_, face)| inside(face)).map(|(d, _)| d).sum();
        let mut bows = 0.0;
        for (number, edge) in self.edges.all.iter().enumerate() {
            let (left, right) = self.faces.beside(number);
            match (inside(left), inside(right)) {
                (true, false) => bows += edge.bow,
                (false, true) => bows -= edge.bow,
                _ => {}
            }
        }
        doubled as f64 / 2.0 / (UNITS_PER_METRE * UNITS_PER_METRE) + bows
    }

    /// Every edge with the class on exactly one side, in the order of the lattice.
    #[must_use]
    pub fn boundary(&self, class: Class) -> Vec<BoundaryEdge> {
        let mut found = Vec::new();
        for (number, edge) in self.edges.all.iter().enumerate() {
            let (left, right) = self.faces.beside(number);
            let (left, right) = (self.windings[left as usize], self.windings[right as usize]);
            if left.belongs(class) == right.belongs(class) {
                continue;
            }
            let (u, v) =
                (self.sites[edge.u as usize].to_point(), self.sites[edge.v as usize].to_point());
            let (a, b, other) = if left.belongs(class) { (u, v, right) } else { (v, u, left) };
            let mut sources = self.edges.sources(edge).to_vec();
            sources.dedup();
            found.push(BoundaryEdge { a, b, length: edge.length, sources, beyond: other.beyond() });
        }
        found
    }

    /// Every edge with another panel on either side, in the order of the lattice.
    #[must_use]
    pub fn between_panels(&self) -> Vec<Between> {
        let mut found = Vec::new();
        for (number, edge) in self.edges.all.iter().enumerate() {
            let (left, right) = self.faces.beside(number);
            let beside = |face: u32| {
                let panel = self.panel_of_face[face as usize]?;
                Some(Beside {
                    panel: panel as usize,
                    net: self.windings[face as usize].belongs(Class::Net),
                })
            };
            if let (Some(left), Some(right)) = (beside(left), beside(right))
                && left.panel != right.panel
            {
                found.push(Between {
                    a: self.sites[edge.u as usize].to_point(),
                    b: self.sites[edge.v as usize].to_point(),
                    length: edge.length,
                    left,
                    right,
                });
            }
        }
        found
    }

    /// Rings of a class: outer ones counter-clockwise, then holes clockwise, no repeated last point. Each ring visits a
    /// point once; points in the middle of a straight stretch are left out.
    #[must_use]
    pub fn rings(&self, class: Class) -> Vec<Vec<Point>> {
        let groups: Vec<Option<u32>> =
            self.windings.iter().map(|w| w.belongs(class).then_some(0)).collect();
        let rings = trace::rings(&self.sites, &self.edges, &self.fans, &self.faces, &groups);
        rings.into_iter().map(|ring| ring.points).collect()
    }

    /// The parts into which the dividers cut the reached region, in a fixed order. Borders of zones don't divide, and a
    /// divider that ends on open floor divides nothing. Their areas add up to that of [`Class::Reached`].
    #[must_use]
    pub fn panels(&self) -> &[Panel] {
        &self.panels
    }

    /// The panel that holds `p`. On a border it is the lowest-numbered one that touches it.
    #[must_use]
    pub fn panel_at(&self, p: Point) -> Option<usize> {
        let site = Site::near(p).ok()?;
        let panel = |half: u32| self.panel_of_face[self.faces.of_half[half as usize] as usize];
        let touching = self.locator.at(site);
        if !touching.is_empty() {
            return touching
                .iter()
                .flat_map(|e| [panel(2 * e), panel(2 * e + 1)])
                .flatten()
                .min()
                .map(|p| p as usize);
        }
        self.locator.beneath(site).and_then(panel).map(|p| p as usize)
    }
}

/// Welds the dividers and links their ends.
fn connect(
    segments: Segments,
    lines: &[Line],
    options: &Options,
    budget: &mut Budget,
) -> Result<Segments, ArrangementError> {
    let (weld, snap) = (options.weld * UNITS_PER_METRE, options.snap * UNITS_PER_METRE);
    if !lines.iter().any(|l| l.role == Role::Divider) {
        return Ok(segments);
    }
    let spans = segments.spans();
    let cells = segment::sort_into_cells(&spans)?;
    let waypoints = weld::weld(&segments, &spans, lines, &cells, weld, budget)?;
    // Welding moves dividers a little, so what their ends touch can only be seen after it.
    let welded = waypoints.lead(segments);
    let spans = welded.spans();
    let cells = segment::sort_into_cells(&spans)?;
    let reach = Reach { weld, snap };
    let linker = Linker { segments: &welded, spans: &spans, lines, cells: &cells, reach };
    let links = linker.links(budget)?;
    let mut connected = links.waypoints.lead(welded);
    connected.all.extend(links.segments);
    Ok(connected)
}
