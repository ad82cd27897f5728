//! Whether the zone along edges is seen beside the wall's line.

use super::read::{Drawing, Shape, mm, shown};
use super::{Code, LEAST_BAND, Report};
use crate::ink::PaperPoint;
use crate::tags::place::lines_meet;

/// Distance of the points along a wall at which the zone is looked at, mm.
const STRIDE: f64 = 0.5;

/// A thin stretch shorter than this, mm, is the end of a zone, at a jamb or in a corner.
const LEAST_STRETCH: f64 = 3.0;

/// The zone starts within this of the wall's middle, mm.
const AT_WALL: f64 = 0.2;

/// Differences smaller than this, mm, are rounding.
const ROUNDING: f64 = 0.05;

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    let of = |wanted: fn(&Drawing, &Shape) -> bool| {
        let all = drawing.shapes.iter();
        all.filter(move |s| wanted(drawing, s)).collect::<Vec<_>>()
    };
    let bands = of(|d, s| d.place(s.place).hand_edge && s.fill.is_some());
    if bands.is_empty() {
        return;
    }
    // What stands at a wall covers the zone, and ends it.
    let standing: Vec<&Shape> = of(|d, s| d.place(s.place).item.is_some() && s.fill.is_some());
    let holds =
        |p: PaperPoint, all: &[&Shape]| all.iter().any(|s| s.area.contains(p) && s.holds(p));
    let edges = of(|d, s| d.place(s.place).edge && s.stroke.is_some());
    // Past another wall, or the frame of a window, there is no floor that the zone could lie on.
    let floor_ends = |near: PaperPoint, far: PaperPoint| {
        let reached = edges.iter().filter(|w| w.area.grown(LEAST_BAND).contains(far));
        reached.flat_map(|w| w.pieces()).any(|piece| lines_meet((near, far), piece))
    };
    let ends = |near: PaperPoint, far: PaperPoint| {
        holds(near, &bands)
            && !holds(far, &bands)
            && !holds(far, &standing)
            && !floor_ends(near, far)
    };
    let walls = edges.iter();
    for wall in walls.filter(|w| !drawing.place(w.place).frame) {
        let beyond = wall.stroke.unwrap_or(0.0) / 2.0 + LEAST_BAND - ROUNDING;
        let thin = wall
            .pieces()
            .any(|(a, b)| [1.0, -1.0].iter().any(|side| is_thin(&ends, (a, b), side * beyond)));
        if thin {
            let id = drawing.place(bands[0].place).id.as_str();
            let message = format!(
                "{} is seen for less than {} beside the wall's line",
                shown(id),
                mm(LEAST_BAND)
            );
            report.fault(Code::ThinBand, &[id], message);
            return;
        }
    }
}

/// Whether a zone starts at a wall and ends before so much of it, along a stretch of it.
fn is_thin(
    ends: &impl Fn(PaperPoint, PaperPoint) -> bool,
    (a, b): (PaperPoint, PaperPoint),
    beyond: f64,
) -> bool {
    let length = (b.x - a.x).hypot(b.y - a.y);
    if !(length > 0.0 && length < 1e4) {
        return false;
    }
    let (ux, uy) = ((b.x - a.x) / length, (b.y - a.y) / length);
    let mut run = 0.0;
    let n = (length / STRIDE).floor() as usize;
    (0..=n).any(|i| {
        let along = i as f64 * STRIDE;
        let at = |off: f64| PaperPoint {
            x: a.x + ux * along - uy * off,
            y: a.y + uy * along + ux * off,
        };
        let thin = ends(at(AT_WALL * beyond.signum()), at(beyond));
        run = if thin { run + STRIDE } else { 0.0 };
        run > LEAST_STRETCH
    })
}
