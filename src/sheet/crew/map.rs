//! One map of the set: the whole floor, a window of it, or a crowded window at a larger scale.

use kurbo::Rect;

use crate::ink::{Group, Mark};
use crate::slab::Slab;
use crate::takeoff::Takeoff;
use crate::takeoff::wanted::Wanted;

use super::super::Inputs;
use super::super::clear::Slip;
use super::super::dash;
use super::super::draw;
use super::super::label::Label;
use super::super::layout::Layout;
use super::super::legend::Symbol;
use super::super::mm::Box2;
use super::super::plan::{self, PEN, Part, Plan};
use super::super::split::grid::Grid;
use super::super::split::{clip, match_line, part};
use super::super::style;
use super::super::view::View;

/// Layers that stand around the floor as much as on it.
const NOT_CUT: [&str; 3] = ["dims", "labels", "locating"];

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
    /// What it shows.
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
    /// Windows that are drawn larger, on paper.
    pub frames: Vec<Box2>,
}

impl Map {
    /// How the floor lies on the sheet.
    #[must_use]
    pub fn view(&self) -> View {
        View::centered(self.layout.scale, self.window, self.layout.center())
    }

    /// Draws it.
    #[must_use]
    pub fn draw(&self, inputs: &Inputs, grid: Option<&Grid>, numbers: &[String]) -> Drawn {
        let view = self.view();
        let mut drawn = match self.shows {
            Shows::Whole => {
                let plan =
                    plan::draw(inputs, None, &view, &self.layout.room(), &self.framed(&view));
                let sizes = vec![f64::INFINITY; plan.tags.len()];
                Drawn { plan, view, sizes, frames: Vec::new() }
            }
            _ => self.draw_part(inputs, grid, numbers, view),
        };
        drawn.plan.used.insert(Symbol::Running);
        self.frame_names(&mut drawn);
        drawn
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
        let mut plan =
            plan::draw(&own, Some(from), &view, &self.layout.room(), &self.framed(&view));
        let inside = view.rectangle(self.window);
        cut(&mut plan, &inside);
        drop_overall(&mut plan, &sides, &self.shows);
        let lines = match_line::draw((inputs.slab, &slab), &sides, numbers, &view, &mut plan.clear);
        plan.groups.push(layer("match-lines", lines));
        if self.shows == Shows::Enlarged {
            let edge = plan::frame(&view, self.window);
            plan.groups.push(layer("window", vec![framed(&edge, "window-edge")]));
        }
        let mut sizes = Vec::new();
        let grown = inside.grown(PEN);
        plan.tags.retain_mut(|tag| {
            let kept = clip::feature(&tag.feature, &grown);
            kept.is_some_and(|(feature, size)| {
                tag.feature = feature;
                sizes.push(size);
                true
            })
        });
        Drawn { plan, view, sizes, frames: Vec::new() }
    }

    /// Frames with the number of the sheet that draws them larger; no tag stands inside.
    fn frame_names(&self, drawn: &mut Drawn) {
        let (mut groups, mut names) = (Vec::new(), Vec::new());
        let view = drawn.view;
        for (i, (window, number)) in self.frames.iter().enumerate() {
            let area = view.rectangle(*window);
            drawn.plan.solids.push(area.corners().to_vec());
            drawn.frames.push(area);
            groups.push(framed(&area, &format!("frame-{}", i + 1)));
            let mut marks = Vec::new();
            if let Some(label) = frame_label(&area, number, &drawn.plan.clear) {
                drawn.plan.clear.add(label.slip);
                let ground = name_ground(&label).corners();
                marks.push(draw::polygon(&ground, None, Some(crate::ink::WHITE)));
                marks.push(Mark::Text(label.mark));
            }
            names.push(draw::group(format!("frame-name-{}", i + 1), "label", marks));
        }
        // No other frame strikes through a name.
        groups.extend(names);
        if !groups.is_empty() {
            // Behind dimensions and numbers, which have a white ground.
            let front = |g: &Group| NOT_CUT.contains(&g.id.as_str());
            let groups_of = &mut drawn.plan.groups;
            let at = groups_of.iter().position(front).unwrap_or(groups_of.len());
            groups_of.insert(at, layer("frames", groups));
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

/// `SEE S-401` on the first free place along a frame, outside before inside.
fn frame_label(area: &Box2, number: &str, clear: &super::super::clear::Clear) -> Option<Label> {
    use super::super::mm::at;
    let (type_, c) = (style::strong(), area.center());
    let mut places = Vec::new();
    for text in [format!("TAGS: SEE {number}"), format!("SEE {number}"), number.to_owned()] {
        let half = super::super::words::width(&text, type_) / 2.0;
        for off in [2.4, 3.6, 5.2, -2.4, -3.6, -6.0, 8.0, 12.0] {
            let xs = [c.x, area.left + half, area.right - half, area.left, area.right];
            for x in xs {
                places.push(at(x, area.top - off));
                places.push(at(x, area.bottom + off));
            }
            places.push(at(area.right + half + off - 1.0, c.y));
            places.push(at(area.left - half - off + 1.0, c.y));
        }
        let labels = places.drain(..).map(|p| Label::level(p, &text, type_));
        let on_sheet = |l: &Label| clear.bounds().holds(&name_ground(l).bounds());
        let labels = labels.filter(on_sheet);
        if let Some(found) = Label::first_free(clear, 0.5, labels) {
            return Some(found);
        }
    }
    // The name must stand: in the middle, over whatever is there.
    let label = Label::level(c, number, type_);
    (clear.bounds().holds(&Slip::upright(area).bounds())).then_some(label)
}

fn layer(id: &str, groups: Vec<Group>) -> Group {
    draw::group(id, "", groups.into_iter().map(Mark::Group).collect())
}

/// Cuts what lies on the floor to the window.
fn cut(plan: &mut Plan, inside: &Box2) {
    let window = inside.grown(PEN);
    for group in &mut plan.groups {
        if !NOT_CUT.contains(&group.id.as_str()) {
            let cut = clip::group(std::mem::take(group), &window);
            *group = cut.unwrap_or_default();
        }
    }
    plan.groups.retain(|g| !g.marks.is_empty());
    for ring in &mut plan.solids {
        *ring = clip::ring(ring, &window);
    }
    plan.solids.retain(|r| r.len() > 2);
}

/// A length over a whole window says nothing where the running dimensions of a match line say it, or where the window ends at no line
/// that can be found on the floor.
fn drop_overall(plan: &mut Plan, sides: &[match_line::Side], shows: &Shows) {
    let below = sides.iter().any(|s| s.out.y > 0.5);
    let left = sides.iter().any(|s| s.out.x < -0.5);
    for group in plan.groups.iter_mut().filter(|g| g.id == "dims") {
        group.marks.retain(|m| match m {
            Mark::Group(g) if g.id == "dim-overall-width" => !below && *shows != Shows::Enlarged,
            Mark::Group(g) if g.id == "dim-overall-height" => !left && *shows != Shows::Enlarged,
            _ => true,
        });
    }
}
