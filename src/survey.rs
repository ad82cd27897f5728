//! The flow from a text to quantities: each stage once, in order.

use crate::diagnostic::{Diagnostic, Diagnostics, Severity};
pub use crate::floor::Survey;
use crate::hold::holds;
use crate::shop::{self, Shop};
use crate::sketch::{self, Sketch};
use crate::slab::Slab;

/// The source of a finding that compares the sketch with itself and with nothing published.
const OWN_RULE: &str = "how a sketch is read and counted: docs/sketch.md, docs/formulas.md";

/// A sketch read without errors as geometry, before anything is measured.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// The sketch as written.
    pub sketch: Sketch,
    /// The shop book in force, with moisture mitigation below its systems where the sketch has it.
    pub shop: Shop,
    /// The floor as geometry.
    pub slab: Slab,
    /// What was found so far; no error among it.
    found: Vec<Diagnostic>,
}

/// Surveys a floor from the text of its sketch. `book` is the text of the shop book, where it is not the built-in one.
///
/// # Errors
///
/// Everything that was found in both texts if any of it is an error.
pub fn read(text: &str, book: Option<&str>) -> Result<Survey, Diagnostics> {
    with_book(sketch::parse(text), book).map(Resolved::survey)
}

/// A sketch as its reader gave it, with the text of its shop book, as geometry.
///
/// # Errors
///
/// As of [`read`].
pub fn with_book(
    (sketch, mut found): (Option<Sketch>, Vec<Diagnostic>),
    book: Option<&str>,
) -> Result<Resolved, Diagnostics> {
    let (shop, of_shop) = book.map_or_else(|| (Some(shop::built_in()), Vec::new()), shop::parse);
    found.extend(of_shop);
    match (sketch, shop) {
        (Some(sketch), Some(shop)) => resolve(sketch, shop, found),
        _ => Err(found.into()),
    }
}

/// Places what a sketch holds on the floor. Whatever a sketch may have errors of is found here.
///
/// # Errors
///
/// All errors and warnings of the pass if any of them is an error.
pub fn resolve(sketch: Sketch, shop: Shop, read: Vec<Diagnostic>) -> Result<Resolved, Diagnostics> {
    let shop = shop.of_job(sketch.coating.mitigation);
    let (slab, resolved) = crate::slab::resolve(&sketch, &shop);
    let mut found = read;
    found.extend(resolved);
    let named = sketch.coating.system.as_ref();
    found.extend(crate::order::unknown_system(named, &shop));
    let errors = found.iter().any(|d| d.severity == Severity::Error);
    match slab.filter(|_| !errors) {
        Some(slab) => Ok(Resolved { sketch, shop, slab, found }),
        None => Err(found.into()),
    }
}

/// Computes a floor from a sketch that was read without errors.
///
/// # Errors
///
/// As of [`resolve`].
pub fn survey(sketch: Sketch, shop: Shop, read: Vec<Diagnostic>) -> Result<Survey, Diagnostics> {
    resolve(sketch, shop, read).map(Resolved::survey)
}

impl Resolved {
    /// Measures the floor.
    #[must_use]
    pub fn survey(self) -> Survey {
        let Self { sketch, shop, slab, mut found } = self;
        let mut takeoff = crate::takeoff::measure(&slab, &shop, &sketch.tests);
        let holds = holds(&sketch, &slab, &takeoff, &shop);
        let findings = crate::finding::findings(&sketch, &slab, &takeoff, &shop, &holds);
        found.extend(findings);
        // Quantities don't hang on a recoat window or a machine; the plan does, and refuses such a sketch.
        let facts = crate::work::Facts::new(&sketch, &slab, &takeoff, &shop);
        let unplanned = crate::schedule::faults(&sketch, &facts).into_iter();
        found.extend(unplanned.map(Diagnostic::softened));
        let mut order = crate::order::order(&facts);
        if let Some(system) = facts.system {
            crate::order::choose(&mut order, system, &sketch.coating);
        }
        for finding in &mut found {
            finding.source.get_or_insert(OWN_RULE);
        }
        crate::finding::sort(&mut found);
        takeoff.findings = found;
        Survey { sketch, shop, slab, takeoff, order, holds }
    }
}
