//! One day: its bars over the hours, and below them what the air and the dust ask for.

use crate::hold::Hold;
use crate::hold::say::capital;
use crate::ink::{Align, Mark};
use crate::quantity::{Units, write};
use crate::schedule::report::{date_text, protection_text, said_on, tool_text};
use crate::schedule::silica::Protection;
use crate::schedule::{Day, Moment, Plan, Wait, Weather, lanes};
use crate::shop::Shop;
use crate::sketch::Site;

use super::axis::{Axis, Look, ROW, Row, bar};
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::style;
use crate::paper::words;
use crate::sheet::Inputs;
use crate::sheet::flow::{Block, Content, Notes, Piece, paragraph, room_beside};
use crate::sheet::page::{BARS, PADDING};

/// First word for a coat that must not go down.
const WAIT: &str = "WAIT";
const DAY_H: f64 = 24.0;
/// Least hours that are drawn.
const LEAST_H: f64 = 1e-6;
/// All days.
#[derive(Clone, Debug)]
pub(super) struct Bars {
    plan: Plan,
    shop: Shop,
    holds: Vec<Hold>,
    units: Units,
    starts_h: f64,
    ends_h: f64,
}

impl Bars {
    pub(super) fn new(inputs: &Inputs, plan: &Plan) -> Self {
        let days = &inputs.shop.days;
        let starts_h = days.starts.s() / 3600.0;
        let latest = plan.days.iter().flat_map(|d| &d.pieces).map(|p| p.to_h);
        let there_h = (days.hours.s() + days.lunch.s()) / 3600.0;
        let ends_h = latest.fold(starts_h + there_h.max(1.0), f64::max).ceil();
        Self {
            plan: plan.clone(),
            shop: inputs.shop.clone(),
            holds: inputs.holds.to_vec(),
            units: inputs.slab.units,
            starts_h,
            ends_h,
        }
    }

    /// Lanes of a day: its workers, its machines, the windows of its coats.
    pub(super) fn rows(&self, day: &Day) -> Vec<Row> {
        let jobs = lanes::jobs(day);
        let lane = |name: String, holds: &dyn Fn(&crate::schedule::Piece) -> bool| {
            let held = jobs.iter().enumerate().flat_map(|(n, job)| {
                let pieces = job.pieces.iter().filter(|piece| holds(piece));
                pieces.map(move |p| (p.from_h, p.to_h, Look::Work(lanes::mark(n))))
            });
            Row { name, bars: held.collect() }
        };
        let mut out: Vec<Row> = lanes::workers(day)
            .into_iter()
            .map(|w| lane(format!("worker {}", lanes::letter(w)), &|p| p.workers.contains(&w)))
            .collect();
        for machine in lanes::machines(day) {
            let name = lanes::machine_name(day, machine);
            out.push(lane(name, &|p| p.machines.contains(&machine)));
        }
        let here = day.start.after;
        let coats = || day.pieces.iter().filter(|piece| piece.is_coat());
        for wait in &self.plan.waits {
            let before = coats().any(|p| wait.over == p.task && wait.ended.after != here);
            let after = coats().any(|p| wait.under == p.task && wait.ended.after == here);
            if before || after {
                out.extend(self.waiting(wait, here));
            }
        }
        out
    }

    /// The works of a day with the marks of their bars: when, who, what.
    fn list(&self, day: &Day, width: f64) -> (Vec<Mark>, f64) {
        let body = style::body();
        let jobs = lanes::jobs(day);
        let mut marks = Vec::new();
        let who = |job: &lanes::Job| lanes::letters(&job.first().workers, self.shop.days.crew);
        let workers = jobs.iter().map(|job| words::width(&who(job), body));
        let names = 25.0 + workers.fold(0.0, f64::max) + 2.5;
        for (n, job) in jobs.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a few works")]
            let y = body.pitch() * n as f64 + body.cap();
            let clock = |quarter| lanes::clock(quarter).trim().to_owned();
            let cells = [
                (0.0, lanes::mark(n).to_string()),
                (4.0, format!("{}–{}", clock(job.from_q), clock(job.to_q))),
                (25.0, who(job)),
                (names, job.name(&self.holds)),
            ];
            for (inset, text) in cells {
                let text = words::fit(&text, body, width - inset);
                marks.push(Mark::Text(draw::text(at(inset, y), text, body, Align::Start)));
            }
        }
        #[expect(clippy::cast_precision_loss, reason = "a few works")]
        let height = body.pitch() * jobs.len() as f64;
        (marks, height)
    }

    /// The row of a window on a calendar day; `None` where nothing of it falls on that day.
    fn waiting(&self, wait: &Wait, here: usize) -> Option<Row> {
        let clock = |m: &Moment| (m.after as f64 - here as f64) * DAY_H + m.hour;
        let (ended, opens, closes) = (clock(&wait.ended), clock(&wait.opens), clock(&wait.closes));
        let bars: Vec<_> = [(ended, opens, Look::Wait), (opens, closes, Look::Window)]
            .into_iter()
            .filter(|(a, b, _)| b - a > LEAST_H && *b > 0.0 && *a < DAY_H)
            .collect();
        (!bars.is_empty()).then(|| Row { name: format!("window on {}", laid(&wait.under)), bars })
    }

    /// The lanes with their list, then what is said below them: a column may end between any of these.
    fn day(&self, day: &Day, width: f64) -> Vec<Piece> {
        let head = style::head();
        let dry = if day.waits() { ", if dry" } else { "" };
        let title = format!("DAY {}{}{dry}", day.number, date_text(&day.start));
        let mut marks =
            vec![Mark::Text(draw::text(at(0.0, head.cap()), title, head, Align::Start))];
        let rows = self.rows(day);
        let axis = Axis::new(self.starts_h, self.ends_h, width);
        let top = head.cap() + 7.2;
        #[expect(clippy::cast_precision_loss, reason = "a few rows")]
        let bottom = top + rows.len() as f64 * ROW;
        marks.extend(axis.marks(top, bottom));
        let mut y = top;
        for row in &rows {
            marks.extend(axis.row(row, y));
            y += ROW;
        }
        let (listed, height) = self.list(day, width);
        let top = bottom + 1.8;
        // Beside a long list there is room for some of what is said below it: as much in a wide column as in the narrowest, so that
        // a day broken off in one goes on in the other.
        let right = listed.iter().map(right_of).fold(0.0, f64::max);
        let least = width.min(BARS - 2.0 * PADDING);
        let beside = room_beside(right, least).map_or(0, |room| {
            let mut room_below = height + 1.0;
            let said = self.said(day, room).into_iter();
            said.take_while(|piece| {
                room_below -= piece.height;
                room_below >= 0.0
            })
            .count()
        });
        let below = draw::group(format!("day-{}-works", day.number), "works", listed);
        marks.push(Mark::Group(draw::moved(below, by(0.0, top))));
        let mut said = self.said(day, width);
        if let Some(room) = room_beside(right, width) {
            let mut y = top - 1.0;
            for piece in self.said(day, room).into_iter().take(beside) {
                marks.push(Mark::Group(draw::moved(piece.group, by(width - room, y))));
                y += piece.height;
            }
            said.drain(..beside);
        }
        let drawn = draw::group(format!("day-{}", day.number), "day", marks);
        let mut pieces = vec![Piece::new(top + height + 0.6, drawn)];
        pieces.extend(said);
        if let Some(last) = pieces.last_mut() {
            last.height += 3.2;
        }
        pieces
    }

    /// What is said of a day, as paragraphs of a width.
    fn said(&self, day: &Day, width: f64) -> Vec<Piece> {
        let strong = style::strong();
        let said = self.words(day).into_iter().map(|(lead, rest)| {
            let mut piece = paragraph(&lead, &rest, width, 0.0);
            // A coat that has to wait must not be read over.
            if lead.starts_with(WAIT) {
                let right = words::width(&format!("{lead}."), strong).min(width) + 0.6;
                let frame = Box2::new(-0.6, 0.1, right, strong.pitch() - 0.1);
                let frame = draw::rectangle(&frame, Some(style::REMOVAL), None);
                piece.group.marks.insert(0, frame);
            }
            piece.height -= 0.9;
            piece
        });
        said.collect()
    }

    /// What is said below the bars: windows, air, dust.
    pub(super) fn words(&self, day: &Day) -> Vec<(String, String)> {
        let units = self.units;
        let mut out = Vec::new();
        for piece in day.pieces.iter().filter(|p| p.is_coat()) {
            let coat = words::clean(&piece.task);
            let held = self.holds.iter().any(|hold| hold.stops(piece.kind, &piece.items));
            out.push(air(&coat, held, day.weather.as_ref(), units));
            let waits = self.plan.waits.iter().filter(|w| w.over == piece.task);
            for wait in waits {
                let text = format!(
                    "{} to {}; later abrade.",
                    said_on(&day.start, &wait.opens),
                    said_on(&day.start, &wait.closes)
                );
                out.push((format!("Window for {coat}"), text));
            }
        }
        out.extend(self.dust(day));
        out
    }

    /// Hours of the federal table, and what each tool asks for.
    fn dust(&self, day: &Day) -> Vec<(String, String)> {
        if day.shift.tools.is_empty() {
            return Vec::new();
        }
        let site = match self.plan.site {
            Site::Indoors => "indoors",
            Site::Outdoors => "outdoors",
        };
        let text = format!(
            "{} h of Table 1 tasks in the shift if one worker does them all.",
            write::trimmed(day.shift.table_h, 1)
        );
        let mut out = vec![(format!("Silica, {site}"), text)];
        for (tool, hours, protection) in &day.shift.tools {
            let text = format!(
                "{}, {} h.",
                capital(&tool_text(*tool, &self.shop)),
                write::trimmed(*hours, 1)
            );
            let lead = match protection {
                Protection::None => "Table 1: no respirator".to_owned(),
                other => capital(protection_text(*other)),
            };
            // One paragraph for all that ask for the same.
            match out.iter_mut().find(|known| known.0 == lead) {
                Some(known) => known.1 = format!("{} {text}", known.1),
                None => out.push((lead, text)),
            }
        }
        out
    }

    /// What the bars mean, of those that are used.
    fn key(&self) -> Piece {
        let used = |look: Look| {
            let rows = self.plan.days.iter().flat_map(|d| self.rows(d));
            let same =
                |other: Look| std::mem::discriminant(&other) == std::mem::discriminant(&look);
            rows.flat_map(|r| r.bars).any(|b| same(b.2))
        };
        let all = [
            (Look::Work('a'), "work, by its letter"),
            (Look::Wait, "window not open yet"),
            (Look::Window, "window open"),
        ];
        let body = style::body();
        let (mut x, middle) = (0.0, 2.4);
        let mut marks = Vec::new();
        for (look, name) in all.into_iter().filter(|(look, _)| used(*look)) {
            marks.extend(bar(look, x, x + 9.0, middle));
            let base = at(x + 10.5, middle + body.cap() / 2.0);
            marks.push(Mark::Text(draw::text(base, name, body, Align::Start)));
            x += 15.0 + words::width(name, body);
        }
        Piece::new(7.0, draw::group("bars-key", "legend-row", marks))
    }
}

impl Content for Bars {
    fn lay(&self, width: f64) -> Block {
        let mut pieces = vec![self.key()];
        pieces.extend(self.plan.days.iter().flat_map(|d| self.day(d, width)));
        Block { title: "DAYS".into(), pieces, whole: false }
    }
}

/// Text that stays together if a column holds it.
#[derive(Clone, Debug)]
pub(super) struct Together(pub(super) Notes);

impl Content for Together {
    fn lay(&self, width: f64) -> Block {
        Block { whole: true, ..self.0.lay(width) }
    }
}

/// Right edge of a text, mm; of nothing else.
fn right_of(mark: &Mark) -> f64 {
    match mark {
        Mark::Text(t) => t.at.x + words::width(&t.text, style::body()),
        _ => 0.0,
    }
}

/// The liquid of a coat, without what is thrown into it.
fn laid(coat: &str) -> &str {
    coat.split(", ").next().unwrap_or(coat)
}

/// Whether a coat can go down, with the number.
fn air(coat: &str, held: bool, weather: Option<&Weather>, units: Units) -> (String, String) {
    let wanted = match units {
        Units::Us => "5 °F",
        Units::Metric => "3 °C",
    };
    let Some(weather) = weather else {
        let text = format!("Measure before {coat}: slab {wanted} above the dew point.");
        return ("No forecast".into(), text);
    };
    let (Some(dew), Some(spread)) = (weather.dew_c, weather.spread_k) else {
        return ("Go".into(), format!("{coat}: air without moisture."));
    };
    let text = format!(
        "Slab {}, dew point {}, spread {} of at least {}. Measure again.",
        write::temperature(weather.slab_c, units),
        write::temperature(dew, units),
        write::temperature_difference(spread, units),
        write::temperature_difference(weather.wanted_k, units)
    );
    let lead = match (weather.go(), held) {
        (true, false) => format!("GO, {coat}"),
        // Good air does not clear what is on hold.
        (true, true) => format!("ON HOLD, {coat}; air good"),
        (false, _) => format!("{WAIT}, {coat}"),
    };
    (lead, text)
}
