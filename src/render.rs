//! Diagnostics to text for people: the line of the file with the place marked, and what to do.

use std::ops::Range;

use annotate_snippets::{
    AnnotationKind, Element, Group, Level, Renderer, Snippet, renderer::DecorStyle,
};

use crate::diagnostic::{Diagnostic, FileId, Place, Severity};
use crate::sketch::Span;

/// Most diagnostics shown one by one. More are counted: nobody reads on.
const MOST_SHOWN: usize = 200;
/// Longest line shown whole, in bytes; of a longer one the part around the marked text is shown.
const LONGEST_LINE: usize = 160;
/// Longest message, hint or label, in characters; the longest of the program's own has some six hundred.
const LONGEST_MESSAGE: usize = 4000;
/// Bytes shown before and after the marked text of a long line.
const CONTEXT: usize = 60;
/// Lines between two places that are still shown as one piece.
const NEAR_LINES: usize = 4;

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
        let starts = std::iter::once(0)
            .chain(ends.map(|(end, _)| end + 1))
            .collect();
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
        self.starts
            .partition_point(|start| *start <= offset)
            .saturating_sub(1)
    }

    /// Bytes of the lines from one index to another, without the last line's end.
    fn bytes(&self, first: usize, last: usize) -> Range<usize> {
        let end = self
            .starts
            .get(last + 1)
            .map_or(self.text.len(), |next| next - 1);
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
    let source = |(name, text)| Source {
        name: still(name),
        lines: Lines::new(text),
    };
    let sources = [Some(source(sketch)), shop.map(source)];
    let shown: Vec<Diagnostic> = in_order(diagnostics).into_iter().map(stilled).collect();
    let renderer = if color {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let renderer = renderer.decor_style(DecorStyle::Ascii);
    let mut out = String::new();
    for diagnostic in &shown {
        let text = renderer.render(&[group(diagnostic, &sources)]);
        let text = right_columns(text, diagnostic, &sources);
        // The renderer shows what it knows of in a line of the file, and not the newer half of the control characters.
        out.extend(text.chars().map(|c| match c {
            '\u{80}'..='\u{9f}' | '\u{2028}' | '\u{2029}' => char::REPLACEMENT_CHARACTER,
            c => c,
        }));
        out += "\n\n";
    }
    let hidden = diagnostics.len() - shown.len();
    if hidden > 0 {
        out += &format!("{hidden} more not shown\n");
    }
    out + &count(diagnostics)
}

/// A text that moves no cursor: a terminal would obey what a file or its name holds.
fn still(text: &str) -> String {
    let moves = |c: char| c != '\n' && crate::takeoff::words::moves(c);
    let mut out: String = text
        .chars()
        .take(LONGEST_MESSAGE)
        .map(|c| if moves(c) { ' ' } else { c })
        .collect();
    if out.len() < text.len() && text.chars().nth(LONGEST_MESSAGE).is_some() {
        out.push('…');
    }
    out
}

/// A diagnostic whose words move no cursor.
fn stilled(diagnostic: &Diagnostic) -> Diagnostic {
    let mut out = diagnostic.clone();
    out.message = still(&out.message);
    out.label = still(&out.label);
    out.item = out.item.as_deref().map(crate::yaml::excerpt);
    out.hint = out.hint.as_deref().map(still);
    out.related = out.related.map(|(place, words)| (place, still(&words)));
    out
}

/// The diagnostics that are shown, by place.
fn in_order(diagnostics: &[Diagnostic]) -> Vec<&Diagnostic> {
    let mut shown: Vec<&Diagnostic> = diagnostics.iter().collect();
    if shown.len() > MOST_SHOWN {
        shown.sort_by_key(|diagnostic| std::cmp::Reverse(diagnostic.severity));
        shown.truncate(MOST_SHOWN);
    }
    shown.sort_by_key(|diagnostic| {
        let place = diagnostic.place;
        (place.is_none(), place.map(|place| (place.file, place.span)))
    });
    shown
}

/// `2 errors, 1 warning`; nothing for nothing.
fn count(diagnostics: &[Diagnostic]) -> String {
    let kinds = [
        Severity::Error,
        Severity::Stop,
        Severity::Warning,
        Severity::Note,
    ];
    let counted: Vec<String> = kinds
        .into_iter()
        .filter_map(|severity| {
            let of = |diagnostic: &&Diagnostic| diagnostic.severity == severity;
            let word = severity.word();
            match diagnostics.iter().filter(of).count() {
                0 => None,
                1 => Some(format!("1 {word}")),
                count => Some(format!("{count} {word}s")),
            }
        })
        .collect();
    if counted.is_empty() {
        return String::new();
    }
    counted.join(", ") + "\n"
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Stop => Level::ERROR.with_name("stop"),
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    }
}

fn group<'d>(diagnostic: &'d Diagnostic, sources: &'d [Option<Source<'d>>; 2]) -> Group<'d> {
    let title = match &diagnostic.item {
        Some(item) if !names(&diagnostic.message, item) => {
            format!("{item}: {}", diagnostic.message)
        }
        _ => diagnostic.message.clone(),
    };
    let title = level(diagnostic.severity)
        .primary_title(title)
        .id(diagnostic.code);
    let mut group = Group::with_title(title);
    for element in places(diagnostic, sources) {
        group = group.element(element);
    }
    if let Some(hint) = &diagnostic.hint {
        group = group.element(Level::HELP.with_name("hint").message(hint));
    }
    if let Some(source) = diagnostic.source {
        group = group.element(Level::NOTE.with_name("source").message(source));
    }
    group
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
        let (_, in_window) = line_column(
            &source.lines.text[shown.clone()],
            place.span.start - shown.start,
        );
        let wrong = format!("{}:{line}:{in_window}\n", source.name);
        text = text.replacen(&wrong, &format!("{}:{line}:{column}\n", source.name), 1);
    }
    text
}

/// Whether a message names an id, as a word of its own.
fn names(message: &str, id: &str) -> bool {
    message.match_indices(id).any(|(start, _)| {
        let word = |c: char| c.is_alphanumeric();
        let before = message[..start].chars().next_back();
        let after = message[start + id.len()..].chars().next();
        !before.is_some_and(word) && !after.is_some_and(word)
    })
}

/// The source a place lies in, if it is one that was handed over.
fn source_of<'s, 't>(place: Place, sources: &'s [Option<Source<'t>>; 2]) -> Option<&'s Source<'t>> {
    match place.file {
        FileId::Sketch => sources[0].as_ref(),
        FileId::Shop => sources[1].as_ref(),
        FileId::BuiltIn => None,
    }
}

fn places<'d>(
    diagnostic: &'d Diagnostic,
    sources: &'d [Option<Source<'d>>; 2],
) -> Vec<Element<'d>> {
    let Some(place) = diagnostic.place else {
        return Vec::new();
    };
    let Some(source) = source_of(place, sources) else {
        return Vec::new();
    };
    let main = Mark {
        span: place.span,
        label: &diagnostic.label,
        kind: AnnotationKind::Primary,
    };
    let Some((related, words)) = &diagnostic.related else {
        return source.piece(&[main]);
    };
    let other = Mark {
        span: related.span,
        label: words,
        kind: AnnotationKind::Context,
    };
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
    /// Whether two places are shown as one piece: few short lines apart.
    fn are_near(&self, one: Span, other: Span) -> bool {
        let (one, other) = (self.lines.index(one.start), self.lines.index(other.start));
        let (first, last) = (one.min(other), one.max(other));
        let bytes = self.lines.bytes(first, last);
        last - first <= NEAR_LINES && bytes.len() <= LONGEST_LINE * (last - first + 1)
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
        let mut snippet = Snippet::source(&self.lines.text[shown.clone()])
            .line_start(first + 1)
            .fold(false);
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
        let end = text.ceil_char_boundary(span.end.clamp(start, shown.end));
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
        Span {
            start,
            end: start + part.len(),
        }
    }

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = "\u{FEFF}a: ½ x\r\nb\n\nlast";
        let rows = [
            ("a", (1, 1)),
            ("x", (1, 6)),
            ("b", (2, 1)),
            ("last", (4, 1)),
        ];
        for (part, place) in rows {
            assert_eq!(line_column(text, at(text, part).start), place, "{part}");
        }
        assert_eq!(line_column(text, usize::MAX), (4, 5));
        assert_eq!(line_column("", 7), (1, 1));
    }

    #[test]
    fn both_files_in_order_with_source_and_count() {
        let blade = Place {
            file: FileId::Shop,
            span: at(SHOP, "0"),
        };
        let faults = [
            Diagnostic::note("closure", "the walk closes"),
            Diagnostic::error("zero", "the blade is zero").place(blade),
            Diagnostic::stop("tendon", "no chase in this slab")
                .item("J1")
                .at(at(SKETCH, "½"))
                .source("common practice"),
            Diagnostic::warning("width", "J1 is wide")
                .item("J1")
                .at(at(SKETCH, "J1")),
        ];
        let found = render(
            &faults,
            ("a.yaml", SKETCH),
            Some(("shop.yaml", SHOP)),
            false,
        );
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
            lines
                .filter(|line| line.trim() != "|")
                .collect::<Vec<_>>()
                .join("\n")
        };
        assert_eq!(plain(&found), plain(wanted));
    }

    #[test]
    fn colour_changes_nothing_but_the_colour() {
        let faults = [Diagnostic::error("zero", "nothing")
            .at(at(SKETCH, "J1"))
            .hint("write 1")];
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
            Diagnostic::error("far", "in a book that is not there").place(Place {
                file: FileId::Shop,
                span: far,
            }),
        ];
        let found = render(&faults, ("a.yaml", SKETCH), None, false);
        assert!(found.ends_with("2 errors\n"));
        assert_eq!(render(&[], ("a.yaml", ""), None, false), "");
    }
}
