//! The order list as text, CSV and JSON.

use serde_json::{Value, json};

use super::dust::{Dust, bags, dust};
use super::marks::{Marks, filler_marks};
use super::model::{Order, OrderRow};
use super::sundries::{Sundry, sundries};
use super::words;
use crate::hold::say;
use crate::quantity::{Units, write};
use crate::survey::Survey;

/// Why the two counts differ, in one sentence.
const WHY_THEY_DIFFER: &str = "Half and nine of ten differ because each joint is a little wider, narrower, deeper or \
shallower than it was read, the yield of the product moves all of them together, and a floor takes more or less of a coat than \
its coverage says: the first count is enough for what was computed, the second leaves room for that. Where no deviation is \
known only the first stands.";

/// The order with what belongs to it.
struct Sheet<'a> {
    order: &'a Order,
    units: Units,
    sundries: Vec<Sundry>,
    dust: Vec<Dust>,
    bags: u64,
    marks: Marks,
}

fn sheet(floor: &Survey) -> Sheet<'_> {
    let dust = dust(&floor.takeoff, &floor.shop);
    Sheet {
        order: &floor.order,
        units: floor.slab.units,
        sundries: sundries(&floor.order, &floor.takeoff, &floor.shop, floor.slab.units),
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
    let name = crate::takeoff::words::clean(&floor.sketch.job.name);
    let mut out = format!("ORDER: {name}\n");
    out += &say::text(&floor.holds);
    for row in &sheet.order.rows {
        product(&mut out, row, sheet.units);
    }
    if sheet.order.rows.is_empty() {
        out += "\nNothing to buy.\n";
    }
    if sheet.order.rows.iter().any(|row| row.sd > 0.0) {
        out += &format!("\n{WHY_THEY_DIFFER}\n");
    }
    if !sheet.sundries.is_empty() {
        out += "\nTO TAKE ALONG\n";
        for row in &sheet.sundries {
            out += &format!("{:>4}  {}\n      {}\n", row.count, row.item, row.how);
        }
    }
    disposal(&mut out, &sheet);
    filling(&mut out, &sheet, floor);
    out += "\nQuantities are for estimating; the data sheet of each product goes first.\n";
    out
}

fn product(out: &mut String, row: &OrderRow, units: Units) {
    let item = crate::takeoff::words::clean(&row.item);
    let package = words::package(row.package, row.unit, units);
    *out += &format!("\n{:>4}  {item}, {package}\n", row.packages);
    if row.packages_p90 != row.packages_p50 {
        let (half, most) = (row.packages_p50, row.packages_p90);
        *out += &format!("      half of such floors take up to {half}, nine of ten up to {most}\n");
    }
    if row.one_lot {
        *out += "      from one lot\n";
    }
    for sentence in &row.how {
        *out += &format!("      {}\n", crate::takeoff::words::clean(sentence));
    }
}

fn disposal(out: &mut String, sheet: &Sheet) {
    if sheet.dust.is_empty() {
        return;
    }
    *out += "\nDUST AND DISPOSAL\n";
    for row in &sheet.dust {
        let volume = write::volume(row.volume_l, sheet.units);
        let mass = write::mass(row.mass_kg, sheet.units);
        *out += &format!("      {}: {volume}, {mass}\n", row.from);
    }
    *out += &format!(
        "      {} bags; loose dust takes up to twice the room (from memory)\n",
        sheet.bags
    );
}

/// The order of filling and where cartridges run out.
fn filling(out: &mut String, sheet: &Sheet, floor: &Survey) {
    let marks = &sheet.marks;
    if marks.legs.is_empty() {
        return;
    }
    let (walk, naive) = (
        write::run(marks.walk_m, sheet.units),
        write::run(marks.naive_m, sheet.units),
    );
    *out += &format!(
        "\nFILLING\n      {walk} walked between joints; {naive} in the order of the sketch\n"
    );
    let id = |joint: usize| {
        floor
            .takeoff
            .joints
            .get(joint)
            .map_or("", |j| j.id.as_str())
    };
    for leg in &marks.legs {
        let (from, to) = match leg.backward {
            true => (leg.stretch.to_m, leg.stretch.from_m),
            false => (leg.stretch.from_m, leg.stretch.to_m),
        };
        let (from, to) = (
            write::length(from, sheet.units),
            write::length(to, sheet.units),
        );
        *out += &format!(
            "      {} from {from} to {to}\n",
            crate::takeoff::words::clean(id(leg.joint))
        );
    }
    for mark in &marks.marks {
        *out += &format!(
            "      cartridge {} runs out on {} at {}\n",
            mark.cartridge,
            crate::takeoff::words::clean(id(mark.joint)),
            write::length(mark.station_m, sheet.units)
        );
    }
    *out += "      Two cartridges past a mark: the cut is deeper or wider than was sold.\n";
}

fn filling_json(marks: &Marks, floor: &Survey) -> Value {
    let id = |joint: usize| floor.takeoff.joints.get(joint).map(|j| j.id.as_str());
    let legs = marks.legs.iter().map(|leg| {
        let stretch = [nine(leg.stretch.from_m), nine(leg.stretch.to_m)];
        let [low, high] = stretch;
        let (from, to) = if leg.backward {
            (high, low)
        } else {
            (low, high)
        };
        json!({"joint": id(leg.joint), "from_m": from, "to_m": to})
    });
    let places = marks.marks.iter().map(|mark| {
        json!({
            "cartridge": mark.cartridge,
            "joint": id(mark.joint),
            "station_m": nine(mark.station_m),
            "x_m": nine(mark.at.x),
            "y_m": nine(mark.at.y),
        })
    });
    json!({
        "walk_m": nine(marks.walk_m),
        "naive_walk_m": nine(marks.naive_m),
        "legs": legs.collect::<Vec<_>>(),
        "marks": places.collect::<Vec<_>>(),
    })
}

/// The order for a spreadsheet, in the units of the sketch.
#[must_use]
pub fn csv(floor: &Survey) -> String {
    let sheet = sheet(floor);
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    let mut record = |cells: [String; 7]| {
        // Writing to memory has no way to fail.
        writer
            .write_record(cells.map(|cell| crate::takeoff::words::cell(&cell)))
            .ok();
    };
    let head = [
        "item",
        "packages",
        "packages_p50",
        "packages_p90",
        "package",
        "needed",
        "left_over",
    ];
    record(head.map(str::to_owned));
    for hold in &floor.holds {
        let mut cells = [const { String::new() }; 7];
        let (what, sentence) = say::cells(hold);
        (cells[0], cells[4]) = (what, sentence);
        record(cells);
    }
    for row in &sheet.order.rows {
        record([
            row.item.clone(),
            row.packages.to_string(),
            row.packages_p50.to_string(),
            row.nine_in_ten().map_or(String::new(), |n| n.to_string()),
            words::package(row.package, row.unit, sheet.units),
            words::amount(row.need, row.unit, sheet.units),
            words::amount(row.left_over, row.unit, sheet.units),
        ]);
    }
    for row in &sheet.sundries {
        let mut cells = [const { String::new() }; 7];
        cells[0] = row.item.to_owned();
        cells[1] = row.count.to_string();
        record(cells);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// The order for scripts, always SI.
#[must_use]
pub fn json(floor: &Survey) -> String {
    let sheet = sheet(floor);
    let products: Vec<Value> = sheet.order.rows.iter().map(product_json).collect();
    let sundries = sheet.sundries.iter();
    let sundries: Vec<Value> = sundries
        .map(|row| json!({"item": row.item, "count": row.count, "how": row.how}))
        .collect();
    let dust = sheet.dust.iter();
    let dust: Vec<Value> = dust
        .map(|row| json!({"from": row.from, "volume_l": nine(row.volume_l), "mass_kg": nine(row.mass_kg)}))
        .collect();
    let whole = json!({
        "slabwalk": 1,
        "job": {"name": floor.sketch.job.name},
        "holds": say::json(&floor.holds),
        "order": products,
        "sundries": sundries,
        "dust": dust,
        "dust_bags": sheet.bags,
        "filling": filling_json(&sheet.marks, floor),
    });
    format!("{whole:#}\n")
}

fn product_json(row: &OrderRow) -> Value {
    json!({
        "item": row.item,
        "need": nine(row.need),
        "unit": row.unit,
        "package": nine(row.package),
        "packages": row.packages,
        "packages_p50": row.packages_p50,
        "packages_p90": row.packages_p90,
        "sd": nine(row.sd),
        "left_over": nine(row.left_over),
        "one_lot": row.one_lot,
        "how": row.how,
    })
}

/// Rounded to nine decimals, so that a last bit never shows.
fn nine(value: f64) -> f64 {
    let rounded = (value * 1e9).round() / 1e9;
    if rounded == 0.0 { 0.0 } else { rounded }
}
