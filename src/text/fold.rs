//! Words in lines that a terminal, a phone or a letter page in a fixed-width face shows whole: the one place that breaks them.

/// Columns of every text and every message.
pub const COLUMNS: u16 = 80;

/// Room that is left for words, however far they are set in.
const LEAST_ROOM: usize = 20;

/// The pieces of a text that go on lines of at most `room` characters, broken between words, with the spaces within a piece as they
/// were: they hold columns. What is one word, such as the path of a file, is never broken. A text of no words is one empty piece.
fn pieces(text: &str, room: usize) -> Vec<&str> {
    let mut out = Vec::new();
    let mut rest = text.trim();
    while let Some((beyond, _)) = rest.char_indices().nth(room) {
        let spaces = rest.match_indices(' ').map(|(at, _)| at);
        let fitting = spaces.clone().take_while(|&at| at <= beyond).last();
        let Some(at) = fitting.or_else(|| spaces.clone().next()) else {
            break;
        };
        out.push(rest[..at].trim_end());
        rest = rest[at..].trim_start();
    }
    if !rest.is_empty() || out.is_empty() {
        out.push(rest);
    }
    out
}

/// Words broken into lines of at most `width` characters, the first with `first` before it and the
/// others with as many spaces.
pub fn wrapped(first: &str, text: &str, width: u16) -> Vec<String> {
    let indent = first.chars().count();
    let room = usize::from(width).saturating_sub(indent).max(LEAST_ROOM);
    let text: Vec<&str> = text.split_whitespace().collect();
    let text = text.join(" ");
    let blank = " ".repeat(indent);
    let lead = |i: usize| if i == 0 { first } else { blank.as_str() };
    let lines = pieces(&text, room).into_iter().enumerate();
    lines.map(|(i, line)| format!("{}{line}", lead(i)).trim_end().to_owned()).collect()
}

/// A text with no line longer than [`COLUMNS`]: what is longer goes on below, under its own beginning.
pub fn folded(text: &str) -> String {
    set_in(text, 0)
}

/// The same for a text whose lines begin behind `lead` characters of something else.
pub fn set_in(text: &str, lead: usize) -> String {
    let width = usize::from(COLUMNS).saturating_sub(lead).max(LEAST_ROOM);
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let body = line.trim_end_matches('\n');
        if body.chars().count() <= width {
            out += line;
            continue;
        }
        let words = body.trim_start();
        let indent = &body[..body.len() - words.len()];
        let room = width.saturating_sub(indent.chars().count()).max(LEAST_ROOM);
        let lines: Vec<String> =
            pieces(words, room).iter().map(|piece| format!("{indent}{piece}")).collect();
        out += &lines.join("\n");
        out += &line[body.len()..];
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_lines_go_on_under_their_beginning() {
        let long = "word ".repeat(30);
        let text = format!("short  line\n    {long}\nlast");
        let folded = folded(&text);
        assert!(folded.lines().all(|line| line.chars().count() <= 80), "{folded}");
        assert!(folded.starts_with("short  line\n    word"), "{folded}");
        assert!(folded.lines().skip(1).take(2).all(|line| line.starts_with("    word")));
        assert!(folded.ends_with("\nlast"));
        assert_eq!(folded.matches("word").count(), 30);
    }

    #[test]
    fn columns_and_long_words_stay_whole() {
        let rows: [(&str, usize, &[&str]); 6] = [
            ("a     b     c", 8, &["a     b", "c"]),
            ("abcdefghijkl mn", 5, &["abcdefghijkl", "mn"]),
            ("abcdefghijkl", 5, &["abcdefghijkl"]),
            ("abcde fghij", 5, &["abcde", "fghij"]),
            ("", 5, &[""]),
            ("½½½½½ ½½ ½", 5, &["½½½½½", "½½ ½"]),
        ];
        for (text, room, want) in rows {
            assert_eq!(pieces(text, room), want, "{text:?}");
        }
    }

    #[test]
    fn a_text_without_an_end_of_line_gets_none() {
        let text = "word ".repeat(20).trim_end().to_owned();
        assert!(!folded(&text).ends_with('\n'));
        assert!(folded(&format!("{text}\n")).ends_with("word\n"));
        assert_eq!(set_in(&text, 70).lines().map(str::len).max(), Some(19));
    }

    #[test]
    fn words_are_wrapped_under_their_lead() {
        let rows: [(&str, &str, &[&str]); 3] = [
            (
                "  note  ",
                "one two three four five",
                &["  note  one two three four", "        five"],
            ),
            ("  note  ", "", &["  note"]),
            ("", "abcdefghijklmnopqrstuvwxyz", &["abcdefghijklmnopqrstuvwxyz"]),
        ];
        for (lead, text, want) in rows {
            assert_eq!(wrapped(lead, text, 28), want, "{text:?}");
        }
    }
}
