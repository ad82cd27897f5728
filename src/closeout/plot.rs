//! Estimated against used over the jobs: one sheet with a panel for packages and one for hours.
//!
//! Both axes are logarithmic, so that the same share off lies at the same distance from the
//! 45-degree line whatever the size of the amount.

mod axis;
mod label;
mod symbol;

use super::model::{CloseOut, Row, RowKind};
use super::suggest::AGREE;
use crate::font;
use crate::ink::{Align, Group, Mark, PaperPoint, Sheet, Stroke};
use crate::paper::draw;
use crate::paper::draw::border;
use crate::paper::draw::group;
use crate::paper::mm::{Box2, at};
use crate::paper::style;
use crate::quantity::write;
use axis::Axis;

/// Letter sheet, landscape, mm.
const SHEET: (f64, f64) = (279.4, 215.9);
/// Side of a panel's square, mm.
const SIDE: f64 = 100.0;
/// Upper edge of the panels, mm.
const TOP: f64 = 45.0;
/// Left edges of the panels, mm.
const LEFT: [f64; 2] = [33.0, 159.0];
/// Baseline of the legend's head, mm.
const LEGEND: f64 = 170.0;
/// Jobs named in the legend.
const MOST_NAMED: usize = 18;

/// A point of a panel.
struct Dot {
    job: usize,
    item: String,
    estimated: f64,
    used: f64,
    at: PaperPoint,
}

/// The plot; `None` where no row has both an estimate and a use.
#[must_use]
pub fn sheet(jobs: &[CloseOut]) -> Option<Sheet> {
    let area =
        Box2::new(style::MARGIN, style::MARGIN, SHEET.0 - style::MARGIN, SHEET.1 - style::MARGIN);
    let mut groups = vec![border(&area), head(jobs)];
    let panels =
        [(RowKind::Product, "packages", "packages"), (RowKind::Task, "worker hours", "hours")];
    let mut drawn = 0;
    let mut left_out = 0;
    for ((kind, name, id), left) in panels.into_iter().zip(LEFT) {
        let rows = rows(jobs, kind);
        left_out += count(jobs, kind) - rows.len();
        drawn += rows.len();
        groups.push(panel(&rows, left, name, id));
    }
    groups.push(legend(jobs, left_out));
    (drawn > 0).then(|| Sheet {
        name: "closeout".into(),
        title: "Used against estimated".into(),
        description: format!(
            "{drawn} products and tasks of {} jobs, estimated against used, on logarithmic axes with the 45-degree line",
            jobs.len()
        ),
        width: SHEET.0,
        height: SHEET.1,
        groups,
    })
}

/// Every row of a kind that can be drawn, with the number of its job.
fn rows(jobs: &[CloseOut], kind: RowKind) -> Vec<(usize, &Row)> {
    let mut out = Vec::new();
    for (job, done) in jobs.iter().enumerate() {
        let drawn = done.rows.iter().filter(|row| row.kind == kind && row.ratio().is_some());
        out.extend(drawn.map(|row| (job, row)));
    }
    out
}

fn count(jobs: &[CloseOut], kind: RowKind) -> usize {
    let rows = jobs.iter().flat_map(|job| &job.rows);
    rows.filter(|row| row.kind == kind).count()
}

fn head(jobs: &[CloseOut]) -> Group {
    let word = if jobs.len() == 1 { "job" } else { "jobs" };
    let left = style::MARGIN + 6.0;
    let title = draw::text(at(left, 24.0), "USED AGAINST ESTIMATED", style::title(), Align::Start);
    let line = format!(
        "{} {word}. On the line: as estimated. Above it: more was used. Dashed: {}% more and less.",
        jobs.len(),
        write::trimmed(AGREE * 100.0, 0)
    );
    let line = draw::text(at(left, 32.0), line, style::body(), Align::Start);
    group("head", "", vec![Mark::Text(title), Mark::Text(line)])
}

fn panel(rows: &[(usize, &Row)], left: f64, name: &str, id: &str) -> Group {
    let square = Box2::new(left, TOP, left + SIDE, TOP + SIDE);
    let mut marks =
        vec![draw::words(at(left, TOP - 3.0), name.to_uppercase(), style::strong(), Align::Start)];
    let amounts = rows.iter().flat_map(|(_, row)| [row.estimated, row.used]);
    let Some(axis) = Axis::over(amounts) else {
        marks.push(draw::rectangle(&square, Some(style::RULE), None));
        let words = "no record with an estimate";
        marks.push(draw::words(square.center(), words, style::body(), Align::Middle));
        return group(id, "panel", marks);
    };
    marks.extend(grid(&axis, &square));
    marks.extend(guides(&axis, &square));
    marks.push(draw::rectangle(&square, Some(style::OBJECT), None));
    marks.extend(titles(&square, name));
    let dots: Vec<Dot> = rows
        .iter()
        .map(|(job, row)| Dot {
            job: *job,
            item: row.item.clone(),
            estimated: row.estimated,
            used: row.used,
            at: place(&axis, &square, row.estimated, row.used),
        })
        .collect();
    marks.extend(dots.iter().flat_map(|dot| symbol::symbol(dot.job, dot.at)));
    marks.extend(label::labels(&dots, &square));
    group(id, "panel", marks)
}

fn place(axis: &Axis, square: &Box2, estimated: f64, used: f64) -> PaperPoint {
    at(square.left + axis.share(estimated) * SIDE, square.bottom - axis.share(used) * SIDE)
}

/// Grid lines with their numbers along both sides.
fn grid(axis: &Axis, square: &Box2) -> Vec<Mark> {
    let fine = Stroke { color: style::SPALL_FILL, ..style::HATCH };
    let mut marks = Vec::new();
    for (value, named) in axis.ticks() {
        let (x, y) =
            (square.left + axis.share(value) * SIDE, square.bottom - axis.share(value) * SIDE);
        marks.push(draw::line(at(x, square.top), at(x, square.bottom), fine));
        marks.push(draw::line(at(square.left, y), at(square.right, y), fine));
        if named {
            let text = write::trimmed(value, 3);
            let half = style::body().cap() / 2.0;
            let below = at(x, square.bottom + 2.0 + style::body().cap());
            marks.push(draw::words(below, text.clone(), style::body(), Align::Middle));
            let beside = at(square.left - 1.8, y + half);
            marks.push(draw::words(beside, text, style::body(), Align::End));
        }
    }
    marks
}

/// The 45-degree line, and the dashed lines of so much more and less.
fn guides(axis: &Axis, square: &Box2) -> Vec<Mark> {
    let (low, high) = axis.ends();
    let through = |factor: f64| {
        let from = (low).max(low / factor);
        let to = (high).min(high / factor);
        (place(axis, square, from, from * factor), place(axis, square, to, to * factor))
    };
    let (a, b) = through(1.0);
    let mut marks = vec![draw::line(a, b, style::REMOVAL)];
    for factor in [1.0 + AGREE, 1.0 - AGREE] {
        let (a, b) = through(factor);
        marks.push(draw::lines(&dashes(a, b), style::FINE));
    }
    marks
}

/// A line in dashes of 2 mm with gaps of 1.5 mm.
fn dashes(a: PaperPoint, b: PaperPoint) -> Vec<Vec<PaperPoint>> {
    const DASH: f64 = 2.0;
    const PITCH: f64 = 3.5;
    let whole = (b - a).length();
    let point = |along: f64| crate::paper::mm::lerp(a, b, (along / whole).min(1.0));
    let count = (whole / PITCH).ceil().clamp(0.0, 1000.0) as usize;
    (0..count).map(|i| i as f64 * PITCH).map(|from| vec![point(from), point(from + DASH)]).collect()
}

fn titles(square: &Box2, name: &str) -> [Mark; 2] {
    let below = at(square.center().x, square.bottom + 12.0);
    let mut side = draw::text(
        at(square.left - 13.5, square.center().y),
        format!("{name} used"),
        style::body(),
        Align::Middle,
    );
    side.turn = 90.0;
    let under = format!("{name} estimated");
    [draw::words(below, under, style::body(), Align::Middle), Mark::Text(side)]
}

fn legend(jobs: &[CloseOut], left_out: usize) -> Group {
    const COLUMNS: usize = 3;
    const WIDTH: f64 = 80.0;
    let left = style::MARGIN + 6.0;
    let mut marks = vec![draw::words(at(left, LEGEND), "JOBS", style::strong(), Align::Start)];
    let rows = MOST_NAMED / COLUMNS;
    for (i, job) in jobs.iter().take(MOST_NAMED).enumerate() {
        let x = left + (i / rows) as f64 * WIDTH;
        let y = LEGEND + 5.0 + (i % rows) as f64 * 4.6;
        marks.extend(symbol::symbol(i, at(x + 1.5, y - style::body().cap() / 2.0)));
        let name = match &job.number {
            Some(number) => format!("{}, {number}", job.job),
            None => job.job.clone(),
        };
        let name = font::shorten(&name, WIDTH - 8.0, style::body().size, style::body().weight);
        marks.push(draw::words(at(x + 5.0, y), name, style::body(), Align::Start));
    }
    let mut notes = Vec::new();
    if jobs.len() > MOST_NAMED {
        notes.push(format!("{} jobs more", jobs.len() - MOST_NAMED));
    }
    if left_out > 0 {
        notes.push(format!("{left_out} without an estimate or without use are not drawn"));
    }
    if !notes.is_empty() {
        let x = left + 24.0;
        let text = format!("({})", notes.join("; "));
        marks.push(draw::words(at(x, LEGEND), text, style::body(), Align::Start));
    }
    group("legend", "", marks)
}
