//! The floor as drawn: slab edge, zones, joints, cracks, patches, bands, tests, each item one group with its id.

mod areas;
mod faces;
mod fill;
mod levels;
mod lines;
mod locating;
mod names;
mod nearest;
mod panels;
mod points;
mod pour;
mod steps;

pub use areas::hollow_marks;
pub use fill::{ARROW, Beside, Filled, PEN, Work, cartridge_mark, fill, order_mark};
pub use levels::{flatness_words, low_mark, row_marks};
pub use lines::{joint_line, width_class};
pub use locating::locating_mark;
pub use panels::PanelName;
pub use points::{hardness_mark, height_mark, moisture_mark, wanted_mark};
pub use pour::{pour, pour_line};
pub use steps::{LEAST_SEEN, has_length};

use std::collections::BTreeSet;

use kurbo::{Point, Rect};

use crate::geometry::path::Path;
use crate::geometry::region::Region;
use crate::ink::{Group, Mark, PaperPoint};
use crate::quantity::Units;
use crate::quantity::write;
use crate::slab::{Slab, wall_pieces};

use super::Inputs;
use super::dimensions;
use super::legend::Symbol;
use super::split::{clip, match_line};
use super::view::View;
use crate::paper::clear::{Clear, Slip};
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, by};
use crate::paper::style;
use crate::paper::words;
use crate::tags::{Standing, Tag};
use nearest::Kin;

/// How far past the walls a thing is drawn that reaches over them, mm: short of the first row of dimensions. Past a match line or a frame
/// it is drawn by its pen.
const OVERHANG: f64 = 6.0;

/// How the ids of texts start that say the size of an item.
const SIZE_OF: &str = "text-";

/// How far past that the middle of a text may stand, mm.
const BESIDE: f64 = 10.0;

/// What lies this close to the edge of a window is in it, m.
const ON_EDGE_M: f64 = 1e-3;

/// A floor drawn on paper, with what the rest of the sheet has to know about it.
#[derive(Debug)]
pub struct Plan {
    /// Groups, back to front.
    pub groups: Vec<Group>,
    /// Symbols that were used, for the legend.
    pub used: BTreeSet<Symbol>,
    /// What stands where.
    pub clear: Clear,
    /// Items that want a tag.
    pub tags: Vec<Tag>,
    /// Tags that stand inside their own object.
    pub fixed: Vec<Group>,
    /// Their boxes, mm.
    pub fixed_areas: Vec<Box2>,
    /// Things standing on the slab, as rings: no other tag stands on them.
    pub solids: Vec<Vec<PaperPoint>>,
    /// Windows that are drawn larger on another sheet.
    pub framed: Vec<Box2>,
    /// Names, numbers and dimensions that stand on the plan.
    pub shown: BTreeSet<Remark>,
    /// Those that found no room on it, of what lies in its window.
    pub remarks: BTreeSet<Remark>,
    /// Sizes that give way where a tag would find no room: their ids and places.
    pub sizes: Vec<(String, Slip)>,
    /// Panels whose numbers found no room before the tags.
    pub unnumbered: Vec<PanelName>,
    /// Panels that have theirs, with its place.
    numbered: Vec<(Slip, PanelName)>,
}

/// A name, number or dimension that stands on a plan, or is said in words where there is no room for it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Remark {
    /// Name of an opening, by its index on the whole floor.
    Opening(usize),
    /// Number of a corner, counted from 1.
    Corner(usize),
    /// Dimension of a wall, counted from 1.
    Wall(usize),
    /// Number of a panel: `P1`.
    Panel(String),
}

impl Plan {
    /// What tags keep off besides lines and text.
    #[must_use]
    pub fn standing(&self) -> Standing<'_> {
        Standing { solids: &self.solids, tags: &self.fixed_areas, framed: &self.framed }
    }

    /// How many names, numbers and dimensions found no room.
    #[must_use]
    pub fn left_out(&self) -> usize {
        self.remarks.len() + self.unnumbered.len()
    }
}

/// What a plan is a part of.
#[derive(Clone, Copy, Debug)]
pub struct Part<'a> {
    /// The floor that the part is cut from.
    pub whole: &'a Slab,
    /// What of the floor is drawn.
    pub window: Rect,
    /// Whether it has a frame, being drawn larger than another plan.
    pub framed: bool,
    /// Its sides beyond which another sheet goes on.
    pub sides: &'a [match_line::Side],
}

impl Part<'_> {
    fn shows(&self, p: Point) -> bool {
        self.window.inflate(ON_EDGE_M, ON_EDGE_M).contains(p)
    }

    /// Where it is drawn, on paper: up to its match lines or its frame, and a little past its walls.
    #[must_use]
    pub fn over(&self, view: &View) -> Box2 {
        let goes_on = |x: f64, y: f64| {
            self.framed || self.sides.iter().any(|s| s.out.x * x + s.out.y * y > 0.5)
        };
        let past = |x, y| if goes_on(x, y) { PEN } else { OVERHANG };
        let w = view.rectangle(self.window);
        Box2::new(
            w.left - past(-1.0, 0.0),
            w.top - past(0.0, -1.0),
            w.right + past(1.0, 0.0),
            w.bottom + past(0.0, 1.0),
        )
    }
}

/// A plan being drawn.
struct Drawing<'a> {
    inputs: &'a Inputs<'a>,
    part: Option<Part<'a>>,
    view: &'a View,
    used: BTreeSet<Symbol>,
    clear: Clear,
    tags: Vec<Tag>,
    /// Tags that had better stand inside their own object.
    own_tags: Vec<(Tag, Vec<Vec<PaperPoint>>)>,
    fixed: Vec<Group>,
    fixed_areas: Vec<Box2>,
    solids: Vec<Vec<PaperPoint>>,
    shown: BTreeSet<Remark>,
    remarks: BTreeSet<Remark>,
    unnumbered: Vec<PanelName>,
    numbered: Vec<(Slip, PanelName)>,
    /// Text that goes on top of every line.
    labels: Vec<Group>,
    /// Sizes among it that stand in the schedule too.
    sizes: Vec<(String, Slip)>,
}

/// Draws the floor inside a window of the sheet; `part` says where the floor of the inputs was cut from another, `frames` what will
/// be framed on it.
#[must_use]
pub fn draw(
    inputs: &Inputs,
    part: Option<Part>,
    view: &View,
    window: &Box2,
    frames: &[Box2],
) -> Plan {
    let mut d = Drawing::new(inputs, part, view, window);
    for frame in frames {
        d.clear.add_ring(&frame.corners());
    }
    let areas = d.areas();
    let joints = d.joints();
    let cracks = d.cracks();
    let patches = d.patches();
    let steps = d.steps();
    let faces = d.faces();
    let outline = d.outline();
    let points = d.points();
    let rows = d.level_rows();
    let mut groups =
        d.cut(vec![areas, joints, cracks, patches, steps, faces, outline, rows, points]);
    let kin = |id: &str| Kin::of(groups.iter().find(|g| g.id == id));
    let (joints, patches, steps) = (kin("joints"), kin("patches"), kin("steps"));
    let walls = dimensions::walls(inputs.slab, d.whole(), view, &mut d.clear);
    d.shown.extend(walls.shown.into_iter().map(Remark::Wall));
    d.remarks.extend(walls.left_out.into_iter().map(Remark::Wall));
    let mut dims = walls.groups;
    dims.extend(dimensions::overall(inputs.slab, view, &mut d.clear));
    let corners = d.corners();
    d.tags_inside();
    d.opening_names();
    d.joint_texts(&joints);
    d.step_texts(&steps);
    d.patch_texts(&patches);
    d.heights();
    d.level_texts();
    d.face_texts();
    let locating = d.locating();
    d.panel_numbers();
    let over = d.over();
    // What lies under a thing that stands on the slab is nowhere to be pointed at.
    d.tags.retain(|t| !t.feature.is_empty());
    for tag in &mut d.tags {
        if let Some((feature, _)) = clip::feature(&tag.feature, &over) {
            tag.feature = feature;
        }
    }
    hatch::break_behind(&mut groups, &d.clear);
    groups.extend([
        layer("dims", corners.into_iter().chain(dims).collect()),
        layer("locating", locating),
        layer("labels", std::mem::take(&mut d.labels)),
    ]);
    Plan {
        groups,
        used: d.used,
        clear: d.clear,
        tags: d.tags,
        fixed: d.fixed,
        fixed_areas: d.fixed_areas,
        solids: d.solids,
        framed: Vec::new(),
        shown: d.shown,
        remarks: d.remarks,
        sizes: d.sizes,
        unnumbered: d.unnumbered,
        numbered: d.numbered,
    }
}

/// A layer of the drawing: a group of groups.
fn layer(id: &str, groups: Vec<Group>) -> Group {
    draw::group(id, "", groups.into_iter().map(Mark::Group).collect())
}

/// What is drawn around a part of a floor: match lines, or the frame of an enlarged plan.
fn around(part: Option<Part>, view: &View, window: &Box2) -> Clear {
    let mut clear = Clear::new(*window);
    let Some(part) = part else {
        return clear;
    };
    for ends in match_line::pieces(part.whole, part.sides) {
        clear.add_edge(&ends.map(|p| view.point(p)));
    }
    if part.framed {
        clear.add_ring(&frame(view, part.window).corners());
    }
    clear
}

/// The frame of an enlarged plan.
#[must_use]
pub fn frame(view: &View, window: Rect) -> Box2 {
    view.rectangle(window).grown(0.5)
}

impl<'a> Drawing<'a> {
    fn new(inputs: &'a Inputs<'a>, part: Option<Part<'a>>, view: &'a View, window: &Box2) -> Self {
        Self {
            inputs,
            part,
            view,
            used: BTreeSet::new(),
            clear: around(part, view, window),
            tags: Vec::new(),
            own_tags: Vec::new(),
            fixed: Vec::new(),
            fixed_areas: Vec::new(),
            solids: Vec::new(),
            shown: BTreeSet::new(),
            remarks: BTreeSet::new(),
            unnumbered: Vec::new(),
            numbered: Vec::new(),
            labels: Vec::new(),
            sizes: Vec::new(),
        }
    }

    /// The whole floor.
    fn whole(&self) -> &'a Slab {
        self.part.map_or(self.inputs.slab, |p| p.whole)
    }

    /// Whether a point is in the window.
    fn shows(&self, p: Point) -> bool {
        self.part.is_none_or(|part| part.shows(p))
    }

    /// Where the floor is drawn, on paper.
    fn over(&self) -> Box2 {
        match self.part {
            Some(part) => part.over(self.view),
            None => {
                let floor = self.inputs.slab.outline.path.bounds();
                self.view.rectangle(floor).grown(OVERHANG)
            }
        }
    }

    /// Groups without what lies far past the walls.
    fn cut(&self, groups: Vec<Group>) -> Vec<Group> {
        let over = self.over();
        let cut = groups.into_iter().filter_map(|g| clip::group(g, &over));
        cut.collect()
    }

    /// The floor by which a crew finds its way: edge, openings, what stands on it and what stays uncoated, without tags.
    fn floor(&mut self) -> Vec<Group> {
        let slab = self.inputs.slab;
        let nothing = Region::empty();
        let tiers = slab.tiers.iter().map(|t| self.tier(t, &nothing));
        let mut groups: Vec<Group> = tiers.collect();
        groups.extend(slab.uncoated.iter().map(|z| self.uncoated(z)));
        groups.extend(slab.keep_outs.iter().map(|z| self.keep_out(z)));
        self.tags.clear();
        self.own_tags.clear();
        let outline = self.outline();
        self.cut(vec![layer("areas", groups), outline])
    }
}

impl Drawing<'_> {
    const fn units(&self) -> Units {
        self.inputs.slab.units
    }

    /// A thickness, width or step in capitals.
    fn small(&self, m: f64) -> String {
        write::small(m, self.units()).to_uppercase()
    }

    /// Feet or meters of something that is counted.
    fn run(&self, m: f64) -> String {
        write::run(m, self.units()).to_uppercase()
    }

    /// A width and a depth, or two sides, in one unit.
    fn pair(&self, a_m: f64, b_m: f64) -> String {
        crate::quantity::tape::pair(a_m, b_m, self.units()).to_uppercase()
    }

    /// Puts a label on the sheet if one of its places is blank and beside what is drawn of the floor: words about what lies past
    /// the walls would stand alone.
    fn put_beside(
        &mut self,
        id: &str,
        clear: f64,
        places: impl IntoIterator<Item = Label>,
    ) -> bool {
        let near = self.over().grown(BESIDE);
        let places = places.into_iter();
        self.put_label(id, clear, places.filter(|l| near.contains(l.slip.center)))
    }

    /// Puts a label on the sheet if one of its places is blank.
    fn put_label(&mut self, id: &str, clear: f64, places: impl IntoIterator<Item = Label>) -> bool {
        let Some(label) = Label::first_free(&self.clear, clear, places) else {
            return false;
        };
        self.clear.add(label.slip);
        if id.starts_with(SIZE_OF) {
            self.sizes.push((id.to_owned(), label.slip));
        }
        // The hatch is broken behind text.
        let ground =
            draw::polygon(&label.slip.grown(0.25).corners(), None, Some(crate::ink::WHITE));
        self.labels.push(draw::group(id, "label", vec![ground, Mark::Text(label.mark)]));
        true
    }

    /// The slab edge: heavy along walls, dashed between jambs along openings.
    fn outline(&mut self) -> Group {
        let slab = self.inputs.slab;
        let mut solid = Vec::new();
        let mut marks = Vec::new();
        for (wall, pieces) in wall_pieces(&slab.outline, &slab.openings) {
            for piece in pieces {
                let (from, to) = (piece.on.from_m, piece.on.to_m);
                match piece.opening {
                    None => solid.extend(self.edge_part(wall, from, to)),
                    Some(_) => marks.extend(self.opening(wall, from, to)),
                }
            }
        }
        let mut round = style::OUTLINE;
        round.round = true;
        marks.insert(0, draw::lines(&solid, round));
        let mut outline = draw::group("slab-edge", "outline", marks);
        outline.title = format!("Slab edge, {} corners", slab.outline.corners.len());
        layer("outline", vec![outline])
    }

    fn edge_part(&mut self, wall: &Path, from: f64, to: f64) -> Option<Vec<PaperPoint>> {
        let points = self.view.path(&wall.part(from, to));
        (points.len() > 1).then(|| {
            self.clear.add_edge(&points);
            points
        })
    }

    fn opening(&mut self, wall: &Path, from: f64, to: f64) -> Vec<Mark> {
        self.used.insert(Symbol::Opening);
        let points = self.view.path(&wall.part(from, to));
        self.clear.add_edge(&points);
        let mut marks = vec![draw::lines(&dash::cut(&points, dash::OPENING), style::OBJECT)];
        for station in [from, to] {
            let across = self.view.direction(wall.direction_at(station)).left() * 1.3;
            let p = self.view.point(wall.point_at(station));
            self.clear.add_line(&[p + across, p + (-across)]);
            marks.push(draw::line(p + across, p + (-across), style::OUTLINE));
        }
        marks
    }
}

#[cfg(test)]
mod tests;
