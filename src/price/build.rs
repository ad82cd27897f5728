//! The build-up: from lines of cost to the price.

use rust_decimal::{Decimal, RoundingStrategy};

use super::model::{BuildUp, Line, Price, Section, Shares};
use super::{alternate, goods, unit, work};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::floor::Survey;
use crate::quantity::Money;
use crate::schedule::{Plan, plan};
use crate::shop::{Prices, Rate};

/// What contingency and overhead are a share of.
const OF_DIRECT: &str =
    "share of the direct cost: materials, tax, labor, equipment, travel, disposal, mobilization";

/// The price of a floor, with its alternates and unit prices.
///
/// # Errors
///
/// A product that is bought has no price in the shop book; the job takes longer than can be
/// planned; an alternate names an unknown system.
pub fn price(floor: &Survey) -> Result<Price, Diagnostics> {
    let base = build_up(floor);
    let unit_prices = unit::unit_prices(floor);
    let (mut faults, mut alternates) = (Vec::new(), Vec::new());
    if let Ok(base) = &base {
        let own = alternate::own(floor);
        for wanted in floor.sketch.price.alternates.iter().chain(&own) {
            match alternate::alternate(floor, wanted, base) {
                Ok(done) => alternates.push(done),
                Err(found) => faults.extend(found),
            }
        }
    }
    let base = match base {
        Ok(base) if faults.is_empty() => base,
        Ok(_) => return Err(faults.into()),
        Err(found) => return Err(found),
    };
    let not_to_exceed = not_to_exceed(floor, base.price);
    let prices = &floor.shop.prices;
    let example = example(&base, prices)
        || alternates.iter().any(|a| example(&a.whole, prices))
        || unit_prices.iter().any(|unit| {
            let rates = unit.lines.iter().any(|line| line.example);
            !unit.price.agreed && (rates || prices.unit_margin.is_example())
        })
        || prices.not_to_exceed.is_example();
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
pub fn build_up(floor: &Survey) -> Result<BuildUp, Diagnostics> {
    let plan = plan(floor);
    planned(&plan)?;
    let mut lines = goods::materials(floor)?;
    lines.extend(tax(&lines, floor));
    lines.extend(work::labor(floor, &plan)?);
    let travel = work::travel(floor, &plan)?;
    let (hours, driven) =
        travel.into_iter().partition::<Vec<Line>, _>(|line| line.section == Section::Labor);
    lines.extend(hours);
    lines.extend(work::equipment(floor, &plan));
    lines.extend(driven);
    lines.extend(goods::disposal(floor)?);
    lines.extend(mobilization(&lines, floor));
    Ok(BuildUp { days: plan.days.len(), worker_h: plan.worker_h, ..total(lines, floor) })
}

/// The most that concealed work of which nothing was estimated may come to before the customer signs
/// for more: a share of the price of the job as sketched, rounded as the price is.
#[must_use]
pub fn not_to_exceed(floor: &Survey, price: Money) -> Money {
    let prices = &floor.shop.prices;
    let share = Money::rounded(price.decimal() * prices.not_to_exceed.amount);
    multiple(share, Money::ZERO, prices.round.amount)
}

/// Whether a built-in example went into a build-up: into a line of it, or into what stands above them.
pub(super) fn example(built: &BuildUp, prices: &Prices) -> bool {
    let above = [
        (&prices.warranty, built.warranty),
        (&prices.card_fee, built.card_fee),
        (&prices.minimum, built.to_minimum),
        (&prices.round, built.rounding),
    ];
    let counts = |(rate, amount): &(&Rate, Money)| rate.is_example() && *amount != Money::ZERO;
    prices.margin.is_example()
        || built.lines.iter().any(|line| line.example)
        || above.iter().any(counts)
}

/// Every sum and share above the lines of direct cost.
fn total(mut lines: Vec<Line>, floor: &Survey) -> BuildUp {
    let prices = &floor.shop.prices;
    let direct: Money = lines.iter().map(|line| line.amount).sum();
    let parts =
        [(Section::Contingency, &prices.contingency), (Section::Overhead, &prices.overhead)];
    for (section, rate) in parts {
        if direct != Money::ZERO && !rate.amount.is_zero() {
            lines.push(share(section, section.word(), direct, rate, OF_DIRECT));
        }
    }
    let cost: Money = lines.iter().map(|line| line.amount).sum();
    let shares = Shares {
        margin: prices.margin.amount,
        warranty: prices.warranty.amount,
        card_fee: prices.card_fee.amount,
    };
    let asked = with_shares(cost.decimal(), shares.sum());
    // Where nothing is done nothing is charged.
    let least =
        if lines.is_empty() { cost } else { cost.max(Money::rounded(prices.minimum.amount)) };
    let charged = asked.max(least);
    let price = multiple(charged, least, prices.round.amount);
    let part = |share: Decimal| Money::rounded(price.decimal() * share);
    let (warranty, card_fee) = (part(shares.warranty), part(shares.card_fee));
    BuildUp {
        lines,
        direct,
        cost,
        shares,
        asked,
        to_minimum: charged - asked,
        rounding: price - charged,
        price,
        warranty,
        card_fee,
        margin: price - cost - warranty - card_fee,
        days: 0,
        worker_h: 0.0,
    }
}

/// cost ÷ (1 − shares of the price), rounded to cents. The shop book refuses shares of 100 % or more;
/// what got here all the same adds nothing.
#[must_use]
pub fn with_shares(cost: Decimal, shares: Decimal) -> Money {
    let left = Decimal::ONE - shares;
    Money::rounded(cost.checked_div(left).unwrap_or(cost))
}

/// The nearest multiple of `round`, half of one up, but none below `least`: then the next one above.
/// To the cent where there is nothing to round to.
pub(super) fn multiple(charged: Money, least: Money, round: Decimal) -> Money {
    let Some(times) = charged.decimal().checked_div(round) else {
        return charged;
    };
    let at = |count: Decimal| Money::rounded(count * round);
    let near = at(times.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero));
    if near < least {
        return at(times.ceil());
    }
    near
}

/// Once a job, whatever its size; nothing where nothing is done.
fn mobilization(lines: &[Line], floor: &Survey) -> Option<Line> {
    let rate = &floor.shop.prices.mobilization;
    (!lines.is_empty() && !rate.amount.is_zero()).then(|| {
        let from = "once, whatever the size of the job".to_owned();
        let one = (Decimal::ONE, "job");
        line(Section::Mobilization, "mobilization", one, rate, from)
    })
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

fn share(section: Section, item: &str, of: Money, rate: &Rate, from: &str) -> Line {
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
fn planned(plan: &Plan) -> Result<(), Diagnostics> {
    if plan.days.is_empty() && plan.worker_h > 0.0 {
        let message = "the job is too long to be planned and so to be priced".to_owned();
        let hint = plan.notes.first().cloned().unwrap_or_default();
        return Err(Diagnostic::error("too-long", message).hint(hint).into());
    }
    Ok(())
}

/// A line of cost: the quantity as printed times the rate.
pub(super) fn line(
    section: Section,
    item: &str,
    (quantity, unit): (Decimal, &'static str),
    rate: &Rate,
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
