//! Running text in two weights: the one place that breaks it into lines and sets them below each other.

use crate::font;
use crate::ink::{Align, Mark, PaperPoint, Weight};
use crate::paper::draw;
use crate::paper::mm::at;
use crate::paper::style::Type;

/// A stretch of text in one weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Semibold.
    pub strong: bool,
}

impl Run {
    const fn weight(&self) -> Weight {
        match self.strong {
            true => Weight::Semibold,
            false => Weight::Regular,
        }
    }
}

/// A paragraph's text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Run>);

impl Text {
    /// The same with more in regular weight.
    #[must_use]
    pub fn then(mut self, text: impl Into<String>) -> Self {
        self.0.push(Run { text: text.into(), strong: false });
        self
    }

    /// Text in semibold.
    #[must_use]
    pub fn strong(text: impl Into<String>) -> Self {
        Self(vec![Run { text: text.into(), strong: true }])
    }

    /// Text of one weight.
    #[must_use]
    pub fn of(text: impl Into<String>, weight: Weight) -> Self {
        match weight {
            Weight::Semibold => Self::strong(text),
            Weight::Regular => text.into().into(),
        }
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
        Self(vec![Run { text: text.into(), strong: false }])
    }
}

/// How running text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Font size, mm.
    pub size: f64,
    /// From one baseline to the next, mm.
    pub leading: f64,
    /// Air between stretches of different weight, mm; a blank where nothing is said.
    pub apart: Option<f64>,
}

impl Setting {
    /// Text of this size and leading, mm.
    #[must_use]
    pub const fn new(size: f64, leading: f64) -> Self {
        Self { size, leading, apart: None }
    }

    /// Air above and below the capitals of a line, mm: its height is shared out.
    #[must_use]
    pub fn air(&self) -> f64 {
        (self.leading - font::cap_height(self.size)) / 2.0
    }

    /// Baseline below the top of a line, mm.
    #[must_use]
    pub fn baseline(&self) -> f64 {
        (self.leading + font::cap_height(self.size)) / 2.0
    }

    fn apart(&self, weight: Weight) -> f64 {
        let width = |text| font::text_width(text, self.size, weight);
        self.apart.unwrap_or_else(|| width("n n") - width("nn"))
    }
}

impl From<Type> for Setting {
    fn from(type_: Type) -> Self {
        Self::new(type_.size, type_.pitch())
    }
}

/// A line: stretches of one weight, one behind the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line(pub Vec<(String, Weight)>);

impl Line {
    /// Width, mm.
    #[must_use]
    pub fn width(&self, set: &Setting) -> f64 {
        let (mut out, last) = (0.0, self.0.len().saturating_sub(1));
        for (i, (text, weight)) in self.0.iter().enumerate() {
            out += font::text_width(text, set.size, *weight);
            if i < last {
                out += set.apart(*weight);
            }
        }
        out
    }

    /// Its marks, from a point on the baseline.
    #[must_use]
    pub fn marks(&self, from: PaperPoint, set: &Setting) -> Vec<Mark> {
        let mut x = from.x;
        let mut marks = Vec::new();
        for (words, weight) in &self.0 {
            let (size, weight) = (set.size, *weight);
            let text = draw::text(at(x, from.y), &**words, Type { size, weight }, Align::Start);
            marks.push(Mark::Text(text));
            x += font::text_width(words, size, weight) + set.apart(weight);
        }
        marks
    }

    /// The words, without weights.
    #[must_use]
    pub fn plain(&self) -> String {
        let parts: Vec<&str> = self.0.iter().map(|(text, _)| &**text).collect();
        parts.join(" ")
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

/// Breaks a text into lines no wider than `width` mm, at spaces; a word wider than a line is broken where it must be. Where there is no
/// word there is no line.
#[must_use]
pub fn wrap(text: &Text, width: f64, set: &Setting) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for run in &text.0 {
        let weight = run.weight();
        let cleaned = font::clean(&run.text).text;
        // Most cells of a table fit: one look at all of it instead of one a word.
        let whole = lines.is_empty() && !cleaned.is_empty();
        if whole && font::text_width(&cleaned, set.size, weight) <= width {
            lines.push(Line(vec![(cleaned.into_owned(), weight)]));
            continue;
        }
        let fits = |text: &str| font::text_width(text, set.size, weight) <= width;
        for word in unbroken(&cleaned, fits) {
            for piece in pieces(&word, width, set.size, weight) {
                let longer = lines.last().map(|last| last.with(&piece, weight));
                let line = match longer.filter(|longer| longer.width(set) <= width) {
                    Some(longer) => {
                        lines.pop();
                        longer
                    }
                    None => Line(vec![(piece, weight)]),
                };
                lines.push(line);
            }
        }
    }
    lines
}

/// What may not be torn from the number before it.
const UNITS: &str =
    " h min s ft ft² ft³ in cfm qt fl oz gal lb mm cm m m² L mL g kg °F °C % mils psi ";

/// The words of a text; a number with its fraction or its unit is one, where a line holds both.
fn unbroken(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let belongs = |before: &str, next: &str| {
        let unit = next.trim_matches(|c: char| c.is_ascii_punctuation() && c != '%');
        let numbered = before.ends_with(|c: char| c.is_ascii_digit());
        let fraction = || {
            let first = next.split('/').next().filter(|first| first.len() < next.len());
            first.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
        };
        let known = || !unit.is_empty() && UNITS.contains(&format!(" {unit} "));
        numbered && (fraction() || known()) || before.ends_with(" fl") && unit == "oz"
    };
    let mut out: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let both = out.last().filter(|last| belongs(last, word));
        let both = both.map(|last| format!("{last} {word}")).filter(|both| fits(both));
        if both.is_some() {
            out.pop();
        }
        out.push(both.unwrap_or_else(|| word.to_owned()));
    }
    out
}

/// A word as it is if it fits on a line, else in pieces that do, each at least one character.
fn pieces(word: &str, width: f64, size: f64, weight: Weight) -> Vec<String> {
    let fits = |text: &str| font::text_width(text, size, weight) <= width;
    if fits(word) {
        return vec![word.to_owned()];
    }
    let mut pieces = vec![String::new()];
    for c in word.chars() {
        match pieces.last_mut() {
            Some(last) if last.is_empty() || fits(&format!("{last}{c}")) => last.push(c),
            _ => pieces.push(c.to_string()),
        }
    }
    pieces
}

/// A paragraph with its upper left corner at a point: its marks, and its height, mm.
#[must_use]
pub fn paragraph(text: &Text, corner: PaperPoint, width: f64, set: &Setting) -> (Vec<Mark>, f64) {
    let (mut marks, mut y) = (Vec::new(), 0.0);
    for line in wrap(text, width, set) {
        marks.extend(line.marks(at(corner.x, corner.y + y + set.baseline()), set));
        y += set.leading;
    }
    (marks, y)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SET: Setting = Setting::new(3.6, 4.5);

    #[test]
    fn a_number_keeps_its_fraction_and_its_unit() {
        let rows: [(&str, &[&str]); 7] = [
            ("6 at 10'-6 1/2\".", &["6", "at", "10'-6 1/2\"."]),
            ("at most 2.5 h. Chipping", &["at", "most", "2.5 h.", "Chipping"]),
            ("11 fl oz, B 2 qt", &["11 fl oz,", "B", "2 qt"]),
            ("5 °F or 4 %, then", &["5 °F", "or", "4 %,", "then"]),
            ("joints 3 and 4", &["joints", "3", "and", "4"]),
            ("J1 min", &["J1 min"]),
            ("and/or 3 lanes", &["and/or", "3", "lanes"]),
        ];
        for (text, wanted) in rows {
            assert_eq!(unbroken(text, |_| true), wanted, "{text}");
        }
        assert_eq!(unbroken("2.5 h", |both| both.len() < 4), ["2.5", "h"]);
    }

    #[test]
    fn lines_hold_every_word_in_both_weights_and_none_is_too_wide() {
        let text = Text::strong("Take the step down").then(
            "by hand before the floor grinder crosses it, and feather the high side at 1:12.",
        );
        for width in [30.0, 55.0, 90.0, 500.0] {
            let lines = wrap(&text, width, &SET);
            assert!(lines.iter().all(|l| l.width(&SET) <= width), "{width}");
            let back: Vec<String> = lines.iter().map(Line::plain).collect();
            assert_eq!(
                back.join(" "),
                "Take the step down by hand before the floor grinder crosses it, and feather the high side at 1:12."
            );
        }
        assert_eq!(wrap(&text, 500.0, &SET)[0].0.len(), 2);
        assert!(wrap(&Text::strong(" ").then(""), 50.0, &SET).is_empty());
    }

    #[test]
    fn a_word_wider_than_the_line_is_broken() {
        let lines = wrap(&"W".repeat(90).into(), 40.0, &SET);
        let back: String = lines.iter().map(Line::plain).collect();
        assert_eq!(back, "W".repeat(90));
        assert!(lines.len() > 4 && lines.iter().all(|l| l.width(&SET) <= 40.0));
    }
}
