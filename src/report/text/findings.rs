//! What somebody has to look at, heaviest first. Findings that call for the same are one, so that twelve panels don't bury a stop
//! in one advice said twelve times.

use super::Page;
use crate::diagnostic::{Diagnostic, FileId, Told, counted, told};
use crate::report::{Line, Report};
use crate::text::clean;

/// Room for the longest word of a severity and two spaces.
const LEAD: usize = 9;

/// Most lines of the sketch that are named one by one.
const MOST_LINES: usize = 4;

/// All findings, with a count of each weight in the title.
pub(super) fn section(page: &mut Page, report: &Report) {
    let all = told(&report.takeoff.findings);
    if all.is_empty() {
        return;
    }
    page.title(&format!("Findings: {}", counted(&all)));
    for told in &all {
        told_together(page, report, told);
    }
}

/// What was found, and then once what to do and why.
fn told_together(page: &mut Page, report: &Report, told: &Told) {
    let first = told.first;
    let lead = format!("{:<LEAD$}", first.severity.word());
    let blank = " ".repeat(LEAD);
    if let Some(summary) = told.summary() {
        page.lead(&lead, &clean(&placed(&summary, &lines_of(report, told))));
    } else {
        page.lead(&lead, &message(report, first));
        for other in told.told_after() {
            page.lead(&blank, &message(report, other));
        }
        if let Some(rest) = told.rest() {
            page.lead(&blank, &clean(&rest));
        }
    }
    if let Some(hint) = &first.hint {
        page.lead(&blank, &format!("What to do: {}", clean(hint)));
    }
    let source = first.source.map(|source| format!("source: {source}, ")).unwrap_or_default();
    page.lead(&blank, &format!("({source}{})", first.code));
}

/// What was found, after its line.
fn message(report: &Report, finding: &Diagnostic) -> String {
    let line = report.line(finding).map(line_text);
    clean(&placed(&finding.sentence(), &line))
}

fn placed(sentence: &str, place: &Option<String>) -> String {
    match place {
        Some(place) => format!("{place}: {sentence}"),
        None => sentence.to_owned(),
    }
}

/// `lines 37, 41` or `lines 37 to 90`: where those lie that are told as one.
fn lines_of(report: &Report, told: &Told) -> Option<String> {
    let mut lines: Vec<Line> = told.all().filter_map(|finding| report.line(finding)).collect();
    lines.sort_by_key(|line| (line.file, line.number));
    lines.dedup();
    match lines.as_slice() {
        [] => None,
        [one] => Some(line_text(*one)),
        [first, .., last] if lines.len() > MOST_LINES => {
            Some(format!("lines {} to {}", first.number, last.number))
        }
        some => {
            let numbers: Vec<String> = some.iter().map(|line| line.number.to_string()).collect();
            Some(format!("lines {}", numbers.join(", ")))
        }
    }
}

/// `line 12`, or the line of the shop book.
fn line_text(line: Line) -> String {
    match line.file {
        FileId::Sketch => format!("line {}", line.number),
        FileId::Shop | FileId::BuiltIn => format!("shop book line {}", line.number),
    }
}
