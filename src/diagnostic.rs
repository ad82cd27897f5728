//! What is wrong or worth saying: one type for errors of a sketch and for findings about a slab.

mod place;
mod told;

use std::fmt;
use std::ops::Deref;

pub use place::{At, FileId, Place, Span};
pub use told::{Told, told};

/// How much a diagnostic weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; nothing to decide.
    Note,
    /// Somebody should look at it before the work starts.
    Warning,
    /// The work must not start before this is cleared; quantities are still given.
    Stop,
    /// The sketch can't be computed; nothing is written.
    Error,
}

impl Severity {
    /// The word used in every output.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Stop => "stop",
            Self::Error => "error",
        }
    }
}

/// `1 stop, 3 warnings`: how many of each weight are told, heaviest first; nothing for none.
#[must_use]
pub fn counted(all: &[Told]) -> String {
    let weights = [Severity::Error, Severity::Stop, Severity::Warning, Severity::Note];
    let count = |severity: Severity| {
        let of = |told: &&Told| told.first.severity == severity;
        match all.iter().filter(of).count() {
            0 => None,
            1 => Some(format!("1 {}", severity.word())),
            n => Some(format!("{n} {}s", severity.word())),
        }
    };
    let counted: Vec<String> = weights.into_iter().filter_map(count).collect();
    counted.join(", ")
}

/// One error, stop, warning or note.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// How much it weighs.
    pub severity: Severity,
    /// Stable code in kebab case, for scripts: `unknown-key`, `panel-aspect`.
    pub code: &'static str,
    /// Id of the item it is about (`J1`, `P3`), if it is about one.
    pub item: Option<String>,
    /// Where in the sketch or shop book it comes from.
    pub place: Option<Place>,
    /// What was found, one sentence without a final full stop, with the numbers.
    pub message: String,
    /// A few words beside the marked text; empty for none.
    pub label: String,
    /// A second place worth showing ("first used here") with its words.
    pub related: Option<(Place, String)>,
    /// What would be right, or what to do.
    pub hint: Option<String>,
    /// The published source of the rule, "common practice" or "from memory".
    pub source: Option<&'static str>,
    /// What is true of several that call for the same, if that can be said in one sentence.
    pub many: Option<Many>,
}

/// How several findings of a kind are told as one: `24 panels are over 1.5 to 1: P3, P7 …`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Many {
    /// What follows their number.
    pub words: &'static str,
    /// What stands for this one in the list behind it.
    pub name: String,
}

impl Diagnostic {
    /// A diagnostic with a message and nothing else yet.
    #[must_use]
    pub fn new(severity: Severity, code: &'static str, message: impl Into<String>) -> Self {
        Self {
            severity,
            code,
            item: None,
            place: None,
            message: message.into(),
            label: String::new(),
            related: None,
            hint: None,
            source: None,
            many: None,
        }
    }

    /// With the weight of an error: the sketch can't be computed.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message)
    }

    /// With the weight of a warning: somebody should look at it.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message)
    }

    /// With the weight of a note: worth knowing.
    #[must_use]
    pub fn note(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message)
    }

    /// With the weight of a stop: work waits until it is cleared.
    #[must_use]
    pub fn stop(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Stop, code, message)
    }

    /// The same, about the item with this id.
    #[must_use]
    pub fn item(mut self, id: impl Into<String>) -> Self {
        self.item = Some(id.into());
        self
    }

    /// The same, placed in the sketch.
    #[must_use]
    pub fn at(mut self, span: Span) -> Self {
        self.place = Some(Place::sketch(span));
        self
    }

    /// The same, placed anywhere.
    #[must_use]
    pub fn place(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// The same, with words beside the marked text.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// The same, with a second place.
    #[must_use]
    pub fn related(mut self, place: Place, words: impl Into<String>) -> Self {
        self.related = Some((place, words.into()));
        self
    }

    /// The same as a warning: what one command can't do without, another can.
    #[must_use]
    pub fn softened(self) -> Self {
        Self { severity: Severity::Warning, ..self }
    }

    /// The same, with what would be right.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The same, with the words for several of its kind, and its own name in their list.
    #[must_use]
    pub fn many(mut self, words: &'static str, name: impl Into<String>) -> Self {
        self.many = Some(Many { words, name: name.into() });
        self
    }

    /// What was found, with the item before it unless it is named there.
    #[must_use]
    pub fn sentence(&self) -> String {
        match &self.item {
            Some(item) if !names(&self.message, item) => {
                format!("{}: {}", crate::text::excerpt(item), self.message)
            }
            _ => self.message.clone(),
        }
    }

    /// The same, with the source of the rule.
    #[must_use]
    pub const fn source(mut self, source: &'static str) -> Self {
        self.source = Some(source);
        self
    }
}

/// What was found on the way to something that could not be made: an error that holds them all, in the order in which they were found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diagnostics(pub Vec<Diagnostic>);

impl std::error::Error for Diagnostics {}

impl fmt::Display for Diagnostics {
    /// One a line: weight, code, sentence.
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        for (i, found) in self.iter().enumerate() {
            let end = if i == 0 { "" } else { "\n" };
            write!(f, "{end}{}[{}]: {}", found.severity.word(), found.code, found.sentence())?;
        }
        Ok(())
    }
}

impl Deref for Diagnostics {
    type Target = [Diagnostic];

    fn deref(&self) -> &[Diagnostic] {
        &self.0
    }
}

impl From<Vec<Diagnostic>> for Diagnostics {
    fn from(found: Vec<Diagnostic>) -> Self {
        Self(found)
    }
}

impl From<Diagnostic> for Diagnostics {
    fn from(found: Diagnostic) -> Self {
        Self(vec![found])
    }
}

impl FromIterator<Diagnostic> for Diagnostics {
    fn from_iter<I: IntoIterator<Item = Diagnostic>>(found: I) -> Self {
        Self(found.into_iter().collect())
    }
}

impl IntoIterator for Diagnostics {
    type Item = Diagnostic;
    type IntoIter = std::vec::IntoIter<Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
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
