//! Files that are not ours: what is larger, deeper or more than any sheet of this program is not read further, so that an audit
//! ends soon whatever it is given.

use super::read::Drawing;
use usvg::roxmltree::{Document, Node};

/// Largest file, bytes. A sheet with both styles of the font inside has about 0.3 MB; photographs make it a few.
const LARGEST: usize = 32 << 20;
/// Most elements and pieces of text. A sheet of 500 items has about 20,000.
const MOST_NODES: u32 = 400_000;
/// Deepest nesting. Sheets of this program nest five deep.
const DEEPEST: usize = 64;
/// Most tags on a sheet; every two are compared.
const MOST_TAGS: usize = 4_000;
/// Most lines of text on a sheet.
const MOST_WORDS: usize = 40_000;
/// Most straight pieces of all leaders; every two are compared.
const MOST_LEADER_LINES: usize = 20_000;
/// Most straight pieces of one hatch; near ones are compared.
const MOST_HATCH_LINES: usize = 60_000;
/// Most points of all lines of a sheet.
const MOST_POINTS: usize = 3_000_000;

/// Most pairs of a line of text and a filled shape; what each text is written on is looked for among all shapes before it.
const MOST_GROUNDS: usize = 200_000_000;

/// Elements that are read. Others copy, filter or animate what is drawn; a few such lines can stand for more marks than a machine
/// holds, and no sheet of this program has them.
const KNOWN: [&str; 18] = [
    "svg", "g", "defs", "title", "desc", "metadata", "style", "path", "rect", "circle", "ellipse",
    "line", "polyline", "polygon", "text", "tspan", "image", "a",
];

/// Elements that run code: named by the check of the file itself.
const RUNNING: [&str; 3] = ["script", "foreignObject", "iframe"];

/// What is wrong with a file before it is parsed; `None` for nothing.
pub(crate) fn of_text(text: &str) -> Option<String> {
    if text.len() > LARGEST {
        return Some(format!("it is larger than {} MiB", LARGEST >> 20));
    }
    // The parser goes down with the nesting, so that is counted before.
    (nesting(text) > DEEPEST).then(|| format!("it nests deeper than {DEEPEST} elements"))
}

/// Deepest nesting of tags, counted without parsing; in text that is no XML it is only a bound.
fn nesting(text: &str) -> usize {
    let bytes = text.as_bytes();
    let (mut depth, mut deepest, mut at) = (0usize, 0, 0);
    while let Some(found) = bytes[at..].iter().position(|b| *b == b'<') {
        let open = at + found;
        let rest = &text[open..];
        let (end, step) = if rest.starts_with("<!--") {
            (rest.find("-->").map(|e| e + 3), 0)
        } else if rest.starts_with("<![CDATA[") {
            (rest.find("]]>").map(|e| e + 3), 0)
        } else if rest.starts_with("</") {
            (rest.find('>').map(|e| e + 1), -1)
        } else if rest.starts_with("<?") || rest.starts_with("<!") {
            (rest.find('>').map(|e| e + 1), 0)
        } else {
            let end = tag_end(rest.as_bytes());
            let closed = end.is_some_and(|e| e > 1 && rest.as_bytes()[e - 2] == b'/');
            (end, if closed { 0 } else { 1 })
        };
        match step {
            1 => depth += 1,
            -1 => depth = depth.saturating_sub(1),
            _ => {}
        }
        deepest = deepest.max(depth);
        let Some(end) = end else { break };
        at = open + end;
    }
    deepest
}

/// One past the `>` of a tag, which may hold others within quotes.
fn tag_end(tag: &[u8]) -> Option<usize> {
    let mut quote = None;
    for (i, &byte) in tag.iter().enumerate() {
        match (quote, byte) {
            (None, b'"' | b'\'') => quote = Some(byte),
            (Some(q), b) if q == b => quote = None,
            (None, b'>') => return Some(i + 1),
            _ => {}
        }
    }
    None
}

/// How XML is parsed: no document type, so no entities that multiply.
pub(super) fn parsing<'a>() -> usvg::roxmltree::ParsingOptions<'a> {
    usvg::roxmltree::ParsingOptions { nodes_limit: MOST_NODES, ..Default::default() }
}

/// What is wrong with a parsed file before its marks are laid out.
pub(super) fn of_document(document: &Document) -> Option<String> {
    let root = document.root_element();
    if !root.has_tag_name(("http://www.w3.org/2000/svg", "svg")) {
        return Some("it has no svg element at its root".to_owned());
    }
    let known = [&KNOWN[..], &RUNNING].concat();
    let strange = strange(document, &known);
    strange.map(|name| format!("it holds <{name}>, which is not measured"))
}

/// The first element of SVG that is none of these, or another SVG within the file.
pub(crate) fn strange<'a>(document: &'a Document, known: &[&str]) -> Option<&'a str> {
    let elements = document.descendants().filter(Node::is_element);
    let of_svg =
        elements.filter(|n| n.tag_name().namespace() == Some("http://www.w3.org/2000/svg"));
    let names = of_svg.map(|n| (n, n.tag_name().name()));
    let mut strange = names.filter(|(n, name)| {
        let inner = *name == "svg" && *n != document.root_element();
        inner || !known.contains(name)
    });
    strange.next().map(|(_, name)| name)
}

/// What is too much of a sheet for it to be compared piece by piece.
pub(super) fn of_drawing(drawing: &Drawing) -> Option<String> {
    let lines = |runs: &[Vec<crate::ink::PaperPoint>]| runs.iter().map(Vec::len).sum::<usize>();
    let (mut points, mut leaders) = (0, 0);
    let mut hatches = std::collections::BTreeMap::new();
    for shape in &drawing.shapes {
        let place = drawing.place(shape.place);
        let count = lines(&shape.runs);
        points += count;
        if place.leader.is_some() {
            leaders += count;
        }
        if place.hatch {
            *hatches.entry(shape.place).or_insert(0) += count;
        }
    }
    let tags = drawing.places.iter().filter(|p| p.id.starts_with("tag-")).count();
    let filled = drawing.shapes.iter().filter(|s| s.fill.is_some()).count();
    let hatch = hatches.into_values().max().unwrap_or(0);
    let rows = [
        (tags, MOST_TAGS, "tags"),
        (drawing.words.len(), MOST_WORDS, "lines of text"),
        (leaders, MOST_LEADER_LINES, "pieces of leaders"),
        (hatch, MOST_HATCH_LINES, "lines in one hatch"),
        (points, MOST_POINTS, "points"),
        (filled * drawing.words.len(), MOST_GROUNDS, "pairs of text and filled shape"),
    ];
    let over = rows.into_iter().find(|(count, most, _)| count > most);
    over.map(|(count, most, what)| format!("it has {count} {what}; a sheet has at most {most}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nesting_is_counted_as_it_is() {
        let rows = [
            ("<a/>", 0),
            ("<a></a>", 1),
            ("<a><b/><c><d></d></c></a>", 3),
            ("<a x=\"<b><b><b>\"/>", 0),
            ("<!-- <a><a> --><a></a>", 1),
            ("<a><![CDATA[<b><b>]]></a>", 1),
            ("<?xml version=\"1.0\"?><a/>", 0),
            ("</a></a><a>", 1),
            ("no tags", 0),
            ("<", 1),
        ];
        for (text, wanted) in rows {
            assert_eq!(nesting(text), wanted, "{text}");
        }
    }
}
