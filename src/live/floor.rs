//! A text of a sketch, read as far as it goes.

use sha2::{Digest, Sha256};

use crate::diagnostic::{Diagnostic, Severity};
use crate::slab::Slab;
use crate::survey::{Survey, survey};
use crate::{shop, sketch};

/// A sketch and what became of it.
#[derive(Debug)]
pub struct Floor {
    /// The text.
    pub text: String,
    /// Digest of the text and of its shop book.
    pub version: String,
    /// Errors, and where there are none the findings.
    pub found: Vec<Diagnostic>,
    /// The floor; `None` while the sketch has errors.
    pub survey: Option<Survey>,
}

impl Floor {
    /// Reads and computes a sketch. `book` is the text of the shop book, where one is named.
    #[must_use]
    pub fn read(text: String, book: Option<&str>) -> Self {
        let version = digest(&[&text, book.unwrap_or("")]);
        let (parsed, mut found) = sketch::parse(&text);
        let (shop, of_shop) =
            book.map_or_else(|| (Some(shop::built_in()), Vec::new()), shop::parse);
        found.extend(of_shop);
        let survey = match (parsed, shop) {
            (Some(parsed), Some(shop)) => match survey(parsed, shop, std::mem::take(&mut found)) {
                Ok(survey) => {
                    found.clone_from(&survey.takeoff.findings);
                    Some(survey)
                }
                Err(errors) => {
                    found = errors;
                    None
                }
            },
            _ => None,
        };
        found.sort_by_key(|d| std::cmp::Reverse(d.severity));
        Self { text, version, found, survey }
    }

    /// Only the errors.
    pub fn errors(&self) -> impl Iterator<Item = &Diagnostic> {
        self.found.iter().filter(|d| d.severity == Severity::Error)
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
        let found = format!("{:?}", floor.found);
        floor.survey.expect(&found).slab
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
        assert!(floor.survey.is_none() && floor.errors().count() > 0);
    }
}
