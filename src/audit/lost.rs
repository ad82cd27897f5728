//! What a file holds and the reader does not draw.

use usvg::roxmltree::Document;

use super::read::Drawing;
use super::{Code, Report};

pub(super) fn check(document: &Document, drawing: &Drawing, report: &mut Report) {
    text(document, drawing, report);
    pictures(document, drawing, report);
}

/// Text that the reader leaves out, such as text without size, is lost.
fn text(document: &Document, drawing: &Drawing, report: &mut Report) {
    let written =
        document.descendants().filter(|n| n.has_tag_name(("http://www.w3.org/2000/svg", "text")));
    let written = written.filter(|n| n.text().is_some_and(|t| !t.trim().is_empty())).count();
    if written != drawing.words.len() {
        let drawn = drawing.words.len();
        report.fault(Code::LostText, &[], format!("of {written} lines of text {drawn} are drawn"));
    }
}

/// A photograph that the reader can't decode is lost.
fn pictures(document: &Document, drawing: &Drawing, report: &mut Report) {
    let written = document
        .descendants()
        .filter(|n| n.has_tag_name(("http://www.w3.org/2000/svg", "image")))
        .filter(|n| n.attribute("href").is_some_and(|h| h.starts_with("data:")))
        .count();
    let drawn = drawing.pictures.len();
    if written != drawn {
        report.fault(Code::LostPicture, &[], format!("of {written} photographs {drawn} are drawn"));
    }
}
