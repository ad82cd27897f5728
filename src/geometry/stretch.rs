//! Sets of station intervals on one path.

/// Closed intervals of stations, ascending and apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Intervals(Vec<(f64, f64)>);

/// Intervals closer than this are one, and shorter ones are none, m. Ten micrometers: three
/// steps of the grid that regions are rounded to, far below anything a tape can read.
pub const MERGE: f64 = 1e-5;

impl Intervals {
    /// From intervals in any order, overlapping or not.
    #[must_use]
    pub fn new(mut pieces: Vec<(f64, f64)>) -> Self {
        pieces.retain(|(lo, hi)| hi > lo);
        pieces.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1)));
        let mut out: Vec<(f64, f64)> = Vec::with_capacity(pieces.len());
        for (lo, hi) in pieces {
            match out.last_mut() {
                Some(last) if lo <= last.1 + MERGE => last.1 = last.1.max(hi),
                _ => out.push((lo, hi)),
            }
        }
        out.retain(|(lo, hi)| hi - lo > MERGE);
        Self(out)
    }

    /// The intervals.
    #[must_use]
    pub fn as_slice(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// Sum of the lengths.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.0.iter().map(|(lo, hi)| hi - lo).sum()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What lies in both.
    #[must_use]
    pub fn intersection(&self, other: &Self) -> Self {
        let (mut i, mut j) = (0, 0);
        let mut out = Vec::new();
        while let (Some(p), Some(q)) = (self.0.get(i), other.0.get(j)) {
            let (lo, hi) = (p.0.max(q.0), p.1.min(q.1));
            if hi > lo {
                out.push((lo, hi));
            }
            if p.1 < q.1 { i += 1 } else { j += 1 }
        }
        Self::new(out)
    }

    /// What lies in the first and not in the second.
    #[must_use]
    pub fn difference(&self, other: &Self) -> Self {
        let mut out = Vec::new();
        for &(lo, hi) in &self.0 {
            let mut from = lo;
            let first = other.0.partition_point(|q| q.1 <= lo);
            for &(cut, until) in other.0[first..].iter().take_while(|q| q.0 < hi) {
                if cut > from {
                    out.push((from, cut));
                }
                from = from.max(until);
            }
            if from < hi {
                out.push((from, hi));
            }
        }
        // Differences must not heal the gaps they cut, so they are not merged again.
        out.retain(|(lo, hi)| hi - lo > MERGE);
        Self(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(pieces: &[(f64, f64)]) -> Intervals {
        Intervals::new(pieces.to_vec())
    }

    #[test]
    fn sets_behave_as_sets() {
        let rows = [
            ("apart", set(&[(0.0, 1.0), (2.0, 3.0)]), set(&[(1.0, 2.0)]), 2.0, 0.0),
            ("inside", set(&[(0.0, 9.0)]), set(&[(2.0, 3.0), (4.0, 5.0)]), 7.0, 2.0),
            ("covering", set(&[(2.0, 3.0)]), set(&[(0.0, 9.0)]), 0.0, 1.0),
            ("unsorted", set(&[(4.0, 6.0), (0.0, 5.0)]), set(&[(5.0, 7.0)]), 5.0, 1.0),
        ];
        for (name, a, b, less, both) in rows {
            assert!((a.difference(&b).length() - less).abs() < 1e-12, "{name}: difference");
            assert!((a.intersection(&b).length() - both).abs() < 1e-12, "{name}: intersection");
        }
    }
}
