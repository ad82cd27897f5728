//! Two surveyed sketches of one job, item by item.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::model::{Change, How, ItemChange, ItemKind, KindTotal, PackageChange, Part};
use super::quantity::{Work, works};
use super::variation::repricing;
use super::{same, words};
use crate::diagnostic::Diagnostic;
use crate::price::{UnitBuildUp, unit_prices};
use crate::quantity::Money;
use crate::sketch::UnitKind;
use crate::survey::Survey;

/// Unit prices by kind.
type Prices = BTreeMap<UnitKind, UnitBuildUp>;

/// Compares two sketches of one job. `new` must have been surveyed with the shop book of `old`.
///
/// # Errors
///
/// The sketches are of different jobs, or work changed that has no unit price.
pub fn change(old: &Survey, new: &Survey) -> Result<Change, Vec<Diagnostic>> {
    let apart = same::different_jobs(&old.sketch.job, &new.sketch.job);
    if !apart.is_empty() {
        let message = format!("these sketches are of different jobs: {}", apart.join("; "));
        let hint = "a change order compares two revisions of one job; name, number and site stay the same, `revision:` tells them apart";
        return Err(vec![
            Diagnostic::error("different-jobs", message).hint(hint),
        ]);
    }
    let prices: Prices = unit_prices(old)
        .into_iter()
        .map(|unit| (unit.price.kind, unit))
        .collect();
    let units = old.slab.units;
    let coated = [old, new]
        .iter()
        .all(|floor| floor.sketch.coating.system.is_some());
    let (before, after) = (works(old, units, coated), works(new, units, coated));
    let items = items(old, new, (&before, &after), &prices)?;
    let totals = totals(&items, &prices, &before, &after);
    let example = totals.iter().any(|total| {
        let unit = prices.get(&total.kind);
        unit.is_some_and(|u| !u.price.agreed && u.lines.iter().any(|line| line.example))
    });
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
        holds: new.holds.clone(),
        packages: packages(old, new),
        unpriced: words::unpriced(old, new),
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
) -> Result<Vec<ItemChange>, Vec<Diagnostic>> {
    let find = |list: &'_ Works, key: &(ItemKind, String)| {
        list.iter()
            .find(|(k, _)| k == key)
            .map(|(_, work)| work.clone())
    };
    let mut keys: Vec<(ItemKind, String)> = before.iter().map(|(key, _)| key.clone()).collect();
    let known: BTreeSet<_> = keys.iter().cloned().collect();
    keys.extend(
        after
            .iter()
            .map(|(key, _)| key.clone())
            .filter(|key| !known.contains(key)),
    );
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
                words: words::found(old, new, &key),
                how,
                amount: parts.iter().map(|part| part.amount).sum(),
                parts,
                id: key.1,
            }),
            Err(kind) => faults.push(no_unit_price(kind, &key.1)),
        }
    }
    if faults.is_empty() {
        Ok(out)
    } else {
        Err(faults)
    }
}

/// How an item changed; `None` where nothing that is priced or treated did.
fn how(was: Option<&Work>, is: Option<&Work>) -> Option<How> {
    match (was, is) {
        (None, None) => None,
        (None, Some(_)) => Some(How::Added),
        (Some(_), None) => Some(How::Removed),
        (Some(was), Some(is)) if was == is => None,
        (Some(was), Some(is)) if was.treatment != is.treatment => Some(How::Treatment),
        (Some(was), Some(is)) => {
            let kinds: BTreeSet<_> = was.amounts.keys().chain(is.amounts.keys()).collect();
            let less = kinds
                .iter()
                .all(|kind| amount(Some(is), **kind) <= amount(Some(was), **kind));
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

fn no_unit_price(kind: UnitKind, id: &str) -> Diagnostic {
    let name = crate::price::unit_name(kind);
    let message = format!("there is no unit price for {name}, and {id} changed by it");
    let hint = format!(
        "agree on one in the first sketch, price: {{unit_prices: {{{}: 12.50}}}}, or price its products in the shop book",
        kind.key()
    );
    Diagnostic::error("price-missing", message)
        .item(id)
        .hint(hint)
}

/// Every kind of work that changed, over the whole job.
fn totals(items: &[ItemChange], prices: &Prices, before: &Works, after: &Works) -> Vec<KindTotal> {
    let sum = |list: &Works, kind| -> Decimal {
        list.iter().map(|(_, work)| amount(Some(work), kind)).sum()
    };
    let mut out = Vec::new();
    for (kind, unit) in prices {
        let parts = || {
            items
                .iter()
                .flat_map(|item| &item.parts)
                .filter(|part| part.kind == *kind)
        };
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
        out.push(PackageChange {
            item: row.item.clone(),
            before: of(old),
            after: of(new),
        });
    }
    out.retain(|change| change.before != change.after);
    out
}
