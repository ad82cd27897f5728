//! Writes a sheet as SVG: one user unit is one millimeter of paper.
//!
//! The same sheet gives the same bytes. Nothing refers outside the file, nothing runs, text stays text. The font travels inside the
//! file as data, so a browser without it draws the same sheet; a viewer that ignores it falls back to a family of about the same width, and
//! `textLength` keeps what must fit in its box.

mod number;

pub use number::number;

use crate::font;
use crate::ink::{
    Align, Color, Group, ImageMark, Mark, PathMark, Picture, Sheet, Step, TextMark, Weight,
};
use base64::Engine;
use svg::node::element::Element;
use svg::node::{Blob, Node, Text};

/// Widths closer than this are the same, mm: the rounding of [`number()`], a few times over.
const SAME_WIDTH: f64 = 0.01;

/// The family first, then an unmodified relative with the same widths, then anything without serifs.
const FAMILIES: &str = "'Slabwalk Sans', 'Source Sans 3', sans-serif";

/// Writes a sheet with the font inside.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    write_with(sheet, true)
}

/// Writes a sheet, with the styles that it uses inside (`embed`, about 22 kB each) or without.
#[must_use]
pub fn write_with(sheet: &Sheet, embed: bool) -> String {
    let mut root = root(sheet);
    root.append(words("title", &sheet.title, Some("t")));
    root.append(words("desc", &sheet.description, Some("d")));
    if embed && let Some(style) = font_faces(sheet) {
        root.append(style);
    }
    let page = PathMark { steps: page_outline(sheet), stroke: None, fill: Some(crate::ink::WHITE) };
    root.append(path(&page));
    for mark in &sheet.groups {
        root.append(group(mark));
    }
    format!("{root}\n")
}

/// Marks in a box of this width and height, mm, as a small picture inside a page: without ids, and passed over by who hears the page read.
pub(crate) fn symbol(marks: &[Mark], (width, height): (f64, f64)) -> String {
    let mut root = Element::new("svg");
    root.assign("viewBox", format!("0 0 {} {}", number(width), number(height)));
    root.assign("aria-hidden", "true");
    root.assign("fill", "none");
    root.assign("font-family", FAMILIES);
    for mark in marks {
        append(&mut root, mark);
    }
    root.to_string()
}

fn root(sheet: &Sheet) -> Element {
    let (width, height) = (number(sheet.width), number(sheet.height));
    let mut root = Element::new("svg");
    root.assign("xmlns", "http://www.w3.org/2000/svg");
    root.assign("width", format!("{width}mm"));
    root.assign("height", format!("{height}mm"));
    root.assign("viewBox", format!("0 0 {width} {height}"));
    root.assign("role", "img");
    root.assign("aria-labelledby", "t d");
    root.assign("lang", "en");
    root.assign("fill", "none");
    root.assign("font-family", FAMILIES);
    root
}

/// The styles used on the sheet as `@font-face` rules with the file inside; `None` where there is no text.
fn font_faces(sheet: &Sheet) -> Option<Element> {
    let rules: Vec<String> = [Weight::Regular, Weight::Semibold]
        .into_iter()
        .filter(|&weight| sheet.groups.iter().any(|g| uses(g, weight)))
        .map(|weight| {
            let data = base64::engine::general_purpose::STANDARD.encode(font::web_bytes(weight));
            let (family, weight) = (font::FAMILY, font::css_weight(weight));
            format!(
                "@font-face{{font-family:'{family}';font-weight:{weight};src:url(data:font/woff2;base64,{data}) format('woff2')}}"
            )
        })
        .collect();
    if rules.is_empty() {
        return None;
    }
    let mut style = Element::new("style");
    // The rules hold no character that XML would need escaped, and quotes must stay quotes.
    style.append(Blob::new(rules.join("\n")));
    Some(style)
}

fn uses(group: &Group, weight: Weight) -> bool {
    group.marks.iter().any(|mark| match mark {
        Mark::Text(text) => text.weight == weight,
        Mark::Group(inner) => uses(inner, weight),
        Mark::Path(_) | Mark::Image(_) => false,
    })
}

fn page_outline(sheet: &Sheet) -> Vec<Step> {
    let at = |x, y| crate::ink::PaperPoint { x, y };
    vec![
        Step::Move(at(0.0, 0.0)),
        Step::Line(at(sheet.width, 0.0)),
        Step::Line(at(sheet.width, sheet.height)),
        Step::Line(at(0.0, sheet.height)),
        Step::Close,
    ]
}

/// An element that holds only text: `title`, `desc`.
fn words(name: &str, text: &str, id: Option<&str>) -> Element {
    let mut element = Element::new(name);
    if let Some(id) = id {
        element.assign("id", id);
    }
    element.append(Text::new(font::clean(text).text));
    element
}

fn group(group: &Group) -> Element {
    let mut element = Element::new("g");
    if !group.id.is_empty() {
        element.assign("id", identifier(&group.id));
    }
    if !group.class.is_empty() {
        element.assign("class", font::clean(&group.class).text.into_owned());
    }
    if !group.title.is_empty() {
        element.append(words("title", &group.title, None));
    }
    if !group.description.is_empty() {
        element.append(words("desc", &group.description, None));
    }
    for mark in &group.marks {
        append(&mut element, mark);
    }
    element
}

fn append(element: &mut Element, mark: &Mark) {
    match mark {
        Mark::Path(mark) => element.append(path(mark)),
        Mark::Image(mark) => element.append(image(mark)),
        Mark::Text(mark) => element.append(text(mark)),
        Mark::Group(inner) => element.append(self::group(inner)),
    }
}

/// A photograph, inside the file as data.
fn image(mark: &ImageMark) -> Element {
    let mut element = Element::new("image");
    element.assign("x", number(mark.at.x));
    element.assign("y", number(mark.at.y));
    element.assign("width", number(mark.width));
    element.assign("height", number(mark.height));
    element.assign("preserveAspectRatio", "none");
    element.assign("href", jpeg_data(&mark.picture));
    if !mark.words.is_empty() {
        element.append(words("title", &mark.words, None));
    }
    element
}

/// A photograph as an address that holds the photograph itself.
pub(crate) fn jpeg_data(picture: &Picture) -> String {
    let data = base64::engine::general_purpose::STANDARD.encode(&picture.jpeg);
    format!("data:image/jpeg;base64,{data}")
}

/// An id without the characters that an XML id may not hold.
fn identifier(id: &str) -> String {
    id.chars().map(|c| if c.is_alphanumeric() || "-_.".contains(c) { c } else { '_' }).collect()
}

fn path(mark: &PathMark) -> Element {
    let mut element = Element::new("path");
    element.assign("d", data(&mark.steps));
    if let Some(fill) = mark.fill {
        element.assign("fill", hex(fill));
        if mark.steps.iter().filter(|s| matches!(s, Step::Move(_))).count() > 1 {
            element.assign("fill-rule", "evenodd");
        }
    }
    if let Some(stroke) = mark.stroke {
        element.assign("stroke", hex(stroke.color));
        element.assign("stroke-width", number(stroke.width));
        if stroke.round {
            element.assign("stroke-linecap", "round");
            element.assign("stroke-linejoin", "round");
        }
    }
    element
}

/// Path data with absolute coordinates.
fn data(steps: &[Step]) -> String {
    let mut out = String::new();
    for step in steps {
        if !out.is_empty() {
            out.push(' ');
        }
        let (letter, points): (char, Vec<_>) = match *step {
            Step::Move(p) => ('M', vec![p]),
            Step::Line(p) => ('L', vec![p]),
            Step::Cubic(a, b, p) => ('C', vec![a, b, p]),
            Step::Close => ('Z', Vec::new()),
        };
        out.push(letter);
        let pairs: Vec<String> =
            points.iter().map(|p| format!("{} {}", number(p.x), number(p.y))).collect();
        out.push_str(&pairs.join(" "));
    }
    out
}

fn text(mark: &TextMark) -> Element {
    let (x, y) = (number(mark.at.x), number(mark.at.y));
    let cleaned = font::clean(&mark.text).text;
    let mut element = Element::new("text");
    element.assign("fill", hex(mark.color));
    element.assign("font-size", number(mark.size));
    if mark.weight == Weight::Semibold {
        element.assign("font-weight", font::css_weight(mark.weight).to_string());
    }
    match mark.align {
        Align::Start => {}
        Align::Middle => element.assign("text-anchor", "middle"),
        Align::End => element.assign("text-anchor", "end"),
    }
    if let Some(width) = mark.width.filter(|w| *w > 0.0) {
        element.assign("textLength", number(width));
        // At its own width, a substitute font is squeezed as a whole. At another, only the gaps may change, as in the PDF.
        if (font::text_width(&cleaned, mark.size, mark.weight) - width).abs() < SAME_WIDTH {
            element.assign("lengthAdjust", "spacingAndGlyphs");
        }
    }
    let turn = number(-mark.turn);
    if turn != "0" {
        element.assign("transform", format!("rotate({turn} {x} {y})"));
    }
    element.assign("x", x);
    element.assign("y", y);
    element.append(Text::new(cleaned));
    element
}

fn hex(Color(r, g, b): Color) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

#[cfg(test)]
mod tests;
