//! One table of line weights, patterns, hatches and text sizes; all in paper millimeters at print size.
//!
//! Line weights stand in three ranks: the outline heaviest, joints and cracks in the middle, dimensions and grid lightest.
//! Kinds are told by pattern and letter first, so that everything reads in black and white.

use crate::font;
use crate::ink::{BLACK, Color, Stroke, Weight};

const fn pen(width: f64) -> Stroke {
    Stroke { width, color: BLACK, round: false }
}

/// Slab edge, openings' jambs, border of the sheet.
pub const OUTLINE: Stroke = pen(0.70);
/// Risers, where two heights of the floor meet.
pub const RISER: Stroke = pen(0.50);
/// Things standing on the slab.
pub const OBJECT: Stroke = pen(0.35);
/// Control joints.
pub const CONTROL: Stroke = pen(0.25);
/// Construction joints.
pub const CONSTRUCTION: Stroke = pen(0.35);
/// Each of the two lines of an isolation joint.
pub const ISOLATION: Stroke = pen(0.25);
/// Distance between the two lines of an isolation joint, center to center.
pub const ISOLATION_APART: f64 = 1.2;
/// Stretch of a joint that is cut by hand: a bar over the joint.
pub const HAND_CUT: Stroke = pen(1.0);
/// Limit of a removal.
pub const REMOVAL: Stroke = pen(0.50);
/// Lines at which a poured batch is used up.
pub const POUR: Stroke = pen(0.50);
/// Strokes where a cartridge of filler runs out.
pub const CARTRIDGE: Stroke = pen(0.50);
/// Match lines, where a window of a divided floor ends.
pub const MATCH: Stroke = pen(0.70);
/// Leaders, dimensions, tag outlines, edges of hatched areas.
pub const FINE: Stroke = pen(0.25);
/// Hatch lines.
pub const HATCH: Stroke = pen(0.18);
/// Rules inside the title block and the schedules.
pub const RULE: Stroke = pen(0.35);
/// 45-degree strokes of dimensions.
pub const DIMENSION_STROKE: Stroke = pen(0.35);

/// Cracks by width class: hairline, up to 1/8 in, wider.
pub const CRACK: [Stroke; 3] = [round(0.25), round(0.35), round(0.50)];

const fn round(width: f64) -> Stroke {
    Stroke { width, color: BLACK, round: true }
}

/// Where a width class of crack ends, m: 1/16 in and 1/8 in. Common practice: a hairline takes only
/// primer, an eighth is where cracks are cut open.
pub const CRACK_CLASS_M: [f64; 2] = [0.0254 / 16.0, 0.0254 / 8.0];

/// Light fill of a thing standing on the slab.
pub const OBJECT_FILL: Color = Color(0xD9, 0xD9, 0xD9);
/// Fill of missing concrete.
pub const SPALL_FILL: Color = Color(0xA6, 0xA6, 0xA6);
/// Shade of the zone only a hand grinder reaches.
pub const HAND_EDGE_FILL: Color = Color(0xE8, 0xE8, 0xE8);

/// Spacing of the lines of the patch hatch.
pub const PATCH_SPACING: f64 = 2.0;
/// Spacing of the hatch of hollow concrete.
pub const HOLLOW_SPACING: f64 = 1.5;
/// Spacing of the hatch of what stays uncoated.
pub const UNCOATED_SPACING: f64 = 2.6;
/// Spacing of the rows of the blemish hatch.
pub const BLEMISH_SPACING: f64 = 2.4;

/// Gap between the slab and an extension line.
pub const EXTENSION_GAP: f64 = 1.5;
/// Overrun of an extension line beyond the dimension line.
pub const EXTENSION_OVERRUN: f64 = 1.5;
/// Distance of the first dimension line from the slab.
pub const DIMENSION_OFFSET: f64 = 10.0;
/// Distance of the next dimension lines from the one before.
pub const DIMENSION_STEP: f64 = 7.0;
/// Length of a 45-degree stroke.
pub const STROKE_LENGTH: f64 = 2.5;

/// Clear space around a tag.
pub const TAG_CLEAR: f64 = 0.5;

/// Margin around the border of a drawing.
pub const MARGIN: f64 = 12.7;

/// Margin of a sheet of text. What office printers leave white is 4 to 6.4 mm, and the line of origin stands in it. ASME Y14.1 has
/// 9.7 and 6.4 mm on letter paper (from memory).
pub const TEXT_MARGIN: f64 = 9.0;

/// Least cap height of anything: 3/32 in.
pub const LEAST_CAP: f64 = 2.381_25;

/// A size and weight of text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Font size, mm.
    pub size: f64,
    pub weight: Weight,
}

impl Type {
    fn new(cap: f64, weight: Weight) -> Self {
        Self { size: font::size_for_cap(cap), weight }
    }

    /// Cap height, mm.
    #[must_use]
    pub fn cap(&self) -> f64 {
        font::cap_height(self.size)
    }

    /// Distance from one baseline to the next, mm.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        self.size * 1.14
    }
}

/// Text of notes, dimensions and schedules. A hair over the least height, so that rounding in a file never takes it below.
#[must_use]
pub fn body() -> Type {
    Type::new(LEAST_CAP + 0.01, Weight::Regular)
}

/// The same, semibold: tags, heads of columns.
#[must_use]
pub fn strong() -> Type {
    Type::new(LEAST_CAP + 0.01, Weight::Semibold)
}

/// Heads of schedules and of the legend: 1/8 in.
#[must_use]
pub fn head() -> Type {
    Type::new(3.175, Weight::Semibold)
}

/// Titles of views: 3/16 in.
#[must_use]
pub fn title() -> Type {
    Type::new(4.7625, Weight::Semibold)
}
