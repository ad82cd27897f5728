//! The build-up: from lines of cost to the price.

use rust_decimal::Decimal;

use super::model::{BuildUp, Line, Price, Section};
use super::{alternate, goods, unit, work};
use crate::diagnostic::Diagnostic;
use crate::quantity::Money;
use crate::schedule::{Plan, plan};
use crate::survey::Survey;

/// The price of a floor, with its alternates and unit prices.
///
/// # Errors
///
/// A product that is bought has no price in the shop book; the job takes longer than can be
/// planned; an alternate names an unknown system.
pub fn price(floor: &Survey) -> Result<Price, Vec<Diagnostic>> {
    let base = build_up(floor);
    let unit_prices = unit::unit_prices(floor);
    let (mut faults, mut alternates) = (Vec::new(), Vec::new());
    if let Ok(base) = &base {
        for wanted in &floor.sketch.price.alternates {
            match alternate::alternate(floor, wanted, base) {
                Ok(done) => alternates.push(done),
                Err(found) => faults.extend(found),
            }
        }
    }
    let base = match base {
        Ok(base) if faults.is_empty() => base,
        Ok(_) => return Err(faults),
        Err(found) => return Err(found),
    };
    let not_to_exceed = not_to_exceed(floor, base.price);
    let example = base.lines.iter().any(|line| line.example)
        || floor.shop.prices.margin.is_example()
        || alternates
            .iter()
            .any(|a| a.whole.lines.iter().any(|line| line.example))
        || unit_prices.iter().any(|unit| {
            let rates = unit.lines.iter().any(|line| line.example);
            !unit.price.agreed && (rates || floor.shop.prices.unit_margin.is_example())
        })
        || floor.shop.prices.not_to_exceed.is_example();
    Ok(Price {
        currency: floor.shop.prices.currency.clone(),
        units: floor.slab.units,
        base,
        alternates,
        unit_prices,
        not_to_exceed,
        example,
    })
}

/// Cost and price of one floor as it is, without alternates.
///
/// # Errors
///
/// As [`price`].
pub fn build_up(floor: &Survey) -> Result<BuildUp, Vec<Diagnostic>> {
    let plan = plan(floor);
    planned(&plan)?;
    let mut lines = goods::materials(floor)?;
    lines.extend(tax(&lines, floor));
    lines.extend(work::labor(floor, &plan)?);
    let travel = work::travel(floor, &plan)?;
    let (hours, driven) = travel
        .into_iter()
        .partition::<Vec<Line>, _>(|line| line.section == Section::Labor);
    lines.extend(hours);
    lines.extend(work::equipment(floor, &plan));
    lines.extend(driven);
    lines.extend(goods::disposal(floor)?);
    Ok(total(lines, floor))
}

/// The most that concealed work of which nothing was estimated may come to before the customer signs
/// for more: a share of the price of the job as sketched, rounded to cents.
#[must_use]
pub fn not_to_exceed(floor: &Survey, price: Money) -> Money {
    Money::rounded(price.decimal() * floor.shop.prices.not_to_exceed.amount)
}

/// Every sum and share above the lines of direct cost.
fn total(mut lines: Vec<Line>, floor: &Survey) -> BuildUp {
    let prices = &floor.shop.prices;
    let direct: Money = lines.iter().map(|line| line.amount).sum();
    if direct != Money::ZERO && !prices.overhead.amount.is_zero() {
        lines.push(share(
            Section::Overhead,
            "overhead",
            direct,
            &prices.overhead,
            "share of the direct cost: materials, tax, labor, equipment, travel, disposal",
        ));
    }
    let cost: Money = lines.iter().map(|line| line.amount).sum();
    let margin_share = prices.margin.amount;
    let price = with_margin(cost.decimal(), margin_share);
    BuildUp {
        lines,
        direct,
        cost,
        margin_share,
        margin: price - cost,
        price,
    }
}

/// cost ÷ (1 − margin), rounded to cents. The shop book refuses a margin of 100 % or more; one that
/// got here all the same adds nothing.
#[must_use]
pub fn with_margin(cost: Decimal, margin: Decimal) -> Money {
    let left = Decimal::ONE - margin;
    Money::rounded(cost.checked_div(left).unwrap_or(cost))
}

/// Tax on the materials, unless the sketch says that this job has none.
fn tax(materials: &[Line], floor: &Survey) -> Option<Line> {
    let rate = &floor.shop.prices.tax;
    if floor.sketch.price.tax == Some(false) || rate.amount.is_zero() {
        return None;
    }
    let taxed: Money = materials.iter().map(|line| line.amount).sum();
    (taxed != Money::ZERO).then(|| {
        share(
            Section::Tax,
            "tax on materials",
            taxed,
            rate,
            "share of all materials, before overhead and margin",
        )
    })
}

fn share(section: Section, item: &str, of: Money, rate: &crate::shop::Rate, from: &str) -> Line {
    Line {
        section,
        item: item.into(),
        quantity: of.decimal(),
        unit: "",
        rate: rate.amount,
        amount: Money::rounded(of.decimal() * rate.amount),
        from: from.into(),
        example: rate.is_example(),
    }
}

/// A plan without days has no machine days and no trips to price.
fn planned(plan: &Plan) -> Result<(), Vec<Diagnostic>> {
    if plan.days.is_empty() && plan.worker_h > 0.0 {
        let message = "the job is too long to be planned and so to be priced".to_owned();
        let hint = plan.notes.first().cloned().unwrap_or_default();
        return Err(vec![Diagnostic::error("too-long", message).hint(hint)]);
    }
    Ok(())
}

/// A line of cost: the quantity as printed times the rate.
pub(super) fn line(
    section: Section,
    item: &str,
    (quantity, unit): (Decimal, &'static str),
    rate: &crate::shop::Rate,
    from: String,
) -> Line {
    Line {
        section,
        item: item.into(),
        quantity,
        unit,
        rate: rate.amount,
        amount: Money::rounded(quantity * rate.amount),
        from,
        example: rate.is_example(),
    }
}

/// The error for a quantity that no price can be computed from.
pub(super) fn beyond(item: &str) -> Vec<Diagnostic> {
    let message = format!("the quantity of {item} is beyond what can be priced");
    vec![Diagnostic::error("beyond-belief", message)]
}
