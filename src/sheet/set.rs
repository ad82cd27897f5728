//! Which sheets a floor's map takes: paper, scale, windows, and the frames that are drawn larger.
//!
//! 1. Papers in turn: the one asked for; else what every printer takes (letter, A4), landscape, or portrait where that earns a larger
//!    scale; then tabloid or A3. Nothing larger unless it is asked for.
//! 2. Whole at the largest readable scale that fits, its crowded windows drawn again at a larger one; or divided at the readable scale
//!    that takes the fewest sheets, enlarged plans counted, and the largest of those scales. What takes fewer sheets is drawn; of equals
//!    the whole floor.
//! 3. A long floor, four times as long as wide, is drawn in strips on one sheet where that earns a larger scale.
//! 4. Letter and A4 are for floors that one or two sheets of them hold at 1/8" = 1'-0" or 1:100, with all that is on hold beside the
//!    map; all others go on the larger paper.

use kurbo::Rect;

use crate::diagnostic::Diagnostics;
use crate::quantity::Units;
use crate::slab::Slab;

use super::Options;
use super::census::{PLANNED, Spot};
use super::enlarged;
use super::layout::{self, Layout};
use super::split::grid::{self, Grid};
use crate::paper::scale::Scale;
use crate::paper::size::Paper;

/// Most windows enlarged on one map, before dividing the floor is plainer.
const MOST_FRAMES: usize = 8;
/// Most windows enlarged where nothing plainer is left.
const MOST_EVER: usize = 120;
/// Most maps on the small paper, and the smallest scale there: 1/8" = 1'-0", 1:100.
const MOST_SMALL: usize = 2;
const COARSEST_SMALL: f64 = 100.0;
/// A floor that is so many times as long as wide may be drawn in strips, and most of them.
const LONG: f64 = 4.0;
const MOST_STRIPS: usize = 5;
/// Most windows of one floor; where a scale takes more, a smaller one is drawn.
const MOST_WINDOWS: f64 = 150.0;

/// The maps of a floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// How each map is divided, in reading order; one for a floor that is drawn whole.
    pub layouts: Vec<Layout>,
    /// The windows; `None` for a floor that is drawn whole.
    pub grid: Option<Grid>,
    /// Crowded windows.
    pub frames: Vec<Rect>,
    /// How many sheets draw them.
    pub enlarged: usize,
    /// Whether the windows are strips on one sheet.
    pub strips: bool,
}

impl Set {
    /// Sheets with a map on them.
    #[must_use]
    pub const fn sheets(&self) -> usize {
        let maps = if self.strips { 1 } else { self.layouts.len() };
        maps + self.enlarged
    }

    /// Scale of the maps.
    #[must_use]
    pub fn scale(&self) -> Option<Scale> {
        self.layouts.first().map(|l| l.scale)
    }
}

/// What a set is chosen from.
#[derive(Clone, Copy)]
pub struct Choice<'a> {
    /// The floor.
    pub slab: &'a Slab,
    /// Where its tags are anchored.
    pub spots: &'a [Spot],
    /// What was asked for.
    pub options: &'a Options,
    /// Whether what has to stand beside the map finds room on letter or A4.
    pub small: bool,
    /// Whether a division with less room than usual serves this floor.
    pub serves: &'a (dyn Fn(&Layout) -> bool + Sync),
}

impl Choice<'_> {
    const fn units(&self) -> Units {
        self.slab.units
    }

    fn floor(&self) -> Rect {
        self.slab.outline.path.bounds()
    }

    /// The sheets of a floor.
    ///
    /// # Errors
    ///
    /// One diagnostic if the paper holds nothing at any scale, or the floor is far too large for it.
    pub fn set(&self) -> Result<Set, Diagnostics> {
        let papers = layout::papers(self.options, self.units());
        for (n, pair) in papers.iter().enumerate() {
            let mut best: Option<Set> = None;
            let candidates = [self.whole(*pair), self.strips(*pair), self.divided(*pair)];
            for found in candidates.into_iter().flatten() {
                let ratio = |set: &Set| set.scale().map_or(f64::INFINITY, |s| s.ratio);
                let better = |b: &Set| {
                    let larger = found.strips && ratio(&found) < ratio(b);
                    found.sheets() < b.sheets() || larger && found.sheets() == b.sheets()
                };
                if best.as_ref().is_none_or(better) {
                    best = Some(found);
                }
            }
            let last = n + 1 == papers.len();
            let small = |set: &Set| {
                let scale = set.scale().map_or(f64::INFINITY, |s| s.ratio);
                self.small && set.sheets() <= MOST_SMALL && scale <= COARSEST_SMALL
            };
            if let Some(set) = best.filter(|set| last || small(set)) {
                return Ok(set);
            }
        }
        Err(layout::too_small(&papers, self.options.scale, self.units()).into())
    }

    /// The whole floor on one sheet, at the largest readable scale that fits.
    fn whole(&self, pair: [Paper; 2]) -> Option<Set> {
        let (floor, asked) = (self.floor(), self.options.scale.is_some());
        let size = (floor.width(), floor.height());
        let layout = layout::scales(self.options, self.units())
            .into_iter()
            .filter(|s| asked || s.is_readable(self.units()))
            .flat_map(|s| pair.map(|p| (p, s)))
            .flat_map(|(p, s)| layout::fitting(p, s, size))
            .find(|l| !l.tight || (self.serves)(l))?;
        let most = if asked { MOST_EVER } else { MOST_FRAMES };
        let frames = self.frames(layout.scale, most)?;
        let enlarged = self.larger(&layout, &frames);
        Some(Set { layouts: vec![layout], grid: None, frames, enlarged, strips: false })
    }

    /// A long floor in strips on one sheet, at the largest readable scale that fits.
    fn strips(&self, pair: [Paper; 2]) -> Option<Set> {
        let (floor, units) = (self.floor(), self.units());
        let (w, h) = (floor.width(), floor.height());
        if w.max(h) < LONG * w.min(h) {
            return None;
        }
        let (asked, level) = (self.options.scale.is_some(), w > h);
        let on = |(paper, scale): (Paper, Scale)| {
            let most = layout::most_of_strip(paper, scale, level);
            if grid::count(floor, most) > MOST_STRIPS as f64 {
                return None;
            }
            let grid = grid::divide(self.slab, floor, most);
            if !(2..=MOST_STRIPS).contains(&grid.windows.len()) {
                return None;
            }
            let pieces = grid.windows.iter().map(|w| w.rect.size());
            let pieces: Vec<(f64, f64)> = pieces.map(|s| (s.width, s.height)).collect();
            let layouts = layout::strips(paper, scale, &pieces, level)?;
            let frames = self.frames(scale, MOST_FRAMES)?;
            let enlarged = layouts.first().map_or(0, |l| self.larger(l, &frames));
            Some(Set { layouts, grid: Some(grid), frames, enlarged, strips: true })
        };
        layout::scales(self.options, units)
            .into_iter()
            .filter(|s| asked || s.is_readable(units))
            .flat_map(|s| pair.map(|p| (p, s)))
            .find_map(on)
    }

    /// The floor over several sheets.
    fn divided(&self, pair: [Paper; 2]) -> Option<Set> {
        let upright = (pair[1] != pair[0]).then(|| self.divided_on(pair[1])).flatten();
        let level = self.divided_on(pair[0]);
        match (level, upright) {
            (Some(a), Some(b)) if b.sheets() < a.sheets() => Some(b),
            (Some(a), _) => Some(a),
            (None, b) => b,
        }
    }

    fn divided_on(&self, paper: Paper) -> Option<Set> {
        let units = self.units();
        let mut scales = self.options.scale.map_or_else(|| Scale::detail(units), |s| vec![s]);
        let asked = self.options.scale.is_some();
        scales.reverse();
        let readable = |s: &Scale| asked || s.is_readable(units);
        let mut best: Option<Set> = None;
        for scale in scales.iter().filter(|s| readable(s)) {
            let most = layout::most(paper, *scale);
            let n = grid::count(self.floor(), most);
            let more = |b: &Set| n > 2.0 * b.sheets() as f64;
            if n > MOST_WINDOWS || best.as_ref().is_some_and(more) {
                break;
            }
            let grid = grid::divide(self.slab, self.floor(), most);
            if grid.windows.len() < 2 {
                continue;
            }
            let allowed = (MOST_FRAMES * grid.windows.len()).min(MOST_EVER);
            let Some(frames) = self.frames(*scale, allowed) else {
                continue;
            };
            let found = self.laid(paper, *scale, grid, frames);
            best = match (found, best) {
                (Some(f), Some(b)) if f.sheets() > b.sheets() => Some(b),
                (None, b) => b,
                (f, _) => f,
            };
        }
        best.or_else(|| self.coarse(paper))
    }

    /// How many sheets draw some frames larger.
    fn larger(&self, layout: &Layout, frames: &[Rect]) -> usize {
        let sheets = |f: &Rect| {
            let to = (layout.scale, PLANNED);
            enlarged::enlarge(self.spots, *f, to, layout.paper, self.units()).len()
        };
        frames.iter().map(sheets).sum()
    }

    /// A set of one layout for all windows.
    fn laid(&self, paper: Paper, scale: Scale, grid: Grid, frames: Vec<Rect>) -> Option<Set> {
        let layouts = layout::fitting(paper, scale, grid.largest());
        let layout = layouts.into_iter().find(|l| !l.tight)?;
        let enlarged = self.larger(&layout, &frames);
        Some(Set {
            layouts: vec![layout; grid.windows.len()],
            grid: (grid.windows.len() > 1).then_some(grid),
            frames,
            enlarged,
            strips: false,
        })
    }

    fn frames(&self, scale: Scale, most: usize) -> Option<Vec<Rect>> {
        enlarged::frames(self.spots, scale, self.floor(), most)
    }

    /// A floor that would take too many sheets or is crowded all over at a readable scale: the largest scale that takes no more than are
    /// allowed.
    fn coarse(&self, paper: Paper) -> Option<Set> {
        let mut all = layout::scales(self.options, self.units()).into_iter();
        let scale =
            all.find(|s| grid::count(self.floor(), layout::most(paper, *s)) <= MOST_WINDOWS)?;
        let grid = grid::divide(self.slab, self.floor(), layout::most(paper, scale));
        let frames = self.frames(scale, MOST_EVER).unwrap_or_default();
        self.laid(paper, scale, grid, frames)
    }
}
