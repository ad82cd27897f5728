//! The one bundled family, Slabwalk Sans: its bytes, what its files say of their metrics, and the width of a line of text.
//!
//! Every writer and every measurement uses these two files and no other font, so a sheet is the same on every machine. Where they
//! come from, under which license and why they carry a name of their own stands in `font/README.md` and `font/OFL.txt`.

mod clean;
mod shorten;

pub use clean::{Cleaned, clean, is_clean};
pub use shorten::shorten;

use crate::ink::Weight;
use rustybuzz::{Direction, Face, ShapePlan, UnicodeBuffer, script};
use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::{Arc, OnceLock};
use usvg::fontdb;

/// Name of the family, as written into SVG and PDF.
pub const FAMILY: &str = "Slabwalk Sans";

/// License of the font, to be handed out with the program.
pub const LICENCE: &str = include_str!("font/OFL.txt");

const REGULAR: &[u8] = include_bytes!("font/SlabwalkSans-Regular.ttf");
const SEMIBOLD: &[u8] = include_bytes!("font/SlabwalkSans-Semibold.ttf");

/// Smaller cuts of the same two styles (Latin, fractions, arrows, shapes), for embedding in an SVG.
const REGULAR_WEB: &[u8] = include_bytes!("font/SlabwalkSans-Regular.woff2");
const SEMIBOLD_WEB: &[u8] = include_bytes!("font/SlabwalkSans-Semibold.woff2");

/// TrueType bytes of a style.
#[must_use]
pub fn bytes(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => REGULAR,
        Weight::Semibold => SEMIBOLD,
    }
}

/// WOFF2 bytes of the smaller cut of a style, for a web page or an SVG.
#[must_use]
pub fn web_bytes(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => REGULAR_WEB,
        Weight::Semibold => SEMIBOLD_WEB,
    }
}

/// CSS weight of a style.
#[must_use]
pub fn css_weight(weight: Weight) -> u16 {
    match weight {
        Weight::Regular => 400,
        Weight::Semibold => 600,
    }
}

/// Heights as shares of the font size (em), read from the font file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metrics {
    /// Height of a capital above the baseline.
    pub cap: f64,
    /// Height of a small x above the baseline.
    pub x: f64,
    /// Highest ink a line is to leave room for, above the baseline.
    pub ascent: f64,
    /// Lowest ink a line is to leave room for, below the baseline, positive.
    pub descent: f64,
}

/// A style ready for measuring: the parsed file and the shaping plan for left-to-right Latin text.
struct Style {
    face: Face<'static>,
    latin: ShapePlan,
    metrics: Metrics,
}

impl Style {
    fn load(weight: Weight) -> Option<Style> {
        let face = Face::from_slice(bytes(weight), 0)?;
        let latin = ShapePlan::new(&face, Direction::LeftToRight, Some(script::LATIN), None, &[]);
        let em = f64::from(face.units_per_em());
        let metrics = Metrics {
            cap: f64::from(face.capital_height()?) / em,
            x: f64::from(face.x_height()?) / em,
            ascent: f64::from(face.ascender()) / em,
            descent: -f64::from(face.descender()) / em,
        };
        Some(Style { face, latin, metrics })
    }
}

/// The parsed style. The files are part of the program, so failing to read them is a broken build, not bad input; a test reads them.
fn style(weight: Weight) -> Option<&'static Style> {
    static STYLES: [OnceLock<Option<Style>>; 2] = [OnceLock::new(), OnceLock::new()];
    let slot = match weight {
        Weight::Regular => &STYLES[0],
        Weight::Semibold => &STYLES[1],
    };
    slot.get_or_init(|| Style::load(weight)).as_ref()
}

/// Heights of a style as shares of the font size.
#[must_use]
pub fn metrics(weight: Weight) -> Metrics {
    style(weight)
        .map_or(Metrics { cap: 0.66, x: 0.486, ascent: 1.0, descent: 0.326 }, |s| s.metrics)
}

/// Font size in mm at which capitals are `cap` mm high.
#[must_use]
pub fn size_for_cap(cap: f64) -> f64 {
    cap / metrics(Weight::Regular).cap
}

/// Height of capitals in mm at font size `size` mm.
#[must_use]
pub fn cap_height(size: f64) -> f64 {
    size * metrics(Weight::Regular).cap
}

/// A glyph of a shaped line. Lengths are shares of the font size.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Number of the glyph in the font file; 0 is the missing-glyph box.
    pub id: u32,
    /// Step to the next glyph.
    pub advance: f64,
    /// Shift of this glyph to the right.
    pub dx: f64,
    /// Shift of this glyph upward.
    pub dy: f64,
    /// Bytes of the text that it stands for.
    pub text: std::ops::Range<usize>,
}

/// Lays out one line, left to right, with kerning and fractions.
///
/// The text is taken as it is; pass it through [`clean()`] first.
#[must_use]
pub fn shape(text: &str, weight: Weight) -> Vec<Glyph> {
    let Some(style) = style(weight) else {
        return Vec::new();
    };
    let em = f64::from(style.face.units_per_em());
    let line = shape_raw(style, text);
    let infos = line.glyph_infos();
    let places = line.glyph_positions();
    let mut glyphs = Vec::with_capacity(infos.len());
    for (n, (info, place)) in infos.iter().zip(places).enumerate() {
        let from = info.cluster as usize;
        let to =
            infos[n..].iter().map(|i| i.cluster as usize).find(|&c| c > from).unwrap_or(text.len());
        glyphs.push(Glyph {
            id: info.glyph_id,
            advance: f64::from(place.x_advance) / em,
            dx: f64::from(place.x_offset) / em,
            dy: f64::from(place.y_offset) / em,
            text: from..to,
        });
    }
    glyphs
}

/// Shapes with the plan kept for Latin. Making a plan costs several times the shaping of a short line, and Greek and Cyrillic
/// need nothing in this font that the Latin plan lacks.
fn shape_raw(style: &Style, text: &str) -> rustybuzz::GlyphBuffer {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.set_direction(Direction::LeftToRight);
    buffer.set_script(script::LATIN);
    rustybuzz::shape_with_plan(&style.face, &style.latin, buffer)
}

/// Width of a line of text in mm at font size `size` mm, as every writer will draw it.
///
/// ```
/// use slabwalk::{font, ink::Weight};
/// // Digits are tabular: one is as wide as another.
/// assert_eq!(font::text_width("11", 3.6, Weight::Regular), font::text_width("80", 3.6, Weight::Regular));
/// ```
#[must_use]
pub fn text_width(text: &str, size: f64, weight: Weight) -> f64 {
    let Some(style) = style(weight) else {
        return 0.0;
    };
    let units = KNOWN.with_borrow_mut(|known| known.units(text, weight, style));
    units as f64 / f64::from(style.face.units_per_em()) * size
}

/// Most texts whose widths are kept.
const MOST_KNOWN: usize = 20_000;

/// Advances of texts that were measured, in units of the font: while a sheet is laid out the same words are measured again and
/// again, and shaping them takes longer than all else.
#[derive(Default)]
struct Known {
    regular: HashMap<String, i64>,
    semibold: HashMap<String, i64>,
}

thread_local! {
    static KNOWN: RefCell<Known> = RefCell::default();
}

impl Known {
    fn units(&mut self, text: &str, weight: Weight, style: &Style) -> i64 {
        let known = match weight {
            Weight::Regular => &mut self.regular,
            Weight::Semibold => &mut self.semibold,
        };
        if let Some(units) = known.get(text) {
            return *units;
        }
        let cleaned = clean(text);
        let glyphs = shape_raw(style, &cleaned.text);
        let advances = glyphs.glyph_positions().iter();
        let units = advances.map(|p| i64::from(p.x_advance)).sum();
        if known.len() >= MOST_KNOWN {
            known.clear();
        }
        known.insert(text.to_owned(), units);
        units
    }
}

/// Whether both styles can draw the character.
#[must_use]
pub fn has(character: char) -> bool {
    style(Weight::Regular).is_some_and(|s| s.face.glyph_index(character).is_some())
}

/// The font database for the raster writer and the audit: these two styles, and nothing from the machine.
#[must_use]
pub fn database() -> Arc<fontdb::Database> {
    static DATABASE: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let make = || {
        let mut database = fontdb::Database::new();
        database.load_font_source(fontdb::Source::Binary(Arc::new(REGULAR)));
        database.load_font_source(fontdb::Source::Binary(Arc::new(SEMIBOLD)));
        database.set_sans_serif_family(FAMILY);
        Arc::new(database)
    };
    DATABASE.get_or_init(make).clone()
}

/// Options with which a sheet is read back: the bundled family only, also where a file names another, and 96 dots an inch.
#[must_use]
pub fn reading_options() -> usvg::Options<'static> {
    usvg::Options {
        font_family: FAMILY.to_string(),
        fontdb: database(),
        ..usvg::Options::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOTH: [Weight; 2] = [Weight::Regular, Weight::Semibold];

    #[test]
    fn both_files_parse_and_say_their_heights() {
        for (weight, x) in [(Weight::Regular, 0.486), (Weight::Semibold, 0.491)] {
            let found = style(weight).map(|s| s.metrics);
            assert_eq!(
                found,
                Some(Metrics { cap: 0.66, x, ascent: 1.0, descent: 0.326 }),
                "{weight:?}"
            );
        }
        assert!((size_for_cap(2.38125) - 3.608).abs() < 1e-3);
    }

    #[test]
    fn the_name_reserved_by_the_licence_is_not_used() {
        for weight in BOTH {
            let face = Face::from_slice(bytes(weight), 0).unwrap();
            let names: Vec<String> = face
                .names()
                .into_iter()
                .filter(|n| n.name_id != 0)
                .filter_map(|n| n.to_string())
                .collect();
            assert!(names.iter().any(|n| n.starts_with(FAMILY)), "{names:?}");
            assert!(names.iter().all(|n| !n.contains("Source")), "{names:?}");
        }
        assert!(LICENCE.contains("SIL OPEN FONT LICENSE Version 1.1"));
    }

    #[test]
    fn both_styles_cover_the_same_characters() {
        let [regular, semibold] = BOTH.map(|w| Face::from_slice(bytes(w), 0).unwrap());
        let covered = |face: &Face, c: char| face.glyph_index(c).is_some();
        let all: Vec<char> = ('\u{20}'..'\u{3000}').filter(|&c| covered(&regular, c)).collect();
        assert!(all.len() > 1480, "{}", all.len());
        assert!(all.iter().all(|&c| covered(&semibold, c)));
        for c in "½⅛⅜⅝⅞¼¾⅓⅔′″→←↑↓▲▼●○■□◆✓×÷±≤≥≈°²µΩΔ⁄–—“”’•…−Ёжαωřşłñ".chars()
        {
            assert!(has(c), "{c}");
        }
    }

    #[test]
    fn widths_scale_with_size_and_weight() {
        let one = text_width("CRACK C-12", 1.0, Weight::Regular);
        assert!((text_width("CRACK C-12", 3.6, Weight::Regular) - 3.6 * one).abs() < 1e-9);
        assert!(text_width("CRACK C-12", 1.0, Weight::Semibold) > one);
        assert!((text_width("0123456789", 1.0, Weight::Regular) - 4.97).abs() < 1e-9);
        assert_eq!(text_width("", 3.0, Weight::Regular), 0.0);
    }

    #[test]
    fn clusters_cover_the_text_in_order() {
        let text = "12\u{2044}16 ffi a\u{301}Ж";
        let glyphs = shape(text, Weight::Regular);
        assert_eq!(glyphs.first().map(|g| g.text.start), Some(0));
        assert_eq!(glyphs.last().map(|g| g.text.end), Some(text.len()));
        assert!(glyphs.iter().all(|g| g.id != 0 && text.is_char_boundary(g.text.start)));
        assert!(glyphs.windows(2).all(|p| p[0].text.start <= p[1].text.start));
    }

    #[test]
    fn greek_and_cyrillic_are_as_wide_under_the_latin_plan_as_under_their_own() {
        let style = style(Weight::Regular).unwrap();
        for text in ["Жилой дом № 7", "Αποθήκη Δ", "Łódź 12"] {
            let mut buffer = UnicodeBuffer::new();
            buffer.push_str(text);
            let own: i32 = rustybuzz::shape(&style.face, &[], buffer)
                .glyph_positions()
                .iter()
                .map(|p| p.x_advance)
                .sum();
            let ours: i32 =
                shape_raw(style, text).glyph_positions().iter().map(|p| p.x_advance).sum();
            assert_eq!(own, ours, "{text}");
        }
    }
}
