//! Blocks to pieces: how each part of the content looks on paper.

use crate::font;
use crate::ink::{BLACK, ImageMark, Mark, PaperPoint, Weight};
use crate::sheet::draw;
use crate::sheet::mm::by;

use super::page::{BODY, GRAY, HEADING, LEADING, RULE, TITLE, rule, text};
use super::paginate::Piece;
use super::text::{Line, Text, space, wrap};
use super::{Block, Document, Figure, Picturing, Signature, table};

/// Space between paragraphs, mm.
const BETWEEN: f64 = 2.6;
/// Space above headings of the second and third level, mm.
const ABOVE_HEADING: [f64; 2] = [8.0, 4.6];
/// Space below a heading, mm.
const BELOW_HEADING: f64 = 1.4;
/// How far entries of a list stand in, mm.
const HANG: f64 = 5.5;
/// Widest column of names in a block of facts, mm.
const WIDEST_NAME: f64 = 46.0;
/// How far the text of a notice stands off its bar, mm.
const OFF_BAR: f64 = 4.5;
/// Width of that bar, mm.
const BAR: f64 = 0.9;
/// Height of a line to write on, mm.
const WRITING: f64 = 12.0;

/// Lays out a paper for a text area of this size, mm.
pub(super) fn lay(document: &Document, width: f64, height: f64) -> Vec<Piece> {
    let mut out = Vec::new();
    out.extend(lines(
        &Text::strong(&*document.title),
        width,
        TITLE,
        TITLE * 1.2,
    ));
    if !document.subtitle.is_empty() {
        let mut under = lines(&(&*document.subtitle).into(), width, BODY, LEADING);
        if let Some(first) = under.first_mut() {
            first.before = 1.0;
        }
        out.extend(under);
    }
    keep_all(&mut out);
    let mut laid: Vec<Vec<Piece>> = document
        .blocks
        .iter()
        .map(|block| self::block(block, width, height))
        .collect();
    keep_with_signatures(&document.blocks, &mut laid);
    out.extend(laid.into_iter().flatten());
    out
}

/// What is signed stands on the page with the signatures, from its heading on.
fn keep_with_signatures(blocks: &[Block], laid: &mut [Vec<Piece>]) {
    for (i, _) in blocks
        .iter()
        .enumerate()
        .filter(|(_, block)| matches!(block, Block::Signatures(_)))
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
        Block::Signatures(places) => signatures(places, width),
        Block::Notice { title, paragraphs } => notice(title, paragraphs, width),
    }
}

/// The marks of a line from `x`, baseline `y` below the top of its piece.
pub(super) fn line_marks(line: &Line, x: f64, y: f64, size: f64) -> Vec<Mark> {
    let mut x = x;
    let mut marks = Vec::new();
    for (words, weight) in &line.0 {
        marks.push(Mark::Text(text(x, y, words, size, *weight)));
        x += font::text_width(words, size, *weight) + space(size, *weight);
    }
    marks
}

/// Baseline below the top of a line, mm: the line's height is shared out above and below the letters.
pub(super) fn baseline(size: f64, leading: f64) -> f64 {
    let cap = font::cap_height(size);
    (leading + cap) / 2.0
}

fn lines(text: &Text, width: f64, size: f64, leading: f64) -> Vec<Piece> {
    wrap(text, width, size)
        .iter()
        .map(|line| Piece {
            height: leading,
            marks: line_marks(line, 0.0, baseline(size, leading), size),
            ..Piece::default()
        })
        .collect()
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
    let mut out = lines(text, width, BODY, LEADING);
    no_single_lines(&mut out);
    if let Some(first) = out.first_mut() {
        first.before = before;
    }
    out
}

fn heading(level: u8, text: &str, width: f64) -> Vec<Piece> {
    let (size, leading, before) = if level <= 2 {
        (HEADING, HEADING * 1.3, ABOVE_HEADING[0])
    } else {
        (BODY, LEADING, ABOVE_HEADING[1])
    };
    let mut out = lines(&Text::strong(text), width, size, leading);
    if let Some(first) = out.first_mut() {
        first.before = before;
    }
    if level <= 2
        && let Some(last) = out.last_mut()
    {
        last.height += BELOW_HEADING;
        last.marks
            .push(rule(0.0, width, last.height - 0.6, 0.35, BLACK));
    }
    keep_all(&mut out);
    out
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
        for piece in &mut pieces {
            piece.marks = shifted(std::mem::take(&mut piece.marks), hang, 0.0);
        }
        let mark = if ordered {
            format!("{}.", i + 1)
        } else {
            "•".to_owned()
        };
        if let Some(first) = pieces.first_mut() {
            let y = baseline(BODY, LEADING);
            let mark = text(0.8, y, &mark, BODY, Weight::Regular);
            first.marks.insert(0, Mark::Text(mark));
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
        let mut left = lines(&Text::strong(&**name), column - 5.0, BODY, LEADING);
        let right = lines(value, width - column, BODY, LEADING);
        for (n, piece) in right.into_iter().enumerate() {
            let marks = shifted(piece.marks, column, 0.0);
            match left.get_mut(n) {
                Some(beside) => beside.marks.extend(marks),
                None => left.push(Piece {
                    height: LEADING,
                    marks,
                    ..Piece::default()
                }),
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
    let mut out = lines(&Text::strong(title), inner, BODY, LEADING);
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
        piece.marks = shifted(std::mem::take(&mut piece.marks), OFF_BAR, 0.0);
        piece.marks.insert(0, bar(-above, piece.height));
    }
    if let Some(last) = out.last_mut() {
        last.height += 1.2;
    }
    out
}

/// An upright bar from `top` to `bottom`.
fn bar(top: f64, bottom: f64) -> Mark {
    let area = sheet_box(0.0, top, BAR, bottom);
    draw::rectangle(&area, None, Some(BLACK))
}

fn sheet_box(left: f64, top: f64, right: f64, bottom: f64) -> crate::sheet::mm::Box2 {
    crate::sheet::mm::Box2::new(left, top, right, bottom)
}

fn figure(figure: &Figure, width: f64, height: f64) -> Vec<Piece> {
    let mut below = lines(&figure.caption, width, BODY, LEADING);
    if figure.caption.is_empty() {
        below.clear();
    }
    let caption: f64 = below.iter().map(|p| p.height).sum::<f64>() + 1.2;
    let most = (height - caption).max(10.0);
    let (marks, tall) = match &figure.shows {
        Picturing::Drawing(sheet) => (
            sheet.groups.iter().cloned().map(Mark::Group).collect(),
            sheet.height,
        ),
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
    let mut out = vec![Piece {
        before: BETWEEN + 1.0,
        height: tall,
        marks,
        float: figure.float,
        ..Piece::default()
    }];
    out.extend(below);
    let last = out.len() - 1;
    for piece in &mut out[..last] {
        piece.keep = true;
    }
    out
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
        out.push(Piece {
            before: BETWEEN + 2.0,
            height: tall,
            marks,
            ..Piece::default()
        });
    }
    out
}

fn signature(place: &Signature, width: f64) -> (Vec<Mark>, f64) {
    let mut marks = Vec::new();
    let mut y = 0.0;
    for line in wrap(&Text::strong(&*place.party), width, BODY) {
        marks.extend(line_marks(&line, 0.0, y + baseline(BODY, LEADING), BODY));
        y += LEADING;
    }
    for label in &place.lines {
        y += WRITING;
        marks.push(rule(0.0, width, y, 0.3, RULE));
        let mut mark = text(
            0.0,
            y + baseline(BODY, LEADING),
            label,
            BODY,
            Weight::Regular,
        );
        mark.color = GRAY;
        marks.push(Mark::Text(mark));
        y += LEADING;
    }
    (marks, y)
}
