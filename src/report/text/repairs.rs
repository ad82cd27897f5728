//! Cracks, spalls, patches and steps.

use super::floor::notes;
use super::{Lengths, Page};
use crate::quantity::measure::{Column, cut, patch_area, small_or_blank};
use crate::quantity::tape::pair;
use crate::quantity::{Units, write};
use crate::report::Report;
use crate::report::table::{Align, Rows};
use crate::takeoff::{CrackPortion, CrackRepair, LippageWork, LooseRepair, SpallRepair, Takeoff};
use crate::text::clean;

/// What a portion of a crack is filled to, or the rod that goes into it.
fn portion_section(portion: &CrackPortion, units: Units) -> String {
    match &portion.repair {
        CrackRepair::Fill(filling) | CrackRepair::Chase(filling) => {
            pair(filling.width_m, filling.depth_m, units)
        }
        CrackRepair::Honor(seal) => {
            let rod = |rod| format!("rod {}", write::small(rod, units));
            let rod = seal.rod_m.map_or("no rod fits".to_owned(), rod);
            match seal.widen_m > 0.0 {
                true => format!("widen {}, {rod}", write::small(seal.width_m, units)),
                false => rod,
            }
        }
        CrackRepair::Prime | CrackRepair::Leave => String::new(),
    }
}

/// The table of the cracks, a row a portion.
fn crack_table(takeoff: &Takeoff, lengths: Lengths) -> Rows {
    let units = lengths.units;
    let portions = || {
        let cracks = takeoff.cracks.iter();
        cracks.flat_map(|crack| crack.portions.iter().map(move |portion| (crack, portion)))
    };
    let resin = Column::liquid(takeoff.totals.crack_fill_l, units);
    let sealant_l = portions().filter_map(|(_, p)| Some(p.seal()?.sealant_l)).sum();
    let sealant = Column::liquid(sealant_l, units);
    let mut rows = Rows::new(&[
        ("Crack", Align::Left),
        ("From", Align::Right),
        ("Length", Align::Right),
        ("Width", Align::Right),
        ("Do", Align::Left),
        ("Section", Align::Right),
        ("Resin", Align::Right),
        ("Sealant", Align::Right),
    ]);
    for (crack, portion) in portions() {
        rows.push([
            clean(&crack.id),
            lengths.cell(portion.from_m),
            lengths.cell(portion.length_m),
            small_or_blank(portion.width_m, units),
            portion.treatment().word().to_owned(),
            portion_section(portion, units),
            resin.cell(portion.filling().map_or(0.0, |filling| filling.volume_l)),
            sealant.cell(portion.seal().map_or(0.0, |seal| seal.sealant_l)),
        ]);
    }
    if rows.count() > 1 {
        let blank = String::new;
        rows.total([
            "Total".to_owned(),
            blank(),
            lengths.cell(takeoff.cracks.iter().map(|crack| crack.length_m).sum()),
            blank(),
            blank(),
            blank(),
            resin.cell(takeoff.totals.crack_fill_l),
            sealant.cell(sealant_l),
        ]);
    }
    rows
}

pub fn cracks(page: &mut Page, report: &Report) {
    page.fitted("Cracks", report, |lengths| crack_table(report.takeoff, lengths));
    let cracks = report.slab.cracks.iter();
    notes(page, cracks.map(|crack| (crack.id.as_str(), crack.note.as_deref())));
}

/// What is done with a spall, and the mortar that it takes: filled with its joint it takes joint filler, L.
fn spall_text(repair: &SpallRepair) -> (String, Option<f64>) {
    match repair {
        SpallRepair::Leave => ("leave".to_owned(), Some(0.0)),
        SpallRepair::Skim { volume_l, .. } => ("skim".to_owned(), Some(*volume_l)),
        SpallRepair::Patch { id, volume_l } => (format!("cut out, {}", clean(id)), Some(*volume_l)),
        SpallRepair::WithJoint { id, .. } => (format!("fill with {}", clean(id)), None),
    }
}

pub fn spalls(page: &mut Page, report: &Report) {
    let (units, takeoff) = (report.slab.units, report.takeoff);
    let mut rows = Rows::new(&[
        ("Spall", Align::Left),
        ("Area", Align::Right),
        ("Depth", Align::Right),
        ("Do", Align::Left),
        ("Mortar", Align::Right),
    ]);
    let mortar = Column::solid(takeoff.totals.patch_l, units);
    for (record, spall) in takeoff.spalls_of(report.slab) {
        let (what, mortar_l) = spall_text(&spall.repair);
        rows.push([
            clean(&spall.id),
            patch_area(spall.area_m2, units),
            write::small(record.depth, units),
            what,
            mortar_l.map_or_else(String::new, |litres| mortar.cell(litres)),
        ]);
    }
    if rows.count() > 1 {
        let own = takeoff.spalls.iter().filter_map(|spall| spall_text(&spall.repair).1);
        let volume = mortar.cell(own.sum());
        rows.total(["Total".to_owned(), String::new(), String::new(), String::new(), volume]);
    }
    page.section("Spalls", &rows.without_empty_columns());
    let spalls = report.slab.spalls.iter();
    notes(page, spalls.map(|spall| (spall.id.as_str(), spall.note.as_deref())));
}

pub fn delaminations(page: &mut Page, report: &Report) {
    let (units, takeoff) = (report.slab.units, report.takeoff);
    let mut rows = Rows::new(&[
        ("Delamination", Align::Left),
        ("Area", Align::Right),
        ("Depth", Align::Right),
        ("Do", Align::Left),
        ("Mortar", Align::Right),
        ("Resin", Align::Right),
    ]);
    let mortar = Column::solid(takeoff.totals.patch_l, units);
    for loose in &takeoff.delaminations {
        let (what, mortar, resin) = match &loose.repair {
            LooseRepair::Leave => ("leave".to_owned(), String::new(), String::new()),
            LooseRepair::Patch { id, volume_l } => {
                (format!("cut out, {}", clean(id)), mortar.cell(*volume_l), String::new())
            }
            LooseRepair::Inject(injection) => {
                let resin = write::volume(injection.resin_l, units);
                (format!("inject, {} ports", injection.ports), String::new(), resin)
            }
        };
        let depth = write::small(loose.depth_m, units);
        let depth = if loose.assumed { format!("{depth} assumed") } else { depth };
        rows.push([clean(&loose.id), patch_area(loose.area_m2, units), depth, what, mortar, resin]);
    }
    page.section("Delaminations, sounded hollow", &rows.without_empty_columns());
    let records = report.slab.delaminations.iter();
    notes(page, records.map(|record| (record.id.as_str(), record.note.as_deref())));
}

pub fn patches(page: &mut Page, report: &Report) {
    let units = report.slab.units;
    let mut rows = Rows::new(&[
        ("Patch", Align::Left),
        ("Cut", Align::Right),
        ("Depth", Align::Right),
        ("Area", Align::Right),
        ("Mortar", Align::Right),
        ("Around", Align::Wrap),
    ]);
    let mortar = Column::solid(report.takeoff.patches.iter().map(|p| p.volume_l).sum(), units);
    for patch in &report.takeoff.patches {
        rows.push([
            clean(&patch.id),
            cut(patch.length_m, patch.width_m, units),
            write::small(patch.depth_mm / 1000.0, units),
            patch_area(patch.area_m2, units),
            mortar.cell(patch.volume_l),
            clean(&patch.ids().collect::<Vec<_>>().join(" ")),
        ]);
    }
    page.section("Patches, squared and cut out", &rows);
}

/// Stretches taken down by hand; pieces that meet are one.
fn where_text(step: &LippageWork, lengths: Lengths) -> String {
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for stretch in &step.stretches {
        match merged.last_mut() {
            Some(last) if (stretch.from_m - last.1).abs() < 1e-9 => last.1 = stretch.to_m,
            _ => merged.push((stretch.from_m, stretch.to_m)),
        }
    }
    let text = |&(from, to): &(f64, f64)| format!("{} to {}", lengths.cell(from), lengths.cell(to));
    merged.iter().map(text).collect::<Vec<_>>().join(", ")
}

/// The table of the steps.
fn step_table(report: &Report, lengths: Lengths) -> Rows {
    let (units, totals) = (lengths.units, &report.takeoff.totals);
    let mut rows = Rows::new(&[
        ("Offset", Align::Left),
        ("Along", Align::Left),
        ("Highest", Align::Right),
        ("By hand", Align::Right),
        ("Band", Align::Right),
        ("Removed", Align::Right),
        ("Where", Align::Wrap),
    ]);
    let off = Column::solid(totals.hand_grind_l, units);
    for (record, step) in report.takeoff.steps_of(report.slab) {
        let by_hand = step.hand_length_m > 0.0;
        rows.push([
            clean(&step.id),
            record.along.as_deref().map(clean).unwrap_or_default(),
            write::small(step.max_step_mm / 1000.0, units),
            lengths.or_blank(step.hand_length_m),
            if by_hand { patch_area(step.hand_area_m2, units) } else { String::new() },
            off.cell(step.removed_l),
            if by_hand {
                where_text(step, lengths)
            } else {
                "the floor grinder takes it".to_owned()
            },
        ]);
    }
    if rows.count() > 1 {
        let band: f64 = report.takeoff.lippage.iter().map(|step| step.hand_area_m2).sum();
        rows.total([
            "Total".to_owned(),
            String::new(),
            String::new(),
            lengths.or_blank(totals.hand_grind_m),
            patch_area(band, units),
            off.cell(totals.hand_grind_l),
            String::new(),
        ]);
    }
    rows
}

pub fn steps(page: &mut Page, report: &Report) {
    page.fitted("Lippage: offsets taken down by hand", report, |lengths| {
        step_table(report, lengths)
    });
    let steps = report.slab.lippage.iter();
    notes(page, steps.map(|step| (step.id.as_str(), step.note.as_deref())));
}
