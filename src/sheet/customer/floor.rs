//! The floor as the customer sees it: one color and one line pattern for each thing that happens.

use crate::ink::{Color, Group, Mark, PaperPoint, Stroke, WHITE};
use crate::slab::Zone;

use super::super::Inputs;
use super::super::clear::{Clear, Slip};
use super::super::dash;
use super::super::draw;
use super::super::hatch;
use super::super::label::Label;
use super::super::mm::{Box2, Shift, at, by, lerp};
use super::super::view::View;
use super::super::words;
use super::fate::Fate;
use super::look;
use super::sort::{Item, Place, Sorted};

/// Gap between the edge of the slab and the name of an opening, mm.
const NAME_GAP: f64 = 2.4;

/// Cosine below which a wall counts as square to a direction of text, about 85 degrees.
const SQUARE: f64 = 0.09;

/// Sine above which a wall slants, about half a degree.
const SLANT: f64 = 0.01;

/// A shape on paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    /// Open runs.
    Line(Vec<Vec<PaperPoint>>),
    /// Closed rings.
    Area(Vec<Vec<PaperPoint>>),
    /// A point.
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
    /// Its part that a mark may stand in or point at, where that is not all of it.
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

/// Where an item lies on paper.
fn shape(item: &Item, fate: Fate, view: &View) -> Shape {
    match &item.place {
        Place::Line(path, on) => Shape::Line(view.stretches(path, on)),
        Place::Rings(rings) => Shape::Area(rings.iter().map(|r| open(view.path(r))).collect()),
        Place::Corners(corners) => {
            Shape::Area(vec![corners.iter().map(|&p| view.point(p)).collect()])
        }
        Place::Spot(p) if fate == Fate::LowSpot => {
            Shape::Area(vec![ring_around(view.point(*p), look::LOW_SPOT)])
        }
        Place::Spot(p) => Shape::Spot(view.point(*p)),
    }
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
    let mut drawn = Vec::new();
    for (&fate, items) in &sorted.groups {
        drawn.extend(items.iter().map(|item| {
            Drawn {
                fate,
                ids: std::iter::once(&item.id)
                    .chain(&item.also)
                    .cloned()
                    .collect(),
                shape: shape(item, fate, view),
                aim: item.free.as_ref().map(|r| Shape::Area(view.region(r))),
            }
        }));
    }
    let (mut under, mut lines, mut spots) = (Vec::new(), Vec::new(), Vec::new());
    for d in &drawn {
        let group = draw::group("", class(d.fate), marks(d.fate, &d.shape));
        match d.fate {
            Fate::Spot | Fate::LowSpot => spots.push(group),
            Fate::Surface | Fate::Uncoated | Fate::HighEdge => under.push(group),
            _ => lines.push(group),
        }
        occupy(&mut clear, d);
    }
    let beyond = beyond(sorted, view);
    let edge = edge(inputs, view, &mut clear);
    let standing = standing(&inputs.slab.keep_outs, view, &mut clear);
    let names = names(inputs, view, &mut clear);
    let groups = vec![
        floor(inputs, view),
        layer("areas", under),
        layer("standing", standing),
        layer("beyond", beyond),
        layer("lines", lines),
        layer("spots", spots),
        layer("outline", vec![edge]),
        layer("names", names),
    ];
    Picture {
        groups,
        drawn,
        clear,
    }
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
        Shape::Spot(p) => clear.add(Slip::upright(&Box2::around(*p, 2.0, 2.0))),
    }
}

/// The marks of a thing with its fate.
pub(crate) fn marks(fate: Fate, shape: &Shape) -> Vec<Mark> {
    match shape {
        Shape::Line(runs) => runs.iter().flat_map(|r| line(fate, r)).collect(),
        Shape::Area(rings) => area(fate, rings),
        Shape::Spot(p) => vec![draw::circle(*p, 1.0, Some(look::FINE), Some(WHITE))],
    }
}

/// A line with its fate: the color is an extra, the pattern tells.
fn line(fate: Fate, run: &[PaperPoint]) -> Vec<Mark> {
    let one = |stroke: Stroke| vec![draw::lines(&[run.to_vec()], stroke)];
    let cut = |pattern, stroke: Stroke| {
        vec![draw::lines(
            &dash::cut(run, pattern),
            Stroke {
                round: false,
                ..stroke
            },
        )]
    };
    match fate {
        Fate::JointFilled => cut(look::FILLED, look::pen(0.8, look::BLUE)),
        Fate::JointFilledMoving => cut(look::FILLED_MOVING, look::pen(0.8, look::BLUE)),
        Fate::JointSealed | Fate::CrackSealed => double(run, look::GREEN),
        Fate::JointHidden => {
            let mut marks = double(run, look::GREEN);
            marks.extend(rungs(run));
            marks
        }
        Fate::CrackRepaired => one(look::pen(0.7, look::VERMILLION)),
        Fate::CrackPrimed => one(look::pen(0.3, look::VERMILLION)),
        Fate::CrackMayReturn => cut(look::MAY_RETURN, look::pen(0.7, look::VERMILLION)),
        Fate::CrackReturns => cut(look::RETURNS, look::pen(0.8, look::VERMILLION)),
        Fate::HighEdge => band(run),
        Fate::SmallStep => ticks(run),
        _ => cut(look::LEFT, look::pen(0.5, crate::ink::BLACK)),
    }
}

fn double(run: &[PaperPoint], color: Color) -> Vec<Mark> {
    let half = look::SEALED_APART / 2.0;
    vec![draw::lines(
        &[draw::beside(run, half), draw::beside(run, -half)],
        look::pen(0.5, color),
    )]
}

/// Short strokes across a run, every so many millimeters, from one side to the other.
fn across(run: &[PaperPoint], every: f64, left: f64, right: f64) -> Vec<Vec<PaperPoint>> {
    let mut out = Vec::new();
    let mut next = every / 2.0;
    for pair in run.windows(2) {
        let d = pair[1] - pair[0];
        let long = d.length();
        while next < long {
            let p = lerp(pair[0], pair[1], next / long);
            let side = d.unit().left();
            out.push(vec![p + side * left, p + side * (-right)]);
            next += every;
        }
        next -= long;
    }
    out
}

fn rungs(run: &[PaperPoint]) -> Vec<Mark> {
    let half = look::SEALED_APART / 2.0;
    vec![draw::lines(
        &across(run, 3.0, half, half),
        look::pen(0.5, look::GREEN),
    )]
}

fn ticks(run: &[PaperPoint]) -> Vec<Mark> {
    vec![draw::lines(
        &across(run, 2.0, 1.0, 1.0),
        look::pen(0.35, crate::ink::BLACK),
    )]
}

fn band(run: &[PaperPoint]) -> Vec<Mark> {
    let half = look::LEAST_BAND / 2.0;
    let mut ring = draw::beside(run, half);
    ring.extend(draw::beside(run, -half).into_iter().rev());
    vec![draw::polygon(&ring, Some(look::FINE), Some(look::SKY))]
}

/// Whether an area is so small on paper that a heavy rim would hide its color.
fn is_tiny(rings: &[Vec<PaperPoint>]) -> bool {
    let around = Box2::of(&rings.iter().flatten().copied().collect::<Vec<_>>());
    around.width().max(around.height()) < 3.0
}

fn rim(rings: &[Vec<PaperPoint>]) -> Stroke {
    if is_tiny(rings) {
        look::pen(0.22, crate::ink::BLACK)
    } else {
        look::SPOT
    }
}

fn area(fate: Fate, rings: &[Vec<PaperPoint>]) -> Vec<Mark> {
    match fate {
        Fate::Surface => {
            let mut marks = vec![draw::rings(rings, None, Some(look::PALE_YELLOW))];
            for ring in rings {
                let mut closed = ring.clone();
                closed.extend(ring.first().copied());
                let cut = if is_tiny(rings) {
                    vec![closed]
                } else {
                    dash::cut(&closed, look::DASHED)
                };
                let pen = Stroke {
                    round: false,
                    ..rim(rings)
                };
                marks.push(draw::lines(&cut, pen));
            }
            marks
        }
        Fate::Uncoated => {
            let lines = hatch::lines(rings, 135.0, look::HATCH_SPACING);
            let hatch = draw::lines(&lines, look::HATCH);
            vec![
                draw::rings(rings, None, Some(WHITE)),
                Mark::Group(draw::group("", "hatch", vec![hatch])),
                draw::rings(rings, Some(look::FINE), None),
            ]
        }
        Fate::LowSpot => vec![draw::rings(rings, Some(look::SPOT), Some(look::SKY))],
        _ => vec![draw::rings(rings, Some(rim(rings)), Some(look::ORANGE))],
    }
}

/// The coated floor as a tint.
fn floor(inputs: &Inputs, view: &View) -> Group {
    let ring = open(view.path(&inputs.slab.outline.path));
    draw::group(
        "floor",
        "floor",
        vec![draw::polygon(&ring, None, Some(look::FLOOR))],
    )
}

/// Stretches outside the coated area.
fn beyond(sorted: &Sorted, view: &View) -> Vec<Group> {
    let runs: Vec<_> = sorted
        .beyond
        .iter()
        .flat_map(|(path, on)| view.stretches(path, on))
        .collect();
    if runs.is_empty() {
        return Vec::new();
    }
    vec![draw::group(
        "",
        "outside",
        vec![draw::lines(&runs, look::pen(0.25, crate::ink::BLACK))],
    )]
}

fn standing(zones: &[Zone], view: &View, clear: &mut Clear) -> Vec<Group> {
    let mut order: Vec<&Zone> = zones.iter().collect();
    order.sort_by(|a, b| a.id.cmp(&b.id));
    let rings: Vec<Vec<_>> = order
        .iter()
        .map(|z| z.shape.rings.iter().map(|r| open(view.path(r))).collect())
        .collect();
    let mut out = Vec::new();
    for rings in &rings {
        rings.iter().for_each(|r| clear.add_ring(r));
        let shape = draw::rings(rings, Some(look::FINE), Some(look::STANDING));
        out.push(draw::group("", "fixture", vec![shape]));
    }
    for (zone, rings) in order.iter().zip(&rings) {
        let name = inside_name(zone, rings, clear);
        out.extend(name.map(|mark| draw::group("", "name", vec![mark])));
    }
    out
}

/// The name of a thing that stands on the floor, where there is room in it.
fn inside_name(zone: &Zone, rings: &[Vec<PaperPoint>], clear: &mut Clear) -> Option<Mark> {
    let name = words::clean(zone.what.as_deref()?);
    let middle = Box2::of(rings.first()?).center();
    let label = Label::level(middle, &name, look::body());
    let fits = clear.is_free(&label.slip, 0.8) && hatch::contains(rings, middle);
    fits.then(|| {
        clear.add(label.slip);
        Mark::Text(label.mark)
    })
}

/// The edge of the slab, dashed along openings.
fn edge(inputs: &Inputs, view: &View, clear: &mut Clear) -> Group {
    let mut marks = Vec::new();
    for (i, wall) in inputs.slab.outline.walls.iter().enumerate() {
        let mut from = 0.0;
        let mut openings: Vec<(f64, f64)> = inputs
            .slab
            .openings
            .iter()
            .filter(|o| o.wall == i + 1)
            .map(|o| (o.from_m, o.to_m))
            .collect();
        openings.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut solid = Vec::new();
        for (a, b) in openings {
            solid.push(view.path(&wall.part(from, a)));
            let gap = view.path(&wall.part(a, b));
            marks.push(draw::lines(
                &dash::cut(&gap, look::DASHED),
                look::pen(0.35, crate::ink::BLACK),
            ));
            from = from.max(b);
        }
        solid.push(view.path(&wall.part(from, wall.length())));
        solid.retain(|run| run.len() > 1);
        marks.push(draw::lines(&solid, look::EDGE));
        clear.add_edge(&view.path(wall));
    }
    draw::group("slab-edge", "outline", marks)
}

/// Names of doors, outside the slab beside them, so that everybody finds which way the drawing lies.
fn names(inputs: &Inputs, view: &View, clear: &mut Clear) -> Vec<Group> {
    let outline = &inputs.slab.outline;
    let mut order: Vec<_> = inputs.slab.openings.iter().collect();
    order.sort_by(|a, b| a.wall.cmp(&b.wall).then(a.from_m.total_cmp(&b.from_m)));
    let mut out = Vec::new();
    for opening in order {
        let Some(name) = opening.name.as_deref().map(words::clean) else {
            continue;
        };
        let middle = opening.path.length() / 2.0;
        let p = view.point(opening.path.point_at(middle));
        let along = view.direction(opening.path.direction_at(middle));
        let left = along.left();
        let away = if outline.counter_clockwise {
            -left
        } else {
            left
        };
        let type_ = look::body();
        let places = [0.0, 8.0, -8.0, 16.0, -16.0].map(|slide| {
            let start = p + along * slide + away * NAME_GAP;
            // Slanting text would keep marks off a whole square of paper.
            let square = along.x.abs().min(along.y.abs()) < SLANT;
            let reads = if square { along } else { by(1.0, 0.0) };
            beside(start, &name, type_, reads, away)
        });
        if let Some(label) = Label::first_free(clear, 0.6, places) {
            clear.add(label.slip);
            out.push(draw::group("", "name", vec![Mark::Text(label.mark)]));
        }
    }
    out
}

/// A name that touches a point with the side it turns to the floor.
fn beside(
    start: PaperPoint,
    name: &str,
    type_: super::super::style::Type,
    reads: Shift,
    away: Shift,
) -> Label {
    let slip = Label::centered(start, name, type_, reads).slip;
    // Away from a slanting wall a level name starts at its corner; away from a straight one it stands at the middle.
    let side = |axis: Shift, half: f64| {
        let share = axis.dot(away);
        let reach = if share.abs() < SQUARE { 0.0 } else { half };
        axis * (reach * share.signum())
    };
    let shift = side(slip.along, slip.half_along) + side(slip.along.left(), slip.half_across);
    Label::centered(start + shift, name, type_, reads)
}
