//! Two surveyed sketches of one job, item by item.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::model::{
    Beyond, Change, Concealed, How, ItemChange, ItemKind, KindTotal, Limit, PackageChange, Part,
};
use super::quantity::{Work, differences, works};
use super::variation::repricing;
use super::{same, words};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::floor::Survey;
use crate::price::{Section, UnitBuildUp, build_up, not_to_exceed, unit_prices};
use crate::quantity::Money;
use crate::sketch::UnitKind;

/// A width that much over what a unit price holds is read as the same, m.
const ALIKE_M: f64 = 1e-5;

/// Unit prices by kind.
type Prices = BTreeMap<UnitKind, UnitBuildUp>;

/// Compares two sketches of one job. `new` must have been surveyed with the shop book of `old`.
///
/// # Errors
///
/// The sketches are of different jobs, or work changed that has no unit price.
pub fn change(old: &Survey, new: &Survey) -> Result<Change, Diagnostics> {
    let apart = same::different_jobs(&old.sketch.job, &new.sketch.job);
    if !apart.is_empty() {
        let message = format!("these sketches are of different jobs: {}", apart.join("; "));
        let hint = "a change order compares two revisions of one job; name, number and site stay the same, `revision:` tells them apart";
        return Err(Diagnostic::error("different-jobs", message).hint(hint).into());
    }
    // A kind of work that the first sketch gives no reason for has its price from the second: nobody agreed on another.
    let both = unit_prices(new).into_iter().chain(unit_prices(old));
    let prices: Prices = both.map(|unit| (unit.price.kind, unit)).collect();
    let units = old.slab.units;
    let coated = [old, new].iter().all(|floor| floor.sketch.coating.system.is_some());
    let (before, after) = (works(old, units, coated), works(new, units, coated));
    let items = items(old, new, (&before, &after), &prices)?;
    let totals = totals(&items, &prices, &before, &after);
    let concealed = concealed(old, &totals);
    let rates = totals.iter().any(|total| {
        let unit = prices.get(&total.kind);
        unit.is_some_and(|u| !u.price.agreed && u.lines.iter().any(|line| line.example))
    });
    let example = rates || (concealed.is_some() && old.shop.prices.not_to_exceed.is_example());
    let mut unpriced = words::unpriced(old, new);
    if items.is_empty() && unpriced.is_empty() {
        unpriced.extend(moved(old, new));
    }
    Ok(Change {
        job: old.sketch.job.name.clone(),
        number: old.sketch.job.number.clone(),
        from: old.sketch.job.revision.clone(),
        to: new.sketch.job.revision.clone(),
        currency: old.shop.prices.currency.clone(),
        units,
        amount: items.iter().map(|item| item.amount).sum(),
        items,
        totals,
        concealed,
        holds: new.holds.clone(),
        packages: packages(old, new),
        unpriced,
        example,
    })
}

type Works = [((ItemKind, String), Work)];

/// Everything that changed, in the order of the kinds, then of the sketches.
fn items(
    old: &Survey,
    new: &Survey,
    (before, after): (&Works, &Works),
    prices: &Prices,
) -> Result<Vec<ItemChange>, Diagnostics> {
    let find = |list: &'_ Works, key: &(ItemKind, String)| {
        list.iter().find(|(k, _)| k == key).map(|(_, work)| work.clone())
    };
    let mut keys: Vec<(ItemKind, String)> = before.iter().map(|(key, _)| key.clone()).collect();
    let known: BTreeSet<_> = keys.iter().cloned().collect();
    keys.extend(after.iter().map(|(key, _)| key.clone()).filter(|key| !known.contains(key)));
    // Stable: within a kind the order of the sketches stays.
    keys.sort_by_key(|key| key.0);
    let (mut out, mut faults) = (Vec::new(), Vec::new());
    for key in keys {
        let (was, is) = (find(before, &key), find(after, &key));
        let Some(how) = how(was.as_ref(), is.as_ref()) else {
            continue;
        };
        match parts(was.as_ref(), is.as_ref(), prices) {
            Ok(parts) => out.push(ItemChange {
                number: out.len() + 1,
                kind: key.0,
                words: words::found(old, new, &key, (was.as_ref(), is.as_ref())),
                how,
                amount: parts.iter().map(|part| part.amount).sum(),
                beyond: beyond(was.as_ref(), is.as_ref(), prices),
                parts,
                id: key.1,
            }),
            Err(kind) => faults.push(no_unit_price(kind, &key.1)),
        }
    }
    if faults.is_empty() { Ok(out) } else { Err(faults.into()) }
}

/// How an item changed; `None` where nothing did that is treated or that the price hangs on.
fn how(was: Option<&Work>, is: Option<&Work>) -> Option<How> {
    match (was, is) {
        (None, None) => None,
        (None, Some(_)) => Some(How::Added),
        (Some(_), None) => Some(How::Removed),
        (Some(was), Some(is)) if was.treatment != is.treatment => Some(How::Treatment),
        (Some(was), Some(is)) if was.amounts == is.amounts => {
            (!differences(was, is).is_empty()).then_some(How::Otherwise)
        }
        (Some(was), Some(is)) => {
            let kinds: BTreeSet<_> = was.amounts.keys().chain(is.amounts.keys()).collect();
            let less =
                kinds.iter().all(|kind| amount(Some(is), **kind) <= amount(Some(was), **kind));
            Some(if less { How::Shrunk } else { How::Grown })
        }
    }
}

fn amount(work: Option<&Work>, kind: UnitKind) -> Decimal {
    let found = work.and_then(|work| work.amounts.get(&kind));
    found.copied().unwrap_or_default()
}

/// The parts of a change, or the kind of work that has no unit price.
fn parts(was: Option<&Work>, is: Option<&Work>, prices: &Prices) -> Result<Vec<Part>, UnitKind> {
    let mut out = Vec::new();
    for kind in UnitKind::ALL {
        let (before, after) = (amount(was, kind), amount(is, kind));
        if before == after {
            continue;
        }
        let price = prices.get(&kind).ok_or(kind)?.price.amount;
        out.push(Part {
            kind,
            before,
            after,
            amount: Money::rounded((after - before) * price.decimal()),
        });
    }
    Ok(out)
}

/// What changed of an item that its unit price doesn't take for granted: wider than it holds, or too
/// narrow to be sealed as it is.
fn beyond(was: Option<&Work>, is: Option<&Work>, prices: &Prices) -> Vec<Beyond> {
    let nothing = Work::default();
    let changed = differences(was.unwrap_or(&nothing), is.unwrap_or(&nothing));
    let some = changed.into_iter().filter_map(|(measure, before_m, after_m)| {
        let kind = measure.kind?;
        let limit = match (measure.width_m(), prices.get(&kind)?.price.widest_m?) {
            (width_m, _) if kind == UnitKind::JointHonor && width_m <= 0.0 => Limit::Widened,
            (width_m, up_to_m) if width_m > up_to_m + ALIKE_M => Limit::Wider { width_m, up_to_m },
            _ => return None,
        };
        Some(Beyond { kind, limit, before_m, after_m })
    });
    some.collect()
}

/// Work of kinds of which nothing was estimated, and the most that was signed for.
fn concealed(old: &Survey, totals: &[KindTotal]) -> Option<Concealed> {
    let new_kinds = || totals.iter().filter(|total| total.estimated.is_zero());
    new_kinds().next()?;
    let sold = build_up(old).ok();
    let amount = new_kinds().map(|total| total.amount).sum();
    Some(Concealed::new(amount, sold.map(|sold| not_to_exceed(old, sold.price))))
}

/// Says where the price of the whole job moves although no item does: by roundings.
fn moved(old: &Survey, new: &Survey) -> Option<String> {
    let (old, new) = (build_up(old).ok()?, build_up(new).ok()?);
    if old.price == new.price {
        return None;
    }
    let sections = Section::ALL.into_iter();
    let moved = sections.filter(|section| old.section(*section) != new.section(*section));
    let moved: Vec<&str> = moved.map(Section::word).collect();
    Some(format!(
        "The price of the whole job moves in {} by quantities that differ by less than is printed.",
        moved.join(", ")
    ))
}

fn no_unit_price(kind: UnitKind, id: &str) -> Diagnostic {
    let name = crate::price::unit_name(kind);
    let message = format!("there is no unit price for {name}, and {id} changed by it");
    let hint = format!(
        "agree on one in the first sketch, price: {{unit_prices: {{{}: 12.50}}}}, or price its products in the shop book",
        kind.key()
    );
    Diagnostic::error("price-missing", message).item(id).hint(hint)
}

/// Every kind of work that changed, over the whole job.
fn totals(items: &[ItemChange], prices: &Prices, before: &Works, after: &Works) -> Vec<KindTotal> {
    let sum = |list: &Works, kind| -> Decimal {
        list.iter().map(|(_, work)| amount(Some(work), kind)).sum()
    };
    let mut out = Vec::new();
    for (kind, unit) in prices {
        let parts = || items.iter().flat_map(|item| &item.parts).filter(|part| part.kind == *kind);
        if parts().next().is_none() {
            continue;
        }
        let (estimated, actual) = (sum(before, *kind), sum(after, *kind));
        let (over, under) = repricing(estimated, actual);
        out.push(KindTotal {
            kind: *kind,
            unit: unit.price.unit,
            price: unit.price.amount,
            estimated,
            actual,
            amount: parts().map(|part| part.amount).sum(),
            over,
            under,
        });
    }
    out
}

/// Products of which more or fewer packages are bought.
fn packages(old: &Survey, new: &Survey) -> Vec<PackageChange> {
    let rows = old.order.rows.iter().chain(&new.order.rows);
    let mut out: Vec<PackageChange> = Vec::new();
    for row in rows {
        if out.iter().any(|known| known.item == row.item) {
            continue;
        }
        let of = |floor: &Survey| {
            let found = floor.order.rows.iter().find(|r| r.item == row.item);
            found.map_or(0, |r| r.packages)
        };
        out.push(PackageChange { item: row.item.clone(), before: of(old), after: of(new) });
    }
    out.retain(|change| change.before != change.after);
    out
}
