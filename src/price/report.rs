//! The owner's price as text, CSV and JSON. Not for the customer: it shows cost.

use crate::trade::words::said;
use rust_decimal::Decimal;
use serde::Serialize;

use super::model::{BuildUp, Line, Price, Section, UnitBuildUp};
use super::{MARGIN_NOT_MARKUP, UNIT_PRICE_TOLERANCE_PERCENT};
use crate::floor::Survey;
use crate::hold::say;
use crate::quantity::Money;
use crate::report::csv::{Cell, Table, or_empty};
use crate::report::json::Head;
use crate::shop::{Prices, Profile, Rate};
use crate::text::clean;
use crate::text::json::document;

/// What is said where built-in examples went into a price.
pub const EXAMPLE_PRICES: &str = "EXAMPLE PRICES: numbers marked * are the built-in examples, invented and nobody's. \
Set your own under `prices:` in the shop book before anyone sees this price.";

/// Width of the column of items.
const ITEM: usize = 36;

/// The files of the price for a packet: name and text.
#[must_use]
pub fn pieces(floor: &Survey, price: &Price) -> Vec<(String, String)> {
    vec![
        ("price.txt".to_owned(), text(floor, price)),
        ("price.csv".to_owned(), csv(floor, price)),
        ("price.json".to_owned(), json(floor, price)),
    ]
}

/// The price for the owner, every line with the quantity it was reached from.
#[must_use]
pub fn text(floor: &Survey, price: &Price) -> String {
    let name = clean(&floor.sketch.job.name);
    let mut out =
        format!("PRICE: {name}\nThe owner's sheet: it shows cost. Not for the customer.\n");
    let price_is = price.base.price.with(&price.currency);
    out += &format!("The price is {price_is}.\n");
    out += &say::text(&floor.holds);
    for sentence in say::not_priced(&floor.holds, &say::by_id) {
        out += &format!("\n{sentence}\n");
    }
    if price.example {
        out += &format!("\n{EXAMPLE_PRICES}\n");
    }
    build_up(&mut out, &price.base, &price.currency, &floor.shop.prices);
    out += &format!("\n{MARGIN_NOT_MARKUP}\n{}\n", markup(price.base.shares.margin));
    alternates(&mut out, price);
    let prices = &floor.shop.prices;
    unit_prices(&mut out, price, prices.unit_margin.is_example());
    not_to_exceed(&mut out, price, &prices.not_to_exceed);
    out += "\nQuantities are for estimating. Tax is taken as the shop book says; what is taxed, and where, is for local law.\n";
    crate::text::folded(&out)
}

/// The markup that the margin comes to, for those who think in it.
fn markup(margin: Decimal) -> String {
    let markup = margin.checked_div(Decimal::ONE - margin).unwrap_or_default();
    format!(
        "A margin of {}% is a markup of {}% on the cost.",
        percent(margin.round_dp(4)),
        percent(markup.round_dp(4))
    )
}

fn percent(share: Decimal) -> Decimal {
    (share * Decimal::ONE_HUNDRED).normalize()
}

/// The mark of a built-in example.
const fn star(example: bool) -> &'static str {
    if example { "*" } else { "" }
}

fn build_up(out: &mut String, base: &BuildUp, currency: &str, prices: &Prices) {
    for section in Section::ALL {
        let lines: Vec<&Line> = base.lines.iter().filter(|line| line.section == section).collect();
        if lines.is_empty() {
            continue;
        }
        *out += &format!("\n{}\n", section.word().to_uppercase());
        for line in &lines {
            *out += &line_text(line);
        }
        if lines.len() > 1 {
            *out += &sum(section.word(), base.section(section), "");
        }
    }
    *out += "\nPRICE\n";
    *out += &sum("direct cost", base.direct, currency);
    *out += &sum("cost", base.cost, currency);
    *out += &sum(&format!("cost ÷ (1 − {}%)", percent(base.shares.sum())), base.asked, currency);
    for (rate, name, amount) in [
        (&prices.minimum, "up to the least charge,", base.to_minimum),
        (&prices.round, "rounding to", base.rounding),
    ] {
        if amount != Money::ZERO {
            let star = star(rate.is_example());
            let unit = Money::rounded(rate.amount).with(currency);
            *out += &sum(&format!("{name} {unit}{star}"), amount, currency);
        }
    }
    *out += &sum("price", base.price, currency);
    *out += "\nWHERE THE PRICE GOES\n";
    *out += &sum("cost", base.cost, currency);
    for (rate, name, amount) in [
        (&prices.warranty, "warranty reserve", base.warranty),
        (&prices.card_fee, "card fee", base.card_fee),
    ] {
        if amount != Money::ZERO {
            *out += &sum(&of_the_price(name, rate), amount, currency);
        }
    }
    *out += &sum(&of_the_price("margin", &prices.margin), base.margin, currency);
}

/// `margin, 30%* of the price`; what is left over differs from it by the least charge and rounding.
fn of_the_price(name: &str, rate: &Rate) -> String {
    let star = star(rate.is_example());
    format!("{name}, {}%{star} of the price", percent(rate.amount))
}

fn sum(name: &str, amount: Money, currency: &str) -> String {
    let amount = amount.with(currency);
    format!("  {name:<ITEM$} {:>25} {amount:>12}\n", "")
}

/// `joint filler    9 packages × 25.00*    225.00`, and below it where the quantity comes from, unless that says the same.
fn line_text(line: &Line) -> String {
    let (amount, item) = (line.amount.with(""), clean(&line.item));
    let star = if line.example { "*" } else { " " };
    let times = format!("{}{star}", reckoned(line));
    let name = said(&item);
    let mut out = format!("  {name:<ITEM$} {times:>25} {amount:>12}\n");
    let from = clean(&line.from);
    if !from.starts_with(&format!("days: {item}, ")) {
        out += &format!("      {}\n", said(&from));
    }
    out
}

fn reckoned(line: &Line) -> String {
    if line.unit.is_empty() {
        let of = Money::rounded(line.quantity).with("");
        return format!("{}% of {of}", percent(line.rate));
    }
    let plural = match line.unit {
        "package" | "day" | "trip" | "bag" | "job" if line.quantity != Decimal::ONE => "s",
        _ => "",
    };
    format!("{} {}{plural} × {}", line.quantity, line.unit, rate(line.rate))
}

/// A rate with at least two decimals.
fn rate(amount: Decimal) -> String {
    let mut shown = amount.normalize();
    if shown.scale() < 2 {
        shown.rescale(2);
    }
    shown.to_string()
}

fn alternates(out: &mut String, price: &Price) {
    if price.alternates.is_empty() {
        return;
    }
    *out += "\nALTERNATES, each computed anew for the whole job\n";
    for alternate in &price.alternates {
        let more = if alternate.difference < Money::ZERO { "less" } else { "more" };
        let difference = if alternate.difference < Money::ZERO {
            -alternate.difference
        } else {
            alternate.difference
        };
        *out += &format!(
            "  {}: {} {more}, {} in all (cost {})\n      {}\n{}",
            clean(&alternate.name),
            difference.with(&price.currency),
            alternate.whole.price.with(&price.currency),
            alternate.whole.cost.with(&price.currency),
            clean(&alternate.change),
            goods_and_hours(&alternate.whole, &price.base)
        );
    }
}

/// What is bought otherwise than for the job as sketched, and the hours of both.
fn goods_and_hours(whole: &BuildUp, base: &BuildUp) -> String {
    fn bought(of: &BuildUp) -> impl Iterator<Item = &Line> {
        let lines = of.lines.iter();
        lines.filter(|line| line.section == Section::Materials)
    }
    let count = |of: &BuildUp, item: &str| -> Decimal {
        let lines = bought(of).filter(|line| line.item == item);
        lines.map(|line| line.quantity).sum()
    };
    let gone = bought(base).filter(|line| count(whole, &line.item).is_zero());
    let mut out = String::new();
    for line in bought(whole).chain(gone) {
        let (was, is) = (count(base, &line.item), count(whole, &line.item));
        if was != is {
            out += &format!("      {}: {is} instead of {was}\n", said(&clean(&line.item)));
        }
    }
    out + &format!(
        "      {:.1} worker-hours instead of {:.1}; working days: {} instead of {}\n",
        whole.worker_h, base.worker_h, whole.days, base.days
    )
}

fn unit_prices(out: &mut String, price: &Price, margin_example: bool) {
    if price.unit_prices.is_empty() {
        return;
    }
    *out += &format!(
        "\nUNIT PRICES for concealed work, valid within {UNIT_PRICE_TOLERANCE_PERCENT}% of what was estimated; only the part beyond is priced anew\n"
    );
    for unit in &price.unit_prices {
        let shown = &unit.price;
        let rates = unit.lines.iter().any(|line| line.example);
        let star = star(!shown.agreed && (rates || margin_example));
        let agreed = if shown.agreed { "agreed; " } else { "" };
        let cost = match unit.lines.is_empty() {
            true => "no cost computed".to_owned(),
            false => format!("cost {}", Money::rounded(unit.cost).with(&price.currency)),
        };
        *out += &format!(
            "  {:>12}{star:<1} {:<13} {}\n                              {agreed}{cost}; {}\n",
            shown.amount.with(&price.currency),
            per(shown.unit),
            shown.name,
            clean(&shown.basis)
        );
    }
}

/// What a unit price is for one of: `a linear ft`.
fn per(unit: &str) -> String {
    match unit {
        "ft" | "m" => format!("a linear {unit}"),
        other => format!("a {other}"),
    }
}

/// The cap on what nobody could estimate.
fn not_to_exceed(out: &mut String, price: &Price, share: &Rate) {
    if price.unit_prices.is_empty() {
        return;
    }
    let percent = (share.amount * Decimal::ONE_HUNDRED).normalize();
    *out += &format!(
        "  Work of a kind of which nothing was estimated has no band: it goes at its unit price, not to exceed {} in all ({percent}%{} of the price), signed first\n",
        price.not_to_exceed.with(&price.currency),
        star(share.is_example())
    );
}

/// The price for a spreadsheet: the lines, the sums, alternates and unit prices.
#[must_use]
pub fn csv(floor: &Survey, price: &Price) -> String {
    let mut table =
        Table::new(&["section", "item", "quantity", "unit", "rate", "amount", "from", "example"]);
    for hold in &floor.holds {
        let (what, sentence) = say::cells(hold);
        table.some(&[("section", &"hold")], &[("item", &what), ("from", &sentence)]);
    }
    for sentence in say::not_priced(&floor.holds, &say::by_id) {
        table.some(&[("section", &"not in the price")], &[("from", &sentence)]);
    }
    for line in &price.base.lines {
        table.row(&[
            &line.section.word(),
            &line.item,
            &line.quantity,
            &line.unit,
            &line.rate.normalize(),
            &line.amount,
            &line.from,
            &if line.example { "yes" } else { "no" },
        ]);
    }
    let base = &price.base;
    let sums = [
        ("direct cost", base.direct, None),
        ("cost", base.cost, None),
        ("cost with shares of the price", base.asked, Some(base.shares.sum())),
        ("to the least charge", base.to_minimum, None),
        ("rounding", base.rounding, None),
        ("price", base.price, None),
        ("warranty", base.warranty, Some(base.shares.warranty)),
        ("card fee", base.card_fee, Some(base.shares.card_fee)),
        ("margin", base.margin, Some(base.shares.margin)),
    ];
    for (name, amount, share) in sums {
        let share = or_empty(share.map(|share| share.normalize()));
        let own: [Cell; 3] = [("item", &name), ("rate", &share), ("amount", &amount)];
        table.some(&[("section", &"sum")], &own);
    }
    for alternate in &price.alternates {
        let own: [Cell; 3] = [
            ("item", &alternate.name),
            ("amount", &alternate.difference),
            ("from", &alternate.change),
        ];
        table.some(&[("section", &"alternate")], &own);
    }
    for UnitBuildUp { price: unit, .. } in &price.unit_prices {
        let (amount, basis) = (unit.amount, &unit.basis);
        table.row(&[&"unit price", &unit.name, &1, &unit.unit, &amount, &amount, basis, &""]);
    }
    table.some(&[("section", &"not to exceed")], &[("amount", &price.not_to_exceed)]);
    table.done()
}

/// The price for scripts. Money and decimal numbers are texts, so that no cent is lost in binary.
#[must_use]
pub fn json(floor: &Survey, price: &Price) -> String {
    #[derive(Serialize)]
    struct Document<'a> {
        #[serde(flatten)]
        head: Head<'a>,
        not_in_the_price: Vec<String>,
        profile: Option<Profile>,
        #[serde(flatten)]
        price: &'a Price,
        unit_price_tolerance_percent: i64,
    }
    document(&Document {
        head: Head::of(floor),
        not_in_the_price: say::not_priced(&floor.holds, &say::by_id),
        profile: floor.profile(),
        price,
        unit_price_tolerance_percent: UNIT_PRICE_TOLERANCE_PERCENT,
    })
}
