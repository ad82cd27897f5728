//! The paper laid out on pages: margins, sizes of type, head and foot.

use std::rc::Rc;

use crate::flow::{self, Columns, Content, Cursor, Piece};
use crate::ink::{Align, Color, Group, Mark, Sheet, Stroke, Weight};
pub use crate::paper::Paper;
use crate::paper::mm::{Box2, at};
use crate::paper::style::Type;
use crate::paper::text::Setting;
use crate::paper::{draw, words};
use crate::quantity::Units;

use super::lay::{lay, opening};
use super::{Block, Document};

/// Millimeters of a typographic point: 72 to the inch.
const POINT: f64 = 25.4 / 72.0;

/// Size of running text, mm: 10.25 pt, whose capitals are as high as the least text of a drawing (3/32 in).
pub(super) const BODY: f64 = 10.25 * POINT;
/// Baseline to baseline of running text, mm: 12.75 pt.
pub(super) const LEADING: f64 = 12.75 * POINT;
/// Baseline to baseline in tables, mm: 12.5 pt.
pub(super) const TABLE_LEADING: f64 = 12.5 * POINT;
/// Running text.
pub(super) const TEXT: Setting = Setting::new(BODY, LEADING);
/// A word of it.
pub(super) const PLAIN: Type = Type { size: BODY, weight: Weight::Regular };
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

/// Lays a paper out, a sheet a page.
///
/// ```
/// use slabwalk::document::{Block, Document, Paper, pages};
/// use slabwalk::sheet::Size;
/// let paper = Document { title: "Proposal".into(), blocks: vec![Block::Paragraph("One line.".into())], ..Document::default() };
/// assert_eq!(pages(&paper, Paper::portrait(Size::Letter)).len(), 1);
/// ```
#[must_use]
pub fn pages(document: &Document, paper: Paper) -> Vec<Sheet> {
    let (width, height) = (text_width(paper), paper.height() - ABOVE - BELOW);
    let area = Box2::new(SIDE, ABOVE, SIDE + width, ABOVE + height);
    let pieces = [opening(document, width), lay(&document.blocks, width, height)].concat();
    let placed = paginate(pieces, &|_| vec![area]);
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
pub fn set(blocks: &[Block], width: f64, columns: Columns) -> Vec<Vec<Group>> {
    let tall = |page| columns(page).iter().map(Box2::height).fold(0.0, f64::max);
    let pieces = lay(blocks, width, f64::max(tall(0), tall(1)));
    paginate(pieces, columns)
}

/// Least height that stands with the last chain on its page where no section before it fits whole, mm.
const LEAST_BESIDE: f64 = 40.0;

/// Fills pages so that what ends the paper does not stand alone on the last one. Where only the last chain would stand there, the section
/// before it goes with it, or as much of that section as the page holds, unless this takes one page more.
fn paginate(pieces: Vec<Piece>, columns: Columns) -> Vec<Vec<Group>> {
    let all = Rc::new(flow::Block::from(pieces));
    let chains = all.chains();
    let pages = filled(&all, columns);
    let (Some((begins, _)), [.., before, last]) = (pages.last(), &*chains) else {
        return drawn(pages);
    };
    let first = begins.waiting.unwrap_or(begins.piece);
    if pages.len() == 1 || first <= *before || first > *last {
        return drawn(pages);
    }
    let Some(from) = company(&all.pieces, &chains, &columns(pages.len() - 1)) else {
        return drawn(pages);
    };
    let (before, behind) = all.pieces.split_at(from);
    let mut better = filled(&Rc::new(before.to_vec().into()), columns);
    let n = better.len();
    better.extend(filled(&Rc::new(behind.to_vec().into()), &|i| columns(n + i)));
    drawn(if better.len() == pages.len() { better } else { pages })
}

/// The piece from which on the last page is filled so that the last chain is not alone.
fn company(pieces: &[Piece], chains: &[usize], page: &[Box2]) -> Option<usize> {
    let room: f64 = page.iter().map(Box2::height).sum();
    let tall = |from: usize| pieces[from..].iter().map(|p| p.before + p.height).sum::<f64>();
    let (last, others) = chains.split_last()?;
    let others = others.get(1..)?.iter().copied().rev();
    let fitting = others.take_while(|&i| tall(i) <= room);
    let section = fitting.clone().find(|&i| pieces[i].section);
    section.or_else(|| fitting.clone().find(|&i| tall(i) - tall(*last) >= LEAST_BESIDE))
}

fn filled(block: &Rc<flow::Block>, columns: Columns) -> Vec<(Cursor, Vec<Group>)> {
    let content: Box<dyn Content> = Box::new(Rc::clone(block));
    flow::pages(&[content], columns)
}

/// What stands on each page, each piece a group.
fn drawn(pages: Vec<(Cursor, Vec<Group>)>) -> Vec<Vec<Group>> {
    let piece = |mark| match mark {
        Mark::Group(group) if !group.marks.is_empty() => Some(group),
        _ => None,
    };
    let page = |(_, groups): (Cursor, Vec<Group>)| {
        let marks = groups.into_iter().flat_map(|group| group.marks);
        marks.filter_map(piece).collect()
    };
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
            Units::Us => Self::portrait(crate::paper::size::Size::Letter),
            Units::Metric => Self::portrait(crate::paper::size::Size::A4),
        }
    }
}

fn foot(document: &Document, paper: Paper, number: usize, count: usize) -> Group {
    let y = paper.height() - FOOT_AT;
    let (left, right) = (SIDE, paper.width() - SIDE);
    let type_ = Type { size: FOOT, weight: Weight::Regular };
    let mut marks = vec![rule(left, right, y - 4.6, 0.2, RULE)];
    let mut say = |x: f64, text: String, align: Align| {
        let mut text = draw::text(at(x, y), text, type_, align);
        text.color = GRAY;
        marks.push(Mark::Text(text));
    };
    say(right, format!("{number} of {count}"), Align::End);
    let running = words::fit(&document.running, type_, right - left - 25.0);
    if !running.is_empty() {
        say(left, running, Align::Start);
    }
    Group { id: "foot".into(), marks, ..Group::default() }
}

/// A level rule.
pub(super) fn rule(left: f64, right: f64, y: f64, width: f64, color: Color) -> Mark {
    draw::line(at(left, y), at(right, y), thin(width, color))
}

/// The stroke of such a rule.
pub(super) const fn thin(width: f64, color: Color) -> Stroke {
    Stroke { width, color, round: false }
}
