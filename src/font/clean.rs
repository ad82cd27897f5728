//! Text made fit to be drawn: no control characters, one space where there were several, and a box for what the font lacks.

use std::borrow::Cow;

/// What stands for a character that the bundled font cannot draw.
pub const STAND_IN: char = '\u{25A1}';

/// Text that can be drawn, and what was changed to get there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cleaned<'a> {
    /// The text to draw.
    pub text: Cow<'a, str>,
    /// Characters that the font lacks, each once, in the order found; □ stands in their place.
    pub missing: Vec<char>,
    /// Whether control or direction characters were dropped.
    pub dropped: bool,
}

/// Whether text can be drawn as it is.
#[must_use]
pub fn is_clean(text: &str) -> bool {
    let mut before = ' ';
    let fine = text.chars().all(|c| {
        let doubled = c == ' ' && before == ' ';
        before = c;
        !doubled && !is_control(c) && super::has(c)
    });
    fine && !text.ends_with(' ')
}

/// Makes text fit to be drawn.
///
/// White space of any kind becomes one space, none at either end, because SVG collapses it and PDF does not. Control characters and
/// the invisible ones that turn the reading direction are dropped: they could show a different text than the file holds. What
/// the font lacks is replaced by □ and named in `missing`, so that the caller can say so.
///
/// ```
/// let cleaned = slabwalk::font::clean("Bay\t3 \u{202e}שלום");
/// assert_eq!(cleaned.text, "Bay 3 □□□□");
/// assert_eq!(cleaned.missing, ['ש', 'ל', 'ו', 'ם']);
/// assert!(cleaned.dropped);
/// ```
#[must_use]
pub fn clean(text: &str) -> Cleaned<'_> {
    if is_clean(text) {
        return Cleaned { text: Cow::Borrowed(text), missing: Vec::new(), dropped: false };
    }
    let mut out = String::with_capacity(text.len());
    let mut missing = Vec::new();
    let mut dropped = false;
    for c in text.chars() {
        if is_blank(c) {
            if !out.is_empty() && !out.ends_with(' ') {
                out.push(' ');
            }
        } else if is_control(c) {
            dropped = true;
        } else if super::has(c) {
            out.push(c);
        } else {
            out.push(STAND_IN);
            if !missing.contains(&c) {
                missing.push(c);
            }
        }
    }
    while out.ends_with(' ') {
        out.pop();
    }
    Cleaned { text: Cow::Owned(out), missing, dropped }
}

/// White space that SVG would collapse, and line ends. The no-break spaces stay.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// Characters without a mark of their own: controls, direction marks, joiners, byte-order marks, noncharacters.
fn is_control(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}')
        || matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_drawn() {
        let rows: [(&str, &str, &str, bool); 8] = [
            ("plain", "C-12", "C-12", false),
            ("empty", "", "", false),
            ("two lines", " Dock\r\nside  ", "Dock side", false),
            ("bell and escape", "A\u{7}B\u{1b}[0m", "AB[0m", true),
            ("direction turned", "12\u{202e}34", "1234", true),
            ("no-break space stays", "3\u{a0}in", "3\u{a0}in", false),
            ("emoji", "ok \u{1f44d}", "ok \u{25a1}", false),
            ("only controls", "\u{0}\u{1}", "", true),
        ];
        for (name, given, want, dropped) in rows {
            let cleaned = clean(given);
            assert_eq!(cleaned.text, want, "{name}");
            assert_eq!(cleaned.dropped, dropped, "{name}");
            assert!(is_clean(&cleaned.text), "{name}");
        }
    }

    #[test]
    fn clean_text_is_not_copied() {
        assert!(matches!(clean("12'-6 1\u{2044}2\"").text, Cow::Borrowed(_)));
    }

    #[test]
    fn each_missing_character_is_named_once() {
        assert_eq!(clean("字a字b").missing, ['字']);
    }
}
