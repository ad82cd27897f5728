//! One job: its record of use against its estimate.

use super::key::{Form, Key};
use super::model::{CloseOut, Implied, Row, RowKind};
use crate::diagnostic::{Diagnostic, Place};
use crate::form::nearest;
use crate::order::{OrderRow, sundries};
use crate::schedule::{Spent, plan};
use crate::shop::{Amount, Layer, Shop, System};
use crate::sketch::At;
use crate::survey::Survey;
use crate::trade::{self, Kind};

/// Compares what was used with what was estimated.
///
/// # Errors
///
/// The sketch has no record of use, or it names a product or task that the estimate doesn't have, or a
/// task by a name that could be several.
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
    let planned = planned(plan(floor).spent(), system);
    let known: Vec<&str> = products.iter().map(|row| row.item.as_str()).collect();
    let mut faults = unknown(&used.packages, "product", "the order", &known);
    let hours = booked(&used.hours, &planned, &mut faults);
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
    for (work, spent) in planned.iter().zip(hours) {
        let Some((_, spent)) = spent else {
            unrecorded.push(work.name.clone());
            continue;
        };
        let mut row = Row {
            kind: RowKind::Task,
            item: work.name.clone(),
            estimated: work.worker_h,
            ordered: None,
            used: spent,
            implied: None,
        };
        row.implied = implied(of_task(work, &floor.shop), &row);
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

/// A work of the plan, or several coats that the plan calls alike.
struct Planned {
    /// What the plan calls it.
    name: String,
    kind: Kind,
    worker_h: f64,
    /// Name of the liquid, as the shop book has it, where it is a coat.
    layer: Option<String>,
    /// Something is thrown into it, at a rate of its own.
    broadcast: bool,
}

/// The works with what they are. Coats of one name are one row, because nobody could say which of
/// them took the hours.
fn planned(spent: Vec<Spent>, system: Option<&System>) -> Vec<Planned> {
    let layers = || system.into_iter().flat_map(|system| &system.layers);
    let mut out: Vec<Planned> = Vec::new();
    for work in spent {
        let coat = (work.kind == Kind::Coat).then_some(work.layer).flatten();
        let layer = coat.and_then(|place| layers().nth(place));
        if let Some(same) = out.iter_mut().find(|known| known.name == work.name) {
            same.worker_h += work.worker_h;
            continue;
        }
        let thrown = |layer: &Layer| layers().any(|other| other.into.as_ref() == Some(&layer.name));
        out.push(Planned {
            name: work.name,
            kind: work.kind,
            worker_h: work.worker_h,
            broadcast: layer.is_some_and(thrown),
            layer: layer.map(|layer| layer.name.clone()),
        });
    }
    out
}

impl Planned {
    /// What its hours are booked under: a coat by its layer.
    fn key(&self) -> &str {
        self.layer.as_ref().unwrap_or(&self.name)
    }

    fn goes_by(&self, name: &str) -> bool {
        name == self.name || name == self.key()
    }

    /// Whether somebody may have meant it by the first words of its name.
    fn begins_with(&self, name: &str) -> bool {
        let rest = self.name.strip_prefix(name);
        rest.is_some_and(|rest| rest.starts_with([',', ' ']))
    }
}

/// The hours booked on each task, with where that was written. Every name has to be one task's and no
/// other's, and every task has one name.
fn booked<'u>(
    hours: &'u [(At<String>, f64)],
    planned: &[Planned],
    faults: &mut Vec<Diagnostic>,
) -> Vec<Option<(&'u At<String>, f64)>> {
    let mut out: Vec<Option<(&At<String>, f64)>> = vec![None; planned.len()];
    let places = |holds: &dyn Fn(&Planned) -> bool| -> Vec<usize> {
        (0..planned.len()).filter(|&i| holds(&planned[i])).collect()
    };
    for (name, spent) in hours {
        let written = crate::yaml::excerpt(&name.value);
        let named = places(&|work| work.goes_by(&name.value));
        let meant = match named.is_empty() {
            true => places(&|work| work.begins_with(&name.value)),
            false => named.clone(),
        };
        match (named.as_slice(), meant.as_slice()) {
            ([one], _) => match out[*one] {
                None => out[*one] = Some((name, *spent)),
                Some((before, _)) => faults.push(
                    Diagnostic::error(
                        "ambiguous",
                        format!(
                            "`{written}` and `{}` are the same task of the plan",
                            crate::yaml::excerpt(&before.value)
                        ),
                    )
                    .at(name.span)
                    .related(Place::sketch(before.span), "booked here already")
                    .hint("add the hours up under one of the names"),
                ),
            },
            (_, several) if several.len() > 1 => {
                let names: Vec<&str> = several.iter().map(|&i| planned[i].name.as_str()).collect();
                faults.push(
                    Diagnostic::error(
                        "ambiguous",
                        format!(
                            "`{written}` may be any of {} tasks of the plan",
                            names.len()
                        ),
                    )
                    .at(name.span)
                    .hint(format!(
                        "write the whole name, in quotation marks: \"{}\"",
                        names.join("\" or \"")
                    )),
                );
            }
            _ => {
                let known: Vec<&str> = planned.iter().map(Planned::key).collect();
                let one = [(name.clone(), *spent)];
                faults.extend(unknown(&one, "task", "the plan", &known));
            }
        }
    }
    out
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
fn of_task(work: &Planned, shop: &Shop) -> Option<(Key, f64)> {
    let keys = crate::trade::row(work.kind).keys;
    let (_, unit) = keys.iter().find(|(key, _)| *key == trade::Key::Rate)?;
    let form = match unit {
        trade::Unit::Length => Form::Run,
        trade::Unit::Area => Form::Area,
        _ => return None,
    };
    let path = ["days", "works", work.kind.name(), "rate"];
    let now = shop.days.works.get(work.kind, trade::Key::Rate);
    (!work.broadcast).then(|| (Key::new(&path, form), now))
}
