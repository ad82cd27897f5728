//! Names and numbers: doorways, corners.

use crate::ink::{Group, Mark, PaperPoint};
use crate::slab::Opening;

use super::{Drawing, Remark};
use crate::paper::clear::Slip;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, Shift, by};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;

impl Drawing<'_> {
    /// Names of the doorways, outside the slab between wall and dimension line.
    pub(super) fn opening_names(&mut self) {
        let slab = self.inputs.slab;
        for (i, opening) in slab.openings.iter().enumerate() {
            let Some(name) = opening.name.as_deref().map(words::upper) else {
                continue;
            };
            let half = opening.path.length() / 2.0;
            let along = self.view.direction(opening.path.direction_at(half));
            let out = if slab.outline.counter_clockwise { -along.left() } else { along.left() };
            let middle = self.view.point(opening.path.point_at(half));
            let type_ = style::body();
            let span = self.view.length(opening.path.length());
            let places = [3.8, 5.0, 6.2, -3.8, -6.0, 14.5, 21.5].into_iter().flat_map(|off| {
                [0.0, 0.25, -0.25, 0.35, -0.35].map(|s| {
                    Label::centered(middle + out * off + along * (s * span), &name, type_, along)
                })
            });
            let stands = self.put_label(&format!("label-opening-{}", i + 1), 0.4, places);
            self.note(stands, Remark::Opening(self.on_whole(opening, i)));
        }
    }

    /// Index on the whole floor of an opening of its part.
    fn on_whole(&self, opening: &Opening, index: usize) -> usize {
        let middle = opening.path.point_at(opening.path.length() / 2.0);
        let same = |o: &Opening| o.wall == opening.wall && o.path.nearest(middle).1 < 1e-3;
        let found = self.whole().openings.iter().position(same);
        found.unwrap_or(index)
    }

    /// Takes down that a name stands on the plan, or that it has to be said elsewhere.
    fn note(&mut self, stands: bool, what: Remark) {
        if stands {
            self.shown.insert(what);
        } else {
            self.remarks.insert(what);
        }
    }

    /// Numbers of the corners, outside the slab.
    pub(super) fn corners(&mut self) -> Vec<Group> {
        let corners = self.inputs.slab.outline.corners.iter();
        // A corner outside the window is on another sheet.
        let here: Vec<_> = corners
            .enumerate()
            .filter(|(_, p)| self.shows(**p))
            .map(|(i, &p)| (i, self.view.point(p)))
            .collect();
        let type_ = style::body();
        let mut groups = Vec::new();
        for (i, corner) in here {
            let text = (i + 1).to_string();
            let radius = (words::width(&text, type_) / 2.0 + 0.9).max(2.2);
            let out = self.corner_direction(i);
            let turns = [0.0, 15.0, -15.0, 30.0, -30.0, 50.0, -50.0, 80.0, -80.0, 120.0, -120.0];
            let places = [5.2, 6.5, 8.5, 11.0]
                .into_iter()
                .flat_map(|d| turns.map(|t| corner + turned(out, t) * d));
            let slip = |p: PaperPoint| Slip::upright(&Box2::around(p, 2.0 * radius, 2.0 * radius));
            let mut free = places.filter(|&p| {
                self.clear.is_free(&slip(p), 0.4)
                    && self.clear.soft_hits(&slip(p)) == 0
                    && !self.clear.edge_crossed(corner + (p - corner) * 0.3, p)
            });
            let Some(p) = free.next() else {
                self.note(false, Remark::Corner(i + 1));
                continue;
            };
            self.clear.add(slip(p));
            self.used.insert(Symbol::Corner);
            self.note(true, Remark::Corner(i + 1));
            let label = Label::level(p, &text, type_);
            let marks =
                vec![draw::circle(p, radius, Some(style::FINE), None), Mark::Text(label.mark)];
            groups.push(draw::group(format!("corner-{text}"), "corner", marks));
        }
        groups
    }

    /// Direction that bisects a corner on its outside.
    fn corner_direction(&self, i: usize) -> Shift {
        let outline = &self.inputs.slab.outline;
        let n = outline.walls.len();
        let (Some(after), Some(before)) =
            (outline.walls.get(i), outline.walls.get((i + n).saturating_sub(1) % n.max(1)))
        else {
            return by(0.0, -1.0);
        };
        let a = self.view.direction(before.direction_at(before.length()));
        let b = self.view.direction(after.direction_at(0.0));
        let left = a.left() + b.left();
        let left = if left.length() < 1e-6 { a } else { left.unit() };
        if outline.counter_clockwise { -left } else { left }
    }
}

/// A direction turned counter-clockwise by so many degrees.
fn turned(s: Shift, degrees: f64) -> Shift {
    let (sin, cos) = degrees.to_radians().sin_cos();
    by(s.x * cos + s.y * sin, s.y * cos - s.x * sin)
}
