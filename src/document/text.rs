//! Running text in two weights, and its lines.

use crate::font;
use crate::ink::Weight;

/// A stretch of text in one weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Semibold.
    pub strong: bool,
}

/// A paragraph's text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Run>);

impl Text {
    /// The same with more in regular weight.
    #[must_use]
    pub fn then(mut self, text: impl Into<String>) -> Self {
        self.0.push(Run {
            text: text.into(),
            strong: false,
        });
        self
    }

    /// Text in semibold.
    #[must_use]
    pub fn strong(text: impl Into<String>) -> Self {
        Self(vec![Run {
            text: text.into(),
            strong: true,
        }])
    }

    /// All of it without weights. Runs stand apart by a blank, as everywhere.
    #[must_use]
    pub fn plain(&self) -> String {
        let runs: Vec<&str> = self.0.iter().map(|run| run.text.trim()).collect();
        runs.join(" ")
    }

    /// Whether there is nothing to read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|run| run.text.trim().is_empty())
    }
}

impl<T: Into<String>> From<T> for Text {
    fn from(text: T) -> Self {
        Self(vec![Run {
            text: text.into(),
            strong: false,
        }])
    }
}

/// A line: stretches of one weight, one behind the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line(pub Vec<(String, Weight)>);

impl Line {
    /// Width, mm, at font size `size` mm.
    #[must_use]
    pub fn width(&self, size: f64) -> f64 {
        let (mut out, last) = (0.0, self.0.len().saturating_sub(1));
        for (i, (text, weight)) in self.0.iter().enumerate() {
            out += font::text_width(text, size, *weight);
            if i < last {
                out += space(size, *weight);
            }
        }
        out
    }

    fn push(&mut self, word: &str, weight: Weight) {
        match self.0.last_mut() {
            Some((text, same)) if *same == weight => {
                text.push(' ');
                text.push_str(word);
            }
            _ => self.0.push((word.to_owned(), weight)),
        }
    }

    fn with(&self, word: &str, weight: Weight) -> Self {
        let mut out = self.clone();
        out.push(word, weight);
        out
    }
}

/// Width of a blank, mm.
pub(super) fn space(size: f64, weight: Weight) -> f64 {
    font::text_width("n n", size, weight) - font::text_width("nn", size, weight)
}

const fn weight(strong: bool) -> Weight {
    if strong {
        Weight::Semibold
    } else {
        Weight::Regular
    }
}

/// Breaks a text into lines no wider than `width` mm at font size `size` mm. A word wider than a line is broken where it must be. At least
/// one line, which is empty when the text is.
#[must_use]
pub fn wrap(text: &Text, width: f64, size: f64) -> Vec<Line> {
    let mut lines = vec![Line::default()];
    for run in &text.0 {
        let weight = weight(run.strong);
        let cleaned = font::clean(&run.text).text;
        for word in cleaned.split(' ').filter(|w| !w.is_empty()) {
            for piece in font::wrap(word, width, size, weight) {
                let Some(last) = lines.last_mut() else {
                    continue;
                };
                let longer = last.with(&piece, weight);
                if last.0.is_empty() || longer.width(size) <= width {
                    *last = longer;
                } else {
                    lines.push(Line(vec![(piece, weight)]));
                }
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(line: &Line) -> String {
        let parts: Vec<&str> = line.0.iter().map(|(t, _)| t.as_str()).collect();
        parts.join(" ")
    }

    #[test]
    fn lines_hold_every_word_in_both_weights_and_none_is_too_wide() {
        let text = Text::strong("Take the step down").then(
            "by hand before the floor grinder crosses it, and feather the high side at 1:12.",
        );
        for width in [30.0, 55.0, 90.0, 500.0] {
            let lines = wrap(&text, width, 3.6);
            assert!(lines.iter().all(|l| l.width(3.6) <= width), "{width}");
            let back: Vec<String> = lines.iter().map(plain).collect();
            assert_eq!(
                back.join(" "),
                "Take the step down by hand before the floor grinder crosses it, and feather the high side at 1:12."
            );
        }
        assert_eq!(wrap(&text, 500.0, 3.6)[0].0.len(), 2);
        assert_eq!(wrap(&Text::default(), 50.0, 3.6).len(), 1);
    }

    #[test]
    fn a_word_wider_than_the_line_is_broken() {
        let lines = wrap(&"W".repeat(90).into(), 40.0, 3.6);
        let back: String = lines.iter().map(plain).collect();
        assert_eq!(back, "W".repeat(90));
        assert!(lines.len() > 4 && lines.iter().all(|l| l.width(3.6) <= 40.0));
    }
}
