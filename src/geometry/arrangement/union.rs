//! Disjoint sets.

/// Disjoint sets of the numbers from 0; the root of a set is its smallest member.
#[derive(Debug, Clone)]
pub(super) struct Union(Vec<u32>);

impl Union {
    pub fn new(count: usize) -> Union {
        Union((0..count as u32).collect())
    }

    pub fn root(&mut self, mut member: usize) -> usize {
        while self.0[member] as usize != member {
            let grandparent = self.0[self.0[member] as usize];
            self.0[member] = grandparent;
            member = grandparent as usize;
        }
        member
    }

    /// Puts two sets together; false when they were one already.
    pub fn join(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.root(a), self.root(b));
        let (low, high) = (a.min(b), a.max(b));
        self.0[high] = low as u32;
        low != high
    }
}
