//! How a page is divided between the plan and its key.

use kurbo::Rect;

use crate::ink::{Align, Group, Mark, PaperPoint};

use super::super::draw;
use super::super::mm::{Box2, at};
use super::super::scale::Scale;
use super::super::words;
use super::key::{self, Row};
use super::look;

/// Room around the floor for names of doors and for marks, mm.
const AROUND: f64 = 9.5;
/// Room above it for the title, mm.
const HEAD: f64 = 7.0;
/// Air above the title, mm: its letters with their tails end within the room for it.
const TITLE_AIR: f64 = 1.7;
/// Room below it for the scale bar, mm.
const FOOT: f64 = 11.2;
/// Widest column of the key, mm.
const WIDEST: f64 = 104.0;
/// Air between the plan and the key, mm.
const GAP: f64 = 4.0;
/// Where the note on the marks starts at the foot of the plan, mm from its left edge: behind the scale bar.
const NOTE: f64 = 84.0;
/// Least width of that note beside the scale bar, mm; on a narrower plan it stands above the bar.
const LEAST_NOTE: f64 = 40.0;
/// From one line of that note to the next, mm.
const LINE: f64 = 5.2;
/// Air beside what stands on the plan's own left and right edge, mm.
const SIDE: f64 = 3.0;

/// What stands above the plan.
pub(crate) const TITLE: &str = "What we will do to your floor";

/// How much smaller a plan may get so that its key stands on the same page.
const COST_OF_KEY: f64 = 1.4;

/// A page divided.
#[derive(Clone, Debug)]
pub(crate) struct Layout {
    /// Scale of the plan.
    pub scale: Scale,
    /// The plan with its title and scale bar.
    pub plan: Box2,
    /// How tightly the key is set.
    pub level: u8,
    /// Where each line of the key stands; empty where the words of the next pages are the key.
    pub key: Vec<Box2>,
}

impl Layout {
    /// Middle of the floor.
    pub(crate) fn middle(&self) -> PaperPoint {
        let w = self.window();
        w.center()
    }

    /// Where the floor, its names and its marks stand.
    pub(crate) fn window(&self) -> Box2 {
        let p = &self.plan;
        Box2::new(p.left, p.top + HEAD, p.right, p.bottom - foot(p.width()))
    }

    /// Where the title starts.
    pub(crate) fn title(&self) -> PaperPoint {
        let p = &self.plan;
        at(p.left + SIDE, p.top + TITLE_AIR + look::head().cap())
    }

    /// What has to be said of the marks, at the foot of the plan.
    pub(crate) fn note(&self, shared: bool, unlettered: &str) -> Option<Group> {
        let mut said = Vec::new();
        if shared {
            said.push("×3: three near each other.");
        }
        if self.key.is_empty() {
            said.push("Letters: see the next pages.");
        }
        said.push(unlettered);
        let p = &self.plan;
        let body = look::body();
        let beside = has_note_beside(p.width());
        let (left, bottom) = if beside {
            (p.left + NOTE, p.bottom - 2.0)
        } else {
            (p.left + SIDE, p.bottom - FOOT - 1.0)
        };
        let room = p.right - SIDE - left;
        let mut lines = words::wrap(&said.join(" "), body, room);
        if lines.len() > 2 {
            lines = words::wrap(
                "×3: three near it. Without a letter: see the color.",
                body,
                room,
            );
        }
        let mut y = bottom - if lines.len() > 1 { LINE } else { 0.0 };
        let mut marks = Vec::new();
        for line in lines.into_iter().take(2) {
            let text = draw::text(at(left, y), line, body, Align::Start);
            marks.push(Mark::Text(text));
            y += LINE;
        }
        (!marks.is_empty()).then(|| draw::group("mark-note", "frame", marks))
    }
}

/// The largest scale at which the plan and its key fit on one page. Where the key would cost too much of the scale it goes to the pages of
/// words (`apart`), and the plan has the page to itself.
pub(crate) fn fit(
    area: &Box2,
    floor: Rect,
    scales: &[Scale],
    rows: &[Row],
    apart: bool,
) -> Option<Layout> {
    let together = scales
        .iter()
        .find_map(|&scale| with_key(area, floor, scale, rows));
    if !apart {
        return together;
    }
    let alone = scales.iter().find_map(|&scale| alone(area, floor, scale))?;
    let near = |t: &Layout| t.scale.ratio <= COST_OF_KEY * alone.scale.ratio;
    together.filter(near).or(Some(alone))
}

/// Whether the note on the marks has room beside the scale bar of a plan so wide.
fn has_note_beside(width: f64) -> bool {
    width - NOTE - SIDE >= LEAST_NOTE
}

/// Room below the floor on a plan so wide, mm: for the scale bar, and for the note above it where it has none beside it.
fn foot(width: f64) -> f64 {
    if has_note_beside(width) {
        FOOT
    } else {
        FOOT + 2.0 * LINE
    }
}

/// Width and height that a floor needs with what stands around it and above it, mm.
fn needs(floor: Rect, scale: Scale) -> (f64, f64) {
    let k = scale.mm_per_m();
    let title = words::width(TITLE, look::head()) + 2.0 * SIDE;
    (
        (floor.width() * k + 2.0 * AROUND).max(title),
        floor.height() * k + 2.0 * AROUND + HEAD,
    )
}

fn with_key(area: &Box2, floor: Rect, scale: Scale, rows: &[Row]) -> Option<Layout> {
    let needs = needs(floor, scale);
    let set = |&level: &u8| {
        let whole = |layout: &Layout| layout.key.len() == rows.len();
        beside(area, needs, scale, rows, level)
            .filter(whole)
            .or_else(|| below(area, needs, scale, rows, level))
    };
    key::LEVELS.iter().find_map(set)
}

fn alone(area: &Box2, floor: Rect, scale: Scale) -> Option<Layout> {
    let (w, h) = needs(floor, scale);
    let high = h + foot(area.width());
    (w <= area.width() && high <= area.height()).then(|| Layout {
        scale,
        plan: *area,
        level: 0,
        key: Vec::new(),
    })
}

/// The key in columns at the right.
fn beside(
    area: &Box2,
    (w, h): (f64, f64),
    scale: Scale,
    rows: &[Row],
    level: u8,
) -> Option<Layout> {
    let spare = area.width() - w - GAP;
    if spare < key::NARROWEST {
        return None;
    }
    let most = if spare >= 2.0 * key::NARROWEST { 2 } else { 1 };
    let mut best = None;
    for n in 1..=most {
        let width = (spare / f64::from(n)).min(WIDEST);
        let left = area.right - f64::from(n) * width;
        let plan = Box2::new(area.left, area.top, left - GAP, area.bottom);
        if h + foot(plan.width()) > area.height() {
            continue;
        }
        let column = |i: i32| {
            let x = left + f64::from(i) * width;
            Box2::new(x, area.top + 3.0, x + width - GAP, area.bottom)
        };
        let columns: Vec<Box2> = (0..n).map(column).collect();
        let layout = Layout {
            scale,
            plan,
            level,
            key: key::fill(rows, &columns, level),
        };
        let whole = layout.key.len() == rows.len();
        best = Some(layout);
        if whole {
            break;
        }
    }
    best
}

/// The key in columns below.
fn below(area: &Box2, (w, h): (f64, f64), scale: Scale, rows: &[Row], level: u8) -> Option<Layout> {
    let h = h + foot(area.width());
    let spare = area.height() - h;
    if w > area.width() || spare < 10.0 || area.width() < key::NARROWEST {
        return None;
    }
    let n = (area.width() / key::NARROWEST).floor().clamp(1.0, 6.0);
    let width = area.width() / n;
    let set = |height: f64| {
        let mut columns = Vec::new();
        let mut x = area.left;
        while x + width < area.right + 1.0 {
            columns.push(Box2::new(
                x,
                area.bottom - height,
                x + width - GAP,
                area.bottom,
            ));
            x += width;
        }
        key::fill(rows, &columns, level)
    };
    // The least height that holds every line, in steps of a millimeter.
    let mut height = 10.0;
    while height <= spare {
        let key = set(height);
        if key.len() == rows.len() {
            let plan = Box2::new(area.left, area.top, area.right, area.bottom - height - 2.0);
            return (plan.height() >= h - 2.0).then_some(Layout {
                scale,
                plan,
                level,
                key,
            });
        }
        height += 1.0;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layout(width: f64) -> Layout {
        Layout {
            scale: Scale { ratio: 50.0 },
            plan: Box2::new(10.0, 10.0, 10.0 + width, 200.0),
            level: 0,
            key: Vec::new(),
        }
    }

    #[test]
    fn title_and_note_leave_the_window_of_the_marks_free() {
        for width in [70.0, 100.0, 126.0, 127.0, 180.0] {
            let layout = layout(width);
            let (window, head, body) = (layout.window(), look::head(), look::body());
            // Tails of letters reach a quarter of the size below their line.
            assert!(layout.title().y + head.size / 4.0 <= window.top, "{width}");
            let note = layout.note(true, "No room for a letter: 3 × A.");
            for mark in note.expect("a note").marks {
                let Mark::Text(text) = mark else { continue };
                let right = text.at.x + words::width(&text.text, body);
                assert!(text.at.y - body.cap() >= window.bottom, "{width}");
                assert!(right <= layout.plan.right, "{width}: {}", text.text);
            }
        }
    }

    #[test]
    fn no_plan_is_narrower_than_its_title() {
        let floor = Rect::new(0.0, 0.0, 0.5, 6.0);
        let (w, _) = needs(floor, Scale { ratio: 50.0 });
        assert!(w >= words::width(TITLE, look::head()) + 2.0 * SIDE);
    }
}
