//! The floor as a whole: areas, edges, panels, what is on the surface, air and moisture, heights.

use super::Page;
use crate::quantity::{M_PER_IN, Units, write};
use crate::report::Report;
use crate::report::table::{Align, Rows};
use crate::takeoff::{Fall, LowSpot};
use crate::text::clean;

/// Areas, edges and closure.
pub fn sections(page: &mut Page, report: &Report) {
    let (area, units) = (&report.takeoff.area, report.slab.units);
    let mut rows = Rows::new(&[("", Align::Left), ("", Align::Right), ("", Align::Wrap)]);
    let mut add = |label: &str, value: String, note: &str| {
        rows.push([label.to_owned(), value, note.to_owned()]);
    };
    let shown = |m2: f64| write::area(m2, units);
    add("Gross", shown(area.gross_m2), "inside the outline");
    if area.keep_out_m2 != 0.0 {
        add("less keep-outs", shown(area.keep_out_m2), "");
    }
    if area.uncoated_m2 != 0.0 {
        add("less uncoated", shown(area.uncoated_m2), "");
    }
    add("Net floor", shown(area.net_m2), "");
    if area.faces_m2 != 0.0 {
        add("plus faces", shown(area.faces_m2), "");
    }
    add("Coated", shown(area.coated_m2), "");
    add("Hand edging", shown(area.hand_edge_m2), "where the floor grinder doesn't reach");
    let length = |m: f64| write::length(m, units);
    add("Edge", length(report.takeoff.edge_m), "");
    if report.takeoff.termination_m != 0.0 {
        let note = "of it, where the coating ends on open floor: cut in and keyed";
        add("Termination", length(report.takeoff.termination_m), note);
    }
    let system = report.shop.system_of(&report.sketch.coating);
    if let Some(profile) = system.and_then(|system| system.profile) {
        let passes = write::trimmed(report.shop.passes(system), 0);
        let s = if passes == "1" { "" } else { "es" };
        let note = format!("chips of ICRI 310.2R; {passes} pass{s} of the floor grinder");
        add("Profile", profile.to_string(), &note);
    }
    if let Some(closure) = &report.takeoff.closure {
        let value = write::small(closure.misclosure_m, units);
        add("Misclosure", value, &closure_note(closure, units));
    }
    page.section("Floor", &rows);
    tiers(page, report);
}

/// What lies at each height.
fn tiers(page: &mut Page, report: &Report) {
    let (slab, units) = (report.slab, report.slab.units);
    let mut rows = Rows::new(&[
        ("Mark", Align::Left),
        ("Height", Align::Right),
        ("Coated floor", Align::Right),
        ("Riser", Align::Right),
        ("Riser area", Align::Right),
        ("Coated", Align::Right),
        ("What", Align::Wrap),
    ]);
    if slab.tiers.is_empty() {
        return;
    }
    let raised: f64 = slab.tiers.iter().map(|tier| tier.area_m2).sum();
    let area = |m2: f64| write::area(m2, units);
    let mut main = [const { String::new() }; 7];
    main[2] = area(slab.areas.net - raised);
    main[6] = "main floor".to_owned();
    rows.push(main);
    let mut sums = (0.0, 0.0, 0.0);
    for tier in &slab.tiers {
        let (riser_m, riser_m2, coated_m2) = slab.risers_of(tier);
        sums = (sums.0 + riser_m, sums.1 + riser_m2, sums.2 + coated_m2);
        rows.push([
            clean(&tier.id),
            tier.rise(units),
            area(tier.area_m2),
            write::length(riser_m, units),
            area(riser_m2),
            area(coated_m2),
            tier.what.as_deref().map(clean).unwrap_or_default(),
        ]);
    }
    rows.total([
        "Total".to_owned(),
        String::new(),
        area(slab.areas.net),
        write::length(sums.0, units),
        area(sums.1),
        area(sums.2),
        String::new(),
    ]);
    page.section("Heights of the floor", &rows);
    notes(page, slab.tiers.iter().map(|t| (t.id.as_str(), t.note.as_deref())));
}

fn closure_note(closure: &crate::slab::Closure, units: Units) -> String {
    let ratio = closure.ratio();
    let one_in = if ratio > 0.0 {
        format!(", 1 in {}", write::grouped(1.0 / ratio, 0))
    } else {
        String::new()
    };
    let shared = if closure.shared_out { ", shared out along the runs" } else { "" };
    format!("of the walk of {}{one_in}{shared}", write::length(closure.walked_m, units))
}

pub fn panels(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Panel", Align::Left),
        ("Size", Align::Right),
        ("Aspect", Align::Right),
        ("Area", Align::Right),
        ("Joints", Align::Wrap),
        ("Items", Align::Wrap),
    ]);
    for panel in &report.slab.panels {
        let (long, short) = (panel.length_m, panel.width_m);
        rows.push([
            panel.id.clone(),
            format!("{} × {}", write::length(long, units), write::length(short, units)),
            write::fixed(panel.aspect(), 2),
            write::area(panel.area_m2, units),
            clean(&panel.joints.join(" ")),
            clean(&panel.items.join(" ")),
        ]);
    }
    page.section("Panels", &rows.without_empty_columns());
}

pub fn blemishes(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Mark", Align::Left),
        ("What", Align::Left),
        ("Area", Align::Right),
        ("Note", Align::Wrap),
    ]);
    for blemish in &report.slab.blemishes {
        rows.push([
            clean(&blemish.id),
            blemish.what.name(),
            write::area(blemish.area_m2, units),
            blemish.note.as_deref().map(clean).unwrap_or_default(),
        ]);
    }
    if rows.count() > 1 {
        let area = write::area(report.takeoff.totals.blemish_m2, units);
        rows.total(["Total".to_owned(), String::new(), area, String::new()]);
    }
    page.section("Surface", &rows.without_empty_columns());
}

pub fn conditions(page: &mut Page, report: &Report) {
    let (units, found) = (report.slab.units, &report.takeoff.conditions);
    let mut rows = Rows::new(&[("", Align::Left), ("", Align::Right), ("", Align::Wrap)]);
    let mut add = |label: String, value: String, note: String| rows.push([label, value, note]);
    let tests = &report.sketch.tests;
    let degrees = |c: f64| write::temperature(c, units);
    if let Some(air) = &tests.air_temperature {
        let humidity = tests.air_humidity.as_ref();
        let humidity = humidity.map(|h| format!("at {} humidity", write::percent(h.value.one())));
        add("Air".to_owned(), degrees(air.value.c()), humidity.unwrap_or_default());
    }
    if let Some(dew) = found.dew_point_c {
        add("Dew point".to_owned(), degrees(dew), String::new());
    }
    if let Some(slab) = &tests.slab_temperature {
        let above =
            |k: f64| format!("{} above the dew point", write::temperature_difference(k, units));
        let note = found.spread_c.map(above).unwrap_or_default();
        add("Slab".to_owned(), degrees(slab.value.c()), note);
    }
    let wanted = found.moisture_tests_wanted;
    let note = format!("taken, {wanted} of one kind wanted for this area");
    let kinds =
        [("Moisture tests, F2170", found.rh_tests), ("Moisture tests, F1869", found.mver_tests)];
    for (kind, taken) in kinds.into_iter().filter(|kind| kind.1 > 0) {
        add(kind.to_owned(), taken.to_string(), note.clone());
    }
    if found.moisture_tests_taken() == 0 && wanted > 0 {
        add("Moisture tests".to_owned(), "0".to_owned(), note);
    }
    let limits = &report.shop.moisture.limits;
    for test in &report.slab.moisture {
        if let Some(rh) = test.rh {
            let note = format!("RH in the slab, limit {}", write::percent(limits.rh.one()));
            add(format!("  {}", clean(&test.id)), write::percent(rh), note);
        }
        if let Some(mver) = test.mver {
            let limit = write::trimmed(limits.mver, 2);
            let note = format!("per 1000 ft² in 24 h, limit {limit} lb");
            let value = format!("{} lb", write::trimmed(mver, 2));
            add(format!("  {}", clean(&test.id)), value, note);
        }
    }
    let mohs = report.slab.hardness.iter().map(|(_, mohs, _)| write::trimmed(*mohs, 1));
    let mohs: Vec<String> = mohs.collect();
    if !mohs.is_empty() {
        add("Mohs hardness".to_owned(), mohs.join(", "), String::new());
    }
    page.section("Conditions", &rows);
}

pub fn levels(page: &mut Page, report: &Report) {
    let Some(levels) = &report.takeoff.levels else {
        return;
    };
    let units = report.slab.units;
    let mut rows = Rows::new(&[("", Align::Left), ("", Align::Wrap)]);
    if let Some(fall) = levels.fall {
        rows.push(["Fall".to_owned(), fall_text(fall, units)]);
    }
    for LowSpot { level, below_m, .. } in &levels.ponding {
        let at = format!(
            "x {}, y {}: {} below its neighbors",
            write::length(level.at.x, units),
            write::length(level.at.y, units),
            write::small(*below_m, units)
        );
        rows.push(["May pond".to_owned(), at]);
    }
    let number = |f: Option<f64>| f.map_or("too few readings".to_owned(), |f| write::fixed(f, 0));
    for (i, (_, row)) in levels.rows.iter().enumerate() {
        let text = format!("FF {}, FL {}", number(row.ff), number(row.fl));
        rows.push([format!("Row {}", i + 1), text]);
    }
    page.section("Heights", &rows);
}

/// `1/8" per foot towards the N`, and how far the readings lie off that plane.
pub fn fall_text(fall: Fall, units: Units) -> String {
    let slope = match units {
        Units::Us => {
            let inches = fall.slope * 12.0;
            format!("{} per foot", write::inches_fraction(inches * M_PER_IN, 64))
        }
        Units::Metric => format!("{} mm per m", write::trimmed(fall.slope * 1000.0, 1)),
    };
    let worst = write::small(fall.worst_m, units);
    format!("{slope} toward {}; readings lie up to {worst} off that plane", side(fall.direction))
}

/// The nearest of the eight directions of the sheet.
fn side(direction: kurbo::Vec2) -> &'static str {
    const SIDES: [&str; 8] = ["E", "NE", "N", "NW", "W", "SW", "S", "SE"];
    let eighth = (direction.atan2() / std::f64::consts::FRAC_PI_4).round();
    let near = |i: &usize| (*i as f64 - eighth).rem_euclid(8.0) == 0.0;
    (0..8).find(near).map_or("E", |i| SIDES[i])
}

/// Notes of items, one after another under their table.
pub fn notes<'a>(page: &mut Page, notes: impl Iterator<Item = (&'a str, Option<&'a str>)>) {
    for (id, note) in notes {
        if let Some(note) = note {
            page.lead(&format!("{}: ", clean(id)), &clean(note));
        }
    }
}
