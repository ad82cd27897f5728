//! Numbers of panels, in ovals.
//!
//! Most are drawn with the plan, with air around them. Where a panel is too small for that, its number takes a narrower oval, upright if
//! need be, in what the tags leave; the tags leave room for it where they find a place all the same.

use std::collections::BTreeSet;

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::write;

use super::{Drawing, Plan, Remark};
use crate::paper::clear::{Clear, Slip};
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;
use crate::tags::place::Placement;

/// An oval around a number.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Oval {
    /// Room beside the text, both sides together, mm.
    room: f64,
    /// Height, mm.
    height: f64,
    /// Whether it is read from the right.
    upright: bool,
}

const USUAL: Oval = Oval { room: 5.0, height: 5.6, upright: false };
/// Where there is little room; it still clears the corners of the text.
const NARROW: Oval = Oval { room: 2.2, height: 4.4, upright: false };
/// Beside words that run up the sheet.
const UPRIGHT: Oval = Oval { upright: true, ..NARROW };
/// Air around a number that is drawn before the tags, mm.
const WIDE_AIR: f64 = 4.0;
/// Ovals, best first, with the air around them where there is less room, mm.
const CLOSE: [(Oval, f64); 4] = [(USUAL, 0.8), (USUAL, 0.4), (NARROW, 0.4), (UPRIGHT, 0.4)];
/// A panel that is nowhere narrower than this is numbered before the tags even where little air is left, mm.
const LARGE: f64 = 15.0;
/// Most places that are tried with much air.
const MOST_WIDE: usize = 120;
/// Shortest and longest step between places, mm.
const STEPS: (f64, f64) = (0.8, 2.5);

/// A panel that wants its number.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelName {
    /// Number of the panel.
    pub id: String,
    rings: Vec<Vec<PaperPoint>>,
    /// Its own label point on paper.
    home: PaperPoint,
    /// What is said of it.
    title: String,
}

impl PanelName {
    fn slip(&self, p: PaperPoint, oval: Oval) -> Slip {
        let width = words::width(&self.id, style::strong()) + oval.room;
        let (w, h) = if oval.upright { (oval.height, width) } else { (width, oval.height) };
        Slip::upright(&Box2::around(p, w, h))
    }

    /// Whether a number may stand here: on nothing, off every joint, all of it in the panel.
    fn may_stand(&self, clear: &Clear, slip: &Slip, air: f64) -> bool {
        let inside = || {
            let edge = |r: &Vec<PaperPoint>| {
                (0..r.len()).any(|i| slip.meets_segment(r[i], r[(i + 1) % r.len()]))
            };
            hatch::contains(&self.rings, slip.center) && !self.rings.iter().any(edge)
        };
        clear.is_free(slip, air) && clear.soft_hits(&slip.grown(air)) == 0 && inside()
    }

    /// Places in the panel, the nearest to its label point first.
    fn places(&self, step: f64) -> Vec<PaperPoint> {
        let all: Vec<_> = self.rings.iter().flatten().copied().collect();
        let around = Box2::of(&all);
        let home = self.home;
        let mut places: Vec<PaperPoint> = grid(&around, step).collect();
        places.extend([home, around.center()]);
        places.sort_by(|a, b| {
            (*a - home)
                .length()
                .total_cmp(&(*b - home).length())
                .then(a.x.total_cmp(&b.x))
                .then(a.y.total_cmp(&b.y))
        });
        places
    }

    /// A place with much air around it, or in a panel of some size with a little.
    fn open_place(&self, clear: &Clear) -> Option<PaperPoint> {
        let all: Vec<_> = self.rings.iter().flatten().copied().collect();
        let around = Box2::of(&all);
        let large = around.width().min(around.height()) >= LARGE;
        let places = self.places(STEPS.1);
        let wide = places.iter().map(|&p| (p, WIDE_AIR)).take(MOST_WIDE);
        let close = places.iter().map(|&p| (p, CLOSE[0].1)).filter(|_| large);
        wide.chain(close)
            .find(|&(p, air)| self.may_stand(clear, &self.slip(p, USUAL), air))
            .map(|found| found.0)
    }

    /// A place in what is left of a panel, and the oval that fits there.
    fn small_place(&self, clear: &Clear) -> Option<(PaperPoint, Oval)> {
        let all: Vec<_> = self.rings.iter().flatten().copied().collect();
        let around = Box2::of(&all);
        let step = (around.width().min(around.height()) / 16.0).clamp(STEPS.0, STEPS.1);
        let places = self.places(step);
        CLOSE.into_iter().find_map(|(oval, air)| {
            let mut free =
                places.iter().filter(|&&p| self.may_stand(clear, &self.slip(p, oval), air));
            free.next().map(|&p| (p, oval))
        })
    }

    fn draw(&self, p: PaperPoint, oval: Oval) -> Group {
        let area = self.slip(p, oval).bounds();
        let along = if oval.upright { by(0.0, -1.0) } else { by(1.0, 0.0) };
        let label = Label::centered(p, &self.id, style::strong(), along);
        let marks = vec![
            draw::rounded(
                &area,
                area.width() / 2.0,
                area.height() / 2.0,
                Some(style::FINE),
                Some(crate::ink::WHITE),
            ),
            Mark::Text(label.mark),
        ];
        let mut group = draw::group(&*self.id, "panel", marks);
        group.title.clone_from(&self.title);
        group
    }
}

impl Drawing<'_> {
    /// Panel numbers, in an oval, as near to the panel's own label point as there is room.
    pub(super) fn panel_numbers(&mut self) {
        for panel in &self.inputs.slab.panels {
            let area = write::area(panel.area_m2, self.units());
            let name = PanelName {
                id: panel.id.clone(),
                rings: panel.rings.iter().map(|r| self.view.ring(r)).collect(),
                home: self.view.point(panel.label),
                title: format!("Panel {}, {area}", panel.id),
            };
            let Some(p) = name.open_place(&self.clear) else {
                self.unnumbered.push(name);
                continue;
            };
            self.clear.add_symbol(name.slip(p, USUAL));
            self.used.insert(Symbol::Panel);
            self.shown.insert(Remark::Panel(name.id.clone()));
            self.labels.push(name.draw(p, USUAL));
            self.numbered.push((name.slip(p, USUAL), name));
        }
    }
}

impl Plan {
    /// What stands where once the small panels are numbered as well, but those within a distance (mm) of some points.
    #[must_use]
    pub fn with_small_numbers(&self, clear: &Clear, but: &[PaperPoint], near: f64) -> Clear {
        let mut clear = clear.clone();
        for name in &self.unnumbered {
            let found = name.small_place(&clear);
            let free = |p: PaperPoint| but.iter().all(|&b| (p - b).length() > near);
            if let Some((p, oval)) = found.filter(|f| free(f.0)) {
                clear.add_symbol(name.slip(p, oval));
            }
        }
        clear
    }

    /// What gives way to tags that find no room: sizes, which the schedule has, and numbers of panels, which find another place or
    /// stand in a list. Their ids and places.
    pub fn giving(&self) -> impl Iterator<Item = (&String, &Slip)> {
        let numbers = self.numbered.iter().map(|(slip, name)| (&name.id, slip));
        self.sizes.iter().map(|(id, slip)| (id, slip)).chain(numbers)
    }

    /// Takes off what gave way to tags.
    pub fn without(&mut self, given_way: &BTreeSet<String>) {
        let stays = |m: &Mark| !matches!(m, Mark::Group(g) if given_way.contains(&g.id));
        for labels in self.groups.iter_mut().filter(|g| g.id == "labels") {
            labels.marks.retain(stays);
        }
        let gone = self.giving().filter(|(id, _)| given_way.contains(*id));
        let gone: Vec<Slip> = gone.map(|(_, slip)| *slip).collect();
        self.clear = self.clear.without(&gone);
        let numbered = std::mem::take(&mut self.numbered).into_iter();
        let (gone, kept) = numbered.partition(|(_, name)| given_way.contains(&name.id));
        self.numbered = kept;
        let gone: Vec<(Slip, PanelName)> = gone;
        for (_, name) in gone {
            self.shown.remove(&Remark::Panel(name.id.clone()));
            self.unnumbered.push(name);
        }
    }

    /// Takes back the numbers that a leader runs through.
    fn crossed_numbers(&mut self, placement: &Placement) -> Vec<PanelName> {
        let leaders: Vec<_> = placement.placed.iter().filter_map(|p| p.leader).collect();
        let is_crossed = |slip: &Slip| leaders.iter().any(|l| slip.meets_segment(l.from, l.to));
        let numbered = std::mem::take(&mut self.numbered);
        let crossed = numbered.into_iter().filter(|(slip, _)| is_crossed(slip));
        let names: Vec<PanelName> = crossed.map(|(_, name)| name).collect();
        for name in &names {
            self.shown.remove(&Remark::Panel(name.id.clone()));
        }
        let is_taken = |g: &Group| g.class == "panel" && names.iter().any(|n| n.id == g.id);
        for labels in self.groups.iter_mut().filter(|g| g.id == "labels") {
            labels.marks.retain(|m| !matches!(m, Mark::Group(g) if is_taken(g)));
        }
        names
    }

    /// Numbers small panels where tags and leaders have left room, and those anew that a leader runs through; what finds none is a
    /// remark.
    pub fn number_rest(&mut self, placement: &Placement) {
        let mut waiting = std::mem::take(&mut self.unnumbered);
        waiting.extend(self.crossed_numbers(placement));
        if waiting.is_empty() {
            return;
        }
        for placed in &placement.placed {
            let a = &placed.area;
            let area = Box2::new(a.left, a.top, a.right, a.bottom);
            self.clear.add(Slip::upright(&area));
            if let Some(leader) = placed.leader {
                self.clear.add_line(&[leader.from, leader.to]);
            }
        }
        let mut groups = Vec::new();
        for name in waiting {
            let what = Remark::Panel(name.id.clone());
            let Some((p, oval)) = name.small_place(&self.clear) else {
                self.remarks.insert(what);
                continue;
            };
            self.clear.add_symbol(name.slip(p, oval));
            self.used.insert(Symbol::Panel);
            self.shown.insert(what);
            groups.push(Mark::Group(name.draw(p, oval)));
        }
        if let Some(labels) = self.groups.iter_mut().find(|g| g.id == "labels") {
            labels.marks.extend(groups);
        } else if !groups.is_empty() {
            self.groups.push(draw::group("labels", "", groups));
        }
    }
}

/// Points of a square grid inside a box, from its middle.
fn grid(around: &Box2, step: f64) -> impl Iterator<Item = PaperPoint> + use<> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
    let count = |length: f64| (length / step).floor().clamp(0.0, 400.0) as u32;
    let (nx, ny) = (count(around.width()), count(around.height()));
    let (x0, y0) = (f64::from(nx) * step / 2.0, f64::from(ny) * step / 2.0);
    let first = around.center() + by(-x0, -y0);
    (0..=nx).flat_map(move |x| {
        (0..=ny).map(move |y| at(first.x + f64::from(x) * step, first.y + f64::from(y) * step))
    })
}
