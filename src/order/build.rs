//! The order list of a floor, and of several floors together.

use super::coating;
use super::confidence::Z_NINE_IN_TEN;
use super::filler;
use super::model::{Order, OrderRow};
use super::need::{Need, Needs, whole_packages};
use super::pour::pour_lines;
use super::repair;
use super::words;
use crate::quantity::{Units, write};
use crate::shop::Shop;
use crate::slab::Slab;
use crate::takeoff::Takeoff;

/// Everything to be bought for one floor, in the order of use, and the pour lines.
///
/// `system` names a coating system of the shop book; with `None`, or a name the book does not
/// hold, the floor is repaired and nothing is coated. Amounts are litres, kilograms, metres or
/// pieces; sentences are in the units of the sketch.
#[must_use]
pub fn order(slab: &Slab, takeoff: &Takeoff, shop: &Shop, system: Option<&str>) -> Order {
    let units = slab.units;
    let mut needs = Needs::default();
    repair::add_mortar(&mut needs, takeoff, shop, units);
    repair::add_resin(&mut needs, takeoff, shop, units);
    filler::add(&mut needs, takeoff, shop, units);
    repair::add_degreaser(&mut needs, takeoff, shop, units);
    let named = system.and_then(|name| shop.systems.get_key_value(name));
    if let Some((name, system)) = named {
        repair::add_cove_mortar(&mut needs, takeoff, shop, units);
        coating::add(&mut needs, (name, system), takeoff, shop, units);
    }
    repair::add_rod(&mut needs, takeoff, shop, units);
    repair::add_sealant(&mut needs, takeoff, shop, units);
    Order {
        rows: needs.into_rows(|need, row| closing(need, row, units)),
        pour_lines: named.map_or_else(Vec::new, |(_, system)| pour_lines(system, slab)),
    }
}

/// The sentences on packages and on confidence that end every row.
fn closing(need: &Need, row: &OrderRow, units: Units) -> Vec<String> {
    let mut how = vec![format!(
        "{} in packages of {}: {}, rounded up once to {}; {} left over.",
        words::amount(row.need, row.unit, units),
        words::package(row.package, row.unit, units),
        write::trimmed(row.need / row.package, 2),
        row.packages,
        words::amount(row.left_over, row.unit, units)
    )];
    if need.sd > 0.0 {
        how.push(format!(
            "{}, so half of such floors take up to {} and nine of ten up to {}.",
            need.varies, row.packages_p50, row.packages_p90
        ));
    }
    how
}

/// One order for several floors: the same product is summed over all of them and rounded up once,
/// except products that must come from one lot, of which each floor keeps its own whole packages.
/// Pour lines stay with their floors and are not carried over.
#[must_use]
pub fn combine(orders: &[Order]) -> Order {
    let mut rows: Vec<OrderRow> = Vec::new();
    for row in orders.iter().flat_map(|o| &o.rows) {
        let same = |r: &&mut OrderRow| {
            r.item == row.item && r.unit == row.unit && r.package == row.package
        };
        match rows.iter_mut().find(same) {
            Some(known) => join(known, row),
            None => rows.push(row.clone()),
        }
    }
    Order {
        rows,
        pour_lines: Vec::new(),
    }
}

/// Adds `row` to `known`. Floors vary independently, so their deviations add in quadrature.
fn join(known: &mut OrderRow, row: &OrderRow) {
    known.need += row.need;
    known.sd = known.sd.hypot(row.sd);
    known.one_lot |= row.one_lot;
    if known.one_lot {
        known.packages += row.packages;
        known.packages_p50 += row.packages_p50;
        known.packages_p90 += row.packages_p90;
    } else {
        known.packages = whole_packages(known.need, known.package);
        known.packages_p50 = known.packages;
        known.packages_p90 = whole_packages(known.need + Z_NINE_IN_TEN * known.sd, known.package);
    }
    known.left_over = known.packages as f64 * known.package - known.need;
    known.how.extend(row.how.iter().cloned());
}
