//! Materials in whole packages, and what is carried off.

use rust_decimal::Decimal;

use super::build::line;
use super::model::{Line, Section};
use crate::diagnostic::{Diagnostic, FileId};
use crate::order::{bags, dust, sundries, words};
use crate::shop::{Allowance, Prices};
use crate::survey::Survey;

/// A line for every product and small good that is bought.
pub(super) fn materials(floor: &Survey) -> Result<Vec<Line>, Vec<Diagnostic>> {
    let prices = &floor.shop.prices;
    let units = floor.slab.units;
    let (mut lines, mut faults) = (Vec::new(), Vec::new());
    for row in &floor.order.rows {
        let (packages, allowance) = match prices.allowance {
            Allowance::Half => (row.packages, ""),
            Allowance::NineInTen => (row.packages_p90, ", enough in nine of ten"),
        };
        let package = words::package(row.package, row.unit, units);
        let from = format!("order: {}, {packages} of {package}{allowance}", row.item);
        match good(floor, &row.item, packages, from) {
            Ok(line) => lines.push(line),
            Err(found) => faults.extend(found),
        }
    }
    for row in sundries(&floor.order, &floor.takeoff, &floor.shop, units) {
        let from = format!("order, to take along: {}, {}", row.item, row.count);
        match good(floor, row.item, row.count, from) {
            Ok(line) => lines.push(line),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        return Ok(lines);
    }
    Err(faults)
}

fn good(floor: &Survey, item: &str, packages: u64, from: String) -> Result<Line, Vec<Diagnostic>> {
    match floor.shop.prices.goods.get(item) {
        Some(rate) => {
            let count = (Decimal::from(packages), "package");
            Ok(line(Section::Materials, item, count, rate, from))
        }
        None => Err(vec![no_price(floor, item, packages)]),
    }
}

/// Something is bought that the shop book has no price for.
fn no_price(floor: &Survey, item: &str, packages: u64) -> Diagnostic {
    let prices: &Prices = &floor.shop.prices;
    let message = format!("the shop book has no price for `{item}`, and {packages} are bought");
    let key = match item.split_once(": ") {
        Some((system, layer)) => format!("{system}: {{{layer}: 24.50}}"),
        None => format!("{item}: 24.50"),
    };
    let fault = Diagnostic::error("price-missing", message).hint(format!(
        "add under `prices:`, `goods:` the price of one package: {key}"
    ));
    let named = floor.sketch.coating.system.as_ref();
    match (prices.origin.0.file, named) {
        (FileId::Shop, _) => fault.place(prices.origin.0).label("not among these prices"),
        (_, Some(system)) => fault.at(system.span),
        _ => fault,
    }
}

/// Bags of dust, carried off.
pub(super) fn disposal(floor: &Survey) -> Result<Vec<Line>, Vec<Diagnostic>> {
    let dust = dust(&floor.takeoff, &floor.shop);
    let count = bags(&dust, &floor.shop);
    if count == 0 {
        return Ok(Vec::new());
    }
    let works: Vec<&str> = dust.iter().map(|d| d.from).collect();
    let from = format!(
        "order, dust and disposal: {count} bags from {}",
        works.join(", ")
    );
    let rate = &floor.shop.prices.disposal;
    let quantity = (Decimal::from(count), "bag");
    Ok(vec![line(Section::Disposal, "dust", quantity, rate, from)])
}
