//! Unit prices for concealed work: the same build-up for one foot, square foot, bag or package.

use rust_decimal::{Decimal, RoundingStrategy};

use super::build::{multiple, with_shares};
use super::model::{Section, Shares, UnitBuildUp, UnitLine, UnitPrice};
use super::recipe::{Recipe, recipes};
use crate::floor::Survey;
use crate::quantity::{Money, Units, decimal};
use crate::shop::{Rate, Shop};
use crate::sketch::UnitKind;
use crate::trade::Good;

/// Decimals of quantities and amounts inside a unit price; only the price is rounded.
const PLACES: u32 = 8;
/// Seconds in an hour.
const S_PER_H: f64 = 3600.0;

/// The unit prices of a job: those agreed in the sketch, the others computed. A kind that needs a
/// product without a price in the shop book, or a coating system that the job doesn't have, is
/// left out unless it was agreed.
#[must_use]
pub fn unit_prices(floor: &Survey) -> Vec<UnitBuildUp> {
    recipes(floor)
        .into_iter()
        .filter_map(|recipe| {
            let agreed =
                floor.sketch.price.unit_prices.iter().find(|price| price.kind == recipe.kind);
            let computed = computed(&recipe, floor);
            match agreed {
                Some(agreed) => {
                    let (lines, cost) = computed.map_or_else(
                        || (Vec::new(), Decimal::ZERO),
                        |unit| (unit.lines, unit.cost),
                    );
                    let amount = Money::rounded(agreed.amount.value);
                    let price = named(&recipe, floor.slab.units, amount, true);
                    Some(UnitBuildUp { price, lines, cost })
                }
                None => computed,
            }
        })
        .collect()
}

fn named(recipe: &Recipe, units: Units, amount: Money, agreed: bool) -> UnitPrice {
    UnitPrice {
        kind: recipe.kind,
        name: name(recipe.kind),
        unit: unit(recipe.kind, units),
        basis: recipe.basis.clone(),
        widest_m: recipe.widest_m,
        amount,
        agreed,
    }
}

/// What a kind is called.
#[must_use]
pub const fn name(kind: UnitKind) -> &'static str {
    match kind {
        UnitKind::Joint => "joint, cut open, filled and shaved",
        UnitKind::JointOpen => "buried joint, opened",
        UnitKind::JointHonor => "joint, honored with rod and sealant",
        UnitKind::Crack => "crack, filled",
        UnitKind::CrackChase => "crack, cut open and filled",
        UnitKind::HandGrind => "floor ground by hand",
        UnitKind::Patch => "patch mortar, cut out and placed",
        UnitKind::Inject => "delamination, drilled and injected",
        UnitKind::Filler => "joint filler for a deeper or wider cut, placed",
        UnitKind::Floor => "additional floor, ground and coated",
    }
}

/// What one of a kind is, in the units of the sketch.
#[must_use]
pub const fn unit(kind: UnitKind, units: Units) -> &'static str {
    match (kind, units) {
        (UnitKind::Patch, _) => "bag",
        (UnitKind::Filler, _) => "package",
        (UnitKind::HandGrind | UnitKind::Inject | UnitKind::Floor, Units::Us) => "ft²",
        (UnitKind::HandGrind | UnitKind::Inject | UnitKind::Floor, Units::Metric) => "m²",
        (_, Units::Us) => "ft",
        (_, Units::Metric) => "m",
    }
}

/// The price of one by its recipe; `None` where something has no price.
fn computed(recipe: &Recipe, floor: &Survey) -> Option<UnitBuildUp> {
    let prices = &floor.shop.prices;
    let mut lines = Vec::new();
    for (item, packages) in &recipe.goods {
        let item = item.to_string();
        let rate = prices.goods.get(&item)?;
        let from = format!("{} of a package", decimal(*packages, 4)?);
        lines.push(part(Section::Materials, &item, *packages, rate, from)?);
    }
    let materials: Decimal = lines.iter().map(|line| line.amount).sum();
    if floor.sketch.price.tax != Some(false) {
        lines.extend(share(Section::Tax, materials, &prices.tax));
    }
    for effort in &recipe.efforts {
        let hours = effort.worker_h();
        let from = format!("{} worker hours", decimal(hours, 4)?);
        let name = effort.kind.name();
        lines.push(part(Section::Labor, name, hours, &prices.labor, from)?);
    }
    lines.extend(machines(recipe, &floor.shop)?);
    if recipe.dust_kg > 0.0 {
        let bags = recipe.dust_kg / floor.shop.wear.of(Good::DustBag).each;
        let from = format!("{} of a bag", decimal(bags, 4)?);
        lines.push(part(Section::Disposal, "dust", bags, &prices.disposal, from)?);
    }
    let direct: Decimal = lines.iter().map(|line| line.amount).sum();
    lines.extend(share(Section::Contingency, direct, &prices.contingency));
    lines.extend(share(Section::Overhead, direct, &prices.overhead));
    let cost: Decimal = lines.iter().map(|line| line.amount).sum();
    let shares = Shares {
        margin: prices.unit_margin.amount,
        warranty: prices.warranty.amount,
        card_fee: prices.card_fee.amount,
    };
    let asked = with_shares(cost, shares.sum());
    let least = Money::rounded(cost.round_dp_with_strategy(2, RoundingStrategy::AwayFromZero));
    let amount = multiple(asked, least, step(asked, prices.round.amount));
    let price = named(recipe, floor.slab.units, amount, false);
    Some(UnitBuildUp { price, lines, cost })
}

/// To what a unit price is rounded where prices of jobs are rounded to `round` (common practice): to the same, or to a part of it that
/// is no more than a twentieth of the price.
fn step(asked: Money, round: Decimal) -> Decimal {
    let parts = [1, 5, 20, 100].map(Decimal::from);
    let steps = parts.map(|part| round / part);
    let fine = |step: &Decimal| *step * Decimal::from(20) <= asked.decimal();
    steps.into_iter().find(fine).unwrap_or(steps[3])
}

/// Machines for the hours of their tasks, at the day's price over the hours of a day.
fn machines(recipe: &Recipe, shop: &Shop) -> Option<Vec<UnitLine>> {
    let day_h = shop.days.hours.s() / S_PER_H;
    let mut lines = Vec::new();
    for machine in &shop.prices.equipment {
        let hours: f64 = recipe
            .efforts
            .iter()
            .filter(|effort| machine.tasks.contains(&effort.kind))
            .map(|effort| effort.clock_h)
            .sum();
        if hours > 0.0 {
            let from = format!("{} of a day", decimal(hours / day_h, 4)?);
            lines.push(part(Section::Equipment, &machine.name, hours / day_h, &machine.day, from)?);
        }
    }
    Some(lines)
}

fn part(section: Section, item: &str, count: f64, rate: &Rate, from: String) -> Option<UnitLine> {
    Some(UnitLine {
        section,
        item: item.to_owned(),
        amount: (decimal(count, PLACES)? * rate.amount).round_dp(PLACES),
        from,
        example: rate.is_example(),
    })
}

fn share(section: Section, of: Decimal, rate: &Rate) -> Option<UnitLine> {
    let percent = (rate.amount * Decimal::ONE_HUNDRED).normalize();
    (!rate.amount.is_zero() && !of.is_zero()).then(|| UnitLine {
        section,
        item: section.word().to_owned(),
        amount: (of * rate.amount).round_dp(PLACES),
        from: format!("{percent}%"),
        example: rate.is_example(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_price_is_rounded_to_a_step_that_is_small_beside_it() {
        // What is asked, the multiple of the shop's prices, and what is written.
        let rows = [
            ("583.20", "5", "585.00"),
            ("100.00", "5", "100.00"),
            ("99.40", "5", "99.00"),
            ("58.71", "5", "59.00"),
            ("19.90", "5", "20.00"),
            ("7.23", "5", "7.25"),
            ("4.16", "5", "4.15"),
            ("0.32", "5", "0.30"),
            ("0.01", "5", "0.05"),
            ("583.20", "0", "583.20"),
            ("583.20", "1", "583.00"),
        ];
        for (asked, round, wanted) in rows {
            let (asked, round): (Decimal, Decimal) =
                (asked.parse().expect(asked), round.parse().expect(round));
            let asked = Money::rounded(asked);
            let written = multiple(asked, Money::rounded(Decimal::new(1, 2)), step(asked, round));
            assert_eq!(written.to_string(), wanted, "{asked} {round}");
        }
    }
}
