//! One map of the set: the whole floor, a window of it, or a crowded window at a larger scale.

use kurbo::Rect;

use crate::ink::{Align, Group, Mark, PaperPoint};
use crate::slab::Slab;
use crate::takeoff::Takeoff;
use crate::takeoff::wanted::Wanted;

use crate::paper::clear::{Clear, Slip, Thing};
use crate::paper::dash;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, at};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::layout::Layout;
use crate::sheet::legend::Symbol;
use crate::sheet::plan;
use crate::sheet::plan::{Part, Plan};
use crate::sheet::split::grid::Grid;
use crate::sheet::split::{clip, match_line, part};
use crate::sheet::view::View;

/// How the numbers of strips begin.
pub const STRIP: &str = "STRIP";
/// Layers that stand around the floor as much as on it.
const NOT_CUT: [&str; 3] = ["dims", "labels", "locating"];

/// Clear space around the name of a frame, mm.
const NAME_CLEAR: f64 = 0.5;
/// How far outside its frame a name may stand that has no place along it, mm.
const NAME_REACH: f64 = 14.0;
/// Step of the places tried for such a name, mm, and most steps along a side.
const NAME_STEP: f64 = 1.2;
const MOST_STEPS: f64 = 120.0;

/// What a map shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Shows {
    /// The whole floor.
    Whole,
    /// A window of a divided floor, by its index.
    Window(usize),
    /// A crowded window.
    Enlarged,
}

/// A map that is going to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Map {
    pub shows: Shows,
    /// Its part of the floor.
    pub window: Rect,
    /// How its sheet is divided.
    pub layout: Layout,
    /// Number of its sheet.
    pub number: String,
    /// Windows on it that are drawn larger, with the numbers of their sheets.
    pub frames: Vec<(Rect, String)>,
}

/// A map with everything but its tags.
#[derive(Debug)]
pub struct Drawn {
    /// What was drawn.
    pub plan: Plan,
    /// How the floor lies on the sheet.
    pub view: View,
    /// For every tag the size of what it points at on this sheet, mm.
    pub sizes: Vec<f64>,
}

impl Map {
    /// How the floor lies on the sheet.
    #[must_use]
    pub fn view(&self) -> View {
        View::centered(self.layout.scale, self.window, self.layout.center())
    }

    #[must_use]
    pub fn draw(&self, inputs: &Inputs, grid: Option<&Grid>, numbers: &[String]) -> Drawn {
        let view = self.view();
        let mut drawn = match self.shows {
            Shows::Whole => {
                let plan = plan::draw(inputs, None, &view, &self.layout.room(), &self.taken(&view));
                let sizes = vec![f64::INFINITY; plan.tags.len()];
                Drawn { plan, view, sizes }
            }
            _ => self.draw_part(inputs, grid, numbers, view),
        };
        drawn.plan.used.insert(Symbol::Running);
        self.frame_names(&mut drawn);
        drawn
    }

    /// What no text may stand on before anything is drawn: frames, and the name of a strip.
    fn taken(&self, view: &View) -> Vec<Box2> {
        let mut out = self.framed(view);
        if self.number.starts_with(STRIP) && matches!(self.shows, Shows::Window(_)) {
            let (corner, head) = (self.name_at(), style::head());
            let right = corner.x + words::width(&self.number, head);
            out.push(Box2::new(corner.x, corner.y - head.cap(), right, corner.y).grown(1.0));
        }
        out
    }

    /// Where the name of a strip begins, at its upper left.
    fn name_at(&self) -> PaperPoint {
        let area = &self.layout.plan;
        at(area.left + 4.0, area.top + 4.0 + style::head().cap())
    }

    pub fn strip_name(&self) -> Group {
        let text = draw::text(self.name_at(), &*self.number, style::head(), Align::Start);
        draw::group("", "view-title", vec![Mark::Text(text)])
    }

    /// Frames of the enlarged plans on paper.
    fn framed(&self, view: &View) -> Vec<Box2> {
        let frames = self.frames.iter();
        frames.map(|(window, _)| view.rectangle(*window)).collect()
    }

    fn draw_part(
        &self,
        inputs: &Inputs,
        grid: Option<&Grid>,
        numbers: &[String],
        view: View,
    ) -> Drawn {
        let seen_m = view.floor_length(plan::LEAST_SEEN);
        let (slab, takeoff): (Slab, Takeoff) =
            part::part(inputs.slab, inputs.takeoff, self.window, seen_m);
        let wanted = inputs.wanted();
        let here = |w: &Wanted| self.window.contains(w.at);
        let wanted: Vec<Wanted> = wanted.into_iter().filter(here).collect();
        let own = Inputs { slab: &slab, takeoff: &takeoff, wanted: Some(&wanted), ..*inputs };
        let sides = match (&self.shows, grid) {
            (Shows::Window(i), Some(grid)) => match_line::sides(grid, &grid.windows[*i]),
            _ => Vec::new(),
        };
        let from = Part {
            whole: inputs.slab,
            window: self.window,
            framed: self.shows == Shows::Enlarged,
            sides: &sides,
        };
        let mut plan = plan::draw(&own, Some(from), &view, &self.layout.room(), &self.taken(&view));
        let over = from.over(&view);
        cut(&mut plan, &over);
        drop_overall(&mut plan, &sides, &self.shows);
        let lines = match_line::draw((inputs.slab, &slab), &sides, numbers, &view, &mut plan.clear);
        plan.groups.push(layer("match-lines", lines));
        if self.shows == Shows::Enlarged {
            let edge = plan::frame(&view, self.window);
            plan.groups.push(layer("window", vec![framed(&edge, "window-edge")]));
        }
        let mut sizes = Vec::new();
        plan.tags.retain_mut(|tag| {
            let kept = clip::feature(&tag.feature, &over);
            kept.is_some_and(|(feature, size)| {
                tag.feature = feature;
                sizes.push(size);
                true
            })
        });
        Drawn { plan, view, sizes }
    }

    /// Frames, each with the number of the sheet that draws it larger. The tags of what is inside stand on that sheet. A tag of something
    /// beside a frame stands inside the frame where anything else leads it far off.
    fn frame_names(&self, drawn: &mut Drawn) {
        let (mut groups, mut names, mut over) = (Vec::new(), Vec::new(), Vec::new());
        let areas = self.framed(&drawn.view);
        for (i, (area, (_, number))) in areas.iter().zip(&self.frames).enumerate() {
            groups.push(framed(area, &format!("frame-{}", i + 1)));
            let others: Vec<Box2> = areas.iter().filter(|a| *a != area).copied().collect();
            let Some(name) = frame_name(area, &others, number, &drawn.plan.clear) else {
                continue;
            };
            let (label, layer) = match name {
                FrameName::Blank(label) => (label, &mut names),
                FrameName::Over(label) => (label, &mut over),
            };
            drawn.plan.clear.add(label.slip);
            let ground = name_ground(&label).corners();
            let ground = draw::polygon(&ground, None, Some(crate::ink::WHITE));
            let marks = vec![ground, Mark::Text(label.mark)];
            layer.push(draw::group(format!("frame-name-{}", i + 1), "label", marks));
        }
        drawn.plan.framed = areas;
        // No other frame strikes through a name.
        groups.extend(names);
        if !groups.is_empty() {
            // Behind dimensions and numbers, which have a white ground.
            let front = |g: &Group| NOT_CUT.contains(&g.id.as_str());
            let groups_of = &mut drawn.plan.groups;
            let at = groups_of.iter().position(front).unwrap_or(groups_of.len());
            groups_of.insert(at, layer("frames", groups));
        }
        if !over.is_empty() {
            drawn.plan.groups.push(layer("frame-names", over));
        }
    }
}

/// A heavy dashed frame.
fn framed(area: &Box2, id: &str) -> Group {
    let [a, b, c, d] = area.corners();
    let runs: Vec<_> = [[a, b], [b, c], [c, d], [d, a]]
        .iter()
        .flat_map(|side| dash::cut(side, dash::REMOVAL))
        .collect();
    draw::group(id, "frame outline", vec![draw::lines(&runs, style::OBJECT)])
}

/// The white ground of a frame's name: nothing beside it reads as a minus.
fn name_ground(label: &Label) -> Slip {
    label.slip.beside().grown(0.25)
}

/// The name of a frame in its place.
enum FrameName {
    /// On blank paper.
    Blank(Label),
    /// Over lines, which its ground breaks; it covers no text.
    Over(Label),
}

/// `SEE S-401` on the first free place along a frame, outside before inside; where there is none, the bare number anywhere inside or
/// near the frame, at last over as few lines as can be.
fn frame_name(area: &Box2, others: &[Box2], number: &str, clear: &Clear) -> Option<FrameName> {
    let type_ = style::strong();
    let on_sheet = |l: &Label| clear.bounds().holds(&name_ground(l).bounds());
    for text in [format!("TAGS: SEE {number}"), format!("SEE {number}"), number.to_owned()] {
        let half = words::width(&text, type_) / 2.0;
        let labels = along_frame(area, half).into_iter().map(|p| Label::level(p, &text, type_));
        if let Some(found) = Label::first_free(clear, NAME_CLEAR, labels.filter(on_sheet)) {
            return Some(FrameName::Blank(found));
        }
    }
    let named = |p: PaperPoint| Label::level(p, number, type_);
    // A name within another frame would be read as that frame's.
    let own = |l: &Label| !others.iter().any(|o| o.holds(&l.slip.bounds()));
    let near: Vec<Label> =
        near_frame(area).into_iter().map(named).filter(own).filter(on_sheet).collect();
    if let Some(found) = Label::first_free(clear, NAME_CLEAR, near.iter().cloned()) {
        return Some(FrameName::Blank(found));
    }
    let over_lines = |label: Label| {
        let ground = name_ground(&label).grown(NAME_CLEAR);
        let mut lines = 0;
        for thing in clear.touched(&ground) {
            match thing {
                Thing::Slip(_) | Thing::Symbol(_) => return None,
                Thing::Edge(..) | Thing::Line(..) | Thing::Soft(..) => lines += 1,
            }
        }
        Some((lines, label))
    };
    let found = near.into_iter().filter_map(over_lines).min_by_key(|(lines, _)| *lines);
    // The name must stand: in the middle, over whatever is there.
    let found = found.map_or_else(|| named(area.center()), |(_, label)| label);
    on_sheet(&found).then_some(FrameName::Over(found))
}

/// Places along a frame for the middle of a name of this half width: outside before inside, close before far.
fn along_frame(area: &Box2, half: f64) -> Vec<PaperPoint> {
    let c = area.center();
    let mut places = Vec::new();
    for off in [2.4, 3.6, 5.2, -2.4, -3.6, -6.0, 8.0, 12.0] {
        let xs = [c.x, area.left + half, area.right - half, area.left, area.right];
        for x in xs {
            places.push(at(x, area.top - off));
            places.push(at(x, area.bottom + off));
        }
        places.push(at(area.right + half + off - 1.0, c.y));
        places.push(at(area.left - half - off + 1.0, c.y));
    }
    places
}

/// Places of a lattice inside a frame, from its rim inward, then outside it, away from its rim.
fn near_frame(area: &Box2) -> Vec<PaperPoint> {
    let wide = area.grown(NAME_REACH);
    let count = |length: f64| (length / NAME_STEP).floor().clamp(0.0, MOST_STEPS) as usize;
    let (columns, rows) = (count(wide.width()), count(wide.height()));
    let place = |n: usize| {
        let (column, row) = (n % (columns + 1), n / (columns + 1));
        at(wide.left + column as f64 * NAME_STEP, wide.top + row as f64 * NAME_STEP)
    };
    // Inside negative, outside positive.
    let off = |p: PaperPoint| {
        let x = (area.left - p.x).max(p.x - area.right);
        x.max((area.top - p.y).max(p.y - area.bottom))
    };
    let mut places: Vec<PaperPoint> = (0..(columns + 1) * (rows + 1)).map(place).collect();
    places.sort_by(|a, b| {
        let (a, b) = (off(*a), off(*b));
        (a > 0.0).cmp(&(b > 0.0)).then(a.abs().total_cmp(&b.abs()))
    });
    places
}

fn layer(id: &str, groups: Vec<Group>) -> Group {
    draw::group(id, "", groups.into_iter().map(Mark::Group).collect())
}

/// Cuts what lies on the floor to where it is drawn.
fn cut(plan: &mut Plan, window: &Box2) {
    for group in &mut plan.groups {
        if !NOT_CUT.contains(&group.id.as_str()) {
            let cut = clip::group(std::mem::take(group), window);
            *group = cut.unwrap_or_default();
        }
    }
    plan.groups.retain(|g| !g.marks.is_empty());
    for ring in &mut plan.solids {
        *ring = clip::ring(ring, window);
    }
    plan.solids.retain(|r| r.len() > 2);
}

/// Drops the length over a whole window where it says nothing: the running dimensions of a match line beside it say it, or the window
/// ends at no line that can be found on the floor.
fn drop_overall(plan: &mut Plan, sides: &[match_line::Side], shows: &Shows) {
    let any = |x: f64, y: f64| sides.iter().any(|s| s.out.x * x + s.out.y * y > 0.5);
    let level = any(1.0, 0.0) || any(-1.0, 0.0);
    let upright = any(0.0, 1.0) || any(0.0, -1.0);
    let (below, left) = (any(0.0, 1.0), any(-1.0, 0.0));
    let framed = *shows == Shows::Enlarged;
    for group in plan.groups.iter_mut().filter(|g| g.id == "dims") {
        group.marks.retain(|m| match m {
            Mark::Group(g) if g.id == "dim-overall-width" => !(framed || level || below),
            Mark::Group(g) if g.id == "dim-overall-height" => !(framed || upright || left),
            _ => true,
        });
    }
}
