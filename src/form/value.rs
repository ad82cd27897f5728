//! Single values: lengths, words, texts, truth values, numbers.

use super::ask::is_bare;
use super::fields::list_of;
use super::{Fields, Reader, Rule, Sign, nearest};
use crate::diagnostic::{At, Span};
use crate::diagnostic::{Diagnostic, Place};
use crate::quantity::read::{self, ReadError};
use crate::quantity::{Length, Ratio, Temperature, Units, write};
use crate::text::excerpt;
use crate::yaml::{Kind, Node};

pub(super) const COMMON_PRACTICE: &str = "common practice";

impl Reader<'_> {
    /// The text of a single value.
    fn scalar<'n>(
        &mut self,
        node: &'n Node,
        what: &str,
        wanted: &str,
        hint: &str,
    ) -> Option<&'n str> {
        let text = node.text();
        if text.is_none() {
            self.wrong_type(node, what, wanted, hint);
        }
        text
    }

    /// Reads a value with one of the readers of quantities.
    pub fn quantity<T>(
        &mut self,
        node: &Node,
        what: &str,
        wanted: &str,
        read: impl Fn(&str) -> Result<T, ReadError>,
    ) -> Option<At<T>> {
        let Some(text) = node.text() else {
            // What nothing would be answered with is an example.
            let example = read("").err().map_or(String::new(), |error| error.hint);
            self.wrong_type(node, what, wanted, &example);
            return None;
        };
        match read(text) {
            Ok(value) => Some(At { value, span: node.place.span }),
            Err(error) => {
                let message =
                    format!("{what} `{}` is not {wanted}: {}", excerpt(text), error.problem);
                self.error("unreadable", node.place, message, &error.hint);
                None
            }
        }
    }

    /// Reads a length and holds it against its rule.
    pub fn length(&mut self, node: &Node, rule: &Rule) -> Option<At<Length>> {
        let bare = rule.bare(self.units);
        let found = self.quantity(node, rule.name, "a length", |text| read::length(text, bare))?;
        self.within(node, rule, found.value)?;
        self.ask(node, rule, found.value);
        Some(found)
    }

    /// Notes a length that its rule forbids.
    pub fn within(&mut self, node: &Node, rule: &Rule, length: Length) -> Option<()> {
        let written = excerpt(node.text().unwrap_or_default());
        let name = rule.name;
        let metres = length.m();
        if metres < 0.0 && rule.sign != Sign::Any {
            let hint = "only coordinates and heights can be negative";
            self.error("negative", node.place, format!("{name} `{written}` is negative"), hint);
            return None;
        }
        if metres == 0.0 && rule.sign == Sign::Positive {
            self.error(
                "zero",
                node.place,
                format!("{name} is zero"),
                "give its size, or leave the item out",
            );
            return None;
        }
        if metres.abs() <= rule.most.m() {
            return Some(());
        }
        self.beyond_belief(node, rule, &written);
        None
    }

    fn beyond_belief(&mut self, node: &Node, rule: &Rule, written: &str) {
        let most = if rule.plan {
            write::length(rule.most.m(), self.units)
        } else {
            write::small(rule.most.m(), self.units)
        };
        let bare = match (rule.plan, self.units) {
            (true, Units::Us) => "feet",
            (true, Units::Metric) => "metres",
            (false, Units::Us) => "inches",
            (false, Units::Metric) => "millimetres",
        };
        let message = format!("{} `{written}` is beyond belief: more than {most}", rule.name);
        let hint = if is_bare(written) {
            format!("a number without a unit means {bare} here")
        } else {
            "check the number and the mark behind it".to_owned()
        };
        self.error("beyond-belief", node.place, message, &hint);
    }

    /// Reads one of a few words.
    pub fn word<T: Copy>(&mut self, node: &Node, what: &str, words: &[(&str, T)]) -> Option<At<T>> {
        let text = node.text();
        if let Some((_, value)) = words.iter().find(|(word, _)| Some(*word) == text) {
            return Some(At { value: *value, span: node.place.span });
        }
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let hint = format!("write one of {}", list_of(&known));
        let text = self.scalar(node, what, "a word", &hint)?;
        let message = format!("{what} `{}` is not known", excerpt(text));
        let hint = match nearest(text, known.iter().copied()) {
            Some(word) => format!("did you mean `{word}`? Known are {}", list_of(&known)),
            None => hint,
        };
        let fault = Diagnostic::error("unknown-value", message).place(node.place).hint(hint);
        self.note(fault);
        None
    }

    /// Reads `true` or `false`.
    pub fn truth(&mut self, node: &Node, what: &str) -> Option<bool> {
        let hint = "write true or false";
        let text = self.scalar(node, what, "true or false", hint)?;
        let meant = match text.to_ascii_lowercase().as_str() {
            "true" => return Some(true),
            "false" => return Some(false),
            "yes" | "y" | "on" | "x" => "write true",
            "no" | "n" | "off" => "write false",
            _ => hint,
        };
        let message = format!("{what} is true or false, not `{}`", excerpt(text));
        self.error("unknown-value", node.place, message, meant);
        None
    }

    /// Reads a text, and warns if a ` #` cut something off it.
    pub fn text(&mut self, fields: &Fields, key: &str) -> Option<At<String>> {
        let (name, node) = fields.entry(key)?;
        let what = format!("`{key}`");
        match &node.kind {
            Kind::Null => {
                self.warn_lost(name.place.span.end, node.place.file, &what);
                None
            }
            Kind::Scalar { text, quoted } => {
                if !quoted {
                    self.warn_lost(node.place.span.end, node.place.file, &what);
                }
                Some(At { value: text.trim().to_owned(), span: node.place.span })
            }
            _ => {
                let hint = "put a text that has brackets or colons in it into quotation marks";
                self.wrong_type(node, &what, "a text", hint);
                None
            }
        }
    }

    /// A `#` that is not followed by a blank, or by a number, is more likely meant than a comment.
    fn warn_lost(&mut self, end: usize, file: crate::diagnostic::FileId, what: &str) {
        if file != self.file {
            return;
        }
        let line = self.after(end).lines().next().unwrap_or("");
        let line = line.strip_prefix(':').unwrap_or(line);
        let blank = line.len() - line.trim_start_matches(' ').len();
        let Some(comment) = line.get(blank..).and_then(|rest| rest.strip_prefix('#')) else {
            return;
        };
        let numbered = comment.trim_start().starts_with(|c: char| c.is_ascii_digit());
        if blank == 0 || comment.is_empty() || (comment.starts_with(' ') && !numbered) {
            return;
        }
        let start =
            end + (self.after(end).len() - self.after(end).trim_start_matches([':', ' ']).len());
        let place = Place { file, span: Span { start, end: start + 1 + comment.trim_end().len() } };
        let message =
            format!("{what} ends before `#{}`, which is read as a comment", excerpt(comment));
        let fault = Diagnostic::warning("lost-text", message)
            .place(place)
            .label("not part of the text")
            .hint("put the whole text into quotation marks");
        self.note(fault);
    }

    /// Reads a number and holds it between two limits.
    pub fn number(&mut self, node: &Node, what: &str, least: f64, most: f64) -> Option<At<f64>> {
        let found = self.quantity(node, what, "a number", read::number)?;
        let limits = (write::trimmed(least, 3), write::trimmed(most, 3));
        self.between(node, what, found.value, (least, most), limits)?;
        Some(found)
    }

    /// Reads a percentage from 0 to 100, and asks about one under 1 that may be a share of one.
    pub fn percent(&mut self, node: &Node, what: &str) -> Option<At<Ratio>> {
        self.percent_from(node, what, 0.01)
    }

    /// Reads a percentage from 0 to 100, and asks about one under what is usual, as a share of one.
    pub fn percent_from(&mut self, node: &Node, what: &str, usual: f64) -> Option<At<Ratio>> {
        let found = self.quantity(node, what, "a percentage", read::percent)?;
        let share = found.value.one();
        let limits = ("0%".to_owned(), "100%".to_owned());
        self.between(node, what, share, (0.0, 1.0), limits)?;
        if share > 0.0 && share < usual {
            let written = excerpt(node.text().unwrap_or_default());
            let message = format!("{what} `{written}` is seldom under {}", write::percent(usual));
            let hint = if share < 0.01 {
                let (meant, of_one) = (share * 1e4, share * 100.0);
                let [meant, of_one] = [meant, of_one].map(|v| write::trimmed(v, 4));
                format!("write {meant}% if {of_one} of all is meant")
            } else {
                "check the number, and read the instrument again".to_owned()
            };
            let fault = Diagnostic::warning("small-percentage", message)
                .place(node.place)
                .hint(hint)
                .source(COMMON_PRACTICE);
            self.note(fault);
        }
        Some(found)
    }

    /// Reads a temperature of air or concrete.
    pub fn temperature(&mut self, node: &Node, what: &str) -> Option<At<Temperature>> {
        /// Beyond what air or a slab can have, in degrees Celsius.
        const BELIEVED_C: (f64, f64) = (-50.0, 80.0);
        let units = self.units;
        let read = |text: &str| read::temperature(text, units);
        let found = self.quantity(node, what, "a temperature", read)?;
        let limits =
            (write::temperature(BELIEVED_C.0, units), write::temperature(BELIEVED_C.1, units));
        self.between(node, what, found.value.c(), BELIEVED_C, limits)?;
        Some(found)
    }

    fn between(
        &mut self,
        node: &Node,
        what: &str,
        value: f64,
        (least, most): (f64, f64),
        (least_text, most_text): (String, String),
    ) -> Option<()> {
        if (least..=most).contains(&value) {
            return Some(());
        }
        let written = excerpt(node.text().unwrap_or_default());
        let message = format!("{what} `{written}` is beyond belief");
        let hint = format!("it lies between {least_text} and {most_text}");
        self.error("beyond-belief", node.place, message, &hint);
        None
    }

    /// Reads a number that counts something, from 1.
    pub fn count(&mut self, node: &Node, what: &str) -> Option<At<usize>> {
        self.quantity(node, what, "a number", read::count)
    }
}
