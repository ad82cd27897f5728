//! The takeoff as plain text, for reading in a truck: what is on hold, the totals and what to buy; then what there is to do in the
//! order in which it is done, and last what was found. Sections with nothing in them are left out.

mod buy;
mod findings;
mod floor;
mod joints;
mod repairs;

pub use floor::fall_text;

use super::Report;
use super::table::Rows;
use crate::hold::say;
use crate::quantity::{Units, write};
use crate::record::Kind;
use crate::takeoff::kinds_by_work;
use crate::text::clean;
use crate::text::wrapped;

/// Narrowest page that is laid out for; a narrower terminal gets this.
const NARROWEST: u16 = 40;

/// The takeoff on pages `width` characters wide, in the units of the sketch, with a line feed at
/// the end of each line.
#[must_use]
pub fn takeoff(report: &Report, width: usize) -> String {
    let width = u16::try_from(width).unwrap_or(u16::MAX);
    let mut page = Page::new(width.max(NARROWEST));
    heading(&mut page, report);
    holds(&mut page, report);
    buy::first(&mut page, report);
    floor::sections(&mut page, report);
    let (worked, others) = kinds_by_work();
    worked.into_iter().for_each(|kind| items(&mut page, report, kind));
    floor::panels(&mut page, report);
    others.into_iter().for_each(|kind| items(&mut page, report, kind));
    floor::conditions(&mut page, report);
    floor::levels(&mut page, report);
    buy::batches(&mut page, report);
    findings::section(&mut page, report);
    page.finish()
}

/// What is said of the items of a kind.
fn items(page: &mut Page, report: &Report, kind: Kind) {
    match kind {
        Kind::Joint => joints::sections(page, report),
        Kind::Crack => repairs::cracks(page, report),
        Kind::Spall => {
            repairs::spalls(page, report);
            repairs::patches(page, report);
        }
        Kind::Delamination => repairs::delaminations(page, report),
        Kind::Blemish => floor::blemishes(page, report),
        Kind::Lippage => repairs::steps(page, report),
        // They stand among the areas of the floor, and tests among the conditions.
        Kind::KeepOut | Kind::Uncoated | Kind::Tier | Kind::Moisture => {}
    }
}

/// How the lengths of a table are written.
#[derive(Clone, Copy)]
struct Lengths {
    units: Units,
    /// To the nearest inch, where fractions would make the table wider than the page.
    coarse: bool,
}

impl Lengths {
    fn cell(self, m: f64) -> String {
        if self.coarse && self.units == Units::Us {
            write::feet_inches(m, 1)
        } else {
            write::length(m, self.units)
        }
    }

    fn or_blank(self, m: f64) -> String {
        if m == 0.0 { String::new() } else { self.cell(m) }
    }
}

/// The text being written.
struct Page {
    width: u16,
    lines: Vec<String>,
}

impl Page {
    fn new(width: u16) -> Self {
        Self { width, lines: Vec::new() }
    }

    /// A table under its title; nothing where the table is empty.
    fn section(&mut self, title: &str, rows: &Rows) {
        if !rows.is_empty() {
            self.title(title);
            self.table(rows);
        }
    }

    /// A table under its title, with its lengths to the nearest inch where it would be too wide.
    fn fitted(&mut self, title: &str, report: &Report, build: impl Fn(Lengths) -> Rows) {
        let lengths = |coarse: bool| Lengths { units: report.slab.units, coarse };
        let fine = build(lengths(false)).without_empty_columns();
        if fine.fits(self.width) || report.slab.units == Units::Metric {
            self.section(title, &fine);
            return;
        }
        self.section(title, &build(lengths(true)).without_empty_columns());
        self.note("Lengths to the nearest inch.");
    }

    /// A title, set off by an empty line.
    fn title(&mut self, title: &str) {
        if !self.lines.is_empty() {
            self.lines.push(String::new());
        }
        self.lines.push(title.to_uppercase());
    }

    fn table(&mut self, rows: &Rows) {
        self.lines.extend(rows.lines(self.width));
    }

    /// Words under a section.
    fn note(&mut self, text: &str) {
        self.lead("", text);
    }

    /// Words after a lead, broken under themselves.
    fn lead(&mut self, lead: &str, text: &str) {
        self.lines.extend(wrapped(lead, text, self.width));
    }

    fn finish(self) -> String {
        let mut text = self.lines.join("\n");
        text.push('\n');
        text
    }
}

/// What must be cleared first, before any quantity.
fn holds(page: &mut Page, report: &Report) {
    if report.holds.is_empty() {
        return;
    }
    page.title(say::HEAD);
    let width = page.width;
    let lines = report.holds.iter().flat_map(|hold| say::lines(hold, width));
    page.lines.extend(lines);
}

fn heading(page: &mut Page, report: &Report) {
    let job = &report.sketch.job;
    page.note(&clean(&job.name));
    let mut facts = Vec::new();
    facts.extend(job.site.as_deref().map(clean));
    facts.extend(job.client.as_deref().map(|c| format!("for {}", clean(c))));
    facts.extend(job.number.as_deref().map(|n| format!("job {}", clean(n))));
    let day = job.surveyed.as_ref().map(|at| clean(&at.value));
    let who = job.surveyor.as_deref().map(clean);
    match (day, who) {
        (Some(day), Some(who)) => facts.push(format!("surveyed {day} by {who}")),
        (Some(day), None) => facts.push(format!("surveyed {day}")),
        (None, Some(who)) => facts.push(format!("surveyed by {who}")),
        (None, None) => {}
    }
    facts.extend(job.revision.as_deref().map(|r| format!("revision {}", clean(r))));
    if !facts.is_empty() {
        page.note(&facts.join(", "));
    }
    if let Some(notes) = &job.notes {
        page.note(&clean(notes));
    }
}

#[cfg(test)]
mod tests;
