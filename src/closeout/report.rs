//! The close-out as text, CSV and JSON, and the suggested change of the shop book as YAML.

use serde::Serialize;

use super::fit::SIZES;
use super::key::Form;
use super::model::{
    CloseOut, Implied, Learned, Moisture, Origin, Outcome, Rate, Row, SetUp, Suggestion, Verdict,
};
use super::suggest::{AGREE, CLOSE, LEAST_JOBS};
use crate::quantity::{Units, write};
use crate::report::csv::{Table, or_empty};
use crate::report::json::JobNumber;
use crate::text::json::document;
use crate::text::{clean, folded, set_in};
use crate::trade::{self, Kind};

/// The files of a close-out without its plot: name and text. The suggestion only where there is one.
#[must_use]
pub fn pieces(jobs: &[CloseOut], found: &Suggestion) -> Vec<(String, String)> {
    let mut out = vec![
        ("closeout.txt".to_owned(), text(jobs, found)),
        ("closeout.csv".to_owned(), csv(jobs)),
        ("closeout.json".to_owned(), json(jobs, found)),
    ];
    let units = jobs.first().map_or(Units::Us, |job| job.units);
    out.extend(yaml(found, units).map(|text| ("suggested-shop.yaml".to_owned(), text)));
    out
}

/// The close-out for people.
#[must_use]
pub fn text(jobs: &[CloseOut], found: &Suggestion) -> String {
    let mut out = String::from("CLOSE-OUT: used against estimated\n");
    for job in jobs {
        job_text(&mut out, job);
    }
    let units = jobs.first().map_or(Units::Us, |job| job.units);
    out += "\nSHOP BOOK\n";
    out += &format!(
        "  A change is suggested where at least {LEAST_JOBS} jobs have a record of it, each lies within {agree}% of their median, and the median is more than {close}% from the book. The suggestion is the median. For works it is the set-up and rate that fit the hours of the jobs best, each within {agree}% of the fit; ± is its standard error.\n",
        agree = write::trimmed(AGREE * 100.0, 0),
        close = write::trimmed(CLOSE * 100.0, 0)
    );
    for verdict in &found.values {
        out += &format!("  {}\n", verdict_text(verdict, units));
    }
    for work in &found.works {
        out += &format!("  {}\n", work_text(work, units));
    }
    match yaml(found, units) {
        Some(yaml) => out += &format!("\n{yaml}"),
        None => out += "  No change is suggested.\n",
    }
    folded(&out)
}

fn job_text(out: &mut String, job: &CloseOut) {
    let number = job.number.as_ref();
    let number = number.map_or(String::new(), |n| format!(", job {}", clean(n)));
    *out += &format!("\n{}{number}\n", clean(&job.job).to_uppercase());
    *out += &format!(
        "  {:<36} {:>10} {:>10} {:>11} {:>7}\n",
        "", "estimated", "used", "difference", "ratio"
    );
    for row in &job.rows {
        *out += &row_text(row, job.units);
    }
    if !job.unrecorded.is_empty() {
        let names: Vec<String> = job.unrecorded.iter().map(|name| clean(name)).collect();
        *out += &format!("  no record of: {}\n", names.join("; "));
    }
    if let Some(Moisture { used: rh, tested }) = job.moisture {
        let before = tested.map_or("not tested before".to_owned(), |rh| {
            format!("highest tested before {}", write::percent(rh))
        });
        *out += &format!("  moisture on the day {}, {before}\n", write::percent(rh));
    }
    if let Some(note) = &job.note {
        *out += &format!("  note: {}\n", clean(note));
    }
    for photo in &job.photos {
        *out += &format!("  photo: {}\n", clean(photo));
    }
}

fn row_text(row: &Row, units: Units) -> String {
    let number = |value: f64| write::trimmed(value, 2);
    let unit = row.kind.unit();
    let difference = row.used - row.estimated;
    let sign = if difference > 0.0 { "+" } else { "" };
    let ratio = row.ratio().map_or(String::new(), |r| write::fixed(r, 2));
    let implied = row.implied.as_ref().map_or(String::new(), |implied| {
        format!(
            "      that is {} {}; book {}\n",
            clean(&implied.key.dotted()),
            implied.key.written(implied.value, units),
            implied.key.written(implied.book, units)
        )
    });
    let name = format!("{}, {unit}", clean(&row.item));
    let line = format!(
        "  {name:<36} {:>10} {:>10} {:>11} {ratio:>7}",
        number(row.estimated),
        number(row.used),
        format!("{sign}{}", number(difference))
    );
    format!("{}\n{implied}", line.trim_end())
}

/// What the jobs say about one value, with the spread.
fn verdict_text(verdict: &Verdict, units: Units) -> String {
    let written = |value: f64| verdict.key.written(value, units);
    let spread = spread(verdict, units);
    let what = match verdict.outcome {
        Outcome::Change => format!("change to {}", written(verdict.median)),
        Outcome::AsItIs => "leave as it is".to_owned(),
        Outcome::TooFew => format!("no change: fewer than {LEAST_JOBS} jobs have a record of it"),
        Outcome::Disagree | Outcome::NoRate => {
            "no change: the jobs differ too much among themselves".to_owned()
        }
    };
    let (key, book) = (clean(&verdict.key.dotted()), written(verdict.book));
    format!("{key}: book {book}, {spread}: {what}")
}

/// `3 jobs 14% to 18%, median 16%`.
fn spread(verdict: &Verdict, units: Units) -> String {
    let written = |value: f64| verdict.key.written(value, units);
    let count = verdict.values.len();
    let (least, most) = (verdict.values.first(), verdict.values.last());
    match (least, most, count) {
        (Some(one), _, 1) => format!("1 job {}", written(*one)),
        (Some(least), Some(most), _) => format!(
            "{count} jobs {} to {}, median {}",
            written(*least),
            written(*most),
            written(verdict.median)
        ),
        _ => "no job".to_owned(),
    }
}

/// What the jobs say about one kind of work, with the spread.
fn work_text(work: &Learned, units: Units) -> String {
    let what = match work.outcome {
        Outcome::Change => "change to these",
        Outcome::AsItIs => "leave as it is",
        Outcome::TooFew => &format!("no change: fewer than {LEAST_JOBS} jobs have a record of it"),
        Outcome::Disagree => "no change: the jobs differ too much among themselves",
        Outcome::NoRate => {
            "no change: the hours leave no time beside the set-up, or more work took no longer"
        }
    };
    let name = work.kind.name();
    let (book, learned) = (book(work, units), learned(work, units));
    format!("days: works: {name}: book {book}; {learned}: {what}")
}

/// `set_up 15 min, rate 120 ft/h`, as the book has it.
fn book(work: &Learned, units: Units) -> String {
    let set_up = work.set_up.map(|set_up| set_up.book);
    let set_up = set_up.map(|book_s| format!("set_up {}", write::span(book_s)));
    let rates = work
        .rates
        .iter()
        .map(|rate| format!("{} {}", rate.key.word(), rate.form.written(rate.book, units)));
    set_up.into_iter().chain(rates).collect::<Vec<_>>().join(", ")
}

/// `3 jobs: set_up 12 min ± 2 min, rate 105 ft/h ± 4 ft/h, none further than 6% from the fit`; without
/// a fit the jobs alone. Which jobs are off, and which are left out, follows.
fn learned(work: &Learned, units: Units) -> String {
    let word = if work.jobs == 1 { "job" } else { "jobs" };
    let mut out = format!("{} {word}", work.jobs);
    let fitted = matches!(work.outcome, Outcome::Change | Outcome::AsItIs);
    if fitted {
        let set_up = work.set_up.map(|set_up| {
            let value = write::span(set_up.value);
            match set_up.origin {
                Origin::Jobs(error_s) => format!("set_up {value} ± {}", write::span(error_s)),
                Origin::Book => format!(
                    "set_up {value} as the book has it (the largest job is not {} times the smallest: too alike to tell it from the rate)",
                    write::trimmed(SIZES, 1)
                ),
                Origin::Nothing => format!("set_up {value} (it comes out below nothing)"),
            }
        });
        let rates = work.rates.iter().map(|rate| {
            let written = |value| rate.form.written(value, units);
            let (value, error) = (written(rate.value), written(rate.error));
            format!("{} {value} ± {error}", rate.key.word())
        });
        let numbers: Vec<String> = set_up.into_iter().chain(rates).collect();
        out += &format!(
            ": {}, none further than {}% from the fit",
            numbers.join(", "),
            write::trimmed(work.spread * 100.0, 0)
        );
    }
    if !work.off.is_empty() {
        let left_out = if fitted { "left out, " } else { "" };
        out += &format!(
            "; {left_out}further than {}% from the fit: {}",
            write::trimmed(AGREE * 100.0, 0),
            names(&work.off)
        );
    }
    if !work.other_book.is_empty() {
        let jobs = names(&work.other_book);
        out += &format!("; left out, planned by another shop book: {jobs}");
    }
    out
}

fn names(jobs: &[String]) -> String {
    let clean: Vec<String> = jobs.iter().map(|job| clean(job)).collect();
    clean.join("; ")
}

/// The suggested change of the shop book; `None` where nothing is suggested. Layers stand in comments:
/// a list in a shop's own book replaces the whole list.
#[must_use]
pub fn yaml(found: &Suggestion, units: Units) -> Option<String> {
    let changes: Vec<&Verdict> =
        found.values.iter().filter(|verdict| verdict.outcome == Outcome::Change).collect();
    let works = works_yaml(&found.works, units);
    if changes.is_empty() && works.is_empty() {
        return None;
    }
    let mut out = String::from(
        "# Suggested by closed jobs; take over what you agree with.\nslabwalk_shop: 1\n",
    );
    let mut open: Vec<String> = Vec::new();
    for verdict in changes {
        let value = match verdict.key.form {
            // A book holds no waste below nothing.
            Form::Waste => verdict.median.max(0.0),
            _ => verdict.median,
        };
        let written = verdict.key.written(value, units);
        let book = verdict.key.written(verdict.book, units);
        let why = format!("{}; the book had {book}", spread(verdict, units));
        let path = &verdict.key.path;
        let Some((last, parents)) = path.split_last() else {
            continue;
        };
        // More than all over again is no waste that a book holds, and a list of layers is replaced
        // as a whole: both are said and left to the shop.
        let beyond = verdict.key.form == Form::Waste && value > 1.0;
        if beyond || verdict.key.is_of_a_layer() {
            out += &comment("", &why);
            out += &format!("# {}: {written}\n", clean(&verdict.key.dotted()));
            continue;
        }
        for (depth, parent) in parents.iter().enumerate() {
            if open.get(depth) != Some(parent) {
                open.truncate(depth);
                open.push(parent.clone());
                out += &format!("{}{parent}:\n", "  ".repeat(depth));
            }
        }
        open.truncate(parents.len());
        let indent = "  ".repeat(parents.len());
        out += &comment(&indent, &why);
        out += &format!("{indent}{last}: {written}\n");
    }
    Some(out + &works)
}

/// A comment of a YAML file, in lines that are shown whole.
fn comment(indent: &str, text: &str) -> String {
    let lead = format!("{indent}# ");
    let lines = set_in(text, lead.len());
    lines.lines().map(|line| format!("{lead}{line}\n")).collect()
}

/// The suggested set-ups and rates; empty where none is suggested.
fn works_yaml(works: &[Learned], units: Units) -> String {
    let mut out = String::new();
    for work in works.iter().filter(|work| work.outcome == Outcome::Change) {
        if out.is_empty() {
            out += "days:\n  works:\n";
        }
        let set_up = work.set_up.filter(|set_up| set_up.origin != Origin::Book);
        let set_up = set_up.map(|set_up| format!("set_up: {}", write::span(set_up.value)));
        let rates = work.rates.iter().map(|rate| {
            let value = rate.form.written(rate.value, units);
            format!("{}: {value}", rate.key.word())
        });
        let numbers: Vec<String> = set_up.into_iter().chain(rates).collect();
        let (why, book) = (learned(work, units), book(work, units));
        out += &comment("    ", &format!("{why}; the book had {book}"));
        out += &format!("    {}: {{{}}}\n", work.kind.name(), numbers.join(", "));
    }
    out
}

/// The rows of all jobs for a spreadsheet.
#[must_use]
pub fn csv(jobs: &[CloseOut]) -> String {
    let mut table = Table::new(&[
        "job",
        "item",
        "unit",
        "estimated",
        "ordered",
        "used",
        "difference",
        "ratio",
        "key",
        "implied",
        "book",
    ]);
    for job in jobs {
        for row in &job.rows {
            let implied = row.implied.as_ref();
            let written = |value: fn(&Implied) -> f64| {
                or_empty(implied.map(|i| i.key.written(value(i), job.units)))
            };
            table.row(&[
                &job.job,
                &row.item,
                &row.kind.unit(),
                &write::trimmed(row.estimated, 4),
                &or_empty(row.ordered),
                &write::trimmed(row.used, 4),
                &write::trimmed(row.used - row.estimated, 4),
                &or_empty(row.ratio().map(|ratio| write::fixed(ratio, 4))),
                &or_empty(implied.map(|implied| implied.key.dotted())),
                &written(|implied| implied.value),
                &written(|implied| implied.book),
            ]);
        }
    }
    table.done()
}

/// The close-out for scripts. Implied values are in SI: shares of one, L, m/h, m²/h, L/h, m²/L, kg/m², m;
/// set-ups in seconds.
#[must_use]
pub fn json(jobs: &[CloseOut], found: &Suggestion) -> String {
    #[derive(Serialize)]
    struct Document<'a> {
        jobs: Vec<JobJson<'a>>,
        shop_book: &'a [Verdict],
        works: Vec<WorkJson<'a>>,
    }
    document(&Document {
        jobs: jobs.iter().map(JobJson::new).collect(),
        shop_book: &found.values,
        works: found.works.iter().map(WorkJson::new).collect(),
    })
}

#[derive(Serialize)]
struct JobJson<'a> {
    job: JobNumber<'a>,
    #[serde(flatten)]
    closed: &'a CloseOut,
    rows: Vec<RowJson<'a>>,
}

#[derive(Serialize)]
struct RowJson<'a> {
    #[serde(flatten)]
    row: &'a Row,
    ratio: Option<f64>,
}

impl<'a> JobJson<'a> {
    fn new(closed: &'a CloseOut) -> Self {
        Self {
            job: JobNumber { name: &closed.job, number: closed.number.as_deref() },
            closed,
            rows: closed.rows.iter().map(|row| RowJson { row, ratio: row.ratio() }).collect(),
        }
    }
}

#[derive(Serialize)]
struct WorkJson<'a> {
    work: Kind,
    jobs: usize,
    set_up: Option<SetUpJson>,
    rates: Vec<RateJson>,
    spread: Option<f64>,
    off: &'a [String],
    other_book: &'a [String],
    outcome: Outcome,
}

#[derive(Serialize)]
struct SetUpJson {
    book_s: f64,
    value_s: Option<f64>,
    error_s: Option<f64>,
    from: &'static str,
}

#[derive(Serialize)]
struct RateJson {
    key: trade::Key,
    book: f64,
    value: Option<f64>,
    error: Option<f64>,
}

impl<'a> WorkJson<'a> {
    /// Without a fit there are no numbers but those of the book.
    fn new(work: &'a Learned) -> Self {
        let fitted = matches!(work.outcome, Outcome::Change | Outcome::AsItIs);
        let learned = |value: f64| fitted.then_some(value);
        let set_up = |set_up: SetUp| {
            let (from, error_s) = match set_up.origin {
                Origin::Jobs(error_s) => ("jobs", Some(error_s)),
                Origin::Book => ("book", None),
                Origin::Nothing => ("nothing", None),
            };
            SetUpJson { book_s: set_up.book, value_s: learned(set_up.value), error_s, from }
        };
        let rate = |rate: &Rate| RateJson {
            key: rate.key,
            book: rate.book,
            value: learned(rate.value),
            error: learned(rate.error),
        };
        Self {
            work: work.kind,
            jobs: work.jobs,
            set_up: work.set_up.map(set_up),
            rates: work.rates.iter().map(rate).collect(),
            spread: learned(work.spread),
            off: &work.off,
            other_book: &work.other_book,
            outcome: work.outcome,
        }
    }
}
