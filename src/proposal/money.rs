//! Prices as a customer sees them: the job, other ways to do it, and more of it.

use super::scope::heading;
use super::voice::Voice;
use crate::document::{Block, Column, Row, Table, Text};
use crate::hold::say::capital;
use crate::price::CustomerPrice;
use crate::quantity::Money;
use crate::text::clean;

/// The price, the alternates, the unit prices.
pub(super) fn prices(voice: &mut Voice) -> Vec<Block> {
    let price = voice.inputs.price;
    let total = Text::from("The whole job, as described above:");
    let total = Text([total.0, Text::strong(price.total.with(&price.currency)).0].concat());
    let mut out = vec![heading(2, "Price"), Block::Paragraph(total)];
    if !price.alternates.is_empty() {
        out.push(heading(3, "Other ways to do it"));
        out.push(Block::Paragraph(
            "Each of these takes the place of the price above. Put your initials beside the one you want.".into(),
        ));
        out.push(Block::Table(alternates(voice)));
    }
    if !price.unit_prices.is_empty() {
        out.push(heading(3, "If more is found"));
        out.extend(voice.paragraph("unit_prices"));
        out.push(Block::Table(units(price)));
    }
    out
}

fn row(cells: Vec<String>, total: bool) -> Row {
    Row { cells, total }
}

/// `+$120.00`, `−$80.00`, `no change`.
fn difference(amount: Money, currency: &str) -> String {
    let text = amount.with(currency);
    if amount == Money::default() {
        "no change".into()
    } else if text.starts_with(['-', '−']) {
        text
    } else {
        format!("+{text}")
    }
}

fn alternates(voice: &Voice) -> Table {
    let price = voice.inputs.price;
    let rows = price.alternates.iter().map(|a| {
        let name = capital(voice.plain(&a.name).trim_end_matches('.'));
        let what = format!("{name}. {}", voice.plain(&a.change));
        row(
            vec![
                what,
                a.total.with(&price.currency),
                difference(a.difference, &price.currency),
                "______".into(),
            ],
            false,
        )
    });
    Table {
        caption: String::new(),
        columns: vec![
            Column::left("Alternate"),
            Column::right("Price"),
            Column::right("Difference"),
            Column::right("Initials"),
        ],
        rows: rows.collect(),
        whole: true,
    }
}

fn units(price: &CustomerPrice) -> Table {
    let most = row(
        vec![
            "Work of a kind that was not estimated, at most".into(),
            "in all".into(),
            price.not_to_exceed.with(&price.currency),
        ],
        true,
    );
    let rows = price.unit_prices.iter().map(|u| {
        let name = clean(u.name);
        let basis = clean(&u.basis);
        let what = if basis.is_empty() { name } else { format!("{name}: {basis}") };
        let what = capital(&what);
        row(vec![what, u.unit.into(), u.amount.with(&price.currency)], false)
    });
    Table {
        caption: "Unit prices".into(),
        columns: vec![Column::left("Work"), Column::left("Unit"), Column::right("Price")],
        rows: rows.chain([most]).collect(),
        whole: false,
    }
}
