//! The key: a line for every letter, color and pattern on the plan, in plain words.

use std::collections::BTreeMap;

use crate::ink::{Align, Group, Mark, WHITE};

use super::super::Inputs;
use super::super::draw;
use super::super::mm::{Box2, at, by};
use super::super::words;
use super::fate::{self, Fate};
use super::floor::Shape;
use super::look;
use super::marks;
use super::say;
use super::sort::Sorted;
use super::symbol;

/// What a line of the key shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sample {
    /// A group with its letter; without one where no mark of it found room on the plan.
    Group(Fate, &'static str),
    /// The coated floor.
    Floor,
    /// Things that stand on the floor or lie in it.
    Standing,
    /// Joints and cracks beyond the coated area.
    Outside,
}

/// A line of the key.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// What it shows.
    pub sample: Sample,
    /// What happens, semibold.
    pub title: String,
    /// How much.
    pub size: String,
}

/// How tightly the key is set: 0 with the size on its own line, 1 with the size run in where it fits, 2 without the sizes,
/// which the pages of words have all.
pub(crate) const LEVELS: [u8; 3] = [0, 1, 2];
/// Width of a sample, mm.
pub(crate) const SAMPLE: f64 = 12.0;
/// Where the text of a line starts, mm.
const TEXT: f64 = marks::ROUND + 2.0 + SAMPLE + 2.5;
/// Gap between a semibold title and what runs on behind it, mm.
const RUN_IN: f64 = 2.2;
/// Most names of fixtures in the key.
const MOST_NAMES: usize = 3;
/// From one baseline to the next, mm.
const PITCH: f64 = 5.7;
/// Narrowest column of the key, mm.
pub(crate) const NARROWEST: f64 = 82.0;

/// Lines of the key, in the order of the letters.
pub(crate) fn rows(
    inputs: &Inputs,
    sorted: &Sorted,
    letters: &BTreeMap<Fate, &'static str>,
) -> Vec<Row> {
    let units = inputs.slab.units;
    let area = fate::area(inputs.takeoff.area.net_m2, units);
    let mut out = vec![Row {
        sample: Sample::Floor,
        title: "Coated floor".into(),
        size: match inputs.looks() {
            Some(looks) => format!("{area}: {looks}"),
            None => area,
        },
    }];
    for (&fate, items) in &sorted.groups {
        let Some(letter) = letters.get(&fate) else {
            continue;
        };
        out.push(Row {
            sample: Sample::Group(fate, letter),
            title: fate.title().into(),
            size: say::size(fate, items, units),
        });
    }
    if !inputs.slab.keep_outs.is_empty() {
        out.push(Row {
            sample: Sample::Standing,
            title: "Fixtures, not coated".into(),
            size: fixtures(inputs),
        });
    }
    if !sorted.beyond.is_empty() {
        out.push(Row {
            sample: Sample::Outside,
            title: "Joint or crack outside the job".into(),
            size: String::new(),
        });
    }
    out
}

/// What stands on the floor or lies in it, by the names of the survey.
fn fixtures(inputs: &Inputs) -> String {
    let keep_outs = inputs.slab.keep_outs.iter();
    let named: std::collections::BTreeSet<String> = keep_outs
        .filter_map(|k| k.what.as_deref().map(words::clean))
        .filter(|n| !n.is_empty())
        .collect();
    let mut names: Vec<&str> = named.iter().take(MOST_NAMES).map(String::as_str).collect();
    if named.len() > MOST_NAMES {
        names.push("and others");
    }
    names.join(", ")
}

impl Row {
    /// Lines of text, each with the part that is semibold.
    fn lines(&self, width: f64, level: u8) -> Vec<(String, String)> {
        let room = width - TEXT;
        let (strong, body) = (look::strong(), look::body());
        let titles = words::wrap(&self.title, strong, room);
        let mut lines: Vec<(String, String)> =
            titles.into_iter().map(|t| (t, String::new())).collect();
        let mut rest = self.size.clone();
        if level == 1
            && let Some(last) = lines.last_mut()
        {
            let used = words::width(&last.0, strong) + RUN_IN;
            // The size stays whole: half of it on the line above reads badly.
            if words::width(&rest, body) <= room - used {
                last.1 = std::mem::take(&mut rest);
            }
        }
        if level > 1 && matches!(self.sample, Sample::Group(..)) {
            return lines;
        }
        let more = words::wrap(&rest, body, room);
        lines.extend(more.into_iter().map(|t| (String::new(), t)));
        lines
    }

    /// Height with the air below, mm.
    #[expect(clippy::cast_precision_loss, reason = "a handful of lines")]
    pub(crate) fn height(&self, width: f64, level: u8) -> f64 {
        let air = if level == 0 { 2.4 } else { 1.4 };
        let text = self.lines(width, level).len() as f64 * PITCH;
        text.max(marks::ROUND) + air
    }

    /// The line with its upper left corner at a point.
    pub(crate) fn draw(&self, area: &Box2, level: u8) -> Group {
        let middle = area.top + marks::ROUND / 2.0;
        let body = look::body();
        let mut out = Vec::new();
        if let Sample::Group(_, letter) = self.sample
            && !letter.is_empty()
        {
            out.extend(marks::letter(
                at(area.left + marks::ROUND / 2.0, middle),
                letter,
            ));
        }
        let left = area.left + marks::ROUND + 2.0;
        let sample = Box2::new(left, middle - 2.6, left + SAMPLE, middle + 2.6);
        out.extend(self.sample.draw(&sample));
        let x = area.left + TEXT;
        let mut y = middle + body.cap() / 2.0;
        for (strong, plain) in self.lines(area.width(), level) {
            let mut at_x = x;
            if !strong.is_empty() {
                out.push(Mark::Text(draw::text(
                    at(x, y),
                    &strong,
                    look::strong(),
                    Align::Start,
                )));
                at_x += words::width(&strong, look::strong()) + RUN_IN;
            }
            if !plain.is_empty() {
                out.push(Mark::Text(draw::text(
                    at(at_x, y),
                    plain,
                    body,
                    Align::Start,
                )));
            }
            y += PITCH;
        }
        let id = match self.sample {
            Sample::Group(_, letter) if !letter.is_empty() => format!("key-{letter}"),
            _ => String::new(),
        };
        draw::group(id, "key", out)
    }
}

impl Sample {
    /// The sample in a box.
    pub(crate) fn draw(self, area: &Box2) -> Vec<Mark> {
        let fine = Some(look::FINE);
        match self {
            Self::Group(fate, _) => {
                let mut out = vec![draw::rectangle(area, None, Some(look::FLOOR))];
                out.extend(symbol::marks(fate, &sample(fate, area)));
                out
            }
            Self::Floor => vec![draw::rectangle(area, fine, Some(look::FLOOR))],
            Self::Standing => vec![draw::rectangle(area, fine, Some(look::STANDING))],
            Self::Outside => {
                let m = area.center();
                let line = draw::line(
                    at(area.left, m.y),
                    at(area.right, m.y),
                    look::pen(0.25, crate::ink::BLACK),
                );
                vec![draw::rectangle(area, None, Some(WHITE)), line]
            }
        }
    }
}

/// A thing of a group as it looks on the plan, in a box.
fn sample(fate: Fate, area: &Box2) -> Shape {
    let m = area.center();
    match fate {
        Fate::Spot => Shape::Area(vec![Box2::around(m, 4.4, 3.4).corners().to_vec()]),
        Fate::LowSpot => {
            let corner = |i: u8| {
                let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 24.0).sin_cos();
                m + by(look::LOW_SPOT * cos, look::LOW_SPOT * sin)
            };
            Shape::Area(vec![(0..24).map(corner).collect()])
        }
        Fate::Surface | Fate::Uncoated => Shape::Area(vec![area.corners().to_vec()]),
        _ if fate.thing() == fate::Thing::Crack => {
            let w = area.width();
            let zigzag = [(-0.5, 1.0), (-0.22, -1.2), (0.1, 0.8), (0.5, -0.9)];
            Shape::Line(vec![zigzag.map(|(x, y)| m + by(x * w, y)).to_vec()])
        }
        _ => Shape::Line(vec![vec![at(area.left, m.y), at(area.right, m.y)]]),
    }
}

/// How many lines fit into columns, and where they go.
pub(crate) fn fill(rows: &[Row], columns: &[Box2], level: u8) -> Vec<Box2> {
    let mut out = Vec::new();
    let mut column = 0;
    let mut y = columns.first().map_or(0.0, |c| c.top);
    for row in rows {
        let height = |c: &Box2| row.height(c.width(), level);
        while columns
            .get(column)
            .is_some_and(|c| y + height(c) > c.bottom + 1e-6)
        {
            column += 1;
            y = columns.get(column).map_or(0.0, |c| c.top);
        }
        let Some(c) = columns.get(column) else { break };
        out.push(Box2::new(c.left, y, c.right, y + height(c)));
        y += height(c);
    }
    out
}
