//! Pages of words: what is done and what may still show, and what the customer has to know; and the band with the job below every page.

use crate::ink::{Align, Group, Mark};
use crate::quantity::Units;

use super::super::Inputs;
use super::super::draw;
use super::super::frame::Bar;
use super::super::mm::{Box2, at};
use super::super::scale::Scale;
use super::super::style::Type;
use super::super::words;
use super::fate::Fate;
use super::key::{self, Sample};
use super::look;
use super::marks;

/// Height of the band below every page, mm.
pub(crate) const BAND: f64 = 25.0;
/// From one baseline to the next, mm.
pub(crate) const PITCH: f64 = 5.9;
/// Gap between a semibold beginning and the text behind it, mm.
const RUN_IN: f64 = 1.5;
/// Air below a block, mm.
const AIR: f64 = 3.4;
/// Where the text of a block with a letter starts, mm.
const INDENT: f64 = marks::ROUND + 2.4;
/// Air between a frame and its text, mm.
const FRAME: f64 = 2.6;

/// A piece of a page of words; it stays in one column.
#[derive(Clone, Debug, Default)]
pub(crate) struct Block {
    /// Height with the air below, mm.
    pub height: f64,
    /// Marks, from the origin.
    pub marks: Vec<Mark>,
    /// Id of its group in the file; empty for none.
    pub id: String,
    /// Whether it is a head, which does not stand alone at the foot of a column.
    pub head: bool,
}

/// Text with a semibold beginning.
struct Para<'a> {
    lead: &'a str,
    text: &'a str,
}

/// Sets a paragraph below `y`; returns the y below it.
fn paragraph(para: &Para, left: f64, width: f64, mut y: f64, out: &mut Vec<Mark>) -> f64 {
    let (strong, body) = (look::strong(), look::body());
    let mut put = |text: &str, x: f64, y: f64, type_: Type| {
        if !text.is_empty() {
            out.push(Mark::Text(draw::text(at(x, y), text, type_, Align::Start)));
        }
    };
    let leads = words::wrap(para.lead, strong, width);
    let mut room = width;
    let mut x = left;
    for (i, line) in leads.iter().enumerate() {
        if i > 0 {
            y += PITCH;
        }
        put(line, left, y + body.cap(), strong);
        let used = words::width(line, strong) + RUN_IN;
        room = width - used;
        x = left + used;
    }
    let (first, rest) = words::split(para.text, body, room.max(0.0));
    put(&first, x, y + body.cap(), body);
    if !leads.is_empty() || !first.is_empty() {
        y += PITCH;
    }
    for line in words::wrap(&rest, body, width) {
        put(&line, left, y + body.cap(), body);
        y += PITCH;
    }
    y
}

/// The head of a part.
pub(crate) fn head(text: &str, width: f64) -> Block {
    let type_ = look::head();
    let mut out = Vec::new();
    let mut y = 1.5;
    for line in words::wrap(text, type_, width) {
        y += type_.cap();
        out.push(Mark::Text(draw::text(
            at(0.0, y),
            line,
            type_,
            Align::Start,
        )));
        y += 2.6;
    }
    out.push(draw::line(at(0.0, y), at(width, y), look::RULE));
    Block {
        height: y + AIR,
        marks: out,
        id: String::new(),
        head: true,
    }
}

/// A group: its letter, its title and size, what is done, what may still show. Where the plan carries no key, this is the key: then it has
/// the sample too.
pub(crate) fn group(
    (fate, letter): (Fate, &'static str),
    size: &str,
    said: &super::say::Said,
    width: f64,
    is_key: bool,
) -> Block {
    let middle = look::body().cap() / 2.0 + 0.8;
    let mut out = Vec::new();
    if !letter.is_empty() {
        out.extend(marks::letter(at(marks::ROUND / 2.0, middle), letter));
    }
    let is_key = is_key || letter.is_empty();
    let indent = if is_key {
        let left = marks::ROUND + 2.0;
        let area = Box2::new(left, middle - 2.6, left + key::SAMPLE, middle + 2.6);
        out.extend(Sample::Group(fate, letter).draw(&area));
        left + key::SAMPLE + 2.5
    } else {
        INDENT
    };
    let room = width - indent;
    let mut y = 0.8;
    for (lead, text) in [
        (fate.title(), size),
        ("What we do:", said.done.as_str()),
        ("What may still show:", said.shows.as_str()),
    ] {
        if lead.starts_with("What") && text.is_empty() {
            continue;
        }
        y = paragraph(&Para { lead, text }, indent, room, y, &mut out);
    }
    Block {
        height: y - PITCH + look::body().size + AIR,
        marks: out,
        id: if is_key && !letter.is_empty() {
            format!("key-{letter}")
        } else {
            String::new()
        },
        head: false,
    }
}

/// A note with its first words semibold, in a frame if it is a stop.
pub(crate) fn note((lead, text): &(String, String), width: f64, framed: bool) -> Block {
    let pad = if framed { FRAME } else { 0.0 };
    let mut out = Vec::new();
    let para = Para { lead, text };
    let y = paragraph(&para, pad, width - 2.0 * pad, pad + 0.4, &mut out);
    let bottom = y - PITCH + look::body().size + pad - 0.6;
    if framed {
        let frame = Box2::new(0.0, 0.0, width, bottom);
        out.push(draw::rectangle(&frame, Some(look::EDGE), None));
    }
    Block {
        height: bottom + AIR,
        marks: out,
        id: String::new(),
        head: false,
    }
}

/// A line of the key that stands among the words.
pub(crate) fn key_row(row: &key::Row, width: f64) -> Block {
    let height = row.height(width, 1);
    let group = row.draw(&Box2::new(0.0, 0.0, width, height), 1);
    Block {
        height,
        marks: group.marks,
        ..Block::default()
    }
}

/// Fills columns with blocks from `next` on; returns what was drawn and the next block. At least one block is taken.
pub(crate) fn flow(blocks: &[Block], next: usize, columns: &[Box2]) -> (Vec<Group>, usize) {
    let mut out = Vec::new();
    let mut i = next;
    for column in columns {
        let mut y = column.top;
        while let Some(block) = blocks.get(i) {
            let follower = blocks.get(i + 1).map_or(0.0, |b| b.height);
            let needs = block.height - AIR
                + if block.head {
                    AIR + follower - AIR
                } else {
                    0.0
                };
            let first = y <= column.top + 1e-9;
            if y + needs > column.bottom && !first {
                break;
            }
            let group = draw::group(block.id.clone(), "words", block.marks.clone());
            out.push(draw::moved(
                group,
                super::super::mm::Shift { x: column.left, y },
            ));
            y += block.height;
            i += 1;
        }
    }
    (out, i)
}

/// What the band says of one page.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Page {
    /// Number and how many.
    pub of: (usize, usize),
    /// Scale of the plan; `None` on a page of words.
    pub scale: Option<Scale>,
}

/// The band with the job, the dates and the sentence on what a drawing is not.
pub(crate) fn band(inputs: &Inputs, page: Page, area: &Box2) -> Group {
    let (title, body) = (look::title(), look::body());
    let job = inputs.job;
    let split = area.right - 88.0;
    let (left, room) = (area.left + 4.0, split - area.left - 7.0);
    let text = |o: &Option<String>| o.as_deref().map(words::clean).filter(|t| !t.is_empty());
    let who: Vec<String> = [text(&job.client), text(&job.site)]
        .into_iter()
        .flatten()
        .collect();
    let mut out = vec![
        draw::line(
            at(area.left, area.top),
            at(area.right, area.top),
            look::RULE,
        ),
        draw::line(at(split, area.top), at(split, area.bottom), look::RULE),
    ];
    let lines = [
        (words::clean(&job.name), title, 8.2),
        (who.join(", "), body, 15.2),
        (
            "This drawing is not an engineering opinion.".to_owned(),
            body,
            22.2,
        ),
    ];
    for (line, type_, y) in lines {
        out.push(Mark::Text(draw::text(
            at(left, area.top + y),
            words::fit(&line, type_, room),
            type_,
            Align::Start,
        )));
    }
    out.extend(facts(inputs, page, split + 3.5, area));
    out.retain(|m| !matches!(m, Mark::Text(t) if t.text.is_empty()));
    draw::group("title-block", "frame", out)
}

/// Dates, revision, scale and page.
fn facts(inputs: &Inputs, page: Page, left: f64, area: &Box2) -> Vec<Mark> {
    let job = inputs.job;
    let dash = || "—".to_owned();
    let surveyed = job.surveyed.as_ref().map(|d| words::clean(&d.value));
    let revision = job.revision.as_deref().map(words::clean);
    let units: Units = inputs.slab.units;
    let scale = page.scale.map(|s| s.text(units));
    let rows = [
        [
            ("Surveyed", surveyed.unwrap_or_else(dash)),
            ("Rev.", revision.unwrap_or_else(dash)),
        ],
        [
            ("Scale", scale.unwrap_or_else(dash)),
            ("Page", format!("{} of {}", page.of.0, page.of.1)),
        ],
        [
            (
                "Job no.",
                job.number.as_deref().map_or_else(dash, words::clean),
            ),
            ("", String::new()),
        ],
    ];
    let mut out = Vec::new();
    for (line, y) in rows.into_iter().zip([8.2, 15.2, 22.2]) {
        for ((name, value), (x, label, room)) in line
            .into_iter()
            .zip([(left, 21.0, 30.0), (left + 53.0, 12.5, 18.0)])
        {
            let y = area.top + y;
            out.push(Mark::Text(draw::text(
                at(x, y),
                name,
                look::body(),
                Align::Start,
            )));
            out.push(Mark::Text(draw::text(
                at(x + label, y),
                words::fit(&value, look::strong(), room),
                look::strong(),
                Align::Start,
            )));
        }
    }
    out
}

/// Longest scale bar, mm.
const LONGEST_BAR: f64 = 60.0;

/// The scale bar: four blocks, its zero at a point of its lower edge.
pub(crate) fn scale_bar(scale: Scale, units: Units, zero: crate::ink::PaperPoint) -> Group {
    let bar = Bar::within(scale, units, LONGEST_BAR);
    let (w, body) = (bar.block, look::body());
    let mut out = Vec::new();
    for i in 0..4_u8 {
        let x = zero.x + f64::from(i) * w;
        let area = Box2::new(x, zero.y - 2.4, x + w, zero.y);
        let fill = if i % 2 == 0 {
            crate::ink::BLACK
        } else {
            crate::ink::WHITE
        };
        out.push(draw::rectangle(&area, Some(look::FINE), Some(fill)));
    }
    for (off, value) in bar.numbers(body) {
        let p = at(zero.x + off, zero.y - 3.9);
        out.push(Mark::Text(draw::text(p, value, body, Align::Middle)));
    }
    let unit = match units {
        Units::Us => "feet",
        Units::Metric => "meters",
    };
    let p = at(zero.x + bar.length() + 3.0, zero.y);
    out.push(Mark::Text(draw::text(p, unit, body, Align::Start)));
    draw::group("scale-bar", "frame", out)
}
