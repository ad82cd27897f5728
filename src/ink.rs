//! The display list that every writer reads: marks on paper, in millimeters from the upper left
//! corner of the sheet, x to the right, y down.
//!
//! Sheets are composed once; SVG, PDF and PNG are three ways to write the same list down.

use std::sync::Arc;

/// A point on paper, mm, y down. A different type from a point on the floor.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PaperPoint {
    /// From the left edge, mm.
    pub x: f64,
    /// From the upper edge, mm.
    pub y: f64,
}

/// A finished sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// File-name part and sheet id: `crew-map`, `crew-map-2`.
    pub name: String,
    /// Title for people and screen readers.
    pub title: String,
    /// One paragraph: scale, counts, totals.
    pub description: String,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What is drawn, back to front.
    pub groups: Vec<Group>,
}

/// Marks that belong together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// Id, unique on the sheet; empty for none.
    pub id: String,
    /// Classes, space separated: `joint control`; empty for none.
    pub class: String,
    /// Tooltip; empty for none.
    pub title: String,
    /// Longer description; empty for none.
    pub description: String,
    /// Marks, back to front.
    pub marks: Vec<Mark>,
}

/// Anything that is drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A photograph.
    Image(ImageMark),
    /// A path, stroked, filled or both.
    Path(PathMark),
    /// A line of text.
    Text(TextMark),
    /// A nested group.
    Group(Group),
}

/// A photograph in a box; it fills the box, so the box should have its proportions.
#[derive(Clone, Debug, PartialEq)]
pub struct ImageMark {
    /// Upper left corner.
    pub at: PaperPoint,
    /// Width on paper, mm.
    pub width: f64,
    /// Height on paper, mm.
    pub height: f64,
    /// What is shown.
    pub picture: Picture,
    /// What a person who can't see it is told.
    pub words: String,
}

/// A photograph as every writer takes it: upright, of bounded size, packed as JPEG.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    /// JPEG bytes, shared between the writers.
    pub jpeg: Arc<[u8]>,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (width, height, bytes) = (self.width, self.height, self.jpeg.len());
        write!(f, "Picture({width} x {height}, {bytes} bytes)")
    }
}

/// A line or an area, stroked, filled or both.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PathMark {
    /// Steps; several subpaths are allowed, filled by the even-odd rule.
    pub steps: Vec<Step>,
    /// Stroke; `None` for none.
    pub stroke: Option<Stroke>,
    /// Fill; `None` for none.
    pub fill: Option<Color>,
}

/// A step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Lift the pen and put it down here.
    Move(PaperPoint),
    /// Straight to here.
    Line(PaperPoint),
    /// Cubic Bézier to the last point.
    Cubic(PaperPoint, PaperPoint, PaperPoint),
    /// Back to the last `Move`.
    Close,
}

/// How a line is drawn. Dashes are cut by the composer, not by the writer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Width, mm.
    pub width: f64,
    pub color: Color,
    /// Round caps and joins instead of butt caps and mitered joins.
    pub round: bool,
}

/// A color, 8 bits a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Color(pub u8, pub u8, pub u8);

pub const BLACK: Color = Color(0, 0, 0);
pub const WHITE: Color = Color(255, 255, 255);

/// Horizontal alignment of text on its point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    /// Starts there.
    #[default]
    Start,
    /// Centered there.
    Middle,
    /// Ends there.
    End,
}

/// A line of text on its baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct TextMark {
    /// Point on the baseline.
    pub at: PaperPoint,
    /// The text; no control characters.
    pub text: String,
    /// Font size (em), mm.
    pub size: f64,
    pub weight: Weight,
    pub align: Align,
    /// Turned counter-clockwise about its point, degrees; 90 for text read from the right.
    pub turn: f64,
    pub color: Color,
    /// Width the text must take, mm, so that a substitute font still fits; `None` for its own.
    pub width: Option<f64>,
}

/// Weight of the bundled family.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    #[default]
    Regular,
    Semibold,
}
