//! Filler marks: the joints in the order they are filled, and where each cartridge should run out.

use std::collections::{BTreeMap, BTreeSet};

use crate::ink::{Group, Mark, PaperPoint};
use crate::order::{self, Leg};
use crate::quantity::tape::tape;

use super::{Drawing, Part, layer};
use crate::paper::clear::Slip;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, Shift};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::legend::Symbol;
use crate::sheet::split::{clip, match_line};
use crate::sheet::view::View;
use crate::tags;
use crate::tags::{Standing, Tag};

/// Marks reach this far over the edge of a window, mm: the pen of a line that runs along it.
pub const PEN: f64 = 0.4;
/// Half the stroke that marks where a cartridge runs out, mm.
const STROKE: f64 = 1.5;
/// Length of the arrow that shows the direction of filling, mm, and its least along a short stretch.
pub const ARROW: f64 = 5.5;
const SHORT_ARROW: f64 = 3.0;
/// Room between a stroke and a text that stands beside it, mm.
const BESIDE_STROKE: f64 = 1.0;
/// Strokes farther apart than this have no text between them that could be either's, mm.
const FAR_STROKE: f64 = 60.0;
/// Distance of number and arrow from their joint, mm.
const OFF: f64 = 3.6;

/// Where a cartridge runs out: a stroke across the joint.
#[must_use]
pub fn cartridge_mark(p: PaperPoint, along: Shift) -> Mark {
    let across = along.left() * STROKE;
    draw::line(p + across, p + (-across), style::CARTRIDGE)
}

/// Place of a stretch in the order of filling: its number, and an arrow the way it is filled.
#[must_use]
pub fn order_mark(p: PaperPoint, along: Shift, number: usize, arrow: f64) -> Vec<Mark> {
    let text = number.to_string();
    let radius = radius(number);
    let (foot, tip) = (p + along * radius, p + along * (radius + arrow));
    let back = tip + along * -2.2;
    let side = along.left() * 0.9;
    vec![
        draw::circle(p, radius, Some(style::RULE), Some(crate::ink::WHITE)),
        Mark::Text(Label::level(p, &text, style::strong()).mark),
        draw::line(foot, back, style::RULE),
        draw::polygon(&[tip, back + side, back + (-side)], None, Some(crate::ink::BLACK)),
    ]
}

fn radius(number: usize) -> f64 {
    (words::width(&number.to_string(), style::strong()) / 2.0 + 0.9).max(2.3)
}

/// What is filled on a floor, or in a window of it.
#[derive(Clone, Debug, Default)]
pub struct Work<'a> {
    /// Stretches with their numbers in the order of filling.
    pub legs: Vec<(usize, Leg<'a>)>,
    /// Where cartridges run out.
    pub marks: Vec<order::Mark<'a>>,
    /// For each filled joint, by its id, the station from which its cartridges are taped, m.
    pub zeros: BTreeMap<&'a str, f64>,
    /// Ids of joints that want a tag.
    pub tagged: BTreeSet<&'a str>,
}

/// A floor with its filler marks.
#[derive(Clone, Debug)]
pub struct Filled {
    /// Groups, back to front.
    pub groups: Vec<Group>,
    /// Symbols that were used.
    pub used: BTreeSet<Symbol>,
    /// Ids of joints that have their tags.
    pub tagged: BTreeSet<String>,
    /// Pairs of leaders that cross.
    pub crossings: usize,
    /// Numbers in the order of filling that stand on the plan.
    pub numbers: BTreeSet<usize>,
    /// Cartridges whose strokes do.
    pub cartridges: BTreeSet<usize>,
}

/// A window of the floor on a sheet of its own.
#[derive(Clone, Copy, Debug)]
pub struct Beside<'a> {
    /// What of the floor it shows.
    pub part: Part<'a>,
    /// Numbers of the sheets of all windows.
    pub numbers: &'a [String],
}

/// The floor with its filler marks in a window of the sheet.
#[must_use]
pub fn fill(
    inputs: &Inputs,
    beside: Option<Beside>,
    view: &View,
    window: &Box2,
    work: &Work,
) -> Filled {
    let mut d = Drawing::new(inputs, beside.map(|b| b.part), view, window);
    let mut groups = d.floor();
    groups.push(d.filled_joints(work));
    let mut strokes = layer("cartridges", d.cartridges(work));
    if let Some(beside) = beside {
        let inside = view.rectangle(beside.part.window).grown(PEN);
        groups = groups.into_iter().filter_map(|g| clip::group(g, &inside)).collect();
        strokes = clip::group(strokes, &inside).unwrap_or_default();
        d.tags.retain_mut(|tag| {
            let kept = clip::feature(&tag.feature, &inside);
            kept.map(|(feature, _)| tag.feature = feature).is_some()
        });
        let floors = (beside.part.whole, inputs.slab);
        let (sides, numbers) = (beside.part.sides, beside.numbers);
        let lines = match_line::draw(floors, sides, numbers, view, &mut d.clear);
        groups.push(layer("match-lines", lines));
    }
    let (numbers, order): (BTreeSet<usize>, Vec<Group>) = d.order(work).into_iter().unzip();
    let corners = d.corners();
    d.cartridge_texts(work);
    let standing = Standing { solids: &d.solids, tags: &d.fixed_areas, framed: &[] };
    let placement = tags::solve(&mut d.tags, &d.clear, standing);
    let (leaders, tags) = tags::draw(&d.tags, Vec::new(), &placement);
    groups.push(strokes);
    groups.push(layer("order", order));
    groups.push(layer("dims", corners));
    groups.push(layer("labels", std::mem::take(&mut d.labels)));
    groups.push(leaders);
    groups.push(tags);
    groups.retain(|g| !g.marks.is_empty());
    Filled {
        groups,
        used: d.used,
        tagged: placement.placed.into_iter().map(|p| p.id).collect(),
        crossings: placement.crossings,
        numbers,
        cartridges: work.marks.iter().map(|m| m.cartridge).collect(),
    }
}

impl Drawing<'_> {
    /// Joints that are filled, each with a tag and a ring at the end its stations are taped from.
    fn filled_joints(&mut self, work: &Work) -> Group {
        let slab = self.inputs.slab;
        let mut groups = Vec::new();
        for joint in &slab.joints {
            let runs = self.joint_runs(joint);
            for run in &runs {
                self.clear.add_soft(run);
            }
            self.used.insert(Symbol::joint(joint.kind));
            let mut lines: Vec<Mark> =
                runs.iter().map(|r| super::joint_line(r, joint.kind)).collect();
            if let Some(zero) = work.zeros.get(&*joint.id) {
                let zero = joint.path.point_at(*zero);
                if self.shows(zero) {
                    let zero = self.view.point(zero);
                    self.used.insert(Symbol::Running);
                    self.clear.add_symbol(Slip::upright(&Box2::around(zero, 2.2, 2.2)));
                    lines.push(draw::circle(
                        zero,
                        0.9,
                        Some(style::DIMENSION_STROKE),
                        Some(crate::ink::WHITE),
                    ));
                }
            }
            if work.tagged.contains(&*joint.id) {
                let (id, square) = (joint.id.clone(), tags::Outline::Square);
                self.tags.push(Tag::line(&joint.id, id, square, &runs));
            }
            groups.push(draw::group(&*joint.id, "joint", lines));
        }
        layer("joints", groups)
    }

    fn cartridges(&mut self, work: &Work) -> Vec<Group> {
        let mut out = Vec::new();
        for mark in &work.marks {
            let along = self.view.direction(mark.joint.path.direction_at(mark.station_m));
            let p = self.view.point(mark.at);
            self.used.insert(Symbol::Cartridge);
            let across = along.left() * STROKE;
            self.clear.add_line(&[p + across, p + (-across)]);
            let id = format!("cartridge-{}", mark.cartridge);
            let mut group = draw::group(id, "cartridge", vec![cartridge_mark(p, along)]);
            group.title = format!("Cartridge {} runs out here", mark.cartridge);
            out.push(group);
        }
        out
    }

    /// Numbers and arrows beside the joints.
    fn order(&mut self, work: &Work) -> Vec<(usize, Group)> {
        let legs = work.legs.iter();
        legs.filter_map(|(number, leg)| Some((*number, self.order_of(leg, *number)?))).collect()
    }

    fn order_of(&mut self, leg: &Leg, number: usize) -> Option<Group> {
        let long = self.view.length(leg.stretch.length());
        let arrow = (long - 2.0 * radius(number) - 2.0).clamp(SHORT_ARROW, ARROW);
        let places = beside_leg(long, radius(number));
        let (p, slip) = places
            .into_iter()
            .map(|(s, side)| self.order_place(leg, number, arrow, (s, side)))
            .find(|(_, slip)| self.clear.is_free(slip, 0.4) && self.clear.soft_hits(slip) == 0)?;
        self.clear.add(slip);
        self.used.insert(Symbol::FillOrder);
        Some(draw::group(
            format!("order-{number}"),
            "order",
            order_mark(p, slip.along, number, arrow),
        ))
    }

    /// Number and arrow so far along a stretch (mm) and so many times [`OFF`] beside it: middle of the number, and the room
    /// both take.
    fn order_place(
        &self,
        leg: &Leg,
        number: usize,
        arrow: f64,
        (s, side): (f64, f64),
    ) -> (PaperPoint, Slip) {
        let path = &leg.joint.path;
        let (back, from) =
            if leg.backward { (-1.0, leg.stretch.to_m) } else { (1.0, leg.stretch.from_m) };
        let station = from + back * self.view.floor_length(s);
        let along = self.view.direction(path.direction_at(station)) * back;
        let foot = self.view.point(path.point_at(station));
        let p = foot + along * radius(number) + along.left() * (side * OFF);
        let slip = Slip {
            center: p + along * (arrow / 2.0),
            along,
            half_along: radius(number) + arrow / 2.0,
            half_across: radius(number),
        };
        (p, slip)
    }

    /// Numbers of the cartridges with their stations, where there is room; the table has all of them.
    fn cartridge_texts(&mut self, work: &Work) {
        let slab = self.inputs.slab;
        let strokes: Vec<PaperPoint> = work.marks.iter().map(|m| self.view.point(m.at)).collect();
        for mark in &work.marks {
            let along = self.view.direction(mark.joint.path.direction_at(mark.station_m));
            let p = self.view.point(mark.at);
            let others: Vec<PaperPoint> =
                strokes.iter().filter(|s| (**s - p).length() < FAR_STROKE).copied().collect();
            // Beside another stroke a text would be read as that one's.
            let own = |label: &Label| {
                let off = |s: PaperPoint| label.slip.distance(s, s);
                others.iter().all(|s| off(p) <= off(*s))
            };
            let station = mark.station_m - work.zeros.get(&*mark.joint.id).copied().unwrap_or(0.0);
            let long = format!("{}: {}", mark.cartridge, tape(station.max(0.0), slab.units));
            for text in [long, mark.cartridge.to_string()] {
                if self.put_beside("", 0.3, beside(p, along, &text).into_iter().filter(own)) {
                    break;
                }
            }
        }
    }
}

/// Places beside a stretch of so many mm: how far along it, and on which side; near its start and close to it first.
fn beside_leg(long: f64, radius: f64) -> Vec<(f64, f64)> {
    let near = [2.0, 5.0, 9.0, 14.0, 20.0, 28.0, 38.0, 50.0, 0.0];
    let close = near.into_iter().flat_map(|s| [1.0, -1.0, 1.7, -1.7].map(|side| (s, side)));
    let dense = (0..200).map(|i| f64::from(i) * 0.8);
    let sides = [1.0, -1.0, 1.7, -1.7, 2.6, -2.6, 3.6, -3.6];
    let far = dense.flat_map(|s| sides.map(|side| (s, side)));
    let starts = |place: &(f64, f64)| place.0 + radius <= long.max(radius);
    close.chain(far).filter(starts).collect()
}

/// Places for a text beside a stroke across a line: level past its ends, level beside it, then along the line.
fn beside(p: PaperPoint, along: Shift, text: &str) -> Vec<Label> {
    let type_ = style::body();
    let (half, up) = (words::width(text, type_) / 2.0, type_.cap() / 2.0);
    // Half the extent of level text in a direction.
    let level = |d: Shift| half * d.x.abs() + up * d.y.abs();
    let placed = |turned: bool, out: f64, slide: f64| {
        [1.0, -1.0].map(|side| {
            let middle = p + along.left() * (side * out) + along * slide;
            match turned {
                true => Label::centered(middle, text, type_, along),
                false => Label::level(middle, text, type_),
            }
        })
    };
    let (across, past) = (level(along.left()), level(along) + BESIDE_STROKE);
    let gaps = [0.9, 1.6, 2.6];
    let slid = [0.0, 0.7, -0.7].map(|share| share * (half + 1.0));
    let mut out = Vec::new();
    for gap in gaps {
        out.extend(slid.iter().flat_map(|s| placed(false, STROKE + gap + across, *s)));
    }
    for gap in gaps {
        out.extend([past, -past].iter().flat_map(|s| placed(false, gap + across, *s)));
    }
    for gap in gaps {
        out.extend(slid.iter().flat_map(|s| placed(true, STROKE + gap + up, *s)));
    }
    for gap in gaps {
        let past = half + BESIDE_STROKE;
        out.extend([past, -past].iter().flat_map(|s| placed(true, gap + up, *s)));
    }
    for gap in [3.8, 5.0] {
        out.extend(slid.iter().flat_map(|s| placed(false, STROKE + gap + across, *s)));
    }
    out
}
