//! Colors, pens and sizes of the customer drawing.
//!
//! Colors are from the Okabe–Ito table (hex values from memory): text is black, lines are black, blue, vermillion or bluish green, and
//! orange, sky blue and yellow only fill under a black outline. Every meaning also has its own line pattern or its letter, because
//! blue, green and vermillion are one gray on a black and white print.

use crate::font;
use crate::ink::{BLACK, Color, Stroke, Weight};

use crate::paper::dash::Pattern;
use crate::paper::style::Type;

/// Lines of filled joints.
pub(crate) const BLUE: Color = Color(0x00, 0x72, 0xB2);
/// Lines of cracks.
pub(crate) const VERMILLION: Color = Color(0xD5, 0x5E, 0x00);
/// Lines of joints and cracks that stay open and are sealed.
pub(crate) const GREEN: Color = Color(0x00, 0x9E, 0x73);
/// Fill of patched spots.
pub(crate) const ORANGE: Color = Color(0xE6, 0x9F, 0x00);
/// Fill of edges that are ground down and of low spots.
pub(crate) const SKY: Color = Color(0x56, 0xB4, 0xE9);
/// Fill of areas that are treated first: yellow, half way to white, because such areas are large.
pub(crate) const PALE_YELLOW: Color = Color(0xF8, 0xF2, 0xA6);
/// Fill of the coated floor: a tint so light that every line keeps its contrast on it.
pub(crate) const FLOOR: Color = Color(0xF4, 0xF6, 0xF2);
/// Fill of what stands on the floor.
pub(crate) const STANDING: Color = Color(0xD0, 0xD0, 0xD0);

/// Colors of letters.
#[cfg(test)]
pub(crate) const TEXT: [Color; 1] = [BLACK];
/// Colors of lines that mean something.
#[cfg(test)]
pub(crate) const LINES: [Color; 4] = [BLACK, BLUE, VERMILLION, GREEN];
/// Fills that lie under lines and letters.
#[cfg(test)]
pub(crate) const FILLS: [Color; 5] = [ORANGE, SKY, PALE_YELLOW, FLOOR, STANDING];

/// A line with round ends.
pub(crate) const fn pen(width: f64, color: Color) -> Stroke {
    Stroke { width, color, round: true }
}

/// The edge of the slab.
pub(crate) const EDGE: Stroke = pen(0.9, BLACK);
/// Where two heights of the floor meet.
pub(crate) const RISER: Stroke = pen(0.6, BLACK);
/// Outlines of fills, leaders, rings of marks.
pub(crate) const FINE: Stroke = pen(0.3, BLACK);
/// The ring of a mark.
pub(crate) const RING: Stroke = pen(0.45, BLACK);
/// The outline of a patched spot.
pub(crate) const SPOT: Stroke = pen(0.45, BLACK);
/// Hatch of what is not coated.
pub(crate) const HATCH: Stroke = pen(0.2, BLACK);
/// Rules of the title band.
pub(crate) const RULE: Stroke = pen(0.35, BLACK);
/// Revision clouds and their triangles.
pub(crate) const CLOUD: Stroke = pen(0.5, BLACK);

/// Distance of the lines of a sealed joint, center to center, mm.
pub(crate) const SEALED_APART: f64 = 1.5;
/// Least width of a ground edge on paper, mm: its true few inches would vanish at the scale of a page.
pub(crate) const LEAST_BAND: f64 = 2.2;
/// Spacing of the hatch of what is not coated, mm.
pub(crate) const HATCH_SPACING: f64 = 2.6;
/// Spacing of the hatch of hollow spots, mm.
pub(crate) const HOLLOW_SPACING: f64 = 1.6;
/// Radius of the dot that marks a low spot, mm.
pub(crate) const LOW_SPOT: f64 = 1.7;

const fn plain(dash: f64, gap: f64) -> Pattern {
    Pattern { dash, gap, dots: 0, dot: 0.0 }
}

/// Filled joints: long dashes.
pub(crate) const FILLED: Pattern = plain(5.0, 1.6);
/// Filled joints that move: long dash, dot.
pub(crate) const FILLED_MOVING: Pattern = Pattern { dash: 5.0, gap: 1.5, dots: 1, dot: 0.3 };
/// What is left alone: short dashes.
pub(crate) const LEFT: Pattern = plain(1.2, 1.3);
/// Cracks that may come back: dashes.
pub(crate) const MAY_RETURN: Pattern = plain(2.6, 1.3);
/// Cracks that will come back: dash, two dots.
pub(crate) const RETURNS: Pattern = Pattern { dash: 3.0, gap: 1.2, dots: 2, dot: 0.3 };
/// Outline of areas treated first, and of openings.
pub(crate) const DASHED: Pattern = plain(1.8, 1.2);

/// Margin around the border, mm.
pub(crate) const MARGIN: f64 = 9.5;

fn type_of(cap: f64, weight: Weight) -> Type {
    Type { size: font::size_for_cap(cap), weight }
}

/// Words of the head: as high as running text of the owner's papers.
pub(crate) fn small() -> Type {
    type_of(3.0 / 32.0 * 25.4, Weight::Regular)
}

/// Text on the plan: capitals of 3.2 mm, so that a phone that shows the plan and is zoomed once reads it.
pub(crate) fn body() -> Type {
    type_of(3.21, Weight::Regular)
}

/// The same, semibold: letters of marks, first words.
pub(crate) fn strong() -> Type {
    type_of(3.21, Weight::Semibold)
}

/// Heads of columns.
pub(crate) fn head() -> Type {
    type_of(3.8, Weight::Semibold)
}

/// The name of the job.
pub(crate) fn title() -> Type {
    type_of(5.0, Weight::Semibold)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance (WCAG 2.1).
    fn luminance(color: Color) -> f64 {
        let linear = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(color.0) + 0.7152 * linear(color.1) + 0.0722 * linear(color.2)
    }

    fn contrast(a: Color, b: Color) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn letters_stand_out_on_every_ground() {
        for text in TEXT {
            for ground in FILLS.into_iter().chain([crate::ink::WHITE]) {
                assert!(contrast(text, ground) >= 4.5, "{text:?} on {ground:?}");
            }
        }
    }

    #[test]
    fn lines_stand_out_on_the_floor() {
        for line in LINES {
            for ground in [FLOOR, crate::ink::WHITE] {
                assert!(contrast(line, ground) >= 3.0, "{line:?} on {ground:?}");
            }
        }
    }
}
