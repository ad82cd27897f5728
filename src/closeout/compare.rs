//! One job: its record of use against its estimate.

use super::key::{Form, Key};
use super::model::{CloseOut, Implied, Moisture, Row, RowKind};
use super::point::Point;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::floor::Survey;
use crate::form::nearest;
use crate::order::{OrderRow, carried};
use crate::schedule::{Plan, plan};
use crate::shop::{Amount, Shop};
use crate::sketch::At;
use crate::trade::{Kind, Layers, Product, Ware};
use crate::work::{Facts, works};

/// Compares what was used with what was estimated.
///
/// # Errors
///
/// The sketch has no record of use, or it names a product or task that the estimate doesn't have, or a
/// task by a name that could be several.
pub fn close_out(floor: &Survey) -> Result<CloseOut, Diagnostics> {
    let used = &floor.sketch.used;
    if used.span.is_none() {
        let message = format!("{} has no record of what was used", floor.sketch.job.name);
        let hint =
            "add used: {packages: {joint filler: 9}, hours: {saw joints: 2.5}} to the sketch";
        return Err(Diagnostic::error("nothing-used", message).hint(hint).into());
    }
    let products = products(floor);
    let facts = floor.facts();
    let plan = plan(floor);
    if plan.days.is_empty() {
        let why = crate::schedule::faults(&floor.sketch, &facts);
        if !why.is_empty() {
            return Err(why.into());
        }
    }
    let planned = planned(&plan, &facts);
    let known: Vec<&str> = products.iter().map(|(_, row)| row.item.as_str()).collect();
    let mut faults = unknown(&used.packages, "product", "the order", &known);
    let hours = booked(&used.hours, &planned, &mut faults);
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let (mut rows, mut unrecorded) = (Vec::new(), Vec::new());
    for (ware, mut row) in products {
        match used.packages.iter().find(|(name, _)| name.value == row.item) {
            Some((_, amount)) => {
                row.used = *amount;
                row.implied = implied(of_ware(&ware, &floor.shop), &row);
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
        let point = work.point.clone().map(|point| point.used(spent));
        rows.push(Row {
            kind: RowKind::Task,
            item: work.name.clone(),
            estimated: work.worker_h,
            ordered: None,
            used: spent,
            implied: point.as_ref().and_then(Point::implied),
            point,
        });
    }
    Ok(CloseOut {
        job: floor.sketch.job.name.clone(),
        number: floor.sketch.job.number.clone(),
        units: floor.slab.units,
        rows,
        unrecorded,
        moisture: used.rh.map(|rh| Moisture { used: rh, tested: tested(floor) }),
        photos: used.photos.iter().map(|photo| photo.value.clone()).collect(),
        note: used.note.clone(),
    })
}

/// The highest relative humidity tested before.
fn tested(floor: &Survey) -> Option<f64> {
    let tests = floor.sketch.tests.moisture.iter();
    tests.filter_map(|test| test.rh.as_ref().map(|rh| rh.value.one())).max_by(f64::total_cmp)
}

/// Every product and small good of the estimate, nothing used yet.
fn products(floor: &Survey) -> Vec<(Ware, Row)> {
    let row = |ware: Ware, estimated, ordered| {
        let row = Row {
            kind: RowKind::Product,
            item: ware.to_string(),
            estimated,
            ordered: Some(ordered),
            used: 0.0,
            implied: None,
            point: None,
        };
        (ware, row)
    };
    let of = |r: &OrderRow| row(r.item.clone().into(), r.need / r.package, r.packages);
    let mut out: Vec<(Ware, Row)> = floor.order.rows.iter().map(of).collect();
    let small = carried(&floor.order, &floor.facts());
    out.extend(small.iter().map(|s| row(s.good.into(), s.used, s.count)));
    out
}

/// A work of the plan, or several coats that the plan calls alike.
struct Planned {
    /// What the plan calls it.
    name: String,
    /// The liquid that is laid, as the shop book has it, where it is a coat.
    layer: Option<String>,
    /// Worker hours.
    worker_h: f64,
    /// What its hours say about the shop book, nothing used yet.
    point: Option<Point>,
}

/// The works of the plan. A coat is the layer of the system at its place, whatever its name looks
/// like; coats of one name are one row, because nobody could say which of them took the hours.
fn planned(plan: &Plan, facts: &Facts<'_>) -> Vec<Planned> {
    let list = works(facts);
    let mut out: Vec<Planned> = Vec::new();
    for spent in plan.spent() {
        let is_it = |kind, layer| (kind, layer) == (spent.kind, spent.layer);
        // What was abraded or ground flush because it came too late is no work of the list.
        let work = list.iter().find(|work| is_it(work.kind, work.layer) && work.name == spent.name);
        let pieces = plan.days.iter().flat_map(|day| &day.pieces);
        let workers =
            pieces.filter(|piece| is_it(piece.kind, piece.layer)).map(|piece| piece.workers.len());
        let workers = workers.max().unwrap_or(0);
        let point = work.and_then(|work| Point::planned(work, workers, facts.shop));
        if let Some(same) = out.iter_mut().find(|known| known.name == spent.name) {
            same.worker_h += spent.worker_h;
            same.point = same.point.take().zip(point).map(|(a, b)| a.and(b));
            continue;
        }
        let layer = facts.system.zip(spent.layer);
        let layer = layer.and_then(|((_, system), place)| system.layers.get(place));
        let layer = layer.filter(|_| spent.kind == Kind::Coat);
        out.push(Planned {
            name: spent.name,
            layer: layer.map(|layer| layer.name.clone()),
            worker_h: spent.worker_h,
            point,
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
        let written = crate::text::excerpt(&name.value);
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
                            crate::text::excerpt(&before.value)
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
                        format!("`{written}` may be any of {} tasks of the plan", names.len()),
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
    let strange = named.iter().filter(|(name, _)| !known.contains(&name.value.as_str()));
    strange
        .map(|(name, _)| {
            let written = crate::text::excerpt(&name.value);
            let message = format!("`{written}` is no {what} of {of} for this floor");
            let near = nearest(&name.value, known.iter().copied());
            let near = near.map_or(String::new(), |word| format!("did you mean `{word}`? "));
            let hint = format!("{near}{of} has {}", known.join("; "));
            Diagnostic::error("unknown-value", message).at(name.span).hint(hint)
        })
        .collect()
}

fn implied(key: Option<(Key, f64)>, row: &Row) -> Option<Implied> {
    let ((key, book), ratio) = (key?, row.ratio()?);
    let value = key.implied(book, ratio);
    Some(Implied { key, book, value })
}

/// The value of the book that a product's need hangs on.
fn of_ware(ware: &Ware, shop: &Shop) -> Option<(Key, f64)> {
    let Ware::Product(product) = ware else {
        return None;
    };
    let waste = |part: &str, now: f64| Some((Key::new(&[part, "waste"], Form::Waste), now));
    let (of, layer) = match product {
        Product::JointFiller => return waste("filler", shop.filler.waste.one()),
        Product::CrackResin => return waste("cracks", shop.cracks.waste.one()),
        Product::Sealant => return waste("sealant", shop.sealant.waste.one()),
        Product::PatchMortar => {
            return Some((Key::new(&["spalls", "yield"], Form::Yield), shop.spalls.yield_.l()));
        }
        Product::CoveMortar => {
            let key = Key::new(&["coves", "yield"], Form::Yield);
            return Some((key, shop.coves.yield_.l()));
        }
        Product::BackerRod(_) => return waste("backer_rod", shop.backer_rod.waste.one()),
        Product::InjectionResin => {
            return waste("delaminations", shop.delaminations.waste.one());
        }
        Product::InjectionPort | Product::Degreaser => return None,
        Product::Layer(of, layer) => (of, layer),
    };
    let (part, under, layers) = match of {
        Layers::System(name) => ("systems", name.as_str(), &shop.systems.get(name)?.layers),
        Layers::Mitigation => {
            let layers = &shop.moisture.mitigation.layers;
            ("moisture", "mitigation", layers)
        }
    };
    let found = layers.iter().find(|l| l.name == *layer)?;
    let (key, form, now) = match &found.amount {
        Amount::Coverage { coverage, .. } => ("coverage", Form::Coverage, coverage.m2_per_l()),
        Amount::Film { dft, .. } => ("dft", Form::Film, dft.m()),
        Amount::Broadcast { rate, .. } => ("rate", Form::Spread, rate.kg_per_m2()),
    };
    Some((Key::new(&[part, under, layer, key], form), now))
}
