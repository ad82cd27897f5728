//! Materials in whole packages, and what is carried off.

use rust_decimal::Decimal;

use super::build::{beyond, line};
use super::model::{Line, Section};
use crate::diagnostic::{Diagnostic, Diagnostics, FileId};
use crate::floor::Survey;
use crate::order::{PART_PLACES, bags, carried, dust, words};
use crate::quantity::decimal;
use crate::shop::{Allowance, Charged, Prices};
use crate::trade::Ware;

/// A line for every product and small good that is bought.
pub(super) fn materials(floor: &Survey) -> Result<Vec<Line>, Diagnostics> {
    let prices = &floor.shop.prices;
    let units = floor.slab.units;
    let (mut lines, mut faults) = (Vec::new(), Vec::new());
    for row in &floor.order.rows {
        let allowance = match prices.allowance {
            Allowance::Half => "",
            Allowance::NineInTen => ", enough in nine of ten",
        };
        let package = words::package(row.package, row.unit, units);
        let from = |count| match row.charged {
            Charged::Whole => format!("order: {}, {count} of {package}{allowance}", row.item),
            Charged::Used => {
                format!("order: {}, what is used of packages of {package}{allowance}", row.item)
            }
        };
        match good(floor, &row.item.clone().into(), row.charged(prices.allowance), from) {
            Ok(line) => lines.extend(line),
            Err(found) => faults.extend(found),
        }
    }
    for row in carried(&floor.order, &floor.facts()) {
        let name = row.good.name();
        let (count, of) = match row.charged {
            Charged::Whole => (row.count as f64, String::new()),
            Charged::Used => (row.used, "what is used of ".to_owned()),
        };
        let from = |_| format!("order, to take along: {name}, {of}{}", row.count);
        match good(floor, &row.good.into(), count, from) {
            Ok(line) => lines.extend(line),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        return Ok(lines);
    }
    Err(faults.into())
}

/// A line of so many packages, parts of one to the thousandth, as printed. Less than half of that is
/// printed and priced as none, and so is what the shop pays for elsewhere: its price is nothing.
fn good(
    floor: &Survey,
    ware: &Ware,
    packages: f64,
    from: impl Fn(Decimal) -> String,
) -> Result<Option<Line>, Diagnostics> {
    let item = ware.to_string();
    let count = decimal(packages, PART_PLACES).ok_or_else(|| beyond(&item))?;
    let Some(rate) = floor.shop.prices.goods.get(&item) else {
        return Err(no_price(floor, ware, count).into());
    };
    let line = || line(Section::Materials, &item, (count, "package"), rate, from(count));
    Ok((!count.is_zero() && !rate.amount.is_zero()).then(line))
}

/// Something is bought that the shop book has no price for.
fn no_price(floor: &Survey, ware: &Ware, packages: Decimal) -> Diagnostic {
    let prices: &Prices = &floor.shop.prices;
    let verb = if packages == Decimal::ONE { "is" } else { "are" };
    let message = format!("the shop book has no price for `{ware}`, and {packages} {verb} bought");
    let key = match ware {
        Ware::Product(product) => product.priced("24.50"),
        Ware::Good(good) => format!("{}: 24.50", good.name()),
    };
    let fault = Diagnostic::error("price-missing", message)
        .hint(format!("add under `prices:`, `goods:` the price of one package: {key}"));
    let named = floor.sketch.coating.system.as_ref();
    match (prices.origin.0.file, named) {
        (FileId::Shop, _) => fault.place(prices.origin.0).label("not among these prices"),
        (_, Some(system)) => fault.at(system.span),
        _ => fault,
    }
}

/// Bags of dust, carried off.
pub(super) fn disposal(floor: &Survey) -> Result<Vec<Line>, Diagnostics> {
    let dust = dust(&floor.takeoff, &floor.shop);
    let count = bags(&dust, &floor.shop);
    if count == 0 {
        return Ok(Vec::new());
    }
    let works: Vec<&str> = dust.iter().map(|d| d.from).collect();
    let from = format!("order, dust and disposal: {count} bags from {}", works.join(", "));
    let rate = &floor.shop.prices.disposal;
    let quantity = (Decimal::from(count), "bag");
    Ok(vec![line(Section::Disposal, "dust", quantity, rate, from)])
}
