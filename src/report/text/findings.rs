//! What somebody has to look at, heaviest first. Findings that follow one another and call for the
//! same are told together, so that twelve panels don't bury a stop in one advice said twelve times.

use super::Page;
use crate::diagnostic::{Diagnostic, FileId, Severity};
use crate::report::{Line, Report, measure};
use crate::takeoff::words;

/// Room for the longest word of a severity and two spaces.
const LEAD: usize = 9;

/// All findings, with a count of each weight in the title.
pub(super) fn section(page: &mut Page, report: &Report) {
    let counts = counts(&report.takeoff.findings);
    if counts.is_empty() {
        return;
    }
    page.title(&format!("Findings: {}", counts.join(", ")));
    let all: Vec<_> = report.findings().collect();
    for group in all.chunk_by(|(one, _), (next, _)| call_for_the_same(one, next)) {
        told_together(page, group);
    }
}

/// `1 stop`, `3 warnings`: what there is of each weight.
fn counts(findings: &[Diagnostic]) -> Vec<String> {
    let count = |severity: Severity| {
        let n = findings
            .iter()
            .filter(|finding| finding.severity == severity)
            .count();
        let word = severity.word();
        (n > 0).then(|| measure::count(n, word, &format!("{word}s")))
    };
    let weights = [
        Severity::Error,
        Severity::Stop,
        Severity::Warning,
        Severity::Note,
    ];
    weights.into_iter().filter_map(count).collect()
}

/// Whether two findings differ in nothing but what was found and where.
fn call_for_the_same(one: &Diagnostic, next: &Diagnostic) -> bool {
    let call = |f: &Diagnostic| (f.severity, f.code, f.hint.clone(), f.source);
    call(one) == call(next)
}

/// What was found, a line of the sketch each, and then once what to do and why.
fn told_together(page: &mut Page, group: &[(&Diagnostic, Option<Line>)]) {
    let Some((first, _)) = group.first() else {
        return;
    };
    let mut lead = format!("{:<LEAD$}", first.severity.word());
    for (finding, line) in group {
        page.lead(&lead, &message(finding, *line));
        lead = " ".repeat(LEAD);
    }
    if let Some(hint) = &first.hint {
        page.lead(&lead, &format!("What to do: {}", words::clean(hint)));
    }
    let source = first
        .source
        .map(|source| format!("source: {source}, "))
        .unwrap_or_default();
    page.lead(&lead, &format!("({source}{})", first.code));
}

/// The message after its item, unless it names it itself as most do, and its line.
fn message(finding: &Diagnostic, line: Option<Line>) -> String {
    let named = |item: &&str| finding.message.contains(item);
    let item = finding.item.as_deref().filter(|item| !named(item));
    let mut place: Vec<String> = item.map(words::clean).into_iter().collect();
    place.extend(line.map(line_text));
    let message = words::clean(&finding.message);
    if place.is_empty() {
        message
    } else {
        format!("{}: {message}", place.join(", "))
    }
}

/// `line 12`, or the line of the shop book.
fn line_text(line: Line) -> String {
    match line.file {
        FileId::Sketch => format!("line {}", line.number),
        FileId::Shop | FileId::BuiltIn => format!("shop book line {}", line.number),
    }
}
