//! The floor as the customer sees it, layer by layer, and what stands where on it.

use crate::ink::{Group, Mark, PaperPoint};
use crate::slab::{Tier, Zone, wall_pieces};

use super::doors;
use super::fate::Fate;
use super::key::{tier_words, tiers};
use super::look;
use super::sort::{Item, Place, Sorted};
use super::symbol;
use crate::paper::clear::{Clear, Slip};
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, Shift, at, by};
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::split::clip;
use crate::sheet::view::View;

/// How far past the walls a thing is drawn that reaches over them, mm: its part on the floor is what the customer is told of.
const OVERHANG: f64 = 4.0;

/// A shape on paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    /// Open runs.
    Line(Vec<Vec<PaperPoint>>),
    /// Closed rings.
    Area(Vec<Vec<PaperPoint>>),
    Spot(PaperPoint),
}

/// An item on paper.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    /// What becomes of it.
    pub fate: Fate,
    /// Its ids in the sketch.
    pub ids: Vec<String>,
    /// Where it lies.
    pub shape: Shape,
    /// The part of it that a mark may stand in or point at; `None` for all of it.
    pub aim: Option<Shape>,
}

impl Drawn {
    /// What a mark points at.
    pub(crate) fn aim(&self) -> &Shape {
        self.aim.as_ref().unwrap_or(&self.shape)
    }
}

/// The floor on paper.
#[derive(Debug)]
pub(crate) struct Picture {
    /// Groups, back to front.
    pub groups: Vec<Group>,
    /// Items, in the order of the key.
    pub drawn: Vec<Drawn>,
    /// What stands where.
    pub clear: Clear,
}

/// Where an item lies on paper, as far as it is drawn.
fn shape(item: &Item, fate: Fate, view: &View, over: &Box2) -> Shape {
    let shape = match &item.place {
        Place::Line(path, on) => Shape::Line(view.stretches(path, on)),
        Place::Rings(rings) => Shape::Area(rings.iter().map(|r| open(view.path(r))).collect()),
        Place::Corners(corners) => {
            Shape::Area(vec![corners.iter().map(|&p| view.point(p)).collect()])
        }
        Place::Spot(p) if fate == Fate::LowSpot => {
            Shape::Area(vec![ring_around(view.point(*p), look::LOW_SPOT)])
        }
        Place::Spot(p) => Shape::Spot(view.point(*p)),
    };
    within(shape, over)
}

/// What lies in a window of a shape that reaches past it. One that lies beside it is moved to its rim: it is told of in the key, and a
/// plan can be so small that it would be off the sheet.
fn within(shape: Shape, over: &Box2) -> Shape {
    let cut = |shape: &Shape| match shape {
        Shape::Line(runs) => Shape::Line(runs.iter().flat_map(|r| clip::run(r, over)).collect()),
        Shape::Area(rings) => Shape::Area(rings_within(rings, over)),
        Shape::Spot(p) => Shape::Spot(over.nearest(*p)),
    };
    let found = cut(&shape);
    match (&found, &shape) {
        (Shape::Line(left) | Shape::Area(left), Shape::Line(all) | Shape::Area(all))
            if left.is_empty() && all.iter().any(|part| !part.is_empty()) =>
        {
            let by = inwards(&Box2::of(&all.concat()), over);
            let moved = all.iter().map(|part| part.iter().map(|p| *p + by).collect()).collect();
            match shape {
                Shape::Line(_) => cut(&Shape::Line(moved)),
                _ => cut(&Shape::Area(moved)),
            }
        }
        _ => found,
    }
}

/// The least shift that brings as much of a box as can be into a window.
fn inwards(around: &Box2, over: &Box2) -> Shift {
    let one = |low: f64, high: f64, from: f64, to: f64| {
        let (before, behind) = (from - low, to - high);
        // A box longer than the window covers it.
        let (least, most) = (before.min(behind), before.max(behind));
        0.0_f64.clamp(least, most)
    };
    by(
        one(around.left, around.right, over.left, over.right),
        one(around.top, around.bottom, over.top, over.bottom),
    )
}

fn rings_within(rings: &[Vec<PaperPoint>], over: &Box2) -> Vec<Vec<PaperPoint>> {
    let cut = rings.iter().map(|r| clip::ring(r, over));
    cut.filter(|r| r.len() > 2).collect()
}

/// A ring without its closing point.
fn open(mut ring: Vec<PaperPoint>) -> Vec<PaperPoint> {
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    ring
}

fn ring_around(center: PaperPoint, radius: f64) -> Vec<PaperPoint> {
    let corner = |i: u8| {
        let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 24.0).sin_cos();
        at(center.x + radius * cos, center.y + radius * sin)
    };
    (0..24).map(corner).collect()
}

/// Draws the floor inside a window of the sheet.
pub(crate) fn draw(inputs: &Inputs, sorted: &Sorted, view: &View, window: &Box2) -> Picture {
    let mut clear = Clear::new(*window);
    let over = view.rectangle(inputs.slab.outline.path.bounds()).grown(OVERHANG);
    let mut drawn = Vec::new();
    for (&fate, items) in &sorted.groups {
        drawn.extend(items.iter().map(|item| Drawn {
            fate,
            ids: std::iter::once(&item.id).chain(&item.also).cloned().collect(),
            shape: shape(item, fate, view, &over),
            aim: item.free.as_ref().map(|r| within(Shape::Area(view.region(r)), &over)),
        }));
    }
    let (mut under, mut lines, mut spots) = (Vec::new(), Vec::new(), Vec::new());
    for d in &drawn {
        let group = draw::group("", class(d.fate), symbol::marks(d.fate, &d.shape));
        match d.fate {
            Fate::Spot | Fate::Hollow | Fate::HollowLeft | Fate::LowSpot => spots.push(group),
            Fate::Surface | Fate::Uncoated | Fate::HighEdge => under.push(group),
            _ => lines.push(group),
        }
        occupy(&mut clear, d);
    }
    let beyond = beyond(sorted, view);
    let edge = edge(inputs, view, &mut clear);
    let risers = risers(inputs, (view, &over), &mut clear);
    let standing = standing(&inputs.slab.keep_outs, (view, &over), &mut clear);
    let mut names = heights(inputs, view, &mut clear);
    names.extend(doors::names(inputs, view, &mut clear));
    let groups = vec![
        floor(inputs, view),
        layer("areas", under),
        layer("risers", risers),
        layer("standing", standing),
        layer("beyond", beyond),
        layer("lines", lines),
        layer("spots", spots),
        layer("outline", vec![edge]),
        layer("names", names),
    ];
    Picture { groups, drawn, clear }
}

/// A layer of the drawing.
pub(crate) fn layer(id: &str, groups: Vec<Group>) -> Group {
    draw::group(id, "", groups.into_iter().map(Mark::Group).collect())
}

/// Class of an item's group in the file.
const fn class(fate: Fate) -> &'static str {
    match fate {
        Fate::JointFilled => "joint filled",
        Fate::JointFilledMoving => "joint filled moving",
        Fate::JointSealed => "joint sealed",
        Fate::JointHidden => "joint hidden",
        Fate::JointLeft => "joint left",
        Fate::CrackRepaired => "crack repaired",
        Fate::CrackPrimed => "crack primed",
        Fate::CrackMayReturn => "crack may-return",
        Fate::CrackReturns => "crack returns",
        Fate::CrackSealed => "crack sealed",
        Fate::CrackLeft => "crack left",
        Fate::Spot => "spot",
        Fate::Hollow => "hollow filled",
        Fate::HollowLeft => "hollow left",
        Fate::HighEdge => "high-edge",
        Fate::SmallStep => "small-step",
        Fate::Surface => "surface",
        Fate::LowSpot => "low-spot",
        Fate::Uncoated => "uncoated",
    }
}

/// Keeps text and marks off an item.
fn occupy(clear: &mut Clear, d: &Drawn) {
    let large = matches!(d.fate, Fate::Surface | Fate::Uncoated);
    match &d.shape {
        Shape::Line(runs) => runs.iter().for_each(|r| clear.add_line(r)),
        // The rim of a large area may run below a mark that stands in it.
        Shape::Area(rings) if large => {
            for ring in rings {
                let mut closed = ring.clone();
                closed.extend(ring.first().copied());
                clear.add_soft(&closed);
            }
        }
        Shape::Area(rings) => rings.iter().for_each(|r| clear.add_ring(r)),
        Shape::Spot(p) => clear.add_symbol(Slip::upright(&Box2::around(*p, 2.0, 2.0))),
    }
}

/// The coated floor as a tint.
fn floor(inputs: &Inputs, view: &View) -> Group {
    let ring = open(view.path(&inputs.slab.outline.path));
    draw::group("floor", "floor", vec![draw::polygon(&ring, None, Some(look::FLOOR))])
}

/// Stretches outside the coated area.
fn beyond(sorted: &Sorted, view: &View) -> Vec<Group> {
    let runs: Vec<_> =
        sorted.beyond.iter().flat_map(|(path, on)| view.stretches(path, on)).collect();
    if runs.is_empty() {
        return Vec::new();
    }
    vec![draw::group("", "outside", vec![draw::lines(&runs, look::pen(0.25, crate::ink::BLACK))])]
}

/// Where two heights of the floor meet.
fn risers(inputs: &Inputs, (view, over): (&View, &Box2), clear: &mut Clear) -> Vec<Group> {
    let mut out = Vec::new();
    for riser in &inputs.slab.risers {
        let Shape::Line(runs) = within(Shape::Line(vec![view.path(&riser.path)]), over) else {
            continue;
        };
        runs.iter().for_each(|run| clear.add_line(run));
        let line = draw::lines(&runs, look::RISER);
        out.push(draw::group("", "riser", vec![line]));
    }
    out
}

/// What each part at another height is, where there is room in it.
fn heights(inputs: &Inputs, view: &View, clear: &mut Clear) -> Vec<Group> {
    let slab = inputs.slab;
    let name = |tier: &Tier| {
        let rings = view.region(&tier.region);
        let texts = [tier_words(tier, slab.units), tier.higher(slab.units)];
        let mark = texts.iter().find_map(|words| inside(words, &rings, clear))?;
        Some(draw::group("", "name", vec![mark]))
    };
    tiers(slab).into_iter().filter_map(name).collect()
}

fn standing(zones: &[Zone], (view, over): (&View, &Box2), clear: &mut Clear) -> Vec<Group> {
    let mut order: Vec<&Zone> = zones.iter().collect();
    order.sort_by(|a, b| a.id.cmp(&b.id));
    let placed = order.into_iter().map(|zone| {
        let rings: Vec<_> = zone.shape.rings.iter().map(|r| open(view.path(r))).collect();
        (zone, rings_within(&rings, over))
    });
    let placed: Vec<_> = placed.collect();
    let mut out = Vec::new();
    for (_, rings) in &placed {
        rings.iter().for_each(|r| clear.add_ring(r));
        let shape = draw::rings(rings, Some(look::FINE), Some(look::STANDING));
        out.push(draw::group("", "fixture", vec![shape]));
    }
    for (zone, rings) in &placed {
        let name = zone.what.as_deref().map(words::clean);
        let name = name.and_then(|name| inside(&name, rings, clear));
        out.extend(name.map(|mark| draw::group("", "name", vec![mark])));
    }
    out
}

/// The words for a thing in the middle of it, or a little above or below, where there is room.
fn inside(words: &str, rings: &[Vec<PaperPoint>], clear: &mut Clear) -> Option<Mark> {
    let around = Box2::of(rings.first()?);
    let places = [0.0, 0.25, -0.25].into_iter();
    let place = |share: f64| around.center() + by(0.0, share * around.height());
    let labels = places.map(|share| Label::level(place(share), words, look::body()));
    let label = labels.into_iter().find(|label| {
        clear.is_free(&label.slip, 0.8) && hatch::contains(rings, label.slip.center)
    })?;
    clear.add(label.slip);
    Some(Mark::Text(label.mark))
}

/// The edge of the slab, dashed along openings.
fn edge(inputs: &Inputs, view: &View, clear: &mut Clear) -> Group {
    let mut marks = Vec::new();
    let slab = inputs.slab;
    for (wall, pieces) in wall_pieces(&slab.outline, &slab.openings) {
        let mut solid = Vec::new();
        for piece in pieces {
            let part = view.path(&wall.part(piece.on.from_m, piece.on.to_m));
            match piece.opening {
                None => solid.push(part),
                Some(_) => marks.push(draw::lines(
                    &dash::cut(&part, look::DASHED),
                    look::pen(0.35, crate::ink::BLACK),
                )),
            }
        }
        solid.retain(|run| run.len() > 1);
        marks.push(draw::lines(&solid, look::EDGE));
        clear.add_edge(&view.path(wall));
    }
    draw::group("slab-edge", "outline", marks)
}
