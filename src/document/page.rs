//! The paper laid out on pages: margins, sizes of type, head and foot.

use crate::ink::{Align, BLACK, Color, Group, Mark, PaperPoint, PathMark, Sheet, Step, Stroke};
use crate::ink::{TextMark, Weight};
use crate::quantity::Units;
use crate::sheet::draw;
use crate::sheet::mm::by;
use crate::{font, sheet};

use super::Document;
use super::lay::lay;
use super::paginate::{Placed, paginate};

/// Millimeters of a typographic point: 72 to the inch.
const POINT: f64 = 25.4 / 72.0;

/// Size of running text, mm: 10.25 pt, whose capitals are as high as the least text of a drawing (3/32 in).
pub(super) const BODY: f64 = 10.25 * POINT;
/// Baseline to baseline of running text, mm: 14.25 pt.
pub(super) const LEADING: f64 = 14.25 * POINT;
/// Baseline to baseline in tables, mm: 13.25 pt.
pub(super) const TABLE_LEADING: f64 = 13.25 * POINT;
/// Size of the title, mm: 21 pt.
pub(super) const TITLE: f64 = 21.0 * POINT;
/// Size of headings of the second level, mm: 13.5 pt.
pub(super) const HEADING: f64 = 13.5 * POINT;
/// Size of the foot, mm: 8.5 pt.
const FOOT: f64 = 8.5 * POINT;

/// White at the left and right, mm.
const SIDE: f64 = 24.0;
/// White above the text, mm.
const ABOVE: f64 = 22.0;
/// White below the text, mm; the foot stands in it.
const BELOW: f64 = 25.0;
/// Baseline of the foot, mm from the lower edge.
const FOOT_AT: f64 = 12.5;

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
    let width = text_width(paper);
    let height = paper.height() - ABOVE - BELOW;
    let placed = paginate(lay(document, width, height), height);
    let count = placed.len();
    let page = |(i, placed): (usize, Vec<Placed>)| {
        let mut groups: Vec<Group> = placed
            .into_iter()
            .filter(|piece| !piece.marks.is_empty())
            .map(|piece| {
                let group = Group {
                    marks: piece.marks,
                    ..Group::default()
                };
                draw::moved(group, by(SIDE, ABOVE + piece.top))
            })
            .collect();
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
