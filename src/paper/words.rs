//! Text on paper: made safe, measured, broken into lines, cut to a width.

use crate::font;
use crate::paper::text;
use crate::paper::text::{Line, Text};

use crate::paper::style;
use crate::paper::style::Type;

/// Longest text taken from a sketch for one place on a sheet, characters. Longer notes belong in the report.
const MOST_CHARACTERS: usize = 400;

/// Text that can be put on a sheet: control characters and line breaks become spaces, runs of space become one, direction
/// marks are dropped, and nothing is longer than a sheet could show.
#[must_use]
pub fn clean(text: &str) -> String {
    let mut out = String::new();
    let mut space = false;
    for c in text.chars().filter(|c| !is_direction_mark(*c)).take(MOST_CHARACTERS) {
        if c.is_whitespace() || c.is_control() {
            space = !out.is_empty();
        } else {
            if space {
                out.push(' ');
                space = false;
            }
            out.push(c);
        }
    }
    out
}

/// Invisible marks that turn the direction of the text after them (Unicode bidirectional controls).
const fn is_direction_mark(c: char) -> bool {
    matches!(c, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{061C}')
}

/// The same in capitals, as text on a plan is written.
#[must_use]
pub fn upper(text: &str) -> String {
    clean(text).to_uppercase()
}

/// A count with its word: `1 joint`, `2 joints`.
#[must_use]
pub fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// Width of a line of text, mm.
#[must_use]
pub fn width(text: &str, style: Type) -> f64 {
    font::text_width(text, style.size, style.weight)
}

/// Width of the widest of some lines, mm.
#[must_use]
pub fn widest<'a>(lines: impl IntoIterator<Item = &'a str>, style: Type) -> f64 {
    lines.into_iter().map(|l| width(l, style)).fold(0.0, f64::max)
}

/// Lines no wider than `most` (mm); a word that is wider by itself is broken.
#[must_use]
pub fn wrap(text: &str, style: Type, most: f64) -> Vec<String> {
    let lines = text::wrap(&Text::of(text, style.weight), most, &style.into());
    lines.iter().map(Line::plain).collect()
}

/// Words that a text must not end on.
const JOINERS: [&str; 9] = ["of", "the", "a", "an", "and", "for", "in", "on", "to"];

/// As many whole words as fit into a width (mm); none if the first does not.
#[must_use]
pub fn first_words(text: &str, style: Type, most: f64) -> String {
    if text.split(' ').next().is_none_or(|w| width(w, style) > most) {
        return String::new();
    }
    let mut first = wrap(text, style, most).into_iter().next().unwrap_or_default();
    // A cut text does not end on a word that calls for another.
    if first.len() < text.len() {
        while let Some((rest, _)) =
            first.rsplit_once(' ').filter(|(_, w)| JOINERS.contains(&w.to_lowercase().as_str()))
        {
            first = rest.to_owned();
        }
    }
    first
}

/// One line no wider than `most` (mm), cut with an ellipsis where it must be.
#[must_use]
pub fn fit(text: &str, style: Type, most: f64) -> String {
    font::shorten(text, most, style.size, style.weight)
}

/// A title no wider than `most` (mm) with its type: set smaller in a narrow column before it is cut.
#[must_use]
pub fn fit_head(title: &str, most: f64) -> (String, Type) {
    let wide = width(title, style::head()) > most;
    let head = if wide { style::strong() } else { style::head() };
    (fit(title, head, most), head)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::style::body;

    #[test]
    fn control_characters_and_direction_marks_go() {
        let rows = [
            ("a\u{0}b", "a b"),
            ("  two \n\t lines ", "two lines"),
            ("\u{202E}abc", "abc"),
            ("plain", "plain"),
            ("", ""),
        ];
        for (given, wanted) in rows {
            assert_eq!(clean(given), wanted, "{given:?}");
        }
        assert_eq!(clean(&"x".repeat(5000)).len(), MOST_CHARACTERS);
    }

    #[test]
    fn wrapped_lines_fit_and_lose_nothing() {
        let text = "put out pilot lights before opening a can of anythingwithaverylongnameindeed";
        let lines = wrap(text, body(), 30.0);
        assert!(lines.len() > 3);
        for line in &lines {
            assert!(width(line, body()) <= 30.0, "{line}");
        }
        let squeezed = |s: &str| s.replace(' ', "");
        assert_eq!(squeezed(&lines.concat()), squeezed(text));
    }

    #[test]
    fn one_thing_is_not_several() {
        let rows = [(0, "0 joints"), (1, "1 joint"), (2, "2 joints")];
        for (n, text) in rows {
            assert_eq!(counted(n, "joint", "joints"), text);
        }
    }

    #[test]
    fn a_cut_line_fits_and_says_that_it_is_cut() {
        let cut = fit("Harrow Lane workshop and boat store", body(), 30.0);
        assert!(cut.ends_with('…') && width(&cut, body()) <= 30.0);
        assert_eq!(fit("short", body(), 30.0), "short");
    }
}
