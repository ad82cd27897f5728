//! Writes sheets as one PDF: a page a sheet at true size, lines as lines, text as searchable text in an embedded subset of the font.
//!
//! The same sheets give the same bytes: the file carries the date that it is given, never the clock's.

use crate::font;
use crate::ink::{
    Align, Color, Group, ImageMark, Mark, PaperPoint, PathMark, Sheet, Step, Stroke, TextMark,
    Weight,
};
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::DateTime;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::fmt;

/// Points in a millimeter: 72 to the inch of 25.4 mm.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Longest side of a page, mm: 14,400 points, the largest page that readers are bound to open (from memory: PDF 1.6, annex C).
const LONGEST_SIDE: f64 = 14_400.0 / POINTS_PER_MM;

/// What the file says of itself. Empty fields are left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Metadata {
    /// Title of the document.
    pub title: String,
    /// Who drew it.
    pub author: String,
    /// One paragraph on what it holds.
    pub subject: String,
    /// Words to find it by.
    pub keywords: Vec<String>,
    /// Program that wrote it, with its version.
    pub creator: String,
    /// Year, month and day of the survey or of issue, as given in the sketch.
    pub date: Option<(u16, u8, u8)>,
}

/// Why no PDF was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Error {
    /// There is no sheet to write.
    NoSheets,
    /// The sheet of this name has no size that a page can have.
    PageSize(String),
    /// The bundled font or the PDF library refused; the text says which.
    Library(String),
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::NoSheets => write!(f, "no sheet to write"),
            Error::PageSize(name) => write!(f, "sheet {name} has no size that a PDF page can have"),
            Error::Library(what) => write!(f, "the PDF could not be written: {what}"),
        }
    }
}

impl std::error::Error for Error {}

/// Writes sheets into one PDF, in their order, with a bookmark for each.
///
/// # Errors
/// No sheets; a sheet without a size, or larger than 5.08 m; a refusal of the PDF library.
pub fn write(sheets: &[Sheet], metadata: &Metadata) -> Result<Vec<u8>, Error> {
    if sheets.is_empty() {
        return Err(Error::NoSheets);
    }
    let fonts = Fonts::load()?;
    let mut document = krilla::Document::new();
    let mut outline = Outline::new();
    for (index, sheet) in sheets.iter().enumerate() {
        let mut page = document.start_page_with(page_size(sheet)?);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_scale(POINTS_PER_MM as f32, POINTS_PER_MM as f32));
        for group in &sheet.groups {
            draw_group(&mut surface, group, &fonts);
        }
        surface.pop();
        surface.finish();
        page.finish();
        let place = XyzDestination::new(index, Point::from_xy(0.0, 0.0));
        outline.push_child(OutlineNode::new(font::clean(&sheet.title).text.into_owned(), place));
    }
    document.set_outline(outline);
    document.set_metadata(describe(metadata));
    document.finish().map_err(|error| Error::Library(format!("{error:?}")))
}

fn page_size(sheet: &Sheet) -> Result<PageSettings, Error> {
    let fits = |side: f64| side > 0.0 && side <= LONGEST_SIDE;
    let points = |side: f64| (side * POINTS_PER_MM) as f32;
    Some(sheet)
        .filter(|s| fits(s.width) && fits(s.height))
        .and_then(|s| PageSettings::from_wh(points(s.width), points(s.height)))
        .ok_or_else(|| Error::PageSize(sheet.name.clone()))
}

fn describe(metadata: &Metadata) -> krilla::metadata::Metadata {
    let text = |s: &str| font::clean(s).text.into_owned();
    let mut out = krilla::metadata::Metadata::new()
        .title(text(&metadata.title))
        .description(text(&metadata.subject))
        .creator(text(&metadata.creator))
        .keywords(metadata.keywords.iter().map(|k| text(k)).collect())
        .language("en".to_string());
    if !metadata.author.is_empty() {
        out = out.authors(vec![text(&metadata.author)]);
    }
    if let Some((year, month, day)) = metadata.date {
        out = out.creation_date(DateTime::new(year).month(month).day(day));
    }
    out
}

/// Both styles, loaded for one document.
struct Fonts {
    regular: Font,
    semibold: Font,
}

impl Fonts {
    fn load() -> Result<Fonts, Error> {
        let load = |weight| {
            Font::new(font::bytes(weight).into(), 0)
                .ok_or_else(|| Error::Library("the bundled font cannot be read".to_string()))
        };
        Ok(Fonts { regular: load(Weight::Regular)?, semibold: load(Weight::Semibold)? })
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Semibold => self.semibold.clone(),
        }
    }
}

fn draw_group(surface: &mut Surface, group: &Group, fonts: &Fonts) {
    for mark in &group.marks {
        match mark {
            Mark::Path(path) => draw_path(surface, path),
            Mark::Image(image) => draw_image(surface, image),
            Mark::Text(text) => draw_text(surface, text, fonts),
            Mark::Group(inner) => draw_group(surface, inner, fonts),
        }
    }
}

fn draw_path(surface: &mut Surface, mark: &PathMark) {
    let Some(path) = path(&mark.steps) else {
        return;
    };
    let fill = mark.fill.map(|color| fill(color, FillRule::EvenOdd));
    let stroke = mark.stroke.map(stroke);
    if fill.is_none() && stroke.is_none() {
        return;
    }
    surface.set_fill(fill);
    surface.set_stroke(stroke);
    surface.draw_path(&path);
}

/// A photograph goes into the file as the JPEG that it is. One that the library can't read leaves an empty place, as in the SVG.
fn draw_image(surface: &mut Surface, mark: &ImageMark) {
    let size = Size::from_wh(finite(mark.width), finite(mark.height));
    let data = mark.picture.jpeg.to_vec();
    let (Some(size), Ok(image)) = (size, Image::from_jpeg(data.into(), true)) else {
        return;
    };
    let (x, y) = (finite(mark.at.x), finite(mark.at.y));
    surface.push_transform(&Transform::from_translate(x, y));
    surface.draw_image(image, size);
    surface.pop();
}

/// The path in the library's form. A number that is none becomes 0, as in the SVG, so that the two writers show the same fault.
fn path(steps: &[Step]) -> Option<Path> {
    let xy = |p: PaperPoint| (finite(p.x), finite(p.y));
    let mut builder = PathBuilder::new();
    for step in steps {
        match *step {
            Step::Move(p) => {
                let (x, y) = xy(p);
                builder.move_to(x, y);
            }
            Step::Line(p) => {
                let (x, y) = xy(p);
                builder.line_to(x, y);
            }
            Step::Cubic(a, b, p) => {
                let ((ax, ay), (bx, by), (x, y)) = (xy(a), xy(b), xy(p));
                builder.cubic_to(ax, ay, bx, by, x, y);
            }
            Step::Close => builder.close(),
        }
    }
    builder.finish()
}

fn finite(value: f64) -> f32 {
    if value.is_finite() { value.clamp(-10_000.0, 10_000.0) as f32 } else { 0.0 }
}

fn paint(Color(r, g, b): Color) -> krilla::paint::Paint {
    rgb::Color::new(r, g, b).into()
}

fn fill(color: Color, rule: FillRule) -> Fill {
    Fill { paint: paint(color), opacity: NormalizedF32::ONE, rule }
}

fn stroke(stroke: Stroke) -> krilla::paint::Stroke {
    let (line_cap, line_join) = if stroke.round {
        (LineCap::Round, LineJoin::Round)
    } else {
        (LineCap::Butt, LineJoin::Miter)
    };
    krilla::paint::Stroke {
        paint: paint(stroke.color),
        width: finite(stroke.width),
        // The default of SVG, so that a sharp corner is cut at the same angle in both.
        miter_limit: 4.0,
        line_cap,
        line_join,
        opacity: NormalizedF32::ONE,
        dash: None,
    }
}

fn draw_text(surface: &mut Surface, mark: &TextMark, fonts: &Fonts) {
    let text = font::clean(&mark.text).text;
    let size = finite(mark.size);
    let (start, glyphs) = line(mark, &text);
    if glyphs.is_empty() || size <= 0.0 {
        return;
    }
    let (x, y) = (finite(mark.at.x), finite(mark.at.y));
    surface.push_transform(&Transform::from_translate(x, y));
    surface.push_transform(&Transform::from_rotate(-finite(mark.turn)));
    surface.set_stroke(None);
    surface.set_fill(Some(fill(mark.color, FillRule::NonZero)));
    let font = fonts.of(mark.weight);
    surface.draw_glyphs(Point::from_xy(start as f32, 0.0), &glyphs, font, &text, size, false);
    surface.pop();
    surface.pop();
}

/// The glyphs of a line and where it starts, mm from its point. If it must take a width, the gaps between the glyphs give.
fn line(mark: &TextMark, text: &str) -> (f64, Vec<KrillaGlyph>) {
    let glyphs = font::shape(text, mark.weight);
    let own: f64 = glyphs.iter().map(|g| g.advance).sum::<f64>() * mark.size;
    let width = mark.width.filter(|w| w.is_finite() && *w > 0.0).unwrap_or(own);
    let gaps = glyphs.len().saturating_sub(1);
    let gap =
        if gaps > 0 && mark.size > 0.0 { (width - own) / gaps as f64 / mark.size } else { 0.0 };
    let start = match mark.align {
        Align::Start => 0.0,
        Align::Middle => -width / 2.0,
        Align::End => -width,
    };
    (start, glyphs.into_iter().map(|g| glyph(g, gap)).collect())
}

fn glyph(glyph: font::Glyph, gap: f64) -> KrillaGlyph {
    let (advance, dx, dy) = ((glyph.advance + gap) as f32, glyph.dx as f32, glyph.dy as f32);
    KrillaGlyph::new(GlyphId::new(glyph.id), advance, dx, dy, 0.0, glyph.text, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn label() -> TextMark {
        TextMark {
            at: PaperPoint { x: 100.0, y: 100.0 },
            text: "C-12 \u{0}½ Ж".into(),
            size: 3.6,
            weight: Weight::Semibold,
            align: Align::Middle,
            turn: 90.0,
            color: crate::ink::BLACK,
            width: Some(30.0),
        }
    }

    /// A line with numbers that are none.
    fn no_line() -> PathMark {
        let (from, to) = ((f64::NAN, 0.0), (9.0, f64::INFINITY));
        let at = |(x, y)| PaperPoint { x, y };
        let stroke = Stroke { width: f64::NAN, color: crate::ink::BLACK, round: true };
        PathMark {
            steps: vec![Step::Move(at(from)), Step::Line(at(to))],
            stroke: Some(stroke),
            fill: None,
        }
    }

    fn sheet(width: f64, height: f64) -> Sheet {
        let group =
            Group { marks: vec![Mark::Text(label()), Mark::Path(no_line())], ..Group::default() };
        Sheet {
            name: "s".into(),
            title: "S-101".into(),
            description: String::new(),
            width,
            height,
            groups: vec![group],
        }
    }

    #[test]
    fn same_bytes_each_time() {
        let metadata =
            Metadata { title: "Packet".into(), date: Some((2026, 5, 4)), ..Metadata::default() };
        let sheets = [sheet(431.8, 279.4), sheet(279.4, 215.9)];
        let first = write(&sheets, &metadata).unwrap();
        assert!(first.starts_with(b"%PDF-"));
        assert_eq!(first, write(&sheets, &metadata).unwrap());
    }

    #[test]
    fn a_page_that_cannot_be_is_an_error() {
        assert_eq!(write(&[], &Metadata::default()), Err(Error::NoSheets));
        for (name, width, height) in [
            ("nothing", 0.0, 10.0),
            ("negative", -1.0, 10.0),
            ("huge", 10.0, 6000.0),
            ("none", f64::NAN, 1.0),
        ] {
            assert_eq!(
                write(&[sheet(width, height)], &Metadata::default()),
                Err(Error::PageSize("s".into())),
                "{name}"
            );
        }
    }
}
