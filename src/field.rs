//! The field sheet: what an estimator takes along to a slab.
//!
//! The first page is a grid to scale, blank or with the floor of an earlier visit drawn faintly. The following pages have rows for
//! everything a sketch can record, and the questions that must be asked before anything is cut.

mod block;
mod form;
mod grid;
mod head;
mod questions;

#[cfg(test)]
mod tests;

use std::rc::Rc;

use kurbo::Rect;

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::ink::{Group, Sheet};
use crate::quantity::{M2_PER_FT2, Units};
use crate::record::Kind;
use crate::shop::Shop;
use crate::sketch::Job;
use crate::slab::Slab;
use crate::takeoff::moisture_tests_wanted;

use crate::paper::mm::{Box2, at};
use crate::paper::size::Size;
use crate::paper::{draw, style, words};
use crate::sheet::flow;
use crate::sheet::flow::{Column, Content, Cursor, Piece};
use crate::sheet::{Inputs, Options, Paper, Scale, frame};
use block::{Block, Body};
use grid::Grid;

/// Room left of the grid for its numbers, mm.
const BESIDE: f64 = 11.0;
/// Room below the grid for its numbers, the scale bar and a few words, mm.
const FOOT: f64 = 31.0;
/// Air between the border and what stands in it, mm.
const PADDING: f64 = 3.5;
/// Narrowest column of records, mm: a sheet of Letter upright has one.
const COLUMN: f64 = 180.0;
/// Most pages; a form needs a handful.
const MOST_PAGES: usize = 40;
/// Width to height of a floor of which only the area is known.
const PROPORTION: f64 = 4.0 / 3.0;
/// Floor for which the tests are counted where nothing is said, m²: the first step of the rule.
const SMALL_FLOOR: f64 = 1000.0 * M2_PER_FT2;
/// Coarsest scales at which a pencil can still draw a joint to scale: 1/8 in to the foot, 1:100.
const COARSEST: (f64, f64) = (96.0, 100.0);

/// How large the floor is thought to be.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Expected {
    /// Nobody knows.
    #[default]
    Unknown,
    /// Its area, m².
    Area(f64),
    /// Its width and height on the sheet, m.
    Size(f64, f64),
}

impl Expected {
    fn area_m2(self) -> Option<f64> {
        match self {
            Self::Unknown => None,
            Self::Area(area) => Some(area),
            Self::Size(w, h) => Some(w * h),
        }
    }

    fn rectangle(self) -> Rect {
        match self {
            Self::Unknown => Rect::ZERO,
            Self::Area(area) => {
                let height = (area / PROPORTION).sqrt();
                Rect::new(0.0, 0.0, area / height, height)
            }
            Self::Size(w, h) => Rect::new(0.0, 0.0, w, h),
        }
    }
}

/// A blank sheet as asked for.
#[derive(Clone, Copy, Debug)]
pub struct Blank<'a> {
    /// Units of the grid and of bare numbers.
    pub units: Units,
    /// Paper; the program's choice where nothing is said.
    pub paper: Option<Paper>,
    /// Scale; the largest standard scale that holds the expected floor where nothing is said.
    pub scale: Option<Scale>,
    /// Size of the floor.
    pub expected: Expected,
    /// The shop book, for the limits of moisture.
    pub shop: &'a Shop,
}

/// What the pages are filled with.
struct Visit<'a> {
    units: Units,
    job: Option<&'a Job>,
    /// File name and digest of the sketch of an earlier visit.
    source: Option<(&'a str, &'a str)>,
    slab: Option<&'a Slab>,
    shop: &'a Shop,
    area_m2: Option<f64>,
    /// Moisture tests wanted on the whole floor.
    tests: usize,
    /// Moisture tests taken on an earlier visit.
    taken: usize,
    /// What the grid must hold.
    floor: Rect,
}

impl Visit<'_> {
    /// The first number that no item of a kind of the earlier visit has.
    fn next(&self, kind: Kind) -> usize {
        let Some(slab) = self.slab else { return 1 };
        let of = slab.of(kind);
        let ids = of.iter().map(|item| item.id());
        // J3.2 is one of the record J3.
        let record =
            |id: &str| id.split('.').next()?.strip_prefix(kind.letter())?.parse::<u32>().ok();
        let last = ids.filter_map(record).max();
        last.map_or(1, |n| n as usize + 1)
    }
}

/// Draws a blank field sheet.
///
/// # Errors
///
/// One diagnostic if the expected floor does not fit the paper at the scale, or at any standard scale.
pub fn blank(asked: &Blank) -> Result<Vec<Sheet>, Diagnostics> {
    let visit = Visit {
        units: asked.units,
        job: None,
        source: None,
        slab: None,
        shop: asked.shop,
        area_m2: asked.expected.area_m2(),
        tests: moisture_tests_wanted(asked.expected.area_m2().unwrap_or(SMALL_FLOOR)),
        taken: 0,
        floor: asked.expected.rectangle(),
    };
    pages(&visit, asked.paper, asked.scale)
}

/// Draws the field sheet for another visit to a floor.
///
/// # Errors
///
/// One diagnostic if the floor does not fit the paper at the scale, or at any standard scale.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Diagnostics> {
    let visit = Visit {
        units: inputs.slab.units,
        job: Some(inputs.job),
        source: Some((inputs.source_name, inputs.digest)),
        slab: Some(inputs.slab),
        shop: inputs.shop,
        area_m2: Some(inputs.slab.areas.net),
        tests: inputs.takeoff.conditions.moisture_tests_wanted,
        taken: inputs.takeoff.conditions.moisture_tests_taken(),
        floor: inputs.slab.outline.path.bounds(),
    };
    pages(&visit, options.paper, options.scale)
}

fn pages(
    visit: &Visit,
    paper: Option<Paper>,
    scale: Option<Scale>,
) -> Result<Vec<Sheet>, Diagnostics> {
    let (paper, scale, grid) = choose(visit, paper, scale)?;
    let page = border(paper);
    let records = records(visit, &page);
    let of = records.len() + 1;
    let mut groups = vec![grid.draw()];
    groups.extend(visit.slab.map(|slab| grid.known(slab)));
    groups.push(head::first(visit, &page, of));
    groups.extend(foot(visit, &page, scale, &grid));
    let mut out = vec![sheet(visit, paper, scale, (1, of), groups)];
    for (i, mut groups) in records.into_iter().enumerate() {
        groups.push(head::next(visit, &page, (i + 2, of)));
        out.push(sheet(visit, paper, scale, (i + 2, of), groups));
    }
    Ok(out)
}

fn border(paper: Paper) -> Box2 {
    let m = style::MARGIN;
    Box2::new(m, m, paper.width() - m, paper.height() - m)
}

fn window(paper: Paper) -> Box2 {
    let b = border(paper);
    Box2::new(
        b.left + BESIDE,
        b.top + head::FIRST + PADDING + 1.0,
        b.right - PADDING,
        b.bottom - FOOT,
    )
}

/// The first paper on which the floor fits at a scale one can draw at, and the largest such scale.
fn choose(
    visit: &Visit,
    paper: Option<Paper>,
    scale: Option<Scale>,
) -> Result<(Paper, Scale, Grid), Diagnostics> {
    let units = visit.units;
    let papers = paper.map_or_else(|| papers(units), |p| vec![p]);
    let scales = scale.map_or_else(|| Scale::standard(units), |s| vec![s]);
    let coarsest = match units {
        Units::Us => COARSEST.0,
        Units::Metric => COARSEST.1,
    };
    // Where nothing is known of the floor, a room of a usual size should fit: 1/4 in to the foot, 1:50.
    let finest = if visit.floor.area() > 0.0 || scale.is_some() { 0.0 } else { 48.0 };
    for (i, &paper) in papers.iter().enumerate() {
        let last = i + 1 == papers.len();
        let fits = scales.iter().filter(|s| s.ratio >= finest).find_map(|&s| {
            let fine = last || scale.is_some() || s.ratio <= coarsest;
            let grid = fine
                .then(|| Grid::lay(&window(paper), s, units, visit.floor, visit.slab.is_some()));
            grid.flatten().map(|grid| (paper, s, grid))
        });
        if let Some(found) = fits {
            return Ok(found);
        }
    }
    let names: Vec<&str> = papers.iter().map(|p| p.size.words()).collect();
    let at = scale.map_or("any standard scale".to_owned(), |s| s.text(units));
    let message = format!("the floor does not fit on {} at {at}", names.join(" or "));
    let turned = paper.map(Paper::turned).filter(|&p| {
        let fits = |&s: &Scale| {
            Grid::lay(&window(p), s, units, visit.floor, visit.slab.is_some()).is_some()
        };
        scales.iter().filter(|s| s.ratio >= finest).any(fits)
    });
    let hint = match turned {
        Some(paper) => format!("it fits with the paper turned: --paper {}", paper.name()),
        None => "choose larger paper or a smaller scale, or leave both to the program".to_owned(),
    };
    Err(Diagnostic::error("paper-too-small", message).hint(hint).into())
}

/// Papers for a clipboard first, then larger ones.
fn papers(units: Units) -> Vec<Paper> {
    let (small, large) = match units {
        Units::Us => (Size::Letter, Size::Tabloid),
        Units::Metric => (Size::A4, Size::A3),
    };
    vec![
        Paper::portrait(small),
        Paper::landscape(small),
        Paper::landscape(large),
        Paper::landscape(Size::AnsiD),
    ]
}

/// Scale bar, direction and how to use the grid.
fn foot(visit: &Visit, page: &Box2, scale: Scale, grid: &Grid) -> Vec<Group> {
    let body = style::body();
    let (left, right) = (page.left + PADDING, page.right - PADDING);
    let bar = at(left + 1.5, page.bottom - 15.5);
    let asked = Kind::ALL.iter().filter(|kind| form::has_rows(**kind));
    let letters = asked.map(|kind| format!("{} {}", kind.letter(), kind.noun()));
    let text = format!(
        "{} Number the corners 1, 2, 3 … in the order walked. Draw each thing and write its letter and number: {}.",
        grid.squares().text(visit.units),
        letters.collect::<Vec<_>>().join(", ")
    );
    let lines = words::wrap(&text, body, right - left);
    let y = page.bottom - 2.6 - (lines.len().min(2) - 1) as f64 * body.pitch();
    let lines = lines.into_iter().take(2);
    let marks = draw::below(at(left, y), lines, body, body.pitch());
    vec![
        frame::scale_bar(scale, visit.units, bar),
        frame::direction_mark(at(page.right - 46.0, page.bottom - 13.5)),
        draw::group("how", "frame", marks),
    ]
}

/// Height of a block with its rows as low as they may be, mm.
fn height(block: &Block, column: &Box2) -> f64 {
    block.fixed(column.width()) + block.rows() as f64 * block::ROW
}

/// The blocks of records on as many pages as they need, each whole. All columns are as wide as each other.
fn records(visit: &Visit, page: &Box2) -> Vec<Vec<Group>> {
    let (columns, blocks) = (columns(page), form::blocks(visit));
    let pieces = |column| {
        let pieces = blocks.iter().map(|b| Piece::new(height(b, column), Group::default()));
        flow::Block::from(pieces.collect::<Vec<_>>())
    };
    let laid = Rc::new(columns.first().map(pieces).unwrap_or_default());
    let content: [Box<dyn Content>; 1] = [Box::new(laid)];
    let mut cursor = Cursor::default();
    let mut pages: Vec<Vec<Group>> = Vec::new();
    while cursor.content == 0 && pages.len() < MOST_PAGES {
        let filled = |column: &Box2| {
            let from = if cursor.content > 0 { blocks.len() } else { cursor.piece };
            flow::fill(&content, &mut cursor, &mut [Column::new(*column)]);
            let last = cursor.content > 0;
            let to = if last { blocks.len() } else { cursor.piece };
            fill(column, &blocks[from..to], last)
        };
        pages.push(columns.iter().flat_map(filled).collect());
    }
    pages
}

fn columns(page: &Box2) -> Vec<Box2> {
    let n = (page.width() / COLUMN).floor().max(1.0);
    let width = page.width() / n;
    let column = |i: f64| {
        Box2::new(
            page.left + i * width + PADDING,
            page.top + head::NEXT + 1.5,
            page.left + (i + 1.0) * width - PADDING,
            page.bottom - 1.0,
        )
    };
    (0..n as usize).map(|i| column(i as f64)).collect()
}

/// Blocks one below another, their rows as high as the column allows; lines for notes where much is left at the end.
fn fill(column: &Box2, blocks: &[Block], last: bool) -> Vec<Group> {
    let mut notes = Block {
        id: if blocks.is_empty() { "" } else { "notes" },
        title: "NOTES".into(),
        note: String::new(),
        body: Body::Lines(0),
    };
    let used: f64 = blocks.iter().map(|b| height(b, column)).sum();
    let mut spare = (column.height() - used).max(0.0);
    let room = spare - notes.fixed(column.width());
    let noted = last && room > 3.0 * block::ROW;
    if noted {
        let lines = (room / block::ROW).floor();
        spare = room - lines * block::ROW;
        notes.body = Body::Lines(lines as usize);
    }
    let blocks = || blocks.iter().chain(noted.then_some(&notes));
    let rows: usize = blocks().map(Block::rows).sum();
    let row = (block::ROW + spare / rows.max(1) as f64).min(block::HIGHEST_ROW);
    let mut y = column.top;
    let mut out = Vec::new();
    for block in blocks() {
        out.push(block.draw(at(column.left, y), column.width(), row));
        y += block.fixed(column.width()) + block.rows() as f64 * row;
    }
    out
}

fn sheet(
    visit: &Visit,
    paper: Paper,
    scale: Scale,
    (i, of): (usize, usize),
    mut groups: Vec<Group>,
) -> Sheet {
    groups.extend(head::around(visit, paper, &border(paper)));
    let suffix = if i == 1 { String::new() } else { format!("-{i}") };
    let what = if i == 1 { "grid" } else { "records" };
    let name = visit.job.map_or(String::new(), |j| format!(", {}", words::clean(&j.name)));
    Sheet {
        name: format!("field-sheet{suffix}"),
        title: format!("Field sheet {i} of {of}, {what}{name}"),
        description: format!(
            "A form to fill in by hand. Grid at scale {}. {} moisture tests wanted.",
            scale.text(visit.units),
            visit.tests
        ),
        width: paper.width(),
        height: paper.height(),
        groups,
    }
}
