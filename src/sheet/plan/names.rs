//! Names and numbers: doorways, corners, panels.

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::write;

use super::super::clear::Slip;
use super::super::draw;
use super::super::hatch;
use super::super::label::Label;
use super::super::legend::Symbol;
use super::super::locate::Locator;
use super::super::mm::{Box2, Shift, at, by};
use super::super::style;
use super::super::tape::tape;
use super::super::words;
use super::Drawing;

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
            let out = if slab.outline.counter_clockwise {
                -along.left()
            } else {
                along.left()
            };
            let middle = self.view.point(opening.path.point_at(half));
            let type_ = style::body();
            let span = self.view.length(opening.path.length());
            let places = [3.8, 5.0, 6.2, -3.8, -6.0, 14.5, 21.5]
                .into_iter()
                .flat_map(|off| {
                    [0.0, 0.25, -0.25, 0.35, -0.35].map(|s| {
                        Label::centered(
                            middle + out * off + along * (s * span),
                            &name,
                            type_,
                            along,
                        )
                    })
                });
            if !self.put_label(&format!("label-opening-{}", i + 1), 0.4, places) {
                let (from, to) = (
                    tape(opening.from_m, self.units()),
                    tape(opening.to_m, self.units()),
                );
                let wall = Locator::new(slab).wall_name(opening.wall.saturating_sub(1));
                self.remarks.push(format!(
                    "The opening in wall {wall} from {from} to {to} is: {}.",
                    words::clean(opening.name.as_deref().unwrap_or_default())
                ));
            }
        }
    }

    /// Numbers of the corners, outside the slab.
    pub(super) fn corners(&mut self) -> Vec<Group> {
        let corners: Vec<_> = self
            .inputs
            .slab
            .outline
            .corners
            .iter()
            .map(|&p| self.view.point(p))
            .collect();
        let type_ = style::body();
        let mut groups = Vec::new();
        for (i, &corner) in corners.iter().enumerate() {
            let text = (i + 1).to_string();
            let radius = (words::width(&text, type_) / 2.0 + 0.9).max(2.2);
            let out = self.corner_direction(i);
            let turns = [
                0.0, 15.0, -15.0, 30.0, -30.0, 50.0, -50.0, 80.0, -80.0, 120.0, -120.0,
            ];
            let places = [5.2, 6.5, 8.5, 11.0]
                .into_iter()
                .flat_map(|d| turns.map(|t| corner + turned(out, t) * d));
            let slip = |p: PaperPoint| Slip::upright(&Box2::around(p, 2.0 * radius, 2.0 * radius));
            let mut free = places.filter(|&p| {
                self.clear.is_free(&slip(p), 0.4)
                    && !self.clear.edge_crossed(corner + (p - corner) * 0.3, p)
            });
            let Some(p) = free.next() else {
                let n = corners.len();
                self.remarks.push(format!(
                    "Corner {text}, which had no room for its number, lies between corners {} and {}.",
                    (i + n - 1) % n + 1,
                    (i + 1) % n + 1
                ));
                continue;
            };
            self.clear.add(slip(p));
            self.used.insert(Symbol::Corner);
            let label = Label::level(p, &text, type_);
            let marks = vec![
                draw::circle(p, radius, Some(style::FINE), None),
                Mark::Text(label.mark),
            ];
            groups.push(draw::group(format!("corner-{text}"), "corner", marks));
        }
        groups
    }

    /// Direction that bisects a corner on its outside.
    fn corner_direction(&self, i: usize) -> Shift {
        let outline = &self.inputs.slab.outline;
        let n = outline.walls.len();
        let (Some(after), Some(before)) = (
            outline.walls.get(i),
            outline.walls.get((i + n).saturating_sub(1) % n.max(1)),
        ) else {
            return by(0.0, -1.0);
        };
        let a = self.view.direction(before.direction_at(before.length()));
        let b = self.view.direction(after.direction_at(0.0));
        let left = a.left() + b.left();
        let left = if left.length() < 1e-6 { a } else { left.unit() };
        if outline.counter_clockwise {
            -left
        } else {
            left
        }
    }

    /// Panel numbers, in an oval, as near to the panel's own label point as there is room.
    pub(super) fn panel_numbers(&mut self) {
        let locator = Locator::new(self.inputs.slab);
        for panel in &self.inputs.slab.panels {
            let type_ = style::strong();
            let rings: Vec<_> = panel.rings.iter().map(|r| self.view.ring(r)).collect();
            let around = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>());
            let (w, h) = (words::width(&panel.id, type_) + 5.0, 5.6);
            let home = self.view.point(panel.label);
            let mut places: Vec<PaperPoint> = grid(&around, 2.5).collect();
            places.sort_by(|a, b| {
                (*a - home)
                    .length()
                    .total_cmp(&(*b - home).length())
                    .then(a.x.total_cmp(&b.x))
                    .then(a.y.total_cmp(&b.y))
            });
            let slip = |p: PaperPoint| Slip::upright(&Box2::around(p, w, h));
            let wide = places.iter().map(|&p| (p, 4.0)).take(120);
            let close = places.iter().map(|&p| (p, 0.8));
            let found = std::iter::once((home, 4.0))
                .chain(wide)
                .chain(close)
                .find(|&(p, air)| {
                    let s = slip(p);
                    self.clear.is_free(&s, air)
                        && self.clear.soft_hits(&s.grown(air)) == 0
                        && hatch::contains(&rings, p)
                });
            let Some((p, _)) = found else {
                let middle = locator.point(panel.label, "");
                self.remarks.push(format!(
                    "Panel {}, which had no room for its number: middle {middle}.",
                    panel.id
                ));
                continue;
            };
            self.clear.add(slip(p));
            self.used.insert(Symbol::Panel);
            let marks = vec![
                draw::rounded(
                    &Box2::around(p, w, h),
                    w / 2.0,
                    h / 2.0,
                    Some(style::FINE),
                    Some(crate::ink::WHITE),
                ),
                Mark::Text(Label::level(p, &panel.id, type_).mark),
            ];
            let mut group = draw::group(&*panel.id, "panel", marks);
            group.title = format!(
                "Panel {}, {}",
                panel.id,
                write::area(panel.area_m2, self.units())
            );
            self.labels.push(group);
        }
    }
}

/// A direction turned counter-clockwise by so many degrees.
fn turned(s: Shift, degrees: f64) -> Shift {
    let (sin, cos) = degrees.to_radians().sin_cos();
    by(s.x * cos + s.y * sin, s.y * cos - s.x * sin)
}

/// Points of a square grid inside a box.
fn grid(around: &Box2, step: f64) -> impl Iterator<Item = PaperPoint> + use<> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped"
    )]
    let count = |length: f64| (length / step).floor().clamp(0.0, 400.0) as u32;
    let (nx, ny, left, top) = (
        count(around.width()),
        count(around.height()),
        around.left,
        around.top,
    );
    (0..=nx).flat_map(move |x| {
        (0..=ny).map(move |y| at(left + f64::from(x) * step, top + f64::from(y) * step))
    })
}
