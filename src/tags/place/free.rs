//! Where along a line a leader's arrow can't be taken for one at another line.

use super::Line;
use super::shape::distance;
use crate::ink::PaperPoint;

/// Clear space about an arrow that is asked for first, and where a line has none such, mm of paper: 3 mm and half a sample; then half.
const CLEAR: [f64; 2] = [3.25, 1.6];

/// A line is looked at every so many mm, and at so many places at most.
const STEP: f64 = 0.5;
const MOST_SAMPLES: usize = 800;

/// Both ends of a piece this close to a line: the piece is the line itself, mm.
const SAME: f64 = 0.1;

/// A stretch of a line, by its stations, mm.
pub(super) type Stretch = (f64, f64);

/// The stretches of a polyline that other lines keep off; none if they leave no room, or if there are no other lines.
pub(super) fn stretches(run: &[PaperPoint], length: f64, lines: &[Line]) -> Vec<Stretch> {
    let near = near(run, lines);
    if near.is_empty() || length <= 0.0 {
        return Vec::new();
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let n = ((length / STEP).ceil() as usize).clamp(1, MOST_SAMPLES);
    let clear: Vec<(f64, f64)> = (0..=n)
        .map(|i| {
            let s = length * i as f64 / n as f64;
            let p = super::anchors::station(run, s).0;
            let off = near.iter().map(|l| to_line(p, l));
            (s, off.fold(f64::INFINITY, f64::min))
        })
        .collect();
    CLEAR
        .iter()
        .map(|&least| runs(&clear, least - 1e-6))
        .find(|found| !found.is_empty())
        .unwrap_or_default()
}

/// The station for an arrow: the one wished for if it is free, else the middle of the nearest of the longer stretches.
pub(super) fn station(free: &[Stretch], wished: f64) -> f64 {
    if free.iter().any(|(a, b)| (*a..=*b).contains(&wished)) {
        return wished;
    }
    let longest = free.iter().map(|(a, b)| b - a).fold(0.0, f64::max);
    let middles = free.iter().filter(|(a, b)| b - a >= longest / 2.0).map(|(a, b)| (a + b) / 2.0);
    middles.min_by(|a, b| (a - wished).abs().total_cmp(&(b - wished).abs())).unwrap_or(wished)
}

/// Longest runs of samples with so much clear space.
fn runs(samples: &[(f64, f64)], least: f64) -> Vec<Stretch> {
    let free = samples.chunk_by(|a, b| (a.1 >= least) == (b.1 >= least));
    free.filter(|c| c[0].1 >= least).filter_map(|c| Some((c.first()?.0, c.last()?.0))).collect()
}

/// The lines that come near a polyline and are not itself.
fn near<'a>(run: &[PaperPoint], lines: &'a [Line]) -> Vec<&'a Line> {
    let pieces: Vec<Line> =
        run.windows(2).map(|p| Line { from: p[0], to: p[1], width: 0.0 }).collect();
    let meets = |l: &&Line| pieces.iter().any(|piece| may_meet(piece, l));
    let on = |p: PaperPoint| pieces.iter().any(|piece| to_line(p, piece) < SAME);
    lines.iter().filter(meets).filter(|l| !(on(l.from) && on(l.to))).collect()
}

/// Whether two pieces can come closer than an arrow wants: by their boxes, and by the sides of the first.
fn may_meet(a: &Line, b: &Line) -> bool {
    let apart = |a0: f64, a1: f64, b0: f64, b1: f64| {
        a0.min(a1) > b0.max(b1) + CLEAR[0] || b0.min(b1) > a0.max(a1) + CLEAR[0]
    };
    if apart(a.from.x, a.to.x, b.from.x, b.to.x) || apart(a.from.y, a.to.y, b.from.y, b.to.y) {
        return false;
    }
    let (dx, dy) = (a.to.x - a.from.x, a.to.y - a.from.y);
    let reach = CLEAR[0] * dx.hypot(dy);
    let side = |p: PaperPoint| dx * (p.y - a.from.y) - dy * (p.x - a.from.x);
    let (first, second) = (side(b.from), side(b.to));
    first.min(second) <= reach && first.max(second) >= -reach
}

/// Distance of a point from a piece, mm.
fn to_line(p: PaperPoint, l: &Line) -> f64 {
    let (dx, dy) = (l.to.x - l.from.x, l.to.y - l.from.y);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 {
        (((p.x - l.from.x) * dx + (p.y - l.from.y) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let foot = PaperPoint { x: l.from.x + share * dx, y: l.from.y + share * dy };
    distance(p, foot)
}
