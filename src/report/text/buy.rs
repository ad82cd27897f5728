//! What is bought, how it is used up, and the totals.

use super::Page;
use crate::order::near_misses;
use crate::quantity::measure::{amount, package, patch_area, solid};
use crate::quantity::write;
use crate::report::Report;
use crate::report::table::{Align, Rows};
use crate::text::clean;
use crate::trade::words::said;

/// Totals and what to buy: what is asked first.
pub fn first(page: &mut Page, report: &Report) {
    totals(page, report);
    order(page, report);
}

fn order(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Item", Align::Wrap),
        ("Needed", Align::Right),
        ("Package", Align::Right),
        ("Buy", Align::Right),
        ("9 in 10", Align::Right),
        ("Left over", Align::Right),
    ]);
    for row in &report.order.rows {
        rows.push([
            clean(&said(&row.item.to_string())),
            amount(row.need, row.unit, units),
            package(row.package, row.unit, units),
            row.packages.to_string(),
            row.nine_in_ten().map_or(String::new(), |packages| packages.to_string()),
            amount(row.left_over, row.unit, units),
        ]);
    }
    page.section("To order", &rows);
    if !rows.is_empty() {
        page.note("Waste included, whole packages. \"9 in 10\": enough in nine of ten such jobs,");
        page.note("where the shop book says how the need varies.");
    }
    for sentence in near_misses(report.order, units) {
        page.lead("Near miss: ", &sentence);
    }
}

/// What is mixed at once, and where it is used up.
pub fn batches(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Layer", Align::Left),
        ("Batch", Align::Right),
        ("Mix", Align::Right),
        ("Part A", Align::Right),
        ("Part B", Align::Right),
        ("Used up at", Align::Right),
        ("Area done", Align::Right),
    ]);
    for layer in &report.order.batches {
        let lines = report.order.pour_lines.iter();
        let lines = lines.filter(|lines| lines.layer == layer.name);
        let lines: Vec<_> = lines.flat_map(|lines| &lines.lines).collect();
        let mut done = 0.0;
        for (i, batch) in layer.list.iter().enumerate() {
            done += batch.area_m2;
            let part = |place: usize| {
                let part = batch.parts_l.get(place);
                part.map_or(String::new(), |l| write::pail(*l, units))
            };
            rows.push([
                if i == 0 { clean(&layer.name) } else { String::new() },
                (i + 1).to_string(),
                write::pail(batch.volume_l, units),
                part(0),
                part(1),
                lines.get(i).map_or(String::new(), |line| write::length(line.distance_m, units)),
                write::area(done, units),
            ]);
        }
    }
    page.section("Batches", &rows);
    if rows.is_empty() {
        return;
    }
    for layer in &report.order.batches {
        page.note(&crate::order::words::laying(layer, units));
    }
    if let Some(side) = &report.slab.pour_from {
        let name = clean(&side.name);
        page.note(&format!("Taped from the outermost coated point on the pouring side ({name})."));
    }
}

fn totals(page: &mut Page, report: &Report) {
    let (totals, units) = (&report.takeoff.totals, report.slab.units);
    let area = &report.takeoff.area;
    let with_faces = if area.faces_m2 == 0.0 { "" } else { "with its upright faces" };
    let floor = |m2: f64| (m2 != 0.0).then(|| write::area(m2, units));
    let run = |m: f64| (m != 0.0).then(|| write::run(m, units));
    let volume = |l: f64| (l != 0.0).then(|| write::volume(l, units));
    let mortar = |l: f64| (l != 0.0).then(|| solid(l, units));
    let ends = (totals.hand_ends > 0).then(|| totals.hand_ends.to_string());
    let band = (totals.hand_grind_m2 != 0.0).then(|| patch_area(totals.hand_grind_m2, units));
    let injected = (totals.inject_m2 != 0.0).then(|| patch_area(totals.inject_m2, units));
    let ports = (totals.ports > 0).then(|| totals.ports.to_string());
    let list = [
        ("Floor to coat", floor(area.coated_m2), with_faces),
        ("Joint chased and filled", run(totals.chase_m), ""),
        ("Joint sawn", run(totals.saw_m), ""),
        ("Joint cut by hand", run(totals.hand_cut_m), ""),
        ("Ends cut by hand", ends, ""),
        ("Buried joint opened", run(totals.buried_m), ""),
        ("Joint filler in place", volume(totals.fill_l), ""),
        ("Joint and crack honored", run(totals.honor_m), ""),
        ("Widened for rod and sealant", run(totals.widen_m), ""),
        ("Sealant in place", volume(totals.sealant_l), ""),
        ("Crack treated", run(totals.crack_m), ""),
        ("Crack filled", run(totals.crack_fill_m), ""),
        ("Crack cut open", run(totals.crack_chase_m), ""),
        ("Crack resin in place", volume(totals.crack_fill_l), ""),
        ("Delamination injected", injected, ""),
        ("Ports for injection", ports, ""),
        ("Injection resin in place", volume(totals.inject_l), ""),
        ("Mortar in place", mortar(totals.patch_l), ""),
        ("Offset taken down by hand", run(totals.hand_grind_m), ""),
        ("Floor feathered by hand", band, "bands as they lie, merged"),
        ("Concrete ground off", mortar(totals.hand_grind_l), ""),
        ("Cove", run(totals.cove_m), "at the foot of faces"),
        ("Cove mortar in place", mortar(totals.cove_l), ""),
    ];
    let mut rows = Rows::new(&[("", Align::Left), ("", Align::Right), ("", Align::Wrap)]);
    for (label, value, note) in list {
        if let Some(value) = value {
            rows.push([label.to_owned(), value, note.to_owned()]);
        }
    }
    page.section("Totals", &rows);
}
