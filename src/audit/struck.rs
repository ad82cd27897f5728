//! Lines and leaders through text, and dashes beside numbers that read as a minus.

use std::collections::BTreeMap;

use super::read::{Drawing, Piece, Place, Shape, Words, mm, shown};
use super::turned::Own;
use super::{BESIDE_NUMBER, Code, Report};
use crate::ink::PaperPoint;
use crate::tags::place::PaperBox;

/// Side of a cell of the index, mm.
const CELL: f64 = 10.0;

/// What of a line reaches into a text by less than this, mm, touches it.
const HAIR: f64 = 0.15;

/// Distance of the points at which a line is looked at, mm.
const STRIDE: f64 = 0.2;

/// A level line seen for longer than this, mm, is a line; a shorter one reads as a minus. The font's own is 1.8 mm, the longest dash
/// of a thin line 6 mm and a little stretched.
const LONGEST_DASH: f64 = 7.0;

/// Share of a text's height above and below its figures, where a stroke is no minus: slashes and quotes reach there.
const OFF_FIGURES: f64 = 0.15;

/// Least share of its length from end to end of a line that can be a dash; a ring has none.
const STRAIGHT: f64 = 0.95;

/// Tangent of the angle to the text up to which a dash reads as a minus: about 30°.
const LEVEL: f64 = 0.58;

/// Most entries of the index and most pieces that are held against texts; a sheet of 500 items has a hundredth of it.
const MOST_LOOKS: usize = 100_000_000;

/// A straight piece of a shape.
struct Line {
    /// The shape's number.
    shape: usize,
    piece: Piece,
    /// Whether it is a dash: a line by itself, not a side of a figure.
    dash: bool,
}

pub(super) fn check(drawing: &Drawing, report: &mut Report) {
    if check_within(drawing, report, MOST_LOOKS).is_none() {
        let message = "not readable as a sheet: too many lines lie at its texts".to_owned();
        report.fault(Code::Unreadable, &[], message);
    }
}

/// `None` where there was more to look at than allowed.
fn check_within(drawing: &Drawing, report: &mut Report, most: usize) -> Option<()> {
    let index = index(drawing, most)?;
    let mut looks = 0;
    for words in &drawing.words {
        if report.is_full() {
            break;
        }
        let own = Own::of(&words.frame);
        let framed = drawing.place(words.place).tag.is_some()
            || drawing.shapes.iter().any(|s| frames(s, words));
        let mut near: Vec<&Line> = Vec::new();
        for cell in cells(&words.ink.grown(BESIDE_NUMBER)) {
            let lines = index.get(&cell).map_or(&[][..], Vec::as_slice);
            looks += lines.len();
            near.extend(lines);
        }
        if looks > most {
            return None;
        }
        for line in near {
            let shape = &drawing.shapes[line.shape];
            let (place, of_words) = (drawing.place(shape.place), drawing.place(words.place));
            // What a tag covers and what leaves the border is told as such.
            if place.tag.is_some() || place.border || frames(shape, words) {
                continue;
            }
            if is_struck(drawing, &own, line) {
                struck(place, of_words, words, report);
            } else if !framed && may_be_minus(line, place) && is_minus(drawing, (words, &own), line)
            {
                let message = format!(
                    "a dash of {} stands less than {} beside \"{}\" of {}",
                    shown(&place.id),
                    mm(BESIDE_NUMBER),
                    words.text,
                    shown(&of_words.id)
                );
                report.fault(Code::DashAtNumber, &[&place.id, &of_words.id], message);
            }
        }
    }
    Some(())
}

fn struck(place: &Place, of_words: &Place, words: &Words, report: &mut Report) {
    let (text, at) = (&words.text, shown(&of_words.id));
    let (code, what) = match &place.leader {
        Some(item) => (Code::LeaderThroughText, format!("the leader of {item}")),
        None => (Code::LineThroughText, format!("a line of {}", shown(&place.id))),
    };
    let message = format!("{what} runs through \"{text}\" of {at}");
    report.fault(code, &[&place.id, &of_words.id], message);
}

/// Lines by the cells they may run through. Fills count only at the ends of leaders: other fills are grounds.
fn index(drawing: &Drawing, most: usize) -> Option<BTreeMap<(i64, i64), Vec<Line>>> {
    let mut index: BTreeMap<(i64, i64), Vec<Line>> = BTreeMap::new();
    let mut entries = 0;
    for (n, shape) in drawing.shapes.iter().enumerate() {
        let counts = shape.stroke.is_some() || drawing.place(shape.place).leader.is_some();
        for run in shape.runs.iter().filter(|_| counts) {
            let dash = is_straight(run);
            for pair in run.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                let area = PaperBox::new(a.x.min(b.x), a.y.min(b.y), a.x.max(b.x), a.y.max(b.y));
                for cell in cells(&area) {
                    entries += 1;
                    if entries > most {
                        return None;
                    }
                    let (shape, piece) = (n, (a, b));
                    index.entry(cell).or_default().push(Line { shape, piece, dash });
                }
            }
        }
    }
    Some(index)
}

/// Whether a shape is a frame or ring drawn for a text; no dash past it is read with the text.
fn frames(shape: &Shape, words: &Words) -> bool {
    let middle = words.ink.centre();
    shape.place == words.place
        && shape.stroke.is_some()
        && shape.area.contains(middle)
        && shape.holds(middle)
}

fn is_straight(run: &[PaperPoint]) -> bool {
    let apart = |a: PaperPoint, b: PaperPoint| (b.x - a.x).hypot(b.y - a.y);
    let length: f64 = run.windows(2).map(|p| apart(p[0], p[1])).sum();
    let ends = run.first().zip(run.last());
    ends.is_some_and(|(a, b)| apart(*a, *b) >= STRAIGHT * length)
}

/// Cells that a box reaches into.
fn cells(area: &PaperBox) -> impl Iterator<Item = (i64, i64)> + use<> {
    let cell = |v: f64| (v / CELL).floor().clamp(-1e6, 1e6) as i64;
    let (top, bottom) = (cell(area.top), cell(area.bottom));
    (cell(area.left)..=cell(area.right)).flat_map(move |x| (top..=bottom).map(move |y| (x, y)))
}

/// Whether a piece of a line is seen within a text.
fn is_struck(drawing: &Drawing, own: &Own, line: &Line) -> bool {
    let (shape, piece) = (line.shape, line.piece);
    let more = drawing.shapes[shape].stroke.unwrap_or(0.0) / 2.0 - HAIR;
    let sides = ((-more, own.length + more), (-more, own.height + more));
    let Some((from, to)) = own.clipped(piece, sides) else {
        return false;
    };
    let n = ((to - from) * own.run(piece) / STRIDE).ceil().max(2.0) as usize;
    (0..=n).any(|i| {
        let share = from + (to - from) * i as f64 / n as f64;
        !drawing.is_covered(shape, Own::on(piece, share))
    })
}

/// Whether a line is a dash by itself; a leader ends at its tag and is read with it.
fn may_be_minus(line: &Line, place: &Place) -> bool {
    line.dash && place.leader.is_none()
}

/// Whether a piece of a line is seen as a dash right before or behind a number.
fn is_minus(drawing: &Drawing, (words, own): (&Words, &Own), line: &Line) -> bool {
    let (shape, piece) = (line.shape, line.piece);
    let (dx, dy) = own.direction(piece);
    if dy.abs() > LEVEL * dx.abs() {
        return false;
    }
    let starts = |c: char| c.is_ascii_digit() || c == '-' || c == '\u{2212}';
    let ends = |c: char| c.is_ascii_digit() || c == '"' || c == '\'';
    let before = (words.text.starts_with(starts)).then_some((-BESIDE_NUMBER, 0.0));
    let behind = (words.text.ends_with(ends)).then_some((own.length, own.length + BESIDE_NUMBER));
    before.into_iter().chain(behind).any(|along| {
        let height = (OFF_FIGURES * own.height, (1.0 - OFF_FIGURES) * own.height);
        let Some((from, to)) = own.clipped(piece, (along, height)) else {
            return false;
        };
        let length = own.run(piece);
        let n = (length / STRIDE).ceil().clamp(2.0, 1e4) as usize;
        let seen: Vec<bool> = (0..=n)
            .map(|i| !drawing.is_covered(shape, Own::on(piece, i as f64 / n as f64)))
            .collect();
        let at = |share: f64| ((share * n as f64).round() as usize).min(n);
        let (low, high) = (at(from), at(to));
        let Some(start) = (low..=high).find(|&i| seen[i]) else {
            return false;
        };
        let left = (0..=start).rev().take_while(|&i| seen[i]).count();
        let right = (start..=n).take_while(|&i| seen[i]).count();
        (left + right) as f64 * length / n as f64 <= LONGEST_DASH
    })
}
