//! The customer drawing: the same floor in color and in plain words. What is repaired, what is carried through, what is left, and what
//! may still show afterward.
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

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::ink::{Align, Group, Mark, Sheet};
use crate::quantity::Units;

use crate::document::{self, Block, Text};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::scale::Scale;
use crate::paper::size::{Paper, Size};
use crate::paper::words;
use crate::sheet::view::View;
use crate::sheet::{Inputs, Options};
use care::{Held, Note};
pub(crate) use fate::{Fate, area, length};
pub(crate) use key::Row;
use key::Sample;
use layout::Layout;
pub(crate) use page::letterhead;
use sort::Sorted;

/// What is marked on a customer drawing beside the groups themselves.
#[derive(Clone, Copy, Debug, Default)]
pub struct Marks<'a> {
    /// Ids of items that get a revision cloud, each with the number in its triangle.
    pub clouded: &'a [(String, u32)],
}

/// Draws the pages, Letter for a sketch in US units and A4 for a metric one where no paper is asked for.
///
/// # Errors
///
/// One diagnostic if no standard scale fits.
pub fn compose(inputs: &Inputs, options: &Options) -> Result<Vec<Sheet>, Diagnostics> {
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
) -> Result<Vec<Sheet>, Diagnostics> {
    let drawing = Drawing::of(inputs);
    drawing.check(marks)?;
    let (paper, layout, full) = drawing.fit_paper(options)?;
    let sheet = sheet_box(paper);
    let (plan, rows) = drawing.plan(&layout, marks);
    let mut pages = drawing.set(&layout, &rows, full);
    let n = pages.len();
    if let Some(first) = pages.first_mut() {
        first.splice(0..0, plan);
    }
    let finish = |(i, mut groups): (usize, Vec<Group>)| {
        groups.push(draw::border(&sheet));
        let head = match i {
            0 => page::head(inputs, sheet.width()),
            _ => page::strip(inputs, (i + 1, n), sheet.width()),
        };
        groups.push(page::placed(head, &sheet));
        drawing.sheet(i, groups, (paper.width(), paper.height()), (i == 0).then_some(layout.scale))
    };
    Ok(pages.into_iter().enumerate().map(finish).collect())
}

/// What the customer is told of a floor beside its drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Told {
    /// Lines of the key, each with the letter that stands on the plan.
    pub(crate) rows: Vec<Row>,
    /// What must be settled before the work starts.
    pub(crate) holds: Vec<Held>,
}

/// What the customer is told where there is no drawing: no letters.
#[must_use]
pub fn told(inputs: &Inputs) -> Told {
    let drawing = Drawing::of(inputs);
    let none = drawing.sorted.groups.iter().map(|(fate, items)| (*fate, items.len()));
    Told { rows: drawing.lettered(&none.collect()), holds: care::holds(inputs) }
}

/// The plan alone, so wide or so high (mm), whichever is less, for a page that has its key as text; and what its letters stand for.
///
/// # Errors
///
/// One diagnostic if there is no floor to draw.
pub fn plan_alone(
    inputs: &Inputs,
    (width, tallest): (f64, f64),
) -> Result<(Sheet, Told), Diagnostics> {
    let drawing = Drawing::of(inputs);
    let layout = layout::alone(drawing.bounds(), width, tallest).ok_or_else(|| {
        let size = format!("{} × {} mm", width.round(), tallest.round());
        vec![too_small(&size, "any scale")]
    })?;
    let (groups, rows) = drawing.plan(&layout, &Marks::default());
    let size = (layout.plan.width(), layout.plan.height());
    let mut sheet = drawing.sheet(0, groups, size, None);
    sheet.name = "customer-plan".into();
    let holds = care::holds(inputs);
    Ok((sheet, Told { rows, holds }))
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

/// What of a sheet is free below a head so high.
fn below(sheet: &Box2, head: f64) -> Box2 {
    let air = 3.5;
    Box2::new(sheet.left + air, sheet.top + head + air, sheet.right - air, sheet.bottom - air)
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
        Self { inputs, sorted, letters, rows }
    }

    const fn units(&self) -> Units {
        self.inputs.slab.units
    }

    fn bounds(&self) -> kurbo::Rect {
        self.inputs.slab.outline.path.bounds()
    }

    fn check(&self, marks: &Marks) -> Result<(), Diagnostics> {
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
        if found.is_empty() { Ok(()) } else { Err(found.into()) }
    }

    /// The paper, how it is divided, and whether it has room for all words.
    fn fit_paper(&self, options: &Options) -> Result<(Paper, Layout, bool), Diagnostics> {
        let units = self.units();
        let own = match units {
            Units::Us => [Size::Letter, Size::Tabloid, Size::AnsiD],
            Units::Metric => [Size::A4, Size::A3, Size::AnsiD],
        };
        let papers: Vec<Paper> =
            options.paper.map_or_else(|| own.map(Paper::landscape).to_vec(), |p| vec![p]);
        let scales = options.scale.map_or_else(|| Scale::standard(units), |s| vec![s]);
        for &paper in &papers {
            let sheet = sheet_box(paper);
            let of = |head: (Vec<Mark>, f64)| below(&sheet, head.1);
            let first = of(page::head(self.inputs, sheet.width()));
            let next = of(page::strip(self.inputs, (1, 1), sheet.width()));
            let all = layout::all(&first, &next, self.bounds(), &scales);
            // The fewest pages, then all words, then the largest plan, then the widest columns.
            let ways =
                [true, false].into_iter().flat_map(|full| all.iter().map(move |l| (l, full)));
            let pages =
                |(layout, full): &(&Layout, bool)| self.set(layout, &self.rows, *full).len();
            if let Some((layout, full)) = ways.min_by_key(pages) {
                return Ok((paper, layout.clone(), full));
            }
        }
        let names: Vec<&str> = papers.iter().map(|p| p.size.words()).collect();
        let scale = options.scale.map_or("any standard scale".to_owned(), |s| s.text(units));
        Err(too_small(&names.join(" or "), &scale).into())
    }

    /// The words on the pages: the first beside the plan.
    fn set(&self, layout: &Layout, rows: &[Row], full: bool) -> Vec<Vec<Group>> {
        let width = layout.columns.first().map_or(0.0, Box2::width);
        document::set(&self.blocks(rows, full), width, &|page| match page {
            0 => layout.beside.clone(),
            _ => layout.columns.clone(),
        })
    }

    /// The plan, and the key with the letters that stand on it.
    fn plan(&self, layout: &Layout, marks: &Marks) -> (Vec<Group>, Vec<Row>) {
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
        let p = &layout.plan;
        let title = draw::text(layout.title(), layout::TITLE, look::head(), Align::Start);
        groups.push(draw::group("view-title", "frame", vec![Mark::Text(title)]));
        let zero = at(p.left + 6.0, p.bottom - 2.5);
        groups.extend(page::scale_bar(layout.scale, self.units(), zero, p.right - zero.x));
        groups.extend(layout.note(marked.shared, &self.unlettered(&marked.unmarked)));
        (groups, self.lettered(&marked.unmarked))
    }

    /// The key; without its letter where not one thing of a group found room for a mark, and with how many things have none.
    fn lettered(&self, unmarked: &BTreeMap<Fate, usize>) -> Vec<Row> {
        let mut rows = self.rows.clone();
        for row in &mut rows {
            let Sample::Group(fate, _) = row.sample else {
                continue;
            };
            let Some(count) = unmarked.get(&fate) else {
                continue;
            };
            if self.is_bare(fate, *count) {
                row.sample = Sample::Group(fate, "");
                row.size += "; without a letter";
            } else {
                row.size += &format!("; {count} without a letter");
            }
        }
        rows
    }

    /// Whether nothing of a group carries its letter, with so many things that don't.
    fn is_bare(&self, fate: Fate, unmarked: usize) -> bool {
        self.sorted.groups.get(&fate).map(Vec::len) == Some(unmarked)
    }

    /// What carries no letter, in a sentence: `No room for a letter: 8 × A.` The key has no letter for a group that is all bare, and
    /// says it there.
    fn unlettered(&self, unmarked: &BTreeMap<Fate, usize>) -> String {
        let some = unmarked.iter().filter(|(fate, count)| !self.is_bare(**fate, **count));
        let counts = some.filter_map(|(fate, count)| {
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
    fn blocks(&self, rows: &[Row], full: bool) -> Vec<Block> {
        let mut out = Vec::new();
        let holds = care::holds(self.inputs);
        if !holds.is_empty() {
            out.push(Block::Notice {
                title: "On hold: settle this before we start".into(),
                paragraphs: holds.into_iter().map(|held| said(held.note)).collect(),
            });
        }
        let key = rows.iter().map(|row| row.long(full));
        out.push(Block::Key(key.collect()));
        let notes =
            [care::before(self.inputs), care::after(self.inputs), vec![care::limits()]].concat();
        out.extend(notes.into_iter().map(|note| Block::Paragraph(said(note))));
        out
    }

    fn sheet(
        &self,
        i: usize,
        groups: Vec<Group>,
        (width, height): (f64, f64),
        scale: Option<Scale>,
    ) -> Sheet {
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
            width,
            height,
            groups,
        }
    }
}

/// A note as a paragraph.
fn said((lead, rest): Note) -> Text {
    Text::strong(lead).then(rest)
}
