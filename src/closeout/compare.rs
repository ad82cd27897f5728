//! One job: its record of use against its estimate.

use super::key::{Form, Key};
use super::model::{CloseOut, Implied, Row, RowKind};
use crate::diagnostic::Diagnostic;
use crate::form::nearest;
use crate::order::{OrderRow, sundries};
use crate::schedule::{Task, tasks};
use crate::shop::{Amount, Shop};
use crate::sketch::At;
use crate::survey::Survey;

/// Task and key of its rate in the shop book.
const RATES: [(&str, &str, Form); 12] = [
    ("open buried joints", "open", Form::Run),
    ("saw joints", "saw", Form::Run),
    ("cut joint ends by hand", "hand_cut", Form::Run),
    ("cut cracks open", "crack_chase", Form::Run),
    ("cut out and patch spalls", "patch", Form::Area),
    ("take steps down by hand", "hand_grind", Form::Run),
    ("fill joints", "fill", Form::Run),
    ("fill cracks", "crack_fill", Form::Run),
    ("shave filler", "shave", Form::Run),
    ("grind edges by hand", "hand_edge", Form::Area),
    ("grind the floor", "floor_grind", Form::Area),
    ("rod and sealant in honored joints", "honor", Form::Run),
];

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
    let named = floor.sketch.coating.system.as_ref();
    let system = named.and_then(|name| floor.shop.systems.get(&name.value));
    let planned = tasks(&floor.takeoff, &floor.shop, system);
    let known: Vec<&str> = products.iter().map(|row| row.item.as_str()).collect();
    let mut faults = unknown(&used.packages, "product", "the order", &known);
    let task_names: Vec<&str> = planned.iter().map(short).collect();
    let hours: Vec<(At<String>, f64)> = used.hours.clone();
    faults.extend(unknown_tasks(&hours, &planned, &task_names));
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
        let found = hours.iter().find(|(name, _)| is_task(&name.value, task));
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
fn short(task: &Task) -> &str {
    match task.coat {
        Some(_) => task.name.split(", ").next().unwrap_or(&task.name),
        None => &task.name,
    }
}

fn is_task(name: &str, task: &Task) -> bool {
    name == task.name || name == short(task)
}

fn unknown_tasks(hours: &[(At<String>, f64)], planned: &[Task], names: &[&str]) -> Vec<Diagnostic> {
    let strange = |(name, _): &&(At<String>, f64)| !planned.iter().any(|t| is_task(&name.value, t));
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

/// The rate that a task's hours hang on. A coat that something is thrown into hangs on two and
/// speaks for neither.
fn of_task(task: &Task, shop: &Shop) -> Option<(Key, f64)> {
    let rates = &shop.days.rates;
    if task.coat.is_some() {
        let alone = !task.name.contains(", ");
        return alone.then(|| (Key::new(&["days", "rates", "coat"], Form::Area), rates.coat));
    }
    let (_, key, form) = RATES.iter().find(|(name, ..)| *name == task.name)?;
    let now = match *key {
        "open" => rates.open,
        "saw" => rates.saw,
        "hand_cut" => rates.hand_cut,
        "crack_chase" => rates.crack_chase,
        "patch" => rates.patch,
        "hand_grind" => rates.hand_grind,
        "fill" => rates.fill,
        "crack_fill" => rates.crack_fill,
        "shave" => rates.shave,
        "hand_edge" => rates.hand_edge,
        "floor_grind" => rates.floor_grind,
        _ => rates.honor,
    };
    Some((Key::new(&["days", "rates", key], *form), now))
}
