//! The change order as text, CSV and JSON. It shows unit prices and no cost, so that it can be handed
//! to the customer.

use rust_decimal::Decimal;
use serde::Serialize;

use super::model::{Beyond, Change, Concealed, ItemChange, KindTotal, Limit, Part};
use crate::hold::say;
use crate::price::UNIT_PRICE_TOLERANCE_PERCENT;
use crate::price::{unit_name, unit_of};
use crate::quantity::{Money, Units, write};
use crate::report::csv::{Cell, Table, or_empty};
use crate::report::json::JobNumber;
use crate::text::json::document;
use crate::text::{clean, folded};

/// Columns for the name of a kind of work or a package; a longer one stands on a line of its own.
const NAME: usize = 38;

/// The files of the change order: name and text.
#[must_use]
pub fn pieces(change: &Change) -> Vec<(String, String)> {
    vec![
        ("change.txt".to_owned(), text(change)),
        ("change.csv".to_owned(), csv(change)),
        ("change.json".to_owned(), json(change)),
    ]
}

/// The change order to be read and signed.
#[must_use]
pub fn text(change: &Change) -> String {
    let mut out = head(change);
    if change.items.is_empty() && change.unpriced.is_empty() {
        out += "\nNothing that is priced changed.\n";
        return out;
    }
    if !change.items.is_empty() {
        out += "\nWHAT CHANGED (numbered as in the triangles of the drawing)\n";
    }
    for item in &change.items {
        item_text(&mut out, item, change);
    }
    totals(&mut out, change);
    packages(&mut out, change);
    if !change.unpriced.is_empty() {
        out += "\nNOT PRICED HERE\n";
        for sentence in &change.unpriced {
            out += &format!("  {}\n", clean(sentence));
        }
    }
    signatures(&mut out, change);
    folded(&out)
}

fn head(change: &Change) -> String {
    let number = change.number.as_ref();
    let number = number.map_or(String::new(), |n| format!(", job {}", clean(n)));
    let revision = |name: &Option<String>| {
        name.as_ref().map_or("without a revision".to_owned(), |n| format!("revision {}", clean(n)))
    };
    let mut out = format!("CHANGE ORDER: {}{number}\n", clean(&change.job));
    out += &format!("From {} to {}.\n", revision(&change.from), revision(&change.to));
    out += &say::text(&change.holds);
    if change.example {
        let note = "EXAMPLE PRICES: unit prices here come from the built-in examples, invented and nobody's. Set your own under `prices:` in the shop book, or agree on `unit_prices:` in the sketch, before anyone signs this.";
        out += &format!("\n{note}\n");
    }
    out
}

fn item_text(out: &mut String, item: &ItemChange, change: &Change) {
    *out += &format!("\n{:>3}  {} ({})\n", item.number, clean(&item.id), item.how.word());
    *out += &format!("     {}\n", clean(&item.words));
    for part in &item.parts {
        *out += &part_text(part, change);
    }
    if item.parts.is_empty() {
        *out += "     nothing of it changes at the unit prices\n";
    }
    for beyond in &item.beyond {
        *out += &format!("     {}\n", beyond_text(beyond, change.units));
    }
}

/// `BEYOND THE AGREED UNIT (…, up to 1/2" wide): 20.0 ft are 1" wide. TO BE PRICED ANEW; …`
fn beyond_text(beyond: &Beyond, units: Units) -> String {
    let small = |m: f64| write::small(m, units);
    let sold = match beyond.before_m > 0.0 {
        true => format!(" instead of {}", write::run(beyond.before_m, units)),
        false => String::new(),
    };
    let (limit, found) = match beyond.limit {
        Limit::Wider { width_m, up_to_m } => {
            (format!("up to {} wide", small(up_to_m)), format!("are {} wide", small(width_m)))
        }
        Limit::Widened => ("as wide as it is".to_owned(), "have to be widened first".to_owned()),
    };
    format!(
        "BEYOND THE AGREED UNIT ({}, {limit}): {}{sold} {found}. TO BE PRICED ANEW; until then what changes stands here at the unit price.",
        unit_name(beyond.kind),
        write::run(beyond.after_m, units),
    )
}

fn part_text(part: &Part, change: &Change) -> String {
    let unit = unit_of(part.kind, change.units);
    let total = change.totals.iter().find(|total| total.kind == part.kind);
    let price = total.map_or(Money::ZERO, |total| total.price);
    let difference = signed(part.after - part.before);
    let times = format!("{difference} {unit} × {}", price.with(&change.currency));
    let name = unit_name(part.kind);
    let amount = plus(part.amount, &change.currency);
    row("     ", name, &format!("{times:>21} {amount:>13}"))
}

/// A difference with its sign: `+19.7`, `-2`.
fn signed(difference: Decimal) -> String {
    let plain = difference.normalize();
    if plain.is_sign_negative() { plain.to_string() } else { format!("+{plain}") }
}

fn plus(amount: Money, currency: &str) -> String {
    if amount < Money::ZERO { amount.with(currency) } else { format!("+{}", amount.with(currency)) }
}

fn totals(out: &mut String, change: &Change) {
    if change.totals.is_empty() {
        return;
    }
    *out += "\nBY KIND OF WORK\n";
    for total in &change.totals {
        let columns = format!(
            "{:>10} → {:<10} {:>13}",
            total.estimated.normalize().to_string(),
            format!("{} {}", total.actual.normalize(), total.unit),
            plus(total.amount, &change.currency)
        );
        *out += &row("  ", unit_name(total.kind), &columns);
        if let Some(beyond) = beyond(total) {
            *out += &format!("      {beyond}\n");
        }
    }
    let sum = plus(change.amount, &change.currency);
    *out += &row("  ", "change of the price", &format!("{:23} {sum:>13}", ""));
    let rule = format!(
        "Unit prices hold within {UNIT_PRICE_TOLERANCE_PERCENT}% of the estimated quantity of each kind of work; only the part beyond is priced anew. Until then it stands here at the unit price."
    );
    *out += &format!("\n{rule}\n");
    if let Some(concealed) = &change.concealed {
        *out += &format!("\n{}\n", concealed_text(concealed, &change.currency));
    }
}

/// Work of kinds of which nothing was estimated, against what was signed for.
fn concealed_text(concealed: &Concealed, currency: &str) -> String {
    let amount = concealed.amount.with(currency);
    let Some(most) = concealed.not_to_exceed else {
        return format!(
            "Of kinds of which nothing was estimated: {amount}. The job as sold has no price to take a not-to-exceed of: agree on an amount before this is done."
        );
    };
    let most = most.with(currency);
    let said = format!(
        "Of kinds of which nothing was estimated: {amount} at the agreed unit prices, not to exceed {most} in all without a new signature."
    );
    match concealed.over {
        Some(over) => format!(
            "{said} BEYOND THE NOT-TO-EXCEED by {}: sign for it before it is done.",
            over.with(currency)
        ),
        None => said,
    }
}

/// What lies beyond 15 % of the estimate.
fn beyond(total: &KindTotal) -> Option<String> {
    let (estimated, unit) = (total.estimated, total.unit);
    let limit = |percent: i64| (estimated * Decimal::new(percent, 2)).normalize();
    if estimated.is_zero() {
        return Some(
            "Nothing of this kind was estimated: at the unit price, within the not-to-exceed below."
                .to_owned(),
        );
    }
    if !total.over.is_zero() {
        let most = 100 + UNIT_PRICE_TOLERANCE_PERCENT;
        return Some(format!(
            "TO BE PRICED ANEW: {} {unit}, the part beyond {} {unit} ({most}% of {}).",
            total.over,
            limit(most),
            estimated.normalize()
        ));
    }
    if !total.under.is_zero() {
        let least = 100 - UNIT_PRICE_TOLERANCE_PERCENT;
        return Some(format!(
            "TO BE PRICED ANEW: {} {unit} missing, the part short of {} {unit} ({least}% of {}).",
            total.under,
            limit(least),
            estimated.normalize()
        ));
    }
    None
}

fn packages(out: &mut String, change: &Change) {
    if change.packages.is_empty() {
        return;
    }
    *out += "\nPACKAGES for the whole job\n";
    for package in &change.packages {
        let difference = i128::from(package.after) - i128::from(package.before);
        let columns = format!("{:>10} → {:<10} {difference:>+13}", package.before, package.after);
        *out += &row("  ", &clean(&package.item.to_string()), &columns);
    }
}

/// A name and what stands in columns after it.
fn row(indent: &str, name: &str, columns: &str) -> String {
    if name.chars().count() > NAME {
        return format!("{indent}{name}\n{indent}{:NAME$} {columns}\n", "");
    }
    format!("{indent}{name:<NAME$} {columns}\n")
}

fn signatures(out: &mut String, change: &Change) {
    let sum = plus(change.amount, &change.currency);
    *out += &format!("\nThe price of the job changes by {sum}.\n");
    if change.items.iter().any(|item| !item.beyond.is_empty()) {
        *out += "What lies beyond an agreed unit is not in it yet, but for its unit price.\n";
    }
    *out += "\nAgreed:  __________________________  date ____________   (customer)\n";
    *out += "\n         __________________________  date ____________   (contractor)\n";
    *out += "\nQuantities are as taped. Nothing here is an engineering opinion.\n";
}

/// The change order for a spreadsheet: a row for every part of every item, then the kinds of work.
#[must_use]
pub fn csv(change: &Change) -> String {
    let mut table = Table::new(&[
        "row",
        "number",
        "item",
        "change",
        "work",
        "unit",
        "before",
        "after",
        "unit_price",
        "amount",
        "to_be_priced_anew",
        "words",
    ]);
    for hold in &change.holds {
        let (what, sentence) = say::cells(hold);
        table.some(&[("row", &"hold")], &[("item", &what), ("words", &sentence)]);
    }
    for item in &change.items {
        let about: [Cell; 5] = [
            ("row", &"item"),
            ("number", &item.number),
            ("item", &item.id),
            ("change", &item.how.word()),
            ("words", &item.words),
        ];
        if item.parts.is_empty() {
            table.some(&about, &[("amount", &Money::ZERO)]);
        }
        for part in &item.parts {
            let total = change.totals.iter().find(|total| total.kind == part.kind);
            let own: [Cell; 6] = [
                ("work", &part.kind.key()),
                ("unit", &unit_of(part.kind, change.units)),
                ("before", &part.before),
                ("after", &part.after),
                ("unit_price", &or_empty(total.map(|total| total.price))),
                ("amount", &part.amount),
            ];
            table.some(&about, &own);
        }
    }
    for item in &change.items {
        for beyond in &item.beyond {
            let own: [Cell; 7] = [
                ("row", &"beyond"),
                ("number", &item.number),
                ("item", &item.id),
                ("change", &item.how.word()),
                ("work", &beyond.kind.key()),
                ("unit", &unit_of(beyond.kind, change.units)),
                ("words", &beyond_text(beyond, change.units)),
            ];
            table.some(&[], &own);
        }
    }
    for total in &change.totals {
        let own: [Cell; 7] = [
            ("work", &total.kind.key()),
            ("unit", &total.unit),
            ("before", &total.estimated),
            ("after", &total.actual),
            ("unit_price", &total.price),
            ("amount", &total.amount),
            ("to_be_priced_anew", &(total.over + total.under)),
        ];
        table.some(&[("row", &"kind")], &own);
    }
    for row in &change.packages {
        let own: [Cell; 4] = [
            ("item", &row.item),
            ("unit", &"package"),
            ("before", &row.before),
            ("after", &row.after),
        ];
        table.some(&[("row", &"packages")], &own);
    }
    if let Some(concealed) = &change.concealed {
        let words = concealed_text(concealed, &change.currency);
        let own: [Cell; 2] = [("amount", &concealed.amount), ("words", &words)];
        table.some(&[("row", &"not estimated")], &own);
        let most = or_empty(concealed.not_to_exceed);
        table.some(&[("row", &"not to exceed")], &[("amount", &most)]);
    }
    table.some(&[("row", &"sum")], &[("amount", &change.amount)]);
    table.done()
}

/// The change order for scripts; money and decimal numbers are texts.
#[must_use]
pub fn json(change: &Change) -> String {
    #[derive(Serialize)]
    struct Document<'a> {
        job: JobNumber<'a>,
        #[serde(flatten)]
        change: &'a Change,
        unit_price_tolerance_percent: i64,
    }
    document(&Document {
        job: JobNumber { name: &change.job, number: change.number.as_deref() },
        change,
        unit_price_tolerance_percent: UNIT_PRICE_TOLERANCE_PERCENT,
    })
}
