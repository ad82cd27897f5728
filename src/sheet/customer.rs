//! The customer drawing: the same floor in color and in plain words. What is repaired, what is carried through, what is left, and what
//! may still show afterwards.
//!
//! One page holds the plan and its key; the next say for every group what is done and what may still show, and what the customer has to
//! know before, during and after the work. No prices, no measures of the trade, no ids: a letter stands for what happens.

mod care;
mod cloud;
mod cluster;
mod doors;
mod fate;
mod floor;
mod key;
mod layout;
mod look;
mod marks;
mod page;
mod pin;
mod say;
mod sort;
mod symbol;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use crate::diagnostic::Diagnostic;
use crate::ink::{Align, Group, Mark, Sheet};
use crate::quantity::Units;

use super::draw;
use super::frame;
use super::mm::{Box2, at};
use super::paper::{Paper, Size};
use super::scale::Scale;
use super::view::View;
use super::words;
use super::{Inputs, Options};
use fate::Fate;
use key::{Row, Sample};
use layout::Layout;
use page::{Block, Page};
use sort::Sorted;

/// What is marked on a customer drawing beside the groups themselves.
#[derive(Clone, Copy, Debug, Default)]
pub struct Marks<'a> {
    /// Ids of items that get a revision cloud, each with the number in its triangle.
    pub clouded: &'a [(String, u32)],
}

/// Most pages; a floor with more words would be a mistake.
const MOST_PAGES: usize = 40;

/// Draws the pages, Letter for a sketch in US units and A4 for a metric one where no paper is asked for.
///
/// # Errors
///
/// One diagnostic if no standard scale fits.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    compose_marked(inputs, options, &Marks::default())
}

/// The same with revision clouds.
///
/// # Errors
///
/// As [`compose`], and a diagnostic for an id to be clouded that the floor does not have.
pub fn compose_marked(
    inputs: &Inputs,
    options: &Options,
    marks: &Marks,
) -> Result<Vec<Sheet>, Vec<Diagnostic>> {
    let drawing = Drawing::of(inputs);
    drawing.check(marks)?;
    let (paper, layout) = drawing.fit_paper(options)?;
    let sheet = sheet_box(paper);
    let (first, unmarked) = drawing.plan(&layout, marks);
    let (columns, foot) = (columns(&sheet), band_box(&sheet));
    let blocks = drawing.blocks(columns[0].width(), &layout, &unmarked);
    let mut pages: Vec<Vec<Group>> = vec![first];
    let mut next = 0;
    while next < blocks.len() && pages.len() < MOST_PAGES {
        let (drawn, after) = page::flow(&blocks, next, &columns);
        next = after;
        pages.push(drawn);
    }
    let n = pages.len();
    let finish = |(i, mut groups): (usize, Vec<Group>)| {
        let scale = (i == 0).then_some(layout.scale);
        groups.push(frame::border(&sheet));
        let of = (i + 1, n);
        groups.push(page::band(inputs, Page { of, scale }, &foot));
        groups.push(frame::origin(inputs, paper, &sheet));
        drawing.sheet(i, groups, paper, scale)
    };
    Ok(pages.into_iter().enumerate().map(finish).collect())
}

/// The plan alone with its key, as large as it gets on a given piece of paper (width and height, mm), for a page that embeds it.
///
/// # Errors
///
/// One diagnostic if the floor and its key do not fit at any standard scale, and one for an id to be clouded that the floor does not have.
pub fn plan_alone(
    inputs: &Inputs,
    (width, height): (f64, f64),
    marks: &Marks,
) -> Result<Sheet, Vec<Diagnostic>> {
    let drawing = Drawing::of(inputs);
    drawing.check(marks)?;
    let area = Box2::new(0.5, 0.5, width - 0.5, height - 0.5);
    let scales = Scale::standard(inputs.slab.units);
    let layout = layout::fit(&area, drawing.bounds(), &scales, &drawing.rows, false)
        .filter(|_| area.width() < 5000.0 && area.height() < 5000.0)
        .ok_or_else(|| {
            let size = format!("{} × {} mm", width.round(), height.round());
            vec![too_small(&size, "any standard scale")]
        })?;
    let (groups, _) = drawing.plan(&layout, marks);
    let mut sheet = drawing.sheet(
        0,
        groups,
        Paper::landscape(Size::Letter),
        Some(layout.scale),
    );
    sheet.name = "customer-plan".into();
    (sheet.width, sheet.height) = (width, height);
    Ok(sheet)
}

fn too_small(paper: &str, scale: &str) -> Diagnostic {
    Diagnostic::error(
        "paper-too-small",
        format!("the customer drawing does not fit on {paper} at {scale}"),
    )
    .hint("choose larger paper or a smaller scale, or leave both to the program")
}

/// The sheet within its border.
fn sheet_box(paper: Paper) -> Box2 {
    let m = look::MARGIN;
    Box2::new(m, m, paper.width() - m, paper.height() - m)
}

fn band_box(sheet: &Box2) -> Box2 {
    Box2::new(
        sheet.left,
        sheet.bottom - page::BAND,
        sheet.right,
        sheet.bottom,
    )
}

/// Two columns of words.
fn columns(sheet: &Box2) -> [Box2; 2] {
    let (pad, gap) = (5.0, 8.0);
    let width = (sheet.width() - 2.0 * pad - gap) / 2.0;
    let column = |left: f64| {
        Box2::new(
            left,
            sheet.top + pad,
            left + width,
            sheet.bottom - page::BAND - 2.0,
        )
    };
    [
        column(sheet.left + pad),
        column(sheet.left + pad + width + gap),
    ]
}

/// A floor sorted for its customer.
struct Drawing<'a> {
    inputs: &'a Inputs<'a>,
    sorted: Sorted<'a>,
    letters: BTreeMap<Fate, &'static str>,
    rows: Vec<Row>,
}

impl<'a> Drawing<'a> {
    fn of(inputs: &'a Inputs<'a>) -> Self {
        let sorted = sort::sort(inputs);
        let letters = marks::letters(sorted.groups.keys().copied());
        let rows = key::rows(inputs, &sorted, &letters);
        Self {
            inputs,
            sorted,
            letters,
            rows,
        }
    }

    const fn units(&self) -> Units {
        self.inputs.slab.units
    }

    fn bounds(&self) -> kurbo::Rect {
        self.inputs.slab.outline.path.bounds()
    }

    fn check(&self, marks: &Marks) -> Result<(), Vec<Diagnostic>> {
        let known = |id: &str| self.sorted.groups.values().flatten().any(|i| i.has(id));
        let unknown = marks.clouded.iter().filter(|(id, _)| !known(id));
        let found: Vec<Diagnostic> = unknown
            .map(|(id, _)| {
                let id = words::clean(id);
                Diagnostic::error(
                    "unknown-id",
                    format!("{id} is to be clouded, but nothing of that id is drawn"),
                )
            })
            .collect();
        if found.is_empty() { Ok(()) } else { Err(found) }
    }

    /// The paper and how it is divided.
    fn fit_paper(&self, options: &Options) -> Result<(Paper, Layout), Vec<Diagnostic>> {
        let units = self.units();
        let own = match units {
            Units::Us => [Size::Letter, Size::Tabloid, Size::AnsiD],
            Units::Metric => [Size::A4, Size::A3, Size::AnsiD],
        };
        let papers: Vec<Paper> = options
            .paper
            .map_or_else(|| own.map(Paper::landscape).to_vec(), |p| vec![p]);
        let scales = options
            .scale
            .map_or_else(|| Scale::standard(units), |s| vec![s]);
        for &paper in &papers {
            let sheet = sheet_box(paper);
            let area = Box2::new(
                sheet.left + 3.0,
                sheet.top + 3.0,
                sheet.right - 3.0,
                sheet.bottom - page::BAND - 2.0,
            );
            if let Some(layout) = layout::fit(&area, self.bounds(), &scales, &self.rows, true) {
                return Ok((paper, layout));
            }
        }
        let names: Vec<&str> = papers.iter().map(|p| p.size.words()).collect();
        let scale = options
            .scale
            .map_or("any standard scale".to_owned(), |s| s.text(units));
        Err(vec![too_small(&names.join(" or "), &scale)])
    }

    /// The plan with its key.
    fn plan(&self, layout: &Layout, marks: &Marks) -> (Vec<Group>, BTreeMap<Fate, usize>) {
        let view = View::centered(layout.scale, self.bounds(), layout.middle());
        let window = layout.window();
        let mut picture = floor::draw(self.inputs, &self.sorted, &view, &window);
        let clouds = cloud::clouds(&picture.drawn, marks.clouded, &mut picture.clear);
        let marked = marks::mark(
            &picture.drawn,
            &self.letters,
            &picture.clear,
            &view.rectangle(self.bounds()),
        );
        let mut groups = picture.groups;
        if !clouds.is_empty() {
            groups.push(floor::layer("revisions", clouds));
        }
        groups.push(marked.leaders);
        groups.push(marked.marks);
        let rows = self.rows.iter().zip(&layout.key);
        groups.extend(rows.map(|(row, area)| {
            let row = self.lettered(row, &marked.unmarked);
            row.draw(area, layout.level)
        }));
        let p = &layout.plan;
        let title = draw::text(layout.title(), layout::TITLE, look::head(), Align::Start);
        groups.push(draw::group("view-title", "frame", vec![Mark::Text(title)]));
        groups.push(page::scale_bar(
            layout.scale,
            self.units(),
            at(p.left + 6.0, p.bottom - 2.5),
        ));
        groups.extend(layout.note(marked.shared, &self.unlettered(&marked.unmarked)));
        (groups, marked.unmarked)
    }

    /// The letter of a group; none where not one of its things found room for a mark.
    fn letter(&self, fate: Fate, unmarked: &BTreeMap<Fate, usize>) -> &'static str {
        let all = self.sorted.groups.get(&fate).map(Vec::len);
        if all == unmarked.get(&fate).copied() {
            return "";
        }
        self.letters.get(&fate).copied().unwrap_or_default()
    }

    fn lettered(&self, row: &Row, unmarked: &BTreeMap<Fate, usize>) -> Row {
        let mut row = row.clone();
        if let Sample::Group(fate, _) = row.sample {
            row.sample = Sample::Group(fate, self.letter(fate, unmarked));
        }
        row
    }

    /// What carries no letter, in a sentence: `No room for a letter: 8 × A.`
    fn unlettered(&self, unmarked: &BTreeMap<Fate, usize>) -> String {
        let counts = unmarked.iter().filter_map(|(fate, count)| {
            let letter = self.letters.get(fate)?;
            Some(format!("{count} × {letter}"))
        });
        let counts: Vec<String> = counts.collect();
        if counts.is_empty() {
            return String::new();
        }
        format!("No room for a letter: {}.", counts.join(", "))
    }

    /// The words.
    fn blocks(&self, width: f64, layout: &Layout, unmarked: &BTreeMap<Fate, usize>) -> Vec<Block> {
        let mut out = Vec::new();
        let holds = care::holds(self.inputs);
        if !holds.is_empty() {
            out.push(page::head("On hold: settle this before we start", width));
            out.extend(holds.iter().map(|n| page::note(n, width, true)));
        }
        if !self.sorted.groups.is_empty() {
            out.push(page::head("What we do, and what may still show", width));
        }
        let is_key = layout.key.is_empty();
        for (&fate, items) in &self.sorted.groups {
            let said = say::say(fate, items, self.units());
            let letter = self.letter(fate, unmarked);
            let size = without_letter(&said.size, unmarked.get(&fate));
            out.push(page::group((fate, letter), &size, &said, width, is_key));
        }
        if is_key {
            let plain = |r: &&Row| !matches!(r.sample, Sample::Group(..));
            let rows = self.rows.iter().filter(plain);
            out.extend(rows.map(|row| page::key_row(row, width)));
        }
        for (title, notes) in [
            ("Before the work", care::before(self.inputs)),
            ("While we work", care::during(self.inputs)),
            ("After the work", care::after(self.inputs)),
        ] {
            if !notes.is_empty() {
                out.push(page::head(title, width));
                out.extend(notes.iter().map(|n| page::note(n, width, false)));
            }
        }
        out.push(page::note(&care::limits(), width, false));
        out
    }

    fn sheet(&self, i: usize, groups: Vec<Group>, paper: Paper, scale: Option<Scale>) -> Sheet {
        let units = self.units();
        let name = words::clean(&self.inputs.job.name);
        let at_scale = scale.map_or(String::new(), |s| format!("Scale {}. ", s.text(units)));
        let groups_said: Vec<String> = self
            .sorted
            .groups
            .iter()
            .map(|(fate, items)| format!("{}: {}", fate.title(), say::size(*fate, items, units)))
            .collect();
        Sheet {
            name: if i == 0 {
                "customer-drawing".into()
            } else {
                format!("customer-drawing-{}", i + 1)
            },
            title: format!("Drawing for the customer, page {}, {name}", i + 1),
            description: format!(
                "{at_scale}Coated floor {}. {}. The pages of words say the same as text.",
                fate::area(self.inputs.takeoff.area.net_m2, units),
                groups_said.join("; ")
            ),
            width: paper.width(),
            height: paper.height(),
            groups,
        }
    }
}

/// What a group comes to, and how many of its things are told by their color alone.
fn without_letter(size: &str, count: Option<&usize>) -> String {
    count.map_or_else(
        || size.to_owned(),
        |count| format!("{size}; {count} without a letter"),
    )
}
