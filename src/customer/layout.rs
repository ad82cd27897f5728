//! How a page is divided between the plan and its key.

use kurbo::Rect;

use crate::ink::{Group, PaperPoint};

use super::look;
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::scale::Scale;
use crate::paper::words;

/// Room around the floor for names of doors and for marks, mm.
const AROUND: f64 = 9.5;
/// Room above it for the title, mm.
const HEAD: f64 = 7.0;
/// Air above the title, mm: its letters with their tails end within the room for it.
const TITLE_AIR: f64 = 1.7;
/// Room below it for the scale bar, mm.
const FOOT: f64 = 11.2;
/// Air between the plan and the words, and between columns of words, mm.
pub(crate) const GAP: f64 = 6.0;
/// Narrowest column of words, mm.
const NARROWEST: f64 = 58.0;
/// Least height of a column below the plan, mm.
const LEAST_BELOW: f64 = 40.0;
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

/// How much smaller a plan may get so that the words stand on fewer pages.
const COST_OF_WORDS: f64 = 1.5;

/// A page divided.
#[derive(Clone, Debug)]
pub(crate) struct Layout {
    /// Scale of the plan.
    pub scale: Scale,
    /// The plan with its title and scale bar.
    pub plan: Box2,
    /// The columns of words beside and below it; none where it has the page to itself.
    pub beside: Vec<Box2>,
    /// The columns of words of a page without a plan.
    pub columns: Vec<Box2>,
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
            said.push("×3: this one and two more that look like it.");
        }
        if self.beside.is_empty() && !self.columns.is_empty() {
            said.push("Letters: see the next page.");
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
                "×3: three that look like it. Without a letter: see the color.",
                body,
                room,
            );
        }
        let y = bottom - if lines.len() > 1 { LINE } else { 0.0 };
        let marks = draw::below(at(left, y), lines.into_iter().take(2), body, LINE);
        (!marks.is_empty()).then(|| draw::group("mark-note", "frame", marks))
    }
}

/// Every way to divide a page of this area: each scale from the largest that fits down to what words may cost, with columns of words
/// from wide to narrow, all of one width. The plan stands over as many as it needs. `next` is the area of a page without a plan.
pub(crate) fn all(area: &Box2, next: &Box2, floor: Rect, scales: &[Scale]) -> Vec<Layout> {
    let fits = |scale: &Scale| {
        let (w, h) = needs(floor, *scale);
        w <= area.width() && h + foot(area.width()) <= area.height()
    };
    let mut scales = scales.iter().copied().filter(fits).peekable();
    let least = scales.peek().map_or(0.0, |first| first.ratio * COST_OF_WORDS);
    let most = ((area.width() + GAP) / (NARROWEST + GAP)).floor().max(1.0) as usize;
    let mut out = Vec::new();
    for scale in scales.take_while(|scale| scale.ratio <= least) {
        out.extend((1..=most).filter_map(|n| divided(area, next, floor, scale, n)));
    }
    out
}

/// A page in `n` columns.
fn divided(area: &Box2, next: &Box2, floor: Rect, scale: Scale, n: usize) -> Option<Layout> {
    let (w, h) = needs(floor, scale);
    let each = (area.width() - GAP * (n - 1) as f64) / n as f64;
    let over = ((w + GAP) / (each + GAP)).ceil().max(1.0) as usize;
    let left = |i: usize| area.left + i as f64 * (each + GAP);
    let column = |i, top, bottom| Box2::new(left(i), top, left(i) + each, bottom);
    let right = column(over.min(n) - 1, 0.0, 0.0).right;
    let mut plan = Box2::new(area.left, area.top, right, area.bottom);
    let tall = h + foot(plan.width());
    if over > n || tall > area.height() {
        return None;
    }
    let mut beside = Vec::new();
    let top = area.top + tall + GAP;
    if area.bottom - top >= LEAST_BELOW {
        plan.bottom = area.top + tall;
        beside.extend((0..over).map(|i| column(i, top, area.bottom)));
    }
    beside.extend((over..n).map(|i| column(i, area.top, area.bottom)));
    Some(Layout {
        scale,
        plan,
        beside,
        columns: (0..n).map(|i| column(i, next.top, next.bottom)).collect(),
    })
}

/// Whether the note on the marks has room beside the scale bar of a plan so wide.
fn has_note_beside(width: f64) -> bool {
    width - NOTE - SIDE >= LEAST_NOTE
}

/// Room below the floor on a plan so wide, mm: for the scale bar, and for the note above it where it has none beside it.
fn foot(width: f64) -> f64 {
    if has_note_beside(width) { FOOT } else { FOOT + 2.0 * LINE }
}

/// The plan alone on a sheet of its size, at the scale at which the floor with what stands around it is `width` mm wide, or at a smaller
/// one where it would be taller than `tallest`, mm.
pub(crate) fn alone(floor: Rect, width: f64, tallest: f64) -> Option<Layout> {
    let (wide, tall) = (width - 2.0 * AROUND, tallest - 2.0 * AROUND - HEAD - foot(width));
    let k = (wide / floor.width()).min(tall / floor.height());
    let scale = Scale { ratio: 1000.0 / k };
    let usable = k.is_finite() && k > 0.0;
    usable.then(|| {
        let (w, h) = needs(floor, scale);
        Layout {
            scale,
            plan: Box2::new(0.0, 0.0, w, h + foot(w)),
            beside: Vec::new(),
            columns: Vec::new(),
        }
    })
}

/// Width and height that a floor needs with what stands around it and above it, mm.
fn needs(floor: Rect, scale: Scale) -> (f64, f64) {
    let k = scale.mm_per_m();
    let title = words::width(TITLE, look::head()) + 2.0 * SIDE;
    ((floor.width() * k + 2.0 * AROUND).max(title), floor.height() * k + 2.0 * AROUND + HEAD)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::Mark;

    fn layout(width: f64) -> Layout {
        Layout {
            scale: Scale { ratio: 50.0 },
            plan: Box2::new(10.0, 10.0, 10.0 + width, 200.0),
            beside: Vec::new(),
            columns: Vec::new(),
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
