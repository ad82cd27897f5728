//! How crowded a floor's tags will be at a scale, measured before anything is drawn.
//!
//! The number that decides is local fill: the largest share of any window of 60 mm of paper that the tags of what lies in it would
//! cover, clearance included. Here it is measured on a coarse grid, from where each item's tag is anchored.

use kurbo::{Point, Rect};

use crate::slab::{Blemish, Delamination, Lippage, Slab, Stretch, Zone};
use crate::takeoff::wanted::Wanted;
use crate::takeoff::{LippageWork, Takeoff, Worked};

use crate::paper::scale::Scale;
use crate::paper::{style, words};

/// Side of the window, mm of paper.
pub const WINDOW: f64 = 60.0;
/// Side of a cell, mm of paper.
const CELL: f64 = 10.0;
/// Cells along the window.
const ACROSS: usize = 6;
/// Most cells along a side; a larger floor at this scale is told by fewer, larger cells.
const MOST_CELLS: usize = 1500;
/// Fill up to which a drawing is planned: a little less than the fill from which leaders begin to cross (0.40), because the coarse grid
/// sees a little less than there is.
pub const PLANNED: f64 = 0.38;
/// Room between the text of a tag and its outline, both sides together, mm.
const SIDES: f64 = 4.0;
/// Height of a tag with its clearance, mm.
const HEIGHT: f64 = 5.7;

/// Where a tag will be anchored.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Id of the item.
    pub id: String,
    /// The anchor.
    pub at: Point,
    /// What its tag covers, mm² of paper.
    pub area: f64,
}

/// The fullest window at a scale.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fullest {
    /// Share of it that is covered.
    pub share: f64,
    /// Smallest rectangle around the anchors in it, on the floor.
    pub around: Rect,
    /// Which spots lie in it, by index.
    pub spots: Vec<usize>,
}

fn spot(id: &str, at: Point) -> Spot {
    let width = words::width(id, style::strong()) + SIDES + 1.0;
    Spot { id: id.to_owned(), at, area: width * HEIGHT }
}

fn middle(path: &crate::geometry::path::Path, on: &[Stretch]) -> Option<Point> {
    let longest = on.iter().max_by(|a, b| a.length().total_cmp(&b.length()))?;
    Some(path.point_at((longest.from_m + longest.to_m) / 2.0))
}

/// The middle of the longest stretch of a step that is ground by hand, else of the stretch that was read.
fn middle_of_step(step: &Lippage, work: &LippageWork) -> Point {
    let longest = work.by_hand().max_by(|a, b| (a.to_m - a.from_m).total_cmp(&(b.to_m - b.from_m)));
    let (from, to) = longest.map_or_else(|| step.read_between(), |s| (s.from_m, s.to_m));
    step.path.point_at((from + to) / 2.0)
}

/// Every item that gets a tag, with the place it is anchored at.
#[must_use]
pub fn spots(slab: &Slab, takeoff: &Takeoff, wanted: &[Wanted]) -> Vec<Spot> {
    let mut out = Vec::new();
    for worked in takeoff.walk(slab) {
        let at = match worked {
            Worked::Joint(joint, _) => middle(&joint.path, &joint.on_slab),
            Worked::Crack(crack, _) => middle(&crack.path, &crack.on_slab),
            // Its patch has the tag.
            Worked::Spall(_, work) if work.repair.patch().is_some() => None,
            Worked::Spall(spall, _) => spall.shape.region.bounds().map(|b| b.center()),
            Worked::Delamination(_, work) if work.in_patch() => None,
            Worked::Delamination(Delamination { shape, .. }, _)
            | Worked::Blemish(Blemish { shape, .. })
            | Worked::KeepOut(Zone { shape, .. })
            | Worked::Uncoated(Zone { shape, .. }) => shape.region.interior_point(),
            Worked::Lippage(step, work) => Some(middle_of_step(step, work)),
            Worked::Moisture(test) => Some(test.at),
            Worked::Tier(tier) => tier.region.interior_point(),
        };
        out.extend(at.map(|at| spot(worked.item().id(), at)));
    }
    out.extend(takeoff.patches.iter().map(|p| spot(&p.id, p.rect.center)));
    out.extend(wanted.iter().map(|w| spot(&w.id, w.at)));
    out.retain(|s| s.at.x.is_finite() && s.at.y.is_finite());
    out
}

/// A grid over the spots.
struct Grid {
    corner: Point,
    cell: f64,
    columns: usize,
    rows: usize,
}

impl Grid {
    fn of(spots: &[&Spot], scale: Scale) -> Option<Self> {
        let around =
            spots.iter().map(|s| Rect::from_points(s.at, s.at)).reduce(|a, b| a.union(b))?;
        let cell = CELL / scale.mm_per_m();
        let count = |length: f64| ((length / cell).floor() as usize + 1).min(MOST_CELLS);
        Some(Self {
            corner: around.origin(),
            cell,
            columns: count(around.width()) + ACROSS,
            rows: count(around.height()) + ACROSS,
        })
    }

    fn place(&self, p: Point) -> (usize, usize) {
        let at = |v: f64, n: usize| ((v / self.cell).floor().max(0.0) as usize).min(n - 1);
        let d = p - self.corner;
        (at(d.x, self.columns), at(d.y, self.rows))
    }
}

/// The fullest window of some spots at a scale.
#[must_use]
pub fn fullest(all: &[Spot], which: &[usize], scale: Scale) -> Fullest {
    let spots: Vec<&Spot> = which.iter().filter_map(|&i| all.get(i)).collect();
    let Some(grid) = Grid::of(&spots, scale) else {
        return Fullest::default();
    };
    let width = grid.columns + 1;
    let mut sums = vec![0.0_f64; width * (grid.rows + 1)];
    for s in &spots {
        let (x, y) = grid.place(s.at);
        sums[(y + 1) * width + x + 1] += s.area;
    }
    for y in 1..=grid.rows {
        let mut line = 0.0;
        for x in 1..=grid.columns {
            line += sums[y * width + x];
            sums[y * width + x] = sums[(y - 1) * width + x] + line;
        }
    }
    let mut best = (0.0, 0, 0);
    for y in 0..=grid.rows - ACROSS {
        for x in 0..=grid.columns - ACROSS {
            let (top, right) = ((y + ACROSS) * width, x + ACROSS);
            let covered =
                sums[top + right] + sums[y * width + x] - sums[y * width + right] - sums[top + x];
            if covered > best.0 + 1e-6 {
                best = (covered, x, y);
            }
        }
    }
    let (covered, x, y) = best;
    let held = |i: &&usize| {
        let (cx, cy) = grid.place(all[**i].at);
        (x..x + ACROSS).contains(&cx) && (y..y + ACROSS).contains(&cy)
    };
    let spots: Vec<usize> = which.iter().filter(held).copied().collect();
    Fullest { share: covered / (WINDOW * WINDOW), around: around(all, &spots), spots }
}

/// Smallest rectangle around some anchors.
#[must_use]
pub fn around(all: &[Spot], which: &[usize]) -> Rect {
    let points = which.iter().filter_map(|&i| all.get(i));
    points.map(|s| Rect::from_points(s.at, s.at)).reduce(|a, b| a.union(b)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_larger_scale_spreads_what_a_smaller_one_crowds() {
        let spots: Vec<Spot> = (0..40)
            .map(|i| {
                spot(
                    &format!("C{}", i + 1),
                    Point::new(f64::from(i % 8) * 0.4, f64::from(i / 8) * 0.4),
                )
            })
            .collect();
        let which: Vec<usize> = (0..spots.len()).collect();
        let small = fullest(&spots, &which, Scale { ratio: 96.0 });
        let large = fullest(&spots, &which, Scale { ratio: 24.0 });
        assert_eq!(small.spots.len(), 40);
        assert!(small.share > 0.5, "{}", small.share);
        assert!(large.share < small.share / 2.0, "{}", large.share);
    }

    #[test]
    fn nothing_is_not_crowded() {
        assert_eq!(fullest(&[], &[], Scale { ratio: 96.0 }), Fullest::default());
    }
}
