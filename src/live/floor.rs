//! A text of a sketch, read as far as it goes.

use std::sync::OnceLock;

use sha2::{Digest, Sha256};

use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
use crate::sketch;
use crate::slab::Slab;
use crate::survey::{Resolved, Survey, with_book};

/// A sketch and what became of it. Its places are known at once; its quantities are computed when they are first asked for.
#[derive(Debug)]
pub struct Floor {
    /// The text.
    pub text: String,
    /// Digest of the text and of its shop book.
    pub version: String,
    resolved: Result<Resolved, Diagnostics>,
    measured: OnceLock<Survey>,
}

impl Floor {
    /// Reads a sketch. `book` is the text of the shop book, where one is named.
    #[must_use]
    pub fn read(text: String, book: Option<&str>) -> Self {
        let version = digest(&[&text, book.unwrap_or("")]);
        let resolved = with_book(sketch::parse(&text), book);
        Self { text, version, resolved, measured: OnceLock::new() }
    }

    /// The floor as geometry; `None` while the sketch has errors.
    #[must_use]
    pub fn resolved(&self) -> Option<&Resolved> {
        self.resolved.as_ref().ok()
    }

    /// The floor with its quantities; `None` while the sketch has errors.
    #[must_use]
    pub fn survey(&self) -> Option<&Survey> {
        let resolved = self.resolved()?;
        Some(self.measured.get_or_init(|| resolved.clone().survey()))
    }

    /// Errors, and where there are none the findings; the gravest first.
    #[must_use]
    pub fn found(&self) -> Vec<&Diagnostic> {
        let all = match &self.resolved {
            Ok(_) => self.survey().map(|survey| survey.takeoff.findings.as_slice()),
            Err(found) => Some(&found[..]),
        };
        let mut found: Vec<&Diagnostic> = all.unwrap_or_default().iter().collect();
        found.sort_by_key(|d| std::cmp::Reverse(d.severity));
        found
    }

    /// The errors of a sketch that has some, in one sentence.
    #[must_use]
    pub fn errors(&self) -> String {
        let found = self.resolved.as_ref().err().into_iter().flat_map(|found| found.iter());
        let errors = found.filter(|d| d.severity == Severity::Error);
        let messages: Vec<&str> = errors.map(|d| d.message.as_str()).collect();
        messages.join("; ")
    }
}

/// The shop book a sketch names, relative to the sketch.
#[must_use]
pub fn book_named(text: &str) -> Option<String> {
    let (parsed, _) = sketch::parse(text);
    parsed.and_then(|sketch| sketch.shop).map(|shop| shop.value)
}

/// The outline as places are taken from it: as long as it is the same, a wall, a distance along and a
/// distance out mean the same spot.
#[must_use]
pub fn ground(slab: &Slab) -> String {
    let segments = format!("{:?}", slab.outline.path.segments());
    digest(&[&segments])
}

/// The beginning of the SHA-256 of some texts, in hexadecimal.
fn digest(texts: &[&str]) -> String {
    let mut hash = Sha256::new();
    for text in texts {
        hash.update((text.len() as u64).to_le_bytes());
        hash.update(text.as_bytes());
    }
    let hash = hash.finalize();
    hash.iter().take(16).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// The slab of a sketch that is right.
    pub(crate) fn slab_of(text: &str) -> Slab {
        let floor = Floor::read(text.to_owned(), None);
        let slab = floor.resolved().map(|resolved| resolved.slab.clone());
        slab.unwrap_or_else(|| panic!("{}", floor.errors()))
    }

    #[test]
    fn a_version_follows_the_text_and_the_ground_only_the_outline() {
        let text = "slabwalk: 1\njob: {name: a}\nslab: {outline: [[0, 0], [9, 0], [9, 9]]}\n";
        let renamed = text.replace("name: a", "name: b");
        let moved = text.replace("[9, 9]", "[9, 8]");
        let read = |t: &str| Floor::read(t.to_owned(), None);
        assert_ne!(read(text).version, read(&renamed).version);
        assert_eq!(ground(&slab_of(text)), ground(&slab_of(&renamed)));
        assert_ne!(ground(&slab_of(text)), ground(&slab_of(&moved)));
    }

    #[test]
    fn a_broken_sketch_has_errors_and_no_floor() {
        let floor = Floor::read("slabwalk: 1\njob: {nam: x}\n".into(), None);
        assert!(floor.survey().is_none() && !floor.errors().is_empty());
    }
}
