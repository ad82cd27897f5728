//! Crowded windows of a map, and the larger scale at which each is drawn.

use kurbo::Rect;

use crate::quantity::Units;

use super::census::{self, PLANNED, Spot};
use super::layout::{self, Layout};
use crate::paper::scale::Scale;
use crate::paper::size::Paper;

/// Room kept around the anchors of a crowded window, mm of the map's paper.
const PAD: f64 = 6.0;
/// Largest share of a floor that is drawn in frames.
const MOST_COVERED: f64 = 0.35;
/// Most tiles of a frame that is too full at every scale.
const MOST_TILES: f64 = 12.0;
/// Narrowest frame, mm of the map's paper.
const LEAST: f64 = 24.0;

/// A window drawn at a larger scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Enlarged {
    /// The window on the floor.
    pub window: Rect,
    /// The sheet it is drawn on.
    pub layout: Layout,
}

/// The crowded windows of a drawing at a scale: after they are taken out, what is left is no longer crowded. They don't overlap.
/// `None` if there are more than `most`, or if they cover so much of the floor that dividing it is plainer.
#[must_use]
pub fn frames(spots: &[Spot], scale: Scale, floor: Rect, most: usize) -> Option<Vec<Rect>> {
    let k = scale.mm_per_m();
    let mut left: Vec<usize> = (0..spots.len()).collect();
    let mut out: Vec<Rect> = Vec::new();
    for _ in 0..=2 * most {
        let full = census::fullest(spots, &left, scale);
        if full.share <= PLANNED {
            return Some(out);
        }
        out.push(framed(full.around, k, floor));
        out = merged(out);
        let covered: f64 = out.iter().map(Rect::area).sum();
        if out.len() > most || covered > MOST_COVERED * floor.area() {
            return None;
        }
        left.retain(|&i| !out.iter().any(|f| holds(f, &spots[i])));
    }
    None
}

/// A frame around anchors, with air, not beyond the floor.
#[must_use]
pub fn framed(around: Rect, mm_per_m: f64, floor: Rect) -> Rect {
    let grow = |length: f64| (LEAST / mm_per_m - length).max(0.0) / 2.0 + PAD / mm_per_m;
    around.inflate(grow(around.width()), grow(around.height())).intersect(floor)
}

/// Whether the anchor of a spot lies in a frame or on its edge.
#[must_use]
pub fn holds(frame: &Rect, spot: &Spot) -> bool {
    let (p, f) = (spot.at, frame);
    p.x >= f.x0 && p.x <= f.x1 && p.y >= f.y0 && p.y <= f.y1
}

/// Frames that overlap become one.
#[must_use]
pub fn merged(mut frames: Vec<Rect>) -> Vec<Rect> {
    loop {
        let pair = (0..frames.len()).find_map(|i| {
            (i + 1..frames.len())
                .find(|&j| !frames[i].intersect(frames[j]).is_zero_area())
                .map(|j| (i, j))
        });
        let Some((i, j)) = pair else {
            frames.sort_by(|a, b| b.y1.total_cmp(&a.y1).then(a.x0.total_cmp(&b.x0)));
            return frames;
        };
        let second = frames.remove(j);
        frames[i] = frames[i].union(second);
    }
}

/// The sheets that draw a frame larger: one, at the largest scale at which the frame fits, if no more than `planned` of it is filled
/// there, else several tiles.
#[must_use]
pub fn enlarge(
    spots: &[Spot],
    frame: Rect,
    (map, planned): (Scale, f64),
    paper: Paper,
    units: Units,
) -> Vec<Enlarged> {
    let own: Vec<usize> = (0..spots.len()).filter(|&i| holds(&frame, &spots[i])).collect();
    let larger: Vec<Scale> =
        Scale::detail(units).into_iter().filter(|s| s.ratio < map.ratio - 1e-9).collect();
    let roomy = |s: &Scale| census::fullest(spots, &own, *s).share <= planned;
    let whole = larger.iter().find_map(|s| sheet(paper, *s, frame).map(|l| (*s, l)));
    if let Some((scale, layout)) = whole
        && (roomy(&scale) || larger.first() == Some(&scale))
    {
        return vec![Enlarged { window: frame, layout }];
    }
    // The smallest scale that is roomy needs the fewest tiles. Where none is, items lie on each other, and more tiles help little.
    let few = |s: &&Scale| {
        let (nx, ny) = divided(frame, **s, paper);
        nx * ny <= MOST_TILES
    };
    let scale = larger.iter().rev().find(|s| roomy(s));
    let scale = scale.or_else(|| larger.iter().find(few)).or(larger.last());
    scale.map_or_else(Vec::new, |scale| tiles(spots, &own, frame, *scale, paper))
}

/// Columns and rows of equal parts of a frame that each fit a sheet.
fn divided(frame: Rect, scale: Scale, paper: Paper) -> (f64, f64) {
    let (w, h) = layout::most(paper, scale);
    let count = |length: f64, most: f64| (length / most.max(1e-3) - 1e-9).ceil().clamp(1.0, 40.0);
    (count(frame.width(), w), count(frame.height(), h))
}

fn sheet(paper: Paper, scale: Scale, window: Rect) -> Option<Layout> {
    let size = (window.width(), window.height());
    layout::fitting(paper, scale, size).into_iter().next()
}

/// Equal parts of a frame that each fit a sheet; parts without a tag of their own are left out.
fn tiles(spots: &[Spot], own: &[usize], frame: Rect, scale: Scale, paper: Paper) -> Vec<Enlarged> {
    let (nx, ny) = divided(frame, scale, paper);
    let (dx, dy) = (frame.width() / nx, frame.height() / ny);
    let mut out = Vec::new();
    let mut row = 0.0;
    while row < ny {
        let mut column = 0.0;
        while column < nx {
            let (x, y) = (frame.x0 + column * dx, frame.y1 - row * dy);
            let window = Rect::new(x, y - dy, x + dx, y);
            let used = own.iter().any(|&i| holds(&window, &spots[i]));
            out.extend(
                sheet(paper, scale, window)
                    .filter(|_| used)
                    .map(|layout| Enlarged { window, layout }),
            );
            column += 1.0;
        }
        row += 1.0;
    }
    out
}
