//! Paper, scale and the division of a sheet into plan, columns of text and title block.

use crate::diagnostic::Diagnostic;
use crate::ink::PaperPoint;
use crate::quantity::Units;

use super::flow::Column;
use super::{Options, frame};
use crate::paper::mm::{Box2, at};
use crate::paper::scale::Scale;
use crate::paper::size::{Paper, Size};
use crate::paper::style;

/// Room around the slab for dimensions and tags, mm: two rows of dimensions and their texts.
const AROUND: f64 = 27.0;
/// The same where it earns a larger scale, mm: two rows of dimensions without air.
const AROUND_LESS: f64 = 25.0;
/// The same where nothing else does, mm: one row of dimensions.
const AROUND_TIGHT: f64 = 20.0;
/// Room that two rows of dimensions take, mm.
const AROUND_LEAST: f64 = 22.5;
/// Width of a strip that holds the legend in two columns, mm.
const STRIP_GOOD: f64 = 97.0;
/// Room below the plan for scale bar and direction mark, mm.
const FOOT: f64 = 16.0;
/// Narrowest strip beside the plan, mm.
const STRIP: f64 = 92.0;
/// The same where it earns a larger scale, mm.
const STRIP_TIGHT: f64 = 80.0;
/// Lowest strip below the plan, mm: the title block and some air.
const STRIP_BELOW: f64 = 68.0;
/// Widest column of text, mm.
const WIDEST: f64 = 124.0;
/// Columns with less height than this hold nothing, mm.
const LEAST_COLUMN: f64 = 22.0;
/// Air between the border and what stands in it, mm.
const PADDING: f64 = 4.0;

/// How a sheet is divided.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The sheet of paper that is divided.
    pub paper: Paper,
    /// Scale of the plan.
    pub scale: Scale,
    /// Border of the sheet.
    pub border: Box2,
    /// Where the plan stands with its dimensions.
    pub plan: Box2,
    /// Columns of text beside the plan, from the left.
    pub columns: Vec<Column>,
    /// Where the title block stands.
    pub title: Box2,
    /// Whether the room around the plan was cut for the sake of the scale: dimensions may lack room.
    pub tight: bool,
}

impl Layout {
    /// Where the middle of the floor comes.
    #[must_use]
    pub fn center(&self) -> PaperPoint {
        let p = &self.plan;
        at(p.center().x, (p.top + p.bottom - FOOT) / 2.0)
    }

    /// Where the floor, its dimensions and its tags may stand: not on the scale bar.
    #[must_use]
    pub const fn room(&self) -> Box2 {
        let p = &self.plan;
        Box2::new(p.left, p.top, p.right, p.bottom - FOOT)
    }
}

/// Where the strip of text stands, and how much room the plan gets.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Manner {
    below: bool,
    strip: f64,
    around: f64,
}

/// Tried in this order: the first is what a crew is used to, the others earn a larger scale where a floor just misses it.
const MANNERS: [Manner; 4] = [
    Manner { below: false, strip: STRIP, around: AROUND },
    Manner { below: false, strip: STRIP_TIGHT, around: AROUND_LESS },
    Manner { below: true, strip: STRIP_BELOW, around: AROUND },
    Manner { below: false, strip: STRIP_TIGHT, around: AROUND_TIGHT },
];

/// Papers the program chooses from where none is asked for, a size at a time: what every printer takes first, landscape before
/// portrait.
#[must_use]
pub fn papers(options: &Options, units: Units) -> Vec<[Paper; 2]> {
    if let Some(paper) = options.paper {
        return vec![[paper, paper]];
    }
    let sizes = match units {
        Units::Us => [Size::Letter, Size::Tabloid],
        Units::Metric => [Size::A4, Size::A3],
    };
    sizes.map(|size| [Paper::landscape(size), Paper::portrait(size)]).to_vec()
}

/// Scales to choose from: the one asked for, or the standard ones, largest drawing first.
#[must_use]
pub fn scales(options: &Options, units: Units) -> Vec<Scale> {
    options.scale.map_or_else(|| Scale::standard(units), |s| vec![s])
}

/// Says that nothing fits.
#[must_use]
pub fn too_small(sizes: &[[Paper; 2]], scale: Option<Scale>, units: Units) -> Diagnostic {
    let names: Vec<&str> = sizes.iter().map(|p| p[0].size.words()).collect();
    let at = scale.map_or("any standard scale".to_owned(), |s| s.text(units));
    Diagnostic::error(
        "paper-too-small",
        format!("the floor does not fit on {} at {at}", names.join(" or ")),
    )
    .hint("choose larger paper or a smaller scale, or leave both to the program")
}

/// Border of a sheet.
#[must_use]
pub fn border(paper: Paper) -> Box2 {
    let m = style::MARGIN;
    Box2::new(m, m, paper.width() - m, paper.height() - m)
}

/// Most of a floor that one sheet of a paper holds at a scale, width and height in m.
#[must_use]
pub fn most(paper: Paper, scale: Scale) -> (f64, f64) {
    let (b, k) = (border(paper), scale.mm_per_m());
    let w = b.width() - STRIP - 2.0 * AROUND;
    let h = b.height() - FOOT - 2.0 * AROUND;
    ((w / k).max(0.0), (h / k).max(0.0))
}

/// The divisions of a sheet that hold a piece of floor (width and height in m) at a scale, the roomiest first.
#[must_use]
pub fn fitting(paper: Paper, scale: Scale, piece: (f64, f64)) -> Vec<Layout> {
    let border = border(paper);
    let needed = |m: &Manner| {
        let k = scale.mm_per_m();
        (piece.0 * k + 2.0 * m.around, piece.1 * k + 2.0 * m.around + FOOT)
    };
    let fits = |m: &&Manner| {
        let (w, h) = needed(m);
        let (right, below) = if m.below { (0.0, m.strip) } else { (m.strip, 0.0) };
        w <= border.width() - right + 1e-6 && h <= border.height() - below + 1e-6
    };
    let divide = |m: &Manner| {
        let tight = m.around < AROUND_LESS;
        let (plan, columns, title) = if m.below {
            divide_below(&border, needed(m).1)
        } else {
            divide_beside(&border, needed(m).0, *m)
        };
        Layout { paper, scale, border, plan, columns, title, tight }
    };
    MANNERS.iter().filter(fits).map(divide).collect()
}

/// Most of a floor that a strip of it shows at a scale, m: strips lie one above the other (`level`) or side by side.
#[must_use]
pub fn most_of_strip(paper: Paper, scale: Scale, level: bool) -> (f64, f64) {
    let (w, h) = most(paper, scale);
    if level { (w, f64::INFINITY) } else { (f64::INFINITY, h) }
}

/// Strips of a long floor on one sheet, as large as their pieces of floor (width and height in m): one above the other (`level`) or side
/// by side. The text stands beside the first. `None` where they find no room.
#[must_use]
pub fn strips(
    paper: Paper,
    scale: Scale,
    pieces: &[(f64, f64)],
    level: bool,
) -> Option<Vec<Layout>> {
    let (border, k) = (border(paper), scale.mm_per_m());
    let needs: Vec<(f64, f64)> =
        pieces.iter().map(|(w, h)| (w * k + 2.0 * AROUND, h * k + 2.0 * AROUND)).collect();
    let (sum, widest) = if level {
        let heights = needs.iter().map(|n| n.1).sum::<f64>();
        (heights, needs.iter().map(|n| n.0).fold(0.0, f64::max))
    } else {
        let widths = needs.iter().map(|n| n.0).sum::<f64>();
        (widths, widths)
    };
    let (plan, columns, title) = divide_beside(&border, widest, MANNERS[0]);
    let tallest = needs.iter().map(|n| n.1).fold(0.0, f64::max);
    let high = if level { sum } else { tallest } + FOOT;
    if widest > plan.width() + 1e-6 || high > plan.height() + 1e-6 {
        return None;
    }
    let room = if level { plan.height() - FOOT } else { plan.width() };
    let air = (room - sum) / needs.len().max(1) as f64;
    let mut from = if level { plan.top } else { plan.left };
    let layouts = needs.iter().enumerate().map(|(i, need)| {
        let size = air + if level { need.1 } else { need.0 };
        let own = if level {
            Box2::new(plan.left, from, plan.right, from + size + FOOT)
        } else {
            Box2::new(from, plan.top, from + size, plan.bottom)
        };
        from += size;
        Layout {
            paper,
            scale,
            border,
            plan: own,
            columns: if i == 0 { columns.clone() } else { Vec::new() },
            title,
            tight: false,
        }
    });
    Some(layouts.collect())
}

/// One division for the sheet of all its strips.
#[must_use]
pub fn of_strips(layouts: &[Layout]) -> Option<Layout> {
    let (first, last) = (layouts.first()?, layouts.last()?);
    let (a, b) = (&first.plan, &last.plan);
    Some(Layout { plan: Box2::new(a.left, a.top, b.right, b.bottom), ..first.clone() })
}

/// Plan at the left, one or two columns beside it, title block at the lower right.
fn divide_beside(
    border: &Box2,
    needed: f64,
    Manner { strip, around, .. }: Manner,
) -> (Box2, Vec<Column>, Box2) {
    let spare = border.width() - needed;
    let n = if spare >= 2.0 * STRIP { 2.0 } else { 1.0 };
    let mut column = (spare / n).clamp(strip.min(border.width()), WIDEST);
    // A little of the air around the plan goes to a strip that then holds the legend in two columns.
    let air = 2.0 * (around - AROUND_LEAST).max(0.0);
    if n < 2.0 && column < STRIP_GOOD && spare + air >= STRIP_GOOD {
        column = STRIP_GOOD;
    }
    let left = border.right - n * column;
    let plan = Box2::new(border.left, border.top, left, border.bottom);
    let title = title(border, column);
    let mut columns = Vec::new();
    let mut x = left;
    while x < border.right - 1.0 {
        let last = x + 1.5 * column > border.right;
        let bottom = if last { title.top } else { border.bottom };
        columns.push(padded(x, border.top, x + column, bottom));
        x += column;
    }
    (plan, columns, title)
}

/// Plan over the whole width, columns in a strip below it.
fn divide_below(border: &Box2, needed: f64) -> (Box2, Vec<Column>, Box2) {
    let top = border.top + needed.min(border.height() - STRIP_BELOW);
    let plan = Box2::new(border.left, border.top, border.right, top);
    let n = (border.width() / STRIP).floor().max(1.0);
    let column = border.width() / n;
    let title = title(border, column);
    let mut columns = Vec::new();
    let mut i = 0.0;
    while i < n {
        let left = border.left + i * column;
        let bottom = if i + 1.5 > n { title.top } else { border.bottom };
        if bottom - top >= LEAST_COLUMN {
            columns.push(padded(left, top, left + column, bottom));
        }
        i += 1.0;
    }
    (plan, columns, title)
}

fn title(border: &Box2, width: f64) -> Box2 {
    Box2::new(
        border.right - width,
        border.bottom - frame::TITLE_HEIGHT,
        border.right,
        border.bottom,
    )
}

fn padded(left: f64, top: f64, right: f64, bottom: f64) -> Column {
    Column::new(Box2::new(left, top, right, bottom).grown(-PADDING))
}
