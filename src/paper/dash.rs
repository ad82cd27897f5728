//! Dashed lines cut to length: every line starts and ends with a full dash, as ISO 128-21 asks (from memory). A writer's own
//! dashes don't do that, so the pieces are computed here.

use crate::ink::PaperPoint;

use crate::paper::mm::{length, lerp};

/// A pattern: a long dash, then gaps with dots between them, repeated. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pattern {
    /// Long dash.
    pub dash: f64,
    /// Every gap.
    pub gap: f64,
    /// Dots between two long dashes.
    pub dots: u8,
    /// Length of a dot.
    pub dot: f64,
}

const fn plain(dash: f64, gap: f64) -> Pattern {
    Pattern { dash, gap, dots: 0, dot: 0.0 }
}

/// Control joints: dashes.
pub const CONTROL: Pattern = plain(3.0, 0.75);
/// Construction joints: long dashes with a dot between.
pub const CONSTRUCTION: Pattern = Pattern { dash: 8.4, gap: 1.05, dots: 1, dot: 0.35 };
/// Limits of removal and saw cuts.
pub const REMOVAL: Pattern = plain(3.0, 1.5);
/// Match lines: long dashes with two dots between.
pub const MATCH: Pattern = Pattern { dash: 16.8, gap: 2.1, dots: 2, dot: 0.7 };
/// Openings, areas not in the job.
pub const OPENING: Pattern = plain(1.5, 1.0);
/// Outline of a delamination: dashes with a dot between.
pub const HOLLOW: Pattern = Pattern { dash: 2.4, gap: 0.7, dots: 1, dot: 0.35 };
/// Outline of a blemish.
pub const BLEMISH: Pattern = plain(1.2, 0.8);
/// Pour lines: long dashes with two dots between, thin.
pub const POUR: Pattern = Pattern { dash: 6.0, gap: 1.0, dots: 2, dot: 0.4 };

/// The pieces of a polyline drawn with a pattern. The pattern is stretched or squeezed so that whole dashes fit; a line shorter
/// than one dash is drawn whole.
#[must_use]
pub fn cut(points: &[PaperPoint], pattern: Pattern) -> Vec<Vec<PaperPoint>> {
    let total = length(points);
    if !total.is_finite() || total <= 0.0 {
        return Vec::new();
    }
    let dots = f64::from(pattern.dots);
    let between = pattern.gap + dots * (pattern.dot + pattern.gap);
    // A dotted pattern shows its dots even on a short line, so it has two dashes as soon as there is room for half of each.
    let least = if dots > 0.0 && total > pattern.dash + between { 2.0 } else { 1.0 };
    let n = ((total + between) / (pattern.dash + between)).round().max(least);
    let k = total / (n * pattern.dash + (n - 1.0) * between);
    let mut pieces = Vec::new();
    let mut at = 0.0;
    let mut i = 0.0;
    while i < n {
        pieces.push((at, at + k * pattern.dash));
        at += k * pattern.dash;
        for _ in 0..pattern.dots {
            if i + 1.0 < n {
                at += k * pattern.gap;
                pieces.push((at, at + k * pattern.dot));
                at += k * pattern.dot;
            }
        }
        at += k * pattern.gap;
        i += 1.0;
    }
    parts(points, &pieces)
}

/// Parts of a polyline between ascending stations.
fn parts(points: &[PaperPoint], stations: &[(f64, f64)]) -> Vec<Vec<PaperPoint>> {
    let mut at = vec![0.0];
    for pair in points.windows(2) {
        at.push(at[at.len() - 1] + (pair[1] - pair[0]).length());
    }
    let place = |s: f64| {
        let i = at.partition_point(|&a| a <= s).clamp(1, points.len() - 1);
        let span = at[i] - at[i - 1];
        let share = if span > 0.0 { (s - at[i - 1]) / span } else { 0.0 };
        (i, lerp(points[i - 1], points[i], share.clamp(0.0, 1.0)))
    };
    stations
        .iter()
        .map(|&(from, to)| {
            let ((i, start), (j, end)) = (place(from), place(to));
            let mut part = vec![start];
            part.extend((i..j).filter(|&v| at[v] > from && at[v] < to).map(|v| points[v]));
            part.push(end);
            part
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::mm::at;

    #[test]
    fn lines_start_and_end_with_a_full_dash() {
        for pattern in [CONTROL, CONSTRUCTION, REMOVAL, MATCH] {
            for total in [0.3, 2.0, 7.1, 33.3, 152.4] {
                let pieces = cut(&[at(0.0, 0.0), at(total, 0.0)], pattern);
                let (first, last) = (&pieces[0], &pieces[pieces.len() - 1]);
                assert_eq!(first[0], at(0.0, 0.0));
                assert!((last[1].x - total).abs() < 1e-9, "{pattern:?} {total}");
                let (a, b) = (length(first), length(last));
                assert!((a - b).abs() < 1e-9);
                let k = a / pattern.dash;
                let least = if pattern.dots > 0 { 0.45 } else { 0.6 };
                assert!(total < pattern.dash || (least..1.6).contains(&k), "{k}");
            }
        }
    }

    #[test]
    fn a_dash_goes_round_a_corner() {
        let pieces = cut(&[at(0.0, 0.0), at(1.5, 0.0), at(1.5, 1.5)], CONTROL);
        assert_eq!(pieces.len(), 1);
        assert_eq!(pieces[0].len(), 3);
        assert!(cut(&[at(1.0, 1.0), at(1.0, 1.0)], CONTROL).is_empty());
    }

    #[test]
    fn dots_stand_between_dashes() {
        // Three dashes and, between them, two dots for each of two gaps.
        let total = 3.0 * MATCH.dash + 2.0 * (3.0 * MATCH.gap + 2.0 * MATCH.dot);
        assert_eq!(cut(&[at(0.0, 0.0), at(total, 0.0)], MATCH).len(), 7);
    }
}
