//! The order list as text, CSV and JSON.

use crate::trade::words::said;
use serde::Serialize;

use super::csv::{Table, or_empty};
use super::json::Head;
use crate::floor::Survey;
use crate::hold::say;
use crate::order::{
    Carried, Dust, Leg, Mark, Marks, Order, OrderRow, bags, carried, dust, filler_marks,
    near_misses, over, words,
};
use crate::quantity::measure::solid;
use crate::quantity::{Units, write};
use crate::shop::Choice;
use crate::text::json::document;
use crate::work::{Batch, Batches};

/// Why the two counts differ, in one sentence.
const WHY_THEY_DIFFER: &str = "Half and nine of ten differ because each joint is a little wider, narrower, deeper or \
shallower than it was read, the yield of the product moves all of them together, and a floor takes more or less of a coat than \
its coverage says: the first count is enough for what was computed, the second leaves room for that. Where no deviation is \
known only the first stands.";

/// The order with what belongs to it.
struct Sheet<'a> {
    order: &'a Order,
    units: Units,
    carried: Vec<Carried>,
    dust: Vec<Dust>,
    bags: u64,
    marks: Marks<'a>,
}

fn sheet(floor: &Survey) -> Sheet<'_> {
    let dust = dust(&floor.takeoff, &floor.shop);
    Sheet {
        order: &floor.order,
        units: floor.slab.units,
        carried: carried(&floor.order, &floor.facts()),
        bags: bags(&dust, &floor.shop),
        dust,
        marks: filler_marks(&floor.slab, &floor.takeoff, &floor.shop),
    }
}

/// The files of the order for a packet: name and text.
#[must_use]
pub fn pieces(floor: &Survey) -> Vec<(String, String)> {
    vec![
        ("order.txt".to_owned(), text(floor)),
        ("order.csv".to_owned(), csv(floor)),
        ("order.json".to_owned(), json(floor)),
    ]
}

/// The order for people, in the units of the sketch.
#[must_use]
pub fn text(floor: &Survey) -> String {
    let sheet = sheet(floor);
    let name = crate::text::clean(&floor.sketch.job.name);
    let mut out = format!("ORDER: {name}\n");
    out += &say::text(&floor.holds);
    let near: Vec<String> = near_misses(sheet.order, sheet.units).collect();
    if !near.is_empty() {
        out += "\nNEAR MISSES, to ask about before buying\n";
        near.iter().for_each(|sentence| out += &format!("      {sentence}\n"));
    }
    for row in &sheet.order.rows {
        product(&mut out, row, sheet.units);
    }
    if sheet.order.rows.is_empty() {
        out += "\nNothing to buy.\n";
    }
    if sheet.order.rows.iter().any(|row| row.sd > 0.0) {
        out += &format!("\n{WHY_THEY_DIFFER}\n");
    }
    if !sheet.carried.is_empty() {
        out += "\nTO TAKE ALONG\n";
        for row in &sheet.carried {
            out += &format!("{:>4}  {}\n      {}\n", row.count, said(row.good.name()), row.how);
        }
    }
    mixing(&mut out, &sheet);
    disposal(&mut out, &sheet);
    filling(&mut out, &sheet);
    out += "\nQuantities are for estimating; the data sheet of each product goes first.\n";
    crate::text::folded(&out)
}

fn product(out: &mut String, row: &OrderRow, units: Units) {
    let item = crate::text::clean(&said(&row.item.to_string()));
    let package = words::package(row.package, row.unit, units);
    *out += &format!("\n{:>4}  {item}, {package}\n", row.packages);
    if let Some(chosen) = row.chosen.with_lines() {
        *out += &format!("      chosen: {}\n", crate::text::clean(&chosen));
    }
    if row.packages_p90 != row.packages_p50 {
        let (half, most) = (row.packages_p50, row.packages_p90);
        *out += &format!("      half of such floors take up to {half}, nine of ten up to {most}\n");
    }
    if row.one_lot {
        *out += "      all from one lot; write the lot no. ________\n";
    }
    for sentence in &row.how {
        *out += &format!("      {}\n", crate::text::clean(sentence));
    }
}

/// What is mixed at once, equal batches in one line.
fn mixing(out: &mut String, sheet: &Sheet) {
    if sheet.order.batches.iter().all(|layer| layer.list.is_empty()) {
        return;
    }
    *out += "\nTO MIX\n";
    for layer in &sheet.order.batches {
        let name = crate::text::clean(&layer.name);
        let alike = layer.list.chunk_by(|a, b| (a.volume_l - b.volume_l).abs() < 1e-9);
        for some in alike {
            let Some(batch) = some.first() else { continue };
            let each = words::mix(batch, sheet.units);
            *out += &format!("{:>4}  {name}, {each}\n", some.len());
        }
        *out += &format!("      {}\n", words::laying(layer, sheet.units));
    }
}

fn disposal(out: &mut String, sheet: &Sheet) {
    if sheet.dust.is_empty() {
        return;
    }
    *out += "\nDUST AND DISPOSAL\n";
    for row in &sheet.dust {
        let volume = solid(row.volume_l, sheet.units);
        let mass = write::mass(row.mass_kg, sheet.units);
        *out += &format!("      {}: {volume}, {mass}\n", said(row.from));
    }
    *out += &format!(
        "      {} bags; loose dust takes up to twice the room (from memory)\n",
        sheet.bags
    );
}

/// The order of filling and where cartridges run out.
fn filling(out: &mut String, sheet: &Sheet) {
    let marks = &sheet.marks;
    if marks.legs.is_empty() {
        return;
    }
    let (walk, naive) =
        (write::run(marks.walk_m, sheet.units), write::run(marks.naive_m, sheet.units));
    *out += &format!(
        "\nFILLING\n      {walk} walked between joints; {naive} in the order of the sketch\n"
    );
    for leg in &marks.legs {
        let (from, to) = leg.stations();
        let (from, to) = (write::length(from, sheet.units), write::length(to, sheet.units));
        *out += &format!("      {} from {from} to {to}\n", crate::text::clean(&leg.joint.id));
    }
    for mark in &marks.marks {
        *out += &format!(
            "      cartridge {} runs out on {} at {}\n",
            mark.cartridge,
            crate::text::clean(&mark.joint.id),
            write::length(mark.station_m, sheet.units)
        );
    }
    *out += "      Two cartridges past a mark: the cut is deeper or wider than was sold.\n";
}

/// The order for a spreadsheet, in the units of the sketch.
#[must_use]
pub fn csv(floor: &Survey) -> String {
    let sheet = sheet(floor);
    let mut table = Table::new(&[
        "item",
        "packages",
        "packages_p50",
        "packages_p90",
        "package",
        "needed",
        "left_over",
        "color",
    ]);
    for hold in &floor.holds {
        let (what, sentence) = say::cells(hold);
        table.some(&[], &[("item", &what), ("package", &sentence)]);
    }
    for row in &sheet.order.rows {
        table.row(&[
            &row.item,
            &row.packages,
            &row.packages_p50,
            &or_empty(row.nine_in_ten()),
            &words::package(row.package, row.unit, sheet.units),
            &words::amount(row.need, row.unit, sheet.units),
            &words::amount(row.left_over, row.unit, sheet.units),
            &row.chosen.named().unwrap_or_default(),
        ]);
    }
    for row in &sheet.carried {
        table.some(&[], &[("item", &row.good.name()), ("packages", &row.count)]);
    }
    table.done()
}

/// The order for scripts, always SI.
#[must_use]
pub fn json(floor: &Survey) -> String {
    #[derive(Serialize)]
    struct Document<'a> {
        #[serde(flatten)]
        head: Head<'a>,
        order: Vec<ProductJson<'a>>,
        sundries: Vec<Carried>,
        dust: Vec<Dust>,
        dust_bags: u64,
        batches: Vec<LayerJson<'a>>,
        filling: FillingJson<'a>,
    }
    let sheet = sheet(floor);
    document(&Document {
        head: Head::of(floor),
        order: sheet.order.rows.iter().map(ProductJson::new).collect(),
        dust_bags: sheet.bags,
        batches: sheet.order.batches.iter().map(LayerJson::new).collect(),
        filling: FillingJson::new(&sheet.marks),
        sundries: sheet.carried,
        dust: sheet.dust,
    })
}

#[derive(Serialize)]
struct ProductJson<'a> {
    #[serde(flatten)]
    row: &'a OrderRow,
    used: f64,
    near_miss: Option<f64>,
    color: Option<String>,
    to_choose: &'a [Choice],
}

impl<'a> ProductJson<'a> {
    fn new(row: &'a OrderRow) -> Self {
        Self {
            row,
            used: row.need / row.package,
            near_miss: over(row),
            color: row.chosen.named(),
            to_choose: &row.chosen.open,
        }
    }
}

#[derive(Serialize)]
struct LayerJson<'a> {
    layer: &'a str,
    pot_life_min: Option<f64>,
    batches: Vec<BatchJson>,
}

#[derive(Serialize)]
struct BatchJson {
    volume_l: f64,
    part_a_l: Option<f64>,
    part_b_l: Option<f64>,
    area_m2: f64,
    lay_min: f64,
}

impl<'a> LayerJson<'a> {
    fn new(layer: &'a Batches) -> Self {
        let batch = |batch: &Batch| BatchJson {
            volume_l: batch.volume_l,
            part_a_l: batch.parts_l.first().copied(),
            part_b_l: batch.parts_l.get(1).copied(),
            area_m2: batch.area_m2,
            lay_min: batch.lay_s / 60.0,
        };
        Self {
            layer: &layer.name,
            pot_life_min: layer.pot_life_s.map(|s| s / 60.0),
            batches: layer.list.iter().map(batch).collect(),
        }
    }
}

#[derive(Serialize)]
struct FillingJson<'a> {
    walk_m: f64,
    naive_walk_m: f64,
    legs: Vec<LegJson<'a>>,
    marks: Vec<MarkJson<'a>>,
}

#[derive(Serialize)]
struct LegJson<'a> {
    joint: &'a str,
    from_m: f64,
    to_m: f64,
}

#[derive(Serialize)]
struct MarkJson<'a> {
    cartridge: usize,
    joint: &'a str,
    station_m: f64,
    x_m: f64,
    y_m: f64,
}

impl<'a> FillingJson<'a> {
    fn new(marks: &'a Marks) -> Self {
        let leg = |leg: &'a Leg| {
            let (from_m, to_m) = leg.stations();
            LegJson { joint: &leg.joint.id, from_m, to_m }
        };
        let mark = |mark: &'a Mark| MarkJson {
            cartridge: mark.cartridge,
            joint: &mark.joint.id,
            station_m: mark.station_m,
            x_m: mark.at.x,
            y_m: mark.at.y,
        };
        Self {
            walk_m: marks.walk_m,
            naive_walk_m: marks.naive_m,
            legs: marks.legs.iter().map(leg).collect(),
            marks: marks.marks.iter().map(mark).collect(),
        }
    }
}
