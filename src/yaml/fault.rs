//! Faults of the YAML itself, in the words of somebody who writes notes rather than YAML.

use serde_yaml::granit_parser::{ErrorKind, ScanError};

use crate::diagnostic::Span;
use crate::diagnostic::{Diagnostic, FileId, Place};

/// A fault of the engine as a diagnostic with a place and something to do.
///
/// `open` is the innermost bracket that is still open, `seen` the start of the last thing read.
pub(super) fn syntax_fault(
    text: &str,
    file: FileId,
    error: &ScanError,
    open: Option<Span>,
    seen: usize,
) -> Diagnostic {
    let at = text.floor_char_boundary(error.marker().byte_offset().unwrap_or(seen));
    // The engine may report a bracket as unclosed before it reports the bracket.
    let open = match error.kind() {
        ErrorKind::UnclosedFlowCollection { .. } => open.or_else(|| Some(visible(text, at))),
        _ => open,
    };
    let (code, message, hint) = match error.kind() {
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement => {
            let fault = stray_colon(text, file, open, at);
            return match swallowed(text, open, error.kind()) {
                Some(hint) => fault.hint(hint),
                None => fault,
            };
        }
        kind => words(kind),
    };
    let span = match error.kind() {
        kind if is_unclosed(kind) => bracket(text, open).unwrap_or_else(|| visible(text, at)),
        _ if code == "tab" => tab(text, at).unwrap_or_else(|| visible(text, at)),
        _ => visible(text, at),
    };
    let mut fault = Diagnostic::error(code, message).place(Place { file, span });
    fault.hint = swallowed(text, open, error.kind()).or_else(|| Some(hint.into()));
    fault
}

const fn is_unclosed(kind: &ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::UnclosedFlowCollection { .. }
            | ErrorKind::UnexpectedEofFlowMapping
            | ErrorKind::UnexpectedEofFlowSequence
            | ErrorKind::UnexpectedEofImplicitFlowMapping
            | ErrorKind::ExpectedFlowMappingSeparator
            | ErrorKind::ExpectedFlowSequenceSeparator
            | ErrorKind::InvalidFlowScalarIndent
    )
}

/// One character at the fault; at the end of a line or of the text, the last one before it.
fn visible(text: &str, at: usize) -> Span {
    let at = text.floor_char_boundary(at);
    let next = text[at..].chars().next().filter(|c| !matches!(c, '\n' | '\r'));
    if let Some(c) = next {
        return Span { start: at, end: at + c.len_utf8() };
    }
    let before = text[..at].trim_end();
    let start = before.char_indices().next_back().map_or(0, |(start, _)| start);
    Span { start, end: before.len() }
}

/// A colon where no key can be: behind an open bracket, on a line indented too far, or in a text.
fn stray_colon(text: &str, file: FileId, open: Option<Span>, at: usize) -> Diagnostic {
    let line = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let bracket = bracket(text, open).filter(|bracket| bracket.start < line);
    let (span, message, hint) = if let Some(bracket) = bracket {
        let (_, message, hint) =
            unclosed(if text[bracket.start..].starts_with('[') { '[' } else { '{' });
        (bracket, message, hint)
    } else if text[line..at].contains(": ") {
        (
            visible(text, at),
            "a second colon on this line starts a value inside a value".into(),
            "put a text that holds a colon and a space into quotation marks",
        )
    } else {
        (
            visible(text, line + text[line..at].len() - text[line..at].trim_start().len()),
            "this line is indented as if it went on with the value above".into(),
            "keys of one item stand exactly below each other",
        )
    };
    Diagnostic::error("yaml", message).place(Place { file, span }).hint(hint)
}

/// The open bracket alone, without what follows it.
fn bracket(text: &str, open: Option<Span>) -> Option<Span> {
    let start = open?.start;
    let end = start + text.get(start..)?.chars().next()?.len_utf8();
    Some(Span { start, end })
}

/// The tab on the line of a fault: the last one before it, or the first one after.
fn tab(text: &str, at: usize) -> Option<Span> {
    let line = text.get(..at)?.rfind('\n').map_or(0, |end| end + 1);
    let before = text[line..at].rfind('\t').map(|tab| line + tab);
    let start = before.or_else(|| text[at..].lines().next()?.find('\t').map(|tab| at + tab))?;
    Some(Span { start, end: start + 1 })
}

/// A bracket that seems open because ` #` made a comment of the rest of its line.
fn swallowed(text: &str, open: Option<Span>, kind: &ErrorKind) -> Option<String> {
    let colon =
        matches!(kind, ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement);
    if !is_unclosed(kind) && !colon {
        return None;
    }
    let line = text.get(open?.start..)?.lines().next()?;
    let (_, comment) = line.split_once(" #")?;
    comment.contains([']', '}']).then(|| {
        "everything after ` #` is a comment, the closing bracket too; put the text into quotes"
            .into()
    })
}

/// Code, message and hint.
type Words = (&'static str, String, &'static str);

fn words(kind: &ErrorKind) -> Words {
    bracket_words(kind).or_else(|| layout_words(kind)).or_else(|| text_words(kind)).unwrap_or_else(
        || {
            (
                "yaml",
                "this can't be read as YAML".into(),
                "compare the line with the ones around it: brackets, colons, indentation",
            )
        },
    )
}

fn bracket_words(kind: &ErrorKind) -> Option<Words> {
    use ErrorKind as K;
    Some(match kind {
        K::RecursionLimitExceeded => (
            "nested-too-deep",
            format!("lists and keys are nested more than {} deep", super::DEEPEST),
            "a sketch needs seven levels; count the brackets",
        ),
        K::UnclosedFlowCollection { open } => unclosed(*open),
        K::UnexpectedEofFlowMapping | K::UnexpectedEofImplicitFlowMapping => unclosed('{'),
        K::UnexpectedEofFlowSequence => unclosed('['),
        K::ExpectedFlowMappingSeparator => (
            "yaml",
            "after this `{` a comma or the closing `}` is missing".into(),
            "write {key: value, key: value}",
        ),
        K::ExpectedFlowSequenceSeparator => (
            "yaml",
            "after this `[` a comma or the closing `]` is missing".into(),
            "write [first, second]",
        ),
        K::MisplacedFlowCollectionEnd => (
            "yaml",
            "this bracket closes nothing".into(),
            "take it out, or put the opening bracket where it belongs",
        ),
        K::MismatchedFlowCollectionEnd { open, close } => (
            "yaml",
            format!("a `{open}` is closed by a `{close}`"),
            "lists use [ ], keys and values use { }",
        ),
        _ => return None,
    })
}

fn layout_words(kind: &ErrorKind) -> Option<Words> {
    use ErrorKind as K;
    Some(match kind {
        K::TabNotAllowed
        | K::TabInBlockIndentation
        | K::TabInIndentation
        | K::TabAtBlockScalarStart
        | K::TabInPlainScalar => (
            "tab",
            "a tab stands where only spaces can".into(),
            "indent with spaces; most editors can turn tabs into spaces",
        ),
        K::ExpectedBlockMappingKey
        | K::SimpleKeyExpected
        | K::InvalidSimpleKey
        | K::MappingKeyNotAllowed
        | K::InvalidIndentation
        | K::ExpectedBlockSequenceEntry
        | K::BlockSequenceEntryNotAllowed
        | K::UnexpectedEofBlockMapping
        | K::UnexpectedEofBlockSequence => (
            "yaml",
            "this line does not fit the lines above it".into(),
            "keys of one item stand exactly below each other, as `key: value`; list items start with `- `",
        ),
        K::BlockEntryInFlowCollection | K::PlainScalarStartsWithDashFlowIndicator => (
            "yaml",
            "a `-` that starts a list item can't stand between brackets".into(),
            "write [first, second]",
        ),
        K::InvalidMappingValueWhitespace | K::InvalidBlockEntryWhitespace => {
            ("yaml", "a space is missing here".into(), "write `key: value` and `- item`")
        }
        _ => return None,
    })
}

fn text_words(kind: &ErrorKind) -> Option<Words> {
    use ErrorKind as K;
    let (message, hint) = match kind {
        K::UnclosedQuotedScalar | K::DocumentIndicatorInQuotedScalar => (
            "a quotation mark is opened and not closed".into(),
            "close it; a length needs no quotation marks around it",
        ),
        K::InvalidTrailingSingleQuotedScalar | K::InvalidTrailingDoubleQuotedScalar => (
            "something follows the closing quotation mark".into(),
            "a length needs no quotation marks around it: write 24' 6\"",
        ),
        K::UnknownQuotedScalarEscape
        | K::InvalidQuotedScalarHexEscape
        | K::InvalidUnicodeEscape
        | K::InvalidLowSurrogate
        | K::InvalidLowSurrogateHexEscape
        | K::MissingLowSurrogate
        | K::UnpairedLowSurrogate => (
            "a backslash between \" \" marks starts a code that is not known".into(),
            "put the text between ' ' marks, or leave the marks out",
        ),
        K::UnexpectedCharacter { character } => (
            format!("the character `{}` can't start a value", character.escape_default()),
            "put the text into quotation marks",
        ),
        K::CommentNotSeparated => (
            "a comment needs a space before the #".into(),
            "write `value # comment`, or put the text into quotation marks",
        ),
        K::CommentInterceptedScalar => (
            "a comment cuts a text in two".into(),
            "put the text into quotation marks, or the comment on a line of its own above",
        ),
        K::UnknownAnchor => (
            "an alias (*) names nothing that was marked with &".into(),
            "mark the value with &name before, or put the text into quotation marks",
        ),
        K::BomInsideDocument => (
            "an invisible byte order mark stands inside the text".into(),
            "delete the line and type it again",
        ),
        _ => return None,
    };
    Some(("yaml", message, hint))
}

fn unclosed(open: char) -> Words {
    let hint = if open == '[' { "close it with `]`" } else { "close it with `}`" };
    ("yaml", format!("this `{open}` is not closed"), hint)
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::FileId;

    #[test]
    fn slips_of_the_pen() {
        // Text, what is marked, message.
        let rows = [
            ("a:\n\t- 1\n", "\t", "a tab stands where only spaces can"),
            ("a: [1, 2\nb: 3\n", "[", "this `[` is not closed"),
            ("a: {b: 1\n", "{", "this `{` is not closed"),
            ("a: [1, 2}\n", "[", "a `[` is closed by a `}`"),
            ("a: 1]\nb: ]\n", "]", "this bracket closes nothing"),
            (
                "note: J1: broken\n",
                ":",
                "a second colon on this line starts a value inside a value",
            ),
            ("a: \"24' 6\"\"\n", "\"", "something follows the closing quotation mark"),
            ("a: \"24\n", "\"", "a quotation mark is opened and not closed"),
            ("a: 1\n b: 2\n", "b", "this line is indented as if it went on with the value above"),
            ("a:\n  b: 1\n c: 2\n", "c", "this line does not fit the lines above it"),
            ("a: 1\nb\n", "b", "this line does not fit the lines above it"),
            ("a: @x\n", "@", "the character `@` can't start a value"),
            ("a: *x\n", "*", "an alias (*) names nothing that was marked with &"),
            ("a: [- 1]\n", "-", "a `-` that starts a list item can't stand between brackets"),
            (
                "a: \"\\q\"\n",
                "\"",
                "a backslash between \" \" marks starts a code that is not known",
            ),
        ];
        let mut found = Vec::new();
        for (text, ..) in rows {
            let (_, faults) = crate::yaml::parse(text, FileId::Sketch);
            let fault = faults.first().expect(text);
            let span = fault.place.expect(text).span;
            found.push((text, &text[span.start..span.end], fault.message.clone()));
        }
        let wanted = rows.map(|(text, marked, message)| (text, marked, message.to_owned()));
        assert_eq!(found, wanted);
    }
}
