//! The paper laid out on pages: margins, sizes of type, head and foot.

use crate::ink::{Align, BLACK, Color, Group, Mark, PaperPoint, PathMark, Sheet, Step, Stroke};
use crate::ink::{TextMark, Weight};
use crate::quantity::Units;
use crate::sheet::draw;
use crate::sheet::mm::Box2;
use crate::{font, sheet};

use super::lay::{lay, opening};
use super::paginate::{Placed, paginate};
use super::{Block, Document};

/// Millimeters of a typographic point: 72 to the inch.
const POINT: f64 = 25.4 / 72.0;

/// Size of running text, mm: 10.25 pt, whose capitals are as high as the least text of a drawing (3/32 in).
pub(super) const BODY: f64 = 10.25 * POINT;
/// Baseline to baseline of running text, mm: 12.75 pt.
pub(super) const LEADING: f64 = 12.75 * POINT;
/// Baseline to baseline in tables, mm: 12.5 pt.
pub(super) const TABLE_LEADING: f64 = 12.5 * POINT;
/// Size of the title, mm: 19 pt.
pub(super) const TITLE: f64 = 19.0 * POINT;
/// Size of headings of the second level, mm: 13 pt.
pub(super) const HEADING: f64 = 13.0 * POINT;
/// Size of the foot, mm: 8.5 pt.
const FOOT: f64 = 8.5 * POINT;

/// White at the left and right, mm.
pub(super) const SIDE: f64 = 18.0;
/// White above the text, mm.
pub(super) const ABOVE: f64 = 13.0;
/// White below the text, mm; the foot stands in it.
pub(super) const BELOW: f64 = 16.0;
/// Baseline of the foot, mm from the lower edge.
const FOOT_AT: f64 = 9.5;

/// Ink of what is there but not to be read first.
pub(super) const GRAY: Color = Color(0x55, 0x55, 0x55);
/// Thin rules.
pub(super) const RULE: Color = Color(0x99, 0x99, 0x99);

/// Paper of the page.
pub use sheet::Paper;

/// Lays a paper out, a sheet a page.
///
/// ```
/// use slabwalk::document::{Block, Document, Paper, pages};
/// use slabwalk::sheet::paper::Size;
/// let paper = Document { title: "Proposal".into(), blocks: vec![Block::Paragraph("One line.".into())], ..Document::default() };
/// assert_eq!(pages(&paper, Paper::portrait(Size::Letter)).len(), 1);
/// ```
#[must_use]
pub fn pages(document: &Document, paper: Paper) -> Vec<Sheet> {
    let (width, height) = (text_width(paper), paper.height() - ABOVE - BELOW);
    let area = Box2::new(SIDE, ABOVE, SIDE + width, ABOVE + height);
    let pieces = [
        opening(document, width),
        lay(&document.blocks, width, height),
    ]
    .concat();
    let placed = grouped(paginate(pieces, &|_| vec![area]));
    let count = placed.len();
    let page = |(i, mut groups): (usize, Vec<Group>)| {
        groups.push(foot(document, paper, i + 1, count));
        Sheet {
            name: format!("page-{}", i + 1),
            title: format!("Page {} of {count}", i + 1),
            description: document.subject.clone(),
            width: paper.width(),
            height: paper.height(),
            groups,
        }
    };
    placed.into_iter().enumerate().map(page).collect()
}

/// Fills the columns of pages with blocks, as wide as `width` mm each: `columns` gives those of a page by its number from 0, none where a
/// drawing has the page to itself. Every page but the first must have some.
#[must_use]
pub fn set(blocks: &[Block], width: f64, columns: &dyn Fn(usize) -> Vec<Box2>) -> Vec<Vec<Group>> {
    let tall = |page| columns(page).iter().map(Box2::height).fold(0.0, f64::max);
    let pieces = lay(blocks, width, f64::max(tall(0), tall(1)));
    grouped(paginate(pieces, columns))
}

/// What stands on each page, each piece a group.
fn grouped(pages: Vec<Vec<Placed>>) -> Vec<Vec<Group>> {
    let group = |Placed { at, piece }: Placed| {
        let class = if piece.id.is_empty() { "words" } else { "key" };
        let group = draw::group(piece.id, class, piece.marks);
        draw::moved(group, at - PaperPoint::default())
    };
    let drawn = |placed: &Placed| !placed.piece.marks.is_empty();
    let page = |page: Vec<Placed>| page.into_iter().filter(drawn).map(group).collect();
    pages.into_iter().map(page).collect()
}

/// Width of the text on a page, mm.
#[must_use]
pub const fn text_width(paper: Paper) -> f64 {
    paper.width() - 2.0 * SIDE
}

/// The paper a proposal is printed on: Letter, and A4 where the sketch is metric.
impl Paper {
    /// Upright paper of an office in a country with these units.
    #[must_use]
    pub const fn office(units: Units) -> Self {
        match units {
            Units::Us => Self::portrait(sheet::paper::Size::Letter),
            Units::Metric => Self::portrait(sheet::paper::Size::A4),
        }
    }
}

fn foot(document: &Document, paper: Paper, number: usize, count: usize) -> Group {
    let y = paper.height() - FOOT_AT;
    let (left, right) = (SIDE, paper.width() - SIDE);
    let number = text(
        right,
        y,
        &format!("{number} of {count}"),
        FOOT,
        Weight::Regular,
    );
    let number = TextMark {
        align: Align::End,
        color: GRAY,
        ..number
    };
    let room = right - left - 25.0;
    let running = font::shorten(&document.running, room, FOOT, Weight::Regular);
    let mut marks = vec![rule(left, right, y - 4.6, 0.2, RULE), Mark::Text(number)];
    if !running.is_empty() {
        marks.push(Mark::Text(TextMark {
            color: GRAY,
            ..text(left, y, &running, FOOT, Weight::Regular)
        }));
    }
    Group {
        id: "foot".into(),
        marks,
        ..Group::default()
    }
}

/// A line of text from `x`, baseline `y`.
pub(super) fn text(x: f64, y: f64, words: &str, size: f64, weight: Weight) -> TextMark {
    TextMark {
        at: PaperPoint { x, y },
        text: words.to_owned(),
        size,
        weight,
        align: Align::Start,
        turn: 0.0,
        color: BLACK,
        width: None,
    }
}

/// A level rule.
pub(super) fn rule(left: f64, right: f64, y: f64, width: f64, color: Color) -> Mark {
    let at = |x| PaperPoint { x, y };
    Mark::Path(PathMark {
        steps: vec![Step::Move(at(left)), Step::Line(at(right))],
        stroke: Some(Stroke {
            width,
            color,
            round: false,
        }),
        fill: None,
    })
}
