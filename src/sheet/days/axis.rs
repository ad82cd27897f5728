//! The hours of a working day across a column, and the bars on it.

use crate::ink::{Align, Mark, WHITE};
use crate::schedule::report::hour_text;

use crate::paper::draw;
use crate::paper::hatch;
use crate::paper::mm::{Box2, at};
use crate::paper::style;
use crate::paper::words;

/// Width of the names of lanes, mm.
const NAMES: f64 = 36.0;
/// Room before and after the working day, where waiting goes on overnight, mm.
const NIGHT: f64 = 2.5;
/// Height of a row, mm.
pub(super) const ROW: f64 = 4.4;
/// Height of a bar, mm.
const BAR: f64 = 2.8;
/// Height of the bar of a work, which holds its mark, mm.
const WORK: f64 = 3.7;
/// Room beside the mark in a bar, mm.
const INSIDE: f64 = 0.2;
/// Length of the tick at an hour, mm.
const TICK: f64 = 0.8;
/// Spacing of the hatch of waiting, mm.
const WAITING: f64 = 1.4;
/// Least hours that are drawn.
const LEAST_H: f64 = 1e-6;

/// How a bar looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// Work, with its mark in the list below.
    Work(char),
    /// A coat cures, the window is not open.
    Wait,
    /// The window is open.
    Window,
}

/// A lane of a day.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) name: String,
    /// Hours after midnight of this day; may lie outside the working day.
    pub(super) bars: Vec<(f64, f64, Look)>,
}

/// The hours of a working day on paper.
pub(super) struct Axis {
    left: f64,
    right: f64,
    starts_h: f64,
    ends_h: f64,
}

impl Axis {
    pub(super) fn new(starts_h: f64, ends_h: f64, width: f64) -> Self {
        Self {
            left: NAMES + NIGHT,
            right: (width - NIGHT).max(NAMES + NIGHT + 20.0),
            starts_h,
            ends_h,
        }
    }

    /// Where an hour stands; nights are cut short.
    fn x(&self, hour: f64) -> f64 {
        let share = (hour - self.starts_h) / (self.ends_h - self.starts_h);
        let x = self.left + share * (self.right - self.left);
        x.clamp(self.left - NIGHT, self.right + NIGHT)
    }

    /// The hours with their lines.
    pub(super) fn marks(&self, top: f64, bottom: f64) -> Vec<Mark> {
        let body = style::body();
        let per_hour = (self.right - self.left) / (self.ends_h - self.starts_h);
        let each = if per_hour < 6.0 { 2.0 } else { 1.0 };
        let mut marks = Vec::new();
        let mut hour = self.starts_h;
        while hour <= self.ends_h + LEAST_H {
            let x = self.x(hour);
            // Ticks only: a line through the lanes would strike through the marks of short works.
            for y in [top - 0.4, bottom] {
                marks.push(draw::line(at(x, y - TICK), at(x, y), style::HATCH));
            }
            let text = hour_text(hour).trim().trim_end_matches(":00").to_owned();
            let at_ = at(x, top - 1.8);
            marks.push(Mark::Text(draw::text(at_, text, body, Align::Middle)));
            hour += each;
        }
        let rule = |y: f64| draw::line(at(0.0, y), at(self.right + NIGHT, y), style::HATCH);
        marks.push(rule(top - 0.4));
        marks.push(rule(bottom));
        marks
    }

    pub(super) fn row(&self, row: &Row, y: f64) -> Vec<Mark> {
        let body = style::body();
        let base = y + (ROW + body.cap()) / 2.0;
        let mut marks = vec![Mark::Text(draw::text(
            at(0.0, base),
            words::fit(&words::clean(&row.name), body, NAMES - 1.5),
            body,
            Align::Start,
        ))];
        for &(from, to, look) in &row.bars {
            let (a, b) = (self.x(from), self.x(to));
            // What starts or ends at night is drawn into the night; what lies in it entirely is not drawn.
            if b - a > LEAST_H {
                marks.extend(bar(look, a, b, y + ROW / 2.0));
            }
        }
        marks
    }
}

/// A bar about a level line.
pub(super) fn bar(look: Look, from: f64, to: f64, middle: f64) -> Vec<Mark> {
    let area = Box2::new(from, middle - BAR / 2.0, to, middle + BAR / 2.0);
    match look {
        Look::Work(mark) => {
            let body = style::body();
            let area = Box2::new(from, middle - WORK / 2.0, to, middle + WORK / 2.0);
            let mut marks = vec![draw::rectangle(&area, Some(style::RULE), Some(WHITE))];
            let name = mark.to_string();
            if words::width(&name, body) + 2.0 * INSIDE <= to - from {
                let base = at((from + to) / 2.0, middle + body.cap() / 2.0);
                marks.push(Mark::Text(draw::text(base, name, body, Align::Middle)));
            }
            marks
        }
        Look::Window => vec![draw::rectangle(&area, Some(style::RULE), Some(WHITE))],
        Look::Wait => {
            let lines = hatch::lines(&[area.corners().to_vec()], 45.0, WAITING);
            let mut marks = vec![draw::rectangle(&area, None, Some(WHITE))];
            if !lines.is_empty() {
                marks.push(draw::hatch(&lines));
            }
            marks.push(draw::rectangle(&area, Some(style::FINE), None));
            marks
        }
    }
}
