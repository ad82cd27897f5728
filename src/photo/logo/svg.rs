//! An SVG of plain shapes, drawn as pixels on white.

use image::RgbImage;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use usvg::roxmltree::{Document, ParsingOptions};

use super::LONGEST;
use crate::audit::{bounds, contained};
use crate::font;

/// Most elements of an SVG.
const MOST_NODES: u32 = 5_000;

/// Elements that are drawn, or that say how.
const SHAPES: [&str; 18] = [
    "svg",
    "g",
    "defs",
    "title",
    "desc",
    "metadata",
    "style",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "linearGradient",
    "radialGradient",
    "stop",
    "clipPath",
];

/// An SVG on white, or what is wrong with it.
pub(super) fn drawn(text: &str) -> Result<RgbImage, String> {
    if let Some(fault) = bounds::of_text(text) {
        return Err(fault);
    }
    let text = without_type(text);
    let options = ParsingOptions { nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(&text, options).map_err(|e| e.to_string())?;
    if let Some(name) = bounds::strange(&document, &SHAPES) {
        return Err(format!("it holds <{name}>, and only shapes are drawn"));
    }
    if let Some(what) = contained::first(&document) {
        return Err(format!("{what} runs code or refers outside the file"));
    }
    let tree = usvg::Tree::from_str(&text, &font::reading_options()).map_err(|e| e.to_string())?;
    let (w, h) = (tree.size().width(), tree.size().height());
    let scale = LONGEST as f32 / w.max(h);
    let side = |n: f32| (n * scale).round().clamp(1.0, LONGEST as f32) as u32;
    let empty = || "it has no size".to_owned();
    let mut canvas = Pixmap::new(side(w), side(h)).ok_or_else(empty)?;
    canvas.fill(Color::WHITE);
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut canvas.as_mut());
    let white = canvas.pixels().iter().all(|p| (p.red(), p.green(), p.blue()) == (255, 255, 255));
    if white {
        return Err("nothing in it shows on white paper".to_owned());
    }
    let rgb = canvas.pixels().iter().flat_map(|p| [p.red(), p.green(), p.blue()]).collect();
    RgbImage::from_raw(canvas.width(), canvas.height(), rgb).ok_or_else(empty)
}

/// The text without a document type that defines nothing of its own, as drawing programs write it; one that defines entities stays and
/// is refused by the parser.
fn without_type(text: &str) -> String {
    let range = text.find("<!DOCTYPE").and_then(|from| {
        let to = from + text[from..].find('>')?;
        (!text[from..to].contains('[')).then_some(from..to + 1)
    });
    match range {
        Some(range) => [&text[..range.start], &text[range.end..]].concat(),
        None => text.to_owned(),
    }
}
