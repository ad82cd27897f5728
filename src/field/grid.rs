//! The grid of the field sheet: squares true to scale, numbered, with the floor drawn faintly where it is known.

use kurbo::Rect;

use crate::ink::{Align, Color, Group, Mark, PaperPoint, Stroke, WHITE};
use crate::paper::mm::{Box2, Shift, at};
use crate::paper::{dash, draw, style, words};
use crate::quantity::{M_PER_FT, Units, write::trimmed};
use crate::sheet::Scale;
use crate::sheet::split::clip;
use crate::sheet::view::View;
use crate::slab::Slab;

/// Narrowest square, mm: closer lines are a shade, not a grid.
const NARROWEST: f64 = 3.0;
const LIGHT: Stroke = gray(0.18, 0xB4);
const HEAVY: Stroke = gray(0.30, 0x82);
/// The floor of an earlier visit.
const KNOWN: Stroke = gray(0.70, 0x96);
/// What stood or ran on it.
const KNOWN_FINE: Stroke = gray(0.35, 0x78);
/// Clear space between the end of a line and a number, mm: nearer, a short line reads as a minus.
const BESIDE: f64 = 2.1;
/// Distance of a corner's number from the corner, mm.
const OFF: f64 = 4.2;

const fn gray(width: f64, level: u8) -> Stroke {
    Stroke { width, color: Color(level, level, level), round: false }
}

/// Squares of one size: so many units to a light line, and so many light lines to a heavy one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Squares {
    /// Side of a square, in feet or meters.
    pub light: f64,
    /// Squares from one heavy line to the next.
    pub heavy: i64,
}

/// Squares from fine to coarse: 1 ft and 5 ft; 0.5 m and 1 m.
const US: [Squares; 3] = [squares(1.0, 5), squares(5.0, 2), squares(10.0, 5)];
const METRIC: [Squares; 4] = [squares(0.5, 2), squares(1.0, 5), squares(5.0, 2), squares(10.0, 5)];

const fn squares(light: f64, heavy: i64) -> Squares {
    Squares { light, heavy }
}

/// Meters in the unit of the grid's numbers.
fn unit(units: Units) -> f64 {
    match units {
        Units::Us => M_PER_FT,
        Units::Metric => 1.0,
    }
}

impl Squares {
    /// The finest squares that are still squares at a scale.
    #[must_use]
    pub fn at(scale: Scale, units: Units) -> Self {
        let list: &[Self] = match units {
            Units::Us => &US,
            Units::Metric => &METRIC,
        };
        let wide = |s: &&Self| s.light * unit(units) * scale.mm_per_m() >= NARROWEST;
        list.iter().find(wide).copied().unwrap_or(list[list.len() - 1])
    }

    /// One sentence on what a square is.
    #[must_use]
    pub fn text(self, units: Units) -> String {
        let name = match units {
            Units::Us => "ft",
            Units::Metric => "m",
        };
        let far = trimmed(self.light * self.heavy as f64, 2);
        let near = trimmed(self.light, 2);
        format!("One square is {near} {name}, a heavy line every {far} {name}.")
    }
}

/// A grid laid out in a window of the paper.
#[derive(Clone, Copy, Debug)]
pub struct Grid {
    squares: Squares,
    /// First line in squares from the floor's origin, across and up.
    start: (i64, i64),
    /// Squares across and up.
    count: (i64, i64),
    /// Where it lies on paper.
    area: Box2,
    /// The floor on it.
    view: View,
}

/// A rectangle of the floor in whole squares: first and last line across and up.
fn whole(floor: Rect, side: f64) -> (i64, i64, i64, i64) {
    let down = |v: f64| (v / side + 1e-9).floor() as i64;
    let up = |v: f64| (v / side - 1e-9).ceil() as i64;
    (
        down(floor.x0),
        down(floor.y0),
        up(floor.x1).max(down(floor.x0)),
        up(floor.y1).max(down(floor.y0)),
    )
}

impl Grid {
    /// As many whole squares as the window holds, with a known floor in the middle; `None` if it does not fit.
    #[must_use]
    pub fn lay(
        window: &Box2,
        scale: Scale,
        units: Units,
        floor: Rect,
        known: bool,
    ) -> Option<Self> {
        let squares = Squares::at(scale, units);
        let side_m = squares.light * unit(units);
        let side = side_m * scale.mm_per_m();
        let fit = |room: f64| (room / side + 1e-9).floor() as i64;
        let count = (fit(window.width()), fit(window.height()));
        let (x0, y0, x1, y1) = whole(floor, side_m);
        let spare = (count.0 - (x1 - x0), count.1 - (y1 - y0));
        if spare.0 < 0 || spare.1 < 0 || count.0 < 1 || count.1 < 1 {
            return None;
        }
        // A floor that is only expected starts near the corner, so that its numbers do.
        let margin = |spare: i64| {
            if known { spare / 2 } else { (spare / 2).min(squares.heavy) }
        };
        let start = if known || floor.area() > 0.0 {
            (x0 - margin(spare.0), y0 - margin(spare.1))
        } else {
            (0, 0)
        };
        let center = window.center();
        let area = Box2::around(center, count.0 as f64 * side, count.1 as f64 * side);
        let covered = Rect::new(
            start.0 as f64 * side_m,
            start.1 as f64 * side_m,
            (start.0 + count.0) as f64 * side_m,
            (start.1 + count.1) as f64 * side_m,
        );
        Some(Self { squares, start, count, area, view: View::centered(scale, covered, center) })
    }

    #[must_use]
    pub const fn squares(&self) -> Squares {
        self.squares
    }

    /// Lines and numbers.
    #[must_use]
    pub fn draw(&self) -> Group {
        let (mut light, mut heavy, mut marks) = (Vec::new(), Vec::new(), Vec::new());
        let side = self.area.width() / self.count.0 as f64;
        let body = style::body();
        for i in 0..=self.count.0 {
            let x = self.area.left + i as f64 * side;
            let line = vec![at(x, self.area.top), at(x, self.area.bottom)];
            if self.is_heavy(self.start.0 + i) {
                let below = at(x, self.area.bottom + 1.4 + body.cap());
                marks.push(self.number(below, self.start.0 + i, Align::Middle));
                heavy.push(line);
            } else {
                light.push(line);
            }
        }
        for i in 0..=self.count.1 {
            let y = self.area.bottom - i as f64 * side;
            let line = vec![at(self.area.left, y), at(self.area.right, y)];
            if self.is_heavy(self.start.1 + i) {
                let beside = at(self.area.left - BESIDE, y + body.cap() / 2.0);
                marks.push(self.number(beside, self.start.1 + i, Align::End));
                heavy.push(line);
            } else {
                light.push(line);
            }
        }
        let lines = [
            draw::lines(&light, LIGHT),
            draw::lines(&heavy, HEAVY),
            draw::rectangle(&self.area, Some(HEAVY), None),
        ];
        draw::group("grid", "grid", lines.into_iter().chain(marks).collect())
    }

    fn is_heavy(&self, line: i64) -> bool {
        line.rem_euclid(self.squares.heavy) == 0
    }

    fn number(&self, on: PaperPoint, line: i64, align: Align) -> Mark {
        let value = trimmed(line as f64 * self.squares.light, 2);
        Mark::Text(draw::text(on, value, style::body(), align))
    }

    /// The floor of an earlier visit: its edge, what stands on it, its joints and the numbers of its corners.
    #[must_use]
    pub fn known(&self, slab: &Slab) -> Group {
        let edge = self.view.ring(&slab.outline.path.ring());
        let mut marks = Vec::new();
        for joint in &slab.joints {
            for run in self.view.stretches(&joint.path, &joint.on_slab) {
                let pieces = dash::cut(&run, dash::CONTROL);
                marks.push(draw::lines(&pieces, KNOWN_FINE));
            }
        }
        for zone in &slab.keep_outs {
            // Of what stands half outside, only its part on the squares.
            for ring in self.view.region(&zone.shape.region) {
                let closed = [&ring[..], &ring[..1]].concat();
                let runs = clip::run(&closed, &self.area);
                marks.extend((!runs.is_empty()).then(|| draw::lines(&runs, KNOWN_FINE)));
            }
        }
        for riser in &slab.risers {
            let runs = clip::run(&self.view.path(&riser.path), &self.area);
            marks.extend((!runs.is_empty()).then(|| draw::lines(&runs, KNOWN_FINE)));
        }
        let outline = &slab.outline;
        let corners: Vec<PaperPoint> =
            outline.corners.iter().map(|c| self.view.point(*c)).collect();
        let mut taken: Vec<Box2> = Vec::new();
        let mut numbers = Vec::new();
        for i in 0..corners.len() {
            let away = outward(&corners, i, outline.counter_clockwise);
            numbers.extend(self.corner(corners[i], away, i + 1, &mut taken));
        }
        // Beside a number no piece of the squares or of a joint is left that would read as a minus.
        // Nor what a line reaches under the border, which is drawn again over it.
        let within = self.area.grown(HEAVY.width / 2.0);
        let (left, right) = (within.left, within.right);
        let beside = |t: &Box2| ((t.left - BESIDE).max(left), (t.right + BESIDE).min(right));
        let blank = |t: &Box2| Box2::new(beside(t).0, t.top, beside(t).1, t.bottom);
        let blanks = taken.iter().map(blank);
        marks.extend(blanks.map(|b| draw::rectangle(&b, None, Some(WHITE))));
        marks.push(draw::rectangle(&self.area, Some(HEAVY), None));
        marks.push(draw::polygon(&edge, Some(KNOWN), None));
        marks.extend(numbers.into_iter().flatten());
        draw::group("known", "known", marks)
    }

    /// The number of a corner, outside the floor, on a white ground; `None` where another number stands.
    fn corner(
        &self,
        on: PaperPoint,
        away: Shift,
        number: usize,
        taken: &mut Vec<Box2>,
    ) -> Option<[Mark; 2]> {
        let (text, body) = (number.to_string(), style::strong());
        let (w, h) = (words::width(&text, body) + 1.6, body.cap() + 1.6);
        let center = on + away * OFF;
        let center = at(
            center.x.clamp(self.area.left + w / 2.0, self.area.right - w / 2.0),
            center.y.clamp(self.area.top + h / 2.0, self.area.bottom - h / 2.0),
        );
        let ground = Box2::around(center, w, h);
        if taken.iter().any(|t| t.meets(&ground)) {
            return None;
        }
        taken.push(ground);
        let base = at(center.x, center.y + body.cap() / 2.0);
        let text = draw::text(base, text, body, Align::Middle);
        Some([draw::rectangle(&ground, None, Some(WHITE)), Mark::Text(text)])
    }
}

/// The direction from a corner that halves the angle outside the floor.
fn outward(corners: &[PaperPoint], i: usize, counter_clockwise: bool) -> Shift {
    let n = corners.len();
    let here = corners[i];
    let back = (corners[(i + n - 1) % n] - here).unit();
    let on = (corners[(i + 1) % n] - here).unit();
    // Paper's y runs down: seen there, a floor walked counter-clockwise lies on the left hand all the same.
    let right = -on.left();
    let outside = if counter_clockwise { right } else { -right };
    let sum = back + on;
    if sum.length() < 0.05 {
        return outside;
    }
    // Of the two ways along the line that halves the angle, the one on the outer side of both walls or of neither.
    let convex = back.dot(outside) <= 0.0;
    if convex { -sum.unit() } else { sum.unit() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_are_as_fine_as_they_can_be_seen() {
        let rows = [
            (Units::Us, 48.0, 1.0, 5),
            (Units::Us, 96.0, 1.0, 5),
            (Units::Us, 192.0, 5.0, 2),
            (Units::Metric, 50.0, 0.5, 2),
            (Units::Metric, 100.0, 0.5, 2),
            (Units::Metric, 200.0, 1.0, 5),
        ];
        for (units, ratio, light, heavy) in rows {
            let found = Squares::at(Scale { ratio }, units);
            assert_eq!(found, squares(light, heavy), "{units:?} 1:{ratio}");
        }
    }

    #[test]
    fn numbers_stand_outside_at_every_corner() {
        // An L on paper, y down, walked counter-clockwise on the floor; corner 4 is re-entrant.
        let l = [(0.0, 30.0), (30.0, 30.0), (30.0, 15.0), (15.0, 15.0), (15.0, 0.0), (0.0, 0.0)];
        let inside = |p: PaperPoint| {
            p.x > 0.0 && p.y < 30.0 && p.y > 0.0 && p.x < 30.0 && (p.x < 15.0 || p.y > 15.0)
        };
        let corners: Vec<PaperPoint> = l.iter().map(|&(x, y)| at(x, y)).collect();
        let reversed: Vec<PaperPoint> = corners.iter().rev().copied().collect();
        for (corners, counter_clockwise) in [(corners, true), (reversed, false)] {
            for i in 0..corners.len() {
                let p = corners[i] + outward(&corners, i, counter_clockwise) * 2.0;
                assert!(!inside(p), "corner {i} at {p:?}");
            }
        }
    }

    #[test]
    fn a_floor_too_large_for_the_window_does_not_fit() {
        let window = Box2::new(0.0, 0.0, 100.0, 100.0);
        let scale = Scale { ratio: 50.0 };
        let fits = |w, h| {
            Grid::lay(&window, scale, Units::Metric, Rect::new(0.0, 0.0, w, h), true).is_some()
        };
        assert!(fits(5.0, 5.0) && fits(4.6, 2.0));
        assert!(!fits(5.1, 5.0) && !fits(2.0, 5.1));
    }
}
