//! Where a floor is divided: along joints that run across it where one is near, else along a straight line.

use kurbo::Rect;

use crate::geometry::region::Region;
use crate::slab::Slab;

/// A joint that bows more than this is no line to divide along, m (1/8 in).
const STRAIGHT_M: f64 = 0.0032;
/// Joints whose lines differ by less run on one line, m (1 in).
const ONE_LINE_M: f64 = 0.0254;
/// A line of joints runs across where it covers this share of the floor's width.
const ACROSS: f64 = 0.6;
/// Least share of a window that must be floor for a sheet to be drawn.
const LEAST_FLOOR: f64 = 1e-4;

/// A line along which a floor is divided.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its coordinate, m.
    pub at: f64,
    /// Ids of the joints on it; empty where no joint was near.
    pub joints: Vec<String>,
}

/// A part of a floor that is drawn on one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Its rectangle on the floor.
    pub rect: Rect,
    /// Column and row, from the upper left.
    pub cell: (usize, usize),
}

/// How a floor is divided.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Grid {
    /// Upright lines, from the left.
    pub upright: Vec<Cut>,
    /// Level lines, from the bottom.
    pub level: Vec<Cut>,
    /// Windows with floor in them, as one reads.
    pub windows: Vec<Window>,
}

/// Lines of joints that run across a floor: coordinate and ids.
struct Lines {
    upright: Vec<Cut>,
    level: Vec<Cut>,
}

impl Lines {
    fn of(slab: &Slab, floor: Rect) -> Self {
        let mut found = [Vec::new(), Vec::new()];
        for joint in &slab.joints {
            let (a, b) = (joint.path.start(), joint.path.end());
            let d = b - a;
            if joint.path.bow() > STRAIGHT_M || d.hypot() < ONE_LINE_M {
                continue;
            }
            let length: f64 = joint.on_slab.iter().map(|s| s.to_m - s.from_m).sum();
            let middle = a.midpoint(b);
            if d.x.abs() < ONE_LINE_M {
                found[0].push((middle.x, length, joint.id.clone()));
            } else if d.y.abs() < ONE_LINE_M {
                found[1].push((middle.y, length, joint.id.clone()));
            }
        }
        let [upright, level] = found;
        Self { upright: across(upright, floor.height()), level: across(level, floor.width()) }
    }
}

/// Joints on one line taken together; those lines kept that run across.
fn across(mut found: Vec<(f64, f64, String)>, width: f64) -> Vec<Cut> {
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.cmp(&b.2)));
    let mut lines: Vec<(Cut, f64)> = Vec::new();
    for (at, length, id) in found {
        match lines.last_mut() {
            Some((cut, sum)) if at - cut.at < ONE_LINE_M => {
                cut.joints.push(id);
                *sum += length;
            }
            _ => lines.push((Cut { at, joints: vec![id] }, length)),
        }
    }
    let runs = lines.into_iter().filter(|(_, sum)| *sum >= ACROSS * width);
    runs.map(|(cut, _)| cut).collect()
}

/// Divides an interval into the fewest pieces no longer than `most`; each cut on the line nearest to where equal pieces would end.
fn cuts(from: f64, to: f64, most: f64, lines: &[Cut]) -> Vec<Cut> {
    let pieces = ((to - from) / most - 1e-9).ceil().max(1.0);
    let mut out = Vec::new();
    let (mut at, mut left) = (from, pieces);
    while left > 1.5 {
        let ideal = at + (to - at) / left;
        let (low, high) = (to - (left - 1.0) * most - 1e-9, at + most + 1e-9);
        let near = lines
            .iter()
            .filter(|l| l.at > at + 0.2 * most && l.at >= low && l.at <= high)
            .min_by(|a, b| (a.at - ideal).abs().total_cmp(&(b.at - ideal).abs()));
        let cut = near.cloned().unwrap_or(Cut { at: ideal, joints: Vec::new() });
        at = cut.at;
        out.push(cut);
        left -= 1.0;
    }
    out
}

/// How many windows a floor takes at most, without looking at its shape.
#[must_use]
pub fn count(floor: Rect, most: (f64, f64)) -> f64 {
    let n = |length: f64, most: f64| {
        if most > 0.0 { (length / most - 1e-9).ceil().max(1.0) } else { f64::INFINITY }
    };
    n(floor.width(), most.0) * n(floor.height(), most.1)
}

/// Divides a floor into windows no larger than `most`, m.
#[must_use]
pub fn divide(slab: &Slab, floor: Rect, most: (f64, f64)) -> Grid {
    let lines = Lines::of(slab, floor);
    let upright = cuts(floor.x0, floor.x1, most.0, &lines.upright);
    let level = cuts(floor.y0, floor.y1, most.1, &lines.level);
    let edges = |from: f64, cuts: &[Cut], to: f64| {
        let inner = cuts.iter().map(|c| c.at);
        std::iter::once(from).chain(inner).chain([to]).collect::<Vec<_>>()
    };
    let xs = edges(floor.x0, &upright, floor.x1);
    let ys = edges(floor.y0, &level, floor.y1);
    let mut windows = Vec::new();
    for (row, y) in ys.windows(2).rev().enumerate() {
        for (column, x) in xs.windows(2).enumerate() {
            let rect = Rect::new(x[0], y[0], x[1], y[1]);
            let floor = slab.enclosed.intersection(&Region::rectangle(rect));
            if floor.area() > LEAST_FLOOR * rect.area() {
                windows.push(Window { rect, cell: (column, row) });
            }
        }
    }
    Grid { upright, level, windows }
}

impl Grid {
    /// Largest width and height of a window, m.
    #[must_use]
    pub fn largest(&self) -> (f64, f64) {
        self.windows.iter().fold((0.0, 0.0), |(w, h): (f64, f64), x| {
            (w.max(x.rect.width()), h.max(x.rect.height()))
        })
    }

    /// The window at a cell.
    #[must_use]
    pub fn at(&self, column: usize, row: usize) -> Option<usize> {
        self.windows.iter().position(|w| w.cell == (column, row))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(at: f64) -> Cut {
        Cut { at, joints: vec![format!("J{at}")] }
    }

    #[test]
    fn cuts_lie_on_joints_and_no_piece_is_too_long() {
        let lines: Vec<Cut> = (1..10).map(|i| line(f64::from(i) * 6.0)).collect();
        let found = cuts(0.0, 60.0, 25.0, &lines);
        let at: Vec<f64> = found.iter().map(|c| c.at).collect();
        assert_eq!(at, [18.0, 36.0]);
        assert!(found.iter().all(|c| !c.joints.is_empty()));
    }

    #[test]
    fn without_a_joint_near_the_cut_is_straight_and_pieces_are_equal() {
        let found = cuts(0.0, 60.0, 25.0, &[line(5.0)]);
        assert_eq!(found.iter().map(|c| c.at).collect::<Vec<_>>(), [20.0, 40.0]);
        assert!(found.iter().all(|c| c.joints.is_empty()));
        assert!(cuts(0.0, 20.0, 25.0, &[]).is_empty());
    }
}
