//! Which faces belong to which class.

use super::edge::Edges;
use super::face::{Faces, Fans, UNBOUNDED, next};
use super::{Beyond, Class, Role};

/// How many outlines, holes and zones wind around one face.
///
/// Each ring is judged by itself, so a ring that winds backwards somewhere can't cancel another.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Winding([u32; 3]);

impl Winding {
    pub fn belongs(self, class: Class) -> bool {
        let [outline, hole, zone] = self.0;
        let enclosed = outline > 0;
        match class {
            Class::Enclosed => enclosed,
            Class::Reached => enclosed && hole == 0,
            Class::Net => enclosed && hole == 0 && zone == 0,
        }
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

/// The state of a walk from face to face.
struct Walk<'a> {
    edges: &'a Edges,
    /// How often each line winds around the present face.
    of_line: Vec<i32>,
    here: Winding,
}

impl Walk<'_> {
    /// Goes across a half-edge, from its left to its right.
    fn across(&mut self, half: u32) {
        let sign = if half.is_multiple_of(2) { -1 } else { 1 };
        for turn in self.edges.turns(&self.edges.all[half as usize / 2]) {
            let winds = &mut self.of_line[turn.line as usize];
            let before = *winds != 0;
            *winds += sign * turn.growth;
            let count = match turn.role {
                Role::Outline => &mut self.here.0[0],
                Role::Hole => &mut self.here.0[1],
                Role::Zone | Role::Divider => &mut self.here.0[2],
            };
            match (before, *winds != 0) {
                (false, true) => *count += 1,
                (true, false) => *count -= 1,
                _ => {}
            }
        }
    }
}

/// A step of the walk still to be taken, or to be taken back.
enum Step {
    Enter(u32),
    Leave(u32),
}

/// The winding of each face, found by walking from face to face across the edges, from the outside in, and back.
pub(super) fn windings(lines: usize, edges: &Edges, fans: &Fans, faces: &Faces) -> Vec<Winding> {
    let mut walk = Walk { edges, of_line: vec![0; lines], here: Winding::default() };
    let mut found: Vec<Option<Winding>> = vec![None; faces.count()];
    found[UNBOUNDED as usize] = Some(walk.here);
    let mut steps = Vec::new();
    let plan = |face: u32, found: &[Option<Winding>], steps: &mut Vec<Step>| {
        for start in faces.borders(face) {
            let mut half = *start;
            loop {
                if found[faces.of_half[(half ^ 1) as usize] as usize].is_none() {
                    steps.push(Step::Enter(half));
                }
                half = next(edges, fans, half);
                if half == *start {
                    break;
                }
            }
        }
    };
    plan(UNBOUNDED, &found, &mut steps);
    while let Some(step) = steps.pop() {
        match step {
            Step::Leave(half) => walk.across(half ^ 1),
            Step::Enter(half) => {
                let face = faces.of_half[(half ^ 1) as usize];
                if found[face as usize].is_none() {
                    walk.across(half);
                    found[face as usize] = Some(walk.here);
                    steps.push(Step::Leave(half));
                    plan(face, &found, &mut steps);
                }
            }
        }
    }
    found.into_iter().map(Option::unwrap_or_default).collect()
}
