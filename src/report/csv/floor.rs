//! Rows about the floor as a whole, before and after the rows of the repairs.

use super::Sheet;
use crate::diagnostic::FileId;
use crate::report::Report;
use crate::takeoff::Totals;

/// What must be cleared first; job, areas, edges and closure.
pub fn rows(sheet: &mut Sheet, report: &Report) {
    for hold in report.holds {
        sheet.about("hold", &hold.items.join(" "));
        sheet.words(hold.code.word(), &hold.sentence());
    }
    job(sheet, &report.sketch.job);
    let area = &report.takeoff.area;
    sheet.about("area", "");
    sheet.area("gross", area.gross_m2, "inside the outline");
    sheet.area("keep-outs", area.keep_out_m2, "");
    sheet.area("uncoated", area.uncoated_m2, "");
    sheet.area("net", area.net_m2, "gross less keep-outs and uncoated parts");
    sheet.area("faces", area.faces_m2, "");
    sheet.area("coated", area.coated_m2, "net and faces");
    sheet.area("hand edging", area.hand_edge_m2, "where the floor grinder does not reach");
    for tier in &report.slab.tiers {
        let (riser_m, riser_m2, coated_m2) = report.slab.risers_of(tier);
        sheet.about("tier", &tier.id);
        sheet.small("height", tier.height_m, tier.what.as_deref().unwrap_or_default());
        sheet.area("coated floor", tier.area_m2, tier.note.as_deref().unwrap_or_default());
        sheet.length("riser", riser_m, "");
        sheet.area("riser", riser_m2, "");
        sheet.area("riser coated", coated_m2, "part of the faces");
    }
    sheet.about("edge", "");
    sheet.length("edge", report.takeoff.edge_m, "");
    sheet.length("termination", report.takeoff.termination_m, "cut in and keyed");
    if let Some(closure) = &report.takeoff.closure {
        sheet.about("closure", "");
        let shared = if closure.shared_out { "shared out along the runs" } else { "" };
        sheet.small("misclosure", closure.misclosure_m, shared);
        sheet.length("walked", closure.walked_m, "");
    }
}

fn job(sheet: &mut Sheet, job: &crate::sketch::Job) {
    sheet.about("job", "");
    sheet.words("name", &job.name);
    let surveyed = job.surveyed.as_ref().map(|at| at.value.as_str());
    let facts = [
        ("number", job.number.as_deref()),
        ("client", job.client.as_deref()),
        ("site", job.site.as_deref()),
        ("surveyed", surveyed),
        ("surveyor", job.surveyor.as_deref()),
        ("revision", job.revision.as_deref()),
        ("notes", job.notes.as_deref()),
    ];
    for (what, value) in facts {
        if let Some(value) = value {
            sheet.words(what, value);
        }
    }
}

/// Everything after the items: conditions, totals, order, findings.
pub fn rest(sheet: &mut Sheet, report: &Report) {
    conditions(sheet, report);
    levels(sheet, report);
    totals(sheet, &report.takeoff.totals);
    order(sheet, report);
    batches(sheet, report);
    pour_lines(sheet, report);
    findings(sheet, report);
}

pub fn panels(sheet: &mut Sheet, report: &Report) {
    for panel in &report.slab.panels {
        sheet.about("panel", &panel.id);
        sheet.area("area", panel.area_m2, &format!("joints {}", panel.joints.join(" ")));
        sheet.length("length", panel.length_m, "");
        sheet.length("width", panel.width_m, "");
        sheet.number("aspect", panel.aspect(), "", "");
        sheet.length("crack", panel.crack_m, "");
        if !panel.items.is_empty() {
            sheet.words("recorded in it", &panel.items.join(" "));
        }
    }
}

pub fn blemishes(sheet: &mut Sheet, report: &Report) {
    for blemish in &report.slab.blemishes {
        sheet.about("blemish", &blemish.id);
        let note = blemish.note.as_deref().unwrap_or_default();
        sheet.area(blemish.what.word(), blemish.area_m2, note);
    }
}

fn conditions(sheet: &mut Sheet, report: &Report) {
    let (tests, found) = (&report.sketch.tests, &report.takeoff.conditions);
    sheet.about("conditions", "");
    if let Some(air) = &tests.air_temperature {
        sheet.temperature("air", air.value.c());
    }
    if let Some(humidity) = &tests.air_humidity {
        sheet.number("air humidity", humidity.value.one() * 100.0, "%", "");
    }
    if let Some(slab) = &tests.slab_temperature {
        sheet.temperature("slab", slab.value.c());
    }
    if let Some(dew) = found.dew_point_c {
        sheet.temperature("dew point", dew);
    }
    if let Some(spread) = found.spread_c {
        sheet.spread("slab above dew point", spread);
    }
    sheet.count("moisture tests wanted", found.moisture_tests_wanted, "");
    sheet.count("moisture tests taken, ASTM F2170", found.rh_tests, "");
    sheet.count("moisture tests taken, ASTM F1869", found.mver_tests, "");
    for test in &report.slab.moisture {
        sheet.about("moisture", &test.id);
        if let Some(rh) = test.rh {
            sheet.number("relative humidity", rh * 100.0, "%", "");
        }
        if let Some(mver) = test.mver {
            sheet.number("vapor emission", mver, "lb/1000 ft2/24 h", "");
        }
    }
    sheet.about("hardness", "");
    for (_, mohs, _) in &report.slab.hardness {
        sheet.number("Mohs hardness", *mohs, "", "");
    }
}

fn levels(sheet: &mut Sheet, report: &Report) {
    let Some(levels) = &report.takeoff.levels else {
        return;
    };
    sheet.about("levels", "");
    if let Some(fall) = levels.fall {
        sheet.number("fall", fall.slope * 100.0, "%", "");
        sheet.small("largest distance from the plane", fall.worst_m, "");
    }
    for low in &levels.ponding {
        let what = format!("below its neighbors, level {}", low.number);
        sheet.small(&what, low.below_m, "may pond");
    }
    for (i, (_, row)) in levels.rows.iter().enumerate() {
        if let Some(ff) = row.ff {
            sheet.number(&format!("row {} FF", i + 1), ff, "", "");
        }
        if let Some(fl) = row.fl {
            sheet.number(&format!("row {} FL", i + 1), fl, "", "");
        }
    }
}

fn totals(sheet: &mut Sheet, totals: &Totals) {
    sheet.about("total", "");
    sheet.length("joint chased and filled", totals.chase_m, "");
    sheet.length("joint sawn", totals.saw_m, "");
    sheet.length("joint cut by hand", totals.hand_cut_m, "");
    sheet.count("ends cut by hand", totals.hand_ends, "");
    sheet.length("buried joint opened", totals.buried_m, "");
    sheet.liquid("joint filler in place", totals.fill_l, "");
    sheet.length("joint and crack honored", totals.honor_m, "");
    sheet.length("widened for rod and sealant", totals.widen_m, "");
    sheet.liquid("sealant in place", totals.sealant_l, "");
    sheet.length("crack treated", totals.crack_m, "");
    sheet.length("crack filled", totals.crack_fill_m, "");
    sheet.length("crack cut open", totals.crack_chase_m, "");
    sheet.liquid("crack resin in place", totals.crack_fill_l, "");
    if totals.ports > 0 {
        sheet.area("delamination injected", totals.inject_m2, "");
        sheet.count("ports for injection", totals.ports, "");
        sheet.liquid("injection resin in place", totals.inject_l, "");
    }
    sheet.solid("mortar in place", totals.patch_l, "");
    sheet.length("step taken down by hand", totals.hand_grind_m, "");
    let note = "bands as they lie, merged and clipped";
    sheet.area("floor feathered by hand", totals.hand_grind_m2, note);
    sheet.solid("concrete ground off", totals.hand_grind_l, "");
    sheet.area("blemished", totals.blemish_m2, "");
    if totals.cove_m > 0.0 {
        sheet.length("cove", totals.cove_m, "");
        sheet.solid("cove mortar in place", totals.cove_l, "");
    }
}

fn order(sheet: &mut Sheet, report: &Report) {
    for row in &report.order.rows {
        sheet.about("order", &row.item.to_string());
        sheet.amount("needed", row.need, row.unit, "waste included");
        sheet.amount("package", row.package, row.unit, "");
        let packages = |n: u64| usize::try_from(n).unwrap_or(usize::MAX);
        sheet.count("packages", packages(row.packages), "");
        if let Some(most) = row.nine_in_ten() {
            sheet.count("packages, 9 jobs in 10", packages(most), "");
        }
        sheet.amount("left over", row.left_over, row.unit, "");
    }
}

fn batches(sheet: &mut Sheet, report: &Report) {
    for layer in &report.order.batches {
        sheet.about("batches", &layer.name);
        for (i, batch) in layer.list.iter().enumerate() {
            let of = |what: &str| format!("batch {} {what}", i + 1);
            sheet.amount(&of("mixed"), batch.volume_l, "L", "");
            for (part, litres) in ["part A", "part B", "part C"].iter().zip(&batch.parts_l) {
                sheet.amount(&of(part), *litres, "L", "");
            }
            sheet.area(&of("area"), batch.area_m2, "");
            sheet.words(&of("laid in"), &crate::quantity::write::span(batch.lay_s));
        }
        if let Some(life) = layer.pot_life_s {
            sheet.words("pot life", &crate::quantity::write::span(life));
        }
    }
}

fn pour_lines(sheet: &mut Sheet, report: &Report) {
    for layer in &report.order.pour_lines {
        sheet.about("pour line", &layer.layer);
        for line in &layer.lines {
            sheet.length(&format!("batch {} used up at", line.batch), line.distance_m, "");
            sheet.area(&format!("batch {} area behind", line.batch), line.area_behind_m2, "");
        }
    }
}

fn findings(sheet: &mut Sheet, report: &Report) {
    for (finding, line) in report.findings() {
        sheet.about("finding", finding.item.as_deref().unwrap_or_default());
        let mut note = format!("{}: {}", finding.severity.word(), finding.message);
        if let Some(hint) = &finding.hint {
            note.push_str(&format!("; {hint}"));
        }
        if let Some(source) = finding.source {
            note.push_str(&format!(" ({source})"));
        }
        match line {
            Some(line) if line.file == FileId::Sketch => {
                sheet.line(finding.code, line.number, &note);
            }
            _ => sheet.words(finding.code, &note),
        }
    }
}
