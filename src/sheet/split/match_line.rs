//! Match lines: where a sheet ends and which sheet goes on, with distances along the line to every joint that crosses it.

use kurbo::Point;

use crate::geometry::clip::Clipper;
use crate::geometry::path::Path;
use crate::ink::{Group, PaperPoint};
use crate::slab::Slab;

use super::grid::{Grid, Window};
use crate::paper::clear::Clear;
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Shift, by, lerp};
use crate::paper::style;
use crate::sheet::dimensions;
use crate::sheet::view::View;

/// Floor is looked for this far on either side of a match line, m.
const BESIDE_M: f64 = 0.02;
/// Shorter pieces of match line are not drawn, m.
const LEAST_M: f64 = 0.05;

/// A side of a window beyond which another sheet goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// Its ends on the floor; the window lies to the left of the way from the first to the second.
    pub ends: [Point; 2],
    /// Away from the window on paper.
    pub out: Shift,
    /// Index of the window beyond.
    pub beyond: usize,
}

/// The sides of a window that have a neighbor.
#[must_use]
pub fn sides(grid: &Grid, window: &Window) -> Vec<Side> {
    let (column, row) = window.cell;
    let r = window.rect;
    let corner = |x, y| Point::new(x, y);
    let all = [
        (grid.at(column, row + 1), [corner(r.x0, r.y0), corner(r.x1, r.y0)], by(0.0, 1.0)),
        (grid.at(column + 1, row), [corner(r.x1, r.y0), corner(r.x1, r.y1)], by(1.0, 0.0)),
        (
            row.checked_sub(1).and_then(|above| grid.at(column, above)),
            [corner(r.x1, r.y1), corner(r.x0, r.y1)],
            by(0.0, -1.0),
        ),
        (
            column.checked_sub(1).and_then(|left| grid.at(left, row)),
            [corner(r.x0, r.y1), corner(r.x0, r.y0)],
            by(-1.0, 0.0),
        ),
    ];
    let found = all.into_iter();
    found.filter_map(|(beyond, ends, out)| Some(Side { ends, out, beyond: beyond? })).collect()
}

/// The pieces of a side with floor beyond it and on this side of it: pairs of points on the floor.
fn on_floor(slab: &Slab, side: &Side) -> Vec<[Point; 2]> {
    let along = (side.ends[1] - side.ends[0]).normalize();
    let across = kurbo::Vec2::new(-along.y, along.x) * BESIDE_M;
    let clipper = Clipper::new(&slab.enclosed);
    let within = |off: kurbo::Vec2| {
        let line = Path::polyline(&[side.ends[0] + off, side.ends[1] + off]);
        clipper.inside(&line.flatten())
    };
    let (near, far) = (within(across), within(-across));
    let mut out = Vec::new();
    for &(a, b) in near.as_slice() {
        for &(c, d) in far.as_slice() {
            let (from, to) = (a.max(c), b.min(d));
            if to - from > LEAST_M {
                out.push([side.ends[0] + along * from, side.ends[0] + along * to]);
            }
        }
    }
    out
}

/// The piece of floor from wall to wall along a piece of a match line.
fn across(floor: &Slab, ends: [Point; 2]) -> [Point; 2] {
    let bounds = floor.outline.path.bounds();
    let along = (ends[1] - ends[0]).normalize();
    let far = along * (bounds.width() + bounds.height());
    let from = ends[0] - far;
    let line = Path::polyline(&[from, ends[1] + far]);
    let middle = (ends[0].midpoint(ends[1]) - from).hypot();
    let within = Clipper::new(&floor.enclosed).inside(&line.flatten());
    let own = within.as_slice().iter().find(|s| s.0 < middle && middle < s.1);
    own.map_or(ends, |s| [from + along * s.0, from + along * s.1])
}

/// Ends of the match lines of some sides on the floor.
#[must_use]
pub fn pieces(floor: &Slab, sides: &[Side]) -> Vec<[Point; 2]> {
    sides.iter().flat_map(|s| on_floor(floor, s)).collect()
}

/// Running dimensions along the match lines, the lines themselves, and what each says. `floor` is the whole floor, `part` its part
/// in the window.
#[must_use]
pub fn draw(
    (floor, part): (&Slab, &Slab),
    sides: &[Side],
    numbers: &[String],
    view: &View,
    clear: &mut Clear,
) -> Vec<Group> {
    let mut lines = Vec::new();
    let mut dims = Vec::new();
    let used: Vec<(Side, [Point; 2])> = sides
        .iter()
        .flat_map(|s| on_floor(floor, s).into_iter().map(move |ends| (*s, ends)))
        .collect();
    if !used.is_empty() {
        let mut only = part.clone();
        only.outline.walls = used.iter().map(|u| Path::polyline(&u.1)).collect();
        only.outline.counter_clockwise = true;
        only.openings.clear();
        // The tape is hooked where the line meets a wall, on whichever sheet that is.
        let mut whole = only.clone();
        let full = used.iter().map(|u| Path::polyline(&across(floor, u.1)));
        whole.outline.walls = full.collect();
        let groups = dimensions::walls(&only, &whole, view, clear).groups;
        for mut group in groups.into_iter().filter(|g| !g.marks.is_empty()) {
            group.id = group.id.replace("dim-wall", "dim-match");
            dims.push(group);
        }
    }
    for (i, (side, ends)) in used.iter().enumerate() {
        let (a, b) = (view.point(ends[0]), view.point(ends[1]));
        let mut marks = vec![draw::lines(&dash::cut(&[a, b], dash::MATCH), style::MATCH)];
        let number = numbers.get(side.beyond).map_or("", String::as_str);
        if let Some(label) = words(a, b, side.out, number, clear) {
            clear.add(label.slip);
            marks.push(crate::ink::Mark::Text(label.mark));
        }
        lines.push(draw::group(format!("match-line-{}", i + 1), "match-line outline", marks));
    }
    lines.extend(dims);
    lines
}

/// The words beside a match line, outside the window where there is room.
fn words(a: PaperPoint, b: PaperPoint, out: Shift, number: &str, clear: &Clear) -> Option<Label> {
    let type_ = style::strong();
    let mut places = Vec::new();
    for text in [format!("MATCH LINE, SEE {number}"), format!("SEE {number}"), number.to_owned()] {
        for off in [2.8, 3.6, 4.6, 6.5, 20.0, 25.0, -2.8, -3.6] {
            for share in [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95] {
                let middle = lerp(a, b, share) + out * off;
                places.push(Label::centered(middle, &text, type_, b - a));
            }
        }
    }
    Label::first_free(clear, 0.4, places)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::mm::{Box2, at};
    use crate::sheet::plan::PEN;

    /// What ends on the line is drawn past it by its pen: nothing of that runs through the words.
    #[test]
    fn words_keep_off_what_ends_on_the_line() {
        let clear = Clear::new(Box2::new(0.0, 0.0, 200.0, 100.0));
        let label = words(at(20.0, 50.0), at(180.0, 50.0), by(0.0, -1.0), "S-102", &clear);
        let label = label.expect("room");
        assert_eq!(label.mark.text, "MATCH LINE, SEE S-102");
        let under = label.slip.center.y + label.slip.half_across;
        assert!(50.0 - PEN - under > 0.5, "{under}");
    }
}
