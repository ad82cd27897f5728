//! One job: its record of use against its estimate.

use super::key::{Form, Key};
use super::model::{CloseOut, Implied, Row, RowKind};
use crate::diagnostic::Diagnostic;
use crate::form::nearest;
use crate::order::{OrderRow, sundries};
use crate::schedule::{Spent, plan};
use crate::shop::{Amount, Shop};
use crate::sketch::At;
use crate::survey::Survey;
use crate::trade::{self, Kind};

/// Compares what was used with what was estimated.
///
/// # Errors
///
/// The sketch has no record of use, or it names a product or task that the estimate doesn't have.
pub fn close_out(floor: &Survey) -> Result<CloseOut, Vec<Diagnostic>> {
    let used = &floor.sketch.used;
    if used.span.is_none() {
        let message = format!("{} has no record of what was used", floor.sketch.job.name);
        let hint =
            "add used: {packages: {joint filler: 9}, hours: {saw joints: 2.5}} to the sketch";
        return Err(vec![Diagnostic::error("nothing-used", message).hint(hint)]);
    }
    let products = products(floor);
    let planned = plan(floor).spent();
    let known: Vec<&str> = products.iter().map(|row| row.item.as_str()).collect();
    let mut faults = unknown(&used.packages, "product", "the order", &known);
    let task_names: Vec<&str> = planned.iter().map(|work| short(work, floor)).collect();
    let hours: Vec<(At<String>, f64)> = used.hours.clone();
    faults.extend(unknown_tasks(&hours, &planned, floor, &task_names));
    if !faults.is_empty() {
        return Err(faults);
    }
    let (mut rows, mut unrecorded) = (Vec::new(), Vec::new());
    for mut row in products {
        match used
            .packages
            .iter()
            .find(|(name, _)| name.value == row.item)
        {
            Some((_, amount)) => {
                row.used = *amount;
                row.implied = implied(of_product(&row.item, &floor.shop), &row);
                rows.push(row);
            }
            None => unrecorded.push(row.item),
        }
    }
    for task in &planned {
        let found = hours
            .iter()
            .find(|(name, _)| is_task(&name.value, task, floor));
        let Some((_, spent)) = found else {
            unrecorded.push(task.name.clone());
            continue;
        };
        let mut row = Row {
            kind: RowKind::Task,
            item: task.name.clone(),
            estimated: task.worker_h,
            ordered: None,
            used: *spent,
            implied: None,
        };
        row.implied = implied(of_task(task, &floor.shop), &row);
        rows.push(row);
    }
    Ok(CloseOut {
        job: floor.sketch.job.name.clone(),
        number: floor.sketch.job.number.clone(),
        units: floor.slab.units,
        rows,
        unrecorded,
        moisture: used.rh.map(|rh| (rh, tested(floor))),
        photos: used
            .photos
            .iter()
            .map(|photo| photo.value.clone())
            .collect(),
        note: used.note.clone(),
    })
}

/// The highest relative humidity tested before.
fn tested(floor: &Survey) -> Option<f64> {
    let tests = floor.sketch.tests.moisture.iter();
    tests
        .filter_map(|test| test.rh.as_ref().map(|rh| rh.value.one()))
        .max_by(f64::total_cmp)
}

/// Every product and small good of the estimate, nothing used yet.
fn products(floor: &Survey) -> Vec<Row> {
    let row = |item: &str, estimated, ordered| Row {
        kind: RowKind::Product,
        item: item.to_owned(),
        estimated,
        ordered: Some(ordered),
        used: 0.0,
        implied: None,
    };
    let of = |r: &OrderRow| row(&r.item, r.need / r.package, r.packages);
    let mut out: Vec<Row> = floor.order.rows.iter().map(of).collect();
    let small = sundries(&floor.order, &floor.takeoff, &floor.shop, floor.slab.units);
    out.extend(small.iter().map(|s| row(s.item, s.count as f64, s.count)));
    out
}

/// A coat goes by its layer's name, whatever is thrown into it.
fn short<'a>(work: &'a Spent, floor: &'a Survey) -> &'a str {
    let named = floor.sketch.coating.system.as_ref();
    let system = named.and_then(|name| floor.shop.systems.get(&name.value));
    let layer = system.zip(work.layer).and_then(|(s, l)| s.layers.get(l));
    match (work.kind, layer) {
        (Kind::Coat, Some(layer)) => &layer.name,
        _ => &work.name,
    }
}

fn is_task(name: &str, work: &Spent, floor: &Survey) -> bool {
    name == work.name || name == short(work, floor)
}

fn unknown_tasks(
    hours: &[(At<String>, f64)],
    planned: &[Spent],
    floor: &Survey,
    names: &[&str],
) -> Vec<Diagnostic> {
    let strange =
        |(name, _): &&(At<String>, f64)| !planned.iter().any(|t| is_task(&name.value, t, floor));
    let strange: Vec<(At<String>, f64)> = hours.iter().filter(strange).cloned().collect();
    unknown(&strange, "task", "the plan", names)
}

/// An error at every name that the estimate doesn't have.
fn unknown(named: &[(At<String>, f64)], what: &str, of: &str, known: &[&str]) -> Vec<Diagnostic> {
    let strange = named
        .iter()
        .filter(|(name, _)| !known.contains(&name.value.as_str()));
    strange
        .map(|(name, _)| {
            let written = crate::yaml::excerpt(&name.value);
            let message = format!("`{written}` is no {what} of {of} for this floor");
            let near = nearest(&name.value, known.iter().copied());
            let near = near.map_or(String::new(), |word| format!("did you mean `{word}`? "));
            let hint = format!("{near}{of} has {}", known.join("; "));
            Diagnostic::error("unknown-value", message)
                .at(name.span)
                .hint(hint)
        })
        .collect()
}

fn implied(key: Option<(Key, f64)>, row: &Row) -> Option<Implied> {
    let ((key, book), ratio) = (key?, row.ratio()?);
    let value = key.implied(book, ratio);
    Some(Implied { key, book, value })
}

/// The value of the book that a product's need hangs on.
fn of_product(item: &str, shop: &Shop) -> Option<(Key, f64)> {
    let waste = |part: &str, now: f64| Some((Key::new(&[part, "waste"], Form::Waste), now));
    match item {
        "joint filler" => return waste("filler", shop.filler.waste.one()),
        "crack resin" => return waste("cracks", shop.cracks.waste.one()),
        "sealant" => return waste("sealant", shop.sealant.waste.one()),
        "patch mortar" => {
            return Some((
                Key::new(&["spalls", "yield"], Form::Yield),
                shop.spalls.yield_.l(),
            ));
        }
        _ if item.starts_with("backer rod ") => {
            return waste("backer_rod", shop.backer_rod.waste.one());
        }
        _ => {}
    }
    let (system, layer) = item.split_once(": ")?;
    let found = shop
        .systems
        .get(system)?
        .layers
        .iter()
        .find(|l| l.name == layer)?;
    let (key, form, now) = match &found.amount {
        Amount::Coverage { coverage, .. } => ("coverage", Form::Coverage, coverage.m2_per_l()),
        Amount::Film { dft, .. } => ("dft", Form::Film, dft.m()),
        Amount::Broadcast { rate, .. } => ("rate", Form::Spread, rate.kg_per_m2()),
    };
    Some((Key::new(&["systems", system, layer, key], form), now))
}

/// The rate that a work's hours hang on. A coat that something is thrown into hangs on two and
/// speaks for neither.
fn of_task(work: &Spent, shop: &Shop) -> Option<(Key, f64)> {
    let keys = crate::trade::row(work.kind).keys;
    let (_, unit) = keys.iter().find(|(key, _)| *key == trade::Key::Rate)?;
    let form = match unit {
        trade::Unit::Length => Form::Run,
        trade::Unit::Area => Form::Area,
        _ => return None,
    };
    let thrown = work.kind == Kind::Coat && work.name.contains(", ");
    let path = ["days", "works", work.kind.name(), "rate"];
    let now = shop.days.works.get(work.kind, trade::Key::Rate);
    (!thrown).then(|| (Key::new(&path, form), now))
}
