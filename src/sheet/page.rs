//! Sheets that follow the maps of the crew's set: schedules, pouring, filling and days flow on one after the other, under a strip
//! with the title, over as few sheets as hold them.

use crate::ink::{Group, Sheet};
use crate::quantity::Units;

use super::Inputs;
use super::flow::{self, Column, Content, Cursor};
use super::frame::{self, Titles};
use crate::paper::draw;
use crate::paper::mm::{Box2, at};
use crate::paper::scale::Scale;
use crate::paper::size::Paper;
use crate::paper::style;
use crate::paper::words;

/// Width of the title block and of the strip of text over it, mm.
const STRIP: f64 = 92.0;
/// Air between the border and what stands in it, mm.
pub(super) const PADDING: f64 = 2.0;
/// Border under which the drawing stands over the title block, mm: Letter and A4 upright.
const NARROW: f64 = 200.0;
/// Drawing zone under which scale bar and direction mark stand one over the other, mm.
const WIDE_FOOT: f64 = 190.0;
/// Height of scale bar with its figures, and of the direction mark, mm.
const FOOT: f64 = 15.0;
const DIRECTION: f64 = 12.0;
/// Most sheets that contents may fill; more would be a mistake.
pub(super) const MOST_SHEETS: usize = 2000;
/// Narrowest column of tables and text with the air beside it, mm: two on letter.
pub(super) const TEXT: f64 = 84.0;
/// Narrowest column of bars over the hours of a day, mm: two on letter.
pub(super) const BARS: f64 = 127.0;
/// Height of the strip with the title, mm.
pub(super) const TITLE_STRIP: f64 = 7.0;

/// A sheet without its number.
#[derive(Clone, Debug)]
pub struct Page {
    /// Name of its file without an ending.
    pub name: String,
    /// What it is: `POURING`.
    pub title: String,
    /// Scale of the drawing that fills it beside a title block; `None` for a sheet over which contents flow, with its title in a strip.
    pub scale: Option<Scale>,
    /// What it shows, a sentence.
    pub about: String,
    /// What stands inside the border.
    pub groups: Vec<Group>,
}

/// How one of these sheets is divided.
#[derive(Clone, Copy, Debug)]
pub struct Ground {
    /// The sheet of paper that is divided.
    pub paper: Paper,
    /// The border of a drawing.
    pub border: Box2,
    /// The border of a sheet over which contents flow.
    pub text: Box2,
    /// Where the title block stands.
    pub title: Box2,
}

impl Ground {
    /// Divides a sheet of paper.
    #[must_use]
    pub fn new(paper: Paper) -> Self {
        let within = |m: f64| Box2::new(m, m, paper.width() - m, paper.height() - m);
        let (border, text) = (within(style::MARGIN), within(style::TEXT_MARGIN));
        let title = Box2::new(
            border.right - STRIP.min(border.width()),
            border.bottom - frame::TITLE_HEIGHT,
            border.right,
            border.bottom,
        );
        Self { paper, border, text, title }
    }

    /// Whether the sheet is so narrow that the drawing stands over the title block and not beside it.
    fn is_narrow(&self) -> bool {
        self.border.width() < NARROW
    }

    /// Where a plan is drawn: beside the strip of text, or over the title block.
    #[must_use]
    pub fn drawing(&self) -> Box2 {
        let (b, t) = (&self.border, &self.title);
        if self.is_narrow() {
            Box2::new(b.left, b.top, b.right, t.top)
        } else {
            Box2::new(b.left, b.top, t.left, b.bottom)
        }
    }

    /// The strip of text over the title block; none on a narrow sheet, where the text follows on the next.
    #[must_use]
    pub fn strip(&self) -> Option<Column> {
        let (b, t) = (&self.border, &self.title);
        let area = Box2::new(t.left, b.top, t.right, t.top);
        (!self.is_narrow()).then(|| Column::new(area.grown(-PADDING)))
    }

    /// Room below the plans for scale bar and direction mark, mm.
    #[must_use]
    pub fn foot(&self) -> f64 {
        if self.drawing().width() < WIDE_FOOT { FOOT + DIRECTION } else { FOOT }
    }

    /// Scale bar and direction mark, side by side or one over the other.
    #[must_use]
    pub fn foot_marks(&self, scale: Scale, units: Units) -> Vec<Group> {
        let zone = self.drawing();
        let base = zone.bottom - 5.0;
        let direction = if zone.width() < WIDE_FOOT {
            at(zone.left + 9.0, base - DIRECTION)
        } else {
            at(zone.right - 46.0, base)
        };
        vec![
            frame::scale_bar(scale, units, at(zone.left + 8.0, base)),
            frame::direction_mark(direction),
        ]
    }

    /// Columns over a sheet without a title block, none narrower than `least` mm where the sheet is that wide.
    #[must_use]
    pub fn columns(&self, least: f64) -> Vec<Column> {
        self.columns_from(self.text.left, least)
    }

    /// The same over what lies right of `left`.
    fn columns_from(&self, left: f64, least: f64) -> Vec<Column> {
        let b = &self.text;
        let n = ((b.right - left) / least + 1e-9).floor().max(1.0);
        let width = (b.right - left) / n;
        let mut out = Vec::new();
        let mut i = 0.0;
        while i < n {
            out.push(Column::new(Box2::new(
                left + i * width + PADDING,
                b.top + PADDING,
                left + (i + 1.0) * width - PADDING,
                b.bottom - TITLE_STRIP - PADDING,
            )));
            i += 1.0;
        }
        out
    }

    /// Width and height of one of these columns, mm.
    #[must_use]
    pub fn column(&self, least: f64) -> (f64, f64) {
        let columns = self.columns(least);
        columns.first().map_or((0.0, 0.0), |c| (c.area.width(), c.area.height()))
    }
}

/// A part of what follows the maps.
pub struct Section<'c> {
    /// Name of the files that begin with it, without an ending.
    pub name: &'static str,
    /// What it is: `POURING`.
    pub title: String,
    /// What it shows, a sentence.
    pub about: String,
    /// Narrowest column in which it can be read, mm.
    pub least: f64,
    /// What is on hold: it stands before the contents, but once on a sheet.
    pub reminder: Option<Box<dyn Content + 'c>>,
    /// What flows.
    pub contents: Vec<Box<dyn Content + 'c>>,
    /// How far it has come.
    pub cursor: Cursor,
}

impl Section<'_> {
    /// The same, to be let flow more than once.
    #[must_use]
    pub fn borrowed(&self) -> Section<'_> {
        let shared = |content| -> Box<dyn Content + '_> { Box::new(content) };
        Section {
            name: self.name,
            title: self.title.clone(),
            about: self.about.clone(),
            least: self.least,
            reminder: self.reminder.as_deref().map(shared),
            contents: self.contents.iter().map(|c| shared(&**c)).collect(),
            cursor: self.cursor,
        }
    }

    /// Puts the reminder before the contents.
    pub fn remind(&mut self) {
        self.contents.splice(0..0, self.reminder.take());
    }

    const fn is_done(&self) -> bool {
        self.cursor.is_through(self.contents.len())
    }
}

/// The same sections; neighbors in columns of the same width are one, whose plans find room in any of these columns.
#[must_use]
pub fn joined<'c>(sections: Vec<Section<'c>>) -> Vec<Section<'c>> {
    let mut out: Vec<Section<'c>> = Vec::new();
    for section in sections {
        match out.last_mut().filter(|last| (last.least - section.least).abs() < 1e-9) {
            Some(last) => {
                if !last.title.ends_with(&section.title) {
                    last.title = format!("{}, {}", last.title, section.title);
                }
                if !last.about.ends_with(&section.about) {
                    last.about = format!("{} {}", last.about, section.about);
                }
                last.contents.extend(section.contents);
            }
            None => out.push(section),
        }
    }
    out
}

/// Sections that flow over sheets, one after the other. One that wants other columns begins beside the last, or on a sheet of its own
/// where that leaves no room. `named` says how many files of each name there are already.
#[must_use]
pub fn flowed(ground: &Ground, mut sections: Vec<Section<'_>>, named: &mut Names) -> Vec<Page> {
    let mut out: Vec<Page> = Vec::new();
    let mut at = 0;
    while at < sections.len() && out.len() < MOST_SHEETS {
        let mut least = sections[at].least;
        let mut columns = ground.columns(least);
        let (mut groups, mut drawn) = (Vec::new(), Vec::new());
        let mut reminded = false;
        while let Some(section) = sections.get_mut(at) {
            let begins = section.cursor == Cursor::default();
            if begins && !reminded {
                section.remind();
            }
            if (section.least - least).abs() > 1e-9 {
                least = section.least;
                let used = columns.iter().rfind(|c| c.from > c.area.top).copied();
                let left = used.map_or(ground.text.left, |c| c.area.right + PADDING);
                // Below what stands in a column there may be room, too.
                let below = used.filter(|c| c.area.width() + 2.0 * PADDING >= least - 1e-9);
                columns = below.into_iter().collect();
                if ground.text.right - left >= least - 1e-9 {
                    columns.extend(ground.columns_from(left, least));
                }
                if columns.is_empty() {
                    break;
                }
            }
            let more = flow::fill(&section.contents, &mut section.cursor, &mut columns);
            if !more.is_empty() {
                drawn.push(at);
                reminded |= begins;
            }
            groups.extend(more);
            if !section.is_done() {
                break;
            }
            at += 1;
            // What comes next stands below or behind it, not in a gap before it.
            let last = columns.iter().rposition(|c| c.from > c.area.top);
            columns.drain(..last.unwrap_or(0));
        }
        let Some(first) = drawn.first() else {
            if sections.get(at).is_some_and(|s| !s.is_done()) {
                // Nothing of it fits into any column.
                at += 1;
            }
            continue;
        };
        let mut titles: Vec<&str> = drawn.iter().map(|i| &*sections[*i].title).collect();
        titles.dedup();
        let mut about: Vec<&str> = drawn.iter().map(|i| &*sections[*i].about).collect();
        about.dedup();
        out.push(Page {
            name: named.next(sections[*first].name),
            title: titles.join(", "),
            scale: None,
            about: about.join(" "),
            groups,
        });
    }
    out
}

/// How many files of each name there are.
#[derive(Clone, Debug, Default)]
pub struct Names(Vec<(&'static str, usize)>);

impl Names {
    /// The name of the next file: the first has it plain.
    pub fn next(&mut self, name: &'static str) -> String {
        let known = self.0.iter().position(|(known, _)| *known == name);
        let at = known.unwrap_or_else(|| {
            self.0.push((name, 0));
            self.0.len() - 1
        });
        self.0[at].1 += 1;
        match self.0[at].1 {
            1 => name.to_owned(),
            n => format!("{name}-{n}"),
        }
    }
}

/// Number of the sheet at a place of the set, from 0: S-101 and so on, and after S-400, where enlarged plans have their numbers,
/// S-1001.
#[must_use]
pub fn number(i: usize) -> String {
    let n = 101 + i;
    format!("S-{}", if n < ENLARGED { n } else { n - ENLARGED + 1001 })
}

/// Number of an enlarged plan, from 0: S-401 and so on.
#[must_use]
pub fn enlarged_number(i: usize) -> String {
    format!("S-{}", ENLARGED + i)
}

/// The first of the enlarged plans.
const ENLARGED: usize = 401;

impl Page {
    /// The sheet with its border, title block and line of origin, at its place in a set.
    #[must_use]
    pub fn finish(self, inputs: &Inputs, ground: &Ground, (i, n): (usize, usize)) -> Sheet {
        let t = &ground.title;
        let b = if self.scale.is_some() { &ground.border } else { &ground.text };
        let titles = Titles {
            title: &self.title,
            reader: "FOR THE CREW",
            number: number(i),
            of: (i + 1, n),
            scale: self.scale,
        };
        let mut groups = self.groups;
        groups.push(draw::border(b));
        groups.push(frame::origin(inputs, ground.paper, b));
        if self.scale.is_some() {
            groups.push(frame::title_block(inputs, &titles, t));
            let top = if ground.is_narrow() { t.top } else { b.top };
            let mut edges = vec![draw::line(at(t.left, top), at(t.left, b.bottom), style::RULE)];
            if ground.is_narrow() {
                edges.push(draw::line(at(b.left, t.top), at(t.left, t.top), style::RULE));
            }
            groups.push(draw::group("", "frame", edges));
        } else {
            let strip = Box2::new(b.left, b.bottom - TITLE_STRIP, b.right, b.bottom);
            groups.push(frame::title_strip(inputs, &titles, &strip));
        }
        let name = words::clean(&inputs.job.name);
        Sheet {
            name: self.name,
            title: format!("{} {} for the crew, {name}", titles.number, titles.title),
            description: self.about,
            width: ground.paper.width(),
            height: ground.paper.height(),
            groups,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::size::Size;

    #[test]
    fn no_two_sheets_have_one_number() {
        let rows = [(0, "S-101"), (299, "S-400"), (300, "S-1001"), (301, "S-1002")];
        for (i, wanted) in rows {
            assert_eq!(number(i), wanted);
        }
        assert_eq!(enlarged_number(0), "S-401");
        // There are at most 120 enlarged plans.
        let mut all: Vec<String> = (0..800).map(number).collect();
        all.extend((0..120).map(enlarged_number));
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn columns_fill_the_sheet_and_leave_the_title_block_free() {
        for size in Size::ALL {
            for paper in [Paper::landscape(size), Paper::portrait(size)] {
                let ground = Ground::new(paper);
                for column in ground.columns(185.0) {
                    assert!(ground.text.holds(&column.area), "{paper:?}");
                }
                if let Some(strip) = ground.strip() {
                    assert!(!strip.area.meets(&ground.drawing()), "{paper:?}");
                    assert!(!strip.area.meets(&ground.title), "{paper:?}");
                }
                assert!(!ground.drawing().meets(&ground.title), "{paper:?}");
            }
        }
    }
}
