//! A further sheet of the crew's set: everything of it but its place in the set.

use crate::ink::{Group, Sheet};
use crate::quantity::Units;

use super::Inputs;
use super::draw;
use super::flow::{self, Column, Content, Cursor};
use super::frame::{self, Titles};
use super::mm::{Box2, at};
use super::paper::Paper;
use super::scale::Scale;
use super::style;
use super::words;

/// Width of the title block and of the strip of text over it, mm.
const STRIP: f64 = 92.0;
/// Air between the border and what stands in it, mm.
const PADDING: f64 = 4.0;
/// Border under which the drawing stands over the title block, mm: Letter and A4 upright.
const NARROW: f64 = 200.0;
/// Drawing zone under which scale bar and direction mark stand one over the other, mm.
const WIDE_FOOT: f64 = 190.0;
/// Height of scale bar with its figures, and of the direction mark, mm.
const FOOT: f64 = 15.0;
const DIRECTION: f64 = 12.0;
/// Most sheets that one list of contents may fill; more would be a mistake.
pub(super) const MOST_SHEETS: usize = 40;
/// Narrowest column of tables and text, mm.
pub(super) const TEXT: f64 = 120.0;

/// A sheet without its number.
#[derive(Clone, Debug)]
pub struct Page {
    /// Name of its file without an ending.
    pub name: String,
    /// What it is: `POURING`.
    pub title: &'static str,
    /// Scale of its drawings; `None` where nothing is drawn to scale.
    pub scale: Option<Scale>,
    /// What it shows, a sentence.
    pub about: String,
    /// What stands inside the border.
    pub groups: Vec<Group>,
}

/// How one of these sheets is divided.
#[derive(Clone, Copy, Debug)]
pub struct Ground {
    /// The paper.
    pub paper: Paper,
    /// The border.
    pub border: Box2,
    /// The title block.
    pub title: Box2,
}

impl Ground {
    /// The division of a paper.
    #[must_use]
    pub fn new(paper: Paper) -> Self {
        let m = style::MARGIN;
        let border = Box2::new(m, m, paper.width() - m, paper.height() - m);
        let title = Box2::new(
            border.right - STRIP.min(border.width()),
            border.bottom - frame::TITLE_HEIGHT,
            border.right,
            border.bottom,
        );
        Self {
            paper,
            border,
            title,
        }
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
        if self.drawing().width() < WIDE_FOOT {
            FOOT + DIRECTION
        } else {
            FOOT
        }
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

    /// Columns over the whole sheet, none narrower than `least` mm where the sheet is that wide; those over the title
    /// block end above it.
    #[must_use]
    pub fn columns(&self, least: f64) -> Vec<Column> {
        let b = &self.border;
        let n = (b.width() / least).floor().max(1.0);
        let width = b.width() / n;
        let mut out = Vec::new();
        let mut i = 0.0;
        while i < n {
            let (left, right) = (b.left + i * width, b.left + (i + 1.0) * width);
            let over = right > self.title.left + 0.1;
            let bottom = if over { self.title.top } else { b.bottom };
            out.push(Column::new(Box2::new(
                left + PADDING,
                b.top + PADDING,
                right - PADDING,
                bottom - PADDING,
            )));
            i += 1.0;
        }
        out
    }

    /// Fills sheets with contents that flow down columns, each sheet's groups by themselves.
    #[must_use]
    pub fn flowed(&self, contents: &[Box<dyn Content + '_>], least: f64) -> Vec<Vec<Group>> {
        let own = |c| -> Box<dyn Content + '_> { Box::new(c) };
        let contents = flow::once(contents.iter().map(|c| &**c).map(own).collect());
        let mut cursor = Cursor::default();
        let mut out = Vec::new();
        while cursor.content < contents.len() && out.len() < MOST_SHEETS {
            out.push(flow::fill(&contents, &mut cursor, &mut self.columns(least)));
        }
        out
    }
}

/// The sheets that follow so many sheets of the map and its schedules: pouring, filling, days.
#[must_use]
pub fn all(inputs: &Inputs, ground: &Ground, before: usize) -> Vec<Page> {
    let mut out = super::pouring::pages(inputs, ground);
    let first = before + out.len();
    out.extend(super::filling::pages(inputs, ground, first));
    out.extend(super::days::pages(inputs, ground));
    out
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
        let (b, t) = (&ground.border, &ground.title);
        let titles = Titles {
            title: self.title,
            reader: "FOR THE CREW",
            number: number(i),
            of: (i + 1, n),
            scale: self.scale,
        };
        let mut groups = self.groups;
        groups.push(frame::border(b));
        groups.push(frame::title_block(inputs, &titles, t));
        groups.push(frame::origin(inputs, ground.paper, b));
        let beside = self.scale.is_some() && !ground.is_narrow();
        let top = if beside { b.top } else { t.top };
        let mut edges = vec![draw::line(
            at(t.left, top),
            at(t.left, b.bottom),
            style::RULE,
        )];
        if self.scale.is_some() && ground.is_narrow() {
            edges.push(draw::line(
                at(b.left, t.top),
                at(t.left, t.top),
                style::RULE,
            ));
        }
        groups.push(draw::group("", "frame", edges));
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
    use crate::sheet::paper::Size;

    #[test]
    fn no_two_sheets_have_one_number() {
        let rows = [
            (0, "S-101"),
            (299, "S-400"),
            (300, "S-1001"),
            (301, "S-1002"),
        ];
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
                    assert!(ground.border.holds(&column.area), "{paper:?}");
                    assert!(!column.area.meets(&ground.title), "{paper:?}");
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
