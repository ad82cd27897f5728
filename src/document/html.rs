//! One file for a screen: no scripts, nothing from outside, drawing and photographs inside.

use std::fmt::Write;

use base64::Engine;

use crate::font;
use crate::ink::{Picture, Weight};
use crate::svg;

use super::{
    Block, Document, Entry, Figure, Letterhead, Picturing, SYMBOL, Side, Signature, Table, Text,
};

/// Looks on a screen of any width, and on paper from a browser.
const STYLE: &str = include_str!("style.css");

/// Writes the paper as one file.
#[must_use]
pub fn html(document: &Document) -> String {
    let mut out =
        String::from("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    let _ = writeln!(out, "<title>{}</title>", escape(&document.title));
    out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    let _ = writeln!(out, "<meta name=\"description\" content=\"{}\">", escape(&document.subject));
    let _ = write!(
        out,
        "<style>\n{}{STYLE}</style>\n</head>\n<body id=\"top\">\n<main>\n<header>\n",
        faces()
    );
    letterhead(&document.head, &mut out);
    let _ = writeln!(out, "<h1>{}</h1>\n</header>", escape(&document.title));
    blocks(&document.blocks, &mut out);
    out += "</main>\n";
    if !document.running.is_empty() {
        let _ = writeln!(out, "<footer><p>{}</p></footer>", escape(&document.running));
    }
    out += "</body>\n</html>\n";
    out
}

/// Logo, name and address of the shop.
fn letterhead(head: &Letterhead, out: &mut String) {
    if head.is_empty() {
        return;
    }
    *out += "<div class=\"head\">\n";
    if let Some(logo) = &head.logo {
        image(logo, &head.name, out);
    }
    *out += "<div>\n";
    if !head.name.is_empty() {
        let _ = writeln!(out, "<p dir=\"auto\"><b>{}</b></p>", escape(&head.name));
    }
    for line in &head.lines {
        let _ = writeln!(out, "<p dir=\"auto\">{}</p>", escape(line));
    }
    *out += "</div>\n</div>\n";
}

/// The bundled font inside the file, so that the paper looks the same everywhere; what it lacks the reader's own fonts show.
fn faces() -> String {
    let mut out = String::new();
    for weight in [Weight::Regular, Weight::Semibold] {
        let data = base64::engine::general_purpose::STANDARD.encode(font::web_bytes(weight));
        let _ = writeln!(
            out,
            "@font-face{{font-family:\"{}\";font-weight:{};src:url(data:font/woff2;base64,{data}) format(\"woff2\")}}",
            font::FAMILY,
            font::css_weight(weight)
        );
    }
    out
}

/// Each heading of the second level opens a section.
fn blocks(blocks: &[Block], out: &mut String) {
    let mut section = 0;
    for block in blocks {
        if let Block::Heading { level: ..=2, text } = block {
            if section > 0 {
                *out += "</section>\n";
            }
            section += 1;
            let _ = write!(
                out,
                "<section aria-labelledby=\"s{section}\">\n<h2 id=\"s{section}\">{}</h2>\n",
                escape(text)
            );
        } else {
            self::block(block, out);
        }
    }
    if section > 0 {
        *out += "</section>\n";
    }
}

fn block(block: &Block, out: &mut String) {
    match block {
        Block::Heading { text, .. } => {
            let _ = writeln!(out, "<h3>{}</h3>", escape(text));
        }
        Block::Paragraph(text) => {
            let _ = writeln!(out, "<p>{}</p>", inline(text));
        }
        Block::List { ordered, items } => list(*ordered, items, out),
        Block::Facts(rows) => {
            *out += "<dl>\n";
            for (name, value) in rows {
                let _ = writeln!(
                    out,
                    "<div><dt>{}</dt><dd dir=\"auto\">{}</dd></div>",
                    escape(name),
                    inline(value)
                );
            }
            *out += "</dl>\n";
        }
        Block::Table(table) => self::table(table, out),
        Block::Figure(figure) => self::figure(figure, out),
        Block::Figures(all) => all.iter().for_each(|f| self::figure(f, out)),
        Block::Plan(figure, with) => {
            plan(figure, out);
            with.iter().for_each(|block| self::block(block, out));
        }
        Block::Key(entries) => key(entries, out),
        Block::Signatures(places) => signatures(places, out),
        Block::Notice { title, paragraphs } => {
            let _ = writeln!(out, "<div class=\"notice\">\n<p><b>{}</b></p>", escape(title));
            for text in paragraphs {
                let _ = writeln!(out, "<p>{}</p>", inline(text));
            }
            *out += "</div>\n";
        }
    }
}

fn list(ordered: bool, items: &[Text], out: &mut String) {
    let tag = if ordered { "ol" } else { "ul" };
    let _ = writeln!(out, "<{tag}>");
    for item in items {
        let _ = writeln!(out, "<li>{}</li>", inline(item));
    }
    let _ = writeln!(out, "</{tag}>");
}

fn class(side: Side) -> &'static str {
    match side {
        Side::Left => "",
        Side::Right => " class=\"n\"",
    }
}

fn table(table: &Table, out: &mut String) {
    *out += "<table>\n";
    if !table.caption.is_empty() {
        let _ = writeln!(out, "<caption>{}</caption>", escape(&table.caption));
    }
    *out += "<thead><tr>";
    for column in &table.columns {
        let _ =
            write!(out, "<th scope=\"col\"{}>{}</th>", class(column.side), escape(&column.head));
    }
    *out += "</tr></thead>\n<tbody>\n";
    for row in &table.rows {
        *out += if row.total { "<tr class=\"total\">" } else { "<tr>" };
        for (i, (cell, column)) in row.cells.iter().zip(&table.columns).enumerate() {
            let (text, class) = (escape(cell), class(column.side));
            let _ = if i == 0 {
                write!(out, "<th scope=\"row\"{class}>{text}</th>")
            } else {
                write!(out, "<td{class}>{text}</td>")
            };
        }
        *out += "</tr>\n";
    }
    *out += "</tbody>\n</table>\n";
}

fn shown(figure: &Figure, out: &mut String) {
    match &figure.shows {
        // The fonts stand in the page already.
        Picturing::Drawing(sheet) => *out += &svg::write_with(sheet, false),
        Picturing::Photo(picture) => image(picture, &figure.words, out),
    }
}

fn image(picture: &Picture, words: &str, out: &mut String) {
    let _ = writeln!(
        out,
        "<img src=\"{}\" alt=\"{}\" width=\"{}\" height=\"{}\">",
        svg::jpeg_data(picture),
        escape(words),
        picture.width,
        picture.height
    );
}

fn caption(figure: &Figure, out: &mut String) {
    if !figure.caption.is_empty() {
        let _ = writeln!(out, "<figcaption>{}</figcaption>", inline(&figure.caption));
    }
    *out += "</figure>\n";
}

fn figure(figure: &Figure, out: &mut String) {
    *out += "<figure>\n";
    shown(figure, out);
    caption(figure, out);
}

/// A drawing as wide as the screen. A tap opens it alone, without a script: the figure becomes the target of the page's address.
fn plan(figure: &Figure, out: &mut String) {
    *out += "<figure class=\"plan\" id=\"plan\">\n<a class=\"close\" href=\"#top\">Close</a>\n<a href=\"#plan\" title=\"Open the drawing alone\">\n";
    shown(figure, out);
    *out += "</a>\n";
    caption(figure, out);
}

fn key(entries: &[Entry], out: &mut String) {
    *out += "<ul class=\"key\">\n";
    for entry in entries {
        let symbol = svg::symbol(&entry.symbol, SYMBOL);
        let _ = writeln!(out, "<li>{symbol}<p>{}</p></li>", inline(&entry.text));
    }
    *out += "</ul>\n";
}

fn signatures(places: &[Signature], out: &mut String) {
    *out += "<div class=\"sign\">\n";
    for place in places {
        let _ = writeln!(out, "<div>\n<p><b>{}</b></p>", escape(&place.party));
        for line in &place.lines {
            let _ = writeln!(out, "<p class=\"line\">{}</p>", escape(line));
        }
        *out += "</div>\n";
    }
    *out += "</div>\n";
}

fn inline(text: &Text) -> String {
    let run = |run: &super::Run| {
        let text = escape(&run.text);
        if run.strong { format!("<b>{text}</b>") } else { text }
    };
    let runs: Vec<String> = text.0.iter().map(run).collect();
    runs.join(" ")
}

/// Text that can stand in an element or between quotation marks. Control characters, and those that turn the reading direction, are
/// dropped: they could show another text than the file holds.
#[must_use]
pub(super) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\'' => out += "&#39;",
            '\n' | '\t' | '\r' => out.push(' '),
            '\u{200e}'
            | '\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2066}'..='\u{2069}'
            | '\u{61c}' => {}
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}
