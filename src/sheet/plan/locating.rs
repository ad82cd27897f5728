//! Dimensions that locate what lies inside the floor: along a wall or joint to a foot, and square off it from there.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::Point;

use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::tape::tape;
use crate::slab::directions::{Foot, Locator, ON_IT_M};
use crate::slab::{Form, Item, Place, Shape};
use crate::takeoff::Worked;

use super::Drawing;
use crate::paper::clear::Slip;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, Shift, lerp};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::legend::Symbol;

/// Longest dimension that is drawn, mm; a longer one would run through half the plan, and the table has it.
const LONGEST: f64 = 62.0;
/// Shortest one, mm; below, the eye sees where it is and the table says it.
const SHORTEST: f64 = 3.0;
/// Air between a dimension and its text, mm.
const GAP: f64 = 0.8;
/// Air to the texts on the same line, mm: two numbers must not read as one.
const APART: f64 = 2.0;
/// Half a stroke at the end of a dimension, mm.
const STROKE: f64 = 0.9;

/// A dimension square off a line from its foot: a thin line with a stroke at either end.
#[must_use]
pub fn locating_mark(foot: PaperPoint, to: PaperPoint) -> Vec<Mark> {
    let along = (to - foot).unit();
    let stroke = (along + along.left()).unit() * STROKE;
    let at = |p: PaperPoint| draw::line(p + (-stroke), p + stroke, style::DIMENSION_STROKE);
    vec![draw::line(foot, to, style::FINE), at(foot), at(to)]
}

/// A place among what is located, what is small first: it is the hardest to find. Nothing for what needs no dimension.
const fn place(worked: Worked) -> Option<u8> {
    match worked {
        Worked::Moisture(_) => Some(TEST),
        Worked::Spall(_, work) => match work.repair.skimmed_l() {
            Some(_) => Some(2),
            None => None,
        },
        Worked::Delamination(_, work) => match work.in_patch() {
            true => None,
            false => Some(3),
        },
        Worked::Crack(..) => Some(4),
        Worked::Blemish(_) => Some(5),
        // Joints have dimensions of their own, a step is found by its line, and what stands on the floor is seen.
        Worked::Joint(..)
        | Worked::Lippage(..)
        | Worked::KeepOut(_)
        | Worked::Uncoated(_)
        | Worked::Tier(_) => None,
    }
}
/// Where tests stand among what is located.
const TEST: u8 = 0;
/// Where patches do.
const PATCH: u8 = 1;

impl Drawing<'_> {
    /// Dimensions of everything inside the floor for which there is room; the tables have all of them.
    pub(super) fn locating(&mut self) -> Vec<Group> {
        let mut out = Vec::new();
        let mut rings: BTreeSet<usize> = BTreeSet::new();
        let own = self.inputs.locator.is_none().then(|| Locator::new(self.whole()));
        let Some(locator) = self.inputs.locator.or(own.as_ref()) else {
            return out;
        };
        for (id, at) in self.to_locate() {
            let Some(foot) = locator.foot(at, &id).filter(|f| self.shows(f.at)) else {
                continue;
            };
            if let Some(group) = self.locate(&id, at, &foot) {
                out.push(group);
                rings.extend(foot.joint);
            }
        }
        out.extend(rings.into_iter().filter_map(|j| self.joint_ring(j)));
        out
    }

    /// Points that are located, in the order of [`place`].
    fn to_locate(&self) -> Vec<(String, Point)> {
        let (slab, takeoff) = (self.inputs.slab, self.inputs.takeoff);
        let wanted = self.inputs.wanted().into_iter();
        let mut out: Vec<(u8, String, Point)> = wanted.map(|t| (TEST, t.id, t.at)).collect();
        // A window cuts lines and shapes: what is taped is an end or a corner of the whole item.
        let whole: BTreeMap<&str, Item> = self.whole().items().map(|i| (i.id(), i)).collect();
        for worked in takeoff.walk(slab) {
            let (Some(place), item) = (place(worked), worked.item()) else {
                continue;
            };
            let points = self.found_by(whole.get(item.id()).copied().unwrap_or(item));
            out.extend(points.into_iter().map(|at| (place, item.id().to_owned(), at)));
        }
        out.extend(takeoff.patches.iter().map(|p| (PATCH, p.id.clone(), p.rect.center)));
        out.sort_by_key(|located| located.0);
        out.retain(|located| self.shows(located.2));
        out.into_iter().map(|(_, id, at)| (id, at)).collect()
    }

    /// The points by which an item is found: both ends of what of a crack is on the slab.
    fn found_by(&self, item: Item) -> Vec<Point> {
        if let Item::Crack(crack) = item {
            let ends = crack.on_slab.first().zip(crack.on_slab.last());
            let ends = ends.map(|(a, b)| [a.from_m, b.to_m].map(|s| crack.path.point_at(s)));
            return ends.into_iter().flatten().collect();
        }
        match item.place() {
            Place::Line(path) => vec![path.start()],
            Place::Area(shape) => self.shape_point(shape).into_iter().collect(),
            Place::Point(at) => vec![at],
        }
    }

    /// The point by which a shape is found: its middle, or its corner that is nearest to a wall.
    fn shape_point(&self, shape: &Shape) -> Option<Point> {
        if let Form::Circle { center, .. } = shape.form {
            return Some(center);
        }
        crate::sheet::schedule::found_by(self.whole(), shape)
    }

    fn locate(&mut self, id: &str, at: Point, foot: &Foot) -> Option<Group> {
        let units = self.units();
        if foot.off <= ON_IT_M {
            return None;
        }
        let (a, b) = (self.view.point(foot.at), self.view.point(at));
        let leg = (b - a).length();
        if !(SHORTEST..=LONGEST).contains(&leg) {
            return None;
        }
        let along = (b - a).unit();
        let inner = (lerp(a, b, 0.06), lerp(a, b, 0.94));
        let stops_short = a + along * (leg - 2.2).max(leg * 0.6);
        let ends = along * STROKE;
        if !self.clear.line_is_free(a + along * 0.5, stops_short, 0.3)
            || !self.clear.misses_text(a + (-ends), b + ends, STROKE)
            || self.clear.edge_crossed(inner.0, inner.1)
        {
            return None;
        }
        let off = tape(foot.off, units);
        let station = tape(foot.station, units);
        let off = self.free(beside_leg(a, b, &off), None)?;
        let station = self.free(at_foot(a, along, &station), Some(&off.slip))?;
        self.used.insert(Symbol::Locating);
        self.clear.add_line(&[a, stops_short]);
        let stroke = (along + along.left()).unit() * STROKE;
        self.clear.add_line(&[a + (-stroke), a + stroke]);
        let mut marks = locating_mark(a, b);
        for label in [off, station] {
            self.clear.add(label.slip);
            let ground = label.slip.grown(0.25).corners();
            marks.push(draw::polygon(&ground, None, Some(crate::ink::WHITE)));
            marks.push(Mark::Text(label.mark));
        }
        let mut group = draw::group("", "locating", marks);
        group.title = format!("Where {id} is");
        Some(group)
    }

    /// The first place that is blank and off another text.
    fn free(&self, places: Vec<Label>, other: Option<&Slip>) -> Option<Label> {
        places.into_iter().find(|l| {
            self.clear.is_blank(&l.slip, 0.4)
                && self.clear.is_apart(&l.slip, APART)
                && other.is_none_or(|o| !o.grown(0.5).meets(&l.slip))
        })
    }

    /// The ring at the end of a joint that stations are taped from.
    fn joint_ring(&mut self, joint: usize) -> Option<Group> {
        let joint = self.whole().joints.get(joint)?;
        let start = joint.path.point_at(joint.on_slab.first()?.from_m);
        if !self.shows(start) {
            return None;
        }
        let p = self.view.point(start);
        self.clear.add_symbol(Slip::upright(&Box2::around(p, 2.2, 2.2)));
        let ring = draw::circle(p, 0.9, Some(style::DIMENSION_STROKE), Some(crate::ink::WHITE));
        Some(draw::group("", "locating", vec![ring]))
    }
}

/// Places for the distance off: along the dimension, or beside it where it is short.
fn beside_leg(a: PaperPoint, b: PaperPoint, text: &str) -> Vec<Label> {
    let type_ = style::body();
    let along = (b - a).unit();
    let width = words::width(text, type_);
    let leg = (b - a).length();
    let mut out = Vec::new();
    if leg > width + 2.0 {
        for share in [0.5, 0.4, 0.6, 0.3, 0.7] {
            for side in [1.0, -1.0] {
                let by = along.left() * (side * (GAP + type_.cap() / 2.0));
                out.push(Label::centered(lerp(a, b, share) + by, text, type_, along));
            }
        }
    }
    for share in [0.5, 0.35, 0.65] {
        for side in [1.0, -1.0] {
            let across = along.left() * side;
            let out_by = GAP + width / 2.0 * across.x.abs() + type_.cap() / 2.0 * across.y.abs();
            out.push(Label::level(lerp(a, b, share) + across * out_by, text, type_));
        }
    }
    out
}

/// Places for the station: along the wall or joint, inside, on either side of the foot.
fn at_foot(foot: PaperPoint, along: Shift, text: &str) -> Vec<Label> {
    let type_ = style::body();
    let wall = along.left();
    let half = words::width(text, type_) / 2.0;
    let mut out = Vec::new();
    for up in [1.2, 2.0, 3.2, 4.6] {
        for side in [1.0, -1.0] {
            let middle =
                foot + along * (up + type_.cap() / 2.0) + wall * (side * (half + GAP + 0.3));
            out.push(Label::centered(middle, text, type_, wall));
        }
    }
    out
}
