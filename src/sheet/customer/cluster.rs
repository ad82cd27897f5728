//! Neighbors of one group that share a mark.

use crate::ink::PaperPoint;

use super::super::mm::{Box2, length, lerp};
use super::fate::Fate;
use super::floor::{Drawn, Shape};

/// Distances within which neighbors share a mark, mm, tried in this order.
pub(super) const SHARE: [f64; 7] = [0.0, 9.0, 14.0, 20.0, 28.0, 40.0, 60.0];

/// Paper for one mark, mm², below which neighbors share.
pub(super) const PAPER_A_MARK: f64 = 190.0;

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

/// Neighbors of one group within a distance, mm; `None` if that leaves more than `most` marks.
pub(super) fn clusters(drawn: &[Drawn], share: f64, most: f64) -> Option<Vec<Cluster>> {
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
        #[expect(clippy::cast_precision_loss, reason = "a count of items")]
        if !last && out.len() as f64 >= most {
            return None;
        }
        out.push(Cluster {
            fate: d.fate,
            shown,
            count: 1,
            at: p,
        });
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

pub(super) fn longest(runs: &[Vec<PaperPoint>]) -> Option<&Vec<PaperPoint>> {
    runs.iter()
        .max_by(|a, b| length(a).total_cmp(&length(b)))
        .filter(|r| r.len() > 1)
}

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
