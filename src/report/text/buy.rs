//! What is bought, how it is used up, and the totals.

use super::Page;
use crate::quantity::{Units, write};
use crate::report::Report;
use crate::report::measure::{amount, package, patch_area, solid};
use crate::report::table::{Align, Rows};
use crate::takeoff::Totals;
use crate::takeoff::words;

/// Order, pour lines and totals.
pub fn sections(page: &mut Page, report: &Report) {
    order(page, report);
    pour_lines(page, report);
    totals(page, &report.takeoff.totals, report.slab.units);
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
            words::clean(&row.item),
            amount(row.need, row.unit, units),
            package(row.package, row.unit, units),
            row.packages.to_string(),
            row.nine_in_ten()
                .map_or(String::new(), |packages| packages.to_string()),
            amount(row.left_over, row.unit, units),
        ]);
    }
    page.section("To order", &rows);
    if !rows.is_empty() {
        page.note("Waste included, whole packages. \"9 in 10\": enough in nine of ten such jobs,");
        page.note("where the shop book says how the need varies.");
    }
}

fn pour_lines(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Layer", Align::Left),
        ("Batch", Align::Right),
        ("Used up at", Align::Right),
        ("Area behind", Align::Right),
    ]);
    for layer in &report.order.pour_lines {
        for line in &layer.lines {
            rows.push([
                words::clean(&layer.layer),
                line.batch.to_string(),
                write::length(line.distance_m, units),
                write::area(line.area_behind_m2, units),
            ]);
        }
    }
    page.section("Pour lines", &rows);
    if let (Some(side), false) = (&report.slab.pour_from, rows.is_empty()) {
        let name = words::clean(&side.name);
        page.note(&format!(
            "Taped from the outermost coated point on the pouring side ({name})."
        ));
    }
}

fn totals(page: &mut Page, totals: &Totals, units: Units) {
    let run = |m: f64| (m != 0.0).then(|| write::run(m, units));
    let volume = |l: f64| (l != 0.0).then(|| write::volume(l, units));
    let mortar = |l: f64| (l != 0.0).then(|| solid(l, units));
    let ends = (totals.hand_ends > 0).then(|| totals.hand_ends.to_string());
    let band = (totals.hand_grind_m2 != 0.0).then(|| patch_area(totals.hand_grind_m2, units));
    let list = [
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
        ("Mortar in place", mortar(totals.patch_l), ""),
        ("Step taken down by hand", run(totals.hand_grind_m), ""),
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
