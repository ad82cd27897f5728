//! The head and foot of the field sheet's pages: boxes for the job, page numbers, how to print.

use crate::ink::{Align, Group, Mark};
use crate::paper::mm::{Box2, at};
use crate::paper::{draw, style, words};
use crate::quantity::Units;
use crate::sheet::Paper;

use super::Visit;

/// Height of the head of the first page, mm.
pub const FIRST: f64 = 33.0;
/// Height of the head of the others, mm.
pub const NEXT: f64 = 10.0;
/// Height of a row of boxes, mm.
const BOX: f64 = 11.0;

/// A box of the head: label, what is known, share of the width.
type Field = (&'static str, String, f64);

fn known(text: Option<&str>) -> String {
    text.map_or(String::new(), words::clean)
}

fn rows(visit: &Visit) -> [Vec<Field>; 2] {
    let job = visit.job;
    let units = match visit.units {
        Units::Us => "FEET, INCHES",
        Units::Metric => "METERS",
    };
    let text = |f: fn(&crate::sketch::Job) -> Option<&str>| known(job.and_then(f));
    // A second visit is another day: the day and the name are left to write.
    [
        vec![
            ("JOB", text(|j| Some(j.name.as_str())), 40.0),
            ("CLIENT", text(|j| j.client.as_deref()), 34.0),
            ("JOB NO.", text(|j| j.number.as_deref()), 22.0),
        ],
        vec![
            ("SITE", text(|j| j.site.as_deref()), 40.0),
            ("DAY", String::new(), 17.0),
            ("BY", String::new(), 17.0),
            ("UNITS", units.to_owned(), 22.0),
        ],
    ]
}

/// The head of the first page.
#[must_use]
pub fn first(visit: &Visit, page: &Box2, of: usize) -> Group {
    let mut marks = Vec::new();
    let (title, body) = (style::title(), style::body());
    let left = page.left + 3.0;
    marks.push(draw::words(at(left, page.top + 7.6), "FIELD SHEET", title, Align::Start));
    let say = visit.source.map_or_else(
        || "for a floor to be surveyed".to_owned(),
        |(name, _)| format!("for another visit, drawn from {}", words::clean(name)),
    );
    let x = left + words::width("FIELD SHEET", title) + 5.0;
    let number = format!("SHEET 1 OF {of}");
    let right = page.right - 3.0 - words::width(&number, body);
    let room = right - x - 4.0;
    marks.push(draw::words(
        at(x, page.top + 7.6),
        words::fit(&say, body, room),
        body,
        Align::Start,
    ));
    marks.push(draw::words(at(page.right - 3.0, page.top + 7.6), number, body, Align::End));
    for (i, row) in rows(visit).iter().enumerate() {
        let top = page.top + FIRST - (2 - i) as f64 * BOX;
        fields(&mut marks, &Box2::new(page.left, top, page.right, top + BOX), row);
    }
    let y = page.top + FIRST;
    marks.push(draw::line(at(page.left, y), at(page.right, y), style::RULE));
    draw::group("head", "frame", marks)
}

fn fields(marks: &mut Vec<Mark>, area: &Box2, row: &[Field]) {
    let (body, strong) = (style::body(), style::strong());
    let total: f64 = row.iter().map(|f| f.2).sum();
    marks.push(draw::line(at(area.left, area.top), at(area.right, area.top), style::RULE));
    let mut x = area.left;
    for (label, value, share) in row {
        let width = share / total * area.width();
        if x > area.left {
            marks.push(draw::line(at(x, area.top), at(x, area.bottom), style::RULE));
        }
        let label =
            draw::text(at(x + 1.6, area.top + 1.3 + body.cap()), *label, body, Align::Start);
        marks.push(Mark::Text(label));
        let value = words::fit(value, strong, width - 3.2);
        if !value.is_empty() {
            let on = at(x + 1.6, area.bottom - 1.8);
            marks.push(draw::words(on, value, strong, Align::Start));
        }
        x += width;
    }
}

/// The head of a later page, so that loose sheets find together again.
#[must_use]
pub fn next(visit: &Visit, page: &Box2, (i, of): (usize, usize)) -> Group {
    let (body, strong) = (style::body(), style::strong());
    let y = page.top + 6.6;
    let left = page.left + 3.0;
    let mut marks = vec![draw::words(at(left, y), "FIELD SHEET", style::head(), Align::Start)];
    let number = format!("SHEET {i} OF {of}");
    let right = page.right - 3.0;
    marks.push(draw::words(at(right, y), &number, body, Align::End));
    let right = right - words::width(&number, body) - 6.0;
    let mut x = left + words::width("FIELD SHEET", style::head()) + 6.0;
    let name = known(visit.job.map(|j| j.name.as_str()));
    let middle = x + (right - x) * 0.66;
    for (label, value, end) in [("JOB", name, middle), ("DAY", String::new(), right)] {
        marks.push(draw::words(at(x, y), label, body, Align::Start));
        x += words::width(label, body) + 2.0;
        if value.is_empty() {
            marks.push(draw::line(at(x, y + 1.0), at(end - 3.0, y + 1.0), style::FINE));
        } else {
            let value = words::fit(&value, strong, end - x - 3.0);
            marks.push(draw::words(at(x, y), value, strong, Align::Start));
        }
        x = end + 1.0;
    }
    let rule = page.top + NEXT;
    marks.push(draw::line(at(page.left, rule), at(page.right, rule), style::RULE));
    draw::group("head", "frame", marks)
}

/// The border and the line below it: by which program, from which sketch, how to print.
#[must_use]
pub fn around(visit: &Visit, paper: Paper, page: &Box2) -> [Group; 2] {
    let body = style::body();
    let y = page.bottom + 2.2 + body.cap();
    let print = format!("PRINT AT 100 % ON {}", paper.size.words());
    let digest = visit.source.map_or(String::new(), |(_, digest)| {
        let short: String = digest.chars().take(16).collect();
        format!(", sketch digest {short}")
    });
    let from = format!("slabwalk {}{digest}", env!("CARGO_PKG_VERSION"));
    let room = page.width() - words::width(&print, body) - 6.0;
    let from = draw::text(at(page.left, y), words::fit(&from, body, room), body, Align::Start);
    let print = draw::text(at(page.right, y), print, body, Align::End);
    let origin = draw::group("origin", "frame margin", vec![Mark::Text(from), Mark::Text(print)]);
    [draw::border(page), origin]
}
