//! Findings that call for the same are one to who reads them, however many items they are about. Scripts get them one by one.

use std::collections::BTreeMap;

use super::{Diagnostic, Severity};
use crate::text::id_key;

/// Most that are told in sentences of their own, one after another.
const MOST_TOLD: usize = 6;
/// Most that are named in a list.
const MOST_NAMED: usize = 12;

/// Findings that differ in nothing but what was found and where; an error is always alone, since each has to be mended.
#[derive(Clone, Debug)]
pub struct Told<'d> {
    /// The one that came first.
    pub first: &'d Diagnostic,
    /// Those that came after it, in their order.
    pub others: Vec<&'d Diagnostic>,
}

/// Findings with those told together that call for the same, in the order of the first of each.
#[must_use]
pub fn told(findings: &[Diagnostic]) -> Vec<Told<'_>> {
    let mut out: Vec<Told<'_>> = Vec::new();
    let mut known = BTreeMap::new();
    for finding in findings {
        let call = (finding.severity, finding.code, finding.source, finding.hint.as_deref());
        let alike = known.get(&call).and_then(|&at: &usize| out.get_mut(at));
        if let Some(told) = alike {
            told.others.push(finding);
            continue;
        }
        if finding.severity < Severity::Error {
            known.insert(call, out.len());
        }
        out.push(Told { first: finding, others: Vec::new() });
    }
    out
}

impl<'d> Told<'d> {
    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = &'d Diagnostic> + use<'d, '_> {
        std::iter::once(self.first).chain(self.others.iter().copied())
    }

    /// What is true of all of them, where that can be said in one sentence.
    #[must_use]
    pub fn summary(&self) -> Option<String> {
        let words = self.first.many.as_ref()?.words;
        let of = |d: &'d Diagnostic| d.many.as_ref().filter(|many| many.words == words);
        let mut names: Vec<&str> = Vec::new();
        for finding in self.all() {
            names.push(&of(finding)?.name);
        }
        if names.len() < 2 {
            return None;
        }
        let count = names.len();
        Some(format!("{count} {words}: {}", list(names)))
    }

    /// All of it in one sentence: what is true of all, or what was found first and the names of the others.
    #[must_use]
    pub fn headline(&self) -> String {
        self.summary().unwrap_or_else(|| {
            let items = self.others.iter().filter_map(|d| d.item.as_deref());
            let names: Vec<&str> = items.collect();
            match (self.others.len(), names.is_empty()) {
                (0, _) => self.first.sentence(),
                (count, true) => format!("{} (and {count} more)", self.first.sentence()),
                (_, false) => format!("{} (likewise {})", self.first.sentence(), list(names)),
            }
        })
    }

    /// Those that are told after the first in a sentence each.
    #[must_use]
    pub fn told_after(&self) -> &[&'d Diagnostic] {
        &self.others[..self.others.len().min(MOST_TOLD - 1)]
    }

    /// Those that are too many to be told: `12 more: J7, J8 …`.
    #[must_use]
    pub fn rest(&self) -> Option<String> {
        let rest = self.others.get(MOST_TOLD - 1..)?;
        let items = rest.iter().filter_map(|d| d.item.as_deref());
        let names: Vec<&str> = items.collect();
        match (rest.len(), names.is_empty()) {
            (0, _) => None,
            (count, true) => Some(format!("{count} more")),
            (count, false) => Some(format!("{count} more: {}", list(names))),
        }
    }
}

/// Names in the order in which people count; of very many the first.
fn list(mut names: Vec<&str>) -> String {
    names.sort_by_key(|name| id_key(name));
    let shown = names[..names.len().min(MOST_NAMED)].join(", ");
    match names.len().saturating_sub(MOST_NAMED) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn panel(n: usize) -> Diagnostic {
        Diagnostic::warning("panel-aspect", format!("panel P{n} is long"))
            .item(format!("P{n}"))
            .hint("note cracks in it")
            .many("panels are long", format!("P{n}"))
    }

    #[test]
    fn what_calls_for_the_same_is_one() {
        let mut findings: Vec<Diagnostic> = [10, 9, 2].map(panel).into();
        findings.insert(1, Diagnostic::note("fall", "the floor falls"));
        let found = told(&findings);
        let firsts: Vec<&str> = found.iter().map(|t| t.first.code).collect();
        assert_eq!(firsts, ["panel-aspect", "fall"]);
        let summary = found[0].summary();
        assert_eq!(summary.as_deref(), Some("3 panels are long: P2, P9, P10"));
        assert_eq!(found[1].summary(), None);
        findings[2].hint = None;
        assert_eq!(told(&findings).len(), 3, "another hint is another finding");
    }

    #[test]
    fn very_many_are_counted() {
        let findings: Vec<Diagnostic> = (1..=24).map(panel).collect();
        let summary = told(&findings)[0].summary().unwrap_or_default();
        assert!(summary.starts_with("24 panels are long: P1, P2, "), "{summary}");
        assert!(summary.ends_with("P11, P12 and 12 more"), "{summary}");
    }

    #[test]
    fn what_has_no_sentence_for_many_is_told_one_by_one_as_far_as_that_goes() {
        let cut = |n: usize| Diagnostic::note("chase-depth", "cut deep").item(format!("J{n}"));
        let findings: Vec<Diagnostic> = (1..=9).map(cut).collect();
        let told = &told(&findings)[0];
        assert_eq!(told.summary(), None);
        assert_eq!(told.told_after().len(), 5);
        assert_eq!(told.rest().as_deref(), Some("3 more: J7, J8, J9"));
        let all = "J1: cut deep (likewise J2, J3, J4, J5, J6, J7, J8, J9)";
        assert_eq!(told.headline(), all);
    }

    #[test]
    fn an_error_is_always_alone() {
        let fault = || Diagnostic::error("unknown-key", "`x` is no key");
        assert_eq!(told(&[fault(), fault()]).len(), 2);
    }
}
