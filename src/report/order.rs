//! The order list as text, CSV and JSON.

use crate::trade::words::said;
use serde_json::{Value, json};

use crate::floor::Survey;
use crate::hold::say;
use crate::order::{
    Carried, Dust, Marks, Order, OrderRow, bags, carried, dust, filler_marks, near_misses, over,
    words,
};
use crate::quantity::measure::solid;
use crate::quantity::{Units, write};
use crate::work::Batches;

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
    marks: Marks,
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
    filling(&mut out, &sheet, floor);
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
fn filling(out: &mut String, sheet: &Sheet, floor: &Survey) {
    let marks = &sheet.marks;
    if marks.legs.is_empty() {
        return;
    }
    let (walk, naive) =
        (write::run(marks.walk_m, sheet.units), write::run(marks.naive_m, sheet.units));
    *out += &format!(
        "\nFILLING\n      {walk} walked between joints; {naive} in the order of the sketch\n"
    );
    let id = |joint: usize| floor.takeoff.joints.get(joint).map_or("", |j| j.id.as_str());
    for leg in &marks.legs {
        let (from, to) = match leg.backward {
            true => (leg.stretch.to_m, leg.stretch.from_m),
            false => (leg.stretch.from_m, leg.stretch.to_m),
        };
        let (from, to) = (write::length(from, sheet.units), write::length(to, sheet.units));
        *out += &format!("      {} from {from} to {to}\n", crate::text::clean(id(leg.joint)));
    }
    for mark in &marks.marks {
        *out += &format!(
            "      cartridge {} runs out on {} at {}\n",
            mark.cartridge,
            crate::text::clean(id(mark.joint)),
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
        let (from, to) = if leg.backward { (high, low) } else { (low, high) };
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
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
    let mut record = |cells: [String; 8]| {
        // Writing to memory has no way to fail.
        writer.write_record(cells.map(|cell| crate::text::cell(&cell))).ok();
    };
    let head = [
        "item",
        "packages",
        "packages_p50",
        "packages_p90",
        "package",
        "needed",
        "left_over",
        "color",
    ];
    record(head.map(str::to_owned));
    for hold in &floor.holds {
        let mut cells = [const { String::new() }; 8];
        let (what, sentence) = say::cells(hold);
        (cells[0], cells[4]) = (what, sentence);
        record(cells);
    }
    for row in &sheet.order.rows {
        record([
            row.item.to_string(),
            row.packages.to_string(),
            row.packages_p50.to_string(),
            row.nine_in_ten().map_or(String::new(), |n| n.to_string()),
            words::package(row.package, row.unit, sheet.units),
            words::amount(row.need, row.unit, sheet.units),
            words::amount(row.left_over, row.unit, sheet.units),
            row.chosen.named().unwrap_or_default(),
        ]);
    }
    for row in &sheet.carried {
        let mut cells = [const { String::new() }; 8];
        cells[0] = row.good.name().to_owned();
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
    let carried: Vec<Value> = sheet.carried.iter().map(carried_json).collect();
    let dust = sheet.dust.iter();
    let dust: Vec<Value> = dust
        .map(|row| json!({"from": row.from, "volume_l": nine(row.volume_l), "mass_kg": nine(row.mass_kg)}))
        .collect();
    let whole = json!({
        "slabwalk": 1,
        "job": {"name": floor.sketch.job.name},
        "holds": say::json(&floor.holds),
        "order": products,
        "sundries": carried,
        "dust": dust,
        "dust_bags": sheet.bags,
        "batches": batches_json(sheet.order),
        "filling": filling_json(&sheet.marks, floor),
    });
    format!("{whole:#}\n")
}

fn batches_json(order: &Order) -> Vec<Value> {
    let minutes = |s: f64| nine(s / 60.0);
    let layer = |layer: &Batches| {
        let batches = layer.list.iter().map(|batch| {
            let part = |place: usize| batch.parts_l.get(place).map(|l| nine(*l));
            json!({
                "volume_l": nine(batch.volume_l),
                "part_a_l": part(0),
                "part_b_l": part(1),
                "area_m2": nine(batch.area_m2),
                "lay_min": minutes(batch.lay_s),
            })
        });
        json!({
            "layer": layer.name,
            "pot_life_min": layer.pot_life_s.map(minutes),
            "batches": batches.collect::<Vec<_>>(),
        })
    };
    order.batches.iter().map(layer).collect()
}

fn carried_json(row: &Carried) -> Value {
    json!({
        "item": row.good.name(),
        "count": row.count,
        "spare": row.spare,
        "used": nine(row.used),
        "charged": row.charged.word(),
        "how": row.how,
    })
}

fn product_json(row: &OrderRow) -> Value {
    json!({
        "item": row.item.to_string(),
        "need": nine(row.need),
        "unit": row.unit,
        "package": nine(row.package),
        "packages": row.packages,
        "packages_p50": row.packages_p50,
        "packages_p90": row.packages_p90,
        "sd": nine(row.sd),
        "left_over": nine(row.left_over),
        "one_lot": row.one_lot,
        "reserve": nine(row.reserve),
        "charged": row.charged.word(),
        "used": nine(row.need / row.package),
        "reclaimed": nine(row.reclaimed),
        "near_miss": over(row).map(nine),
        "color": row.chosen.named(),
        "to_choose": row.chosen.open.iter().map(|choice| choice.word()).collect::<Vec<_>>(),
        "how": row.how,
    })
}

/// Rounded to nine decimals, so that a last bit never shows.
fn nine(value: f64) -> f64 {
    let rounded = (value * 1e9).round() / 1e9;
    if rounded == 0.0 { 0.0 } else { rounded }
}
