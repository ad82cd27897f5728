//! Finding what lies directly beneath a site.

use crate::geometry::cells::Cells;
use crate::geometry::lattice::{Site, Span, cross};
use std::cmp::Ordering;

/// The edges of the arrangement, sorted into cells. Edges run from their smaller to their greater site.
#[derive(Debug, Clone)]
pub(super) struct Locator {
    cells: Cells,
    spans: Vec<Span>,
}

impl Locator {
    pub fn new(spans: Vec<Span>) -> Locator {
        Locator { cells: Cells::new(&spans), spans }
    }

    /// The half-edge on whose left the point just left of `p` lies, or `None` when no edge lies beneath.
    ///
    /// Looking from a little to the left of `p` no ray runs through a vertex or along a vertical edge.
    pub fn beneath(&self, p: Site) -> Option<u32> {
        let mut best: Option<u32> = None;
        let mut at = p;
        while let Some((frame, members)) = self.cells.leaf_at(at) {
            for number in members {
                let span = &self.spans[*number as usize];
                let covers = span.a.x < p.x && p.x <= span.b.x;
                if covers && cross(span.a, span.b, p) > 0 {
                    let higher =
                        |b: u32| by_height(span, &self.spans[b as usize], p.x) == Ordering::Greater;
                    if best.is_none_or(higher) {
                        best = Some(*number);
                    }
                }
            }
            // Whatever meets the column inside this cell was listed here; one unit leaves room for rounding.
            if best.is_some_and(|b| height(&self.spans[b as usize], p.x) > frame.y0 as f64 + 1.0) {
                break;
            }
            at.y = frame.y0 - 1;
        }
        best.map(|edge| 2 * edge)
    }

    /// The edges that come within one unit of `p`.
    pub fn at(&self, p: Site) -> Vec<u32> {
        let members = self.cells.leaf_at(p).map_or(&[][..], |(_, members)| members);
        members.iter().copied().filter(|n| self.spans[*n as usize].brushes(p)).collect()
    }
}

fn height(span: &Span, x: i64) -> f64 {
    span.a.y as f64 + (x - span.a.x) as f64 * span.dy() as f64 / span.dx() as f64
}

/// Order of two edges by their height just left of `x`; exact. Both have to cover it.
fn by_height(first: &Span, second: &Span, x: i64) -> Ordering {
    let scaled = |s: &Span| {
        i128::from(s.a.y) * i128::from(s.dx()) + i128::from(x - s.a.x) * i128::from(s.dy())
    };
    let (dx, other_dx) = (i128::from(first.dx()), i128::from(second.dx()));
    let heights = (scaled(first) * other_dx).cmp(&(scaled(second) * dx));
    // At equal height the one that falls toward x was higher on its left.
    heights.then_with(|| (i128::from(second.dy()) * dx).cmp(&(i128::from(first.dy()) * other_dx)))
}
