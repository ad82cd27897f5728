//! Lines of a paragraph, and text cut to a width.

use super::{clean, text_width};
use crate::ink::Weight;

/// Breaks a paragraph into lines no wider than `width` mm at font size `size` mm.
///
/// Breaks at spaces; a word that is wider than a whole line is broken where it must be. At least one line, which is empty when the text is.
#[must_use]
pub fn wrap(text: &str, width: f64, size: f64, weight: Weight) -> Vec<String> {
    let cleaned = clean(text).text.into_owned();
    let mut lines = vec![String::new()];
    for word in cleaned.split(' ').filter(|w| !w.is_empty()) {
        for piece in pieces(word, width, size, weight) {
            let line = lines.last().map_or("", String::as_str);
            let joined = if line.is_empty() {
                piece.clone()
            } else {
                format!("{line} {piece}")
            };
            match lines.last_mut() {
                Some(last) if last.is_empty() || text_width(&joined, size, weight) <= width => {
                    *last = joined
                }
                _ => lines.push(piece),
            }
        }
    }
    lines
}

/// A word as it is if it fits on a line, else in pieces that do, each at least one character.
fn pieces(word: &str, width: f64, size: f64, weight: Weight) -> Vec<String> {
    if text_width(word, size, weight) <= width {
        return vec![word.to_string()];
    }
    let mut pieces = vec![String::new()];
    for c in word.chars() {
        match pieces.last_mut() {
            Some(last)
                if last.is_empty() || text_width(&format!("{last}{c}"), size, weight) <= width =>
            {
                last.push(c)
            }
            _ => pieces.push(c.to_string()),
        }
    }
    pieces
}

/// The text, or as much of its beginning as fits in `width` mm with `…` behind it. Empty if not even `…` fits.
#[must_use]
pub fn shorten(text: &str, width: f64, size: f64, weight: Weight) -> String {
    let cleaned = clean(text).text.into_owned();
    if text_width(&cleaned, size, weight) <= width {
        return cleaned;
    }
    let ends: Vec<usize> = cleaned.char_indices().map(|(at, _)| at).collect();
    let cut = |end: usize| format!("{}…", cleaned[..end].trim_end());
    // Width grows with every character, so the cut can be found by halving.
    let fitting = ends.partition_point(|&end| text_width(&cut(end), size, weight) <= width);
    fitting
        .checked_sub(1)
        .and_then(|last| ends.get(last))
        .map_or_else(String::new, |&end| cut(end))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: f64 = 3.6;

    fn width(text: &str) -> f64 {
        text_width(text, SIZE, Weight::Regular)
    }

    #[test]
    fn no_line_is_wider_than_asked_and_no_word_is_lost() {
        let text = "Grind the high side by hand until a 3 ft straightedge rocks no more.";
        for limit in [20.0, 35.0, 60.0, 200.0] {
            let lines = wrap(text, limit, SIZE, Weight::Regular);
            assert!(lines.iter().all(|l| width(l) <= limit), "{lines:?}");
            assert_eq!(lines.join(" "), text);
        }
    }

    #[test]
    fn a_long_word_is_broken_and_an_empty_text_is_one_line() {
        let lines = wrap(&"W".repeat(100), 30.0, SIZE, Weight::Regular);
        assert!(lines.len() > 5 && lines.iter().all(|l| width(l) <= 30.0));
        assert_eq!(lines.concat(), "W".repeat(100));
        assert_eq!(wrap("  ", 30.0, SIZE, Weight::Regular), [""]);
        assert_eq!(wrap("ab", 0.0, SIZE, Weight::Regular), ["a", "b"]);
    }

    #[test]
    fn shortened_text_fits() {
        let text = "Unit 4, Riverside Trade Park, north bay";
        for limit in [5.0, 12.0, 30.0, 50.0] {
            let short = shorten(text, limit, SIZE, Weight::Regular);
            assert!(short.ends_with('…') && width(&short) <= limit, "{short}");
        }
        assert_eq!(shorten(text, 100.0, SIZE, Weight::Regular), text);
        assert_eq!(shorten(text, 0.5, SIZE, Weight::Regular), "");
    }
}
