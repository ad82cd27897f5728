//! Which faces belong to which class.

use super::edge::Edges;
use super::face::{Fans, Faces, UNBOUNDED, next};
use super::{Beyond, Class};

/// Windings of outlines, holes and zones around one face.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Winding([i32; 3]);

impl Winding {
    pub fn belongs(self, class: Class) -> bool {
        let [outline, hole, zone] = self.0;
        let enclosed = outline != 0;
        match class {
            Class::Enclosed => enclosed,
            Class::Reached => enclosed && hole == 0,
            Class::Net => enclosed && hole == 0 && zone == 0,
        }
    }

    #[cfg(test)]
    pub fn minus(self, other: Winding) -> [i32; 3] {
        [0, 1, 2].map(|i| self.0[i] - other.0[i])
    }

    /// What such a face is to a class that it doesn't belong to.
    pub fn beyond(self) -> Beyond {
        if !self.belongs(Class::Enclosed) {
            Beyond::Outside
        } else if self.belongs(Class::Reached) {
            Beyond::Zone
        } else {
            Beyond::Hole
        }
    }
}

/// The winding of each face, found by walking from face to face across the edges, from the outside in.
pub(super) fn windings(edges: &Edges, fans: &Fans, faces: &Faces) -> Vec<Winding> {
    let mut borders: Vec<Vec<u32>> = vec![Vec::new(); faces.count()];
    for (start, face) in &faces.walks {
        borders[*face as usize].push(*start);
    }
    let mut found: Vec<Option<Winding>> = vec![None; faces.count()];
    found[UNBOUNDED as usize] = Some(Winding::default());
    let mut waiting = vec![UNBOUNDED];
    while let Some(face) = waiting.pop() {
        let Some(Winding(here)) = found[face as usize] else { continue };
        for start in &borders[face as usize] {
            let mut half = *start;
            loop {
                let across = faces.of_half[(half ^ 1) as usize];
                if found[across as usize].is_none() {
                    found[across as usize] = Some(step(here, edges, half));
                    waiting.push(across);
                }
                half = next(edges, fans, half);
                if half == *start {
                    break;
                }
            }
        }
    }
    found.into_iter().map(Option::unwrap_or_default).collect()
}

/// The winding on the right of a half-edge, from the one on its left.
fn step(here: [i32; 3], edges: &Edges, half: u32) -> Winding {
    let change = edges.all[half as usize / 2].winding;
    let sign = if half.is_multiple_of(2) { -1 } else { 1 };
    Winding([0, 1, 2].map(|i| here[i] + sign * change[i]))
}
