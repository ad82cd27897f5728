//! Neighbors of one group that share a mark.

use crate::ink::PaperPoint;

use super::fate::Fate;
use super::floor::{Drawn, Shape};
use crate::paper::mm::{Box2, length, lerp};

/// Distances within which neighbors share a mark, mm, tried in this order. The widest are for floors strewn with hundreds of things, where
/// smaller shares leave whole groups without a letter.
pub(super) const SHARE: [f64; 7] = [0.0, 9.0, 14.0, 20.0, 28.0, 40.0, 60.0];

/// Paper for one mark, mm², below which neighbors share.
const PAPER_A_MARK: f64 = 190.0;
/// Fewest and most marks that a plan is given, whatever its size.
const MARKS: (f64, f64) = (24.0, 300.0);

/// How many marks a floor of this size on paper holds.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
pub(super) fn most(floor: &Box2) -> usize {
    let paper = floor.width() * floor.height();
    (paper / PAPER_A_MARK).clamp(MARKS.0, MARKS.1) as usize
}

/// A mark and what it stands for.
#[derive(Clone, Debug)]
pub(super) struct Cluster {
    /// Its group.
    pub fate: Fate,
    /// Index of the item it points at.
    pub shown: usize,
    /// How many it stands for.
    pub count: usize,
    /// Its middle.
    pub at: PaperPoint,
}

/// Neighbors of one group within a distance, mm; `None` if that leaves more than `most` marks. At the last distance the `most` largest are
/// kept; the others are told by their color.
pub(super) fn clusters(drawn: &[Drawn], share: f64, most: usize) -> Option<Vec<Cluster>> {
    let mut out: Vec<Cluster> = Vec::new();
    let last = share >= SHARE[SHARE.len() - 1];
    for (shown, d) in drawn.iter().enumerate() {
        let Some(p) = middle(d.aim()) else { continue };
        let near = out
            .iter_mut()
            .find(|c| share > 0.0 && c.fate == d.fate && (c.at - p).length() <= share);
        if let Some(cluster) = near {
            cluster.count += 1;
            continue;
        }
        if !last && out.len() >= most {
            return None;
        }
        out.push(Cluster { fate: d.fate, shown, count: 1, at: p });
    }
    if out.len() > most {
        out.sort_by(|a, b| b.count.cmp(&a.count).then(a.shown.cmp(&b.shown)));
        out.truncate(most);
        out.sort_by_key(|c| c.shown);
    }
    Some(out)
}

/// The middle of the longest run, or of the box of an area.
fn middle(shape: &Shape) -> Option<PaperPoint> {
    match shape {
        Shape::Line(runs) => longest(runs).map(|run| station(run, 0.5)),
        Shape::Area(rings) => Some(Box2::of(rings.first()?).center()),
        Shape::Spot(p) => Some(*p),
    }
}

/// The longest run, if it has any length.
pub(super) fn longest(runs: &[Vec<PaperPoint>]) -> Option<&Vec<PaperPoint>> {
    runs.iter().max_by(|a, b| length(a).total_cmp(&length(b))).filter(|r| r.len() > 1)
}

/// The point at a share of a run's length.
pub(super) fn station(run: &[PaperPoint], share: f64) -> PaperPoint {
    let mut left = share * length(run);
    for pair in run.windows(2) {
        let long = (pair[1] - pair[0]).length();
        if left <= long && long > 0.0 {
            return lerp(pair[0], pair[1], left / long);
        }
        left -= long;
    }
    run.last().copied().unwrap_or_default()
}
