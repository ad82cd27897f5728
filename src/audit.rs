//! Reads a finished SVG back and reports what is wrong with the drawing.
//!
//! The audit looks at the file, not at the numbers of whoever composed it: it parses the SVG, lays the text out with the bundled font and
//! measures what would be printed. It knows the file by its ids and classes:
//!
//! | id or class | meaning |
//! |---|---|
//! | `tag-X` | the tag of item X: its outline and its text |
//! | `leader-X` | the leader of that tag |
//! | `row-X` | the schedule row of item X |
//! | `mark-X-n` | one of the marks of group X on a customer drawing: a tag like the others; its leader is `leader-X-n` |
//! | `key-X` | the line of group X in the key |
//! | `border` | the border of the sheet; everything else lies inside, but for the class `margin` |
//! | class `crack`, `outline`, `opening`, `column`, `patch`, `dimension`, `cartridge`, `pour` | lines that no tag may cover |
//! | class `joint`, `crack`, `step`, `spall`, `patch`, … with an id | the item of that id as drawn |
//! | `text-X`, `text-X-n` | what is written beside item X: its size, its chase, its step |
//! | class `hand-edge` | the zone along edges that is ground by hand |
//! | class `frame`, `match-line` | where a window of the floor ends |
//! | class `hatch` | hatching: a tag may cover it; parallel lines keep their distance |
//!
//! All measures are millimeters of paper.

mod apart;
mod band;
pub(crate) mod bounds;
pub(crate) mod contained;
mod contrast;
mod flatten;
mod hatch;
mod leader;
mod lost;
mod overlap;
mod read;
mod rows;
mod size;
mod struck;
mod turned;

use std::collections::BTreeSet;
use std::fmt;

use crate::parallel;

/// Least height of capitals, mm: 3/32 in, rounded down (from memory: the least height in US drafting standards).
pub const LEAST_CAP: f64 = 2.38;

/// Least width of a line, mm: the thinnest pen of the line table.
pub const LEAST_LINE: f64 = 0.18;

/// Least distance of parallel hatch lines, mm (from memory: ISO 128-3).
pub const LEAST_HATCH: f64 = 0.7;

/// Least contrast of text with its ground (WCAG 2.1, success criterion 1.4.3).
pub const LEAST_CONTRAST: f64 = 4.5;

/// Longest leader, mm, where a shorter one had room.
pub const LONG_LEADER: f64 = 25.0;

/// Least size of a mark on the plan, mm.
pub const LEAST_MARK: f64 = 1.5;

/// Clear space before and behind a number, mm: nearer, a dash reads as a minus.
pub const BESIDE_NUMBER: f64 = 2.0;

/// How far the zone along edges is seen beyond the wall's line, mm, at least.
pub const LEAST_BAND: f64 = 1.0;

/// What kind of fault it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Code {
    /// The file cannot be read as SVG.
    Unreadable,
    /// It runs code or refers outside itself.
    NotSelfContained,
    /// An id is used twice.
    DuplicateId,
    /// Something is off the sheet.
    OffSheet,
    /// Something is outside the border.
    OutsideBorder,
    /// A tag overlaps another.
    TagOnTag,
    /// A tag covers text of the plan or the schedule.
    TagOnText,
    /// A tag covers a line of the plan.
    TagOnLine,
    /// A leader runs through the tag of something else.
    LeaderThroughTag,
    /// Two leaders cross.
    LeaderCrossing,
    /// A leader runs through text.
    LeaderThroughText,
    /// A leader is long where there was room nearby.
    LongLeader,
    /// A leader ends nearer to another item than to its own.
    StrayLeader,
    /// A line runs through text.
    LineThroughText,
    /// A dash stands before or behind a number, where it reads as a minus.
    DashAtNumber,
    /// What is written beside an item stands nearer to another of its kind.
    StrayText,
    /// A mark is too small to be found.
    SmallMark,
    /// The zone along edges is hidden under the wall's line.
    ThinBand,
    /// The text of a tag leaves its outline.
    TextOutsideTag,
    /// Two lines of text overlap.
    TextOnText,
    /// Text is too small to read.
    SmallText,
    /// Text that hardly stands out from its ground.
    FaintText,
    /// Text that the font lacks, or that is not drawn at all.
    LostText,
    /// Text or another photograph lies on a photograph.
    OnPicture,
    /// A photograph that is not drawn.
    LostPicture,
    /// A line is too thin to print.
    ThinLine,
    /// Hatch lines are too close.
    CloseHatch,
    /// A tag has no row in the schedule.
    TagWithoutRow,
    /// A row has no tag on the plan.
    RowWithoutTag,
    /// A mark has no line in the key.
    MarkWithoutKey,
    /// A line of the key has no mark on the plan.
    KeyWithoutMark,
}

impl Code {
    /// The code as written: `tag-on-tag`.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Code::Unreadable => "unreadable",
            Code::NotSelfContained => "not-self-contained",
            Code::DuplicateId => "duplicate-id",
            Code::OffSheet => "off-sheet",
            Code::OutsideBorder => "outside-border",
            Code::TagOnTag => "tag-on-tag",
            Code::TagOnText => "tag-on-text",
            Code::TagOnLine => "tag-on-line",
            Code::LeaderThroughTag => "leader-through-tag",
            Code::LeaderCrossing => "leader-crossing",
            Code::LeaderThroughText => "leader-through-text",
            Code::LongLeader => "long-leader",
            Code::StrayLeader => "stray-leader",
            Code::LineThroughText => "line-through-text",
            Code::DashAtNumber => "dash-at-number",
            Code::StrayText => "stray-text",
            Code::SmallMark => "small-mark",
            Code::ThinBand => "thin-band",
            Code::TextOutsideTag => "text-outside-tag",
            Code::TextOnText => "text-on-text",
            Code::SmallText => "small-text",
            Code::FaintText => "faint-text",
            Code::LostText => "lost-text",
            Code::OnPicture => "on-picture",
            Code::LostPicture => "lost-picture",
            Code::ThinLine => "thin-line",
            Code::CloseHatch => "close-hatch",
            Code::TagWithoutRow => "tag-without-row",
            Code::RowWithoutTag => "row-without-tag",
            Code::MarkWithoutKey => "mark-without-key",
            Code::KeyWithoutMark => "key-without-mark",
        }
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// A fault of a drawing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// Name of the sheet, as given; empty for a single file.
    pub sheet: String,
    /// What kind.
    pub code: Code,
    /// Ids of the groups concerned.
    pub ids: Vec<String>,
    /// What is wrong, with numbers.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.sheet.is_empty() {
            write!(f, "{}: ", self.sheet)?;
        }
        write!(f, "[{}] {}", self.code, self.message)
    }
}

/// Audits one file by itself: every tag needs its row in the same file.
///
/// Faults come sorted by kind and id; none for a drawing in order.
#[must_use]
pub fn audit(svg: &str) -> Vec<Fault> {
    audit_set(&[("", svg)])
}

/// Audits the sheets of one set, each given with its name: a tag may have its row on another sheet, and a tag may be on several.
#[must_use]
pub fn audit_set(sheets: &[(&str, &str)]) -> Vec<Fault> {
    audit_counted(sheets).faults
}

/// What an audit of a set of sheets found, and how much it looked at.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Set {
    /// Faults, sorted by sheet, kind and id; the first 1000 of a set that has more.
    pub faults: Vec<Fault>,
    /// Sheets that could be read.
    pub sheets: usize,
    /// Tags on them; an item that has a tag on two sheets counts twice.
    pub tags: usize,
}

/// As [`audit_set`], with counts of what was looked at.
#[must_use]
pub fn audit_counted(sheets: &[(&str, &str)]) -> Set {
    // A sheet at a time on each core: of a sheet as it was read, hundreds of megabytes where it is full of text, only what its
    // groups say is kept.
    let looked = parallel::each(sheets.len(), |i| sheet(sheets[i]));
    let mut faults = BTreeSet::new();
    let mut readable = Vec::new();
    for ((name, _), (found, places)) in sheets.iter().zip(looked) {
        let room = MOST_FAULTS.saturating_sub(faults.len());
        faults.extend(found.into_iter().take(room));
        readable.extend(places.map(|places| (*name, places)));
    }
    rows::check(&readable, &mut faults);
    let tags = |places: &[read::Place]| places.iter().filter(|p| p.id.starts_with("tag-")).count();
    Set {
        sheets: readable.len(),
        tags: readable.iter().map(|(_, places)| tags(places)).sum(),
        faults: faults.into_iter().collect(),
    }
}

/// What is wrong with one sheet by itself, and what its groups say, if it could be read.
fn sheet((name, svg): (&str, &str)) -> (BTreeSet<Fault>, Option<Vec<read::Place>>) {
    let mut faults = BTreeSet::new();
    let mut report = Report { sheet: name, faults: &mut faults };
    let drawing = read::read(svg, &mut report);
    if let Some(drawing) = &drawing {
        overlap::check(drawing, &mut report);
        size::check(drawing, &mut report);
        hatch::check(drawing, &mut report);
        contrast::check(drawing, &mut report);
        struck::check(drawing, &mut report);
        apart::check(drawing, &mut report);
        leader::check(drawing, &mut report);
        band::check(drawing, &mut report);
    }
    (faults, drawing.map(|d| d.places))
}

/// Most faults that are noted; a sheet with so many is no drawing.
const MOST_FAULTS: usize = 1000;

/// Where the checks of one sheet report to.
struct Report<'a> {
    sheet: &'a str,
    faults: &'a mut BTreeSet<Fault>,
}

impl Report<'_> {
    /// Whether so much was found that looking further tells nobody anything.
    fn is_full(&self) -> bool {
        self.faults.len() >= MOST_FAULTS
    }

    fn fault(&mut self, code: Code, ids: &[&str], message: String) {
        if self.is_full() {
            return;
        }
        let own = |id: &&&str| !id.is_empty() && !id.starts_with(read::GIVEN);
        let ids = ids.iter().filter(own).map(ToString::to_string).collect();
        self.faults.insert(Fault { sheet: self.sheet.to_string(), code, ids, message });
    }
}

#[cfg(test)]
mod hostile;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod witness;
