//! The key plan: the whole floor, small, with the windows of a set numbered and the own one shaded.

use kurbo::Rect;

use crate::geometry::path::Path;
use crate::ink::{Align, Color, Mark, PaperPoint};
use crate::slab::Slab;

use super::flow::{Block, Content, Piece};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::style;
use crate::paper::words;

/// Tallest key plan, mm.
const TALLEST: f64 = 58.0;
/// Shade of the own window.
const SHADE: Color = Color(0xC8, 0xC8, 0xC8);

/// A key plan for one sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyPlan {
    /// Outline of the floor, in m.
    outline: Vec<Vec<kurbo::Point>>,
    floor: Rect,
    /// Windows with the numbers of their sheets.
    windows: Vec<(Rect, String)>,
    /// Which of them this sheet shows.
    own: Option<usize>,
}

impl KeyPlan {
    /// For a floor, its windows, and the one that this sheet shows.
    #[must_use]
    pub fn new(slab: &Slab, windows: Vec<(Rect, String)>, own: Option<usize>) -> Self {
        Self {
            outline: slab.outline.walls.iter().map(Path::points).collect(),
            floor: slab.outline.path.bounds(),
            windows,
            own,
        }
    }

    fn piece(&self, width: f64) -> Piece {
        let k = ((width - 2.0) / self.floor.width().max(1e-6))
            .min(TALLEST / self.floor.height().max(1e-6));
        let height = self.floor.height() * k;
        let left = (width - self.floor.width() * k) / 2.0;
        let on = |p: kurbo::Point| -> PaperPoint {
            at(left + (p.x - self.floor.x0) * k, 1.0 + (self.floor.y1 - p.y) * k)
        };
        let area = |r: &Rect| Box2::of(&[on(r.origin()), on(kurbo::Point::new(r.x1, r.y1))]);
        let mut marks = Vec::new();
        if let Some((own, _)) = self.own.and_then(|i| self.windows.get(i)) {
            marks.push(Mark::Group(draw::group(
                "overview-own",
                "overview",
                vec![draw::rectangle(&area(own), None, Some(SHADE))],
            )));
        }
        for (window, _) in &self.windows {
            marks.push(draw::rectangle(&area(window), Some(style::FINE), None));
        }
        let runs: Vec<Vec<PaperPoint>> = self
            .outline
            .iter()
            .map(|w| w.iter().map(|p| on(*p)).collect())
            .filter(|w: &Vec<PaperPoint>| w.len() > 1)
            .collect();
        marks.push(draw::lines(&runs, style::OBJECT));
        let rooms: Vec<Box2> = self.windows.iter().map(|(w, _)| area(w)).collect();
        marks.extend(self.numbers(&rooms));
        Piece::new(height + 3.0, draw::group("overview", "overview", marks))
    }
}

impl KeyPlan {
    /// The numbers of the windows in their rooms on paper: the own one first, then each that has room and touches none before it.
    fn numbers(&self, rooms: &[Box2]) -> Vec<Mark> {
        let strong = style::strong();
        let own = self.own.filter(|&i| i < rooms.len());
        let others = (0..rooms.len()).filter(|&i| Some(i) != own);
        let (mut taken, mut out): (Vec<Box2>, Vec<Mark>) = (Vec::new(), Vec::new());
        for i in own.into_iter().chain(others) {
            let (Some(room), Some((_, number))) = (rooms.get(i), self.windows.get(i)) else {
                continue;
            };
            let short = number.trim_start_matches("S-");
            for text in [number.as_str(), short] {
                let (w, h) = (words::width(text, strong) + 1.0, strong.cap() + 1.0);
                let middle = room.center();
                let place = Box2::around(middle, w, h);
                let is_free = !taken.iter().any(|t| t.meets(&place));
                if w < room.width() && h < room.height() && is_free {
                    let base = at(middle.x, middle.y + strong.cap() / 2.0);
                    // Walls that run through the window stop at its number.
                    let ground = if Some(i) == own { SHADE } else { crate::ink::WHITE };
                    out.push(draw::rectangle(&place, None, Some(ground)));
                    out.push(Mark::Text(draw::text(base, text, strong, Align::Middle)));
                    taken.push(place);
                    break;
                }
            }
        }
        out
    }
}

impl Content for KeyPlan {
    fn lay(&self, width: f64) -> Block {
        Block {
            title: "KEY PLAN, NOT TO SCALE".into(),
            pieces: vec![self.piece(width)],
            whole: true,
        }
    }
}
