//! Blocks to pieces: how each part of the content looks on paper.

use crate::flow::{self, Piece};
use crate::font;
use crate::ink::{Align, BLACK, ImageMark, Mark, PaperPoint, Weight};
use crate::paper::draw;
use crate::paper::mm::{Box2, at, by};
use crate::paper::text;
use crate::paper::text::{Line, Setting, Text, wrap};

use super::page::{BODY, GRAY, HEADING, LEADING, PLAIN, RULE, TEXT, TITLE, rule};
use super::{Block, Document, Entry, Figure, Letterhead, Picturing, SYMBOL, Signature, table};

/// Space between paragraphs, mm.
const BETWEEN: f64 = 1.8;
/// Space above headings of the second and third level, mm.
const ABOVE_HEADING: [f64; 2] = [4.8, 3.0];
/// Space below a heading, mm.
const BELOW_HEADING: f64 = 1.2;
/// How far entries of a list stand in, mm.
const HANG: f64 = 5.5;
/// Widest column of names in a block of facts, mm.
const WIDEST_NAME: f64 = 46.0;
/// How far the text of a notice stands off its bar, mm.
const OFF_BAR: f64 = 4.5;
/// Width of that bar, mm.
const BAR: f64 = 0.9;
/// Largest logo, width and height, mm.
const LOGO: (f64, f64) = (46.0, 17.0);
/// Air between things that stand beside each other, mm.
pub(crate) const BESIDE: f64 = 5.0;
/// Narrowest column beside a drawing, mm.
pub(crate) const LEAST_BESIDE: f64 = 56.0;
/// From a symbol of a key to its words, mm.
const OFF_SYMBOL: f64 = 2.0;
/// Height of a line to write on, mm.
const WRITING: f64 = 9.0;

/// Letterhead and title.
pub(super) fn opening(document: &Document, width: f64) -> Vec<Piece> {
    let mut out = Vec::new();
    if !document.head.is_empty() {
        let (mut marks, height) = letterhead(&document.head, width);
        marks.push(rule(0.0, width, height + 1.6, 0.35, BLACK));
        out.push(piece(height + 6.0, marks));
    }
    let title = Text::strong(&*document.title);
    out.extend(lines(&title, width, &Setting::new(TITLE, TITLE * 1.2)));
    keep_all(&mut out);
    out
}

/// Logo, name and address within a width; the marks, and how high they are, mm.
pub(crate) fn letterhead(head: &Letterhead, width: f64) -> (Vec<Mark>, f64) {
    let (mut marks, mut left, mut tall) = (Vec::new(), 0.0, 0.0);
    if let Some(logo) = &head.logo {
        let (w, h) = (f64::from(logo.width), f64::from(logo.height));
        let scale = (LOGO.0.min(width / 3.0) / w).min(LOGO.1 / h);
        (left, tall) = (w * scale + BESIDE, h * scale);
        marks.push(Mark::Image(ImageMark {
            at: PaperPoint::default(),
            width: w * scale,
            height: tall,
            picture: logo.clone(),
            words: head.name.clone(),
        }));
    }
    let name = Text::strong(&*head.name);
    let name = lines(&name, width - left, &Setting::new(HEADING, HEADING * 1.2));
    let below = head.lines.join(", ").into();
    let (texts, height) = stacked([name, lines(&below, width - left, &TEXT)].concat());
    // A logo that is taller than the words stands beside their middle.
    let above = ((tall - height) / 2.0).max(0.0);
    marks.extend(shifted(texts, left, above));
    (marks, tall.max(height))
}

/// Lays out blocks for columns of this width and height, mm.
pub(super) fn lay(blocks: &[Block], width: f64, height: f64) -> Vec<Piece> {
    let each = blocks.iter().map(|block| self::block(block, width, height));
    let mut laid: Vec<Vec<Piece>> = each.collect();
    keep_with_signatures(blocks, &mut laid);
    laid.into_iter().flatten().collect()
}

/// What is signed stands on the page with the signatures, from its heading on.
fn keep_with_signatures(blocks: &[Block], laid: &mut [Vec<Piece>]) {
    for (i, _) in
        blocks.iter().enumerate().filter(|(_, block)| matches!(block, Block::Signatures(_)))
    {
        for j in (0..i).rev() {
            if let Some(last) = laid[j].last_mut() {
                last.keep = true;
            }
            if matches!(blocks[j], Block::Heading { .. }) {
                break;
            }
        }
    }
}

fn block(block: &Block, width: f64, height: f64) -> Vec<Piece> {
    match block {
        Block::Heading { level, text } => heading(*level, text, width),
        Block::Paragraph(text) => paragraph(text, width, BETWEEN),
        Block::List { ordered, items } => list(*ordered, items, width),
        Block::Facts(rows) => facts(rows, width),
        Block::Table(table) => table::lay(table, width, height),
        Block::Figure(figure) => self::figure(figure, width, height),
        Block::Figures(all) => figures(all, width, height),
        Block::Plan(figure, with) => plan(figure, with, width, height),
        Block::Key(entries) => entries.iter().map(|e| entry(e, width)).collect(),
        Block::Signatures(places) => signatures(places, width),
        Block::Notice { title, paragraphs } => notice(title, paragraphs, width),
    }
}

/// A piece of the paper.
pub(super) fn piece(height: f64, marks: Vec<Mark>) -> Piece {
    Piece::new(height, draw::group("", "words", marks))
}

/// A paragraph in pieces, a line each.
pub(super) fn lines(text: &Text, width: f64, set: &Setting) -> Vec<Piece> {
    let marks = |line: &Line| line.marks(at(0.0, set.baseline()), set);
    let lines = wrap(text, width, set);
    lines.iter().map(|line| piece(set.leading, marks(line))).collect()
}

/// Every piece stays with the next, also the last.
fn keep_all(pieces: &mut [Piece]) {
    pieces.iter_mut().for_each(|piece| piece.keep = true);
}

/// No page begins or ends with a single line of a paragraph.
pub(super) fn no_single_lines(pieces: &mut [Piece]) {
    let n = pieces.len();
    for (i, piece) in pieces.iter_mut().enumerate() {
        piece.keep = i + 1 < n && (i == 0 || i + 2 == n);
    }
}

fn paragraph(text: &Text, width: f64, before: f64) -> Vec<Piece> {
    let mut out = lines(text, width, &TEXT);
    no_single_lines(&mut out);
    if let Some(first) = out.first_mut() {
        first.before = before;
    }
    out
}

fn heading(level: u8, text: &str, width: f64) -> Vec<Piece> {
    let (set, before) = if level <= 2 {
        (Setting::new(HEADING, HEADING * 1.3), ABOVE_HEADING[0])
    } else {
        (TEXT, ABOVE_HEADING[1])
    };
    let mut out = lines(&Text::strong(text), width, &set);
    if let Some(first) = out.first_mut() {
        first.before = before;
        first.section = level <= 2;
    }
    if level <= 2
        && let Some(last) = out.last_mut()
    {
        last.height += BELOW_HEADING;
        let under = rule(0.0, width, last.height - 0.6, 0.35, BLACK);
        last.group.marks.push(under);
    }
    keep_all(&mut out);
    out
}

/// Moves what a piece shows to the right.
fn stand_in(piece: &mut Piece, x: f64) {
    piece.group = draw::moved(std::mem::take(&mut piece.group), by(x, 0.0));
}

fn shifted(marks: Vec<Mark>, x: f64, y: f64) -> Vec<Mark> {
    let group = draw::group("", "", marks);
    draw::moved(group, by(x, y)).marks
}

fn list(ordered: bool, items: &[Text], width: f64) -> Vec<Piece> {
    let hang = if ordered { HANG + 1.5 } else { HANG };
    let mut out = Vec::new();
    for (i, item) in items.iter().enumerate() {
        let mut pieces = paragraph(item, width - hang, if i == 0 { BETWEEN } else { 1.0 });
        pieces.iter_mut().for_each(|piece| stand_in(piece, hang));
        let mark = if ordered { format!("{}.", i + 1) } else { "•".to_owned() };
        if let Some(first) = pieces.first_mut() {
            let mark = draw::text(at(0.8, TEXT.baseline()), mark, PLAIN, Align::Start);
            first.group.marks.insert(0, Mark::Text(mark));
        }
        // No page begins or ends with a single entry of a list.
        if (i == 0 || i + 2 == items.len())
            && items.len() > 1
            && let Some(last) = pieces.last_mut()
        {
            last.keep = true;
        }
        out.extend(pieces);
    }
    out
}

fn facts(rows: &[(String, Text)], width: f64) -> Vec<Piece> {
    let widest = rows
        .iter()
        .map(|(name, _)| font::text_width(name, BODY, Weight::Semibold))
        .fold(0.0, f64::max);
    let column = widest.min(WIDEST_NAME) + 5.0;
    let mut out: Vec<Piece> = Vec::new();
    for (i, (name, value)) in rows.iter().enumerate() {
        let mut left = lines(&Text::strong(&**name), column - 5.0, &TEXT);
        for (n, mut value) in lines(value, width - column, &TEXT).into_iter().enumerate() {
            stand_in(&mut value, column);
            match left.get_mut(n) {
                Some(beside) => beside.group.marks.extend(value.group.marks),
                None => left.push(value),
            }
        }
        no_single_lines(&mut left);
        if let Some(first) = left.first_mut() {
            first.before = if i == 0 { BETWEEN } else { 0.4 };
        }
        out.extend(left);
    }
    out
}

fn notice(title: &str, paragraphs: &[Text], width: f64) -> Vec<Piece> {
    let inner = width - OFF_BAR;
    let mut out = lines(&Text::strong(title), inner, &TEXT);
    keep_all(&mut out);
    for text in paragraphs {
        out.extend(paragraph(text, inner, 1.0));
    }
    for (i, piece) in out.iter_mut().enumerate() {
        // The bar runs through the space above, so that it is one line down the page.
        let above = if i == 0 { 0.0 } else { piece.before };
        if i == 0 {
            piece.before = BETWEEN + 1.6;
        }
        stand_in(piece, OFF_BAR);
        let bar = Box2::new(0.0, -above, BAR, piece.height);
        let bar = draw::rectangle(&bar, None, Some(BLACK));
        piece.group.marks.insert(0, bar);
    }
    if let Some(last) = out.last_mut() {
        last.height += 1.2;
    }
    out
}

fn figure(figure: &Figure, width: f64, height: f64) -> Vec<Piece> {
    let mut below = lines(&figure.caption, width, &TEXT);
    let caption: f64 = below.iter().map(|p| p.height).sum::<f64>() + 1.2;
    let most = (height - caption).max(10.0);
    let (marks, tall) = match &figure.shows {
        Picturing::Drawing(sheet) => {
            (sheet.groups.iter().cloned().map(Mark::Group).collect(), sheet.height)
        }
        Picturing::Photo(picture) => {
            let (w, h) = (f64::from(picture.width), f64::from(picture.height));
            let scale = (figure.width.min(width) / w).min(most / h);
            let mark = ImageMark {
                at: PaperPoint { x: 0.0, y: 0.0 },
                width: w * scale,
                height: h * scale,
                picture: picture.clone(),
                words: figure.words.clone(),
            };
            (vec![Mark::Image(mark)], h * scale)
        }
    };
    if let Some(first) = below.first_mut() {
        first.before = 1.2;
    }
    let mut out = vec![Piece { before: BETWEEN + 1.0, float: figure.float, ..piece(tall, marks) }];
    out.extend(below);
    let last = out.len() - 1;
    for piece in &mut out[..last] {
        piece.keep = true;
    }
    out
}

/// Figures beside each other, each row one piece; none is wider than it asks to be.
fn figures(all: &[Figure], width: f64, height: f64) -> Vec<Piece> {
    let widest = all.iter().map(|f| f.width).fold(1.0, f64::max).min(width);
    let in_row = ((width + BESIDE) / (widest + BESIDE)).floor().max(1.0) as usize;
    let row = |row: &[Figure]| {
        let laid = row.iter().map(|f| {
            let f = Figure { float: false, ..f.clone() };
            stacked(figure(&f, widest, height))
        });
        let (mut all, mut height, mut x) = (Vec::new(), 0.0, 0.0);
        for (marks, tall) in laid {
            all.extend(shifted(marks, x, 0.0));
            height = f64::max(height, tall);
            x += widest + BESIDE;
        }
        Piece { before: BETWEEN + 1.0, ..piece(height, all) }
    };
    all.chunks(in_row).map(row).collect()
}

/// Pieces one below the other as marks, and how high they are, mm.
fn stacked(pieces: Vec<Piece>) -> (Vec<Mark>, f64) {
    let all = flow::Block::from(pieces).unbroken(0.0);
    let marks = |mark| match mark {
        Mark::Group(group) if group.id.is_empty() => group.marks,
        mark => vec![mark],
    };
    (all.group.marks.into_iter().flat_map(marks).collect(), all.height)
}

/// A line of a key: what it shows, and beside it the words.
fn entry(entry: &Entry, width: f64) -> Piece {
    let left = SYMBOL.0 + OFF_SYMBOL;
    let mut marks = entry.symbol.clone();
    // The first line stands beside the middle of the symbol.
    let y = (SYMBOL.1 - LEADING) / 2.0;
    let (words, height) = text::paragraph(&entry.text, at(left, y), width - left, &TEXT);
    marks.extend(words);
    let class = if entry.id.is_empty() { "words" } else { "key" };
    Piece {
        before: 0.4,
        ..Piece::new((y + height).max(SYMBOL.1) + 0.4, draw::group(&*entry.id, class, marks))
    }
}

/// A drawing and what belongs to it: unbroken and beside each other where there is room, else one below the other.
fn plan(plan: &Figure, with: &[Block], width: f64, height: f64) -> Vec<Piece> {
    let mut pieces = figure(plan, width, height);
    let drawn = match &plan.shows {
        Picturing::Drawing(sheet) => sheet.width + BESIDE,
        Picturing::Photo(_) => width,
    };
    if width - drawn >= LEAST_BESIDE {
        let (marks, tall) = stacked(lay(with, width - drawn, height));
        if let Some(first) = pieces.first_mut().filter(|_| tall <= height) {
            first.group.marks.extend(shifted(marks, drawn, 0.0));
            first.height = first.height.max(tall);
            return pieces;
        }
    }
    pieces.extend(lay(with, width, height));
    pieces
}

/// Places to sign, two beside each other.
fn signatures(places: &[Signature], width: f64) -> Vec<Piece> {
    const GAP: f64 = 12.0;
    let column = (width - GAP) / 2.0;
    let mut out = Vec::new();
    for pair in places.chunks(2) {
        let mut marks = Vec::new();
        let mut tall: f64 = 0.0;
        for (i, place) in pair.iter().enumerate() {
            let (own, height) = signature(place, column);
            let x = if i == 0 { 0.0 } else { column + GAP };
            marks.extend(shifted(own, x, 0.0));
            tall = tall.max(height);
        }
        out.push(Piece { before: BETWEEN + 2.0, ..piece(tall, marks) });
    }
    out
}

fn signature(place: &Signature, width: f64) -> (Vec<Mark>, f64) {
    let party = Text::strong(&*place.party);
    let (mut marks, mut y) = text::paragraph(&party, at(0.0, 0.0), width, &TEXT);
    // The first line has the width to itself: a signature is long, a date is not.
    let (first, rest) = place.lines.split_at(place.lines.len().min(1));
    for row in std::iter::once(first).chain(rest.chunks(2)).filter(|row| !row.is_empty()) {
        y += WRITING;
        let each = (width - BESIDE * (row.len() - 1) as f64) / row.len() as f64;
        for (i, label) in row.iter().enumerate() {
            let left = i as f64 * (each + BESIDE);
            marks.push(rule(left, left + each, y, 0.3, RULE));
            let label = font::shorten(label, each, BODY, Weight::Regular);
            let base = at(left, y + TEXT.baseline());
            let mut mark = draw::text(base, label, PLAIN, Align::Start);
            mark.color = GRAY;
            marks.push(Mark::Text(mark));
        }
        y += LEADING;
    }
    (marks, y)
}
