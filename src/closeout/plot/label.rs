//! Names beside the points that lie far from the line, where there is room.

use super::Dot;
use super::symbol::HALF;
use crate::closeout::suggest::AGREE;
use crate::font;
use crate::ink::{Align, Mark, PaperPoint, WHITE};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::style;

/// Room between a symbol and its name, mm.
const GAP: f64 = 1.0;
/// Two points of one item nearer than this share the name of the farther one, mm.
const SHARED: f64 = 25.0;
/// Longest name, mm.
const LONGEST: f64 = 45.0;

/// The names of points beyond the dashed lines, farthest first; a name without room is left out: the
/// table has them all.
pub(super) fn labels(dots: &[Dot], square: &Box2) -> Vec<Mark> {
    let mut far: Vec<&Dot> = dots.iter().filter(|dot| off(dot) > (1.0 + AGREE).ln()).collect();
    far.sort_by(|a, b| off(b).total_cmp(&off(a)));
    let mut taken: Vec<Box2> =
        dots.iter().map(|dot| Box2::around(dot.at, 2.0 * HALF, 2.0 * HALF).grown(0.4)).collect();
    let mut marks = Vec::new();
    let mut named: Vec<&Dot> = Vec::new();
    for dot in far {
        let same = |other: &&Dot| other.item == dot.item && (other.at - dot.at).length() < SHARED;
        if named.iter().any(same) {
            continue;
        }
        let body = style::body();
        let name = font::shorten(&dot.item, LONGEST, body.size, body.weight);
        let width = font::text_width(&name, body.size, body.weight);
        let place = places(dot, width, body.cap())
            .into_iter()
            .find(|(area, _)| square.holds(area) && !taken.iter().any(|other| other.meets(area)));
        if let Some((area, foot)) = place {
            marks.push(draw::rectangle(&area, None, Some(WHITE)));
            marks.push(Mark::Text(draw::text(foot, name, body, Align::Start)));
            taken.push(area.grown(0.6));
            named.push(dot);
        }
    }
    marks
}

/// How far a point lies from the line, in logarithms, either way.
fn off(dot: &Dot) -> f64 {
    (dot.used / dot.estimated).ln().abs()
}

/// Boxes around a point that a name could take, each with the start of its baseline; first on the side
/// away from the line.
fn places(dot: &Dot, width: f64, cap: f64) -> Vec<(Box2, PaperPoint)> {
    let (reach, down) = (HALF + GAP, cap / 2.0);
    let mut starts = [
        (reach, down),
        (-reach - width, down),
        (-width / 2.0, -reach - 0.4),
        (-width / 2.0, reach + cap + 0.4),
        (reach, -reach),
        (reach, reach + cap),
        (-reach - width, -reach),
        (-reach - width, reach + cap),
    ];
    if dot.used > dot.estimated {
        starts.swap(0, 1);
    }
    starts
        .into_iter()
        .map(|(dx, dy)| {
            let foot = at(dot.at.x + dx, dot.at.y + dy);
            // Letters such as g reach below the baseline, and such as d above the capitals.
            let area = Box2::new(foot.x, foot.y - 1.15 * cap, foot.x + width, foot.y + cap / 3.0);
            (area.grown(0.3), foot)
        })
        .collect()
}
