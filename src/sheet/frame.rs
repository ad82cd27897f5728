//! What stands around the drawing: border, title block, scale bar, direction mark, line of origin.

use crate::ink::{Align, BLACK, Group, Mark, WHITE};
use crate::quantity::Units;

use super::Inputs;
use crate::paper::draw;
use crate::paper::label::Label;
use crate::paper::mm::{Box2, at, by};
use crate::paper::scale::Scale;
use crate::paper::size::Paper;
use crate::paper::style;
use crate::paper::words;

/// What the title block of one sheet says beside the job.
#[derive(Clone, Debug)]
pub struct Titles<'a> {
    /// What the sheet is: `REPAIR MAP`.
    pub title: &'a str,
    /// For whom.
    pub reader: &'a str,
    /// Number of the sheet: `S-101`.
    pub number: String,
    /// Place in the set and size of the set.
    pub of: (usize, usize),
    /// Scale of the drawing; `None` on a sheet of schedules.
    pub scale: Option<Scale>,
}

/// Height of the title block, mm.
pub const TITLE_HEIGHT: f64 = 50.0;

/// The title block, as wide as its area.
#[must_use]
pub fn title_block(inputs: &Inputs, titles: &Titles, area: &Box2) -> Group {
    let mut marks =
        vec![draw::line(at(area.left, area.top), at(area.right, area.top), style::OUTLINE)];
    let (left, right) = (area.left + 3.0, area.right - 3.0);
    let room = right - left;
    let job = inputs.job;
    let (title, head, body) = (style::title(), style::head(), style::body());
    let mut y = area.top + 3.0;
    let mut put = |text: &str, type_: style::Type, marks: &mut Vec<Mark>| {
        y += type_.cap();
        marks.push(draw::words(at(left, y), words::fit(text, type_, room), type_, Align::Start));
        y += type_.size - type_.cap() + 1.0;
    };
    put(&words::clean(&job.name), title, &mut marks);
    let client = job.client.as_deref().map_or(String::new(), words::clean);
    let site = job.site.as_deref().map_or(String::new(), words::clean);
    let both = [client, site].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ");
    put(&both, body, &mut marks);
    let rule = area.top + 14.5;
    marks.push(draw::line(at(area.left, rule), at(area.right, rule), style::RULE));
    marks.push(draw::words(at(left, rule + 5.4), titles.title, head, Align::Start));
    marks.push(draw::words(at(right, rule + 5.4), titles.reader, body, Align::End));
    let rule = area.top + 22.5;
    marks.push(draw::line(at(area.left, rule), at(area.right, rule), style::RULE));
    let split = area.right - 34.0;
    marks.push(draw::line(at(split, rule), at(split, area.bottom), style::RULE));
    marks.extend(facts(inputs, titles, left, split - 2.0, rule));
    marks.extend(number(titles, &Box2::new(split, rule, area.right, area.bottom)));
    draw::group("title-block", "frame", marks)
}

/// One line for a sheet that goes on: the job, what the sheet is, its revision, its number.
#[must_use]
pub fn title_strip(inputs: &Inputs, titles: &Titles, area: &Box2) -> Group {
    let (head, body) = (style::head(), style::body());
    let base = (area.top + area.bottom + head.cap()) / 2.0;
    let revision = inputs.job.revision.as_deref();
    let revision = revision.map_or(String::new(), |r| format!("REVISION {}   ", words::clean(r)));
    let of = format!("{revision}SHEET {} OF {}", titles.of.0, titles.of.1);
    let number = &titles.number;
    let (left, right) = (area.left + 3.0, area.right - 3.0);
    let of_end = right - words::width(number, head) - 4.0;
    let title_end = of_end - words::width(&of, body) - 4.0;
    let name = words::fit(&words::clean(&inputs.job.name), head, (title_end - left) / 2.0);
    let title_start = left + words::width(&name, head) + 4.0;
    let text = |x, text: String, type_, align| draw::words(at(x, base), text, type_, align);
    draw::group(
        "title-strip",
        "frame",
        vec![
            draw::line(at(area.left, area.top), at(area.right, area.top), style::OUTLINE),
            text(left, name, head, Align::Start),
            text(
                title_start,
                words::fit(titles.title, body, title_end - title_start),
                body,
                Align::Start,
            ),
            text(of_end, of, body, Align::End),
            text(right, number.clone(), head, Align::End),
        ],
    )
}

/// Label and value pairs.
fn facts(inputs: &Inputs, titles: &Titles, left: f64, right: f64, top: f64) -> Vec<Mark> {
    let job = inputs.job;
    let value = |v: Option<&str>| v.map_or("—".to_owned(), words::clean);
    let scale = titles.scale.map_or("—".to_owned(), |s| s.text(inputs.slab.units));
    let rows = [
        ("SCALE", scale),
        ("SURVEYED", value(job.surveyed.as_ref().map(|d| d.value.as_str()))),
        ("BY", value(job.surveyor.as_deref())),
        ("JOB NO.", value(job.number.as_deref())),
        ("REVISION", value(job.revision.as_deref())),
        ("CHECKED", String::new()),
    ];
    let (body, strong) = (style::body(), style::strong());
    let mut marks = Vec::new();
    let mut y = top - 0.2;
    for (name, text) in rows {
        y += 4.3;
        marks.push(draw::words(at(left, y), name, body, Align::Start));
        let x = left + 19.0;
        if text.is_empty() {
            marks.push(draw::line(at(x, y + 0.6), at(right, y + 0.6), style::FINE));
        } else {
            marks.push(draw::words(
                at(x, y),
                words::fit(&text, strong, right - x),
                strong,
                Align::Start,
            ));
        }
    }
    marks
}

fn number(titles: &Titles, area: &Box2) -> Vec<Mark> {
    let x = area.center().x;
    let (title, body) = (style::title(), style::body());
    let of = format!("SHEET {} OF {}", titles.of.0, titles.of.1);
    vec![
        draw::words(at(x, area.center().y + 1.0), &titles.number, title, Align::Middle),
        draw::words(at(x, area.center().y + 8.0), of, body, Align::Middle),
    ]
}

/// The line of origin below the border: from which sketch, by which program, how to print.
#[must_use]
pub fn origin(inputs: &Inputs, paper: Paper, border: &Box2) -> Group {
    let body = style::body();
    let y = border.bottom + 2.2 + body.cap();
    let print = format!("PRINT AT 100 % ON {}", paper.size.words());
    let digest: String = inputs.digest.chars().take(16).collect();
    let from = format!(
        "Drawn from {}, digest {digest}, by slabwalk {}",
        words::clean(inputs.source_name),
        env!("CARGO_PKG_VERSION")
    );
    let room = border.width() - words::width(&print, body) - 6.0;
    draw::group(
        "origin",
        "frame margin",
        vec![
            draw::words(at(border.left, y), words::fit(&from, body, room), body, Align::Start),
            draw::words(at(border.right, y), print, body, Align::End),
        ],
    )
}

/// Lengths that a block of the scale bar may have, m, each with the number at its end; the largest that keeps the bar short is taken.
fn blocks(units: Units) -> &'static [(f64, f64)] {
    // Length in meters and the number written at its end.
    match units {
        Units::Us => &[
            (0.0762, 0.25),
            (0.1524, 0.5),
            (0.3048, 1.0),
            (0.6096, 2.0),
            (1.524, 5.0),
            (3.048, 10.0),
            (6.096, 20.0),
            (15.24, 50.0),
        ],
        Units::Metric => &[
            (0.05, 0.05),
            (0.1, 0.1),
            (0.25, 0.25),
            (0.5, 0.5),
            (1.0, 1.0),
            (2.0, 2.0),
            (5.0, 5.0),
            (10.0, 10.0),
            (25.0, 25.0),
        ],
    }
}

/// Longest scale bar, mm.
const LONGEST_BAR: f64 = 72.0;
/// Shortest scale bar, mm: its ends have room for their numbers.
const SHORTEST_BAR: f64 = 12.0;
/// Height of the scale bar, mm.
const BAR: f64 = 2.0;
/// Blocks no narrower than this are numbered each, mm.
const WIDE_BLOCK: f64 = 9.0;
/// Air between two numbers of the bar, mm.
const BAR_AIR: f64 = 1.2;

/// The four blocks of a scale bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Width of a block, mm.
    pub block: f64,
    /// What a block is long on the floor, in feet or meters.
    each: f64,
}

impl Bar {
    /// With the largest blocks that keep it no longer than `longest`, mm, but none so small that its numbers touch.
    #[must_use]
    pub fn within(scale: Scale, units: Units, longest: f64) -> Self {
        let length = |b: &(f64, f64)| 4.0 * b.0 * scale.mm_per_m();
        let list = blocks(units);
        let found = list.iter().rev().find(|b| length(b) <= longest);
        let found = found.filter(|b| length(b) >= SHORTEST_BAR);
        let found = found.or_else(|| list.iter().find(|b| length(b) >= SHORTEST_BAR));
        let &(block, each) = found.unwrap_or(&list[list.len() - 1]);
        Self { block: block * scale.mm_per_m(), each }
    }

    /// Its length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        4.0 * self.block
    }

    /// Numbers at the ends of the blocks, each with its distance from zero, mm: those that have room, zero and the far end always.
    #[must_use]
    pub fn numbers(&self, type_: style::Type) -> Vec<(f64, String)> {
        let number = |i: u32| {
            let value = crate::quantity::write::trimmed(f64::from(i) * self.each, 2);
            (f64::from(i) * self.block, value)
        };
        let fits = |step: &usize| {
            let numbers: Vec<_> = (0..=4).step_by(*step).map(number).collect();
            let half = |n: &(f64, String)| words::width(&n.1, type_) / 2.0;
            let clear =
                |p: &[(f64, String)]| p[1].0 - half(&p[1]) - p[0].0 - half(&p[0]) >= BAR_AIR;
            numbers.windows(2).all(clear) && (*step > 1 || self.block >= WIDE_BLOCK)
        };
        let step = [1, 2].into_iter().find(fits).unwrap_or(4);
        (0..=4).step_by(step).map(number).collect()
    }
}

/// The scale bar, four blocks black and white, its zero at a point, with the scale written beside it.
#[must_use]
pub fn scale_bar(scale: Scale, units: Units, zero: crate::ink::PaperPoint) -> Group {
    scale_bar_within(scale, units, zero, LONGEST_BAR)
}

/// The scale bar, no longer than so much where its shortest blocks allow it.
#[must_use]
pub fn scale_bar_within(
    scale: Scale,
    units: Units,
    zero: crate::ink::PaperPoint,
    longest: f64,
) -> Group {
    let bar = Bar::within(scale, units, longest.min(LONGEST_BAR));
    let beside = zero + by(bar.length() + 12.0, 0.0);
    let mut group = bare_bar(bar, units, zero);
    group.marks.push(scale_words(scale, units, beside));
    group
}

/// The scale bar with the scale written over it, in a width from its zero; without the words where they are wider.
#[must_use]
pub fn scale_bar_narrow(
    scale: Scale,
    units: Units,
    zero: crate::ink::PaperPoint,
    width: f64,
) -> Group {
    let bar = Bar::within(scale, units, (width - UNIT).min(LONGEST_BAR));
    let mut group = bare_bar(bar, units, zero);
    let words = scale_words(scale, units, zero + by(0.0, -(BAR + 1.2 + 2.0 * OVER)));
    let fits = matches!(&words, Mark::Text(t) if words::width(&t.text, style::strong()) <= width);
    group.marks.extend(fits.then_some(words));
    group
}

/// Room for the unit behind a scale bar, mm.
const UNIT: f64 = 6.0;
/// Half the distance of the words over a scale bar from its numbers, base to base, mm.
const OVER: f64 = 2.2;

fn scale_words(scale: Scale, units: Units, at: crate::ink::PaperPoint) -> Mark {
    let text = format!("SCALE {}", scale.text(units));
    draw::words(at, text, style::strong(), Align::Start)
}

fn bare_bar(bar: Bar, units: Units, zero: crate::ink::PaperPoint) -> Group {
    let look = BarLook {
        tall: BAR,
        over: BAR + 1.2,
        behind: 2.0,
        unit: match units {
            Units::Us => "FT",
            Units::Metric => "M",
        },
        type_: style::body(),
        pen: style::FINE,
    };
    look.draw(bar, zero)
}

/// How a scale bar looks; lengths in mm.
pub(crate) struct BarLook {
    /// Height of the blocks.
    pub tall: f64,
    /// Base of the numbers over the lower edge.
    pub over: f64,
    /// From the last block to the unit.
    pub behind: f64,
    /// `FT` or `M`, behind the blocks.
    pub unit: &'static str,
    /// Type of the unit and of the numbers.
    pub type_: style::Type,
    /// Edges of the blocks.
    pub pen: crate::ink::Stroke,
}

impl BarLook {
    /// Four blocks black and white, the zero at a point of the lower edge.
    pub(crate) fn draw(&self, bar: Bar, zero: crate::ink::PaperPoint) -> Group {
        let (w, type_) = (bar.block, self.type_);
        let mut marks = Vec::new();
        for i in 0..4 {
            let x = zero.x + f64::from(i) * w;
            let area = Box2::new(x, zero.y - self.tall, x + w, zero.y);
            let fill = if i % 2 == 0 { BLACK } else { WHITE };
            marks.push(draw::rectangle(&area, Some(self.pen), Some(fill)));
        }
        for (off, value) in bar.numbers(type_) {
            let over = zero + by(off, -self.over);
            marks.push(draw::words(over, value, type_, Align::Middle));
        }
        let end = zero + by(bar.length() + self.behind, 0.0);
        marks.push(draw::words(end, self.unit, type_, Align::Start));
        draw::group("scale-bar", "frame", marks)
    }
}

/// The direction mark: N is up the sheet, whatever true north is.
#[must_use]
pub fn direction_mark(foot: crate::ink::PaperPoint) -> Group {
    let mut group = direction_arrow(foot);
    group.marks.push(draw::words(
        foot + by(4.0, 0.0),
        "N IS UP THE SHEET",
        style::body(),
        Align::Start,
    ));
    group
}

/// The direction mark without words.
#[must_use]
pub fn direction_arrow(foot: crate::ink::PaperPoint) -> Group {
    let tip = foot + by(0.0, -9.0);
    let half = [tip, foot + by(1.8, -1.6), foot + by(0.0, -2.8)];
    let other = [tip, foot + by(-1.8, -1.6), foot + by(0.0, -2.8)];
    let n = Label::level(tip + by(0.0, -2.6), "N", style::strong());
    let marks = vec![
        draw::polygon(&half, Some(style::FINE), Some(BLACK)),
        draw::polygon(&other, Some(style::FINE), Some(WHITE)),
        Mark::Text(n.mark),
    ];
    draw::group("direction", "frame", marks)
}
