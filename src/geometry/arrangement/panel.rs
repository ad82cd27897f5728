//! Panels: what the dividers leave of the reached region.

use super::class::Winding;
use super::edge::Edges;
use super::face::Faces;
use super::union::Union;
use super::{Class, Line, Panel, Role};
use crate::geometry::lattice::{Site, UNITS_PER_METRE};

/// Slivers are joined in rounds until none is left that has a neighbor; each round at least halves their number
/// where all have one, so this many rounds serve any input.
const ROUNDS: usize = 40;

/// The panels and, for each face, the number of its panel.
pub(super) struct Panels {
    pub panels: Vec<Panel>,
    pub of_face: Vec<Option<u32>>,
}

/// What is needed to group faces.
pub(super) struct Grouping<'a> {
    pub sites: &'a [Site],
    pub edges: &'a Edges,
    pub faces: &'a Faces,
    pub windings: &'a [Winding],
}

impl Grouping<'_> {
    fn reached(&self, face: u32) -> bool {
        self.windings[face as usize].belongs(Class::Reached)
    }

    /// Straight length of an edge, meters.
    fn chord(&self, edge: usize) -> f64 {
        let e = &self.edges.all[edge];
        (self.sites[e.u as usize].distance_squared(self.sites[e.v as usize]) as f64).sqrt()
            / UNITS_PER_METRE
    }

    /// Faces joined across everything that does not divide.
    fn joined(&self) -> Union {
        let mut groups = Union::new(self.faces.count());
        for (number, edge) in self.edges.all.iter().enumerate() {
            let (left, right) = self.faces.beside(number);
            if !edge.divides && self.reached(left) && self.reached(right) {
                groups.join(left as usize, right as usize);
            }
        }
        groups
    }

    /// Area of each face with the bows of its edges, m².
    pub fn areas(&self) -> Vec<f64> {
        let unit = UNITS_PER_METRE * UNITS_PER_METRE;
        let mut areas: Vec<f64> =
            self.faces.doubled.iter().map(|d| *d as f64 / 2.0 / unit).collect();
        for (number, edge) in self.edges.all.iter().enumerate().filter(|(_, e)| e.bow != 0.0) {
            let (left, right) = self.faces.beside(number);
            if left != right {
                areas[left as usize] += edge.bow;
                areas[right as usize] -= edge.bow;
            }
        }
        areas
    }

    /// Joins each group that is thinner than `sliver` (twice its area by its perimeter) to the neighbor with which it shares most.
    fn absorb(&self, groups: &mut Union, areas: &[f64], sliver: f64) {
        for _ in 0..ROUNDS {
            let mut area = vec![0.0; areas.len()];
            let mut perimeter = vec![0.0; areas.len()];
            for (face, own) in areas.iter().enumerate() {
                area[groups.root(face)] += own;
            }
            let mut shared = Vec::new();
            for number in 0..self.edges.all.len() {
                let (left, right) = self.faces.beside(number);
                let (a, b) = (groups.root(left as usize), groups.root(right as usize));
                if a != b {
                    let length = self.chord(number);
                    perimeter[a] += length;
                    perimeter[b] += length;
                    if self.reached(left) && self.reached(right) {
                        shared.push((a, b, length));
                        shared.push((b, a, length));
                    }
                }
            }
            let thin = |group: usize| 2.0 * area[group] < sliver * perimeter[group];
            shared.retain(|(a, _, _)| thin(*a));
            shared.sort_by_key(|(a, b, _)| (*a, *b));
            let mut changed = false;
            for (sliver, neighbour) in longest(&shared) {
                changed |= groups.join(sliver, neighbour);
            }
            if !changed {
                break;
            }
        }
    }

    /// The panels in the order of their first faces; their rings are not filled in.
    pub fn panels(&self, lines: &[Line], sliver: f64) -> Panels {
        let areas = self.areas();
        let mut groups = self.joined();
        if sliver > 0.0 {
            self.absorb(&mut groups, &areas, sliver);
        }
        let mut panels: Vec<Panel> = Vec::new();
        let mut number_of_root = vec![None; areas.len()];
        let mut of_face = vec![None; areas.len()];
        for face in (0..areas.len()).filter(|f| self.reached(*f as u32)) {
            let number = *number_of_root[groups.root(face)].get_or_insert_with(|| {
                panels.push(Panel { area: 0.0, rings: Vec::new(), dividers: Vec::new() });
                panels.len() - 1
            });
            panels[number].area += areas[face];
            of_face[face] = Some(number as u32);
        }
        self.name_dividers(lines, &of_face, &mut panels);
        Panels { panels, of_face }
    }

    fn name_dividers(&self, lines: &[Line], of_face: &[Option<u32>], panels: &mut [Panel]) {
        for (number, edge) in self.edges.all.iter().enumerate().filter(|(_, e)| e.divides) {
            let (left, right) = self.faces.beside(number);
            let (left, right) = (of_face[left as usize], of_face[right as usize]);
            if left != right {
                let dividing = self.edges.sources(edge).iter().map(|s| s.line);
                let dividing: Vec<usize> = dividing
                    .filter(|l| lines.get(*l).is_some_and(|l| l.role == Role::Divider))
                    .collect();
                for panel in [left, right].into_iter().flatten() {
                    panels[panel as usize].dividers.extend(&dividing);
                }
            }
        }
        for panel in panels {
            panel.dividers.sort_unstable();
            panel.dividers.dedup();
        }
    }
}

/// For each first group the second one with which it shares the greatest length; among equals the lower number.
fn longest(shared: &[(usize, usize, f64)]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    for group in shared.chunk_by(|x, y| x.0 == y.0) {
        let mut best = (f64::MIN, 0);
        for neighbour in group.chunk_by(|x, y| x.1 == y.1) {
            let length: f64 = neighbour.iter().map(|(_, _, l)| l).sum();
            if length > best.0 {
                best = (length, neighbour[0].1);
            }
        }
        found.push((group[0].0, best.1));
    }
    found
}
