//! Text that somebody wrote, made fit for a line, a cell or a message.

/// Whether a character would move the cursor of a terminal, break a line, or turn the characters
/// behind it round.
#[must_use]
pub fn moves(c: char) -> bool {
    let turns = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    c.is_control() || turns || matches!(c, '\u{2028}' | '\u{2029}')
}

/// Text from the sketch for a line of plain text. Control characters would move the cursor of a
/// terminal or break a table, and marks of direction would turn numbers round: each becomes a
/// space.
#[must_use]
pub fn clean(text: &str) -> String {
    let plain = |c: char| if moves(c) { ' ' } else { c };
    text.chars().map(plain).collect::<String>().trim().to_owned()
}

/// Text from the sketch for a cell of a CSV table: [`clean`], and with an apostrophe in front where a
/// spreadsheet would take it for a formula. The wide forms count too: some spreadsheets read them as
/// the plain ones.
#[must_use]
pub fn cell(text: &str) -> String {
    let plain = clean(text);
    let starts = ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];
    if plain.starts_with(starts) {
        return format!("'{plain}");
    }
    plain
}

/// The beginning of a text on one line, short enough for a message.
pub fn excerpt(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut out = String::new();
    for (count, c) in text.trim().chars().enumerate() {
        if count == LONGEST {
            out.push('…');
            break;
        }
        out.push(if c.is_control() { ' ' } else { c });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{cell, clean};

    #[test]
    fn nothing_moves_the_cursor() {
        let rows = [
            ("a\u{1b}[2Jb", "a [2Jb"),
            ("line\nline", "line line"),
            (" \tx\u{202e}1 ", "x 1"),
            ("½ of Müller's", "½ of Müller's"),
            ("two\u{2028}lines\u{2029}more", "two lines more"),
            ("a\u{9b}2Jb", "a 2Jb"),
        ];
        for (text, want) in rows {
            assert_eq!(clean(text), want, "{text:?}");
        }
    }

    #[test]
    fn text_is_never_a_formula() {
        let rows = [
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-2", "'-2"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'=1"),
            ("\rx", "x"),
            ("  =1", "'=1"),
            ("\u{1b}=1", "'=1"),
            ("\u{ff1d}1", "'\u{ff1d}1"),
            ("two\nlines", "two lines"),
            ("post = square", "post = square"),
            ("", ""),
        ];
        for (text, want) in rows {
            assert_eq!(cell(text), want, "{text:?}");
        }
    }
}
