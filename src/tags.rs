//! What tag each item has, which outline tells its kind, and where its leader may end.

pub mod place;

use std::collections::BTreeSet;

use crate::ink::{Align, Group, Mark, PaperPoint, WHITE};

use self::place::{Leader, LeaderEnd, LeaderRule, PaperBox, Placement, Problem};
use crate::paper::clear::{Clear, OVER_TEXT, Slip, Thing};
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::paper::words;

/// Outline of a tag; the shape carries what color would.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outline {
    /// Joint.
    Square,
    /// Crack.
    Pill,
    /// Spall.
    Round,
    /// Patch.
    Double,
    /// Delamination.
    Slanted,
    /// Blemished area.
    Hexagon,
    /// Keep-out, uncoated part.
    Octagon,
    /// Step.
    Diamond,
    /// Moisture test.
    House,
}

/// What a leader points at.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// A line: runs on paper.
    Line(Vec<Vec<PaperPoint>>),
    /// An area: rings on paper.
    Area(Vec<Vec<PaperPoint>>),
    /// An area cut where the drawing ends: rings, and what is drawn of its rim.
    Cut(Vec<Vec<PaperPoint>>, Vec<Vec<PaperPoint>>),
    /// Points, any of which will do.
    Points(Vec<PaperPoint>),
}

impl Feature {
    /// Whether there is nothing to point at.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        match self {
            Self::Line(parts) | Self::Area(parts) | Self::Cut(parts, _) => parts.is_empty(),
            Self::Points(points) => points.is_empty(),
        }
    }
}

fn texts(id: &str, text: String) -> Vec<String> {
    if text == id { vec![text] } else { vec![text, id.to_owned()] }
}

/// An item that wants a tag.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// Id of the item.
    pub id: String,
    /// Text of the tag, and what it is cut down to where there is no room.
    pub texts: Vec<String>,
    /// Outline of the tag.
    pub outline: Outline,
    /// What its leader points at.
    pub feature: Feature,
}

impl Tag {
    #[must_use]
    pub fn line(id: &str, text: String, outline: Outline, runs: &[Vec<PaperPoint>]) -> Self {
        Self {
            id: id.to_owned(),
            texts: texts(id, text),
            outline,
            feature: Feature::Line(runs.to_vec()),
        }
    }

    #[must_use]
    pub fn area(id: &str, text: String, outline: Outline, rings: &[Vec<PaperPoint>]) -> Self {
        Self {
            id: id.to_owned(),
            texts: texts(id, text),
            outline,
            feature: Feature::Area(rings.to_vec()),
        }
    }

    /// For something of no size, or of several pieces.
    #[must_use]
    pub fn points(id: &str, text: String, outline: Outline, points: Vec<PaperPoint>) -> Self {
        Self {
            id: id.to_owned(),
            texts: texts(id, text),
            outline,
            feature: Feature::Points(points),
        }
    }
}

/// Air above and below the text of a tag, mm.
const AIR: f64 = 1.1;
/// Room between the corners of a text and the ellipse around it, mm.
const IN_ELLIPSE: f64 = 0.35;
/// Shortest leader, mm: an arrow head and a little line.
const SHORTEST_LEADER: f64 = 3.5;
/// Length and width of an arrow head, mm.
const ARROW: (f64, f64) = (2.4, 0.8);
/// Local fill below which tags may carry words beside their number; above it leaders grow long.
const SPACIOUS: f64 = 0.22;
/// A leader longer than this is too long for the sake of words, mm.
const LONG_FOR_WORDS: f64 = 15.0;
/// Radius of the dot at the end of a leader, mm.
const DOT_RADIUS: f64 = 0.6;
/// An area no wider than this is treated as a round thing with a rim, mm.
const SMALL_AREA: f64 = 4.0;

impl Outline {
    /// Room between a text so wide and the sides of the tag, mm.
    fn side(self, width: f64) -> f64 {
        match self {
            Self::Square | Self::Double => 1.3,
            Self::Pill => 1.9,
            // The corners of a long text would leave an ellipse that is no longer than the text and a little.
            Self::Round => {
                let strong = style::strong();
                let (letters, half) = (strong.cap() / 2.0 + IN_ELLIPSE, strong.cap() / 2.0 + AIR);
                let chord = (1.0 - (letters / half).powi(2)).sqrt();
                (width / 2.0 * (1.0 / chord - 1.0)).max(1.9)
            }
            Self::Slanted | Self::Hexagon | Self::Octagon | Self::House => 2.1,
            Self::Diamond => 2.9,
        }
    }
}

impl Tag {
    /// Width and height of its box, mm.
    #[must_use]
    pub fn size(&self, text: &str) -> (f64, f64) {
        let strong = style::strong();
        let more = if self.outline == Outline::Double { 1.2 } else { 0.0 };
        let wide = words::width(text, strong);
        let width = wide + 2.0 * self.outline.side(wide) + more;
        (width, strong.cap() + 2.0 * AIR + more)
    }

    /// The box around what it points at.
    #[must_use]
    pub fn around(&self) -> Box2 {
        let points: Vec<PaperPoint> = match &self.feature {
            Feature::Line(parts) | Feature::Area(parts) | Feature::Cut(parts, _) => parts.concat(),
            Feature::Points(points) => points.clone(),
        };
        Box2::of(&points)
    }

    /// The longest text with which the tag stands in the middle of its own area, clear of the edge, and its box there.
    #[must_use]
    pub fn inside(&self, rings: &[Vec<PaperPoint>]) -> Option<(String, Box2)> {
        let middle = Box2::of(rings.first()?).center();
        self.texts.iter().find_map(|text| {
            let (w, h) = self.size(text);
            let area = Box2::around(middle, w, h);
            let wide = crate::paper::clear::Slip::upright(&area.grown(style::TAG_CLEAR + 0.2));
            let edge = |r: &Vec<PaperPoint>| {
                (0..r.len()).any(|i| wide.meets_segment(r[i], r[(i + 1) % r.len()]))
            };
            let fits = !rings.iter().any(edge) && crate::paper::hatch::contains(rings, middle);
            fits.then(|| (text.clone(), area))
        })
    }

    fn feature(&self) -> place::Feature {
        match &self.feature {
            Feature::Line(runs) => place::Feature::Line(runs.clone()),
            Feature::Area(rings) => {
                let around = self.around();
                if around.width().max(around.height()) < SMALL_AREA {
                    let radius = around.width().min(around.height()) / 2.0;
                    return place::Feature::Points { at: vec![around.center()], radius };
                }
                place::Feature::Area(rings.clone())
            }
            Feature::Cut(rings, rim) => {
                place::Feature::Cut { rings: rings.clone(), rim: rim.clone() }
            }
            Feature::Points(points) => place::Feature::Points { at: points.clone(), radius: 0.0 },
        }
    }
}

/// What is on a plan besides lines and text.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'a> {
    /// Filled shapes.
    pub solids: &'a [Vec<PaperPoint>],
    /// Boxes of tags that stand inside their own object.
    pub tags: &'a [Box2],
    /// Windows that are drawn larger on another sheet.
    pub framed: &'a [Box2],
}

/// Finds a place for every tag around what is already on the sheet. On a crowded sheet tags carry the number alone; the schedule has the words.
#[must_use]
pub fn solve(tags: &mut [Tag], clear: &Clear, standing: Standing) -> Placement {
    let mut placement = solve_once(tags, clear, standing);
    if !placement.unplaced.is_empty() || placement.fill.share >= SPACIOUS {
        for tag in tags.iter_mut() {
            let keep = tag.outline == Outline::Hexagon && placement.unplaced.is_empty();
            if tag.texts.len() > 1 && !keep {
                tag.texts.remove(0);
            }
        }
        placement = solve_once(tags, clear, standing);
    }
    without_words_far_off(tags, &placement, clear, standing).unwrap_or(placement)
}

/// The placement with a bare number for each tag whose words cost it a long leader, if nothing is lost by it: a number beside its
/// item says more than words far off.
fn without_words_far_off(
    tags: &mut [Tag],
    placement: &Placement,
    clear: &Clear,
    standing: Standing,
) -> Option<Placement> {
    let is_far = |p: &place::Placed| {
        let long = |l: &Leader| (l.to - l.from).length() > LONG_FOR_WORDS;
        p.size == 0 && p.leader.as_ref().is_some_and(long)
    };
    let far: BTreeSet<&str> =
        placement.placed.iter().filter(|p| is_far(p)).map(|p| &*p.id).collect();
    let mut bare = tags.to_vec();
    let mut changed = false;
    for tag in &mut bare {
        if tag.texts.len() > 1 && far.contains(&*tag.id) {
            tag.texts.remove(0);
            changed = true;
        }
    }
    if !changed {
        return None;
    }
    let found = solve_once(&bare, clear, standing);
    let faults = |p: &Placement| (p.unplaced.len(), p.crossings);
    if faults(&found) > faults(placement) {
        return None;
    }
    tags.clone_from_slice(&bare);
    Some(found)
}

/// Room that a leader leaves before and behind a text, mm: half its head and a hair.
const BESIDE_TEXT: f64 = 0.5;

/// Adds text or a symbol to what is in the way of tags.
pub fn stand(problem: &mut Problem, thing: &Thing) {
    match thing {
        Thing::Slip(slip) => {
            let wide = Slip {
                half_along: slip.half_along + BESIDE_TEXT,
                half_across: slip.half_across + OVER_TEXT,
                ..*slip
            };
            problem.texts.push(wide.corners().to_vec());
        }
        Thing::Symbol(slip) => {
            let a = slip.bounds();
            let area = PaperBox::new(a.left, a.top, a.right, a.bottom);
            problem.boxes.push(area);
        }
        Thing::Edge(..) | Thing::Line(..) | Thing::Soft(..) => {}
    }
}

fn solve_once(tags: &[Tag], clear: &Clear, standing: Standing) -> Placement {
    let b = clear.bounds();
    let mut problem =
        Problem { zone: PaperBox::new(b.left, b.top, b.right, b.bottom), ..Problem::default() };
    problem.solids.extend(standing.solids.iter().cloned());
    let boxed = |b: &Box2| PaperBox::new(b.left, b.top, b.right, b.bottom);
    problem.standing.extend(standing.tags.iter().map(boxed));
    problem.reserved.extend(standing.framed.iter().map(boxed));
    for thing in clear.things() {
        match thing {
            Thing::Line(from, to) | Thing::Edge(from, to) => {
                problem.lines.push(place::Line { from: *from, to: *to, width: 0.35 })
            }
            Thing::Soft(from, to) => {
                problem.joints.push(place::Line { from: *from, to: *to, width: 0.25 })
            }
            Thing::Slip(_) | Thing::Symbol(_) => stand(&mut problem, thing),
        }
    }
    for tag in tags {
        problem.tags.push(place::Tag {
            id: tag.id.clone(),
            sizes: tag.texts.iter().map(|t| tag.size(t)).collect(),
            feature: tag.feature(),
            leader: LeaderRule::AtLeast(SHORTEST_LEADER),
        });
    }
    place::place(&problem)
}

/// Draws placed tags: the leaders below, the tags on top.
#[must_use]
pub fn draw(tags: &[Tag], fixed: Vec<Group>, placement: &Placement) -> (Group, Group) {
    let (mut leaders, mut boxes) =
        (Vec::new(), fixed.into_iter().map(Mark::Group).collect::<Vec<_>>());
    for placed in &placement.placed {
        let Some(tag) = tags.iter().find(|t| t.id == placed.id) else {
            continue;
        };
        if let Some(leader) = &placed.leader {
            leaders.push(Mark::Group(draw::group(
                format!("leader-{}", tag.id),
                "leader",
                leader_marks(leader),
            )));
        }
        let a = &placed.area;
        let text = tag.texts.get(placed.size).map_or("", String::as_str);
        boxes.push(Mark::Group(tag_group(tag, text, &Box2::new(a.left, a.top, a.right, a.bottom))));
    }
    (draw::group("leaders", "", leaders), draw::group("tags", "", boxes))
}

fn leader_marks(leader: &Leader) -> Vec<Mark> {
    let line = draw::line(leader.from, leader.to, style::FINE);
    let end = match leader.end {
        LeaderEnd::Dot => draw::circle(leader.from, DOT_RADIUS, None, Some(crate::ink::BLACK)),
        LeaderEnd::Arrow => {
            let back = (leader.to - leader.from).unit();
            let foot = leader.from + back * ARROW.0;
            let side = back.left() * (ARROW.1 / 2.0);
            draw::polygon(
                &[leader.from, foot + side, foot + (-side)],
                None,
                Some(crate::ink::BLACK),
            )
        }
    };
    vec![line, end]
}

/// A tag in its box.
#[must_use]
pub fn tag_group(tag: &Tag, text: &str, area: &Box2) -> Group {
    let strong = style::strong();
    let mut marks = outline_marks(tag.outline, area);
    let base = at(area.center().x, area.center().y + strong.cap() / 2.0);
    let mut mark = draw::text(base, text, strong, Align::Middle);
    mark.width = Some(words::width(text, strong));
    marks.push(Mark::Text(mark));
    draw::group(format!("tag-{}", tag.id), "tag", marks)
}

/// The outline that tells the kind.
fn outline_marks(outline: Outline, area: &Box2) -> Vec<Mark> {
    let (pen, fill) = (Some(style::FINE), Some(WHITE));
    let half = area.height() / 2.0;
    let (l, t, r, b) = (area.left, area.top, area.right, area.bottom);
    let cut = |c: f64, d: f64| {
        vec![
            at(l + c, t),
            at(r - c, t),
            at(r, t + d),
            at(r, b - d),
            at(r - c, b),
            at(l + c, b),
            at(l, b - d),
            at(l, t + d),
        ]
    };
    let ends = |c: f64| {
        vec![
            at(l + c, t),
            at(r - c, t),
            at(r, t + half),
            at(r - c, b),
            at(l + c, b),
            at(l, t + half),
        ]
    };
    match outline {
        Outline::Square => vec![draw::rectangle(area, pen, fill)],
        Outline::Double => {
            vec![draw::rectangle(area, pen, fill), draw::rectangle(&area.grown(-0.6), pen, None)]
        }
        Outline::Pill => vec![draw::rounded(area, half, half, pen, fill)],
        Outline::Round => vec![draw::rounded(area, area.width() / 2.0, half, pen, fill)],
        Outline::Slanted => {
            vec![draw::polygon(&[at(l + 1.4, t), at(r, t), at(r - 1.4, b), at(l, b)], pen, fill)]
        }
        Outline::Hexagon => vec![draw::polygon(&ends(1.4), pen, fill)],
        Outline::Diamond => vec![draw::polygon(&ends(2.6), pen, fill)],
        Outline::Octagon => vec![draw::polygon(&cut(1.3, 1.3), pen, fill)],
        Outline::House => {
            let c = area.center();
            let roof = c + by(0.0, -half);
            vec![draw::polygon(
                &[roof, at(r, t + half * 0.5), at(r, b), at(l, b), at(l, t + half * 0.5)],
                pen,
                fill,
            )]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The corners of a text lie inside the ellipse of its tag, however long it is, so that no line outside the tag runs through them.
    #[test]
    fn an_ellipse_holds_the_corners_of_its_text() {
        for id in ["S1", "S123", "S1000000091", "S100000000000001"] {
            let tag = Tag::area(id, id.to_owned(), Outline::Round, &[]);
            let (w, h) = tag.size(id);
            let strong = style::strong();
            let (x, y) = (words::width(id, strong) / w, (strong.cap() + 0.6) / h);
            assert!(x * x + y * y < 1.0, "{id}: {w} × {h}");
        }
    }
}
