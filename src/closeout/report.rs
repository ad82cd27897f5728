//! The close-out as text, CSV and JSON, and the suggested change of the shop book as YAML.

use serde_json::{Value, json};

use super::key::Form;
use super::model::{CloseOut, Outcome, Row, Verdict};
use super::suggest::{AGREE, CLOSE, LEAST_JOBS};
use crate::price::table::Table;
use crate::quantity::{Units, write};
use crate::takeoff::words::clean;

/// The files of a close-out without its plot: name and text. The suggestion only where there is one.
#[must_use]
pub fn pieces(jobs: &[CloseOut], verdicts: &[Verdict]) -> Vec<(String, String)> {
    let mut out = vec![
        ("closeout.txt".to_owned(), text(jobs, verdicts)),
        ("closeout.csv".to_owned(), csv(jobs)),
        ("closeout.json".to_owned(), json(jobs, verdicts)),
    ];
    let units = jobs.first().map_or(Units::Us, |job| job.units);
    out.extend(yaml(verdicts, units).map(|text| ("suggested-shop.yaml".to_owned(), text)));
    out
}

/// The close-out for people.
#[must_use]
pub fn text(jobs: &[CloseOut], verdicts: &[Verdict]) -> String {
    let mut out = String::from("CLOSE-OUT: used against estimated\n");
    for job in jobs {
        job_text(&mut out, job);
    }
    let units = jobs.first().map_or(Units::Us, |job| job.units);
    out += "\nSHOP BOOK\n";
    out += &format!(
        "  A change is suggested where at least {LEAST_JOBS} jobs have a record of it, each lies within {}% of their\n  median, and the median is more than {}% from the book. The suggestion is the median.\n",
        write::trimmed(AGREE * 100.0, 0),
        write::trimmed(CLOSE * 100.0, 0)
    );
    for verdict in verdicts {
        out += &format!("  {}\n", verdict_text(verdict, units));
    }
    match yaml(verdicts, units) {
        Some(yaml) => out += &format!("\n{yaml}"),
        None => out += "  No change is suggested.\n",
    }
    out
}

fn job_text(out: &mut String, job: &CloseOut) {
    let number = job.number.as_ref();
    let number = number.map_or(String::new(), |n| format!(", job {}", clean(n)));
    *out += &format!("\n{}{number}\n", clean(&job.job).to_uppercase());
    *out += &format!(
        "  {:<36} {:>10} {:>10} {:>11} {:>7}   implied\n",
        "", "estimated", "used", "difference", "ratio"
    );
    for row in &job.rows {
        *out += &row_text(row, job.units);
    }
    if !job.unrecorded.is_empty() {
        let names: Vec<String> = job.unrecorded.iter().map(|name| clean(name)).collect();
        *out += &format!("  no record of: {}\n", names.join("; "));
    }
    if let Some((rh, tested)) = job.moisture {
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
            "{} {}, book {}",
            clean(&implied.key.dotted()),
            implied.key.written(implied.value, units),
            implied.key.written(implied.book, units)
        )
    });
    let name = format!("{}, {unit}", clean(&row.item));
    let line = format!(
        "  {name:<36} {:>10} {:>10} {:>11} {ratio:>7}   {implied}",
        number(row.estimated),
        number(row.used),
        format!("{sign}{}", number(difference))
    );
    format!("{}\n", line.trim_end())
}

/// What the jobs say about one value, with the spread.
fn verdict_text(verdict: &Verdict, units: Units) -> String {
    let written = |value: f64| verdict.key.written(value, units);
    let spread = spread(verdict, units);
    let what = match verdict.outcome {
        Outcome::Change => format!("change to {}", written(verdict.median)),
        Outcome::AsItIs => "leave as it is".to_owned(),
        Outcome::TooFew => format!("no change: fewer than {LEAST_JOBS} jobs have a record of it"),
        Outcome::Disagree => "no change: the jobs differ too much among themselves".to_owned(),
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

/// The suggested change of the shop book; `None` where nothing is suggested. Layers stand in comments:
/// a list in a shop's own book replaces the whole list.
#[must_use]
pub fn yaml(verdicts: &[Verdict], units: Units) -> Option<String> {
    let changes: Vec<&Verdict> = verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Change)
        .collect();
    if changes.is_empty() {
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
        if beyond || path.first().is_some_and(|first| first == "systems") {
            out += &format!("# {}: {written}   # {why}\n", clean(&verdict.key.dotted()));
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
        out += &format!(
            "{}{last}: {written}   # {why}\n",
            "  ".repeat(parents.len())
        );
    }
    Some(out)
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
            let key = implied.map_or(String::new(), |i| i.key.dotted());
            let write_ = |value: Option<f64>| {
                let pair = implied.zip(value);
                pair.map_or(String::new(), |(i, v)| i.key.written(v, job.units))
            };
            table.row(&[
                &job.job,
                &row.item,
                row.kind.unit(),
                &write::trimmed(row.estimated, 4),
                &row.ordered.map_or(String::new(), |n| n.to_string()),
                &write::trimmed(row.used, 4),
                &write::trimmed(row.used - row.estimated, 4),
                &row.ratio().map_or(String::new(), |r| write::fixed(r, 4)),
                &key,
                &write_(implied.map(|i| i.value)),
                &write_(implied.map(|i| i.book)),
            ]);
        }
    }
    table.done()
}

/// The close-out for scripts. Implied values are in SI: shares of one, L, m/h, m²/h, m²/L, kg/m², m.
#[must_use]
pub fn json(jobs: &[CloseOut], verdicts: &[Verdict]) -> String {
    let jobs: Vec<Value> = jobs
        .iter()
        .map(|job| {
            json!({
                "job": {"name": job.job, "number": job.number},
                "rows": job.rows.iter().map(row_json).collect::<Vec<_>>(),
                "unrecorded": job.unrecorded,
                "moisture": job.moisture.map(|(rh, tested)| json!({"used": rh, "tested": tested})),
                "photos": job.photos,
                "note": job.note,
            })
        })
        .collect();
    let verdicts: Vec<Value> = verdicts
        .iter()
        .map(|verdict| {
            let values: Vec<f64> = verdict.values.iter().map(|v| nine(*v)).collect();
            json!({
                "key": verdict.key.path,
                "book": nine(verdict.book),
                "values": values,
                "median": nine(verdict.median),
                "outcome": match verdict.outcome {
                    Outcome::Change => "change",
                    Outcome::AsItIs => "as-it-is",
                    Outcome::TooFew => "too-few",
                    Outcome::Disagree => "disagree",
                },
            })
        })
        .collect();
    let whole = json!({"slabwalk": 1, "jobs": jobs, "shop_book": verdicts});
    format!("{whole:#}\n")
}

fn row_json(row: &Row) -> Value {
    let implied = row.implied.as_ref().map(|implied| {
        json!({"key": implied.key.path, "value": nine(implied.value), "book": nine(implied.book)})
    });
    json!({
        "item": row.item,
        "unit": row.kind.unit(),
        "estimated": nine(row.estimated),
        "ordered": row.ordered,
        "used": nine(row.used),
        "ratio": row.ratio().map(nine),
        "implied": implied,
    })
}

/// Rounded to nine decimals, so that a last bit never shows.
fn nine(value: f64) -> f64 {
    let rounded = (value * 1e9).round() / 1e9;
    if rounded == 0.0 { 0.0 } else { rounded }
}
