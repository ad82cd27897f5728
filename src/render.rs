//! Diagnostics to text for people: the line of the file with the place marked, and what to do.

use std::ops::Range;

use annotate_snippets::{
    AnnotationKind, Element, Group, Level, Renderer, Snippet, renderer::DecorStyle,
};

use crate::diagnostic::{Diagnostic, FileId, Place, Severity, Told, counted, told};
use crate::sketch::Span;
use crate::text::{COLUMNS, set_in};

/// Most diagnostics shown one by one. More are counted: nobody reads on.
const MOST_SHOWN: usize = 200;
/// Longest line handed over whole, in bytes; of a longer one the part around the marked text, which is cut once more to what a
/// terminal shows.
const LONGEST_LINE: usize = 400;
/// Most that is marked of a line, bytes: a longer stretch begins at its mark.
const LONGEST_MARK: usize = 48;
/// Longest message, hint or label, in characters; the longest of the program's own has some six hundred.
const LONGEST_MESSAGE: usize = 4000;
/// Bytes shown before and after the marked text of a long line.
const CONTEXT: usize = 120;
/// Lines between two places that are still shown as one piece.
const NEAR_LINES: usize = 4;
/// Most lines of a sketch that are listed.
const MOST_LINES: usize = 100;
/// Characters that are kept free beside what is marked: the dots of what is cut off, on both sides.
const CUT_MARKS: usize = 13;

/// Lines of a text, to find line and column of a byte quickly.
#[derive(Clone, Debug)]
pub struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    /// Finds all lines of a text.
    #[must_use]
    pub fn new(text: &'t str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0).chain(ends.map(|(end, _)| end + 1)).collect();
        Self { text, starts }
    }

    /// Line and column of a byte, both counted from 1, columns in characters. A byte beyond the end
    /// counts as the end.
    ///
    /// ```
    /// let lines = slabwalk::render::Lines::new("a: 1\nb: ½ x\n");
    /// assert_eq!(lines.line_column(11), (2, 6));
    /// ```
    #[must_use]
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let offset = self.text.floor_char_boundary(offset);
        let line = self.index(offset);
        let column = self.text[self.starts[line]..offset].chars().count();
        let mark = self.text[self.starts[line]..offset].starts_with('\u{FEFF}');
        (line + 1, column + 1 - usize::from(mark))
    }

    /// Index of the line a byte lies on.
    fn index(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// Bytes of the lines from one index to another, without the last line's end.
    fn bytes(&self, first: usize, last: usize) -> Range<usize> {
        let end = self.starts.get(last + 1).map_or(self.text.len(), |next| next - 1);
        let trimmed = self.text[..end].strip_suffix('\r').map_or(end, str::len);
        self.starts[first]..trimmed.max(self.starts[first])
    }
}

/// Line and column of a byte of a text, both counted from 1, columns in characters.
///
/// For more than one byte of the same text, [`Lines`] is quicker.
#[must_use]
pub fn line_column(text: &str, offset: usize) -> (usize, usize) {
    Lines::new(text).line_column(offset)
}

/// A text with its name and lines.
struct Source<'t> {
    name: String,
    lines: Lines<'t>,
}

/// All diagnostics as text, in the order of the files, with a line that counts them at the end.
///
/// Each file is given by its name and text. Of more than 200 diagnostics the rest is only counted; errors come
/// first then, so that none of them hides behind notes.
#[must_use]
pub fn render(
    diagnostics: &[Diagnostic],
    sketch: (&str, &str),
    shop: Option<(&str, &str)>,
    color: bool,
) -> String {
    let source = |(name, text)| Source { name: still(name), lines: Lines::new(text) };
    let sources = [Some(source(sketch)), shop.map(source)];
    let all = told(diagnostics);
    let shown = in_order(&all);
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.decor_style(DecorStyle::Ascii).term_width(COLUMNS.into());
    let mut out = String::new();
    for told in &shown {
        let words = Words::of(told, &sources);
        let text = renderer.render(&[words.group(&sources)]);
        let text = right_columns(text, told.first, &sources);
        // The renderer shows what it knows of in a line of the file, and not the newer half of the control characters.
        out.extend(text.chars().map(|c| match c {
            '\u{80}'..='\u{9f}' | '\u{2028}' | '\u{2029}' => char::REPLACEMENT_CHARACTER,
            c => c,
        }));
        out += "\n\n";
    }
    let hidden = all.len() - shown.len();
    if hidden > 0 {
        out += &format!("{hidden} more not shown\n");
    }
    if !all.is_empty() {
        out += &format!("{}\n", counted(&all));
    }
    out
}

/// A text that moves no cursor: a terminal would obey what a file or its name holds.
fn still(text: &str) -> String {
    let moves = |c: char| c != '\n' && crate::text::moves(c);
    let mut out: String =
        text.chars().take(LONGEST_MESSAGE).map(|c| if moves(c) { ' ' } else { c }).collect();
    if out.len() < text.len() && text.chars().nth(LONGEST_MESSAGE).is_some() {
        out.push('…');
    }
    out
}

/// Those that are shown, by place.
fn in_order<'t, 'd>(all: &'t [Told<'d>]) -> Vec<&'t Told<'d>> {
    let mut shown: Vec<&Told> = all.iter().collect();
    if shown.len() > MOST_SHOWN {
        shown.sort_by_key(|told| std::cmp::Reverse(told.first.severity));
        shown.truncate(MOST_SHOWN);
    }
    shown.sort_by_key(|told| {
        let place = told.first.place;
        (place.is_none(), place.map(|place| (place.file, place.span)))
    });
    shown
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Stop => Level::ERROR.with_name("stop"),
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    }
}

/// One message in words that move no cursor, in lines that a terminal shows whole.
struct Words<'d> {
    told: &'d Told<'d>,
    title: String,
    label: String,
    related: String,
    /// What follows the lines of the file, each with the word before it.
    remarks: Vec<(&'static str, String)>,
}

impl<'d> Words<'d> {
    fn of(told: &'d Told<'d>, sources: &[Option<Source>; 2]) -> Self {
        let first = told.first;
        let lead = first.severity.word().len() + first.code.len() + "[]: ".len();
        let summary = told.summary();
        let title = summary.clone().unwrap_or_else(|| first.sentence());
        let mut out = Self {
            told,
            title: set_in(&still(&title), lead),
            label: still(&first.label),
            related: first.related.as_ref().map_or_else(String::new, |(_, words)| still(words)),
            remarks: Vec::new(),
        };
        let number = gutter(first, sources);
        let mut remark = |name: &'static str, text: &str| {
            let lead = number + " = : ".len() + name.len();
            out.remarks.push((name, set_in(&still(text), lead)));
        };
        // A label that a terminal can't show beside its mark is said below.
        let placed_in =
            first.place.and_then(|place| Some((source_of(place, sources)?, place.span)));
        let beside =
            placed_in.is_none_or(|(source, span)| source.has_room(span, &first.label, number));
        if !beside {
            remark("here", &first.label);
        }
        if summary.is_some() {
            lines_of(told, sources).iter().for_each(|lines| remark("lines", lines));
        } else {
            let others = told.told_after().iter();
            others.for_each(|other| remark("also", &placed(other, sources)));
            told.rest().iter().for_each(|rest| remark("also", rest));
        }
        first.hint.iter().for_each(|hint| remark("hint", hint));
        first.source.iter().for_each(|source| remark("source", source));
        if !beside {
            out.label.clear();
        }
        out
    }

    fn group<'g>(&'g self, sources: &'g [Option<Source<'g>>; 2]) -> Group<'g> {
        let first = self.told.first;
        let title = level(first.severity).primary_title(self.title.as_str()).id(first.code);
        let mut group = Group::with_title(title);
        for element in places(first, &self.label, &self.related, sources) {
            group = group.element(element);
        }
        for (name, text) in &self.remarks {
            let level = if *name == "hint" { Level::HELP } else { Level::NOTE };
            group = group.element(level.with_name(*name).message(text.as_str()));
        }
        group
    }
}

/// Puts the column in the file where the renderer could only know the column in what was shown of a
/// long line.
fn right_columns(
    mut text: String,
    diagnostic: &Diagnostic,
    sources: &[Option<Source>; 2],
) -> String {
    let related = diagnostic.related.as_ref().map(|(place, _)| *place);
    for place in diagnostic.place.into_iter().chain(related) {
        let Some(source) = source_of(place, sources) else {
            continue;
        };
        let (line, column) = source.lines.line_column(place.span.start);
        let bytes = source.lines.bytes(line - 1, line - 1);
        let shown = source.window(bytes.clone(), place.span);
        if shown.start == bytes.start {
            continue;
        }
        let (_, in_window) =
            line_column(&source.lines.text[shown.clone()], place.span.start - shown.start);
        let wrong = format!("{}:{line}:{in_window}\n", source.name);
        text = text.replacen(&wrong, &format!("{}:{line}:{column}\n", source.name), 1);
    }
    text
}

/// The source a place lies in, if it is one that was handed over.
fn source_of<'s, 't>(place: Place, sources: &'s [Option<Source<'t>>; 2]) -> Option<&'s Source<'t>> {
    match place.file {
        FileId::Sketch => sources[0].as_ref(),
        FileId::Shop => sources[1].as_ref(),
        FileId::BuiltIn => None,
    }
}

/// The place of a finding and its sentence: `line 90: J11 runs on top of J5 …`.
fn placed(finding: &Diagnostic, sources: &[Option<Source>; 2]) -> String {
    let sentence = finding.sentence();
    let line = finding.place.and_then(|place| line_of(place, sources));
    line.map_or(sentence.clone(), |line| format!("line {line}: {sentence}"))
}

/// The line a place lies on, counted from 1.
fn line_of(place: Place, sources: &[Option<Source>; 2]) -> Option<usize> {
    source_of(place, sources).map(|source| source.lines.index(place.span.start) + 1)
}

/// The lines of all that are told together, each once; of very many the first.
fn lines_of(told: &Told, sources: &[Option<Source>; 2]) -> Option<String> {
    let places = told.all().filter_map(|finding| finding.place);
    let mut lines: Vec<usize> = places.filter_map(|place| line_of(place, sources)).collect();
    lines.sort_unstable();
    lines.dedup();
    if lines.len() < 2 {
        return None;
    }
    let shown: Vec<String> = lines.iter().take(MOST_LINES).map(usize::to_string).collect();
    let more = match lines.len().saturating_sub(MOST_LINES) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(shown.join(", ") + &more)
}

/// Digits of the highest number of a line that is shown of the place of a finding.
fn gutter(finding: &Diagnostic, sources: &[Option<Source>; 2]) -> usize {
    let related = finding.related.as_ref().map(|(place, _)| *place);
    let places = finding.place.into_iter().chain(related);
    let last = places.filter_map(|place| line_of(place, sources)).max();
    last.map_or(0, |line| line.to_string().len())
}

fn places<'d>(
    diagnostic: &'d Diagnostic,
    label: &'d str,
    words: &'d str,
    sources: &'d [Option<Source<'d>>; 2],
) -> Vec<Element<'d>> {
    let Some(place) = diagnostic.place else {
        return Vec::new();
    };
    let Some(source) = source_of(place, sources) else {
        return Vec::new();
    };
    let main = Mark { span: place.span, label, kind: AnnotationKind::Primary };
    let Some((related, _)) = &diagnostic.related else {
        return source.piece(&[main]);
    };
    let other = Mark { span: related.span, label: words, kind: AnnotationKind::Context };
    let Some(other_source) = source_of(*related, sources) else {
        return source.piece(&[main]);
    };
    if related.file == place.file && source.are_near(place.span, related.span) {
        return source.piece(&[main, other]);
    }
    let mut elements = source.piece(&[main]);
    elements.extend(other_source.piece(&[other]));
    elements
}

/// A marked stretch of a text.
struct Mark<'d> {
    span: Span,
    label: &'d str,
    kind: AnnotationKind,
}

impl<'t> Source<'t> {
    /// Whether two places are shown as one piece: few short lines apart, and near each other on them.
    fn are_near(&self, one: Span, other: Span) -> bool {
        let (one_line, other_line) = (self.lines.index(one.start), self.lines.index(other.start));
        let (first, last) = (one_line.min(other_line), one_line.max(other_line));
        let bytes = self.lines.bytes(first, last);
        let column = |span: Span| self.lines.line_column(span.start).1;
        last - first <= NEAR_LINES
            && bytes.len() <= LONGEST_LINE * (last - first + 1)
            && column(one).abs_diff(column(other)) <= LONGEST_MARK / 2
    }

    /// Whether a label stands beside its mark on a terminal, behind a number of so many digits.
    fn has_room(&self, span: Span, label: &str, digits: usize) -> bool {
        let line = self.lines.index(span.start);
        let bytes = self.lines.bytes(line, line);
        let room = usize::from(COLUMNS) - " | ".len() - digits;
        let characters =
            |range: Range<usize>| self.lines.text.get(range).map_or(0, |t| t.chars().count());
        let marked = self.clip(span, &bytes);
        let (before, marked) = (characters(bytes.start..bytes.start + marked.start), marked.len());
        let whole = characters(bytes);
        let label = label.chars().count();
        label == 0
            || if whole <= room {
                before + marked + 1 + label <= room
            } else {
                marked + label + CUT_MARKS <= room
            }
    }

    /// Where the first mark is, and its lines with all marks.
    fn piece<'d>(&'d self, marks: &[Mark<'d>]) -> Vec<Element<'d>> {
        let Some(head) = marks.first() else {
            return Vec::new();
        };
        let indices = marks.iter().map(|mark| self.lines.index(mark.span.start));
        let first = indices.clone().min().unwrap_or(0);
        let bytes = self.lines.bytes(first, indices.max().unwrap_or(first));
        let shown = self.window(bytes, head.span);
        let mut snippet =
            Snippet::source(&self.lines.text[shown.clone()]).line_start(first + 1).fold(false);
        for mark in marks {
            let clipped = self.clip(mark.span, &shown);
            let label = (!mark.label.is_empty()).then_some(mark.label);
            snippet = snippet.annotation(mark.kind.span(clipped).label(label));
        }
        vec![snippet.path(self.name.as_str()).into()]
    }

    /// Of lines too long to show, the part around a mark.
    fn window(&self, bytes: Range<usize>, span: Span) -> Range<usize> {
        let several = self.lines.text[bytes.clone()].contains('\n');
        if several || bytes.len() <= LONGEST_LINE {
            return bytes;
        }
        let text = self.lines.text;
        let start = text.floor_char_boundary(span.start.saturating_sub(CONTEXT));
        let length = (span.end.saturating_sub(span.start)).min(LONGEST_LINE - 2 * CONTEXT);
        let end = text.ceil_char_boundary(span.start.saturating_add(length + CONTEXT));
        start.max(bytes.start)..end.min(bytes.end)
    }

    /// A span within the shown bytes and on one line, counted from their start; at least one byte
    /// if there is one.
    fn clip(&self, span: Span, shown: &Range<usize>) -> Range<usize> {
        let text = self.lines.text;
        let start = text.floor_char_boundary(span.start.clamp(shown.start, shown.end));
        let longest = start.saturating_add(LONGEST_MARK);
        let end = text.ceil_char_boundary(span.end.clamp(start, shown.end).min(longest));
        let line_end = text[start..end].find('\n').map_or(end, |line| start + line);
        let trimmed = start + text[start..line_end].trim_end().len();
        (start - shown.start)..(trimmed.max(start) - shown.start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SKETCH: &str = "slabwalk: 1\r\njoints:\r\n  - {id: J1, width: ½}\r\n";
    const SHOP: &str = "chase: {blade: 0}\n";

    fn at(text: &str, part: &str) -> Span {
        let start = text.find(part).expect(part);
        Span { start, end: start + part.len() }
    }

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = "\u{FEFF}a: ½ x\r\nb\n\nlast";
        let rows = [("a", (1, 1)), ("x", (1, 6)), ("b", (2, 1)), ("last", (4, 1))];
        for (part, place) in rows {
            assert_eq!(line_column(text, at(text, part).start), place, "{part}");
        }
        assert_eq!(line_column(text, usize::MAX), (4, 5));
        assert_eq!(line_column("", 7), (1, 1));
    }

    #[test]
    fn both_files_in_order_with_source_and_count() {
        let blade = Place { file: FileId::Shop, span: at(SHOP, "0") };
        let faults = [
            Diagnostic::note("closure", "the walk closes"),
            Diagnostic::error("zero", "the blade is zero").place(blade),
            Diagnostic::stop("tendon", "no chase in this slab")
                .item("J1")
                .at(at(SKETCH, "½"))
                .source("common practice"),
            Diagnostic::warning("width", "J1 is wide").item("J1").at(at(SKETCH, "J1")),
        ];
        let found = render(&faults, ("a.yaml", SKETCH), Some(("shop.yaml", SHOP)), false);
        let wanted = "\
warning[width]: J1 is wide
 --> a.yaml:3:10
  |
3 |   - {id: J1, width: ½}
  |          ^^
  |

stop[tendon]: J1: no chase in this slab
 --> a.yaml:3:21
  |
3 |   - {id: J1, width: ½}
  |                     ^
  |
  = source: common practice

error[zero]: the blade is zero
 --> shop.yaml:1:16
  |
1 | chase: {blade: 0}
  |                ^
  |

note[closure]: the walk closes

1 error, 1 stop, 1 warning, 1 note
";
        // The renderer may close a piece with an empty rule; only what stands on the lines counts.
        let plain = |text: &str| {
            let lines = text.lines().map(str::trim_end);
            lines.filter(|line| line.trim() != "|").collect::<Vec<_>>().join("\n")
        };
        assert_eq!(plain(&found), plain(wanted));
    }

    #[test]
    fn colour_changes_nothing_but_the_colour() {
        let faults = [Diagnostic::error("zero", "nothing").at(at(SKETCH, "J1")).hint("write 1")];
        let plain = render(&faults, ("a.yaml", SKETCH), None, false);
        let styled = render(&faults, ("a.yaml", SKETCH), None, true);
        assert!(!plain.contains('\u{1b}') && styled.contains('\u{1b}'));
        let stripped: String = styled
            .split('\u{1b}')
            .map(|part| {
                part.split_once('m')
                    .filter(|_| part.starts_with('['))
                    .map_or(part, |(_, rest)| rest)
            })
            .collect();
        assert_eq!(stripped, plain);
    }

    #[test]
    fn a_place_that_is_not_in_the_text_is_no_fault() {
        let far = Span { start: 900, end: 2 };
        let faults = [
            Diagnostic::error("far", "beyond the end").at(far),
            Diagnostic::error("far", "in a book that is not there")
                .place(Place { file: FileId::Shop, span: far }),
        ];
        let found = render(&faults, ("a.yaml", SKETCH), None, false);
        assert!(found.ends_with("2 errors\n"));
        assert_eq!(render(&[], ("a.yaml", ""), None, false), "");
    }
}
