//! The order list of a floor, and of several floors together.

use super::coating;
use super::confidence::Z_NINE_IN_TEN;
use super::filler;
use super::model::{Order, OrderRow};
use super::need::{Need, Needs, whole_packages};
use super::pour::pour_lines;
use super::repair;
use super::wear::part_words;
use super::words;
use crate::quantity::{Units, write};
use crate::shop::Charged;
use crate::work::{Facts, batches};

/// Everything to be bought for one floor, in the order of use, its batches and its pour lines.
///
/// Without a coating system the floor is repaired and nothing is coated. Amounts are litres, kilograms,
/// metres or pieces; sentences are in the units of the sketch.
#[must_use]
pub fn order(facts: &Facts<'_>) -> Order {
    let (takeoff, shop, units) = (facts.takeoff, facts.shop, facts.slab.units);
    let mut needs = Needs::default();
    repair::add_mortar(&mut needs, takeoff, shop, units);
    repair::add_resin(&mut needs, takeoff, shop, units);
    repair::add_injection(&mut needs, takeoff, shop, units);
    filler::add(&mut needs, takeoff, shop, units);
    repair::add_degreaser(&mut needs, takeoff, shop, units);
    if let Some(named) = facts.system {
        repair::add_cove_mortar(&mut needs, takeoff, shop, units);
        coating::add(&mut needs, named, takeoff, shop, units);
    }
    repair::add_rod(&mut needs, takeoff, shop, units);
    repair::add_sealant(&mut needs, takeoff, shop, units);
    let batches = batches(facts);
    Order {
        rows: needs.into_rows(|need, row| closing(need, row, units)),
        pour_lines: pour_lines(&batches, facts.slab),
        batches,
    }
}

/// The sentences on packages and on confidence that end every row.
fn closing(need: &Need, row: &OrderRow, units: Units) -> Vec<String> {
    let mut how = Vec::new();
    let mut wanted = row.need;
    if row.reserve > 0.0 {
        wanted *= 1.0 + row.reserve;
        how.push(format!(
            "With {} in reserve, which can't be fetched in the middle of the work, {}.",
            write::percent(row.reserve),
            words::amount(wanted, row.unit, units)
        ));
    }
    how.push(format!(
        "{} in {}s of {}: {}, rounded up once to {}; {} left over.",
        words::amount(wanted, row.unit, units),
        words::packed(row),
        words::package(row.package, row.unit, units),
        write::trimmed(wanted / row.package, 2),
        row.packages,
        words::amount(row.left_over, row.unit, units)
    ));
    if need.sd > 0.0 {
        how.push(format!(
            "{}, so half of such floors take up to {} and nine of ten up to {}.",
            need.varies, row.packages_p50, row.packages_p90
        ));
    }
    if row.charged == Charged::Used {
        how.push(format!(
            "Charged by use: {} packages; the rest goes into the next job.",
            part_words(row.need / row.package)
        ));
    }
    how
}

/// One order for several floors: the same product is summed over all of them and rounded up once,
/// except products that must come from one lot, of which each floor keeps its own whole packages, and
/// those of which something else was chosen.
/// Batches and pour lines stay with their floors and are not carried over.
#[must_use]
pub fn combine(orders: &[Order]) -> Order {
    let mut rows: Vec<OrderRow> = Vec::new();
    for row in orders.iter().flat_map(|o| &o.rows) {
        let same = |r: &&mut OrderRow| {
            r.item == row.item
                && r.unit == row.unit
                && r.package == row.package
                && r.chosen == row.chosen
        };
        match rows.iter_mut().find(same) {
            Some(known) => join(known, row),
            None => rows.push(row.clone()),
        }
    }
    Order { rows, batches: Vec::new(), pour_lines: Vec::new() }
}

/// Adds `row` to `known`. Floors vary independently, so their deviations add in quadrature.
fn join(known: &mut OrderRow, row: &OrderRow) {
    known.need += row.need;
    known.sd = known.sd.hypot(row.sd);
    known.reclaimed += row.reclaimed;
    known.one_lot |= row.one_lot;
    if known.one_lot {
        known.packages += row.packages;
        known.packages_p50 += row.packages_p50;
        known.packages_p90 += row.packages_p90;
    } else {
        known.packages = whole_packages(known.need * (1.0 + known.reserve), known.package);
        known.packages_p50 = whole_packages(known.need, known.package);
        known.packages_p90 = whole_packages(known.need + Z_NINE_IN_TEN * known.sd, known.package);
    }
    known.left_over = known.packages as f64 * known.package - known.need;
    known.how.extend(row.how.iter().cloned());
}
